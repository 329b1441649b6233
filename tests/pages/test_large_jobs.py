"""Jobs of many sizes and long words print: nothing is higher than a page, nothing has a negative size."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

from matplotlib.figure import Figure
from matplotlib.text import Text
from pypdf import PdfReader
from reportlab.platypus import KeepTogether, PageBreak, Table

from cutopt.draw.overview import plan_sheets
from cutopt.fabric import Piece
from cutopt.pages.files import pages_pdf
from cutopt.pages.paper import (
    INSIDE,
    PAGE,
    Slot,
    merged,
    register_fonts,
    set_words,
    words,
)
from cutopt.plan import Short
from cutopt.result import Offer, Result
from cutopt.wanted import Cut
from tests.draw.sample import Maker, inches, orchard_job, orchard_result
from tests.pages.printed import words_in, words_of


def many_rows(rows: int) -> Result:
    """One cloth that gives one small part of each of many rows."""
    i = inches
    cuts = tuple(
        Cut(name=f"row number {n}", width=i(1), length=i(1)) for n in range(rows)
    )
    wide = Piece.of_size("wide", "pear", i(40), i(-(-rows // 40)))
    job = replace(orchard_job(), pieces=(wide,), cuts=cuts, strips=())
    maker = Maker(job)
    rest = maker.take("wide")
    names = iter(cuts)
    while rest:
        row, rest = maker.run(rest, "y", i(1), 1)
        for part in _squares(maker, row):
            cut = next(names, None)
            if cut is not None:
                maker.use(part, cut.key)
    plan = maker.plan()
    return Result(
        job=job,
        offers=(
            Offer(name="thriftiest", plan=plan, minutes=1, spare=0, biggest_spare=0),
        ),
        complete=True,
    )


def _squares(maker: Maker, row: str) -> list[str]:
    return [part for part in maker.run(row, "x", inches(1), 40) if part]


def test_many_rows_of_few_parts() -> None:
    """The legend of the drawings took more than their height: a figure of negative size."""
    result = many_rows(110)
    said = words_of(pages_pdf(result))
    letters = " ".join(words_in(sheet) for sheet in plan_sheets(result.plan))
    for cut in result.job.cuts:
        assert f"{cut.name}," in letters
        assert cut.name in said
    for sheet in plan_sheets(result.plan):
        boxes = [
            text.get_window_extent() for text in sheet.findobj(Text) if text.get_text()
        ]
        assert all(
            box.y0 >= -0.5 and box.y1 <= sheet.bbox.height + 0.5 for box in boxes
        )


def test_much_that_is_short() -> None:
    """The first page was one table whose rows could not go on to the next page: an error after the whole search."""
    result = orchard_result()
    why = (
        "no piece that is left is long enough for it, whichever way it is turned. " * 4
    )
    short = tuple(
        Short(
            for_=row.key,
            count=1,
            why=f"{why}{n}",
            mends=("buy 1/8 yd more of oat", why),
        )
        for n in range(20)
        for row in result.job.wanted[:4]
    )
    plan = replace(result.plan, short=short)
    notices = (*(f"{n}: {why * 3}" for n in range(30)), "w" * 9000, "word " * 3000)
    offer = replace(result.offers[0], plan=plan)
    said = words_of(pages_pdf(replace(result, offers=(offer,), notices=notices)))
    assert said.count("whichever way it is turned") >= 80 * 8


def test_long_sums_and_notes_go_on_to_the_next_page() -> None:
    result = orchard_result()
    cuts = tuple(
        replace(cut, why="2 x 3 + " * 2000, note="note " * 2000)
        for cut in result.job.cuts
    )
    job = replace(result.job, cuts=cuts)
    plan = replace(result.plan, origin=job, job=job.digest)
    offers = (replace(result.offers[0], plan=plan),)
    assert (
        words_of(pages_pdf(replace(result, job=job, offers=offers))).count("2 x 3")
        >= 4 * 2000
    )


def test_what_is_higher_than_a_page_is_split_or_made_smaller() -> None:
    """A row, a block kept together and a drawing that no page holds were errors after the whole search."""
    register_fonts()
    row = Table(
        [["", [words("a long note ", 13) for _ in range(120)]]], colWidths=[20, 400]
    )
    fixed = Table([["end of a fixed row"]], colWidths=[400], rowHeights=[3000])
    slot = Slot(Figure(figsize=(INSIDE / 72, 20)))
    text, pages = set_words([KeepTogether([words("head"), row]), fixed, slot], "job")
    assert pages >= 4
    said = words_of(text)
    assert said.count("a long note") == 120
    assert "end of a fixed row" in said
    assert slot.place is not None
    assert slot.place.scale * 20 * 72 <= PAGE[1]


def test_a_drawing_that_is_shown_again_is_drawn_once() -> None:
    register_fonts()
    figure = Figure(figsize=(5, 5))
    slots = [Slot(figure) for _ in range(3)]
    text, pages = set_words(
        [item for slot in slots for item in (slot, PageBreak())], "job"
    )
    reader = PdfReader(BytesIO(merged(text, slots)))
    drawn = {
        page["/Resources"]["/XObject"].raw_get("/Drawing0").idnum
        for page in reader.pages[:3]
    }  # type: ignore[index]
    assert pages >= 3
    assert len(drawn) == 1
