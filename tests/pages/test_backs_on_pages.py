"""Pages of pieced backs: a reader who follows them, sentence by sentence, holds the back in the end."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from io import BytesIO
from typing import TypeAlias

import pymupdf
import pytest

from cutopt.check import check
from cutopt.check.replay import replay
from cutopt.check.shapes import box_of
from cutopt.draw.letters import names_of, shown
from cutopt.draw.overview import letters_of, plan_sheets
from cutopt.draw.pieced_back import draw_pieced_back
from cutopt.fabric import Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, parse_number
from cutopt.pages.backs import back_pages, back_story
from cutopt.pages.files import pages_pdf
from cutopt.pages.grids import offers
from cutopt.pages.paper import Slot, register_fonts
from cutopt.pages.parts_alike import notes_text, parts_alike
from cutopt.pages.sewing_words import block_texts, seams_text, sewing_of
from cutopt.pages.steps import sections
from cutopt.pages.tick_rows import ticked
from cutopt.piecing import Back
from cutopt.plan import Plan, Short, Use
from cutopt.result import MINUTES_WITH_SEAMS, Result, estimate_minutes, sum_of_minutes
from cutopt.sewn_back import SewnBack, sewn_backs
from cutopt.tables.plan.cut_list import cut_list
from cutopt.tables.plan.shopping_list import shopping_list
from tests.draw.labels_checked import check_labels, whole
from tests.draw.sample import Maker, inches
from tests.draw.sample_backs import (
    orchard_back_job,
    orchard_back_plan,
    random_back,
    result_of,
    sewing,
)
from tests.pages.printed import words_in

Size: TypeAlias = tuple[Fraction, Fraction]
_SEAM = re.compile(
    r"Sew (?P<b>.+?) (?P<row>one after the other )?(?P<side>to the right of|to the left of|above|below) (?P<a>.+?),? "
    r"(all )?along the (?P<long>[\d /]+)-in sides?, seam (?P<seam>[\d /]+); press .+?\. "
    r"Now (the back is whole, )?(?P<wide>[\d /]+) x (?P<high>[\d /]+) in: measure\."
)


def number(text: str) -> Fraction:
    size = parse_number(text.strip())
    assert size is not None, text
    return Fraction(size)


def made(plan: Plan) -> SewnBack:
    assert plan.origin is not None
    return sewn_backs(plan.origin, plan)[0]


def letters_in(text: str) -> list[str]:
    """``A-C and F`` as single letters; those of these backs have one sign."""
    found: list[str] = []
    for run in re.split(r", | and ", text):
        low, _, high = run.partition("-")
        found += map(chr, range(ord(low), ord(high or low) + 1))
    return found


def sewn_by_reading(texts: list[str], parts: dict[str, Size]) -> Size:
    """Do what each sentence says with the sizes that one has in hand; gives the size of what is whole in the end.

    Arithmetic identity: across a seam the sum less two seams, along it both as long as the side that is named.
    """
    hands = {frozenset(letter): size for letter, size in parts.items()}
    for text in texts:
        told = _SEAM.fullmatch(text)
        assert told, text
        across = told["side"].startswith("to the")
        axis = 0 if across else 1
        # what is named is in hand just so: neither a part of it nor more
        held = frozenset(letters_in(told["a"]))
        size = hands.pop(held)
        others = [frozenset(letters_in(told["b"]))]
        if told["row"]:
            others = [frozenset(letter) for letter in letters_in(told["b"])]
        for other in others:
            b = hands.pop(other)
            assert size[1 - axis] == b[1 - axis] == number(told["long"])
            sewn = size[axis] + b[axis] - 2 * number(told["seam"])
            size = (sewn, size[1]) if across else (size[0], sewn)
            held |= other
        assert size == (number(told["wide"]), number(told["high"]))
        hands[held] = size
    (last,) = hands.values()
    return last


def sentences(back: SewnBack) -> list[str]:
    return [told.text for told in sewing_of(back, "in")]


def sizes_cut(plan: Plan) -> dict[str, Size]:
    """The size of each part as it hangs, from the checker's own replay of the cuts, and of each block as trimmed."""
    assert plan.origin is not None
    table = replay(plan.origin, plan)
    turned = {use.part for use in plan.uses if use.turned}
    trims = {trim.block: trim for trim in plan.trims}
    found: dict[str, Size] = {}
    for part in made(plan).parts:
        if part.name in trims:
            trim = trims[part.name]
            size = trim.width, trim.length
        else:
            x1, y1, x2, y2 = box_of(table.parts[part.name].shape)
            size = x2 - x1, y2 - y1
            if part.name in turned:
                size = size[::-1]
        found[part.letter] = (Fraction(size[0]) / INCH, Fraction(size[1]) / INCH)
    return found


