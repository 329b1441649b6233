"""What to cut and what to buy as CSV, checked against the plan's own arithmetic done by hand."""

from __future__ import annotations

import csv
import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from cutopt.errors import Problem
from cutopt.fabric import ByLength, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import CM, INCH, MM
from cutopt.plan import CutStep, Plan, Source, Use
from cutopt.settings import Settings
from cutopt.tables import write_cut_list, write_shopping_list
from cutopt.wanted import Cut, Strip
from tests.check.backs_by_hand import GOOD_BACKS
from tests.tables.plan.orchard_corner import orchard_corner


def table(path: Path) -> list[list[str]]:
    """The rows of a CSV file (RFC 4180, by Python's csv)."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.reader(file))


def test_the_cut_list(tmp_path: Path) -> None:
    write_cut_list(orchard_corner(), tmp_path / "cut.csv")
    assert table(tmp_path / "cut.csv") == [
        [
            "wanted",
            "size",
            "count",
            "fabric",
            "from",
            "cuts",
            "note",
            "why",
            "joins",
            "trim to",
        ],
        [
            "square",
            "5 x 5 in",
            "1",
            "pear",
            "bit (number 2 of 3)",
            "2",
            "as cut",
            "",
            "",
            "",
        ],
        [
            "square",
            "5 x 5 in",
            "2",
            "pear",
            "bought piece 5 x 5 in",
            "whole, no cut",
            "as cut",
            "",
            "",
            "",
        ],
        [
            "binding",
            "30 x 2 1/2 in",
            "1",
            "oat",
            "bought 1/8 yd, 42 in wide",
            "5",
            "",
            "",
            "",
            "",
        ],
        [
            "binding",
            "12 x 2 1/2 in",
            "1",
            "oat",
            "bought 1/8 yd, 42 in wide",
            "5",
            "",
            "",
            "",
            "",
        ],
        ["square", "", "1", "", "not in this plan", "", "no more pear", "", "", ""],
        [
            "binding",
            "2 1/2 in wide, 39 1/2 in long",
            "1",
            "oat",
            "its segments 30 + 12",
            "",
            "diagonal joins",
            "",
            "1",
            "",
        ],
    ]


def test_the_cut_list_says_how_strips_are_sewn_and_trimmed(tmp_path: Path) -> None:
    """Nothing in it said so. 30 + 12, less 2 1/2 at the diagonal join, is 39 1/2 (identity); 39 are wanted."""
    plan = orchard_corner()
    assert plan.origin is not None
    strips = tuple(
        replace(strip, total_length=39 * INCH) for strip in plan.origin.strips
    )
    write_cut_list(
        replace(plan, origin=replace(plan.origin, strips=strips)), tmp_path / "cut.csv"
    )
    with (tmp_path / "cut.csv").open(encoding="utf-8-sig", newline="") as file:
        last = list(csv.DictReader(file))[-1]
    assert (last["wanted"], last["size"], last["count"]) == (
        "binding",
        "2 1/2 in wide, 39 1/2 in long",
        "1",
    )
    assert (last["joins"], last["trim to"], last["from"]) == (
        "1",
        "39 in",
        "its segments 30 + 12",
    )


def test_whole_pieces_alike_stand_in_one_row(tmp_path: Path) -> None:
    plan = metric_plan()
    job = replace(
        plan.origin, pieces=(Piece.of_size("p", "linen", 85 * MM, 85 * MM, count=4),)
    )  # type: ignore[type-var]
    sources = tuple(Source(id=f"S{i}", piece="p", copy=i) for i in (1, 2, 4))
    uses = tuple(Use(part=source.id, for_="cuts/patch") for source in sources)
    write_cut_list(
        Plan(job=job.digest, sources=sources, uses=uses, origin=job),
        tmp_path / "cut.csv",
    )
    assert table(tmp_path / "cut.csv")[1:] == [
        ["patch", "8.5 x 8.5 cm", "3", "linen", "p", "whole, no cut", "", "", "", ""]
    ]


def test_the_shopping_list(tmp_path: Path) -> None:
    write_shopping_list(orchard_corner(), tmp_path / "buy.csv")
    assert table(tmp_path / "buy.csv") == [
        ["fabric", "width", "length", "pieces", "price", "note"],
        ["oat", "42 in", "1/8 yd", "1", "1.20", "bolt 3"],
        ["pear", "5 in", "5 in", "2", "0.80", "bin"],
        ["total", "", "", "3", "2.00", ""],
        [
            "not enough: 1 of square missing",
            "",
            "",
            "",
            "",
            "what mends it: one more square from the bin",
        ],
    ]


def test_a_missing_price_leaves_the_sum_out(tmp_path: Path) -> None:
    plan = orchard_corner()
    sources = tuple(replace(s, price=None) if s.id == "S2" else s for s in plan.sources)
    write_shopping_list(replace(plan, sources=sources), tmp_path / "buy.csv")
    assert [row[4:] for row in table(tmp_path / "buy.csv")[1:]] == [
        ["", "bolt 3"],
        ["0.80", "bin"],
        ["", "a price is missing"],
        ["", "what mends it: one more square from the bin"],
    ]


def test_nothing_to_buy(tmp_path: Path) -> None:
    plan = orchard_corner()
    kept = replace(
        plan,
        sources=plan.sources[:1],
        cuts=plan.cuts[:2],
        uses=plan.uses[2:3],
        joins=(),
    )
    write_shopping_list(kept, tmp_path / "buy.csv")
    assert [row[0] for row in table(tmp_path / "buy.csv")[1:]] == [
        "not enough: 1 of square missing"
    ]
    write_shopping_list(replace(kept, short=()), tmp_path / "buy.csv")
    assert table(tmp_path / "buy.csv")[1:] == [
        ["nothing to buy", "", "", "0", "", "the pile is enough"]
    ]


@pytest.mark.parametrize("text", ["=1+1", "@SUM(A1)", "+1", "-1", "\tx"])
def test_no_cell_is_a_formula(tmp_path: Path, text: str) -> None:
    """A note or a sum that begins like a formula reached a spreadsheet as one (OWASP, "CSV Injection")."""
    plan = orchard_corner()
    assert plan.origin is not None
    cuts = tuple(replace(cut, note=text, why=text) for cut in plan.origin.cuts)
    plan = replace(plan, origin=replace(plan.origin, cuts=cuts))
    write_cut_list(plan, tmp_path / "cut.csv")
    cells = [cell for row in table(tmp_path / "cut.csv") for cell in row]
    assert f"'{text}" in cells
    assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r")) for cell in cells)


def metric_plan() -> Plan:
    """Four patches of 8.5 cm side by side, freed by cuts 1, 2, 3 and 5, and a straightened strip."""
    job = Job(
        settings=replace(Settings.metric(), currency="€"),
        fabrics=(Fabric(name="linen"),),
        pieces=(
            Piece.of_size("strip", "linen", 34 * CM, 85 * MM),
            Piece.of_size("end", "linen", 30 * CM, 10 * CM),
        ),
        shop=(
            ByLength(
                fabric="linen",
                usable_width=106 * CM,
                sold_by=10 * CM,
                price=Decimal("14.80"),
            ),
        ),
        cuts=(Cut(name="patch", width=85 * MM, length=85 * MM, count=4),),
        strips=(Strip(name="edge", width=5 * CM, total_length=30 * CM, join="none"),),
    )
    cuts = (
        CutStep(n=1, part="S1", x=85 * MM, gives=("a", "b")),
        CutStep(n=2, part="b", x=17 * CM, gives=("c", "d")),
        CutStep(n=3, part="d", x=255 * MM, gives=("e", "f")),
        CutStep(
            n=4, part="S2", line=((0, 1 * CM), (30 * CM, 2 * CM)), gives=("g", "h")
        ),
        CutStep(n=5, part="g", y=7 * CM, gives=("i", "j")),
    )
    uses = tuple(Use(part=part, for_="cuts/patch") for part in ("a", "c", "e", "f"))
    bought = Source(
        id="S3", bought="linen", width=106 * CM, length=130 * CM, price=Decimal("19.24")
    )
    return Plan(
        job=job.digest,
        sources=(Source(id="S1", piece="strip"), Source(id="S2", piece="end"), bought),
        cuts=cuts,
        uses=(*uses, Use(part="i", for_="strips/edge", turned=True)),
        origin=job,
    )


def test_a_metric_job_shows_no_inch(tmp_path: Path) -> None:
    """1.3 m at 14.80 a metre is 19.24, arithmetic identity."""
    write_cut_list(metric_plan(), tmp_path / "cut.csv")
    write_shopping_list(metric_plan(), tmp_path / "buy.csv")
    assert table(tmp_path / "cut.csv")[1:] == [
        ["patch", "8.5 x 8.5 cm", "4", "linen", "strip", "1 to 3", "", "", "", ""],
        ["edge", "30 x 5 cm", "1", "linen", "end", "5", "", "", "", ""],
    ]
    assert table(tmp_path / "buy.csv")[1:] == [
        ["linen", "106 cm", "1.3 m", "1", "€19.24", ""],
        ["total", "", "", "1", "€19.24", ""],
    ]
    assert (
        (tmp_path / "buy.csv").read_bytes().startswith(b"\xef\xbb\xbf")
    )  # so that a spreadsheet shows the €


def test_a_plan_without_its_job(tmp_path: Path) -> None:
    plan = replace(orchard_corner(), origin=None)
    for write in (write_cut_list, write_shopping_list):
        with pytest.raises(Problem, match="does not know its job"):
            write(plan, tmp_path / "x.csv")
    assert list(tmp_path.iterdir()) == []


def test_prices_of_a_yard(tmp_path: Path) -> None:
    """1/8 yd is 4 1/2 in; 9.60 a yard makes 1.20, arithmetic identity."""
    oat = orchard_corner().sources[1]
    assert (oat.length, oat.price) == (9 * INCH // 2, Decimal("9.60") / 8)


def test_no_cell_is_what_a_spreadsheet_makes_a_date_of(tmp_path: Path) -> None:
    """Two small numbers with a hyphen or a stroke, such as ``1-3``, open as a day (common practice, no source)."""
    write_cut_list(metric_plan(), tmp_path / "cut.csv")
    write_shopping_list(metric_plan(), tmp_path / "buy.csv")
    cells = [
        cell
        for name in ("cut.csv", "buy.csv")
        for row in table(tmp_path / name)
        for cell in row
    ]
    assert "1 to 3" in cells
    assert not [
        cell for cell in cells if re.fullmatch(r"\d{1,2}[-/]\d{1,2}([-/]\d+)?", cell)
    ]


def test_the_parts_of_a_back_and_its_blocks(tmp_path: Path) -> None:
    """As the band is made by hand: four parts of cloth, each in its own row, and three blocks, letters by the seams.

    Of a ship measured as 10 x 9 3/4 comes 1/2 in off across and 1/4 along; stars go in as they are.
    """
    _, plan = GOOD_BACKS["band"]()
    job = GOOD_BACKS["band"]()[0]
    write_cut_list(replace(plan, origin=job), tmp_path / "cut.csv")
    told = [[row[i] for i in (0, 1, 2, 3, 4, 9)] for row in table(tmp_path / "cut.csv")]
    part = "back B1, part"
    small = ["8 3/4 x 9 1/2 in", "1", "pear"]
    assert told[1:] == [
        [f"{part} D", *small, "a", ""],
        [f"{part} E", *small, "b", ""],
        [f"{part} F", "44 x 20 in", "1", "plum", "low", ""],
        [f"{part} G", "44 x 23 1/2 in", "1", "plum", "high", ""],
        *(
            [
                f"{part} {letter}",
                "9 1/2 x 9 1/2 in",
                "1",
                "",
                f"spare block star (number {n} of 2)",
                "",
            ]
            for n, letter in ((1, "A"), (2, "C"))
        ),
        [
            f"{part} B",
            "10 x 9 3/4 in",
            "1",
            "",
            "spare block ship (number 3 of 4)",
            "9 1/2 x 9 1/2 in",
        ],
    ]


def test_equal_parts_of_a_back_have_a_row_each(tmp_path: Path) -> None:
    """And a part that hangs turned is told as it hangs: mist 52 x 15, turned, hangs 15 x 52."""
    for name, sizes in (
        ("in_a_row", ["15 x 52 in", "15 x 52 in", "16 x 52 in"]),
        ("prints", ["15 x 52 in", "15 x 52 in", "16 x 52 in"]),
    ):
        job, plan = GOOD_BACKS[name]()
        write_cut_list(replace(plan, origin=job), tmp_path / "cut.csv")
        assert [row[1] for row in table(tmp_path / "cut.csv")[1:]] == sizes


def test_a_back_that_is_not_made(tmp_path: Path) -> None:
    job, plan = GOOD_BACKS["two_backs"]()
    plan = replace(plan, origin=job)
    write_cut_list(plan, tmp_path / "cut.csv")
    assert table(tmp_path / "cut.csv")[-1][:7] == [
        "back B2",
        "",
        "1",
        "",
        "not in this plan",
        "",
        "no more cloth",
    ]
    write_shopping_list(plan, tmp_path / "shop.csv")
