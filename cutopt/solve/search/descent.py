"""Buying less and less: the search for one lower cost after the other."""

from __future__ import annotations

from collections.abc import Callable

from cutopt.solve.model.weights import weigh
from cutopt.solve.search.engine import Engine

# what the search weighs: only what must be cut; that, and then money
MUST_ONLY = weigh(must=1)
EVERYTHING = weigh(must=10**9, cost=1)
# a budget for whatever is on sale
NO_LIMIT = 1 << 58
# after which a bold step down in cost is given up
_BOLD_ROUNDS = 500
# the same for the smallest step, after which the search begins again from the best state
_FINE_ROUNDS = 20_000


def descend(
    engine: Engine,
    bound: Callable[[], int],
    over: Callable[[], bool],
    *,
    news: Callable[[], None] = lambda: None,
    others: Callable[[int, int], bool] | None = None,
) -> None:
    """Lower the cost of a complete best state: in bold steps while they succeed, in smaller ones when they do not.

    Parameters
    ----------
    bound : what no cost can go below, asked anew each time
    over : whether to stop
    news : called after each success of the search
    others : another way to reach a goal, tried where the search gives up a step; told the rounds it has spent
    """
    if engine.missing():
        return
    smallest = engine.arrays.cost_step
    step = max(smallest, (engine.cost - bound()) // 8)
    while engine.cost > bound() and not over():
        goal = max(engine.cost - step, bound())
        patience = _BOLD_ROUNDS + engine.arrays.capacity // 4
        if step == smallest:
            patience = _FINE_ROUNDS + 2 * engine.arrays.capacity
        reached = engine.reach(
            MUST_ONLY, goal, 1, lambda: over() or engine.cost <= bound(), patience
        )
        if reached or (others is not None and others(goal, patience)):
            news()
        elif step > smallest:
            step = max(smallest, step // 2)
