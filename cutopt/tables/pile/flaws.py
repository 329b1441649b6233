"""Stains and holes in a line: ``stain 3 x 2 at 4 5``, ``with a 1 inch hole in the top left corner``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from cutopt.fabric import Outline
from cutopt.geometry import rectangle
from cutopt.lengths import down, parse_length
from cutopt.tables.outlines import parse_corner
from cutopt.tables.pile.patterns import CORNER, TIMES
from cutopt.tables.pile.said_lengths import SIDE, in_figures

FLAWS: Final = ("stain", "hole", "tear", "flaw")
"""Words that a line begins with where a flaw is meant."""
_FLAW: Final = r"(?:stain|hole|tear|flaw|spot|mark|burn|rip|scorch|snag)"
_ANY: Final = re.compile(_FLAW, re.IGNORECASE)
_BEFORE: Final = (
    r"(?:^|,\s*|\s+)(?:(?:with|has|but|and|there's|there\s+is)\s+)*"
    r"(?:an?\s+|one\s+)?(?:(?:small|tiny|little|big|ink|burn|bleach|grease|tea|rust|moth)\s+)*"
)
_SIZED: Final = rf"({SIDE})(?:{TIMES}({SIDE}))?"
# a corner of 1 1/2 2 has commas
_AT: Final = re.compile(
    rf"{_BEFORE}(?:{_FLAW}\s+{_SIZED}|{_SIZED}\s+{_FLAW})\s+at\s+([\d.].*)$",
    re.IGNORECASE,
)
_IN_CORNER: Final = re.compile(
    rf"{_BEFORE}(?:{_FLAW}\s*,?\s*{_SIZED}|{_SIZED}\s+{_FLAW})"
    rf"\s+(?:in|at|near)\s+the\s+({CORNER})(?:\s+corner)?$",
    re.IGNORECASE,
)
_CORNER_FIRST: Final = re.compile(
    rf"{_BEFORE}{_FLAW}\s+(?:(?:in|at|near)\s+the\s+)?({CORNER})(?:\s+corner)?\s*,?\s+{_SIZED}$",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Flaw:
    """A flaw so wide and long, at a place, or in a corner of a piece whose size is not known yet; ticks."""

    width: int
    length: int
    place: tuple[int, int] | None
    corner: str = ""

    def on(self, width: int, length: int) -> Outline:
        """Its outline on a piece so wide and long, ticks."""
        x, y = 0, 0
        if self.place is not None:
            x, y = self.place
        if "right" in self.corner:
            x = width - self.width
        if self.corner.startswith(("top", "upper")):
            y = length - self.length
        return rectangle(self.width, self.length, x, y)


def flaw_in(clause: str, unit: str) -> tuple[Flaw, str] | None:
    """The flaw that the end of a clause tells, and what stands before it; None where it tells none.

    Parameters
    ----------
    clause : str
    unit : {"in", "cm"}
        Of bare numbers.

    Raises
    ------
    Problem
        Where its place cannot be read.
    """
    if not _ANY.search(clause):
        return None
    for pattern in (_AT, _IN_CORNER, _CORNER_FIRST):
        match = pattern.search(clause)
        if match is None:
            continue
        if pattern is _CORNER_FIRST:
            where, across, along = match.groups()
        else:
            first, second, third, fourth, where = match.groups()
            across, along = first or third, second or fourth
        width = _ticks(across, unit)
        length = _ticks(along or across, unit)
        place, corner = None, where.lower()
        if pattern is _AT:
            place = parse_corner(where, unit, "flaw", 'the place after "at"')
            corner = ""
        flaw = Flaw(width=width, length=length, place=place, corner=corner)
        return flaw, clause[: match.start()].strip()
    return None


def _ticks(side: str, unit: str) -> int:
    return down(parse_length(in_figures(side), unit, field="flaw"))
