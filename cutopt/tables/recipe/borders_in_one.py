"""Borders that one sentence says: one as it is read, several that are read one by one or told."""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.setting import Border
from cutopt.quilt.surds import Exact
from cutopt.quilt.wanted_parts import ClothWanted
from cutopt.tables.recipe.sentences_of_borders import border_of
from cutopt.tables.recipe.wording import NUMBER, each_row, one_by_one
from cutopt.tables.recipe.words_of_borders import (
    BORDER,
    BUTTED,
    CORNERS,
    CUTS,
    FIELD,
    PATCHES,
    border_apart,
    patch_size,
)

# what is said at the end of several borders may be said of all of them
_OF_ALL: Final = (*CORNERS, *CUTS, BUTTED)


def one_border(
    text: str,
    inside: tuple[Exact, Exact] | None,
    how: Conventions,
    name: str,
    known: Collection[str] = (),
    then: str = "",
) -> Border:
    """The border of a sentence, as :func:`border_of` reads it; of several in one it is told how to say them.

    Parameters
    ----------
    text : str
    inside : (exact, exact) or None
        Finished size of what it goes round; None where that is not known: its words alone are read.
    how : Conventions
    name : str
        Of one that is given none.
    known : collection of str
        Names, tags and values of fabrics in lower case.
    then : str
        The sentence of the next border.

    Raises
    ------
    Problem
        With the words that are not understood, and what to write.
    """
    try:
        if inside is None:
            return border_words(text, how, known, then)
        return border_of(text, inside, how, name, known, then)
    except Problem as problem:
        raise _several(text, how, known) or problem from problem


def border_words(
    text: str, how: Conventions, known: Collection[str] = (), then: str = ""
) -> Border:
    """A border round something that it goes round evenly: to see whether its words are understood.

    Parameters
    ----------
    text : str
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.
    then : str
        The sentence of the next border.

    Raises
    ------
    Problem
        With the words that are not understood, and what to write.
    """
    said = border_apart(text, how, known)
    side = how.usual(None, "24", "60")
    if said.options.keys() & set(PATCHES):
        along, _ = patch_size(said, how)
        side = 100 * along
    return border_of(text, (side, side), how, "border", known, then)


def _several(text: str, how: Conventions, known: Collection[str]) -> Problem | None:
    """What is told of several borders in one sentence; None of one."""
    parts = one_by_one(text)
    if len(parts) < 2 or not all(
        re.search(NUMBER, part, re.IGNORECASE) for part in parts
    ):
        return None
    what = f'"{text}" says {len(parts)} borders, and each is a sentence of its own'
    mend = f'write one by one, like "{BORDER.like}"'
    if all(_reads(part, how, known) for part in parts):
        first, *others = parts
        behind = ", ".join(f'"{part}" for the next' for part in others)
        mend = f'write "{first}" for the first, {behind}'
    return Problem(FIELD, what, mend)


def _reads(text: str, how: Conventions, known: Collection[str]) -> bool:
    try:
        border_words(text, how, known)
    except Problem:
        return False
    return True


def borders_in(
    text: str, how: Conventions, known: Collection[str] = ()
) -> tuple[str, ...]:
    """The sentences of the borders that one sentence says: of several only where nothing is said of both.

    ``2 in navy, then 5 in plum`` are two; of ``2 in navy, then 5 in plum, mitred`` it is not clear which are mitred,
    and that is told where it is read.

    Parameters
    ----------
    text : str
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.
    """
    rows = each_row(text)
    if len(rows) > 1 and _reads(rows[0], how, known):
        return tuple(rows)
    if _reads(text, how, known):
        return (text,)
    parts = one_by_one(text)
    if len(parts) < 2:
        return (text,)
    if all(_reads(part, how, known) for part in parts) and _is_plain(
        parts[-1], how, known
    ):
        return tuple(parts)
    return (text,)


def _is_plain(text: str, how: Conventions, known: Collection[str]) -> bool:
    """Whether a sentence says nothing that may be said of borders before it too."""
    said = border_apart(text, how, known)
    return not (said.options.keys() & set(_OF_ALL) or said.rules != ClothWanted())
