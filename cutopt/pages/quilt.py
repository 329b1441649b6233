"""Pages of a job that has a quilt.toml: the quilt itself, its backing and batting, its label and wash card."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

from matplotlib.figure import Figure
from reportlab.lib.colors import black, grey
from reportlab.lib.units import mm
from reportlab.platypus import (
    CondPageBreak,
    KeepTogether,
    PageBreak,
    Paragraph,
    Spacer,
    Table,
    TableStyle,
)

from cutopt.answers.backing import BackingAnswer
from cutopt.answers.batting import BattingAnswer
from cutopt.answers.choosing import (
    backing_of,
    batting_of,
    chosen_beside,
    not_sold,
)
from cutopt.answers.own_cut import cut_from_own, joined_so
from cutopt.answers.sizes import more_or_less
from cutopt.draw.backing import draw_backing
from cutopt.draw.joined import draw_joined
from cutopt.draw.lengths import cut_to_size, cutting_order, draw_length
from cutopt.draw.quilt import draw_quilt
from cutopt.draw.sewing import HOW_TOLD, sewing_order
from cutopt.job import Job
from cutopt.lengths import format_sale
from cutopt.pages.label import label_page
from cutopt.pages.paper import (
    INSIDE,
    ROOM,
    Slot,
    escaped,
    heading,
    register_fonts,
    style,
    words,
)
from cutopt.plan import Plan
from cutopt.quilt.backs.compare import Choice
from cutopt.quilt.cautions import INFANT
from cutopt.quilt.recipe.layout import patches_of
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.sizes import use
from cutopt.quilt.to_choose import Choosing
from cutopt.result import Result
from cutopt.tables.recipe.quilt import quilt_of

# mm of the drawing of the quilt, so that what is said about it stands below
_HIGH: Final = 205.0
_LOW: Final = 130.0


@dataclass(frozen=True, slots=True, kw_only=True)
class QuiltPages:
    """What the pages show, worked out and drawn once."""

    job: Job
    quilt: Quilt
    picture: Figure | None
    backing: BackingAnswer | None
    pieced: Figure | None
    batting: BattingAnswer | None
    plan: Plan | None = None

    @property
    def to_choose(self) -> tuple[Choosing, ...]:
        """What is bought beside the cutting plan: one of several."""
        return chosen_beside(
            self.job, self.quilt, self.plan, self.backing, self.batting
        )


def quilt_pages(result: Result) -> QuiltPages | None:
    """The quilt of a result with its drawings; None where the job has none."""
    return made(result.job, result.plan)


def made(job: Job, plan: Plan | None = None) -> QuiltPages | None:
    """The same for a job, in the fabrics of a plan where there is one."""
    quilt = quilt_of(job)
    if quilt is None:
        return None
    backing = backing_of(job, quilt, plan)
    told = remarks_of(quilt, backing)
    return QuiltPages(
        job=job,
        quilt=quilt,
        picture=_picture(job, plan, told) if patches_of(quilt) else None,
        backing=backing,
        pieced=_pieced(backing),
        batting=batting_of(job, quilt, plan),
        plan=plan,
    )


def _picture(job: Job, plan: Plan | None, told: Sequence[str]) -> Figure:
    """The quilt, as much smaller as what is said below it needs, but no less than half a page."""
    register_fonts()
    below = sum(
        item.wrap(INSIDE, ROOM)[1] + 2 for item in (words(text, 10) for text in told)
    )
    return draw_quilt(job, plan, high=max(_LOW, min(_HIGH, (ROOM - below) / mm - 1)))


def _pieced(answer: BackingAnswer | None) -> Figure | None:
    """The ways to choose from; one alone is drawn smaller, so that the batting stands on the same page."""
    if answer is None or not answer.best:
        return None
    return draw_backing(answer, high=120.0 if len(answer.best) > 1 else 100.0)


def quilt_story(shown: QuiltPages | None) -> Iterator[Any]:
    """The quilt, and on a page of its own what backs it."""
    if shown is None:
        return
    yield from _quilt(shown)
    if shown.backing is not None:
        yield from _back(shown, shown.backing)
    if shown.batting is not None:
        if shown.backing is None:
            yield PageBreak()
        yield _between(shown.batting)


def label_story(shown: QuiltPages | None) -> Iterator[Any]:
    """Label and wash card, for a quilt whose size is known or that has a label."""
    if shown is not None and (shown.quilt.top is not None or shown.quilt.label):
        yield from label_page(shown.job, shown.quilt, shown.plan)


def remarks(shown: QuiltPages) -> list[str]:
    """What is to be known about the quilt, cautions of its use first."""
    return remarks_of(shown.quilt, shown.backing)


def remarks_of(quilt: Quilt, backing: BackingAnswer | None) -> list[str]:
    """The same before it is drawn."""
    show = quilt.how.show
    told: list[str] = []
    if quilt.use and quilt.top is not None:
        size = quilt.top.size("trimmed", quilt.how)
        said = use(quilt.use).remarks(*size, quilt.how)
        # where babies may sleep stands on page 1 already
        told += [text for text in said if text != INFANT]
    told += [*quilt.notes, *more_or_less(quilt)]
    told += [
        f"Spare: {each.count} triangles {each.name}, legs {show(each.leg)} as cut ({each.why})"
        for each in quilt.spare
    ]
    if missing := not_sold(quilt, backing):
        told.append(missing)
    return [
        text[:1].upper() + text[1:] + ("" if text.endswith(".") else ".")
        for text in told
    ]


def _quilt(shown: QuiltPages) -> Iterator[Any]:
    told = remarks(shown)
    if shown.picture is None and not told:
        return
    yield PageBreak()
    if shown.picture is not None:
        yield Slot(shown.picture)
    else:
        yield words("The quilt", 18, bold=True)
    for text in told:
        yield words(text, 10, after=2)


def _back(shown: QuiltPages, answer: BackingAnswer) -> Iterator[Any]:
    """On a page of its own, but for a finished top of which there is no picture and little to say."""
    above = remarks(shown)
    yield PageBreak() if shown.picture is not None or not above else Spacer(0, 6 * mm)
    yield words("The backing: what to buy", 18, bold=True, after=2)
    yield words(
        "It is compared here and not part of the cutting plan: the choice stands on page 1 and on the slip as well.",
        10,
        after=3,
    )
    for text in answer.said:
        if text not in above:
            yield words(text, 10.5, after=2)
    if shown.pieced is not None:
        yield Slot(shown.pieced)
    for choice in cut_to_size(answer):
        yield KeepTogether(_length(answer, choice))
    yield from _own(answer)
    yield from _sewn(answer)
    yield from (CondPageBreak(45 * mm), heading("All the ways", 11.5, 4))
    yield _grid(answer.head, answer.rows, _BACKING_WIDTHS)


def _length(answer: BackingAnswer, choice: Choice) -> list[Any]:
    """How the length of a way is cut: a drawing, and the cuts in order."""
    way = choice.way
    unit = answer.how.unit
    if choice.name:
        name = f"{choice.name[:1].upper()}{choice.name[1:]}: "
    else:
        name = ""
    head = heading(f"{name}{format_sale(way.bought, unit)} of {way.fabric}, cut so", 13)
    told = [words(f"☐ {text}", 11, after=2) for text in cutting_order(answer, way)]
    return [head, Slot(draw_length(answer, way)), *told]


def _own(answer: BackingAnswer) -> Iterator[Any]:
    """What is cut from the maker's own for the ways to choose from."""
    for choice in answer.best:
        told = cut_from_own(answer, choice.way)
        if told:
            if choice.name:
                name = f"{choice.name[:1].upper()}{choice.name[1:]}: "
            else:
                name = ""
            lines = (words(f"☐ {text}", 11, after=2) for text in told)
            yield KeepTogether([heading(f"{name}from your own", 13), *lines])


