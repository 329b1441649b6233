"""Labels that never lie upon each other: each is measured before it is set, and set only where there is room."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, ClassVar, Final, TypeAlias

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.text import Text

from cutopt.draw.letters import families, fitted, shown
from cutopt.draw.looks import INK, MM_PER_INCH, SMALLEST_TEXT

Spot: TypeAlias = tuple[float, float]
Area: TypeAlias = tuple[float, float, float, float]
_SQUARE: Final = 64  # pixels
_LINES_APART: Final = 1.15
_MOST_LAID: Final = 1 << 14
GAP: Final = 1.5  # pixels of the drawing kept free round a label
# shares of an area, the middle first


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """How points of axes come to lie on a drawing: pixels for a unit each way, pixels of their origin, dots an inch.

    A drawing can be laid out on one before there are axes; axes give the same one.
    """

    wide: float
    high: float
    left: float
    low: float
    dpi: float

    @classmethod
    def of(cls, ax: Axes) -> Ground:
        """That of axes whose limits are set."""
        figure = ax.get_figure()
        while figure is not None and not isinstance(figure, Figure):
            figure = figure.figure  # a part of a figure
        assert figure is not None
        ax.apply_aspect()
        (wide, _, left), (_, high, low), _ = ax.transData.get_matrix()
        return cls(
            wide=float(wide),
            high=float(high),
            left=float(left),
            low=float(low),
            dpi=float(figure.dpi),
        )


class Labels:
    """The labels of one drawing, and what else is drawn with them; all places are pixels.

    Without axes all is kept, until :meth:`paint` draws it.
    """

    def __init__(self, ground: Ground, ax: Axes | None = None) -> None:
        self.ground = ground
        self.dpi = ground.dpi
        self.px_per_mm = ground.dpi / MM_PER_INCH
        self._ax = ax
        self._kept: list[Callable[[Axes], object]] = []
        self._taken: dict[tuple[int, int], list[Area]] = {}  # by square of the drawing

    @classmethod
    def on(cls, ax: Axes) -> Labels:
        """Labels that are drawn at once on axes whose limits are set."""
        return cls(Ground.of(ax), ax)

    @property
    def ax(self) -> Axes:
        """The axes that all is drawn on at once."""
        assert self._ax is not None
        return self._ax

    def draw(
        self, what: Callable[..., object], *given: object, **style: object
    ) -> None:
        """Call `what` with the axes and the rest: now, or when the drawing is painted."""
        if self._ax is not None:
            what(self._ax, *given, **style)
        else:
            self._kept.append(lambda ax: what(ax, *given, **style))

    def paint(self, ax: Axes) -> None:
        """Draw all that was kept, in its order."""
        for each in self._kept:
            each(ax)

    def pixels(self, x: float, y: float) -> Spot:
        """Where a point of the axes is drawn."""
        ground = self.ground
        return float(x * ground.wide + ground.left), float(y * ground.high + ground.low)

    def place(self, spot: Spot) -> Spot:
        """The point of the axes that is drawn at a spot."""
        ground = self.ground
        x = (spot[0] - ground.left) / ground.wide
        return float(x), float((spot[1] - ground.low) / ground.high)

    def size(
        self, text: str, size: float, turn: float = 0, weight: str = "normal"
    ) -> Spot:
        """Width and height of a text, pixels.

        Parameters
        ----------
        text : str
        size : float
            Of its letters, points.
        turn : float
            0, or 90 where it is turned by a right angle.
        weight : str
            "normal" or "bold".
        """
        wide, high = _measured(shown(text), size, weight, self.dpi, tuple(families()))
        if turn:
            return (high, wide)
        return (wide, high)

    def fitted(
        self,
        text: str,
        room: float,
        size: float = SMALLEST_TEXT,
        weight: str = "normal",
    ) -> str:
        """A text in one line, its end cut off where it is wider than so many pixels.

        Parameters
        ----------
        text : str
        room : float
            Pixels.
        size, weight
            As of :meth:`size`.
        """
        return fitted(
            shown(text), lambda said: self.size(said, size, weight=weight)[0] <= room
        )

    def free(self, box: Area, gap: float = GAP) -> bool:
        """Whether nothing was set there yet, or nearer than `gap`."""
        return not any(
            box[0] < t[2] + gap
            and t[0] < box[2] + gap
            and box[1] < t[3] + gap
            and t[1] < box[3] + gap
            for square in _squares(box, gap)
            for t in self._taken.get(square, ())
        )

    def _take(self, box: Area) -> None:
        for square in _squares(box, 0.0):
            self._taken.setdefault(square, []).append(box)

    def set(
        self,
        text: str,
        spots: Iterable[Spot],
        *,
        size: float = SMALLEST_TEXT,
        turn: float = 0,
        weight: str = "normal",
        inside: Area | None = None,
        frame: str = "",
        pad: float = 1.0,
        left: bool = False,
        gap: float = GAP,
    ) -> bool:
        """Set a text, centred, on the first spot where it lies inside and on no other label; tells whether it is.

        Parameters
        ----------
        text : str
        spots : pairs of pixels
            Where it may stand, the best first.
        size, turn, weight
            As of :meth:`size`.
        inside : area in pixels, optional
            What it may not leave.
        frame : {"", "plain", "round", "circle"}
            None, a white ground, or a white ground with a border or in a circle.
        pad, gap : float
            Pixels of ground round it, and kept free round that.
        left : bool
            Whether a spot is the middle of the text's left end, so that it starts there at any resolution.
        """
        wide, high = self.size(text, size, turn, weight)
        if frame == "circle":
            wide = high = max(wide, high)
        if inside is not None and not _holds(inside, wide, high):
            return False
        for spot in spots:
            box = _round(spot, wide, high, pad=pad, left=left)
            if inside is not None and not _within(box, inside):
                continue
            if self.free(box, gap):
                self._take(box)
                self.draw(
                    _word,
                    self.place(spot),
                    shown(text),
                    tuple(families()),
                    size=size,
                    weight=weight,
                    rotation=turn,
                    ha="left" if left else "center",
                    bbox=_ground_of(frame, pad / (size * self.dpi / 72)),
                )
                return True
        return False


def _holds(area: Area, wide: float, high: float) -> bool:
    return wide <= area[2] - area[0] and high <= area[3] - area[1]


def _round(spot: Spot, wide: float, high: float, *, pad: float, left: bool) -> Area:
    """The area that a text takes with the ground round it."""
    x = spot[0] + (wide / 2 if left else 0)
    y = spot[1]
    across = wide / 2 + pad
    along = high / 2 + pad
    return x - across, y - along, x + across, y + along


def _ground_of(frame: str, share: float) -> dict[str, Any] | None:
    """What lies behind a text, so much wider than it, as a share of the size of its letters."""
    if frame == "plain":
        style = f"square,pad={share}"
        looks = {"facecolor": "white", "edgecolor": "none", "alpha": 0.8}
        return {"boxstyle": style, **looks}
    if frame in ("round", "circle"):
        style = f"{frame},pad={share}"
        looks = {"facecolor": "white", "edgecolor": INK, "linewidth": 0.6}
        return {"boxstyle": style, **looks}
    return None


class _Word(Text):
    """A text that nothing clips, and whose lines are laid out once for all drawings of a kind that have it.

    matplotlib spends more on clipping a text, and on laying it out twice whenever it is drawn, than on drawing it.
    """

    _laid: ClassVar[dict[Hashable, Any]] = {}

    def _get_layout(self, renderer: Any) -> Any:
        """Its lines as matplotlib lays them out, which does not depend on where it stands."""
        figure = self.get_figure(root=True)
        asked = (type(renderer), figure and figure.dpi, self.get_text(), *self._looks())
        if asked not in self._laid:
            if len(self._laid) > _MOST_LAID:
                self._laid.clear()
            self._laid[asked] = super()._get_layout(renderer)  # type: ignore[misc]
        return self._laid[asked]

    def _looks(self) -> tuple[Hashable, ...]:
        letters = self.get_fontproperties()
        aligned = self.get_horizontalalignment()
        return letters, self.get_rotation(), aligned, self.get_verticalalignment()

    def set_clip_path(self, *_: object, **__: object) -> None:
        """It is shown whole."""

    def set_clip_box(self, *_: object) -> None:
        """It is shown whole."""


def _word(
    ax: Axes,
    spot: Spot,
    text: str,
    family: tuple[str, ...],
    *,
    size: float,
    weight: str,
    **style: Any,
) -> None:
    """Add a text to axes."""
    word = _Word(
        *spot,
        text,
        fontproperties=_letters(family, size, weight),
        va="center",
        color=INK,
        zorder=10,
        linespacing=_LINES_APART,
        parse_math=False,
        transform=ax.transData,
        **style,
    )
    ax.add_artist(word)


@lru_cache(maxsize=64)
def _letters(family: tuple[str, ...], size: float, weight: str) -> FontProperties:
    return FontProperties(family=list(family), size=size, weight=weight)


# the drawings of a plan have most of their words and numbers in common
@lru_cache(maxsize=1 << 14)
def _measured(
    text: str, size: float, weight: str, dpi: float, family: tuple[str, ...]
) -> Spot:
    """Width and height of a level text, pixels."""
    figure, renderer = _probe_ground(dpi)
    probe = Text(
        0,
        0,
        text,
        figure=figure,
        fontproperties=_letters(family, size, weight),
        linespacing=_LINES_APART,
        parse_math=False,
    )
    extent = probe.get_window_extent(renderer)
    return float(extent.width), float(extent.height)


@lru_cache(maxsize=8)
def _probe_ground(dpi: float) -> tuple[Figure, Any]:
    """A figure to measure on."""
    figure = Figure(dpi=dpi)
    return figure, FigureCanvasAgg(figure).get_renderer()  # type: ignore[no-untyped-call]


def _squares(box: Area, gap: float) -> Iterator[tuple[int, int]]:
    """The squares of the drawing that a box touches, with so many pixels round it."""
    low = int((box[1] - gap) // _SQUARE)
    high = int((box[3] + gap) // _SQUARE)
    for x in range(int((box[0] - gap) // _SQUARE), int((box[2] + gap) // _SQUARE) + 1):
        for y in range(low, high + 1):
            yield x, y


def _within(box: Area, outer: Area) -> bool:
    return (
        box[0] >= outer[0]
        and box[1] >= outer[1]
        and box[2] <= outer[2]
        and box[3] <= outer[3]
    )


def spots_in(box: Area) -> list[Spot]:
    """Spots in an area, its middle first."""
    return [
        (box[0] + (box[2] - box[0]) * x, box[1] + (box[3] - box[1]) * y)
        for x, y in SPOTS
    ]


SPOTS: Final = tuple(
    (x, y) for y in (0.5, 0.3, 0.7, 0.15, 0.85) for x in (0.5, 0.3, 0.7, 0.18, 0.82)
)
