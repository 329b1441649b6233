"""Which plan is shown first of those that cost the same, and which others are shown; areas worked out beside each.

That of plans of equal cost the more valuable leftover decides: Andrade, Birgin and Morabito, Two-stage two-dimensional
guillotine cutting stock problems with usable leftover, 2013.
"""

from __future__ import annotations

from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.solve.cuts.cutter import Cutter
from cutopt.solve.cuts.offers import (
    BIGGEST,
    SIMPLEST,
    THRIFTIEST,
    Candidate,
    candidate,
    offers_of,
)
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.layout import Layout, Placement, units_of
from cutopt.wanted import Strip
from tests.solve.small import cut, inch, job, piece


def sewn_or_whole() -> tuple[Job, tuple[Candidate, Candidate]]:
    """A strip of 40 in from two of 21 x 2 1/2, or whole from 7 x 40, of which 4 1/2 x 40 is not worth keeping."""
    edge = Strip(name="edge", width=inch(2.5), total_length=inch(40), join="straight")
    small = piece("small", 2.5, 21, count=2)
    task = job(piece("large", 7, 40), small, edge)
    model = model_of(task)
    long = 21 * INCH // model.step

    def segment(sheet: int, copy: int, length: int) -> Placement:
        across = model.items[0].w
        return Placement(
            sheet=sheet, copy=copy, unit=0, x=0, y=0, w=across, l=length, turned=False
        )

    def planned(name: str, *placed: Placement) -> Candidate:
        layout = Layout(placements=placed, purchases=(), missing=(0,), cost=0)
        cutter = Cutter(task.settings, model.step)
        return candidate(name, model, units_of(model), layout, cutter)

    sewn = planned(THRIFTIEST, segment(1, 0, long), segment(1, 1, long))
    whole = planned(SIMPLEST, segment(0, 0, 40 * INCH // model.step))
    return task, (sewn, whole)


def test_of_plans_that_cost_the_same_the_one_with_fewer_joins_is_first() -> None:
    """What the whole one leaves is not kept, the sewn one leaves 280 square in of the large piece (identity)."""
    _, (sewn, whole) = sewn_or_whole()
    assert (sewn.plan.totals.joins, whole.plan.totals.joins) == (1, 0)
    assert sewn.spare == whole.spare + 280 * INCH**2 - 2 * 21 * INCH**2 * 5 // 2
    first, *others = offers_of((sewn, whole))
    assert first.plan is whole.plan
    assert SIMPLEST in first.also
    assert [offer.name for offer in others] == [BIGGEST]


def test_an_offer_that_is_no_different_is_not_shown() -> None:
    _, (_, whole) = sewn_or_whole()
    (only,) = offers_of((whole, whole, whole))
    assert only.also == (SIMPLEST, BIGGEST)


def test_the_fabrics_named_first_come_before_joins() -> None:
    """The maker named an order of fabrics; joins she left to the plan (our judgement, no source)."""
    patch = cut("patch", 5, 5, fabrics=("pear", "oat"))
    task = job(piece("first", 6, 6), piece("later", 5, 5, fabric="oat"), patch)
    model = model_of(task)
    side = model.items[0].w

    def planned(sheet: int) -> Candidate:
        placed = Placement(
            sheet=sheet, copy=0, unit=0, x=0, y=0, w=side, l=side, turned=False
        )
        layout = Layout(placements=(placed,), purchases=(), missing=(0,), cost=0)
        cutter = Cutter(task.settings, model.step)
        return candidate(THRIFTIEST, model, units_of(model), layout, cutter)

    liked = planned(0)
    later = planned(1)
    assert (liked.disliked, later.disliked) == (0, side * side)
    assert later.minutes < liked.minutes
    assert offers_of((later, liked))[0].plan is liked.plan
