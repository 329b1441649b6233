"""What becomes of the parts that a cut gives: used, cut again, kept or scrap. Pure words, no page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from cutopt.geometry import aside, bounds
from cutopt.measure import EDGES
from cutopt.moves import Move
from cutopt.pages.moves_of_cuts import Table
from cutopt.pages.phrases import of_row, size_text, spare_text
from cutopt.plan import CutStep


def pieces_apart(table: Table, move: Move, nouns: Mapping[str, str]) -> list[str]:
    """What becomes of the pieces that a cut gives, side by side.

    Parameters
    ----------
    table : Table
    move : Move
        One that leaves several pieces.
    nouns : mapping
        What parts are called that are cut again, by name.
    """
    sides: dict[str, list[str]] = {}
    for name in move.made:
        sides.setdefault(_side(table, move, name), []).append(name)
    out: list[str] = []
    for side, names in sides.items():
        out += _pieces_of(table, move, nouns, side, names)
    return out


def _side(table: Table, move: Move, name: str) -> str:
    """On which side of a cut a piece lies."""
    corners = table.parts[name]
    line = move.cuts[0].line
    if line is None:
        low = bounds(corners)[move.axis] < move.at
        return EDGES[move.axis, "low" if low else "high"].capitalize()
    right = max(aside(line, corner)[0] for corner in corners) > 0
    # of a line drawn from the top down, left and right change
    upwards = line[1][1] > line[0][1]
    return f"{'Right' if upwards == right else 'Left'} of the line"


def _pieces_of(
    table: Table,
    move: Move,
    nouns: Mapping[str, str],
    side: str,
    names: Sequence[str],
) -> list[str]:
    """The pieces on one side of a cut; several are numbered, unless all of them are scrap."""
    if len(names) == 1 or move.kind == "line":
        return [f"{side}: {_becomes(table, name, nouns)}." for name in names]
    if all(table.fate(name)[0] == "scrap" for name in names):
        if len(names) == 2:
            every = "both"
        else:
            every = f"all {len(names)}"
        return [f"{side}: {every} are scrap."]
    other = 1 - move.axis
    order = sorted(names, key=lambda name: bounds(table.parts[name])[other])
    end = EDGES[other, "low"]
    return [
        f"{side}, number {order.index(name) + 1} from the {end}: "
        f"{_becomes(table, name, nouns)}."
        for name in names
    ]


def _becomes(table: Table, name: str, nouns: Mapping[str, str]) -> str:
    fate = table.fate(name)
    size = size_text(table, name)
    if fate[0] == "use":
        return f"{of_row(1, fate[1])}, {size}"
    if fate[0] == "keep":
        return f"spare, {spare_text(table, name)}, keep it"
    if fate[0] == "scrap":
        return "scrap"
    return nouns[name]


def left_over(
    table: Table, move: Move, after: Sequence[CutStep], times: int
) -> list[str]:
    """What becomes of the rest, and of what is cut off only to be kept.

    Parameters
    ----------
    table : Table
    move : Move
    after : sequence of CutStep
        The cuts that come next.
    times : int
        On how many parts stacked upon each other it is done.
    """
    if move.kind == "trim" or (move.kind == "line" and move.rest):
        return _cut_off(table, move)
    if move.kind in ("apart", "line") or not move.rest:
        return []
    if times == 1:
        rests = "What is left"
    else:
        rests = "What is left of each"
    fate = table.fate(move.rest)
    if fate[0] == "use":
        return [f"{rests} is {of_row(1, fate[1])}, {size_text(table, move.rest)}."]
    if fate[0] == "keep":
        return [f"{rests}, {spare_text(table, move.rest)}, is spare: keep it."]
    if fate[0] == "scrap":
        return [f"{rests} is scrap."]
    if after and after[0].part == move.rest:
        return []
    return ["Lay the rest aside."]


def _cut_off(table: Table, move: Move) -> list[str]:
    """What a trim takes off, where it is kept."""
    off = next((name for name in move.cuts[0].gives if name != move.rest), "")
    if off not in table.keep:
        return []
    return [f"What you cut off, {spare_text(table, off)}, is spare: keep it."]
