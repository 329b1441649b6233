"""The cheapest purchase that all arguments allow, against every purchase there is."""

from __future__ import annotations

import random
from itertools import product

import pytest

from cutopt.solve.bounds.cheapest_purchase import Argument, cheapest, cheapest_for
from cutopt.solve.bounds.relaxed import Need, Relaxed, RelaxedCloth
from cutopt.solve.model.fabric_choices import FabricChoice, FabricOption, demand_at
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.model import Model
from tests.solve.small import cut, job, piece
from tests.thinned import mostly_slow

EMPTY = model_of(job(piece("A", 10, 10), cut("square", 5, 5)))


def need(item: int, demand: int) -> Need:
    return Need(
        item=item,
        name=f"row {item}",
        w=9,
        l=9,
        demand=demand,
        strip=False,
        loss=0,
        cap=0,
        weight=10**8,
    )


def problem(rng: random.Random, model: Model = EMPTY) -> Relaxed:
    """Lengths of a few fabrics and one thing by the piece; one row from one of two fabrics, or some from each."""
    shop = []
    for fabric in range(rng.randint(2, 3)):
        price = rng.randint(90, 180)
        shop += [
            RelaxedCloth(
                sheet=0,
                ways=fabric,
                w=9,
                l=9 * n,
                copies=1,
                cost=n * price,
                offer=fabric,
                exclusive=fabric,
            )
            for n in range(1, rng.randint(4, 14))
        ]
    shop.append(
        RelaxedCloth(
            sheet=0, ways=9, w=9, l=9, copies=3, cost=rng.randint(100, 400), offer=9
        )
    )
    needs = (*(need(k, rng.randint(1, 20)) for k in range(4)), need(4, 6), need(4, 6))
    choice = rng.choice(
        [
            FabricChoice(
                total=1,
                options=tuple(
                    FabricOption(cap=1, amounts=((k, needs[k].demand),)) for k in (4, 5)
                ),
            ),
            FabricChoice(
                total=8,
                options=tuple(
                    FabricOption(cap=needs[k].demand, amounts=((k, 1),)) for k in (4, 5)
                ),
            ),
        ]
    )
    return Relaxed(
        model=model, needs=needs, ways=(), pile=(), shop=tuple(shop), choices=(choice,)
    )


def arguments(rng: random.Random, given: Relaxed) -> list[Argument]:
    """Worths that grow with the length and then no more, as those of cloth do."""
    found = []
    for _ in range(rng.randint(1, 15)):
        prices = [rng.randint(0, 10**8) for _ in given.needs]
        wanted = demand_at(prices, [n.demand for n in given.needs], given.choices).less(
            rng.randint(0, 10**9)
        )
        most = max(1, wanted.most)
        rates = {}
        values = []
        for source in given.shop:
            rate = rates.setdefault(source.offer, rng.randint(0, 3 * 10**8))
            values.append(min(most, rate * source.l // 9 + rng.randint(0, 10**6)))
        found.append(
            Argument(
                kind="cutting",
                needs=(0,),
                wanted=wanted,
                values=tuple(values),
                dearest=1,
            )
        )
    return found


def every_purchase(given: Relaxed) -> list[tuple[int, dict[int, int]]]:
    """What each costs, and how many of each source it has."""
    groups: dict[int, list[dict[int, int]]] = {}
    for s, source in enumerate(given.shop):
        groups.setdefault(source.offer, [{}]).extend(
            {s: n} for n in range(1, source.copies + 1)
        )
    made = []
    for chosen in product(*groups.values()):
        bought = {s: n for part in chosen for s, n in part.items()}
        made.append((sum(given.shop[s].cost * n for s, n in bought.items()), bought))
    return made


def every_pick(choice: FabricChoice) -> list[tuple[int, ...]]:
    return [
        pick
        for pick in product(*(range(o.cap + 1) for o in choice.options))
        if sum(pick) == choice.total
    ]


def enough(argument: Argument, bought: dict[int, int], pick: tuple[int, ...]) -> bool:
    return sum(argument.values[s] * n for s, n in bought.items()) >= argument.wanted.at(
        (pick,)
    )


@pytest.mark.parametrize("seed", mostly_slow(range(60), range(20)))
def test_no_cheaper_purchase_is_allowed(seed: int) -> None:
    rng = random.Random(seed)
    given = problem(rng)
    found = arguments(rng, given)
    allowed = [
        (cost, bought)
        for cost, bought in every_purchase(given)
        if any(
            all(enough(a, bought, pick) for a in found)
            for pick in every_pick(given.choices[0])
        )
    ]
    cost, purchase, possible = cheapest(given, found)
    assert possible or not allowed
    if allowed:
        least = min(cost for cost, _ in allowed)
        assert (
            cost <= least
        )  # it bounds what is bought: the rounding of worths may let it through
        nearly = [
            cost
            for cost, bought in every_purchase(given)
            for pick in every_pick(given.choices[0])
            if all(
                sum(a.values[s] * n for s, n in bought.items()) * (1 + 1e-5) + 1
                >= a.wanted.at((pick,))
                for a in found
            )
        ]
        assert cost >= min(nearly)
        assert purchase is not None
        assert sum(purchase.picks[0]) == given.choices[0].total


@pytest.mark.parametrize("seed", range(20))
def test_one_argument_alone(seed: int) -> None:
    """By hand over all purchases: what is wanted whatever is chosen."""
    rng = random.Random(1000 + seed)
    given = problem(rng)
    argument = arguments(rng, given)[0]
    costs = [
        cost
        for cost, bought in every_purchase(given)
        if sum(argument.values[s] * n for s, n in bought.items()) >= argument.missing
    ]
    found = cheapest_for(given, argument)
    assert (found.cost if found else None) == min(costs, default=None)


def test_what_choices_ask_for() -> None:
    """Six of one or six of the other, or eight in all: worked out by hand."""
    prices = [5, 3, 7]
    together = FabricChoice(
        total=1,
        options=(
            FabricOption(cap=1, amounts=((1, 6),)),
            FabricOption(cap=1, amounts=((2, 6),)),
        ),
    )
    limited = FabricChoice(
        total=8,
        options=(
            FabricOption(cap=6, amounts=((1, 1),)),
            FabricOption(cap=6, amounts=((2, 1),)),
        ),
    )
    wanted = demand_at(prices, [4, 6, 6], [together])
    assert (wanted.base, wanted.least, wanted.most) == (20, 20 + 18, 20 + 42)
    assert wanted.at(((0, 1),)) == 62
    wanted = demand_at(prices, [4, 6, 6], [limited])
    assert (wanted.least, wanted.most) == (20 + 6 * 3 + 2 * 7, 20 + 6 * 7 + 2 * 3)
    assert wanted.at(((5, 3),)) == 20 + 15 + 21
    assert wanted.less(20).least == 32
