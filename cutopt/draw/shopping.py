"""What to buy, at one scale."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Literal

from matplotlib.figure import Figure
from matplotlib.patches import Polygon as Patch

from cutopt.draw.labels import Labels
from cutopt.draw.letters import names_of
from cutopt.draw.looks import INK, PAGE, look_of, tinted
from cutopt.draw.sheet import (
    Cell,
    PaperSheet,
    Place,
    blank_sheet,
    cell_size,
    packed,
    paint,
    scale_bar,
    word,
)
from cutopt.draw.views import origin_of
from cutopt.geometry import rectangle
from cutopt.job import Job
from cutopt.lengths import format_length, format_sale, so_many
from cutopt.plan import Plan, Source

_MOST_LISTED = 6
# millimetres of paper
HEAD = 21.0
FOOT = 7.0


def draw_shopping(plan: Plan) -> Figure:
    """The cloth to buy, with how much, how wide and what it costs; it says so where nothing is to be bought."""
    job = origin_of(plan)
    with names_of(job):
        return _shopping(job, plan)


def _shopping(job: Job, plan: Plan) -> Figure:
    groups: dict[tuple[str, int, int], list[Source]] = {}
    for source in plan.sources:
        if source.bought:
            groups.setdefault((source.bought, source.width, source.length), []).append(
                source
            )
    cells = [_cell(job, sources) for sources in groups.values()]
    _, sheet = blank_sheet()
    scale, placed, used = _packed(cells, sheet)
    figure, sheet = blank_sheet(PAGE[0], HEAD + used + (FOOT if cells else 0.0))
    word(sheet, "To buy", 0, sheet.height - 3, size=14, weight="bold")
    word(sheet, _total(job, plan, bool(cells)), 0, sheet.height - 11, size=10)
    for cell, x, down in placed:
        paint(sheet, cell, x, sheet.height - HEAD + 3 - down, scale)
    if cells:
        scale_bar(sheet, job.settings.unit, scale, 0.5, 2.0)
    return figure


def _packed(
    cells: Sequence[Cell], sheet: PaperSheet
) -> tuple[float, list[tuple[Cell, float, float]], float]:
    """Scale, places and the height that they take: a third of a page where that is enough, else what is needed."""
    for height in (90.0, 150.0, 230.0, 500.0, 2000.0):
        scale, pages = packed(cells, sheet.labels, sheet.width, height)
        if len(pages) <= 1:
            break
    placed = [place for page in pages for place in page]
    used = max(
        (down + cell_size(cell, sheet.labels, scale)[1] for cell, _, down in placed),
        default=0.0,
    )
    return scale, placed, used


def _total(job: Job, plan: Plan, any_bought: bool) -> str:
    money = plan.totals.money
    if money is None:
        told = "Some of it has no price yet."
    else:
        told = f"Together {job.settings.currency}{money:.2f}."
    if not any_bought:
        if plan.short:
            told = "Nothing in this plan."
        else:
            told = "Nothing: the pile is enough."
    return f"{told} {missing(plan, 'must')}{missing(plan, 'not must')}".strip()


def missing(plan: Plan, which: Literal["must", "not must"]) -> str:
    """``1 of door is missing and must be cut.`` for what is short of a plan; nothing where all of that is there."""
    lacking = plan.lacking
    found = (
        lacking
        if which == "must"
        else [item for item in plan.short if item not in lacking]
    )
    if not found:
        return ""
    told = [plan.so_many_short(item) for item in found[:_MOST_LISTED]]
    told += (
        [f"{len(found) - _MOST_LISTED} sizes more"] if len(found) > _MOST_LISTED else []
    )
    many = len(found) > 1 or found[0].count > 1
    if which == "must":
        return f"{', '.join(told)} {'are' if many else 'is'} missing and must be cut. "
    return f"{', '.join(told)} {'are' if many else 'is'} left out, which would only be nice. "


def _cell(job: Job, sources: Sequence[Source]) -> Cell:
    source = sources[0]
    unit = job.settings.unit
    wide, long = (format_length(size, unit) for size in (source.width, source.length))
    if source.by_piece:
        what = f"{so_many(len(sources), 'piece')} of {source.bought}, {wide} x {long} {unit}"
    else:
        what = f"{source.bought}: {format_sale(source.length, unit)} ({long} {unit}), usable width {wide} {unit}"
    prices = [s.price for s in sources if s.price is not None]
    if len(prices) == len(sources):
        money = f"{job.settings.currency}{sum(prices):.2f}"
    else:
        money = "no price given"
    outline = rectangle(source.width, source.length)
    return Cell(
        outline=outline, words=(what, money), paint=partial(_paint, job, source)
    )


def _paint(job: Job, source: Source, labels: Labels, place: Place) -> None:
    colour = tinted(look_of(job, source.bought).colour, 0.6)
    corners = place(rectangle(source.width, source.length))
    labels.ax.add_patch(Patch(corners, facecolor=colour, edgecolor=INK, linewidth=1.3))
