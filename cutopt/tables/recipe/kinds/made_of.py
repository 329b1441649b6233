"""Blocks of the maker's own: ``10 blocks of 6 made of 1 window of 4 from blossom, upright; 1 trunk of 2 from bark``."""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe import block_patches as make
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.recipe.block_patches import Bar
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import one_size, two_sizes
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.vocabulary import Vocabulary

_FIELD: Final = "blocks"
_LIKE: Final = "10 blocks of 6 made of 1 window of 4 from oat; 1 trunk of 2 from bark"
_BLOCK: Final = Vocabulary(
    part=_FIELD, told="these blocks", like=_LIKE, named=True, counted=True, sized=True
)
_PART: Final = Vocabulary(
    part=_FIELD,
    told="a part of a block",
    like="1 window of 4 from oat",
    counted=True,
    sized=True,
)
_NAMED: Final = re.compile(r"(.*?)\s*\bof\s+(?=[\d.½⅓⅔¼¾⅛⅜⅝⅞])(.*)", re.DOTALL)


def is_made_of(text: str) -> bool:
    """Whether a sentence says of what its blocks are made."""
    return re.search(r"\bmade of\b", text, re.IGNORECASE) is not None


def made_of(
    text: str, how: Conventions, known: Collection[str]
) -> tuple[Said, str, list[Bar]]:
    """The blocks that are asked for, their name, and the bars of one.

    Parameters
    ----------
    text : str
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.

    Raises
    ------
    Problem
        With the words that are not understood, and what to write.
    """
    head, rest = re.split(r"\s*\bmade of\b\s*", text, maxsplit=1, flags=re.IGNORECASE)
    said = taken_apart(head, _BLOCK, known)
    if not said.size:
        what = f'"{head}" does not say how large the blocks are'
        raise Problem(_FIELD, what, f'write it like "{_LIKE}"')
    parts = [_bar(part.strip(), how, known) for part in rest.split(";")]
    if said.names:
        return said, said.names[0], parts
    return said, " and ".join(part.name for part in parts), parts


def _bar(text: str, how: Conventions, known: Collection[str]) -> Bar:
    """``1 tree window of 4 from blossom, upright``: what stands between number and size is the name of the part."""
    match = re.fullmatch(r"(\d+)?\s*(.*?)\s*\bof\s+(.*)", text, re.DOTALL)
    if match is None or not match[2]:
        what = f'"{text}" is no part of a block'
        raise Problem(_FIELD, what, "write it like 1 window of 4 from oat")
    said = taken_apart(f"{match[1] or 1} of {match[3]}", _PART, known)
    said.text = text
    if said.cloths:
        of = said.cloths[0]
    else:
        of = None
    return Bar(
        name=" ".join(match[2].lower().split()),
        times=said.many,
        width=one_size(said.size, how, _FIELD),
        of=of,
    )


def bars(
    said: Said, name: str, parts: list[Bar], how: Conventions, count: int
) -> Block:
    """So many blocks of these bars.

    Parameters
    ----------
    said : Said
    name : str
    parts : list of Bar
    how : Conventions
    count : int
    """
    size = two_sizes(said.size, how, _FIELD)
    return make.bars(name, count, size, parts, how)
