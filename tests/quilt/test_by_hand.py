"""The strip method and the careful hand on six worked quilts (invented); all figures follow by counting (identity)."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.lengths import INCH, YARD
from cutopt.wanted import Cut, Strip, Wanted
from tests.quilt.sums import inch, yards
from tests.worked.by_hand import ByHand, backing_by_hand, careful_hand, strip_method
from tests.worked.six_quilts import POCKET, Worked, six_quilts

QUILTS = {each.key: each for each in six_quilts()}
SUMMARY = {  # inches, yd to 1/8, to 1/4, cut %, bought %, area bound in, S rule in, at 40: in, yd; backing yd 42, 40
    "E1": (
        "77 1/2",
        "2 1/4",
        "2 1/2",
        90.6,
        86.7,
        70.24,
        "77 1/2",
        "77 1/2",
        "2 1/4",
        "2 3/4",
        "2 3/4",
    ),
    "E2": (
        "164",
        "4 3/4",
        "5",
        91.3,
        87.5,
        149.68,
        "166 1/2",
        "175 1/2",
        "5 1/8",
        "3 7/8",
        "4 5/8",
    ),
    "E3": (
        "223 1/2",
        "6 3/8",
        "6 3/4",
        94.0,
        91.5,
        209.98,
        "223 1/2",
        "251",
        "7 1/8",
        "5 5/8",
        "5 5/8",
    ),
    "E4": (
        "343",
        "9 3/4",
        "10",
        88.1,
        86.1,
        302.14,
        "343",
        "349",
        "9 7/8",
        "8 1/4",
        "10 1/4",
    ),
    "E5": (
        "63",
        "1 7/8",
        "2 1/4",
        91.8,
        85.7,
        57.86,
        "63",
        "70",
        "2",
        "2 1/2",
        "2 1/2",
    ),
    "E6": (
        "179 3/8",
        "5 1/4",
        "5 3/4",
        81.4,
        77.3,
        146.11,
        "179 3/8",
        "179 3/8",
        "5 1/4",
        "4 7/8",
        "4 7/8",
    ),
}
ROWS = {  # fabric: inches, yd to 1/8, to 1/4, cut %, bought %
    "E1": {
        "scrap top": ("65", "1 7/8", "2", 90.7, 87.3),
        "binding": ("12 1/2", "3/8", "1/2", 90.5, 83.8),
    },
    "E2": {
        "dark": ("54", "1 1/2", "1 1/2", 89.3, 89.3),
        "light": ("40 1/2", "1 1/8", "1 1/4", 95.2, 95.2),
        "sashing": ("25", "3/4", "3/4", 92.3, 85.4),
        "cornerstones": ("2 1/2", "1/8", "1/4", 71.4, 39.7),
        "border": ("24 1/2", "3/4", "3/4", 87.8, 79.6),
        "binding": ("17 1/2", "1/2", "1/2", 94.6, 91.9),
    },
    "E3": {
        "dark": ("82 1/2", "2 3/8", "2 1/2", 95.5, 92.1),
        "light": ("82 1/2", "2 3/8", "2 1/2", 95.5, 92.1),
        "border": ("36", "1", "1", 91.1, 91.1),
        "binding": ("22 1/2", "5/8", "3/4", 87.3, 87.3),
    },
    "E4": {
        "A": ("71 1/2", "2", "2", 90.0, 89.4),
        "B": ("71 1/2", "2", "2", 90.0, 89.4),
        "plain": ("137 1/2", "3 7/8", "4", 83.9, 82.7),
        "border": ("35", "1", "1", 94.8, 92.1),
        "binding": ("27 1/2", "7/8", "1", 90.5, 79.0),
    },
    "E5": {
        "scrap top": ("40 1/2", "1 1/8", "1 1/4", 95.2, 95.2),
        "border": ("10", "3/8", "1/2", 91.7, 67.9),
        "binding": ("12 1/2", "3/8", "1/2", 81.0, 75.0),
    },
    "E6": {
        "blocks": ("75", "2 1/8", "2 1/4", 89.3, 87.5),
        "setting": ("45 7/8", "1 3/8", "1 1/2", 61.0, 56.5),
        "border": ("38 1/2", "1 1/8", "1 1/4", 88.4, 84.07),
        "binding": ("20", "5/8", "3/4", 85.6, 76.1),
    },
}


def yd(text: str) -> Fraction:
    return Fraction(inch(text), INCH)


def by_quarters(hand: ByHand) -> ByHand:
    return replace(hand, step=YARD // 4)


@pytest.mark.parametrize(
    "quilt",
    QUILTS.values(),
    ids=[f"{q.key} {q.name}: identity" for q in QUILTS.values()],
)
def test_each_fabric(quilt: Worked) -> None:
    hand = strip_method(quilt.made.wanted, POCKET)
    assert set(hand.fabrics) == set(ROWS[quilt.key])
    for fabric, (length, eighths, quarters, cut, bought) in ROWS[quilt.key].items():
        assert hand.length(fabric) == inch(length)
        assert yards(hand.bought(fabric)) == yd(eighths)
        assert yards(by_quarters(hand).bought(fabric)) == yd(quarters)
        assert 100 * hand.cut_share(fabric) == pytest.approx(cut, abs=0.06)
        assert 100 * hand.bought_share(fabric) == pytest.approx(bought, abs=0.06)


@pytest.mark.parametrize(
    "quilt",
    QUILTS.values(),
    ids=[f"{q.key} {q.name}: identity" for q in QUILTS.values()],
)
def test_summary(quilt: Worked) -> None:
    (
        length,
        eighths,
        quarters,
        cut,
        bought,
        bound,
        s_rule,
        at_40,
        yd_40,
        back_42,
        back_40,
    ) = SUMMARY[quilt.key]
    wanted = quilt.made.wanted
    hand = strip_method(wanted, POCKET)
    assert (hand.length(), yards(hand.bought())) == (inch(length), yd(eighths))
    assert yards(by_quarters(hand).bought()) == yd(quarters)
    assert 100 * hand.cut_share() == pytest.approx(cut, abs=0.06)
    assert 100 * hand.bought_share() == pytest.approx(bought, abs=0.06)
    assert hand.least_length / INCH == pytest.approx(bound, abs=0.02)
    assert strip_method(wanted, POCKET, "S").length() == inch(s_rule)
    narrow = strip_method(wanted, POCKET, usable=inch("40"))
    assert (narrow.length(), yards(narrow.bought())) == (inch(at_40), yd(yd_40))
    for usable, told in (("42", back_42), ("40", back_40)):
        need = quilt.backing
        k = backing_by_hand(
            need.width.__ceil__(), need.length.__ceil__(), inch(usable), INCH // 2
        )
        assert Fraction(-(-min(k) * 8 // YARD), 8) == yd(told)


def test_all_six() -> None:
    hands = [strip_method(q.made.wanted, POCKET) for q in QUILTS.values()]
    assert sum(h.length() for h in hands) == inch("1050 3/8")
    assert sum(yards(h.bought()) for h in hands) == yd("30 1/4")
    area = sum(h.area() for h in hands)
    assert 100 * area / sum(h.length() * 42 * INCH for h in hands) == pytest.approx(
        89.1, abs=0.06
    )
    assert 100 * area / sum(h.bought() * 42 * INCH for h in hands) == pytest.approx(
        85.9, abs=0.06
    )
    assert area / (42 * INCH) / INCH == pytest.approx(936.01, abs=0.05)


def test_the_careful_hand_finds_the_corner_squares_in_a_strip_end() -> None:
    """The second 18 1/4 strip holds one side square; its end 23 3/4 x 18 1/4 holds both of 9 3/8: 36 1/2 in."""
    hand = careful_hand(QUILTS["E6"].made.wanted, POCKET)
    assert (hand.length("setting"), yards(hand.bought("setting"))) == (
        inch("36 1/2"),
        yd("1 1/8"),
    )


def test_sashes_and_cornerstones_from_one_cloth() -> None:
    """The second strip of sashes holds 15; its end 4 1/2 x 12 1/2 gives five of twelve 2 1/2 squares."""
    rows = [
        replace(r, fabrics=("sashing",))
        for r in QUILTS["E2"].made.cuts
        if r.name in ("sash", "cornerstone")
    ]
    hand = careful_hand(rows, POCKET)
    assert [row.what for row in hand.rows] == [
        "31 sash: 16 a strip",
        "7 cornerstone: 16 a strip",
    ]
    assert hand.length() == inch("27 1/2")


@pytest.mark.parametrize("quilt", QUILTS.values(), ids=list(QUILTS))
def test_the_careful_hand_is_never_worse_here(quilt: Worked) -> None:
    hand, careful = (
        method(quilt.made.wanted, POCKET) for method in (strip_method, careful_hand)
    )
    assert hand.least_length <= careful.length() <= hand.length()
    assert careful.area() == hand.area()


def test_sizes_of_the_six() -> None:
    told = {key: POCKET.size(q.made.width, q.made.length) for key, q in QUILTS.items()}
    assert told["E1"] == "40 1/2 x 49 1/2"
    assert [told[key] for key in ("E2", "E3", "E4", "E5")] == [
        "60 x 74",
        "68 x 92",
        "90 x 114",
        "36 x 44",
    ]
    assert told["E6"].startswith("60.91 x 77.88")


sizes = st.integers(8, 200).map(lambda n: n * INCH // 8)
cuts = st.builds(
    lambda n, w, h, count, fabric: Cut(
        name=f"c{n}", width=w, length=h, count=count, fabrics=(fabric,)
    ),
    st.integers(0, 10**6),
    sizes,
    sizes,
    st.integers(1, 60),
    st.sampled_from(["a", "b"]),
)
strips = st.builds(
    lambda n, total: Strip(
        name=f"s{n}", width=inch("2 1/2"), total_length=total, fabrics=("a",)
    ),
    st.integers(0, 10**6),
    st.integers(20, 400).map(lambda n: n * INCH),
)


@settings(deadline=None)
@given(st.lists(st.one_of(cuts, strips), min_size=1, max_size=6))
def test_no_hand_beats_the_area(wanted: list[Wanted]) -> None:
    for method in (strip_method, careful_hand):
        for rule in ("S", "B"):
            hand = method(wanted, POCKET, rule)  # type: ignore[arg-type]
            assert hand.length() >= hand.least_length - 1
            area = sum(
                r.count * r.width * (r.length if isinstance(r, Cut) else r.total_length)
                for r in wanted
            )
            assert hand.area() == area


@pytest.mark.parametrize("quilt", QUILTS.values(), ids=list(QUILTS))
def test_the_parts_make_a_job(quilt: Worked) -> None:
    """Names are unique, every row is valid and says how it came about."""
    from cutopt.fabric import ByLength, Fabric
    from cutopt.job import Job

    names = dict.fromkeys(row.fabrics[0] for row in quilt.made.wanted)
    shop = tuple(
        ByLength(fabric=name, usable_width=42 * INCH, sold_by=YARD // 8)
        for name in names
    )
    job = Job(
        fabrics=tuple(Fabric(name=name) for name in names),
        shop=shop,
        cuts=quilt.made.cuts,
        strips=quilt.made.strips,
    )
    assert all(row.why for row in job.wanted)
