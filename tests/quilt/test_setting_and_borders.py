"""Settings, sashing and borders. 'identity' follows from geometry or counting."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutopt.errors import Problem
from cutopt.lengths import INCH
from cutopt.quilt import block_settings as settings
from cutopt.quilt import borders, on_point
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.sashes import Sashes
from cutopt.quilt.surds import ROOT2, Exact, exact
from cutopt.quilt.wanted_parts import ClothWanted, Made, joined_count
from cutopt.wanted import Cut
from tests.quilt.sums import BARE, inch, inches, size
from tests.worked.pocket_tables import ON_POINT, ONCE

RULE = Conventions(setting_triangles="rule")
eighths = st.integers(8, 200).map(lambda n: n * INCH // 8)
few = st.integers(1, 12)


def row(made: Made, name: str) -> Cut:
    return next(each for each in made.cuts if each.name == name)


@pytest.mark.parametrize(
    ("c", "across", "down", "finished"),
    [
        ("5", 9, 11, ("40 1/2", "49 1/2")),
        ("2 1/2", 12, 16, ("24", "32")),
        ("10", 5, 6, ("47 1/2", "57")),
    ],
)
def test_patchwork(c: str, across: int, down: int, finished: tuple[str, str]) -> None:
    """Identity: m(c - .5) by k(c - .5)."""
    made = settings.patchwork("s", c, across, down)
    assert (made.width, made.length) == (inch(finished[0]), inch(finished[1]))
    assert made.cuts[0].count == across * down


@pytest.mark.parametrize(
    "line",
    ON_POINT,
    ids=[
        f"block {line[0]}: identity, rule: common practice, no source"
        for line in ON_POINT
    ],
)
def test_setting_squares(
    line: tuple[str, float, float, str, float, float, str],
) -> None:
    block, side, side_rule, side_cut, corner, corner_rule, corner_cut = line
    how = Conventions()
    for squares, by, exactly, cut in (
        (on_point.side_square, RULE, side_rule, side_cut),
        (on_point.corner_square, RULE, corner_rule, corner_cut),
        (on_point.side_square, how, side, ONCE.get(block, side_cut)),
        (on_point.corner_square, how, corner, corner_cut),
    ):
        value, _ = squares(block, by)
        assert inches(value) == pytest.approx(exactly, abs=6e-5)
        assert by.cut_size(value) == inch(cut)


def test_the_work_is_shown() -> None:
    """Identity; the rule of 1 1/4: common practice, no source."""
    made = on_point.on_point("12", 3, 4, how=RULE)
    why = "square of 12 x 1.4142 + 1 1/4 = 18.22, cut 18 1/4; 2 x 2 + 2 x 3 = 10 triangles, 4 from a square"
    assert row(made, "side triangles").why == why


def test_on_point_throw() -> None:
    """Identity: 3 x 4 of 12 is 50.91 x 67.88, 18 blocks, 10 sides from 3 squares, 4 corners from 2."""
    made = on_point.on_point("12", 3, 4)
    assert (inches(made.width), inches(made.length)) == (
        pytest.approx(50.91, abs=5e-3),
        pytest.approx(67.88, abs=5e-3),
    )
    assert on_point.on_point_blocks(3, 4) == 18
    assert (row(made, "side triangles").count, row(made, "corner triangles").count) == (
        3,
        2,
    )


@given(eighths, few, few)
def test_on_point_areas_add_up(f: int, n: int, m: int) -> None:
    """Identity: blocks f², sides f²/2, corners f²/4 fill W x H."""
    made = on_point.on_point(f, n, m, how=Conventions(float_by=0))
    square = exact(f) * f
    sides = 2 * (n - 1) + 2 * (m - 1)
    assert (
        on_point.on_point_blocks(n, m) * square + sides * square / 2 + square
        == made.width * made.length
    )


@given(eighths, st.integers(0, 8))
def test_floating_blocks(f: int, d: int) -> None:
    """Identity: a square d larger has triangles d/2 higher (a quarter is half as high as long; a half has a
    right angle d/2 further out in x and in y), so both edges lie d/2 further out."""
    extra = d * INCH // 4
    how = Conventions(float_by=extra)
    side = on_point.side_square(f, how)[0]
    corner = on_point.corner_square(f, how)[0]
    less = Conventions()
    assert side / 2 - on_point.side_square(f, less)[0] / 2 == exact(extra) / 2
    moved = (corner - on_point.corner_square(f, less)[0]) / ROOT2  # along the diagonal
    assert moved / ROOT2 == exact(extra) / 2
    assert on_point.on_point(f, 2, 3, how=how).width == 2 * f * ROOT2 + extra


def test_sashing_with_cornerstones() -> None:
    """Identity: 4 x 5 of 12, sashing 2. Inner: 31 and 12, 54 x 68; framed: 49 and 30, 58 x 72."""
    inner = settings.straight(("12", "12"), 4, 5, Sashes(strips=("2",)))
    assert (row(inner, "sash").count, row(inner, "cornerstone").count) == (31, 12)
    assert (inner.width, inner.length) == (inch("54"), inch("68"))
    assert size(row(inner, "sash")) == (2.5, 12.5)
    assert size(row(inner, "cornerstone")) == (2.5, 2.5)
    framed = settings.straight(("12", "12"), 4, 5, Sashes(strips=("2",), framed=True))
    assert (row(framed, "sash").count, row(framed, "cornerstone").count) == (49, 30)
    assert (framed.width, framed.length) == (inch("58"), inch("72"))


def strips(made: Made) -> dict[str, tuple[int, float]]:
    return {each.name: (each.count, each.total_length / INCH) for each in made.strips}


def test_sashing_without_cornerstones() -> None:
    """Identity: inner 15 short and 4 of 54 1/2; framed 15, 6 of 54 1/2 and 2 of 72 1/2, at any width of cloth."""
    bare = Sashes(strips=("2",), cornerstones=False)
    inner = settings.straight(("12", "12"), 4, 5, bare)
    assert row(inner, "short sash").count == 15
    assert strips(inner) == {"long sash": (4, 54.5)}
    framed = settings.straight(("12", "12"), 4, 5, replace(bare, framed=True))
    assert row(framed, "short sash").count == 15
    assert strips(framed) == {"long sash": (6, 54.5), "side sash": (2, 72.5)}
    wide = Conventions(usable_width=inch("60"))
    assert settings.straight(("12", "12"), 4, 5, bare, wide) == inner
    whole = Conventions(border_cut="in one piece")
    in_one = settings.straight(("12", "12"), 4, 5, bare, whole)
    assert row(in_one, "long sash").count == 4


sashings = st.builds(
    Sashes,
    strips=st.one_of(
        eighths.map(lambda w: (w,)),
        st.tuples(eighths, eighths).map(lambda two: (two[0], two[1], two[0])),
    ),
    framed=st.booleans(),
    cornerstones=st.booleans(),
    upright=st.sampled_from([None, "oat"]),
    frame=st.sampled_from([None, "plum"]),
)


@given(eighths, eighths, few, few, sashings)
def test_sashing_areas_add_up(bw: int, bl: int, c: int, r: int, said: Sashes) -> None:
    """Identity: blocks, sashes (or their three strips) and cornerstones fill the whole, of whatever cloths."""
    made = settings.straight((bw, bl), c, r, said)
    assert c * r * bw * bl + finished_area(made) == made.width * made.length


def finished_area(made: Made) -> Exact:
    """Finished area of all rows, whole rectangles with a seam round them."""
    s2 = INCH // 2
    area = exact(0)
    for each in made.wanted:
        long = each.length if isinstance(each, Cut) else each.total_length
        area = area + exact(each.count * (each.width - s2) * (long - s2))
    return area


@given(bw=few, bl=few, c=few, r=few)
def test_sashing_one_way(bw: int, bl: int, c: int, r: int) -> None:
    """Identity: c - 1 as long as the columns, or r - 1 as long as the rows; blocks and sashes fill the size."""
    block = (bw * INCH, bl * INCH)
    columns = settings.straight(block, c, r, Sashes(strips=("2",), between="columns"))
    rows = settings.straight(block, c, r, Sashes(strips=("2",), between="rows"))
    assert (columns.width, columns.length) == (
        (c * bw + 2 * (c - 1)) * INCH,
        r * bl * INCH,
    )
    assert (rows.width, rows.length) == (c * bw * INCH, (r * bl + 2 * (r - 1)) * INCH)
    for made, count in ((columns, c - 1), (rows, r - 1)):
        long = made.length if made is columns else made.width
        for cut in made.cuts:
            assert {cut.width, cut.length} == {inch("2 1/2"), long + inch("1/2")}
        for strip in made.strips:
            assert (strip.width, strip.total_length) == (
                inch("2 1/2"),
                long + inch("1/2"),
            )
        assert sum(sash.count for sash in made.wanted) == count


def test_sashing_in_one_row_is_as_long_as_the_quilt() -> None:
    """Identity: 6 blocks of 6 x 48 side by side have 5 sashes of 48 1/2 between them, which may be joined."""
    block = (6 * INCH, 48 * INCH)
    made = settings.straight(block, 6, 1, Sashes(strips=("3",)))
    (strip,) = made.strips
    assert (strip.count, strip.total_length) == (5, inch("48 1/2"))
    assert made.cuts == ()


def test_a_frame_is_on_all_sides() -> None:
    """The width is invented."""
    with pytest.raises(Problem, match="does not go round"):
        Sashes(strips=("2",), framed=True, between="rows")


def test_sashing_of_no_width() -> None:
    """Sizes and words are invented."""
    with pytest.raises(Problem, match="no width"):
        settings.straight(("12", "12"), 4, 5, Sashes(strips=("0",)))
    with pytest.raises(Problem, match="three strips"):
        settings.straight(("12", "12"), 4, 5, Sashes(strips=("1", "1", "2")))


INSIDE = (inch("50"), inch("60"))  # 50 1/2 x 60 1/2 through the middle, seams included


def lengths(corner: str) -> dict[str, float]:
    how = Conventions(border_corner=corner, border_cut="lengthwise")  # type: ignore[arg-type]
    return {
        each.name: each.length / INCH
        for each in borders.border(INSIDE, "5", how=how).cuts
    }


def test_butted_borders() -> None:
    """Identity: border cut 5 1/2. Sides first 2 at 60 1/2, 2 at 60 1/2; ends first 2 at 50 1/2, 2 at 70 1/2."""
    assert lengths("sides first") == {"border side": 60.5, "border end": 60.5}
    assert lengths("ends first") == {"border side": 70.5, "border end": 50.5}
    for corner in ("sides first", "ends first"):
        made = borders.border(INSIDE, "5", how=Conventions(border_corner=corner))  # type: ignore[arg-type]
        assert (made.width, made.length) == (inch("60"), inch("70"))
        assert sum(s.count * s.total_length for s in made.strips) == inch("242")
        assert {s.width for s in made.strips} == {inch("5 1/2")}


def test_corner_squares() -> None:
    """Identity: 2 at 60 1/2, 2 at 50 1/2, 4 squares of 5 1/2."""
    assert lengths("corner squares") == {
        "border side": 60.5,
        "border end": 50.5,
        "border corner": 5.5,
    }


def test_mitred_border() -> None:
    """Identity: 50 + 10 + 1.2071 at least; + 2 to 4 is common practice, no source."""
    how = Conventions(border_corner="mitred", mitre_extra=0, border_cut="lengthwise")
    made = borders.border((inch("50"), inch("50")), "5", how=how)
    assert made.cuts[0].length == inch("61 1/4")
    assert "61.21" in made.cuts[0].why
    assert lengths("mitred")["border end"] == 63.25


@given(
    eighths,
    eighths,
    eighths,
    st.sampled_from(["sides first", "ends first", "corner squares"]),
)
def test_border_areas_add_up(w: int, h: int, b: int, corner: str) -> None:
    """Sizes and words are invented."""
    how = Conventions(border_corner=corner, border_cut="lengthwise")  # type: ignore[arg-type]
    made = borders.border((w, h), b, how=how)
    area = sum(
        each.count * (each.width - INCH // 2) * (each.length - INCH // 2)
        for each in made.cuts
    )
    assert exact(w * h + area) == made.width * made.length


def test_joined_border_strips() -> None:
    """Identity: T = 258, U = 42: 257.5/41.5 = 6.205, 7 strips; diagonal 3 1/2: 254.5/38.5 = 6.61, 7."""
    assert joined_count(inch("258"), inch("42"), inch("1/2")) == 7
    assert joined_count(inch("258"), inch("42"), inch("3 1/2")) == 7
    assert joined_count(inch("289 1/2"), inch("42"), inch("1/2")) == 7  # 6.96
    with pytest.raises(Problem, match="eat"):
        joined_count(inch("10"), inch("3"), inch("3"))


@given(st.integers(1, 4000), st.integers(20, 400), st.integers(0, 19))
def test_as_few_strips_as_reach(total: int, width: int, loss: int) -> None:
    """Arithmetic identity."""
    n = joined_count(total, width, loss)
    assert n * width - (n - 1) * loss >= total
    assert n == 1 or (n - 1) * width - (n - 2) * loss < total


def test_lengthwise_borders() -> None:
    """Identity: four strips 6 1/2 x 80 1/2: 2 1/4 yd, 26 of 42 used, 16 left."""
    from cutopt.quilt.buying import to_buy

    wide, long = borders.lengthwise_use(inch("6 1/2"), inch("80 1/2"), 4)
    assert (wide, inch("42") - wide) == (inch("26"), inch("16"))
    assert to_buy(long, BARE).bought == inch("81")


def test_coping_strips() -> None:
    """Identity: 33 3/8 to 36 takes 1 5/16 finished, 1 13/16 cut; 10 to 12 takes 1 1/2 cut."""
    made = borders.coping((inch("33 3/8"), inch("33 3/8")), ("36", "36"))
    assert {each.width for each in made.strips} == {inch("1 13/16")}
    orphan = borders.coping((inch("10"), inch("10")), ("12", "12"))
    assert [each.width for each in orphan.cuts] == [inch("1 1/2")] * 2
    assert [each.length for each in orphan.cuts] == [inch("10 1/2"), inch("12 1/2")]
    with pytest.raises(Problem):
        borders.coping((inch("13"), inch("13")), ("12", "12"))


def test_how_long_a_side_may_be_joined() -> None:
    """Shorter than three segments of 8 in, a side is cut in one piece, at any width of cloth: common practice, no source."""
    made = borders.border((inch("15 1/2"), inch("23 3/8")), "4")
    assert {each.name: each.length for each in made.cuts} == {
        "border side": inch("23 7/8")
    }
    assert {each.name: each.total_length for each in made.strips} == {
        "border end": inch("24")
    }
    longer = borders.border(
        (inch("30"), inch("30")), "4", how=Conventions(border_shortest=inch("12"))
    )
    assert {each.name: each.length for each in longer.cuts} == {
        "border side": inch("30 1/2")
    }  # below 36
    for cut, grain in (("in one piece", "any"), ("lengthwise", "along")):
        whole = borders.border(INSIDE, "4", how=Conventions(border_cut=cut))  # type: ignore[arg-type]
        assert [(each.length, each.grain) for each in whole.cuts] == [
            (inch("60 1/2"), grain),
            (inch("58 1/2"), grain),
        ]


def test_an_upright_print_stands_up_all_round() -> None:
    """Along the sides and across the ends, joined or in one piece (invented)."""
    tree = ClothWanted(fabrics=("blossom",), upright=True)
    joined = borders.border(INSIDE, "4", tree)
    assert {each.name: each.upright for each in joined.strips} == {
        "border side": "along",
        "border end": "across",
    }
    side, end = borders.border(
        INSIDE, "4", tree, Conventions(border_cut="in one piece")
    ).cuts
    assert (side.width, side.length, side.upright) == (
        inch("4 1/2"),
        inch("60 1/2"),
        True,
    )
    assert (end.width, end.length, end.upright) == (inch("58 1/2"), inch("4 1/2"), True)


def test_wide_sides_joined_askew() -> None:
    """A diagonal join of strips 9 1/2 wide costs 9 1/2, so segments are 19 and more: 28 1/2 in of two (identity)."""
    how = Conventions(border_join="diagonal")
    side, *_ = borders.border((inch("20"), inch("28")), "9", how=how).strips
    assert (side.shortest, side.total_length) == (inch("19"), inch("28 1/2"))
    assert not borders.border((inch("1"), inch("27 7/8")), "9", how=how).strips


def test_at_most_so_many_of_a_side_that_is_joined() -> None:
    """Sizes and words are invented."""
    with pytest.raises(Problem, match="at most 1 each"):
        borders.border(INSIDE, "4", ClothWanted(fabrics=("oat", "plum"), most_each=1))
