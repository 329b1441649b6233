"""The pages of pieced backs: the picture, where each part comes from, and how it is sewn, seam after seam."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from matplotlib.figure import Figure
from reportlab.lib.colors import black, grey
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, PageBreak, Table, TableStyle

from cutopt.draw.pieced_back import pieced_back
from cutopt.job import Job
from cutopt.pages.paper import INSIDE, ROOM, Slot, heading, in_lines, words
from cutopt.pages.parts_alike import notes_text, parts_alike
from cutopt.pages.phrases import upper
from cutopt.pages.sewing_words import (
    HOW_PRESSED,
    HOW_TOLD,
    back_text,
    block_texts,
    pieced_text,
    seams_text,
    sewing_of,
    size_text,
    title_text,
)
from cutopt.pages.tick_rows import height_of, ticked
from cutopt.plan import Plan
from cutopt.result import Result
from cutopt.sewn_back import LetteredPart, SewnBack, sewn_backs

# points: the picture beside its table and steps, beside its table, alone
_LEAST: Final = 100 * mm
_BESIDE_TABLE: Final = 120 * mm
_MOST: Final = 205 * mm
_LABEL: Final = 22 * mm
_GAP: Final = 6.0
_HEAD: Final = (
    "",
    "part",
    "cut, as it hangs",
    "finished",
    "fabric",
    "from",
    "freed by",
)
_WIDTHS: Final = (7.0, 21.0, 38.0, 38.0, 28.0, 35.0)
# of the slips for single parts
_COLUMNS: Final = 5
_SLIP_HIGH: Final = 27.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BackPages:
    """One back with its picture, drawn once; `compared` are lines about buying it whole."""

    job: Job
    plan: Plan
    back: SewnBack
    compared: tuple[str, ...] = ()
    drawn: dict[int, Figure] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """Its own name."""
        return self.back.back.name

    @property
    def marks(self) -> tuple[str, str, str]:
        """The names of its page marks: where it begins, where its parts are listed, where its seams end."""
        return f"back/{self.name}", f"parts/{self.name}", f"end/{self.name}"

    def picture(self, room: float) -> Slot:
        """The picture, no higher than so many points."""
        high = int(min(room, _MOST) / mm)
        if high not in self.drawn:
            self.drawn[high] = pieced_back(self.job, self.back, float(high))
        return Slot(self.drawn[high])


class PageMark(Flowable):  # type: ignore[misc]
    """Nothing that is seen: it notes the number of the page on which it came to stand."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.name = name
        self.page = 0

    def wrap(self, *_: float) -> tuple[float, float]:
        """It takes no room."""
        return 0.0, 0.0

    def draw(self) -> None:
        """Note the page."""
        self.page = self.canv.getPageNumber()


def back_pages(
    result: Result, compared: Mapping[str, Sequence[str]] | None = None
) -> list[BackPages]:
    """The backs of a plan with what their pages show.

    Parameters
    ----------
    result : Result
    compared : mapping, optional
        By the name of a back lines that compare it with a back that is bought whole.
    """
    told = compared or {}
    return [
        BackPages(
            job=result.job,
            plan=result.plan,
            back=back,
            compared=tuple(told.get(back.back.name, ())),
        )
        for back in sewn_backs(result.job, result.plan)
    ]


def back_story(shown: BackPages) -> Iterator[Any]:
    """One page where that holds all of a back; else the picture on one, where parts come from and the seams on another.

    Where these do not fit one page together, the parts stand below the picture.
    """
    head = list(_head(shown))
    begin, listing, end = map(PageMark, shown.marks)
    parts, steps = list(_parts(shown)), list(_steps(shown))
    above = height_of(head) + _GAP
    listed, sewn = height_of(parts), height_of(steps)
    yield PageBreak()
    yield begin
    yield from head
    if above + listed + sewn + _LEAST <= ROOM:
        yield shown.picture(ROOM - above - listed - sewn)
        yield from (listing, *parts, *steps, end)
        return
    if listed + sewn <= ROOM or above + listed + _BESIDE_TABLE > ROOM:
        yield shown.picture(ROOM - above)
        yield PageBreak()
        yield from (listing, *parts, *steps, end)
        return
    yield shown.picture(ROOM - above - listed)
    yield from (listing, *parts, PageBreak(), *steps, end)


def _head(shown: BackPages) -> Iterator[Any]:
    unit = shown.job.settings.unit
    yield words(title_text(shown.back, unit), 18, bold=True, after=2)
    told = f"{upper(pieced_text(shown.back))}."
    if shown.back.back.rules.overage:
        trimmed = size_text(*shown.back.trimmed[2:], unit)
        told += f" Once it is quilted, it is trimmed to {trimmed} {unit}."
    yield words(told, 11, after=2)
    if shown.back.back.note:
        yield words(f"Note: {shown.back.back.note}", 9, after=2)
    yield from (words(text, 10, after=2) for text in shown.compared)


