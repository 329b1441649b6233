"""Whatever the job, every plan that is offered passes the checker, and what it says of itself adds up."""

from __future__ import annotations

from collections import Counter

import pytest

from cutopt.check import check
from cutopt.cloth import replay
from cutopt.geometry import bounds
from cutopt.lengths import INCH, MM, parse_number
from cutopt.result import Result
from cutopt.solve.control.progress import Progress
from cutopt.solve.control.stop import Work
from cutopt.solve.kernels import state as k
from cutopt.solve.kernels.tree import cloth
from cutopt.solve.run import Run
from cutopt.solve.solver import solve
from cutopt.tables import plan_from_json, plan_to_json
from tests.pages.measured import faults_of
from tests.solve.generate import generated
from tests.thinned import mostly_slow

# common practice, no source: rulers are marked to 1/16 in, or to the millimetre
RULER = {"in": INCH // 16, "cm": MM}
SEEDS = mostly_slow(range(40), range(3))


@pytest.fixture(scope="module")
def solved() -> dict[int, Result]:
    """Each job is solved once, by whichever test asks first."""
    return {}


def result_of(seed: int, solved: dict[int, Result]) -> Result:
    if seed not in solved:
        solved[seed] = solve(generated(seed), Work(400), seed=seed)
    return solved[seed]


@pytest.mark.parametrize("seed", SEEDS)
def test_every_offer_passes_the_checker(seed: int, solved: dict[int, Result]) -> None:
    result = result_of(seed, solved)
    assert {offer.name: check(result.job, offer.plan) for offer in result.offers} == {
        offer.name: [] for offer in result.offers
    }


@pytest.mark.parametrize("seed", SEEDS)
def test_every_cut_is_measured_from_what_is_still_there(
    seed: int, solved: dict[int, Result]
) -> None:
    result = result_of(seed, solved)
    assert [fault for offer in result.offers for fault in faults_of(offer.plan)] == []


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_cut_and_what_is_short_make_what_is_wanted(
    seed: int, solved: dict[int, Result]
) -> None:
    result = result_of(seed, solved)
    strips = {row.key for row in result.job.strips}
    for offer in result.offers:
        had = Counter(use.for_ for use in offer.plan.uses if use.for_ not in strips)
        had.update(join.for_ for join in offer.plan.joins)
        had.update({short.for_: short.count for short in offer.plan.short})
        assert dict(had) == {row.key: row.count for row in result.job.wanted}


@pytest.mark.parametrize("seed", mostly_slow([3, 7, 9, 10, 14, 15, 17, 22], {3, 7}))
def test_no_strip_has_a_segment_that_it_does_not_need(seed: int) -> None:
    """Without any one of them, and its join, what a ruler shows of the others is too short."""
    result = solve(generated(seed, 12, 15), Work(200), seed=seed)
    assert [check(result.job, offer.plan) for offer in result.offers] == [
        [] for _ in result.offers
    ]
    for offer in result.offers:
        turned = {use.part: use.turned for use in offer.plan.uses}
        parts = replay(result.job, offer.plan)
        mark = min(RULER[result.job.settings.unit], result.job.settings.grid)
        for join in offer.plan.joins:
            boxes = [(bounds(parts[name]), turned[name]) for name in join.segments]
            longs = [
                box[2] - box[0] if across else box[3] - box[1] for box, across in boxes
            ]
            if len(longs) < 2:
                continue
            lost = (sum(longs) - join.length) // (len(longs) - 1)
            shown = [long // mark * mark for long in longs]
            whole = sum(shown) - lost * (len(longs) - 1)
            rest = whole - min(shown) + lost
            assert rest < result.job.row(join.for_).total_length


@pytest.mark.parametrize("seed", SEEDS)
def test_a_shortage_says_why(seed: int, solved: dict[int, Result]) -> None:
    result = result_of(seed, solved)
    missed = {result.job.row(short.for_).importance for short in result.plan.short}
    assert result.complete == ("must" not in missed)
    for short in result.plan.short:
        assert short.why
        assert not any(
            word in short.why for word in ("utilisation", "feasible", "objective")
        )


@pytest.mark.parametrize("seed", SEEDS)
def test_the_first_offer_costs_least_and_no_bound_is_crossed(
    seed: int, solved: dict[int, Result]
) -> None:
    result = result_of(seed, solved)
    lacking = {
        offer.name: sum(short.count for short in offer.plan.short)
        for offer in result.offers
    }
    for offer in result.offers:
        for level in offer.plan.levels:
            bound = parse_number(level.bound)
            value = parse_number(level.value)
            assert bound is not None
            assert value is not None
            assert bound <= value
            assert not level.proved or level.bound == level.value
        if (
            offer.plan.totals.money is not None
            and lacking[offer.name] == lacking[result.offers[0].name]
        ):
            assert result.plan.totals.money is not None
            assert result.plan.totals.money <= offer.plan.totals.money
    assert all(
        moment.bound <= moment.value for moment in result.history if moment.complete
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_room_is_told_for_every_touched_piece(
    seed: int, solved: dict[int, Result]
) -> None:
    result = result_of(seed, solved)
    assert [room.source for room in result.room] == [
        source.id for source in result.plan.sources
    ]
    for room in result.room:
        told = [way for way in (room.across, room.along) if way is not None]
        assert all(way >= 0 for way in told)


@pytest.mark.parametrize("seed", mostly_slow(range(6), {1}))
def test_the_cloth_that_a_free_window_remembers_is_what_is_there(seed: int) -> None:
    run = Run(generated(seed), Work(600), seed, Progress())
    run.result()
    problem = run.engine.arrays.problem
    seen = 0
    for state in (
        run.engine.best,
        *(each for s in run.engine.streams for each in (s.now, s.trial, s.best)),
    ):
        for node in state.node[: state.misc[k.TOP]].tolist():
            sheet = run.engine.arrays.instances[node[k.INST]][0]
            if node[k.KIND] == k.FREE and node[k.CLOTH] >= 0:
                seen += 1
                assert node[k.CLOTH] == cloth(
                    problem, sheet, *(node[side] for side in (k.X1, k.Y1, k.X2, k.Y2))
                )
    assert seen > 10


@pytest.mark.parametrize("seed", SEEDS)
def test_every_plan_reads_back_from_its_file(
    seed: int, solved: dict[int, Result]
) -> None:
    for offer in result_of(seed, solved).offers:
        assert plan_from_json(plan_to_json(offer.plan)) == offer.plan
