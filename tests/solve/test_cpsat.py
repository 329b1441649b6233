"""The door to OR-Tools: it stops when told to, an interrupt gets through, and the same work gives the same answer."""

from __future__ import annotations

import _thread
import random
import subprocess
import sys
import threading
from typing import Any

import pytest
from ortools.sat.python import cp_model

from cutopt.solve.cpsat import Covering, mip, solve_cp, solve_mip
from tests.places import ROOT
from tests.solve.covering import covering_model


def hard_model() -> Any:
    """Forty jobs on five machines, least makespan: quickly found, not soon proved."""
    rng = random.Random(1)
    model = cp_model.CpModel()
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


def test_scip_gives_the_same_answer_again() -> None:
    first = covering_model(60, 400)
    second = covering_model(60, 400)
    assert solve_mip(first, nodes=30) == solve_mip(second, nodes=30)
    assert first.Objective().Value() == second.Objective().Value()


@pytest.mark.parametrize("asked", [2, 8, 20])
def test_scip_is_left_where_it_does_not_hear_a_stop(asked: int) -> None:
    """In a linear programme that takes seconds nobody waits for it longer than for one more question."""
    model = covering_model(400, 16_000)
    questions = list[int]()

    def stop() -> bool:
        questions.append(1)
        return len(questions) >= asked

    assert solve_mip(model, nodes=10**6, stop=stop) in ("feasible", "unknown")
    assert len(questions) == asked


def test_an_interrupt_gets_through_scip() -> None:
    """A real one, in a process of its own: SCIP would take it for itself."""
    code = """
import os, signal, threading
from tests.solve.covering import covering_model
from cutopt.solve.cpsat import solve_mip
model, heard = covering_model(400, 16_000), []
signal.signal(signal.SIGINT, lambda *_: heard.append(1))
threading.Timer(0.5, lambda: os.kill(os.getpid(), signal.SIGINT)).start()
print(solve_mip(model, nodes=10**6, stop=lambda: bool(heard)), len(heard))
"""
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
    )
    assert done.stdout.split() in (["unknown", "1"], ["feasible", "1"])


def test_scip_tells_what_cannot_be() -> None:
    model = mip()
    x = model.IntVar(0, 5, "")
    model.Add(2 * x == 5)
    assert solve_mip(model, nodes=10) == "infeasible"


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
