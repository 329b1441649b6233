"""A short search of its own, for a question that comes up beside a run."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeAlias

from cutopt.solve.control.stop import Meter, Stop
from cutopt.solve.model.layout import Layout, fits_alone, units_of, wanted_of
from cutopt.solve.model.model import Model
from cutopt.solve.search.arrays import Arrays
from cutopt.solve.search.descent import EVERYTHING, NO_LIMIT, descend
from cutopt.solve.search.engine import Engine

# makes a plan the best state of a search
Begin: TypeAlias = Callable[[Engine], object]


@dataclass(frozen=True, slots=True, kw_only=True)
class Brief:
    """What a short search found: `whole` where it gives all that must be cut; `spent` in seconds, or rounds."""

    layout: Layout
    whole: bool
    spent: float


def briefly(
    model: Model,
    limit: Stop,
    outer: Meter,
    kernel: Any,
    *,
    seed: int = 0,
    closed: frozenset[int] = frozenset(),
    begin: Begin = Engine.first,
    enough: int = 0,
) -> Brief:
    """Search for the least purchase for a while.

    Parameters
    ----------
    model : Model
    limit : Seconds or Work
    outer : Meter
        Whoever stops that one stops this search too.
    kernel : module
        Plain or compiled.
    seed : int
    closed : frozenset of int
        Sheets that are left whole.
    begin : callable
        Makes the first plan.
    enough : int
        A cost that ends the search.
    """
    begun = time.perf_counter()
    fits = fits_alone(model)
    units = units_of(model)
    wanted = wanted_of(model, units, fits)
    meter = Meter(limit)
    outer.pass_on(meter)
    engine = Engine(Arrays(model, units, wanted, closed, fits), seed, meter)
    try:
        engine.use(kernel)
        begin(engine)
        # a limit by the clock is one of the search
        meter.begun = time.perf_counter()
        if engine.missing():
            place(engine)
        descend(engine, lambda: enough, meter.over)
        hopeful = all(
            ways.any()
            for ways, item in zip(fits, model.items, strict=True)
            if item.rank == 0
        )
        if meter.timed:
            spent = time.perf_counter() - begun
        else:
            spent = meter.rounds
        whole = engine.missing() == 0 and hopeful
        return Brief(layout=engine.layout(), whole=whole, spent=spent)
    finally:
        engine.close()


def place(engine: Engine) -> None:
    """Place what is missing, whatever that costs, within half of the limit."""
    engine.reach(
        EVERYTHING, NO_LIMIT, 1, lambda: engine.missing() == 0 or engine.meter.over(0.5)
    )
