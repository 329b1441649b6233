"""Whether the patches of a block fill it, without a gap and without lying upon each other: exactly, on whole numbers.

Patches are convex: rectangles, triangles, and what is left of a rectangle whose corners are sewn over. Two convex shapes
have no point inside both where some side of one has all of the other behind it (the separating axis theorem); shapes that
lie within a square, apart from each other, fill it just where their areas come to its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations
from math import lcm
from typing import TypeAlias

# a share of a block, exactly; of a quilt that is drawn, ticks
Share: TypeAlias = tuple[Fraction | float, Fraction | float]
Whole: TypeAlias = tuple[int, int]
Outline: TypeAlias = tuple[Whole, ...]


def does_not_fill(shapes: Sequence[Sequence[Share]]) -> str:
    """What is wrong with patches that should fill a block of 1 by 1, "" where they do."""
    side = _common(shapes)
    drawn = [_outline(shape, side) for shape in shapes]
    twice = [_twice_the_area(outline) for outline in drawn]
    for number, outline in enumerate(drawn, start=1):
        if twice[number - 1] <= 0 or not _is_convex(outline):
            return f"patch {number} is no patch that can be sewn"
        if not all(0 <= at <= side for corner in outline for at in corner):
            return f"patch {number} reaches out of it"
    for (i, one), (j, other) in combinations(enumerate(drawn, start=1), 2):
        if _overlap(one, other):
            return f"patches {i} and {j} lie upon each other"
    missing = 2 * side * side - sum(twice)
    if missing:
        return f"{Fraction(missing, 2 * side * side)} of it is left open"
    return ""


def _common(shapes: Sequence[Sequence[Share]]) -> int:
    """How many steps along a side all corners are whole numbers of."""
    bottom = {
        Fraction(at).denominator
        for shape in shapes
        for corner in shape
        for at in corner
    }
    return lcm(1, *bottom)


def _outline(shape: Sequence[Share], side: int) -> Outline:
    """Corners in whole steps, anticlockwise."""
    corners = tuple(
        (int(Fraction(x) * side), int(Fraction(y) * side)) for x, y in shape
    )
    if _twice_the_area(corners) < 0:
        return corners[::-1]
    return corners


def _sides(outline: Outline) -> Iterator[tuple[Whole, Whole]]:
    return zip(outline, (*outline[1:], *outline[:1]), strict=True)


def _twice_the_area(outline: Outline) -> int:
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in _sides(outline))


def _left_of(start: Whole, stop: Whole, point: Whole) -> int:
    """Above 0 for a point left of the line from start to stop, 0 upon it."""
    along = (stop[0] - start[0], stop[1] - start[1])
    aside = (point[0] - start[0], point[1] - start[1])
    return along[0] * aside[1] - along[1] * aside[0]


def _is_convex(outline: Outline) -> bool:
    """Whether every corner lies left of every side, or upon it."""
    return all(
        _left_of(start, stop, corner) >= 0
        for start, stop in _sides(outline)
        for corner in outline
    )


def _overlap(one: Outline, other: Outline) -> bool:
    return not (_is_apart(one, other) or _is_apart(other, one))


def _is_apart(one: Outline, other: Outline) -> bool:
    """Whether all of the other lies outside one side of the first."""
    return any(
        all(_left_of(start, stop, corner) <= 0 for corner in other)
        for start, stop in _sides(one)
    )
