"""The one public sentence of the solver: `solve(job, stop=..., seed=...) -> Result`."""

from __future__ import annotations

import threading
import time
import weakref
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from decimal import Decimal

from cutopt.errors import Problem, debugging
from cutopt.job import Job
from cutopt.result import Evidence, Moment, Result
from cutopt.solve import preferred, prepare
from cutopt.solve.aims import Aims
from cutopt.solve.arrays import Arrays, Layout, fits_alone, units_of, wanted_of
from cutopt.solve.carry import Carried
from cutopt.solve.cutter import Cutter
from cutopt.solve.descent import EVERYTHING, NO_LIMIT, descend
from cutopt.solve.engine import Engine
from cutopt.solve.feed import BoundFeed
from cutopt.solve.kernels.state import W_COST, W_CUT
from cutopt.solve.model import Model
from cutopt.solve.nothing import nothing_to_cut
from cutopt.solve.offers import BIGGEST, SIMPLEST, THRIFTIEST, WEIGHTS
from cutopt.solve.picking import Picks
from cutopt.solve.progress import Progress, State
from cutopt.solve.refill import refill, refill_within
from cutopt.solve.roll import begin_with_bands
from cutopt.solve.snug import roomiest
from cutopt.solve.stop import Meter, Seconds, Stop
from cutopt.solve.together import choose

# shares of the limit at which the phases end: placing everything where that is proved impossible, money, and the
# polish of the offers, of which each has its share of what is left by then
_HOPELESS, _MONEY, _POLISHED = 0.2, 0.65, 0.93
_SEARCHING = 0.7  # of a limit in seconds is for the search at least, however many parts there are to be told of
_TELLING = 0.005  # seconds that it takes for each part to cut it up, check it and tell what else there is to tell
_CHOICES = 0.25  # of the limit: from which fabric to cut rows that stay together
_BANDS = 0.75  # of that for money: a length begun with bands that lose little
_KEPT, _KEPT_ROUNDS = 0.1, 2_000  # share of the limit and rounds without news, to leave whole what should be kept so
_PREFERRED = 0.35  # of what is left by then: keeping to fabrics named first, where the cheapest plan does not
_POLISH = {THRIFTIEST: 0.5, BIGGEST: 0.75, SIMPLEST: 1.0}
_LARGE = 4_000  # nodes of a state from which a first plan in plain Python takes longer than loading the compiled code


def solve(
    job: Job, stop: Stop | None = None, seed: int = 0, progress: Progress | None = None, *, offers: bool = True
) -> Result:
    """Plan a job.

    Parameters
    ----------
    job : Job
    stop : Seconds or Work, default Seconds(5)
        `Work(n)` gives the same plan for the same seed on any machine.
    seed : int
    progress : Progress, optional
    offers : bool
        Without offers the whole limit goes into the least money, and only the thriftiest plan is shown.

    Returns
    -------
    Result
        Its first offer is the thriftiest plan met. An interrupt (Ctrl-C, or :func:`stop_all` from another
        thread) returns the best so far.

    Raises
    ------
    Problem
        For a stop or seed that makes no sense.
    """
    if not isinstance(seed, int) or not 0 <= seed < 2**31:
        raise Problem("seed", f'"{seed}" is not a whole number from 0', "write one such as 0 or 7")
    if not job.wanted:
        return nothing_to_cut(job, seed)
    return Run(job, stop or Seconds(5), seed, progress or Progress(), offers=offers).result()


_running: set[weakref.ref[Meter]] = set()  # until nobody holds them: a run may fail while it is set up


def stop_all() -> None:
    """Ask every search of this process to stop and return its best; callable from any thread."""
    for running in list(_running):
        meter = running()
        if meter is not None:
            meter.stop()


