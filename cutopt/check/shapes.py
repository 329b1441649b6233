"""Cloth as a heap of convex bits: as naive as can be, and exact (whole numbers and Fractions, never a float).

A shape is a list of convex bits that do not overlap. Bits that share a stretch of border hang together; bits that
share a single point do not.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import TypeAlias

from cutopt.geometry import Number, Point

# corners of a convex bit, counter-clockwise
Bit: TypeAlias = tuple[Point, ...]
Shape: TypeAlias = tuple[Bit, ...]
Line: TypeAlias = tuple[Point, Point]
# x and y of the lower left corner, of the upper right one
Box: TypeAlias = tuple[Number, Number, Number, Number]


def sides(outline: Sequence[Point]) -> list[Line]:
    """The sides of an outline, the closing one last."""
    return list(zip(outline, (*outline[1:], outline[0]), strict=True))


def turn(line: Line, point: Point) -> Number:
    """Above 0 left of the way from the first to the second point of the line, 0 on it, below 0 right of it."""
    (ax, ay), (bx, by) = line
    return (bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)


def double_area(shape: Iterable[Bit]) -> Number:
    """Twice the area of a shape, square ticks."""
    return sum((turn((bit[0], p), q) for bit in shape for p, q in pairwise(bit[1:])), 0)


def box_of(shape: Shape) -> Box:
    """The smallest upright rectangle round a shape."""
    xs, ys = zip(*(corner for bit in shape for corner in bit), strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def bits_of(outline: Sequence[Point]) -> Shape:
    """A simple outline as upright slabs, one strip of them between any two neighbouring corners' x."""
    bits = []
    for left, right in pairwise(sorted({x for x, _ in outline})):
        spanning = [
            side
            for side in sides(outline)
            if min(side)[0] <= left and max(side)[0] >= right
        ]
        heights = sorted(
            (_height(side, left), _height(side, right)) for side in spanning
        )
        for (low1, low2), (high1, high2) in zip(
            heights[::2], heights[1::2], strict=True
        ):
            slab = ((left, low1), (right, low2), (right, high2), (left, high1))
            bits.append(tuple(p for p, q in sides(slab) if p != q))
    return tuple(bits)


def _height(side: Line, x: Number) -> Number:
    (ax, ay), (bx, by) = side
    return _plain(ay + Fraction((by - ay) * (x - ax)) / (bx - ax))


def _plain(number: Fraction) -> Number:
    """A whole number as such: most corners are, and Fractions are slow."""
    if number.denominator == 1:
        return number.numerator
    return number


def left_of(bit: Bit, line: Line) -> Bit:
    """What of a convex bit lies left of the line; () where that has no area."""
    kept: list[Point] = []
    for p, q in sides(bit):
        here = turn(line, p)
        there = turn(line, q)
        if here >= 0:
            kept.append(p)
        if here * there < 0:
            share = Fraction(here) / (here - there)
            x = _plain(p[0] + share * (q[0] - p[0]))
            y = _plain(p[1] + share * (q[1] - p[1]))
            kept.append((x, y))
    # no three corners of a bit are on a line
    if len(kept) > 2:
        return tuple(kept)
    return ()


def cut(shape: Shape, line: Line, way: Point) -> list[Shape]:
    """The connected shapes that a cut leaves.

    Parameters
    ----------
    shape : Shape
        Corners in ticks.
    line : Line
        Two points in ticks that the cut goes through; it goes on beyond them.
    way : (x, y)
        The direction in which the shapes of one side are counted, of any length.

    Returns
    -------
    list of Shape
        Left of the line first, each side in the order met going `way`.
    """
    found: list[Shape] = []
    for directed in (line, line[::-1]):
        half = [rest for bit in shape if (rest := left_of(bit, directed))]
        found += sorted(connected(half), key=lambda part: _first_met(part, line, way))
    return found


def _first_met(part: Shape, line: Line, way: Point) -> Number:
    met = (
        x * way[0] + y * way[1]
        for bit in part
        for x, y in bit
        if turn(line, (x, y)) == 0
    )
    # 0 where the line passes beside the cloth
    return min(met, default=0)


def connected(bits: Iterable[Bit]) -> list[Shape]:
    """The bits, sorted into shapes that hang together."""
    left = list(bits)
    found = []
    while left:
        shape = [left.pop()]
        # it grows while it is walked
        for here in shape:
            near = [bit for bit in left if touching(here, bit)]
            left = [bit for bit in left if bit not in near]
            shape += near
        found.append(tuple(shape))
    return found


def touching(one: Bit, other: Bit) -> bool:
    """Whether two bits share a stretch of border longer than a point."""
    return any(_overlap(a, b) for a in sides(one) for b in sides(other))


def _overlap(a: Line, b: Line) -> bool:
    if turn(a, b[0]) != 0 or turn(a, b[1]) != 0:
        return False
    # points on one line are in the order of their pairs
    return max(min(a), min(b)) < min(max(a), max(b))


def reaches_into(shape: Shape, box: Box) -> bool:
    """Whether some of the shape lies inside the box (touching its border is not inside)."""
    x1, y1, x2, y2 = box
    for line in sides(((x1, y1), (x2, y1), (x2, y2), (x1, y2))):
        shape = tuple(rest for bit in shape if (rest := left_of(bit, line)))
    return bool(shape)


def gap_squared(box: Box, side: Line) -> Number:
    """The distance from a box to a side that does not run through it, squared.

    The nearest points of two convex things that do not cross include a corner of the one or of the other.
    """
    x1, y1, x2, y2 = box
    from_corners = (
        _to_side(corner, side) for corner in ((x1, y1), (x2, y1), (x2, y2), (x1, y2))
    )
    from_ends = (
        max(x1 - x, x - x2, 0) ** 2 + max(y1 - y, y - y2, 0) ** 2 for x, y in side
    )
    return min(*from_corners, *from_ends)


def _to_side(point: Point, side: Line) -> Number:
    (ax, ay), (bx, by) = side
    dx = bx - ax
    dy = by - ay
    share = Fraction((point[0] - ax) * dx + (point[1] - ay) * dy) / (dx * dx + dy * dy)
    share = max(Fraction(0), min(Fraction(1), share))
    return (ax + share * dx - point[0]) ** 2 + (ay + share * dy - point[1]) ** 2
