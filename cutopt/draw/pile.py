"""The pile at one scale in its own colours."""

from __future__ import annotations

from functools import partial

from matplotlib.figure import Figure
from matplotlib.patches import Polygon as Patch

from cutopt.draw.labels import Labels
from cutopt.draw.letters import names_of
from cutopt.draw.looks import FLAW_HATCH, INK, Drawing, lightness, look_of
from cutopt.draw.sheet import (
    Cell,
    PaperSheet,
    Place,
    blank_sheet,
    key,
    packed,
    paint,
    scale_bar,
    word,
)
from cutopt.fabric import Piece
from cutopt.job import Job
from cutopt.lengths import format_length

# mm at the top and the bottom of a sheet
HEAD = 13.0
FOOT = 6.0


def draw_pile(job: Job) -> Figure:
    """All pieces of the pile at one scale, by fabric; a large pile shows its first sheet (see `pile_sheets`)."""
    return pile_sheets(job)[0]


def pile_sheets(job: Job) -> list[Drawing]:
    """As many sheets as the pile needs, at least one."""
    with names_of(job):
        return _sheets(job)


def _sheets(job: Job) -> list[Drawing]:
    order = {fabric.name: i for i, fabric in enumerate(job.fabrics)}
    pieces = sorted(
        job.pieces,
        key=lambda piece: (order[piece.fabric], -piece.size[1], -piece.size[0]),
    )
    cells = [_cell(job, piece) for piece in pieces]
    figure, sheet = blank_sheet()
    scale, pages = packed(cells, sheet.labels, sheet.width, sheet.height - HEAD - FOOT)
    figures = []
    for number, page in enumerate(pages or [[]]):
        if number:
            figure, sheet = blank_sheet()
        if len(pages) > 1:
            more = f", sheet {number + 1} of {len(pages)}"
        else:
            more = ""
        word(sheet, f"My pile{more}", 0, sheet.height - 3, size=14, weight="bold")
        for cell, x, down in page:
            paint(sheet, cell, x, sheet.height - HEAD - down, scale)
        _foot(sheet, job, scale)
        figures.append(figure)
    return figures


def _foot(sheet: PaperSheet, job: Job, scale: float) -> None:
    x = scale_bar(sheet, job.settings.unit, scale, 0.5, 2.5) + 6
    if any(piece.flaws for piece in job.pieces):
        x = key(sheet, FLAW_HATCH, "flaw: no wanted part may touch it", x, 2.5) + 6
    word(sheet, "the selvage runs up the page", x, 2.5)


def _cell(job: Job, piece: Piece) -> Cell:
    unit = job.settings.unit
    wide, long = piece.size
    if piece.count > 1:
        name = f"{piece.count} of {piece.name}"
    else:
        name = piece.name
    told = [f"{format_length(wide, unit)} x {format_length(long, unit)}"]
    told += [piece.edges] if piece.edges != "true" else []
    told += ["about"] if piece.about else []
    told += [piece.wish] if piece.wish else []
    words = (
        (name, piece.fabric)
        if piece.fabric.lower() not in piece.name.lower()
        else (name,)
    )
    return Cell(
        outline=piece.outline,
        words=(*words, ", ".join(told)),
        paint=partial(_paint, job, piece),
    )


def _paint(job: Job, piece: Piece, labels: Labels, place: Place) -> None:
    look = look_of(job, piece.fabric)
    lines = "#ffffff" if lightness(look.colour) < 0.2 else "#444444"
    ground = Patch(
        place(piece.outline),
        facecolor=look.colour,
        edgecolor=lines,
        hatch=look.hatch,
        linewidth=0,
    )
    labels.ax.add_patch(ground)
    for flaw in piece.flaws:
        labels.ax.add_patch(
            Patch(
                place(flaw),
                facecolor="white",
                edgecolor=INK,
                hatch=FLAW_HATCH,
                linewidth=1.0,
            )
        )
    style = (0, (4, 2)) if piece.edges != "true" else "solid"
    labels.ax.add_patch(
        Patch(
            place(piece.outline),
            fill=False,
            edgecolor=INK,
            linewidth=1.3,
            linestyle=style,
        )
    )
