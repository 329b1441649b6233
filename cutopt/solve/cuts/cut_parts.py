"""Parts of one cloth as it is cut up: each is held once, with what was found of it.

A cloth is cut up in dozens of ways that differ in a few cuts, so most parts come up again and again. The area of an
outline, the lines that cross none of its rects and what a cut gives are worked out where they are first asked for.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import chain
from typing import Literal

from cutopt.geometry import (
    Axis,
    Box,
    Number,
    Polygon,
    area2,
    bounds,
    is_rectangle,
    split,
)
from cutopt.measure import meets_ruler


@dataclass(frozen=True, slots=True, kw_only=True)
class Rect:
    """A wanted part on a cloth, in ticks of its frame; `tag` says whose it is.

    `grows` is the axis along which more of the cloth may be left on it, "" where it must have just this size.
    """

    tag: int
    x1: int
    y1: int
    x2: int
    y2: int
    grows: Axis | Literal[""] = ""


@dataclass(frozen=True, slots=True)
class CutLine:
    """A line through a part: how many ends of rects lie on it, and which share of the part it frees as spare."""

    axis: Axis
    at: int
    ends: int
    free: float


@dataclass(frozen=True, eq=False)
class PartShape:
    """An outline in ticks, counter-clockwise; equal ones of one :class:`ClothParts` are the same."""

    outline: Polygon
    # as :class:`Parts` finds them
    halves: dict[tuple[Axis, int], tuple[PartShape, ...]] = field(default_factory=dict)
    _met: dict[tuple[int, int, str], bool] = field(default_factory=dict)

    @cached_property
    def box(self) -> Box:
        """`(x_min, y_min, x_max, y_max)`."""
        return bounds(self.outline)

    @cached_property
    def area2(self) -> Number:
        """Twice the area, square ticks."""
        return area2(self.outline)

    @cached_property
    def whole(self) -> bool:
        """Whether it is an upright rectangle."""
        return is_rectangle(self.outline)

    def meets_ruler(self, axis: int, at: int, unit: str) -> bool:
        """As :func:`cutopt.measure.meets_ruler`.

        Parameters
        ----------
        axis : int
            0 for a line across x, 1 across y.
        at : int
            Ticks.
        unit : {"in", "cm"}
        """
        met = self._met.get((axis, at, unit))
        if met is None:
            met = self._met[axis, at, unit] = meets_ruler(self.outline, axis, at, unit)
        return met


@dataclass(frozen=True, eq=False)
class ClothPart:
    """A part of cloth with the wanted rects on it; equal ones of one :class:`ClothParts` are the same."""

    shape: PartShape
    rects: tuple[Rect, ...]
    # as :class:`Parts` finds them
    parts: dict[tuple[Axis, int], tuple[ClothPart, ...]] = field(default_factory=dict)

    @cached_property
    def done(self) -> bool:
        """Whether nothing is left to be cut: it is spare, or exactly its one rect (which lies inside: equal boxes)."""
        if len(self.rects) != 1:
            return not self.rects
        r = self.rects[0]
        return self.shape.box == (r.x1, r.y1, r.x2, r.y2)

    @cached_property
    def around(self) -> Box:
        """The box around its rects."""
        rects = self.rects
        return (
            min(r.x1 for r in rects),
            min(r.y1 for r in rects),
            max(r.x2 for r in rects),
            max(r.y2 for r in rects),
        )

    @cached_property
    def lines(self) -> tuple[CutLine, ...]:
        """Lines through the part that cross no rect and on which some rect ends."""
        return tuple(_lines(self))


class ClothParts:
    """All parts that were met while one cloth is cut up; to be thrown away with it."""

    def __init__(self) -> None:
        self._shapes: dict[Polygon, PartShape] = {}
        self._parts: dict[tuple[PartShape, tuple[Rect, ...]], ClothPart] = {}

    def part(self, outline: Polygon, rects: Sequence[Rect]) -> ClothPart:
        """The part of this outline with these rects on it."""
        return self._part(self._shape(outline), tuple(rects))

    def halves(self, shape: PartShape, axis: Axis, at: int) -> tuple[PartShape, ...]:
        """What a cut makes of an outline: what lies low (left, below), then what lies high.

        Parameters
        ----------
        shape : PartShape
        axis : {"x", "y"}
        at : int
            Ticks.
        """
        found = shape.halves.get((axis, at))
        if found is None:
            low, high = split(shape.outline, axis, at)
            found = shape.halves[axis, at] = tuple(map(self._shape, (*low, *high)))
        return found

    def cut(self, part: ClothPart, axis: Axis, at: int) -> tuple[ClothPart, ...]:
        """What a cut along a line that crosses no rect makes of a part.

        Parameters
        ----------
        part : ClothPart
        axis : {"x", "y"}
        at : int
            Ticks.
        """
        found = part.parts.get((axis, at))
        if found is None:
            shapes = self.halves(part.shape, axis, at)
            on: list[list[Rect]] = [[] for _ in shapes]
            for r in part.rects:
                if len(shapes) == 2:
                    on[(r.x1 if axis == "x" else r.y1) >= at].append(r)
                else:
                    on[
                        next(n for n, shape in enumerate(shapes) if _holds(shape, r))
                    ].append(r)
            found = part.parts[axis, at] = tuple(
                map(self._part, shapes, map(tuple, on))
            )
        return found

    def _shape(self, outline: Polygon) -> PartShape:
        return self._shapes.setdefault(outline, PartShape(outline))

    def _part(self, shape: PartShape, rects: tuple[Rect, ...]) -> ClothPart:
        return self._parts.setdefault((shape, rects), ClothPart(shape, rects))


def _holds(shape: PartShape, r: Rect) -> bool:
    """Whether a rect that no cut has crossed lies in this part: its middle does."""
    part, (x1, y1, x2, y2) = shape.outline, shape.box
    if not (x1 <= r.x1 and y1 <= r.y1 and r.x2 <= x2 and r.y2 <= y2):
        return False
    mx = r.x1 + r.x2
    my = r.y1 + r.y2
    inside = False
    for (ax, ay), (bx, by) in zip(part, (*part[1:], part[0]), strict=True):
        if (2 * ay > my) != (2 * by > my):
            turn = (bx - ax) * (my - 2 * ay) - (by - ay) * (mx - 2 * ax)
            inside ^= (turn > 0) == (by > ay)
    return inside


def _lines(part: ClothPart) -> Iterator[CutLine]:
    limits = part.shape.box
    extent = float(part.shape.area2) / 2
    xs = [(r.x1, r.x2) for r in part.rects]
    ys = [(r.y1, r.y2) for r in part.rects]
    sides: tuple[tuple[Axis, int, int, list[tuple[int, int]]], ...] = (
        ("x", 0, 2, xs),
        ("y", 1, 3, ys),
    )
    for axis, low, high, spans in sides:
        across = float(limits[3 - low] - limits[1 - low])
        ends = Counter(chain.from_iterable(spans))
        places = _gaps(spans)
        for at in places:
            if not limits[low] < at < limits[high]:
                continue
            free = 0.0
            if at == places[0]:
                free = float(at - limits[low]) * across / extent
            elif at == places[-1]:
                free = float(limits[high] - at) * across / extent
            yield CutLine(axis, at, ends[at], min(free, 1.0))


def _gaps(spans: Sequence[tuple[int, int]]) -> list[int]:
    """Ends of the merged spans, in order: where a line passes between the rects."""
    places: list[int] = []
    last = None
    for start, end in sorted(spans):
        if last is None or start >= last:
            places += [start] if last in (None, start) else [last, start]
            last = end
        last = max(last, end)
    if last is None:
        return places
    return [*places, last]
