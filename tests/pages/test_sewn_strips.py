"""What stands about strips: whoever adds up the printed segments gets a strip that is long enough."""

from __future__ import annotations

import csv
import re
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pymupdf
import pytest

from cutopt.check import check
from cutopt.fabric import ByLength, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import CM, INCH, METRE, MM, YARD
from cutopt.pages.files import pages_pdf
from cutopt.quilt.triangles import half_square_triangles
from cutopt.result import Result
from cutopt.settings import Settings
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.strips import longest_first, segments_text
from cutopt.tables import write_cut_list
from cutopt.wanted import Strip

# 108 cm that shrink by 1 % are 106.92 cm (arithmetic identity), of which a ruler shows 106.9
SHRINKS = Fabric(name="teal", shrink_across=Fraction(1, 100))
BOLT = ByLength(
    fabric="teal", usable_width=108 * CM, sold_by=METRE // 10, price=Decimal("12.00")
)


def planned(*strips: Strip) -> Result:
    job = Job(
        name="cushion",
        fabrics=(SHRINKS,),
        shop=(BOLT,),
        strips=strips,
        settings=Settings.metric(),
    )
    result = solve(job, Work(60))
    assert result.complete
    for offer in result.offers:
        assert check(job, offer.plan) == []
    return result


def sash(total: int, count: int = 1) -> Strip:
    """Straight joins: each loses two seams of 7.5 mm. The width is not on 5 mm, so all is planned on 1 mm."""
    return Strip(
        name="sash",
        width=71 * MM,
        total_length=total,
        count=count,
        join="straight",
        shortest=20 * CM,
    )


def text_of(result: Result) -> str:
    with pymupdf.open(stream=pages_pdf(result)) as document:
        return " ".join(" ".join(page.get_text() for page in document).split())


@pytest.mark.parametrize("total", [1297 * MM, 1300 * MM, 2121 * MM, 2124 * MM])
def test_the_printed_sum_reaches_the_strip(total: int) -> None:
    """Each join takes 1.5 cm; two widths come to 212.3 cm by the ruler, with what it does not show to 212.34."""
    said = text_of(planned(sash(total, count=2)))
    found = re.findall(
        r"sew (\d) end to end, straight joins: ([\d.]+) cm \(([\d. +]+), less 1.5 a join\)(.*?)☐?",
        said,
    )
    assert found
    for number, printed, segments, _ in found:
        lengths = [Decimal(each) for each in segments.split(" + ")]
        assert len(lengths) == int(number)
        assert (
            sum(lengths) - Decimal("1.5") * (len(lengths) - 1)
            == Decimal(printed)
            >= Decimal(total) / (10 * MM)
        )
    for printed, trimmed in re.findall(
        r"joins: ([\d.]+) cm [^☐]*?, trim to ([\d.]+)", said
    ):
        assert Decimal(trimmed) < Decimal(printed)


def test_pages_and_list_tell_one_length_of_a_segment(tmp_path: Path) -> None:
    """Two widths sewn are 212.3 cm: both segments are as long as the cloth is wide."""
    result = planned(sash(2123 * MM))
    write_cut_list(result.plan, tmp_path / "cut.csv")
    with (tmp_path / "cut.csv").open(encoding="utf-8-sig", newline="") as file:
        sizes = [(row["size"], row["joins"]) for row in csv.DictReader(file)]
    assert sizes == [
        ("106.9 x 7.1 cm", ""),
        ("7.1 cm wide, 212.3 cm long", "1"),
    ]
    said = text_of(result)
    assert "106.9 x 7.1" in said
    assert "106.5 x 7.1" not in said
    assert "straight joins: 212.3 cm" in said
    assert "trim to" not in said


def test_an_inch_job_is_told_by_sixteenths() -> None:
    """42 in that shrink by 2 % are 41.16 in, 41 1/8 by the ruler: two of them less 1/2 in make 81 3/4."""
    fabric = Fabric(name="oat", shrink_across=Fraction(1, 50))
    bolt = ByLength(
        fabric="oat", usable_width=42 * INCH, sold_by=YARD // 8, price=Decimal("9.00")
    )
    strip = Strip(
        name="border", width=3 * INCH, total_length=80 * INCH, join="straight"
    )
    result = solve(Job(fabrics=(fabric,), shop=(bolt,), strips=(strip,)), Work(60))
    said = text_of(result)
    assert "sew 2 end to end, straight joins: 81 3/4 in, trim to 80" in said
    assert "41 1/8 x 3" in said


