"""Letters and numbers in a row as they are told: ``A-C and F``. Pure words, no page."""

from __future__ import annotations

from collections.abc import Sequence

from cutopt.pages.phrases import and_text


def runs_text(every: Sequence[str], named: Sequence[str]) -> str:
    """``A-C and F``: what :func:`runs` gives."""
    return and_text(runs(every, named))


def runs(every: Sequence[str], named: Sequence[str]) -> list[str]:
    """Some of a row of signs in their order, neighbours as a range: ``A-C``, ``F``.

    Parameters
    ----------
    every : sequence of str
        All signs in their order.
    named : sequence of str
        Those that are told, in any order.
    """
    wanted = set(named)
    found: list[list[str]] = [[]]
    for sign in every:
        if sign in wanted:
            found[-1].append(sign)
        elif found[-1]:
            found.append([])
    return [_run(run) for run in found if run]


def _run(signs: Sequence[str]) -> str:
    if len(signs) == 1:
        return signs[0]
    return f"{signs[0]}-{signs[-1]}"


def numbers_text(numbers: Sequence[int]) -> str:
    """``3, 5-7 and 9``; no number is told twice."""
    every = map(str, range(min(numbers), max(numbers) + 1))
    return runs_text(list(every), list(map(str, numbers)))


__all__ = ["numbers_text", "runs", "runs_text"]
