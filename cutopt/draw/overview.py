"""A whole plan on one page: every piece of cloth that is touched, at one scale, with letters for what it gives."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import partial

from matplotlib.figure import Figure

from cutopt.back_letters import lettered
from cutopt.draw.labels import Area, Labels, spots_in
from cutopt.draw.letters import names_of
from cutopt.draw.looks import (
    FAINT,
    FLAW_HATCH,
    INK,
    KEEP_HATCH,
    SCRAP_HATCH,
    SMALLEST_TEXT,
    Drawing,
    lines,
    look_of,
    one_shape,
    tinted,
)
from cutopt.draw.sheet import (
    LINE,
    Cell,
    PaperSheet,
    Place,
    blank_sheet,
    flowing,
    key,
    packed,
    paint,
    rows_needed,
    scale_bar,
    title,
    word,
)
from cutopt.draw.views import EqualParts, View, origin_of, runs, views
from cutopt.geometry import Box, Number, bounds, rectangle
from cutopt.job import Job
from cutopt.lengths import format_length, so_many
from cutopt.piecing import name_of
from cutopt.plan import Plan
from cutopt.signs import letter as letter_of
from cutopt.wanted import Cut

_SHORT = 5  # signs of a name that stands on small parts
_MOST_ROWS = 20  # of what the letters mean, below the cloth
HEAD = 18.0  # mm at the top of a sheet
_HATCHES = {"used": "", "keep": KEEP_HATCH, "scrap": SCRAP_HATCH}


def draw_plan(plan: Plan) -> Figure:
    """One overview page of a plan; a plan that needs more shows its first sheet (see `plan_sheets`)."""
    return plan_sheets(plan)[0]


def plan_sheets(plan: Plan) -> list[Drawing]:
    """As many sheets as the plan needs, at least one."""
    job = origin_of(plan)
    with names_of(job):
        return _sheets(job, plan)


def _sheets(job: Job, plan: Plan) -> list[Drawing]:
    letters = letters_of(plan)
    cells = [_cell(job, group, letters) for group in alike(views(plan))]
    entries = _legend(job, plan, letters)
    figure, sheet = blank_sheet()
    rows = rows_needed(sheet, entries)
    # so many that they have sheets of their own
    if rows > _MOST_ROWS:
        apart = entries
    else:
        apart = []
    if apart:
        entries = []
    foot = 6.0 + (LINE + 0.6) * (0 if apart else rows)
    scale, pages = packed(cells, sheet.labels, sheet.width, sheet.height - HEAD - foot)
    figures = []
    for number, page in enumerate(pages or [[]]):
        if number:
            figure, sheet = blank_sheet()
        _head(
            sheet,
            job,
            plan,
            f", sheet {number + 1} of {len(pages)}" if len(pages) > 1 else "",
        )
        for cell, x, down in page:
            paint(sheet, cell, x, sheet.height - HEAD - down, scale)
        keys = 2.0
        if entries:
            keys = min(flowing(sheet, entries, foot - 4.0) - LINE - 1.5, keys)
        _keys(sheet, job, plan, scale, keys)
        figures.append(figure)
    return [*figures, *_letter_sheets(job, apart)]


def _letter_sheets(job: Job, entries: Sequence[str]) -> list[Drawing]:
    """What the letters mean, in as many sheets as that takes."""
    figures: list[Drawing] = []
    left = list(entries)
    while left:
        figure, sheet = blank_sheet()
        title(sheet, f"{job.name}: the letters of the whole plan", sheet.height - 4)
        most = int((sheet.height - HEAD) // (LINE + 0.6))
        here = _as_many(sheet, left, most)
        flowing(sheet, left[:here], sheet.height - HEAD)
        left = left[here:]
        figures.append(figure)
    return figures


def _as_many(sheet: PaperSheet, entries: Sequence[str], rows: int) -> int:
    """How many entries stand in so many rows, one at least."""
    good = 1
    bad = len(entries) + 1
    while bad - good > 1:
        middle = (good + bad) // 2
        if rows_needed(sheet, entries[:middle]) <= rows:
            good = middle
        else:
            bad = middle
    return good


def letters_of(plan: Plan) -> dict[str, str]:
    """A letter for each wanted row that the plan gives something of: A, B, ... Z, AA, AB, ...

    Parts of a back have their own letters, behind its name: ``B1 A``.
    """
    job = origin_of(plan)
    given = {use.for_ for use in plan.uses}
    keys = [row.key for row in job.wanted if row.key in given]
    letters = {key: letter_of(i) for i, key in enumerate(keys)}
    marks = {back.name: _mark_of(job, place) for place, back in enumerate(job.backs)}
    for part in lettered(plan).values():
        _, letter, back = part.split("/", 2)
        letters[part] = f"{marks[back]} {letter}"
    return letters


def _mark_of(job: Job, place: int) -> str:
    """What stands for a back on its parts: a short name, or its number where there are several."""
    name = job.backs[place].name
    if len(name) <= _SHORT:
        return name
    if len(job.backs) == 1:
        return "back"
    return f"back {place + 1}"


def alike(shown: Sequence[View]) -> list[list[View]]:
    """Views that look the same, in groups: copies of one piece that are cut alike."""
    groups: dict[object, list[View]] = {}
    for view in shown:
        parts = frozenset((part.kind, part.key, part.polygon) for part in view.parts)
        groups.setdefault(
            (view.source.piece, view.source.bought, view.cloth.outline, parts), []
        ).append(view)
    return list(groups.values())


def _head(sheet: PaperSheet, job: Job, plan: Plan, more: str) -> None:
    title(sheet, f"{job.name}: the whole plan{more}", sheet.height - 4)
    totals = plan.totals
    if totals.money is None:
        money = ""
    else:
        money = f", {job.settings.currency}{totals.money:.2f} to pay"
    cuts = so_many(len(plan.cuts), "cut")
    cloth = so_many(len(plan.sources), "piece")
    said = f"{cloth} of cloth, {cuts}{money}; letters as below."
    word(sheet, said, 0, sheet.height - 11, size=9)


def _keys(sheet: PaperSheet, job: Job, plan: Plan, scale: float, y: float) -> None:
    x = scale_bar(sheet, job.settings.unit, scale, 0.5, y) + 6
    kinds = {spare.keep for spare in plan.spare}
    if True in kinds:
        x = key(sheet, KEEP_HATCH, "spare, keep", x, y) + 6
    if False in kinds:
        x = key(sheet, SCRAP_HATCH, "scrap", x, y) + 6
    if any(piece.flaws for piece in job.pieces):
        key(sheet, FLAW_HATCH, "flaw", x, y)


def _legend(job: Job, plan: Plan, letters: dict[str, str]) -> list[str]:
    unit = job.settings.unit
    out = []
    for row in job.wanted:
        if row.key not in letters:
            continue
        name, letter = row.key, letters[row.key]
        count = sum(use.for_ == name for use in plan.uses)
        wide = format_length(row.width, unit)
        if isinstance(row, Cut):
            size = f"{wide} x {format_length(row.length, unit)}"
        else:
            size = f"{wide} wide"
        out.append(f"{letter}  {row.name}, {count} of {size}")
    return [*out, *_of_backs(job, plan)]


def _of_backs(job: Job, plan: Plan) -> Iterator[str]:
    """``B1 and a letter  6 parts of cloth of back B1``: what the letters of parts of backs mean."""
    for place, back in enumerate(job.backs):
        count = sum(use.for_ == back.key for use in plan.uses)
        if count:
            parts = so_many(count, "part")
            of = name_of(back.key)
            yield f"{_mark_of(job, place)} and a letter  {parts} of cloth of {of}"


def _cell(job: Job, group: list[View], letters: dict[str, str]) -> Cell:
    first = group[0]
    numbers = [line.n for view in group for line in view.lines]
    if len(group) > 1:
        name = f"{len(group)} of {first.source.piece or first.source.bought}"
    else:
        name = first.title
    return Cell(
        outline=first.cloth.outline,
        words=(name, _cuts(numbers)),
        paint=partial(_paint, job, first, letters),
    )


def _cuts(numbers: list[int]) -> str:
    if len(numbers) < 2:
        if numbers:
            return f"cut {numbers[0]}"
        return "no cut"
    return f"cuts {numbers[0]}-{numbers[-1]}"


def _paint(
    job: Job, shown: View, letters: dict[str, str], labels: Labels, place: Place
) -> None:
    colour = tinted(look_of(job, shown.cloth.fabric).colour, 0.45)
    for kind, hatch in _HATCHES.items():
        ground, edge = (colour, INK) if kind == "used" else ("white", FAINT)
        alike = [place(part.polygon) for part in shown.parts if part.kind == kind]
        one_shape(
            labels.ax,
            alike,
            facecolor=ground,
            edgecolor=edge,
            linewidth=0.6,
            hatch=hatch,
        )
    flaws = [place(flaw) for flaw in shown.cloth.flaws]
    one_shape(
        labels.ax,
        flaws,
        facecolor="white",
        edgecolor=INK,
        hatch=FLAW_HATCH,
        linewidth=0.8,
    )
    one_shape(
        labels.ax,
        [place(shown.cloth.outline)],
        fill=False,
        edgecolor=INK,
        linewidth=1.3,
    )
    around = _pixels(bounds(shown.cloth.outline), labels, place)
    # a small one that is named from beside comes last
    for run in sorted(runs(shown.parts), key=_area, reverse=True):
        _letter_on(run, letters[run.one.key], labels, place, around)


def _area(run: EqualParts) -> Number:
    x1, y1, x2, y2 = run.box
    return (x2 - x1) * (y2 - y1)


def _letter_on(
    run: EqualParts, letter: str, labels: Labels, place: Place, around: Area
) -> None:
    """Say what a run is in the best way that there is room for; at the least from beside it, with a line."""
    box = _pixels(run.box, labels, place)
    many = len(run.parts)
    if many > 1:
        text = f"{letter} x {many}"
    else:
        text = letter
    _ = (
        _set(labels, text, box)
        or _letter_each(run, letter, labels, place)
        or (
            many > 1
            and (
                _set(labels, f"{letter}\nx {many}", box)
                or _set(labels, text, box, turn=90)
            )
        )
        or _from_beside(text, box, labels, around)
    )


def _set(labels: Labels, text: str, box: Area, turn: float = 0) -> bool:
    """Set a text in a box, nearer to others than usual: the lines between parts keep them apart."""
    return labels.set(
        text,
        spots_in(box),
        turn=turn,
        weight="bold",
        frame="plain",
        inside=box,
        pad=0.5,
        gap=0.5,
    )


def _letter_each(run: EqualParts, letter: str, labels: Labels, place: Place) -> bool:
    """A letter on each part of a run, if all are large enough for one."""
    wide, high = labels.size(letter, SMALLEST_TEXT, weight="bold")
    boxes = [_pixels(part.box, labels, place) for part in run.parts]
    if any(x2 - x1 < wide + 1 or y2 - y1 < high + 1 for x1, y1, x2, y2 in boxes):
        return False
    return all(_set(labels, letter, box) for box in boxes)


def _from_beside(text: str, box: Area, labels: Labels, around: Area) -> bool:
    """A framed text near a run that is too small for it, within an area, and a line from it to a dot on the run."""
    x = (box[0] + box[2]) / 2
    y = (box[1] + box[3]) / 2
    high = labels.size(text, SMALLEST_TEXT, weight="bold")[1]
    ways = [(way, far) for far in (1.5, 2.5, 3.5, 5, 7) for way in range(8)]
    for way, far in ways:
        spot = (
            x + far * high * math.cos(way * math.pi / 4),
            y + far * high * math.sin(way * math.pi / 4),
        )
        if labels.set(
            text, [spot], weight="bold", frame="round", inside=around, pad=1.5
        ):
            ends = [labels.place((x, y)), labels.place(spot)]
            lines(labels.ax, [ends], color=INK, linewidth=0.8, zorder=9)
            lines(
                labels.ax, [ends[:1]], marker="o", markersize=2.5, color=INK, zorder=9
            )
            return True
    return False


def _pixels(box: Box, labels: Labels, place: Place) -> Area:
    """A box of the cloth as it is drawn."""
    x1, y1, x2, y2 = box
    (low, _, high, _) = place(rectangle(int(x2 - x1), int(y2 - y1), int(x1), int(y1)))
    return (*labels.pixels(*low), *labels.pixels(*high))
