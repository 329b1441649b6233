"""Pages of a job with a quilt: the quilt with its cautions, the backings, the arithmetic, label and wash card."""

from __future__ import annotations

import csv
from pathlib import Path

import pymupdf
import pytest

from cutopt.pages import write_pages
from cutopt.pages.quilt import made
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables import read_job

JOB = {
    "job.toml": 'name = "metric lap"\nunit = "cm"\n',
    "pile.txt": "pear 60 x 80\noat 50 x 50\n",
    "shop.csv": "fabric,usable_width,sold_by,price\npear,107,10 cm,12\noat,107,10 cm,14\n",
    "quilt.toml": (
        'blocks = ["18 squares of 15 from pear", "12 half-square triangles of 15 from oat and pear"]\n'
        'setting = "5 across, 6 down"\nborders = ["6 from oat, corner squares from pear"]\n'
        'binding = "from pear"\nbacking = "any"\nuse = "cot"\n'
    ),
}


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("job")
    for name, text in JOB.items():
        (folder / name).write_text(text, encoding="utf-8")
    result = solve(read_job(folder), Work(100))
    assert result.complete
    write_pages(result, folder / "out")
    return folder / "out"


def test_the_pages(written: Path) -> None:
    with pymupdf.open(written / "plan.pdf") as pdf:
        pages = [" ".join(page.get_text().split()) for page in pdf]
    quilt = next(page for page in pages if "metric lap: the quilt" in page)
    assert "87 cm" in quilt  # 5 x 15 + 2 x 6 (identity)
    assert "102 cm" in quilt
    assert "under 12 months" in pages[0] + pages[1]  # where it is told once
    assert (
        "one column less frees 6" in quilt
    )  # the last that is said, on the same page: 6 blocks a column
    back = next(page for page in pages if "The backing: what to buy" in page)
    assert "98.5 x 113.5" in back  # raw top 88.5 x 103.5, 5 on every side (identity)
    assert "costs the least" in back
    assert any(
        "Batting" in page
        and "smallest that is safe" in page
        and "usual packages" in page
        for page in pages
    )
    label = next(page for page in pages if "Label and wash card" in page)
    assert "Not for a sleeping baby" in label
    ticks = " ".join(
        page for page in pages if "to tick off" in page or "How it comes about" in page
    )
    assert "15 + 2.56 = 17.56, cut 17.6" in ticks


def test_the_arithmetic_in_the_cut_list(written: Path) -> None:
    with (written / "cut-list.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert {row["why"] for row in rows if row["wanted"] == "square"} == {
        "finished 15 + 2 x 0.75 = 16.5"
    }
    assert all(row["why"] for row in rows)


def test_no_inch_in_a_metric_job(written: Path) -> None:
    with pymupdf.open(written / "plan.pdf") as pdf:
        text = " ".join(pdf[i].get_text() for i in range(3))
    assert " yd" not in text


def test_batting_from_shop_and_scraps(tmp_path: Path) -> None:
    """98.5 x 113.5 to reach: scraps of 60 and 45 wide reach it (105, butted: identity); nothing is cut from batting."""
    more = {
        "fabrics.csv": "fabric,kind\npear,\noat,\nfluff,cotton batting\n",
        "pile.txt": JOB["pile.txt"] + "fluff 60 x 120\nfluff 45 x 115\n",
        "shop.csv": JOB["shop.csv"] + "fluff,240,10 cm,1\n",
    }
    for name, text in (JOB | more).items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    job = read_job(tmp_path)
    result = solve(job, Work(50))
    assert result.complete
    assert not any(
        source.bought == "fluff" or source.piece.startswith("fluff")
        for source in result.plan.sources
    )
    shown = made(job, result.plan)
    assert shown is not None
    assert shown.batting is not None
    assert shown.batting.said[1] == (
        "Your own fluff-1 and fluff-2, joined: nothing to buy. Straight edges butted, with a wide zigzag. "
        "How much that takes: 60 + 45 = 105 for 98.5."
    )
    assert shown.backing is not None
    assert not any(way.from_hand or way.fabric == "fluff" for way in shown.backing.ways)
    assert {"fluff", "your own fluff-1 and fluff-2"} <= {
        row[0] for row in shown.batting.rows
    }
    write_pages(result, tmp_path / "out")
    with pymupdf.open(tmp_path / "out" / "plan.pdf") as pdf:
        text = " ".join(" ".join(page.get_text().split()) for page in pdf)
    assert "Joined batting: straight edges butted" in text
    assert "usual packages" not in text


@pytest.mark.parametrize(
    ("said", "shown"),
    [("", True), ('batting = "no"', False), ('batting = "any"', True)],
)
def test_batting_may_be_refused(tmp_path: Path, said: str, shown: bool) -> None:
    for name, text in JOB.items():
        (tmp_path / name).write_text(
            text + f"{said}\n" * (name == "quilt.toml"), encoding="utf-8"
        )
    pages = made(read_job(tmp_path))
    assert pages is not None
    assert (pages.batting is not None) == shown


def test_a_finished_top_and_its_backing_share_a_page(tmp_path: Path) -> None:
    """There is no picture of it: what is to be known stands above the backing, each thing once."""
    told = 'top = "60, 61 x 70"\nbinding = "from pear"\nbacking = "any"\nuse = "ward"\n'
    for name, text in (JOB | {"quilt.toml": told}).items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    result = solve(read_job(tmp_path), Work(50))
    write_pages(result, tmp_path / "out")
    with pymupdf.open(tmp_path / "out" / "plan.pdf") as pdf:
        pages = [" ".join(page.get_text().split()) for page in pdf]
    (page,) = (page for page in pages if "The backing: what to buy" in page)
    assert page.count("Out of square") == 1
    assert (
        "61 x 70 that draws in by 5 in 100 in a hot wash comes out at 57.95 x 66.5"
        in page
    )  # identity
