"""Drawings: nothing overlaps, nothing is cut off, everything reads in grey at arm's length."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

import pytest
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch

from cutopt.check import check
from cutopt.colours import WORDS
from cutopt.draw import draw_piece, draw_pile, draw_plan, draw_shopping
from cutopt.draw.looks import FABRIC_HATCHES, lightness, look_of, tinted
from cutopt.draw.overview import alike, plan_sheets
from cutopt.draw.pile import pile_sheets
from cutopt.draw.views import line_rows, runs, view, views
from cutopt.errors import Problem
from cutopt.fabric import ByLength, Fabric, Piece
from cutopt.geometry import bounds
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.plan import Plan
from cutopt.wanted import Cut
from tests.draw.labels_checked import check_labels, texts, whole
from tests.draw.sample import Maker, inches, metric_result, orchard_job, orchard_plan


def crowded() -> Plan:
    """Forty small parts of two sizes with long names, and a column of slivers."""
    i = inches
    job = Job(
        fabrics=(Fabric(name="mist"),),
        pieces=(
            Piece.of_size("long mist", "mist", i(42), i(9)),
            Piece.of_size("strip", "mist", i("1.5"), i(30)),
        ),
        cuts=(
            Cut(
                name="corner of the little window",
                width=i("1.5"),
                length=i("1.5"),
                count=90,
            ),
            Cut(name="b", width=i(3), length=i("1.5"), count=9),
        ),
    )
    maker = Maker(job)
    rest = maker.take("long mist")
    *rows, rest = maker.run(rest, "y", i("1.5"), 3)
    for row in rows[:2]:
        maker.run(row, "x", i("1.5"), 27, "cuts/corner of the little window")
    maker.run(rows[2], "x", i(3), 9, "cuts/b")
    maker.run(
        maker.take("strip"), "y", i("1.5"), 19, "cuts/corner of the little window"
    )
    return maker.plan()


PLANS = {
    "orchard": orchard_plan,
    "metric": lambda: metric_result().plan,
    "crowded": crowded,
}
PIECES = [
    (name, source.id) for name, make in PLANS.items() for source in make().sources
]


@pytest.mark.parametrize(("name", "source"), PIECES)
def test_labels_of_a_piece_do_not_overlap(name: str, source: str) -> None:
    check_labels(whole(draw_piece(PLANS[name](), source)))


@pytest.mark.parametrize("name", PLANS)
def test_labels_of_whole_drawings_do_not_overlap(name: str) -> None:
    plan = PLANS[name]()
    assert plan.origin is not None
    for figure in (draw_plan(plan), draw_pile(plan.origin), draw_shopping(plan)):
        check_labels(figure)


@pytest.mark.parametrize(("name", "source"), PIECES)
def test_every_cut_is_numbered_once_or_said_to_be_missing(
    name: str, source: str
) -> None:
    plan = PLANS[name]()
    shown = view(plan, source)
    words = [text.get_text() for text in texts(whole(draw_piece(plan, source)))]
    missed = [word for word in words if word.startswith("cuts without a number")]
    told = numbers_in(missed[0].rpartition(":")[2].split(",")) if missed else []
    numbers = numbers_in(word for word in words if re.fullmatch(r"\d+(-\d+)?", word))
    assert sorted(numbers + told) == [line.n for line in shown.lines]


def numbers_in(words: Iterable[str]) -> list[int]:
    """Numbers and, as ``3-7``, all from one number to another."""
    spans = [[int(n) for n in word.split("-")] for word in words]
    return [n for span in spans for n in range(span[0], span[-1] + 1)]


def crowded_plan() -> Plan:
    """A long cloth of which 170 small squares are cut: more numbers than its drawing has room for."""
    mist = Piece.of_size("long", "mist", 40 * INCH, 54 * INCH)
    job = Job(
        fabrics=(Fabric(name="mist"),),
        pieces=(mist,),
        cuts=(Cut(name="s", width=INCH, length=INCH, count=500),),
    )
    maker = Maker(job)
    *rows, _ = maker.run(maker.take("long"), "y", INCH, 10)
    for row in rows:
        maker.run(row, "x", INCH, 17, "cuts/s")
    return maker.plan()


def test_a_crowded_drawing_numbers_row_by_row() -> None:
    plan = crowded_plan()
    figure = whole(draw_piece(plan, "S1"))
    check_labels(figure)
    words = [text.get_text() for text in texts(figure)]
    assert {"1-10", "11-27", "28-44", "164-180"} <= set(words)
    assert not any(word.startswith("cuts without") for word in words)


def test_rows_of_cuts_run_side_by_side() -> None:
    lines = views(crowded_plan())[0].lines
    assert [len(row) for row in line_rows(lines)] == [10] + [17] * 10
    short = views(orchard_plan())[0].lines
    assert [line for row in line_rows(short) for line in row] == list(short)
    assert all(len(row) != 2 for row in line_rows(short))


def test_orchard_pieces_number_every_cut_on_the_line() -> None:
    plan = orchard_plan()
    for source in plan.sources:
        words = [text.get_text() for text in texts(whole(draw_piece(plan, source.id)))]
        assert not any(word.startswith("cuts without") for word in words)


def test_equal_neighbours_are_named_once() -> None:
    words = [text.get_text() for text in texts(whole(draw_piece(orchard_plan(), "S1")))]
    assert sum("square" in word for word in words) == 1
    assert any("4 of 4 1/2 x 4 1/2" in word for word in words)
    assert "20 in" in words
    assert "16 in" in words


def test_runs_hold_every_used_part_once() -> None:
    for shown in views(orchard_plan()):
        used = [part.name for part in shown.parts if part.kind == "used"]
        assert sorted(
            part.name for run in runs(shown.parts) for part in run.parts
        ) == sorted(used)
        for run in runs(shown.parts):
            x1, y1, x2, y2 = run.box
            areas = [bounds(part.polygon) for part in run.parts]
            assert (x2 - x1) * (y2 - y1) == sum(
                (b[2] - b[0]) * (b[3] - b[1]) for b in areas
            )


def test_a_cut_line_runs_from_edge_to_edge() -> None:
    plan = orchard_plan()
    first = views(plan)[0]
    assert first.lines[0].stretches == (
        ((0, inches(7)), (inches(9), inches(7))),
    )  # the notch is not cloth


def test_flaws_spare_and_scrap_are_hatched() -> None:
    figure = whole(draw_piece(orchard_plan(), "S3"))
    hatches = {patch.get_hatch() for patch in figure.findobj(PathPatch)}
    assert len(hatches - {None, ""}) == 2  # spare to keep, and the flaw
    words = {text.get_text() for text in texts(figure)}
    assert {"spare, keep", "flaw"} <= words
    assert "grain" in words
    assert "grain not known" in {
        text.get_text() for text in texts(whole(draw_piece(orchard_plan(), "S11")))
    }


def test_an_axes_of_ones_own_is_drawn_on() -> None:
    figure = Figure(figsize=(6, 8))
    top, low = figure.subplots(2)
    assert draw_piece(orchard_plan(), "S4", ax=top) is top
    assert not low.patches
    assert top.patches


def test_a_drawing_shows_itself_as_png() -> None:
    assert draw_plan(orchard_plan())._repr_png_().startswith(b"\x89PNG")  # type: ignore[attr-defined]


def test_nothing_to_buy_is_said() -> None:
    job = replace(orchard_job(), shop=())
    maker = Maker(job)
    maker.use(maker.take("pear post"), "cuts/post")
    words = [text.get_text() for text in texts(draw_shopping(maker.plan()))]
    assert "Nothing: the pile is enough." in words


def test_a_missing_price_is_said() -> None:
    plan = orchard_plan()
    sources = tuple(replace(source, price=None) for source in plan.sources)
    bare = replace(plan, sources=sources, totals=replace(plan.totals, money=None))
    words = [text.get_text() for text in texts(draw_shopping(bare))]
    assert "no price given" in words
    assert not any(str(Decimal("9.20")) in word for word in words)


def test_a_plan_without_its_job_is_a_problem() -> None:
    with pytest.raises(Problem, match="does not carry its job"):
        draw_plan(replace(orchard_plan(), origin=None))
    with pytest.raises(Problem, match="not in this plan"):
        draw_piece(orchard_plan(), "S99")


def test_large_piles_and_plans_take_several_sheets() -> None:
    i = inches
    names = [f"leftover number {n}" for n in range(150)]
    job = Job(
        fabrics=(Fabric(name="mist"),),
        pieces=tuple(
            Piece.of_size(name, "mist", i(9) + n * INCH // 8, i(14))
            for n, name in enumerate(names)
        ),
        cuts=(Cut(name="square", width=i(4), length=i(4), count=150),),
    )
    maker = Maker(job)
    for name in names:
        row, _ = maker.cut(maker.take(name), y=i(4))
        maker.use(maker.cut(row, x=i(4))[0], "cuts/square")
    plan = maker.plan()
    for sheets in (pile_sheets(job), plan_sheets(plan)):
        assert len(sheets) > 1
        shown = [text.get_text() for figure in sheets for text in texts(figure)]
        assert all(shown.count(name) == 1 for name in names)
        for figure in sheets:
            check_labels(figure)


def bold_of(figure: Figure) -> list[str]:
    return [text.get_text() for text in texts(figure) if text.get_weight() == "bold"][
        1:
    ]  # without the title


def test_equal_parts_too_narrow_for_their_number_have_a_letter_each() -> None:
    bits = (
        Piece.of_size("bit", "mist", inches("1.5"), inches(7)),
        Piece.of_size("long", "mist", inches(42), inches(9)),
    )
    square = Cut(name="ninth", width=inches("1.5"), length=inches("1.5"), count=30)
    maker = Maker(Job(fabrics=(Fabric(name="mist"),), pieces=bits, cuts=(square,)))
    maker.run(maker.take("bit"), "y", inches("1.5"), 3, "cuts/ninth")
    row, _ = maker.cut(maker.take("long"), y=inches("1.5"))
    maker.run(row, "x", inches("1.5"), 16, "cuts/ninth")
    figure = draw_plan(maker.plan())
    check_labels(figure)
    assert sorted(bold_of(figure)) == ["A", "A", "A", "A x 16"]


def test_parts_too_small_for_a_letter_are_named_from_beside() -> None:
    """At the scale of a cloth of 222 in no letter has room on 1 1/2 in: a framed one, and a line to a dot there."""
    i = inches
    cuts = (
        Cut(name="tab", width=i("1.5"), length=i("1.5"), count=2),
        Cut(name="slat", width=i(9), length=i("1.5")),
        Cut(name="runner", width=i(20), length=i(200)),
    )
    pieces = (
        Piece.of_size("bit", "mist", i(42), i(9)),
        Piece.of_size("long", "mist", i(20), i(222)),
    )
    maker = Maker(Job(fabrics=(Fabric(name="mist"),), pieces=pieces, cuts=cuts))
    row, _ = maker.cut(maker.take("bit"), y=i("1.5"))
    for at, name in ((1.5, "tab"), (10.5, "slat"), (12, "tab")):
        part, row = maker.cut(row, x=i(str(at)))
        maker.use(part, f"cuts/{name}")
    maker.use(maker.cut(maker.take("long"), y=i(200))[0], "cuts/runner")
    figure = draw_plan(maker.plan())
    check_labels(figure)
    assert sorted(bold_of(figure)) == ["A", "A", "B", "C"]
    ends = [line.get_xydata() for line in figure.axes[0].lines]
    assert (
        sum(len(end) == 2 for end in ends) == sum(len(end) == 1 for end in ends) == 3
    )  # a line and a dot for each


@pytest.mark.parametrize("name", PLANS)
def test_the_overview_accounts_for_every_part(name: str) -> None:
    plan = PLANS[name]()
    told = 0
    for word in bold_of(draw_plan(plan)):
        told += int(word.replace("\n", " ").partition(" x ")[2] or 1)
    groups = alike(views(plan))
    assert told == sum(
        part.kind == "used" for group in groups for part in group[0].parts
    )


def long_plan(name: str) -> Plan:
    """Two runners along a length from the shop that is longer than a sheet of paper at the smallest usual scale."""
    cut = Cut(name="runner", width=inches(20), length=inches(222), count=2)
    shop = (ByLength(fabric="oat", usable_width=inches(42), sold_by=YARD),)
    maker = Maker(Job(name=name, fabrics=(Fabric(name="oat"),), shop=shop, cuts=(cut,)))
    _, bolt = maker.cut(maker.buy("oat", inches(42), 7 * YARD), y=inches("0.5"))
    row, _ = maker.cut(bolt, y=inches("222.5"))
    maker.run(row, "x", inches(20), 2, "cuts/runner")
    return maker.plan()


def test_a_length_longer_than_the_paper_is_drawn_smaller_above_the_keys() -> None:
    figure = draw_plan(long_plan("runners"))
    check_labels(figure)
    cloth = min(
        patch.get_window_extent().y0
        for patch in figure.axes[0].patches
        if isinstance(patch, PathPatch)
    )
    said = {text.get_text(): text.get_window_extent() for text in texts(figure)}
    legend = next(
        extent for text, extent in said.items() if text.startswith("A  runner")
    )
    assert legend.y1 < cloth


@pytest.mark.parametrize("times", [1, 3, 12])
def test_a_long_title_is_whole_or_shortened_visibly(times: int) -> None:
    name = "runners for the long table " * times
    figure = draw_plan(long_plan(name.strip()))
    check_labels(figure)
    bold = [
        text
        for text in texts(figure)
        if text.get_weight() == "bold" and text.get_text() != "A x 2"
    ]
    said = " ".join(text.get_text() for text in bold)
    assert said.startswith("runners for the long table")
    cut_off = "\N{HORIZONTAL ELLIPSIS}"
    assert said.endswith(": the whole plan" if times < 5 else " ...") or cut_off in said
    assert all(text.get_window_extent().x1 <= figure.bbox.x1 for text in bold)


def contrast(a: str, b: str) -> float:
    """Contrast ratio (WCAG 2.2, definition of contrast ratio, W3C 2023; formula from memory)."""
    light, dark = sorted((lightness(a), lightness(b)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_black_letters_read_on_every_tint() -> None:
    for colour in (*WORDS.values(), "#000000"):
        assert (
            contrast("#111111", tinted(colour, 0.22)) >= 7
        )  # WCAG 2.2, 1.4.6 enhanced contrast (from memory)


def test_fabrics_of_one_grey_differ_by_hatch() -> None:
    job = Job(
        fabrics=tuple(Fabric(name=f"f{n}") for n in range(9)),
        cuts=(Cut(name="a", width=INCH, length=INCH),),
    )
    looks = [look_of(job, fabric.name) for fabric in job.fabrics]
    assert {look.hatch for look in looks} == {*FABRIC_HATCHES} - {""}
    greys = sorted(lightness(look.colour) for look in looks)
    assert greys[-1] - greys[0] > 0.4


@pytest.mark.parametrize(
    ("name", "colour", "drawn"),
    [
        ("navy", "", "#000080"),  # CSS Color Module Level 4, section 6.1
        ("red", "", "#ff0000"),
        ("pale blue dots", "", "#add8e6"),
        ("curtain", "dark green", "#006400"),
        ("navy", "#A9B84F", "#a9b84f"),
        ("navy", "no such colour", "#000080"),
    ],
)
def test_a_fabric_has_the_colour_that_is_said(
    name: str, colour: str, drawn: str
) -> None:
    cuts = (Cut(name="a", width=INCH, length=INCH),)
    assert (
        look_of(
            Job(fabrics=(Fabric(name=name, colour=colour),), cuts=cuts), name
        ).colour
        == drawn
    )


def test_what_nobody_said_is_grey_and_hatched() -> None:
    job = Job(
        fabrics=(Fabric(name="aunt's curtain", colour="misty"),),
        cuts=(Cut(name="a", width=INCH, length=INCH),),
    )
    look = look_of(job, "aunt's curtain")
    assert look.colour[1:3] == look.colour[3:5] == look.colour[5:]
    assert look.hatch


@pytest.mark.parametrize("name", PLANS)
def test_the_hand_made_plans_are_good_ones(name: str) -> None:
    plan = PLANS[name]()
    assert plan.origin is not None
    wrong = [
        problem for problem in check(plan.origin, plan) if "wanted, " not in problem
    ]  # these need not be whole
    assert wrong == []
