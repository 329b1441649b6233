"""From the layouts of a run to its result: offers with levels, what is short, room, notices."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from cutopt.plan import CUTS_LEVEL, Plan
from cutopt.result import Evidence, Offer, Result, Room, Stopped
from cutopt.solve.bounds.levels import Levels
from cutopt.solve.bounds.most_of_a_row import sharpest
from cutopt.solve.bounds.purchase_bound import Bound
from cutopt.solve.context import Context
from cutopt.solve.control.guard import tried
from cutopt.solve.cuts.checked_plan import counted, lacks_nothing
from cutopt.solve.cuts.offers import (
    FAVOURITE,
    THRIFTIEST,
    Candidate,
    candidate,
    offers_of,
)
from cutopt.solve.explain.cost_of_rules import RuleCosts
from cutopt.solve.explain.other_widths import Widths
from cutopt.solve.explain.room import room_of
from cutopt.solve.explain.why import Reasons, fuller
from cutopt.solve.fabrics_named_first import with_favourite
from cutopt.solve.model.layout import Layout
from cutopt.solve.search.prepare import is_ready

# parts, above which each cloth is cut up in one way only: some 10 ms a cloth and way
_MANY = 1_000
# times that a plan found without a rule may take its place
_CHEAPER = 2
# times that a plan which lacks less may take the place of the plan
_FULLER = 4
_SLOW = (
    "This was the first search on this machine, and the quick one was not ready in time (it takes about half a minute, "
    "once): search again for a better plan."
)


def finish(run: Context) -> Result:
    """The result of a run, whatever it has got to."""
    # as they are now: what follows takes time, and the bound is worked on
    spent = run.spent
    bound = run.feed.bound
    run.begin_telling()
    run.tell("cutting up every cloth")
    offers, layouts = _offers(run, bound)
    rules, offers, layouts = _cheaper_all_the_same(run, bound, offers, layouts)
    widths = _widths(run, layouts[0])
    if widths is not None and widths.better is not None:
        run.take(widths.better)
        offers, layouts = _offers(run, bound)
    offers, layouts = tried(
        "A plan that lacks less",
        partial(_fuller, run, bound, offers, layouts),
        (offers, layouts),
        run.notices,
    )
    cheapest = layouts[0].cost
    offers, layouts = tried(
        "A preference",
        partial(_favoured, run, bound, offers, layouts),
        (offers, layouts),
        run.notices,
    )
    run.tell("looking for what would help")
    offers = tried(
        "Why something is short",
        partial(_with_reasons, run, offers, layouts),
        offers,
        run.notices,
    )
    plan = offers[0].plan
    complete = lacks_nothing(run.job, plan)
    # else it is a preference that costs, and no rule
    as_cheap = layouts[0].cost <= cheapest
    if as_cheap:
        told = _rules_of(run, rules, layouts[0], plan)
    else:
        told = []
    run.evidence.extend(told)
    return Result(
        job=run.job,
        offers=offers,
        complete=complete,
        room=_room(run, plan),
        widths=() if widths is None or run.meter.asked else widths.cases(plan),
        history=tuple(run.history),
        because=_because(run, bound, complete=complete),
        notices=(*run.job.notices, *run.model.notices, *_unready(run), *run.notices),
        rules=(*run.liked, *(each.said for each in told)),
        evidence=tuple(run.evidence),
        stopped=_stopped(run, plan, spent=spent),
        seconds=run.meter.seconds,
        work=run.meter.rounds,
        seed=run.seed,
    )


def _offers(run: Context, bound: Bound) -> tuple[tuple[Offer, ...], list[Layout]]:
    """The plans worth showing, and what they are made of: the thriftiest, and others unless somebody waits."""
    # compiling outlasts a search
    levels = Levels(run.model, bound, lambda: is_ready() and not run.meter.asked)
    found = [_candidate(run, THRIFTIEST, levels)]
    for name in run.best_layouts:
        if name not in (THRIFTIEST, FAVOURITE) and not run.meter.asked:
            other = tried(
                "Another way to do it",
                partial(_candidate, run, name, levels),
                None,
                run.notices,
            )
            found += [other] if other is not None else []
    offers = offers_of(tuple(found))
    return offers, [
        next(c.layout for c in found if c.plan is offer.plan) for offer in offers
    ]


def _fuller(
    run: Context, bound: Bound, offers: tuple[Offer, ...], layouts: list[Layout]
) -> tuple[tuple[Offer, ...], list[Layout]]:
    """The same, with what a short search for rows that are short still finds room for: then that is the plan."""
    for _ in range(_FULLER):
        lacking = {short.for_: short.count for short in offers[0].plan.short}
        if lacking:
            better = fuller(run, layouts[0], lacking)
        else:
            better = None
        if better is None:
            break
        run.take(better)
        offers, layouts = _offers(run, bound)
    return offers, layouts


def _favoured(
    run: Context, bound: Bound, offers: tuple[Offer, ...], layouts: list[Layout]
) -> tuple[tuple[Offer, ...], list[Layout]]:
    """The same, with the plan that keeps to the fabrics named first, where one was looked for."""
    if FAVOURITE not in run.best_layouts or run.meter.asked:
        return offers, layouts
    levels = Levels(run.model, bound, lambda: is_ready() and not run.meter.asked)
    return with_favourite(run, offers, layouts, _candidate(run, FAVOURITE, levels))


def _candidate(run: Context, name: str, levels: Levels) -> Candidate:
    """The plan of a layout, with how much of which rows it lacks (not yet why), and how good it is."""
    layout = run.best_layouts[name]
    hurried = run.meter.asked or (name != THRIFTIEST and not run.in_time())
    few_ways = hurried or len(layout.placements) > _MANY
    found = candidate(name, run.model, run.units, layout, run.cutter, quick=few_ways)
    plan = replace(found.plan, short=counted(run.job, found.plan))
    cost = found.layout.cost
    unproved = Levels(run.model, levels.bound, lambda: False).of(plan, cost)
    known = tried(
        "How good a plan is",
        partial(levels.of, plan, cost),
        unproved,
        run.notices,
    )
    return replace(found, plan=replace(plan, levels=known))


def _widths(run: Context, layout: Layout) -> Widths | None:
    """What other widths take; None where that is no question, or there is no time for it."""
    if run.meter.asked or run.engine.kernel is None:
        return None
    run.tell("trying other widths of the fabric to buy")
    return tried(
        "What other widths take", partial(Widths.of, run, layout), None, run.notices
    )


def _cheaper_all_the_same(
    run: Context, bound: Bound, offers: tuple[Offer, ...], layouts: list[Layout]
) -> tuple[RuleCosts | None, tuple[Offer, ...], list[Layout]]:
    """What rules cost, and the offers once what was found without a rule, and keeps it all the same, is the plan."""
    rules = _rule_costs(run, layouts[0], offers[0].plan)
    for _ in range(_CHEAPER):
        if rules is None or rules.better is None:
            break
        run.take(rules.better)
        offers, layouts = _offers(run, bound)
        rules = _rule_costs(run, layouts[0], offers[0].plan)
    return rules, offers, layouts


def _rule_costs(run: Context, layout: Layout, plan: Plan) -> RuleCosts | None:
    """What the rules cost in a plan; None where that is no question."""
    if not lacks_nothing(run.job, plan):
        return None
    found = partial(RuleCosts, run, layout, plan)
    return tried("What a rule costs", found, None, run.notices)


def _rules_of(
    run: Context, known: RuleCosts | None, layout: Layout, plan: Plan
) -> list[Evidence]:
    """What rules cost in the plan that comes first; worked out anew where another one does by now."""
    if known is None or known.layout.purchases != layout.purchases:
        known = _rule_costs(run, layout, plan)
    if known is None:
        return []
    return known.told


def _room(run: Context, plan: Plan) -> tuple[Room, ...]:
    nothing: tuple[Room, ...] = ()
    found = partial(room_of, run.job, plan, lambda: not run.in_time())
    return tried("How much smaller a cloth may be", found, nothing, run.notices)


def _because(run: Context, bound: Bound, *, complete: bool) -> str:
    """Why no plan can buy less, or has all that must be cut."""
    if complete:
        return bound.because
    if bound.possible:
        return ""
    if run.meter.asked or not is_ready():
        return bound.because
    return sharpest(bound)


def _stopped(run: Context, plan: Plan, *, spent: bool) -> Stopped:
    """Why the run ended."""
    if run.meter.asked or run.failed:
        return "interrupted"
    if spent:
        if run.meter.timed:
            return "time"
        return "work"
    if all(level.proved for level in plan.levels if level.name != CUTS_LEVEL):
        return "proved"
    return "quiet"


def _unready(run: Context) -> tuple[str, ...]:
    """That the whole search went in plain Python, because the compiled one was not ready in time."""
    if run.engine.kernel is run.engine.plain:
        return (_SLOW,)
    return ()


def _with_reasons(
    run: Context, offers: Sequence[Offer], layouts: Sequence[Layout]
) -> tuple[Offer, ...]:
    """The offers that are shown, with why something is short and what would mend it."""
    reasons = Reasons(run)
    told = []
    for offer, layout in zip(offers, layouts, strict=True):
        lacking = {short.for_: short.count for short in offer.plan.short}
        told.append(
            replace(offer, plan=replace(offer.plan, short=reasons.of(layout, lacking)))
        )
    return tuple(told)
