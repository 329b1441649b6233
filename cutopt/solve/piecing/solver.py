"""Planning a job with backs: make-ups are searched for, and the best of them planned together with all other rows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from cutopt.check import check
from cutopt.job import Job
from cutopt.piecing import Back
from cutopt.plan import Plan, Short
from cutopt.result import Evidence, Moment, Offer, Result, estimate_minutes
from cutopt.solve.control.progress import Progress, State
from cutopt.solve.control.stop import Meter, Seconds, Stop, Work
from cutopt.solve.empty_job import nothing_to_cut
from cutopt.solve.piecing import ready
from cutopt.solve.piecing.as_rows import AsRows
from cutopt.solve.piecing.make_up import MakeUp
from cutopt.solve.piecing.task import tasks_of
from cutopt.solve.piecing.trees import COURSE, Trees
from cutopt.solve.piecing.why_not import mends, why_not
from cutopt.solve.run import Run, interruptible

# of the limit: trees, then short plans of several of them; the rest is for the plan of the best one
_TREES: Final = 0.45
_SHORT_PLANS: Final = 0.25
# rounds of the search for trees that take as long as one of the other search
_AS_LONG: Final = 8
_FIRST_COURSE: Final = 4_000
_PLAIN_COURSE: Final = 40
# of a search for a mend
_SHORT_SECONDS: Final = 3.0
_SHORT_WORK: Final = 4_000
# make-ups that are planned
_MOST_TRIED: Final = 5
# most people give a step of the sale for so many parts less (1/64 of a part, as the search for trees weighs them)
FEWER: Final = "fewer seams"
OTHER: Final = "another way to piece it"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """A make-up of each back, and a plan with them that passed the checker."""

    rows: AsRows
    plan: Plan
    result: Result

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

    def result(self) -> Result:
        """Search for make-ups, plan them, and tell the best."""
        with interruptible(self.meter):
            found = self._make_ups()
        tried = self._tried(found)
        if not tried:
            return self._without_backs()
        return self._told(tried)

    def best(self) -> Plan | None:
        """The best plan with backs alone, with nothing told beside it; None where there is none."""
        tried = self._tried(self._make_ups())
        if tried:
            return tried[0].plan
        return None

    def _make_ups(self) -> list[tuple[tuple[Back, MakeUp], ...]]:
        """Sets of make-ups, one for each back that can be made, the best first."""
        chosen: list[tuple[Back, list[MakeUp]]] = []
        share = _TREES / len(self.job.backs)
        for number, back in enumerate(self.job.backs, start=1):
            found = self._front(back, share * number)
            if found:
                chosen.append((back, found))
        if not chosen:
            return []
        best = tuple((back, found[0]) for back, found in chosen)
        others = (
            _with(best, back, other) for back, found in chosen for other in found[1:]
        )
        return [best, *others]

    def _front(self, back: Back, until: float) -> list[MakeUp]:
        """Make-ups of a back of which none is better in money and in parts, the best in both together first."""
        tasks = tasks_of(self.job, back)
        searches = [Trees(task, self.seed, compiled=ready.is_ready()) for task in tasks]
        if not ready.is_ready():
            ready.start()
        number = 0
        while True:
            search = searches[number % len(searches)]
            if not search.compiled and ready.is_ready():
                search.use_compiled()
            number += 1
            self._course(search, number)
            if self.meter.over(until) or (search.least == 0 and number > 8):
                break
        found = [make_up for search in searches for make_up in search.make_ups()]
        return _front_of(found)

    def _course(self, search: Trees, number: int) -> None:
        """One course of a search, shorter where there is little time or nothing is compiled."""
        rounds = COURSE
        if number == 1:
            rounds = _FIRST_COURSE
        if not search.compiled:
            rounds = _PLAIN_COURSE
        if isinstance(self.stop, Work):
            rounds = min(rounds, max(self.stop.rounds * _AS_LONG // 4, 64))
        search.halt = self.meter.halt
        search.course(rounds)
        self.meter.rounds += max(rounds // _AS_LONG, 1)
        self._at("piecing the back", search.least)

    def _at(self, doing: str, value: int | None) -> None:
        share = min(1.0, self.meter.share)
        state = State(
            seconds=self.meter.seconds,
            work=self.meter.rounds,
            share=share,
            complete=value is not None,
            value=Decimal(value or 0) / 100,
            bound=Decimal(0),
            doing=doing,
        )
        self.progress.at(state)

    def _tried(self, sets: Sequence[tuple[tuple[Back, MakeUp], ...]]) -> list[Tried]:
        """Plans of the first sets of make-ups, the best first; the best is planned at length."""
        found: list[Tried] = []
        few = sets[:_MOST_TRIED]
        for made in few:
            tried = self._planned(made, _SHORT_PLANS / len(few), offers=False)
            if tried is not None:
                found.append(tried)
            if self.meter.asked and found:
                break
        found.sort(key=lambda tried: tried.order)
        if found and not self.meter.asked:
            longer = self._planned(
                found[0].rows.made, 1 - _TREES - _SHORT_PLANS, offers=self.offers
            )
            if longer is not None and longer.order <= found[0].order:
                found[0] = longer
        return found

    def _planned(
        self, made: tuple[tuple[Back, MakeUp], ...], share: float, *, offers: bool
    ) -> Tried | None:
        """The plan of a set of make-ups in a share of the limit; None where it lacks a part of them or is faulty."""
        rows = AsRows.of(self.job, made)
        if rows.rows.wanted:
            run = Run(
                rows.rows, self._part(share), self.seed, self.progress, offers=offers
            )
            self.meter.pass_on(run.meter)
            result = run.result()
        else:
            # blocks alone, nothing is cut
            result = nothing_to_cut(rows.rows, self.seed)
        plan = rows.plan(result.plan)
        if plan is None or check(self.job, plan):
            return None
        return Tried(rows=rows, plan=plan, result=result)

    def _part(self, share: float) -> Stop:
        if isinstance(self.stop, Seconds):
            left = self.stop.seconds - self.meter.seconds
            return Seconds(max(min(share * self.stop.seconds, left), 0.3))
        return Work(max(int(share * self.stop.rounds), 1))

    def _told(self, tried: Sequence[Tried]) -> Result:
        """The result of the best, with other make-ups as other ways to do it."""
        best = tried[0]
        offers = [_as_offer("thriftiest", best)]
        offers += self._same_make_up(best)
        seams = best.plan.totals.seams
        for other in tried[1:]:
            if other.order[0] > best.order[0]:
                continue
            name = OTHER
            if other.plan.totals.seams < seams:
                name = FEWER
                seams = other.plan.totals.seams
            offers.append(_as_offer(name, other))
        return replace(
            best.result,
            job=self.job,
            offers=tuple(offers),
            complete=not best.plan.lacking,
            seconds=self.meter.seconds,
            work=self.meter.rounds,
        )

    def _same_make_up(self, best: Tried) -> Iterator[Offer]:
        """The other offers of the run, cut otherwise and sewn alike."""
        for offer in best.result.offers[1:]:
            plan = best.rows.plan(offer.plan)
            if plan is not None and not check(self.job, plan):
                yield replace(offer, plan=plan)

    def _without_backs(self) -> Result:
        """The plan of all other rows, with why there is no back and what would mend it."""
        rows = AsRows.of(self.job, ())
        if rows.rows.wanted:
            share = 1 - _TREES - _SHORT_PLANS
            result = Run(
                rows.rows,
                self._part(share),
                self.seed,
                self.progress,
                offers=self.offers,
            ).result()
        else:
            result = nothing_to_cut(rows.rows, self.seed)
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
        offers = tuple(self._with_short(rows, offer, told) for offer in result.offers)
        return replace(
            result,
            job=self.job,
            offers=offers,
            complete=not offers[0].plan.lacking,
            evidence=(*result.evidence, *evidence),
            seconds=self.meter.seconds,
        )

    def _with_short(
        self, rows: AsRows, offer: Offer, told: Mapping[str, Short]
    ) -> Offer:
        """An offer of the other rows as one that lacks backs."""
        plan = rows.plan(offer.plan)
        assert plan is not None
        short = tuple(told.get(each.for_, each) for each in plan.short)
        return replace(offer, plan=replace(plan, short=short))

    def _short_plan(self, job: Job) -> Plan | None:
        """A plan of a changed job, from a short search."""
        limit: Stop = Work(_SHORT_WORK)
        if isinstance(self.stop, Seconds):
            limit = Seconds(min(_SHORT_SECONDS, self.stop.seconds))
        if self.meter.asked:
            return None
        return PiecedRun(job, limit, self.seed, Progress(), offers=False).best()


def _with(
    made: Iterable[tuple[Back, MakeUp]], back: Back, make_up: MakeUp
) -> tuple[tuple[Back, MakeUp], ...]:
    """The same, with another make-up of one back."""
    return tuple((each, make_up if each is back else own) for each, own in made)


def _as_offer(name: str, tried: Tried) -> Offer:
    first = tried.result.offers[0]
    return replace(
        first,
        name=name,
        plan=tried.plan,
        minutes=estimate_minutes(tried.plan, tried.plan.origin),
        also=(),
    )


def _front_of(found: Iterable[MakeUp]) -> list[MakeUp]:
    """Make-ups that no other betters in both money and parts, the one first that is worth most."""
    front: list[MakeUp] = []
    for one in sorted(found, key=lambda each: (each.parts, each.cost)):
        if not front or one.cost < front[-1].cost:
            front.append(one)
    front.sort(key=lambda each: each.cost)
    return front
