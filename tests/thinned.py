"""Tests of many cases, of which a few are run each time and all the others with the slow ones."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable
from typing import Any

import pytest


def itself(case: Any) -> Any:
    """The name of a case that needs none."""
    return case


def named(row: dict[str, Any]) -> str:
    """What a published instance goes by."""
    return str(row["name"])


def mostly_slow(
    cases: Iterable[Any],
    quick: Container[Any],
    name: Callable[[Any], Any] = itself,
) -> list[Any]:
    """The cases of one parameter in their order, marked as slow but for the quick ones.

    Parameters
    ----------
    cases : iterable
    quick : container
        The names of the quick cases.
    name : callable
        What a case goes by.
    """
    return [
        case if name(case) in quick else pytest.param(case, marks=pytest.mark.slow)
        for case in cases
    ]


def partly_slow(
    cases: Iterable[Any],
    slow: Container[Any],
    name: Callable[[Any], Any] = itself,
) -> list[Any]:
    """The same, where the slow ones are the few.

    Parameters
    ----------
    cases : iterable
    slow : container
        The names of the slow cases.
    name : callable
        What a case goes by.
    """
    cases = list(cases)
    return mostly_slow(cases, {name(c) for c in cases if name(c) not in slow}, name)
