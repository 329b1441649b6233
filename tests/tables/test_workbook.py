"""Jobs in one .xlsx file, written by openpyxl (the reference library for ECMA-376 workbooks in Python)."""

from __future__ import annotations

import csv
import datetime
import io
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from cutopt.errors import JobError, Problem
from cutopt.tables import read_job

Sheets = dict[str, list[list[Any]]]
ROOT = Path(__file__).parents[2]


def book(path: Path, sheets: Sheets) -> Path:
    """Write a workbook."""
    workbook = openpyxl.Workbook()
    workbook.remove(workbook.active)
    for name, rows in sheets.items():
        sheet = workbook.create_sheet(name)
        for row in rows:
            sheet.append(row)
    workbook.save(path)
    return path


def sound(**changed: list[list[Any]]) -> Sheets:
    """A whole job in sheets."""
    sheets: Sheets = {
        "job": [["setting", "value"], ["unit", "in"], ["seam", 0.25]],
        "pile": [["pear 11 x 7"], ["oat 20 x 14 less 7 x 4"]],
        "cuts": [["Cut", "Count", "Width", "Length", "Upright"], ["square", 10, 2.5, "2 1/2", True]],
    }
    return sheets | changed


def problems(path: Path) -> tuple[Problem, ...]:
    """All problems of a job."""
    with pytest.raises(JobError) as caught:
        read_job(path)
    return caught.value.problems


def test_a_workbook_is_a_whole_job(tmp_path: Path) -> None:
    path = book(tmp_path / "quilt.xlsx", sound())
    job = read_job(path)
    assert [piece.name for piece in job.pieces] == ["pear-1", "oat-1"]
    assert (job.cuts[0].width, job.cuts[0].length, job.cuts[0].upright) == (20320, 20320, True)
    assert read_job(tmp_path) == job


def test_the_orchard_as_a_workbook(tmp_path: Path) -> None:
    """The same tables as CSV and as XLSX, plain numbers as numbers, give the same job."""
    folder, sheets = ROOT / "data" / "orchard", {}
    for table in ("fabrics", "pieces", "shop", "cuts"):
        rows = list(csv.reader(io.StringIO((folder / f"{table}.csv").read_text(encoding="utf-8"))))
        sheets[table] = [[float(c) if c.replace(".", "", 1).isdigit() else c or None for c in row] for row in rows]
    sheets["pile"] = [
        ["pile"],
        *([line] for line in (folder / "pile.txt").read_text(encoding="utf-8").splitlines()),
    ]
    book(tmp_path / "orchard.xlsx", sheets)
    for name in ("job.toml", "quilt.toml"):
        (tmp_path / name).write_bytes((folder / name).read_bytes())
    assert read_job(tmp_path) == read_job(folder)
    assert read_job(tmp_path / "orchard.xlsx") == read_job(folder)


@pytest.mark.parametrize(
    ("cell", "guess"),
    [
        (datetime.datetime(2026, 1, 2), "1/2"),
        (datetime.date(2026, 2, 1), "1/2"),
        (datetime.datetime(2026, 3, 8), "3/8"),
        (datetime.datetime(2026, 7, 16), "7/16"),
        (datetime.datetime(1932, 1, 1), "1/32"),
    ],
)
def test_fractions_that_became_dates(tmp_path: Path, cell: object, guess: str) -> None:
    rows = [["cut", "width", "length"], ["a", 5, 5], ["b", cell, 5]]
    (problem,) = problems(book(tmp_path / "quilt.xlsx", sound(cuts=rows)))
    assert (problem.file, problem.row, problem.field) == ("quilt.xlsx sheet cuts", 3, "width")
    assert f"is a date: the spreadsheet turned a fraction into it, probably {guess}" in problem.what
    assert f"format the column as text and write {guess} again" in problem.mend


def test_rows_and_blank_rows_count_as_in_the_sheet(tmp_path: Path) -> None:
    rows = [["cut", "width", "length"], [], ["# a comment"], [None, None, None], ["b", "x", 5, "y"]]
    found = problems(book(tmp_path / "quilt.xlsx", sound(cuts=rows)))
    assert [(p.row, p.field) for p in found] == [(5, ""), (5, "width")]


def test_a_pile_line_names_its_row(tmp_path: Path) -> None:
    (problem,) = problems(book(tmp_path / "quilt.xlsx", sound(pile=[["pile"], ["pear 11 x 7"], ["pear x"]])))
    assert (problem.file, problem.row) == ("quilt.xlsx sheet pile", 3)


def test_settings_in_a_sheet(tmp_path: Path) -> None:
    (problem,) = problems(book(tmp_path / "q.xlsx", sound(job=[["setting", "value"], ["unit", "in"], ["seem", 1]])))
    assert (problem.file, problem.row, problem.field) == ("q.xlsx sheet job", 3, "seem")


def test_a_formula_without_a_result(tmp_path: Path) -> None:
    rows = [["cut", "width", "length"], ["a", "=2+0.5", 5]]
    found = problems(book(tmp_path / "quilt.xlsx", sound(cuts=rows)))
    assert (found[0].row, found[0].what) == (2, 'the formula "=2+0.5" has no stored result')


def test_one_table_in_two_places(tmp_path: Path) -> None:
    book(tmp_path / "quilt.xlsx", sound())
    (tmp_path / "cuts.csv").write_text("cut,width,length\na,5,5\n")
    (problem,) = problems(tmp_path)
    assert (problem.file, problem.mend) == ("quilt.xlsx sheet cuts", "keep one of the two")


def test_two_workbooks(tmp_path: Path) -> None:
    book(tmp_path / "a.xlsx", sound())
    book(tmp_path / "b.xlsx", sound())
    assert "two workbooks, a.xlsx and b.xlsx" in problems(tmp_path)[0].what


def test_a_lock_file_of_an_open_workbook_is_let_be(tmp_path: Path) -> None:
    book(tmp_path / "a.xlsx", sound())
    (tmp_path / "~$a.xlsx").write_bytes(b"locked")
    assert read_job(tmp_path).cuts


def test_sheets_of_other_names(tmp_path: Path) -> None:
    assert read_job(book(tmp_path / "a.xlsx", sound(Ideas=[["hello"]], Sheet1=[]))).cuts
    (problem,) = problems(book(tmp_path / "a.xlsx", sound(strip=[["strip"]])))
    assert (problem.file, problem.mend) == ("a.xlsx sheet strip", "name the sheet strips if it is meant to be")
    (problem,) = problems(book(tmp_path / "a.xlsx", sound(backs=[["back"]])))
    assert "not planned by this version" in problem.what


@pytest.mark.parametrize("data", [b"", b"not a zip", b"PK\x03\x04 broken"])
def test_a_broken_workbook(tmp_path: Path, data: bytes) -> None:
    (tmp_path / "quilt.xlsx").write_bytes(data)
    found = problems(tmp_path / "quilt.xlsx")
    assert (found[0].file, found[0].mend) == ("quilt.xlsx", "save it again as .xlsx, or as CSV")
    assert "cannot be opened" in found[0].what
