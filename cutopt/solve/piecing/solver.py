"""Planning a job with backs: make-ups are searched for, and the best of them planned together with all other rows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from cutopt.check import check
from cutopt.job import Job
from cutopt.plan import CUTS_LEVEL, Plan, Short
from cutopt.result import Evidence, Moment, Offer, Result, Stopped, estimate_minutes
from cutopt.solve.bounds.joint_bound import JointBound, bound_of_job
from cutopt.solve.bounds.off_grid import roomiest
from cutopt.solve.bounds.purchase_bound import purchase_bound
from cutopt.solve.control.guard import tried
from cutopt.solve.control.interrupt import interruptible
from cutopt.solve.control.progress import Progress, State
from cutopt.solve.control.stop import Meter, Seconds, Stop, Work
from cutopt.solve.cuts.checked_plan import checked_plan
from cutopt.solve.cuts.cutter import Cutter
from cutopt.solve.cuts.offers import THRIFTIEST
from cutopt.solve.empty_job import nothing_to_cut
from cutopt.solve.kernels.loader import load
from cutopt.solve.model.from_job import model_of
from cutopt.solve.piecing.as_rows import AsRows
from cutopt.solve.piecing.laying import known_layout
from cutopt.solve.piecing.levels import levels_of
from cutopt.solve.piecing.make_ups import Made, MakeUps
from cutopt.solve.piecing.why_not import mends, why_not
from cutopt.solve.run import Run
from cutopt.solve.search import prepare
from cutopt.solve.search.briefly import briefly
from cutopt.solve.search.carry_over import Carried

# of the limit: trees, then short plans of several of them; the rest is for the plan of the best one
_TREES: Final = 0.5
_SHORT_PLANS: Final = 0.2
_LEAST_SECONDS: Final = 0.3
# of a search for a mend
_SHORT_SECONDS: Final = 3.0
_SHORT_WORK: Final = 4_000
# make-ups that are planned
_MOST_TRIED: Final = 6
FEWER: Final = "fewer seams"
OTHER: Final = "another way to piece it"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """A make-up of each back, and a plan with them that passed the checker; `carried` is its layout."""

    rows: AsRows
    plan: Plan
    carried: Carried | None

    @property
    def order(self) -> tuple[int, Decimal, int]:
        """The less the better: what must be there and is not, money, seams."""
        lacking = sum(short.count for short in self.plan.lacking)
        return lacking, paid(self.plan), self.plan.totals.seams


def paid(plan: Plan) -> Decimal:
    """What a plan buys: money, or ticks of length where the shop names no prices."""
    if plan.totals.money is not None:
        return plan.totals.money
    return Decimal(sum(each.amount for each in plan.totals.bought))


class PiecedRun:
    """One run over a job with backs.

    Parameters
    ----------
    job : Job
    stop : Seconds or Work
    seed : int
    progress : Progress
    offers : bool
        Whether other plans than the thriftiest are looked for.
    """

    def __init__(
        self, job: Job, stop: Stop, seed: int, progress: Progress, *, offers: bool
    ) -> None:
        self.job = job
        self.stop = stop
        self.seed = seed
        self.progress = progress
        self.offers = offers
        self.meter = Meter(stop)
        self.history: list[Moment] = []
        self.notices: list[str] = []

    def result(self) -> Result:
        """Search for make-ups, plan them, and tell the best."""
        with interruptible(self.meter):
            plans = self.plans()
        if plans:
            return self._told(plans)
        return self._without_backs()

    def plans(self) -> list[Tried]:
        """Plans with the best make-ups, the best first; none where no back can be made."""
        search = MakeUps(self.job, self.meter, self.seed, self.progress, self._note)
        found: list[Tried] = []
        few = search.found(_TREES)[:_MOST_TRIED]
        for made in few:
            one = self._planned(made, _SHORT_PLANS / len(few))
            if one is not None:
                found.append(one)
            if self.meter.asked and found:
                break
        return sorted(found, key=lambda each: each.order)

    def _note(self, least: int | None) -> None:
        """Tell how far the search for make-ups is; what it has found counts where nothing else is wanted."""
        state = State(
            seconds=self.meter.seconds,
            work=self.meter.rounds,
            share=min(1.0, self.meter.share),
            complete=least is not None and not self.job.wanted,
            value=Decimal(least or 0) / 100,
            bound=Decimal(0),
            doing="piecing the back",
        )
        self.progress.at(state)
        moment = Moment(
            seconds=state.seconds,
            work=state.work,
            complete=state.complete,
            value=state.value,
            bound=state.bound,
        )
        known = self.history[-1] if self.history else None
        if known is None or (known.complete, known.value) != (
            moment.complete,
            moment.value,
        ):
            self.history.append(moment)

    def _planned(self, made: Made, share: float) -> Tried | None:
        """The plan of a set of make-ups, from a short search; None where it lacks a part of them or is faulty."""
        rows = AsRows.of(self.job, made)
        if not rows.wanted:
            # blocks alone, nothing is cut
            return self._sewn(rows, nothing_to_cut(rows.rows, self.seed).plan)
        model = roomiest(rows.rows)
        enough = 0
        if not self.job.wanted:
            # to buy less is a matter of other make-ups
            enough = sum(make_up.cost for _, make_up in made)
        outer = self.meter
        if outer.asked:
            # somebody waits, and has to get a whole plan
            outer = Meter(self.stop)
        found = briefly(
            model,
            self._part(share),
            outer,
            load("search", compiled=prepare.is_ready()),
            seed=self.seed,
            begin=known_layout(rows, model).begin,
            enough=enough,
        )
        if not self.meter.timed:
            self.meter.rounds += int(found.spent)
        plan = checked_plan(model, found.layout, Cutter(self.job.settings, model.step))
        if plan is None:
            return None
        carried = Carried(model=model, layout=found.layout, becomes={})
        return self._sewn(rows, plan, carried)

    def _sewn(
        self, rows: AsRows, plan: Plan, carried: Carried | None = None
    ) -> Tried | None:
        """Rows with their plan as one with seams, if the checker finds no fault with it."""
        sewn = rows.plan(plan)
        if sewn is None or check(self.job, sewn):
            return None
        return Tried(rows=rows, plan=sewn, carried=carried)

    def _part(self, share: float) -> Stop:
        """A share of the limit, or what is left of it."""
        if isinstance(self.stop, Seconds):
            left = self.stop.seconds - self.meter.seconds
            return Seconds(max(min(share * self.stop.seconds, left), _LEAST_SECONDS))
        return Work(max(int(share * self.stop.rounds), 1))

    def _at_length(self, rows: AsRows, begin: Carried | None) -> Result:
        """A whole run for rows, from a plan that is known."""
        if not rows.wanted:
            return nothing_to_cut(rows.rows, self.seed)
        run = Run(
            rows.rows,
            self._part(max(1 - self.meter.share, 0.0)),
            self.seed,
            self.progress,
            offers=self.offers,
            begin=begin,
        )
        self.meter.pass_on(run.meter)
        return run.result()

    def _told(self, plans: Sequence[Tried]) -> Result:
        """The result of the best, with other make-ups as other ways to do it."""
        best = plans[0]
        result = self._at_length(best.rows, best.carried)
        offers = list(self._sewn_offers(best, result.offers))
        if not offers:
            # what was known is better than what came of it
            offers = [_as_offer(THRIFTIEST, best.plan, result.offers[0])]
        bound = self._bound()
        lacking, _, seams = best.order
        for other in plans[1:]:
            if other.order[0] > lacking:
                continue
            name = OTHER
            if other.plan.totals.seams < seams:
                name = FEWER
                seams = other.plan.totals.seams
            offers.append(_as_offer(name, other.plan, result.offers[0]))
        told = tuple(_with_levels(self.job, offer, bound.cost) for offer in offers)
        plan = told[0].plan
        return replace(
            result,
            job=self.job,
            offers=told,
            complete=not plan.lacking,
            because="" if plan.lacking else bound.because,
            stopped=self._stopped(plan, result),
            history=tuple(self.history),
            seconds=self.meter.seconds,
            work=self.meter.rounds + result.work,
        )

    def _bound(self) -> JointBound:
        """What no plan with all that must be there costs less than."""
        rows = None
        rest = AsRows.of(self.job, ())
        if rest.wanted and prepare.is_ready() and not self.meter.asked:
            rows = purchase_bound(model_of(rest.rows))
        return tried(
            "How little may be enough",
            lambda: bound_of_job(self.job, rows),
            JointBound(),
            self.notices,
        )

    def _stopped(self, plan: Plan, result: Result) -> Stopped:
        """Why the run ended."""
        if self.meter.asked:
            return "interrupted"
        if all(level.proved for level in plan.levels if level.name != CUTS_LEVEL):
            return "proved"
        if result.stopped == "proved":
            # of this make-up: another one may be better
            return "quiet"
        return result.stopped

    def _sewn_offers(self, best: Tried, offers: Iterable[Offer]) -> Iterator[Offer]:
        """The offers of a run for the rows of a make-up, sewn."""
        for offer in offers:
            plan = best.rows.plan(offer.plan)
            if plan is not None and not check(self.job, plan):
                minutes = estimate_minutes(plan, self.job)
                yield replace(offer, plan=plan, minutes=minutes)

    def _without_backs(self) -> Result:
        """The plan of all other rows, with why there is no back and what would mend it."""
        rows = AsRows.of(self.job, ())
        result = self._at_length(rows, None)
        evidence: list[Evidence] = []
        told: dict[str, Short] = {}
        for back in self.job.backs:
            found = list(mends(self.job, back, self._short_plan))
            evidence += found
            told[back.key] = Short(
                for_=back.key,
                count=1,
                why=why_not(self.job, back),
                mends=tuple(each.said for each in found),
            )
        offers = tuple(_with_short(rows, offer, told) for offer in result.offers)
        return replace(
            result,
            job=self.job,
            offers=offers,
            complete=not offers[0].plan.lacking,
            evidence=(*result.evidence, *evidence),
            seconds=self.meter.seconds,
        )

    def _short_plan(self, job: Job) -> Plan | None:
        """A plan of a changed job, from a short search."""
        if self.meter.asked:
            return None
        limit: Stop = Work(_SHORT_WORK)
        if isinstance(self.stop, Seconds):
            limit = Seconds(min(_SHORT_SECONDS, self.stop.seconds))
        run = PiecedRun(job, limit, self.seed, Progress(), offers=False)
        return next((each.plan for each in run.plans()), None)


def _with_levels(job: Job, offer: Offer, least: int) -> Offer:
    levels = levels_of(job, offer.plan, least)
    return replace(offer, plan=replace(offer.plan, levels=levels))


def _with_short(rows: AsRows, offer: Offer, told: Mapping[str, Short]) -> Offer:
    """An offer of the other rows as one that lacks backs."""
    plan = rows.plan(offer.plan)
    assert plan is not None
    short = tuple(told.get(each.for_, each) for each in plan.short)
    return replace(offer, plan=replace(plan, short=short))


def _as_offer(name: str, plan: Plan, like: Offer) -> Offer:
    """An offer of a plan; its spare cloth is not weighed."""
    return replace(
        like, name=name, plan=plan, minutes=estimate_minutes(plan, plan.origin), also=()
    )
