"""The ways to say a phrase: ``[all] (round/around) [the outside]`` stands for six of them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import product
from typing import Final, TypeAlias

Way: TypeAlias = tuple[str, ...]

_PART: Final = re.compile(r"[\[\]()/|]|[^\s\[\]()/|]+")
_CLOSES: Final = {"[": "]", "(": ")"}


def ways_in(told: str) -> tuple[Way, ...]:
    """Each way that a text stands for, in its order and once; hyphens part words.

    Between ``|`` or ``/`` stand other ways, in brackets what may be left out, in round ones what may not;
    ``block~`` is *block* or *blocks*.

    Parameters
    ----------
    told : str

    Raises
    ------
    ValueError
        Where a bracket is not closed.
    """
    parts = _PART.findall(told.replace("-", " "))
    ways, rest = _others(parts, "")
    if rest:
        raise ValueError(f"{told!r} closes a bracket that it does not open")
    return tuple(dict.fromkeys(way for way in ways if way))


def _others(parts: Sequence[str], closes: str) -> tuple[list[Way], Sequence[str]]:
    """The ways up to the bracket that closes them, and what stands behind it."""
    found: list[Way] = []
    row: list[list[Way]] = []
    while parts:
        part, *parts = parts
        if part in ("]", ")"):
            if part != closes:
                raise ValueError(f"{part} closes no bracket")
            return found + _joined(row), parts
        if part in ("/", "|"):
            found += _joined(row)
            row = []
        elif part in _CLOSES:
            inner, parts = _others(parts, _CLOSES[part])
            row.append([*inner, ()] if part == "[" else inner)
        else:
            row.append(_word(part))
    if closes:
        raise ValueError(f"{closes} is missing")
    return found + _joined(row), ()


def _word(part: str) -> list[Way]:
    if part.endswith("~"):
        return [(part[:-1],), (f"{part[:-1]}s",)]
    return [(part,)]


def _joined(row: Sequence[list[Way]]) -> list[Way]:
    return [sum(each, ()) for each in product(*row)]
