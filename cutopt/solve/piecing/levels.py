"""How good a plan with backs is, level by level, by the bound on everything that is wanted together."""

from __future__ import annotations

from decimal import Decimal

from cutopt.job import Job
from cutopt.lengths import exact_length
from cutopt.plan import (
    CUTS_LEVEL,
    LEFT_OUT_LEVEL,
    LENGTH_LEVELS,
    MONEY_LEVEL,
    SHORT_LEVEL,
    Level,
    Plan,
)


def levels_of(job: Job, plan: Plan, least: int) -> tuple[Level, ...]:
    """The levels of a plan.

    Parameters
    ----------
    job : Job
    plan : Plan
    least : int
        What no plan that gives everything costs less than (hundredths of money, or ticks where a price is missing).
    """
    asked = (*job.wanted, *job.backs)
    wished = {row.key for row in asked if row.importance != "must"}
    left_out = sum(short.count for short in plan.short if short.for_ in wished)
    lacking = sum(short.count for short in plan.short) - left_out
    found = []
    if lacking:
        found.append(_count(SHORT_LEVEL, lacking))
        # a plan that lacks something may cost less
        least = 0
    if wished:
        found.append(_count(LEFT_OUT_LEVEL, left_out))
    found.append(_money(job, plan, least))
    return (*found, _count(CUTS_LEVEL, plan.totals.cuts))


def _count(name: str, value: int) -> Level:
    return Level(name=name, value=str(value), bound="0", proved=value == 0)


def _money(job: Job, plan: Plan, least: int) -> Level:
    """Money where every fabric has a price, else the length that is bought."""
    if all(offered.price is not None for offered in job.shop):
        value = plan.totals.money or Decimal("0.00")
        bound = Decimal(least) / 100
        return Level(
            name=MONEY_LEVEL,
            value=f"{value:.2f}",
            bound=f"{bound:.2f}",
            proved=value == bound,
        )
    unit = job.settings.unit
    cost = sum(each.amount for each in plan.totals.bought if not each.by_piece)
    return Level(
        name=LENGTH_LEVELS[unit],
        value=exact_length(cost, unit),
        bound=exact_length(least, unit),
        proved=cost == least,
    )
