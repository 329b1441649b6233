"""Units and rows of them as shapes: turned as they lie, against shapely's affine maps."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity

from cutopt.quilt.pieced.panel import checkered, panel, rails, round_the_middle
from cutopt.quilt.pieced.unit import (
    Unit,
    goose,
    half,
    hourglass,
    patch,
    sewn_over,
    square_in_a_square,
)
from tests.quilt.pieced.shapes import polygon

UNITS = {
    "patch": patch(2, 3, 0),
    "half": half(2, 0, 1),
    "hourglass": hourglass(2, 0, 1),
    "goose": goose(4, 0, 1),
    "square in a square": square_in_a_square(3, 0, 1),
    "one corner": sewn_over((4, 2), 1, (0, 1), (2,)),
    "two corners that meet": sewn_over((4, 2), 2, (0, 1), (0, 1)),
    "all corners": sewn_over((3, 3), 1, (0, 1), (0, 1, 2, 3)),
}
# twice the area of the first cloth of each (identities)
FIRST = {
    "patch": 12,
    "half": 4,
    "hourglass": 4,
    "goose": 8,
    "square in a square": 9,
    "one corner": 15,
    "two corners that meet": 8,
    "all corners": 14,
}


def area(unit: Unit, which: int) -> float:
    return sum(polygon(corners).area for at, corners in unit.shapes() if at == which)


@pytest.mark.parametrize("name", UNITS)
def test_areas_of_both_cloths(name: str) -> None:
    unit = UNITS[name]
    whole = float(unit.width * unit.length)
    assert 2 * area(unit, 0) == pytest.approx(FIRST[name])
    assert area(unit, 0) + area(unit, 1) == pytest.approx(whole)


@given(st.sampled_from(sorted(UNITS)), st.integers(0, 7))
def test_a_turned_unit_is_turned_clockwise(name: str, quarters: int) -> None:
    """Arithmetic identity."""
    unit = UNITS[name]
    middle = (float(unit.width) / 2, float(unit.length) / 2)
    turned = unit.turned(quarters)
    lies = turned.lies
    by = (float(lies[0]) / 2 - middle[0], float(lies[1]) / 2 - middle[1])
    for (which, before), (same, now) in zip(
        unit.shapes(), turned.shapes(), strict=True
    ):
        moved = affinity.rotate(polygon(before), -90 * quarters, origin=middle)
        moved = affinity.translate(moved, *by)
        assert which == same
        assert moved.symmetric_difference(polygon(now)).area == pytest.approx(
            0, abs=1e-9
        )


def test_the_first_cloth_of_a_half_goes_round_clockwise() -> None:
    """Upper left, upper right, lower right, lower left (identity)."""
    corners = [(0, 2), (2, 2), (2, 0), (0, 0)]
    for turn, corner in enumerate(corners):
        (_, first), _ = half(2, 0, 1, turn).shapes()
        opposite = corners[(turn + 2) % 4]
        assert corner in first
        assert opposite not in first


def test_rows_lie_from_the_top() -> None:
    """Identity: a row of 1 above one of 2; the second unit of the lower row begins at 3."""
    rows = panel([patch(5, 1, 0)], [patch(3, 2, 1), patch(2, 2, 2)])
    assert rows.size == (5, 3)
    places = [shapes[0][1][0] for _, shapes in rows.laid()]
    assert places == [(0, 2), (0, 0), (3, 0)]


def test_a_turned_panel_turns_its_units_with_it() -> None:
    two = panel([half(1, 0, 1)], [half(1, 0, 1)]).turned(1)
    assert two.lies == (2, 1)
    units = [unit for unit, _ in two.laid()]
    assert [unit.turn for unit in units] == [1, 1]
    # what lay above lies at the right
    (_, above), (_, below) = two.laid()
    assert above[0][1][0][0] > below[0][1][0][0]


def test_four_round_the_middle() -> None:
    """Arithmetic identity."""
    four = round_the_middle(half(1, 0, 1))
    assert [unit.turn for unit, _ in four.laid()] == [0, 1, 3, 2]


def test_small_squares_and_rails() -> None:
    """Arithmetic identity."""
    nine = checkered(Fraction(9), 3)
    slots = [unit.slots[0] for unit, _ in nine.laid()]
    assert slots == [0, 1, 0, 1, 0, 1, 0, 1, 0]
    level = rails((6, 3), 3, level=True)
    assert [unit.lies for unit, _ in level.laid()] == [(6, 1)] * 3
    upright = rails((6, 3), 3, level=False)
    assert [unit.lies for unit, _ in upright.laid()] == [(2, 3)] * 3
    assert [unit.slots for unit, _ in upright.of_slots((4, 5, 6)).laid()] == [
        (4,),
        (5,),
        (6,),
    ]
