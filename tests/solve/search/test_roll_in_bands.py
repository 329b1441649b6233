"""A length begun with bands: what is wanted stays the same, and strips and the pile are left in peace."""

from __future__ import annotations

import pytest

from cutopt.bench.instance_solver import solve_instance
from cutopt.check import check
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.wanted import Strip
from tests.solve.search.rolls import roll, split
from tests.solve.small import bolt, cut, inch, job, piece
from tests.thinned import mostly_slow


@pytest.mark.parametrize("seed", range(4))
def test_a_rectangle_cut_into_forty_is_put_together_again(seed: int) -> None:
    answer = solve_instance(roll(seed, 0), Work(3_000))
    assert check(answer.job, answer.plan) == []
    assert answer.proved
    assert answer.value == 240


@pytest.mark.parametrize("rest", mostly_slow([1, 3, 5], {1}))
def test_what_no_band_takes_comes_after_the_bands(rest: int) -> None:
    answer = solve_instance(roll(9, rest), Work(6_000))
    assert check(answer.job, answer.plan) == []
    assert answer.value <= 240 + 53 * -(-rest // 3)


@pytest.mark.parametrize(
    ("deep", "many"), [(100, 12), pytest.param(200, 30, marks=pytest.mark.slow)]
)
def test_strips_and_the_pile_beside_bands(deep: int, many: int) -> None:
    parts = split(168, deep, many, 3)  # quarter inches: the usable width is 42
    cuts = [
        cut(f"part {n}", p.w / 4, p.h / 4, p.most, grain="along")
        for n, p in enumerate(parts)
    ]
    binding = Strip(
        name="edge",
        width=inch(2.5),
        total_length=inch(90),
        join="straight",
        shortest=inch(12),
    )
    made = job(piece("A", 9, 8), bolt(), *cuts, strips=(binding,))
    result = solve(made, Work(1_000), offers=False)
    assert result.complete
    assert check(made, result.plan) == []
