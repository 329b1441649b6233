"""Many pieces of cloth on sheets of paper, all at one scale, each with its words below it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from cutopt.draw.labels import Labels
from cutopt.draw.letters import shown
from cutopt.draw.looks import (
    FAINT,
    INK,
    PAGE,
    SMALLEST_TEXT,
    Drawing,
    bare_axes,
    drawing,
)
from cutopt.geometry import Polygon, bounds
from cutopt.lengths import CM, INCH

Place: TypeAlias = Callable[[Polygon], list[tuple[float, float]]]
MARGIN: Final = 1.5  # mm kept free at the edge of a figure
GAP: Final = 4.0  # mm between cells
LINE: Final = 3.7  # mm a line of 8-point letters
_BARS: Final = {"in": (1, 2, 3, 6, 12, 24), "cm": (2, 5, 10, 20, 50)}
# mm on paper for an inch of cloth, down to 1.4
_SCALES: Final = tuple(11.0 * 0.94**step for step in range(34))


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One piece of cloth: its outline, its words, and who paints it, helped by a function to place corners."""

    outline: Polygon
    words: tuple[str, ...]
    paint: Callable[[Labels, Place], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperSheet:
    """One page: an empty drawing in millimetres, with the room that head and foot take."""

    labels: Labels
    width: float
    height: float

    @property
    def ax(self) -> Axes:
        """The axes, which count in millimetres from the lower left corner of what may be drawn on."""
        return self.labels.ax


def blank_sheet(
    width: float = PAGE[0], height: float = PAGE[1]
) -> tuple[Drawing, PaperSheet]:
    """An empty page."""
    figure = drawing(width, height)
    ax = bare_axes(figure)
    ax.set_xlim(-MARGIN, width - MARGIN)
    ax.set_ylim(-MARGIN, height - MARGIN)
    return figure, PaperSheet(
        labels=Labels.on(ax), width=width - 2 * MARGIN, height=height - 2 * MARGIN
    )


def word(
    sheet: PaperSheet,
    text: str,
    x: float,
    y: float,
    size: float = SMALLEST_TEXT,
    weight: str = "normal",
) -> float:
    """Set a text in one line, no further than the sheet.

    Parameters
    ----------
    sheet : PaperSheet
    text : str
    x, y : float
        The middle of its left end, mm.
    size : float
        Of its letters, points.
    weight : str
        "normal" or "bold".

    Returns
    -------
    float
        Where it ends, mm.
    """
    text = sheet.labels.fitted(
        text, (sheet.width - x) * sheet.labels.px_per_mm, size, weight
    )
    wide = sheet.labels.size(text, size, weight=weight)[0] / sheet.labels.px_per_mm
    sheet.labels.set(
        text, [sheet.labels.pixels(x, y)], size=size, weight=weight, pad=0, left=True
    )
    return x + wide


def title(sheet: PaperSheet, text: str, y: float, size: float = 14) -> None:
    """A title over the width of a sheet: a long one in smaller letters, then in two rows, then shortened.

    Parameters
    ----------
    sheet : PaperSheet
    text : str
    y : float
        Its middle, mm.
    size : float
        Of its letters where it is short, points.
    """
    room = sheet.width
    labels = sheet.labels
    text = shown(text)

    def fits(said: str, points: float) -> bool:
        return labels.size(said, points, weight="bold")[0] / labels.px_per_mm <= room

    points = next((each for each in (size, 12.0, 10.0) if fits(text, each)), 10.0)
    rows: list[str] = []
    for one in text.split():
        if rows and fits(f"{rows[-1]} {one}", points):
            rows[-1] += f" {one}"
        else:
            rows.append(one)
    for i, row in enumerate(rows[:2]):
        if i == 0 or len(rows) < 3:
            said = row
        else:
            said = f"{row} ..."
        word(
            sheet,
            said,
            0,
            y + (2 if len(rows) > 1 else 0) - 4.7 * i,
            size=points,
            weight="bold",
        )


def packed(
    cells: Sequence[Cell], labels: Labels, width: float, height: float
) -> tuple[float, list[list[tuple[Cell, float, float]]]]:
    """The largest scale (mm for a tick) at which all cells fit one page, or a small one and several pages.

    The small one is as much smaller as a cell needs that is longer than the paper at that scale.
    Cells keep their order, unless standing them by height makes the picture a quarter larger.

    Parameters
    ----------
    cells : sequence of Cell
    labels : Labels
        By which their words are measured.
    width, height : float
        Of a page, mm.

    Returns
    -------
    float, list
        The scale, and for each page its cells with their places: the left end, and the upper end counted down from
        the top, mm.
    """
    by_height = sorted(
        cells,
        key=lambda cell: -float(bounds(cell.outline)[3] - bounds(cell.outline)[1]),
    )
    kept, stood = (
        _fitted(order, labels, width, height) for order in (cells, by_height)
    )
    larger = stood[0] > 1.25 * kept[0] or len(stood[1]) < len(kept[1])
    if larger:
        return stood
    return kept


def _fitted(
    cells: Sequence[Cell], labels: Labels, width: float, height: float
) -> tuple[float, list[list[tuple[Cell, float, float]]]]:
    longest = min(
        (_alone(cell, width, height) for cell in cells), default=_SCALES[0] / INCH
    )
    for scale in (each / INCH for each in _SCALES if each / INCH <= longest):
        pages = _shelves(cells, labels, scale, width, height)
        if len(pages) <= 1:
            return scale, pages
    least = min(_SCALES[-1] / INCH, longest)
    return least, _shelves(cells, labels, least, width, height)


def _alone(cell: Cell, width: float, height: float) -> float:
    """The scale at which a cell has a page to itself, a little less for rounding."""
    x1, y1, x2, y2 = (float(v) for v in bounds(cell.outline))
    return 0.999 * min(
        width / (x2 - x1), (height - LINE * len(cell.words) - 1.5) / (y2 - y1)
    )


def _shelves(
    cells: Sequence[Cell], labels: Labels, scale: float, width: float, height: float
) -> list[list[tuple[Cell, float, float]]]:
    """Rows from the top, cells of a row standing on one line; too wide a cell makes no page fit (two pages)."""
    pages: list[list[tuple[Cell, float, float]]] = [[]]
    row: list[tuple[Cell, float, float, float]] = []
    x = y = deepest = 0.0
    for cell in (*cells, None):
        wide, high = cell_size(cell, labels, scale) if cell else (width, 0.0)
        if cell is None or (x + wide > width and row):
            if y + deepest > height and pages[-1]:
                pages.append([])
                y = 0.0
            pages[-1] += [(c, cx, y + deepest - h) for c, cx, _, h in row]
            y = y + deepest + GAP
            x = 0.0
            row = []
            deepest = 0.0
        if cell:
            row.append((cell, x, wide, high))
            x = x + wide + GAP
            deepest = max(deepest, high)
            if wide > width or high > height:
                pages.append([])  # this scale is too large
    if len(pages) == 1 or scale <= _SCALES[-1] / INCH:
        return [page for page in pages if page]
    return [[], []]


def cell_size(cell: Cell, labels: Labels, scale: float) -> tuple[float, float]:
    """Width and height that a cell takes with its words, mm.

    Parameters
    ----------
    cell : Cell
    labels : Labels
        By which its words are measured.
    scale : float
        Millimetres for a tick.
    """
    x1, y1, x2, y2 = (float(v) for v in bounds(cell.outline))
    words = max(
        (
            labels.size(_line(line, labels), SMALLEST_TEXT)[0] / labels.px_per_mm
            for line in cell.words
        ),
        default=0.0,
    )
    return max((x2 - x1) * scale, words), (y2 - y1) * scale + LINE * len(
        cell.words
    ) + 1.5


def paint(sheet: PaperSheet, cell: Cell, x: float, top: float, scale: float) -> None:
    """Draw a cell with its words.

    Parameters
    ----------
    sheet : PaperSheet
    cell : Cell
    x, top : float
        Its left and its upper end, mm from the lower left corner.
    scale : float
        Millimetres for a tick.
    """
    wide = cell_size(cell, sheet.labels, scale)[0]
    x1, y1, x2, y2 = (float(v) for v in bounds(cell.outline))
    left = x + (wide - (x2 - x1) * scale) / 2
    low = top - (y2 - y1) * scale

    def place(polygon: Polygon) -> list[tuple[float, float]]:
        return [
            (left + (float(px) - x1) * scale, low + (float(py) - y1) * scale)
            for px, py in polygon
        ]

    cell.paint(sheet.labels, place)
    for i, line in enumerate(cell.words):
        spot = sheet.labels.pixels(x + wide / 2, low - 1.5 - LINE * (i + 0.5))
        sheet.labels.set(_line(line, sheet.labels), [spot], pad=0)


def _line(text: str, labels: Labels) -> str:
    """A line below a cell, no wider than a page."""
    return labels.fitted(text, (PAGE[0] - 2 * GAP) * labels.px_per_mm)


def scale_bar(sheet: PaperSheet, unit: str, scale: float, x: float, y: float) -> float:
    """A scale bar.

    Parameters
    ----------
    sheet : PaperSheet
    unit : {"in", "cm"}
    scale : float
        Millimetres for a tick.
    x, y : float
        The middle of its left end, mm.

    Returns
    -------
    float
        Where it ends with its words, mm.
    """
    if unit == "in":
        tick = INCH
    else:
        tick = CM
    bar = max(
        (b for b in _BARS[unit] if b * tick * scale <= 34), default=_BARS[unit][0]
    )
    half = bar * tick * scale / 2
    for i, colour in enumerate((INK, "white")):
        box = Rectangle(
            (x + half * i, y - 0.5),
            half,
            1.0,
            facecolor=colour,
            edgecolor=INK,
            linewidth=0.7,
        )
        sheet.ax.add_artist(box)
    return word(sheet, f"{bar} {unit}", x + 2 * half + 1.5, y)


def key(
    sheet: PaperSheet, hatch: str, text: str, x: float, y: float, colour: str = "white"
) -> float:
    """A swatch with its meaning.

    Parameters
    ----------
    sheet : PaperSheet
    hatch, text : str
        Of matplotlib, and what it means.
    x, y : float
        The middle of its left end, mm.
    colour : str
        Of its ground.

    Returns
    -------
    float
        Where it ends, mm.
    """
    box = Rectangle(
        (x, y - 1.6),
        7,
        3.2,
        facecolor=colour,
        edgecolor=FAINT,
        hatch=hatch,
        linewidth=0.7,
    )
    sheet.ax.add_artist(box)
    return word(sheet, text, x + 8.5, y)


def flowing(sheet: PaperSheet, entries: Sequence[str], y: float) -> float:
    """Words side by side in as many rows as they need.

    Parameters
    ----------
    sheet : PaperSheet
    entries : sequence of str
    y : float
        The middle of the first row, mm.

    Returns
    -------
    float
        The middle of the last row, mm.
    """
    x = 0.0
    for entry in entries:
        wide = sheet.labels.size(entry, SMALLEST_TEXT)[0] / sheet.labels.px_per_mm
        if x + wide > sheet.width and x > 0:
            x = 0.0
            y = y - LINE - 0.6
        x = word(sheet, entry, x, y) + 6
    return y


def rows_needed(sheet: PaperSheet, entries: Sequence[str]) -> int:
    """How many rows :func:`flowing` takes."""
    x = 0.0
    rows = 1
    for entry in entries:
        wide = sheet.labels.size(entry, SMALLEST_TEXT)[0] / sheet.labels.px_per_mm
        if x + wide > sheet.width and x > 0:
            x = 0.0
            rows = rows + 1
        x += wide + 6
    if entries:
        return rows
    return 0
