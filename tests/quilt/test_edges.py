"""Bindings of several fabrics and of bias strips, a backing brought round, sleeves. 'identity' is geometry."""

from __future__ import annotations

from fractions import Fraction
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon, box

from cutopt.errors import Problem
from cutopt.lengths import INCH
from cutopt.quilt import bias
from cutopt.quilt import binding as b
from cutopt.quilt.articles import hanging_sleeve
from cutopt.quilt.brought_round import brought_round
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import exact
from cutopt.quilt.top import Top, backing_size, batting_size
from cutopt.quilt.wanted_parts import ClothWanted
from tests.quilt.sums import inch, inches

THREE = ("plum", "bark", "navy")


@pytest.mark.parametrize(
    ("join", "share"),
    [("diagonal", "98 3/8"), ("straight", "97"), ("pre-cut", None)],
)
def test_scrappy_binding_in_equal_shares(join: str, share: str | None) -> None:
    """Identity: 60 x 80 takes 290; (290 + 2 x 2 1/2) / 3 = 98 1/3 each, straight (290 + 2 x 1/2) / 3 = 97."""
    how = Conventions(binding_join=join)  # type: ignore[arg-type]
    made = b.binding(inch("60"), inch("80"), THREE, how)
    assert [row.name for row in made.strips] == [f"binding {name}" for name in THREE]
    assert {row.fabrics for row in made.strips} == {(name,) for name in THREE}
    (long,) = {row.total_length for row in made.strips}
    if share is not None:
        assert long == inch(share)


def test_parts_of_a_scrappy_binding() -> None:
    """Identity: half of 290 + 2 x 2 1/2 is 147 1/2, a quarter 73 3/4; joined again less two widths they are 290."""
    parts = (Fraction(1, 2), Fraction(1, 4), Fraction(1, 4))
    made = b.binding(inch("60"), inch("80"), THREE, parts=parts)
    lengths = [row.total_length for row in made.strips]
    assert lengths == [inch("147 1/2"), inch("73 3/4"), inch("73 3/4")]
    assert sum(lengths) - 2 * inch("2 1/2") == inch("290")
    assert all("by turns" in row.note for row in made.strips)


@given(
    st.lists(st.integers(8, 42), min_size=3, max_size=40),
    st.integers(2, 3),
    st.sampled_from(["diagonal", "straight", "pre-cut"]),
)
def test_mixed_segments_reach_when_their_shares_do(
    segments: list[int], cloths: int, join: str
) -> None:
    """Identity: what n rows of the plan reach, joined in any order, is the binding where each reaches its share.

    The rows count their joins as `Strip.join_loss` does; the whole is counted here as `reach` of single strips.
    """
    how = Conventions(binding_join=join)  # type: ignore[arg-type]
    w = how.binding_width
    rows = [segments[i::cloths] for i in range(cloths)]
    strip = b.binding(inch("60"), inch("80"), None, how).strips[0]
    each = strip.join_loss(how.seam)
    made = [sum(row) * INCH - (len(row) - 1) * each for row in rows]
    ends = w if join == "pre-cut" else 0
    loss = b.join_loss(w, how)
    whole = exact(sum(segments) * INCH - ends * len(segments))
    whole = whole - (len(segments) - 1) * loss
    # the longest binding of which no share is longer than what the shortest row gives
    least = min(made)
    total = (
        whole if cloths == 0 else exact(cloths * least) - (cloths - 1) * (loss + ends)
    )
    share = (total + (cloths - 1) * (loss + ends)) / cloths
    assert share == least
    assert whole + ends >= total


def test_what_a_scrappy_binding_cannot_be() -> None:
    """Sizes and words are invented."""
    many = tuple(f"scrap {n}" for n in range(40))
    with pytest.raises(Problem, match="name fewer fabrics"):
        b.binding(inch("20"), inch("20"), many)
    with pytest.raises(Problem, match="of one fabric"):
        b.binding(inch("60"), inch("80"), THREE, Conventions(binding_cut="bias"))
    bias_cut = Conventions(binding_cut="bias strips")
    with pytest.raises(Problem, match="on the bias"):
        b.binding(inch("60"), inch("80"), ClothWanted(upright=True), bias_cut)
    with pytest.raises(Problem, match="at most 2 each"):
        b.binding(inch("60"), inch("80"), ClothWanted(most_each=2))


def strips_of_a_square(side: float, wide: float) -> list[float]:
    """Centre lines of bias strips cut from a square on both sides of its diagonal, measured on the square itself."""
    square = box(0, 0, side, side)
    found = []
    for sign in (1, -1):
        n = 1
        while True:
            at = sign * (n - 0.5) * wide * sqrt(2)
            edge = sign * n * wide * sqrt(2)
            line = LineString([(-side, -side + at), (2 * side, 2 * side + at)])
            outer = LineString([(-side, -side + edge), (2 * side, 2 * side + edge)])
            if not square.intersects(outer):
                break
            found.append(line.intersection(square).length)
            n += 1
    return found


