"""The traditional blocks in small: white the first fabric that a sentence names, dark the second, hatched the third."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from matplotlib.figure import Figure

from cutopt.draw.looks import INK, Look, one_shape
from cutopt.draw.sheet import LINE, PaperSheet, blank_sheet, word
from cutopt.quilt.pieced.pattern import Pattern

# mm of the drawing
_WIDE: Final = 180.0
_COLUMNS: Final = 6
_SIDE: Final = 24.0
_GAP: Final = 4.0
# of the first, second and third fabric of a block, and of any further one
_LOOKS: Final = (
    Look(colour="#ffffff", hatch=""),
    Look(colour="#4a4a4a", hatch=""),
    Look(colour="#c9c9c9", hatch="////"),
)


def draw_blocks(patterns: Iterable[Pattern]) -> Figure:
    """A sheet of blocks, each under its name: of one size, in grey, so that any printer will do."""
    shown = list(patterns)
    rows = -(-len(shown) // _COLUMNS)
    cell = _SIDE + _GAP + 2 * LINE
    figure, sheet = blank_sheet(_WIDE, rows * cell + _GAP)
    step = sheet.width / _COLUMNS
    for number, pattern in enumerate(shown):
        down, across = divmod(number, _COLUMNS)
        top = sheet.height - down * cell
        _name(sheet, pattern.one, (across * step, top - LINE / 2), step)
        _block(sheet, pattern, (across * step, top - 2 * LINE - _SIDE))
    return figure


def _name(sheet: PaperSheet, name: str, at: tuple[float, float], room: float) -> None:
    """A name in one row or two."""
    rows = [""]
    for each in name.split():
        longer = f"{rows[-1]} {each}".strip()
        if sheet.labels.size(longer, 8)[0] / sheet.labels.px_per_mm > room - 2:
            rows.append(each)
        else:
            rows[-1] = longer
    x, y = at
    for number, row in enumerate(rows[-2:]):
        word(sheet, row, x, y - number * LINE)


def _block(sheet: PaperSheet, pattern: Pattern, at: tuple[float, float]) -> None:
    x, y = at
    scale = _SIDE / pattern.parts
    for unit, shapes in pattern.drawn.laid():
        for which, corners in shapes:
            look = _LOOKS[min(unit.slots[which], len(_LOOKS) - 1)]
            placed = [
                (x + float(across) * scale, y + float(up) * scale)
                for across, up in corners
            ]
            one_shape(
                sheet.ax,
                [placed],
                facecolor=look.colour,
                edgecolor=INK,
                hatch=look.hatch,
                linewidth=0.6,
                joinstyle="round",
            )


__all__ = ["draw_blocks"]
