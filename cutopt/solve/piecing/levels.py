"""How good a plan with backs is, level by level, by the bound on everything that is wanted together."""

from __future__ import annotations

from decimal import Decimal

from cutopt.job import Job, is_priced
from cutopt.plan import CUTS_LEVEL, LEFT_OUT_LEVEL, SHORT_LEVEL, Level, Plan
from cutopt.solve.bounds.levels import count_level, money_level


def cost_of_plan(job: Job, plan: Plan) -> int:
    """What a plan buys: hundredths of money, or ticks where a price is missing, also of what is sold by the piece.

    Parameters
    ----------
    job : Job
    plan : Plan
        For that job.
    """
    if is_priced(job):
        return int((plan.totals.money or 0) * 100)
    return sum(source.length for source in plan.sources if source.bought)


def as_told(job: Job, cost: int) -> Decimal:
    """A cost as the maker counts it: money, or ticks where a price is missing."""
    if is_priced(job):
        return Decimal(cost) / 100
    return Decimal(cost)


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
        found.append(count_level(SHORT_LEVEL, lacking))
        # a plan that lacks something may cost less
        least = 0
    found.append(money_level(job, plan, cost_of_plan(job, plan), least))
    if wished:
        found.append(count_level(LEFT_OUT_LEVEL, left_out))
    return (*found, count_level(CUTS_LEVEL, plan.totals.cuts))
