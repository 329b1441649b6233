"""The cheapest purchase that every counting argument found so far allows."""

from __future__ import annotations

from bisect import insort
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from cutopt.solve.bounds.relaxed import RelaxedCloth
from cutopt.solve.model.fabric_choices import Demand, FabricChoice

if TYPE_CHECKING:
    from ortools.sat.python.cp_model import CpModel, IntVar

# Worths in CP-SAT's rows. With worths of 30 bits and more its presolve (OR-Tools 9.15) called a purchase optimal that
# costs more than another one that meets every row; with 24 bits, or without presolve, it did not: both are done.
_BITS = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class Argument:
    """At some prices of the needs what is bought must be worth what is wanted and not in the pile.

    Source s of the shop is worth at most `values[s]`. `kind` is "area", "count", "shares", "redone" or "cutting";
    `needs` are those that have a price, and `dearest` is the highest worth of one copy (of a strip, of all of it).
    """

    kind: str
    needs: tuple[int, ...]
    wanted: Demand
    values: tuple[int, ...]
    dearest: int

    @property
    def missing(self) -> int:
        """What has to be bought whatever is chosen."""
        return self.wanted.least


@dataclass(frozen=True, slots=True, kw_only=True)
class CheapestPurchase:
    """How many of each source of the shop (by number), what they cost together, and what was chosen with it."""

    cost: int
    bought: tuple[tuple[int, int], ...]
    picks: tuple[tuple[int, ...], ...] = ()


class OnSale(Protocol):
    """All that is on sale, whatever for."""

    @property
    def shop(self) -> tuple[RelaxedCloth, ...]:
        """A rung of a ladder is a source of its own."""


class Choosing(OnSale, Protocol):
    """The same, where fabrics are to be chosen."""

    @property
    def choices(self) -> tuple[FabricChoice, ...]:
        """Of which options have to be taken."""


def offers_of(problem: OnSale) -> list[list[int]]:
    """Sources of the shop in groups: all lengths of a fabric (one may be bought), or one kind by the piece."""
    groups: dict[tuple[int, int], list[int]] = {}
    for s, source in enumerate(problem.shop):
        if source.exclusive >= 0:
            key = (0, source.exclusive)
        else:
            key = (1, source.offer)
        groups.setdefault(key, []).append(s)
    return list(groups.values())


def cheapest_for(problem: OnSale, argument: Argument) -> CheapestPurchase | None:
    """The cheapest purchase that one argument allows; None where nothing on sale is enough."""
    if argument.missing <= 0:
        return CheapestPurchase(cost=0, bought=())
    # cost, worth up to what is missing, what
    states: list[tuple[int, int, tuple[tuple[int, int], ...]]] = [(0, 0, ())]
    for group in offers_of(problem):
        more = list(states)
        for choice in _choices(problem.shop, group, argument):
            worth = argument.values[choice[0]] * choice[1]
            cost = problem.shop[choice[0]].cost * choice[1]
            for c, v, what in states:
                insort(
                    more, (c + cost, min(v + worth, argument.missing), (*what, choice))
                )
        states = _undominated(more)
    enough = [state for state in states if state[1] >= argument.missing]
    if enough:
        return CheapestPurchase(cost=enough[0][0], bought=enough[0][2])
    return None


def _choices(
    shop: Sequence[RelaxedCloth], group: list[int], argument: Argument
) -> Iterable[tuple[int, int]]:
    """What may be bought of a group: (source, copies), worthless ones left out."""
    if shop[group[0]].exclusive >= 0:
        return [(s, 1) for s in _undominated_lengths(shop, group, argument)]
    s = group[0]
    worth = argument.values[s]
    if worth > 0:
        most = min(shop[s].copies, -(-argument.missing // worth))
    else:
        most = 0
    return [(s, n) for n in range(1, most + 1)]


def _undominated_lengths(
    shop: Sequence[RelaxedCloth], group: list[int], argument: Argument
) -> list[int]:
    kept: list[int] = []
    best = 0
    for s in sorted(group, key=lambda s: (shop[s].cost, -argument.values[s])):
        if argument.values[s] > best and best < argument.missing:
            best = argument.values[s]
            kept.append(s)
    return kept


def _undominated(
    states: list[tuple[int, int, tuple[tuple[int, int], ...]]],
) -> list[tuple[int, int, tuple[tuple[int, int], ...]]]:
    kept: list[tuple[int, int, tuple[tuple[int, int], ...]]] = []
    for state in sorted(states, key=lambda s: (s[0], -s[1])):
        if not kept or state[1] > kept[-1][1]:
            kept.append(state)
    return kept


def cheapest(
    problem: Choosing, arguments: Sequence[Argument], least: int = 0
) -> tuple[int, CheapestPurchase | None, bool]:
    """The cheapest purchase that all arguments allow (CP-SAT).

    Parameters
    ----------
    problem : Choosing
        A `Relaxed`, or any other that has a shop and choices.
    arguments : sequence of Argument
    least : int
        What is known to be the least cost (units of the model).

    Returns
    -------
    cost : int
        No allowed purchase costs less.
    purchase : CheapestPurchase or None
        One of that cost; None where there is none, or where none was found within the limit.
    possible : bool
        False where it is proved that no purchase is enough.
    """
    from ortools.sat.python import cp_model

    from cutopt.solve.cpsat import solve_cp

    model = cp_model.CpModel()
    count = [model.new_int_var(0, source.copies, "") for source in problem.shop]
    for group in offers_of(problem):
        if problem.shop[group[0]].exclusive >= 0:
            model.add_at_most_one([count[s] for s in group])
    picks = [
        [model.new_int_var(0, option.cap, "") for option in choice.options]
        for choice in problem.choices
    ]
    for choice, pick in zip(problem.choices, picks, strict=True):
        model.add(sum(pick) == choice.total)
    for argument in arguments:
        _add_argument(model, argument, count, picks)
    cost = sum(source.cost * c for source, c in zip(problem.shop, count, strict=True))
    if least:
        model.add(cost >= least)
    model.minimize(cost)
    status, solver = solve_cp(model, work=1.0, presolve=False)
    if status == "infeasible":
        return least, None, False
    # the bound is a whole number that a float holds exactly
    if status != "optimal":
        return max(least, round(solver.best_objective_bound)), None, True
    bought = tuple((s, solver.value(c)) for s, c in enumerate(count) if solver.value(c))
    total = sum(problem.shop[s].cost * n for s, n in bought)
    chosen = tuple(tuple(map(solver.value, pick)) for pick in picks)
    return total, CheapestPurchase(cost=total, bought=bought, picks=chosen), True


def _add_argument(
    model: CpModel,
    argument: Argument,
    count: Sequence[IntVar],
    picks: Sequence[Sequence[IntVar]],
) -> None:
    """What is bought is worth what is missing; scaled with worths rounded up and what is wanted down."""
    wanted = argument.wanted
    if wanted.most > 0:
        scale = max(1, wanted.most >> _BITS)
        worths = [-(-min(value, wanted.most) // scale) for value in argument.values]
        bought = sum(worth * c for worth, c in zip(worths, count, strict=True) if worth)
        chosen = sum(
            cost // scale * p
            for costs, pick in zip(wanted.costs, picks, strict=True)
            for cost, p in zip(costs, pick, strict=True)
        )
        model.add(bought >= wanted.base // scale + chosen)
