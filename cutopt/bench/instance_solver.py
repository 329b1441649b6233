"""The door from a benchmark instance to the solver: the same programmes that plan a maker's job."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from cutopt.bench.instances import Instance, job_of
from cutopt.bench.plans import CutSheet, plan_of
from cutopt.job import Job
from cutopt.plan import Plan
from cutopt.result import Result
from cutopt.solve.bounds.purchase_bound import improve
from cutopt.solve.control.stop import Seconds, Stop
from cutopt.solve.model.from_job import model_of
from cutopt.solve.plates.exact_plate import exact_plate
from cutopt.solve.plates.plate_table import TURNED, UNTURNED, PlatePart, PlatePlacement
from cutopt.solve.plates.shelving import fill_plate

# of the limit, to find a plan with all copies
_SHARE = 0.3
_MOST_COPIES = 2_000


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedInstance:
    """What the solver says: the value, what no plan can better, the plan and the job that it serves."""

    value: int
    bound: int
    job: Job
    plan: Plan

    @property
    def proved(self) -> bool:
        """Whether the value is the best possible, by the solver's own bound."""
        return self.value == self.bound


def solve_instance(instance: Instance, stop: Stop, seed: int = 0) -> SolvedInstance:
    """Solve one instance within a limit.

    Parameters
    ----------
    instance : Instance
    stop : Stop
    seed : int
    """
    if instance.objective == "max value":
        return solve_value(instance, stop, seed)
    return solve_stock(instance, stop, seed)


def solve_value(instance: Instance, stop: Stop, seed: int = 0) -> SolvedInstance:
    """The most value from one sheet, by the exact programmes of plates; `stop` counts if it is in seconds.

    Where copies are limited a good plan is made first; and where the area of the sheet is enough for all of them, the
    maker's search looks for a plan that has all, for a part of the limit.

    Parameters
    ----------
    instance : Instance
    stop : Stop
    seed : int
    """
    stock = instance.stock[0]
    assert stock.h is not None
    if instance.rotate:
        turns = UNTURNED | TURNED
    else:
        turns = UNTURNED
    parts = [
        PlatePart(i.w, i.h, i.value, turns, -1 if i.most is None else i.most)
        for i in instance.items
    ]
    deadline = _deadline(stop)
    known: tuple[int, tuple[PlatePlacement, ...]] = (0, ())
    if any(part.most >= 0 for part in parts):
        filled = fill_plate(stock.w, stock.h, parts, deadline)
        known = (filled.value, filled.placements)
        everything = sum(part.value * part.most for part in parts if part.value > 0)
        if known[0] < everything:
            whole = _with_all(instance, parts, stop, seed)
        else:
            whole = None
        if whole is not None:
            return SolvedInstance(
                value=everything, bound=everything, job=whole.job, plan=whole.plan
            )
    found = exact_plate(stock.w, stock.h, parts, incumbent=known, stop=deadline)
    counts = Counter(k for k, *_ in found.placements)
    job = job_of(instance, [counts[k] for k in range(len(parts))])
    if found.placements:
        sheets = [CutSheet(stock=0, h=stock.h, placed=found.placements)]
    else:
        sheets = []
    return SolvedInstance(
        value=found.value,
        bound=found.bound,
        job=job,
        plan=plan_of(instance, job, sheets),
    )


def _with_all(
    instance: Instance, parts: Sequence[PlatePart], stop: Stop, seed: int
) -> Result | None:
    """A plan of one sheet with all that is worth anything, if the maker's search finds one; None where it does not.

    Raises
    ------
    KeyboardInterrupt
        After Ctrl-C, which that search takes for itself.
    """
    from cutopt.solve.solver import solve

    (stock, *_), counts = (
        instance.stock,
        [part.most if part.value > 0 else 0 for part in parts],
    )
    area = sum(
        part.w * part.h * count for part, count in zip(parts, counts, strict=True)
    )
    if min(counts) < 0 or sum(counts) > _MOST_COPIES or area > stock.w * (stock.h or 0):
        return None
    one = replace(instance, stock=(replace(stock, count=1, cost=1),))
    limit = Seconds(stop.seconds * _SHARE) if isinstance(stop, Seconds) else stop
    result = solve(job_of(one, counts), limit, seed, offers=False)
    if result.stopped == "interrupted":
        raise KeyboardInterrupt
    if result.complete:
        return result
    return None


def _deadline(stop: Stop) -> Callable[[], bool] | None:
    if not isinstance(stop, Seconds):
        return None
    end = time.perf_counter() + stop.seconds
    return lambda: time.perf_counter() >= end


def solve_stock(instance: Instance, stop: Stop, seed: int) -> SolvedInstance:
    """The least cost of sheets, or length of a roll, that gives all items: a job for the maker's solver.

    Where it ends without a proof its bound is worked on for half as long again (timed runs only).

    Parameters
    ----------
    instance : Instance
    stop : Stop
    seed : int

    Raises
    ------
    KeyboardInterrupt
        After Ctrl-C: what the solver has by then did not have its time, and says nothing of it.
    RuntimeError
        Where the solver did not place everything.
    """
    from cutopt.solve.solver import solve

    job = job_of(instance, [item.most or 0 for item in instance.items])
    result = solve(job, stop, seed, offers=False)
    # the solver takes Ctrl-C for itself and gives its best
    if result.stopped == "interrupted":
        raise KeyboardInterrupt
    money = result.plan.totals.money
    if not result.complete or money is None:
        raise RuntimeError(f"{instance.name}: not everything was placed")
    told = next(
        (level.bound for level in result.plan.levels if level.name == "money"), "0"
    )
    value = int(money / instance.price)
    bound = ceil(Fraction(told) / Fraction(instance.price))
    if bound < value and isinstance(stop, Seconds):
        bound = max(
            bound,
            _better_bound(job, value, int(100 * instance.price), stop.seconds / 2),
        )
    return SolvedInstance(value=value, bound=bound, job=job, plan=result.plan)


def _better_bound(job: Job, value: int, one: int, seconds: float) -> int:
    """The bound on the purchase after so many seconds, or when it has reached the value; a cost of 1 is `one` cents."""
    end = time.perf_counter() + seconds
    bound = 0
    for found in improve(model_of(job)):
        bound = -(-found.cost // one)
        if bound >= value or time.perf_counter() >= end:
            break
    return bound
