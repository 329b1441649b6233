"""One plate, copies unlimited, against counts that follow from geometry and against published optima."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.solve.plates.plate_table import (
    PlatePart,
    PlateTable,
    limited_sums,
    raster,
    sums,
)
from tests.places import BENCH
from tests.solve.plates.small_plates import best_plate, by_hand, parts_strategy
from tests.thinned import named, partly_slow

EIGHTHS = 8

# Cut sizes of squares that quilters use, in inches (common practice, no source).
SQUARES = (
    1.5,
    2,
    2.5,
    3,
    3.5,
    4,
    4.5,
    5,
    5.5,
    6,
    6.5,
    6.875,
    7.25,
    8.5,
    9,
    10,
    10.5,
    12.5,
)

# Two-orientation optima, worked out by an exact programme on the half-inch grid outside this project and bounded
# by area; (a, b): a yard of 36 x 42 with a along 42, b along 42, both; then a fat quarter of 18 x 21 likewise.
# Columns of one orientation are floor * floor (arithmetic identity).
RECTANGLES = {
    (2.5, 4.5): (128, 126, 134, 32, 28, 33),
    (2.5, 6.5): (80, 84, 91, 16, 21, 22),
    (2.5, 12.5): (32, 42, 44, 8, 7, 10),
    (3.5, 6.5): (60, 60, 66, 12, 15, 15),
    (3.5, 12.5): (24, 30, 33, 6, 5, 7),
    (4.5, 6.5): (45, 48, 50, 8, 12, 12),
    (4.5, 8.5): (36, 32, 36, 8, 8, 8),
    (5, 10): (24, 28, 28, 4, 6, 6),
    (6.5, 12.5): (12, 15, 15, 3, 2, 3),
    (8.5, 12.5): (8, 12, 13, 2, 2, 3),
    (10, 18): (8, 6, 8, 2, 1, 2),
    (12.5, 18.5): (3, 4, 5, 0, 1, 1),
}


def eighths(inches: float) -> int:
    assert inches * EIGHTHS == int(inches * EIGHTHS)
    return int(inches * EIGHTHS)


def count(w: float, h: float, a: float, b: float, turns: int) -> int:
    return best_plate(
        eighths(w), eighths(h), [PlatePart(eighths(a), eighths(b), 1, turns)]
    )[0]


@pytest.mark.parametrize("size", SQUARES)
@pytest.mark.parametrize("plate", [(36, 42), (18, 21)])
def test_squares_are_floor_times_floor(size: float, plate: tuple[int, int]) -> None:
    # Identity: mark floor(W/a) x floor(H/a) points at multiples of W/(m+1), H/(k+1); every square covers one.
    w, h = plate
    assert count(w, h, size, size, 3) == int(w // size) * int(h // size)


@pytest.mark.parametrize("size", RECTANGLES)
def test_rectangles_of_one_size(size: tuple[float, float]) -> None:
    a, b = size
    found = [
        count(h, w, a, b, turns) for h, w in ((42, 36), (21, 18)) for turns in (1, 2, 3)
    ]
    assert tuple(found) == RECTANGLES[size]


@pytest.mark.parametrize(
    "row",
    partly_slow(
        json.loads((BENCH / "gcut.json").read_text()), {"gcut13", "gcut13_rot"}, named
    ),
    ids=named,
)
def test_beasley_1985(row: dict) -> None:
    # J. E. Beasley (1985), JORS 36(4), 297-306; not turned gcut1-13 and turned.
    parts = [
        PlatePart(i["w"], i["h"], i["value"], 3 if row["rotate"] else 1)
        for i in row["items"]
    ]
    stock = row["stock"][0]
    value, placed = best_plate(stock["w"], stock["h"], parts)
    assert value == row["known"]["value"]
    assert sum(parts[k].value for k, *_ in placed) == value


@settings(max_examples=80, deadline=None)
@given(parts_strategy, st.integers(1, 16), st.integers(1, 16))
def test_agrees_with_trying_every_cut(parts: list[PlatePart], w: int, h: int) -> None:
    memo: dict[tuple[int, int], int] = {}
    table = PlateTable.for_parts(parts, (w, h))
    table.fill(parts)
    for width in range(1, w + 1):
        for height in range(1, h + 1):
            assert table.value(width, height) == by_hand(width, height, parts, memo)
    value, placed = best_plate(w, h, parts)
    assert value == memo[w, h] == sum(parts[k].value for k, *_ in placed)
    covered: set[tuple[int, int]] = set()
    for k, x, y, turned in placed:
        pw, ph = (parts[k].h, parts[k].w) if turned else (parts[k].w, parts[k].h)
        cells = {(cx, cy) for cx in range(x, x + pw) for cy in range(y, y + ph)}
        assert x + pw <= w
        assert y + ph <= h
        assert not covered & cells
        assert parts[k].turns & (2 if turned else 1) or pw == ph
        covered |= cells


def test_sums_and_raster_points() -> None:
    assert sums(10, [3, 4]).tolist() == [0, 3, 4, 6, 7, 8, 9, 10]
    assert limited_sums(10, [((3,), 1), ((4,), 1)]).tolist() == [0, 3, 4, 7]
    assert raster(10, sums(10, [4, 6])).tolist() == [0, 4, 6, 10]


def test_a_plate_too_small_for_any_part_takes_some_work_and_holds_nothing() -> None:
    table = PlateTable.for_parts([PlatePart(40, 10, 7)], (30, 30), one_size=True)
    assert table.work > 0  # what may be spent is divided by it
    table.fill([PlatePart(40, 10, 7)])
    assert table.value(30, 30) == 0
