"""How much any plan could cut at most: bounds on what must be left out, and on what plans cost that are short."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from cutopt.solve.bounds.cheapest_purchase import Argument, cheapest, offers_of
from cutopt.solve.bounds.pricing import Pricer
from cutopt.solve.bounds.purchase_bound import Bound
from cutopt.solve.bounds.reasons_told import told
from cutopt.solve.bounds.relaxed import Relaxed, RelaxedCloth, relaxed
from cutopt.solve.model.model import Item, Model


def most_cut(model: Model, item: Item) -> int:
    """How many of a row can be cut at most from the pile and all that is on sale, whatever else is not cut."""
    return item.copies - least_left_out(model, item, None)


def sharpest(bound: Bound) -> str:
    """Why a job is impossible, with no weaker a sum for a row of the pile than all ways to cut it give."""
    reason = bound.reason
    problem = bound.problem
    if problem is None or reason.possible or len(reason.claims) != 1:
        return bound.because
    (claim,) = reason.claims
    of_pile = claim.counted == "patches" and not any(claim.values)
    if not of_pile or len(claim.asked) > 1 or claim.asked[0].each > 1:
        return bound.because
    most = most_cut(problem.model, problem.model.items[claim.asked[0].item])
    if most >= claim.pile:
        return bound.because
    return told(problem, replace(reason, claims=(claim.with_pile(problem, most),)))


def least_left_out(model: Model, item: Item, cost: int | None) -> int:
    """How many of a row every plan leaves out that costs no more than `cost` (units of the model; None: any plan).

    Each cloth is counted as if it served this row alone, in ticks like every bound (:mod:`cutopt.solve.bounds.relaxed`): the
    grid of the search may have no room where a plan made by hand has. Of a strip that may be joined whole ones count.

    Parameters
    ----------
    model : Model
    item : Item
        The row.
    cost : int or None
        Units of the model; None for any plan.
    """
    problem = relaxed(
        replace(model, items=(replace(item, rank=0, group=-1, most_each=0),))
    )
    cloth = [
        *((source, source.copies) for source in problem.pile),
        *_within(problem, cost),
    ]
    sources = [source for source, _ in cloth]
    pricer = Pricer(
        replace(problem, shop=tuple(sources[len(problem.pile) :])),
        {s.offer: s.l for s in sources},
    )
    (need,) = problem.needs
    # at its own area as price nothing is lost in the rounding of a fraction
    one = need.weight
    *_, values = pricer.evaluate([one], sources)
    most = sum(
        copies * (value // one)
        for (_, copies), value in zip(cloth, values, strict=True)
    )
    return max(
        0, item.copies - most // (need.demand // item.copies if need.strip else 1)
    )


def _within(problem: Relaxed, cost: int | None) -> Iterator[tuple[RelaxedCloth, int]]:
    """What so much buys of each thing on sale, as if nothing else were bought: the longest length, or so many."""
    for _, same in groupby(problem.shop, lambda source: source.offer):
        for source in [
            source for source in same if cost is None or source.cost <= cost
        ][-1:]:
            if cost is None or not source.cost:
                yield source, source.copies
            else:
                yield source, min(source.copies, cost // source.cost)


def least_short(
    model: Model, problem: Relaxed | None, arguments: Sequence[Argument]
) -> int:
    """How many of all that must be cut every plan lacks: parts of cuts, and whole strips.

    Row by row, as if each were alone; where a limit from each fabric is too low; and by each argument for a purchase:
    what it lacks of everything on sale, parted by the most that one part may count.

    Parameters
    ----------
    model : Model
    problem : Relaxed or None
        What the arguments are about.
    arguments : sequence of Argument
    """
    of_rows = sum(
        least_left_out(model, item, None) for item in model.items if item.rank == 0
    )
    if problem is None:
        return of_rows
    limits = (
        choice.total - sum(option.cap for option in choice.options)
        for choice in problem.choices
    )
    together = (
        -(-_beyond(problem, argument) // argument.dearest)
        for argument in arguments
        if argument.dearest
    )
    return max(of_rows, *limits, *together, 0)


def _beyond(problem: Relaxed, argument: Argument) -> int:
    """By how much all that is on sale is worth less than what is missing."""
    for_sale = 0
    for group in offers_of(problem):
        worths = [argument.values[s] * problem.shop[s].copies for s in group]
        # one length of a fabric, or all pieces of a kind
        for_sale += max(worths)
    return argument.missing - for_sale - _elsewhere(problem, argument, min)


def least_cost(
    model: Model, problem: Relaxed, arguments: Sequence[Argument], short: int
) -> int:
    """What no plan costs less than that lacks `short` parts (or whole strips) at most (units of the model).

    What every plan lacks of a row is lacking whatever is bought: only the rest of `short` may be of any row. Where rows
    that stay together may lack some of their own, all of it may.

    Parameters
    ----------
    model : Model
    problem : Relaxed
        What the arguments are about.
    arguments : sequence of Argument
    short : int
        Parts of cuts, and whole strips.
    """
    apart = any(choice.elsewhere is not None for choice in problem.choices)
    certain = {
        i: least_left_out(model, item, None)
        for i, item in enumerate(model.items)
        if item.rank == 0
    }
    free = max(0, short - sum(certain.values()))
    left = []
    for argument in (*arguments, *_of_rows(problem)):
        rows = {problem.needs[need].item for need in argument.needs}
        if apart:
            lacking = short
        else:
            lacking = min(short, free + sum(certain.get(row, 0) for row in rows))
        less = lacking * argument.dearest + _elsewhere(problem, argument, max, short)
        left.append(replace(argument, wanted=argument.wanted.less(less)))
    choices = any(choice.beyond for choice in problem.choices)
    cost, _, possible = (0, None, True) if choices else cheapest(problem, left)
    if possible:
        return cost
    return 0


def _of_rows(problem: Relaxed) -> Iterator[Argument]:
    """For each row what all cloth gives that is cut for it alone: strips are counted with what their joins take."""
    sources = [*problem.pile, *problem.shop]
    pricer = Pricer(problem, {source.offer: source.l for source in sources})
    for needs in problem.of_item.values():
        prices = [
            need.weight if k in needs else 0 for k, need in enumerate(problem.needs)
        ]
        *_, values = pricer.evaluate(prices, sources)
        there = sum(
            source.copies * value
            for source, value in zip(problem.pile, values, strict=False)
        )
        yield Argument(
            kind="cutting",
            needs=tuple(needs),
            wanted=problem.wanted(prices).less(there),
            values=tuple(values[len(problem.pile) :]),
            dearest=problem.dearest(prices),
        )


def _elsewhere(
    problem: Relaxed,
    argument: Argument,
    pick: Callable[[Iterable[int]], int],
    short: int | None = None,
) -> int:
    """What an argument asks for and a plan may do without that takes rows which stay together from another fabric.

    It then wants nothing of what is to be chosen, and lacks those of the rows for which that fabric does not do.

    Parameters
    ----------
    pick : what is asked for by a choice, the least or the most of its options
    short : how many parts (or whole strips) a plan may lack, None for any number
    """
    total = 0
    for choice, costs in zip(problem.choices, argument.wanted.costs, strict=True):
        if choice.elsewhere is not None and (
            short is None or choice.elsewhere <= short
        ):
            total += max(0, pick(costs) - choice.elsewhere * argument.dearest)
    return total
