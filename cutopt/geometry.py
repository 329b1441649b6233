"""Exact plane geometry of cloth: polygons with whole-number corners, and cuts parallel to the axes.

x runs across the fabric, y along the selvage. Points are pairs of ticks (whole, or Fractions where a cut
met a slanted edge). Nothing here uses a float.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise, starmap
from math import isqrt
from typing import Literal, TypeAlias

Number: TypeAlias = int | Fraction
Point: TypeAlias = tuple[Number, Number]
Polygon: TypeAlias = tuple[Point, ...]
Axis: TypeAlias = Literal["x", "y"]
# x_min, y_min, x_max, y_max
Box: TypeAlias = tuple[Number, Number, Number, Number]


def rectangle(
    width: int, length: int, x: int = 0, y: int = 0
) -> tuple[tuple[int, int], ...]:
    """The corners of an upright rectangle, counter-clockwise from its lower left one.

    Parameters
    ----------
    width : int
        Across, ticks.
    length : int
        Along, ticks.
    x : int
    y : int
        Its lower left corner, ticks.
    """
    return ((x, y), (x + width, y), (x + width, y + length), (x, y + length))


def area2(polygon: Sequence[Point]) -> Number:
    """Twice the signed area (shoelace formula); above 0 when the corners run counter-clockwise."""
    total: Number = 0
    x1, y1 = polygon[-1]
    for x2, y2 in polygon:
        total += x1 * y2 - x2 * y1
        x1 = x2
        y1 = y2
    return total


def bounds(polygon: Sequence[Point]) -> Box:
    """`(x_min, y_min, x_max, y_max)`."""
    xs, ys = zip(*polygon, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def edges(polygon: Sequence[Point]) -> list[tuple[Point, Point]]:
    """The edges in order, the closing one last."""
    return list(zip(polygon, (*polygon[1:], polygon[0]), strict=True))


def cross(o: Point, a: Point, b: Point) -> Number:
    """Cross product of `a - o` and `b - o`: above 0 when b lies to the left of the way from o to a.

    Parameters
    ----------
    o : Point
    a : Point
    b : Point
    """
    return (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])


def is_rectangle(polygon: Sequence[Point]) -> bool:
    """Whether the polygon is an upright rectangle."""
    # most have four corners, and this is quick
    if len(polygon) == 4:
        (ax, ay), (bx, by), (cx, cy), (dx, dy) = polygon
        if (ay == by and bx == cx and cy == dy and dx == ax) or (
            ax == bx and by == cy and cx == dx and dy == ay
        ):
            return True
    x1, y1, x2, y2 = bounds(polygon)
    return abs(area2(polygon)) == 2 * (x2 - x1) * (y2 - y1)


def tidy(polygon: Sequence[Point]) -> Polygon:
    """The same outline counter-clockwise, without repeated corners and corners on a straight line."""
    ring = _distinct(polygon)
    return _straightened(ring, area2(ring))


def _distinct(polygon: Sequence[Point]) -> list[Point]:
    return [p for p, q in edges(polygon) if p != q]


def _straightened(ring: list[Point], area: Number) -> Polygon:
    """The same ring counter-clockwise, without corners on a straight line; the sign of its area is known."""
    if area < 0:
        ring.reverse()
    while len(ring) > 3:
        kept = [
            p
            for i, p in enumerate(ring)
            if _bends(ring[i - 1], p, ring[(i + 1) % len(ring)])
        ]
        if len(kept) == len(ring):
            break
        ring = kept
    return tuple(ring)


def _bends(a: Point, b: Point, c: Point) -> bool:
    """Whether the way from a over b to c turns at b; without arithmetic where it comes upright or level."""
    if a[0] == b[0]:
        return a[1] != b[1] and b[0] != c[0]
    if a[1] == b[1]:
        return b[1] != c[1]
    return cross(a, b, c) != 0


def dot(o: Point, a: Point, b: Point) -> Number:
    """Scalar product of `a - o` and `b - o`.

    Parameters
    ----------
    o : Point
    a : Point
    b : Point
    """
    return (a[0] - o[0]) * (b[0] - o[0]) + (a[1] - o[1]) * (b[1] - o[1])


def _sign(value: Number) -> int:
    return (value > 0) - (value < 0)


def segments_meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two closed segments share a point.

    Parameters
    ----------
    a : Point
    b : Point
        Ends of one.
    c : Point
    d : Point
        Ends of the other.
    """
    sides = [
        _sign(cross(a, b, c)),
        _sign(cross(a, b, d)),
        _sign(cross(c, d, a)),
        _sign(cross(c, d, b)),
    ]
    if sides[0] * sides[1] < 0 and sides[2] * sides[3] < 0:
        return True
    ends = ((a, b, c), (a, b, d), (c, d, a), (c, d, b))
    return any(
        side == 0 and dot(p, a1, b1) <= 0
        for side, (a1, b1, p) in zip(sides, ends, strict=True)
    )