def test_washed_cloth_and_its_segments_are_told_by_one_mark() -> None:
    """42 in that shrink by 4 % are 40.32 in (arithmetic identity): the last sixteenth below is 40 5/16."""
    fabric = Fabric(name="oat", shrink_across=Fraction(1, 25))
    bolt = ByLength(
        fabric="oat", usable_width=42 * INCH, sold_by=YARD // 8, price=Decimal("9.00")
    )
    strip = Strip(
        name="border", width=3 * INCH, total_length=78 * INCH, join="straight"
    )
    result = solve(Job(fabrics=(fabric,), shop=(bolt,), strips=(strip,)), Work(60))
    said = text_of(result)
    assert "it should measure about 40 5/16 x" in said
    assert "This cut is about 40 5/16 long" in said
    assert "of 40 5/16 x 3" in said
    assert "40 1/4" not in said


def test_a_washed_width_in_millimetres() -> None:
    """108 cm less 1 % are 106.92 cm, half of that 53.46: 106.9 and 53.4 by the ruler, not 106.5 and 53."""
    said = text_of(planned(sash(2123 * MM)))
    assert "it should measure about 106.9 x" in said
    assert "about 106.9 to about 53.4" in said
    assert "106.5" not in said


def of_two_fabrics(count: int) -> Result:
    """Straight joins lose 1/2 in: 40 + 30 less 1/2 make 69 1/2 (identity), and no fabric alone has so much."""
    job = Job(
        fabrics=(Fabric(name="oat"), Fabric(name="plum")),
        pieces=(
            Piece.of_size("a", "oat", 40 * INCH, 3 * INCH, count=count),
            Piece.of_size("b", "plum", 30 * INCH, 3 * INCH, count=count),
        ),
        strips=(
            Strip(
                name="border",
                width=3 * INCH,
                total_length=139 * INCH // 2,
                count=count,
                join="straight",
                shortest=30 * INCH,
                fabrics=("oat", "plum"),
            ),
        ),
    )
    result = solve(job, Work(60))
    assert result.complete
    return result


@pytest.mark.parametrize("count", [1, 2])
def test_each_segment_is_told_with_its_fabric(count: int, tmp_path: Path) -> None:
    """The lengths alone left the maker to guess, and the fabric's cell was empty."""
    result = of_two_fabrics(count)
    assert "(oat 40, plum 30, less 1/2 a join)" in text_of(result)
    write_cut_list(result.plan, tmp_path / "cut.csv")
    with (tmp_path / "cut.csv").open(encoding="utf-8-sig", newline="") as file:
        last = list(csv.DictReader(file))[-1]
    assert (last["count"], last["fabric"], last["from"]) == (
        str(count),
        "oat, plum",
        "its segments oat 40, plum 30",
    )


def test_segments_of_one_fabric_stand_together() -> None:
    segments = longest_first(
        [
            ("dusk", 305 * MM),
            ("clay", 485 * MM),
            ("dusk", 1035 * MM),
            ("dusk", 1035 * MM),
        ]
    )
    assert (
        segments_text(segments, "cm", mixed=True)
        == "dusk 103.5 + 103.5 + 30.5, clay 48.5"
    )
    assert segments_text(segments, "cm", mixed=False) == "103.5 + 103.5 + 48.5 + 30.5"


def test_how_a_row_is_sewn_stands_on_the_tick_list() -> None:
    """It stood in cut-list.csv alone. A unit of 6 is trimmed to 6 1/2 with seams of 1/4 (arithmetic identity)."""
    job = Job(
        fabrics=(Fabric(name="oat"), Fabric(name="plum")),
        pieces=(
            Piece.of_size("a", "oat", 20 * INCH, 20 * INCH),
            Piece.of_size("b", "plum", 20 * INCH, 20 * INCH),
        ),
        cuts=half_square_triangles("leaf", 6 * INCH, 4, of=("oat", "plum")).cuts,
    )
    said = text_of(solve(job, Work(60)))
    told = "Note: sewn in pairs either side of a diagonal, then cut on it; trim the units to 6 1/2"
    assert said.count(told) == 2


def test_what_is_left_beside_a_long_cut_adds_up_with_the_washed_width() -> None:
    """106 cm that shrink by 2 % are 103.88 cm (arithmetic identity): 103.8 by the ruler, 103.5 and 0.3."""
    fabric = Fabric(name="dusk", shrink_across=Fraction(1, 50))
    bolt = ByLength(
        fabric="dusk", usable_width=106 * CM, sold_by=METRE // 10, price=Decimal("9.00")
    )
    strip = Strip(
        name="border", width=6 * CM, total_length=2055 * MM, count=2, join="straight"
    )
    job = Job(
        fabrics=(fabric,), shop=(bolt,), strips=(strip,), settings=Settings.metric()
    )
    said = text_of(solve(job, Work(60)))
    assert "it should measure about 103.8 x" in said
    assert "At the right edge about 0.3 cm should be left." in said
