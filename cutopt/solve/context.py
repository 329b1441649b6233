"""What is known of a run while it lasts: its job and model, its engine, the best so far; and telling of it."""

from __future__ import annotations

import weakref
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

from cutopt.job import Job
from cutopt.result import Evidence, Moment
from cutopt.solve.bounds.background import BoundFeed
from cutopt.solve.bounds.off_grid import roomiest
from cutopt.solve.bounds.purchase_bound import Bound
from cutopt.solve.control.progress import Progress, State
from cutopt.solve.control.stop import Meter, Purse, Seconds, Stop
from cutopt.solve.cuts.cutter import Cutter
from cutopt.solve.cuts.offers import THRIFTIEST
from cutopt.solve.model.layout import Layout, fits_alone, units_of, wanted_of
from cutopt.solve.model.model import Model
from cutopt.solve.search.arrays import Arrays
from cutopt.solve.search.carry_over import Carried
from cutopt.solve.search.engine import Engine

# share of the limit at which the search ends: by work, and by the clock
_POLISHED = 0.93
_POLISHED_BY = 0.88
# the same where something is still missing: there is more to tell then
_SEARCHED_IN_VAIN = 0.75
# of a limit in seconds is for the search at least, however many parts there are to be told of
_SEARCHING = 0.7
# seconds that it takes for each part to cut it up, check it and tell what else there is to tell
_TELLING = 0.005
# seconds to tell something at least, where the time is over
_LEAST = 0.25

# until nobody holds them: a run may fail while it is set up
_running: set[weakref.ref[Meter]] = set()


def stop_all() -> None:
    """Ask every search of this process to stop and return its best; callable from any thread."""
    for running in list(_running):
        meter = running()
        if meter is not None:
            meter.stop()


