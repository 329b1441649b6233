"""Parts of a cloth that is cut up: held once, and what is told of them is what the drawing shows."""

from __future__ import annotations

import random
from collections import Counter

import pytest
from shapely import LineString, Polygon, box

from cutopt.geometry import Axis, rectangle
from cutopt.solve.cuts.cut_parts import ClothParts, Rect

NOTCHED = ((0, 0), (40, 0), (40, 30), (28, 30), (28, 12), (12, 12), (12, 30), (0, 30))
SLANTED = ((0, 0), (41, 3), (36, 30), (5, 26))


def scattered(seed: int) -> list[Rect]:
    """Up to twelve rects that do not overlap, some of them touching."""
    rnd = random.Random(seed)
    taken = list[Rect]()
    for tag in range(40):
        x = rnd.randint(0, 36)
        y = rnd.randint(0, 26)
        w = rnd.randint(2, 9)
        l = rnd.randint(2, 9)
        rect = Rect(tag=tag, x1=x, y1=y, x2=min(40, x + w), y2=min(30, y + l))
        if len(taken) < 12 and not any(
            shape(rect).overlaps(shape(r)) or shape(rect).within(shape(r))
            for r in taken
        ):
            taken += (
                [rect] if not any(shape(r).within(shape(rect)) for r in taken) else []
            )
    return taken


def shape(r: Rect) -> Polygon:
    return box(r.x1, r.y1, r.x2, r.y2)


@pytest.mark.parametrize("seed", range(30))
def test_lines_are_those_that_cross_no_rect_and_on_which_one_ends(seed: int) -> None:
    """Shapely's word for it: a line from edge to edge crosses a rect where it meets the inside of it."""
    rects = scattered(seed)
    expected: Counter[tuple[str, int]] = Counter()
    for axis, size in (("x", 40), ("y", 30)):
        for at in range(1, size):
            line = LineString(
                [(at, 0), (at, 30)] if axis == "x" else [(0, at), (40, at)]
            )
            ends = sum(
                at in ((r.x1, r.x2) if axis == "x" else (r.y1, r.y2)) for r in rects
            )
            if ends and not any(line.crosses(shape(r)) for r in rects):
                expected[axis, at] = ends
    lines = ClothParts().part(rectangle(40, 30), rects).lines
    assert {(line.axis, line.at): line.ends for line in lines} == expected
    for line in lines:  # free is what lies beside the outermost rects
        low, high = (0, 2) if line.axis == "x" else (1, 3)
        inner = [shape(r).bounds for r in rects]
        first = min(b[low] for b in inner)
        last = max(b[high] for b in inner)
        size = 40 if line.axis == "x" else 30
        beside = (
            line.at if line.at == first else size - line.at if line.at == last else 0
        )
        assert line.free == pytest.approx(beside / size)


@pytest.mark.parametrize("outline", [NOTCHED, SLANTED])
@pytest.mark.parametrize("at", [9, 13, 20])
def test_each_rect_goes_with_the_part_that_holds_it(
    outline: tuple[tuple[int, int], ...], at: int
) -> None:
    parts = ClothParts()
    cloth = Polygon(outline)
    axes: tuple[Axis, Axis] = ("x", "y")
    for axis in axes:
        line = LineString([(at, 0), (at, 30)] if axis == "x" else [(0, at), (41, at)])
        rects = [
            Rect(tag=5 * x + y, x1=x, y1=y, x2=x + 2, y2=y + 2)
            for x in range(0, 40, 3)
            for y in range(0, 30, 3)
            if cloth.covers(box(x, y, x + 2, y + 2))
            and not line.crosses(box(x, y, x + 2, y + 2))
        ]
        pieces = parts.cut(parts.part(outline, rects), axis, at)
        assert sorted(r.tag for part in pieces for r in part.rects) == sorted(
            r.tag for r in rects
        )
        assert all(
            Polygon(part.shape.outline).buffer(1e-6).covers(shape(r))
            for part in pieces
            for r in part.rects
        )
        assert (
            sum(part.shape.area2 for part in pieces)
            == parts.part(outline, ()).shape.area2
        )
    assert len(parts.cut(parts.part(NOTCHED, ()), "y", 20)) == 3


def test_a_part_is_the_same_whichever_cut_came_first() -> None:
    rects = [Rect(tag=0, x1=0, y1=0, x2=4, y2=5), Rect(tag=1, x1=6, y1=0, x2=9, y2=5)]
    parts = ClothParts()
    cloth = parts.part(rectangle(10, 8), rects)
    across = parts.cut(parts.cut(cloth, "y", 5)[0], "x", 4)[0]
    along = parts.cut(parts.cut(cloth, "x", 4)[0], "y", 5)[0]
    assert across is along
    assert across.done
    assert not cloth.done
    other = parts.part(rectangle(10, 8), rects[:1])
    assert other is not cloth
    assert other.shape is cloth.shape
