"""In which order mends of one row are told that leave the same: the cheaper one first."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Hashable, Sequence
from decimal import Decimal

from cutopt.plan import Plan
from cutopt.result import Evidence
from cutopt.wanted import Cut, Wanted


def cheaper_first(
    mends: Sequence[Evidence],
    buys_the_same: Callable[[Plan], bool],
    drops_a_rule: Callable[[Evidence], bool],
) -> list[Evidence]:
    """The mends in their order, but of those that leave the same the cheaper before the dearer.

    What leaves another size, or another number, or lacks something else, keeps its place. What only drops a rule and
    buys no more comes before all that leave the same.

    Parameters
    ----------
    mends : sequence of Evidence
        The least trouble first.
    buys_the_same : callable
        Whether a plan buys nothing more than the plan that is to be mended.
    drops_a_rule : callable
        Whether a mend only does without a rule.
    """

    def price(mend: Evidence) -> tuple[int, Decimal]:
        same = buys_the_same(mend.plan)
        money = mend.plan.totals.money
        if same and drops_a_rule(mend):
            return 0, Decimal(0)
        if money is not None:
            return 2, money
        # nobody knows what it costs, or that no more than now is paid
        if same:
            return 1, Decimal(0)
        return 3, Decimal(0)

    places: dict[Hashable, list[int]] = defaultdict(list)
    for place, mend in enumerate(mends):
        places[_left(mend)].append(place)
    told = list(mends)
    for alike in places.values():
        ordered = sorted((mends[place] for place in alike), key=price)
        for place, mend in zip(alike, ordered, strict=True):
            told[place] = mend
    return told


def _left(mend: Evidence) -> Hashable:
    """What the quilter has then: which sizes, how many of each, and what is short."""
    short = frozenset((each.for_, each.count) for each in mend.plan.short)
    return short, frozenset(map(_size, mend.job.wanted))


def _size(row: Wanted) -> Hashable:
    if isinstance(row, Cut):
        long = row.length
    else:
        long = row.total_length
    return row.key, row.count, row.width, long


__all__ = ["cheaper_first"]
