"""What would be bought if the fabric from the bolt were a little narrower or wider than planned."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from cutopt.fabric import ByLength
from cutopt.job import Job
from cutopt.lengths import CM, INCH
from cutopt.result import WidthCase
from cutopt.solve.arrays import Arrays, Layout, fits_alone, units_of
from cutopt.solve.engine import Engine
from cutopt.solve.model import Model, model_of
from cutopt.solve.stop import Meter, Seconds, Work

if TYPE_CHECKING:
    from cutopt.solve.solver import Run

# usable widths of fabric sold as 44/45 in (110 cm) wide (common practice, no source)
_WIDTHS = {"in": tuple(n * INCH for n in (40, 41, 42, 43)), "cm": tuple(n * CM for n in (102, 104, 106, 108))}
_NEAR = 3 * INCH
_ROUNDS, _SECONDS = 1_500, 0.25
_MUST_ONLY = np.array([1, 0, 0, 0, 0, 0, 0, 0, 0], dtype=np.int64)


def width_cases(run: Run, layout: Layout) -> tuple[WidthCase, ...]:
    """A case for each usual width, where the plan buys fabric of about such a width from the bolt."""
    widths = _WIDTHS[run.job.settings.unit]
    sheets = {run.model.sheets[p.sheet] for p in layout.purchases} if layout.purchases else set()
    bought = [sheet.offered.usable_width for sheet in sheets if isinstance(sheet.offered, ByLength)]
    near = [width for width in bought if widths[0] - _NEAR <= width <= widths[-1] + _NEAR]
    if not near or run.engine.kernel is None or run.meter.asked:
        return ()
    cases: list[WidthCase] = []
    for width in widths:
        if len(set(near)) == 1 and width == near[0]:
            case = _case(run.model, width, layout, complete=run.engine.missing() == 0)
        else:
            case = _solved(run, width, set(near))
        cases.append(_no_worse(case, cases))
        if run.meter.asked:
            return ()
    return tuple(cases)


def _no_worse(case: WidthCase, narrower: list[WidthCase]) -> WidthCase:
    """A plan for narrower fabric can be cut from wider fabric too."""
    for other in narrower:
        if (other.complete, -(other.money or 0)) > (case.complete, -(case.money or 0)):
            case = replace(other, usable_width=case.usable_width)
    return case


def _solved(run: Run, width: int, near: set[int]) -> WidthCase:
    """A short search of its own for the job with this width; by work where the run is by work."""
    model = model_of(_with_width(run.job, width, near))
    units, fits = units_of(model), fits_alone(model)
    possible: list[bool] = [bool(ways.any()) for ways in fits]
    wanted = np.array([(model.items[u.item].need or u.copies) * possible[u.item] for u in units], dtype=np.int64)
    closed = frozenset(s for s, sheet in enumerate(model.sheets) if sheet.wish == "keep whole") & run.closed
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
        complete = engine.missing() == 0 and hopeful
        return _case(model, width, engine.layout(), complete=complete)
    finally:
        engine.close()


def _with_width(job: Job, width: int, near: set[int]) -> Job:
    shop = tuple(
        replace(row, usable_width=width) if isinstance(row, ByLength) and row.usable_width in near else row
        for row in job.shop
    )
    return replace(job, shop=shop)


def _case(model: Model, width: int, layout: Layout, *, complete: bool) -> WidthCase:
    from decimal import Decimal

    bought: dict[str, int] = {}
    for p in layout.purchases:
        sheet = model.sheets[p.sheet]
        if sheet.offered is None:
            continue
        name = sheet.offered.fabric if p.rung >= 0 else f"{sheet.offered.fabric} each"
        bought[name] = bought.get(name, 0) + (sheet.ladder[p.rung].sold if p.rung >= 0 else 1)
    money = Decimal(layout.cost) / 100 if model.priced else None
    return WidthCase(usable_width=width, complete=complete, money=money, bought=tuple(sorted(bought.items())))
