"""A pieced back as it hangs: its parts in their fabrics, a letter on each, its seams numbered in the order of sewing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from cutopt.draw.back_marks import Words, mark_in, number_on
from cutopt.draw.frame import paper_of
from cutopt.draw.labels import Area, Labels
from cutopt.draw.letters import names_of
from cutopt.draw.looks import (
    FAINT,
    INK,
    PAGE,
    SMALLEST_TEXT,
    Look,
    drawing,
    lines,
    look_of,
    one_shape,
    tinted,
)
from cutopt.draw.looks import bare_axes as bare
from cutopt.draw.quilt import rule
from cutopt.draw.sheet import (
    LINE,
    PaperSheet,
    flowing,
    key,
    rows_needed,
    scale_bar,
    title,
    word,
)
from cutopt.draw.views import exact_size, origin_of, rough
from cutopt.errors import Problem
from cutopt.geometry import Number
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.plan import Plan
from cutopt.sewn_back import LetteredPart, SewingStep, SewnBack, sewn_backs

HIGH: Final = 150.0  # mm of a picture that stands alone
# mm round the back
_LEFT: Final = 9.0
_RIGHT: Final = 3.0
_TOP: Final = 3.0
_BELOW: Final = 9.0
_TITLE: Final = 9.0
_MOST_SCALE: Final = 5.0  # mm on paper for an inch
_SMALL: Final = 11.0  # mm
_MOST_ROWS: Final = 12
_DASHES: Final = (0, (5, 2.5))
_PATTERN: Final = "#c4c4c4"


def draw_pieced_back(plan: Plan, name: str, *, ax: Axes | None = None) -> Axes:
    """Draw a back of a plan at scale, as it hangs.

    Parameters
    ----------
    plan : Plan
        One that carries its job.
    name : str
        Of the back, such as ``"B1"``.
    ax : Axes, optional
        What to draw on, which is cleared first; by default axes of its own.

    Returns
    -------
    Axes
        Their figure is ``ax.figure``.

    Raises
    ------
    Problem
        Where the plan gives no such back, or does not carry its job.
    """
    job = origin_of(plan)
    made = {each.back.name: each for each in sewn_backs(job, plan)}
    if name not in made:
        known = ", ".join(made) or "none"
        what = f'"{name}" is no back of this plan'
        raise Problem("back", what, f"its backs are: {known}")
    with names_of(job):
        if ax is None:
            figure = pieced_back(job, made[name], HIGH, heading=True)
            return figure.axes[0]
        rows = 0
        while True:
            ax.clear()
            ax.set_axis_off()
            sheet = _sheet_on(ax, paper_of(ax))
            drawn = _Drawing(job, made[name], sheet, heading=True, rows=rows)
            if drawn.draw() <= rows or rows > _MOST_ROWS:
                return ax
            rows += 1


def pieced_back(
    job: Job, back: SewnBack, high: float, *, heading: bool = False
) -> Figure:
    """The same on paper of its own, as wide as a page, no higher than so many millimetres.

    Parameters
    ----------
    job : Job
    back : SewnBack
    high : float
        Millimetres.
    heading : bool
        Whether its name stands above it.
    """
    wide = PAGE[0]
    rows = 0
    while True:
        trial = _sheet_on(bare(drawing(wide, high)), (wide, high))
        needed = _Drawing(job, back, trial, heading=heading, rows=rows).high
        figure = drawing(wide, needed)
        sheet = _sheet_on(bare(figure), (wide, needed))
        drawn = _Drawing(job, back, sheet, heading=heading, rows=rows)
        if drawn.draw() <= rows or rows > _MOST_ROWS:
            return figure
        rows += 1


def _long(step: SewingStep) -> Number:
    (x1, y1), (x2, y2) = step.line
    return x2 - x1 + y2 - y1


def _no_room(noun: str, signs: Sequence[str]) -> str:
    """``no room for numbers 3, 5, 7``"""
    if len(signs) > 1:
        noun = f"{noun}s"
    return f"no room for {noun} {', '.join(signs)}"


def _sheet_on(ax: Axes, paper: tuple[float, float]) -> PaperSheet:
    """Axes as a sheet of paper, which counts in millimetres."""
    wide, high = paper
    ax.set_xlim(0, wide)
    ax.set_ylim(0, high)
    return PaperSheet(labels=Labels.on(ax), width=wide, height=high)


@dataclass(slots=True)
class _Drawing:
    """One back on its sheet; `rows` are kept for what has no room in the picture: numbers, letters, words."""

    job: Job
    back: SewnBack
    sheet: PaperSheet
    heading: bool
    rows: int
    no_number: set[int] = field(default_factory=set)
    no_letter: set[str] = field(default_factory=set)
    no_words: dict[str, str] = field(default_factory=dict)

    @property
    def _foot(self) -> float:
        """Millimetres for the keys, and for words that find no room above."""
        rows = rows_needed(self.sheet, [8 * " " + name for name in self._fabrics()])
        return _BELOW + (LINE + 1.2) * (rows + 1 + self.rows)

    @property
    def _head(self) -> float:
        return _TOP + (_TITLE if self.heading else 0.0)

    @property
    def scale(self) -> float:
        """Millimetres for a tick."""
        wide = self.sheet.width - _LEFT - _RIGHT
        high = max(self.sheet.height - self._head - self._foot, 10.0)
        return min(
            wide / float(self.back.width),
            high / float(self.back.height),
            _MOST_SCALE / INCH,
        )

    @property
    def high(self) -> float:
        """Millimetres that it takes."""
        return self._head + self._foot + float(self.back.height) * self.scale

    def _point(self, x: Number, y: Number) -> tuple[float, float]:
        """Where a point of the back lies on the sheet, mm."""
        wide = float(self.back.width) * self.scale
        left = _LEFT + (self.sheet.width - _LEFT - _RIGHT - wide) / 2
        low = self.sheet.height - self._head - float(self.back.height) * self.scale
        return left + float(x) * self.scale, low + float(y) * self.scale

    def _area(self, part: LetteredPart) -> Area:
        """Where a part is drawn, pixels."""
        x, y, wide, high = part.box
        labels = self.sheet.labels
        low = labels.pixels(*self._point(x, y))
        return (*low, *labels.pixels(*self._point(x + wide, y + high)))

    def draw(self) -> int:
        """All of it, what must not be lost first; gives the rows that words without a place need."""
        if self.heading:
            told = f"Back {self.back.back.name}, pieced"
            title(self.sheet, told, self.sheet.height - 5)
        for part in self.back.parts:
            self._ground(part)
        self._outlines()
        self._measures()
        # the smallest have the fewest places to stand
        parts = sorted(self.back.parts, key=lambda part: min(part.box[2:]))
        steps = sorted(self.back.steps, key=_long)
        few = [part for part in parts if self._is_small(min(part.box[2:]))]
        for step in steps:
            if self._is_small(_long(step)):
                self._number(step)
        for part in few:
            self._mark(part)
        for step in steps:
            if not self._is_small(_long(step)):
                self._number(step)
        for part in parts:
            if part not in few:
                self._mark(part)
        self._keys()
        return rows_needed(self.sheet, self._unplaced())

    def _is_small(self, long: Number) -> bool:
        return float(long) * self.scale < _SMALL

    def _ground(self, part: LetteredPart) -> None:
        x, y, wide, high = part.box
        corner = self._point(x, y)
        size = float(wide) * self.scale, float(high) * self.scale
        look = Look(colour="#ffffff", hatch="")
        if part.block is None:
            look = look_of(self.job, part.fabric)
        box = Rectangle(
            corner,
            *size,
            facecolor=tinted(look.colour, 0.5),
            edgecolor=FAINT,
            hatch=look.hatch,
            linewidth=0.0,
        )
        self.sheet.ax.add_artist(box)
        if part.block is not None:
            self._pattern(corner, size)

    def _pattern(self, corner: tuple[float, float], size: tuple[float, float]) -> None:
        """That it is a block: squares on their points within each other."""
        middle = corner[0] + size[0] / 2, corner[1] + size[1] / 2
        for ring, colour in enumerate((_PATTERN, "white", _PATTERN)):
            across, up = (side / 2 * 0.94 * 0.7**ring for side in size)
            ends = [(-across, 0), (0, -up), (across, 0), (0, up)]
            corners = [(middle[0] + dx, middle[1] + dy) for dx, dy in ends]
            style = {"facecolor": colour, "edgecolor": FAINT, "linewidth": 0.5}
            one_shape(self.sheet.ax, [corners], **style)

    def _outlines(self) -> None:
        """The seams, the raw edge, and where the quilt ends once it is trimmed."""
        ax = self.sheet.ax
        seams = []
        for step in self.back.steps:
            low, high = step.line
            seams.append((self._point(*low), self._point(*high)))
        lines(ax, seams, color=INK, linewidth=1.4, zorder=5, solid_capstyle="butt")
        whole = (0, 0, self.back.width, self.back.height)
        self._frame(whole, linewidth=1.8)
        if self.back.back.rules.overage:
            self._frame(self.back.trimmed, linewidth=1.2, linestyle=_DASHES)

    def _frame(self, box: Sequence[Number], **style: object) -> None:
        x, y, wide, high = box
        size = float(wide) * self.scale, float(high) * self.scale
        style = {"fill": False, "edgecolor": INK, "zorder": 6, **style}
        self.sheet.ax.add_artist(Rectangle(self._point(x, y), *size, **style))  # type: ignore[arg-type]

    def _measures(self) -> None:
        """Width and height as sewn, raw edges included."""
        unit = self.job.settings.unit
        low, high = self._point(0, 0), self._point(self.back.width, self.back.height)
        width, height = (
            rough(side, unit, mark=True) for side in (self.back.width, self.back.height)
        )
        y, x = low[1] - 3, low[0] - 3
        rule(self.sheet, (low[0], y), (high[0], y), width, below=True)
        rule(self.sheet, (x, low[1]), (x, high[1]), height)

    def _number(self, step: SewingStep) -> None:
        labels = self.sheet.labels
        low, high = (labels.pixels(*self._point(*end)) for end in step.line)
        short = self._is_small(_long(step))
        if not number_on(labels, step.n, (low, high), short=short):
            self.no_number.add(step.n)

    def _mark(self, part: LetteredPart) -> None:
        size = exact_size(*part.box[2:], self.job.settings.unit)
        of = part.block.name if part.block is not None else part.fabric
        words = Words(letter=part.letter, size=size, of=of)
        is_lettered, is_told = mark_in(self.sheet.labels, words, self._area(part))
        if not is_lettered:
            self.no_letter.add(part.letter)
        if not is_told:
            self.no_words[part.letter] = f"{size} {of}"

    def _unplaced(self) -> list[str]:
        """What has no room in the picture, each told once, in the order of numbers and letters."""
        told = []
        if self.no_number:
            numbers = map(str, sorted(self.no_number))
            told.append(_no_room("number", list(numbers)))
        every = [part.letter for part in self.back.parts]
        if self.no_letter:
            letters = [letter for letter in every if letter in self.no_letter]
            told.append(_no_room("letter", letters))
        alike: dict[str, list[str]] = {}
        for letter in every:
            if letter in self.no_words:
                alike.setdefault(self.no_words[letter], []).append(letter)
        told += (f"{', '.join(letters)}: {words}" for words, letters in alike.items())
        return told

    def _fabrics(self) -> Iterator[str]:
        """The fabrics in it, in the order of the job."""
        used = {part.fabric for part in self.back.parts}
        return (each.name for each in self.job.fabrics if each.name in used)

    def _keys(self) -> None:
        """What the hatches and lines mean, and what found no room."""
        sheet = self.sheet
        unit = self.job.settings.unit
        step = LINE + 1.2
        y = self._foot - _BELOW - step / 2
        x = scale_bar(sheet, unit, self.scale, 1.0, y) + 5
        if self.back.back.rules.overage:
            lines(sheet.ax, [[(x, y), (x + 8, y)]], color=INK, linestyle=_DASHES)
            size = exact_size(*self.back.trimmed[2:], unit)
            x = word(sheet, f"the quilt, once trimmed: {size} {unit}", x + 9.5, y) + 5
        word(sheet, "sizes as seen, width first; outer edges raw", x, y)
        y -= step
        x = 1.0
        for name in self._fabrics():
            look = look_of(self.job, name)
            wide = 8.5 + sheet.labels.size(name, SMALLEST_TEXT)[0] / (
                sheet.labels.px_per_mm
            )
            if x > 1.0 and x + wide > sheet.width:
                x = 1.0
                y -= step
            x = key(sheet, look.hatch, name, x, y, tinted(look.colour, 0.5)) + 5
        flowing(sheet, self._unplaced(), y - step)


__all__ = ["HIGH", "draw_pieced_back", "pieced_back"]