def contains_point(polygon: Sequence[Point], point: Point) -> bool:
    """Whether the point is inside the polygon or on its border."""
    inside = False
    _, py = point
    for (x1, y1), (x2, y2) in edges(polygon):
        turn = cross((x1, y1), (x2, y2), point)
        if turn == 0 and dot(point, (x1, y1), (x2, y2)) <= 0:
            return True
        if (y1 > py) != (y2 > py) and (turn > 0) == (y2 > y1):
            inside = not inside
    return inside


def ceil_sqrt(value: int) -> int:
    """The smallest whole number whose square is at least `value`."""
    if value > 0:
        return isqrt(value - 1) + 1
    return 0


def split(
    polygon: Sequence[Point], axis: Axis, at: Number
) -> tuple[list[Polygon], list[Polygon]]:
    """Cut a simple polygon edge to edge along the line x = at or y = at.

    Parameters
    ----------
    polygon : sequence of Point
    axis : {"x", "y"}
    at : int or Fraction
        Ticks.

    Returns
    -------
    low, high : lists of polygons
        The connected parts left of (below) and right of (above) the line, each list in the order in which
        the parts lie along the line. Parts that meet in a single point are apart. A line that misses the
        inside gives the polygon whole on its side.
    """
    if len(polygon) == 4 and is_rectangle(polygon):
        return _split_rectangle(polygon, axis, at)
    low, high = _split_once(tuple(polygon), axis, at)
    return list(low), list(high)


# a piece is cut up in many ways that begin alike
@lru_cache(maxsize=1 << 14)
def _split_once(
    polygon: Polygon, axis: Axis, at: Number
) -> tuple[list[Polygon], list[Polygon]]:
    # mirrored in the diagonal, a ring runs the other way
    if axis == "y":
        low, high = _split_once(tuple((y, x) for x, y in reversed(polygon)), "x", at)
        return _mirrored(low, lambda x, y: (y, x)), _mirrored(high, lambda x, y: (y, x))
    turned = tuple((-x, y) for x, y in reversed(polygon))
    return _left_parts(polygon, at), _mirrored(
        _left_parts(turned, -at), lambda x, y: (-x, y)
    )


def split_along(
    polygon: Sequence[Point], line: tuple[Point, Point]
) -> tuple[list[Polygon], list[Polygon]]:
    """Cut a simple polygon edge to edge along any line: the parts left of the way from its first point, then right.

    Exact: the plane is turned (and stretched) so that the line is upright, cut, and turned back. The parts of each
    side stand in the order in which they lie along the line.
    """
    (ax, ay), (bx, by) = line
    dx = bx - ax
    dy = by - ay
    stretch = Fraction(dx * dx + dy * dy)

    def back(point: Point) -> Point:
        x = (dy * point[0] + dx * point[1]) / stretch
        y = (dy * point[1] - dx * point[0]) / stretch
        return _whole(ax + x), _whole(ay + y)

    low, high = split([aside(line, point) for point in polygon], "x", 0)
    left = [tuple(map(back, part)) for part in low]
    right = [tuple(map(back, part)) for part in high]
    return left, right


def aside(line: tuple[Point, Point], point: Point) -> Point:
    """How far right of a line and how far along it a point lies, both times the length of the line."""
    (ax, ay), (bx, by) = line
    dx = bx - ax
    dy = by - ay
    px = point[0] - ax
    py = point[1] - ay
    return dy * px - dx * py, dx * px + dy * py


