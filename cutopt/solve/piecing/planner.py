"""A make-up of each back as a plan: a short search for its rows, sewn and judged by the checker."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from cutopt.check import check
from cutopt.job import Job
from cutopt.plan import Plan
from cutopt.result import Offer, estimate_minutes
from cutopt.solve.bounds.off_grid import roomiest
from cutopt.solve.control.stop import Meter, Seconds, Stop, Work
from cutopt.solve.cuts.checked_plan import counted
from cutopt.solve.cuts.cutter import Cutter
from cutopt.solve.cuts.offers import THRIFTIEST, Candidate, as_offer, candidate
from cutopt.solve.empty_job import nothing_to_cut
from cutopt.solve.kernels.loader import load
from cutopt.solve.model.layout import Layout, units_of
from cutopt.solve.piecing.as_rows import AsRows
from cutopt.solve.piecing.laying import known_layout
from cutopt.solve.piecing.levels import cost_of_plan
from cutopt.solve.piecing.make_ups import Made
from cutopt.solve.search import prepare
from cutopt.solve.search.briefly import briefly
from cutopt.solve.search.carry_over import Carried

_LEAST_SECONDS: Final = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """A make-up of each back, and a plan with them that passed the checker; `carried` is its layout."""

    rows: AsRows
    cut: Candidate
    carried: Carried | None

    @property
    def plan(self) -> Plan:
        """For the job with backs."""
        return self.cut.plan

    def offer(self, name: str) -> Offer:
        """One way to do the job, by this name."""
        return as_offer(name, self.cut)

    @property
    def order(self) -> tuple[int, int, int]:
        """The less the better: what must be there and is not, what it costs, seams."""
        lacking = sum(short.count for short in self.plan.lacking)
        return lacking, self.cost, self.plan.totals.seams

    @property
    def cost(self) -> int:
        """What the plan buys: hundredths of money, or ticks where a price is missing."""
        return cost_of_plan(self.rows.job, self.plan)

    @property
    def is_bought_whole(self) -> bool:
        """Whether all backs are of new cloth alone."""
        return all(make_up.is_bought_whole for _, make_up in self.rows.made)


def _uncut(rows: Job) -> Candidate:
    """Backs of blocks alone: nothing is cut."""
    plan = nothing_to_cut(rows, 0).plan
    layout = Layout(placements=(), purchases=(), missing=(), cost=0)
    return Candidate(
        plan=plan, layout=layout, minutes=0, spare=0, biggest=0, disliked=0
    )


class Planner:
    """Plans make-ups of the backs of a job.

    Parameters
    ----------
    job : Job
    meter : Meter
        Of the whole run: its limit, and whether somebody waits.
    seed : int
    """

    def __init__(self, job: Job, meter: Meter, seed: int) -> None:
        self.job = job
        self.meter = meter
        self.seed = seed

    def part(self, share: float) -> Stop:
        """A share of the limit, or what is left of it."""
        limit = self.meter.limit
        if isinstance(limit, Seconds):
            left = limit.seconds - self.meter.seconds
            return Seconds(max(min(share * limit.seconds, left), _LEAST_SECONDS))
        return Work(max(int(share * limit.rounds), 1))

    def planned(self, made: Made, share: float) -> Tried | None:
        """The plan of a set of make-ups, from a short search; None where it lacks a part of them or is faulty.

        Parameters
        ----------
        made : pairs of a back and its make-up
        share : float
            Of the limit.
        """
        rows = AsRows.of(self.job, made)
        if not rows.wanted:
            return self._sewn(rows, _uncut(rows.rows))
        model = roomiest(rows.rows)
        enough = 0
        if not self.job.wanted:
            # to buy less is a matter of other make-ups
            enough = sum(make_up.cost for _, make_up in made)
        outer = self.meter
        if outer.asked:
            # somebody waits, and has to get a whole plan
            outer = Meter(self.meter.limit)
        found = briefly(
            model,
            self.part(share),
            outer,
            load("search", compiled=prepare.is_ready()),
            seed=self.seed,
            begin=known_layout(rows, model).begin,
            enough=enough,
        )
        if not self.meter.timed:
            self.meter.rounds += int(found.spent)
        cutter = Cutter(self.job.settings, model.step)
        units = units_of(model)
        cut = candidate(THRIFTIEST, model, units, found.layout, cutter, quick=True)
        plan = replace(cut.plan, short=counted(rows.rows, cut.plan))
        carried = Carried(model=model, layout=found.layout, becomes={})
        return self._sewn(rows, replace(cut, plan=plan), carried)

    def _sewn(
        self, rows: AsRows, cut: Candidate, carried: Carried | None = None
    ) -> Tried | None:
        """Rows with their plan as one with seams, if the checker finds no fault with it."""
        sewn = rows.plan(cut.plan)
        if sewn is None or check(self.job, sewn):
            return None
        minutes = estimate_minutes(sewn, self.job)
        cut = replace(cut, plan=sewn, minutes=minutes)
        return Tried(rows=rows, cut=cut, carried=carried)
