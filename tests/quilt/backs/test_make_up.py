"""Make-ups of a backing from one length: worked by hand, made once more by the checker, and held to a bound."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from cutopt.check.backs import faults_of_back
from cutopt.fabric import ByLength, Fabric
from cutopt.lengths import INCH, YARD
from cutopt.quilt.backs.cut_and_sewn import sewn_of
from cutopt.quilt.backs.least import least_cloth, least_to_buy
from cutopt.quilt.backs.make_up import ClothLength, MakeUp, make_ups
from cutopt.quilt.backs.sewn import BackPart, Piecing, Sewn, parts_of, seen, size_of
from cutopt.quilt.backs.ways_to_buy import backing_ways
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import exact
from cutopt.quilt.top import Needed
from tests.quilt.sums import inch

HOW = Conventions(square_up_end=0)


def cloth(usable: str, turned: bool = True) -> ClothLength:
    return ClothLength(
        usable=inch(usable),
        seam=INCH // 2,
        smallest=2 * INCH,
        shortest=6 * INCH,
        mark=INCH // 8,
        grid=INCH // 8,
        spare=INCH // 4,
        turned=turned,
    )


def reach(width: str, length: str) -> Needed:
    return Needed(
        what="backing",
        width=exact(inch(width)),
        length=exact(inch(length)),
        base="raw top",
        overage=(0, 0),
        why="",
    )


def shortest(width: str, length: str, usable: str) -> MakeUp:
    return min(
        make_ups(inch(width), inch(length), cloth(usable)), key=lambda made: made.length
    )


def test_wide_cloth_in_two_halves() -> None:
    """52 x 60 at 108 (identity): two panels of 52 abreast, 104 of 108, end to end: 2 x 30 1/2 - 1 = 60.

    Used whole it takes 52 in; 52 x 60 / 108 is 28.9.
    """
    made = next(
        each
        for each in make_ups(inch("52"), inch("60"), cloth("108"))
        if each.fill is None
    )
    assert (made.length, made.seams, made.joins) == (inch("30 1/2"), 1, 0)
    assert 2 * Fraction(61, 2) - 1 == 60
    assert shortest("52", "60", "108").length <= made.length


def test_a_length_cut_short_and_widened_by_its_own_edge() -> None:
    """88 x 68 at 108 (identity): the panel leaves an edge of 20; two strips of 9 off it join to more than 88.

    60 + 9 - 1 = 68, and 2 x 60 - 1 = 119 reach 88: 60 in, where the cloth used whole takes 68.
    """
    made = [
        each
        for each in make_ups(inch("88"), inch("68"), cloth("108"))
        if each.fill and each.fill.edge == 2
    ]
    best = min(made, key=lambda each: each.length)
    assert best.length <= inch("60")
    assert best.fill is not None
    assert (best.panels.width, best.panels.abreast) == (inch("88"), 1)
    assert best.panels.length + best.fill.width - INCH == inch("68")
    assert 2 * best.panels.length - INCH >= inch("88")


def test_a_strip_in_the_rest_of_a_slab() -> None:
    """54 x 44 at 42 (identity): a strip of 13 for 44; two of 15 stand, one of 16 lies beside them, 13 high.

    2 x 15 + 16 - 2 x 1 = 44, so 44 + 15 = 59 in.
    """
    made = shortest("54", "44", "42")
    assert made.length == inch("59")
    lengths = sorted(
        max(part.width, part.height)
        for part in parts_of(sewn_of(made))
        if part.what == "piece of the strip"
    )
    assert lengths == [inch("15"), inch("15"), inch("16")]


def test_three_half_widths_beside_each_other() -> None:
    """61 x 63 at 42 (identity): 3 x 21 - 2 = 61 across, 2 x 32 - 1 = 63 along; three slabs of 32 give six halves."""
    assert (3 * 21 - 2, 2 * 32 - 1) == (61, 63)
    made = make_ups(inch("61"), inch("63"), cloth("42"))
    assert min(
        each.length for each in made if each.seams + each.joins <= 5
    ) <= 3 * inch("32")


@settings(max_examples=30, deadline=None)
@given(
    st.integers(20 * 8, 115 * 8),
    st.integers(20 * 8, 115 * 8),
    st.sampled_from(["28", "40", "42", "56", "108"]),
    st.booleans(),
)
@example(160, 177, "28", False)
def test_each_can_be_made_and_none_takes_less_than_is_possible(
    wide: int, long: int, usable: str, turned: bool
) -> None:
    """Arithmetic identity."""
    width = wide * INCH // 8
    length = long * INCH // 8
    bolt = cloth(usable, turned)
    need = replace(reach("1", "1"), width=exact(width), length=exact(length))
    least = least_cloth(need, bolt.usable, HOW)
    for made in make_ups(width, length, bolt):
        sewn = sewn_of(made)
        asked = (exact(width), exact(length))
        there = (exact(bolt.usable), exact(made.length))
        assert faults_of_back(sewn, asked, there, INCH // 2, turned) == []
        assert made.length >= least
        strips = [part for part in parts_of(sewn) if "strip" in part.what]
        assert all(min(part.width, part.height) >= 2 * INCH for part in strips)
        assert sum(1 for _ in parts_of(sewn)) == made.seams + made.joins + 1


@settings(max_examples=12, deadline=None)
@given(
    st.integers(20, 110),
    st.integers(20, 110),
    st.sampled_from([40, 42, 60, 108]),
    st.sampled_from([0, 3, 6]),
)
def test_what_is_seen_covers_the_back_without_gap(
    wide: int, long: int, usable: int, percent: int
) -> None:
    """The visible parts of any way are as large together as the sewn back less half a seam at none of its edges.

    Arithmetic identity.
    """
    share = Fraction(percent, 100)
    shop = ByLength(fabric="oat", usable_width=usable * INCH, sold_by=YARD // 8)
    oat = Fabric(name="oat", shrink_across=share, shrink_along=share)
    for way in backing_ways(reach(str(wide), str(long)), [shop], HOW, [oat]):
        across, down = size_of(way.sewn)
        shown = sum((w * h for _, (_, _, w, h) in seen(way.sewn)), start=exact(0))
        assert shown == across * down
        assert len(list(parts_of(way.sewn))) >= way.seams + way.joins + 1 - bool(
            way.insert
        )


def part(width: str, height: str, *place: str) -> BackPart:
    at = tuple(exact(inch(each) if each != "0" else 0) for each in place)
    return BackPart(
        width=exact(inch(width)), height=exact(inch(height)), what="p", place=at or None
    )  # type: ignore[arg-type]


def side_by_side(*parts: Piecing) -> Sewn:
    return Sewn(parts=parts, down=False, seam=INCH // 2)


ONE = part("21", "50", "0", "0", "21", "50")
OTHER = part("21", "50", "21", "0", "21", "50")
ASKED = (exact(inch("41")), exact(inch("50")))
THERE = (exact(inch("42")), exact(inch("50")))
WRONG = {
    "too small": (side_by_side(ONE, OTHER), (exact(inch("41 1/8")), ASKED[1]), THERE),
    "not on the cloth": (
        side_by_side(ONE, OTHER),
        ASKED,
        (exact(inch("41")), THERE[1]),
    ),
    "edges of two lengths": (
        side_by_side(ONE, part("21", "49", "21", "0", "21", "49")),
        ASKED,
        THERE,
    ),
    "cut from edge to edge": (
        side_by_side(ONE, part("21", "50", "20", "0", "21", "50")),
        ASKED,
        THERE,
    ),
    "not of the size that is cut": (
        side_by_side(ONE, part("22", "50", "21", "0", "21", "50")),
        ASKED,
        THERE,
    ),
    "of the width that is told": (
        Sewn(parts=(ONE, OTHER), down=False, seam=INCH // 4),
        ASKED,
        THERE,
    ),
    "lost in its seams": (
        side_by_side(ONE, part("1", "50", "21", "0", "1", "50"), OTHER),
        ASKED,
        THERE,
    ),
}


@pytest.mark.parametrize("what", WRONG)
def test_the_checker_sees_what_is_wrong(what: str) -> None:
    """Sizes and words are invented."""
    assert faults_of_back(side_by_side(ONE, OTHER), ASKED, THERE, INCH // 2) == []
    assert any(what in told for told in faults_of_back(*WRONG[what], INCH // 2))


def test_a_pinwheel_cannot_be_cut_from_edge_to_edge() -> None:
    """Four of 2 x 1 round a hole: no line from edge to edge misses all of them (identity)."""
    places = [
        ("0", "0", "2", "1"),
        ("2", "0", "1", "2"),
        ("1", "2", "2", "1"),
        ("0", "1", "1", "2"),
    ]
    sizes = [(place[2], place[3]) for place in places]
    parts = tuple(
        part("2", "1", *place) for place, _ in zip(places, sizes, strict=True)
    )
    sewn = Sewn(parts=parts, down=True, seam=0)
    told = faults_of_back(
        sewn, (exact(0), exact(0)), (exact(inch("3")), exact(inch("3"))), seam=0
    )
    assert told == ["its parts cannot be cut from edge to edge"]


def test_a_print_that_stands_up_is_not_turned() -> None:
    """A strip pieced across the fabric would lie on its side: of such a print it is cut along the selvage.

    Sizes and words are invented.
    """
    sprig = Fabric(name="oat", one_way="along")
    shop = ByLength(fabric="oat", usable_width=inch("42"), sold_by=YARD // 8)
    need = reach("44", "52")
    free = backing_ways(need, [shop], HOW, [sprig])
    stands = backing_ways(need, [shop], HOW, [sprig], upright=True)
    assert any(way.kind == "one width and a narrow strip" for way in free)
    assert {way.run for way in stands} == {"up"}
    for way in stands:
        for each in parts_of(way.sewn):
            assert each.place is None or (each.width, each.height) == each.place[2:]


@pytest.mark.parametrize(
    ("width", "length", "usable", "least"),
    [
        (
            "30",
            "40",
            "42",
            Fraction(30 * 40 + 30, 42),
        ),  # sewn: (30 x 40 + 2 x 1/2 x 30) / 42; one piece: 30
        (
            "58",
            "68",
            "42",
            Fraction(58 * 68 + 58, 42),
        ),  # one seam of 58 at least, an inch each
        (
            "83",
            "124",
            "42",
            Fraction(83 * 124 + 123, 42),
        ),  # 123 x (82 / 41 - 1): a seam all along
    ],
)
def test_the_bound_by_hand(
    width: str, length: str, usable: str, least: Fraction
) -> None:
    """Identities: area, and two seam allowances of 1/2 in along as much seam as there must be."""
    assert least_cloth(reach(width, length), inch(usable), HOW) == least * INCH


def test_two_whole_widths_without_a_thread_to_spare_are_the_least() -> None:
    """83 x 124 at 42: 2 x 42 - 1 = 83, so 2 x 124 = 248 in; the bound is 10 415 / 42 = 247.98 (identity)."""
    bound = least_cloth(reach("83", "124"), inch("42"), HOW) / INCH
    assert 247.97 < float(bound) < 248
    bolt = ByLength(fabric="oat", usable_width=inch("42"), sold_by=YARD // 8)
    (least,) = least_to_buy(reach("83", "124"), [bolt], HOW)
    assert least.bought == 56 * YARD // 8  # 252 in: 248.22 with a quarter inch to spare
