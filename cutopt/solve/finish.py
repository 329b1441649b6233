"""From the layouts of a run to its result: offers with levels, what is short, room, notices."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import cache, partial
from typing import TYPE_CHECKING

from cutopt.lengths import exact_length
from cutopt.plan import Level, Plan
from cutopt.result import Offer, Result, Stopped
from cutopt.solve.arrays import Layout
from cutopt.solve.bounds import Bound
from cutopt.solve.caps import least_left_out
from cutopt.solve.offers import THRIFTIEST, Candidate, candidate, offers_of
from cutopt.solve.prepare import is_ready
from cutopt.solve.proof import counted, lacks_nothing
from cutopt.solve.room import room_of
from cutopt.solve.why import Reasons
from cutopt.solve.widths import width_cases

_CUTS = "cuts"  # a level that nobody tries to prove
_MANY = 1_000  # parts, above which each cloth is cut up in one way only: some 10 ms a cloth and way
_SLOW = (
    "This was the first search on this machine, and the quick one was not ready in time (it takes about half a minute, "
    "once): search again for a better plan."
)

if TYPE_CHECKING:
    from cutopt.solve.solver import Run


def finish(run: Run) -> Result:
    """The result of a run, whatever it has got to."""
    chosen: dict[str, Candidate] = {}
    spent, bound = run.spent, run.feed.bound  # as they are now: what follows takes time, and the bound is worked on
    least = cache(partial(_least_left_out, run))  # offers cost the same as a rule
    for name, layout in run.best_layouts.items():
        if name == THRIFTIEST or not run.meter.asked:
            few_ways = run.meter.asked or len(layout.placements) > _MANY
            found = candidate(name, run.model, run.units, layout, run.cutter, quick=few_ways)
            chosen[name] = _with_levels(run, _with_counts(run, found), bound, least)
    offers = offers_of(tuple(chosen.values()))
    layouts = [next(c.layout for c in chosen.values() if c.plan is offer.plan) for offer in offers]
    offers = _with_reasons(run, offers, layouts)
    plan, layout = offers[0].plan, layouts[0]
    widths = width_cases(run, layout, plan)
    return Result(
        job=run.job, offers=offers, complete=lacks_nothing(run.job, plan),
        room=room_of(run.job, plan, run.engine.asked), widths=widths, history=tuple(run.history),
        because=bound.because, notices=(*run.job.notices, *run.model.notices, *_unready(run)),
        evidence=tuple(run.evidence),
        stopped=_stopped(run, plan, spent=spent), seconds=run.meter.seconds, work=run.meter.rounds, seed=run.seed,
    )  # fmt: skip


def _stopped(run: Run, plan: Plan, *, spent: bool) -> Stopped:
    """Why the run ended."""
    if run.meter.asked:
        return "interrupted"
    if spent:
        return "time" if run.meter.timed else "work"
    return "proved" if all(level.proved for level in plan.levels if level.name != _CUTS) else "quiet"


def _unready(run: Run) -> tuple[str, ...]:
    """That the whole search went in plain Python, because the compiled one was not ready in time."""
    return (_SLOW,) if run.engine.kernel is run.engine.plain else ()


def _with_counts(run: Run, candidate: Candidate) -> Candidate:
    """A candidate that knows how much of which rows it lacks, not yet why."""
    return replace(candidate, plan=replace(candidate.plan, short=counted(run.job, candidate.plan)))


def _with_reasons(run: Run, offers: Sequence[Offer], layouts: Sequence[Layout]) -> tuple[Offer, ...]:
    """The offers that are shown, with why something is short and what would mend it."""
    reasons, told = Reasons(run), []
    for offer, layout in zip(offers, layouts, strict=True):
        lacking = {short.for_: short.count for short in offer.plan.short}
        told.append(replace(offer, plan=replace(offer.plan, short=reasons.of(layout, lacking))))
    return tuple(told)


def _with_levels(run: Run, candidate: Candidate, bound: Bound, least: Callable[[int], int]) -> Candidate:
    plan = candidate.plan
    left_out = sum(s.count for s in plan.short if run.job.row(s.for_).importance != "must")
    levels = [_cost_level(run, plan, candidate.layout, bound.cost)]
    if any(row.importance != "must" for row in run.job.wanted):
        fewest = least(candidate.layout.cost) if left_out else 0
        levels.append(
            Level(name="wished for but left out", value=str(left_out), bound=str(fewest), proved=left_out == fewest)
        )
    levels.append(Level(name=_CUTS, value=str(plan.totals.cuts), bound="0", proved=plan.totals.cuts == 0))
    return replace(candidate, plan=replace(plan, levels=tuple(levels)))


def _least_left_out(run: Run, cost: int) -> int:
    """How many parts that are wished for every plan leaves out that costs no more."""
    wishes = [item for item in run.model.items if item.rank > 0]
    if run.meter.asked or not is_ready():  # compiling here would take longer than the search
        return 0
    return sum(least_left_out(run.model, item, cost) for item in wishes)


def _cost_level(run: Run, plan: Plan, layout: Layout, bound: int) -> Level:
    """Money where every fabric has a price, else the length that is bought.

    A bound above the cost of a complete plan would be false: it is told as it is, and the checker says so.
    """
    complete = lacks_nothing(run.job, plan)
    least = bound if complete else 0
    proved = complete and layout.cost == least
    if run.model.priced:
        value = plan.totals.money or Decimal("0.00")
        return Level(name="money", value=f"{value:.2f}", bound=f"{Decimal(least) / 100:.2f}", proved=proved)
    unit = run.job.settings.unit
    return Level(
        name=f"length bought ({unit})", value=exact_length(layout.cost, unit), bound=exact_length(least, unit),
        proved=proved,
    )  # fmt: skip