def test_who_follows_the_seams_holds_the_back() -> None:
    plan = orchard_back_plan()
    whole = sewn_by_reading(sentences(made(plan)), sizes_cut(plan))
    assert whole == (44, 52)
    for seed in range(12):
        _, plan, apart = random_back(seed, parts=2 + seed)
        whole = sewn_by_reading(sentences(made(plan)), sizes_cut(plan))
        assert whole == tuple(Fraction(side) / INCH for side in apart.size)


def test_a_seam_is_told_as_a_person_does_it() -> None:
    told = sentences(made(orchard_back_plan()))
    assert told[4] == (
        "Sew G above F along the 20-in side, seam 1/2; press to G. "
        "Now 20 x 52 in: measure."
    )
    assert told[7] == (
        "Sew H-I to the right of A-G along the 52-in side, "
        "seam 1/4; press to the right. Now the back is whole, 44 x 52 in: measure."
    )


def test_blocks_are_trimmed_alike_on_both_sides() -> None:
    """12 3/4 less 12 1/2 is 1/4, half of it at each side; 13 less 12 1/2 is 1/2."""
    told = list(block_texts(made(orchard_back_plan()), "in"))
    assert [label for label, _ in told] == ["A, C", "B"]
    assert [text for _, text in told] == [
        "Blocks A and C (star) are each 12 1/2 x 12 1/2 in: measure. Nothing comes off.",
        (
            "Block B (hen) is 12 3/4 x 13 in: trim to 12 1/2 x 12 1/2, 1/8 each at left "
            "and right and 1/4 each at top and bottom, so that the middle stays in the "
            "middle."
        ),
    ]


def test_seams_of_another_width_are_named_above_and_set_in_bold() -> None:
    """Of the eight seams 5 and 6 touch no block; the other six are 1/4."""
    back = made(orchard_back_plan())
    assert seams_text(back, "in") == (
        "Mind the seams: 1/4 in, but seams 5-6 are 1/2 in (in bold)."
    )
    bold = [told.label for told in sewing_of(back, "in") if told.bold == "seam 1/2"]
    assert bold == ["seam 5", "seam 6"]
    assert seams_text(made(squares_plan()), "in") == ""
    register_fonts()
    row = ticked("seam 5", "Sew <A>, seam 1/2; so", bold="seam 1/2")
    assert "&lt;A&gt;, <b>seam 1/2</b>; so" in str(row._cellvalues)


def row_of_squares(count: int) -> Plan:
    """Squares of 10 in side by side with seams of 1/2: 10 + 9 for each further one."""
    i = inches
    job = Job(
        fabrics=(Fabric(name="mist"),),
        pieces=(Piece.of_size("ten", "mist", i(10), i(10), count=count),),
        backs=(Back(name="B1", width=i(9 * count + 1), length=i(10)),),
    )
    maker = Maker(job)
    names = [maker.take("ten", copy) for copy in range(1, count + 1)]
    maker.uses += [Use(part=name, for_="backs/B1") for name in names]
    held = names[0]
    rows = []
    for n, name in enumerate(names[1:], 1):
        rows.append((held, "right", name, "0.5", f"b.{n}"))
        held = f"b.{n}"
    seams = sewing("B1", *rows)
    plan = maker.plan()
    return replace(plan, seams=seams, totals=replace(plan.totals, seams=len(seams)))


def test_a_row_of_parts_alike_is_told_in_one_sentence_and_one_line() -> None:
    plan = row_of_squares(4)
    assert plan.origin is not None
    assert check(plan.origin, plan) == []
    back = made(plan)
    (told,) = sewing_of(back, "in")
    assert told.label == "seams 1-3"
    assert told.text == (
        "Sew B, C and D one after the other to the right of A, all along the 10-in "
        "sides, seam 1/2; press all to the left. Now the back is whole, 37 x 10 in: "
        "measure."
    )
    assert sewn_by_reading([told.text], sizes_cut(plan)) == (37, 10)
    (row,) = parts_alike(plan.origin, back, {})
    assert (row.letters, row.cut_text("in")) == ("A-D", "4 of 10 x 10")
    assert (row.source, row.freed_text) == ("ten (4 of these)", "used whole")
    # a raw edge at one side of the outer ones, a seam of 1/2 at each other side
    finished = row.finished_texts("in", list("ABCD"))
    assert finished == ["9 1/2 x 10: A, D", "9 x 10: B-C"]
    assert "outer edge keeps its allowance" in notes_text([row], "in")


