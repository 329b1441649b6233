"""Beds: mattresses with their marks, drops on each side, and how a quilt lies. Sums are arithmetic identities."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutopt.errors import Problem
from cutopt.lengths import CM, INCH
from cutopt.quilt import beds
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import Exact, exact
from cutopt.quilt.top import Top
from tests.quilt.sums import inch

METRIC = Conventions.metric()
lengths = st.integers(0, 30).map(lambda n: exact(n * INCH))
beds_wide = st.integers(20, 90).map(lambda n: exact(n * INCH))


def drops(left: str, right: str, foot: str, head: str = "0") -> beds.Drops:
    return beds.Drops(
        left=exact(inch(left)),
        right=exact(inch(right)),
        foot=exact(inch(foot)),
        head=exact(inch(head)),
    )


def queen(hangs: beds.Drops, **more: Exact) -> beds.Bed:
    width, length, why = beds.bed_quilt(("60", "80"), hangs)
    return beds.Bed(
        size=(exact(inch("60")), exact(inch("80"))),
        drops=hangs,
        tuck=exact(0),
        width=width,
        length=length,
        why=why,
        **more,  # type: ignore[arg-type]
    )


def test_a_crib_is_that_of_the_standard() -> None:
    """16 CFR 1219: the inside of a full-size crib is 28 x 52 3/8 in (71 x 133 cm)."""
    crib = beds.mattress("crib")
    assert crib.size == (inch("28"), inch("52 3/8"))
    assert [round(Fraction(side, CM)) for side in crib.size] == [71, 133]
    assert "16 CFR 1219" in crib.provenance
    assert crib.is_a_babys


@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("cot", (60 * CM, 120 * CM)),
        ("cot bed", (70 * CM, 140 * CM)),
        ("hospital bed", (36 * INCH, 80 * INCH)),
    ],
)
def test_mattresses_from_memory(name: str, size: tuple[int, int]) -> None:
    """Common practice, no source; from memory, and said to be."""
    found = beds.mattress(name)
    assert found.size == size
    assert "from memory" in found.provenance


def test_usual_metric_mattresses() -> None:
    """Common practice, no source; from memory: 90 x 190 to 200, and 120, 140, 160, 180 x 200 cm."""
    assert beds.METRIC == (
        (90, 190),
        (90, 200),
        (120, 200),
        (140, 200),
        (160, 200),
        (180, 200),
    )
    for wide, long in beds.METRIC:
        made = beds.bed_quilt((str(wide), str(long)), "30", how=METRIC)
        assert made[:2] == ((wide + 60) * CM, (long + 30) * CM)


@pytest.mark.parametrize("name", ["twin", "queen", "king", "hospital bed", "crib"])
def test_a_name_that_means_several_sizes_is_asked_back(name: str) -> None:
    """Identity: a king of 76 x 80 in is 193 x 203.2 cm, 13 cm more than one of 180 x 200 (common practice, no source)."""
    with pytest.raises(Problem, match="not the same size in every country") as caught:
        beds.mattress(name, METRIC)
    assert "90 x 200, drop 30" in caught.value.mend
    assert Fraction(76 * INCH, CM) - 180 > 13


def test_unknown_beds() -> None:
    with pytest.raises(Problem, match="no bed known") as caught:
        beds.mattress("emperor")
    assert "queen" in caught.value.mend
    with pytest.raises(Problem) as metric:
        beds.mattress("emperor", METRIC)
    assert "queen" not in metric.value.mend


def test_each_side_may_hang_otherwise() -> None:
    """Identity: 60 + 12 + 14 = 86; 80 + 10 = 90, with 8 to tuck 98; nothing at the foot 80."""
    each = drops("12", "14", "10")
    assert beds.bed_quilt(("60", "80"), each) == (
        inch("86"),
        inch("90"),
        "60 + 12 + 14 = 86; 80 + 10 = 90",
    )
    assert beds.bed_quilt(("60", "80"), each, "8")[1:] == (
        inch("98"),
        "60 + 12 + 14 = 86; 80 + 10 + 8 = 98",
    )
    # a day bed against a wall
    against = drops("0", "14", "0")
    assert beds.bed_quilt(("38", "75"), against)[2] == "38 + 14 = 52; 75"
    with pytest.raises(Problem, match="below 0"):
        beds.Drops(left=exact(-1), right=exact(0), foot=exact(0))


@given(beds_wide, beds_wide, lengths, lengths, lengths, lengths, lengths)
def test_the_bed_and_what_hangs_are_the_quilt(
    w: Exact, h: Exact, left: Exact, right: Exact, foot: Exact, head: Exact, tuck: Exact
) -> None:
    """Identity: width less both sides is the mattress's, length less foot, head and tuck its length."""
    each = beds.Drops(left=left, right=right, foot=foot, head=head)
    width, length, _ = beds.bed_quilt((w, h), each, tuck)
    assert width - left - right == w
    assert length - foot - head - tuck == h


