"""Whether an outline meets itself: one sweep over its corners, n log n comparisons of whole numbers.

The sides that an upright line crosses are kept in their order along it while the line moves to the right. Two sides
that meet are neighbours in that order just before, so that only neighbours are compared (Shamos & Hoey, Geometric
intersection problems, FOCS 1976). Corners are taken in the order of x, then y, as if the line leaned a very little,
so that upright sides are no exception.
"""

from __future__ import annotations

from collections.abc import Sequence

from cutopt.geometry import Point, cross, dot, edges, segments_meet

Pair = tuple[int, int]


def crossing_edges(polygon: Sequence[Point]) -> Pair | None:
    """Two edges (by number from 0, the smaller first) that meet where they should not; None for a simple polygon.

    Corners that follow each other must differ.
    """
    if len(polygon) < 3:
        return None
    return _touching(polygon) or _Sweep(polygon).first_meeting()


def _touching(polygon: Sequence[Point]) -> Pair | None:
    """Two edges that meet at a corner: it is there twice, or the outline runs back over itself."""
    first: dict[Point, int] = {}
    for i, corner in enumerate(polygon):
        if first.setdefault(corner, i) != i:
            return first[corner], i
        before = polygon[i - 1]
        after = polygon[(i + 1) % len(polygon)]
        if cross(before, corner, after) == 0 and dot(corner, before, after) > 0:
            return _sorted(i, (i - 1) % len(polygon))
    return None


def _sorted(i: int, j: int) -> Pair:
    if i < j:
        return (i, j)
    return (j, i)


class _Sweep:
    """The edges that the line crosses, from below; all corners differ and no edge runs back over the one before."""

    def __init__(self, polygon: Sequence[Point]) -> None:
        self.polygon = polygon
        self.ends = [(p, q) if p < q else (q, p) for p, q in edges(polygon)]
        self.crossed: list[int] = []

    def first_meeting(self) -> Pair | None:
        """Two neighbours that meet, None where none ever do."""
        for corner in sorted(range(len(self.polygon)), key=lambda i: self.polygon[i]):
            for low in self._passed(corner):
                pair = self._meeting(low)
                if pair is not None:
                    return pair
        return None

    def _passed(self, corner: int) -> tuple[int, ...]:
        """Move the line over a corner; the places below each pair of new neighbours."""
        point = self.polygon[corner]
        both = ((corner - 1) % len(self.polygon), corner)
        begin = [edge for edge in both if self.ends[edge][0] == point]
        at = self._place(point)
        if len(begin) == 1:
            self.crossed[at] = begin[0]
            return at - 1, at
        if not begin:
            del self.crossed[at : at + 2]
            return (at - 1,)
        (_, a), (_, b) = (self.ends[edge] for edge in begin)
        self.crossed[at:at] = begin if cross(point, a, b) > 0 else begin[::-1]
        return at - 1, at + 1

    def _place(self, point: Point) -> int:
        """How many of the crossed edges lie below a point."""
        low = 0
        high = len(self.crossed)
        while low < high:
            middle = (low + high) // 2
            if cross(*self.ends[self.crossed[middle]], point) > 0:
                low = middle + 1
            else:
                high = middle
        return low

    def _meeting(self, low: int) -> Pair | None:
        if not 0 <= low < len(self.crossed) - 1:
            return None
        i, j = _sorted(*self.crossed[low : low + 2])
        if j - i in (1, len(self.polygon) - 1):
            # they share a corner
            return None
        if segments_meet(*self.ends[i], *self.ends[j]):
            return (i, j)
        return None
