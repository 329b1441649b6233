"""From the layouts of a run to its result: offers with levels, what is short, room, notices."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cutopt.plan import CUTS_LEVEL, Plan
from cutopt.result import Offer, Result, Stopped
from cutopt.solve.arrays import Layout
from cutopt.solve.levels import Levels
from cutopt.solve.offers import THRIFTIEST, Candidate, candidate, offers_of
from cutopt.solve.prepare import is_ready
from cutopt.solve.proof import counted, lacks_nothing
from cutopt.solve.room import room_of
from cutopt.solve.rules import rule_costs
from cutopt.solve.why import Reasons
from cutopt.solve.widths import width_cases

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
    levels = Levels(
        run.model, bound, lambda: is_ready() and not run.meter.asked
    )  # compiling takes longer than a search
    for name, layout in run.best_layouts.items():
        if name == THRIFTIEST or not run.meter.asked:
            few_ways = run.meter.asked or len(layout.placements) > _MANY
            found = candidate(name, run.model, run.units, layout, run.cutter, quick=few_ways)
            chosen[name] = _with_levels(_with_counts(run, found), levels)
    offers = offers_of(tuple(chosen.values()))
    layouts = [next(c.layout for c in chosen.values() if c.plan is offer.plan) for offer in offers]
    offers = _with_reasons(run, offers, layouts)
    plan, layout = offers[0].plan, layouts[0]
    widths, complete = width_cases(run, layout, plan), lacks_nothing(run.job, plan)
    rules = rule_costs(run, layout, plan) if complete else []
    run.evidence.extend(rules)
    return Result(
        job=run.job, offers=offers, complete=complete,
        room=room_of(run.job, plan, run.engine.asked), widths=widths, history=tuple(run.history),
        because=bound.because if complete or not bound.possible else "",
        notices=(*run.job.notices, *run.model.notices, *_unready(run)),
        rules=tuple(each.said for each in rules), evidence=tuple(run.evidence),
        stopped=_stopped(run, plan, spent=spent), seconds=run.meter.seconds, work=run.meter.rounds, seed=run.seed,
    )  # fmt: skip


def _stopped(run: Run, plan: Plan, *, spent: bool) -> Stopped:
    """Why the run ended."""
    if run.meter.asked:
        return "interrupted"
    if spent:
        return "time" if run.meter.timed else "work"
    return "proved" if all(level.proved for level in plan.levels if level.name != CUTS_LEVEL) else "quiet"


def _unready(run: Run) -> tuple[str, ...]:
    """That the whole search went in plain Python, because the compiled one was not ready in time."""
    return (_SLOW,) if run.engine.kernel is run.engine.plain else ()


def _with_counts(run: Run, candidate: Candidate) -> Candidate:
    """A candidate that knows how much of which rows it lacks, not yet why."""
    return replace(candidate, plan=replace(candidate.plan, short=counted(run.job, candidate.plan)))


def _with_levels(candidate: Candidate, levels: Levels) -> Candidate:
    """A candidate whose plan says how good it is."""
    return replace(candidate, plan=replace(candidate.plan, levels=levels.of(candidate.plan, candidate.layout.cost)))


def _with_reasons(run: Run, offers: Sequence[Offer], layouts: Sequence[Layout]) -> tuple[Offer, ...]:
    """The offers that are shown, with why something is short and what would mend it."""
    reasons, told = Reasons(run), []
    for offer, layout in zip(offers, layouts, strict=True):
        lacking = {short.for_: short.count for short in offer.plan.short}
        told.append(replace(offer, plan=replace(offer.plan, short=reasons.of(layout, lacking))))
    return tuple(told)
