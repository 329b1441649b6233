"""A plan that was saved, as a result that can be printed again."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from itertools import islice
from typing import Final

from cutopt.cloth import replay
from cutopt.geometry import area2
from cutopt.job import Job
from cutopt.lengths import exact_length
from cutopt.plan import BUYING_LEVELS, Plan
from cutopt.result import Offer, Result, estimate_minutes
from cutopt.solve.bounds.purchase_bound import improve
from cutopt.solve.explain.room import room_of
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.model import Model

UNKNOWN: Final = (
    "Printed from the saved plan, which knows nothing of other ways to do it, of other widths of the fabric, "
    'or of what a rule of yours costs: "cutopt plan" tells them.'
)
# of a better bound, about a second
_MOST_ROUNDS: Final = 40


def result_of(job: Job, plan: Plan) -> Result:
    """A result whose one offer is a plan, with all that the job alone tells; :data:`UNKNOWN` says what it does not.

    Parameters
    ----------
    job : Job
        The job of the plan.
    plan : Plan
        One that passed the checker.
    """
    areas = _spare_areas(job, plan)
    offer = Offer(
        name="this plan",
        plan=plan,
        minutes=estimate_minutes(plan, job),
        spare=sum(areas),
        biggest_spare=max(areas, default=0),
    )
    complete = not plan.lacking
    model = model_of(job)
    return Result(
        job=job,
        offers=(offer,),
        complete=complete,
        room=room_of(job, plan),
        because=_reason(model, plan),
        notices=(UNKNOWN, *job.notices, *model.notices),
        stopped="proved",
    )


def _reason(model: Model, plan: Plan) -> str:
    """Why no plan can buy less than the saved plan says, where the job alone soon gives a reason for just that."""
    bought = (level for level in plan.levels if level.name in BUYING_LEVELS)
    level = next(bought, None)
    if plan.lacking or level is None:
        return ""
    for bound in islice(improve(model), _MOST_ROUNDS):
        unit = model.job.settings.unit
        if model.priced:
            least = f"{Decimal(bound.cost) / 100:.2f}"
        else:
            least = exact_length(bound.cost, unit)
        if bound.possible and least == level.bound:
            return bound.because
    return ""


def _spare_areas(job: Job, plan: Plan) -> list[int]:
    """Areas, square ticks, of the spare cloth worth keeping and of the pieces that stay whole."""
    parts = replay(job, plan)
    areas = [int(area2(parts[spare.part])) // 2 for spare in plan.spare if spare.keep]
    taken = Counter(source.piece for source in plan.sources if source.piece)
    for piece in job.pieces:
        whole = int(area2(piece.outline)) // 2
        areas += [whole] * (piece.count - taken[piece.name])
    return areas
