"""Backing and batting to buy, as an answer. Sums are identities; overages and packages common practice, no source.

The sizes that all ways are compared on come from a table of whole widths of 42 in, 4 in more a side from the
finished size, back seams of 1/2 in (arithmetic identity, asserted row for row in tests/quilt).
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutopt.answers import backing_to_buy, batting_to_buy, with_search
from cutopt.answers.searched import as_job
from cutopt.check import check
from cutopt.errors import Problem
from cutopt.fabric import ByLength, ByPiece, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import CM, INCH, MM, YARD
from cutopt.quilt.backs.compare import least_length, plain_ways
from cutopt.quilt.backs.seams import abs_
from cutopt.quilt.backs.sewn import BackPart, Piecing
from cutopt.quilt.backs.way import OnHand
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.top import Top
from cutopt.settings import Settings
from cutopt.tables import pile, read_job
from cutopt.tables.recipe.quilt import quilt_of
from cutopt.wanted import Cut
from tests.places import ROOT
from tests.quilt.backs.pocket_table import HOW, IDS, TABLE, Line, needed
from tests.quilt.backs.pocket_table import bolt as bolt_of
from tests.quilt.sums import inch, yards

BARE = Conventions(overage_from="finished", square_up_end=0, back_overage=4 * INCH)


def bolt(
    name: str = "cotton", usable: int = 42, price: str | None = None, **more: int
) -> ByLength:
    return ByLength(
        fabric=name,
        usable_width=usable * INCH,
        sold_by=YARD // 8,
        price=Decimal(price) if price else None,
        **more,
    )


def finished(size: str, how: Conventions = BARE) -> Top:
    return Top.read(size, how, "finished")


@pytest.mark.slow
@pytest.mark.parametrize("line", TABLE, ids=IDS)
def test_the_general_solver_finds_nothing_better_than_the_ways(line: Line) -> None:
    """Whole widths as a pocket table counts them; the best way of all; and what the search buys for its panels.

    Its plans pass the checker and keep to the area bound, and none is shorter than the best of the ways.
    """
    size, overage, usable, *_, eighths, _ = line
    how = replace(HOW, back_overage=inch(overage))
    answer = backing_to_buy(needed(size, overage), [bolt_of(usable)], how)
    whole = min(plain_ways(answer.ways), key=lambda way: way.bought)
    assert yards(whole.bought) == Fraction(inch(eighths), INCH)
    shortest = min(way.bought for way in answer.ways if way.complete)
    assert shortest <= whole.bought
    assert (
        answer.best[0].way.bought <= whole.bought + YARD // 8
    )  # with something to spare
    found = with_search(answer, most=2)
    assert len(found) == 2
    assert min(each.bought for each in found) >= shortest
    for each in found:
        assert check(each.result.job, each.result.plan) == []
        assert each.bought >= least_length(answer.need, inch(usable))


def test_narrow_strip_beats_a_second_width() -> None:
    """36 x 44, 4 in a side: 52 + 2 x 3 = 58 in, 1 5/8 yd, against 88 in, 2 1/2 yd (arithmetic identity)."""
    answer = backing_to_buy(finished("36 x 44"), [bolt()], BARE)
    cheap = answer.best[0].way
    easy = answer.best[-1].way
    assert (cheap.net, Fraction(cheap.bought, YARD)) == (58 * INCH, Fraction(13, 8))
    assert (easy.seams, easy.joins) == (1, 0)
    assert "fewest seams" in answer.best[-1].reason


def test_both_are_offered_with_the_reason() -> None:
    """Wide fabric has no seam and costs more; both stand with why (sums: identities)."""
    answer = backing_to_buy("60 x 80", [bolt(price="10"), bolt("wide", 108, "30")])
    cheap = answer.best[0]
    easy = answer.best[-1]
    assert cheap.way.fabric == "cotton"
    assert easy.way.fabric == "wide"
    assert easy.way.seams == 0
    assert easy.way.money is not None
    assert cheap.way.money is not None
    assert str(easy.way.money - cheap.way.money) in cheap.reason
    said = " ".join(answer.said)
    assert "costs the least" in said
    assert "Fewest seams" in said
    assert "raw top 60 x 80" in said


def test_what_costs_least_is_not_said_against_the_table() -> None:
    """A way that needs other cloth besides may cost less in the table than the way that is recommended.

    86 x 98 to reach: two widths and an insert 4 wide are 2 x 98 in; a strip from the bolt is more (sums: identities).
    """
    answer = backing_to_buy(finished("78 x 90"), [bolt(price="10")], BARE)
    insert = next(way for way in answer.ways if way.insert is not None)
    assert insert.money is not None
    assert answer.best[0].way.money is not None
    assert insert.money < answer.best[0].way.money
    assert (
        "It costs the least there is of those that need no other cloth"
        in answer.said[1]
    )
    assert any("of other cloth, which is not counted" in row[-1] for row in answer.rows)
    own = backing_to_buy(
        "36 x 44", [bolt(price="10")], on_hand=pile("sheet 50 x 60")
    )  # nothing to buy is least of all
    assert "It costs the least" in own.said[1]
    assert "no other cloth" not in own.said[1]


def test_what_is_on_hand_is_used_first() -> None:
    answer = backing_to_buy(
        "36 x 44", [bolt(price="10")], on_hand=pile("sheet 50 x 60"), how=Conventions()
    )
    assert answer.best[0].way.money == 0
    assert answer.best[0].way.from_hand == ("sheet-1",)
    without = backing_to_buy("36 x 44", [bolt(price="10")])
    assert without.best[0].way.money != 0


def test_pieces_on_hand_are_counted_as_safe_cloth() -> None:
    """About 1/2 in off each edge of a rough measure, 1/4 in off a ragged one (defaults); what must stay stays."""
    about = Piece.of_size("a", "oat", 41 * INCH, 49 * INCH, about=True)
    raw = replace(about, about=False, edges="raw")
    kept = replace(about, about=False, wish="keep whole")
    shop = [bolt(price="10")]
    assert (
        backing_to_buy("36 x 44", shop, on_hand=[about]).best[0].way.money == 0
    )  # 40 x 48, no more
    assert (
        "nothing to spare"
        in backing_to_buy("36 x 44", shop, on_hand=[about]).best[0].way.tight
    )
    assert backing_to_buy("36 x 44 1/4", shop, on_hand=[about]).best[0].way.money != 0
    assert backing_to_buy("36 x 44 1/4", shop, on_hand=[raw]).best[0].way.money == 0
    assert backing_to_buy("36 x 44", shop, on_hand=[kept]).best[0].way.money != 0


def test_a_fit_with_nothing_to_spare_is_called_tight() -> None:
    """36 raw + 2 x 3 = 42 across: one width, nothing to spare (identity)."""
    answer = backing_to_buy("36 x 44", [bolt()], Conventions(back_overage=3 * INCH))
    one = next(
        way for way in answer.ways if way.kind == "one width" and way.run == "up"
    )
    assert one.tight == "nothing to spare across"


def test_a_tight_fit_is_not_recommended_where_another_serves() -> None:
    """42 of 42 across and 66 + 1 along, 1 7/8 yd; any seam takes 1 in more (identity). A sheet alone has no other."""
    answer = backing_to_buy(
        "36 x 60", [bolt(price="10")], Conventions(back_overage=3 * INCH)
    )
    assert all(not choice.way.tight for choice in answer.best)
    assert any(
        text.startswith("Less, but tight (nothing to spare across): cotton, one width")
        for text in answer.said
    )
    sheet = ByPiece(fabric="sheet", each_width=24 * INCH, each_length=24 * INCH)
    alone = backing_to_buy("20 x 20", [sheet])
    assert alone.best[0].way.tight
    assert any("Tight" in text and "measure first" in text for text in alone.said)


@pytest.mark.parametrize("shrink", [0, 3, 6])
@pytest.mark.parametrize(
    "size", ["36 x 44", "45 x 55", "53 x 53", "60 x 80", "64 x 71"]
)
@pytest.mark.parametrize("usable", [40, 42, 108])
def test_what_is_recommended_leaves_a_margin(
    shrink: int, size: str, usable: int
) -> None:
    """1/4 in of the washed length, and of the width where parts lie side by side: not a sixteenth (default)."""
    share = Fraction(shrink, 100)
    cloth = Fabric(name="cotton", shrink_across=share, shrink_along=share)
    how = Conventions()
    for choice in backing_to_buy(size, [bolt(usable=usable)], how, [cloth]).best:
        way = choice.way
        washed = way.bought * (1 - share) - 2 * how.square_up_end
        assert washed - way.net >= how.tight
        assert way.spare_along >= how.tight


def test_near_misses_are_told() -> None:
    """36 x 44: 1 in less a side makes one width do, 50 in for 88 (arithmetic identity)."""
    answer = backing_to_buy(finished("36 x 44"), [bolt()], BARE)
    assert any(
        "1 less overage on every side saves 1 yd" in text for text in answer.said
    )


def test_the_shop_has_only_so_much() -> None:
    answer = backing_to_buy(
        "60 x 80", [bolt(price="10", most=2 * YARD), bolt("wide", 108, "24")]
    )
    assert {way.fabric for way in answer.ways} == {"wide"}
    assert any("the shop has 2 yd" in text for text in answer.notes)


def test_only_the_fabrics_that_are_meant() -> None:
    job = read_job(ROOT / "data" / "orchard")
    assert {
        way.fabric for way in backing_to_buy("40 x 40", job, words=["oat"]).ways
    } == {"oat"}
    with pytest.raises(Problem, match="sells none of navy"):
        backing_to_buy("40 x 40", job, words=["navy"])


def test_shrinkage_of_the_job_counts_in_both_directions() -> None:
    """Width first: 42 x 0.97 = 40.74 no longer covers 41; length / (1 - p) (order: common practice, no source)."""
    shop = [bolt("cotton")]
    how = Conventions(back_overage=2 * INCH)
    kept = backing_to_buy("37 x 50", shop, how).best[0].way
    shrunk = Fabric(
        name="cotton", shrink_across=Fraction(3, 100), shrink_along=Fraction(4, 100)
    )
    washed = [
        way
        for way in backing_to_buy("37 x 50", shop, how, [shrunk]).ways
        if way.kind == "2 widths"
    ]
    assert kept.kind == "one width"
    assert washed
    assert "/ (1 - 4%)" in washed[0].why


def test_a_print_that_must_stand_up_lies_one_way() -> None:
    print_ = Fabric(name="cotton", one_way="along")
    answer = backing_to_buy("60 x 80", [bolt()], fabrics=[print_], upright=True)
    assert {way.run for way in answer.ways} == {"up"}


def test_a_seam_in_the_middle_is_told() -> None:
    """Two widths over 79 of 83: the seam can be shifted by 2 in, just clear of 2 in round the middle (identity)."""
    even = backing_to_buy(
        "79 x 90", [bolt()], Conventions(back_overage=2 * INCH, back_run="up")
    )
    two = next(way for way in even.ways if way.kind == "2 widths")
    assert two.lies == "in the middle"
    loose = backing_to_buy(
        "70 x 90", [bolt()], Conventions(back_overage=2 * INCH, back_run="up")
    )
    assert any("2 widths: shift it by 2 to one side" in text for text in loose.notes)


def test_sheets_by_the_piece() -> None:
    sheet = ByPiece(
        fabric="sheet", each_width=70 * INCH, each_length=96 * INCH, price=Decimal("15")
    )
    answer = backing_to_buy("60 x 80", [sheet])
    assert (answer.best[0].way.pieces, answer.best[0].way.money) == (
        1,
        Decimal("15.00"),
    )
    with pytest.raises(Problem, match="not bought by length"):
        as_job(answer.ways[0], answer)


def test_a_size_that_cannot_be_read() -> None:
    with pytest.raises(Problem, match="58 x 66"):
        backing_to_buy("58 or 66", [bolt()])


def test_nothing_in_the_shop_is_said() -> None:
    small = ByPiece(
        fabric="bit", each_width=5 * INCH, each_length=5 * INCH, price=Decimal("1")
    )
    answer = backing_to_buy("60 x 80", [small])
    assert answer.best == ()
    assert "Nothing in this shop" in " ".join(answer.said)


def test_the_orchard() -> None:
    """Raw top 42 1/2 x 48 1/2, 2 in a side: 46 1/2 x 52 1/2; oat 108 wide needs 52 1/2 + 1, so 1 1/2 yd (identity)."""
    job = read_job(ROOT / "data" / "orchard")
    made = quilt_of(job)
    assert made is not None
    assert made.top is not None
    answer = backing_to_buy(made.top, job, made.how, words=made.backing or ())
    assert (answer.need.width, answer.need.length) == (
        Fraction(93, 2) * INCH,
        Fraction(105, 2) * INCH,
    )
    easy = answer.best[-1].way
    assert (easy.fabric, easy.bought, easy.money) == (
        "oat",
        3 * YARD // 2,
        Decimal("32.40"),
    )
    assert len(answer.rows) == len(answer.ways) >= 5
    assert "All the ways" in answer._repr_html_()


def test_batting_takes_the_smallest_safe_package() -> None:
    """40 x 50, 4 in a side: 48 x 58; crib 45 x 60 fails, throw 60 x 60 fits (packages: common practice, no source)."""
    how = replace(BARE, batting_overage=4 * INCH)
    answer = batting_to_buy(finished("40 x 50", how), how=how)
    assert answer.ways[0].what == "throw 60 x 60"
    assert "smallest that is safe" in answer.said[1]
    assert "Batting to buy" in answer._repr_html_()


def test_batting_with_nothing_to_spare_is_tight() -> None:
    """45 x 55 in a crib package of 45 x 60: not true to an inch, no safe fit (common practice, no source)."""
    how = replace(BARE, batting_overage=5 * INCH // 2)
    crib = [ByPiece(fabric="crib", each_width=45 * INCH, each_length=60 * INCH)]
    answer = batting_to_buy(finished("40 x 50", how), crib, how)
    assert "tight fit" in answer.said[1]


def test_a_piece_on_hand_may_be_given_as_a_size() -> None:
    mine = OnHand(name="mine", width=60 * INCH, length=60 * INCH)
    answer = backing_to_buy("36 x 44", [bolt(price="10")], on_hand=[mine])
    assert answer.best[0].way.from_hand == ("mine",)


def test_a_near_miss_that_costs_more_than_what_is_to_be_had_is_none() -> None:
    """36 x 44 with 4 in a side: an inch less saves 1 yd of two widths, 12.00; a sheet for 7.00 serves already."""
    bolt = ByLength(
        fabric="oat", usable_width=42 * INCH, sold_by=YARD // 8, price=Decimal("8")
    )
    sheet = ByPiece(
        fabric="sheet", each_width=66 * INCH, each_length=96 * INCH, price=Decimal("7")
    )
    how = Conventions(machine="longarm", square_up_end=0)
    assert [miss.less for miss in backing_to_buy("36 x 44", [bolt], how).near] == [INCH]
    assert backing_to_buy("36 x 44", [bolt, sheet], how).near == ()


def test_a_square_top_has_each_way_once() -> None:
    """Up and across are the same there, where nothing is sewn and nothing stands up."""
    bolt = ByLength(
        fabric="oat", usable_width=42 * INCH, sold_by=YARD // 8, price=Decimal("8")
    )
    assert [way.kind for way in backing_to_buy("20 x 20", [bolt]).ways].count(
        "one width"
    ) == 1


@pytest.mark.parametrize(
    ("one_way", "size", "serves"),
    [
        ("along", "50 x 60", True),
        ("along", "60 x 50", False),
        ("across", "60 x 50", True),
        ("", "60 x 50", True),
    ],
)
def test_a_print_on_hand_stands_up_too(one_way: str, size: str, serves: bool) -> None:
    """44 x 52 is to be reached: a piece of 60 x 50 whose print stands along its 50 would have to be turned."""
    bolt = ByLength(fabric="oat", usable_width=42 * INCH, sold_by=YARD // 8)
    sprig = Fabric(name="sprig", one_way=one_way)  # type: ignore[arg-type]
    answer = backing_to_buy(
        "40 x 48", [bolt], fabrics=[sprig], on_hand=pile(f"sprig {size}"), upright=True
    )
    assert any(way.kind == "one piece on hand" for way in answer.ways) == serves
    beside = [way for way in answer.ways if way.kind == "sprig-1 and one width"]
    for way in beside:
        as_it_is = way.panels[0].width == inch(size.split(" x ", maxsplit=1)[0])
        upright = way.run == ("up" if as_it_is else "across")
        assert one_way == "" or upright == (one_way == "along")
    assert beside or serves


@pytest.mark.parametrize("size", ["42 1/2 x 48 1/2", "48 x 48", "55 x 62"])
@pytest.mark.parametrize("usable", [40, 42])
@pytest.mark.parametrize("machine", ["domestic", "longarm"])
def test_the_search_finds_nothing_that_the_ways_have_not(
    size: str, usable: int, machine: str
) -> None:
    """It is free in how it cuts the parts of a way, and in where a strip is joined."""
    answer = backing_to_buy(size, [bolt(usable=usable)], Conventions(machine=machine))  # type: ignore[arg-type]
    found = with_search(answer)
    assert min(each.bought for each in found) >= min(
        way.bought for way in answer.ways if way.complete
    )
    for each in found:
        assert check(each.result.job, each.result.plan) == []


def seams_in(node: Piecing) -> list[int]:
    return (
        []
        if isinstance(node, BackPart)
        else [node.seam, *(seam for each in node.parts for seam in seams_in(each))]
    )


def test_all_seams_of_a_back_are_of_one_width_that_is_told() -> None:
    """Joins of strips were reckoned at the 1/4 in of piecing beside long seams of 1/2 in, and neither was told."""
    answer = backing_to_buy("58 x 66", [bolt(price="8")], on_hand=pile("pear 20 x 40"))
    found = [seam for way in answer.ways for seam in seams_in(way.sewn)]
    assert any(way.joins for way in answer.ways)
    assert set(found) == {answer.how.back_seam} == {INCH // 2}
    assert (
        "All seams 1/2 in, joins of strips as well; all sizes are reckoned so."
        in answer.said
    )


def test_a_piece_that_is_kept_whole_is_named_as_left_out() -> None:
    """It said that nothing of one's own is large enough, the largest 2 1/2 x 42, beside a larger one kept whole."""
    (strip,) = pile("cream 2 1/2 x 42")
    (kept,) = pile("moss 21 x 18")
    answer = backing_to_buy(
        "58 x 66", [bolt()], on_hand=[strip, replace(kept, wish="keep whole")]
    )
    assert any(
        "Nothing of your own that may be cut is long and wide enough" in text
        for text in answer.said
    )
    assert any(
        text == f"Left out, as you wish to keep it: {kept.name}."
        for text in answer.said
    )