@pytest.fixture(scope="module")
def pages() -> list[str]:
    return pages_of(result_of(orchard_back_plan()))


def pages_of(result: Result) -> list[str]:
    with pymupdf.open(stream=BytesIO(pages_pdf(result)), filetype="pdf") as document:
        return [" ".join(page.get_text().split()) for page in document]


def test_page_1_says_what_the_back_is_and_on_which_page(pages: list[str]) -> None:
    told = re.search(
        r"The back \"B1\": 44 x 52 in, pieced of 9 parts \(3 of them spare blocks\) "
        r"with 8 seams: page (\d+)\.",
        pages[0],
    )
    assert told
    page = pages[int(told[1]) - 1]
    assert page.startswith('The back "B1": 44 x 52 in Pieced of 9 parts')
    assert "trimmed to 40 x 48 in" in page
    assert f"page {told[1]} of" in page


def test_pages_are_sewn_from_as_they_are_printed(pages: list[str]) -> None:
    text = " ".join(pages)
    found = re.findall(r"seams? [\d-]+ (Sew .+? in: measure\.)", text)
    assert len(found) == 8
    assert sewn_by_reading(found, sizes_cut(orchard_back_plan())) == (44, 52)


def test_where_each_part_comes_from_is_listed_with_its_cut(pages: list[str]) -> None:
    text = " ".join(pages)
    plan = orchard_back_plan()
    cut_of = {name: cut.n for cut in plan.cuts for name in cut.gives}
    for part in made(plan).parts:
        if part.block is None:
            line = rf"☐ {part.letter} .*?cut {cut_of[part.name]}\b"
            assert re.search(line, text), part.letter
    assert "12 1/2 x 8 1/2 12 x 8 1/4 bark, coping bark-1" in text


def test_parts_of_a_back_are_named_where_they_are_cut(pages: list[str]) -> None:
    text = " ".join(pages)
    assert "Gives back B1, part F, 20 x 30." in text
    assert "Now you have back B1, part F and 4 of square." in text
    told = re.search(r"☐ its 9 parts, listed with the seams on page (\d+)", text)
    assert told
    assert "Where each part comes from ☐" in pages[int(told[1]) - 1].replace(
        " part cut, as it hangs finished fabric from freed by", ""
    )
    for letter in "ABCDEFGHI":
        assert re.search(rf"\b{letter} B1 [\d /]+ x ", text)
    assert "of B1" not in text


def squares_plan() -> Plan:
    """Six squares of 10 in, two across and three down: 20 less a seam of 2 x 1/2 is 19, 30 less two are 28."""
    i = inches
    job = Job(
        fabrics=(Fabric(name="mist"), Fabric(name="oat")),
        pieces=(
            Piece.of_size("mist ten", "mist", i(10), i(10), count=4),
            Piece.of_size("oat long", "oat", i(21), i(10)),
        ),
        backs=(Back(name="backing", width=i(19), length=i(28)),),
    )
    maker = Maker(job)
    names = [maker.take("mist ten", copy) for copy in range(1, 5)]
    first, rest = maker.cut(maker.take("oat long"), x=i(10))
    second, _ = maker.cut(rest, x=i(20))
    names += [first, second]
    maker.uses += [Use(part=name, for_="backs/backing") for name in names]
    rows = (
        (one, "right", other, "0.5", f"b.{n}")
        for n, (one, other) in enumerate(zip(names[::2], names[1::2], strict=True))
    )
    seams = sewing(
        "backing",
        *rows,
        ("b.0", "above", "b.1", "0.5", "b.3"),
        ("b.3", "above", "b.2", "0.5", "b.4"),
    )
    plan = maker.plan()
    totals = replace(plan.totals, seams=len(seams))
    return replace(plan, seams=seams, totals=totals)


def test_parts_alike_are_told_in_one_go_and_keep_their_letters() -> None:
    plan = squares_plan()
    assert plan.origin is not None
    assert check(plan.origin, plan) == []
    whole = made(plan)
    assert (whole.width, whole.height) == (inches(19), inches(28))
    told = sections(plan)
    texts = [
        text
        for part in told
        for step in part.steps
        for text in (step.text, *step.notes)
    ]
    said = " ".join(texts)
    assert "Use all of them as they are: backing, parts A, B, C and D, 10 x 10." in said
    assert "Gives backing, parts E and F, 10 x 10." in said
    assert [part.result for part in told if part.result] == [
        "Now you have backing, parts E and F."
    ]


