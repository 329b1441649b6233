"""Units of patchwork. 'identity' follows from geometry or counting; the rest is common practice, no source."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutopt.errors import Problem
from cutopt.lengths import INCH, MM
from cutopt.quilt import block_sums as blocks
from cutopt.quilt import strip_sets, triangles, units
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import ROOT2, exact
from cutopt.wanted import Cut
from tests.quilt.sums import inch, inches, size

RULE = Conventions(triangles="rule")
OVER = Conventions(triangles="oversize")
EXACT = Conventions()
eighths = st.integers(4, 320).map(lambda n: n * INCH // 8)
seam_sizes = st.integers(1, 32).map(lambda n: n * INCH // 32)


def first(made: object) -> Cut:
    return made.cuts[0]  # type: ignore[attr-defined, no-any-return]


def test_triangle_allowances() -> None:
    """Identity: (2 + √2)/4 = 0.853553 and (2 + 2√2)/4 = 1.207107; to eighths 7/8 and 1 1/4."""
    assert inches(EXACT.exact_half) == pytest.approx(0.853553, abs=1e-6)
    assert inches(EXACT.exact_quarter) == pytest.approx(1.207107, abs=1e-6)
    assert EXACT.cut_size(EXACT.exact_half) == inch("7/8")
    assert EXACT.cut_size(EXACT.exact_quarter) == inch("1 1/4")
    assert inches(exact(inch("7/8")) - EXACT.exact_half) == pytest.approx(
        0.02145, abs=1e-5
    )
    assert inches(exact(inch("1 1/4")) - EXACT.exact_quarter) == pytest.approx(
        0.04289, abs=1e-5
    )


@given(eighths, seam_sizes)
def test_half_allowance_from_the_inradius(leg: int, seam: int) -> None:
    """Identity: inradius f(2 - √2)/2; a triangle with s more inradius has a leg of f + (2 + √2)s."""
    inner = exact(leg) * (2 - ROOT2) / 2
    assert (inner + seam) * 2 / (2 - ROOT2) == exact(leg) + Conventions(
        seam=seam
    ).exact_half


@pytest.mark.parametrize(
    ("finished", "cut"),
    [
        pytest.param(
            "4",
            "4 1/2",
            id="square 4, seam 1/4: identity (seam: common practice, no source)",
        ),
        pytest.param("12", "12 1/2", id="square 12: identity"),
    ],
)
def test_squares(finished: str, cut: str) -> None:
    assert first(units.squares("s", finished)).width == inch(cut)


@given(eighths, eighths, seam_sizes, st.integers(1, 40))
def test_sewn_row_is_the_sum_less_its_seams(
    width: int, length: int, seam: int, n: int
) -> None:
    """Arithmetic identity."""
    how = Conventions(seam=seam, ruler=INCH // 32)
    row = first(units.rectangles("r", width, length, n, None, how))
    assert row.width - 2 * seam == width
    assert blocks.row_of(row.length, n, how) - 2 * seam == n * exact(length)


def test_row_of_nine() -> None:
    """Identity: 9 squares of 5 sew to 45 - 4 = 41, 40 1/2 finished."""
    assert blocks.row_of(inch("5"), 9) == inch("41")


@pytest.mark.parametrize(
    ("f", "cut"), [("3", "3 7/8"), ("6", "6 7/8"), ("12", "12 7/8")]
)
@pytest.mark.parametrize(
    "how", [EXACT, RULE], ids=["exact: identity", "7/8: common practice, no source"]
)
def test_half_square_cut_once(f: str, cut: str, how: Conventions) -> None:
    made = triangles.half_square_triangles("h", f, 2, how=how, method="cut once")
    assert [row.width for row in made.cuts] == [inch(cut)] * 2
    assert [row.count for row in made.cuts] == [1, 1]


def test_half_square_two_at_a_time() -> None:
    """Identity: 3 7/8 gives 3.5214 unfinished; 4 (common practice, no source, oversize) gives 3.6464, trim 0.146."""
    assert first(triangles.half_square_triangles("h", "3", 2, how=RULE)).width == inch(
        "3 7/8"
    )
    assert inches(triangles.unit_of_two(inch("3 7/8"))) == pytest.approx(
        3.5214, abs=1e-4
    )
    assert first(triangles.half_square_triangles("h", "3", 2, how=OVER)).width == inch(
        "4"
    )
    assert inches(triangles.unit_of_two(inch("4"))) == pytest.approx(3.6464, abs=1e-4)


def test_half_square_eight_at_a_time() -> None:
    """Identity: 3 finished takes 7 3/4; two 10-in squares give up to 4 1/8 (rule of 7/8)."""
    made = triangles.half_square_triangles(
        "h", "3", 8, how=RULE, method="eight at a time"
    )
    assert (first(made).width, first(made).count) == (inch("7 3/4"), 1)
    assert triangles.largest_of_eight(inch("10"), RULE) == inch("4 1/8")


def test_half_square_four_at_a_time() -> None:
    """Identity: 3 finished needs 5.4497, cut 5 1/2; 5-in squares give 3.182. Unfinished/0.64: common practice, no source."""
    made = triangles.half_square_triangles("h", "3", 4, method="four at a time")
    assert first(made).width == inch("5 1/2")
    assert "5.45" in first(made).why
    assert "bias" in first(made).note
    assert inches(triangles.unit_of_four(inch("5"))) == pytest.approx(3.182, abs=1e-3)
    assert abs(3.5 / 0.64 - 5.4497) < 0.02


@given(
    eighths,
    seam_sizes,
    st.sampled_from(["two at a time", "four at a time", "eight at a time"]),
)
def test_units_are_never_short(f: int, seam: int, method: triangles.Ways) -> None:
    """Arithmetic identity."""
    how = Conventions(seam=seam)
    a = first(triangles.half_square_triangles("h", f, 8, how=how, method=method)).width
    unit = {
        "two at a time": triangles.unit_of_two(a, how),
        "four at a time": triangles.unit_of_four(a, how),
        "eight at a time": triangles.unit_of_two(exact(a) / 2, how),
    }[method]
    assert unit >= f + 2 * seam


@given(
    st.integers(1, 300),
    st.sampled_from([("cut once", 2), ("four at a time", 4), ("eight at a time", 8)]),
)
def test_enough_squares(count: int, method: tuple[triangles.Ways, int]) -> None:
    """Arithmetic identity."""
    n = first(triangles.half_square_triangles("h", "3", count, method=method[0])).count
    assert (n - 1) * method[1] < count <= n * method[1]


def test_quarter_square() -> None:
    """Identity, rounded to 1 1/4 as is common practice, no source: 6 long takes 7 1/4; an hourglass the same squares."""
    for how in (EXACT, RULE):
        assert first(
            triangles.quarter_square_triangles("q", "6", 4, how=how)
        ).width == inch("7 1/4")
        hour = triangles.hourglasses("g", "6", 2, how=how)
        assert [(r.width, r.count) for r in hour.cuts] == [(inch("7 1/4"), 1)] * 2


def test_flying_geese_without_waste() -> None:
    """Identity: 3 x 6 takes 7 1/4 and four 3 7/8, 112.625 sq in for four."""
    goose, sky = triangles.flying_geese("g", "6", 4, how=RULE).cuts
    assert (goose.width, goose.count, sky.width, sky.count) == (
        inch("7 1/4"),
        1,
        inch("3 7/8"),
        4,
    )
    assert (goose.width**2 + 4 * sky.width**2) / INCH**2 == pytest.approx(112.625)


def test_flying_geese_stitch_and_flip() -> None:
    """Identity: 189 sq in for four, 67.8 % more than without waste; the corners are spare."""
    made = triangles.flying_geese("g", "6", 4, method="stitch and flip")
    goose, sky = made.cuts
    assert size(goose) == (6.5, 3.5)
    assert (size(sky), sky.count) == ((3.5, 3.5), 8)
    area = (goose.width * goose.length * 4 + sky.width**2 * 8) / INCH**2
    assert area == pytest.approx(189)
    assert area / 112.625 - 1 == pytest.approx(0.678, abs=1e-3)
    assert sum(spare.count for spare in made.spare) == 16
    assert inches(made.spare[0].leg) == pytest.approx(3.5 - 0.25 * 2**0.5)


@given(eighths)
def test_stitch_and_flip_areas_add_up(w: int) -> None:
    """Identity: cloth cut = the goose, unfinished + what the seams keep + spare triangles (shoelace of each)."""
    made = triangles.flying_geese(
        "g", w, 1, how=Conventions(ruler=INCH // 64), method="stitch and flip"
    )
    goose, sky = made.cuts
    s = INCH // 4
    q = exact(sky.width)
    under_the_seam = (
        2 * 2 * (q * q / 2 - (q - s * ROOT2) * (q - s * ROOT2) / 2)
    )  # both layers, both corners
    flipped = 2 * (q * q / 2)  # the half of each square that is seen
    spare = sum((t.count * t.leg * t.leg / 2 for t in made.spare), start=exact(0))
    cloth = exact(goose.width) * goose.length + 2 * q * q
    assert (
        cloth
        == exact(goose.width) * goose.length
        - 2 * (q * q / 2)
        + flipped
        + under_the_seam
        + spare
    )


def test_square_in_a_square() -> None:
    """Identity: a block of 6 has a centre of 4.7426, cut 4 3/4, and corners of 3 7/8."""
    centre, corner = triangles.square_in_a_square("s", "6", 1, how=RULE).cuts
    assert (centre.width, corner.width, corner.count) == (
        inch("4 3/4"),
        inch("3 7/8"),
        2,
    )
    assert "4.74" in centre.why


@given(eighths)
def test_square_in_a_square_areas_add_up(b: int) -> None:
    """Identity: centre (b/√2)² + 4 triangles of legs b/2 = b²."""
    side = exact(b) / ROOT2
    assert side * side + 4 * (exact(b) / 2) * (exact(b) / 2) / 2 == exact(b) * b


@pytest.mark.parametrize(
    ("c", "sewn", "unit", "finished", "whole", "half"),
    [
        pytest.param("5", "14", "7", "6 1/2", "4 1/2", "2", id="5: identity"),
        pytest.param("10", "29", "14 1/2", "14", "9 1/2", "4 1/2", id="10: identity"),
        pytest.param(
            "2 1/2", "6 1/2", "3 1/4", "2 3/4", "2", "3/4", id="2 1/2: identity"
        ),
        pytest.param(
            "4 3/4",
            "13 1/4",
            "6 5/8",
            "6 1/8",
            "4 1/4",
            "1 7/8",
            id="4 3/4 stays on eighths: identity",
        ),
        pytest.param(
            "4 5/8",
            "12 7/8",
            "6 7/16",
            "5 15/16",
            "4 1/8",
            "1 13/16",
            id="4 5/8 needs sixteenths: identity",
        ),
    ],
)
def test_disappearing_nine_patch(
    c: str, sewn: str, unit: str, finished: str, whole: str, half: str
) -> None:
    nine = blocks.NinePatchCut.of(inch(c), INCH // 4)
    told = (nine.sewn, nine.unit, nine.finished, nine.whole, nine.half)
    assert told == tuple(inch(each) for each in (sewn, unit, finished, whole, half))
    assert nine.whole + nine.half == nine.finished


def test_disappearing_nine_patch_sewn_back_and_yield() -> None:
    """Identity: four units of 5-in squares sew to 13 1/2; 54 squares make 24 units, 26 x 39 finished."""
    nine = blocks.NinePatchCut.of(inch("5"), INCH // 4)
    assert blocks.row_of(2, 1) == 2
    assert 2 * nine.unit - 2 * (INCH // 4) == inch("13 1/2")
    made = blocks.disappearing_nine_patch("d", "5", 24)
    assert sum(row.count for row in made.cuts) == 54
    assert (4 * made.width, 6 * made.length) == (inch("26"), inch("39"))


def test_cut_and_sewn_again() -> None:
    """Identity: a four patch of 5s is 9 1/2; cut twice each way and sewn back 8 1/2: every cut costs two seams."""
    four = blocks.row_of(inch("5"), 2)
    assert (four, four - 2 * 2 * (INCH // 4)) == (inch("9 1/2"), inch("8 1/2"))


def test_turned_variants_are_different_layouts_of_the_same_units() -> None:
    """Arithmetic identity."""
    seen = {
        blocks.turns(v, 4, 6)
        for v in ("as cut", "every other one", "all turned", "pinwheel")
    }  # type: ignore[arg-type]
    assert len(seen) == 4
    for layout in seen:
        assert {turn for row in layout for turn in row} <= {0, 1, 2, 3}
    assert blocks.turns("all turned", 2, 2) == ((2, 3), (1, 0))


def test_strip_set() -> None:
    """Identity: three strips of 2 1/2 are 6 1/2 high; six segments of 6 1/2 from 42, 39 used."""
    made = strip_sets.strip_set("set", ("2", "2", "2"), "6", 6)
    assert made.width + INCH // 2 == inch("6 1/2")
    assert [size(row) for row in made.cuts] == [(2.5, 39.0)] * 3
    assert (
        sum(row.count for row in strip_sets.strip_set("set", ("2",) * 3, "6", 7).cuts)
        == 6
    )


@given(st.integers(1, 100), st.lists(eighths, min_size=1, max_size=5))
def test_strip_sets_hold_their_segments(count: int, widths: list[int]) -> None:
    """Arithmetic identity."""
    made = strip_sets.strip_set("set", tuple(widths), "3", count)
    for i, width in enumerate(widths):
        mine = [row for row in made.cuts if row.name.startswith(f"set strip {i + 1}")]
        assert sum(row.length * row.count for row in mine) == count * inch("3 1/2")
        assert all(
            row.length <= inch("42") and row.width == width + INCH // 2 for row in mine
        )


def test_log_cabin() -> None:
    """Identity: centre 2, logs 1, three rounds: 60 in finished, 66 in of 1 1/2 strip, block 8."""
    lengths = blocks.log_lengths(inch("2"), inch("1"), 3)
    assert [inches(each) for each in lengths] == [2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8]
    made = blocks.log_cabin("l", "2", "1", 3, 1)
    logs = made.cuts[1:]
    assert (sum(row.length for row in logs), made.width) == (inch("66"), inch("8"))
    assert {row.width for row in logs} == {inch("1 1/2")}


@given(eighths, eighths, st.integers(1, 6))
def test_log_cabin_areas_add_up(c: int, w: int, k: int) -> None:
    """Sizes and words are invented."""
    area = exact(c) * c + sum(
        (w * each for each in blocks.log_lengths(c, w, k)), start=exact(0)
    )
    assert area == (c + 2 * k * exact(w)) * (c + 2 * k * exact(w))


@pytest.mark.parametrize(
    ("join", "whole", "rows"),
    [("straight", "1660 1/2", 51.9), ("diagonal", "1582 1/2", 49.5)],
)
def test_bundle_sewn_end_to_end(join: str, whole: str, rows: float) -> None:
    """Identity: 40 strips 2 1/2 x 42, folded five times: 32 rows, 64 1/2 by 51.9 or 49.5 unfinished."""
    made = strip_sets.folded_bundle(40, "42", "2 1/2", 5, Conventions(border_join=join))  # type: ignore[arg-type]
    assert made.width + INCH // 2 == inch("64 1/2")
    assert inches(made.length + INCH // 2) == pytest.approx(rows, abs=0.06)
    assert whole in made.notes[0]


def test_metric_triangles() -> None:
    """Identity: seam 0.75 cm needs + 2.561 and + 3.621 cm; the usual + 2.5 and + 3.5 are short and refused."""
    how = Conventions.metric()
    assert float(how.exact_half) / (10 * MM) == pytest.approx(2.561, abs=1e-3)
    assert float(how.exact_quarter) / (10 * MM) == pytest.approx(3.621, abs=1e-3)
    assert (
        first(triangles.half_square_triangles("h", "10", 2, how=how)).width == 126 * MM
    )
    with pytest.raises(Problem, match="short"):
        Conventions(
            unit="cm",
            seam=15 * MM // 2,
            triangles="rule",
            rule_half=25 * MM,
            rule_quarter=35 * MM,
        )


def test_metric_square() -> None:
    """Sum identity, seam common practice, no source: 10 cm finished, seam 0.75: cut 11.5."""
    assert first(units.squares("s", "10", how=Conventions.metric())).width == 115 * MM


@pytest.mark.parametrize(
    ("c", "kept"), [("1 1/2", 44.4), ("2 1/2", 64.0), ("5", 81.0), ("10", 90.3)]
)
def test_area_kept_by_seams(c: str, kept: float) -> None:
    """Identity: ((c - .5)/c)²."""
    finished = blocks.row_of(inch(c), 1) - INCH // 2
    assert float(finished * finished) / inch(c) ** 2 * 100 == pytest.approx(
        kept, abs=0.05
    )


def test_errors_build_up() -> None:
    """Identity: 1/32 at each of 11 seams is 11/32."""
    scant = Conventions(seam=INCH // 4 - INCH // 64)
    assert blocks.row_of(inch("5"), 12, scant) - blocks.row_of(
        inch("5"), 12
    ) == Fraction(11 * INCH, 32)


def test_every_row_says_how_it_came_about() -> None:
    """Arithmetic identity."""
    made = triangles.flying_geese("g", "6", 6) + triangles.square_in_a_square(
        "s", "6", 2
    )
    assert all("=" in row.why or "finished" in row.why for row in made.wanted)
    assert (
        first(made).why
        == "6 + 1.21 = 7.21, cut 7 1/4; 4 geese from 1 goose square and 4 sky squares, 6 geese: 2"
    )


def test_spares_are_told() -> None:
    """Sizes and words are invented."""
    row = first(units.squares("s", "4", 10, how=Conventions(spares=2)))
    assert (row.count, row.why.endswith("10 and 2 spare")) == (12, True)
    assert row.spares == 2


def test_a_block_that_the_ruler_cannot_divide_says_so() -> None:
    """Identity: thirds of 10 are 3.83 as cut; 3 7/8 makes a block of 10 1/8."""
    assert "make a block of 10 1/8, not 10" in blocks.nine_patch("n", "10", 1).notes[0]
    assert not blocks.nine_patch("n", "12", 1).notes
    assert "too large" in units.squares("s", "3.3", 1).notes[0]


@pytest.mark.parametrize("seam", [INCH // 4, INCH // 8, 3 * INCH // 8])
@pytest.mark.parametrize("f", ["3", "6 1/2", "12"])
@pytest.mark.parametrize("extra", ["0", "1/2"])
def test_triangles_shrunk_by_the_seam(seam: int, f: str, extra: str) -> None:
    """Oracle: shapely (a mitred offset by the seam) on the triangles that come out of the squares."""
    from shapely import Polygon

    from cutopt.quilt.on_point import corner_square, side_square

    how = Conventions(seam=seam, float_by=inch(extra))
    side, corner = (
        float(make(f, how)[0]) / INCH for make in (side_square, corner_square)
    )
    half = float(exact(inch(f)) + how.exact_half) / INCH
    s = seam / INCH
    finished = inch(f) / INCH
    more = inch(extra) / INCH
    quarter = Polygon([(0, 0), (side, 0), (side / 2, side / 2)]).buffer(
        -s, join_style="mitre"
    )
    x1, y1, x2, y2 = quarter.bounds
    assert x2 - x1 == pytest.approx(finished * 2**0.5 + more)
    assert y2 - y1 == pytest.approx(
        finished * 2**0.5 / 2 + more / 2
    )  # d/2 beyond the corners of the blocks
    for leg, wanted in ((half, finished), (corner, finished / 2**0.5 + more)):
        x1, y1, x2, y2 = (
            Polygon([(0, 0), (leg, 0), (0, leg)]).buffer(-s, join_style="mitre").bounds
        )
        assert (x2 - x1, y2 - y1) == (pytest.approx(wanted), pytest.approx(wanted))


def test_conventions_of_a_job() -> None:
    """What a job states already is taken over; the rest are the defaults of its unit.

    Common practice, no source: defaults of either unit.
    """
    from cutopt.settings import Settings

    how = Conventions.of(Settings(seam=INCH // 8, grid=INCH // 16, square_up_end=0))
    assert (how.seam, how.grid, how.ruler, how.square_up_end) == (
        INCH // 8,
        INCH // 16,
        INCH // 16,
        0,
    )
    metric = Conventions.of(Settings.metric())
    assert (metric.unit, metric.grid, metric.seam) == ("cm", MM, 15 * MM // 2)
