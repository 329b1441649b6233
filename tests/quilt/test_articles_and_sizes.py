"""Small articles, sizes and beds. Sizes are common practice, no source, unless a test names one."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.errors import Problem
from cutopt.lengths import CM, INCH, MM
from cutopt.quilt import articles as a
from cutopt.quilt import bags, beds, covers, sizes, sizes_of_blocks
from cutopt.quilt.binding import strips_needed
from cutopt.quilt.conventions import Conventions
from cutopt.tables.recipe.kinds.articles import ARTICLES, article_of
from tests.quilt.sums import BARE, inch, inches, size


def test_sleeve() -> None:
    """That a wall quilt needs one: Purdue Extension Blackford County, 4-H Quilting Project, 2020.
    Size: common practice, no source."""
    (sleeve,) = a.hanging_sleeve("40").strips
    assert (sleeve.width / INCH, sleeve.total_length / INCH, sleeve.join) == (
        8.5,
        39.0,
        "straight",
    )


def test_envelope_cushion() -> None:
    """Identity, overlap common practice, no source: form 18: 18 1/2 and 18 1/2 x 12 1/4; 11 + 11 - 18 = 4."""
    front, back = covers.envelope_cushion("18").cuts
    assert (size(front), size(back), back.count) == ((18.5, 18.5), (18.5, 12.25), 2)
    hemmed = back.length - inch("1") - inch("1/4")
    assert 2 * hemmed - inch("18") == inch("4")
    assert covers.envelope_cushion("18", snug="1/2").cuts[0].width == inch("18")


def test_published_pillowcase() -> None:
    """State quilt guild (Maine), community pillowcase directions, n.d.: body 26 1/2, cuff 10 1/2, cloth 40 1/2;
    the sheet says 20 x 31, its sums give 19 3/4 x 30 1/4 (identity)."""
    width, length = covers.pillowcase_size("26 1/2", "10 1/2", "40 1/2")
    assert (width, length) == (inch("19 3/4"), inch("30 1/4"))


def test_pillowcase() -> None:
    """Identity: body 27, cuff 12, cloth 41: 20 x 31 1/2, and back."""
    assert covers.pillowcase_size("27", "12", "41") == (inch("20"), inch("31 1/2"))
    body, cuff = covers.pillowcase("20", "31 1/2", cuff="5 1/2").cuts
    assert (size(body), size(cuff)) == ((41.0, 27.0), (41.0, 12.0))


@given(st.integers(64, 400), st.integers(160, 400), st.integers(8, 100))
def test_pillowcase_there_and_back(w: int, n: int, c: int) -> None:
    """Arithmetic identity."""
    width, length, depth = (each * INCH // 8 for each in (w, n, c))
    body, cuff = covers.pillowcase(width, length, cuff=depth).cuts
    assert covers.pillowcase_size(body.length, cuff.length, body.width) == (
        width,
        length,
    )


def test_runner() -> None:
    """Sizes common practice, no source, sums identity: 14 1/2 x 48 1/2; backing 18 x 52; binding 134, 4 strips at 42."""
    made = a.runner("14", "48", how=BARE)
    assert [size(row) for row in made.cuts] == [(14.5, 48.5), (18.0, 52.0)]
    total = made.strips[0].total_length
    assert total == inch("134")
    assert strips_needed(total, inch("2 1/2"), inch("42")) == 4


def test_place_mats() -> None:
    """Common practice, no source 12 x 18; identity: cut 12 1/2 x 18 1/2."""
    assert [sorted(size(row)) for row in a.turned_through("place mat", 4).cuts] == [
        [12.5, 18.5]
    ] * 2


@pytest.mark.parametrize(
    ("sentence", "cut", "finished"),
    [
        pytest.param(
            "2 burp cloths",
            (10.5, 20.5),
            (10, 20),
            id="burp cloth: common practice, no source; cut + 2 seams: identity",
        ),
        pytest.param(
            "2 mug mats",
            (9.5, 6.5),
            (9, 6),
            id="mug mat: common practice, no source; cut + 2 seams: identity",
        ),
        pytest.param(
            "2 mug mats of 10 x 5",
            (10.5, 5.5),
            (10, 5),
            id="mug mat of another size: identity",
        ),
        pytest.param(
            "2 bibs", (10, 14), (9, 13), id="bib: common practice, no source, as cut"
        ),
        pytest.param(
            "2 bibs of 11 x 12 cut", (11, 12), (10, 11), id="bib of another size"
        ),
    ],
)
def test_small_things_for_hands_and_babies(
    sentence: str, cut: tuple[float, float], finished: tuple[float, float]
) -> None:
    made = article_of(sentence, Conventions())
    assert [(size(row), row.count) for row in made.cuts] == [(cut, 2)] * 2
    assert (inches(made.width), inches(made.length)) == finished
    cautioned = any(
        "Pediatrics" in note and "16 CFR 1501" in note for note in made.notes
    )
    assert cautioned == ("mug" not in sentence)


def test_pot_holder() -> None:
    """Common practice, no source 8 x 8; identity: 32 + 10 = 42, one strip of 42 and not of 41. The caution stands with it."""
    made = a.pot_holder("8")
    assert made.strips[0].total_length == inch("42")
    assert strips_needed(inch("42"), inch("2 1/2"), inch("42")) == 1
    assert strips_needed(inch("42"), inch("2 1/2"), inch("41")) == 2
    assert "heat-resistant" in made.notes[0]


def test_tote_and_bag() -> None:
    """Identity: 13 x 14 x 4, seam 1/2: 18 x 17, handles 4 x 24. Bag 10 x 12: 11 x 15 (common practice, no source)."""
    side, handle = bags.tote("13", "14", "4").cuts
    assert (size(side), size(handle)) == ((18.0, 17.0), (4.0, 24.0))
    assert "panel" not in side.name  # no word of the cutter's on a maker's page
    assert size(bags.drawstring_bag("10", "12").cuts[0]) == (11.0, 15.0)
    assert a.napkins(4).cuts[0].count == 4


def test_bed_sums() -> None:
    """Identity: queen 60 x 80, drop 12: 84 x 92; tuck 10: 84 x 102. Twin 39 x 75: 63 x 87."""
    assert beds.bed_quilt(("60", "80"), "12")[:2] == (inch("84"), inch("92"))
    assert beds.bed_quilt(("60", "80"), "12", "10")[:2] == (inch("84"), inch("102"))
    width, length, why = beds.bed_quilt(("39", "75"), "12")
    assert (width, length) == (inch("63"), inch("87"))
    assert why == "39 + 2 x 12 = 63; 75 + 12 = 87"
    assert beds.drop_of(width, inch("39")) == inch("12")


@pytest.mark.parametrize(
    ("name", "mattress"),
    [
        ("twin", ("38", "75")),
        ("twin long", ("38", "80")),
        ("full", ("53", "75")),
        ("queen", ("60", "80")),
        ("king", ("76", "80")),
        ("western king", ("72", "84")),
    ],
)
def test_mattresses(name: str, mattress: tuple[str, str]) -> None:
    """Common practice, no source."""
    assert beds.mattress(name).size == (inch(mattress[0]), inch(mattress[1]))
    assert beds.mattress(name).provenance == "common practice, no source"
    with pytest.raises(Problem):
        beds.mattress("emperor")


def test_metric_mattress() -> None:
    """Identity: 180 x 200 cm = 70.9 x 78.7 in."""
    how = Conventions.metric()
    inches_of = [float(how.read(each)) / INCH for each in ("180", "200")]
    assert inches_of == pytest.approx([70.9, 78.7], abs=0.05)
    assert beds.bed_quilt(("180", "200"), "30", how=how)[0] == 240 * CM


@pytest.mark.parametrize(
    ("name", "widths", "lengths"),
    [
        ("baby", (36, 40), (36, 48)),
        ("lap", (36, 50), (45, 65)),
        ("throw", (50, 60), (60, 72)),
        ("twin", (63, 72), (86, 96)),
        ("full", (76, 86), (86, 96)),
        ("queen", (84, 96), (90, 108)),
        ("king", (100, 110), (90, 120)),
        ("cot", (36, 45), (54, 60)),
    ],
)
def test_usual_ranges(
    name: str, widths: tuple[int, int], lengths: tuple[int, int]
) -> None:
    """Common practice, no source; no agreed standard."""
    use = sizes.use(name)
    assert (use.widths, use.lengths) == (
        tuple(w * INCH for w in widths),
        tuple(n * INCH for n in lengths),
    )
    assert "common practice, no source" in use.provenance


def test_cautions_stand_with_their_sizes() -> None:
    """American Academy of Pediatrics 2022 (infants); 16 CFR 1501 (small parts); CMS surveyor guidance (laundry)."""
    for name in ("baby", "cot"):
        assert any(
            "never for sleep" in word and "Pediatrics" in word
            for word in sizes.use(name).cautions
        )
    assert any("spokes" in word for word in sizes.use("chair with wheels").cautions)
    assert any("160 F" in word for word in sizes.use("ward").cautions)
    told = sizes.use("ward").remarks(
        inch("40"), inch("60")
    )  # identity: 95 in 100 of each
    assert (
        "40 x 60 that draws in by 5 in 100 in a hot wash comes out at 38 x 57" in told
    )
    chair = sizes.use("chair with wheels")
    assert not any("outside" in word for word in chair.remarks(inch("36"), inch("44")))
    assert any(
        "outside the usual 30 to 36" in word
        for word in chair.remarks(inch("40"), inch("44"))
    )
    with pytest.raises(Problem, match="chair with wheels"):
        sizes.use("wheelchair")


def test_area_of_a_robe() -> None:
    """Identity: 36 x 44 = 1584 sq in against 2400 of 40 x 60."""
    assert [inch(w) * inch(h) // INCH**2 for w, h in (("36", "44"), ("40", "60"))] == [
        1584,
        2400,
    ]


@pytest.mark.parametrize(
    ("size_", "share", "after"),
    [
        pytest.param(
            ("60", "80"), Fraction(4, 100), (57.6, 76.8), id="take-up 4 %: identity"
        ),
        pytest.param(
            ("36", "44"), Fraction(5, 100), (34.2, 41.8), id="hot wash 5 %: identity"
        ),
        pytest.param(("42", "36"), Fraction(0), (42.0, 36.0), id="none: identity"),
    ],
)
def test_after_the_wash(
    size_: tuple[str, str], share: Fraction, after: tuple[float, float]
) -> None:
    got = sizes.after_wash(inch(size_[0]), inch(size_[1]), share)
    assert (inches(got[0]), inches(got[1])) == pytest.approx(after)
    assert sizes.before_take_up(*got, share) == (inch(size_[0]), inch(size_[1]))


LIMITS = sizes_of_blocks.Limits(
    least=(36 * INCH, 0), shape=(Fraction(1), Fraction(4, 3))
)


def test_size_found_not_set() -> None:
    """Counting: 56 blocks of 6: 7 x 8 uses all, 42 x 48; a row more needs 7, a row less frees 7."""
    best = sizes_of_blocks.largest(("6", "6"), 56, LIMITS)
    assert (best.across, best.down, best.left) == (7, 8, 0)
    assert (best.width, best.length) == (inch("42"), inch("48"))
    assert (best.row_more, best.column_more, best.row_less, best.column_less) == (
        7,
        8,
        7,
        8,
    )
    spare = sizes_of_blocks.largest(("6", "6"), 60, LIMITS)
    assert (spare.across * spare.down, spare.row_more) == (56, 3)


def test_no_size_within_limits() -> None:
    """Sizes and words are invented."""
    with pytest.raises(Problem, match="more blocks"):
        sizes_of_blocks.largest(("6", "6"), 20, LIMITS)
    with pytest.raises(Problem):
        sizes_of_blocks.Limits(shape=(Fraction(2), Fraction(1)))


@settings(max_examples=30)
@given(st.integers(1, 150), st.integers(0, 3), st.integers(0, 6))
def test_found_sizes_are_within_and_largest_first(
    blocks: int, sash: int, edge: int
) -> None:
    """Arithmetic identity."""
    limits = sizes_of_blocks.Limits(
        least=(20 * INCH, 20 * INCH), most=(90 * INCH, 100 * INCH)
    )
    found = sizes_of_blocks.sizes_found(
        ("6", "6"), blocks, limits, edge * INCH, sash * INCH
    )
    areas = [g.width * g.length for g in found]
    assert all(x >= y for x, y in pairwise(areas))
    for g in found:
        assert limits.allow(g.width, g.length)
        assert g.blocks + g.left == blocks
        assert g.width == (6 * g.across + sash * (g.across - 1) + 2 * edge) * INCH


@pytest.mark.parametrize("name", sorted(kind.many for kind in ARTICLES))
def test_a_metric_article_has_round_metric_sizes(name: str) -> None:
    """Usual sizes are common practice, no source; in a metric job every cut is on a mark of a ruler.

    Of the seam of 0.75 cm one or two are in every sum, so all numbers are multiples of half a millimetre; none that
    was converted from inches is.
    """
    how = Conventions.metric()
    asked = {
        "totes": "of 33 x 36 x 10",
        "pillowcases": "of 50 x 75",
        "runners": "of 35 x 120",
    }.get(name, "of 20 x 40")
    asked = (
        ""
        if name in ("place mats", "mug mats", "burp cloths", "bibs", "napkins")
        else asked
    )
    asked = asked.split(" x ")[0] if name in ("cushions", "pot holders") else asked
    made = article_of(f"2 {name} {asked}".strip(), how)
    for row in made.cuts:
        assert row.width % MM == row.length % MM == 0, row.why
        assert all(
            float(told) * 20 % 1 == 0 for told in re.findall(r"\d+(?:\.\d+)?", row.why)
        ), row.why


def test_metric_place_mats_and_napkins() -> None:
    """Round figures near 18 x 12 in and 18 in (45.72 and 30.48 cm); a length with its unit stays what it is.

    Common practice, no source; conversion: identity.
    """
    how = Conventions.metric()
    mat = a.turned_through("place mat", 1, how=how)
    napkin = a.napkins(1, how=how)
    assert (mat.width, mat.length) == (45 * CM, 30 * CM)
    assert napkin.cuts[0].width == 45 * CM
    assert a.turned_through(
        "place mat", 1, how=how, width="18 in", length="12 in"
    ).width == inch("18")


def test_metric_ranges_are_whole_centimetres() -> None:
    """36 in is 91.44 cm: what is told as 91 counts as inside.

    Ranges: common practice, no source; conversion: identity.
    """
    how = Conventions.metric()
    assert sizes.use("lap").ranges(how) == ("91 to 127", "114 to 165")
    assert not any(
        "outside" in word for word in sizes.use("lap").remarks(91 * CM, 114 * CM, how)
    )
    assert any(
        "outside the usual 91 to 127" in word
        for word in sizes.use("lap").remarks(90 * CM, 114 * CM, how)
    )


def test_a_bib_is_said_as_cut() -> None:
    """Sizes and words are invented."""
    for asked, what in (
        ("of 9 x 13", "not a cut size"),
        ("of 9 cut", "width and a length"),
        ("of 1 x 5 cut", "left"),
    ):
        with pytest.raises(Problem, match=what):
            article_of(f"2 bibs {asked}", Conventions())


def test_articles_that_have_batting_by_habit_say_how_much() -> None:
    """As large as they are cut; a runner's as its backing: 12 x 40 and 1/4 + 2 a side (identity; habit: common
    practice, no source)."""
    mats = a.turned_through("mug mat", 2)
    assert "its batting, 2 of 9 1/2 x 6 1/2, is not in this plan" in mats.notes[0]
    assert "1 of 16 1/2 x 44 1/2" in a.runner("12", "40").notes[0]
    assert "3 of 8 x 8" in a.pot_holder("8", 3).notes[-1]
    assert a.turned_through("burp cloth", 1).notes == (a.BABIES,)
