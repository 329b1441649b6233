"""Shapes in strips. Oracle: shapely, which moves the sides of a finished shape out by a seam, and sees what overlaps.

The seam of 60-degree shapes (a triangle in a strip of its height + 3 seams, a diamond in one of its height + 2) is an
arithmetic identity; the triangle of 4 in a strip of 4 3/4 is the usual figure (common practice, no source).
"""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, unary_union
from shapely.geometry import box

from cutopt.errors import Problem
from cutopt.lengths import INCH
from cutopt.quilt.cautions import SHARP
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.shapes.nested import Outline
from cutopt.quilt.shapes.rows import rows_of
from cutopt.quilt.shapes.sixty import ANGLED, Angled, InStrip, in_strip
from cutopt.quilt.shapes.tumblers import tumbler
from cutopt.quilt.surds import exact
from cutopt.quilt.wanted_parts import ClothWanted
from tests.quilt.sums import inch, inches, size

# fine enough that no strip is rounded: the shape in it is the exact one
FINE = Conventions(grid=1, ruler=1)
SEAM = 0.25


def drawn(outline: Outline) -> Polygon:
    """The shape in inches."""
    return Polygon([(inches(x), inches(y)) for x, y in outline])


def finished(kind: str, side: float) -> Polygon:
    """A shape without seams, from school geometry: its corners, not the sums of the package."""
    high = side * sqrt(3) / 2
    corners = {
        "60-degree triangle": [(0, 0), (side, 0), (side / 2, high)],
        "60-degree diamond": [
            (0, 0),
            (side, 0),
            (1.5 * side, high),
            (side / 2, high),
        ],
        "45-degree diamond": [
            (0, 0),
            (side, 0),
            (side + side / sqrt(2), side / sqrt(2)),
            (side / sqrt(2), side / sqrt(2)),
        ],
        "hexagon": [
            (side / 2, 0),
            (1.5 * side, 0),
            (2 * side, high),
            (1.5 * side, 2 * high),
            (side / 2, 2 * high),
            (0, high),
        ],
        "half hexagon": [
            (0, 0),
            (2 * side, 0),
            (1.5 * side, high),
            (side / 2, high),
        ],
    }
    return Polygon(corners[kind])


def seams_round(shape: Polygon, seam: float = SEAM) -> Polygon:
    """The shape with a seam on every side, its points kept."""
    return shape.buffer(seam, join_style="mitre", mitre_limit=100)


def same_shape(one: Polygon, other: Polygon) -> bool:
    """Whether they lie on each other, the lower left corners of their boxes brought together."""
    x, y, *_ = one.bounds
    at_zero = Polygon([(a - x, b - y) for a, b in one.exterior.coords])
    u, v, *_ = other.bounds
    beside = Polygon([(a - u, b - v) for a, b in other.exterior.coords])
    return bool(at_zero.symmetric_difference(beside).area < 1e-2 * SEAM)


@pytest.mark.parametrize("kind", ANGLED)
@pytest.mark.parametrize("side", ["1", "2 1/2", "4"])
def test_a_seam_goes_round_every_side(kind: Angled, side: str) -> None:
    """Identity, by shapely: the shape cut through the strip is the finished one with a seam all round."""
    made = in_strip(kind, side, FINE, "side")
    wanted = seams_round(finished(kind, inches(inch(side))))
    first = drawn(made.nested.outlines(1)[0])
    assert same_shape(first, wanted)
    x1, y1, x2, y2 = wanted.bounds
    assert inches(made.nested.box[0]) == pytest.approx(x2 - x1, abs=1e-3)
    assert inches(made.nested.height) == pytest.approx(y2 - y1, abs=1e-3)


def test_a_seam_goes_round_a_tumbler() -> None:
    """Identity, by shapely, of a slope that is neither 45 nor 60 degrees."""
    made = tumbler("4", "4 1/2", "3", FINE)
    corners = [(0, 0), (4, 0), (3.5, 4.5), (0.5, 4.5)]
    first = drawn(made.nested.outlines(1)[0])
    assert same_shape(first, seams_round(Polygon(corners)))


def shapes() -> st.SearchStrategy[InStrip]:
    angled = st.builds(
        lambda kind, eighths, alike: in_strip(
            kind, eighths * INCH // 8, by="side", alike=alike
        ),
        st.sampled_from(ANGLED),
        st.integers(6, 60),
        st.booleans(),
    )
    tumblers = st.builds(
        lambda wide, high, alike: tumbler(
            wide * INCH // 8, high * INCH // 8, (wide - 4) * INCH // 8, alike=alike
        ),
        st.integers(12, 48),
        st.integers(8, 48),
        st.booleans(),
    )
    return angled | tumblers


@given(shapes(), st.integers(1, 12))
@settings(max_examples=60)
def test_they_lie_in_their_strip_and_not_on_each_other(
    shape: InStrip, count: int
) -> None:
    """By shapely: all of them inside the rectangle that is asked for, and the area of all is the sum of each.

    Arithmetic identity.
    """
    made = rows_of("leaf", shape, count, to_a_strip=count)
    (row,) = made.cuts
    strip = box(0, 0, *reversed(size(row)))
    all_of_them = [drawn(each) for each in shape.nested.outlines(count)]
    whole = unary_union(all_of_them)
    assert whole.difference(strip).area < 1e-6
    assert whole.area == pytest.approx(sum(each.area for each in all_of_them))
    assert all(each.area == pytest.approx(all_of_them[0].area) for each in all_of_them)
    # and no shorter mark of the ruler would hold them
    assert inches(row.length) - 1 / 8 < whole.bounds[2]


