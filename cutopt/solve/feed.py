"""The bound, worked on beside the search and asked for news between its slices."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor, wait
from dataclasses import replace

from cutopt.solve.bounds import Bound, improve
from cutopt.solve.model import Model
from cutopt.solve.stop import Meter


class BoundFeed:
    """Steps of :func:`cutopt.solve.bounds.improve`, one at a time in a thread of its own.

    A timed search takes what is there and goes on; a search by work waits for each step, so that the same bound
    is known at the same round on every machine.
    """

    def __init__(self, model: Model, closed: frozenset[int], meter: Meter) -> None:
        open_sheets = tuple(sheet for s, sheet in enumerate(model.sheets) if s not in closed)
        self._steps: Iterator[Bound] = improve(replace(model, sheets=open_sheets))
        self._pool = ThreadPoolExecutor(1, thread_name_prefix="cutopt-bound")
        self._meter = meter
        self._step: Future[Bound | None] | None = None
        self.bound = next(self._steps, Bound(final=True))

    def begin(self) -> None:
        """Start the next step, if none is under way."""
        if self._step is None and not self.bound.final:
            self._step = self._pool.submit(next, self._steps, None)

    def collect(self) -> None:
        """Take the step's news; by work, wait for them."""
        while self._step is not None:
            if self._step.done():
                found = self._step.result()
                self.bound = found if found is not None else replace(self.bound, final=True)
                self._step = None
            elif self._meter.timed or self._meter.asked:
                return
            else:
                wait([self._step], timeout=0.05)

    def close(self) -> None:
        """Let the thread go."""
        self._pool.shutdown(wait=False, cancel_futures=True)
