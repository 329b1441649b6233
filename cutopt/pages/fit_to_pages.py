"""Pieces of cloth shared out to pages: as few pages as the order of the pieces allows, and no step without its drawing.

Pieces that follow each other share a page where they fit. Their drawings may be made smaller for that, all of a page
alike, as long as every number and name still finds its place in them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import count
from math import inf
from typing import Final

from reportlab.lib.units import mm

from cutopt.draw.frame import BOTTOM, TOP, natural_size
from cutopt.draw.looks import ruler_unit
from cutopt.draw.piece import Drawn, drawn
from cutopt.draw.views import View
from cutopt.geometry import bounds
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.pages.paper import INSIDE, ROOM

SIZES: Final = (1.0, 0.8, 0.62)  # of a drawing
_LEAST_SHARE: Final = 0.1
_TRIES: Final = 6
_FEW: Final = 4  # cuts
_NARROW: Final = 7.0  # mm: names stand along a strip of that width
# mm of height for a drawing; the last for long cloth
_LEAST = 66.0
_MOST = 105.0
_TALL = 205.0


class Drawings:
    """The drawing of one piece of cloth in several sizes, each made when it is asked for."""

    def __init__(self, job: Job, view: View) -> None:
        self.job = job
        self.view = view
        self._most = self._natural(_most(job, view))  # which a wide one does not reach
        self._made: dict[float, Drawn] = {}

    def at(self, size: float) -> Drawn | None:
        """The drawing at a share of its full size; None where it would be harder to read than the full one.

        A mark may not be lost, and a name may stand below instead only where there are few cuts to find.
        """
        here = self._drawn(size)
        if not here.lost and not here.below:
            return here
        full = self._drawn(1.0)
        as_named = here.below <= full.below or len(self.view.lines) <= _FEW
        if here.lost <= full.lost and as_named:
            return here
        return None

    def again(self, high: float) -> Drawn:
        """The drawing no higher than so many points, to stand again above steps that go on after the full one."""
        here = self._drawn(1.0)
        if here.size[1] * mm <= high:
            return here
        over = 0.0  # mm, of its legend
        for _ in range(_TRIES):
            share = (high / mm - over) / self._most
            here = self._drawn(min(max(share, _LEAST_SHARE), 1.0))
            more = here.size[1] - high / mm
            if more <= 0 or share <= _LEAST_SHARE:
                break
            over += max(more, 1.0)
        return here

    def least(self, size: float) -> float:
        """The least height that it can have, points: that of the cloth without further rows of legend."""
        return float(self._natural(self._most * size) * mm)

    def _natural(self, most: float) -> float:
        unit = ruler_unit(self.job.settings.unit)
        return natural_size(self.view.cloth.outline, unit, INSIDE / mm, most)[1]

    def _drawn(self, size: float) -> Drawn:
        if size not in self._made:
            most = self._most * size
            made = drawn(self.job, self.view, INSIDE / mm, most)
            over = made.size[1] - _TALL  # with its legend
            if over > 0:
                made = drawn(self.job, self.view, INSIDE / mm, most - over)
            self._made[size] = made
        return self._made[size]


def _most(job: Job, view: View) -> float:
    """As small as its smallest part (13 mm) and its many cuts allow; long cloth with many cuts gets most of a page."""
    unit = ruler_unit(job.settings.unit)
    x1, y1, x2, y2 = (float(v) / unit for v in bounds(view.cloth.outline))
    if y2 - y1 > 1.3 * (x2 - x1) and (y2 - y1) * unit > 30 * INCH:
        few = len(view.lines) <= _FEW
        if few:
            return min(
                _TALL, max(_MOST, (y2 - y1) * _NARROW / (x2 - x1) + TOP + BOTTOM)
            )
        return _TALL
    wanted = [part.box for part in view.parts if part.kind == "used"]
    least = min(
        (min(float(b[2] - b[0]), float(b[3] - b[1])) / unit for b in wanted),
        default=y2 - y1,
    )
    crowd = 1 + 0.06 * max(0, len(view.lines) - 6)
    return min(_MOST, crowd * max(_LEAST, (y2 - y1) * 13 / least + TOP + BOTTOM))


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Pieces from `first` to before `end` that are set together, their drawings of one size.

    They fill one page, unless the first alone needs several: then the others stand below the end of it.
    """

    first: int
    end: int
    size: float


Height = Callable[[int, float, bool], float | None]
Tail = Callable[[int], tuple[float, int, float]]


def groups(number: int, height: Height, tail: Tail) -> list[Group]:
    """The fewest pages, and of equals the largest drawings.

    Parameters
    ----------
    number : int
        How many pieces there are.
    height : callable
        Of a piece at a size, points; None where its drawing cannot have that size. With True the least that it can
        be, which takes no drawing.
    tail : callable
        Of a piece that no page holds: the size of its drawing, how many pages it takes, and how much of the last.
    """
    best: list[tuple[float, float, list[Group]]] = [(0, 0.0, [])]
    best += [(inf, 0.0, [])] * number
    for first in range(number):
        pages, squeezed, before = best[first]
        for end, size, more in _from(first, number, height, tail):
            found = (pages + more, squeezed + (1 - size) * (end - first))
            if found < best[end][:2]:
                best[end] = (*found, [*before, Group(first=first, end=end, size=size)])
    return best[number][2]


def _from(
    first: int, number: int, height: Height, tail: Tail
) -> list[tuple[int, float, int]]:
    """The groups that begin with a piece: where they end, the size of the drawings, how many pages."""
    found: list[tuple[int, float, int]] = []
    for end in count(first + 1):
        if end > number:
            break
        size = _largest(range(first, end), ROOM, height)
        if size is None:
            break
        found.append((end, size, 1))
    if found:
        return found
    alone, pages, used = tail(first)
    found.append((first + 1, alone, pages))
    for end in range(first + 2, number + 1):
        size = _largest(range(first + 1, end), ROOM - used, height)
        if size is None:
            break
        found.append((end, size, pages))
    return found


def _largest(pieces: Sequence[int], room: float, height: Height) -> float | None:
    """The largest size at which some pieces fit in so much room."""
    return next(
        (
            size
            for size in SIZES
            if all(_fits(pieces, size, room, height, least) for least in (True, False))
        ),
        None,
    )


def _fits(
    pieces: Sequence[int], size: float, room: float, height: Height, least: bool
) -> bool:
    left: float = room
    for piece in pieces:
        high = height(piece, size, least)
        if high is None:
            left = -1
        else:
            left = left - high
        if left < 0:
            return False
    return True


__all__ = ["SIZES", "Drawings", "Group", "groups"]
