"""A part that fits no cloth and no width in the shop: what would help, each of it true for that part.

The sizes that fit are worked out beside the tests; a mend is also carried out and the row must then be possible.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from cutopt.fabric import ByLength, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.solve.control.stop import Work
from cutopt.solve.explain.changed_jobs import Mend
from cutopt.solve.explain.found import Found
from cutopt.solve.explain.no_cloth_fits import hopeless_mends
from cutopt.solve.explain.trials import Trials
from cutopt.solve.solver import solve
from cutopt.wanted import Cut, Strip
from tests.solve.small import solved


def job_of(row: Cut | Strip, *, most: int | None = None, shrink: int = 0) -> Job:
    """Pear of 42 in by the eighth of a yard, a scrap of oat of 30 x 9; the row is all that is wanted."""
    fabrics = (
        Fabric(name="pear", shrink_across=Fraction(shrink, 100)),
        Fabric(name="oat"),
    )
    bolt = ByLength(
        fabric="pear",
        usable_width=42 * INCH,
        sold_by=YARD // 8,
        most=most,
        price=Decimal(10),
    )
    return Job(
        fabrics=fabrics,
        pieces=(Piece.of_size("scrap", "oat", 30 * INCH, 9 * INCH),),
        shop=(bolt,),
        cuts=(row,) if isinstance(row, Cut) else (),
        strips=(row,) if isinstance(row, Strip) else (),
    )


def cut(width: float, length: float, **more: object) -> Cut:
    return Cut(
        name="banner", width=int(width * INCH), length=int(length * INCH), **more
    )  # type: ignore[arg-type]


def said(job: Job, row: Cut | Strip) -> list[str]:
    """What might help, in words."""
    return [mend.said for mend in hopeless_mends(job, row)]


def test_too_wide_for_the_bolt() -> None:
    # either way, the lesser side lies across: 50 in. Two of 60 / 2 + one seam allowance each: 30 1/4, which is below 42
    assert said(job_of(cut(50, 60)), cut(50, 60)) == [
        "buy pear with a usable width of at least 50 in",
        "sew it from 2 of 50 x 30 1/4 (seams of 1/4 in are counted in)",
        "make it 42 x 60, the most that fits",
    ]


def test_wider_cloth_is_counted_before_the_wash() -> None:
    # 50 / 0.95 = 52.63..., up to the eighth: 52 3/4
    mends = said(job_of(cut(50, 60), shrink=5), cut(50, 60))
    assert mends[0] == "buy pear with a usable width of at least 52 3/4 in"
    assert mends[-1] == "make it 39 7/8 x 60, the most that fits"  # 42 x 0.95 = 39.9


def test_the_other_way_round() -> None:
    row = cut(44, 5, grain="along", fabrics=("pear",))
    assert said(job_of(row), row)[0] == ("let it lie the other way (leave grain blank)")


def test_another_fabric_and_a_longer_length() -> None:
    row = cut(20, 40, fabrics=("oat",))
    assert said(job_of(row), row)[0] == "let it be cut from pear too"
    row = cut(40, 50, fabrics=("pear",))
    job = job_of(row, most=YARD)
    assert (
        said(job, row)[0]
        == "let more than 1 yd of pear be bought in one length (most in shop.csv)"
    )
    wide = "buy pear with a usable width of at least 50 in, if the shop has more of it than 1 yd (most in shop.csv)"
    assert wide in said(
        job, row
    )  # then it lies the other way, 40 in along and 1 in for the ends


def test_strips_in_one_segment() -> None:
    row = Strip(
        name="edge",
        width=5 * INCH // 2,
        total_length=60 * INCH,
        join="none",
        fabrics=("oat",),
    )
    mends = said(job_of(row), row)
    assert mends == [
        "let it be cut from pear too",  # along the bolt
        "buy oat, 42 in wide, which shop.csv does not offer (as if sold by the 1/8 yd from 1/4 yd on)",
        "let it be sewn from shorter segments (straight under join)",
        "make the strip 30 in long, the most that fits",
    ]


def test_nothing_helps_says_nothing() -> None:
    row = cut(900, 900)
    assert said(job_of(row), row) == []


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda row: replace(row, width=42 * INCH), "make it 42 x 60"),
        (
            lambda row: replace(row, length=121 * INCH // 4, count=2),
            "sew it from 2 of 50 x 30 1/4",
        ),
    ],
)
def test_a_mend_that_is_followed_helps(change, said) -> None:  # type: ignore[no-untyped-def]
    row = cut(50, 60)
    hopeless = solve(job_of(row), Work(40))
    assert not hopeless.complete
    assert any(mend.startswith(said) for mend in hopeless.plan.short[0].mends)
    assert solve(job_of(change(row)), Work(40)).complete


def test_a_width_that_is_written_into_her_row_of_the_shop() -> None:
    """A back of 45 x 10 and four slats of 40 x 2 1/2, one above the other: 20 in, and 1/2 in at each end: 5/8 yd.

    With the half yard that the shop has (17 in) at 45 in the back is there and three slats are not.
    """
    back = Cut(name="back", width=45 * INCH, length=10 * INCH)
    slat = Cut(name="slat", width=40 * INCH, length=5 * INCH // 2, count=4)
    bolt = ByLength(
        fabric="pear",
        usable_width=42 * INCH,
        sold_by=YARD // 8,
        most=YARD // 2,
        price=Decimal(8),
    )
    job = Job(fabrics=(Fabric(name="pear"),), shop=(bolt,), cuts=(back, slat))
    result = solve(job, Work(300))
    (short,) = result.plan.short
    wide = "buy pear with a usable width of at least 45 in"
    (mend,) = [mend for mend in short.mends if mend.startswith(wide)]
    more = f"{wide}, if the shop has more of it than 1/2 yd (most in shop.csv)"
    assert (
        mend
        == f"{more}: then everything is there, with 5/8 yd of pear (5.00 in all) bought"
    )
    (each,) = [each for each in result.evidence if each.said == mend]
    assert each.job.shop == (replace(bolt, usable_width=45 * INCH, most=None),)
    followed = replace(
        job, shop=(replace(bolt, usable_width=45 * INCH, most=5 * YARD // 8),)
    )
    assert solve(followed, Work(300)).complete
    assert not solve(
        replace(job, shop=(replace(bolt, usable_width=45 * INCH),)), Work(300)
    ).complete


def test_a_width_alone_where_the_shop_has_enough() -> None:
    """With two slats the half yard does: 10 + 5 in."""
    back = Cut(name="back", width=45 * INCH, length=10 * INCH)
    slat = Cut(name="slat", width=40 * INCH, length=5 * INCH // 2, count=2)
    bolt = ByLength(
        fabric="pear", usable_width=42 * INCH, sold_by=YARD // 8, most=YARD // 2
    )
    result = solve(
        Job(fabrics=(Fabric(name="pear"),), shop=(bolt,), cuts=(back, slat)), Work(300)
    )
    wide = "buy pear with a usable width of at least 45 in: then everything is there, with 1/2 yd of pear bought"
    assert wide in result.plan.short[0].mends
    (each,) = [each for each in result.evidence if each.said == wide]
    assert each.job.shop == (replace(bolt, usable_width=45 * INCH),)


def test_batting_is_no_cloth_for_a_banner() -> None:
    """Batting of 90 x 90 lies between layers of a quilt, no banner is cut from it (common practice, no source)."""
    row = cut(50, 60)
    fluff = Fabric(name="fluff", kind="cotton batting")
    wide = Piece.of_size("roll", "fluff", 90 * INCH, 90 * INCH)
    job = job_of(row)
    job = replace(job, fabrics=(*job.fabrics, fluff), pieces=(*job.pieces, wide))
    assert not any("fluff" in mend for mend in said(job, row))
    strip = Strip(name="edge", width=2 * INCH, total_length=600 * INCH, join="none")
    assert not any("fluff" in mend for mend in said(job, strip))


def test_a_new_size_is_told_only_where_a_search_from_nothing_finds_it_too(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A panel 50 x 60 fits no bolt 42 in wide, one of 42 x 60 does; its maker writes that and plans again."""
    size = "make it 42 x 60, the most that fits"
    (short,) = solved(job_of(cut(50, 60))).plan.short
    assert any(mend.startswith(size) for mend in short.mends)
    search = Trials._search

    def from_a_plan_alone(self: Trials, mend: Mend, *rest: Any) -> Found | None:
        return search(self, mend, *rest) if rest[-1] is not None else None

    monkeypatch.setattr(Trials, "_search", from_a_plan_alone)
    (short,) = solved(job_of(cut(50, 60))).plan.short
    assert short.mends
    assert not any(mend.startswith(size) for mend in short.mends)
