"""The one door to OR-Tools: CP-SAT and SCIP that stop when told to, and linear programmes by GLOP.

Ctrl-C: the handlers of CP-SAT and of SCIP swallow it, so they are switched off, the solver runs in a worker thread,
and the main thread waits in steps of 50 ms, in which Python delivers the interrupt.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping, Sequence
from typing import Any

_WAIT = 0.05
# cuts and presolve in short: at length they take most of the time where a few dozen of some thousand patterns are
# chosen, and without any some choices are never found
_SCIP = {
    "misc/catchctrlc": "FALSE",
    "separating/maxrounds": 1,
    "separating/maxroundsroot": 10,
    "presolving/maxrounds": 2,
}


def warm_up() -> None:
    """Load OR-Tools (about half a second), for a thread of its own while something else is done."""
    from ortools.linear_solver import pywraplp  # noqa: F401
    from ortools.sat.python import cp_model  # noqa: F401


def solve_cp(
    model: Any,
    *,
    work: float,
    seed: int = 0,
    workers: int = 1,
    presolve: bool = True,
    stop: Callable[[], bool] | None = None,
) -> tuple[str, Any]:
    """Solve a CP-SAT model within a deterministic limit; the same model, work and seed give the same answer.

    Parameters
    ----------
    model : ortools.sat.python.cp_model.CpModel
    work : float
        Limit in CP-SAT's deterministic time, about seconds.
    workers : int
        Subsolvers; more than one are interleaved, which keeps the answer the same on any number of cores.
    stop : callable, optional
        Asked every 50 ms; true ends the search with what it has.

    Returns
    -------
    status : {"optimal", "feasible", "infeasible", "unknown"}
    solver : ortools.sat.python.cp_model.CpSolver

    Raises
    ------
    KeyboardInterrupt
        After the search has been stopped.
    """
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    parameters = solver.parameters
    parameters.catch_sigint_signal = False
    parameters.max_deterministic_time = work
    parameters.random_seed = seed
    parameters.num_workers = workers
    parameters.interleave_search = workers > 1
    parameters.cp_model_presolve = presolve
    answer: list[Any] = []
    _in_thread(lambda: answer.append(solver.Solve(model)), solver.StopSearch, stop)
    names = {
        cp_model.OPTIMAL: "optimal",
        cp_model.FEASIBLE: "feasible",
        cp_model.INFEASIBLE: "infeasible",
    }
    if answer[0] == cp_model.MODEL_INVALID:
        raise ValueError(model.Validate())
    return names.get(answer[0], "unknown"), solver


def _in_thread(
    run: Callable[[], object],
    halt: Callable[[], None],
    stop: Callable[[], bool] | None,
    *,
    leave: bool = False,
) -> bool:
    """Run in a worker thread; halt it when `stop` says so or the wait is interrupted. Whether it came to its end.

    With `leave` it is left to itself where it does not hear soon that it is to stop, and says nothing more; else it
    is waited for.
    """
    done = threading.Event()
    failed = []

    def work() -> None:
        try:
            run()
        except BaseException as error:
            failed.append(error)
        finally:
            done.set()

    def halted() -> bool:
        halt()
        while not done.wait(_WAIT):
            if leave:
                return False
            halt()
        return True

    worker = threading.Thread(target=work, daemon=True)
    worker.start()
    try:
        while not done.wait(_WAIT):
            if stop is not None and stop() and not halted():
                return False
    except BaseException:
        halted()
        raise
    if failed:
        raise failed[0]
    return True


def solve_mip(
    solver: Any, *, nodes: int, stop: Callable[[], bool] | None = None
) -> str:
    """Solve a model of `pywraplp` by SCIP, with at most so many nodes; the same model gives the same answer.

    Parameters
    ----------
    solver : ortools.linear_solver.pywraplp.Solver
        Made by :func:`mip`.
    nodes : int
    stop : callable, optional
        Asked every 50 ms; true ends the search with what it has.

    Returns
    -------
    {"optimal", "feasible", "infeasible", "unknown"}

    Raises
    ------
    KeyboardInterrupt
        After the search has been stopped.
    """
    settings = "".join(
        f"{name} = {value}\n"
        for name, value in {**_SCIP, "limits/totalnodes": nodes}.items()
    )
    if not solver.SetSolverSpecificParametersAsString(settings):
        raise ValueError("SCIP does not know one of its settings")
    answer: list[int] = []
    # in a large linear programme SCIP hears of a stop only seconds later
    if not _in_thread(
        lambda: answer.append(solver.Solve()), solver.InterruptSolve, stop, leave=True
    ):
        return "unknown"
    names = {
        solver.OPTIMAL: "optimal",
        solver.FEASIBLE: "feasible",
        solver.INFEASIBLE: "infeasible",
    }
    return names.get(answer[0], "unknown")


def mip() -> Any:
    """An empty model for :func:`solve_mip`."""
    from ortools.linear_solver import pywraplp

    return pywraplp.Solver.CreateSolver("SCIP")


class Covering:
    """A linear programme: least shortage by weight of needs, covered by patterns of limited cloth (GLOP).

    Row k asks for `demands[k]`; a shortage of it costs `weights[k]` a unit. Cloth s may be used `copies[s]` times,
    each use a column of :meth:`add`. Rows are scaled to the largest worth, which keeps the numbers near one.
    Floats: what they say is only a hint for prices.
    """

    def __init__(
        self, demands: Sequence[int], weights: Sequence[int], copies: Sequence[int]
    ) -> None:
        from ortools.linear_solver import pywraplp

        self.solver = pywraplp.Solver.CreateSolver("GLOP")
        self.scale = max(weights)
        self.weights = [weight / self.scale for weight in weights]
        goal = self.solver.Objective()
        infinity = self.solver.infinity()
        goal.SetMinimization()
        self.rows = [
            self.solver.Constraint(weight * demand, infinity)
            for weight, demand in zip(self.weights, demands, strict=True)
        ]
        self.cloth = [
            self.solver.Constraint(-infinity, float(count)) for count in copies
        ]
        for row in self.rows:
            short = self.solver.NumVar(0.0, infinity, "")
            row.SetCoefficient(short, 1.0)
            goal.SetCoefficient(short, 1.0)

    def add(self, source: int, counts: Mapping[int, int]) -> None:
        """Offer a pattern of a cloth: how much of each need it gives."""
        column = self.solver.NumVar(0.0, self.solver.infinity(), "")
        self.cloth[source].SetCoefficient(column, 1.0)
        for need, amount in counts.items():
            self.rows[need].SetCoefficient(column, self.weights[need] * amount)

    def solve(self) -> tuple[float, list[float], list[float]] | None:
        """The least shortage, the price of a unit of each need and (0 or less) of each cloth; None if it fails."""
        if self.solver.Solve() != self.solver.OPTIMAL:
            return None
        shares = [min(max(row.dual_value(), 0.0), 1.0) for row in self.rows]
        prices = [
            share * weight * self.scale
            for share, weight in zip(shares, self.weights, strict=True)
        ]
        return (
            self.solver.Objective().Value() * self.scale,
            prices,
            [min(row.dual_value(), 0.0) * self.scale for row in self.cloth],
        )
