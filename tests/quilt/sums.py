"""Short ways to write lengths in inches, and to name where a number comes from."""

from __future__ import annotations

from fractions import Fraction

from cutopt.lengths import INCH, YARD, parse_length
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import Number, exact

# Sizes taken from the finished quilt, ends not squared up: the bare sums of a pocket table.
BARE = Conventions(overage_from="finished", binding_from="finished", square_up_end=0)


def inch(text: str) -> int:
    """Ticks of a length written in inches."""
    return int(parse_length(text, "in", zero=True))


def inches(value: Number) -> float:
    """A length as a float of inches, to compare with a printed decimal."""
    return float(exact(value)) / INCH


def yards(ticks: int) -> Fraction:
    """A length in yards, exactly."""
    return Fraction(ticks, YARD)


def size(row: object) -> tuple[float, float]:
    """Cut size of a row in inches."""
    return row.width / INCH, row.length / INCH  # type: ignore[attr-defined]
