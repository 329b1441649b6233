"""A plan that was saved, as a result that can be printed again."""

from __future__ import annotations

from collections import Counter

from cutopt.cloth import replay
from cutopt.geometry import area2
from cutopt.job import Job
from cutopt.plan import Plan
from cutopt.result import Offer, Result, estimate_minutes
from cutopt.solve.room import room_of


def result_of(job: Job, plan: Plan) -> Result:
    """A result whose one offer is a plan; other widths and reasons are not known any more.

    Parameters
    ----------
    job : Job
        The job of the plan.
    plan : Plan
        One that passed the checker.
    """
    areas = _spare_areas(job, plan)
    offer = Offer(
        name="this plan", plan=plan, minutes=estimate_minutes(plan, job), spare=sum(areas),
        biggest_spare=max(areas, default=0),
    )  # fmt: skip
    complete = not plan.lacking
    return Result(
        job=job, offers=(offer,), complete=complete, room=room_of(job, plan), notices=job.notices, stopped="proved"
    )


def _spare_areas(job: Job, plan: Plan) -> list[int]:
    """Areas, square ticks, of the spare cloth worth keeping and of the pieces that stay whole."""
    parts = replay(job, plan)
    areas = [int(area2(parts[spare.part])) // 2 for spare in plan.spare if spare.keep]
    taken = Counter(source.piece for source in plan.sources if source.piece)
    for piece in job.pieces:
        whole = int(area2(piece.outline)) // 2
        areas += [whole] * (piece.count - taken[piece.name])
    return areas
