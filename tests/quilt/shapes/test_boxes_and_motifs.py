"""Shapes by their box, half-rectangle triangles, and what is cut by a print.

What goes round a shape, and about one repeat for each fussy cut, is common practice, no source (from memory).
"""

from __future__ import annotations

from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.shapes.boxes import Round, in_boxes, paper_hexagons
from cutopt.quilt.shapes.halves import half_rectangle, half_rectangle_triangles
from cutopt.quilt.shapes.motifs import Repeat, fussy_cuts
from cutopt.quilt.shapes.stripes import striped_border
from cutopt.quilt.surds import exact
from cutopt.quilt.wanted_parts import ClothWanted
from tests.quilt.sums import inch, inches, size


@pytest.mark.parametrize(
    ("kind", "cut"),
    [
        pytest.param("template", (5.5, 7.5), id="seam: identity"),
        pytest.param("turned under", (5.5, 7.5), id="1/4: common practice, no source"),
        pytest.param("fused", (5.5, 7.5), id="1/4: common practice, no source"),
        pytest.param("on foundation", (6.0, 8.0), id="1/2: common practice, no source"),
        pytest.param("over papers", (5.75, 7.75), id="3/8: common practice, no source"),
    ],
)
def test_boxes(kind: Round, cut: tuple[float, float]) -> None:
    (row,) = in_boxes("leaf", ("5", "7"), 12, kind=kind).cuts
    assert (row.count, size(row)) == (12, cut)


def test_what_goes_round_is_as_she_says() -> None:
    """Arithmetic identity."""
    (exactly,) = in_boxes("leaf", ("5", "7"), 12, extra="0").cuts
    assert size(exactly) == (5.0, 7.0)
    assert exactly.why == "box 5 x 7 as cut"
    (more,) = in_boxes("leaf", ("5", "7"), 12, kind="fused", extra="1/2").cuts
    assert size(more) == (6.0, 8.0)


def test_hexagons_over_papers() -> None:
    """Oracle: shapely, the box of a hexagon of side 1 with 3/8 all round (3/8: common practice, no source)."""
    high = 3**0.5 / 2
    paper = Polygon(
        [
            (0.5, 0),
            (1.5, 0),
            (2, high),
            (1.5, 2 * high),
            (0.5, 2 * high),
            (0, high),
        ]
    )
    x1, y1, x2, y2 = paper.buffer(3 / 8, join_style="mitre").bounds
    (row,) = paper_hexagons("leaf", "1", 30).cuts
    assert size(row) == (ceil((x2 - x1) * 8) / 8, ceil((y2 - y1) * 8) / 8)


@pytest.mark.parametrize("legs", [("3", "6"), ("4", "5"), ("2 1/2", "7 3/8")])
def test_half_rectangles(legs: tuple[str, str]) -> None:
    """Oracle: shapely, a right-angled triangle with a seam on every side, its points kept."""
    w, h = (inches(inch(leg)) for leg in legs)
    triangle = Polygon([(0, 0), (w, 0), (0, h)])
    x1, y1, x2, y2 = triangle.buffer(0.25, join_style="mitre", mitre_limit=100).bounds
    cut = half_rectangle(*legs)
    assert inches(cut[0]) == pytest.approx(x2 - x1)
    assert inches(cut[1]) == pytest.approx(y2 - y1)


def test_half_a_square_is_no_exception() -> None:
    """Identity: equal legs give the allowance of a half-square triangle, (2 + √2) seams."""
    assert half_rectangle("3", "3")[0] == inch("3") + Conventions().exact_half


def test_units_of_half_rectangles() -> None:
    """Identity: 3 x 6 wants 3.654 x 7.309; two triangles from a rectangle; those that lean left from the other diagonal."""
    made = half_rectangle_triangles("leaf", ("3", "6"), 12)
    assert [(row.count, size(row)) for row in made.cuts] == [(6, (3.75, 7.375))] * 2
    odd = half_rectangle_triangles("leaf", ("3", "6"), 13, leaning_left=True)
    assert [row.count for row in odd.cuts] == [7, 7]
    assert "lower right to the upper left" in odd.cuts[0].note
    assert odd.notes == ("leaf: 14 units come of it, 13 are wanted",)


