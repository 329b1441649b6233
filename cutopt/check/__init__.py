"""The checker: replays a plan on the real cloth and says in plain sentences all that is wrong with it.

It shares nothing with the solver but the values of the job and the plan, knows nothing of how a plan was found,
and is naive, exact and short on purpose: a wrong cut cannot be uncut. Read it in this order: `shapes` (cloth as
convex bits), `sources` (what a plan takes), `replay` (the cuts), `uses` (what parts serve, each once), `laid` (what seams
hold together), `finished` (a back in one piece), `sewing` (the seams of backs), `sums` (what adds up); `backs` does the
same for a backing to buy.

Not checked, as no cut goes wrong by it: which spare cloth is marked worth keeping, the wishes "use first" and
"keep whole", whether a back is calm or busy and how narrow parts at its edge are, the grid, whether a shortage was
needed, and whether a bound is a true one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from cutopt.job import Job
    from cutopt.plan import Plan


def check(job: Job, plan: Plan) -> list[str]:
    """All faults of a plan, one sentence each.

    Parameters
    ----------
    job : Job
        What the plan must serve.
    plan : Plan
        Any plan, however broken: a fault is told, never raised.

    Returns
    -------
    list of str
        In the order in which a maker meets them: cloth, cuts, uses, seams, sums; [] when all is well.

    Notes
    -----
    Where a job limits its `turns`, these are counted as the longest chain of runs from a source to a part: cuts in
    one direction after another are one run, a cut in the other direction begins the next, a straightening cut
    is a run of its own. A rectangle cut from all sides takes 2.
    """
    # the package is loaded with cutopt itself: quickly
    from cutopt.check import sewing, sources, sums, uses
    from cutopt.check.replay import replay

    table = replay(job, plan)
    return [
        *_same_job(job, plan),
        *sources.faults(job, plan),
        *table.faults,
        *uses.faults(job, plan, table),
        *sewing.faults(job, plan, table),
        *sums.faults(job, plan, table),
    ]


def _same_job(job: Job, plan: Plan) -> Iterator[str]:
    """The plan was made for this very job."""
    if plan.job != job.digest or (
        plan.origin is not None and plan.origin.digest != job.digest
    ):
        yield "This plan was made for another job: the tables have changed since."


__all__ = ["check"]