def _parts(shown: BackPages) -> Iterator[Any]:
    """Where each part comes from, and how blocks are trimmed."""
    unit = shown.job.settings.unit
    freed = {name: cut.n for cut in shown.plan.cuts for name in cut.gives}
    rows = parts_alike(shown.job, shown.back, freed)
    every = [part.letter for part in shown.back.parts]
    cells: list[list[Any]] = [[words(cell, 9, bold=True) for cell in _HEAD]]
    for row in rows:
        letters = words(row.letters, 13, bold=True)
        finished = [*_small(row.finished_texts(unit, every))]
        from_where = _small((row.of_text, row.source, row.freed_text))
        sizes = words(row.cut_text(unit), 10), finished
        cells.append([words("☐", 10), letters, *sizes, *from_where])
    last = (INSIDE / mm - sum(_WIDTHS)) * mm
    widths = [*(wide * mm for wide in _WIDTHS), last]
    table = Table(cells, colWidths=widths, hAlign="LEFT", repeatRows=1)
    table.setStyle(_lines())
    yield heading("Where each part comes from", 13, 4)
    yield table
    notes = notes_text(rows, unit)
    if notes:
        yield words(notes, 9, before=3)
    blocks = list(block_texts(shown.back, unit))
    if blocks:
        yield heading("Blocks first", 13, 6)
        yield from (ticked(mark, text, beside=_LABEL) for mark, text in blocks)


def _small(cells: Sequence[str]) -> Iterator[Any]:
    return (words(cell, 10) for cell in cells)


def _lines() -> TableStyle:
    return TableStyle(
        [
            ("LINEBELOW", (0, 0), (-1, -1), 0.4, grey),
            ("LINEBELOW", (0, 0), (-1, 0), 1.0, black),
            ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
            ("TOPPADDING", (0, 0), (-1, -1), 0.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
            ("LEFTPADDING", (0, 0), (-1, -1), 2),
            ("RIGHTPADDING", (0, 0), (-1, -1), 4),
        ]
    )


def _steps(shown: BackPages) -> Iterator[Any]:
    """The seams one after the other."""
    unit = shown.job.settings.unit
    if not shown.back.steps:
        return
    yield heading("Sewn so", 13, 6)
    yield words(HOW_TOLD, 9, after=2)
    mind = seams_text(shown.back, unit)
    if mind:
        yield words(mind, 11, bold=True, after=2)
    for told in sewing_of(shown.back, unit):
        yield ticked(told.label, told.text, beside=_LABEL, bold=told.bold)
    yield words(HOW_PRESSED, 9, before=3)


def back_lines(shown: Sequence[BackPages], pages: Mapping[str, int]) -> list[str]:
    """What page 1 says of each back, and on which page it stands.

    Parameters
    ----------
    shown : sequence of BackPages
    pages : mapping
        By the name of a page mark.
    """
    return [
        f"{back_text(each.back, each.job.settings.unit)}: page {pages[each.marks[0]]}."
        for each in shown
    ]


def back_ticks(
    result: Result, shown: Sequence[BackPages], pages: Mapping[str, int]
) -> Iterator[Any]:
    """What the tick list says of backs: of those that are made, on which page their parts are; else that they are short.

    Parameters
    ----------
    result : Result
    shown : sequence of BackPages
    pages : mapping
        By the name of a page mark.
    """
    made = {each.name: each for each in shown}
    unit = result.job.settings.unit
    for back in result.job.backs:
        size = size_text(back.width, back.length, unit)
        must = "" if back.importance == "must" else f" ({back.importance})"
        yield heading(f"{back.name}: a back of {size} {unit}{must}", 11.5, 6)
        each = made.get(back.name)
        if each is None:
            yield words("Not in this plan.", 10)
            continue
        parts = len(each.back.parts)
        some = "its part" if parts == 1 else f"its {parts} parts"
        first, last = (pages[mark] for mark in each.marks[1:])
        where = f"page {first}" if first == last else f"pages {first}-{last}"
        yield words(f"☐ {some}, listed with the seams on {where}", 10)


def back_slips(shown: Sequence[BackPages]) -> Iterator[Any]:
    """Small slips to pin on the parts, a letter on each."""
    cards = [_card(each, part) for each in shown for part in each.back.parts]
    if not cards:
        return
    cards += [""] * (-len(cards) % _COLUMNS)
    rows = [cards[i : i + _COLUMNS] for i in range(0, len(cards), _COLUMNS)]
    table = Table(
        rows,
        colWidths=[INSIDE / _COLUMNS] * _COLUMNS,
        rowHeights=_SLIP_HIGH * mm,
    )
    dashes = (0.5, black, None, (3, 3))
    table.setStyle(
        TableStyle(
            [
                ("INNERGRID", (0, 0), (-1, -1), *dashes),
                ("BOX", (0, 0), (-1, -1), *dashes),
                ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
            ]
        )
    )
    yield heading("Slips for the parts of a back", 13, 8)
    yield table


def _card(shown: BackPages, part: LetteredPart) -> Any:
    unit = shown.job.settings.unit
    room = INSIDE / _COLUMNS - 14
    of = part.block.name if part.block is not None else part.fabric
    size = size_text(part.width, part.height, unit)
    return [
        in_lines(part.letter, 1, room, 22, bold=True),
        in_lines(shown.name, 2, room, 8.5),
        in_lines(f"{size} {unit}", 1, room, 9),
        in_lines(of, 1, room, 9),
    ]


__all__ = [
    "BackPages",
    "PageMark",
    "back_lines",
    "back_pages",
    "back_slips",
    "back_story",
    "back_ticks",
]
