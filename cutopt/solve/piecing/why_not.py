"""Why a back cannot be made, and what would mend it: each mend has a plan behind it that passed the checker."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Final

from cutopt.fabric import USABLE_WIDTH, ByLength
from cutopt.job import Job
from cutopt.lengths import format_sale
from cutopt.piecing import Back
from cutopt.plan import Plan
from cutopt.result import Evidence
from cutopt.solve.bounds.back_bound import least_to_buy
from cutopt.solve.explain.buy_more import STEPS
from cutopt.solve.explain.changed_jobs import valid

# fabrics that are tried
_MOST_TRIED: Final = 3
Planned = Callable[[Job], Plan | None]


def why_not(job: Job, back: Back) -> str:
    """Why there is no back, as far as that can be said.

    Parameters
    ----------
    job : Job
    back : Back
        One of the job, which no plan gives.
    """
    names = set(job.allowed(back))
    pile = [piece for piece in job.pieces if piece.fabric in names]
    there = sum(piece.area * piece.count for piece in pile)
    there += sum(
        block.width * block.length * block.count
        for block in job.spare_blocks
        if back.may_take(block)
    )
    wanted = back.width * back.length
    bound = least_to_buy(job, back)
    if not bound.possible and bound.because:
        return bound.because
    sold = any(offered.fabric in names for offered in job.shop)
    if there < wanted and not sold:
        share = 100 * there // wanted
        return (
            f"all cloth that may go into it, seams not counted, is {share} % of its size, "
            "and the shop sells none of it"
        )
    if there < wanted:
        return "no way to piece it with what the shop sells was found in this search; a longer one (--seconds 60) may find one"
    return "no way to piece it was found in this search; a longer one (--seconds 60) may find one"


def mends(job: Job, back: Back, planned: Planned) -> Iterator[Evidence]:
    """What the shop would have to sell.

    Parameters
    ----------
    job : Job
    back : Back
    planned : callable
        A short search: the plan of a changed job, or None.
    """
    unit = job.settings.unit
    sold = {offered.fabric for offered in job.shop}
    names = [name for name in job.allowed(back) if name not in sold]
    for name in names[:_MOST_TRIED]:
        offered = ByLength(
            fabric=name, usable_width=USABLE_WIDTH[unit], sold_by=STEPS[unit][0]
        )
        other = valid(lambda one=offered: replace(job, shop=(*job.shop, one)))  # type: ignore[misc]
        plan = planned(other) if other is not None else None
        if other is None or plan is None:
            continue
        if any(short.for_ == back.key for short in plan.short):
            continue
        length = plan.totals.length_of(name)
        if not length:
            # it was found without new cloth: no mend
            continue
        width = format_sale(offered.usable_width, unit)
        said = f"put {name} into shop.csv: with {format_sale(length, unit)} of it, {width} wide, the back can be made"
        yield Evidence(said=said, job=other, plan=plan)
        return
