"""The door to OR-Tools: it stops when told to, an interrupt gets through, and the same work gives the same answer."""

from __future__ import annotations

import _thread
import random
import threading
from typing import Any

import pytest
from ortools.sat.python import cp_model

from cutopt.solve.cpsat import Covering, solve_cp


def hard_model() -> Any:
    """Forty jobs on five machines, least makespan: quickly found, not soon proved."""
    rng, model = random.Random(1), cp_model.CpModel()
    last = model.new_int_var(0, 10**6, "last")
    loads: list[list[Any]] = [[] for _ in range(5)]
    for _ in range(40):
        size = rng.randint(10_000, 99_999)
        at = [model.new_bool_var("") for _ in range(5)]
        model.add_exactly_one(at)
        for load, here in zip(loads, at, strict=True):
            load.append(size * here)
    for load in loads:
        model.add(sum(load) <= last)
    model.minimize(last)
    return model


def test_the_same_work_gives_the_same_answer() -> None:
    first, second = (solve_cp(hard_model(), work=0.05, seed=3) for _ in range(2))
    assert first[0] == second[0] == "feasible"
    assert first[1].objective_value == second[1].objective_value


def test_a_stop_ends_a_search_without_limit() -> None:
    status, _ = solve_cp(hard_model(), work=1e6, stop=lambda: True)
    assert status in ("feasible", "unknown")


def test_an_interrupt_gets_through() -> None:
    timer = threading.Timer(0.3, _thread.interrupt_main)
    timer.start()
    with pytest.raises(KeyboardInterrupt):
        solve_cp(hard_model(), work=1e6)
    timer.join()


def test_answers_are_named() -> None:
    model = cp_model.CpModel()
    x = model.new_int_var(0, 5, "x")
    model.add(x >= 3)
    model.minimize(x)
    status, solver = solve_cp(model, work=1.0)
    assert (status, solver.value(x)) == ("optimal", 3)
    model.add(x <= 2)
    assert solve_cp(model, work=1.0)[0] == "infeasible"


def test_covering_prices() -> None:
    # Two of a, one of b wanted; one cloth gives a and b, it is there once: one a is missing, worth 4.
    lp = Covering([2, 1], [4, 3], [1])
    lp.add(0, {0: 1, 1: 1})
    solved = lp.solve()
    assert solved is not None
    short, prices, rents = solved
    assert short == pytest.approx(4)
    assert 2 * prices[0] + prices[1] + rents[0] == pytest.approx(short)
