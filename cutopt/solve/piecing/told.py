"""What is said beside a plan with backs: what buying them whole costs, and what each wish does."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from decimal import Decimal
from typing import Final

from cutopt.job import Job, is_priced
from cutopt.lengths import format_sale, so_many
from cutopt.piecing import Back
from cutopt.plan import Plan
from cutopt.result import Evidence
from cutopt.solve.explain.changed_jobs import valid
from cutopt.solve.explain.trials import told_bought
from cutopt.solve.piecing.levels import cost_of_plan
from cutopt.solve.piecing.planner import Tried
from cutopt.solve.piecing.wishes import (
    usual_rules,
    with_back,
    without_a_wish,
    without_wishes,
)

Planned = Callable[[Job], Plan | None]
# wishes of which the cost is looked for
_MOST_WISHES: Final = 3


def beside_whole(job: Job, plan: Plan, plans: Sequence[Tried]) -> Iterator[Evidence]:
    """A plan beside the cheapest one of which the backs are bought whole.

    Parameters
    ----------
    job : Job
    plan : Plan
        The one that is told.
    plans : sequence of Tried
        All that are known, the best first.
    """
    whole = next((each.plan for each in plans if each.is_bought_whole), None)
    if whole is None:
        return
    seams = so_many(whole.totals.seams, "seam")
    bought = told_bought(job, whole)
    saved = cost_of_plan(job, whole) - cost_of_plan(job, plan)
    if whole.totals.seams == plan.totals.seams and not saved:
        said = f"Nothing of the pile is in it: bought whole, with {seams}, it costs no more than pieced."
    else:
        more = so_many(plan.totals.seams - whole.totals.seams, "seam")
        said = (
            f"Bought whole it would take {bought}, with {seams}: "
            f"pieced, it costs {_amount(job, saved)} less and has {more} more."
        )
    yield Evidence(said=said, job=job, plan=whole)


def wishes(job: Job, plan: Plan, planned: Planned) -> Iterator[Evidence]:
    """What the wishes about backs cost, of those that a short search finds to cost something.

    Parameters
    ----------
    job : Job
    plan : Plan
        With all backs.
    planned : callable
        A short search: the plan of a changed job, or None.
    """
    for said, other, found in _without(job, job.backs, planned):
        saved = cost_of_plan(job, plan) - cost_of_plan(job, found)
        if saved > 0 and not found.lacking:
            cost = _amount(job, saved)
            told = f"Your wish ({said}) costs {cost}: without it {_enough(job, found)}."
            yield Evidence(said=told, job=other, plan=found)


def kept_from(job: Job, back: Back, planned: Planned) -> Iterator[Evidence]:
    """The wishes without which a back can be made that cannot be made with them.

    Parameters
    ----------
    job : Job
    back : Back
    planned : callable
        A short search: the plan of a changed job, or None.
    """
    any_one = False
    for said, other, found in _without(job, (back,), planned):
        if all(short.for_ != back.key for short in found.short):
            any_one = True
            told = f"give up one wish ({said}): then {_enough(job, found)}"
            yield Evidence(said=told, job=other, plan=found)
    together = without_wishes(back, usual_rules(job))
    if any_one or together is None:
        return
    said, free = together
    changed = valid(lambda: with_back(job, back, free))
    plan = planned(changed) if changed is not None else None
    if changed is None or plan is None:
        return
    if all(short.for_ != back.key for short in plan.short):
        told = f"give up wishes together ({said}): then {_enough(job, plan)}"
        yield Evidence(said=told, job=changed, plan=plan)


def _without(
    job: Job, backs: Iterable[Back], planned: Planned
) -> Iterator[tuple[str, Job, Plan]]:
    """Each wish about backs, the job without it, and a plan of that."""
    usual = usual_rules(job)
    tried = 0
    for back in backs:
        for said, other in without_a_wish(back, usual):
            changed = valid(lambda b=back, o=other: with_back(job, b, o))  # type: ignore[misc]
            if changed is None or tried == _MOST_WISHES:
                continue
            tried += 1
            found = planned(changed)
            if found is not None:
                yield said, changed, found


def _enough(job: Job, plan: Plan) -> str:
    """What has to be bought for a plan, as the end of a sentence."""
    if plan.totals.bought:
        return f"{told_bought(job, plan)} would do, or less"
    return "nothing need be bought"


def _amount(job: Job, saved: int) -> str:
    """Money, or a length where the shop names no prices."""
    if is_priced(job):
        return f"{job.settings.currency}{Decimal(saved) / 100:.2f}"
    return format_sale(saved, job.settings.unit)
