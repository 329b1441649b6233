"""Binding, and from a finished top to what it needs. 'identity' follows from geometry or counting."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutopt.errors import Problem
from cutopt.lengths import INCH
from cutopt.quilt import bias
from cutopt.quilt import binding as b
from cutopt.quilt.buying import to_buy
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import exact
from cutopt.quilt.top import Top, backing_size, batting_size, finishing
from cutopt.tables.recipe.quilt import quilt
from tests.quilt.sums import BARE, inch, inches, yards
from tests.worked.pocket_tables import BINDING

W = inch("2 1/2")
STRAIGHT = Conventions(binding_join="straight")
PRECUT = Conventions(binding_join="pre-cut")
DIAGONAL = Conventions()


def test_length_wanted() -> None:
    """Common practice, no source (allowance 10, some 12): 60 x 80 takes 290 or 292; mitred corners take nothing (identity)."""
    assert b.binding_length(inch("60"), inch("80"), DIAGONAL) == inch("290")
    assert b.binding_length(
        inch("60"), inch("80"), Conventions(binding_allowance=inch("12"))
    ) == inch("292")
    assert b.binding_length(
        inch("40"), inch("50"), Conventions(binding_allowance=0)
    ) == inch("180")


@pytest.mark.parametrize(
    ("how", "n", "reach"),
    [
        pytest.param(DIAGONAL, 7, 279.0, id="diagonal: identity"),
        pytest.param(STRAIGHT, 7, 291.0, id="straight: identity"),
    ],
)
def test_reach(how: Conventions, n: int, reach: float) -> None:
    assert inches(b.reach(n, W, inch("42"), how)) == reach


def test_reach_of_strips_cut_at_45_degrees_first() -> None:
    """Identity: 6 strips of 2 1/2: 237 - 3.54 = 233.46, against 239.5 joined and then trimmed."""
    assert inches(b.reach(6, W, inch("42"), PRECUT)) == pytest.approx(233.46, abs=5e-3)
    assert inches(b.reach(6, W, inch("42"), DIAGONAL)) == 239.5
    (row,) = b.binding(inch("60"), inch("80"), how=PRECUT).strips
    assert (row.join, row.total_length) == (
        "pre-cut",
        inch("292 1/2"),
    )  # and one width for the two ends
    for wide in (
        "21",
        "40",
        "42",
    ):  # whatever cloth is at hand, so many strips and no fewer reach it
        n = b.strips_needed(inch("290"), W, inch(wide), PRECUT)
        reach = [
            k * inch(wide) - (k - 1) * row.join_loss(INCH // 4) for k in (n, n - 1)
        ]
        assert reach[0] >= row.total_length > reach[1]


@pytest.mark.parametrize(
    ("total", "how", "strips"),
    [
        pytest.param("290", STRAIGHT, 7, id="290 straight, 6.976: identity"),
        pytest.param("290", DIAGONAL, 8, id="290 diagonal, 7.278: identity"),
        pytest.param("292", STRAIGHT, 8, id="292 straight, 7.024: identity"),
    ],
)
def test_strips(total: str, how: Conventions, strips: int) -> None:
    assert b.strips_needed(inch(total), W, inch("42"), how) == strips
    assert b.rough_strips(inch("290"), inch("42")) == 7


@pytest.mark.parametrize(
    "line", BINDING, ids=[f"{line[0]} x {line[1]}: identity" for line in BINDING]
)
def test_strips_by_convention(line: tuple[str, str, str, tuple[object, ...]]) -> None:
    w, h, total, *columns = line
    for (usable, width), column in zip(
        (("42", "2 1/4"), ("42", "2 1/2"), ("40", "2 1/2")), columns, strict=True
    ):
        rough, straight, diagonal, cloth, yd = column
        u = inch(usable)
        assert b.binding_length(inch(w), inch(h)) == inch(total)
        assert b.rough_strips(inch(total), u) == rough
        assert b.strips_needed(inch(total), inch(width), u, STRAIGHT) == straight
        assert b.strips_needed(inch(total), inch(width), u) == diagonal
        need = b.cloth_for(inch(total), u, Conventions(binding_width=inch(width)))
        assert need == inch(str(cloth))
        assert yards(to_buy(need, BARE).bought) == Fraction(inch(str(yd)), INCH)


def test_width_of_a_strip() -> None:
    """Formula: identity; widths: common practice, no source. w = 6s + 2t double fold, 4f + t single."""
    s = inch("1/4")
    for width, ease in (("2", "1/4"), ("2 1/4", "3/8"), ("2 1/2", "1/2")):
        assert b.ease_of(inch(width), s) == inch(ease)
        assert b.width_for(s, inch(ease)) == inch(width)
    assert b.ease_of(W, inch("3/8")) == inch("1/8")
    single = Conventions(binding_fold="single", binding_width=inch("1 1/8"))
    assert b.width_for(s, inch("1/8"), single) == inch("1 1/8")


def test_machine_finished() -> None:
    """Common practice, no source: 2 1/2 is comfortable at a seam of 1/4, 2 1/4 tight."""
    narrow = Conventions(binding_finish="machine", binding_width=inch("2 1/4"))
    assert "tight" in b.binding(inch("60"), inch("80"), how=narrow).notes[0]
    assert not b.binding(
        inch("60"), inch("80"), how=Conventions(binding_finish="machine")
    ).notes
    with pytest.raises(Problem, match="reach round"):
        b.binding(inch("60"), inch("80"), how=Conventions(binding_width=inch("1 1/2")))


@pytest.mark.parametrize(
    ("square", "width", "gives"),
    [
        ("24", "2 1/4", 230.2),
        ("30", "2 1/2", 330.9),
        ("26", "2 1/4", 285.7),
        ("27", "2 1/4", 297.0),
    ],
)
def test_continuous_bias(square: str, width: str, gives: float) -> None:
    """Identity: k√2 (A - 3s), k = floor((A - s)/(w√2))."""
    assert inches(bias.tube_length(inch(square), inch(width))) == pytest.approx(
        gives, abs=0.05
    )


def test_square_for_continuous_bias() -> None:
    """Identity: 290 at 2 1/4 needs 27, not the 26 of the rough rule (A²/w, common practice, no source)."""
    assert bias.tube_square(inch("290"), inch("2 1/4")) == inch("27")
    assert bias.rounded_tube(inch("290"), inch("2 1/4"), INCH) == inch("26")
    assert inch("24") ** 2 / inch("2 1/4") == inch("256")
    assert inch("30") ** 2 / W == inch("360")
    how = Conventions(binding_cut="bias", binding_width=inch("2 1/4"))
    assert b.binding(inch("60"), inch("80"), how=how).cuts[0].width == inch("27")


@given(st.integers(20, 600), st.integers(16, 32))
def test_the_square_is_the_smallest_that_does(total: int, eighths_wide: int) -> None:
    """Arithmetic identity."""
    width = eighths_wide * INCH // 8
    square = bias.tube_square(total * INCH, width)
    assert bias.tube_length(square, width) >= total * INCH
    assert bias.tube_length(square - INCH, width) < total * INCH


def test_bias_joins_and_grain() -> None:
    """Identity: a bias join loses 2s√2 = .7071; 2 1/4 of bias is 3.182 along the grain."""
    assert inches(b.join_loss(W, Conventions(binding_cut="bias"))) == pytest.approx(
        0.7071, abs=1e-4
    )
    assert inches(bias.crosswise(inch("2 1/4"))) == pytest.approx(3.182, abs=1e-3)


def test_scrappy_binding() -> None:
    """Sum identity, shortest segment common practice, no source: T = 190 of 15-in segments: 187.5/12.5 = 15."""
    assert b.segments_needed(inch("190"), inch("15")) == 15
    enough = b.from_segments(("15",) * 16 + ("6",), inch("190"))
    assert (enough.used, enough.missing, enough.too_short) == (15, 0, 1)
    assert enough.reach == 15 * inch("15") - 14 * W
    short = b.from_segments(("15",) * 14, inch("190"))
    assert short.missing == inch("190") - (14 * inch("15") - 13 * W)
    assert b.binding(inch("40"), inch("50")).strips[0].shortest == inch("8")


@given(st.integers(1, 40), st.integers(60, 400))
def test_binding_reaches(n: int, total: int) -> None:
    """Arithmetic identity."""
    for how in (DIAGONAL, STRAIGHT, PRECUT):
        k = b.strips_needed(total * INCH, W, inch("42"), how)
        assert b.reach(k, W, inch("42"), how) >= total * INCH
        assert k == 1 or b.reach(k - 1, W, inch("42"), how) < total * INCH


def test_bases() -> None:
    """Identity: 60 x 80 patchwork is trimmed 60 1/2 x 80 1/2: perimeter 282, not 280."""
    top = Top.finished("60", "80")
    assert top.size("trimmed") == (inch("60 1/2"), inch("80 1/2"))
    no_allowance = Conventions(binding_allowance=0)
    assert b.binding_length(*top.size("trimmed"), no_allowance) == inch("282")
    assert b.binding_length(*top.size("finished"), no_allowance) == inch("280")


@pytest.mark.parametrize(
    ("machine", "need"),
    [
        pytest.param(
            "longarm", ("68 1/2", "88 1/2"), id="longarm 4: common practice, no source"
        ),
        pytest.param(
            "domestic",
            ("64 1/2", "84 1/2"),
            id="domestic 2: common practice, no source",
        ),
    ],
)
def test_overage_from_the_raw_top(machine: str, need: tuple[str, str]) -> None:
    how = Conventions(machine=machine)  # type: ignore[arg-type]
    size = backing_size(Top.finished("60", "80"), how)
    assert (size.width, size.length) == (inch(need[0]), inch(need[1]))
    assert size.why.startswith("raw top 60 1/2 x 80 1/2 + ")


def test_overage_from_the_finished_size() -> None:
    """Common practice, no source (o = 4): 60 x 80 takes 68 x 88."""
    how = Conventions(
        overage_from="finished", back_overage=4 * INCH, batting_overage=3 * INCH
    )
    size = backing_size(Top.finished("60", "80"), how)
    assert (size.width, size.length) == (inch("68"), inch("88"))
    assert batting_size(Top.finished("60", "80"), how).width == inch("66")


def test_sides_and_ends_may_differ() -> None:
    """Identity; overages invented."""
    how = Conventions(back_overage=2 * INCH, back_overage_ends=4 * INCH)
    size = backing_size(Top.read("58 x 66"), how)
    assert (size.width, size.length) == (inch("62"), inch("74"))
    assert "2 on each side and 4 at each end" in size.why


def test_a_top_is_enough() -> None:
    """Sums: identity; allowance of 10 and overage of 2: common practice, no source."""
    done = finishing(Top.read("58 x 66"))
    assert (done.backing.width, done.backing.length) == (inch("62"), inch("70"))
    assert done.binding.strips[0].total_length == inch("258")
    assert done.binding.strips[0].why == "trimmed 58 x 66: 2 x (58 + 66) + 10 = 258"
    assert done.notes == ()


def test_out_of_square_takes_the_larger_and_says_so() -> None:
    """Arithmetic identity."""
    top = Top.read("57 3/4, 58, 58 1/4 x 66")
    done = finishing(top)
    assert (top.width, top.length) == (inch("58 1/4"), inch("66"))
    assert done.notes[0].startswith(
        "out of square: the width runs from 57 3/4 to 58 1/4 (1/2 apart); the larger"
    )
    assert done.backing.width == inch("62 1/4")


@pytest.mark.parametrize("text", ["58", "58 x", "58 x 66 x 3", "fifty x 66", "58 x 0"])
def test_what_is_no_top(text: str) -> None:
    """Sizes and words are invented."""
    with pytest.raises(Problem):
        Top.read(text)


@given(st.integers(8, 1000), st.integers(8, 1000))
def test_bases_are_two_seams_apart(w: int, h: int) -> None:
    """Arithmetic identity."""
    top = Top.finished(exact(w * INCH), exact(h * INCH))
    assert top.size("finished") == (w * INCH, h * INCH)
    assert top.size("raw top")[0] - top.size("finished")[0] == INCH // 2


@pytest.mark.parametrize(
    ("words", "habits", "width"),
    [
        ("from oat, single fold", "", "1 1/8"),
        ("1 1/4 from oat, single fold", "", "1 1/4"),
        ("from oat", "", "2 1/2"),
        ("from oat", 'binding_fold = "single"', "1 1/8"),
        ("from oat, double fold", 'binding_fold = "single"', "2 1/2"),
        ("from oat, single fold", 'binding_width = "1 1/2"', "1 1/2"),
        ("from oat", 'binding_width = "2 1/2"\nbinding_fold = "single"', "2 1/2"),
        ("from oat", 'binding_width = "1 1/2"\nbinding_fold = "single"', "1 1/2"),
    ],
)
def test_a_single_fold_is_cut_as_wide_as_it_needs(
    words: str, habits: str, width: str
) -> None:
    """4 x 1/4 + 1/8 for the cloth = 1 1/8 (sum: identity, allowance: common practice, no source), unless a width is given."""
    made = quilt(f'top = "40 x 50"\nbinding = "{words}"\n[how]\n{habits}\n')
    assert made.wanted[0].width == inch(width)


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("58/57 x 66", "would be a top of 1 x 66"),
        ("0 x 5", "missing or 0"),
        ("-58 x 66", "not a length"),
    ],
)
def test_a_top_that_is_none(text: str, what: str) -> None:
    """Sizes and words are invented."""
    with pytest.raises(Problem, match=what) as caught:
        Top.read(text)
    assert caught.value.field == "top"


def test_a_decimal_comma_in_a_top_is_asked_back() -> None:
    """Invented sizes: 96,5 was read as two measurements of one side, 96 and 5."""
    with pytest.raises(Problem, match="has a comma inside a number") as caught:
        Top.read("96,5 x 84,5", Conventions.metric())
    assert "write 96.5 x 84.5, or" in caught.value.mend
    assert Top.read("58, 57 3/4 x 66").width == 58 * INCH
