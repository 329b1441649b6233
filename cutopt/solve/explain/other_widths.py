"""What would be bought if the fabric from the bolt were a little narrower or wider than planned."""

from __future__ import annotations

from dataclasses import replace

from cutopt.fabric import ByLength
from cutopt.job import Job
from cutopt.lengths import CM, INCH, format_length
from cutopt.plan import Plan
from cutopt.result import WidthCase
from cutopt.solve.context import Context
from cutopt.solve.control.stop import Seconds, Stop, Work
from cutopt.solve.cuts.checked_plan import lacks_nothing
from cutopt.solve.explain.what_if import Answer, short_limit, what_if
from cutopt.solve.model.layout import Layout
from cutopt.solve.model.model import Model
from cutopt.solve.search.briefly import place
from cutopt.solve.search.carry_over import Carried, worth
from cutopt.solve.search.engine import Engine

# usable widths of fabric sold as 44/45 in (110 cm) wide (common practice, no source)
_WIDTHS = {
    "in": tuple(n * INCH for n in (40, 41, 42, 43)),
    "cm": tuple(n * CM for n in (102, 104, 106, 108)),
}
_NEAR = 3 * INCH
# of the limit of the run for one width, and rounds at least
_PART = 0.02
_LEAST_ROUNDS = 500


class Widths:
    """What a plan of a run takes at each usual width of the fabric that it buys from the bolt.

    `answers` has what was found for each width, and None for the one that is planned. `better` is a plan for narrower
    fabric that is better than the one of the run, where one was found: it can be cut from the fabric that is planned.
    """

    def __init__(self, run: Context) -> None:
        self.run = run
        self.answers: dict[int, Answer | None] = {}
        self.better: Carried | None = None

    @classmethod
    def of(cls, run: Context, layout: Layout) -> Widths | None:
        """Search at each width; None where the plan buys no fabric of about such a width."""
        usual = _WIDTHS[run.job.settings.unit]
        near = _near(run.model, layout, usual)
        if not near:
            return None
        widths = cls(run)
        begin = _Begin(run.model, layout)
        for width in usual:
            if run.meter.asked or (run.meter.timed and run.meter.over()):
                break
            if near == {width}:
                widths.answers[width] = None
                continue
            answer = what_if(
                run, _with_width(run.job, width, near), _limit(run), begin, in_part=True
            )
            if answer.plan is None:
                continue
            widths.answers[width] = answer
            begin.narrower = Carried(
                model=answer.model, layout=answer.layout, becomes={}
            )
            if width <= min(near):
                widths._compare(answer, begin.narrower)
        return widths

    def _compare(self, answer: Answer, narrower: Carried) -> None:
        """Keep what was found for narrower fabric where the run, cutting that from its own, has a better plan."""
        engine = self.run.engine
        if self.better is not None:
            known = self.better.laid(engine)
        else:
            known = engine.best
        if answer.complete:
            state = narrower.laid(engine)
        else:
            state = known
        if worth(engine, state)[:2] < worth(engine, known)[:2]:
            self.better = narrower

    def cases(self, plan: Plan) -> tuple[WidthCase, ...]:
        """A case for each width, with `plan` for the one that is planned; the plans are noted as evidence."""
        unit = self.run.job.settings.unit
        cases = []
        for width, answer in self.answers.items():
            if answer is not None:
                found = answer.plan
            else:
                found = plan
            if found is None:
                continue
            if answer is not None:
                said = f"with fabric {format_length(width, unit, mark=True)} wide"
                self.run.evidence.append(answer.evidence(said))
            cases.append(_case(width, found))
        return tuple(cases)


def _near(model: Model, layout: Layout, usual: tuple[int, ...]) -> set[int]:
    """The widths of the fabrics that are bought from the bolt, if they are about as wide as is usual."""
    bought = {
        offered
        for p in layout.purchases
        if (offered := model.sheets[p.sheet].offered) is not None
    }
    widths = {
        offered.usable_width for offered in bought if isinstance(offered, ByLength)
    }
    return {width for width in widths if usual[0] - _NEAR <= width <= usual[-1] + _NEAR}


def _limit(run: Context) -> Stop:
    """Of one search for another width: a small part of the run, whatever its limit."""
    short = short_limit(run)
    limit = run.meter.limit
    if isinstance(short, Seconds) and isinstance(limit, Seconds):
        return Seconds(min(short.seconds, limit.seconds * _PART))
    if isinstance(short, Work) and isinstance(limit, Work):
        return Work(min(short.rounds, max(_LEAST_ROUNDS, limit.rounds // 4)))
    return short


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
        replace(row, usable_width=width)
        if isinstance(row, ByLength) and row.usable_width in near
        else row
        for row in job.shop
    )
    return replace(job, shop=shop)


def _case(width: int, plan: Plan) -> WidthCase:
    totals = plan.totals
    return WidthCase(
        usable_width=width,
        complete=plan.origin is not None and lacks_nothing(plan.origin, plan),
        money=totals.money,
        bought=totals.bought,
        plan=plan,
    )
