"""The usual packages of batting, which stand in for a shop that nobody wrote down."""

from __future__ import annotations

from typing import Final

from cutopt.fabric import ByPiece
from cutopt.lengths import INCH
from cutopt.settings import Unit

# common practice, no source: sizes printed on packages, in inches
PACKAGED: Final = (
    ("crib", 45, 60),
    ("throw", 60, 60),
    ("twin", 72, 90),
    ("full", 81, 96),
    ("queen", 90, 108),
    ("king", 120, 120),
)


def packaged(unit: Unit = "in") -> tuple[ByPiece, ...]:
    """The usual packages, without prices; the shop table of a job takes their place."""
    if unit == "in":
        mark = ""
    else:
        mark = " in"
    return tuple(
        ByPiece(
            fabric=f"{name} {w} x {h}{mark}", each_width=w * INCH, each_length=h * INCH
        )
        for name, w, h in PACKAGED
    )
