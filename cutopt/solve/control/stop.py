"""When to stop: after so many seconds, after so much work, or when somebody asks."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from cutopt.errors import Problem


@dataclass(frozen=True, slots=True)
class Seconds:
    """Stop after so many seconds of wall clock; how far the search gets depends on the machine."""

    seconds: float

    def __post_init__(self) -> None:
        if not 0 < self.seconds <= 7 * 24 * 3600:
            raise Problem(
                "seconds",
                f"{self.seconds:g} seconds make no sense",
                "write a number above 0, such as 5",
            )


@dataclass(frozen=True, slots=True)
class Work:
    """Stop after so many rounds of the search: the same plan on any machine, on one core or more."""

    rounds: int

    def __post_init__(self) -> None:
        if not 0 < self.rounds <= 10**9:
            raise Problem(
                "work",
                f"{self.rounds} rounds make no sense",
                "write a whole number above 0, such as 20000",
            )


Stop: TypeAlias = Seconds | Work


class Meter:
    """How much of a stop criterion is spent, and the flag that ends the kernels.

    Anyone may call :meth:`stop`, from any thread; the search then returns its best within a fifth of a second.
    """

    def __init__(self, stop: Stop) -> None:
        self.limit = stop
        self.begun = time.perf_counter()
        self.rounds = 0
        self.halt = np.zeros(1, dtype=np.int64)
        self._asked = threading.Event()
        self._others: list[Meter] = []

    @property
    def timed(self) -> bool:
        """Whether the clock decides."""
        return isinstance(self.limit, Seconds)

    @property
    def seconds(self) -> float:
        """Seconds since the start."""
        return time.perf_counter() - self.begun

    @property
    def share(self) -> float:
        """Share of the limit that is spent, 1 or more when it is over."""
        if isinstance(self.limit, Seconds):
            return self.seconds / self.limit.seconds
        return self.rounds / self.limit.rounds

    @property
    def asked(self) -> bool:
        """Whether somebody asked to stop."""
        return self._asked.is_set()

    def over(self, share: float = 1.0) -> bool:
        """Whether this share of the limit is spent, or somebody asked to stop."""
        return self.asked or self.share >= share

    def stop(self) -> None:
        """Ask the search to stop; callable from any thread and from a signal handler."""
        self._asked.set()
        self.halt[0] = 1
        for other in self._others:
            other.stop()

    def pass_on(self, other: Meter) -> None:
        """Whoever stops this meter stops the other one too."""
        self._others.append(other)
        if self.asked:
            other.stop()


class Purse:
    """What small searches, one after the other, may spend together: seconds, or rounds of work.

    Parameters
    ----------
    left : float
        How much that is.
    end : float, optional
        A time of :func:`time.perf_counter` after which nothing of it is left, whoever has spent the time.
    """

    def __init__(self, left: float, end: float | None = None) -> None:
        self._left = left
        self._end = end

    @property
    def left(self) -> float:
        """What may still be spent."""
        if self._end is None:
            return self._left
        return min(self._left, self._end - time.perf_counter())

    def spend(self, amount: float) -> None:
        """Take so much away."""
        self._left -= amount

    @classmethod
    def of(cls, each: Stop, searches: int) -> Purse:
        """Enough for so many searches with a limit of their own."""
        return cls(
            searches * (each.seconds if isinstance(each, Seconds) else each.rounds)
        )

    @contextmanager
    def part(self, of: int) -> Iterator[Purse]:
        """One of so many equal parts of what is left; what it does not spend comes back."""
        with self.at_most(self.left / of) as part:
            yield part

    @contextmanager
    def at_most(self, amount: float) -> Iterator[Purse]:
        """So much of it, or what is left; what that does not spend comes back."""
        given = min(amount, self.left)
        part = Purse(given, self._end)
        yield part
        self.spend(given - part._left)

    def limit(self, each: Stop) -> Stop | None:
        """The limit of one search: `each`, or what is left of the purse; None where that is nothing."""
        if isinstance(each, Seconds):
            if self.left > 0:
                return Seconds(min(each.seconds, self.left))
            return None
        if self.left >= 1:
            return Work(min(each.rounds, int(self.left)))
        return None


class Ration:
    """What a helper may take of a limit: at first so much, and then a share of all that is spent.

    Entered as a context while the helper works. A limit by work is not spent by a helper that does no rounds.
    """

    def __init__(self, meter: Meter, at_first: float, share: float) -> None:
        self._meter = meter
        self._at_first = at_first
        self._share = share
        self._taken = 0.0
        self._since = 0.0
        self._working = False

    def __enter__(self) -> None:
        self._since = self._meter.share
        self._working = True

    def __exit__(self, *_: object) -> None:
        self._taken += self._meter.share - self._since
        self._working = False

    def over(self) -> bool:
        """Whether the helper has to stop, or need not begin."""
        spent = self._meter.share
        taken = self._taken + (spent - self._since if self._working else 0.0)
        return self._meter.over() or taken > self._at_first + self._share * spent
