"""Lengths written so that reading gives the same tick again."""

from __future__ import annotations

from decimal import Decimal

from cutopt.errors import Problem
from cutopt.lengths import TICKS_PER_MM, format_length, parse_length


def written_length(ticks: int, unit: str) -> str:
    """A length as a ruler shows it where a mark meets it, else in millimetres with all decimals.

    1/320 mm is 0.003125 mm, so every whole number of ticks has a finite decimal.
    """
    shown = format_length(ticks, unit)
    try:
        if parse_length(shown, unit, zero=True) == ticks:
            return shown
    except Problem:
        # shown with a leading ≈
        pass
    return f"{(Decimal(ticks) / TICKS_PER_MM).normalize():f} mm"
