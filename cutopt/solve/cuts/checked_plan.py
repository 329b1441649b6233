"""A plan behind a statement: made of a layout as every plan is, and judged by the checker before anything is said."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from cutopt.check import check
from cutopt.job import Job
from cutopt.plan import Plan, Short
from cutopt.solve.cuts.assemble import drafted
from cutopt.solve.cuts.cutter import Cutter, CutUp
from cutopt.solve.model.layout import Layout, units_of
from cutopt.solve.model.model import Model


def checked_plan(
    model: Model, layout: Layout, cutter: Cutter, job: Job | None = None
) -> Plan | None:
    """The plan of a layout with what it is short of, cut up in one way for each cloth.

    Parameters
    ----------
    model, layout : what the search was about, and what it found
    cutter : Cutter
        For the settings of the model's job; it remembers cloths that other plans cut up alike.
    job : Job, optional
        What the plan is for, where that is another job than the model's, which has the same cloth and no other rows.

    Returns
    -------
    Plan or None
        None where the checker finds any fault with it: then there is no such plan to speak of.
    """
    _, plan = drafted(model, units_of(model), layout, cutter, _effort, quick=True)
    job = job or model.job
    plan = replace(plan, job=job.digest, origin=job, short=counted(job, plan))
    if check(job, plan):
        return None
    return plan


def _effort(way: CutUp) -> int:
    return len(way.steps)


def counted(job: Job, plan: Plan) -> tuple[Short, ...]:
    """How much of which rows a plan lacks (parts of cuts, whole strips of strips), not yet why."""
    strips = {row.key for row in job.strips}
    had = Counter(use.for_ for use in plan.uses if use.for_ not in strips)
    had.update(join.for_ for join in plan.joins)
    lacking = {row.key: row.count - had[row.key] for row in job.wanted}
    return tuple(
        Short(for_=key, count=count) for key, count in lacking.items() if count > 0
    )


def lacks_nothing(job: Job, plan: Plan) -> bool:
    """Whether a plan gives everything that must be cut."""
    return all(job.asked(short.for_).importance != "must" for short in plan.short)
