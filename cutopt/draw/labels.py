"""Labels that never lie upon each other: each is measured before it is set, and set only where there is room."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, ClassVar, Final, Literal, TypeAlias

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
SPOTS: Final = tuple(
    (x, y) for y in (0.5, 0.3, 0.7, 0.15, 0.85) for x in (0.5, 0.3, 0.7, 0.18, 0.82)
)  # shares of an area, the middle first


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
        """Width and height of a text, which is turned by a right angle or not at all."""
        wide, high = _measured(shown(text), size, weight, self.dpi, tuple(families()))
        return (high, wide) if turn else (wide, high)

    def fitted(
        self,
        text: str,
        room: float,
        size: float = SMALLEST_TEXT,
        weight: str = "normal",
    ) -> str:
        """A text in one line, its end cut off where it is wider than so many pixels."""
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

        With `left` a spot is the middle of the text's left end, so that it starts there at any resolution.
        `frame` is "" for none, "plain" for a white ground, "round" for a white ground with a border.
        """
        wide, high = self.size(text, size, turn, weight)
        if inside is not None and (
            wide > inside[2] - inside[0] or high > inside[3] - inside[1]
        ):
            return False
        for spot_x, y in spots:
            x = spot_x + (wide / 2 if left else 0)
            box = (
                x - wide / 2 - pad,
                y - high / 2 - pad,
                x + wide / 2 + pad,
                y + high / 2 + pad,
            )
            if inside is not None and not _within(box, inside):
                continue
            if self.free(box, gap):
                self._add(
                    text,
                    (spot_x, y),
                    size,
                    turn,
                    weight,
                    frame,
                    pad,
                    "left" if left else "center",
                )
                self._take(box)
                return True
        return False

    def _add(
        self,
        text: str,
        spot: Spot,
        size: float,
        turn: float,
        weight: str,
        frame: str,
        pad: float,
        align: Literal["left", "center"],
    ) -> None:
        share = pad / (size * self.px_per_mm * 25.4 / 72)
        grounds = {
            "": None,
            "plain": {
                "boxstyle": f"square,pad={share}",
                "facecolor": "white",
                "edgecolor": "none",
                "alpha": 0.8,
            },
            "round": {
                "boxstyle": f"round,pad={share}",
                "facecolor": "white",
                "edgecolor": INK,
                "linewidth": 0.6,
            },
        }
        self.draw(
            _word,
            self.place(spot),
            shown(text),
            tuple(families()),
            size=size,
            weight=weight,
            rotation=turn,
            ha=align,
            bbox=grounds[frame],
        )


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


@lru_cache(
    maxsize=1 << 14
)  # the drawings of a plan have most of their words and numbers in common
def _measured(
    text: str, size: float, weight: str, dpi: float, family: tuple[str, ...]
) -> Spot:
    """Width and height of a level text, pixels."""
    figure, renderer = _ground(dpi)
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
def _ground(dpi: float) -> tuple[Figure, Any]:
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
