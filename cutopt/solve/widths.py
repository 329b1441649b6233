"""What would be bought if the fabric from the bolt were a little narrower or wider than planned."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from cutopt.fabric import ByLength
from cutopt.job import Job
from cutopt.lengths import CM, INCH
from cutopt.result import WidthCase
from cutopt.solve.arrays import Layout
from cutopt.solve.engine import Engine
from cutopt.solve.model import Model
from cutopt.solve.whatif import place, short_limit, what_if

if TYPE_CHECKING:
    from cutopt.solve.solver import Run

# usable widths of fabric sold as 44/45 in (110 cm) wide (common practice, no source)
_WIDTHS = {"in": tuple(n * INCH for n in (40, 41, 42, 43)), "cm": tuple(n * CM for n in (102, 104, 106, 108))}
_NEAR = 3 * INCH


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
            case = _case(run.model, width, layout, complete=run.complete)
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
    job = _with_width(run.job, width, near)
    answer = what_if(run, job, short_limit(run), lambda engine: _start_from(run, engine))
    return _case(answer.model, width, answer.layout, complete=answer.complete)


def _start_from(run: Run, engine: Engine) -> None:
    """Start with what the run cuts from the pile, its purchases given back; anew where that leads to no plan."""
    arrays = run.engine.arrays  # where the purchases belong: the variant has other lengths to buy
    pile = arrays.state(run.seed)
    engine.copy(run.engine.best, pile)
    engine.kernel.reduce_to(arrays.problem, pile, arrays.scratch(), 0)
    engine.copy(pile, engine.best)
    place(engine)
    if engine.missing():
        engine.first()


def _with_width(job: Job, width: int, near: set[int]) -> Job:
    shop = tuple(
        replace(row, usable_width=width) if isinstance(row, ByLength) and row.usable_width in near else row
        for row in job.shop
    )
    return replace(job, shop=shop)


def _case(model: Model, width: int, layout: Layout, *, complete: bool) -> WidthCase:
    lengths: Counter[str] = Counter()
    pieces: Counter[str] = Counter()
    for p in layout.purchases:
        sheet = model.sheets[p.sheet]
        fabric = model.job.fabrics[sheet.fabric].name
        if sheet.ladder:
            lengths[fabric] += sheet.ladder[p.rung].sold
        else:
            pieces[fabric] += 1
    return WidthCase(
        usable_width=width,
        complete=complete,
        money=Decimal(layout.cost) / 100 if model.priced else None,
        bought=tuple(sorted(lengths.items())),
        pieces=tuple(sorted(pieces.items())),
    )
