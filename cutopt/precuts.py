"""Cloth as shops cut it beforehand: fat quarters, squares and strips by their usual sizes, each a setting.

A fat quarter is half a yard of half the width, 18 x 22 in nominal; without its selvage half of 42 usable inches are
left of the width, 21, and 18 lie along the selvage. A fat eighth is half as long, 9; in metric shops half a metre of
half of 110 cm, 50 x 55 nominal, of which 53 are usable. Squares of 5 and 10 in and strips of 2 1/2 in are sold by
these sizes everywhere (all of it common practice, no source; from memory).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Final

from cutopt.errors import Problem
from cutopt.lengths import CM, INCH, METRE

# across and along the selvage, ticks
Size = tuple[int, int]
_SMALLEST: Final = INCH // 2
NAMES: Final = (
    "fat_quarter",
    "fat_eighth",
    "charm_square",
    "layer_square",
    "bundle_strip",
)
"""The settings, each a size."""
PINKED: Final = ("charm_square", "layer_square", "bundle_strip")
"""Those whose edges are usually pinked (common practice, no source)."""
_SAID: Final[Mapping[str, str]] = {
    "fat quarter": "fat_quarter",
    "fat quarters": "fat_quarter",
    "fq": "fat_quarter",
    "fqs": "fat_quarter",
    "f.q": "fat_quarter",
    "f.q.s": "fat_quarter",
    "fat qtr": "fat_quarter",
    "fat qtrs": "fat_quarter",
    "fat eighth": "fat_eighth",
    "fat eighths": "fat_eighth",
    "charm": "charm_square",
    "charms": "charm_square",
    "charm square": "charm_square",
    "charm squares": "charm_square",
    "layer square": "layer_square",
    "layer squares": "layer_square",
    "bundle strip": "bundle_strip",
    "bundle strips": "bundle_strip",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Precuts:
    """Usable sizes of precut cloth, across and along the selvage, in ticks; those of an inch job by default."""

    fat_quarter: Size = (21 * INCH, 18 * INCH)
    fat_eighth: Size = (21 * INCH, 9 * INCH)
    charm_square: Size = (5 * INCH, 5 * INCH)
    layer_square: Size = (10 * INCH, 10 * INCH)
    bundle_strip: Size = (42 * INCH, 5 * INCH // 2)

    def __post_init__(self) -> None:
        for each in fields(self):
            if not all(_SMALLEST <= side <= 4 * METRE for side in self.of(each.name)):
                raise Problem(
                    each.name, "the size makes no sense", "write it like 21 x 18"
                )

    @classmethod
    def metric(cls) -> Precuts:
        """Those of a metric job; squares and strips are sold in inches there too."""
        return cls(
            fat_quarter=(53 * CM, 50 * CM),
            fat_eighth=(53 * CM, 25 * CM),
            bundle_strip=(106 * CM, 5 * INCH // 2),
        )

    def of(self, name: str) -> Size:
        """The size of one of `NAMES`."""
        size: Size = getattr(self, name)
        return size


def precut_said(text: str) -> str:
    """The one of `NAMES` that words mean (``fat quarters``, ``5-inch`` apart), "" where they mean none."""
    return _SAID.get(re.sub(r"[\s_-]+", " ", text.strip().lower()), "")


def said_for(name: str) -> str:
    """How a maker calls one of `NAMES`: ``fat quarter``."""
    return name.replace("_", " ")


def phrases() -> Mapping[str, str]:
    """All that may be said for a precut, in lower case and with blanks between the words."""
    return _SAID
