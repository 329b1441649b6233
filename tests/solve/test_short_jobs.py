"""Small random jobs in which rows are short: no error of the program, and a plan behind everything that is told.

``python -m tests.solve.short_jobs 400`` does the same for as many as one likes.
"""

from __future__ import annotations

import pytest

from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from tests.solve.short_jobs import ROUNDS, faults, short_job


@pytest.mark.parametrize("first", [0, 40, 80, 120])
def test_all_that_is_told_has_a_plan_that_does_it(first: int) -> None:
    told = 0
    for seed in range(first, first + 5):
        result = solve(short_job(seed), Work(ROUNDS), seed=0)
        assert list(faults(result)) == []
        told += sum(len(short.mends) for short in result.plan.short)
    assert told
