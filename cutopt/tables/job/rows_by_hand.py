"""Wanted rows written by hand beside those that quilt.toml makes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from cutopt.errors import Problem
from cutopt.job import Unit
from cutopt.lengths import format_length
from cutopt.tables.log import Log, Placed
from cutopt.wanted import Cut, Strip, Wanted


def mixed(
    cuts: Sequence[Placed[Cut]],
    strips: Sequence[Placed[Strip]],
    worked: Sequence[Placed[Wanted]],
    unit: Unit,
    log: Log,
) -> tuple[list[Placed[Cut]], list[Placed[Strip]]]:
    """The rows of the quilt that no hand-written row of that name gives already, then the hand-written ones.

    A name given in both stands once where the numbers agree, as it is written by hand: so a side that the recipe
    would let be joined is asked for in one piece. Where they do not, it is a problem that names both lines.

    Parameters
    ----------
    cuts, strips : sequences of Placed
        As they are written by hand.
    worked : sequence of Placed
        Rows of the quilt.
    unit : {"in", "cm"}
        For the problem.
    log : Log
    """
    by_hand: list[Placed[Any]] = [*cuts, *strips]
    first: dict[str, list[int]] = {}
    for i, placed in enumerate(by_hand):
        first.setdefault(placed.value.name.lower(), []).append(i)
    new: list[Placed[Any]] = []
    for placed in worked:
        same = first.get(placed.value.name.lower(), [])
        at = max(
            same,
            key=lambda i: type(by_hand[i].value) is type(placed.value),
            default=None,
        )
        if at is None:
            new.append(placed)
        else:
            by_hand[at] = _agreed(by_hand[at], placed, unit, log)
    rows = [*new, *by_hand]
    all_cuts = [row for row in rows if isinstance(row.value, Cut)]
    all_strips = [row for row in rows if isinstance(row.value, Strip)]
    return all_cuts, all_strips


def _agreed(
    hand: Placed[Any], made: Placed[Wanted], unit: Unit, log: Log
) -> Placed[Any]:
    """The hand-written row, with the arithmetic of the recipe where it has none; a problem where they differ."""
    row = made.value
    if _numbers(hand.value) == _numbers(row):
        if hand.value.why:
            return hand
        return Placed(replace(hand.value, why=row.why), hand.file, hand.row)
    if isinstance(hand.value, Cut):
        field = "cut"
    else:
        field = "strip"
    here = _shown(hand.value, unit)
    there = _shown(row, unit)
    what = f'"{row.name}" is {here} here, and {there} by {made.file} row {made.row} ({row.why})'
    log.add(
        Problem(field, what, "take it out here or there, or make them agree"),
        hand.file,
        hand.row,
    )
    return hand


def _numbers(row: Wanted) -> tuple[int, ...]:
    if isinstance(row, Cut):
        return row.count, row.width, row.length
    return row.count, row.width, row.total_length


def _shown(row: Wanted, unit: Unit) -> str:
    if isinstance(row, Cut):
        long = row.length
    else:
        long = row.total_length
    return f"{row.count} of {format_length(row.width, unit)} x {format_length(long, unit)} {unit}"
