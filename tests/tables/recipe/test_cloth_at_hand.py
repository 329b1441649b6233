"""What a quilt asks for, on cloth of the width that the shop has: from quilt.toml to a plan, in both units.

All jobs are invented. Where a plan pays less than it did when the sums took 42 in (or 107 cm) for granted, the least
length is worked out beside the test: a length of cloth is squared up 1/2 in (1.5 cm) at both of its ends.
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from cutopt.check import check
from cutopt.cloth import cloth_of, cloth_to_plan
from cutopt.errors import JobError
from cutopt.fabric import ByLength, Fabric
from cutopt.job import Job
from cutopt.lengths import CM, INCH, YARD
from cutopt.plan import Bought
from cutopt.quilt.conventions import Conventions
from cutopt.result import Result
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables import read_job
from cutopt.tables.recipe.quilt import quilt_of
from cutopt.wanted import Strip

HEAD = "fabric,usable_width,sold_by,price\n"


def job(folder: Path, quilt: str, shop: str, unit: str = "in", more: str = "") -> Job:
    (folder / "job.toml").write_text(f'unit = "{unit}"\n{more}', encoding="utf-8")
    (folder / "pile.txt").write_text("", encoding="utf-8")
    (folder / "shop.csv").write_text(HEAD + shop, encoding="utf-8")
    (folder / "quilt.toml").write_text(quilt, encoding="utf-8")
    return read_job(folder)


def planned(wanted: Job, work: int = 150) -> Result:
    result = solve(wanted, Work(work))
    assert check(wanted, result.plan) == []
    assert result.complete
    return result


def test_border_sides_a_little_longer_than_cloth_is_wide(tmp_path: Path) -> None:
    """Two sides of 40 1/2 and two ends of 38 1/2, 3 1/2 wide, from cloth of 40 in: five strips make 200 in at most.

    The sides take a strip each and 1 in more, at least 8 in of a fifth (8 + 40 - 1/2); two ends take a strip each: 5
    strips of 3 1/2 and 1 in to square up are 18 1/2 in, 5/8 yd = 6.25. In one piece along the selvage they ask for
    40 1/2 + 1: 1 1/4 yd = 12.50. The area asks for 553 / 40 + 1 = 14.8 in: 1/2 yd at least.
    """
    quilt = 'blocks = ["20 squares of 8 from pear"]\nsetting = "4 across, 5 down"\nborders = ["3 from oat"]\n'
    wanted = job(
        tmp_path, quilt + 'binding = "no"\n', "pear,40,1/8 yd,10\noat,40,1/8 yd,10\n"
    )
    assert {row.name: row.total_length for row in wanted.strips} == {
        "border side": 81 * INCH // 2,
        "border end": 77 * INCH // 2,
    }
    result = planned(wanted)
    assert YARD // 2 <= result.plan.totals.length_of("oat") <= 5 * YARD // 8


def test_a_sleeve_longer_than_cloth_is_wide(tmp_path: Path) -> None:
    """43 - 2 + 2 x 1/2 = 42 long, 8 1/2 deep: from cloth of 40 in two strips, 17 + 1 in, 1/2 yd = 5.00, or less.

    In one piece along the selvage 42 + 1 in: 1 1/4 yd = 12.50.
    """
    wanted = job(
        tmp_path,
        'top = "43 x 50"\nbinding = "no"\nsleeve = "from oat"\n',
        "oat,40,1/8 yd,10\n",
    )
    result = planned(wanted)
    assert result.plan.totals.money is not None
    assert result.plan.totals.money <= Decimal("5.00")


@pytest.mark.parametrize("width", ["", "106"])
def test_the_usual_width_of_a_metric_shop(tmp_path: Path, width: str) -> None:
    """Two sides of 106.5 (5 x 21 + 1.5) in cloth of 106: a strip each and a bit, not 106.5 cm along the selvage.

    Three strips of 6.5 are 19.5, + 2 x 1.5 = 22.5 cm: 0.3 m; along the selvage 109.5 cm, 1.1 m. The ends of 53.5
    (40 + 1.5 + 2 x 5 + 2) lie beside the bits.
    """
    quilt = 'blocks = ["10 rectangles of 20 x 21 from pear"]\nsetting = "2 across, 5 down"\n'
    quilt += 'borders = ["5 from oat"]\nbinding = "no"\n'
    wanted = job(tmp_path, quilt, f"pear,,10 cm,10\noat,{width},10 cm,10\n", "cm")
    assert wanted.strips[0].total_length == 1065 * CM // 10
    assert quilt_of(wanted).how.usable_width == 106 * CM  # type: ignore[union-attr]
    assert planned(wanted).plan.totals.length_of("oat") <= 40 * CM


def lengths(**bought: int) -> tuple[Bought, ...]:
    return tuple(
        Bought(fabric=fabric, amount=length) for fabric, length in bought.items()
    )


def test_a_width_in_the_table_makes_no_jump(tmp_path: Path) -> None:
    """Sides of 41 1/2 fit cloth of 42, not of 41 or 40: then a strip more, 1/8 yd, and not 41 1/2 in along it."""
    quilt = 'blocks = ["16 rectangles of 8 x 10 1/4 from pear"]\nsetting = "4 across, 4 down"\n'
    quilt += 'borders = ["2 from oat"]\nbinding = "no"\n'
    result = planned(job(tmp_path, quilt, "pear,42,1/8 yd,1\noat,42,1/8 yd,10\n"), 400)
    oat = [case.plan.totals.length_of("oat") for case in result.widths]
    assert len(oat) == 4
    assert max(oat) - min(oat) <= YARD // 4


def test_strip_sets_are_made_for_the_cloth_that_is_sold(tmp_path: Path) -> None:
    """Segments of 10 1/2 from cloth of 40: three to a set, 31 1/2 long; of 42: four. Twelve take 4 or 3 sets.

    Four strips of 2 1/2 are 10 in, + 1: 3/8 yd of each = 7.50. Made for 42 they would lie along cloth of 40: 2 x 42
    + 1 ... 1 1/4 yd of each = 25.00.
    """
    quilt = 'blocks = ["12 strip sets of 2 + 2 from oat and pear, segments 10"]\nsetting = "3 across, 4 down"\n'
    shop = "pear,40,1/8 yd,10\noat,43,1/8 yd,10\n"
    narrow = job(tmp_path, quilt + 'binding = "no"\n', shop)
    assert [(row.count, row.length) for row in narrow.cuts] == [(4, 63 * INCH // 2)] * 2
    assert planned(narrow).plan.totals.money == Decimal("7.50")
    wide = job(tmp_path, quilt + 'binding = "no"\n', shop.replace("40", "42"))
    assert [(row.count, row.length) for row in wide.cuts] == [(3, 42 * INCH)] * 2


@pytest.mark.parametrize("kind", ["batting", "fusible interfacing"])
def test_batting_is_no_width_to_make_strip_sets_for(tmp_path: Path, kind: str) -> None:
    quilt = 'blocks = ["12 strip sets of 2 + 2 from oat and oat, segments 10"]\nbinding = "no"\n'
    (tmp_path / "fabrics.csv").write_text(
        f"fabric,kind\noat,\nfluff,{kind}\n", encoding="utf-8"
    )
    made = quilt_of(job(tmp_path, quilt, "oat,41,1/8 yd,10\nfluff,30,1/8 yd,10\n"))
    assert made is not None
    assert made.how.usable_width == 41 * INCH


def test_the_width_of_cloth_is_said_in_the_shop(tmp_path: Path) -> None:
    """One fact in one place: under [how] it is a mistake that says where it belongs."""
    with pytest.raises(
        JobError, match=r"usable_width.*each fabric has its own: write it in shop\.csv"
    ):
        job(
            tmp_path,
            'top = "40 x 50"\n[how]\nusable_width = "41"\n',
            "oat,40,1/8 yd,10\n",
        )
    assert Conventions().usable_width == 42 * INCH
    assert Conventions.metric().usable_width == 106 * CM


@pytest.mark.parametrize("where", ["job", "how"])
def test_extra_is_bought_with_each_length(tmp_path: Path, where: str) -> None:
    """Eight squares of 10 1/2, four across: 21 + 1 in, 5/8 yd; with 1/4 yd extra 22 + 9 = 31 in: 7/8 yd, 31 1/2."""
    quilt = 'blocks = ["8 squares of 10 from oat"]\nbinding = "no"\n'
    shop = "oat,42,1/8 yd,8\n"
    assert planned(job(tmp_path, quilt, shop)).plan.totals.bought == lengths(
        oat=5 * YARD // 8
    )
    said = 'extra = "1/4 yd"\n'
    more = job(
        tmp_path,
        quilt + f"[how]\n{said}" * (where == "how"),
        shop,
        more=said * (where == "job"),
    )
    assert more.settings.extra == YARD // 4
    result = planned(more)
    assert result.plan.totals.bought == lengths(oat=7 * YARD // 8)
    assert result.plan.totals.money == Decimal("7.00")
    assert (
        "Each length to buy is 9 in longer than this plan takes, as you asked (extra)."
        in result.notices
    )
    (source,) = result.plan.sources
    assert (
        cloth_of(more, source).margins == (INCH // 2, 0) * 2
    )  # on the table it is cloth like the rest
    near = cloth_to_plan(more, source)
    assert near.margins == (INCH // 2, 0, INCH // 2 + YARD // 4, 0)


def test_a_strip_along_the_selvage_is_as_long_as_it_has_to_be() -> None:
    """90 in of segments of 30 and more, along it: 30 in + 1 at least of a bolt without end, and not four strips' worth.

    Three of 30 1/3 with two joins of 1/2 in, side by side: 30 1/3 + 1, so 7/8 yd (31 1/2).
    """
    tie = Strip(
        name="tie",
        width=5 * INCH // 2,
        total_length=90 * INCH,
        shortest=30 * INCH,
        join="straight",
        grain="along",
        fabrics=("oat",),
    )
    bolt = ByLength(
        fabric="oat", usable_width=42 * INCH, sold_by=YARD // 8, price=Decimal(8)
    )
    result = planned(
        Job(fabrics=(Fabric(name="oat"),), shop=(bolt,), strips=(tie,)), 400
    )
    assert result.plan.totals.bought == lengths(oat=7 * YARD // 8)


def test_an_upright_border_of_a_one_way_print(tmp_path: Path) -> None:
    """Blossom stands up along the selvage: sides along it, ends across it, so that it stands up all round the quilt.

    Two sides of 26 1/2 side by side, 2 1/2 wide, and two ends of 26 1/2 x 2 1/2 beside them: 26 1/2 + 1, 7/8 yd.
    """
    (tmp_path / "fabrics.csv").write_text(
        "fabric,one_way\nblossom,along\npear,\n", encoding="utf-8"
    )
    quilt = 'blocks = ["4 squares of 13 from pear"]\nsetting = "2 across, 2 down"\n'
    quilt += 'borders = ["2 from blossom, upright"]\nbinding = "no"\n[how]\nborder_corner = "corner squares"\n'
    wanted = job(tmp_path, quilt, "pear,42,1/8 yd,8\nblossom,42,1/8 yd,8\n")
    assert [(row.name, row.upright) for row in wanted.strips] == [
        ("border side", "along"),
        ("border end", "across"),
    ]
    result = planned(wanted)
    assert result.plan.totals.length_of("blossom") <= 7 * YARD // 8
    turned = {
        use.for_: use.turned
        for use in result.plan.uses
        if use.for_.startswith("strips/")
    }
    assert turned == {"strips/border side": False, "strips/border end": True}


def test_ends_are_squared_up_as_the_quilt_says(tmp_path: Path) -> None:
    """Four squares of 9 abreast are 9 in, with 1/2 in at both ends 10: 3/8 yd (13 1/2); with no square-up 1/4."""
    quilt = 'blocks = ["4 squares of 8 1/2 from oat"]\nbinding = "no"\n'
    shop = "oat,42,1/8 yd,8\n"
    assert planned(job(tmp_path, quilt, shop)).plan.totals.bought == lengths(
        oat=3 * YARD // 8
    )
    straight = job(tmp_path, quilt + '[how]\nsquare_up_end = "0"\n', shop)
    assert planned(straight).plan.totals.bought == lengths(oat=YARD // 4)
    assert quilt_of(straight).how.square_up_end == straight.settings.square_up_end == 0  # type: ignore[union-attr]
