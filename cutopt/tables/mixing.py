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
    by_hand: Sequence[Placed[Any]], worked: Sequence[Placed[Wanted]], kind: type[Cut] | type[Strip], unit: Unit,
    log: Log,
) -> list[Placed[Any]]:  # fmt: skip
    """Rows of the quilt that no hand-written row of that name gives already, then the hand-written ones.

    A name given in both stands once where the numbers agree; where they do not, it is a problem that names both
    lines.
    """
    first = {placed.value.name.lower(): i for i, placed in enumerate(by_hand)}
    new: list[Placed[Any]] = []
    out: list[Placed[Any]] = list(by_hand)
    for placed in worked:
        row = placed.value
        if not isinstance(row, kind):
            continue
        at = first.get(row.name.lower())
        if at is None:
            new.append(placed)
            continue
        hand = out[at]
        if _numbers(hand.value) != _numbers(row):
            field_ = "cut" if kind is Cut else "strip"
            what = (
                f'"{row.name}" is {_shown(hand.value, unit)} here, and {_shown(row, unit)} by {placed.file} '
                f"row {placed.row} ({row.why})"
            )
            log.add(Problem(field_, what, "take it out here or there, or make them agree"), hand.file, hand.row)
        elif not hand.value.why:
            out[at] = Placed(replace(hand.value, why=row.why), hand.file, hand.row)
    return [*new, *out]


def _numbers(row: Wanted) -> tuple[int, ...]:
    if isinstance(row, Cut):
        return row.count, row.width, row.length
    return row.count, row.width, row.total_length


def _shown(row: Wanted, unit: Unit) -> str:
    long = row.length if isinstance(row, Cut) else row.total_length
    return f"{row.count} of {format_length(row.width, unit)} x {format_length(long, unit)} {unit}"
