"""Two streams of search in step, so that one core and two give the same plan."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor, wait
from typing import Any

import numpy as np

from cutopt.solve.bounds.background import BoundFeed
from cutopt.solve.control.stop import Meter, Ration
from cutopt.solve.kernels.loader import load
from cutopt.solve.kernels.score import missing
from cutopt.solve.kernels.state import COST
from cutopt.solve.model.layout import Layout
from cutopt.solve.model.weights import only_completes
from cutopt.solve.plates.plate_table import Ints
from cutopt.solve.search.arrays import Arrays, State
from cutopt.solve.search.patterns_met import Met, Patterns
from cutopt.solve.search.prepare import warm

STREAMS = 2
_LATE = 300
_SLICE_SECONDS = 0.04
# of the limit: filling one cloth anew exactly, at first and in all
_REFILLING = (
    0.05,
    0.2,
)
# the same: choosing among the patterns met
_PICKING = 0.2, 0.35


class Stream:
    """One of the streams: where it is, where it tries, the best and the patterns it met, its list of late acceptance.

    `worth` is what one of each row that is missing counts while only that counts: more, the longer it stays missing.
    """

    def __init__(self, arrays: Arrays, seed: int, met: Met) -> None:
        self.met = met.arrays
        self.now, self.trial, self.best = (arrays.state(seed + k) for k in range(3))
        self.scratch = arrays.scratch()
        self.late = np.zeros(_LATE, dtype=np.int64)
        self.info = np.zeros(3, dtype=np.int64)
        self.worth = arrays.areas.copy()
        # holds a state of its own from the search for a lower cost
        self.roams = False


class Engine:
    """Runs the search kernel in slices and keeps the best state.

    Parameters
    ----------
    arrays : Arrays
    seed : int
    meter : Meter
        Counts the rounds, says when to stop.
    patterns : Patterns, optional
        Where to keep what lies on each cloth in the states that are met.
    """

    def __init__(
        self, arrays: Arrays, seed: int, meter: Meter, patterns: Patterns | None = None
    ) -> None:
        self.arrays = arrays
        self.meter = meter
        self.patterns = patterns or Patterns(arrays, STREAMS)
        self.plain = load("search")
        self.kernel: Any = None
        self.best: State = arrays.state(seed)
        self.streams: list[Stream] = []
        self.feed: BoundFeed | None = None
        self.futile = (
            # times that a cloth was filled anew in vain since it last helped
            0
        )
        self.refilling, self.picking = (
            Ration(meter, *_REFILLING),
            Ration(meter, *_PICKING),
        )
        self._seed = seed
        self._slice = self._first_slice = max(8, 60_000 // (arrays.capacity + 400))
        self._pool = ThreadPoolExecutor(STREAMS, thread_name_prefix="cutopt")

    def beside(
        self, arrays: Arrays, another: int = 0, meter: Meter | None = None
    ) -> Engine:
        """An engine for a part of the job, with the same kernel; the bound is worked on beside it.

        Parameters
        ----------
        arrays : Arrays
        another : int
            It begins with the same seed, or with so many further on.
        meter : Meter, optional
            Its own limit, by default that of this engine.
        """
        same = arrays.model is self.arrays.model and arrays.wanted is self.arrays.wanted
        other = Engine(
            arrays,
            self._seed + another,
            meter or self.meter,
            self.patterns if same else None,
        )
        other.feed = self.feed
        other.picking = self.picking
        other.use(self.kernel)
        return other

    def first(self) -> Layout:
        """A first plan from nothing, in plain Python without waiting for any compilation unless that is done."""
        self.best = self.nothing()
        (self.kernel or self.plain).start(
            self.arrays.problem, self.best, self.arrays.scratch(), 3
        )
        return self.layout()

    def nothing(self) -> State:
        """A new state: nothing at hand, nothing placed."""
        return self.arrays.state(self._seed)

    def layout(self) -> Layout:
        """The best state as placements."""
        return (self.arrays.whole or self.arrays).layout(self.of_all_rows())

    def of_all_rows(self) -> State:
        """The best state, with rows that the search leaves out tried in the cloth that it has left."""
        whole = self.arrays.whole
        if whole is None:
            return self.best
        kernel = self.kernel or self.plain
        state = self.nothing()
        kernel.copy_state(self.best, state)
        state.rem[:] += whole.wanted - self.arrays.wanted
        kernel.fill_up(whole.problem, state, whole.scratch())
        return state

    def copy(self, state: State, over: State) -> None:
        """Copy one state over another."""
        self.kernel.copy_state(state, over)

    @property
    def cost(self) -> int:
        """Cost of the best state."""
        return int(self.best.misc[COST])

    def asked(self) -> bool:
        """Whether somebody asked to stop."""
        return self.meter.asked

    def missing(self, rank: int = 0) -> int:
        """Cells of wanted parts of this rank that the best state lacks."""
        return int(missing(self.arrays.problem, self.best, rank))

    @property
    def nearest(self) -> int:
        """The same of the best states that the streams have met on their last way to place everything."""
        return min(
            int(missing(self.arrays.problem, stream.best, 0)) for stream in self.streams
        )

    def use_plain(self) -> None:
        """Search in plain Python: slow, but nothing need be compiled."""
        self.use(self.plain)
        self._slice = 1

    def use_compiled(self) -> bool:
        """Load the compiled kernel beside the waiting caller; False when the limit was reached meanwhile.

        Raises
        ------
        BaseException
            Whatever went wrong while it was compiled.
        """
        done = threading.Event()
        found: list[Any] = []

        def work() -> None:
            try:
                kernel = load("search", compiled=True)
                warm(kernel, self.arrays)
                found.append(kernel)
            except BaseException as error:
                found.append(error)
            done.set()

        threading.Thread(target=work, daemon=True, name="cutopt-compile").start()
        while not done.wait(0.05):
            if self.meter.over():
                return False
        if isinstance(found[0], BaseException):
            raise found[0]
        self.use(found[0])
        self._slice = self._first_slice
        return True

    def use(self, kernel: Any) -> None:
        """Search with this kernel, plain or compiled, with fresh streams."""
        self.kernel = kernel
        seeds = range(self._seed * STREAMS + 1, (self._seed + 1) * STREAMS + 1)
        self.streams = [
            Stream(self.arrays, seed, met)
            for seed, met in zip(seeds, self.patterns.met, strict=True)
        ]

    def score(self, state: State, weights: Ints) -> int:
        """What the search makes small, see `kernels/score.py`."""
        return int(
            self.kernel.score(self.arrays.problem, state, weights, self.arrays.areas)
        )

    def _call(
        self, s: Stream, weights: Ints, rounds: int, budget: int, ranks: int
    ) -> int:
        halt = self.meter.halt
        problem = self.arrays.problem
        states = (s.now, s.trial, s.best)
        if only_completes(weights):
            worth = s.worth
        else:
            worth = self.arrays.areas
        return int(
            self.kernel.run(
                problem,
                *states,
                s.scratch,
                s.met,
                weights,
                worth,
                s.late,
                s.info,
                rounds,
                budget,
                ranks,
                halt,
            )
        )

    def reach(
        self,
        weights: Ints,
        budget: int,
        ranks: int,
        until: Callable[[], bool],
        patience: int | None = None,
        *,
        go_on: bool = False,
    ) -> bool:
        """Search from the best state within a budget; keep what betters it by `weights`.

        Where the weights only complete (:func:`only_completes`) this ends as soon as nothing is missing (and the best state is
        replaced only then); else it ends when `until` says so, or after `patience` rounds without a better state (by
        default only where cuts and spare are polished). Returns whether the best state was replaced. With `go_on`
        both streams go on from where they are, else one of them begins at the best state.

        Parameters
        ----------
        weights : int array (WEIGHTS,)
            See :mod:`cutopt.solve.model.weights`.
        budget : int
            The most that may be paid.
        ranks : int
            Rows of so many ranks are placed: 1 for what must be cut alone, 3 for all.
        until : callable
            Whether to stop.
        patience : int, optional
        go_on : bool
        """
        kernel = self.kernel
        self._begin_streams(weights, budget, go_on=go_on)
        completing = only_completes(weights)
        if completing:
            goal = 0
        else:
            goal = self.score(self.best, weights)
        if patience is None:
            if completing:
                patience = 1 << 62
            else:
                patience = self.patience
        replaced = False
        since = self.meter.rounds
        while not until():
            if not self._slice_all(weights, budget, ranks):
                break
            leader = min(self.streams, key=lambda s: int(s.info[1]))
            value = int(leader.info[1])
            if value == 0 and completing:
                kernel.copy_state(leader.best, self.best)
                return True
            if value < goal:
                goal = value
                replaced = True
                since = self.meter.rounds
                kernel.copy_state(leader.best, self.best)
            if self.meter.rounds - since > patience:
                break
        return replaced

    def _begin_streams(self, weights: Ints, budget: int, *, go_on: bool) -> None:
        """Let the streams begin at the best state, or go on from where they are, within a budget."""
        kernel = self.kernel
        problem = self.arrays.problem
        completing = only_completes(weights)
        for number, stream in enumerate(self.streams):
            anew = not stream.roams or (number == 0 and not go_on)
            if anew or not completing:
                kernel.copy_state(self.best, stream.now)
            stream.roams = completing
            kernel.reduce_to(problem, stream.now, stream.scratch, budget)
            if completing:
                worth = stream.worth
            else:
                worth = self.arrays.areas
            value = int(kernel.score(problem, stream.now, weights, worth))
            stream.late[:] = value
            stream.info[:] = (0, value, value)
            kernel.copy_state(stream.now, stream.best)

    @property
    def patience(self) -> int:
        """Rounds without any better plan after which polishing ends: small jobs are done long before the clock."""
        return 4_000 + 40 * self.arrays.capacity

    def _slice_all(self, weights: Any, budget: int, ranks: int) -> bool:
        """One slice of every stream, side by side; slices of a timed search are fitted to the clock.

        A slow round in plain Python is left to itself when the search must end: then this returns False, and the
        streams are not to be looked at.
        """
        begun = time.perf_counter()
        if self.feed is not None and self.kernel is not self.plain:
            self.feed.begin()
        jobs = [
            self._pool.submit(self._call, stream, weights, self._slice, budget, ranks)
            for stream in self.streams
        ]
        while wait(jobs, timeout=0.05).not_done:
            if self.kernel is self.plain and self.meter.over():
                return False
        self.meter.rounds += sum(job.result() for job in jobs)
        self.patterns.make_room()
        if self.feed is not None:
            self.feed.collect()
        if self.meter.timed:
            pace = _SLICE_SECONDS / max(time.perf_counter() - begun, 1e-4)
            self._slice = int(
                min(max(self._slice * min(max(pace, 0.5), 2.0), 1), 100_000)
            )
        return True

    def close(self) -> None:
        """Let the threads go."""
        self._pool.shutdown(wait=False, cancel_futures=True)
