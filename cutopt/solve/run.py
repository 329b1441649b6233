"""A run of the solver: phases that share its limit, from a first plan to the offers."""

from __future__ import annotations

import time

from cutopt.errors import debugging
from cutopt.job import Job
from cutopt.result import Result
from cutopt.solve import fabrics_named_first
from cutopt.solve.context import Context
from cutopt.solve.control.interrupt import interruptible
from cutopt.solve.control.progress import Progress
from cutopt.solve.control.stop import Meter, Seconds, Stop, Work
from cutopt.solve.cuts.offers import BIGGEST, SIMPLEST, THRIFTIEST, WEIGHTS
from cutopt.solve.finish import finish
from cutopt.solve.kernels.state import W_COST, W_CUT
from cutopt.solve.search import prepare
from cutopt.solve.search.carry_over import Carried, worth
from cutopt.solve.search.descent import EVERYTHING, NO_LIMIT, descend
from cutopt.solve.search.fabrics_together import choose
from cutopt.solve.search.patterns_chosen import Picks
from cutopt.solve.search.purchase_aims import Aims
from cutopt.solve.search.refill import refill, refill_within
from cutopt.solve.search.roll_in_bands import begin_with_bands
from cutopt.solve.search.rows_in_part import (
    lacks,
    one_more_whole,
    without_strips_in_part,
)
from cutopt.solve.search.strips_anew import StripsAnew

# share of the limit: placing everything where that is proved impossible
_HOPELESS = 0.2
# of what is left of the search: rows whole where not all can be had
_ROWS = 0.4
# of the search, for money; the polish of the offers has the rest
_MONEY = 0.65 / 0.93
# of the limit: from which fabric to cut rows that stay together
_CHOICES = 0.25
# of that for money: a length begun with bands that lose little
_BANDS = 0.75
# of the limit, and rounds at least: strips of a plan cut anew once it is polished
_SEWN_ANEW = 0.04
_SEWN_ROUNDS = 4_000
# share of the limit and rounds without news, to leave whole what should be kept so
_KEPT = 0.1
_KEPT_ROUNDS = 2_000
# of what is left by then: keeping to fabrics named first, where the cheapest plan does not
_PREFERRED = 0.35
_POLISH = {THRIFTIEST: 0.5, BIGGEST: 0.75, SIMPLEST: 1.0}
# nodes of a state from which a first plan in plain Python takes longer than loading the compiled code
_LARGE = 4_000


