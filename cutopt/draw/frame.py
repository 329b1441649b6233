"""Round one piece of cloth: its scale on the paper, sizes along two sides, scale bar, grain arrow and keys."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from cutopt.draw.labels import Ground, Labels
from cutopt.draw.looks import FAINT, INK, MM_PER_INCH, SMALLEST_TEXT, lines
from cutopt.draw.views import rough
from cutopt.geometry import Polygon, bounds
from cutopt.lengths import INCH

# mm round the cloth
LEFT = 10.0
RIGHT = 9.0
TOP = 3.0
BOTTOM = 12.0
_LEAST_ROOM = 20.0  # mm of height for the cloth, whatever else there is
TITLE: Final = 6.0  # mm for a title above
NARROWEST: Final = 110.0  # mm, so that scale bar and keys stand in one row
ROW: Final = 4.5  # mm a row of the legend
# of the legend after the first; what it cannot hold stands in words beside the drawing
MOST_ROWS: Final = 12
MOST_SCALE: Final = 13.0  # mm on paper for an inch of cloth, at most
_BARS: Final = {"in": (1, 2, 3, 6, 12, 24), "cm": (2, 5, 10, 20, 50)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where the cloth lies on paper.

    `box` are the bounds of the cloth in units, `scale` millimetres on paper for a unit, `rows` rows of the legend
    after the first, `across` and `along` the limits of the paper each way in units.
    """

    box: tuple[float, float, float, float]
    scale: float
    rows: int
    across: tuple[float, float]
    along: tuple[float, float]

    def set(self, ax: Axes) -> None:
        """Give axes these limits."""
        ax.set_axis_off()
        ax.set_xlim(*self.across)
        ax.set_ylim(*self.along)
        ax.set_aspect("equal")

    def ground(self, dpi: float) -> Ground:
        """How its points lie on a drawing that it fills."""
        per_unit = self.scale * dpi / MM_PER_INCH
        left = -self.across[0] * per_unit
        low = -self.along[0] * per_unit
        return Ground(wide=per_unit, high=per_unit, left=left, low=low, dpi=dpi)


def natural_size(
    polygon: Polygon, unit: int, width: float, height: float
) -> tuple[float, float]:
    """Width and height of paper for a piece of cloth, mm: as large as fits, not larger than helps.

    Parameters
    ----------
    polygon : corners in ticks
    unit : int
        Ticks of the unit of the ruler.
    width, height : float
        The most that it may be, mm.
    """
    x1, y1, x2, y2 = (float(v) / unit for v in bounds(polygon))
    most = MOST_SCALE * unit / INCH
    room = max(height - TOP - BOTTOM, _LEAST_ROOM)
    scale = min(most, (width - LEFT - RIGHT) / (x2 - x1), room / (y2 - y1))
    return max(NARROWEST, (x2 - x1) * scale + LEFT + RIGHT), (
        y2 - y1
    ) * scale + TOP + BOTTOM


def frame_of(
    paper: tuple[float, float],
    box: tuple[float, float, float, float],
    unit: int,
    *,
    rows: int,
    title: bool,
) -> Frame:
    """The frame in which the cloth, its sizes, a title and `rows` rows of legend just fit.

    Parameters
    ----------
    paper : width and height, mm
    box : bounds of the cloth, units
    unit : ticks of a unit
    rows : of the legend after its first
    title : whether there is one above
    """
    wide, high = paper
    x1, y1, x2, y2 = box
    bottom = BOTTOM + ROW * rows
    top = TOP + (TITLE if title else 0.0)
    room = max(wide - LEFT - RIGHT, 5.0), max(high - top - bottom, 5.0)
    scale = min(MOST_SCALE * unit / INCH, room[0] / (x2 - x1), room[1] / (y2 - y1))
    left = LEFT + (room[0] - (x2 - x1) * scale) / 2
    low = bottom + (room[1] - (y2 - y1) * scale)
    return Frame(
        box=box,
        scale=scale,
        rows=rows,
        across=(x1 - left / scale, x1 + (wide - left) / scale),
        along=(y1 - low / scale, y1 + (high - low) / scale),
    )


def paper_of(ax: Axes) -> tuple[float, float]:
    """Width and height of axes on paper, mm."""
    figure = ax.get_figure()
    assert figure is not None
    part = ax.get_position()
    wide = part.width * figure.bbox.width / figure.dpi * MM_PER_INCH
    high = part.height * figure.bbox.height / figure.dpi * MM_PER_INCH
    return wide, high


def title_above(labels: Labels, frame: Frame, text: str) -> None:
    """A title above the cloth, from the left edge of the drawing on.

    Parameters
    ----------
    labels : Labels
    frame : Frame
    text : str
        Its end is cut off where it is too long for one line.
    """
    left, right = frame.across
    room = (right - left) * frame.scale - 4  # mm
    said = labels.fitted(text, room * labels.px_per_mm, 11, "bold")
    _word(
        labels,
        said,
        left + 2 / frame.scale,
        frame.box[3] + 4.5 / frame.scale,
        11,
        "bold",
    )


