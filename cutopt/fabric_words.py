"""What words of a `fabrics` column mean: names, tags and values of fabrics, and how prints have to stand up."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Iterator
from typing import Final, Literal

from cutopt.errors import Problem
from cutopt.fabric import Fabric
from cutopt.wanted import Cut, Strip, Wanted

# names among which the one that was meant is looked for
MOST_GUESSES: Final = 500
_ACROSS_TO: Final = {"along": "across", "across": "along"}


def plain_word(word: str) -> str:
    """A word of a `fabrics` column without case, blanks around it, and an "any" before it: ``Any light`` is ``light``."""
    return re.sub(r"^any\s+", "", word.strip().lower())


def answers_to(fabric: Fabric, word: str) -> bool:
    """Whether a word of a `fabrics` column means this fabric: name, tag, value, or "any" before these.

    What lies between layers is meant by its own name alone.
    """
    plain = word.strip().lower()
    names = names_of(fabric)
    if plain == "any":
        return not fabric.is_inside
    return plain in names or plain_word(word) in names


def names_of(fabric: Fabric) -> set[str]:
    """Its name, tags and value in lower case; what lies between layers has its name alone."""
    if fabric.is_inside:
        return {fabric.name.lower()}
    return {
        fabric.name.lower(),
        fabric.value,
        *(tag.lower() for tag in fabric.tags),
    } - {""}


class Meanings:
    """What words of a `fabrics` column mean among some fabrics, as :func:`answers_to` says it, looked up at once."""

    def __init__(self, fabrics: Iterable[Fabric]) -> None:
        self._any: set[str] = set()
        self._ways: dict[str, set[str]] = {}
        for fabric in fabrics:
            for name in names_of(fabric):
                self._ways.setdefault(name, set()).add(fabric.one_way)
            if not fabric.is_inside:
                self._any.add(fabric.one_way)

    def ways(self, word: str) -> set[str]:
        """How the prints of the fabrics that a word means stand up; empty where it means none."""
        plain = word.strip().lower()
        if plain == "any":
            return self._any
        return self._ways.get(plain) or self._ways.get(plain_word(word), set())

    def contradictions(self, row: Wanted, seam: int) -> Iterator[Problem]:
        """In what a row contradicts itself, or all the fabrics that it may be cut from; `seam` in ticks."""
        stands = standing(row)
        if stands and row.grain != "any":
            if stands == "along":
                clash = _ACROSS_TO[row.grain]
            else:
                clash = row.grain
            ways = set().union(*map(self.ways, row.fabrics or ("any",)))
            if ways == {clash}:
                what = f"{row.name}: the print stands up {clash} the selvage, the grain rule says {row.grain}"
                yield Problem("grain", what, "leave grain blank or upright no")
        if not isinstance(row, Strip) or row.join == "none":
            return
        if row.shortest <= row.join_loss(seam):
            what = f"{row.name}: a join would eat a segment so short"
            yield Problem("shortest", what, "write more")


def unknown_fabric(word: str, known: Iterable[str]) -> Problem:
    """The problem of a fabric or tag that no table knows, with the nearest name as the mend."""
    names = sorted(known)
    near = difflib.get_close_matches(word, names[:MOST_GUESSES], 1)
    if near:
        mend = f'did you mean "{near[0]}"?'
    else:
        mend = "add it to fabrics.csv, or use one of: " + ", ".join(names)
    return Problem("fabric", f'"{word}" is neither a fabric nor a tag of one', mend)


def standing(row: Wanted) -> Literal["", "along", "across"]:
    """How a one-way print must stand up: along the length of the row, across it, or "" for any way."""
    if isinstance(row, Cut):
        if row.upright:
            return "along"
        return ""
    if row.upright == "no":
        return ""
    return row.upright
