"""The replay's own geometry against shapely (GEOS), on polygons whose corners, sides and cuts often coincide."""

from __future__ import annotations

import random

import pytest
import shapely
from shapely import Polygon

from cutopt.check import shapes
from cutopt.geometry import bounds, rectangle, split
from cutopt.lengths import INCH
from tests.check.polygons import random_outline

UNIT = INCH * INCH


def as_polygon(shape: shapes.Shape) -> shapely.Geometry:
    return shapely.union_all(
        [Polygon([(float(x), float(y)) for x, y in bit]) for bit in shape]
    )


def halves(cloth: shapely.Geometry, axis: str, at: int) -> list[list[shapely.Geometry]]:
    """The parts below and above a cut, each list in the order along it."""
    far = 1000 * INCH
    low = (
        shapely.box(-far, -far, at, far)
        if axis == "x"
        else shapely.box(-far, -far, far, at)
    )
    high = (
        shapely.box(at, -far, far, far)
        if axis == "x"
        else shapely.box(-far, at, far, far)
    )
    line = shapely.LineString(
        [(at, -far), (at, far)] if axis == "x" else [(-far, at), (far, at)]
    )
    found = []
    for half in (low, high):
        parts = [
            part
            for part in shapely.get_parts(cloth & half)
            if part.area > cloth.area / 1e9
        ]
        place = 1 if axis == "x" else 0
        found.append(
            sorted(
                parts,
                key=lambda part: (
                    (part & line).bounds[place] if part.intersects(line) else 0
                ),
            )
        )
    return found


def cut_at(shape: shapes.Shape, axis: str, at: int) -> list[shapes.Shape]:
    line = ((at, 0), (at, 1)) if axis == "x" else ((1, at), (0, at))
    return shapes.cut(shape, line, (0, 1) if axis == "x" else (1, 0))


@pytest.mark.parametrize("seed", range(150))
def test_cuts_give_the_parts_that_shapely_gives(seed: int) -> None:
    """Cut after cut: as many parts, each of the same area, in the order of the contract, none lost.

    One half of the outlines are measured in inches, the other half in pairs of ticks.
    """
    rng = random.Random(seed)
    unit = rng.choice([INCH, 2])
    outline = random_outline(rng, unit)
    pile = [shapes.bits_of(outline)]
    assert shapes.double_area(pile[0]) == pytest.approx(
        2 * Polygon(outline).area, rel=1e-12
    )
    for _ in range(4):
        whole = pile.pop(rng.randrange(len(pile)))
        axis = rng.choice("xy")
        at = rng.randint(1, 15) * unit // 2
        ours = cut_at(whole, axis, at)
        theirs = [part for half in halves(as_polygon(whole), axis, at) for part in half]
        assert [float(shapes.double_area(part)) / 2 for part in ours] == pytest.approx(
            [part.area for part in theirs], rel=1e-9
        )
        for part, other in zip(ours, theirs, strict=True):
            assert [float(x) for x in shapes.box_of(part)] == pytest.approx(
                other.bounds, rel=1e-9
            )
        assert sum(map(shapes.double_area, ours)) == shapes.double_area(whole)
        pile += ours


@pytest.mark.parametrize("seed", range(60))
def test_slanting_cuts_give_the_parts_that_shapely_gives(seed: int) -> None:
    rng = random.Random(seed)
    outline = random_outline(rng)
    a, b = ((rng.randint(-2, 9) * INCH, rng.randint(-2, 9) * INCH) for _ in "ab")
    if a == b:
        b = (a[0] + INCH, a[1] + 3)
    across = (b[0] - a[0]) * 50
    along = (b[1] - a[1]) * 50
    left = Polygon(
        [
            (a[0] - across, a[1] - along),
            (a[0] + across, a[1] + along),
            (a[0] + across - along, a[1] + along + across),
            (a[0] - across - along, a[1] - along + across),
        ]
    )
    ours = shapes.cut(shapes.bits_of(outline), (a, b), (b[0] - a[0], b[1] - a[1]))
    on_left = [
        part
        for part in ours
        if all(shapes.turn((a, b), p) >= 0 for bit in part for p in bit)
    ]
    assert ours[: len(on_left)] == on_left
    cloth = Polygon(outline)
    for mine, theirs in ((on_left, cloth & left), (ours[len(on_left) :], cloth - left)):
        areas = sorted(
            part.area for part in shapely.get_parts(theirs) if part.area > UNIT / 1e6
        )
        assert sorted(
            float(shapes.double_area(part)) / 2 for part in mine
        ) == pytest.approx(areas, rel=1e-9)


def inside(shape: shapes.Shape, box: shapes.Box) -> bool:
    """What the checker's rules `right_size` and `whole` say of the part that cuts along the box leave."""
    for line in shapes.sides(
        rectangle(box[2] - box[0], box[3] - box[1], box[0], box[1])
    ):
        shape = tuple(rest for bit in shape if (rest := shapes.left_of(bit, line)))
    return shapes.double_area(shape) == 2 * (box[2] - box[0]) * (box[3] - box[1])


