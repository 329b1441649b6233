"""A short search of its own for a job that differs a little: other widths, another purchase."""

from __future__ import annotations

from dataclasses import dataclass

from cutopt.job import Job
from cutopt.plan import Plan
from cutopt.result import Evidence
from cutopt.solve.context import Context
from cutopt.solve.control.stop import Seconds, Stop, Work
from cutopt.solve.cuts.checked_plan import checked_plan, lacks_nothing
from cutopt.solve.cuts.cutter import Cutter
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.layout import Layout
from cutopt.solve.model.model import Model
from cutopt.solve.search.briefly import Begin, briefly
from cutopt.solve.search.engine import Engine

_ROUNDS = 1_500
_SECONDS = 0.25
_PART = 0.03


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What a short search found.

    `plan` is one that the checker finds no fault with, None where there is none to speak of. `spent` counts seconds, or
    rounds where the limit is one by work.
    """

    model: Model
    layout: Layout
    plan: Plan | None
    spent: float

    @property
    def job(self) -> Job:
        """What the plan is for."""
        return self.model.job

    @property
    def complete(self) -> bool:
        """Whether a checked plan gives everything that must be cut."""
        return self.plan is not None and lacks_nothing(self.job, self.plan)

    def evidence(self, said: str) -> Evidence:
        """The plan as what stands behind a statement.

        Raises
        ------
        ValueError
            Where there is no plan: then nothing may be said.
        """
        if self.plan is None:
            raise ValueError(f"no plan stands behind this: {said}")
        return Evidence(said=said, job=self.job, plan=self.plan)


def short_limit(run: Context) -> Stop:
    """A small part of the limit of the run, of the same kind; less where the time of the run is over."""
    limit = run.meter.limit
    if isinstance(limit, Seconds):
        if run.meter.share < 1:
            part = _PART * limit.seconds
        else:
            part = 0
        return Seconds(min(max(_SECONDS, part), 10 * _SECONDS))
    return Work(min(max(_ROUNDS, int(_PART * limit.rounds)), 10 * _ROUNDS))


def what_if(
    run: Context,
    job: Job,
    limit: Stop,
    begin: Begin = Engine.first,
    *,
    enough: int = 0,
    in_part: bool = False,
    step: int | None = None,
    planned: bool = True,
) -> Answer:
    """Search a variant of a run's job for the least purchase.

    Parameters
    ----------
    begin : makes the first plan
    enough : a cost that ends the search
    in_part : give a plan also where something that must be cut is missing
    step : ticks of the grid of the search, by default that of the run
    planned : bool
        Whether a plan is made of what is found; where not, whoever asks makes it of the layout before anything is said.
    """
    model = model_of(job, step or run.model.step)
    closed = frozenset(
        s
        for s, sheet in enumerate(model.sheets)
        if run.closed and sheet.wish == "keep whole"
    )
    found = briefly(
        model,
        limit,
        run.meter,
        run.engine.kernel,
        seed=run.seed,
        closed=closed,
        begin=begin,
        enough=enough,
    )
    plan = None
    if planned and (in_part or found.whole):
        plan = checked_plan(model, found.layout, cutter_for(run, model))
    return Answer(model=model, layout=found.layout, plan=plan, spent=found.spent)


def cutter_for(run: Context, model: Model) -> Cutter:
    """The cutter of the run, which remembers how its cloths are cut up, where settings and grid are the same."""
    settings = model.job.settings
    if settings == run.job.settings and model.step == run.model.step:
        return run.cutter
    return Cutter(settings, model.step, run.engine.asked)
