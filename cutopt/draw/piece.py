"""One piece of cloth with its numbered cuts, what each part is for, what is spare, and its flaws."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from typing import Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from cutopt.draw.frame import (
    ROW,
    TITLE,
    frame_of,
    natural_size,
    paper_of,
)
from cutopt.draw.labels import Area, Ground, Labels
from cutopt.draw.letters import names_of
from cutopt.draw.looks import (
    DOTS,
    PAGE,
    bare_axes,
    drawing,
    ruler_unit,
)
from cutopt.draw.piece_marks import Picture
from cutopt.draw.views import (
    View,
    origin_of,
    view,
)
from cutopt.geometry import bounds
from cutopt.job import Job
from cutopt.plan import Plan

_MOST_TRIES: Final = 4
MOST_NUMBERS = 40  # that a drawing shows one by one


def draw_piece(plan: Plan, source_id: str, *, ax: Axes | None = None) -> Axes:
    """Draw one piece of cloth of a plan.

    Parameters
    ----------
    plan : Plan
        One that carries its job.
    source_id : str
        Such as ``"S1"``.
    ax : Axes, optional
        What to draw on; by default axes of its own.

    Returns
    -------
    Axes
        Their figure is ``ax.figure``.

    Raises
    ------
    Problem
        Where the plan has no such piece of cloth, or does not carry its job.
    """
    job = origin_of(plan)
    shown = view(plan, source_id)
    with names_of(job):
        if ax is not None:
            return draw_view(job, shown, ax, title=True)
        return drawn(job, shown, PAGE[0], 150.0, title=True).figure.axes[0]


class Drawn:
    """A piece of cloth laid out on paper of its own, and drawn when it is asked for.

    `size` is that of the paper, mm; `lost` counts cuts and parts without a mark for want of room, `below` names that
    stand below it, and `left_over` are entries of the legend that it has no room for.
    """

    def __init__(self, picture: Picture, size: tuple[float, float]) -> None:
        self._picture = picture
        self.size = size
        self.below = len(picture.letters)
        self.lost = len(picture.missed) + self.below - len(picture.lettered)
        self.left_over = tuple(picture.left_over)

    @cached_property
    def figure(self) -> Figure:
        """The drawing."""
        figure = drawing(*self.size)
        self._picture.paint(bare_axes(figure))
        return figure


def drawn(
    job: Job, shown: View, width: float, height: float, *, title: bool = False
) -> Drawn:
    """A drawing of its own, as large as helps within so many mm, and as much higher as its legend needs.

    Parameters
    ----------
    job : Job
    shown : View
        The piece of cloth.
    width, height : float
        The most paper that it may take without further rows of its legend, mm.
    title : bool
        Whether its name stands above it.
    """
    unit = ruler_unit(job.settings.unit)
    wide, high = natural_size(shown.cloth.outline, unit, width, height)
    high += TITLE if title else 0.0

    def laid(rows: int, brief: bool) -> Picture:
        paper = (wide, high + ROW * rows)
        frame = frame_of(paper, _box_of(shown, unit), unit, rows=rows, title=title)
        labels = Labels(frame.ground(DOTS))
        return Picture(job, shown, frame, labels, title=title, brief=brief)

    picture = _best(shown, laid)
    return Drawn(picture, (wide, high + ROW * picture.frame.rows))


def draw_view(job: Job, shown: View, ax: Axes, *, title: bool = False) -> Axes:
    """Draw a piece of cloth on axes of a given size.

    Parameters
    ----------
    job : Job
    shown : View
        The piece of cloth.
    ax : Axes
        Cleared first.
    title : bool
        Whether its name stands above it.
    """
    unit = ruler_unit(job.settings.unit)
    paper = paper_of(ax)

    def laid(rows: int, brief: bool) -> Picture:
        frame = frame_of(paper, _box_of(shown, unit), unit, rows=rows, title=title)
        frame.set(ax)
        labels = Labels(Ground.of(ax))
        return Picture(job, shown, frame, labels, title=title, brief=brief)

    ax.clear()
    _best(shown, laid).paint(ax)
    return ax


def _best(shown: View, laid: Callable[[int, bool], Picture]) -> Picture:
    """The first way to number the cuts that loses none, with as many rows as its legend needs.

    A legend takes room, which may make the cloth smaller and with it the legend longer.
    """
    for brief in _ways(shown):
        rows = 0
        for _ in range(_MOST_TRIES):
            picture = laid(rows, brief)
            needed = picture.lay()
            if needed <= rows:
                break
            rows = needed
        if not picture.missed:
            break
    return picture


def _box_of(shown: View, unit: int) -> Area:
    x1, y1, x2, y2 = (float(v) / unit for v in bounds(shown.cloth.outline))
    return x1, y1, x2, y2


def _ways(shown: View) -> tuple[bool, ...]:
    """How to number the cuts: each on its own, or (where they are many or do not find room) briefly, row by row."""
    if len(shown.lines) > MOST_NUMBERS:
        return (True,)
    return (False, True)
