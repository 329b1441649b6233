"""How good a plan is, level by level, each with what no plan betters: what is short, what is paid, what is left out."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from functools import cache

from cutopt.job import Job, is_priced
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
from cutopt.solve.bounds.most_of_a_row import least_cost, least_left_out, least_short
from cutopt.solve.bounds.purchase_bound import Bound
from cutopt.solve.model.model import Model


class Levels:
    """The levels of the plans of a run.

    Parameters
    ----------
    model : Model
    bound : Bound
        On the purchase that gives everything that must be cut.
    able : callable
        Whether there is time for the programmes of the bounds; where there is not, bounds are 0 and nothing is proved.
    """

    def __init__(self, model: Model, bound: Bound, able: Callable[[], bool]) -> None:
        self.model = model
        self.bound = bound
        self.able = able
        # offers cost the same as a rule
        self._left_out = cache(self._least_left_out)
        self._short = cache(self._least_short)
        self._cost = cache(self._least_cost)

    def of(self, plan: Plan, cost: int) -> tuple[Level, ...]:
        """Those of a plan that costs so much (units of the model)."""
        job = self.model.job
        wished = {row.key for row in job.wanted if row.importance != "must"}
        lacking = sum(short.count for short in plan.short if short.for_ not in wished)
        left_out = sum(short.count for short in plan.short if short.for_ in wished)
        found = []
        if lacking:
            found.append(count_level(SHORT_LEVEL, lacking, self._short()))
        found.append(money_level(job, plan, cost, self._cost(lacking)))
        if wished:
            found.append(
                count_level(
                    LEFT_OUT_LEVEL, left_out, self._left_out(cost) if left_out else 0
                )
            )
        return (*found, count_level(CUTS_LEVEL, plan.totals.cuts, 0))

    def _least_short(self) -> int:
        if self.able():
            return least_short(self.model, self.bound.problem, self.bound.arguments)
        return 0

    def _least_cost(self, lacking: int) -> int:
        """What no plan costs less than that is short of no more."""
        if not lacking:
            return self.bound.cost
        problem = self.bound.problem
        if problem is None or not self.able():
            return 0
        return least_cost(self.model, problem, self.bound.arguments, lacking)

    def _least_left_out(self, cost: int) -> int:
        """How many parts that are wished for every plan leaves out that costs no more."""
        wishes = [item for item in self.model.items if item.rank > 0]
        if self.able():
            return sum(least_left_out(self.model, item, cost) for item in wishes)
        return 0


def count_level(name: str, value: int, bound: int = 0) -> Level:
    """A level that counts.

    Parameters
    ----------
    name : str
    value, bound : int
    """
    return Level(name=name, value=str(value), bound=str(bound), proved=value == bound)


def money_level(job: Job, plan: Plan, cost: int, least: int) -> Level:
    """Money where every fabric has a price, else the length that is bought.

    A bound above the cost would be false: it is told as it is, and the checker says so.

    Parameters
    ----------
    job : Job
    plan : Plan
        That costs so much.
    cost, least : int
        What it costs, and no plan costs less than: hundredths of money, or ticks where a price is missing.
    """
    proved = cost == least
    if is_priced(job):
        value = plan.totals.money or Decimal("0.00")
        return Level(
            name=MONEY_LEVEL,
            value=f"{value:.2f}",
            bound=f"{Decimal(least) / 100:.2f}",
            proved=proved,
        )
    unit = job.settings.unit
    value_told = exact_length(cost, unit)
    least_told = exact_length(least, unit)
    return Level(
        name=LENGTH_LEVELS[unit], value=value_told, bound=least_told, proved=proved
    )
