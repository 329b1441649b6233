"""The bound, worked on beside the search and asked for news between its slices."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor, wait
from dataclasses import replace

from cutopt.solve.bounds.purchase_bound import Bound, improve
from cutopt.solve.control.stop import Meter
from cutopt.solve.model.model import Model

# with each slice of a search by work
_STEPS = 4


class BoundFeed:
    """Steps of :func:`cutopt.solve.bounds.purchase_bound.improve` in a thread of their own.

    A timed search lets the thread run freely and reads what is known; a search by work asks for a few steps with
    each slice and waits for them, so that the same bound is known at the same round on every machine.
    """

    def __init__(self, model: Model, closed: frozenset[int], meter: Meter) -> None:
        open_sheets = tuple(
            sheet for s, sheet in enumerate(model.sheets) if s not in closed
        )
        self._steps: Iterator[Bound] = improve(replace(model, sheets=open_sheets))
        self._pool = ThreadPoolExecutor(1, thread_name_prefix="cutopt-bound")
        self._meter = meter
        self._running: Future[None] | None = None
        self._closed = False
        self.bound = next(self._steps, Bound(final=True))

    def begin(self) -> None:
        """Set the thread to work, if it is idle and anything is left to do."""
        if self._running is None and not self.bound.final:
            self._running = self._pool.submit(
                self._work, 1 << 60 if self._meter.timed else _STEPS
            )

    def collect(self) -> None:
        """By work, wait for the steps that were begun; a fault of the bound is raised here."""
        while self._running is not None:
            if self._running.done():
                self._running.result()
                self._running = None
            elif self._meter.timed or self._meter.asked:
                return
            else:
                wait([self._running], timeout=0.05)

    def _work(self, steps: int) -> None:
        for _ in range(steps):
            found = next(self._steps, None)
            self.bound = found if found is not None else replace(self.bound, final=True)
            if self.bound.final or self._closed or self._meter.asked:
                return

    def close(self) -> None:
        """Let the thread go."""
        self._closed = True
        self._pool.shutdown(wait=False, cancel_futures=True)
