"""Worked numbers of the trade, reproduced through what a maker and a notebook use: sentences, tables, `import cutopt`.

Provenance stands with each line: identity (it follows from geometry or counting), common practice, no source (from
memory, or seen on pages of makers), a standard or a publication by name. The numbers come from no program.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

import cutopt as co
from cutopt.lengths import CM, INCH, METRE, MM, YARD, parse_length
from tests.quilt.backs.pocket_table import TABLE as BACKINGS
from tests.quilt.backs.pocket_table import Line as Backing
from tests.quilt.sums import inch
from tests.worked.pocket_tables import (
    BINDING,
    CLOTHS,
    ON_POINT,
    ONCE,
    RECTANGLES,
    SQUARES,
    STRIPS,
)
from tests.worked.said_rows import (
    ARTICLES,
    EDGES,
    METRIC,
    SETTINGS,
    SIZES,
    UNITS_OF_PATCHWORK,
    Line,
    blocks,
    sewn,
)
from tests.worked.told import CENTIMETRES, INCHES, Told, told

OAT = (co.Fabric(name="oat"),)
BARE = co.Settings(square_up=0, square_up_end=0)
IN_INCHES = (*UNITS_OF_PATCHWORK, *SETTINGS, *EDGES, *ARTICLES)


def length(text: str, unit: str) -> Fraction:
    """A length as typed, in the unit."""
    ticks = parse_length(text, unit)  # type: ignore[arg-type]
    return Fraction(ticks, {"in": INCH, "cm": CM}[unit])


@pytest.mark.parametrize(
    ("line", "settings"),
    [
        *((line, INCHES) for line in IN_INCHES),
        *((line, CENTIMETRES) for line in METRIC),
    ],
    ids=[f"{line[0]}: {line[1]}" for line in (*IN_INCHES, *METRIC)],
)
def test_the_rows_of_a_sentence(line: Line, settings: str, tmp_path: Path) -> None:
    """Each line has its own provenance: identity, or common practice, no source."""
    made = told(tmp_path / "told", line[2], settings)
    unit = made.job.settings.unit
    for word, (count, across, along) in line[3].items():
        got = made.only(word)
        assert got[0] == count
        for size, wanted in zip(got[1:], (across, along), strict=True):
            assert not wanted or size == length(wanted, unit), (word, got)


@pytest.mark.parametrize("line", SIZES, ids=[f"{line[0]}: {line[1]}" for line in SIZES])
def test_the_finished_size(
    line: tuple[str, str, str, tuple[float, float]], tmp_path: Path
) -> None:
    """Arithmetic identities."""
    made = told(tmp_path / "told", line[2])
    assert made.finished == pytest.approx(line[3], abs=0.005)


@pytest.mark.parametrize("rule", ["exact", "rule"])
@pytest.mark.parametrize(
    "line", ON_POINT, ids=[f"block {line[0]}" for line in ON_POINT]
)
def test_setting_squares_on_point(
    line: tuple[str, float, float, str, float, float, str], rule: str, tmp_path: Path
) -> None:
    """S14, S15 and the table: the exact need is an identity, 1 1/4 and 7/8 are common practice, no source."""
    block, _, _, side, _, _, corner = line
    how = f'[how]\nsetting_triangles = "{rule}"\n'
    made = told(
        tmp_path / "told",
        sewn(f"5 squares of {block}", "2 across, 2 down, on point", how),
    )
    if rule == "exact":
        side = ONCE.get(block, side)
    assert made.only("side")[1] == length(side, "in")
    assert made.only("corner")[1] == length(corner, "in")


def test_areas_of_geese_and_logs(tmp_path: Path) -> None:
    """Identity: 112.625 sq in for four geese, 189 by stitch and flip; 66 in of log 1 1/2 wide; 54 squares make 24 units."""
    areas = [
        sum(n * w * h for n, w, h in told(tmp_path / "g", blocks(text)).rows.values())
        for text in ("4 flying geese of 6", "4 flying geese of 6, stitch and flip")
    ]
    assert areas == [Fraction("112.625"), 189]
    cabin = told(tmp_path / "c", blocks("1 log cabin, centre 2, logs 1, rounds 3")).rows
    logs = [h for n, w, h in cabin.values() if w == Fraction(3, 2)]
    assert sum(logs) == 66
    nine = told(tmp_path / "n", blocks("24 disappearing nine patches of 5 cut")).rows
    assert sum(n for n, _, _ in nine.values()) == 54


def test_lengths_as_typed() -> None:
    """U1, U2: international yard and pound agreement 1959, NIST Handbook 44; U4: identity."""
    for said, other in (
        ("1 in", "25.4 mm"),
        ("12 1/2 in", "317.5 mm"),
        ("5 yd", "4.572 m"),
        ("1 yd", "36 in"),
        ("1/16 in", "1.5875 mm"),
        ("1/8 in", "3.175 mm"),
    ):
        assert parse_length(said, "in") == parse_length(other, "in")
    # 1/80 mm is a whole number of ticks
    assert (MM % 80, INCH % (MM // 80), YARD // (MM // 80)) == (0, 0, 73_152)
    (piece,) = co.pile("oat 1 yd x 91.44 cm")
    assert piece.size == (YARD, YARD)


def bought(
    cut: tuple[int, int, int],
    usable: int = 42 * INCH,
    step: int = YARD // 8,
    settings: co.Settings = BARE,
    shrinks: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0)),
    price: Decimal | None = None,
) -> tuple[int, Decimal | None]:
    """Length bought for so many of one cut with its length along the selvage, and what it costs.

    Parameters
    ----------
    cut : how many, width and length
    usable, step : of the shop
    settings : of the job
    shrinks : across and along
    price : a yard
    """
    count, width, long = cut
    across, along = shrinks
    fabric = co.Fabric(name="oat", shrink_across=across, shrink_along=along)
    row = co.ByLength(fabric="oat", usable_width=usable, sold_by=step, price=price)
    part = co.Cut(name="c", count=count, width=width, length=long, grain="along")
    job = co.Job(settings=settings, fabrics=(fabric,), shop=(row,), cuts=(part,))
    result = co.solve(job, co.Work(100))
    assert result.complete
    assert co.check(job, result.plan) == []
    (one,) = result.plan.totals.bought
    return one.amount, result.plan.totals.money


@pytest.mark.slow
@pytest.mark.parametrize(
    ("need", "eighths", "quarters", "tens"),
    [
        ("36", "1", "1", "1"),
        ("36 1/8", "1 1/8", "1 1/4", "1"),
        ("97", "2 3/4", "2 3/4", "2.5"),
        ("145", "4 1/8", "4 1/4", "3.7"),
        ("65", "1 7/8", "2", "1.7"),
        ("31 1/2", "7/8", "1", "0.9"),
        ("47 1/2", "1 3/8", "1 1/2", "1.3"),
        ("20", "5/8", "3/4", "0.6"),
        ("15 3/4", "1/2", "1/2", "0.5"),
    ],
)
def test_a_length_is_rounded_up_once(
    need: str, eighths: str, quarters: str, tens: str
) -> None:
    """U6, U7, U11, N6, Y2 to Y5: numbers are identities, the steps of shops common practice, no source."""
    cut = (1, inch("40"), inch(need))
    assert Fraction(bought(cut)[0], YARD) == Fraction(inch(eighths), INCH)
    quarter = bought(cut, step=YARD // 4)[0]
    assert Fraction(quarter, YARD) == Fraction(inch(quarters), INCH)
    if tens != "1":
        metric = bought(cut, step=10 * CM)[0]
        assert metric == Fraction(tens) * METRE


@pytest.mark.parametrize(
    ("yards", "inches", "metres"),
    [
        ("1/8", "4 1/2", "0.2"),
        ("1/4", "9", "0.3"),
        ("1/3", "12", "0.4"),
        ("3/8", "13 1/2", "0.4"),
        ("1/2", "18", "0.5"),
        ("5/8", "22 1/2", "0.6"),
        ("2/3", "24", "0.7"),
        ("3/4", "27", "0.7"),
        ("7/8", "31 1/2", "0.9"),
        ("1", "36", "1.0"),
    ],
)
def test_yards_bought_in_tens_of_centimetres(
    yards: str, inches: str, metres: str
) -> None:
    """Identity: the table of yards; up to 10 cm."""
    assert Fraction(yards) * YARD == inch(inches)
    cut = (1, inch("40"), inch(inches))
    assert bought(cut, step=10 * CM)[0] == Fraction(metres) * METRE


@pytest.mark.slow
def test_shrinkage_squaring_up_and_extra() -> None:
    """W13, W14, Y1, Y6: sums are identities, their order and extra common practice, no source."""
    five, four, three = (Fraction(n, 100) for n in (5, 4, 3))
    none = Fraction(0)
    cut = (1, inch("40"), inch("36"))
    assert bought(cut, step=INCH // 8, shrinks=(none, five))[0] == inch("38")  # 37.895
    cut = (1, inch("40"), inch("60"))
    assert bought(cut, shrinks=(none, four))[0] == 7 * YARD // 4
    ends = co.Settings(square_up=0, square_up_end=INCH // 2)
    cut = (1, inch("40"), inch("65"))
    assert bought(cut, settings=ends, shrinks=(none, three))[0] == 2 * YARD
    assert bought(cut)[0] == 15 * YARD // 8
    more = co.Settings(square_up=0, square_up_end=0, extra=YARD // 8)
    assert bought(cut, settings=more)[0] == 2 * YARD
    # a yard at 4 % along and 2 % across is 34.56 x 41.16
    both = (Fraction(2, 100), four)
    for long, yards in (("34 1/2", 1), ("34 5/8", 2)):
        cut = (1, inch("41 1/8"), inch(long))
        assert bought(cut, step=YARD, shrinks=both)[0] == yards * YARD
    # 42 in that shrink by 3 % hold 6 squares of 6 and not 7
    seven = (7, inch("6"), inch("6"))
    assert bought(seven, step=INCH)[0] == inch("6")
    assert bought(seven, step=INCH, shrinks=(three, none))[0] == inch("12")


@pytest.mark.slow
def test_widths_prices_and_fat_quarters() -> None:
    """Y7, Y8, Y9: identities; the price is invented."""
    squares = (99, inch("5"), inch("5"))
    assert bought(squares, step=INCH)[0] == inch("65")
    assert bought(squares, usable=inch("56"), step=INCH)[0] == inch("45")
    cut = (1, inch("40"), inch("176"))
    assert bought(cut, price=Decimal("12.99")) == (5 * YARD, Decimal("64.95"))
    quarter = co.ByPiece(fabric="oat", each_width=inch("21"), each_length=inch("18"))
    part = co.Cut(name="c", count=80, width=inch("4 1/2"), length=inch("4 1/2"))
    job = co.Job(settings=BARE, fabrics=OAT, shop=(quarter,), cuts=(part,))
    result = co.solve(job, co.Work(100))
    assert result.complete
    assert len(result.plan.sources) == 5


def all_there(
    piece: str, count: int, a: int, b: int, *, upright: bool = False, work: int = 300
) -> bool:
    """Whether so many cuts come from one piece.

    Parameters
    ----------
    piece : as in pile.txt
    count, a, b : how many cuts, across and along
    upright : whether they may not be turned
    work : rounds of the search
    """
    part = co.Cut(name="c", count=count, width=a, length=b, upright=upright)
    fabrics = (co.Fabric(name="oat", one_way="along"),) if upright else OAT
    job = co.Job(settings=BARE, fabrics=fabrics, pieces=co.pile(piece), cuts=(part,))
    result = co.solve(job, co.Work(work))
    assert co.check(job, result.plan) == []
    return bool(result.complete)


@pytest.mark.slow
@pytest.mark.parametrize("side", SQUARES)
def test_squares_from_a_fat_quarter(side: str) -> None:
    """Section of counts: identity (points m x k); as many as the table says come from 18 x 21, and not one more."""
    count = SQUARES[side][4]
    size = inch(side)
    assert all_there("oat 21 x 18", count, size, size)
    if count <= 12:
        assert not all_there("oat 21 x 18", count + 1, size, size, work=50)


@pytest.mark.slow
@pytest.mark.parametrize("side", SQUARES)
def test_squares_from_all_cloths_of_the_table(side: str) -> None:
    """Identity: yard, 36 x 40, 35 x 42, half yard, fat quarters of three widths, fat eighth."""
    size = inch(side)
    for (long, wide), count in zip(CLOTHS, SQUARES[side], strict=True):
        assert not count or all_there(f"oat {wide} x {long}", count, size, size)


@pytest.mark.parametrize("strip", STRIPS)
def test_strips_from_a_length(strip: str) -> None:
    """Identity: strips selvage to selvage of a yard and of a quarter."""
    for long, at in (("36", 3), ("9", 1)):
        count = STRIPS[strip][at]
        if count:
            assert all_there(f"oat 42 x {long}", count, inch("42"), inch(strip))
        if count < 8:
            more = all_there(
                f"oat 42 x {long}", count + 1, inch("42"), inch(strip), work=50
            )
            assert not more


@pytest.mark.slow
@pytest.mark.parametrize("piece", RECTANGLES, ids=[f"{a} x {b}" for a, b in RECTANGLES])
def test_rectangles_turned_and_upright(piece: tuple[str, str]) -> None:
    """Identity (exact dynamic programme by hand, area bound): the best of both ways, and fewer where none is turned."""
    a, b = map(inch, piece)
    *_, best, along, other, quarter = RECTANGLES[piece]
    assert all_there("oat 42 x 36", best, a, b, work=2000)
    assert all_there("oat 21 x 18", quarter, a, b)
    for count, sides in ((along, (a, b)), (other, (b, a))):
        assert not count or all_there("oat 21 x 18", count, *sides, upright=True)


@pytest.mark.slow
def test_what_a_print_that_stands_up_costs() -> None:
    """C13: identity; of 2 1/2 x 12 1/2 a yard has 44, and 32 that stand up."""
    a, b = inch("2 1/2"), inch("12 1/2")
    assert all_there("oat 42 x 36", 32, a, b, upright=True)
    assert not all_there("oat 42 x 36", 33, a, b, upright=True, work=50)
    assert all_there("oat 42 x 36", 44, a, b, work=2000)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("piece", "cut", "count"),
    [
        ("10 x 10", "5", 4),
        ("10 x 10", "2 1/2", 16),
        ("6 1/2 x 6 1/2", "3 1/4", 4),
        ("4 1/2 x 4 1/2", "1 1/2", 9),
        ("9 x 9", "4 1/2", 4),
        ("13 x 13", "6 1/2", 4),
        ("5 x 5", "2", 4),
        ("4 1/2 x 4 1/2", "2", 4),
        ("42 x 36", "18", 4),
        ("54 x 36", "18", 6),
        ("22 x 18", "2 1/2", 56),
        ("22 x 18", "5", 12),
        ("21 x 18", "10", 2),
        ("42 x 2 1/2", "2 1/2", 16),
    ],
)
def test_nested_sizes(piece: str, cut: str, count: int) -> None:
    """W8, W9, L4, L14 and the counts that printed lists miss: identities."""
    size = inch(cut)
    assert all_there(f"oat {piece}", count, size, size)
    assert not all_there(f"oat {piece}", count + 1, size, size, work=50)


def test_precuts_and_what_an_l_holds() -> None:
    """W3 to W9: sizes common practice, no source; areas: identities. C16, L3: identities."""
    areas = {
        "oat 21 x 18": 378,
        "oat 42 x 9": 378,
        "oat 21 x 9": 189,
        "42 squares oat 5 cut": 1050,
        "42 squares oat 10 cut": 4200,
        "40 strips oat 2 1/2 x 42": 4200,
        "oat 42 x 36 less 30 x 20": 912,
    }
    for said, area in areas.items():
        pieces = co.pile(said)
        assert sum(each.count * each.area for each in pieces) == area * INCH**2
    (metric,) = co.pile("oat 50 cm x 55 cm")
    assert metric.area / INCH**2 == pytest.approx(426.3, abs=0.06)


def backed(folder: Path, top: str, overage: str, usable: str = "") -> Told:
    """A finished top with backing and batting, the overage counted from the size that is named.

    Parameters
    ----------
    folder : where the job is written
    top, overage : as typed
    usable : width of the cloth
    """
    return told(
        folder / "back",
        f'top = "{top}"\nmeasured = "finished"\nbinding = "no"\nbacking = "oat"\nbatting = "any"\n'
        f'[how]\noverage_from = "finished"\nback_overage = "{overage}"\n',
        f"{INCHES}square_up_end = 0\n",
        usable,
    )


@pytest.mark.parametrize(
    ("top", "overage", "usable", "kind", "yards"),
    [
        ("36 x 44", "4", "42", "one width and a narrow strip", "1 5/8"),
        ("36 x 44", "3", "42", "one width", "1 1/2"),
        ("36 x 44", "2 3/4", "42", "one width", "1 3/8"),
        ("90 x 108", "4", "104", "one width", "3 1/4"),
        ("60 x 80", "4", "42", "2 widths", "5"),
    ],
)
def test_backings_near_a_threshold(
    top: str, overage: str, usable: str, kind: str, yards: str, tmp_path: Path
) -> None:
    """K5, K12 and the threshold of 36 x 44: identities; overages common practice, no source."""
    from cutopt.answers import backing_to_buy

    made = backed(tmp_path, top, overage, usable)
    ways = backing_to_buy(made.quilt, made.job).ways
    least = min(way.bought for way in ways if way.kind == kind)
    assert Fraction(least, YARD) == Fraction(inch(yards), INCH)


@pytest.mark.parametrize(
    ("top", "overage", "first", "tight"),
    [
        ("40 x 50", "4", "throw 60 x 60", None),
        # 45 x 55 equals the width of a crib package: it is never first
        ("40 x 50", "2 1/2", "throw 60 x 60", "crib 45 x 60"),
        ("60 x 80", "4", "twin 72 x 90", None),
        ("90 x 108", "4", "king 120 x 120", None),
    ],
)
def test_packages_of_batting(
    top: str, overage: str, first: str, tight: str | None, tmp_path: Path
) -> None:
    """K8, K9: sizes of packages common practice, no source (seen, all but throw)."""
    from cutopt.answers import batting_to_buy

    made = backed(tmp_path, top, overage)
    ways = batting_to_buy(made.quilt, made.job).ways
    assert ways[0].what == first
    assert [way.what for way in ways if way.tight] == ([tight] if tight else [])


def test_borders_along_the_selvage_and_a_binding_of_one_strip() -> None:
    """B12, L16: identities; the sizes common practice, no source."""
    sides = (4, inch("6 1/2"), inch("80 1/2"))
    assert bought(sides) == (9 * YARD // 4, None)
    for wide, there in (("42", True), ("41", False)):
        strip = co.Strip(name="binding", width=inch("2 1/2"), total_length=inch("42"))
        job = co.Job(
            settings=BARE,
            fabrics=OAT,
            pieces=co.pile(f"oat {wide} x 2 1/2"),
            strips=(strip,),
        )
        assert co.solve(job, co.Work(50)).complete == there


@pytest.mark.parametrize(
    "line", BACKINGS, ids=[" ".join(line[:3]) for line in BACKINGS]
)
def test_backing_to_buy(line: Backing, tmp_path: Path) -> None:
    """K1 to K7 and the table of backings: identities; overage and seam common practice, no source (seen)."""
    from cutopt.answers import backing_to_buy

    top, overage, usable, up, across, eighths, _ = line
    made = backed(tmp_path, top, overage, usable)
    answer = backing_to_buy(made.quilt, made.job)
    whole = {
        way.run: way.bought
        for way in answer.ways
        if way.kind in ("one width", f"{up[0]} widths", f"{across[0]} widths")
        and way.complete
    }
    table = Fraction(inch(eighths), INCH) * YARD
    assert min(whole.values()) == table
    need = (int(side) + 2 * int(overage) for side in top.split(" x "))
    wide, long = need
    least = wide * long * INCH // int(usable)
    assert least <= answer.best[0].way.bought <= table


@pytest.mark.parametrize(
    ("join", "strips", "reach", "more"),
    [
        ("diagonal", 7, "279", "279 1/8"),
        ("straight", 7, "291", "291 1/8"),
        # 233.46 and one width of 2 1/2 for the two ends; each join is counted up to the grid of 1/8
        ("pre-cut", 6, "235 3/4", "236"),
        # 15 segments of 15 in reach 190, T of 40 x 50
        ("diagonal", 15, "190", "190 1/8"),
    ],
)
def test_what_joined_strips_reach(
    join: str, strips: int, reach: str, more: str
) -> None:
    """N2 to N5, N16: identities, seam 1/4 and strip 2 1/2."""
    wide = "15" if strips == 15 else "42"
    for total, there in ((reach, True), (more, False)):
        strip = co.Strip(
            name="binding",
            width=inch("2 1/2"),
            total_length=inch(total),
            join=join,  # type: ignore[arg-type]
        )
        pieces = co.pile(f"{strips} strips oat {wide} x 2 1/2")
        job = co.Job(settings=BARE, fabrics=OAT, pieces=pieces, strips=(strip,))
        assert co.solve(job, co.Work(50)).complete == there


@pytest.mark.parametrize("line", BINDING, ids=[f"{w} x {h}" for w, h, *_ in BINDING])
def test_binding_to_buy(line: tuple[object, ...], tmp_path: Path) -> None:
    """N1, N6 and the table of strips: sums are identities, widths and the allowance of 10 common practice, no source.

    A plan never needs more than strips from selvage to selvage, and never less than the area of the strip.
    """
    wide, long, total, *columns = line
    for width, column in zip(("2 1/4", "2 1/2"), columns, strict=False):
        made = told(
            tmp_path / width.replace("/", "-"),
            f'top = "{wide} x {long}"\nmeasured = "finished"\nbinding = "{width} from oat"\n'
            '[how]\nbinding_from = "finished"\n',
            f"{INCHES}square_up_end = 0\n",
        )
        assert made.only("binding") == (
            1,
            length(width, "in"),
            length(str(total), "in"),
        )
        result = co.solve(made.job, co.Work(200))
        assert result.complete
        (one,) = result.plan.totals.bought
        table = Fraction(inch(column[4]), INCH) * YARD  # type: ignore[index]
        least = inch(width) * inch(str(total)) / (42 * INCH)
        assert least <= one.amount <= table


def test_ranges_and_beds(tmp_path: Path) -> None:
    """Q2: 16 CFR 1219; Q4: identity, drop and mattress common practice, no source (seen); Q5, Q6: common practice, no source, no
    source; Q7: 1991 ADA Standards."""
    from cutopt.answers import sizes_for

    rows = {row[0]: row for row in sizes_for().rows}
    ranges = {
        "baby": ("36 to 40", "36 to 48"),
        "cot": ("36 to 45", "54 to 60"),
        "lap": ("36 to 50", "45 to 65"),
        "chair with wheels": ("30 to 36", "36 to 48"),
        "throw": ("50 to 60", "60 to 72"),
        "twin": ("63 to 72", "86 to 96"),
        "full": ("76 to 86", "86 to 96"),
        "queen": ("84 to 96", "90 to 108"),
        "king": ("100 to 110", "90 to 120"),
    }
    for name, wanted in ranges.items():
        assert rows[name][2:4] == wanted
    assert "28 x 52 3/8" in rows["cot"][4]
    assert "26 in over the wheels and 42 in long" in rows["chair with wheels"][4]
    for said, size in (
        # Q1, drop 0: the mattress itself; pages differ by 1 to 2 in
        ("twin, drop 0", (38, 75)),
        ("twin long, drop 0", (38, 80)),
        ("full, drop 0", (53, 75)),
        ("queen, drop 0", (60, 80)),
        ("king, drop 0", (76, 80)),
        ("western king, drop 0", (72, 84)),
        ("queen, drop 12", (84, 92)),
        ("queen, drop 12, tuck 10", (84, 102)),
        ("39 x 75, drop 12", (63, 87)),
    ):
        made = told(tmp_path / "bed", f'bed = "{said}"\nbinding = "from oat"\n')
        bound = tuple(float(side) / INCH for side in made.quilt.top.size("trimmed"))
        assert bound == size


@pytest.mark.slow
def test_a_hot_wash(tmp_path: Path) -> None:
    """F7: identity, 40 x 60 at 5 %; the heat: CMS State Operations Manual."""
    from cutopt.pages.quilt import remarks_of

    made = told(
        tmp_path / "ward",
        'top = "40 x 60"\nuse = "hospital"\nbinding = "no"\nbacking = "oat"\n',
    )
    remarks = remarks_of(made.quilt, None)
    assert any("comes out at 38 x 57" in text for text in remarks)
    assert any("above 160 F / 71 C" in text for text in remarks)
