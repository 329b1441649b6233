"""Patches fill their block: the exact check against shapely's areas, and against blocks that are broken by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.pieced.library import TRADITIONAL
from cutopt.quilt.recipe import block_patches as make
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.recipe.fill import Share, does_not_fill
from tests.quilt.pieced.shapes import gap_and_overlap, of_block

HOW = Conventions()
NONE = ()
THIRD = Fraction(1, 3)
LEFT = ((0, 0), (THIRD, 0), (THIRD, 1), (0, 1))
RIGHT = ((THIRD, 0), (1, 0), (1, 1), (THIRD, 1))
OLD = {
    "plain": make.plain("b", 2, ("4", "6"), NONE, HOW),
    "four patch": make.checkered("b", 2, "7", 2, NONE, HOW),
    "nine patch": make.checkered("b", 2, "10", 3, NONE, HOW),
    "half squares": make.half_squares("b", 2, "3", NONE, HOW, "two at a time"),
    "hourglass": make.hourglasses("b", 2, "3", NONE, HOW),
    "geese": make.geese("b", 4, "6", NONE, HOW),
    "square in a square": make.square_in_square("b", 2, "6", NONE, HOW),
    "disappearing": make.disappearing("b", 4, "5", NONE, HOW),
    "log cabin": make.log_cabins("b", 2, "2", "1", 3, NONE, HOW),
    "strip set": make.segments("b", 6, ("2", "1", "2"), "6", NONE, HOW),
}


@pytest.mark.parametrize("block", OLD.values(), ids=OLD)
def test_the_kinds_of_one_unit_fill(block: Block) -> None:
    """Oracle: shapely."""
    assert block.patches
    gap, overlap = of_block(block)
    assert (gap, overlap) == pytest.approx((0, 0), abs=1e-12)


@pytest.mark.parametrize(
    ("shapes", "wrong"),
    [
        pytest.param([LEFT, RIGHT], "", id="both"),
        pytest.param([LEFT[::-1], RIGHT], "", id="told clockwise"),
        pytest.param([LEFT], "2/3 of it is left open", id="one is missing"),
        pytest.param(
            [LEFT, LEFT, RIGHT], "patches 1 and 2 lie upon each other", id="twice"
        ),
        pytest.param(
            [LEFT, (*RIGHT[:3], (THIRD, 2))],
            "patch 2 reaches out of it",
            id="too long",
        ),
        pytest.param(
            [((0, 0), (1, 0), (THIRD, THIRD), (0, 1)), ((1, 0), (1, 1), (0, 1))],
            "patch 1 is no patch that can be sewn",
            id="a corner that points inward",
        ),
        pytest.param(
            [LEFT, RIGHT, ((0, 0), (1, 0), (THIRD, 0))],
            "patch 3 is no patch that can be sewn",
            id="flat",
        ),
        # a float third is none: gap and overlap are decided exactly
        pytest.param(
            [LEFT, ((1 / 3, 0), (1, 0), (1, 1), (1 / 3, 1))],
            "patches 1 and 2 lie upon each other",
            id="a third as a float",
        ),
    ],
)
def test_what_is_wrong(shapes: list[tuple[Share, ...]], wrong: str) -> None:
    """Sizes and words are invented."""
    assert does_not_fill(shapes) == wrong


steps = st.integers(0, 6).map(lambda n: Fraction(n, 6))
corners = st.tuples(steps, steps)
triangles = st.lists(st.tuples(corners, corners, corners), min_size=1, max_size=4)


@given(triangles)
def test_any_triangles_against_shapely(shapes: list[tuple[Share, ...]]) -> None:
    """Oracle: shapely."""
    gap, overlap = gap_and_overlap(shapes)
    flat = any(gap_and_overlap([shape])[0] > 1 - 1e-9 for shape in shapes)
    fills = abs(gap) < 1e-9 and abs(overlap) < 1e-9
    assert (does_not_fill(shapes) == "") == (fills and not flat)


@given(st.sampled_from(sorted(TRADITIONAL)), st.data())
def test_a_block_that_lost_a_patch_or_has_one_turned_is_none(
    many: str, data: st.DataObject
) -> None:
    """Arithmetic identity."""
    block = TRADITIONAL[many].block("b", 1, "7", NONE, HOW)
    number = data.draw(st.integers(0, len(block.patches) - 1))
    rest = [p for n, p in enumerate(block.patches) if n != number]
    with pytest.raises(Problem, match=r"do not fill the block: .* left open"):
        replace(block, patches=tuple(rest))
    patch = block.patches[number]
    turned = tuple((1 - x, y) for x, y in patch.corners)
    if set(turned) == set(patch.corners):
        return
    with pytest.raises(Problem, match="do not fill the block"):
        replace(block, patches=(*rest, replace(patch, corners=turned)))
