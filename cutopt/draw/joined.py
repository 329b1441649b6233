"""Batting of the maker's own as it is butted: columns of scraps side by side, and what is bought beside them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeAlias

from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from cutopt.answers.batting import BattingAnswer
from cutopt.draw.looks import INK
from cutopt.draw.quilt import rule
from cutopt.draw.sheet import MARGIN, PaperSheet, blank_sheet, scale_bar
from cutopt.quilt.backs.batting import BattingWay
from cutopt.quilt.backs.scraps import bits_of

# left and top corner, width and height, ticks, and what is written on it
Box: TypeAlias = tuple[float, float, float, float, str]

WIDE = 190.0
HIGH = 70.0
# mm for the sizes of the batting beside it and below it
_SIDE = 12.0
_FOOT = 16.0
_HEAD = 3.0


def draw_joined(
    answer: BattingAnswer, way: BattingWay, *, high: float = HIGH
) -> Figure:
    """A way with batting of the maker's own, at scale, trimmed to the size that it has to reach.

    Parameters
    ----------
    answer : BattingAnswer
    way : BattingWay
        One that uses batting of the maker's own.
    high : float
        Height of the drawing, mm.
    """
    need = answer.need
    wide = float(need.width)
    long = float(need.length)
    room = (WIDE - 2 * MARGIN - _SIDE, high - _HEAD - _FOOT)
    scale = min(room[0] / wide, room[1] / long)
    figure, sheet = blank_sheet(WIDE, _HEAD + _FOOT + long * scale)
    low = _FOOT - 2
    for box in _boxes(answer, way):
        _draw(sheet, box, (_SIDE, low + long * scale), scale)
    how = answer.how
    end = (_SIDE, low + long * scale)
    rule(sheet, (_SIDE - 4, low), (_SIDE - 4, end[1]), how.least(need.length))
    right = (_SIDE + wide * scale, low - 4)
    rule(sheet, (_SIDE, low - 4), right, how.least(need.width), below=True)
    scale_bar(sheet, how.unit, scale, 0.5, 2.5)
    return figure


def _boxes(answer: BattingAnswer, way: BattingWay) -> Iterator[Box]:
    """Each bit of a column from above, cut off where the batting ends; then what is bought; turned where they lie."""
    need = answer.need
    across, long = float(need.width), float(need.length)
    if not way.upright:
        across, long = long, across
    left = list(answer.hand)
    x = 0.0
    for column in way.columns:
        y = 0.0
        wide = min(float(column.width), across - x)
        for bit in bits_of(column, left):
            left.remove(bit.scrap)
            high = min(float(bit.length), long - y)
            yield _box((x, y, wide, high), bit.scrap.name, way.upright)
            y += high
        x += wide
    if way.what and x < across:
        yield _box((x, 0.0, across - x, long), way.what, way.upright)


def _box(at: tuple[float, float, float, float], name: str, upright: bool) -> Box:
    x, y, wide, high = at
    if upright:
        return (x, y, wide, high, name)
    return (y, x, high, wide, name)


def _draw(
    sheet: PaperSheet, box: Box, corner: tuple[float, float], scale: float
) -> None:
    """A bit with its name; `corner` is the upper left one of the batting, mm."""
    x = corner[0] + box[0] * scale
    y = corner[1] - (box[1] + box[3]) * scale
    wide = box[2] * scale
    high = box[3] * scale
    edge = Rectangle((x, y), wide, high, fill=False, edgecolor=INK, linewidth=0.9)
    sheet.ax.add_patch(edge)
    labels = sheet.labels
    inside = (*labels.pixels(x, y), *labels.pixels(x + wide, y + high))
    middle = [labels.pixels(x + wide / 2, y + high / 2)]
    for turn in (0, 90):
        if labels.set(box[4], middle, turn=turn, inside=inside, frame="plain"):
            return
