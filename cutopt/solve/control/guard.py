"""What comes on top of a plan must not lose the plan: an unforeseen error there becomes a notice."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from cutopt.errors import debugging

T = TypeVar("T")


def tried(what: str, work: Callable[[], T], instead: T, notices: list[str]) -> T:
    """What `work` gives, or `instead` where it fails; then a notice tells the maker what is not there.

    Parameters
    ----------
    what : what is worked out, as the begin of a sentence: ``What other widths take``
    work : works it out
    instead : what to go on with where that fails
    notices : sentences for the maker, to which one is added

    Raises
    ------
    Exception
        Any error of the program, where somebody looks for it (see :func:`cutopt.errors.debugging`).
    """
    try:
        return work()
    except Exception as error:
        if debugging():
            raise
        notices.append(
            f"{what} could not be worked out, by an error of the program ({type(error).__name__}) and not of your job; "
            "the rest is not touched by it."
        )
        return instead