def _sewn(answer: BackingAnswer) -> Iterator[Any]:
    """In which order the ways to choose from are sewn."""
    for choice in answer.best:
        told = sewing_order(choice.way, answer.how)
        if told:
            head = f"{choice.name}: sewn so" if choice.name else "sewn so"
            lines = [
                words(f"{n}. {text}", 11, after=2) for n, text in enumerate(told, 1)
            ]
            title = heading(f"{head[:1].upper()}{head[1:]}", 13)
            yield KeepTogether([title, *lines, words(HOW_TOLD, 9.5)])


def _joined(answer: BattingAnswer) -> Iterator[Any]:
    """How the maker's own batting comes together for the first way."""
    for way in answer.ways[:1]:
        # one piece that is large enough is joined to nothing
        if len(way.own) > 1 or (way.own and way.what):
            yield heading("Your own, joined so", 11.5, 3)
            yield Slot(draw_joined(answer, way))
            told = joined_so(answer, way)
            yield from (words(f"☐ {text}", 10.5, after=2) for text in told)


def _between(answer: BattingAnswer) -> Any:
    """Batting: what to buy, or which scraps to join."""
    note = "Joined batting: straight edges butted, a wide zigzag, no overlap (common practice, no source)."
    if answer.usual:
        note = (
            "The shop table has no batting: these are the usual packages, named in inches and not true to an inch "
            "(common practice, no source)."
        )
    told = [
        heading("Batting", 15),
        *(words(text, 10.5, after=2) for text in answer.said),
        *_joined(answer),
    ]
    return KeepTogether(
        [*told, _grid(answer.head, answer.rows, _BATTING_WIDTHS), words(note, 8.5)]
    )


_BACKING_WIDTHS: Final = (15, 32, 13, 14, 14, 13, 14, 25, 13, 13, 0)
_BATTING_WIDTHS: Final = (46, 30, 18, 16, 12, 28, 0)


def _grid(
    head: Sequence[str], rows: Sequence[Sequence[str]], wide: Sequence[int]
) -> Any:
    if not rows:
        return words("None.", 10)
    cells = [[Paragraph(escaped(cell), style(8, bold=True)) for cell in head]]
    cells += [
        [Paragraph(escaped(cell), style(8)) for cell in row]
        for row in rows[:_MOST_ROWS]
    ]
    rest = INSIDE - sum(wide) * mm
    table = Table(
        cells,
        hAlign="LEFT",
        colWidths=[w * mm if w else rest for w in wide],
        repeatRows=1,
    )
    table.setStyle(
        TableStyle(
            [
                ("LINEBELOW", (0, 0), (-1, -1), 0.4, grey),
                ("LINEBELOW", (0, 0), (-1, 0), 1.0, black),
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("TOPPADDING", (0, 0), (-1, -1), 1.2),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
                ("LEFTPADDING", (0, 0), (-1, -1), 2),
                ("RIGHTPADDING", (0, 0), (-1, -1), 3),
            ]
        )
    )
    return table


_MOST_ROWS: Final = 30


__all__ = ["QuiltPages", "label_story", "made", "quilt_pages", "quilt_story", "remarks"]
