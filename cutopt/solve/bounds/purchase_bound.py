"""What no plan can go below: the least that must be bought, with the reason in a maker's words.

For any prices of the wanted parts, what is bought must be worth what is wanted less the most that the pile can
be worth (Lagrangian duality; Gilmore & Gomory 1961, Operations Research 9(6), 849-859, for the prices). Each such
argument is evaluated exactly, in whole numbers, by the plate and window programmes; the linear programme only
proposes prices. The bound is the cheapest purchase that all arguments allow, so it is a sum that can be paid.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import TYPE_CHECKING, TypeAlias

from cutopt.solve.bounds.cheapest_purchase import (
    Argument,
    CheapestPurchase,
    cheapest,
    cheapest_for,
)
from cutopt.solve.bounds.claims import Claim, Claims, together
from cutopt.solve.bounds.large_parts import share_arguments
from cutopt.solve.bounds.limited_copies import can_limit, coarse
from cutopt.solve.bounds.plain_arguments import plain_arguments
from cutopt.solve.bounds.pricing import Pricer
from cutopt.solve.bounds.reasons import Reason, reason_of
from cutopt.solve.bounds.reasons_told import told
from cutopt.solve.bounds.relaxed import Relaxed, RelaxedCloth, relaxed
from cutopt.solve.bounds.windows import FINE_CELLS
from cutopt.solve.model.model import Model

if TYPE_CHECKING:
    from cutopt.solve.cpsat import Covering

# how often each option of each choice is taken
Picks: TypeAlias = tuple[tuple[int, ...], ...]

# of prices against one purchase
_ROUNDS = 60
_LIMITED_ROUNDS = 120
# claims for which the pile is weighed, each about as long as it takes to price the pile
_MOST_WEIGHED = 16
# irregular pieces, each about 20 ms on the fine grid
_MOST_FINE = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """No plan that cuts every must part costs less than `cost` (units of the model).

    `possible` is False where it is proved that all that is on sale and in the pile is not enough: then `cost` bounds
    nothing. `final`: nothing better is to come. `work` counts additions of the programmes, the same on every machine.
    `arguments` are what it rests on, about the sources of `problem`; `claims` those that a maker can redo.
    """

    cost: int = 0
    possible: bool = True
    final: bool = False
    work: int = 0
    arguments: tuple[Argument, ...] = ()
    claims: tuple[Claim, ...] = ()
    problem: Relaxed | None = None

    @property
    def reason(self) -> Reason:
        """Why, as a value."""
        if self.problem is None or (self.possible and not self.cost):
            return Reason(kind="nothing")
        return reason_of(self.problem, self.claims, self.cost, possible=self.possible)

    @property
    def because(self) -> str:
        """Why, in one sentence, "" where nothing need be bought as far as known."""
        if self.problem is None:
            return ""
        return told(self.problem, self.reason)


def purchase_bound(model: Model, stop: Callable[[], bool] | None = None) -> Bound:
    """The best bound, or the best so far when `stop` says so."""
    best = Bound()
    for bound in improve(model):
        best = bound
        if stop is not None and stop():
            break
    return best


def improve(model: Model) -> Iterator[Bound]:
    """Ever better bounds: the first by area and counting at once, then one after each piece of work (about 20 ms).

    The first needs neither OR-Tools nor numba. Where nothing has improved the same bound comes again.
    """
    problem = relaxed(model)
    if not problem.needs:
        yield Bound(final=True)
        return
    yield from _Improving(problem).run()


class _Improving:
    """The state of a bound that is being improved."""

    def __init__(self, problem: Relaxed) -> None:
        self.problem = problem
        self.arguments: list[Argument] = []
        # by offer, or -1 - id of the source
        self.patterns: dict[int, list[tuple[int, dict[int, int]]]] = {}
        self.best = Bound(problem=problem)
        self.learnt = self.limiting = False

    def run(self) -> Iterator[Bound]:
        if any(choice.beyond for choice in self.problem.choices):
            self.best = replace(self.best, possible=False, final=True)
            yield self.best
            return
        self._learn_plain(
            [a for a in plain_arguments(self.problem) if a.wanted.most > 0]
        )
        if self.best.possible:
            yield self.best
        self.claims = Claims(self.problem)
        self._claim(self.claims.strongest())
        self._learn_plain(share_arguments(self.problem))
        if not self.best.possible:
            yield self.best
            return
        self.pricer = Pricer(self.problem, self._reach())
        while not self.best.final:
            cost, purchase, possible = cheapest(
                self.problem, self.arguments, self.best.cost
            )
            self.best = replace(
                self.best,
                cost=max(cost, self.best.cost),
                possible=possible,
                final=not possible,
            )
            if purchase is None:
                break
            yield self._now()
            if self._extended(purchase):
                continue
            yield from self._refute(purchase)
            if not self.learnt and not self._finer():
                break
        yield from self._weigh_the_pile()
        self.best = replace(self.best, final=True)
        yield self._now()

    def _now(self) -> Bound:
        self.best = replace(
            self.best, work=self.pricer.work, arguments=tuple(self.arguments)
        )
        return self.best

    def _claim(self, found: Sequence[Claim]) -> None:
        """Take what a maker can redo; claims that have no fabric in common add up."""
        self._learn_plain([claim.argument(self.problem) for claim in found])
        everything = (*self.best.claims, *found)
        cost = max(self.best.cost, sum(claim.cost for claim in together(everything)))
        self.best = replace(self.best, claims=everything, cost=cost)

    def _weigh_the_pile(self) -> Iterator[Bound]:
        """Claims that force the amount when the pile is known better than by its sizes."""
        for claim in islice(self.claims.without_pile(), _MOST_WEIGHED):
            if not self.problem.pile or self.best.reason.kind == "redone":
                return
            values: list[int] = []
            for found in self.pricer.evaluate(
                claim.prices(self.problem), self.problem.pile
            ):
                values = found
                yield self._now()
            there = sum(
                source.copies * value
                for source, value in zip(self.problem.pile, values, strict=True)
            )
            weighed = claim.with_pile(self.problem, there)
            if weighed.missing > 0:
                self._claim([weighed])

    def _learn_plain(self, arguments: Sequence[Argument]) -> None:
        """Take arguments whose cheapest purchases need no integer programme."""
        self.arguments += arguments
        for argument in arguments:
            purchase = cheapest_for(self.problem, argument)
            if purchase is None:
                self.best = replace(self.best, possible=False, final=True)
            elif purchase.cost > self.best.cost:
                self.best = replace(self.best, cost=purchase.cost)
        self.best = replace(self.best, arguments=tuple(self.arguments))

    def _reach(self) -> dict[int, int]:
        """For each fabric by length: half as much again as area asks for if all were cut from it."""
        reach: dict[int, int] = {}
        worths = [need.worth for need in self.problem.needs]
        by_ways = [
            sum(worths[k] for k in self.problem.served(ways))
            for ways in range(len(self.problem.ways))
        ]
        for source in self.problem.shop:
            if source.exclusive >= 0:
                wanted = by_ways[source.ways]
                if source.offer not in reach or source.area * 2 <= 3 * wanted:
                    reach[source.offer] = max(reach.get(source.offer, 0), source.l)
        return reach

    def _extended(self, purchase: CheapestPurchase) -> bool:
        """Cover more lengths where the purchase has one beyond the tables; whether there was one."""
        beyond = [
            s
            for s, _ in purchase.bought
            if not self.pricer.covers(self.problem.shop[s])
        ]
        for s in beyond:
            source = self.problem.shop[s]
            self.pricer.extend(source.offer, source.l * 4 // 3)
        return bool(beyond)

    def _refute(self, purchase: CheapestPurchase) -> Iterator[Bound]:
        """Look for prices at which the pile and this purchase are worth too little; learn the argument if any."""
        cloth = [(source, source.copies) for source in self.problem.pile]
        cloth += [(self.problem.shop[s], copies) for s, copies in purchase.bought]
        self.learnt = False
        if not self.limiting:
            yield from self._search(cloth, purchase.picks, limited=False)
        if not self.learnt and can_limit(self.problem, [source for source, _ in cloth]):
            self.limiting = True
            yield from self._search(cloth, purchase.picks, limited=True)

    def _search(
        self, cloth: list[tuple[RelaxedCloth, int]], picks: Picks, *, limited: bool
    ) -> Iterator[Bound]:
        """Column generation over some cloth and what is chosen to be wanted.

        `limited`: no part counts more often than it is wanted.
        """
        sources = [source for source, _ in cloth]
        lp = self._programme(cloth, picks, limited=limited)
        for _ in range(_LIMITED_ROUNDS if limited else _ROUNDS):
            solved = lp.solve()
            if solved is None:
                return
            short, prices, rents = solved
            whole = [
                min(int(price), need.weight)
                for price, need in zip(prices, self.problem.needs, strict=True)
            ]
            if limited:
                whole = coarse(self.problem, whole)
            values: list[int] = []
            for found in self.pricer.evaluate(
                whole, sources, sources if limited else ()
            ):
                values = found
                yield self._now()
            missing = self.problem.wanted(whole).at(picks)
            missing -= sum(
                copies * value for (_, copies), value in zip(cloth, values, strict=True)
            )
            new = self._priced_out(lp, sources, values, rents)
            if missing > 0 and (2 * missing > short or not new):
                yield from self._learn(
                    whole, dict(zip(sources, values, strict=True)) if limited else {}
                )
                return
            if not new or short < 1:
                return

    def _programme(
        self, cloth: list[tuple[RelaxedCloth, int]], picks: Picks, *, limited: bool
    ) -> Covering:
        from cutopt.solve.cpsat import Covering

        demands = self.problem.demands(picks)
        weights = [need.weight for need in self.problem.needs]
        lp = Covering(demands, weights, [copies for _, copies in cloth])
        for c, (source, _) in enumerate(cloth):
            for length, counts in self.patterns.get(self._key(source), []):
                proper = all(amount <= demands[k] for k, amount in counts.items())
                if length <= source.l and (proper or not limited):
                    lp.add(c, counts)
        return lp

    def _finer(self) -> bool:
        """Look at irregular pieces on a finer grid from now on; False where that was done or would take too long."""
        irregular = {
            id(source) for source in self.problem.pile if source.cloth is not None
        }
        if self.pricer.most_cells >= FINE_CELLS or not 0 < len(irregular) <= _MOST_FINE:
            return False
        self.pricer.most_cells = FINE_CELLS
        self.pricer.windows.clear()
        self.limiting = False
        # what the coarse grid allowed, the fine one may not
        for key in irregular:
            self.patterns.pop(-1 - key, None)
        return True

    def _key(self, source: RelaxedCloth) -> int:
        if source.exclusive >= 0:
            return source.offer
        return -1 - id(source)

    def _priced_out(
        self,
        lp: Covering,
        sources: list[RelaxedCloth],
        values: list[int],
        rents: list[float],
    ) -> bool:
        """Give the linear programme the patterns that are worth more than the rent of their cloth."""
        new = False
        for c, (source, value, rent) in enumerate(
            zip(sources, values, rents, strict=True)
        ):
            if value > -rent * (1 + 1e-9) + 1:
                counts = self.pricer.counts(source)
                known = self.patterns.setdefault(self._key(source), [])
                if counts and all(
                    counts != other or length > source.l for length, other in known
                ):
                    known.append((source.l, counts))
                    lp.add(c, counts)
                    new = True
        return new

    def _learn(
        self, prices: list[int], limited: dict[RelaxedCloth, int]
    ) -> Iterator[Bound]:
        """Add the argument at these prices; `limited` are worths that reckon with what is wanted."""
        problem = self.problem
        everything = (*problem.pile, *problem.shop)
        if limited:
            also = [s for s in problem.shop if s.exclusive < 0 and s not in limited]
        else:
            also = []
        values: list[int] = []
        for found in self.pricer.evaluate(
            prices, everything, also if can_limit(problem, also) else ()
        ):
            values = found
            yield self._now()
        for n, source in enumerate(everything):
            if limited:
                longer = [
                    v
                    for s, v in limited.items()
                    if s.offer == source.offer and s.l >= source.l
                ]
            else:
                longer = []
            # a shorter length is worth no more
            if source in limited or (source.exclusive >= 0 and longer):
                values[n] = min(
                    values[n], limited.get(source, min(longer, default=values[n]))
                )
        here = len(problem.pile)
        wanted = problem.wanted(prices).less(
            sum(s.copies * v for s, v in zip(problem.pile, values, strict=False))
        )
        needs = tuple(k for k, price in enumerate(prices) if price > 0)
        self.arguments.append(
            Argument(
                kind="cutting",
                needs=needs,
                wanted=wanted,
                values=tuple(values[here:]),
                dearest=problem.dearest(prices),
            )
        )
        self.learnt = True
