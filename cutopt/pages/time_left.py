"""How long pages still take, told while they are written."""

from __future__ import annotations

import time
from collections.abc import Callable

from cutopt.solve.control.progress import Progress


class TimeLeft:
    """Tells a view the seconds still to go, by those that the work so far has taken.

    Parameters
    ----------
    progress : Progress
        The view.
    plans : int
        How many plans are printed one after the other; they are taken to be alike.
    clock : callable
        Gives seconds, from whatever time on.
    """

    def __init__(
        self,
        progress: Progress,
        plans: int = 1,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._progress = progress
        self._plans = plans
        self._clock = clock
        self._start = clock()
        self._done = 0

    def at(self, share: float) -> None:
        """So much of the plan that is being printed is done, above 0."""
        done = (self._done + share) / self._plans
        spent = self._clock() - self._start
        self._progress.left("Writing the pages", spent / done * (1 - done))

    def next_plan(self) -> None:
        """A plan is printed."""
        self._done += 1


__all__ = ["TimeLeft"]
