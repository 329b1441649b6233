"""Sizes that can be written and are hardly meant: wider than any cloth, or more cells than a memory holds.

The widest cloth on sale lies near 3 m (wide backing of 108 to 120 in), and a bolt holds some 10 to 30 yd (common
practice, no source). A number without a unit that goes beyond that is asked back, most often because millimetres were
typed into a job in inches; with its unit it is taken.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from cutopt.errors import Problem
from cutopt.fabric import Outline, Piece
from cutopt.geometry import bounds
from cutopt.lengths import CM, INCH, METRE, MM, YARD
from cutopt.settings import Settings
from cutopt.tables.log import Log, Placed

WIDEST: Final = {"in": 130 * INCH, "cm": 330 * CM}
LONGEST: Final = {"in": 30 * YARD, "cm": 27 * METRE}
_WIDEST_OF_ALL: Final = 4 * METRE
# of all irregular pieces of a pile; a cell takes nine bytes
_MOST_CELLS: Final = 40_000_000
# the finest lines a plan falls back on
_FINEST: Final = {"in": INCH // 16, "cm": MM}
_HAS_UNIT: Final = re.compile(r"\d\s*-?\s*(?:[a-wyz]|\"|''|″|[”“])", re.IGNORECASE)


def refuse_odd_size(
    field: str, texts: tuple[str, str], size: tuple[int, int], unit: str
) -> None:
    """Raise a problem where cloth of a size (across, along, in ticks) does not exist, or its unit is in doubt.

    Parameters
    ----------
    field : str
        Named in the problem.
    texts : (str, str)
        What across and along were read from (twice the same where it is an outline); numbers in it without a unit
        are in the unit of the job.
    size : (int, int)
        Ticks.
    unit : {"in", "cm"}
        That of the job.

    Raises
    ------
    Problem
        What is odd, and which unit may be meant.
    """
    across, along = size
    told = f"{_about(across, unit)} x {_about(along, unit)} {unit}"
    text = " x ".join(dict.fromkeys(text.strip() for text in texts))
    wide = across > WIDEST[unit] and _is_bare(texts[0])
    long = along > LONGEST[unit] and _is_bare(texts[1])
    if wide or long:
        what = f'"{text}" would be {told}: no cloth is so {"wide" if wide else "long"}'
        raise Problem(field, what, _mend(size, unit))
    if min(size) > _WIDEST_OF_ALL:
        raise Problem(
            field,
            f'"{text}" is {told}: no cloth is so wide',
            "check the numbers and their unit",
        )


def _is_bare(text: str) -> bool:
    return _HAS_UNIT.search(text) is None


def _about(ticks: int, unit: str) -> str:
    return f"{ticks / (INCH if unit == 'in' else CM):.4g}"


def _mend(size: tuple[int, int], unit: str) -> str:
    """Which units may be meant, and which side comes first."""
    across, along = size
    if across > WIDEST[unit] >= along:
        return f"write across first and then along, or the unit behind each number if it is so (mm or {unit})"
    if min(size) > _WIDEST_OF_ALL:
        taken = ""
    else:
        taken = f", or {unit} if it is so"
    return f"write the unit behind each number: mm if millimetres are meant{taken}"


def extent(outline: Outline) -> tuple[int, int]:
    """How far an outline reaches across and along."""
    x1, y1, x2, y2 = bounds(outline)
    return int(x2 - x1), int(y2 - y1)


def of_cells(pieces: Iterable[Placed[Piece]], settings: Settings, log: Log) -> None:
    """Note the piece with which the irregular cloth of a pile would no longer fit into memory.

    Parameters
    ----------
    pieces : iterable of Placed
    settings : Settings
        Their grid says how large a cell is.
    log : Log
    """
    step = min(settings.grid, _FINEST[settings.unit])
    cells = 0
    for placed in pieces:
        piece = placed.value
        width, length = piece.size
        if not piece.is_rectangle or piece.flaws:
            cells += (width // step) * (length // step)
        if cells > _MOST_CELLS:
            what = f"with {piece.name} the pile has more cloth of odd outlines than can be planned at once"
            mend = "keep some of the large pieces out, or give those that are nearly rectangles as rectangles"
            log.add(Problem("outline", what, mend), placed.file, placed.row)
            return
