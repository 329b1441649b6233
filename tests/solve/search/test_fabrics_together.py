"""Choosing a fabric for rows that stay together: against every choice searched for on its own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutopt.job import Job
from cutopt.solve.control.stop import Work
from cutopt.solve.model.from_job import model_of
from cutopt.solve.search.arrays import Arrays
from cutopt.solve.search.fabrics_together import choices
from cutopt.solve.solver import solve
from tests.solve.generate import generated
from tests.solve.small import bolt, cut, fabrics_of, job, lengths_of, piece, solved


def arrays_of(task: Job) -> Arrays:
    return Arrays.of(model_of(task))


def test_every_fabric_that_has_cloth_for_all_rows_of_a_group() -> None:
    """Plum has no 20 in for the panel, so the group of stars and panel comes from pear (0) or oat (2)."""
    pile = (
        piece("a", 30, 30),
        piece("b", 10, 10, fabric="plum"),
        piece("c", 40, 40, fabric="oat"),
    )
    star = cut("star", 5, 5, 4, together="front")
    panel = cut("panel", 20, 20, together="front")
    assert choices(arrays_of(job(*pile, star, panel))) == [{0: 0}, {0: 2}]
    assert choices(arrays_of(job(*pile, star, replace(panel, together="")))) == [
        {0: 0},
        {0: 1},
        {0: 2},
    ]
    assert choices(arrays_of(job(*pile, replace(star, together=""), panel))) == [
        {0: 0},
        {0: 2},
    ]
    assert choices(arrays_of(job(*pile, replace(star, together="")))) == [{}]


def test_only_rows_that_must_be_cut_are_chosen_for() -> None:
    """An "if left" row that oat cannot give does not keep the star from oat; a group of wishes is no choice at all."""
    pile = (piece("a", 30, 30), piece("b", 30, 30, fabric="oat"))
    star = cut("star", 5, 5, 4, together="front")
    badge = cut(
        "badge", 2, 2, fabrics=("pear",), together="front", importance="if left"
    )
    assert choices(arrays_of(job(*pile, star, badge))) == [{0: 0}, {0: 1}]
    assert choices(arrays_of(job(*pile, replace(star, importance="nice")))) == [{}]


def test_of_many_groups_the_largest_are_chosen_for() -> None:
    """Five groups of two fabrics make 32 choices; the four largest make 16, all different."""
    pile = (piece("a", 30, 30), piece("b", 30, 30, fabric="plum"))
    rows = [cut(f"star{n}", 4 + n / 2, 5, together=f"block{n}") for n in range(5)]
    found = choices(arrays_of(job(*pile, *rows)))
    assert len({tuple(sorted(choice.items())) for choice in found}) == len(found) == 16
    assert all(sorted(choice) == [1, 2, 3, 4] for choice in found)


def test_a_choice_closes_the_other_fabrics_to_its_group_only() -> None:
    pile = (piece("a", 30, 30), piece("b", 30, 30, fabric="plum"))
    arrays = arrays_of(
        job(*pile, cut("star", 5, 5, together="front"), cut("panel", 5, 6))
    )
    assert arrays.within({0: 1}).problem.turns.tolist() == [[0, 3], [3, 3]]
    assert arrays.problem.turns.tolist() == [[3, 3], [3, 3]]


def test_the_fabric_that_seems_best_at_first_is_not_the_best() -> None:
    """Forty 5 in squares of one fabric, and a bag of 20 x 20 that only plum may give.

    Plum on hand (20 x 50) holds the forty and then not the bag: 5/8 yd of plum (20 + 1 in), 6.00. From pear (20 x 48,
    36 squares) four are missing: 1/4 yd, 2.00. So pear, although plum has room for all forty.
    """
    pile = (piece("a", 20, 48), piece("b", 20, 50, fabric="plum"))
    squares = cut("square", 5, 5, 40, fabrics=("plum", "pear"), together="top")
    bag = cut("bag", 20, 20, fabrics=("plum",))
    task = job(*pile, bolt("pear", "8"), bolt("plum", "9.60"), squares, bag)
    result = solved(task)
    assert str(result.plan.totals.money) == "2.00"
    assert list(fabrics_of(task, result.plan)["square"]) == ["pear"]


@pytest.mark.slow
@pytest.mark.parametrize("seed", [15, 54])
def test_no_choice_on_its_own_is_cheaper(seed: int) -> None:
    """Generated jobs in which the search alone stayed at the dearer fabric (12.21 for 8.34, 704 000 for 672 000)."""
    task = generated(seed)
    whole = solve(task, Work(20_000), offers=False)
    names = {row.together for row in task.cuts if row.together}
    for fabric in task.fabrics:
        rows = tuple(
            replace(row, fabrics=(fabric.name,))
            if row.together in names and fabric.name in task.allowed(row)
            else row
            for row in task.cuts
        )
        if all(fabric.name in task.allowed(row) for row in task.cuts if row.together):
            one = solve(replace(task, cuts=rows, quilt=""), Work(20_000), offers=False)
            assert whole.complete >= one.complete
            if one.complete:
                assert cost(whole) <= cost(one)


def cost(result) -> tuple[object, int]:  # type: ignore[no-untyped-def]
    money = result.plan.totals.money
    lengths = sum(lengths_of(result.plan).values())
    return money, lengths if money is None else 0