class Run(Context):
    """One run over a job.

    Parameters
    ----------
    job : Job
    stop : Seconds or Work
    seed : int
    progress : Progress
    offers : bool
        Whether other plans than the thriftiest are looked for.
    begin : Carried, optional
        A plan that is known already.
    """

    def __init__(
        self,
        job: Job,
        stop: Stop,
        seed: int,
        progress: Progress,
        *,
        offers: bool = True,
        begin: Carried | None = None,
    ) -> None:
        super().__init__(job, stop, seed, progress)
        self.begin = begin
        self.offers = offers
        self.money_share = self._searching * (_MONEY if offers else 1)
        # whether a length may still be begun with bands
        self._bands = True
        self.picks = Picks(self.engine)
        self.strips = StripsAnew(self.engine)

    def result(self) -> Result:
        """Run all phases, or as many as the limit and an interrupt allow."""
        try:
            with interruptible(self.meter):
                self._search_or_tell()
                return self._finish()
        finally:
            self.engine.close()
            self.feed.close()
            if self.rest is not None:
                self.rest.close()
            self.progress.done()

    def _search_or_tell(self) -> None:
        """Search; where that fails for a reason that nobody foresaw, keep the plan that there is by then."""
        try:
            self._search()
        except Exception as error:
            if debugging() or not self.history:
                raise
            self.failed = True
            self.notices.append(
                f"The search broke off by an error of the program ({type(error).__name__}) and not of your job: "
                "this is the best plan by then."
            )

    def _search(self) -> None:
        if self.engine.arrays.capacity > _LARGE and prepare.is_ready():
            # sooner there than plain Python would be with its first plan
            self.engine.use_compiled()
        self.engine.first()
        if self.begin is not None:
            self._begin_with(self.begin)
        self.note("A first plan is there.")
        unready = self.meter.timed and not prepare.is_ready()
        if (
            self.closed
            and self.engine.missing()
            and (unready or not self.feed.bound.possible)
        ):
            self._open_all()
        ready = self._get_ready()
        if self.closed and self.engine.missing():
            self._keep_whole(search=ready)
        if not ready:
            return
        self._choose()
        self._complete()
        self._rows_before_parts()
        self._cheapen()
        if not self.offers:
            # as much as can be cut, and that for little money
            if self.engine.missing():
                self._polish(THRIFTIEST, self.money_share)
            return
        begun = min(self.meter.share, self.searching)
        if self.job.settings.preference:
            # it may cost more: what is told is the thriftiest plan
            self.told_instead = (
                self.complete,
                self.engine.cost,
            )
            share = begun + _PREFERRED * (self.searching - begun)
            fabrics_named_first.seek(self, share, self._sew_anew)
            self.told_instead = None
            begun = min(self.meter.share, self.searching)
        for name, share in _POLISH.items():
            self._polish(name, begun + share * (self.searching - begun))

    def _begin_with(self, plan: Carried) -> None:
        """Begin with a plan that is known, if it is the better one."""
        known = plan.laid(self.engine)
        if worth(self.engine, known) < worth(self.engine, self.engine.best):
            self.engine.best = known

    def _get_ready(self) -> bool:
        """Have the compiled kernel; on a new machine search in plain Python until it is there."""
        self.ready = lambda: True
        if not prepare.is_ready():
            self.progress.say(
                "Getting the search ready: only the first time on this machine, about half a minute."
            )
            child = prepare.start()
            self.ready = lambda: child.poll() is not None
            if self.meter.timed:
                self.engine.use_plain()
                self._complete()
                self._cheapen()
            while not self.ready():
                if self.meter.over():
                    return False
                time.sleep(0.05)
            self.ready = lambda: True
        return (
            self.engine.kernel not in (None, self.engine.plain)
            or self.engine.use_compiled()
        )

    def _keep_whole(self, *, search: bool) -> None:
        """Look for a plan that leaves whole what should be kept so; cut it after all where none is found."""
        if search:
            until = self.until(
                _KEPT, lambda: self.engine.missing() == 0, "placing everything"
            )
            self.engine.reach(
                EVERYTHING,
                NO_LIMIT,
                1,
                until,
                _KEPT_ROUNDS + 2 * self.engine.arrays.capacity,
            )
        if self.engine.missing():
            self._open_all()

    def _open_all(self) -> None:
        """What should be kept whole is cut after all, because nothing else will do."""
        kernel = self.engine.kernel
        self.engine.close()
        self.feed.close()
        self.engine = self.new_engine(frozenset())
        self.picks = Picks(self.engine)
        self.strips = StripsAnew(self.engine)
        if kernel is not None:
            self.engine.use(kernel)
        self.engine.first()

    def _choose(self) -> None:
        """Find out from which fabric to cut rows that stay together."""
        over = self.until(self.money_share, lambda: False, "choosing fabrics")
        if self.feed.bound.possible and choose(
            self.engine, _CHOICES, lambda: self.bound, over
        ):
            self.note("")

    def _complete(self) -> None:
        """Place everything that must be cut, if that can be done."""
        engine = self.engine
        while engine.missing():
            if self.feed.bound.possible:
                share = self.money_share
            else:
                share = _HOPELESS
            until = self.until(
                share, lambda: engine.missing() == 0, "placing everything"
            )
            engine.reach(EVERYTHING, NO_LIMIT, 1, until)
            if engine.missing() and engine.kernel is not engine.plain:
                refill(engine, EVERYTHING)
            if not (engine.missing() and self.picks.fuller(until)):
                break

    def _rows_before_parts(self) -> None:
        """Where not everything can be had, let rows that are whole come before strips and rows in part."""
        if not self.engine.missing():
            return
        begun = min(self.meter.share, self.money_share)
        share = begun + _ROWS * (self.searching - begun)
        until = self.until(share, lambda: False, "making rows whole")
        # compiling outlasts a search
        prove = prepare.is_ready()
        self.search_with(without_strips_in_part(self.engine, until, prove=prove))
        self.picks = Picks(self.engine)
        self.strips = StripsAnew(self.engine)
        while one_more_whole(self.engine, until, prove=prove):
            pass

    def _cheapen(self) -> None:
        """Buy less and less."""
        engine = self.engine
        if engine.missing():
            return
        if (
            self._bands
            and engine.kernel is not engine.plain
            and engine.cost > self.bound
        ):
            # once is enough: it does the same again
            self._bands = False
            over = self.until(self.money_share, lambda: False, "buying less")
            if begin_with_bands(
                engine, _BANDS * self.money_share, lambda: self.bound, over
            ):
                self.note("")
        if engine.cost > self.bound and refill_within(engine, self.bound):
            self.note("")
        self._descend()

    def _descend(self) -> None:
        """Look for one lower cost after the other, and where none is found for purchases to aim at."""
        engine = self.engine
        aims = Aims(self.engine)
        over = self.until(
            self.money_share, lambda: engine.cost <= self.bound, "buying less"
        )

        def others(goal: int, rounds: int) -> bool:
            if refill_within(engine, goal) or self.picks.cheaper(self.bound, over):
                return True
            last = (
                engine.cost - goal <= engine.arrays.cost_step
                and engine.kernel is not engine.plain
            )
            return last and aims.reach(self.bound_of_rest, goal, 2 * rounds, over)

        try:
            descend(
                engine,
                lambda: self.bound,
                over,
                news=lambda: self.note(""),
                others=others,
            )
        finally:
            aims.close()

    def _sew_anew(self) -> None:
        """Cut strips anew where they are of more segments, or more mixed, than they need be."""
        meter = Meter(_sewing(self.meter.limit))
        self.meter.pass_on(meter)
        if self.strips.better(meter):
            self.note("")

    def _polish(self, name: str, share: float) -> None:
        """Better the plan in what comes after money, as one of the offers weighs it."""
        weights = WEIGHTS[name].copy()
        budget = self.engine.cost
        keep = self.engine.arrays.state(self.seed)
        self.engine.copy(self.engine.best, keep)
        # it may cost more: what is told of the run is the thriftiest plan
        if name != THRIFTIEST:
            self.told_instead = self.complete, self.engine.cost
        if name == SIMPLEST:
            budget += self._allowance()
            weights[W_COST] = 10 * int(weights[W_CUT]) // max(1, self._typical_step())
        if not self.meter.over(share):
            lacking = lacks(self.engine.arrays, keep)
            if self.engine.missing(1) + self.engine.missing(2):
                refill(self.engine, weights)
            self.engine.reach(
                weights,
                budget,
                3,
                self.until(share, lambda: False, f"looking for the plan: {name}"),
            )
            self._sew_anew()
            if lacks(self.engine.arrays, self.engine.best) > lacking:
                # of what is missing the search weighs the cloth alone
                self.engine.copy(keep, self.engine.best)
            self.best_layouts[name] = self.engine.layout()
        # the other offers start from the thriftiest again
        if name != THRIFTIEST:
            self.engine.copy(keep, self.engine.best)
            self.told_instead = None

    def _allowance(self) -> int:
        """What the simplest offer may cost more than the thriftiest: a tenth, at least two typical steps."""
        if self.engine.cost:
            return max(self.engine.cost // 10, 2 * self._typical_step())
        return 0

    def _typical_step(self) -> int:
        steps = [
            sheet.ladder[-1].cost - sheet.ladder[-2].cost
            for sheet in self.model.sheets
            if len(sheet.ladder) > 1
        ]
        if steps:
            return sorted(steps)[len(steps) // 2]
        return 0

    def _finish(self) -> Result:
        if THRIFTIEST not in self.best_layouts:
            self.best_layouts[THRIFTIEST] = self.engine.layout()
        self.with_all_rows()
        # the bound as it is at the end
        self.note("")
        return finish(self)


def _sewing(limit: Stop) -> Stop:
    """What may be spent on strips that are cut anew."""
    if isinstance(limit, Seconds):
        return Seconds(_SEWN_ANEW * limit.seconds)
    return Work(max(_SEWN_ROUNDS, int(_SEWN_ANEW * limit.rounds)))
