"""Arguments that need no programme: by area, and by the number of the largest parts."""

from __future__ import annotations

from collections.abc import Sequence

from cutopt.solve.bounds.cheapest_purchase import Argument
from cutopt.solve.bounds.pricing import plain_value, plain_values
from cutopt.solve.bounds.relaxed import Relaxed


def plain_arguments(problem: Relaxed) -> list[Argument]:
    """By area, for each set of needs that only some cloth may serve; and by number, for the largest parts."""
    needs = problem.needs
    of_item = problem.of_item
    supports = {
        item: frozenset(
            w
            for w, turns in enumerate(problem.ways)
            if any(turns[k] for k in of_item[item])
        )
        for item in of_item
    }
    groups = {
        tuple(k for k, need in enumerate(needs) if supports[need.item] <= support): None
        for support in dict.fromkeys(supports.values())
    } | {tuple(range(len(needs))): None}
    found = [
        _plain(problem, "area", group, [need.weight for need in needs])
        for group in groups
    ]
    largest = sorted(
        of_item,
        key=lambda item: -min(needs[of_item[item][0]].w, needs[of_item[item][0]].l),
    )
    largest = [item for item in largest if not needs[of_item[item][0]].strip][:3]
    return found + [
        _plain(problem, "count", tuple(of_item[item]), [1] * len(needs))
        for item in largest
    ]


def _plain(
    problem: Relaxed, kind: str, needs: tuple[int, ...], weights: Sequence[int]
) -> Argument:
    prices = [weights[k] if k in needs else 0 for k in range(len(problem.needs))]
    wanted = problem.wanted(prices)
    wanted = wanted.less(
        sum(
            source.copies * plain_value(problem, prices, source)
            for source in problem.pile
        )
    )
    if wanted.most > 0:
        values = plain_values(problem, prices, wanted.most)
    else:
        values = ()
    return Argument(
        kind=kind,
        needs=needs,
        wanted=wanted,
        values=values,
        dearest=problem.dearest(prices),
    )