def _whole(number: Number) -> Number:
    if number.denominator == 1:
        return number.numerator
    return number


def _split_rectangle(
    polygon: Sequence[Point], axis: Axis, at: Number
) -> tuple[list[Polygon], list[Polygon]]:
    """The same for an upright rectangle, which most parts are: no search for where the line runs."""
    x1, y1, x2, y2 = bounds(polygon)
    low, high = (x1, x2) if axis == "x" else (y1, y2)
    if at <= low:
        return [], [tuple(polygon)]
    if at >= high:
        return [tuple(polygon)], []
    if axis == "x":
        return [_corners(x1, y1, at, y2)], [_corners(at, y1, x2, y2)]
    return [_corners(x1, y1, x2, at)], [_corners(x1, at, x2, y2)]


def _corners(x1: Number, y1: Number, x2: Number, y2: Number) -> Polygon:
    return ((x1, y1), (x2, y1), (x2, y2), (x1, y2))


def _mirrored(
    parts: Sequence[Polygon], image: Callable[[Number, Number], Point]
) -> list[Polygon]:
    return [tuple(starmap(image, reversed(part))) for part in parts]


def _left_parts(ring: Sequence[Point], at: Number) -> list[Polygon]:
    """The connected parts of a counter-clockwise ring where x <= at, lowest first along the line."""
    border = [
        (p, q) for p, q in _crossed(ring, at) if min(p[0], q[0]) < at >= max(p[0], q[0])
    ]
    stops = sorted({y for edge in border for x, y in edge if x == at})
    for low, high in pairwise(stops):
        # twice the middle of the stretch
        twice = low + high
        crossings = sum(
            (2 * p[1] > twice) != (2 * q[1] > twice)
            for p, q in border
            if min(p[0], q[0]) < at
        )
        # cloth lies left of this stretch of the line
        if crossings % 2:
            border.append(((at, low), (at, high)))
    parts = [
        _straightened(_distinct(loop), area)
        for loop in _loops(border)
        if (area := area2(loop))
    ]
    if len(parts) > 1:
        return sorted(parts, key=_lowest_on_the_right)
    return parts


def _lowest_on_the_right(part: Polygon) -> Number:
    right = max(x for x, _ in part)
    return min(y for x, y in part if x == right)


def _crossed(ring: Sequence[Point], at: Number) -> list[tuple[Point, Point]]:
    """The edges of a ring, those that cross the line x = at in two."""
    out: list[tuple[Point, Point]] = []
    for (x1, y1), (x2, y2) in edges(ring):
        if (x1 < at < x2) or (x2 < at < x1):
            rise = (y2 - y1) * (at - x1)
            run = x2 - x1
            meeting = (
                at,
                _whole(y1 + (rise // run if rise % run == 0 else Fraction(rise) / run)),
            )
            out += [((x1, y1), meeting), (meeting, (x2, y2))]
        else:
            out.append(((x1, y1), (x2, y2)))
    return out


def _loops(border: Sequence[tuple[Point, Point]]) -> list[list[Point]]:
    """Chain directed edges to loops; where loops touch in a point, the sharpest left turn keeps them apart."""
    leaving: dict[Point, list[Point]] = {}
    for p, q in border:
        leaving.setdefault(p, []).append(q)
    loops = []
    while leaving:
        start = next(iter(leaving))
        loop = []
        came = start
        here = start
        while here in leaving:
            ways = leaving[here]
            if len(ways) == 1:
                there = ways[0]
            else:
                there = max(ways, key=lambda q: _turn(came, here, q))
            ways.remove(there)
            if not ways:
                del leaving[here]
            loop.append(here)
            came = here
            here = there
            if here == start and (here not in leaving or len(loop) > 2):
                break
        loops.append(loop)
    return loops


def _turn(came: Point, here: Point, there: Point) -> Fraction:
    """A measure that grows with the turn to the left, from -2 (right about) to 2 (left about)."""
    if came == here:
        return Fraction(0)
    ahead = (2 * here[0] - came[0], 2 * here[1] - came[1])
    side = Fraction(cross(here, ahead, there))
    along = Fraction(dot(here, ahead, there))
    return _sign(side) * (1 - along / (abs(side) + abs(along)))