def test_drops_by_mattress_and_floor() -> None:
    """Identity: 12 deep and 2 below: 14; 25 high, 1 above the floor: 24."""
    assert beds.below_mattress(inch("12"), inch("2")) == inch("14")
    assert beds.to_floor(inch("25")) == inch("25")
    assert beds.to_floor(inch("25"), inch("1")) == inch("24")
    with pytest.raises(Problem, match="lower than"):
        beds.to_floor(inch("10"), inch("11"))


@pytest.mark.parametrize(
    ("hangs", "more", "told"),
    [
        (drops("12", "12", "12"), {"depth": "10"}, "ends 2 below the mattress"),
        (drops("12", "12", "12"), {"depth": "12"}, "ends where the mattress ends"),
        (drops("12", "12", "12"), {"depth": "14"}, "covers 12 of the 14"),
        (drops("0", "12", "10"), {"depth": "14"}, "covers 12 of the 14"),
        (drops("24", "24", "24"), {"height": "25"}, "ends 1 above the floor"),
        (drops("25", "25", "25"), {"height": "25"}, "just reaches the floor"),
        (drops("20", "20", "26"), {"height": "25"}, "1 of it lies on the floor"),
    ],
)
def test_how_far_down_it_comes(
    hangs: beds.Drops, more: dict[str, str], told: str
) -> None:
    """Identity: the drop against depth of the mattress and height of its top (invented sizes)."""
    bed = queen(hangs, **{name: exact(inch(size)) for name, size in more.items()})
    top = Top.measured(bed.width, bed.length, base="trimmed")
    remarks = bed.remarks(top, Conventions())
    assert any(told in text for text in remarks), remarks
    assert any("feet and wheels" in text for text in remarks) == (
        "floor" in told and "above" not in told
    )


@pytest.mark.parametrize(
    ("hangs", "size", "told"),
    [
        (
            drops("12", "12", "12"),
            ("84", "92"),
            "12 on each side; with as much at the foot 0 is left",
        ),
        (
            drops("12", "12", "12"),
            ("90", "100"),
            "15 on each side; with as much at the foot 5 is left",
        ),
        (
            drops("12", "14", "10"),
            ("90", "100"),
            "14 on the left, 16 on the right; with 10 at the foot 10 is left",
        ),
        (
            drops("0", "12", "10"),
            ("70", "88"),
            "0 on the left, 10 on the right; with 10 at the foot it is 2 short",
        ),
        (
            drops("12", "12", "0"),
            ("84", "80"),
            "12 on each side; with nothing at the foot 0 is left",
        ),
        (
            drops("12", "12", "12", "3"),
            ("84", "96"),
            "with 12 at the foot and 3 at the head 1 is left",
        ),
        (drops("12", "12", "12"), ("58", "92"), "does not cover the bed in its width"),
    ],
)
def test_how_a_quilt_of_another_size_lies(
    hangs: beds.Drops, size: tuple[str, str], told: str
) -> None:
    """Identity: what is more or less than wanted is shared between the sides (invented sizes)."""
    remarks = queen(hangs).remarks(Top.read(" x ".join(size)), Conventions())
    assert any(told in text for text in remarks), remarks


def test_a_listed_mattress_is_to_be_measured() -> None:
    """Common practice, no source: pages differ by 1 to 2 in. A crib: American Academy of Pediatrics, 2022."""
    bed = queen(drops("12", "12", "12"))
    top = Top.read("84 x 92")
    listed = replace(bed, listed=beds.mattress("queen"))
    assert any("measure yours" in text for text in listed.remarks(top, Conventions()))
    crib = replace(bed, listed=beds.mattress("crib"))
    assert any("12 months" in text for text in crib.remarks(top, Conventions()))
    assert not any("12 months" in text for text in listed.remarks(top, Conventions()))