@pytest.mark.parametrize("seed", range(100))
def test_rectangles_in_outlines_as_shapely_covers_them(seed: int) -> None:
    """100 times 100 rectangles, many of them touching sides and corners from within and without."""
    rng = random.Random(1000 + seed)
    answers = {True: 0, False: 0}
    for _ in range(10):
        outline = random_outline(rng)
        shape = shapes.bits_of(outline)
        cloth = Polygon(outline)
        x1, y1, x2, y2 = (int(c) // INCH for c in cloth.bounds)
        for _ in range(10):
            x = rng.randint(2 * x1, 2 * x2 - 1)
            y = rng.randint(2 * y1, 2 * y2 - 1)
            w = rng.randint(1, 2 * x2 - x)
            h = rng.randint(1, 2 * y2 - y)
            if rng.random() < 0.6:
                w = min(w, 2)
                h = min(h, 2)
            box = tuple(c * INCH // 2 for c in (x, y, x + w, y + h))
            answer = cloth.covers(shapely.box(*box))
            assert inside(shape, box) == answer, (outline, box)
            answers[answer] += 1
    assert min(answers.values()) > 5  # both answers are tried


@pytest.mark.parametrize("seed", range(60))
def test_flaws_and_gaps_as_shapely_measures_them(seed: int) -> None:
    rng = random.Random(seed)
    outline = random_outline(rng)
    flaw = Polygon(outline)
    for _ in range(20):
        x = rng.randint(-4, 16)
        y = rng.randint(-4, 16)
        w = rng.randint(1, 8)
        h = rng.randint(1, 8)
        box = tuple(c * INCH // 2 for c in (x, y, x + w, y + h))
        patch = shapely.box(*box)
        assert shapes.reaches_into(shapes.bits_of(outline), box) == (
            (flaw & patch).area > UNIT / 1e6
        )
        for side in shapes.sides(outline):
            segment = shapely.LineString(side)
            if not segment.crosses(patch) and not segment.within(patch):
                gap = float(shapes.gap_squared(box, side)) ** 0.5
                assert gap == pytest.approx(patch.distance(segment), rel=1e-9, abs=1e-3)


def test_shapes_that_meet_in_a_point_are_apart() -> None:
    corner = [rectangle(2, 2), rectangle(2, 2, 2, 2)]
    assert len(shapes.connected(corner)) == 2
    assert len(shapes.connected([*corner, rectangle(2, 2, 2, 0)])) == 1


def test_bits_that_touch_along_a_part_of_a_side_hang_together() -> None:
    """A side of one may be longer than that of the other, and shifted by all but a tick."""
    assert len(shapes.connected([rectangle(4, 4), rectangle(4, 4, 4, 3)])) == 1
    assert len(shapes.connected([rectangle(4, 4), rectangle(4, 4, 4, 4)])) == 2
    assert len(shapes.connected([rectangle(4, 4), rectangle(4, 4, 5, 0)])) == 2


def test_a_long_chain_hangs_together() -> None:
    chain = [rectangle(1, 1, x, x % 2) for x in range(0, 6, 2)] + [
        rectangle(1, 1, x, 0) for x in (1, 3)
    ]
    assert len(shapes.connected(chain[::-1])) == 1


def test_a_part_round_another_comes_first() -> None:
    """Left of x 6 a C, whose arms meet the line at 0 and at 8, lies round a tongue that meets it at 4.

    The lowest point in which each meets the line decides, not the highest; so it is for the other replay.
    """
    ring = (
        (0, 0),
        (8, 0),
        (8, 6),
        (3, 6),
        (3, 4),
        (7, 4),
        (7, 2),
        (1, 2),
        (1, 8),
        (8, 8),
        (8, 10),
        (0, 10),
    )
    boxes = [(0, 0, 6, 10), (3, 4, 6, 6), (6, 0, 8, 6), (6, 8, 8, 10)]
    for axis, turned in (("x", ring), ("y", tuple((y, x) for x, y in reversed(ring)))):
        parts = cut_at(shapes.bits_of(turned), axis, 6)
        low, high = split(turned, axis, 6)
        expected = (
            boxes if axis == "x" else [(y1, x1, y2, x2) for x1, y1, x2, y2 in boxes]
        )
        assert [shapes.box_of(part) for part in parts] == expected
        assert [bounds(part) for part in (*low, *high)] == expected


def test_only_where_a_part_meets_the_line_counts() -> None:
    """Left of x 8 an arm that meets the line at 4 and hangs down to -6 further left; a stub that meets it at 0."""
    ring = (
        (8, 0),
        (10, 0),
        (10, 6),
        (0, 6),
        (0, -6),
        (2, -6),
        (2, 4),
        (9, 4),
        (9, 2),
        (5, 2),
        (5, 0),
    )
    boxes = [(5, 0, 8, 2), (0, -6, 8, 6), (8, 0, 10, 6)]
    for axis, turned in (("x", ring), ("y", tuple((y, x) for x, y in reversed(ring)))):
        expected = (
            boxes if axis == "x" else [(y1, x1, y2, x2) for x1, y1, x2, y2 in boxes]
        )
        assert [
            shapes.box_of(part) for part in cut_at(shapes.bits_of(turned), axis, 8)
        ] == expected
        low, high = split(turned, axis, 8)
        assert [bounds(part) for part in (*low, *high)] == expected