def sizes(labels: Labels, frame: Frame, unit: str, ticks: tuple[int, int]) -> None:
    """The width below the cloth and the length left of it, with thin lines that end where the cloth ends.

    Parameters
    ----------
    labels : Labels
    frame : Frame
    unit : {"in", "cm"}
    ticks : tuple of int
        Width and length, ticks.
    """
    x1, y1, x2, y2 = frame.box
    away = 2.6 / frame.scale
    end = 0.9 / frame.scale
    rules = [([x1, x2], [y1 - away] * 2), ([x1 - away] * 2, [y1, y2])]
    rules += [([x, x], [y1 - away - end, y1 - away + end]) for x in (x1, x2)]
    rules += [([x1 - away - end, x1 - away + end], [y, y]) for y in (y1, y2)]
    ends = [list(zip(xs, ys, strict=True)) for xs, ys in rules]
    labels.draw(lines, ends, color=INK, linewidth=0.6, clip_on=False)
    below = labels.pixels((x1 + x2) / 2, y1 - away)
    beside = labels.pixels(x1 - away, (y1 + y2) / 2)
    step = labels.px_per_mm
    across, along = (rough(t, unit, mark=True) for t in ticks)
    labels.set(across, [below], size=9, frame="plain")
    labels.set(
        along,
        [beside, (beside[0] - 2.2 * step, beside[1])],
        size=9,
        turn=90,
        frame="plain",
    )


def grain(labels: Labels, frame: Frame, known: bool) -> None:
    """An arrow along the selvage beside the cloth, or the word that the grain is not known.

    Parameters
    ----------
    labels : Labels
    frame : Frame
    known : bool
        Whether it is.
    """
    _, y1, x2, y2 = frame.box
    x = x2 + 4.5 / frame.scale
    place = labels.pixels(x, (y1 + y2) / 2)
    long = min((y2 - y1) * 0.8, 26 / frame.scale)
    if known:
        word = "grain"
    else:
        word = "grain not known"
    turned = labels.size(word, SMALLEST_TEXT, 90)
    labels.set(word, [(place[0] + 2.2 * labels.px_per_mm, place[1])], turn=90, pad=0)
    if known:
        reach = max(long, turned[1] / labels.px_per_mm / frame.scale) / 2
        middle = (y1 + y2) / 2
        labels.draw(_arrow, x, middle - reach, middle + reach)


def _arrow(ax: Axes, x: float, low: float, high: float) -> None:
    """An upright line with a head at each end."""
    arrow = {"arrowstyle": "<->", "color": INK, "linewidth": 1.0}
    ax.annotate(
        "",
        xy=(x, high),
        xytext=(x, low),
        annotation_clip=False,
        arrowprops={**arrow, "shrinkA": 0, "shrinkB": 0},
    )


def legend(
    labels: Labels,
    frame: Frame,
    unit: str,
    keys: Sequence[tuple[str, str]],
    entries: Sequence[str],
) -> tuple[int, list[str]]:
    """Below the sizes: a scale bar, what each hatch means, entries in words.

    Parameters
    ----------
    labels : Labels
    frame : Frame
    unit : {"in", "cm"}
    keys : sequence of pairs of str
        Hatches and what they mean.
    entries : sequence of str

    Returns
    -------
    rows, left_over : int, list of str
        The rows after the first, and the entries that found no room in the most that there may be.
    """
    bar = max((b for b in _BARS[unit] if b * frame.scale <= 32), default=_BARS[unit][0])
    mm = 1 / frame.scale
    left, right = frame.across
    x = left + 3 * mm
    row = 0
    items = [
        ("bar", f"{bar} {unit}", bar + 1.5 * mm),
        *((hatch, word, 8.5 * mm) for hatch, word in keys),
    ]
    items += [("", entry, 0.0) for entry in entries]
    most = ((right - left) * frame.scale - 5) * labels.px_per_mm  # of a row, pixels
    for number, (kind, said, before) in enumerate(items):
        word = labels.fitted(said, most - before * frame.scale * labels.px_per_mm)
        wide = before + labels.size(word, SMALLEST_TEXT)[0] / labels.px_per_mm * mm
        if x + wide > right - 2 * mm and x > left + 4 * mm:
            x = left + 3 * mm
            row = row + 1
        if row > MOST_ROWS:
            left_over = list(entries[-(len(items) - number) :])
            return MOST_ROWS, left_over
        y = frame.box[1] - (8.5 + ROW * row) * mm
        if kind == "bar":
            labels.draw(_bar, x, y, bar, mm)
        elif kind:
            labels.draw(_swatch, x, y, kind, mm)
        _word(labels, word, x + before, y)
        x += wide + 6 * mm
    return row, []


def _swatch(ax: Axes, x: float, y: float, hatch: str, mm: float) -> None:
    corner = (x, y - 1.6 * mm)
    box = Rectangle(corner, 7 * mm, 3.2 * mm, facecolor="white", edgecolor=FAINT)
    box.set_hatch(hatch)
    ax.add_artist(box)


def _bar(ax: Axes, x: float, y: float, bar: float, mm: float) -> None:
    for i, colour in enumerate((INK, "white")):
        corner = (x + bar / 2 * i, y - 0.5 * mm)
        ax.add_artist(
            Rectangle(
                corner,
                bar / 2,
                1.0 * mm,
                facecolor=colour,
                edgecolor=INK,
                linewidth=0.7,
            )
        )


def _word(
    labels: Labels,
    text: str,
    x: float,
    y: float,
    size: float = SMALLEST_TEXT,
    weight: str = "normal",
) -> float:
    """Set a word whose left end is at x; gives where it ends."""
    wide = labels.size(text, size, weight=weight)[0]
    px, py = labels.pixels(x, y)
    labels.set(text, [(px, py)], size=size, weight=weight, pad=0, left=True)
    return labels.place((px + wide, py))[0]
