"""Planning a job with backs: make-ups are searched for, and the best of them planned together with all other rows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from cutopt.check import check
from cutopt.job import Job
from cutopt.plan import CUTS_LEVEL, Plan, Short
from cutopt.result import Evidence, Moment, Offer, Result, Stopped, estimate_minutes
from cutopt.solve.bounds.joint_bound import JointBound, bound_of_job
from cutopt.solve.bounds.purchase_bound import purchase_bound
from cutopt.solve.control.guard import tried
from cutopt.solve.control.interrupt import interruptible
from cutopt.solve.control.progress import Progress, State
from cutopt.solve.control.stop import Meter, Seconds, Stop, Work
from cutopt.solve.cuts.offers import THRIFTIEST
from cutopt.solve.empty_job import nothing_to_cut
from cutopt.solve.model.from_job import model_of
from cutopt.solve.piecing.as_rows import AsRows
from cutopt.solve.piecing.beside import BesideBacks
from cutopt.solve.piecing.levels import as_told, levels_of
from cutopt.solve.piecing.make_ups import Made, MakeUps
from cutopt.solve.piecing.planner import Planner, Tried
from cutopt.solve.piecing.told import beside_whole, kept_from, wishes
from cutopt.solve.piecing.why_not import mends, why_not
from cutopt.solve.run import Run
from cutopt.solve.search import prepare
from cutopt.solve.search.carry_over import Carried

# of the limit: make-ups from all there is, then from other cloth; short plans of several; the rest is for the best one
_ALL_CLOTH: Final = 0.5
_OTHER_CLOTH: Final = 0.6
# where none was found
_IN_VAIN: Final = 0.85
_SHORT_PLANS: Final = 0.15
# of the bound on the other rows, each about 20 ms
_PIECES_OF_WORK: Final = 25
# of a search for what is told beside a plan, of the limit and at most
_TOLD: Final = 0.06
_SHORT_SECONDS: Final = 3.0
_SHORT_WORK: Final = 4_000
# another look may cost so much more, and have so many seams more
_DEARER: Final = Fraction(5, 4)
_MORE_SEAMS: Final = 3
FEWER: Final = "fewer seams"
FEWEST: Final = "fewest seams"
OTHER: Final = "another way to piece it"
WHOLE: Final = "the back bought whole"


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
        self.seed = seed
        self.progress = progress
        self.offers = offers
        self.meter = Meter(stop)
        self.planner = Planner(job, self.meter, seed)
        self.history: list[Moment] = []
        self.notices: list[str] = []
        self.bound = JointBound()
        # the cheapest make-up of the back known so far
        self.least: int | None = None

    def result(self) -> Result:
        """Search for make-ups, plan them, and tell the best."""
        with interruptible(self.meter):
            plans = self.plans()
        if plans:
            return self._told(plans)
        return self._without_backs()

    def plans(self) -> list[Tried]:
        """Plans with the best make-ups, the best first; none where no back can be made."""
        self.bound = self._joint_bound()
        search = MakeUps(self.job, self.meter, self.seed, self.progress, self._note)
        if not self.job.wanted and self.bound.possible:
            search.enough = self.bound.cost
        sets = search.found(0, _ALL_CLOTH)
        if not sets and not self.meter.asked:
            # before anybody is told that there is none
            sets = search.found(_ALL_CLOTH, _IN_VAIN)
        if self.offers and sets and not self.meter.asked:
            sets += search.found(_ALL_CLOTH, _OTHER_CLOTH, self._not_again(sets[0]))[:1]
        found: list[Tried] = []
        for made in dict.fromkeys(sets):
            one = self.planner.planned(made, _SHORT_PLANS / len(sets))
            if one is not None:
                found.append(one)
            if self.meter.asked and found:
                break
        return sorted(found, key=lambda each: each.order)

    def _not_again(self, made: Made) -> Counter[str]:
        """Cloth that make-ups of another look leave out: that of the largest parts, or what all else is cut from."""
        if self.job.wanted:
            rest = replace(self.job, backs=(), spare_blocks=())
            limit = self.planner.part(_TOLD)
            run = Run(rest, limit, self.seed, Progress(), offers=False)
            self.meter.pass_on(run.meter)
            sources = run.result().plan.sources
            return Counter(source.piece for source in sources if source.piece)
        largest = (make_up.largest for _, make_up in made)
        pieces = {laid.piece for laid in largest if laid is not None and laid.piece}
        return Counter(
            {
                piece.name: piece.count
                for piece in self.job.pieces
                if piece.name in pieces
            }
        )

    def _joint_bound(self) -> JointBound:
        """What no plan with all that must be there costs less than."""

        def found() -> JointBound:
            rest = AsRows.of(self.job, ())
            rows = None
            ready = prepare.is_ready() and not self.meter.asked
            if rest.wanted and ready:
                # some pieces of work, as many whatever the clock says
                left = iter(range(_PIECES_OF_WORK))
                rows = purchase_bound(
                    model_of(rest.rows), lambda: next(left, None) is None
                )
            return bound_of_job(self.job, rows, sharp=ready)

        return tried("How little may be enough", found, JointBound(), self.notices)

    def _note(self, least: int | None) -> None:
        """Tell how far the search for make-ups is; what it has found counts where nothing else is wanted."""
        known = [each for each in (least, self.least) if each is not None]
        self.least = min(known, default=None)
        state = State(
            seconds=self.meter.seconds,
            work=self.meter.rounds,
            share=min(1.0, self.meter.share),
            complete=self.least is not None and not self.job.wanted,
            value=as_told(self.job, self.least or 0),
            bound=as_told(self.job, self.bound.cost),
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
        if not self.history or self._is_news(self.history[-1], moment):
            self.history.append(moment)

    def _is_news(self, known: Moment, moment: Moment) -> bool:
        """Whether a moment is better than the one before; the search of another look begins anew."""
        if moment.complete != known.complete:
            return moment.complete
        return moment.complete and moment.value < known.value

    def _at_length(self, rows: AsRows, begin: Carried | None) -> Result:
        """A whole run for rows, from a plan that is known."""
        if not rows.wanted:
            return nothing_to_cut(rows.rows, self.seed)
        left = self.planner.part(max(1 - self.meter.share, 0.0))
        run = Run(
            rows.rows,
            left,
            self.seed,
            BesideBacks(self.progress, lambda: as_told(self.job, self.bound.cost)),
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
            offers = [best.offer(THRIFTIEST)]
        offers += self._other_ways(plans)
        short, why = self._why_short(each.for_ for each in offers[0].plan.short)
        offers = [_with_why(offer, short) for offer in offers]
        told = tuple(_with_levels(self.job, each, self.bound.cost) for each in offers)
        plan = told[0].plan
        whole = list(beside_whole(self.job, plan, plans))
        beside: list[Evidence] = []
        if self.offers and not plan.lacking:
            beside += wishes(self.job, plan, self._short_plan)
        return replace(
            result,
            job=self.job,
            offers=told,
            complete=not plan.lacking,
            because="" if plan.lacking else self.bound.because,
            rules=(*result.rules, *(each.said for each in beside)),
            evidence=(*result.evidence, *whole, *beside, *why),
            notices=(
                *(each.said for each in whole),
                *result.notices,
                *self.notices,
            ),
            stopped=self._stopped(plan, result),
            history=tuple(self.history),
            seconds=self.meter.seconds,
            work=self.meter.rounds + result.work,
        )

    def _other_ways(self, plans: Sequence[Tried]) -> Iterator[Offer]:
        """Other make-ups that are worth showing: of fewer seams, or unlike the first at little more."""
        lacking, cost, seams = plans[0].order
        most = seams + _MORE_SEAMS
        names = [FEWER, FEWEST]
        others = [OTHER]
        for other in plans[1:]:
            if other.order[0] > lacking:
                continue
            if other.plan.totals.seams < seams:
                seams = other.plan.totals.seams
                if other.is_bought_whole:
                    yield other.offer(WHOLE)
                elif names:
                    yield other.offer(names.pop(0))
            elif others and self._is_near(other, cost, most):
                yield other.offer(others.pop())

    def _is_near(self, other: Tried, cost: int, most: int) -> bool:
        """Whether another look costs little more, and has not many seams more."""
        return other.cost <= cost * _DEARER and other.plan.totals.seams <= most

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
        told, evidence = self._why_short(back.key for back in self.job.backs)
        offers = tuple(_with_short(rows, offer, told) for offer in result.offers)
        offers = tuple(_with_levels(self.job, offer, 0) for offer in offers)
        return replace(
            result,
            job=self.job,
            offers=offers,
            complete=not offers[0].plan.lacking,
            because="",
            # all else may be proved, not that there is no back
            stopped="quiet" if result.stopped == "proved" else result.stopped,
            evidence=(*result.evidence, *evidence),
            seconds=self.meter.seconds,
        )

    def _why_short(
        self, backs: Iterable[str]
    ) -> tuple[dict[str, Short], list[Evidence]]:
        """Why backs, by their keys, are short, and what would mend it."""
        keys = set(backs)
        evidence: list[Evidence] = []
        told: dict[str, Short] = {}
        for back in self.job.backs:
            if back.key not in keys:
                continue
            found = list(kept_from(self.job, back, self._short_plan))
            found += mends(self.job, back, self._short_plan)
            evidence += found
            told[back.key] = Short(
                for_=back.key,
                count=1,
                why=why_not(self.job, back),
                mends=tuple(each.said for each in found),
            )
        return told, evidence

    @property
    def _short_plan(self) -> Callable[[Job], Plan | None]:
        """A short search for a changed job: its best plan, or None."""
        limit: Stop = Work(_SHORT_WORK)
        if isinstance(self.meter.limit, Seconds):
            seconds = _TOLD * self.meter.limit.seconds
            limit = Seconds(min(max(seconds, 1.0), _SHORT_SECONDS))

        def planned(job: Job) -> Plan | None:
            if self.meter.asked:
                return None
            run = PiecedRun(job, limit, self.seed, Progress(), offers=False)
            return next((each.plan for each in run.plans()), None)

        return planned


def _with_levels(job: Job, offer: Offer, least: int) -> Offer:
    levels = levels_of(job, offer.plan, least)
    return replace(offer, plan=replace(offer.plan, levels=levels))


def _with_short(rows: AsRows, offer: Offer, told: Mapping[str, Short]) -> Offer:
    """An offer of the other rows as one that lacks backs."""
    plan = rows.plan(offer.plan)
    assert plan is not None
    return _with_why(replace(offer, plan=plan), told)


def _with_why(offer: Offer, told: Mapping[str, Short]) -> Offer:
    """An offer that says why backs are short."""
    short = tuple(told.get(each.for_, each) for each in offer.plan.short)
    return replace(offer, plan=replace(offer.plan, short=short))
