"""Searches that race each other: after each heat the half that came farther goes on, each for twice as long.

Successive halving: K. Jamieson, A. Talwalkar, "Non-stochastic best arm identification and hyperparameter
optimization", AISTATS 2016.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Protocol, TypeVar

from cutopt.solve.search.arrays import Arrays

Over = Callable[[], bool]


# of all states that race: some 100 bytes, seven times
_NODES = 60_000


def most_beside(arrays: Arrays, most: int) -> int:
    """How many searches of a job may race, that is `most`, but at least two of a large job."""
    return max(2, min(most, _NODES // arrays.capacity))


class Runner(Protocol):
    """A search that can be left and taken up again."""

    @property
    def place(self) -> tuple[int, int]:
        """The less the farther."""

    @property
    def done(self) -> bool:
        """Whether it has reached all that can be reached."""

    def run(self, over: Over) -> None:
        """Go on until it is over or done."""


AnyRunner = TypeVar("AnyRunner", bound=Runner)


def race(
    runners: Sequence[AnyRunner], spent: Callable[[], float], length: float, over: Over
) -> AnyRunner:
    """The one that came farthest, or the first that is done.

    Parameters
    ----------
    runners : at least one
    spent : what has been spent so far, in whatever `length` is told
    length : what the whole race may spend
    over : whether to stop at once
    """
    heats = max(1, (len(runners) - 1).bit_length())
    begun = spent()
    for heat in range(heats):
        for number, runner in enumerate(runners):
            end = begun + length * (heat + (number + 1) / len(runners)) / heats
            runner.run(lambda end=end: over() or spent() >= end)  # type: ignore[misc]
            if runner.done:
                return runner
            if over():
                break
        runners = sorted(runners, key=lambda runner: runner.place)[
            : (len(runners) + 1) // 2
        ]
        if over():
            break
    return runners[0]
