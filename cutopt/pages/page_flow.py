"""The pages one after the other: front page, overview, piece by piece, tick list, slips, the blank pile page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from matplotlib.figure import Figure
from reportlab.lib.colors import black, grey
from reportlab.lib.units import mm
from reportlab.platypus import (
    Flowable,
    KeepTogether,
    PageBreak,
    Paragraph,
    Spacer,
    Table,
    TableStyle,
)

from cutopt.answers.choosing import in_all, sentences
from cutopt.draw.looks import MM_PER_INCH
from cutopt.draw.views import views
from cutopt.pages import first_page as front
from cutopt.pages import grids
from cutopt.pages.fit_to_pages import SIZES, Drawings, groups
from cutopt.pages.grids import Grid
from cutopt.pages.how_sure import how_sure
from cutopt.pages.measure_first import measure_first
from cutopt.pages.paper import (
    BOLD,
    FONT,
    INSIDE,
    ROOM,
    Slot,
    escaped,
    heading,
    style,
    words,
)
from cutopt.pages.steps import Section, Step
from cutopt.pages.tick_rows import height_of, ticked
from cutopt.quilt.to_choose import Choosing
from cutopt.result import Result

_BEFORE = (
    "Press every piece before you measure it. The numbers on the drawings are those of the cuts; sizes are across "
    "first, then along the selvage. What is wider than your ruler is measured on the mat."
)
# of a page: a drawing that is higher is smaller where it is shown again above the steps that go on
_AGAIN = 0.45


def front_page(
    result: Result,
    to_choose: Sequence[Choosing] = (),
    backs: Sequence[str] = (),
) -> Iterator[Any]:
    """The first page, which may run over to a second one.

    Parameters
    ----------
    result : Result
    to_choose : sequence of Choosing
        What is bought beside what the plan buys.
    backs : sequence of str
        What is said of backs that are pieced.
    """
    plan = result.plan
    settings = result.job.settings
    yield words(f"{result.job.name}: cutting plan", 18, bold=True, after=2)
    yield words(front.standing(result), 12, bold=True, after=2)
    blocks: list[tuple[str, Sequence[str]]] = [
        ("Buy", front.to_buy(plan, result, to_choose)),
        *sentences(to_choose, settings.unit, settings.currency),
        ("In all", in_all(plan.totals.money, to_choose, settings.currency)),
        ("Your rules", result.rules),
        ("Short", front.short(plan)),
        ("Back", backs),
        ("Use", front.used(plan, result, to_choose)),
        ("Keep", front.kept(plan, result)),
        ("Measure first", measure_first(result)),
        ("How sure", how_sure(result)),
        ("Note", (*result.notices, *result.washing, *result.mixed)),
        ("Names", front.names(result.job)),
    ]
    yield _blocks(blocks)
    if result.job.is_cut_for:
        yield from _grids(result)
    yield _cautions(result)


def _blocks(blocks: Sequence[tuple[str, Sequence[str]]]) -> Any:
    """Titles and their sentences, each sentence in a row of its own: a page may end between two of them, or in one."""
    cells: list[list[Any]] = []
    ends: list[int] = []  # the last row of each block
    for title, told in blocks:
        cells += [
            [words(title if not i else "", 10, bold=True), words(text, 10)]
            for i, text in enumerate(told)
        ]
        ends += [len(cells) - 1] if told else []
    table = Table(
        cells, colWidths=[30 * mm, INSIDE - 30 * mm], hAlign="LEFT", splitInRow=1
    )
    lines = [("LINEBELOW", (0, end), (-1, end), 0.4, grey) for end in ends]
    padding = [
        ("TOPPADDING", (0, 0), (-1, -1), 0.5),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 0.5),
    ]
    padding += [("BOTTOMPADDING", (0, end), (-1, end), 2.5) for end in ends]
    sides = [
        ("LEFTPADDING", (0, 0), (-1, -1), 2),
        ("RIGHTPADDING", (0, 0), (-1, -1), 5),
    ]
    table.setStyle(
        TableStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), *lines, *padding, *sides])
    )
    return table


def _grids(result: Result) -> Iterator[Any]:
    """The offers, and beside them (below where there is much to say) what other widths of fabric would take."""
    offers = grids.offers(result)
    at_widths = grids.widths(result)
    if at_widths:
        longest = max((len(row[1]) for row in at_widths.rows), default=0)
    else:
        longest = 0
    narrow = at_widths is not None and len(offers.head) <= 3 and longest <= 20
    note = words(offers.note, 8.5, before=2)
    if at_widths is None or not narrow:
        yield KeepTogether(
            [heading(offers.title, 11.5, 6), _grid(offers, INSIDE), note]
        )
        if at_widths is not None:
            yield KeepTogether(
                [heading(at_widths.title, 11.5, 6), _grid(at_widths, INSIDE)]
            )
        return
    room = 112 * mm
    beside = [
        words(at_widths.title, 9, bold=True),
        _grid(at_widths, INSIDE - room - 6 * mm),
    ]
    both = Table(
        [[_grid(offers, room), beside]],
        colWidths=[room + 6 * mm, INSIDE - room - 6 * mm],
        hAlign="LEFT",
    )
    padding = [
        (f"{side}PADDING", (0, 0), (-1, -1), 0)
        for side in ("LEFT", "RIGHT", "TOP", "BOTTOM")
    ]
    both.setStyle(TableStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), *padding]))
    yield KeepTogether([heading(offers.title, 11.5, 6), both, note])


def _grid(grid: Grid, room: float) -> Any:
    cells = [[Paragraph(escaped(cell), style(8.5, bold=True)) for cell in grid.head]]
    cells += [
        [Paragraph(escaped(cell), style(8.5)) for cell in row] for row in grid.rows
    ]
    columns = len(grid.head)
    first = min(29 * mm, room / columns)
    table = Table(
        cells,
        hAlign="LEFT",
        colWidths=[first, *[(room - first) / (columns - 1)] * (columns - 1)],
    )
    table.setStyle(_lines())
    return table


def _lines() -> TableStyle:
    return TableStyle(
        [
            ("LINEBELOW", (0, 0), (-1, -1), 0.4, grey),
            ("LINEBELOW", (0, 0), (-1, 0), 1.0, black),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("TOPPADDING", (0, 0), (-1, -1), 1.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
            ("LEFTPADDING", (0, 0), (-1, -1), 2),
            ("RIGHTPADDING", (0, 0), (-1, -1), 5),
        ]
    )


def _cautions(result: Result) -> Any:
    told = [
        Paragraph(f"<b>{head}.</b> {escaped(text)}", style(8.5, after=1))
        for head, text in front.cautions(result.job, result.plan)
    ]
    square = CheckSquare(result.job.settings.unit)
    box = Table(
        [[[words("Take care", 11.5, bold=True, after=2), *told], square]],
        colWidths=[INSIDE - 35 * mm, 35 * mm],
    )
    frame = [("BOX", (0, 0), (0, 0), 1.2, black), ("VALIGN", (0, 0), (-1, -1), "TOP")]
    box.setStyle(TableStyle([*frame, ("LEFTPADDING", (0, 0), (0, 0), 6)]))
    return KeepTogether([Spacer(1, 7), box])


class CheckSquare(Flowable):  # type: ignore[misc]
    """A square of 1 in (25.4 mm exactly) or 2 cm: where it prints in another size, the page was scaled."""

    def __init__(self, unit: str) -> None:
        super().__init__()
        self.side = (MM_PER_INCH if unit == "in" else 20.0) * mm
        self.told = "1 in" if unit == "in" else "2 cm"
        self.width = 40 * mm
        self.height = self.side + 12 * mm

    def wrap(self, *_: float) -> tuple[float, float]:
        """Its size, points."""
        return self.width, self.height

    def draw(self) -> None:
        """The square with its words below."""
        self.canv.setLineWidth(0.6)
        self.canv.rect(3 * mm, 11 * mm, self.side, self.side)
        self.canv.setFont(FONT, 9)
        self.canv.drawCentredString(
            3 * mm + self.side / 2, 11 * mm + self.side / 2 - 3, self.told
        )
        self.canv.setFont(FONT, 8)
        self.canv.drawString(3 * mm, 6.5 * mm, "Measure it: if it is not")
        self.canv.drawString(3 * mm, 3 * mm, f"{self.told}, print at 100 %.")


def overview(figures: Sequence[Figure]) -> Iterator[Any]:
    """The whole plan on one sheet, or more."""
    for figure in figures:
        yield PageBreak()
        yield Slot(figure)


def by_piece(told: Sequence[Section], figures: Mapping[str, Drawings]) -> Iterator[Any]:
    """A drawing and numbered steps for each piece of cloth, on as few pages as hold them."""
    pieces = [
        _Piece(section, figures.get(section.shown), first=not i)
        for i, section in enumerate(told)
    ]
    for group in groups(
        len(pieces),
        lambda i, size, least: pieces[i].height(size, least),
        lambda i: pieces[i].tail(),
    ):
        yield PageBreak()
        first, *others = pieces[group.first : group.end]
        alone = first.height(group.size)
        if alone is None or alone > ROOM:
            *whole, last = first.pages(first.tail()[0])
            for page in whole:
                yield from (KeepTogether(page), PageBreak())
            yield KeepTogether(last)
        else:
            others = [first, *others]
        for piece in others:
            yield KeepTogether(piece.items(group.size))


class _Piece:
    """One piece of cloth as it is set: its heading, its drawing, its steps."""

    def __init__(
        self, section: Section, drawings: Drawings | None, first: bool
    ) -> None:
        self.section = section
        self.drawings = drawings
        if first:
            begin = [words("Cut", 18, bold=True), words(_BEFORE, 10)]
        else:
            begin = []
        self.top = [
            *begin,
            heading(section.title),
            *(words(text, 10, after=2) for text in section.intro),
        ]
        self.steps = [_step(step) for step in section.steps]
        self.result = (
            [words(section.result, 10, bold=True, before=3, after=4)]
            if section.result
            else []
        )
        self.highs = [height_of([step]) for step in self.steps]
        self.rest = height_of(self.top) + sum(self.highs) + height_of(self.result)

    def _drawing(self, size: float) -> list[Any]:
        if self.drawings is None:
            return []
        made = self.drawings.at(size) or self.drawings.at(1.0)
        if made is None:
            return []
        more = "; ".join(made.left_over)
        if more:
            below = [words(more, 8, after=3)]
        else:
            below = []
        return [Slot(made), *below]

    def items(self, size: float) -> list[Any]:
        """All of it with a drawing of a size."""
        return [*self.top, *self._drawing(size), *self.steps, *self.result]

    def height(self, size: float, least: bool = False) -> float | None:
        """How high that is, points, or the least it can be; None where the drawing cannot have that size."""
        if self.drawings is None or least:
            if self.drawings is None:
                return self.rest
            return self.rest + self.drawings.least(size)
        if self.drawings.at(size) is None:
            return None
        return float(self.rest + height_of(self._drawing(size)))

    def pages(self, size: float) -> list[list[Any]]:
        """Its steps shared out to pages, each below the drawing, where they are too many for one."""

        def again() -> list[Any]:
            head = heading(f"{self.section.title}, continued", 12)
            if self.drawings is None:
                return [head]
            return [head, Slot(self.drawings.again(_AGAIN * ROOM))]

        pages = [[*self.top, *self._drawing(size)]]
        used = height_of(pages[-1])
        for i, step in enumerate(self.steps):
            # the sum does not begin a page
            if i == len(self.steps) - 1:
                end = self.result
            else:
                end = []
            high = self.highs[i] + height_of(end)
            if i and used + high > ROOM:
                pages.append(again())
                used = height_of(pages[-1])
            pages[-1] += [step, *end]
            used += high
        return pages

    def tail(self) -> tuple[float, int, float]:
        """For a piece that no page holds: the size of its drawing, how many pages it takes, how much of the last."""
        sizes = [
            size
            for size in SIZES
            if self.drawings is None or self.drawings.at(size) is not None
        ]
        found = {size: self.pages(size) for size in sizes}
        best = min(sizes, key=lambda size: (len(found[size]), -size))
        return best, len(found[best]), height_of(found[best][-1])


def piece_figures(result: Result, told: Sequence[Section]) -> dict[str, Drawings]:
    """The drawings of all pieces that are cut, by source."""
    cut = {
        section.shown for section in told if any(step.numbers for step in section.steps)
    }
    return {
        view.source.id: Drawings(result.job, view)
        for view in views(result.plan)
        if view.source.id in cut
    }


def _step(step: Step) -> Any:
    return ticked(step.cuts, step.text, step.notes)


def flat(parts: Iterable[Iterable[Any]]) -> list[Any]:
    """All flowables of some pages."""
    return [item for part in parts for item in part]


__all__ = ["BOLD", "by_piece", "flat", "front_page", "overview", "piece_figures"]
