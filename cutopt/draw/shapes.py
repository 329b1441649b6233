"""How shapes lie in a strip that they are cut from: a small picture at scale, with the measures of the ruler."""

from __future__ import annotations

from typing import Final

from matplotlib.figure import Figure

from cutopt.draw.looks import FAINT, INK, SCRAP_HATCH, one_shape
from cutopt.draw.sheet import LINE, PaperSheet, blank_sheet, word
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.shapes.nested import Laid, Outline

# mm of the drawing: as wide as a page, and the strip no higher
_WIDE: Final = 150.0
_MOST_HIGH: Final = 26.0
# mm at the left for the height of the strip
_LEFT: Final = 16.0
# mm for an inch of cloth, at most
_MOST_SCALE: Final = 8.0
_INCH: Final = 25.4 * 320


def draw_shapes(laid: Laid, how: Conventions) -> Figure:
    """A strip with its shapes: every line inside is a cut, what is hatched is waste.

    Parameters
    ----------
    laid : Laid
    how : Conventions
        For the unit.
    """
    long = float(laid.long)
    high = float(laid.shape.height)
    scale = min(_MOST_SCALE / _INCH, (_WIDE - _LEFT - 4) / long, _MOST_HIGH / high)
    figure, sheet = blank_sheet(_WIDE, high * scale + 2 * LINE + 2)
    low = 1.5 * LINE
    at = _LEFT, low, scale
    strip = _rectangle(long, high, at)
    one_shape(
        sheet.ax,
        [strip],
        facecolor="white",
        edgecolor=FAINT,
        hatch=SCRAP_HATCH,
        linewidth=0,
    )
    for outline in laid.shape.outlines(laid.count):
        _cut(sheet, outline, at)
    one_shape(sheet.ax, [strip], fill=False, edgecolor=INK, linewidth=1.4)
    _measures(sheet, laid, how, at)
    return figure


def _rectangle(
    long: float, high: float, at: tuple[float, float, float]
) -> list[tuple[float, float]]:
    x, y, scale = at
    right = x + long * scale
    top = y + high * scale
    return [(x, y), (right, y), (right, top), (x, top)]


def _cut(sheet: PaperSheet, outline: Outline, at: tuple[float, float, float]) -> None:
    """One shape, white, with the lines of its cuts."""
    left, low, scale = at
    corners = [(left + float(x) * scale, low + float(y) * scale) for x, y in outline]
    one_shape(
        sheet.ax,
        [corners],
        facecolor="white",
        edgecolor=INK,
        linewidth=0.7,
        joinstyle="round",
    )


def _measures(
    sheet: PaperSheet,
    laid: Laid,
    how: Conventions,
    at: tuple[float, float, float],
) -> None:
    """The height at the left, and below it length, number, and the edge of the first shape."""
    left, low, scale = at
    high = float(laid.shape.height) * scale
    word(sheet, how.show(laid.shape.height), 0, low + high / 2)
    first, second, *_ = laid.shape.corners
    edge = how.show(second[0] - first[0])
    number = f"{laid.count} from a strip {how.show(laid.long)} {how.unit} long"
    word(
        sheet, f"{number}; the lower edge of the first: {edge}", left, low - LINE + 0.3
    )


__all__ = ["draw_shapes"]
