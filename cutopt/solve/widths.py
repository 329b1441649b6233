"""What would be bought if the fabric from the bolt were a little narrower or wider than planned."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from cutopt.fabric import ByLength
from cutopt.job import Job
from cutopt.lengths import CM, INCH, format_length
from cutopt.plan import Plan
from cutopt.result import Evidence, WidthCase
from cutopt.solve.arrays import Layout
from cutopt.solve.carry import Carried
from cutopt.solve.engine import Engine
from cutopt.solve.model import Model
from cutopt.solve.proof import lacks_nothing
from cutopt.solve.whatif import place, short_limit, what_if

if TYPE_CHECKING:
    from cutopt.solve.solver import Run

# usable widths of fabric sold as 44/45 in (110 cm) wide (common practice, no source)
_WIDTHS = {"in": tuple(n * INCH for n in (40, 41, 42, 43)), "cm": tuple(n * CM for n in (102, 104, 106, 108))}
_NEAR = 3 * INCH


def width_cases(run: Run, layout: Layout, plan: Plan) -> tuple[WidthCase, ...]:
    """A case for each usual width, where the plan buys fabric of about such a width from the bolt.

    Parameters
    ----------
    layout, plan : the plan of the run, and what it was made of
    """
    widths = _WIDTHS[run.job.settings.unit]
    sheets = {run.model.sheets[p.sheet] for p in layout.purchases} if layout.purchases else set()
    bought = [sheet.offered.usable_width for sheet in sheets if isinstance(sheet.offered, ByLength)]
    near = {width for width in bought if widths[0] - _NEAR <= width <= widths[-1] + _NEAR}
    if not near or run.engine.kernel is None or run.meter.asked:
        return ()
    begin, cases = _Begin(run.model, layout), []
    for width in widths:
        if near == {width}:
            cases.append(_case(run.job, width, plan))
        else:
            answer = what_if(run, _with_width(run.job, width, near), short_limit(run), begin, in_part=True)
            if answer.plan is not None:
                cases.append(_case(answer.job, width, answer.plan))
                begin.narrower = Carried(model=answer.model, layout=answer.layout, becomes={})
        if run.meter.asked:
            return ()
    unit = run.job.settings.unit
    for case in cases:
        if case.plan is not plan and case.plan.origin is not None:
            said = f"with fabric {format_length(case.usable_width, unit, mark=True)} wide"
            run.evidence.append(Evidence(said=said, job=case.plan.origin, plan=case.plan))
    return tuple(cases)


class _Begin:
    """Where the search for a width begins: at the plan, or at what was found for narrower fabric if that is better.

    What is cut from narrower fabric can be cut from wider fabric too, so more width never costs more.
    """

    def __init__(self, model: Model, layout: Layout) -> None:
        self.planned = Carried(model=model, layout=layout, becomes={})
        self.narrower: Carried | None = None

    def __call__(self, engine: Engine) -> None:
        """Make that the best state of the search; a plan from nothing where it leads to none."""
        self.planned.begin(engine)
        first = engine.missing(), engine.cost, engine.best
        if self.narrower is not None:
            self.narrower.begin(engine)
            if first[:2] < (engine.missing(), engine.cost):
                engine.best = first[2]
        if engine.missing():
            place(engine)
        if engine.missing():
            engine.first()


def _with_width(job: Job, width: int, near: set[int]) -> Job:
    shop = tuple(
        replace(row, usable_width=width) if isinstance(row, ByLength) and row.usable_width in near else row
        for row in job.shop
    )
    return replace(job, shop=shop)


def _case(job: Job, width: int, plan: Plan) -> WidthCase:
    totals = plan.totals
    return WidthCase(
        usable_width=width,
        complete=lacks_nothing(job, plan),
        money=totals.money,
        bought=tuple(sorted(totals.bought.items())),
        pieces=tuple(sorted(totals.pieces.items())),
        plan=plan,
    )