def test_triangles_of_four() -> None:
    """Common practice, no source: a triangle 4 high comes from a strip of 4 3/4.

    Identity: its side is 4 3/4 x 2 / √3 = 5.485, the first takes it and each next half of it: 14 take 15 halves,
    41.14, and 15 would take 43.88.
    """
    triangle = in_strip("60-degree triangle", "4")
    assert triangle.nested.height == inch("4 3/4")
    assert inches(triangle.cut_side) == pytest.approx(5.485, abs=1e-3)
    assert triangle.nested.fit_in(inch("42")) == 14
    strips, short = rows_of("leaf", triangle, 60).cuts
    assert (strips.count, size(strips)) == (4, (4.75, 41.25))
    assert (short.count, size(short)) == (1, (4.75, 13.75))
    # one at a time they would take 60 boxes of 4 3/4 x 5 1/2: 7 to a strip, 9 strips in place of 5
    assert -(-60 // 7) == 9


def test_diamonds_and_hexagons() -> None:
    """Identities: a diamond 4 high in a strip of 4 1/2, side 5.196; a hexagon of side 3 is 5.196 + 1/2 high."""
    diamond = in_strip("60-degree diamond", "4")
    assert diamond.nested.height == inch("4 1/2")
    assert inches(diamond.nested.length(7)) == pytest.approx(7.5 * 5.196, abs=1e-2)
    hexagon = in_strip("hexagon", "3")
    assert inches(hexagon.needed) == pytest.approx(3 * sqrt(3) + 0.5)
    assert hexagon.nested.height == inch("5 3/4")
    by_height = in_strip("hexagon", "3", by="height")
    assert by_height.nested.height == inch("3 1/2")
    assert inches(by_height.side) == pytest.approx(3 / sqrt(3))
    assert in_strip("45-degree diamond", "3").nested.height == inch("2 5/8")


def test_two_half_hexagons_are_a_hexagon() -> None:
    """Identity: without seams the two heights make the hexagon's, and a row of them is as long as its area says."""
    half = in_strip("half hexagon", "3")
    whole = in_strip("hexagon", "3")
    assert half.height * 2 == whole.height
    assert half.row * half.height * 2 == whole.height * whole.side * 3 / 2


def test_a_print_that_stands_up_is_not_turned() -> None:
    """Identity: triangles that all stand the same way take a whole side each, and the strip lies across its row."""
    alike = in_strip("60-degree triangle", "4", alike=True)
    assert alike.nested.length(7) == 7 * alike.cut_side
    of = ClothWanted(fabrics=("blossom",), upright=True, grain="along")
    (row, _) = rows_of("leaf", alike, 10, of).cuts
    assert row.upright
    assert (row.length, row.grain) == (inch("4 3/4"), "across")
    assert "all points up" in row.note


def test_how_many_to_a_strip_and_spares() -> None:
    """Arithmetic identity."""
    triangle = in_strip("60-degree triangle", "4")
    six, rest = rows_of("leaf", triangle, 20, to_a_strip=6).cuts
    assert (six.count, rest.count) == (3, 1)
    assert exact(rest.length) >= triangle.nested.length(2)
    (all_in_one,) = rows_of("leaf", triangle, 5).cuts
    assert all_in_one.count == 1
    more = rows_of("leaf", triangle, 20, how=Conventions(spares=4), to_a_strip=6)
    assert [row.count for row in more.cuts] == [4]
    assert any(SHARP in note for note in more.notes)
    large = in_strip("hexagon", "40")
    assert [row.count for row in rows_of("leaf", large, 2).cuts] == [2]


def test_a_strip_is_never_wider_than_the_cloth() -> None:
    """Rounded up to a mark a strip of so many might not fit any more: then one fewer is cut from it (identity)."""
    triangle = in_strip("60-degree triangle", "4")
    narrow = Conventions(usable_width=inch("41 3/16"))
    assert triangle.nested.fit_in(narrow.usable_width) == 14
    first, *_ = rows_of("leaf", triangle, 60, how=narrow).cuts
    assert first.length <= narrow.usable_width
    assert "13 to a strip" in first.why


def test_mistakes() -> None:
    """Sizes and words are invented."""
    with pytest.raises(Problem, match="nothing is left"):
        in_strip("60-degree triangle", "1/2", by="strip")
    with pytest.raises(Problem, match="narrow edge"):
        tumbler("3", "4", "3")
    triangle = in_strip("60-degree triangle", "4")
    limited = ClothWanted(most_each=3)
    with pytest.raises(Problem, match="1 to a strip"):
        rows_of("leaf", triangle, 20, limited)
    (row,) = rows_of("leaf", triangle, 20, limited, to_a_strip=1).cuts
    assert (row.count, row.most_each) == (20, 3)


def test_metric() -> None:
    """Identity: side 5 cm is 8.660 high, + 2 x 0.75 = 10.16: 10.2 to the next millimetre, which is told."""
    how = Conventions.metric()
    made = rows_of("leaf", in_strip("hexagon", "5", how), 8, how=how)
    assert made.cuts[0].width == 102 * 320
    assert any("0.04 higher than 10.16" in note for note in made.notes)
