"""A short search of its own for a job that differs a little: other widths, another purchase."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from cutopt.job import Job
from cutopt.solve.arrays import Arrays, Layout, fits_alone, units_of
from cutopt.solve.engine import Engine
from cutopt.solve.model import Model, model_of
from cutopt.solve.stop import Meter, Seconds, Work

if TYPE_CHECKING:
    from cutopt.solve.solver import Run

_ROUNDS, _SECONDS = 1_500, 0.25
_MUST_ONLY = np.array([1, 0, 0, 0, 0, 0, 0, 0, 0], dtype=np.int64)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What a short search found."""

    model: Model
    layout: Layout
    complete: bool


def what_if(run: Run, job: Job) -> Answer:
    """Search a variant of a run's job for the least purchase: by work where the run is by work, else by the clock."""
    model = model_of(job)
    units, fits = units_of(model), fits_alone(model)
    possible = [bool(ways.any()) for ways in fits]
    wanted = np.array([(model.items[u.item].need or u.copies) * possible[u.item] for u in units], dtype=np.int64)
    whole = run.job.pieces and any(run.model.sheets[s].wish == "keep whole" for s in run.closed)
    closed = frozenset(s for s, sheet in enumerate(model.sheets) if whole and sheet.wish == "keep whole")
    meter = Meter(Seconds(_SECONDS) if run.meter.timed else Work(_ROUNDS))
    run.meter.pass_on(meter)
    engine = Engine(Arrays(model, units, wanted, closed, fits), run.seed, meter)
    try:
        engine.use(run.engine.kernel)
        engine.first()
        while engine.missing() == 0 and engine.cost > 0 and not meter.over():
            if not engine.reach(_MUST_ONLY, engine.cost - 1, 1, meter.over):
                break
        hopeful = all(ok for ok, item in zip(possible, model.items, strict=True) if item.rank == 0)
        return Answer(model=model, layout=engine.layout(), complete=engine.missing() == 0 and hopeful)
    finally:
        engine.close()