@pytest.mark.parametrize(
    ("side", "wide"), [("27", "2 1/4"), ("36", "2 1/2"), ("18", "2")]
)
def test_bias_strips_from_a_square(side: str, wide: str) -> None:
    """Their centre lines, measured on the square by shapely, less a join of 2s√2 = .7071 between two (identity)."""
    how = Conventions()
    lengths = strips_of_a_square(inch(side) / INCH, inch(wide) / INCH)
    kept = [long for long in lengths if long >= 8]
    assert 2 * bias.bias_strips(inch(side), inch(wide), how) == len(kept)
    reach = sum(kept) - (len(kept) - 1) * 0.70711
    assert inches(bias.bias_reach(inch(side), inch(wide), how)) == pytest.approx(
        reach, abs=1e-3
    )
    assert reach < inch(side) ** 2 / inch(wide) / INCH


def test_turned_strips_join_with_their_grain() -> None:
    """A strip of one half turned half round has the slant of the next one at its end (identity, by shapely)."""
    first = Polygon([(0, 0), (20, 0), (18, 2), (2, 2)])
    turned = Polygon([(-x, -y) for x, y in first.exterior.coords])
    ends = [
        sorted(
            round((y2 - y1) / (x2 - x1), 6)
            for (x1, y1), (x2, y2) in zip(
                shape.exterior.coords, shape.exterior.coords[1:], strict=False
            )
            if abs(y2 - y1) == 2
        )
        for shape in (first, turned)
    ]
    assert ends[0] == ends[1] == [-1, 1]


def test_a_binding_of_bias_strips() -> None:
    """290 of 2 1/4 from a square of 27: 7 strips on either side of the diagonal, 304.9 in all (identity)."""
    how = Conventions(binding_cut="bias strips", binding_width=inch("2 1/4"))
    (row,) = b.binding(inch("60"), inch("80"), "plum", how).cuts
    assert (row.width, row.length, row.count) == (inch("27"), inch("27"), 1)
    assert "7 strips on either side" in row.why
    assert "304 7/8" in row.why
    assert "by hand" in row.note
    shared = b.binding(inch("60"), inch("80"), THREE, how).cuts
    assert len(shared) == 3
    assert sum(
        bias.bias_reach(each.width, inch("2 1/4"), how) for each in shared
    ) >= inch("290")


@given(st.integers(20, 600), st.integers(16, 32))
def test_the_square_of_strips_is_the_smallest_that_does(
    total: int, eighths_wide: int
) -> None:
    """Arithmetic identity."""
    width = eighths_wide * INCH // 8
    square = bias.bias_square(total * INCH, width)
    assert bias.bias_reach(square, width) >= total * INCH
    assert bias.bias_reach(square - INCH, width) < total * INCH


def test_a_backing_brought_round() -> None:
    """1/2 on the front takes 2 x 1/2 beyond the edge (identity), and 1 to trim by (common practice, no source): 2."""
    top = Top.read("58 x 66")
    how, told = brought_round("1/2")
    assert how == Conventions()
    assert "2 x 1/2 = 1 beyond the trimmed edge" in told[0]
    assert "is enough" in told[0]
    wide, told = brought_round("1")
    back = backing_size(top, wide)
    assert (back.width, back.length) == (inch("64"), inch("72"))
    batting = batting_size(top, wide)
    assert (batting.width, batting.length) == (inch("62"), inch("70"))
    assert "has so much overage" in told[0]
    assert "1 on the front, of which 1/4 is seam" in told[1]
    longarm, _ = brought_round("1", Conventions(machine="longarm"))
    assert longarm.overage == (inch("4"), inch("4"))
    with pytest.raises(Problem, match="no width"):
        brought_round("0")


def test_sleeves() -> None:
    """A tube 4 deep is cut 2 x 4 + 2 x 1/4 = 8 1/2 (identity), 2 in shorter than the quilt: common practice, no source."""
    plain = hanging_sleeve("40").strips[0]
    four = hanging_sleeve("40", deep="4").strips[0]
    assert plain == four
    assert (four.width, four.total_length) == (inch("8 1/2"), inch("39"))
    assert "2 x 4 + 2 x 1/4 = 8 1/2" in four.why
    assert hanging_sleeve("40", deep="3").strips[0].width == inch("6 1/2")
    tree = ClothWanted(upright=True)
    assert hanging_sleeve("40", tree).strips[0].upright == "across"
    with pytest.raises(Problem, match="no depth"):
        hanging_sleeve("40", deep="0")
