"""How things look: a drawing that a notebook shows by itself, fabric colours, hatches, sizes of letters.

Every area that matters is told by a hatch or a word as well as by a colour, so that a grey print reads.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from io import BytesIO
from math import nan
from typing import Final

from matplotlib.axes import Axes
from matplotlib.axis import XAxis, YAxis
from matplotlib.colors import to_hex, to_rgb
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import PathPatch
from matplotlib.path import Path

from cutopt.colours import is_told
from cutopt.geometry import Polygon
from cutopt.job import Job
from cutopt.lengths import CM, INCH

# 1 in = 25.4 mm exactly (NIST Handbook 44, Appendix C); figures are sized in inches
MM_PER_INCH: Final = 25.4
DOTS: Final = 120.0  # pixels of an inch of a drawing
# mm that are drawn on: A4 and US letter (210 x 279 both fit), 10 mm margins
PAGE: Final = (190.0, 258.0)
SMALLEST_TEXT: Final = 8.0  # points, at print size
FABRIC_HATCHES: Final = ("", "///", "...", "\\\\\\", "**", "--", "||", "++", "oo")
KEEP_HATCH = "//"
SCRAP_HATCH = "xxx"
FLAW_HATCH = "oo"
INK = "#111111"
FAINT = "#777777"


class Drawing(Figure):
    """A matplotlib figure, made without pyplot, that notebooks show as it is."""

    def _repr_png_(self) -> bytes:
        out = BytesIO()
        self.savefig(out, format="png")
        return out.getvalue()


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """Colour (hex) and hatch of a fabric."""

    colour: str
    hatch: str


def drawing(width: float, height: float) -> Drawing:
    """An empty drawing of so many millimetres."""
    return Drawing(figsize=(width / MM_PER_INCH, height / MM_PER_INCH), dpi=DOTS)


def bare_axes(figure: Figure) -> Axes:
    """Axes that fill a figure, without frame and ticks."""
    ax = figure.add_axes((0, 0, 1, 1), axes_class=_BareAxes)
    ax.set_axis_off()
    return ax


class _Untouched:
    """An axis that is never shown: its ticks, which cost more than most drawings, are never made."""

    def grid(self, *_: object, **__: object) -> None:
        """It has none."""

    def set_clip_path(self, *_: object, **__: object) -> None:
        """It has nothing to clip."""

    def set_tick_params(self, *_: object, **__: object) -> None:
        """It has no ticks."""


class _AxisX(_Untouched, XAxis):
    pass


class _AxisY(_Untouched, YAxis):
    pass


class _BareAxes(Axes):
    """Axes with such axes only."""

    def _init_axis(self) -> None:
        self.xaxis = _AxisX(self, clear=False)
        self.yaxis = _AxisY(self, clear=False)
        for spine in ("top", "bottom"):
            self.spines[spine].register_axis(self.xaxis)
        for spine in ("left", "right"):
            self.spines[spine].register_axis(self.yaxis)


def look_of(job: Job, fabric: str) -> Look:
    """The colour of a fabric, and a hatch by its place; one whose colour nobody said is never without a hatch."""
    place, found = next(
        (i, known) for i, known in enumerate(job.fabrics) if known.name == fabric
    )
    hatch = FABRIC_HATCHES[place % len(FABRIC_HATCHES)]
    bare = not hatch and not is_told(found.colour, found.name)
    return Look(colour=job.colour(fabric), hatch=FABRIC_HATCHES[-1] if bare else hatch)


def tinted(colour: str, share: float) -> str:
    """A colour thinned with white, so that black letters read on it."""
    red, green, blue = (1 - share * (1 - part) for part in to_rgb(colour))
    return to_hex((red, green, blue))


def lightness(colour: str) -> float:
    """Relative luminance, 0 to 1 (WCAG 2.2, definition of relative luminance, W3C 2023; formula from memory)."""
    linear = [
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4
        for c in to_rgb(colour)
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def ruler_unit(unit: str) -> int:
    """Ticks of the unit in which a job is drawn."""
    if unit == "in":
        return INCH
    return CM


def areas(ax: Axes, polygons: Sequence[Polygon], unit: int, **style: object) -> None:
    """Add polygons, which do not overlap, as one shape to axes.

    Parameters
    ----------
    ax : Axes
    polygons : sequence of corners in ticks
    unit : int
        Ticks of a unit of the axes.
    style
        Of a matplotlib patch.
    """
    corners = [
        [(float(x) / unit, float(y) / unit) for x, y in polygon] for polygon in polygons
    ]
    one_shape(ax, corners, **style)


def one_shape(
    ax: Axes, shapes: Sequence[Sequence[tuple[float, float]]], **style: object
) -> None:
    """Add shapes that do not overlap as one: a shape of its own for each costs more than all else in a drawing."""
    if shapes:
        paths = [Path([*corners, corners[0]], closed=True) for corners in shapes]
        ax.add_artist(PathPatch(Path.make_compound_path(*paths), **style))


def lines(
    ax: Axes, ends: Iterable[Sequence[tuple[float, float]]], **style: object
) -> None:
    """Add broken lines as one, each given by its corners."""
    points = [point for each in ends for point in (*each, (nan, nan))][:-1]
    if points:
        xs, ys = zip(*points, strict=True)
        ax.add_artist(Line2D(xs, ys, **style))  # type: ignore[arg-type]