def whole_windows(begins: int, step: int, repeat: int, window: int, room: int) -> int:
    """Counting: windows that lie whole in a length, one a step, where the print begins there."""
    return sum(
        1
        for at in range(begins, room - window + 1, repeat)
        if (at - begins) % step == 0
    )


@given(st.integers(1, 40), st.integers(1, 60), st.integers(1, 5), st.integers(0, 39))
def test_motifs_are_there_wherever_the_print_begins(
    repeat: int, window: int, count: int, begins: int
) -> None:
    """Counting, by steps of an eighth: so many whole windows, and the length is the least that is sure of them."""
    each = Repeat(repeat=exact(repeat), window=exact(window))
    room = int(each.room(count).plain)
    step = int(each.step.plain)
    assert step >= window
    assert step - window < repeat
    assert each.fit_in(room) == count
    assert each.fit_in(room - 1) == count - 1
    assert whole_windows(begins % repeat, step, repeat, window, room) >= count
    # where the print begins just behind the edge, hardly less would do
    assert whole_windows(repeat - 1, step, repeat, window, room - 2) < count


def test_fussy_cuts() -> None:
    """Common practice, no source: rows x repeat; that the print may begin anywhere adds a window to it (identity)."""
    made = fussy_cuts("bird", ("4", "4"), 6, ("12", "12"))
    (row,) = made.cuts
    assert (row.count, size(row)) == (1, (3 * 12 + 4.5, 2 * 12 + 4.5))
    assert row.grain == "any"
    pairs, last = fussy_cuts("bird", ("4", "4"), 7, ("8", "12"), to_a_piece=2).cuts
    assert [(pairs.count, size(pairs)), (last.count, size(last))] == [
        (3, (2 * 8 + 4.5, 12 + 4.5)),
        (1, (8 + 4.5, 12 + 4.5)),
    ]
    assert pairs.grain == "along"


def test_fussy_cuts_that_lie_across() -> None:
    """A patch whose length runs across the fabric has its repeats the other way round (identity)."""
    of = ClothWanted(grain="across")
    (row,) = fussy_cuts("bird", ("4", "6"), 1, ("8", "12"), of).cuts
    assert size(row) == (12 + 4.5, 8 + 6.5)


def test_stripes_that_run_round() -> None:
    """Identity: 10 from stripe to stripe, a border of 6: two side by side take 10 + 10 + 6 1/2.

    Round 60 x 80 mitred sides are 80 + 12 + 2 seams + 2 seams √2 + 2 = 95.21.
    """
    inside = exact(inch("60")), exact(inch("80"))
    made = striped_border(inside, "6", "10")
    side, end = made.cuts
    assert (side.count, size(side), side.grain) == (1, (26.5, 95.25), "along")
    assert (end.count, size(end)) == (1, (26.5, 75.25))
    assert (made.width, made.length) == (inch("72"), inch("92"))
    assert [each.count for each in made.held] == [2, 2]
    # where two need not lie on the cloth, each has its own
    side, end = striped_border(inside, "6", "20").cuts
    assert (side.count, size(side)) == (2, (26.5, 95.25))


def test_mistakes() -> None:
    """Sizes and words are invented."""
    with pytest.raises(Problem, match="need not hold a whole motif"):
        fussy_cuts("bird", ("4", "4"), 6, ("40", "12"))
    with pytest.raises(Problem, match="repeat of nothing"):
        fussy_cuts("bird", ("4", "4"), 6, ("0", "12"))
    limited = ClothWanted(most_each=3)
    with pytest.raises(Problem, match="1 to a piece"):
        fussy_cuts("bird", ("4", "4"), 6, ("8", "8"), limited)
    inside = exact(inch("60")), exact(inch("80"))
    with pytest.raises(Problem, match="whole stripe"):
        striped_border(inside, "30", "20")
    for of in (ClothWanted(grain="across"), ClothWanted(upright=True)):
        with pytest.raises(Problem, match="along the selvage"):
            striped_border(inside, "6", "10", of)
