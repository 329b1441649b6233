"""What the tables of a job say against each other, with the file and the row in which it stands."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import chain
from typing import TypeVar

from cutopt.errors import Problem
from cutopt.fabric import Fabric, Offered, Piece
from cutopt.fabric_words import (
    MOST_GUESSES,
    Meanings,
    plain_word,
    unknown_fabric,
    words_in,
)
from cutopt.piecing import Back, SpareBlock
from cutopt.settings import Settings
from cutopt.tables.log import Log, Placed
from cutopt.wanted import Cut, Strip, Wanted

# of the letters: alike enough to ask, not to refuse
_ALIKE = 0.7

Named = TypeVar("Named", Fabric, Piece, Cut, Strip, Back, SpareBlock)
Owner = TypeVar("Owner", Piece, Offered)


def named_twice(rows: Iterable[Placed[Named]], field: str, log: Log) -> None:
    """Note each row whose name an earlier row has.

    Parameters
    ----------
    rows : iterable of Placed
    field : str
        The column of the names.
    log : Log
    """
    first: dict[str, Placed[Named]] = {}
    for placed in rows:
        name = placed.value.name
        earlier = first.setdefault(name.lower(), placed)
        if earlier is not placed:
            if earlier.file == placed.file:
                there = f"row {earlier.row}"
            else:
                there = f"{earlier.file} row {earlier.row}"
            log.add(
                Problem(
                    field,
                    f'the name "{name}" is given in {there} already',
                    "give each row its own name",
                ),
                placed.file,
                placed.row,
            )


def of_owners(
    owners: Iterable[Placed[Piece] | Placed[Offered]],
    told: Sequence[Placed[Fabric]],
    half_read: str,
    log: Log | None,
) -> list[Placed[Fabric]]:
    """Fabrics that pieces or the shop name and no row of fabrics.csv: taken as what most cloth is.

    Parameters
    ----------
    owners : pieces and rows of the shop, with their places
    told : the rows of fabrics.csv
    half_read : str
        Rows with another mistake; a name in them is no new fabric, nor is one that is a slip of a known one.
    log : Log or None
        Where each new fabric is noticed; None where there is no fabrics.csv.
    """
    known = {placed.value.name.lower() for placed in told}
    first: dict[str, Placed[Fabric]] = {}
    for owner in owners:
        name = owner.value.fabric
        plain = name.lower()
        if plain in known or (
            log and (_stands_in(name, half_read) or slip_of(plain, known))
        ):
            continue
        if log:
            what = (
                f'"{name}" has no row in fabrics.csv: it is taken as washed cotton without a right way up, and words '
                'such as "any light" do not mean it'
            )
            log.tell(
                Problem("fabric", what, _if_not_meant(plain, known)),
                owner.file,
                owner.row,
            )
        first.setdefault(plain, Placed(Fabric(name=name), owner.file, owner.row))
    return list(first.values())


def _if_not_meant(word: str, known: Iterable[str]) -> str:
    """What to do about a fabric that is taken as a new one, and may be a slip of a short name."""
    near = difflib.get_close_matches(word, sorted(known)[:MOST_GUESSES], 1, _ALIKE)
    if near:
        asked = f'did you mean "{near[0]}"? '
    else:
        asked = ""
    return f"{asked}give it a row if it is something else"


def slip_of(word: str, known: Iterable[str]) -> str:
    """The known name of which a word is most likely a slip of the finger, "" where it seems one of its own."""
    names = sorted(known)[:MOST_GUESSES]
    turned = next((name for name in names if sorted(name) == sorted(word)), "")
    return turned or next(iter(difflib.get_close_matches(word, names, 1, 0.8)), "")


def of_known_fabric(
    rows: Sequence[Placed[Owner]], fabrics: Iterable[Fabric], half_read: str, log: Log
) -> tuple[Owner, ...]:
    """The values, their fabric in the spelling of fabrics.csv; fabrics that are not there are noted.

    A name that stands in `half_read`, the rows with another mistake, is given the benefit of the doubt.

    Parameters
    ----------
    rows : sequence of Placed
        Pieces, or rows of the shop.
    fabrics : iterable of Fabric
    half_read : str
        The text of the rows with another mistake.
    log : Log
    """
    known = {fabric.name.lower(): fabric.name for fabric in fabrics}
    out = []
    for placed in rows:
        name = placed.value.fabric
        if name.lower() in known:
            out.append(replace(placed.value, fabric=known[name.lower()]))
        elif not _stands_in(name, half_read):
            log.add(unknown_fabric(name, known.values()), placed.file, placed.row)
    return tuple(out)


def _stands_in(word: str, text: str) -> bool:
    plain = plain_word(word)
    return re.search(rf"(?<!\w){re.escape(plain)}(?!\w)", text) is not None


def of_known_words(
    rows: Iterable[Placed[Wanted] | Placed[Back]],
    named: Iterable[tuple[str, Placed[tuple[str, ...]]]],
    fabrics: Sequence[Fabric],
    half_read: str,
    log: Log,
) -> None:
    """Note each word under `fabrics` that means no fabric; words in rows with another mistake count as known.

    Parameters
    ----------
    named : the words that a quilt says of its backing and batting, or a back of its main fabric, with their fields
    """
    known = {fabric.name for fabric in fabrics}
    for fabric in fabrics:
        known.update(fabric.tags)
    plain = {word.lower() for word in known}
    meanings = Meanings(fabrics)
    wanted = (
        ("fabrics", Placed(placed.value.fabrics, placed.file, placed.row))
        for placed in rows
    )
    told: set[tuple[str, str, int | None]] = set()
    for field, words in chain(wanted, named):
        for word in words.value:
            # a sentence that makes several rows says a word once
            place = (word, words.file, words.row)
            if place in told:
                continue
            told.add(place)
            problem = meanings.problem(word, known)
            half = (_stands_in(each, half_read) for each in words_in(word))
            if problem is None or any(half):
                continue
            mend = _parted(word, plain) or problem.mend
            log.add(Problem(field, problem.what, mend), words.file, words.row)


def _parted(word: str, plain: set[str]) -> str:
    """The mend for known words with a wrong sign between them."""
    parts = [part.strip() for part in re.split(r"[,;/]|\bor\b", word) if part.strip()]
    if len(parts) > 1 and all(part.lower() in plain for part in parts):
        return f"write {'|'.join(parts)}"
    return ""


def of_sound_rules(
    rows: Iterable[Placed[Wanted]],
    fabrics: Iterable[Fabric],
    settings: Settings,
    log: Log,
) -> None:
    """Note each row that contradicts itself or the fabrics it names.

    Parameters
    ----------
    rows : iterable of Placed
    fabrics : iterable of Fabric
        All of the job.
    settings : Settings
    log : Log
    """
    meanings = Meanings(fabrics)
    for placed in rows:
        for problem in meanings.contradictions(placed.value, settings.seam):
            log.add(problem, placed.file, placed.row)
