"""A short search of its own for a job that differs a little: other widths, another purchase."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from cutopt.job import Job
from cutopt.solve.arrays import Arrays, Layout, fits_alone, units_of
from cutopt.solve.descent import descend
from cutopt.solve.engine import Engine
from cutopt.solve.model import Model, model_of
from cutopt.solve.stop import Meter, Seconds, Stop, Work

if TYPE_CHECKING:
    from cutopt.solve.solver import Run

_ROUNDS, _SECONDS, _PART = 1_500, 0.25, 0.03
_PLACE = np.array([10**9, 0, 0, 1, 0, 0, 0, 0, 0], dtype=np.int64)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What a short search found."""

    model: Model
    layout: Layout
    complete: bool


def what_if(run: Run, job: Job, *, alike: bool = False, enough: int = 0) -> Answer:
    """Search a variant of a run's job for the least purchase: by work where the run is by work, else by the clock.

    `alike` says that the variant differs in widths only, so that the search may start from the plan of the run.
    A cost of `enough` ends the search.
    """
    model = model_of(job)
    units, fits = units_of(model), fits_alone(model)
    possible = [bool(ways.any()) for ways in fits]
    wanted = np.array([(model.items[u.item].need or u.copies) * possible[u.item] for u in units], dtype=np.int64)
    closed = frozenset(s for s, sheet in enumerate(model.sheets) if run.closed and sheet.wish == "keep whole")
    meter = Meter(_limit(run))
    run.meter.pass_on(meter)
    engine = Engine(Arrays(model, units, wanted, closed, fits), run.seed, meter)
    try:
        engine.use(run.engine.kernel)
        if not (alike and _start_from(run, engine)):
            engine.first()
        if engine.missing():
            _place(engine)
        descend(engine, lambda: enough, meter.over)
        hopeful = all(ok for ok, item in zip(possible, model.items, strict=True) if item.rank == 0)
        return Answer(model=model, layout=engine.layout(), complete=engine.missing() == 0 and hopeful)
    finally:
        engine.close()


def _limit(run: Run) -> Stop:
    """A small part of the limit of the run, of the same kind; less where the time of the run is over."""
    limit = run.meter.limit
    if isinstance(limit, Seconds):
        part = _PART * limit.seconds if run.meter.share < 1 else 0
        return Seconds(min(max(_SECONDS, part), 10 * _SECONDS))
    return Work(min(max(_ROUNDS, int(_PART * limit.rounds)), 10 * _ROUNDS))


def _start_from(run: Run, engine: Engine) -> bool:
    """Start with what the run cuts from the pile, its purchases given back; False where that leads to no plan."""
    arrays = run.engine.arrays  # where the purchases belong: the variant has other lengths to buy
    pile = arrays.state(run.seed)
    engine.copy(run.engine.best, pile)
    engine.kernel.reduce_to(arrays.problem, pile, arrays.scratch(), 0)
    engine.copy(pile, engine.best)
    _place(engine)
    return engine.missing() == 0


def _place(engine: Engine) -> None:
    """Place what is missing, whatever that costs, within half of the limit."""
    engine.reach(_PLACE, 1 << 58, 1, lambda: engine.missing() == 0 or engine.meter.over(0.5))
