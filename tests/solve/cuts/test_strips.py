"""Strips: joins are seams to sew, grain is not mixed for nothing, and nothing is cut off that need not be."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from cutopt.cloth import replay
from cutopt.fabric import Fabric, Piece
from cutopt.geometry import bounds
from cutopt.lengths import MM
from cutopt.plan import Plan
from cutopt.settings import Settings
from cutopt.solve.cuts.cut_parts import Rect
from cutopt.solve.cuts.cutter import Cutter
from cutopt.solve.kernels.score import score
from cutopt.solve.kernels.search import open_pile
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.layout import Placement
from cutopt.solve.model.weights import weigh
from cutopt.solve.search.arrays import Arrays
from cutopt.solve.search.refill import lay_on
from cutopt.wanted import Strip
from tests.solve.small import bolt, cut, inch, job, piece, solved


def strip(name: str, width: str, total: str, **more: object) -> Strip:
    return Strip(name=name, width=inch(width), total_length=inch(total), **more)  # type: ignore[arg-type]


def segments(plan: Plan) -> dict[str, list[int]]:
    """Of each strip the lengths of its segments, as cut."""
    assert plan.origin is not None
    parts = replay(plan.origin, plan)
    turned = {use.part: use.turned for use in plan.uses}
    found: dict[str, list[int]] = {}
    for join in plan.joins:
        for name in join.segments:
            x1, y1, x2, y2 = (int(side) for side in bounds(parts[name]))
            found.setdefault(join.for_, []).append(x2 - x1 if turned[name] else y2 - y1)
    return found


def state_with(*laid: tuple[int, int, int, int, int, bool]) -> tuple[Arrays, object]:
    """Two strips 2 in wide on 20 x 20 in steps of 1/8 in: each laid part is unit, x, y, w, l in inches, and turned."""
    task = job(piece("bit", 20, 20), strip("one", "2", "30"), strip("two", "2", "30"))
    arrays = Arrays.of(model_of(task, inch("1") // 8))
    state = arrays.state(1)
    open_pile(arrays.problem, state)
    parts = [
        Placement(
            sheet=0,
            copy=0,
            unit=unit,
            x=8 * x,
            y=8 * y,
            w=8 * w,
            l=8 * high,
            turned=turned,
        )
        for unit, x, y, w, high, turned in laid
    ]
    assert lay_on(arrays, state, 0, parts, lambda: False)
    return arrays, state


def test_each_segment_counts_and_a_strip_that_lies_both_ways() -> None:
    """By hand: three segments; of the first strip one lies across and one along, of the second one across."""
    arrays, state = state_with(
        (0, 0, 0, 16, 2, True), (0, 18, 2, 2, 12, False), (1, 0, 2, 16, 2, True)
    )
    worth = np.zeros_like(arrays.areas)
    assert score(arrays.problem, state, weigh(must=0, segment=7), worth) == 3 * 7
    assert score(arrays.problem, state, weigh(must=0, mixed=5), worth) == 5
    arrays, state = state_with(
        (0, 0, 0, 16, 2, True), (0, 0, 2, 14, 2, True), (1, 18, 2, 2, 16, False)
    )
    assert score(arrays.problem, state, weigh(must=0, mixed=5), worth) == 0


def test_no_more_joins_than_straight_strips_across_need() -> None:
    """42 in wide: n strips of 2 1/2 come to 42 n - 2 1/2 (n - 1) on the diagonal, 240 in are reached with 7."""
    fewest = next(n for n in range(1, 20) if 42 * n - Fraction(5, 2) * (n - 1) >= 240)
    assert fewest == 7
    plan = solved(job(bolt(), strip("binding", "2.5", "240"))).plan
    assert [len(found) for found in segments(plan).values()] == [fewest]
    assert plan.totals.joins == fewest - 1


def test_a_side_that_one_strip_gives_is_one_piece_of_its_very_length() -> None:
    """36 1/2 and 1/16 in from 42 in across, four times; 1/16 in is not on the grid, and is cut all the same."""
    side = strip("side", "3.5", "36.5625", count=4, join="straight")
    plan = solved(job(bolt(), side)).plan
    assert segments(plan) == {side.key: [side.total_length] * 4}


def test_what_a_joined_strip_has_too_much_is_left_on_it() -> None:
    """60 1/2 in of two strips 42 in across: 23 in more than it needs, 3 1/2 in wide, which nobody keeps."""
    border = strip("border", "3.5", "60.5", join="straight")
    plan = solved(job(bolt(), border)).plan
    assert segments(plan) == {border.key: [inch(42)] * 2}
    assert plan.joins[0].length == inch("83.5")


def band(grows: str) -> Rect:
    return Rect(tag=0, x1=0, y1=0, x2=inch(30), y2=inch(3), grows=grows)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("grows", "keep", "cuts"), [("x", 5, 0), ("", 5, 1), ("y", 5, 1), ("x", 3, 1)]
)
def test_only_waste_stays_on_a_part_that_may_be_longer(
    grows: str, keep: int, cuts: int
) -> None:
    """30 in of a band 42 x 3: the 12 x 3 beside it are cut off where they are worth keeping, or the size is exact."""
    task = job(piece("bit", 42, 3), cut("any", 1, 1))
    cloth = model_of(task).sheets[0].cloth
    settings = replace(Settings(), keep_width=inch(keep), keep_length=inch(keep))
    (way,) = Cutter(settings, inch(1)).ways(cloth, [band(grows)])
    assert len(way.steps) == cuts
    (long,) = [node.box[2] for _, node in way.leaves if node.rects]
    assert long == inch(42 if cuts == 0 else 30)


def test_a_raw_end_is_still_squared_up() -> None:
    """Torn edges lose 1/4 in: 42 x 3 1/2 gives 41 1/2 x 3 at most, so all sides are cut."""
    task = job(piece("bit", 42, 3.5, edges="raw"), cut("any", 1, 1))
    cloth = model_of(task).sheets[0].cloth
    quarter = inch("0.25")
    rect = Rect(tag=0, x1=quarter, y1=quarter, x2=inch(30), y2=inch("3.25"), grows="x")
    for way in Cutter(Settings(), inch("0.25")).ways(cloth, [rect]):
        (box,) = [node.box for _, node in way.leaves if node.rects]
        assert box == (quarter, quarter, inch("30"), inch("3.25"))


@pytest.mark.parametrize(("total", "complete"), [(1000, True), (1002, False)])
def test_a_grid_off_the_ruler_adds_nothing_to_a_strip(
    total: int, complete: bool
) -> None:
    """Steps of 1 1/4 mm: two of 508.75 mm less 15 mm are 1002.5, by a ruler that shows 508 mm of each 1001."""
    settings = replace(Settings.metric(), grid=5 * MM // 4, square_up=0)
    bits = Piece.of_size("bit", "pear", 40 * MM, 50875 * MM // 100, count=2)
    sash = Strip(
        name="sash",
        width=40 * MM,
        total_length=total * MM,
        join="straight",
        shortest=100 * MM,
    )
    assert solved(job(bits, sash, settings=settings), 60).complete == complete


def test_one_segment_may_be_as_long_as_the_cloth_whatever_the_grid() -> None:
    settings = replace(Settings.metric(), grid=5 * MM // 4, square_up=0)
    bit = Piece.of_size("bit", "pear", 40 * MM, 50875 * MM // 100)
    sash = Strip(
        name="sash",
        width=40 * MM,
        total_length=bit.outline[2][1],
        join="straight",
        shortest=100 * MM,
    )
    assert solved(job(bit, sash, settings=settings), 60).complete


def test_a_sliver_beyond_the_ends_of_segments_is_not_cut_off() -> None:
    """42 in that shrink by 2 % are 41.16 in: 41 1/8 on the grid, 0.035 in beyond. So no cut is along the cloth."""
    shrinks = Fabric(name="pear", shrink_across=Fraction(1, 50))
    plan = solved(
        job(shrinks, bolt(), strip("border", "3.5", "120", join="straight", count=2))
    ).plan
    assert [step for step in plan.cuts if step.x is not None] == []
    assert {long for lengths in segments(plan).values() for long in lengths} == {
        42 * 98 * inch(1) // 100
    }


def test_two_strips_of_two_fabrics_are_of_one_each() -> None:
    """Four bits 2 x 22 of each fabric; a strip of 80 in takes four (88 less 3 x 2 in), so each can be of one fabric."""
    bits = [
        replace(piece(name, 2, 22, fabric=name), count=4) for name in ("moss", "rust")
    ]
    row = strip("binding", "2", "80", count=2, fabrics=("moss", "rust"))
    result = solved(job(*bits, row), 200)
    assert result.complete
    assert result.mixed == (
        "binding (moss|rust) is cut from 2 fabrics: 1 strip of moss, 1 of rust.",
    )
