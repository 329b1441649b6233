"""Purchases to aim at: the search with a purchase that the bound still allows, and nothing else on sale.

Purchases a fabric apart are far apart for a search that changes a few parts a round. So where it no longer finds a
cheaper plan, those purchases within the goal race each other that are as large as they can be: a plan that needs
less is among the plans of a larger one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain, count, islice, product, repeat
from typing import TypeAlias

from cutopt.solve.bounds.cheapest_purchase import Argument, offers_of
from cutopt.solve.bounds.purchase_bound import Bound
from cutopt.solve.bounds.relaxed import Relaxed, RelaxedCloth
from cutopt.solve.search.descent import MUST_ONLY, NO_LIMIT
from cutopt.solve.search.engine import Engine
from cutopt.solve.search.fabrics_together import choices
from cutopt.solve.search.races import Over, most_beside, race

# sources of the shop by number, and how many of each
Bought: TypeAlias = tuple[tuple[int, int], ...]
# of an offer, see _amounts
_Amounts: TypeAlias = list[tuple[int, int, int, int]]
# sheets of the search, and how many copies or rungs of each
Most: TypeAlias = tuple[tuple[int, int], ...]

# of looking through all purchases
_MOST_STEPS = 10_000
# in the first race for a goal; of these a third goes on to the next
_MOST_RUNNERS = 16
_FEWEST = 2


def purchases_within(
    problem: Relaxed, arguments: Sequence[Argument], budget: int
) -> list[Bought]:
    """Purchases for at most so much that all arguments allow and to which nothing can be added.

    Those come first that are worth most beside what is wanted; of very many, not all are listed.

    Parameters
    ----------
    problem : Relaxed
    arguments : sequence of Argument
    budget : int
        Hundredths of money, or ticks where prices are missing.
    """
    asking = [argument for argument in arguments if argument.missing > 0]
    found = list(_largest(problem, asking, budget))

    def spare(bought: Bought) -> float:
        """How much more than what is missing it is worth, in the argument in which that is least."""
        over = (_worth(argument, bought) for argument in asking)
        return min(over, default=0.0)

    return sorted(found, key=spare, reverse=True)


def _largest(
    problem: Relaxed, arguments: Sequence[Argument], budget: int
) -> Iterator[Bought]:
    """What may be bought for at most so much, is enough, and leaves money for no more of anything."""
    offers = [_amounts(problem.shop, group) for group in offers_of(problem)]
    rest = [
        _most_worth(arguments, offers[number:]) for number in range(len(offers) + 1)
    ]
    steps = count()

    def further(
        number: int, left: int, bought: Bought, wanting: int, lacks: Sequence[int]
    ) -> Iterator[Bought]:
        """`wanting`: the least that more of an offer passed by would have cost; `lacks`: what is missing still."""
        if number == len(offers):
            if left < wanting and all(lack <= 0 for lack in lacks):
                yield bought
        elif next(steps) < _MOST_STEPS and all(
            map(_pays, lacks, rest[number], repeat(left))
        ):
            for s, n, cost, more in offers[number]:
                if cost <= left:
                    missing = [
                        lack - a.values[s] * n
                        for lack, a in zip(lacks, arguments, strict=True)
                    ]
                    if n:
                        with_it = (*bought, (s, n))
                    else:
                        with_it = bought
                    yield from further(
                        number + 1, left - cost, with_it, min(wanting, more), missing
                    )

    yield from further(0, budget, (), NO_LIMIT, [a.missing for a in arguments])


def _most_worth(
    arguments: Sequence[Argument], offers: Sequence[_Amounts]
) -> list[tuple[int, int, int]]:
    """For each argument what all of some offers is worth, and worth and cost of what is worth most for its money."""
    found = []
    for a in arguments:
        worths = [
            [(a.values[s] * n, max(cost, 1)) for s, n, cost, _ in amounts]
            for amounts in offers
        ]
        best = max(
            chain.from_iterable(worths),
            key=lambda pair: Fraction(*pair),
            default=(0, 1),
        )
        most = sum(map(_worth_most, worths))
        found.append((most, *best))
    return found


def _worth_most(pairs: Sequence[tuple[int, int]]) -> int:
    """The most that one of some amounts is worth, each with its cost."""
    return max(worth for worth, _ in pairs)


def _worth(argument: Argument, bought: Bought) -> float:
    """By how much of what an argument says is missing a purchase is worth more than that."""
    worth = sum(argument.values[s] * n for s, n in bought)
    return (worth - argument.missing) / argument.missing


def _pays(lack: int, most: tuple[int, int, int], left: int) -> bool:
    """Whether so much money may do for what is missing. What is free counts as if it cost 1."""
    everything, worth, cost = most
    return lack <= everything and lack * cost <= worth * (left + 1)


def _amounts(shop: Sequence[RelaxedCloth], group: Sequence[int]) -> _Amounts:
    """What may be bought of one offer: source, copies, cost, and what the next more costs besides."""
    first = shop[group[0]]
    if first.exclusive < 0:
        more = [first.cost] * first.copies + [NO_LIMIT]
        return [(group[0], n, n * first.cost, more[n]) for n in range(first.copies + 1)]
    found = [(group[0], 0, 0, min(shop[s].cost for s in group))]
    for s in group:
        longer = [
            shop[t].cost
            for t in group
            if shop[t].sheet == shop[s].sheet and shop[t].l > shop[s].l
        ]
        found.append((s, 1, shop[s].cost, min(longer, default=NO_LIMIT) - shop[s].cost))
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class _Aim:
    """How much may be bought of each sheet (copies, or rungs), and the fabric of each group that stays together."""

    most: Most
    choice: tuple[tuple[int, int], ...]


class _Runner:
    """The search with one purchase."""

    def __init__(self, engine: Engine, aim: _Aim) -> None:
        self.engine = engine.beside(
            engine.arrays.buying(dict(aim.most)).within(dict(aim.choice))
        )
        self.engine.first()

    @property
    def place(self) -> tuple[int, int]:
        """The least that was missing."""
        return self.engine.nearest, 0

    @property
    def done(self) -> bool:
        """Whether nothing is missing."""
        return not self.engine.missing()

    def run(self, over: Over) -> None:
        """Place everything."""
        if self.engine.missing():
            self.engine.reach(MUST_ONLY, NO_LIMIT, 1, over, go_on=True)


class Aims:
    """The purchases below the cost of the best state, and how far the search with each has got."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self._goal = -1
        self._runners: dict[_Aim, _Runner] = {}

    def reach(self, bound: Bound, goal: int, rounds: int, over: Over) -> bool:
        """Race for so many rounds; whether a plan for at most the goal is the best state now.

        Parameters
        ----------
        bound : Bound
        goal : int
            The cost to be reached.
        rounds : int
        over : callable
            Whether to stop.
        """
        if bound.problem is None:
            return False
        allowed = _most_bought(
            self._engine,
            bound.problem,
            purchases_within(bound.problem, bound.arguments, goal),
        )
        still = [
            aim for aim in self._runners if aim.most in allowed and goal == self._goal
        ]
        self._goal = goal
        self._aim(still or self._with_choices(allowed))
        if not self._runners:
            return False
        meter = self._engine.meter
        best = race(list(self._runners.values()), lambda: meter.rounds, rounds, over)
        # what is free counts as if it cost the least there is
        reached = best.done and best.engine.cost <= goal
        if reached:
            self._engine.copy(best.engine.best, self._engine.best)
        self._keep(max(_FEWEST, len(self._runners) // 3))
        return reached

    def _with_choices(self, allowed: Sequence[Most]) -> list[_Aim]:
        """As many aims as may race, the first purchases with every choice for rows that stay together."""
        arrays = self._engine.arrays
        pairs = product(allowed, (tuple(choice.items()) for choice in choices(arrays)))
        return [
            _Aim(most=most, choice=choice)
            for most, choice in islice(pairs, most_beside(arrays, _MOST_RUNNERS))
        ]

    def _keep(self, most: int) -> None:
        """Go on with so many only, those that came farthest."""
        farthest = sorted(self._runners, key=lambda aim: self._runners[aim].place)
        self._aim(farthest[:most])

    def _aim(self, aims: Sequence[_Aim]) -> None:
        """Go on with those that are aims still, begin with others."""
        for gone in self._runners.keys() - set(aims):
            self._runners.pop(gone).engine.close()
        self._runners = {
            aim: self._runners.get(aim) or _Runner(self._engine, aim) for aim in aims
        }

    def close(self) -> None:
        """Let the searches go."""
        self._aim(())


def _most_bought(
    engine: Engine, problem: Relaxed, purchases: Sequence[Bought]
) -> list[Most]:
    """The purchases by sheet of the search."""
    sheets = engine.arrays.model.sheets
    shop = problem.shop
    # of the pile, which comes before the shop
    closed = len(sheets) - len(problem.model.sheets)

    def most(amount: tuple[int, int]) -> tuple[int, int]:
        source, copies = amount
        sheet = closed + shop[source].sheet
        sold = shop[source].sold
        if not sold:
            return sheet, copies
        return sheet, 1 + [rung.sold for rung in sheets[sheet].ladder].index(sold)

    return [tuple(map(most, bought)) for bought in purchases]
