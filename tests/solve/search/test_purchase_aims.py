"""Purchases to aim at: against all purchases of a shop, listed one by one, and in jobs where the search alone stays."""

from __future__ import annotations

from itertools import product

import pytest

from cutopt.job import Job
from cutopt.lengths import YARD
from cutopt.solve.bounds.purchase_bound import Bound, purchase_bound
from cutopt.solve.bounds.relaxed import Relaxed
from cutopt.solve.model.from_job import model_of
from cutopt.solve.search.purchase_aims import purchases_within
from cutopt.solve.search.races import race
from tests.solve.generate import generated
from tests.solve.small import bolt, cut, each, job, piece

PILE = piece("rest", 10, 10)


def worked_out(task: Job) -> tuple[Bound, Relaxed]:
    bound = purchase_bound(model_of(task))
    assert bound.problem is not None
    return bound, bound.problem


def every_purchase(problem: Relaxed, budget: int) -> set[tuple[tuple[int, int], ...]]:
    """All purchases for at most so much: one length of a fabric or none, any number of pieces."""
    shop = problem.shop
    found = set()
    for amounts in product(
        *(range(min(source.copies, budget // source.cost) + 1) for source in shop)
    ):
        lengths = [
            shop[s].exclusive
            for s, n in enumerate(amounts)
            if n and shop[s].exclusive >= 0
        ]
        cost = sum(n * source.cost for n, source in zip(amounts, shop, strict=True))
        if cost <= budget and len(lengths) == len(set(lengths)):
            found.add(tuple((s, n) for s, n in enumerate(amounts) if n))
    return found


def holds(
    problem: Relaxed,
    large: tuple[tuple[int, int], ...],
    small: tuple[tuple[int, int], ...],
) -> bool:
    """Whether all of one purchase is in another: pieces by number, a length in a longer one of the same offer."""
    shop = problem.shop
    has = dict(large)
    for s, n in small:
        same = [t for t in has if shop[t].sheet == shop[s].sheet]
        if not any(
            has[t] >= n if shop[s].exclusive < 0 else shop[t].l >= shop[s].l
            for t in same
        ):
            return False
    return True


SHOP = (
    bolt("plum", "9.60", most=None),
    bolt("fig", "8"),
    each("oat", 18, 21, "2.50", most=3),
)


@pytest.mark.parametrize("budget", [0, 120, 480, 730, 1000])
@pytest.mark.parametrize("count", [4, 9, 20])
def test_all_purchases_that_the_arguments_allow_are_within_those_listed(
    budget: int, count: int
) -> None:
    """Nothing that is listed costs more or could be added to, and whatever is allowed lies within one of them."""
    stars = cut("star", 6, 7, count, fabrics=("plum", "fig", "oat"))
    bound, problem = worked_out(
        job(PILE, *SHOP, stars, cut("bag", 12, 14, fabrics=("plum",)))
    )
    listed = purchases_within(problem, bound.arguments, budget)
    every = every_purchase(problem, budget)
    largest = {
        p for p in every if not any(q != p and holds(problem, q, p) for q in every)
    }

    def allowed(bought: tuple[tuple[int, int], ...]) -> bool:
        return all(
            sum(a.values[s] * n for s, n in bought) >= a.missing
            for a in bound.arguments
        )

    assert {tuple(sorted(bought)) for bought in listed} == {
        bought for bought in largest if allowed(bought)
    }
    assert len(listed) == len(set(listed))
    assert bool(listed) == (budget >= bound.cost)


def test_a_purchase_for_the_bound_itself_is_listed() -> None:
    """Generated job 46, on irregular cloth: the bound is the cheapest purchase that all arguments allow."""
    bound, problem = worked_out(generated(46))
    listed = purchases_within(problem, bound.arguments, bound.cost)
    assert listed
    assert all(
        sum(problem.shop[s].cost * n for s, n in bought) <= bound.cost
        for bought in listed
    )


def test_a_large_shop_is_not_looked_through_for_ever() -> None:
    """Ten fabrics by the 1/8 yd for ten rows that may come from three each: 9^10 purchases, of which some are seen."""
    names = [f"plum{n}" for n in range(10)]
    rows = [
        cut(f"star{n}", 6, 7, 8, fabrics=tuple(names[(n + k) % 10] for k in range(3)))
        for n in range(10)
    ]
    task = job(
        PILE,
        *(bolt(name, str(8 + n), most=YARD) for n, name in enumerate(names)),
        *rows,
    )
    bound, problem = worked_out(task)
    for over in (1.0, 1.1, 1.5):
        listed = purchases_within(problem, bound.arguments, int(over * bound.cost))
        assert len(listed) < 10_000
        assert all(
            sum(problem.shop[s].cost * n for s, n in bought) <= over * bound.cost
            for bought in listed
        )


class Walker:
    """Comes nearer by its speed at each step, which costs one."""

    def __init__(
        self, name: str, speed: int, clock: list[int], far: int = 1000
    ) -> None:
        self.name = name
        self.speed = speed
        self.clock = clock
        self.far = far
        self.steps = 0

    @property
    def place(self) -> tuple[int, int]:
        return self.far, 0

    @property
    def done(self) -> bool:
        return self.far <= 0

    def run(self, over) -> None:  # type: ignore[no-untyped-def]
        while not over() and not self.done:
            self.clock[0] += 1
            self.steps += 1
            self.far -= self.speed


def test_each_heat_is_shared_alike_and_half_goes_on() -> None:
    """Eight in three heats of 24 steps: 3 each, then 6 each of four, then 12 each of two: 21, 9 or 3 steps in all."""
    clock = [0]
    walkers = [Walker(str(speed), speed, clock) for speed in range(8)]
    assert race(walkers, lambda: clock[0], 72, lambda: False).name == "7"
    assert [walker.steps for walker in walkers] == [3, 3, 3, 3, 9, 9, 21, 21]


def test_who_is_done_ends_the_race() -> None:
    clock = [0]
    walkers = [Walker(str(speed), speed, clock) for speed in (1, 400, 2)]
    assert race(walkers, lambda: clock[0], 600, lambda: False).name == "400"
    assert [walker.steps for walker in walkers] == [100, 3, 0]


def test_a_race_that_is_called_off_has_the_one_that_is_first_then() -> None:
    clock = [0]
    walkers = [Walker(str(speed), speed, clock) for speed in (1, 6, 9)]
    assert race(walkers, lambda: clock[0], 300, lambda: clock[0] >= 60).name == "6"
    assert clock[0] == 60