class Context:
    """What is known of a run: what it works on, the best so far, and what the maker has to be told.

    Attributes
    ----------
    model, units, fits : Model, tuple of Unit, int array (items, sheets)
        The job in steps of the grid; what the search counts; which ways one part fits each empty sheet.
    hopeless : tuple of bool
        Of each item whether not even one can be cut.
    closed : frozenset of int
        Sheets that are left whole.
    best_layouts : dict
        The best layout of each offer, by its name.
    notices, liked : list of str
        What the maker has to be told of the run; what the first plan costs or saves for the fabrics named first.
    failed : bool
        Whether an error of the program ended the search.
    ready : callable
        Whether the compiled kernels are there, if the search goes in plain Python.
    told_instead : (bool, int), optional
        Completeness and cost of the thriftiest plan, while another offer is bettered.
    """

    def __init__(
        self,
        job: Job,
        stop: Stop,
        seed: int,
        progress: Progress,
    ) -> None:
        self.job = job
        self.seed = seed
        self.progress = progress
        self.meter = Meter(stop)
        _running.add(weakref.ref(self.meter, _running.discard))
        self._searching = _searching_share(stop, job)
        # seconds of the run at which all must be told
        self._told_by = 0.0
        self.model: Model = roomiest(job)
        self.units = units_of(self.model)
        self.cutter = Cutter(job.settings, self.model.step, lambda: self.meter.asked)
        self.history: list[Moment] = []
        self.notices: list[str] = []
        self.liked: list[str] = []
        self.evidence: list[Evidence] = []
        self.best_layouts: dict[str, Layout] = {}
        self.failed = False
        self.told_instead: tuple[bool, int] | None = None
        self.ready: Callable[[], bool] = lambda: True
        self.rest: BoundFeed | None = None
        # whether the maker has been told that the time is over
        self._late = False
        self.fits = fits_alone(self.model)
        self.hopeless = tuple(not ways.any() for ways in self.fits)
        whole = [
            s for s, sheet in enumerate(self.model.sheets) if sheet.wish == "keep whole"
        ]
        self.engine = self.new_engine(frozenset(whole))

    def new_engine(self, closed: frozenset[int]) -> Engine:
        """An engine with these sheets left whole, and a bound for it worked on beside it."""
        wanted = wanted_of(self.model, self.units, self.fits)
        engine = Engine(
            Arrays(self.model, self.units, wanted, closed, self.fits),
            self.seed,
            self.meter,
        )
        engine.feed = self.feed = BoundFeed(self.model, closed, self.meter)
        self.closed = closed
        return engine

    def search_with(self, engine: Engine) -> None:
        """Search for fewer rows from now on, with a bound for these worked on beside it."""
        self.engine = engine
        whole = engine.arrays.whole
        if whole is None:
            return
        lost = Counter(
            unit.item
            for unit, all_, some in zip(
                self.units, whole.wanted, engine.arrays.wanted, strict=True
            )
            if all_ and not some
        )
        items = (
            replace(item, copies=item.copies - lost[i])
            for i, item in enumerate(self.model.items)
            if not self.hopeless[i]
        )
        rest = replace(self.model, items=tuple(item for item in items if item.copies))
        engine.feed = self.rest = BoundFeed(rest, self.closed, self.meter)

    def with_all_rows(self) -> None:
        """The best state as one of a search for all rows."""
        whole = self.engine.arrays.whole
        if whole is None:
            return
        best = self.engine.of_all_rows()
        other = self.engine.beside(whole)
        other.best = best
        other.feed = self.feed
        self.engine.close()
        self.engine = other
        if self.rest is not None:
            self.rest.close()
            self.rest = None

    @property
    def bound_of_rest(self) -> Bound:
        """The bound of what is searched for: of all rows, or of those that are left."""
        return (self.rest or self.feed).bound

    @property
    def bound(self) -> int:
        """What no plan can cost less than that gives what is searched for."""
        return self.bound_of_rest.cost

    @property
    def searching(self) -> float:
        """The share of the limit at which the search ends, so that the plan can be told."""
        if not self.meter.timed:
            return self._searching
        lacking = any(self.engine.missing(rank) for rank in range(3))
        if lacking or not self.complete:
            return min(self._searching, _SEARCHED_IN_VAIN)
        return self._searching

    def begin_telling(self) -> None:
        """The search has ended: what is told from now on is told within what is left of the limit."""
        limit = self.meter.limit
        if isinstance(limit, Seconds):
            self._told_by = max(limit.seconds, self.meter.seconds + _LEAST)

    def purse(
        self, each: Stop, searches: int, most: float = 1.0, least: float = 0.0
    ) -> Purse:
        """What so many short searches may spend, by the clock no more than what is left of the limit.

        Parameters
        ----------
        each : Seconds or Work
            The limit of one search.
        searches : int
        most : float
            The share of what is left of the limit that they may take.
        least : float
            Seconds that they may take in any case.
        """
        if not isinstance(each, Seconds):
            return Purse.of(each, searches)
        now = self.meter.seconds
        left = max(most * (self._told_by - now), least)
        end = max(self._told_by, now + least) + self.meter.begun
        return Purse(min(searches * each.seconds, left), end)

    def in_time(self) -> bool:
        """Whether more may be told."""
        late = self.meter.timed and self.meter.seconds >= self._told_by
        return not (late or self.meter.asked)

    @property
    def spent(self) -> bool:
        """Whether the search may have ended for want of time or work."""
        return self.meter.share >= self.searching

    def until(
        self, share: float, reached: Callable[[], bool], doing: str
    ) -> Callable[[], bool]:
        """When a phase ends: at a share of the limit, or when it has reached what it is for.

        Parameters
        ----------
        share : float
            Of the limit, at which it ends.
        reached : callable
            Whether it has reached what it is for.
        doing : str
            What is told of it meanwhile.
        """

        def over() -> bool:
            self.progress.at(self.state(doing))
            if self.can_change():
                return True
            return self.meter.over(share) or reached()

        return over

    def can_change(self) -> bool:
        """Whether the search goes in plain Python although the compiled kernel has become ready."""
        return self.engine.kernel is self.engine.plain and self.ready()

    @property
    def complete(self) -> bool:
        """Whether the best state has everything that must be cut; what fits no cloth at all counts as lacking."""
        musts = zip(self.model.items, self.hopeless, strict=True)
        none_left_out = self.engine.arrays.whole is None
        return (
            none_left_out
            and self.engine.missing() == 0
            and not any(hopeless and item.rank == 0 for item, hopeless in musts)
        )

    def state(self, doing: str) -> State:
        """What is known at this moment, for whoever looks on."""
        complete, cost = self.told_instead or (self.complete, self.engine.cost)
        return State(
            seconds=self.meter.seconds,
            work=self.meter.rounds,
            share=min(1.0, self.meter.share),
            complete=complete,
            value=self.money(cost),
            bound=self.money(self.bound),
            doing=doing,
        )

    def money(self, cost: int) -> Decimal:
        """A cost as the maker counts it: money, or ticks of length where prices are missing."""
        if self.model.priced:
            return Decimal(cost) / 100
        return Decimal(cost)

    def tell(self, doing: str) -> None:
        """What is done once the search has ended; said aloud where the time is over by then."""
        self.progress.at(self.state(doing))
        if self.meter.timed and self.meter.share >= 1 and not self._late:
            self._late = True
            self.progress.say(f"The time is over; what is left is {doing}.")

    def note(self, text: str) -> None:
        """Keep this moment of the search, and say the sentence where there is one."""
        state = self.state(text)
        self.history.append(
            Moment(
                seconds=state.seconds,
                work=state.work,
                complete=state.complete,
                value=state.value,
                bound=state.bound,
            )
        )
        if text:
            self.progress.say(text)

    def take(self, plan: Carried) -> None:
        """Let a plan that was found once the search had ended be the thriftiest."""
        self.engine.best = plan.laid(self.engine)
        self.best_layouts[THRIFTIEST] = self.engine.layout()
        self.note("")


def _searching_share(stop: Stop, job: Job) -> float:
    """The share of the limit after which the search ends: of seconds so many are left that the plan can be told."""
    if not isinstance(stop, Seconds):
        return _POLISHED
    telling = _TELLING * sum(row.count for row in job.wanted) / stop.seconds
    return max(_POLISHED_BY - telling, _SEARCHING)