def test_the_overview_marks_parts_with_the_back_and_their_letter() -> None:
    plan = orchard_back_plan()
    figure = plan_sheets(plan)[0]
    check_labels(figure)
    words = words_in(figure)
    for letter in "DEFGHI":
        assert f"B1 {letter}" in words
    assert "6 parts of cloth of back B1" in words
    long = orchard_back_plan("the large one for Ida")
    assert letters_of(long)["parts/F/the large one for Ida"] == "back F"


def test_a_small_back_takes_one_page_and_a_larger_one_two() -> None:
    register_fonts()
    _, plan, _ = random_back(3, parts=4)
    (small,) = back_pages(result_of(plan))
    kinds = [type(item).__name__ for item in back_story(small)]
    assert kinds.count("PageBreak") == 1
    (large,) = back_pages(result_of(orchard_back_plan()))
    story = list(back_story(large))
    kinds = [type(item).__name__ for item in story]
    assert kinds.count("PageBreak") == 2
    (picture,) = (item for item in story if isinstance(item, Slot))
    assert picture.height > 500  # points: it has a page to itself


def test_lines_that_compare_stand_above_the_picture() -> None:
    register_fonts()
    told = {"B1": ["Bought whole: 2 3/4 yd of oat."]}
    (shown,) = back_pages(result_of(orchard_back_plan()), told)
    said = [getattr(item, "text", "") for item in back_story(shown)]
    place = said.index("Bought whole: 2 3/4 yd of oat.")
    kinds = [isinstance(item, Slot) for item in back_story(shown)]
    assert place < kinds.index(True)


def test_a_back_that_is_short_is_said_to_be() -> None:
    job = orchard_back_job()
    short = Short(for_="backs/B1", count=1, why="the pile is too small")
    plan = replace(
        orchard_back_plan(), uses=(), seams=(), trims=(), short=(short,), origin=job
    )
    assert plan.so_many_short(short) == "back B1"
    text = " ".join(pages_of(replace(result_of(plan), complete=False)))
    assert "back B1 is not in this plan: the pile is too small." in text
    assert "B1: a back of 44 x 52 in Not in this plan." in text


def test_the_lists_name_parts_and_blocks() -> None:
    lines = cut_list(orchard_back_plan())
    by_name = {line.wanted: line for line in lines}
    assert by_name["back B1, part G"].size == "20 x 23 in"  # as it hangs
    assert by_name["back B1, part G"].source == "plum-1"
    assert by_name["back B1, part B"].trim_to == "12 1/2 x 12 1/2 in"
    assert by_name["back B1, part A"].trim_to == ""
    names = [line.wanted for line in lines]
    assert names[0] == "square"
    assert [name[-1] for name in names[1:]] == list("DEFGHIABC")
    assert [line.fabric for line in shopping_list(orchard_back_plan())] == [
        "oat",
        "total",
    ]


def test_seams_of_a_back_are_in_the_minutes() -> None:
    """Our own sum: 18 cuts, 3 for each of 4 pieces of cloth, 11 settings of the ruler, 4 for each of 8 seams."""
    plan = orchard_back_plan()
    assert estimate_minutes(plan) == 18 + 3 * 4 + 11 + 4 * 8
    assert sum_of_minutes(plan) == "18 + 3 x 4 + 11 + 3 x 0 + 4 x 8 = 73"
    without = replace(plan, seams=())
    assert estimate_minutes(plan) - estimate_minutes(without) == 4 * 8


def test_ways_to_do_it_tell_their_seams() -> None:
    result = result_of(orchard_back_plan())
    rows = {name: cells for name, *cells in offers(result).rows}
    assert rows["seams of the back"] == ["8"]
    bare = replace(result.offers[0], plan=replace(result.plan, seams=()))
    rows = {
        name: cells for name, *cells in offers(replace(result, offers=(bare,))).rows
    }
    assert "seams of the back" not in rows


def test_page_1_says_what_the_minutes_are_made_of(pages: list[str]) -> None:
    assert MINUTES_WITH_SEAMS in pages[0]


@pytest.mark.parametrize(
    "name",
    [
        "<b>B & 1<br>",
        pytest.param("$x^2$", marks=pytest.mark.slow),
        pytest.param("布", marks=pytest.mark.slow),
        pytest.param("W" * 300, marks=pytest.mark.slow),
    ],
)
def test_whatever_a_back_is_called_it_is_printed_and_drawn(name: str) -> None:
    plan = orchard_back_plan(name)
    assert plan.origin is not None
    with names_of(plan.origin):
        printed = shown(name)
    said = "".join(pages_of(result_of(plan))).replace(" ", "")
    assert printed.replace(" ", "") in said
    check_labels(whole(draw_pieced_back(plan, name)))
    check_labels(plan_sheets(plan)[0])
