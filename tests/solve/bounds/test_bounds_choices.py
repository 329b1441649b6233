"""Bounds where a fabric has to be chosen, worked out by hand: arithmetic identities on small piles."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from cutopt.check import check
from cutopt.job import Job
from cutopt.solve.bounds.purchase_bound import purchase_bound
from cutopt.solve.control.stop import Work
from cutopt.solve.model.from_job import model_of
from cutopt.solve.solver import solve
from tests.solve.generate import generated
from tests.solve.small import bolt, cut, job, lengths_of, piece
from tests.thinned import mostly_slow


def both(*cuts: Any) -> Job:
    """Three 10 in squares of pear and three of plum on hand; both by the 1/8 yd (4 1/2 in), pear 1.20, plum 1.00."""
    pile = [piece(name, 30, 10, fabric=name) for name in ("pear", "plum")]
    return job(*pile, bolt("pear", "9.60"), bolt("plum", "8.00"), *cuts)


def test_six_that_may_be_mixed_need_nothing() -> None:
    assert (
        purchase_bound(
            model_of(both(cut("square", 10, 10, 6, fabrics=("pear", "plum"))))
        ).cost
        == 0
    )


def test_six_that_stay_together_need_the_cheaper_fabric() -> None:
    """Three more 10 in squares: 13 1/2 in of 42 in cloth, 3 x 1.00."""
    made = both(cut("square", 10, 10, 6, fabrics=("pear", "plum"), together="row"))
    bound = purchase_bound(model_of(made))
    assert (bound.cost, bound.possible) == (300, True)
    result = solve(made, Work(500), offers=False)
    assert check(made, result.plan) == []
    assert (result.complete, result.plan.totals.money) == (True, 3)


def test_two_rows_that_stay_together_choose_once() -> None:
    """Three of each row; six from plum, three of them bought, although either row alone needs nothing."""
    cuts = [
        cut(name, 10, 10, 3, fabrics=("pear", "plum"), together="row")
        for name in ("sash", "post")
    ]
    assert purchase_bound(model_of(both(*cuts))).cost == 300


@pytest.mark.parametrize(("most", "cost"), [(5, 0), (4, 0), (3, 0)])
def test_a_limit_that_the_pile_keeps_costs_nothing(most: int, cost: int) -> None:
    made = both(cut("square", 10, 10, 6, fabrics=("pear", "plum"), most_each=most))
    assert purchase_bound(model_of(made)).cost == cost


def test_a_limit_that_asks_for_the_dearer_fabric() -> None:
    """Eight, at most four from each: one more of pear and one of plum, 13 1/2 in of both, 3.60 + 3.00."""
    made = both(cut("square", 10, 10, 8, fabrics=("pear", "plum"), most_each=4))
    assert purchase_bound(model_of(made)).cost == 660
    assert solve(made, Work(500), offers=False).plan.totals.money == Decimal("6.60")


def test_a_limit_that_no_choice_of_fabrics_keeps_is_impossible() -> None:
    made = both(cut("square", 10, 10, 8, fabrics=("pear", "plum"), most_each=3))
    bound = purchase_bound(model_of(made))
    told = "8 of square are wanted, at most 3 from each fabric, and only 2 fabrics have cloth for it"
    assert (bound.possible, bound.because) == (False, told)


@pytest.mark.parametrize("seed", mostly_slow([0, 4, 15, 19, 28, 29], {29}))
def test_no_plan_of_a_job_with_choices_goes_below(seed: int) -> None:
    made = generated(seed)
    assert any(row.together or getattr(row, "most_each", None) for row in made.wanted)
    result = solve(made, Work(3_000), offers=False)
    bound = purchase_bound(model_of(made))
    if result.complete:
        spent = (
            sum(lengths_of(result.plan).values())
            if result.plan.totals.money is None
            else 100 * result.plan.totals.money
        )
        assert bound.possible
        assert bound.cost <= spent
