"""Polygons against shapely (GEOS) and against the checker's own exact shapes."""

from __future__ import annotations

import random
from math import isqrt

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from cutopt import crossing, geometry
from cutopt.check import shapes
from cutopt.crossing import crossing_edges
from cutopt.lengths import INCH
from tests.check.polygons import random_outline, star


def as_float(polygon: geometry.Polygon) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in polygon]


@pytest.mark.parametrize("seed", range(200))
def test_split_gives_the_parts_of_the_checker_and_of_shapely(seed: int) -> None:
    """Cut after cut; parts agree in number, order, area and extent, exactly with the checker's naive shapes."""
    rng = random.Random(seed)
    unit = rng.choice([INCH, 2])
    pile = [random_outline(rng, unit)]
    for _ in range(6):
        whole = pile.pop(rng.randrange(len(pile)))
        axis = rng.choice("xy")
        at = rng.randint(0, 17) * unit // 2
        low, high = geometry.split(whole, axis, at)
        line = ((at, 0), (at, 1)) if axis == "x" else ((1, at), (0, at))
        theirs = shapes.cut(
            shapes.bits_of(whole), line, (0, 1) if axis == "x" else (1, 0)
        )
        assert [geometry.area2(part) for part in (*low, *high)] == [
            shapes.double_area(part) for part in theirs
        ]
        assert [geometry.bounds(part) for part in (*low, *high)] == [
            shapes.box_of(part) for part in theirs
        ]
        assert sum(map(geometry.area2, (*low, *high))) == geometry.area2(whole)
        side = 0 if axis == "x" else 1
        assert all(point[side] <= at for part in low for point in part)
        assert all(point[side] >= at for part in high for point in part)
        cloth = Polygon(as_float(whole))
        for part in (*low, *high):
            assert part == geometry.tidy(part)
            mine = Polygon(as_float(part)).buffer(0)
            assert (mine - cloth).area < 1e-9 * cloth.area
            assert mine.area == pytest.approx(float(geometry.area2(part)) / 2, rel=1e-9)
        pile += [*low, *high]


def test_split_where_the_line_misses_the_cloth() -> None:
    """The polygon stays whole, on its side; a line along a side misses the inside too."""
    square = geometry.rectangle(4, 4, 2, 2)
    for axis in ("x", "y"):
        for at, sides in ((1, (0, 1)), (2, (0, 1)), (6, (1, 0)), (9, (1, 0))):
            low, high = geometry.split(square, axis, at)
            assert (len(low), len(high)) == sides
            assert set((low + high)[0]) == set(square)


def test_parts_that_meet_in_a_point_are_apart() -> None:
    """A bow of two triangles: the cut through its waist leaves two parts below and one above."""
    bow = ((0, 0), (2, 4), (4, 0), (8, 0), (8, 8), (0, 8))
    low, high = geometry.split(bow, "y", 4)
    assert [geometry.bounds(part)[:3:2] for part in low] == [(0, 2), (2, 8)]
    assert len(high) == 1
    assert sum(map(geometry.area2, low)) == 2 * (8 * 4 - 8)


@pytest.mark.parametrize("seed", range(200))
def test_crossing_edges_are_found_where_shapely_finds_the_ring_not_simple(
    seed: int,
) -> None:
    rng = random.Random(seed)
    for _ in range(20):
        ring = star(rng, rng.randint(3, 8), 5)
        if rng.random() < 0.5:
            ring = tuple(rng.sample(ring, len(ring)))
        if len(ring) < 3:
            continue
        simple = shapely.LinearRing(ring).is_simple
        met = crossing_edges(ring)
        assert (met is None) == simple, ring
        if met is not None:
            i, j = met
            one, two = (shapely.LineString(geometry.edges(ring)[k]) for k in met)
            assert 0 <= i < j < len(ring)
            shared = one & two
            assert not shared.is_empty
            assert shared.length > 0 or j - i not in (1, len(ring) - 1)


def comb(teeth: int) -> geometry.Polygon:
    """A comb whose teeth the sweep crosses all at once, when it lies on its side."""
    top = [(x, 10_000 if x % 2 else 10) for x in range(2 * teeth)]
    return tuple((y, x) for x, y in [(2 * teeth, 0), (0, 0), *top])


@pytest.mark.parametrize("shape", ["comb", "polygon"])
def test_crossing_edges_takes_n_log_n_comparisons(
    shape: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Twice the corners, a little more than twice the comparisons; all pairs would be four times as many."""
    counts = []

    def counting(*points: geometry.Point) -> geometry.Number:
        counts[-1] += 1
        return geometry.cross(*points)

    monkeypatch.setattr(crossing, "cross", counting)
    for n in (500, 1000, 2000):
        ring = comb(n // 2) if shape == "comb" else round_outline(n)
        counts.append(0)
        assert crossing_edges(ring) is None
    assert counts[0] * 2.5 > counts[1] > counts[2] / 2.5
    assert counts[2] < 2000 * 25


def round_outline(corners: int) -> geometry.Polygon:
    """Corners of a parabola: a simple outline, all of whose corners bend the same way."""
    return tuple((x, x * x) for x in range(-corners // 2, corners - corners // 2))


@pytest.mark.parametrize("seed", range(100))
def test_points_in_polygons_as_shapely_covers_them(seed: int) -> None:
    """100 times 100 points, on corners and sides too."""
    rng = random.Random(seed)
    for _ in range(4):
        ring = random_outline(rng)
        cloth = Polygon(ring)
        for _ in range(25):
            point = (rng.randint(-2, 17) * INCH // 2, rng.randint(-2, 17) * INCH // 2)
            assert geometry.contains_point(ring, point) == cloth.covers(
                shapely.Point(point)
            )


@pytest.mark.parametrize("seed", range(60))
def test_area_and_bounds_and_tidy(seed: int) -> None:
    rng = random.Random(seed)
    ring = random_outline(rng)
    cloth = Polygon(ring)
    assert geometry.area2(ring) == 2 * cloth.area
    assert geometry.bounds(ring) == cloth.bounds
    assert geometry.is_rectangle(ring) == (cloth.area == cloth.envelope.area)
    loose = [
        corner
        for a, b in geometry.edges(ring)
        for corner in (a, a, ((a[0] + b[0]) // 2, (a[1] + b[1]) // 2))
    ]
    if all(
        (a[0] + b[0]) % 2 == 0 == (a[1] + b[1]) % 2 for a, b in geometry.edges(ring)
    ):
        for messy in (loose, loose[::-1]):
            tidied = geometry.tidy(messy)
            assert Polygon(tidied).equals(cloth)
            assert geometry.area2(tidied) > 0
            assert len(tidied) == len(
                shapely.simplify(cloth, 0).exterior.coords
            ) - 1 or len(tidied) <= len(ring)
            assert all(
                geometry.cross(tidied[i - 2], tidied[i - 1], tidied[i]) != 0
                for i in range(len(tidied))
            )


def test_corners_of_a_rectangle_run_round_it() -> None:
    assert geometry.rectangle(3, 2, 1, 5) == ((1, 5), (4, 5), (4, 7), (1, 7))
    assert geometry.area2(geometry.rectangle(3, 2)) == 12
    assert geometry.area2(geometry.rectangle(3, 2)[::-1]) == -12
    assert geometry.is_rectangle(geometry.rectangle(3, 2)[::-1])


@given(st.integers(0, 10**24))
def test_ceil_sqrt(value: int) -> None:
    root = geometry.ceil_sqrt(value)
    assert root * root >= value
    assert root == 0 or (root - 1) ** 2 < value
    assert root - isqrt(value) in (0, 1)