def test_money_of_a_backing_has_the_sign_of_the_job() -> None:
    """It stood on page 1 and not on the page of the backing."""
    job = Job(
        settings=Settings(currency="£"),
        fabrics=(Fabric(name="cotton"),),
        shop=(bolt(price="8"),),
        cuts=(Cut(name="slat", width=INCH, length=INCH),),
    )
    answer = backing_to_buy("58 x 66", job)
    money = answer.head.index("money")
    assert all(row[money].startswith("£") for row in answer.rows if row[money])
    assert any(", £" in text for text in answer.said)


def test_a_shift_lies_on_a_mark_of_the_ruler() -> None:
    """It said "shifted by 4.96" in a metric job."""
    how = Conventions.metric()
    shop = [ByLength(fabric="oat", usable_width=1077 * MM + 100, sold_by=10 * CM)]
    answer = backing_to_buy("150 x 190", shop, how)
    shifts = [by for way in answer.ways for by in way.shift if by]
    assert shifts
    assert all(by % how.ruler == 0 for by in (abs_(by).plain for by in shifts))


def test_batting_is_told_like_a_backing() -> None:
    """It said "Sum:", lengths with decimals after the wash, and money without the sign of the job."""
    plump = Fabric(
        name="plump",
        kind="batting",
        shrink_across=Fraction(3, 100),
        shrink_along=Fraction(3, 100),
    )
    row = ByLength(
        fabric="plump",
        usable_width=90 * INCH,
        sold_by=YARD // 8,
        price=Decimal("9"),
    )
    job = Job(
        settings=Settings(currency="£"),
        fabrics=(plump,),
        shop=(row,),
        cuts=(Cut(name="slat", width=INCH, length=INCH, fabrics=("plump",)),),
    )
    answer = batting_to_buy("58 x 66", job)
    sums = " ".join(answer.said[1:]).replace("£", "")
    # 62 in and 1 in to square up are 63; 63 / 0.97 is 64.95 (identity)
    assert " = 63, / (1 - 3%) = 65, buy 1 7/8 yd" in sums
    assert any(
        ", £" in text and "How much that takes: " in text for text in answer.said
    )
    assert not any("Sum:" in text for text in answer.said)
    assert all(row[3].startswith("£") for row in answer.rows)


