"""Backing and batting to buy. Sums are identities; overages, seam and packaged sizes are common practice, no source."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.fabric import ByPiece, Fabric
from cutopt.lengths import INCH, YARD
from cutopt.quilt.backs import batting, compare, seams
from cutopt.quilt.backs.scraps import joined_scraps
from cutopt.quilt.backs.sewn import parts_of, strips_of
from cutopt.quilt.backs.way import OnHand, Way
from cutopt.quilt.backs.ways_to_buy import backing_ways
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import exact
from cutopt.quilt.top import Needed, Top, batting_size
from cutopt.quilt.wanted_parts import joined_count
from tests.quilt.backs.pocket_table import HOW, IDS, TABLE, Line, bolt, needed
from tests.quilt.sums import inch, inches, yards
from tests.worked.by_hand import backing_by_hand


def plain(need: Needed, usable: str, run: str) -> Way:
    """The way of whole widths in one direction."""
    ways = backing_ways(need, [bolt(usable)], HOW)
    plain_ = [
        w
        for w in ways
        if w.kind in ("one width", "2 widths", "3 widths", "4 widths") and w.run == run
    ]
    return min(
        plain_, key=lambda w: w.bought
    )  # the same with something to spare stands beside a tight one


@pytest.mark.parametrize("line", TABLE, ids=IDS)
def test_whole_widths(line: Line) -> None:
    """Identity; overages: common practice, no source."""
    quilt, overage, usable, up, across, eighths, quarters = line
    need = needed(quilt, overage)
    w = int(need.width.plain)
    h = int(need.length.plain)
    assert backing_by_hand(w, h, inch(usable), INCH // 2) == (
        up[1] * INCH,
        across[1] * INCH,
    )
    k = [joined_count(side, inch(usable), INCH) for side in (w, h)]
    assert (k[0], k[1]) == (up[0], across[0])
    best = min(up[1], across[1])
    assert yards(
        plain(need, usable, "up" if up[1] <= across[1] else "across").bought
    ) == _fraction(eighths)
    assert -(-best * 4 // 36) == _fraction(quarters) * 4
    ways = [way for way in backing_ways(need, [bolt(usable)], HOW) if way.complete]
    assert (
        min(way.net for way in ways) <= best * INCH
    )  # at least as good as the pocket table
    for way in ways:
        assert way.net >= compare.least_length(need, inch(usable))


def _fraction(text: str) -> Fraction:
    return Fraction(inch(text), INCH)


@pytest.mark.parametrize(
    ("k", "reach", "sides"),
    [(1, 42, (34, 32)), (2, 83, (75, 71)), (3, 124, (116, 110))],
)
def test_reach_of_panels(k: int, reach: int, sides: tuple[int, int]) -> None:
    """Identity: kU - 2g(k-1); less 8 the largest quilt side, at 42 and at 40."""
    assert k * 42 - (k - 1) == reach
    for usable, side in zip((42, 40), sides, strict=True):
        assert joined_count((side + 8) * INCH, usable * INCH, INCH) == k
        assert joined_count((side + 8) * INCH + 1, usable * INCH, INCH) == k + 1


def test_a_76_inch_side() -> None:
    """Identity: 3 panels at an overage of 4, 2 at 3 (82 <= 83)."""
    assert joined_count(inch("84"), inch("42"), INCH) == 3
    assert joined_count(inch("82"), inch("42"), INCH) == 2


def test_no_seam_in_the_middle() -> None:
    """Identity: 42 + 21 + 21 - 2 = 82 against 83."""
    way = next(
        w
        for w in backing_ways(needed("60 x 80", "4"), [bolt("42")], HOW)
        if "middle" in w.kind and w.run == "up"
    )
    assert [inches(panel.width) for panel in way.panels] == [21, 42, 21]
    assert (way.seams, inches(way.spare_across)) == (2, 82 - 68)
    middle = exact(inch("41"))
    assert all(seams.abs_(at - middle) > inch("10") for at in seams.seams_at(way))


def test_insert_saves_a_panel() -> None:
    """Identity: need 86 x 98: 84 + x - 2 >= 86, x = 4; a third panel would be 98 in = 2.72 yd."""
    ways = backing_ways(needed("78 x 90", "4"), [bolt("42")], HOW)
    way = next(w for w in ways if w.insert and w.run == "up")
    assert way.insert == (inch("4"), inch("98"))
    assert not way.complete
    assert (way.seams, way.net) == (2, 2 * inch("98"))
    held = backing_ways(
        needed("78 x 90", "4"),
        [bolt("42")],
        HOW,
        on_hand=[OnHand(name="scrap", width=inch("9"), length=inch("50"))],
    )
    served = next(w for w in held if w.insert and w.run == "up")
    assert (served.complete, served.from_hand, served.joins) == (True, ("scrap",), 1)


def test_wide_fabric() -> None:
    """Identity: 90 x 108 at 4: 98 x 116; 104 wide: 116 in = 3.22, 3 1/4 yd; turned where it fits."""
    ways = backing_ways(needed("90 x 108", "4"), [bolt("104")], HOW)
    assert [
        (w.kind, w.net, yards(w.bought)) for w in ways if w.kind == "one width"
    ] == [("one width", inch("116"), Fraction(13, 4))]
    turned = backing_ways(needed("60 x 80", "4"), [bolt("104")], HOW)
    assert {(w.run, w.net) for w in turned if w.kind == "one width"} == {
        ("up", inch("88")),
        ("across", inch("68")),
    }


def test_narrow_strip_pieced_across() -> None:
    """Identity: 36 x 44 at 4: 52 + 2 x 3 = 58 in, 1 5/8 yd, against 88 in; area bound 54.5 in."""
    need = needed("36 x 44", "4")
    best = backing_ways(need, [bolt("42")], HOW)[0]
    assert (best.kind, best.net, yards(best.bought)) == (
        "one width and a narrow strip",
        inch("58"),
        Fraction(13, 8),
    )
    assert [(inches(p.width), p.segments) for p in best.panels] == [(42, 1), (3, 2)]
    assert inches(compare.least_length(need, inch("42"))) == pytest.approx(
        54.5, abs=0.03
    )


def test_strip_rejoined_from_the_cut_off_length() -> None:
    """Identity, 44 x 52 at 42, all seams of 1/2: a strip of 11; 44 + 2 of seams are two of 13 and one of 20.

    Two stand in the cut-off length, 22 wide, and the third lies in the 20 that are left: 44 + 13 = 57.
    """
    ways = backing_ways(needed("36 x 44", "4"), [bolt("42")], HOW)
    way = next(w for w in ways if w.net == inch("57"))
    assert (way.run, way.seams, way.joins) == ("across", 1, 2)
    assert way.panels[-1].width == inch("11")
    assert 2 * 13 + 20 - 2 * 1 == 44
    (strip,) = strips_of(way.sewn)
    assert sorted(max(inches(p.width), inches(p.height)) for p in parts_of(strip)) == [
        13,
        13,
        20,
    ]


def test_strip_rejoined_from_both_directions() -> None:
    """Identity, 91 1/2 x 100 at 42: a strip of 9 1/2; 42 + 4 x 15 1/2 - 4 x 1 = 100.

    So 2 x 100 + 9 1/2 + 15 1/2 = 225, 6 1/4 yd.

    That takes the length to the last thread: it is not recommended first, and is listed with an eighth more as well.
    """
    ways = backing_ways(needed("83 1/2 x 92", "4"), [bolt("42")], HOW)
    kind = "2 widths and a strip sewn end to end from 5 pieces, cut along and across"
    tight = next(way for way in ways if way.net == inch("225") and way.tight)
    assert (tight.kind, tight.tight, yards(tight.bought)) == (
        kind,
        "nothing to spare along",
        Fraction(25, 4),
    )
    assert (tight.panels[-1].segments, tight.joins) == (5, 4)
    assert "1 strip across x 9 1/2 + 15 1/2 cut lengthwise in 4" in tight.why
    assert not ways[0].tight
    roomy = next(way for way in ways if way.net == inch("225") and not way.tight)
    assert yards(roomy.bought) == Fraction(51, 8)


def test_threshold() -> None:
    """Identity: at 42, overage 4: 88 in = 2 1/2 yd; 3: one panel, 1 1/2 yd; 2 3/4: exactly 1 3/8 yd."""
    assert yards(plain(needed("36 x 44", "4"), "42", "across").bought) == Fraction(5, 2)
    three = plain(needed("36 x 44", "3"), "42", "up")
    assert (three.net, yards(three.bought), three.tight) == (
        inch("50"),
        Fraction(3, 2),
        "nothing to spare across",
    )
    less = plain(needed("36 x 44", "2 3/4"), "42", "up")
    assert (less.net, yards(less.bought)) == (inch("49 1/2"), Fraction(11, 8))
    assert "along" in less.tight
    misses = compare.near_misses(needed("36 x 44", "4"), [bolt("42")], HOW)
    assert misses[0].told == (
        "1 less overage on every side saves 1 yd and 1 seam: cotton, one width, in place of 2 widths "
        "(tight: nothing to spare across)"
    )


def test_the_raw_top_is_half_an_inch_larger() -> None:
    """Identity: 36 x 44 finished is 36 1/2 x 44 1/2 raw, and 3 in a side needs 42 1/2: not one width of 42."""
    from dataclasses import replace

    raw = replace(HOW, overage_from="raw top")
    need = needed("36 x 44", "3", raw)
    assert need.width == inch("42 1/2")
    assert plain(need, "42", "up").kind == "2 widths"


def test_shrinkage_and_square_up_in_order() -> None:
    """Identity, order common practice, no source: the width is shrunk before it is counted, the length before rounding."""
    how = Conventions()
    fabric = Fabric(
        name="cotton", shrink_across=Fraction(3, 100), shrink_along=Fraction(3, 100)
    )
    need = Needed(
        what="backing",
        width=exact(inch("41")),
        length=exact(inch("65")),
        base="raw top",
        overage=(0, 0),
        why="",
    )
    ways = backing_ways(need, [bolt("42")], how, [fabric])
    assert all(
        w.kind != "one width" or w.run == "across" for w in ways
    )  # 40.74 does not cover 41
    narrow = Needed(
        what="backing",
        width=exact(inch("40")),
        length=exact(inch("65")),
        base="raw top",
        overage=(0, 0),
        why="",
    )
    way = next(
        w
        for w in backing_ways(narrow, [bolt("42")], how, [fabric])
        if w.kind == "one width"
    )
    assert yards(way.bought) == 2  # 66 / .97 = 68.04; 1 7/8 yd = 67 1/2 is short
    assert inches(way.spare_along) == pytest.approx(72 * 0.97 - 66)


def test_one_way_prints() -> None:
    """Sizes and words are invented."""
    need = needed("36 x 44", "4")
    print_ = Fabric(name="cotton", one_way="along")
    assert {
        w.run for w in backing_ways(need, [bolt("42")], HOW, [print_], upright=True)
    } == {"up"}
    assert {w.run for w in backing_ways(need, [bolt("42")], HOW, [print_])} == {
        "up",
        "across",
    }
    across = Fabric(name="cotton", one_way="across")
    assert {
        w.run for w in backing_ways(need, [bolt("42")], HOW, [across], upright=True)
    } == {"across"}


def test_both_the_cheapest_and_the_fewest_seams_are_offered() -> None:
    """Invented prices."""
    shop = [bolt("42", "cotton", "12.00"), bolt("104", "wide", "30.00")]
    cheap, easy = compare.choices(backing_ways(needed("36 x 44", "4"), shop, HOW), HOW)
    assert (cheap.way.fabric, cheap.way.money) == ("cotton", Decimal("19.50"))
    assert (easy.way.fabric, easy.way.money, easy.way.seams) == (
        "wide",
        Decimal("37.50"),
        0,
    )
    assert "18.00" in cheap.reason
    assert "18.00 more" in easy.reason


def test_sheets_and_pieces_on_hand() -> None:
    sheet = ByPiece(
        fabric="sheet",
        each_width=inch("66"),
        each_length=inch("96"),
        price=Decimal("8.00"),
    )
    ways = backing_ways(needed("60 x 80", "4"), [sheet], HOW)
    assert (ways[0].money, ways[0].seams) == (Decimal("16.00"), 1)
    assert (
        ways[0].kind == "2 pieces, 1 x 2"
    )  # 96 x 131 for 68 x 88: 28 to spare; 131 x 96 leaves 8 (identity)
    assert ways[1].kind == "2 pieces, 2 x 1"
    small = backing_ways(needed("36 x 44", "4"), [sheet], HOW)
    assert small[0].kind == "one piece"
    held = backing_ways(
        needed("36 x 44", "4"),
        [bolt("42", price="12.00")],
        HOW,
        on_hand=[OnHand(name="bale", width=inch("50"), length=inch("60"))],
    )
    assert (held[0].kind, held[0].money) == ("one piece on hand", Decimal(0))
    beside = backing_ways(
        needed("60 x 80", "4"),
        [bolt("42")],
        HOW,
        on_hand=[OnHand(name="bale", width=inch("30"), length=inch("90"))],
    )
    assert beside[0].kind == "bale and one width"
    assert beside[0].net == inch("88")


def test_a_seam_can_be_shifted_off_the_middle() -> None:
    """Arithmetic identity."""
    need = needed("60 x 80", "4")
    way = plain(need, "42", "up")
    shift = seams.shift_clear_of(way, need, [(inch("30"), inch("3"))])
    assert shift is not None
    assert seams.abs_(shift) == inch("3")
    tight = plain(needed("75 x 80", "4"), "42", "up")
    assert (
        seams.shift_clear_of(
            tight, needed("75 x 80", "4"), [(inch("37 1/2"), inch("3"))]
        )
        is None
    )


def test_the_table_reads_as_text() -> None:
    """Arithmetic identity."""
    rows = compare.table(
        backing_ways(needed("36 x 44", "4"), [bolt("42", price="12.00")], HOW), HOW
    )
    assert all(len(row) == len(compare.HEADER) for row in rows)
    assert rows[0][:7] == (
        "cotton",
        "one width and a narrow strip",
        "up",
        "58",
        "1 5/8 yd",
        "19.50",
        "1 + 1 short",
    )


@settings(max_examples=12, deadline=None)
@given(
    st.integers(20, 120),
    st.integers(20, 120),
    st.sampled_from(["40", "42", "56", "104"]),
)
def test_every_way_reaches(width: int, length: int, usable: str) -> None:
    """Sewn size = the sum less the seams, at any size; nothing below the area bound (identity)."""
    need = Needed(
        what="b",
        width=exact(width * INCH),
        length=exact(length * INCH),
        base="raw top",
        overage=(0, 0),
        why="",
    )
    hand = [OnHand(name="scrap", width=inch("9"), length=inch("30"))]
    for way in backing_ways(need, [bolt(usable)], HOW, on_hand=hand):
        across, along = (
            (need.width, need.length) if way.run == "up" else (need.length, need.width)
        )
        sewn = sum((panel.width for panel in way.panels), start=exact(0)) - INCH * (
            len(way.panels) - 1
        )
        assert sewn == across + way.spare_across
        assert way.spare_across >= 0
        assert all(panel.length >= along for panel in way.panels)
        assert way.bought >= way.net
        if way.complete and not way.from_hand:
            assert way.net >= compare.least_length(need, inch(usable))


BATTING = Conventions(overage_from="finished", square_up_end=0)


def ways_of(quilt: str, overage: str) -> tuple[batting.BattingWay, ...]:
    from dataclasses import replace

    how = replace(BATTING, back_overage=inch(overage))
    w, h = quilt.split(" x ")
    return batting.batting_ways(batting_size(Top.finished(w, h, how), how), how=how)


@pytest.mark.parametrize(
    ("quilt", "overage", "package", "never"),
    [
        pytest.param(
            "60 x 80",
            "4",
            "twin 72 x 90",
            "throw",
            id="68 x 88 fits twin: common practice, no source",
        ),
        pytest.param(
            "40 x 50",
            "4",
            "throw 60 x 60",
            "crib",
            id="48 x 58: crib fails by 3 in: common practice, no source",
        ),
        pytest.param(
            "90 x 108",
            "4",
            "king 120 x 120",
            "queen",
            id="98 x 116: king: common practice, no source",
        ),
    ],
)
def test_packaged_batting(quilt: str, overage: str, package: str, never: str) -> None:
    ways = [way for way in ways_of(quilt, overage) if way.pieces == 1]
    assert ways[0].what == package
    assert not any(way.what.startswith(never) for way in ways)


def test_a_package_with_nothing_to_spare_is_tight() -> None:
    """Common practice, no source: 45 x 55 equals the width of a crib package, which is not true to an inch."""
    ways = ways_of("40 x 50", "2 1/2")
    crib = next(way for way in ways if way.what.startswith("crib"))
    assert crib.tight
    assert ways[0].what == "throw 60 x 60"
    assert not ways[0].tight


def test_joined_batting() -> None:
    """Common practice, no source: butted edges lose nothing: two 30 x 60 make 60 x 60."""
    need = Needed(
        what="batting",
        width=exact(inch("60")),
        length=exact(inch("60")),
        base="raw top",
        overage=(0, 0),
        why="",
    )
    pair = [
        OnHand(name=name, width=inch("30"), length=inch("60")) for name in ("a", "b")
    ]
    joined = joined_scraps(pair, need)
    assert (joined.width, joined.missing) == (inch("60"), 0)
    straightened = joined_scraps(pair, need, straighten=INCH // 2)
    assert straightened.missing == INCH
    by_yard = batting.batting_ways(
        need, [bolt("45", "cotton batting", "9.00")], BATTING
    )
    whole = next(way for way in by_yard if way.kind == "2 widths up")
    assert (whole.joins, whole.money) == (1, Decimal("30.38"))
    assert all(len(row) == len(batting.HEADER) for row in batting.table(by_yard))


def test_batting_by_the_yard_is_joined_of_parts_too() -> None:
    """60 x 60 of 45, butted (identity): 45 x 60, and 15 x 60 of three times 15 x 20 side by side: 80 in, 2 1/4 yd.

    They fill the width to the last thread, so that is tight; a strip of 15 across and one of 15 more take 90.
    """
    by_yard = batting.batting_ways(
        to_reach("60", "60"), [bolt("45", "roll", "9.00")], BATTING
    )
    tight = next(way for way in by_yard if "from 3 pieces, up" in way.kind)
    assert (yards(tight.bought), tight.joins) == (Fraction(9, 4), 3)
    assert tight.tight
    assert not by_yard[0].tight
    assert by_yard[0].bought < 90 * INCH
    assert all(way.joins < batting.MOST_PARTS for way in by_yard)


def scraps(*sizes: str) -> list[OnHand]:
    pairs = (size.split(" x ") for size in sizes)
    return [
        OnHand(name=f"scrap {i}", width=inch(w), length=inch(h))
        for i, (w, h) in enumerate(pairs, 1)
    ]


def to_reach(width: str, length: str) -> Needed:
    return Needed(
        what="batting",
        width=exact(inch(width)),
        length=exact(inch(length)),
        base="raw top",
        overage=(0, 0),
        why="",
    )


def test_scraps_end_to_end() -> None:
    """Identity, butted: 30 and 20 make 50 for 48; the second column is 40 + 19 = 59 long, all of it 20 wide."""
    found = batting.batting_ways(
        to_reach("48", "58"), (), BATTING, scraps("30 x 60", "20 x 40", "20 x 19")
    )
    first = found[0]
    assert (first.money, first.joins, first.kind) == (0, 2, "joined")
    assert first.why == "30 + 20 = 50 for 48"
    assert [inches(side) for side in first.spare] == [2, 1]
    assert any(way.what == "throw 60 x 60" for way in found)


def test_what_scraps_do_not_reach_is_bought() -> None:
    """30 of 48 is there: 18 x 58 is wanting, 58 in of a roll 20 wide, or three times 18 in across it (identity)."""
    roll = bolt("20", "roll", "10.00")
    found = batting.batting_ways(
        to_reach("48", "58"), [roll], BATTING, scraps("30 x 60", "5 x 60")
    )
    best = found[0]
    assert (best.what, best.own) == ("roll", ("scrap 1",))
    assert best.told == "roll beside your own scrap 1"
    assert (yards(best.bought), best.money, best.joins) == (
        Fraction(3, 2),
        Decimal("15.00"),
        3,
    )
    assert found[1].told == best.told
    assert (yards(found[1].bought), found[1].money, found[1].joins) == (
        Fraction(13, 8),
        Decimal("16.25"),
        1,
    )
    assert found[-1].bought > best.bought


def test_only_ways_that_somebody_could_prefer() -> None:
    """Of the same batting none takes as much with as many joins, and no less of either (a way more is a choice).

    Arithmetic identity.
    """
    roll = bolt("90", "roll", "14.00")
    found = batting.batting_ways(
        to_reach("66", "82"), [roll], BATTING, scraps("30 x 60", "34 x 62")
    )
    sums = [(bool(way.tight), way.bought, way.joins) for way in found]
    for i, mine in enumerate(sums):
        for other in (*sums[:i], *sums[i + 1 :]):
            assert not all(a <= b for a, b in zip(other, mine, strict=True))
    assert any(way.own for way in found)
    assert any(not way.own for way in found)


def test_what_falls_short_is_told_with_how_much() -> None:
    """34 wide, 62 + 30 long; 34 of 62 leaves 28 x 78, for which a twin package is bought, and one is enough alone.

    Identity; packages: common practice, no source.
    """
    need = to_reach("62", "78")
    mine = scraps("30 x 60", "34 x 62")
    found = batting.batting_ways(need, (), BATTING, mine)
    assert not any(way.own for way in found)
    told = batting.falls_short(mine, need, found, BATTING)
    assert "scrap 1" in told
    assert "scrap 2" in told
    assert "reach 34 of 62: 28 x 78 more would be needed" in told
    assert batting.falls_short((), need, found, BATTING) == ""
    large = scraps("70 x 90")
    served = batting.batting_ways(need, (), BATTING, large)
    assert batting.falls_short(large, need, served, BATTING) == ""
    tiny = batting.falls_short(scraps("7 x 9"), need, found, BATTING)
    assert "cannot be joined to 62 long; the largest is 7 x 9" in tiny


def test_batting_of_the_shop_is_shrunk_and_has_an_end() -> None:
    """48 x 58 at 5 %: 58 / .95 = 61.05, 1 3/4 yd; without, 1 5/8 yd (identity). Of 1 1/2 yd it is not to be had."""
    roll = bolt("50", "roll", "10.00")
    wool = Fabric(name="roll", kind="batting", shrink_along=Fraction(5, 100))
    how = Conventions(square_up_end=0)
    plain_, washed = (
        batting.batting_ways(to_reach("48", "58"), [roll], how, (), f)
        for f in ((), (wool,))
    )
    up = [
        next(way for way in ways if way.kind == "one width up")
        for ways in (plain_, washed)
    ]
    assert [yards(way.bought) for way in up] == [Fraction(13, 8), Fraction(7, 4)]
    from dataclasses import replace

    few = batting.batting_ways(
        to_reach("48", "58"), [replace(roll, most=3 * YARD // 2)], how
    )
    assert all(way.kind != "one width up" for way in few)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(3, 60), st.integers(3, 60)), max_size=6),
    st.integers(20, 90),
    st.integers(20, 90),
)
def test_columns_are_cut_from_the_scraps(
    sizes: list[tuple[int, int]], width: int, length: int
) -> None:
    """Each scrap at most once, each column as long as needed, no more batting than there is (identity)."""
    mine = [
        OnHand(name=str(i), width=w * INCH, length=h * INCH)
        for i, (w, h) in enumerate(sizes)
    ]
    joined = joined_scraps(mine, to_reach(str(width), str(length)))
    names = [name for column in joined.columns for name in column.names]
    assert len(names) == len(set(names))
    for column in joined.columns:
        used = [sizes[int(name)] for name in column.names]
        assert all(
            max(size) >= inches(column.width) and min(size) >= 6 for size in used
        )
        assert column.length >= length * INCH
        assert column.width * column.length <= sum(w * h for w, h in used) * INCH * INCH
    assert joined.width == sum(
        (column.width for column in joined.columns), start=exact(0)
    )
    assert joined.missing == max(exact(0), width * INCH - joined.width)


def test_pieces_on_hand_side_by_side() -> None:
    """40 x 48, seam 1/2 (identity): 21 + 22 - 1 = 42 reach without buying; 12 + 12 + 42 - 2 = 64 beside one width."""
    need = needed("36 x 44", "2")
    cloth = [bolt("42")]
    hand = [
        OnHand(name="a", width=inch("21"), length=inch("50")),
        OnHand(name="b", width=inch("22"), length=inch("50")),
    ]
    way = backing_ways(need, cloth, HOW, on_hand=hand)[0]
    assert (way.kind, way.bought, way.seams, way.from_hand) == (
        "2 pieces on hand",
        0,
        1,
        ("b", "a"),
    )
    assert (inches(way.spare_across), inches(way.spare_along)) == (2, 2)
    narrow = [OnHand(name="n", width=inch("12"), length=inch("90"))] * 2
    beside = [
        way
        for way in backing_ways(needed("60 x 80", "2"), cloth, HOW, on_hand=narrow)
        if way.from_hand
    ]
    best = next(
        way for way in beside if way.kind == "2 of n and one width" and way.run == "up"
    )
    assert (inches(best.net), best.seams, inches(best.spare_across)) == (84, 2, 0)
    assert best.why.startswith("64 - 12 - 12 + 2 x 1 = 42; 1 x 42 = 42 for 42; ")


def test_out_of_one_piece_of_cloth_comes_one_rectangle() -> None:
    """Two rectangles of one piece are alternatives: 30 + 30 - 1 would reach 40, and there is one piece (identity)."""
    shapes = [
        OnHand(name=f"{w} of p", width=inch(w), length=inch("50"), out_of="p")
        for w in ("30", "20")
    ]
    ways = backing_ways(needed("36 x 44", "2"), [bolt("42")], HOW, on_hand=shapes)
    assert not any(way.kind == "2 pieces on hand" for way in ways)
    assert max(len(way.from_hand) for way in ways) == 1
    assert any(
        way.kind == "2 pieces on hand"
        for way in backing_ways(needed("36 x 44", "2"), [], HOW, on_hand=shapes * 2)
    )


pieces = st.lists(st.tuples(st.integers(8, 60), st.integers(8, 100)), max_size=5)


@given(pieces, st.integers(20, 70), st.integers(20, 90))
@settings(max_examples=20, deadline=None)
def test_what_is_sewn_of_pieces_on_hand_reaches(
    sizes: list[tuple[int, int]], wide: int, long: int
) -> None:
    """Identity: the widths less two seams at each join reach across, and every piece is as long as is needed."""
    hand = [
        OnHand(name=f"p{i}", width=w * INCH, length=n * INCH)
        for i, (w, n) in enumerate(sizes)
    ]
    need = needed(f"{wide} x {long}", "0")
    for way in backing_ways(need, [bolt("42")], HOW, on_hand=hand):
        across, along = (
            (need.width, need.length) if way.run == "up" else (need.length, need.width)
        )
        if len(way.from_hand) < 2:
            continue
        assert len(set(way.from_hand)) == len(way.from_hand)
        mine = [hand[int(name[1:])] for name in way.from_hand]
        assert all(max(held.width, held.length) >= along for held in mine)
        assert (
            sum((panel.width for panel in way.panels), start=exact(0))
            - (len(way.panels) - 1) * INCH
            >= across
        )
