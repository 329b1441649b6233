"""Lists to tick and slips to pin on stacks, the blank page for the pile, and the slip for the shop."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any, Final

from reportlab.lib.colors import black, grey
from reportlab.lib.units import mm
from reportlab.platypus import KeepTogether, PageBreak, Table, TableStyle

from cutopt.answers.choosing import in_all, sentences
from cutopt.draw.overview import letters_of
from cutopt.draw.shapes import draw_shapes
from cutopt.draw.views import DrawnPart, View, size_of, views
from cutopt.geometry import Number
from cutopt.job import Job
from cutopt.lengths import format_length
from cutopt.pages import first_page as front
from cutopt.pages import grids
from cutopt.pages.paper import INSIDE, SMALL, Slot, heading, in_lines, words
from cutopt.plan import Plan
from cutopt.quilt.to_choose import Choosing
from cutopt.result import Result
from cutopt.settings import Settings
from cutopt.strips import (
    Segment,
    as_measured,
    finest_mark,
    longest_first,
    segments_text,
    sewn_length,
)
from cutopt.tables.recipe.quilt import quilt_of
from cutopt.wanted import Cut, Strip, Wanted

_HOW_TO_MEASURE = (
    "One leftover a line. Measure across the fabric first, then along the selvage. A true edge was cut straight "
    "already; a raw one is torn, ragged or cut by the shop. Mark flaws in the sketch."
)
SLIP: Final = 70 * mm  # as wide as a phone
# at least, and at most: what is longer goes on a second one
_SLIP_HIGH: Final = (130 * mm, 270 * mm)
# of its letters, the smallest of which are 10 points
_SLIP_SHARES: Final = (0.94, 0.88, 0.82)


def tick_list(result: Result) -> Iterator[Any]:
    """Everything wanted with a box for each piece of cloth that gives some of it."""
    plan = result.plan
    job = result.job
    shown = views(plan)
    missing = {item.for_: item for item in plan.short}
    quilt = quilt_of(job)
    laid = quilt.laid if quilt else {}
    yield PageBreak()
    yield words("What I want, to tick off", 18, bold=True)
    for row in job.wanted:
        rows = list(_given(result, row, shown))
        if row.key in missing:
            rows.append(("", f"{missing[row.key].count} short", "not in this plan"))
        if isinstance(row, Strip):
            rows += _joined(plan, row, shown, job)
        table = Table(
            [
                [words(cell, 10) for cell in line]
                for line in rows or [("", "0", "none in this plan")]
            ],
            colWidths=[8 * mm, 50 * mm, INSIDE - 58 * mm],
            hAlign="LEFT",
        )
        table.setStyle(_tight())
        above = [heading(_wanted(row, result), 11.5, 6)]
        if row.why:
            above.append(words(f"How it comes about: {row.why}", 8.5, after=2))
        if row.note:
            above.append(words(f"Note: {row.note}", 8.5, after=2))
        if quilt is not None and row.key in laid:
            above.append(Slot(draw_shapes(laid[row.key], quilt.how)))
        yield KeepTogether([*above, table])


def _joined(
    plan: Plan, row: Strip, shown: list[View], job: Job
) -> Iterator[tuple[str, str, str]]:
    """How each strip is sewn, and what comes off its end; which segments make which where there are several strips."""
    found = {
        part.name: (view.cloth.fabric, _long(part))
        for view in shown
        for part in view.parts
        if part.key == row.key
    }
    made = [join for join in plan.joins if join.for_ == row.key]
    mixed = len({fabric for fabric, _ in found.values()}) > 1
    alike = Counter(
        longest_first(found[name] for name in join.segments) for join in made
    )
    for segments, number in alike.items():
        told = _sewn(row, segments, job.settings, mixed=mixed)
        if told:
            if number > 1:
                times = f", {number} times"
            else:
                times = ""
            yield "☐", f"{'join' if len(segments) > 1 else 'trim'}{times}", told


def _sewn(
    row: Strip, segments: Sequence[Segment], settings: Settings, *, mixed: bool
) -> str:
    """What comes of segments of these lengths; nothing where one is the strip already.

    Which they are is told where several strips are sewn, or not all are of one fabric (`mixed`).

    All by the lengths that are told: the sum is what the maker finds, and what is trimmed off a ruler shows.
    """
    unit = settings.unit
    several = len(segments) > 1
    length = sewn_length(row, [long for _, long in segments], settings)
    trimmed = length - row.total_length >= finest_mark(settings)
    if not several and not trimmed:
        return ""
    told = format_length(
        as_measured(length, settings) if trimmed else row.total_length, unit, mark=True
    )
    if several:
        told = f"sew {len(segments)} end to end, {row.join} joins: {told}"
    if several and (row.count > 1 or mixed):
        each = format_length(row.join_loss(settings.seam), unit)
        told += f" ({segments_text(segments, unit, mixed=mixed)}, less {each} a join)"
    if not several and mixed:
        told = f"{segments[0][0]} {told}"
    return told + (
        f", trim to {format_length(row.total_length, unit)}" if trimmed else ""
    )


def _long(part: DrawnPart) -> Number:
    """How long a segment is, as it is measured: across the fabric where it lies so."""
    x1, y1, x2, y2 = part.box
    wide, long = part.measured or (x2 - x1, y2 - y1)
    if part.turned:
        return wide
    return long


def _tight() -> TableStyle:
    return TableStyle(
        [
            ("TOPPADDING", (0, 0), (-1, -1), 0.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
            ("LEFTPADDING", (0, 0), (-1, -1), 2),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LINEBELOW", (0, 0), (-1, -1), 0.3, grey),
        ]
    )


def _wanted(row: Wanted, result: Result) -> str:
    unit = result.job.settings.unit
    wide = format_length(row.width, unit)
    if isinstance(row, Cut):
        size = f"{row.count} of {wide} x {format_length(row.length, unit)} {unit}"
    else:
        if row.count > 1:
            each = " each"
        else:
            each = ""
        size = f"{row.count} of {wide} {unit} wide, {format_length(row.total_length, unit, mark=True)} long{each}"
    return f"{row.name}: {size}" + (
        "" if row.importance == "must" else f" ({row.importance})"
    )


def _given(
    result: Result, row: Wanted, shown: list[View]
) -> Iterator[tuple[str, str, str]]:
    """Box, number and where from; copies of one piece stand in one line."""
    count: Counter[tuple[str, str]] = Counter()
    copies: dict[str, list[str]] = {}
    for view in shown:
        name = view.source.piece or view.title
        told = [_told(part, row, result) for part in view.parts if part.key == row.key]
        count.update((name, size) for size in told)
        if told:
            copies.setdefault(name, []).append(view.title)
    for (name, size), number in count.items():
        yield (
            "☐",
            f"{number} of {size}" if size else str(number),
            f"from {_named(name, copies[name], number)}",
        )


def _named(name: str, titles: list[str], number: int) -> str:
    """``pear L``, or ``mist squares, 12 pieces, 2 from each``."""
    many = len(titles)
    if many == 1:
        return titles[0]
    if number % many == 0:
        each = f", {number // many} from each"
    else:
        each = ""
    return f"{name}, {many} pieces{each}"


def _told(part: DrawnPart, row: Wanted, result: Result) -> str:
    """The size of a segment; nothing for a cut, whose size stands in the heading."""
    if isinstance(row, Cut):
        return ""
    return size_of(part, result.job.settings.unit)


def slips(result: Result) -> Iterator[Any]:
    """Slips to cut out and pin on the stacks: one for each wanted row and fabric."""
    letters = letters_of(result.plan)
    unit = result.job.settings.unit
    count: Counter[tuple[str, str]] = Counter()
    for view in views(result.plan):
        for part in view.parts:
            if part.key:
                count[part.key, view.cloth.fabric] += 1
    cards: list[Any] = []
    for row in result.job.wanted:
        for (key, fabric), number in count.items():
            if key == row.key:
                cards.append(_card(result, row, letters[key], fabric, number, unit))
    if not cards:
        return
    cards += [""] * (len(cards) % 2)
    table = Table(
        [cards[i : i + 2] for i in range(0, len(cards), 2)],
        colWidths=[INSIDE / 2] * 2,
        rowHeights=34 * mm,
    )
    dashes = (0.5, black, None, (3, 3))
    table.setStyle(
        TableStyle(
            [
                ("INNERGRID", (0, 0), (-1, -1), *dashes),
                ("BOX", (0, 0), (-1, -1), *dashes),
                ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
                ("LEFTPADDING", (0, 0), (-1, -1), 8),
            ]
        )
    )
    yield PageBreak()
    yield words("Slips to cut out and pin on the stacks", 18, bold=True, after=6)
    yield table


def _card(
    result: Result, row: Wanted, letter: str, fabric: str, number: int, unit: str
) -> list[Any]:
    wide = format_length(row.width, unit)
    if isinstance(row, Cut):
        size = f"{wide} x {format_length(row.length, unit)} {unit}"
    else:
        size = f"{wide} {unit} wide"
    room = INSIDE / 2 - 14
    return [
        in_lines(f"{letter} · {row.name}", 2, room, 15, bold=True),
        in_lines(f"{number} of {size}", 1, room, 13),
        in_lines(fabric, 1, room, 10),
        in_lines(result.job.name, 1, room, 8.5),
    ]


def my_pile(result: Result) -> Iterator[Any]:
    """A page to fill in by hand: the leftovers, as they are measured."""
    unit = result.job.settings.unit
    head = (
        "fabric",
        f"across ({unit})",
        f"along ({unit})",
        "shape (sketch)",
        "edges: true or raw",
        "grain known?",
    )
    cells: list[list[Any]] = [
        [words(cell, 9, bold=True) for cell in head],
        *([""] * len(head) for _ in range(11)),
    ]
    widths = [38 * mm, 24 * mm, 24 * mm, 50 * mm, 28 * mm]
    table = Table(
        cells,
        colWidths=[*widths, INSIDE - sum(widths)],
        rowHeights=[13 * mm, *[18.5 * mm] * 11],
    )
    table.setStyle(
        TableStyle(
            [
                ("GRID", (0, 0), (-1, -1), 0.5, black),
                ("VALIGN", (0, 0), (-1, 0), "MIDDLE"),
            ]
        )
    )
    yield PageBreak()
    yield words("My pile", 18, bold=True, after=2)
    yield words(_HOW_TO_MEASURE, 10, after=5)
    yield table


def slip_size(story: list[Any]) -> tuple[float, float]:
    """The page of a slip, points: as wide as a phone, and high enough for all that stands on it, if that can be."""
    return SLIP, min(max(_slip_high(story), _SLIP_HIGH[0]), _SLIP_HIGH[1])


def _slip_high(story: list[Any]) -> float:
    inside = SLIP - 2 * SMALL
    highs = [
        item.wrap(inside, _SLIP_HIGH[1])[1]
        + item.getSpaceBefore()
        + item.getSpaceAfter()
        for item in story
    ]
    return float(sum(highs) + 3 * SMALL)


def shopping_slip(result: Result, to_choose: Sequence[Choosing] = ()) -> list[Any]:
    """What to buy, in large letters on a page as wide as a phone; `to_choose` is bought beside what the plan buys.

    The letters are a little smaller where that saves a second page.
    """
    full = list(_slip(result, to_choose, 1.0))
    smaller = (list(_slip(result, to_choose, share)) for share in _SLIP_SHARES)
    return next(
        (story for story in (full, *smaller) if _slip_high(story) <= _SLIP_HIGH[1]),
        full,
    )


def _slip(result: Result, to_choose: Sequence[Choosing], share: float) -> Iterator[Any]:
    """The same in letters of a share of their size."""
    plan = result.plan
    settings = result.job.settings
    yield words("To buy", 18, bold=True)
    yield words(result.job.name, 10 * share, after=4)
    told = front.buying(plan, result, to_choose)
    for text in told.purchases:
        yield words(f"☐ {text}", 13 * share, after=4)
    for text in (told.total, told.nothing):
        if text:
            yield words(text, 13 * share, after=4)
    for text in told.missing:
        yield words(text, 11.5 * share, bold=True, after=4)
    told_of = sentences(to_choose, settings.unit, settings.currency)
    for each, (title, lines) in zip(to_choose, told_of, strict=True):
        yield words(title, 12 * share, bold=True, before=4, after=2)
        # what is missing stands first, and is nothing to tick off
        if each.missing:
            notes = 1
        else:
            notes = 0
        yield from (words(text, 11 * share, after=3) for text in lines[:notes])
        yield from (words(f"☐ {text}", 12 * share, after=3) for text in lines[notes:])
    for text in in_all(plan.totals.money, to_choose, settings.currency):
        yield words(text, 12 * share, bold=True, before=3, after=3)
    at_widths = grids.widths(result)
    if at_widths and any(source.bought for source in plan.sources):
        yield words("If the usable width is", 12 * share, bold=True, before=4, after=2)
        for case, (wide, buy, pay, all_there) in zip(
            result.widths, at_widths.rows, strict=True
        ):
            if case.complete:
                enough = ""
            else:
                enough = f" ({all_there})"
            yield words(f"{wide}: {buy}, {pay}{enough}", 11.5 * share, after=2)
