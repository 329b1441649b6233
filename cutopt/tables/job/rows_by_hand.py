"""Wanted rows written by hand beside those that quilt.toml makes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Final

from cutopt.errors import Problem
from cutopt.lengths import format_length
from cutopt.settings import Unit
from cutopt.tables.log import Log, Placed
from cutopt.wanted import Cut, Strip, Wanted

_RULES: Final = (
    "fabrics",
    "grain",
    "upright",
    "importance",
    "together",
    "most_each",
)


def mixed(
    cuts: Sequence[Placed[Cut]],
    strips: Sequence[Placed[Strip]],
    worked: Sequence[Placed[Wanted]],
    unit: Unit,
    log: Log,
) -> tuple[list[Placed[Cut]], list[Placed[Strip]]]:
    """The rows of the quilt that no hand-written row of that name gives already, then the hand-written ones.

    A name given in both stands once where they agree, as it is written by hand: so a side that the recipe would let be
    joined is asked for in one piece. What only one of them says (a fabric, the grain) holds; where they contradict each
    other, in a number or a rule, it is a problem that names both lines.

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
    """The hand-written row, with what only the recipe says of it; a problem where they differ."""
    row = made.value
    if isinstance(hand.value, Cut):
        field = "cut"
    else:
        field = "strip"
    there = f"by {made.file} row {made.row}"
    before = len(log.problems)
    if _numbers(hand.value) != _numbers(row):
        here = _shown(hand.value, unit)
        what = (
            f'"{row.name}" is {here} here, and {_shown(row, unit)} {there} ({row.why})'
        )
        mend = "take it out here or there, or make them agree"
        log.add(Problem(field, what, mend), hand.file, hand.row)
    for column, (here, by_recipe) in _contradictions(hand.value, row).items():
        what = f'"{row.name}" has {here} here, and {by_recipe} {there}'
        mend = f"write {by_recipe} here too, or change it there"
        log.add(Problem(column, what, mend), hand.file, hand.row)
    if len(log.problems) > before:
        return hand
    return Placed(_with_the_rest(hand.value, row), hand.file, hand.row)


def _contradictions(hand: Wanted, made: Wanted) -> dict[str, tuple[str, str]]:
    """What both say differently, by its column; of how much it matters both always say something."""
    told: dict[str, tuple[str, str]] = {}
    here, there = _rules(hand), _rules(made)
    for column in _RULES:
        one, other = here[column], there[column]
        said = column == "importance" or (one and other)
        if said and one.lower() != other.lower():
            told[column] = (one, other)
    return told


def _rules(row: Wanted) -> dict[str, str]:
    """The rules of a row as words, "" where it has none."""
    if isinstance(row, Cut):
        upright = "along" if row.upright else ""
        most_each = str(row.most_each or "")
    else:
        upright = row.upright.replace("no", "")
        most_each = ""
    return {
        "fabrics": "|".join(row.fabrics),
        "grain": row.grain.replace("any", ""),
        "upright": upright,
        "importance": row.importance,
        "together": row.together,
        "most_each": most_each,
    }


def _with_the_rest(hand: Any, made: Wanted) -> Wanted:
    """The hand-written row with the arithmetic and the rules that only the recipe has."""
    here, there = _rules(hand), _rules(made)
    new: dict[str, Any] = {}
    if not hand.why:
        new["why"] = made.why
    for column in ("fabrics", "grain", "together"):
        if there[column] and not here[column]:
            new[column] = getattr(made, column)
    if there["upright"] and not here["upright"]:
        if isinstance(hand, Strip):
            new["upright"] = there["upright"]
        elif there["upright"] == "along":
            new["upright"] = True
    if there["most_each"] and not here["most_each"] and isinstance(hand, Cut):
        new["most_each"] = int(there["most_each"])
    changed: Wanted = replace(hand, **new)
    return changed


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
