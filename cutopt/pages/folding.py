"""How a cut is made that is longer than mat and ruler: folded, or in stretches where folding does not help.

How to fold is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from cutopt.draw.views import rough
from cutopt.moves import Move
from cutopt.pages.moves_of_cuts import Table
from cutopt.pages.phrases import length_text

_SLIDE: Final = "slide the cloth on and lay the ruler on the edge just cut"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold:
    """What to do about a long cut; `layers` of the part lie upon each other then."""

    text: str
    layers: int = 1


def fold_of(table: Table, move: Move) -> Fold | None:
    """How to fold for a move; None where mat and ruler take its cuts in one go."""
    unit = table.job.settings.unit
    longest = table.job.settings.longest_cut
    long = max(map(table.long, move.cuts))
    if long <= longest:
        return None
    told = f"This cut is {rough(long, unit)} long"
    at_a_time = f"cut at most {length_text(longest, unit)} at a time, {_SLIDE}."
    if move.kind == "line" or not table.plain(move.part):
        return Fold(text=f"{told}: {at_a_time}")
    half = Fraction(long) / 2
    quarter = Fraction(long) / 4
    # a part cut off across has lost a selvage
    whole = move.axis == 1 and table.from_bolt(move)
    if whole:
        how = "selvage to selvage"
    else:
        how = "the ends on each other"
    fold = f"{told}: fold in half, {how}"
    if half <= longest:
        text = f"{fold}, {rough(long, unit)} to {rough(half, unit)}."
        return Fold(text=text, layers=2)
    twice = f"{fold}, and once more, {rough(long, unit)} to {rough(quarter, unit)}"
    if quarter <= longest:
        return Fold(text=f"{twice}.", layers=4)
    return Fold(text=f"{twice}; then {at_a_time}", layers=4)
