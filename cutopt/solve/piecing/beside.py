"""What a view of a search is told while the rows of one make-up are planned."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

from cutopt.solve.control.progress import Progress, State


class BesideBacks(Progress):
    """Passes all on, but for the bound: that of the rows holds for one make-up, and others may cost less.

    Parameters
    ----------
    view : Progress
    least : callable
        What no plan costs less than, however its backs are made up, as views are told of it.
    """

    def __init__(self, view: Progress, least: Callable[[], Decimal]) -> None:
        self.view = view
        self.least = least

    def say(self, text: str) -> None:
        """A sentence for the maker."""
        self.view.say(text)

    def at(self, state: State) -> None:
        """How far the search is."""
        bound = min(state.bound, self.least())
        self.view.at(replace(state, bound=bound))

    def left(self, doing: str, seconds: float) -> None:
        """What is done after the search."""
        self.view.left(doing, seconds)

    def done(self) -> None:
        """The search has ended."""
        self.view.done()
