"""Scraps of batting butted to columns, and the columns side by side: a suggestion of which to join."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from cutopt.lengths import INCH
from cutopt.quilt.backs.way import OnHand
from cutopt.quilt.surds import ZERO, Exact, exact
from cutopt.quilt.top import Needed

WORTH_JOINING: Final = 6 * INCH


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """Scraps end to end, trimmed to one width: as long as the batting."""

    width: Exact
    length: Exact
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bit:
    """A scrap as it lies in a column: `width` across the column, `length` along it, turned or not."""

    scrap: OnHand
    width: Exact
    length: Exact
    turned: bool


def bits_of(column: Column, scraps: Sequence[OnHand]) -> Iterable[Bit]:
    """The scraps of a column in order, as they lie in it, each trimmed to its width."""
    left = list(scraps)
    for name in column.names:
        scrap = next(each for each in left if each.name == name)
        left.remove(scrap)
        long = _along(scrap, column.width.__ceil__())
        upright = scrap.width >= column.width and scrap.length == long
        yield Bit(
            scrap=scrap,
            width=column.width,
            length=exact(long),
            turned=not upright,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """Columns of scraps side by side: the width they come to, what is still wanting of it, what is over in length."""

    columns: tuple[Column, ...]
    width: Exact
    missing: Exact
    spare: Exact


def joined_scraps(
    scraps: Sequence[OnHand], need: Needed, straighten: int = 0
) -> Joined:
    """Scraps of batting butted, end to end to columns and the columns side by side, until they reach.

    The widest column first, each of scraps that lose little by being trimmed to one width; a suggestion, and not
    always the least joins. Scraps narrower than 6 in are not worth a join (common practice, no source).

    Parameters
    ----------
    straighten : int
        Lost at each edge that is butted.
    """
    left = [
        scrap for scrap in scraps if min(scrap.width, scrap.length) >= WORTH_JOINING
    ]
    columns: list[Column] = []
    width = ZERO
    while left and width < need.width:
        made = [
            found
            for first in left
            for found in _columns(first, left, need.length, straighten)
        ]
        if not made:
            break
        best, used = min(
            made,
            key=lambda each: (
                len(each[0].names) > 1,
                -each[0].width,
                len(each[0].names),
            ),
        )
        width = width + best.width - (2 * straighten if columns else 0)
        columns.append(best)
        left = [scrap for i, scrap in enumerate(left) if i not in used]
    missing = need.width - width
    spare = min((column.length - need.length for column in columns), default=ZERO)
    return Joined(
        columns=tuple(columns),
        width=width,
        missing=missing if missing > 0 else ZERO,
        spare=spare,
    )


def _columns(
    first: OnHand, left: Sequence[OnHand], length: Exact, straighten: int
) -> Iterable[tuple[Column, frozenset[int]]]:
    """A column that begins with a scrap, either way round, and which of those left it takes."""
    start = next(i for i, scrap in enumerate(left) if scrap is first)
    for wide, long in {(first.width, first.length), (first.length, first.width)}:
        taken = [start]
        width = wide
        reach = exact(long)
        others = sorted(
            (i for i in range(len(left)) if i != start),
            key=lambda i: _along(left[i], wide),
            reverse=True,
        )
        for i in others:
            if reach >= length:
                break
            if on := _along(left[i], wide):
                taken = [*taken, i]
                reach = reach + on - 2 * straighten
        if reach >= length:
            yield (
                Column(
                    width=exact(width),
                    length=reach,
                    names=tuple(left[i].name for i in taken),
                ),
                frozenset(taken),
            )


def _along(scrap: OnHand, width: int) -> int:
    """How much a scrap trimmed to a width gives along a column of it; 0 where it is narrower."""
    return max(
        (
            b
            for a, b in ((scrap.width, scrap.length), (scrap.length, scrap.width))
            if a >= width
        ),
        default=0,
    )
