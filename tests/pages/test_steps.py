"""The sentences at the mat, word for word; and that they cover every cut once, in order."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cutopt.fabric import ByLength, ByPiece, Fabric, Piece
from cutopt.geometry import bounds
from cutopt.job import Job
from cutopt.lengths import CM, INCH, MM, YARD
from cutopt.pages.steps import Section, Step, sections
from cutopt.plan import Plan
from cutopt.settings import Settings
from cutopt.wanted import Cut
from tests.draw.sample import Maker, inches, metric_result, orchard_plan
from tests.pages.measured import faults_of

U_INCHES = ((0, 0), (15, 0), (15, 10), (10, 10), (10, 4), (5, 4), (5, 10), (0, 10))
YEW = tuple((inches(x), inches(y)) for x, y in U_INCHES)


def section(plan: Plan, title: str) -> Section:
    return next(found for found in sections(plan) if found.title == title)


def told(found: Section) -> list[tuple[str, str]]:
    return [(step.cuts, step.text) for step in found.steps]


def numbers(plan: Plan) -> list[int]:
    return [n for found in sections(plan) for step in found.steps for n in step.numbers]


def test_an_l_is_split_and_the_rest_laid_aside() -> None:
    found = section(orchard_plan(), "pear L")
    assert told(found) == [
        ("cut 1", "Cut a strip 7 wide from the bottom edge: strip A."),
        ("cut 2", "From it cut a strip 4 1/2 wide from the bottom edge."),
        ("cuts 3-6", "From it cut 4 at 4 1/2."),
        (
            "cuts 7-13",
            "From the rest of strip A cut 8 at 2 1/2.",
        ),  # not of the strip that is cut up by now
        (
            "cut 14",
            "From the rest of the piece cut a part 8 1/2 wide from the bottom edge.",
        ),
        ("cut 15", "From it cut one at 8 1/2 from the left edge."),
    ]
    assert found.steps[0].notes == ("Lay the rest aside.",)
    assert found.steps[2].notes == (
        "Gives 4 of square, 4 1/2 x 4 1/2.",
        "What is left is scrap.",
    )
    assert found.intro == (
        "From the pile: pear, 20 x 16 in over all. Lay it as drawn, the selvage direction up.",
    )
    assert found.result == "Now you have 4 of square, 8 of post and 1 centre."


def test_raw_edges_are_squared_up_and_equal_strips_stacked() -> None:
    assert told(section(orchard_plan(), "bark raw")) == [
        ("cut 27", "Square up the left edge: cut 1/4 in from it."),
        ("cut 28", "Square up the bottom edge: cut 1/4 in from it."),
        ("cuts 29-30", "Cut 2 strips 4 1/2 wide from the bottom edge."),
        (
            "cuts 31-38",
            "Stack the 2 strips, edges even, and cut 4 at 4 1/2 from the left edge of each.",
        ),
    ]


def test_a_length_from_the_bolt_is_folded_and_cut_across() -> None:
    found = section(orchard_plan(), "oat, 5/8 yd bought")
    assert told(found)[:4] == [
        ("cut 57", "Square up the bottom edge: cut 1/2 in from it."),
        (
            "cuts 58-60",
            "Cut 3 strips 2 1/2 wide across the width from the bottom edge.",
        ),
        (
            "cuts 61-62",
            "From the rest cut 2 strips 4 1/2 wide across the width from the bottom edge.",
        ),
        ("cuts 63-80", "Stack the 2 strips, edges even, and cut 9 at 4 1/2 from each."),
    ]
    assert found.steps[0].notes == (
        "This cut is 42 long: fold in half, selvage to selvage, 42 to 21.",
    )
    assert found.steps[1].notes[0] == "Leave it folded."
    assert (
        found.steps[3].notes[0] == "First unfold what is still folded."
    )  # folded, a cut at 4 1/2 would give two


def test_copies_cut_alike_are_told_once_with_at_most_four_layers() -> None:
    found = section(orchard_plan(), "6 of mist & dew squares")
    assert found.sources == ("S5", "S6", "S7", "S8", "S9", "S10")
    assert (
        "Stack them, at most 2 at a time, and cut them together." in found.intro[1]
    )  # two strips stacked: 4 layers
    assert told(found)[-1] == ("cuts 42-56", "Do the same with the other 5.")
    assert found.steps[-1].notes == (
        "What you cut in one stack with the first is done already.",
    )


def test_a_piece_used_whole_needs_no_cut() -> None:
    found = section(orchard_plan(), "pear post")
    assert [(step.numbers, step.text) for step in found.steps] == [
        ((), "Use it as it is: 1 post, 2 1/2 x 2 1/2.")
    ]


def test_a_metric_plan_speaks_in_centimetres() -> None:
    found = section(metric_result().plan, "mist big")
    assert told(found)[0] == ("cut 1", "Square up the left edge: cut 0.5 cm from it.")
    assert told(found)[-1] == ("cuts 4-7", "From it cut 4 at 6.5 from the left edge.")
    said = " ".join(str(found) for found in sections(metric_result().plan))
    assert not re.search(
        r"\bin\b(?! half)|\byd\b|\"", said.replace("'", "").replace(" in over all", "")
    )


def job_of(piece: Piece, *cuts: Cut, **more: object) -> Job:
    return Job(fabrics=(Fabric(name="mist"),), pieces=(piece,), cuts=cuts, **more)  # type: ignore[arg-type]


def square(size: str) -> Cut:
    return Cut(name="square", width=inches(size), length=inches(size), count=200)


def test_a_triangle_without_an_edge_is_measured_from_its_corner() -> None:
    i = inches
    piece = Piece(
        name="tent", fabric="mist", outline=((0, 0), (i(20), 0), (i(10), i(10)))
    )
    maker = Maker(job_of(piece, square("4.5")))
    low, _ = maker.cut(maker.take("tent"), y=i("4.5"))
    _, rest = maker.cut(low, x=i("5"))
    maker.run(rest, "x", i("4.5"), 2, "cuts/square")
    texts = [step.text for step in sections(maker.plan())[0].steps]
    assert (
        texts[1] == "Cut 5 in off its left corner, the ruler square to the bottom edge."
    )
    other = Maker(job_of(piece, square("4.5")))
    low, _ = other.cut(other.take("tent"), y=i("4.5"))
    block, _ = other.cut(low, x=i("14"))
    _, block = other.cut(block, x=i("5"))
    other.run(block, "x", i("4.5"), 2, "cuts/square")
    texts = [step.text for step in sections(other.plan())[0].steps]
    assert (
        texts[1]
        == "From it cut a strip 14 long from the left corner, the ruler square to the bottom edge: strip A."
    )


def test_a_cut_longer_than_a_fold_in_four_goes_in_stretches() -> None:
    i = inches
    shop = (ByLength(fabric="mist", usable_width=i(108), sold_by=YARD),)
    wanted = Cut(name="side", width=i("3.5"), length=i(108), count=4)
    job = Job(fabrics=(Fabric(name="mist"),), shop=shop, cuts=(wanted,))
    maker = Maker(job)
    bolt = maker.buy("mist", i(108), YARD)
    _, bolt = maker.cut(bolt, y=i("0.5"))
    maker.run(bolt, "y", i("3.5"), 4, "cuts/side", turned=True)
    step = sections(maker.plan())[0].steps[0]
    assert step.notes[0].startswith(
        "This cut is 108 long: fold in half, selvage to selvage, and once more, 108 to 27;"
    )
    assert "at most 24 at a time" in step.notes[0]


def test_a_long_slanted_piece_is_not_folded() -> None:
    i = inches
    piece = Piece(
        name="long",
        fabric="mist",
        outline=((0, 0), (i(60), 0), (i(50), i(9)), (0, i(9))),
    )
    maker = Maker(job_of(piece, square("4")))
    row, _ = maker.cut(maker.take("long"), y=i(4))
    maker.run(row, "x", i(4), 5, "cuts/square")
    note = sections(maker.plan())[0].steps[0].notes[0]
    assert "fold" not in note
    assert "cut at most 24 at a time" in note


def test_a_notched_piece_comes_apart() -> None:
    i = inches
    outline = (
        (0, 0),
        (i(15), 0),
        (i(15), i(10)),
        (i(10), i(10)),
        (i(10), i(4)),
        (i(5), i(4)),
        (i(5), i(10)),
        (0, i(10)),
    )
    maker = Maker(job_of(Piece(name="u", fabric="mist", outline=outline), square("4")))
    _, left, right = maker.cut(maker.take("u"), y=i(5))
    maker.use(maker.cut(maker.cut(left, x=i(4))[0], y=i(9))[0], "cuts/square")
    maker.use(maker.cut(maker.cut(right, x=i(14))[0], y=i(9))[0], "cuts/square")
    steps = sections(maker.plan())[0].steps
    assert steps[0].text == "Cut 5 from the bottom edge; it comes apart in 3."
    assert steps[0].notes == (
        "Bottom: spare, 15 x 4 out of an odd shape, 15 x 5 over all, keep it.",
        "Top, number 1 from the left: part A.",
        "Top, number 2 from the left: part B.",
    )
    assert steps[1].text.startswith("From part A cut")


def test_tops_that_are_scrap_are_told_in_one_go() -> None:
    i = inches
    ring = ((0, 0), (15, 0), (15, 9), (10, 9), (10, 4), (5, 4), (5, 9), (0, 9))
    outline = tuple((i(x), i(y)) for x, y in ring)
    maker = Maker(job_of(Piece(name="u", fabric="mist", outline=outline), square("4")))
    low, *_ = maker.cut(
        maker.take("u"), y=i(5)
    )  # the tops are 5 x 4, less than what is worth keeping
    maker.use(maker.cut(maker.cut(low, x=i(4))[0], y=i(4))[0], "cuts/square")
    steps = sections(maker.plan())[0].steps
    assert steps[0].notes == ("Bottom: part A.", "Top: both are scrap.")


def test_more_than_four_strips_go_in_piles() -> None:
    i = inches
    maker = Maker(job_of(Piece.of_size("big", "mist", i(20), i(20)), square("2.5")))
    *rows, _ = maker.run(maker.take("big"), "y", i("2.5"), 6)
    for row in rows:
        maker.run(row, "x", i("2.5"), 8, "cuts/square")
    steps = sections(maker.plan())[0].steps
    assert (
        steps[1].text
        == "Stack the 6 strips, at most 4 at a time, edges even, and cut 8 at 2 1/2 from each."
    )
    assert steps[1].notes == ("Gives 48 of square, 2 1/2 x 2 1/2.",)


def test_strips_cut_alike_in_several_moves_are_done_again() -> None:
    i = inches
    maker = Maker(
        job_of(
            Piece.of_size("big", "mist", i(20), i(10)),
            square("2.5"),
            Cut(name="b", width=i(4), length=i("2.5"), count=9),
        )
    )
    *rows, _ = maker.run(maker.take("big"), "y", i("2.5"), 3)
    for row in rows:
        *_, rest = maker.run(row, "x", i("2.5"), 2, "cuts/square")
        maker.run(rest, "x", i(4), 2, "cuts/b")
    steps = sections(maker.plan())[0].steps
    assert [step.text for step in steps] == [
        "Cut 3 strips 2 1/2 wide from the bottom edge.",
        "From the first strip cut 2 at 2 1/2.",
        "From the rest cut 2 at 4.",
        "Do the same with the other 2 strips.",
    ]
    assert steps[-1].notes == ("Or stack the 3 strips and cut them together.",)


def test_washed_cloth_says_what_it_should_measure() -> None:
    from fractions import Fraction

    i = inches
    fabric = Fabric(
        name="mist", shrink_across=Fraction(2, 100), shrink_along=Fraction(4, 100)
    )
    shop = (ByLength(fabric="mist", usable_width=i(42), sold_by=YARD // 8),)
    job = Job(fabrics=(fabric,), shop=shop, cuts=(square("4.5"),))
    maker = Maker(job)
    bolt = maker.buy("mist", i(42), YARD)
    _, bolt = maker.cut(bolt, y=i("0.5"))
    *rows, _ = maker.run(bolt, "y", i("4.5"), 1)
    maker.run(rows[0], "x", i("4.5"), 9, "cuts/square")
    # 36 x 42 at 4 % long, 2 % across: 34.56 x 41.16 (arithmetic identity), on the eighth below
    assert section(maker.plan(), "mist, 1 yd bought").intro == (
        "Bought: 1 yd, 42 in usable width. Wash it first; then it should measure about 41 1/8 x 34 1/2 in.",
        "The width does not count the selvages: cut one off before you measure from its side.",
    )


def test_a_corner_that_is_gone_is_not_measured_from() -> None:
    """A wedge with raw edges, squared up below: its lower left corner moves in, to where no mark of a ruler is."""
    i = inches
    wedge = ((0, 0), (i(15), 0), (i(11), i("7.5")), (i(3), i("7.5")))
    piece = Piece(name="wedge", fabric="mist", outline=wedge, edges="raw")
    maker = Maker(job_of(piece, square("2.5")))
    _, body = maker.cut(maker.take("wedge"), y=i("0.25"))
    left, rest = maker.cut(body, x=i("5.5"))
    maker.use(maker.cut(maker.cut(rest, y=i("2.75"))[0], x=i(8))[0], "cuts/square")
    maker.use(maker.cut(maker.cut(left, y=i("2.75"))[0], x=i(3))[1], "cuts/square")
    plan = maker.plan()
    texts = [step.text for step in sections(plan)[0].steps]
    place = "2 1/2 to the right of the left end of the top edge, the ruler square to the bottom edge"
    assert texts[1] == f"Cut off the left part, {place}: part A."
    assert texts[-1] == "From it cut one at 2 1/2 from the right edge."
    assert faults_of(plan) == []


def test_a_corner_is_that_of_a_part_that_is_named() -> None:
    i = inches
    gore = ((0, 0), (i(11), 0), (i(9), i(13)), (i(2), i(13)))
    maker = Maker(
        job_of(
            Piece(name="gore", fabric="mist", outline=gore, edges="true"), square("6.5")
        )
    )
    low, high = maker.cut(maker.take("gore"), y=i("6.5"))
    maker.use(maker.cut(maker.cut(low, x=i(2))[1], x=i("8.5"))[0], "cuts/square")
    maker.use(maker.cut(maker.cut(high, x=i(2))[1], x=i("8.5"))[0], "cuts/square")
    plan = maker.plan()
    texts = [step.text for step in sections(plan)[0].steps]
    assert (
        texts[1] == "Cut 2 in off its left corner, the ruler square to the bottom edge."
    )
    assert (
        texts[3]
        == "Cut 1 in off the left corner of the rest of the piece, the ruler square to the bottom edge."
    )
    assert faults_of(plan) == []


def test_parts_are_not_called_strips() -> None:
    i = inches
    maker = Maker(job_of(Piece.of_size("p", "mist", i(18), i(9)), square("4.5")))
    left, right = maker.cut(maker.take("p"), x=i(9))
    for half in (left, right):
        for row in maker.cut(half, y=i("4.5")):
            maker.run(row, "x", i("4.5"), 2, "cuts/square")
    texts = [step.text for step in sections(maker.plan())[0].steps]
    assert texts[0] == "Cut 2 parts 9 wide from the left edge."
    assert texts[1].startswith(
        "From the first part cut 2 strips 4 1/2 wide from the bottom edge"
    )
    assert texts[-1] == "Do the same with the other part."


@st.composite
def random_plans(draw: st.DrawFn) -> Plan:
    """Pieces of the pile and a bought length, cut at random edge to edge; some of the ends are used."""
    i = inches
    outlines = {
        "rect": ((0, 0), (i(20), 0), (i(20), i(12)), (0, i(12))),
        "ell": (
            (0, 0),
            (i(20), 0),
            (i(20), i(7)),
            (i(9), i(7)),
            (i(9), i(16)),
            (0, i(16)),
        ),
        "yew": (
            (0, 0),
            (i(15), 0),
            (i(15), i(10)),
            (i(10), i(10)),
            (i(10), i(4)),
            (i(5), i(4)),
            (i(5), i(10)),
            (0, i(10)),
        ),
        "tent": ((0, 0), (i(20), 0), (i(10), i(10))),
    }
    pieces = tuple(
        Piece(name=n, fabric="mist", outline=o, count=3, edges="raw")
        for n, o in outlines.items()
    )
    shop = (ByLength(fabric="mist", usable_width=i(42), sold_by=YARD // 8),)
    wanted = tuple(
        Cut(name=f"w{k}", width=i(k), length=i(k), count=99) for k in (1, 2, 3)
    )
    job = Job(
        fabrics=(Fabric(name="mist"),),
        pieces=pieces,
        shop=shop,
        cuts=wanted,
        settings=Settings(),
    )
    maker = Maker(job)
    ends = [maker.take(name, copy) for name in outlines for copy in (1, 2)]
    ends.append(maker.buy("mist", i(42), YARD))
    for _ in range(draw(st.integers(1, 25))):
        part = ends.pop(draw(st.integers(0, len(ends) - 1)))
        axis = draw(st.integers(0, 1))
        box = bounds(maker.parts[part])
        low = int(box[axis] // INCH) + 1
        high = int(-(-box[axis + 2] // INCH)) - 1
        if low > high:
            ends.append(part)
            continue
        at = draw(st.integers(low, high)) * INCH
        ends += maker.cut(part, x=at) if axis == 0 else maker.cut(part, y=at)
    for part in ends:
        x1, y1, x2, y2 = bounds(maker.parts[part])
        side = (x2 - x1) / INCH
        if (
            side == (y2 - y1) / INCH
            and side in (1, 2, 3)
            and len(maker.parts[part]) == 4
        ):
            maker.use(part, f"cuts/w{int(side)}")
    return maker.plan()


@given(random_plans())
@settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
def test_steps_cover_every_cut_once_in_order(plan: Plan) -> None:
    assert numbers(plan) == [cut.n for cut in plan.cuts]
    found = sections(plan)
    shown = [source for one in found for source in one.sources]
    assert set(shown) == {source.id for source in plan.sources}
    for step in (step for one in found for step in one.steps):
        check_words(step)


def check_words(step: Step) -> None:
    said = " ".join((step.text, *step.notes))
    assert step.text[0].isupper()
    assert step.text.endswith(".")
    assert not re.search(r"  |\.\.|None|S\d", said)
    assert not re.search(
        r"utilisation|goods|panel|feasible|priority number|objective|guillotine", said
    )


@pytest.mark.parametrize("make", [orchard_plan, lambda: metric_result().plan])
def test_hand_made_plans_are_covered_in_order(make: object) -> None:
    plan = make()  # type: ignore[operator]
    assert numbers(plan) == [cut.n for cut in plan.cuts]


def test_cuts_that_leave_a_piece_and_come_back_are_told_again() -> None:
    i = inches
    job = job_of(
        replace(Piece.of_size("p", "mist", i(20), i(20)), count=2), square("4.5")
    )
    maker = Maker(job)
    one = maker.take("p", 1)
    two = maker.take("p", 2)
    row, _ = maker.cut(one, y=i("4.5"))
    maker.cut(two, y=i(5))
    maker.run(row, "x", i("4.5"), 2, "cuts/square")
    plan = maker.plan()
    assert numbers(plan) == [cut.n for cut in plan.cuts]
    assert [found.title for found in sections(plan)] == [
        "p (1 of 2)",
        "p (2 of 2)",
        "p (1 of 2), again",
    ]


def test_a_strip_along_the_selvage_of_a_bolt_is_so_wide() -> None:
    """It said "a strip 6 1/2 along the selvage", which is as well a strip 6 1/2 long."""
    oat = ByLength(fabric="oat", usable_width=42 * INCH, sold_by=YARD // 8)
    slat = Cut(name="slat", width=inches(6.5), length=20 * INCH)
    job = Job(
        settings=Settings(square_up_end=0),
        fabrics=(Fabric(name="oat"),),
        shop=(oat,),
        cuts=(slat,),
    )
    make = Maker(job)
    bought = make.buy("oat", 42 * INCH, 5 * YARD // 8)
    strip, _ = make.cut(bought, x=inches(6.5))
    part, _ = make.cut(strip, y=20 * INCH)
    make.use(part, "cuts/slat")
    texts = [step.text for step in sections(make.plan())[0].steps]
    assert (
        texts[0]
        == "Cut a strip 6 1/2 wide from the left edge (it runs along the selvage)."
    )


def test_cloth_bought_by_the_piece_is_laid_and_measured_like_a_piece() -> None:
    """It said "a part 18 along the selvage" of 18 across, and not how to lay the piece."""
    bit = ByPiece(fabric="oat", each_width=21 * INCH, each_length=18 * INCH)
    job = Job(
        settings=Settings(square_up_end=0),
        fabrics=(Fabric(name="oat", one_way="along"),),
        shop=(bit,),
        cuts=(Cut(name="flag", width=18 * INCH, length=12 * INCH),),
    )
    make = Maker(job)
    bought = make.buy("oat", 21 * INCH, 18 * INCH)
    part, _ = make.cut(bought, x=18 * INCH)
    flag, _ = make.cut(part, y=12 * INCH)
    make.use(flag, "cuts/flag")
    (found,) = sections(make.plan())
    assert found.intro == (
        "Bought by the piece, 21 x 18 in, edges taken as true. Lay it as drawn, the selvage direction up.",
    )
    assert found.steps[0].text == "Cut a part 18 wide from the left edge."


def test_what_is_longer_than_mat_and_ruler_is_measured_with_a_tape() -> None:
    """It said "cut a strip 131.3 long" to somebody with a mat and a ruler of 60, and no word of how."""
    band = Cut(name="band", width=5 * CM, length=1313 * MM)
    linen = Piece.of_size("linen", "linen", 5 * CM, 140 * CM)
    job = Job(
        settings=Settings.metric(),
        fabrics=(Fabric(name="linen"),),
        pieces=(linen,),
        cuts=(band,),
    )
    make = Maker(job)
    piece = make.take("linen")
    part, _ = make.cut(piece, y=1313 * MM)
    make.use(part, "cuts/band")
    notes = sections(make.plan())[0].steps[0].notes
    assert (
        "131.3 cm is more than mat and ruler: measure it with a tape along both edges."
        in notes[0]
    )
    assert (
        "At the top edge 8.7 cm should be left." in notes[0]
    )  # 140 - 131.3 (identity)


def test_a_piece_that_was_measured_roughly_is_measured_again() -> None:
    """It says so where the piece is cut, and only of such a piece."""
    i = inches
    for about in (True, False):
        outline = ((0, 0), (i(10), 0), (i(10), i(10)), (0, i(10)))
        rough = Piece(name="u", fabric="mist", outline=outline, about=about)
        maker = Maker(job_of(rough, square("4")))
        low, _ = maker.cut(maker.take("u"), y=i(4))
        maker.use(maker.cut(low, x=i(4))[0], "cuts/square")
        intro = " ".join(sections(maker.plan())[0].intro)
        assert ("It was measured roughly: measure it again first." in intro) == about