def test_a_top_is_called_as_it_was_measured() -> None:
    """Raw and trimmed tops are of one size, so the sum is the same: 58 + 2 x 2 = 62 (identity)."""
    how = Conventions()
    for base in ("raw top", "trimmed"):
        need = backing_to_buy(Top.read("58 x 66", how, base), [bolt()], how).need  # type: ignore[arg-type]
        assert need.why == f"{base} 58 x 66 + 2 on every side = 62 x 70"


def test_money_that_is_saved_stands_with_what_it_is_saved_against() -> None:
    """The lower bound has a sentence of its own, so that no difference is read as one to the bound."""
    answer = backing_to_buy("50 x 60", [bolt(price="10")])
    cheap = answer.best[0]
    assert len(answer.best) > 1
    first, _, rest = cheap.reason.partition(". ")
    assert "less than the one with the fewest seams" in first
    assert "no way" not in first.lower()
    assert rest.startswith("No way with something to spare")


def test_what_is_cut_to_size_needs_no_spare() -> None:
    """A strip cut to the size to reach leaves 0 across by intent, and is not told as if it were tight."""
    answer = backing_to_buy(finished("36 x 44"), [bolt()], BARE)
    fitted = [
        row
        for way, row in zip(answer.ways, answer.rows, strict=True)
        if way.fitted and not way.spare_across and not way.tight
    ]
    assert fitted
    assert {row[8] for row in fitted} == {"cut to size"}