class Run:
    """One run of the solver over a job: phases that share the limit, and the best of each."""

    def __init__(self, job: Job, stop: Stop, seed: int, progress: Progress, *, offers: bool = True) -> None:
        self.job, self.seed, self.progress = job, seed, progress
        self.meter = Meter(stop)
        _running.add(weakref.ref(self.meter, _running.discard))
        self.offers = offers
        self.polished = _searching_share(stop, job)
        self.money_share = _MONEY * (self.polished / _POLISHED) if offers else self.polished
        self.model: Model = roomiest(job)
        self.units = units_of(self.model)
        self.cutter = Cutter(job.settings, self.model.step, lambda: self.meter.asked)
        self.history: list[Moment] = []
        self.notices: list[str] = []  # what the maker has to be told of the run itself
        self.liked: list[str] = []  # what the first plan costs or saves for the fabrics that are named first
        self.evidence: list[Evidence] = []
        self.best_layouts: dict[str, Layout] = {}
        self._bands = True
        self.failed = False  # whether an error of the program ended the search
        self._known: tuple[bool, int] | None = None  # completeness and cost, while another offer is bettered
        self._late = False  # whether the maker has been told that the time is over
        self.fits = fits_alone(self.model)
        self.hopeless = tuple(not ways.any() for ways in self.fits)  # not even one can be cut
        closed = frozenset(s for s, sheet in enumerate(self.model.sheets) if sheet.wish == "keep whole")
        self.engine = self._engine(closed)

    def _engine(self, closed: frozenset[int]) -> Engine:
        wanted = wanted_of(self.model, self.units, self.fits)
        engine = Engine(Arrays(self.model, self.units, wanted, closed, self.fits), self.seed, self.meter)
        engine.feed = self.feed = BoundFeed(self.model, closed, self.meter)
        self.picks = Picks(engine)
        self.closed = closed
        return engine

    @property
    def bound(self) -> int:
        """What no plan can cost less than."""
        return self.feed.bound.cost

    def result(self) -> Result:
        """Run all phases, or as many as the limit and an interrupt allow."""
        try:
            with _interruptible(self.meter):
                self._search_or_tell()
                return self._finish()
        finally:
            self.engine.close()
            self.feed.close()
            self.progress.done()

    # -- phases ------------------------------------------------------------------------------------

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
            self.engine.use_compiled()  # sooner there than plain Python would be with its first plan
        self.engine.first()
        self._note("A first plan is there.")
        unready = self.meter.timed and not prepare.is_ready()
        if self.closed and self.engine.missing() and (unready or not self.feed.bound.possible):
            self._open_all()
        ready = self._get_ready()
        if self.closed and self.engine.missing():
            self._keep_whole(search=ready)
        if not ready:
            return
        self._choose()
        self._complete()
        self._cheapen()
        if not self.offers:
            if self.engine.missing():  # as much as can be cut, and that for little money
                self._polish(THRIFTIEST, self.money_share)
            return
        begun = min(self.meter.share, self.polished)
        if self.job.settings.preference:
            self._known = self.complete, self.engine.cost  # it may cost more: what is told is the thriftiest plan
            preferred.seek(self, begun + _PREFERRED * (self.polished - begun))
            self._known = None
            begun = min(self.meter.share, self.polished)
        for name, share in _POLISH.items():
            self._polish(name, begun + share * (self.polished - begun))

    def _get_ready(self) -> bool:
        """Have the compiled kernel; on a new machine search in plain Python until it is there."""
        self._ready: Callable[[], bool] = lambda: True
        if not prepare.is_ready():
            self.progress.say("Getting the search ready: only the first time on this machine, about half a minute.")
            child = prepare.start()
            self._ready = lambda: child.poll() is not None
            if self.meter.timed:
                self.engine.use_plain()
                self._complete()
                self._cheapen()
            while not self._ready():
                if self.meter.over():
                    return False
                time.sleep(0.05)
            self._ready = lambda: True
        return self.engine.kernel not in (None, self.engine.plain) or self.engine.use_compiled()

    def _can_change(self) -> bool:
        """Whether the search goes in plain Python although the compiled kernel has become ready."""
        return self.engine.kernel is self.engine.plain and self._ready()

    def _keep_whole(self, *, search: bool) -> None:
        """Look for a plan that leaves whole what should be kept so; cut it after all where none is found."""
        if search:
            until = self.until(_KEPT, lambda: self.engine.missing() == 0, "placing everything")
            self.engine.reach(EVERYTHING, NO_LIMIT, 1, until, _KEPT_ROUNDS + 2 * self.engine.arrays.capacity)
        if self.engine.missing():
            self._open_all()

    def _open_all(self) -> None:
        """What should be kept whole is cut after all, because nothing else will do."""
        kernel = self.engine.kernel
        self.engine.close()
        self.feed.close()
        self.engine = self._engine(frozenset())
        if kernel is not None:
            self.engine.use(kernel)
        self.engine.first()

    def _choose(self) -> None:
        """Find out from which fabric to cut rows that stay together."""
        over = self.until(self.money_share, lambda: False, "choosing fabrics")
        if self.feed.bound.possible and choose(self.engine, _CHOICES, lambda: self.bound, over):
            self._note("")

    def _complete(self) -> None:
        """Place everything that must be cut, if that can be done."""
        engine = self.engine
        while engine.missing():
            share = self.money_share if self.feed.bound.possible else _HOPELESS
            until = self.until(share, lambda: engine.missing() == 0, "placing everything")
            engine.reach(EVERYTHING, NO_LIMIT, 1, until)
            if engine.missing() and engine.kernel is not engine.plain:
                refill(engine, EVERYTHING)
            if not (engine.missing() and self.picks.fuller(until)):
                break

    def _cheapen(self) -> None:
        """Buy less and less."""
        engine = self.engine
        if engine.missing():
            return
        if self._bands and engine.kernel is not engine.plain and engine.cost > self.bound:
            self._bands = False  # once is enough: it does the same again
            over = self.until(self.money_share, lambda: False, "buying less")
            if begin_with_bands(engine, _BANDS * self.money_share, lambda: self.bound, over):
                self._note("")
        if engine.cost > self.bound and refill_within(engine, self.bound):
            self._note("")
        self._descend()

    def _descend(self) -> None:
        """Look for one lower cost after the other, and where none is found for purchases to aim at."""
        engine, aims = self.engine, Aims(self.engine)
        over = self.until(self.money_share, lambda: engine.cost <= self.bound, "buying less")

        def others(goal: int, rounds: int) -> bool:
            if refill_within(engine, goal) or self.picks.cheaper(self.bound, over):
                return True
            last = engine.cost - goal <= engine.arrays.cost_step and engine.kernel is not engine.plain
            return last and aims.reach(self.feed.bound, goal, 2 * rounds, over)

        try:
            descend(engine, lambda: self.bound, over, news=lambda: self._note(""), others=others)
        finally:
            aims.close()

    def _polish(self, name: str, share: float) -> None:
        """Better the plan in what comes after money, as one of the offers weighs it."""
        weights = WEIGHTS[name].copy()
        budget = self.engine.cost
        keep = self.engine.arrays.state(self.seed)
        self.engine.copy(self.engine.best, keep)
        if name != THRIFTIEST:  # it may cost more: what is told of the run is the thriftiest plan
            self._known = self.complete, self.engine.cost
        if name == SIMPLEST:
            budget += self._allowance()
            weights[W_COST] = 10 * int(weights[W_CUT]) // max(1, self._typical_step())
        if not self.meter.over(share):
            if self.engine.missing(1) + self.engine.missing(2):
                refill(self.engine, weights)
            self.engine.reach(weights, budget, 3, self.until(share, lambda: False, f"looking for the plan: {name}"))
            self.best_layouts[name] = self.engine.layout()
        if name != THRIFTIEST:  # the other offers start from the thriftiest again
            self.engine.copy(keep, self.engine.best)
            self._known = None

    def _allowance(self) -> int:
        """What the simplest offer may cost more than the thriftiest: a tenth, at least two typical steps."""
        return max(self.engine.cost // 10, 2 * self._typical_step()) if self.engine.cost else 0

    def _typical_step(self) -> int:
        steps = [sheet.ladder[-1].cost - sheet.ladder[-2].cost for sheet in self.model.sheets if len(sheet.ladder) > 1]
        return sorted(steps)[len(steps) // 2] if steps else 0

    def until(self, share: float, reached: Callable[[], bool], doing: str) -> Callable[[], bool]:
        """When a phase ends: at a share of the limit, or when it has reached what it is for."""

        def over() -> bool:
            self.progress.at(self._state(doing))
            if self._can_change():
                return True
            return self.meter.over(share) or reached()

        return over

    # -- telling -----------------------------------------------------------------------------------

    @property
    def complete(self) -> bool:
        """Whether the best state has everything that must be cut; what fits no cloth at all counts as lacking."""
        musts = zip(self.model.items, self.hopeless, strict=True)
        return self.engine.missing() == 0 and not any(hopeless and item.rank == 0 for item, hopeless in musts)

    def _state(self, doing: str) -> State:
        complete, cost = self._known or (self.complete, self.engine.cost)
        return State(
            seconds=self.meter.seconds, work=self.meter.rounds, share=min(1.0, self.meter.share),
            complete=complete, value=self._money(cost), bound=self._money(self.bound),
            doing=doing,
        )  # fmt: skip

    def _money(self, cost: int) -> Decimal:
        return Decimal(cost) / 100 if self.model.priced else Decimal(cost)

    def tell(self, doing: str) -> None:
        """What is done once the search has ended; said aloud where the time is over by then."""
        self.progress.at(self._state(doing))
        if self.meter.timed and self.meter.share >= 1 and not self._late:
            self._late = True
            self.progress.say(f"The time is over; what is left is {doing}.")

    def _note(self, text: str) -> None:
        state = self._state(text)
        self.history.append(
            Moment(
                seconds=state.seconds, work=state.work, complete=state.complete, value=state.value, bound=state.bound
            )
        )  # fmt: skip
        if text:
            self.progress.say(text)

    # -- the end -----------------------------------------------------------------------------------

    def _finish(self) -> Result:
        from cutopt.solve.finish import finish

        if THRIFTIEST not in self.best_layouts:
            self.best_layouts[THRIFTIEST] = self.engine.layout()
        self._note("")  # the bound as it is at the end
        return finish(self)

    def take(self, plan: Carried) -> None:
        """Let a plan that was found once the search had ended be the thriftiest."""
        self.engine.best = plan.laid(self.engine)
        self.best_layouts[THRIFTIEST] = self.engine.layout()
        self._note("")

    @property
    def spent(self) -> bool:
        """Whether the search may have ended for want of time or work."""
        return self.meter.share >= self.polished


def _searching_share(stop: Stop, job: Job) -> float:
    """The share of the limit after which the search ends: of seconds so many are left that the plan can be told."""
    if not isinstance(stop, Seconds):
        return _POLISHED
    telling = _TELLING * sum(row.count for row in job.wanted) / stop.seconds
    return min(_POLISHED, max(1 - telling, _SEARCHING))


@contextmanager
def _interruptible(meter: Meter) -> Iterator[None]:
    """Ctrl-C asks the search to stop instead of ending it with an error (in the main thread only).

    A second one ends it at once, as Ctrl-C does elsewhere.
    """
    import signal

    def stop(*_: object) -> None:
        if meter.asked:
            raise KeyboardInterrupt
        meter.stop()

    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, stop)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
