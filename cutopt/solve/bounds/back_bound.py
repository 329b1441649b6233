"""The least that must be bought for a pieced back, however it is pieced, with the reason in a maker's words.

What the parts show, seams taken off, has to come to what the back shows: what the pile and the spare blocks cannot show
has to be bought. This holds for every tree of parts and every way to cut them (:mod:`cutopt.solve.bounds.back_counts`).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from cutopt.job import Job
from cutopt.piecing import Back
from cutopt.solve.bounds.back_counts import BackCount, counts_of
from cutopt.solve.bounds.back_told import told
from cutopt.solve.bounds.cheapest_purchase import (
    Argument,
    CheapestPurchase,
    cheapest_for,
)
from cutopt.solve.model.fabric_choices import Demand


@dataclass(frozen=True, slots=True, kw_only=True)
class BackBound:
    """No back costs less than `cost` (units of the model: hundredths of money, or ticks).

    `possible` is False where the pile, the blocks and all that is on sale are not enough: then `cost` bounds nothing.
    `count` is what it rests on and `bought` the cheapest purchase that it allows, both None where nothing need be
    bought as far as known.
    """

    cost: int = 0
    possible: bool = True
    count: BackCount | None = None
    bought: CheapestPurchase | None = None

    @property
    def because(self) -> str:
        """Why, in one sentence, "" where nothing need be bought as far as known."""
        if self.count is None:
            return ""
        return told(self.count, self.bought)


def least_to_buy(
    job: Job,
    back: Back,
    closed: Collection[str] = frozenset(),
    *,
    sharp: bool = False,
) -> BackBound:
    """The best bound on what a back alone costs.

    Parameters
    ----------
    job : Job
    back : Back
        One of the job.
    closed : collection of str
        Pieces of the pile, by name, that are not to be used, besides those that nobody may touch.
    sharp : bool
        Look closer at pieces with slanting sides: about 0.1 s each, with compiled kernels.
    """
    best = BackBound()
    for count in counts_of(job, back, closed, sharp=sharp):
        if count.missing <= 0:
            continue
        bought = cheapest_for(count, argument_of(count))
        if bought is None:
            return BackBound(possible=False, count=count)
        if bought.cost > best.cost:
            best = BackBound(cost=bought.cost, count=count, bought=bought)
    return best


def argument_of(count: BackCount) -> Argument:
    """A count as an argument about the sources of its shop."""
    missing = count.missing
    return Argument(
        kind="back",
        needs=(),
        wanted=Demand(base=missing, least=missing, most=missing),
        values=count.values,
        dearest=count.wanted,
    )
