"""What spare cloth is good for: the largest whole rectangle in it, without flaws and edges that are not squared up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from cutopt.answers.rectangles_inside import largest_on
from cutopt.cloth import Cloth, inside_margins, margins_of
from cutopt.draw.views import rough_size
from cutopt.geometry import Number, Polygon, bounds, is_rectangle
from cutopt.job import Job


@dataclass(frozen=True, slots=True, kw_only=True)
class Usable:
    """The largest rectangle along the grain that a spare part holds, in ticks, and why the part is not just that.

    `over_all` is the size of one of another shape, over its corners.
    """

    wide: Number
    long: Number
    why: str = ""
    over_all: tuple[Number, Number] | None = None

    @property
    def area(self) -> Number:
        """Square ticks."""
        return self.wide * self.long

    def size(self, unit: str) -> str:
        """Width and length: ``12 x 7``."""
        return rough_size(self.wide, self.long, unit)

    def told(self, unit: str) -> str:
        """``12 x 7 beside a flaw``, ``13 x 7 1/2 out of an odd shape, 20 x 7 1/2 over all``."""
        told = f"{self.size(unit)}{self.why}"
        if self.over_all is None:
            return told
        return f"{told}, {rough_size(*self.over_all, unit)} over all"


def usable(job: Job, cloth: Cloth, part: Polygon) -> Usable:
    """What a part of a cloth holds that nothing has to be taken off from.

    Parameters
    ----------
    job : Job
        On whose grid cuts lie.
    cloth : Cloth
    part : corners in ticks
        In the frame of the cloth.
    """
    return _usable(cloth, part, job.settings.grid)


@lru_cache(maxsize=4096)
def _usable(cloth: Cloth, part: Polygon, grid: int) -> Usable:
    x1, y1, x2, y2 = bounds(part)
    flaws = tuple(flaw for flaw in cloth.flaws if _meet(bounds(flaw), (x1, y1, x2, y2)))
    margins = margins_of(cloth, part)
    square = is_rectangle(part)
    if square and not flaws and not any(margins):
        return Usable(wide=x2 - x1, long=y2 - y1)
    if square:
        why = " once squared up"
    else:
        why = " out of an odd shape"
    if flaws:
        why = " beside a flaw"
    if square and not flaws:
        wide, long = inside_margins(part, margins)
        return Usable(wide=wide, long=long, why=why)
    whole = tuple((int(x), int(y)) for x, y in part)
    wide, long = largest_on(
        Cloth(fabric=cloth.fabric, outline=whole, margins=margins, flaws=flaws), grid
    )
    if square:
        over_all = None
    else:
        over_all = (x2 - x1, y2 - y1)
    return Usable(wide=wide, long=long, why=why, over_all=over_all)


def _meet(one: Sequence[Number], other: Sequence[Number]) -> bool:
    return (
        one[0] < other[2]
        and other[0] < one[2]
        and one[1] < other[3]
        and other[1] < one[3]
    )


__all__ = ["Usable", "usable"]
