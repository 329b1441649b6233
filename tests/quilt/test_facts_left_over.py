"""Numbers of the trade that stand in no other test here: witnesses of counts, packages, seams, baselines' notes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutopt.errors import Problem
from cutopt.fabric import ByLength, Fabric
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.quilt import borders
from cutopt.quilt.backs import batting
from cutopt.quilt.backs.packages import packaged
from cutopt.quilt.backs.ways_to_buy import backing_ways
from cutopt.quilt.beds import MATTRESSES, bed_quilt
from cutopt.quilt.binding import binding
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.on_point import side_square
from cutopt.quilt.sizes import USES, use
from cutopt.quilt.surds import exact
from cutopt.quilt.top import Needed
from cutopt.quilt.wanted_parts import joined_count
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables import pile
from cutopt.wanted import Cut
from tests.quilt.sums import inch, inches
from tests.worked.by_hand import careful_hand, strip_method
from tests.worked.counts import most_pieces
from tests.worked.six_quilts import POCKET, six_quilts

WITNESSES = {  # piece: bands of a yard 36 x 42, (height, how many bands, pieces in each, width of one)
    ("2 1/2", "12 1/2"): (
        [("12 1/2", 2, 16, "2 1/2"), ("2 1/2", 4, 3, "12 1/2")],
        44,
        "35",
    ),
    ("3 1/2", "6 1/2"): (
        [("6 1/2", 5, 12, "3 1/2"), ("3 1/2", 1, 6, "6 1/2")],
        66,
        "36",
    ),
}


@pytest.mark.parametrize(
    "piece", WITNESSES, ids=[f"{a} x {b} from a yard: identity" for a, b in WITNESSES]
)
def test_a_plan_that_shows_the_most_pieces(piece: tuple[str, str]) -> None:
    bands, count, used = WITNESSES[piece]
    assert (
        sum(inch(height) * times for height, times, *_ in bands)
        == inch(used)
        <= inch("36")
    )
    assert all(each * inch(width) <= inch("42") for *_, each, width in bands)
    assert sum(times * each for _, times, each, _ in bands) == count
    assert most_pieces(inch("42"), inch("36"), inch(piece[0]), inch(piece[1])) == count


def test_columns_that_show_134() -> None:
    """Identity, 2 1/2 x 4 1/2: fifteen columns of 8 and one 4 1/2 wide of 14: 42 wide exactly."""
    assert 15 * inch("2 1/2") + inch("4 1/2") == inch("42")
    assert (36 * INCH // inch("4 1/2"), 36 * INCH // inch("2 1/2")) == (8, 14)
    assert (
        most_pieces(inch("42"), inch("36"), inch("2 1/2"), inch("4 1/2"))
        == 15 * 8 + 14
        == 134
    )


@pytest.mark.parametrize(
    ("name", "sides"),
    [
        ("crib", (45, 60)),
        ("throw", (60, 60)),
        ("twin", (72, 90)),
        ("full", (81, 96)),
        ("queen", (90, 108)),
        ("king", (120, 120)),
    ],
    ids=lambda value: (
        f"{value}: common practice, no source" if isinstance(value, str) else ""
    ),
)
def test_packages_of_batting(name: str, sides: tuple[int, int]) -> None:
    (package,) = [each for each in packaged() if each.fabric.startswith(name)]
    assert (package.each_width, package.each_length) == (
        sides[0] * INCH,
        sides[1] * INCH,
    )


@pytest.mark.parametrize(
    "usable",
    [45, 60, 90, 96, 108, 120],
    ids=lambda w: f"batting {w} wide: common practice, no source",
)
def test_batting_by_the_yard(usable: int) -> None:
    """68 x 88 (60 x 80 and 4 in a side): as few widths as reach, butted, so nothing is lost (identity).

    A way that is nowhere better than another is not listed: then there is one of no more joins for no more.
    """
    need = Needed(
        what="b",
        width=exact(inch("68")),
        length=exact(inch("88")),
        base="finished",
        overage=(0, 0),
        why="",
    )
    roll = ByLength(fabric="roll", usable_width=usable * INCH, sold_by=YARD // 8)
    ways = batting.batting_ways(need, [roll], Conventions(square_up_end=0))
    found = {way.kind: way for way in ways}
    for word, across, along in (("up", 68, 88), ("across", 88, 68)):
        n = -(-across // usable)
        bought = -(-n * along * 8 // 36) * YARD // 8
        whole = found.get("one width " + word if n == 1 else f"{n} widths {word}")
        if whole is not None:
            assert (whole.joins, whole.bought) == (n - 1, bought)
        assert any(way.bought <= bought and way.joins <= n - 1 for way in ways)
        assert ways[0].bought <= bought


def test_each_seam_costs_an_inch() -> None:
    """Identity, back seam 1/2: of two widths with one split the cover is 1 in less than of two whole ones."""
    need = Needed(
        what="b",
        width=exact(inch("60")),
        length=exact(inch("90")),
        base="finished",
        overage=(0, 0),
        why="",
    )
    ways = backing_ways(
        need,
        [ByLength(fabric="c", usable_width=42 * INCH, sold_by=YARD // 8)],
        Conventions(),
    )
    up = {
        way.seams: way.spare_across
        for way in ways
        if way.run == "up" and way.kind.startswith("2 widths")
    }
    assert inches(up[1] - up[2]) == 1
    assert (inches(up[1]), inches(up[2])) == (23, 22)


@pytest.mark.parametrize(
    ("bed", "drop", "quilt"),
    [
        pytest.param(
            ("39", "75"),
            "12",
            ("63", "87"),
            id="twin 39: identity, sizes common practice, no source",
        ),
        pytest.param(("54", "75"), "12", ("78", "87"), id="full 54: identity"),
        pytest.param(("78", "80"), "15", ("108", "95"), id="king 78: identity"),
    ],
)
def test_a_measured_mattress(
    bed: tuple[str, str], drop: str, quilt: tuple[str, str]
) -> None:
    assert bed_quilt(bed, drop)[:2] == (inch(quilt[0]), inch(quilt[1]))
    assert all(each.width < each.length for each in MATTRESSES.values())


def test_sizes_of_the_standards_stand_beside_their_uses() -> None:
    """16 CFR 1219 (crib interior 28 x 52 3/8); 1991 ADA Standards A4.2.4 (chair 26 wide, 42 long)."""
    assert "28 x 52 3/8 in inside (16 CFR 1219)" in use("cot").provenance
    chair = use("chair with wheels").provenance
    assert "26 in over the wheels and 42 in long" in chair
    assert "ADA Standards" in chair
    wide = next(each for each in USES if each.name == "chair with wheels")
    for length in (42, 44, 45, 48):  # common practice, no source: 36 x 36 to 36 x 48
        assert not any(
            "outside" in word for word in wide.remarks(inch("36"), length * INCH)
        )


def test_plain_squares_and_border_from_one_cloth() -> None:
    """Identity: three squares of 12 1/2 leave a column 4 1/2 x 137 1/2 for one side of 108 1/2; T = 289 1/2 needs 7
    strips for 10: 10 1/2 in saved."""
    queen = next(quilt for quilt in six_quilts() if quilt.key == "E4")
    plain = next(row for row in queen.made.cuts if row.name.startswith("plain"))
    assert (plain.count, plain.width) == (31, inch("12 1/2"))
    assert inch("42") - 3 * plain.width == inch("4 1/2")
    assert -(-31 // 3) * plain.width == inch("137 1/2")
    assert inch("137 1/2") >= inch("108 1/2")
    sides = [row for row in queen.made.strips if row.name.startswith("border")]
    assert sum(row.count * row.total_length for row in sides) == inch("398")
    strips = [
        joined_count(inch(total), inch("42"), inch("1/2"))
        for total in ("398", "289 1/2")
    ]
    assert strips == [10, 7]
    assert (strips[0] - strips[1]) * inch("3 1/2") == inch("10 1/2")


def test_a_setting_square_fits_no_half_yard() -> None:
    """Identity: 18 1/4 is more than the 18 of a half yard or a fat quarter."""
    value, _ = side_square("12")
    assert Conventions().cut_size(value) == inch("18 1/4")
    assert most_pieces(inch("42"), inch("18"), inch("18 1/4"), inch("18 1/4")) == 0


def test_sides_that_no_longer_fit_at_forty() -> None:
    """Identity: two sides of 40 1/2 at 40 wide are joined from 81 in: 3 strips; at 42 they fit one strip each.

    The two ends of 36 1/2 take a strip each at either width. What is wanted does not depend on the width.
    """
    assert joined_count(inch("81"), inch("40"), inch("1/2")) == 3
    rows = [
        borders.border(
            (inch("32"), inch("40")), "2", how=Conventions(usable_width=inch(w))
        )
        for w in ("40", "42")
    ]
    assert rows[0].wanted == rows[1].wanted
    for usable, strips in (("42", 4), ("40", 5)):
        hand = strip_method(rows[0].wanted, usable=inch(usable))
        assert hand.length() == strips * inch("2 1/2")


def test_sashes_both_ways() -> None:
    """Identity: 31 sashes 2 1/2 x 12 1/2: eleven strips 2 1/2 high are 27 1/2; two 12 1/2 high are 25."""
    assert (
        -(-31 // (42 * INCH // inch("12 1/2"))) * inch("2 1/2"),
        -(-31 // 16) * inch("12 1/2"),
    ) == (
        inch("27 1/2"),
        inch("25"),
    )
    sash = Cut(
        name="sash",
        width=inch("2 1/2"),
        length=inch("12 1/2"),
        count=31,
        fabrics=("a",),
    )
    assert careful_hand([sash], POCKET).length() == inch("25")


@pytest.mark.parametrize(
    ("strip", "finished", "wider"),
    [
        pytest.param("2", "1/4", "3/8", id="2: 1/4, common practice, no source"),
        pytest.param(
            "2 1/4", "1/4", "3/8", id="2 1/4: 1/4, common practice, no source"
        ),
        pytest.param(
            "2 1/2", "3/8", "7/16", id="2 1/2: 3/8, common practice, no source"
        ),
    ],
)
def test_a_double_fold_strip_finishes_as_wide_as_its_seam(
    strip: str, finished: str, wider: str
) -> None:
    """Half a strip is seam, front, thickness and back (identity): the usual width is taken, a wider one refused."""
    how = Conventions(seam=inch(finished), binding_width=inch(strip))
    (row,) = binding(inch("40"), inch("50"), how=how).strips
    assert row.width == inch(strip)
    assert inch(strip) >= 6 * inch(finished)
    with pytest.raises(Problem, match="does not reach round"):
        binding(inch("40"), inch("50"), how=replace(how, seam=inch(wider)))


@pytest.mark.parametrize(
    "size",
    ["8 x 40", "40 x 8"],
    ids=lambda s: f"binding from a one-way {s}: common practice, no source",
)
def test_a_binding_is_cut_either_way_from_a_one_way_print(size: str) -> None:
    """It goes round four sides: crosswise or lengthwise will do, where a cut that must stand up fits one way only.

    Two diagonal joins of three strips 2 1/2 x 40: 120 - 2 x 2 1/2 = 115 (identity).
    """
    fabrics = (Fabric(name="sprig", one_way="along"),)
    how = Conventions(binding_allowance=inch("15"))
    (row,) = binding(inch("20"), inch("30"), how=how).strips
    assert row.total_length == inch("115")
    pieces = pile(f"sprig {size}")
    result = solve(
        Job(fabrics=fabrics, pieces=pieces, strips=(row,)), Work(2000), offers=False
    )
    assert result.complete
    tall = Cut(name="sprig up", width=inch("3"), length=inch("20"), upright=True)
    stands = solve(
        Job(fabrics=fabrics, pieces=pieces, cuts=(tall,)), Work(2000), offers=False
    )
    assert stands.complete == (size == "8 x 40")
