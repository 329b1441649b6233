"""No strip has a segment that it does not need: sums of segments less joins are worked out beside each test."""

from __future__ import annotations

import pytest

from cutopt.check import check
from cutopt.job import Job
from cutopt.plan import Plan
from cutopt.solve.cuts.cutter import Cutter
from cutopt.solve.cuts.needed_segments import take_needless
from cutopt.solve.cuts.offers import THRIFTIEST, candidate
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.layout import BoughtSheet, Layout, Placement, units_of
from cutopt.wanted import Strip
from tests.solve.small import each, inch, job, piece


def border(total: str) -> Strip:
    """Sewn with 1/4 in seams, straight: each join takes 1/2 in."""
    return Strip(
        name="border",
        width=inch("3"),
        total_length=inch(total),
        join="straight",
    )


def plan_of(
    task: Job, lengths: list[float], bought: tuple[BoughtSheet, ...] = ()
) -> tuple[Plan, Layout]:
    """The plan, checked, of one strip with a segment of such a length from each cloth, along it."""
    model = model_of(task)
    placed = tuple(
        Placement(
            sheet=sheet,
            copy=0,
            unit=0,
            x=0,
            y=0,
            w=inch(3) // model.step,
            l=inch(long) // model.step,
            turned=False,
        )
        for sheet, long in enumerate(lengths)
    )
    cost = sum(model.sheets[each.sheet].cost for each in bought)
    layout = Layout(placements=placed, purchases=bought, missing=(0,), cost=cost)
    cutter = Cutter(task.settings, model.step)
    found = candidate(THRIFTIEST, model, units_of(model), layout, cutter)
    assert check(task, found.plan) == []
    return found.plan, found.layout


@pytest.mark.parametrize(
    ("lengths", "needed"),
    [
        # 40 + 30 less 1 join of 1/2 in are 69 1/2
        ([40, 10, 30], [40, 30]),
        # each pair is too short
        ([30, 30, 15], [30, 30, 15]),
        # the two short ones go: 70 alone is enough
        ([8, 70, 9], [70]),
        # without 12 it is 40 + 31 - 1/2; without 31 it would be too short
        ([31, 40, 12], [31, 40]),
    ],
)
def test_the_shortest_that_is_too_much_goes_first(
    lengths: list[int], needed: list[int]
) -> None:
    strip = [2 * long for long in lengths]

    def enough(halves: list[int]) -> bool:
        return sum(halves) - (len(halves) - 1) >= 2 * 69

    taken = take_needless(strip, int, enough)
    assert strip == [2 * long for long in needed]
    assert sorted(taken + strip) == sorted(2 * long for long in lengths)


def test_a_segment_that_the_search_laid_for_nothing_is_not_cut() -> None:
    """40 + 30 - 1/2 is 69 1/2, more than 60 1/2: the piece of the third one stays whole."""
    pile = [piece("one", 3, 40), piece("two", 3, 30), piece("three", 3, 10)]
    plan, _ = plan_of(job(*pile, border("60.5")), [40, 30, 10])
    assert {source.piece for source in plan.sources} == {"one", "two"}
    assert plan.totals.joins == 1


def test_waste_left_on_two_segments_saves_a_third() -> None:
    """Laid are 30 + 30 + 10 less 2 x 1/2, 69 in; the 12 x 3 beside each of two are waste: 42 + 42 - 1/2 is 83 1/2."""
    pile = [piece("one", 3, 42), piece("two", 3, 42), piece("three", 20, 20)]
    plan, _ = plan_of(job(*pile, border("60.5")), [30, 30, 10])
    assert {source.piece for source in plan.sources} == {"one", "two"}
    assert plan.totals.joins == 1
    assert plan.totals.cuts == 0
    assert plan.joins[0].length == inch("83.5")


def test_nothing_is_bought_for_a_segment_that_goes() -> None:
    pile = [piece("one", 3, 40), piece("two", 3, 30)]
    task = job(*pile, each("oat", 10, 10, "1.50"), border("60.5"))
    bought = BoughtSheet(sheet=2, copy=0, rung=-1)
    plan, layout = plan_of(task, [40, 30, 8], (bought,))
    assert plan.totals.bought == ()
    assert layout.cost == 0
    assert layout.purchases == ()
