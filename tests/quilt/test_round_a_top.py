"""Borders of two widths, pieced, coped and flanged; sashing of several fabrics and on point. 'identity' is geometry."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutopt.errors import Problem
from cutopt.lengths import INCH
from cutopt.quilt import borders, on_point, pieced_borders
from cutopt.quilt.block_settings import straight
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.sashes import Sashes
from cutopt.quilt.surds import ROOT2, exact
from cutopt.quilt.top import Top
from cutopt.quilt.wanted_parts import ClothWanted, Made
from cutopt.wanted import Cut
from tests.quilt.sums import inch, inches, size

INSIDE = (inch("50"), inch("60"))
WHOLE = Conventions(border_cut="in one piece")
eighths = st.integers(8, 200).map(lambda n: n * INCH // 8)
few = st.integers(1, 9)


def cut_sizes(made: Made) -> dict[str, tuple[float, float]]:
    return {row.name: size(row) for row in made.cuts}


def how_many(made: Made) -> dict[str, int]:
    return {row.name: row.count for row in made.wanted}


def test_borders_on_two_sides_alone() -> None:
    """Identity: as long as the raw top, with nothing to reach over: 60 1/2 at the sides, 50 1/2 at top and bottom."""
    sides = borders.border(INSIDE, ("3", "0"), how=WHOLE)
    assert cut_sizes(sides) == {"border side": (3.5, 60.5)}
    assert (sides.width, sides.length) == (inch("56"), inch("60"))
    ends = borders.border(INSIDE, ("0", "4"), how=WHOLE)
    assert cut_sizes(ends) == {"border end": (4.5, 50.5)}
    assert (ends.width, ends.length) == (inch("50"), inch("68"))
    for made in (sides, ends):
        assert {row.count for row in made.wanted} == {2}


@pytest.mark.parametrize(
    ("corner", "sizes"),
    [
        ("sides first", {"border side": (3.5, 60.5), "border end": (4.5, 56.5)}),
        ("ends first", {"border side": (3.5, 68.5), "border end": (4.5, 50.5)}),
        (
            "corner squares",
            {
                "border side": (3.5, 60.5),
                "border end": (4.5, 50.5),
                "border corner": (3.5, 4.5),
            },
        ),
    ],
)
def test_borders_of_two_widths(
    corner: str, sizes: dict[str, tuple[float, float]]
) -> None:
    """Identity: 3 at the sides, 4 at top and bottom of 50 x 60: 56 x 68, whichever is sewn first."""
    how = Conventions(border_corner=corner, border_cut="in one piece")  # type: ignore[arg-type]
    made = borders.border(INSIDE, ("3", "4"), how=how)
    assert cut_sizes(made) == sizes
    assert (made.width, made.length) == (inch("56"), inch("68"))
    s2 = INCH // 2
    area = sum(
        row.count * (row.width - s2) * (row.length - s2)  # type: ignore[union-attr]
        for row in made.wanted
    )
    assert exact(INSIDE[0] * INSIDE[1] + area) == made.width * made.length


def test_two_widths_are_not_mitred() -> None:
    """Sizes and words are invented."""
    how = Conventions(border_corner="mitred")
    with pytest.raises(Problem, match="not mitred at 45 degrees"):
        borders.border(INSIDE, ("3", "4"), how=how)
    with pytest.raises(Problem, match="no width"):
        borders.border(INSIDE, ("0", "0"))


def test_a_measured_top_gets_borders() -> None:
    """A raw top of 50 1/2 x 60 1/2, border cut 5 1/2: 2 at 60 1/2, 2 at 60 1/2 (identity), 61 x 71 with it raw."""
    top = Top.read("50 1/2 x 60 1/2")
    made = borders.border(top.middle(), "5", how=WHOLE)
    assert cut_sizes(made) == {"border side": (5.5, 60.5), "border end": (5.5, 60.5)}
    grown = top.with_borders(inch("5"), inch("5"))
    assert (grown.width, grown.length) == (inch("60 1/2"), inch("70 1/2"))
    finished = Top.read("50 x 60", base="finished")
    assert finished.middle() == INSIDE


def test_several_measurements_are_met_in_their_mean() -> None:
    """Measured through the centre, or the mean of three, never to the edge: common practice, no source."""
    top = Top.read("58, 57 3/4, 58 1/4 x 66, 66 3/8")
    assert top.middle() == (inch("57 1/2"), exact(inch("65 1/2")) + inch("3/16"))
    told = " ".join(top.told_middle())
    assert "through the middle" in told
    assert "(58 + 57 3/4 + 58 1/4) / 3 = 58" in told
    # end borders bring the width to the mean, side borders the length; without them it stays as uneven as it is
    assert top.with_borders(inch("3"), inch("3")).width == inch("64")
    assert top.with_borders(0, inch("3")).lengths == (inch("72"), inch("72 3/8"))
    assert top.with_borders(inch("3"), 0).width == inch("64 1/4")


def test_a_border_of_squares() -> None:
    """Round 52 x 62 squares of 2: 26 across, 31 down, 2 x 26 + 2 x 31 + 4 = 118, 59 of each (counting)."""
    made, pieces = pieced_borders.pieced_border(
        (inch("52"), inch("62")), ("2", "2"), ("navy", "cream")
    )
    assert how_many(made) == {"border square 1": 59, "border square 2": 59}
    assert {size(row) for row in made.cuts} == {(2.5, 2.5)}
    assert (made.width, made.length) == (inch("56"), inch("66"))
    assert (pieces.across, pieces.down) == (26, 31)
    assert "2 x 26 + 2 x 31 + 4 in the corners = 118" in made.cuts[0].why


def test_a_border_of_keys_has_corners() -> None:
    """Keys of 1 1/2 x 4 round 30 x 36: 20 across, 24 down, and 4 squares of 4 (counting); 38 x 44 (identity)."""
    made, _ = pieced_borders.pieced_border(
        (inch("30"), inch("36")), ("1 1/2", "4"), ("navy", "cream", "rust"), name="key"
    )
    assert how_many(made) == {
        "key patch 1": 30,
        "key patch 2": 29,
        "key patch 3": 29,
        "key corner": 4,
    }
    assert made.notes == (
        "key: 88 patches of 3 fabrics by turns: where the ring closes two of the first meet",
    )
    assert (made.width, made.length) == (inch("38"), inch("44"))
    assert cut_sizes(made)["key patch 1"] == (2, 4.5)


@given(few, few, eighths, eighths, st.integers(1, 4))
def test_pieced_borders_fill_their_ring(m: int, k: int, a: int, b: int, n: int) -> None:
    """Identity: the finished patches fill W x H with the border less W x H without."""
    inside = (m * a, k * a)
    cloths = ("navy", "cream", "rust", "oat")[:n]
    made, _ = pieced_borders.pieced_border(inside, (a, b), cloths)
    s2 = INCH // 2
    area = sum(row.count * (row.width - s2) * (row.length - s2) for row in made.cuts)
    assert exact(inside[0] * inside[1] + area) == made.width * made.length


def test_what_does_not_come_out_even_is_told_with_its_mend() -> None:
    """Round 50 x 61 squares of 2: a strip of 1 at the sides (52 = 26 x 2) and 1/2 at the ends (62 = 31 x 2).

    Sizes and words are invented.
    """
    inside = (inch("50"), inch("61"))
    with pytest.raises(Problem, match="do not come out even") as told:
        pieced_borders.pieced_border(inside, ("2", "2"))
    assert "1 wide at the sides and 1/2 at top and bottom" in told.value.mend
    assert pieced_borders.evening(inside, inch("2"), inch("1/2")) == (
        inch("1"),
        inch("1/2"),
    )


def test_coping_round_blocks_on_point() -> None:
    """Identity: 3 blocks of 12 on point are 36√2 = 50.91 wide; (52 - 50.91) / 2 = 0.544 brings them to 52."""
    wide = 36 * INCH * ROOT2
    sides, _ = pieced_borders.evening((wide, wide), inch("2"), inch("1/2"))
    assert inches(sides) == pytest.approx(0.544, abs=5e-4)
    assert wide + 2 * sides == inch("52")


@given(eighths, eighths, st.integers(4, 60), st.integers(1, 16))
def test_the_narrowest_strip_that_makes_it_even(
    w: int, h: int, quarters: int, least: int
) -> None:
    """Arithmetic identity."""
    along = quarters * INCH // 4
    small = least * INCH // 8
    for side, strip in zip(
        (w, h), pieced_borders.evening((w, h), along, small), strict=True
    ):
        assert strip >= small
        assert (side + 2 * strip) / along == ((side + 2 * strip) / along).__floor__()
        assert strip - exact(along) / 2 < small


def test_flange() -> None:
    """Identity: 1/4 shown of a folded strip: cut 2 (1/4 + 1/4) = 1, as long as the edge; the size stays."""
    made = borders.flange(INSIDE, "1/4", "gold", WHOLE)
    assert cut_sizes(made) == {"flange side": (1, 60.5), "flange end": (1, 50.5)}
    assert (made.width, made.length) == INSIDE
    with pytest.raises(Problem, match="nothing of the flange"):
        borders.flange(INSIDE, "0")


def test_sashing_of_three_fabrics() -> None:
    """4 x 5 of 12, framed 2: 31 sashes inside, 2 x 5 + 2 x 4 = 18 in the frame, 30 cornerstones (counting)."""
    said = Sashes(
        strips=("2",),
        framed=True,
        upright="cream",
        level="cream",
        posts="gold",
        frame="red",
    )
    made = straight(("12", "12"), 4, 5, said)
    assert how_many(made) == {"sash": 31, "frame sash": 18, "cornerstone": 30}
    of = {row.name: row.fabrics for row in made.wanted}
    assert of == {"sash": ("cream",), "frame sash": ("red",), "cornerstone": ("gold",)}


def test_sashing_of_two_fabrics() -> None:
    """4 x 5 of 12: 15 upright ones of navy, 16 level ones of cream (counting)."""
    made = straight(
        ("12", "12"), 4, 5, Sashes(strips=("2",), upright="navy", level="cream")
    )
    assert how_many(made) == {"upright sash": 15, "level sash": 16, "cornerstone": 12}


def test_pieced_sashing() -> None:
    """Three strips of 1 in a sash of 3: 62 outer, 31 middle, cut 1 1/2 x 12 1/2; cornerstones 3 1/2 (identity)."""
    said = Sashes(strips=("1", "1", "1"), upright="navy", level="navy", middle="cream")
    made = straight(("12", "12"), 4, 5, said)
    assert how_many(made) == {"sash outer": 62, "sash middle": 31, "cornerstone": 12}
    assert cut_sizes(made) == {
        "sash outer": (1.5, 12.5),
        "sash middle": (1.5, 12.5),
        "cornerstone": (3.5, 3.5),
    }
    assert (made.width, made.length) == (inch("57"), inch("72"))


def test_an_upright_print_stands_in_every_sash() -> None:
    """Along upright sashes, across level ones: these are rows of their own, told lying on their side (invented)."""
    tree = ClothWanted(fabrics=("tree",), upright=True, grain="along")
    made = straight(("12", "12"), 2, 2, Sashes(strips=("2",), upright=tree, level=tree))
    assert cut_sizes(made)["upright sash"] == (2.5, 12.5)
    assert cut_sizes(made)["level sash"] == (12.5, 2.5)
    grain = {row.name: row.grain for row in made.cuts}
    assert (grain["upright sash"], grain["level sash"]) == ("along", "across")


def test_sashing_on_point() -> None:
    """3 x 4 of 12, sashing 2: 48 sashes, 17 cornerstones, 14 halves; 3 x 14 √2 = 59.40 wide (identity)."""
    said = Sashes(strips=("2",), upright="oat", posts="plum")
    made = on_point.on_point("12", 3, 4, "sky", corners="night", sashes=said)
    assert how_many(made) == {
        "sash": 48,
        "cornerstone": 17,
        "edge cornerstones": 4,
        "side triangles": 3,
        "corner triangles": 2,
    }
    assert inches(made.width) == pytest.approx(59.397, abs=1e-3)
    assert {row.name: row.fabrics[0] for row in made.wanted} == {
        "sash": "oat",
        "cornerstone": "plum",
        "edge cornerstones": "plum",
        "side triangles": "sky",
        "corner triangles": "night",
    }
    # the triangles are those of a block of 12 without sashing
    plain = on_point.on_point("12", 3, 4)
    assert cut_sizes(made).items() >= cut_sizes(plain).items()


@given(eighths, eighths, few, few)
def test_sashing_on_point_fills_the_top(f: int, w: int, n: int, m: int) -> None:
    """Identity: blocks, 4nm sashes, cornerstones, halves, side triangles f²/2 and corners f²/4 make W x H."""
    made = on_point.on_point(f, n, m, sashes=Sashes(strips=(w,)))
    count = Counter(how_many(made))
    halves = 2 * (n + m)
    sides = 2 * (n - 1) + 2 * (m - 1)
    area = on_point.on_point_blocks(n, m) * f * f + count["sash"] * f * w
    area += count["cornerstone"] * w * w + halves * w * w // 2
    whole = exact(area) + exact(sides * f * f) / 2 + f * f
    assert whole == made.width * made.length
    assert count["edge cornerstones"] == -(-halves // 4)
    assert count["side triangles"] == -(-sides // 4)


def test_what_is_not_set_on_point() -> None:
    """Arithmetic identity."""
    said = Sashes(strips=("2",), cornerstones=False)
    with pytest.raises(Problem, match="meets in cornerstones"):
        on_point.on_point("12", 3, 4, sashes=said)
    with pytest.raises(Problem, match="float"):
        on_point.on_point(
            "12", 2, 2, how=Conventions(float_by=INCH), sashes=Sashes(strips=("2",))
        )
    tree = ClothWanted(fabrics=("tree",), upright=True)
    with pytest.raises(Problem, match="four ways"):
        on_point.on_point("12", 3, 4, tree)


def test_the_sizes_of_cuts_are_cuts() -> None:
    """Arithmetic identity."""
    made = on_point.on_point("12", 3, 4, sashes=Sashes(strips=("2",)))
    assert all(isinstance(row, Cut) for row in made.wanted)
