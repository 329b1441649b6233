"""The finer points of the rules: what is right although it looks odd, and limits that are just met."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutopt.check import check
from cutopt.check.replay import replay
from cutopt.check.shapes import box_of
from cutopt.check.sums import ruler_widths
from cutopt.cloth import cloth_of
from cutopt.fabric import ByLength, ByPiece, Piece
from cutopt.geometry import rectangle
from cutopt.job import Job
from cutopt.lengths import MM
from cutopt.plan import Join, Plan, Source
from cutopt.settings import Settings
from cutopt.wanted import Cut, Strip
from tests.check.good_plans import (
    OAT,
    PEAR,
    Case,
    cut,
    each,
    ell,
    grain,
    inch,
    lengths,
    outline,
    pieces,
    shrunk,
    spare,
    together,
    totals,
    uses,
)


def buying(
    *shop: ByLength | ByPiece, size: tuple[str, str], prices: str, margin: bool
) -> Case:
    """One 40 x 3 bar from each of some purchases of pear alike; with `margin` it lies 1/2 in from the end."""
    names = [f"S{i}" for i in range(len(prices.split()))]
    job = Job(
        fabrics=(PEAR,),
        shop=shop,
        cuts=(Cut(name="bar", width=inch(40), length=inch(3), count=len(names)),),
    )
    cuts = []
    for name in names:
        low = (
            [cut(len(cuts) + 1, name, "y 0.5", f"{name}.end {name}.rest")]
            if margin
            else []
        )
        part = f"{name}.rest" if margin else name
        n = len(cuts) + len(low) + 1
        cuts += [
            *low,
            cut(n, part, "y 3.5" if margin else "y 3", f"{name}.low {name}.high"),
            cut(n + 1, f"{name}.low", "x 40", f"{name}.bar {name}.tail"),
        ]
    plan = Plan(
        job=job.digest,
        sources=tuple(
            Source(
                id=name,
                bought="pear",
                by_piece=not margin,
                width=inch(size[0]),
                length=inch(size[1]),
                price=Decimal(price),
            )
            for name, price in zip(names, prices.split(), strict=True)
        ),
        cuts=tuple(cuts),
        uses=uses("cuts/bar", " ".join(f"{name}.bar" for name in names)),
        spare=spare(
            " ".join(
                f"{name}.{end}"
                for name in names
                for end in (("end",) * margin + ("high", "tail"))
            )
        ),
        totals=totals(len(cuts), 2, str(sum(map(Decimal, prices.split())))),
    )
    bought = lengths(pear=inch(size[1])) if margin else pieces(pear=len(names))
    return job, replace(plan, totals=replace(plan.totals, bought=bought))


BOLT = ByLength(
    fabric="pear", usable_width=inch(42), sold_by=inch("4.5"), price=Decimal(8)
)
HALF = ByPiece(
    fabric="pear", each_width=inch(42), each_length=inch(18), price=Decimal("3.50")
)


@pytest.mark.parametrize("shop", [(BOLT, HALF), (HALF, BOLT)])
def test_a_half_yard_of_the_bin_is_none_of_the_bolt(
    shop: tuple[ByLength | ByPiece, ...],
) -> None:
    """18 in at 8.00 a yard are 4.00; the same size lies in the bin at 3.50, with nothing to square up."""
    for price, margin in (("4.00", True), ("3.50", False)):
        case = buying(*shop, size=("42", "18"), prices=price, margin=margin)
        assert check(*case) == []
        assert cloth_of(case[0], case[1].sources[0]).margins == (
            (inch("0.5"), 0) * 2 if margin else (0,) * 4
        )
    faults = check(*buying(*shop, size=("42", "18"), prices="4.00", margin=False))
    assert faults == ["S0 costs 3.50, and the plan says 4.00."]
    job, plan = buying(*shop, size=("42", "18"), prices="4.00", margin=True)
    said = [replace(source, by_piece=True) for source in plan.sources]
    assert check(job, replace(plan, sources=tuple(said)))


def test_a_half_yard_of_the_bolt_at_the_price_of_one_of_the_bin() -> None:
    shop = (replace(HALF, price=Decimal(4)), BOLT)
    assert check(*buying(*shop, size=("42", "18"), prices="4.00", margin=True)) == []


def test_a_piece_of_the_bin_is_of_no_step() -> None:
    shop = (BOLT, replace(HALF, each_length=inch(17)))
    assert check(*buying(*shop, size=("42", "17"), prices="3.50", margin=False)) == []
    faults = check(*buying(*shop, size=("42", "17"), prices="3.40", margin=False))
    assert faults == ["S0 costs 3.50, and the plan says 3.40."]


def test_two_steps_of_one_width() -> None:
    """The row that the length fits is meant, whatever the order; where both do, the one of that price."""
    yards = replace(BOLT, sold_by=inch(36), price=Decimal(6))
    for shop in ((BOLT, yards), (yards, BOLT)):
        assert (
            check(*buying(*shop, size=("42", "36"), prices="6.00", margin=True)) == []
        )
        assert (
            check(*buying(*shop, size=("42", "36"), prices="8.00", margin=True)) == []
        )
        assert (
            check(*buying(*shop, size=("42", "18"), prices="4.00", margin=True)) == []
        )
        assert check(*buying(*shop, size=("42", "18"), prices="3.00", margin=True))


def test_rows_of_the_bin_that_are_alike_sell_together() -> None:
    one = replace(HALF, most=1)
    assert (
        check(*buying(one, one, size=("42", "18"), prices="3.50 3.50", margin=False))
        == []
    )
    faults = check(
        *buying(one, one, size=("42", "18"), prices="3.50 3.50 3.50", margin=False)
    )
    assert faults == ["3 pieces of pear are bought; the shop has 2 of that size."]
    assert (
        check(
            *buying(one, HALF, size=("42", "18"), prices="3.50 3.50 3.50", margin=False)
        )
        == []
    )
    cheap = replace(one, price=Decimal(3))
    assert (
        check(*buying(one, cheap, size=("42", "18"), prices="3.50 3.00", margin=False))
        == []
    )
    assert check(
        *buying(one, cheap, size=("42", "18"), prices="3.50 3.50", margin=False)
    )
    other = replace(one, each_length=inch(20))
    assert check(
        *buying(one, other, size=("42", "18"), prices="3.50 3.50", margin=False)
    )
    wider = replace(one, each_width=inch(43))
    assert check(
        *buying(one, wider, size=("42", "18"), prices="3.50 3.50", margin=False)
    )


def test_the_bin_of_another_fabric_does_not_count() -> None:
    job, plan = each()
    shop = (
        *job.shop[:1],
        replace(job.shop[1], most=1),
        replace(job.shop[1], fabric="pear", most=5),
    )
    job = replace(job, fabrics=(OAT, PEAR), shop=shop)
    assert check(job, replace(plan, job=job.digest)) == [
        "2 pieces of oat are bought; the shop has 1 of that size."
    ]


def test_a_sale_at_its_limits() -> None:
    for limits in ({"smallest": inch(9)}, {"most": inch(9), "smallest": 0}):
        job, plan = shrunk()
        job = replace(job, shop=(replace(job.shop[0], **limits), *job.shop[1:]))
        assert check(job, replace(plan, job=job.digest)) == []


def test_a_price_that_the_shop_does_not_give() -> None:
    job, plan = shrunk()
    job = replace(job, shop=(replace(job.shop[0], price=None),))
    plan = replace(
        plan,
        job=job.digest,
        sources=(replace(plan.sources[0], price=None),),
        levels=plan.levels[1:],
        totals=replace(plan.totals, money=None),
    )
    assert check(job, plan) == []
    assert check(job, replace(plan, totals=replace(plan.totals, money=Decimal(0)))) == [
        "The money comes to None, and the plan says 0."
    ]


def test_two_fabrics_by_length() -> None:
    job, plan = shrunk()
    bolt = replace(BOLT, price=None)
    job = replace(job, fabrics=(OAT, PEAR), shop=(*job.shop, bolt))
    more = Source(id="S2", bought="pear", width=inch(42), length=inch(9))
    said = replace(plan.totals, money=None, bought=lengths(oat=inch(9), pear=inch(9)))
    plan = replace(
        plan,
        job=job.digest,
        sources=(*plan.sources, more),
        spare=(*plan.spare, *spare("S2")),
        totals=said,
        levels=plan.levels[1:],
    )
    assert check(job, plan) == []


def test_a_square_lies_as_it_lies() -> None:
    """Turned or not, the length of a square runs along and across; but its grain must be known."""
    job, plan = ell()
    for rule in ("along", "across"):
        ruled = replace(job, cuts=(replace(job.cuts[0], grain=rule),))
        for turned in (True, False):
            turning = tuple(replace(use, turned=turned) for use in plan.uses)
            assert check(ruled, replace(plan, job=ruled.digest, uses=turning)) == []
        unknown = replace(ruled, pieces=(replace(ruled.pieces[0], grain_known=False),))
        assert len(check(unknown, replace(plan, job=unknown.digest))) == 2


def test_a_print_without_a_right_way_up_needs_no_grain() -> None:
    job, plan = grain()
    assert check(job, plan) == []
    assert job.cuts[3].upright
    assert not job.pieces[4].grain_known


def test_grain_and_print_both_hold() -> None:
    """A leaf that must stand up, of a print that stands along the selvage, with the rule that it runs across."""
    job, plan = grain()
    leaf = replace(job.cuts[0], grain="across")
    job = replace(job, cuts=(leaf, *job.cuts[1:]))
    faults = check(job, replace(plan, job=job.digest))
    assert faults == [
        "B for leaf lies the wrong way: its length must run across the selvage."
    ]


def strip_plan(strip: Strip, long: str, segments: int, length: int) -> Case:
    piece = Piece.of_size("band", "pear", strip.width, inch(long), count=5)
    job = Job(fabrics=(PEAR,), pieces=(piece,), strips=(strip,))
    names = tuple(f"S{i}" for i in range(1, segments + 1))
    plan = Plan(
        job=job.digest,
        sources=tuple(
            Source(id=name, piece="band", copy=i + 1) for i, name in enumerate(names)
        ),
        uses=uses(strip.key, " ".join(names)),
        joins=(Join(for_=strip.key, segments=names, join=strip.join, length=length),),
        totals=replace(totals(0, 0), joins=segments - 1),
    )
    return job, plan


def test_straight_joins_cost_two_seams() -> None:
    """Three segments of 12 in, seam 1/4 in: 36 - 2 x 1/2 = 35."""
    strip = Strip(
        name="sash",
        width=inch(2),
        total_length=inch(35),
        join="straight",
        shortest=inch(12),
    )
    assert check(*strip_plan(strip, "12", 3, inch(35))) == []
    assert check(
        *strip_plan(replace(strip, total_length=inch(35) + 1), "12", 3, inch(35))
    )
    job, plan = strip_plan(strip, "12", 3, inch(35))
    job = replace(job, settings=Settings(seam=inch("0.25") + 1))
    assert check(job, replace(plan, job=job.digest))


@pytest.mark.parametrize(
    ("total", "grid", "right"),
    [(2123, 5, True), (2123.4, 5, False), (2123.4, 0.5, False)],
)
def test_what_no_ruler_shows_of_a_segment_is_not_counted_on(
    total: float, grid: float, right: bool
) -> None:
    """By hand: two of 106.92 cm less 1.5 cm are 212.34; by millimetres 212.3, by halves of them as well."""
    long = 10692 * MM // 10
    settings = replace(Settings.metric(), grid=int(grid * MM))
    strip = Strip(
        name="sash",
        width=70 * MM,
        total_length=int(total * MM),
        join="straight",
        shortest=200 * MM,
    )
    for row, copies, length in (
        (strip, 2, 2 * long - 15 * MM),
        (replace(strip, total_length=long), 1, long),
    ):
        piece = Piece.of_size("band", "pear", row.width, long, count=2)
        job = Job(fabrics=(PEAR,), pieces=(piece,), strips=(row,), settings=settings)
        names = ("S1", "S2")[:copies]
        plan = Plan(
            job=job.digest,
            sources=tuple(
                Source(id=name, piece="band", copy=i + 1)
                for i, name in enumerate(names)
            ),
            uses=uses(row.key, " ".join(names)),
            joins=(Join(for_=row.key, segments=names, join=row.join, length=length),),
            totals=replace(totals(0, 0), joins=copies - 1),
        )
        faults = check(job, plan)
        assert faults == [] or (not right and copies == 2)
        assert (
            right
            or copies == 1
            or faults
            == ["sash is 212.34 long only by what no ruler shows of its segments."]
        )


def test_diagonal_joins_cost_the_width() -> None:
    """Three segments of 12 in, 2 in wide: 36 - 2 x 2 = 32."""
    strip = Strip(
        name="binding", width=inch(2), total_length=inch(30), shortest=inch(8)
    )
    assert check(*strip_plan(strip, "12", 3, inch(32))) == []
    assert check(*strip_plan(strip, "12", 3, inch(34)))


def test_a_strip_that_is_not_joined_may_be_shorter_than_the_shortest_segment() -> None:
    strip = Strip(name="tab", width=inch(2), total_length=inch(5), shortest=inch(8))
    assert check(*strip_plan(strip, "5", 1, inch(5))) == []
    assert check(*strip_plan(strip, "5", 2, inch(8)))


def test_strips_come_together_with_cuts() -> None:
    strip = Strip(name="tab", width=inch(2), total_length=inch(5), together="gift")
    job, plan = strip_plan(strip, "5", 1, inch(5))
    more = Piece.of_size("b", "oat", inch(3), inch(3))
    for fabric, right in (("oat", False), ("pear", True)):
        wider = replace(
            job,
            fabrics=(PEAR, OAT),
            pieces=(*job.pieces, replace(more, fabric=fabric)),
            cuts=(Cut(name="card", width=inch(3), length=inch(3), together="gift"),),
        )
        longer = replace(
            plan,
            job=wider.digest,
            sources=(*plan.sources, Source(id="B", piece="b")),
            uses=(*plan.uses, *uses("cuts/card", "B")),
        )
        assert (check(wider, longer) == []) == right


def test_one_source_serves_two_rows_of_one_word_and_most_each_counts_one_row() -> None:
    job, plan = together()
    assert check(job, plan) == []
    job = replace(
        job, cuts=(*job.cuts[:2], replace(job.cuts[2], most_each=None, together=""))
    )
    assert check(job, replace(plan, job=job.digest)) == []


@pytest.mark.parametrize(
    ("order", "turns"),
    [
        ("x y", 2),
        ("x x y y", 2),
        ("y x y", 3),
        ("x y x y", 4),
        ("line y", 2),
        ("line x y", 3),
    ],
)
def test_turns_are_runs_of_cuts_in_one_direction(order: str, turns: int) -> None:
    """The chain x y x has three runs, however many cuts a run has; a straightening cut is one of its own."""
    piece = Piece.of_size("p", "pear", inch(20), inch(20))
    cuts = []
    part = "S"
    for n, way in enumerate(order.split(), start=1):
        place = f"line 20 {n} 0 {n}" if way == "line" else f"{way} {n}"
        cuts.append(cut(n, part, place, f"low{n} part{n}"))
        part = f"part{n}"
    left = " ".join(f"low{n}" for n in range(1, len(cuts) + 1)) + " " + part
    for most, right in ((turns, True), (turns - 1, False), (None, True)):
        if most == 1:
            continue
        job = Job(
            fabrics=(PEAR,),
            pieces=(piece,),
            settings=Settings(turns=most),
            cuts=(Cut(name="big", width=inch(30), length=inch(30), importance="nice"),),
        )
        plan = Plan(
            job=job.digest,
            sources=(Source(id="S", piece="p"),),
            cuts=tuple(cuts),
            spare=spare(left),
            totals=totals(len(cuts), 0),
        )
        faults = [fault for fault in check(job, plan) if "direction" in fault]
        assert (faults == []) == right
        assert replay(job, plan).parts[part].turns == turns


def test_turns_are_counted_piece_by_piece() -> None:
    """Two pieces, one cut x y and the other y x: two turns each, not four."""
    job, plan = each()
    job = replace(job, settings=Settings(turns=2))
    assert check(job, replace(plan, job=job.digest)) == []


def test_ruler_widths_of_the_shrunk_length() -> None:
    """2 1/2 for three strips, 20 and 40 for two ends; 1/2 in squares up and leaves only spare cloth below."""
    job, plan = shrunk()
    assert ruler_widths(plan, replay(job, plan)) == {inch("2.5"), inch(20), inch(40)}


def test_a_ruler_width_counts_from_the_side_of_the_part() -> None:
    """The second cut at x 10 is 5 from the first; from below 5 once more: one width. Line cuts have none."""
    piece = Piece.of_size("p", "pear", inch(20), inch(5))
    job = Job(
        fabrics=(PEAR,),
        pieces=(piece,),
        cuts=(Cut(name="s", width=inch(5), length=inch(5), count=2),),
    )
    plan = Plan(
        job=job.digest,
        sources=(Source(id="S", piece="p"),),
        cuts=(cut(1, "S", "x 5", "a b"), cut(2, "b", "x 10", "c d")),
        uses=uses("cuts/s", "a c"),
        spare=spare("d"),
        totals=totals(2, 1),
    )
    assert check(job, plan) == []


def test_a_low_side_that_is_only_cut_again_needs_a_ruler_width_too() -> None:
    job, plan = ell()
    assert ruler_widths(plan, replay(job, plan)) == {inch(5)}
    bare = replace(plan, uses=())
    assert ruler_widths(bare, replay(job, bare)) == {
        inch(5)
    }  # the first cut, for the second; the others none
    assert (
        ruler_widths(
            replace(bare, cuts=bare.cuts[:1]),
            replay(job, replace(bare, cuts=bare.cuts[:1])),
        )
        == set()
    )


def test_a_cut_may_touch_a_corner_of_the_outline() -> None:
    """The cut at x 6 meets the tip of a notch just so: three parts, one left of it and two right."""
    piece = Piece(name="p", fabric="pear", outline=outline("0 0; 12 0; 6 4; 12 8; 0 8"))
    job = Job(
        fabrics=(PEAR,),
        pieces=(piece,),
        cuts=(Cut(name="bar", width=inch(6), length=inch(8)),),
    )
    plan = Plan(
        job=job.digest,
        sources=(Source(id="S", piece="p"),),
        cuts=(cut(1, "S", "x 6", "bar low high"),),
        uses=uses("cuts/bar", "bar"),
        spare=spare("low high"),
        totals=totals(1, 1),
    )
    assert check(job, plan) == []
    table = replay(job, plan)
    assert [
        max(y for bit in table.parts[p].shape for _, y in bit) for p in ("low", "high")
    ] == [inch(4), inch(8)]


def test_a_straightening_cut_counts_its_parts_along_its_way() -> None:
    """Across a U turned on its side, upward along x 8: the arm below is met first, and downward the one above."""
    piece = Piece(
        name="p",
        fabric="pear",
        outline=outline("0 0; 12 0; 12 3; 4 3; 4 5; 12 5; 12 8; 0 8"),
    )
    job = Job(
        fabrics=(PEAR,),
        pieces=(piece,),
        cuts=(Cut(name="tip", width=inch(4), length=inch(3), count=2),),
    )
    for line, gives in (("8 0 8 8", "rest low high"), ("8 8 8 0", "high low rest")):
        plan = Plan(
            job=job.digest,
            sources=(Source(id="S", piece="p"),),
            cuts=(cut(1, "S", f"line {line}", gives),),
            uses=uses("cuts/tip", "low high"),
            spare=spare("rest"),
            totals=totals(1, 0),
        )
        assert check(job, plan) == []
        corners = [p for bit in replay(job, plan).parts["low"].shape for p in bit]
        assert max(y for _, y in corners) == inch(3)


def test_shrinkage_is_rounded_down_to_the_tick() -> None:
    """1/3 off 18 in = 146 304 ticks leaves 97 536; a part of a tick that is left is not there."""
    oat = replace(OAT, shrink_across=Fraction(1, 3), shrink_along=Fraction(1, 7))
    for width, whole in (
        (inch(18), 97_536),
        (inch(18) + 1, 97_536),
        (inch(18) - 1, 97_535),
    ):
        job = replace(
            each()[0],
            fabrics=(oat,),
            shop=(replace(each()[0].shop[1], each_width=width),),
        )
        source = replace(each()[1].sources[0], width=width)
        plan = Plan(job=job.digest, sources=(source,))
        corners = set(replay(job, plan).parts["S"].shape[0])
        assert corners == {
            (x, y) for x in (0, whole) for y in (0, inch(18))
        }  # 6/7 of 21 in
        assert set(cloth_of(job, source).outline) == corners
        longer = replace(source, length=source.length + 1)
        job = replace(job, shop=(replace(job.shop[0], each_length=longer.length),))
        assert (
            set(replay(job, replace(plan, sources=(longer,))).parts["S"].shape[0])
            == corners
        )


def test_faults_speak_the_unit_of_the_job() -> None:
    """A metric job shows no inch."""
    mm = 320
    piece = Piece.of_size("p", "pear", 100 * mm, 100 * mm)
    job = Job(
        fabrics=(PEAR,),
        pieces=(piece,),
        settings=Settings.metric(),
        cuts=(Cut(name="card", width=100 * mm, length=90 * mm),),
        shop=(
            ByLength(
                fabric="pear",
                usable_width=1100 * mm,
                sold_by=100 * mm,
                price=Decimal(12),
            ),
        ),
    )
    plan = Plan(
        job=job.digest,
        sources=(
            Source(id="S", piece="p"),
            Source(
                id="T",
                bought="pear",
                width=1100 * mm,
                length=150 * mm,
                price=Decimal("1.80"),
            ),
        ),
        uses=uses("cuts/card", "S T"),
    )
    text = "\n".join(check(job, plan))
    assert "10 x 10 and must be 10 x 9." in text
    assert "0.15 m of pear, which is sold by 0.1 m." in text
    assert not re.search(r"\b(in|yd|inch)\b", text)


def test_names_of_the_same_piece_may_be_taken_as_often_as_there_are_copies() -> None:
    job, plan = together()
    assert check(job, plan) == []
    assert {source.copy for source in plan.sources if source.piece == "p"} == {1, 2, 3}


def test_a_plan_may_carry_its_job() -> None:
    job, plan = ell()
    assert check(job, replace(plan, origin=job)) == []


@pytest.mark.parametrize("turned", [True, False])
def test_a_piece_may_lie_anywhere_in_its_frame(turned: bool) -> None:
    """Measured from a corner that is not its own: 12 x 2 at (3, 5), one segment, one ruler width of 1 in."""
    size = (inch(12), inch(2)) if turned else (inch(2), inch(12))
    piece = Piece(
        name="band", fabric="pear", outline=rectangle(*size, inch(3), inch(5))
    )
    job = Job(
        fabrics=(PEAR,),
        pieces=(piece,),
        strips=(Strip(name="tie", width=inch(1), total_length=inch(12), join="none"),),
    )
    plan = Plan(
        job=job.digest,
        sources=(Source(id="S", piece="band"),),
        cuts=(cut(1, "S", "y 6" if turned else "x 4", "a b"),),
        uses=uses("strips/tie", "b", turned=turned),
        joins=(Join(for_="strips/tie", segments=("b",), join="none", length=inch(12)),),
        spare=spare("a"),
        totals=totals(1, 0),
    )
    assert check(job, plan) == []
    swapped = replace(
        plan,
        uses=uses("strips/tie", "a", turned=turned),
        spare=spare("b"),
        totals=totals(1, 1),
        joins=(replace(plan.joins[0], segments=("a",)),),
    )
    assert check(job, swapped) == []
    assert ruler_widths(swapped, replay(job, swapped)) == {inch(1)}


def test_what_is_bought_is_told_in_words() -> None:
    job, plan = shrunk()
    assert check(job, replace(plan, totals=replace(plan.totals, bought=()))) == [
        "The fabric bought comes to oat 1/4 yd (73152), and the plan says nothing."
    ]


def test_a_print_need_not_stand_up_where_the_row_does_not_ask() -> None:
    """A binding goes round four sides; a patch of a one-way print may lie as it will."""
    job, plan = grain()
    for upright in (True, False):
        laid = replace(
            job, cuts=(replace(job.cuts[0], upright=upright, count=1), *job.cuts[1:])
        )
        lying = replace(
            plan,
            job=laid.digest,
            sources=(Source(id="M", piece="m"), *plan.sources[2:]),
            uses=(*uses("cuts/leaf", "M", turned=True), *plan.uses[2:]),
        )
        assert check(laid, lying) == []
        along = replace(
            laid,
            fabrics=(
                PEAR,
                *(replace(fabric, one_way="along") for fabric in job.fabrics[1:]),
            ),
        )
        assert bool(check(along, replace(lying, job=along.digest))) == upright


@pytest.mark.parametrize("stands", ["", "along", "across"])
@pytest.mark.parametrize("upright", ["no", "along", "across"])
@pytest.mark.parametrize("turned", [False, True])
def test_how_a_print_stands_on_a_strip(
    stands: str, upright: str, *, turned: bool
) -> None:
    """A strip of 2 x 20, all of a piece that lies along the selvage, or across it where it is turned.

    Along the selvage, a print that stands up along it stands up along the strip; turned, across the strip.
    """
    sides = (inch(20), inch(2)) if turned else (inch(2), inch(20))
    strip = Strip(
        name="side",
        width=inch(2),
        total_length=inch(20),
        join="straight",
        upright=upright,
    )  # type: ignore[arg-type]
    print_ = replace(PEAR, one_way=stands)
    job = Job(
        fabrics=(print_,),
        pieces=(Piece.of_size("band", "pear", *sides),),
        strips=(strip,),
    )
    plan = Plan(
        job=job.digest,
        sources=(Source(id="S1", piece="band"),),
        uses=uses(strip.key, "S1", turned=turned),
        joins=(
            Join(for_=strip.key, segments=("S1",), join="straight", length=inch(20)),
        ),
        totals=totals(0, 0),
    )
    turned_to = {"": "", "along": "across", "across": "along"}
    on_the_strip = turned_to[stands] if turned else stands
    matters = stands != "" and upright != "no"
    faults = check(job, plan)
    assert [fault[:20] for fault in faults] == ["S1 for side lies the"] * (
        matters and upright != on_the_strip
    )
    unknown = replace(job, pieces=(replace(job.pieces[0], grain_known=False),))
    told = check(unknown, replace(plan, job=unknown.digest))
    assert any("unknown grain" in fault for fault in told) == matters


def test_ends_cut_at_45_degrees_cost_width_and_askew_seams() -> None:
    """Two of 40 in, 2 1/2 wide, seams of 1/4: 80 - 2 1/2 - 2 x 1/4 x 1.41421 = 76.7929 in, in ticks rounded down."""
    strip = Strip(name="tie", width=inch("2.5"), total_length=inch(60), join="pre-cut")
    reach = (
        2 * inch(40) - inch("2.5") - 5748
    )  # 1/2 in is 4064 ticks; 4064 x 1.41421356 = 5747.4
    assert check(*strip_plan(strip, "40", 2, reach)) == []
    assert check(*strip_plan(replace(strip, total_length=reach), "40", 2, reach)) == []
    assert check(*strip_plan(replace(strip, total_length=reach + 1), "40", 2, reach))
    assert check(
        *strip_plan(strip, "40", 2, 2 * inch(40) - inch("2.5"))
    )  # what a plain diagonal join would leave


def test_a_part_near_two_raw_edges_is_told_once() -> None:
    job, plan = ell()
    raw = replace(job, pieces=(replace(job.pieces[0], edges="raw"),))
    assert [fault[:12] for fault in check(raw, replace(plan, job=raw.digest))] == [
        "c for square",
        "e for square",
    ]


def test_extra_is_bought_and_shrinks_with_the_rest() -> None:
    """Washed 70 957 ticks; 8 in and 1/2 in to square up leave 1869 of them: 1926 x 0.97 = 1868.2."""
    job, plan = shrunk()
    for extra, right in ((1926, True), (1927, False)):
        more = replace(job, settings=replace(job.settings, extra=extra))
        assert (check(more, replace(plan, job=more.digest)) == []) == right


def test_a_length_of_a_single_tick_is_cloth() -> None:
    """It is off every step; but it is there, and told as what it is."""
    job, plan = shrunk()
    tick = replace(plan.sources[0], length=1, price=Decimal("0.00"))
    bolt = replace(job.fabrics[0], shrink_along=Fraction(0))
    job = replace(job, fabrics=(bolt,))
    faults = check(job, Plan(job=job.digest, sources=(tick,)))
    assert sum("sold by" in fault for fault in faults) == 1
    assert not any("nothing" in fault for fault in faults if fault.startswith("S1"))
    assert replay(job, Plan(job=job.digest, sources=(tick,))).parts["S1"].shape


COMB = outline(
    "0 0; 15 0; 15 5; 12 5; 12 2; 9 2; 9 6; 6 6; 6 2; 3 2; 3 7; 0 7"
)  # teeth 5, 4 and 3 above y 2


def boxes_after(
    ring: tuple[tuple[int, int], ...], place: str
) -> list[tuple[object, ...]]:
    """The extents of the parts of one cut, in the order in which the plan names them."""
    job = Job(
        fabrics=(PEAR,),
        pieces=(Piece(name="p", fabric="pear", outline=ring),),
        cuts=(Cut(name="s", width=inch(1), length=inch(1)),),
    )
    plan = Plan(
        job=job.digest,
        sources=(Source(id="S", piece="p"),),
        cuts=(cut(1, "S", place, "1 2 3 4"),),
    )
    table = replay(job, plan)
    assert table.faults == []
    return [
        tuple(Fraction(c, inch(1)) for c in box_of(table.parts[name].shape))
        for name in "1234"
    ]


def test_parts_come_in_the_order_of_the_contract() -> None:
    """The back of the comb first where it is below, its teeth from left to right; and so on for its mirror images."""
    teeth = [(0, 2, 3, 7), (6, 2, 9, 6), (12, 2, 15, 5)]
    back = (0, 0, 15, 2)
    assert boxes_after(COMB, "y 2") == [back, *teeth]
    assert boxes_after(tuple((y, x) for x, y in COMB), "x 2") == [
        (b, a, d, c) for a, b, c, d in (back, *teeth)
    ]
    upside = tuple((x, -y) for x, y in COMB)
    assert boxes_after(upside, "y -2") == [
        *((a, -d, c, -b) for a, b, c, d in teeth),
        (0, -2, 15, 0),
    ]
    sunk = tuple((x, y - inch(2)) for x, y in COMB)
    assert boxes_after(sunk, "y 0") == [
        (a, b - 2, c, d - 2) for a, b, c, d in (back, *teeth)
    ]
    aside = tuple((y - inch(2), x) for x, y in COMB)
    assert boxes_after(aside, "x 0") == [
        (b - 2, a, d - 2, c) for a, b, c, d in (back, *teeth)
    ]


@pytest.mark.parametrize("shift", [(0, 0), (100, 0), (0, 100), (-100, 0), (0, -100)])
def test_parts_of_a_straightening_cut_come_in_the_order_of_its_way(
    shift: tuple[int, int],
) -> None:
    """To the right (left of the way is above), to the left, up and down, wherever in the frame the piece lies."""
    dx, dy = shift
    ring = tuple((x + inch(dx), y + inch(dy)) for x, y in COMB)
    teeth = [
        (dx, dy + 2, dx + 3, dy + 7),
        (dx + 6, dy + 2, dx + 9, dy + 6),
        (dx + 12, dy + 2, dx + 15, dy + 5),
    ]
    back = (dx, dy, dx + 15, dy + 2)
    assert boxes_after(ring, f"line {dx} {dy + 2} {dx + 15} {dy + 2}") == [*teeth, back]
    assert boxes_after(ring, f"line {dx + 15} {dy + 2} {dx} {dy + 2}") == [
        back,
        *reversed(teeth),
    ]
    upright = tuple((y, x) for x, y in ring)
    standing = [(b, a, d, c) for a, b, c, d in teeth]
    spine = (dy, dx, dy + 2, dx + 15)
    assert boxes_after(upright, f"line {dy + 2} {dx} {dy + 2} {dx + 15}") == [
        spine,
        *standing,
    ]
    assert boxes_after(upright, f"line {dy + 2} {dx + 15} {dy + 2} {dx}") == [
        *reversed(standing),
        spine,
    ]
