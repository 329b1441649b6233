"""Telling how far a search is: an object whose methods do nothing unless a view overrides them."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """What is known at a moment: seconds, rounds, share of the limit spent, best cost so far and its bound."""

    seconds: float
    work: int
    share: float
    complete: bool
    value: Decimal
    bound: Decimal
    doing: str


class Progress:
    """No-op listener; override what is of interest. Called from the thread that called solve."""

    def say(self, text: str) -> None:
        """A sentence for the maker, now and then."""

    def at(self, state: State) -> None:
        """Called about twenty times a second while the search runs."""

    def left(self, doing: str, seconds: float) -> None:
        """What is done after the search, and about how many seconds it still takes."""

    def done(self) -> None:
        """The search has ended."""
