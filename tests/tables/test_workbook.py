"""Jobs in one .xlsx file, written by openpyxl (the reference library for ECMA-376 workbooks in Python)."""

from __future__ import annotations

import csv
import datetime
import io
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from cutopt.errors import JobError, Problem
from cutopt.tables import new_job, read_job, save_job
from cutopt.tables.files.toml_rows import rows_of_toml
from cutopt.tables.recipe.quilt import quilt, quilt_of
from tests.places import ROOT

Sheets = dict[str, list[list[Any]]]


def book(path: Path, sheets: Sheets) -> Path:
    """Write a workbook."""
    workbook = openpyxl.Workbook()
    workbook.remove(workbook.active)
    for name, rows in sheets.items():
        sheet = workbook.create_sheet(name)
        for row in rows:
            sheet.append(row)
    path.parent.mkdir(exist_ok=True)
    workbook.save(path)
    return path


def sound(**changed: list[list[Any]]) -> Sheets:
    """A whole job in sheets."""
    sheets: Sheets = {
        "job": [["setting", "value"], ["unit", "in"], ["seam", 0.25]],
        "pile": [["pear 11 x 7"], ["oat 20 x 14 less 7 x 4"]],
        "cuts": [
            ["Cut", "Count", "Width", "Length", "Upright"],
            ["square", 10, 2.5, "2 1/2", True],
        ],
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
    assert (job.cuts[0].width, job.cuts[0].length, job.cuts[0].upright) == (
        20320,
        20320,
        True,
    )
    assert read_job(tmp_path) == job


def test_the_orchard_as_a_workbook(tmp_path: Path) -> None:
    """The same tables as CSV and as XLSX, plain numbers as numbers, give the same job."""
    folder = ROOT / "data" / "orchard"
    sheets = {}
    for table in ("fabrics", "pieces", "shop", "cuts"):
        rows = list(
            csv.reader(
                io.StringIO((folder / f"{table}.csv").read_text(encoding="utf-8"))
            )
        )
        sheets[table] = [
            [float(c) if c.replace(".", "", 1).isdigit() else c or None for c in row]
            for row in rows
        ]
    sheets["pile"] = [
        ["pile"],
        *(
            [line]
            for line in (folder / "pile.txt").read_text(encoding="utf-8").splitlines()
        ),
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
    assert (problem.file, problem.row, problem.field) == (
        "quilt.xlsx sheet cuts",
        3,
        "width",
    )
    assert (
        f"is a date: the spreadsheet turned a fraction into it, probably {guess}"
        in problem.what
    )
    assert f"format the column as text and write {guess} again" in problem.mend


def test_rows_and_blank_rows_count_as_in_the_sheet(tmp_path: Path) -> None:
    rows = [
        ["cut", "width", "length"],
        [],
        ["# a comment"],
        [None, None, None],
        ["b", "x", 5, "y"],
    ]
    found = problems(book(tmp_path / "quilt.xlsx", sound(cuts=rows)))
    assert [(p.row, p.field) for p in found] == [(5, ""), (5, "width")]


def test_a_pile_line_names_its_row(tmp_path: Path) -> None:
    (problem,) = problems(
        book(
            tmp_path / "quilt.xlsx", sound(pile=[["pile"], ["pear 11 x 7"], ["pear x"]])
        )
    )
    assert (problem.file, problem.row) == ("quilt.xlsx sheet pile", 3)


def test_settings_in_a_sheet(tmp_path: Path) -> None:
    (problem,) = problems(
        book(
            tmp_path / "q.xlsx",
            sound(job=[["setting", "value"], ["unit", "in"], ["seem", 1]]),
        )
    )
    assert (problem.file, problem.row, problem.field) == ("q.xlsx sheet job", 3, "seem")


def test_a_formula_without_a_result(tmp_path: Path) -> None:
    rows = [["cut", "width", "length"], ["a", "=2+0.5", 5]]
    found = problems(book(tmp_path / "quilt.xlsx", sound(cuts=rows)))
    assert (found[0].row, found[0].what) == (
        2,
        'the formula "=2+0.5" has no stored result',
    )


def test_one_table_in_two_places(tmp_path: Path) -> None:
    book(tmp_path / "quilt.xlsx", sound())
    (tmp_path / "cuts.csv").write_text("cut,width,length\na,5,5\n")
    (problem,) = problems(tmp_path)
    assert (problem.file, problem.mend) == (
        "quilt.xlsx sheet cuts",
        "keep one of the two",
    )


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
    assert (problem.file, problem.mend) == (
        "a.xlsx sheet strip",
        "name the sheet strips if it is meant to be",
    )
    (problem,) = problems(book(tmp_path / "a.xlsx", sound(backs=[["back", "width"]])))
    assert problem.mend == "add it to the heading row"


@pytest.mark.parametrize("data", [b"", b"not a zip", b"PK\x03\x04 broken"])
def test_a_broken_workbook(tmp_path: Path, data: bytes) -> None:
    (tmp_path / "quilt.xlsx").write_bytes(data)
    found = problems(tmp_path / "quilt.xlsx")
    assert (found[0].file, found[0].mend) == (
        "quilt.xlsx",
        "save it again as .xlsx, or as CSV",
    )
    assert "cannot be opened" in found[0].what


RECIPE: list[list[Any]] = [
    ["part", "sentence", "note"],
    ["# the circle's own"],
    ["blocks", "8 nine patches of 6 from oat and pear", "begun"],
    [None, "7 squares of 6 from pear"],
    ["setting", "3 across, 5 down"],
    ["Binding", "2 1/2 from oat"],
    ["# use", "lap"],
    ["label", "2026-05-01"],
    ["[how]"],
    ["machine", "longarm"],
    ["spares", 1],
]
TOML = """
# the circle's own
blocks = ["8 nine patches of 6 from oat and pear", "7 squares of 6 from pear"]
setting = "3 across, 5 down"
binding = "2 1/2 from oat"
label = "2026-05-01"
[how]
machine = "longarm"
spares = 1
"""


def with_quilt(*rows: list[Any], **changed: list[list[Any]]) -> Sheets:
    """A workbook whose quilt says this."""
    sheets = sound(quilt=[["part", "sentence"], *rows]) | changed
    del sheets["cuts"]
    return sheets


def test_a_quilt_in_a_sheet_is_that_of_the_same_words_in_a_file(tmp_path: Path) -> None:
    sheets = with_quilt() | {"quilt": RECIPE}
    in_sheet = read_job(book(tmp_path / "one" / "quilt.xlsx", sheets))
    del sheets["quilt"]
    book(tmp_path / "two" / "quilt.xlsx", sheets)
    (tmp_path / "two" / "quilt.toml").write_text(TOML)
    in_file = read_job(tmp_path / "two")
    assert in_sheet.digest == in_file.digest
    assert [row.why for row in in_sheet.wanted] == [row.why for row in in_file.wanted]
    assert quilt_of(in_sheet) == quilt_of(in_file) == quilt(TOML)
    assert "# the circle's own" in in_sheet.quilt
    assert '# use = "lap"' in in_sheet.quilt
    assert "# begun" in in_sheet.quilt


@pytest.mark.parametrize(
    ("row", "field", "what", "mend"),
    [
        (["blocs", "3 squares of 6"], "part", 'no "blocs"', '"blocks"'),
        (["machin", "longarm"], "part", 'no "machin"', '"machine"'),
        (["colour of the sky", "blue"], "part", "no ", "the parts are: top"),
        (["blocks", "3 squars of 6"], "sentence", '"squars"', '"squares"'),
        (["top", "60 x 60"], "part", "set twice", "keep one"),
        (["machine", "treadle"], "sentence", '"treadle"', "longarm"),
        (
            ["binding_width", datetime.date(2026, 1, 2)],
            "sentence",
            "probably 1/2",
            "format the column as text",
        ),
        (["how", "machine"], "sentence", "beside a heading", "a row of its own"),
        (["sleeve", "from paer"], "sentence", '"paer"', '"pear"'),
    ],
)
def test_a_mistake_in_a_quilt_names_sheet_row_and_column(
    tmp_path: Path, row: list[Any], field: str, what: str, mend: str
) -> None:
    found = problems(book(tmp_path / "q.xlsx", with_quilt(["top", "58 x 66"], [], row)))
    assert [(p.file, p.row, p.field) for p in found] == [
        ("q.xlsx sheet quilt", 4, field)
    ]
    assert what in found[0].what
    assert mend in found[0].mend


def test_what_a_quilt_sheet_lacks(tmp_path: Path) -> None:
    (problem,) = problems(book(tmp_path / "q.xlsx", with_quilt([None, "58 x 66"])))
    assert (problem.row, problem.field) == (2, "part")
    (problem,) = problems(book(tmp_path / "q.xlsx", with_quilt(["top", None])))
    assert problem.what == "it says nothing"
    assert problem.mend.startswith("write a row with top")
    (problem,) = problems(book(tmp_path / "q.xlsx", sound(quilt=[["part"], ["top"]])))
    assert (problem.row, problem.field) == (1, "sentence")
    (problem,) = problems(
        book(tmp_path / "q.xlsx", with_quilt(["binding", "from oat"]))
    )
    assert (problem.row, problem.what) == (2, "there is no size to bind")


def test_a_quilt_in_two_places(tmp_path: Path) -> None:
    book(tmp_path / "q.xlsx", with_quilt(["top", "58 x 66"]))
    (tmp_path / "quilt.toml").write_text('top = "58 x 66"\n')
    (problem,) = problems(tmp_path)
    assert (problem.file, problem.mend) == ("q.xlsx sheet quilt", "keep one of the two")


def test_a_contradiction_names_both_sheets(tmp_path: Path) -> None:
    cuts = [["cut", "count", "width", "length"], ["ink", 5, 6.5, 6.5]]
    sheets = with_quilt(["blocks", "ink: 4 squares of 6"]) | {"cuts": cuts}
    (problem,) = problems(book(tmp_path / "q.xlsx", sheets))
    assert (problem.file, problem.row) == ("q.xlsx sheet cuts", 2)
    assert "q.xlsx sheet quilt row 2" in problem.what


@pytest.mark.parametrize("name", ["orchard", "metric-cushion"])
def test_from_folder_to_workbook_and_back(tmp_path: Path, name: str) -> None:
    job = read_job(ROOT / "data" / name)
    save_job(job, tmp_path / "mine.xlsx")
    in_book = read_job(tmp_path / "mine.xlsx")
    assert replace(in_book, quilt=job.quilt) == job
    assert quilt_of(in_book) == quilt_of(job)
    save_job(in_book, tmp_path / "again")
    assert read_job(tmp_path / "again") == in_book
    save_job(in_book, tmp_path / "mine.xlsx", replace=True)
    assert read_job(tmp_path / "mine.xlsx") == in_book
    for comment in (
        ("# 2 x (42 + 48) + 10", "# INVENTED, like the rest of this job")
        if job.quilt
        else ()
    ):
        assert comment in in_book.quilt


def test_a_workbook_is_not_written_over_unasked(tmp_path: Path) -> None:
    job = read_job(ROOT / "data" / "orchard")
    save_job(job, tmp_path / "mine.xlsx")
    with pytest.raises(Problem, match="name another one, or say replace=True"):
        save_job(job, tmp_path / "mine.xlsx")
    (tmp_path / "job.toml").write_text('unit = "in"\n')
    with pytest.raises(Problem, match=r"job\.toml is there and would be read too"):
        save_job(job, tmp_path / "other.xlsx")
    with pytest.raises(Problem, match="a sign that a workbook cannot hold"):
        save_job(
            replace(job, cuts=(replace(job.cuts[0], note="bell \x07"),)),
            tmp_path / "new" / "other.xlsx",
        )


@pytest.mark.parametrize("unit", ["in", "cm"])
@pytest.mark.parametrize("with_recipe", [True, False])
def test_a_workbook_to_begin_with(tmp_path: Path, unit: str, with_recipe: bool) -> None:
    new_job(tmp_path / "mine.xlsx", unit, with_recipe)
    new_job(tmp_path / "folder", unit, with_recipe)
    job = read_job(tmp_path / "mine.xlsx")
    in_files = read_job(tmp_path / "folder")
    assert replace(job, quilt="") == replace(in_files, quilt="")
    assert quilt_of(job) == quilt_of(in_files)
    cells = [
        cell
        for sheet in openpyxl.load_workbook(tmp_path / "mine.xlsx")
        for row in sheet
        for cell in row
    ]
    assert {
        (cell.data_type, cell.number_format) for cell in cells if cell.value is not None
    } == {("s", "@")}
    with pytest.raises(Problem, match="would be read too"):
        new_job(tmp_path / "other.xlsx", unit, with_recipe)


def test_a_setting_in_waiting_becomes_a_row_that_waits() -> None:
    text = """# words, and "more"
top = 'a # b'  # note
# use = "lap"  # or: cot
"""
    assert rows_of_toml(text) == [
        ('# words, and "more"', "", ""),
        ("top", "a # b", "note"),
        ("# use", "lap", "or: cot"),
    ]


@pytest.mark.parametrize(
    ("table", "rows"),
    [
        (
            "shop",
            [
                ["fabric", "usable_width", "sold_by", "price"],
                ["pear", "42", "1/8 yd", "10"],
            ],
        ),
        ("strips", [["Strip", "Width", "Total_length"], ["binding", 2.5, 90]]),
        ("job", [["setting", "value"], ["unit", "in"]]),
        ("quilt", [["part", "sentence", "note"], ["top", "58 x 66", ""]]),
        ("pile", [["pile"], ["pear 11 x 7"]]),
    ],
)
def test_a_table_on_a_sheet_of_another_name_is_not_passed_over(
    tmp_path: Path, table: str, rows: list[list[Any]]
) -> None:
    """``Sheet2`` with the columns of a table is told, unless that table is there as well: then it is a copy."""
    sheets = sound()
    sheets.pop(table, None)
    found = problems(book(tmp_path / "q.xlsx", sheets | {"Sheet2": rows}))
    assert ("q.xlsx sheet sheet2", f"name the sheet {table} if it is meant to be") in {
        (p.file, p.mend) for p in found
    }
    if table in sound():
        read_job(book(tmp_path / "q.xlsx", sound() | {"Sheet2": rows}))


def test_the_makers_own_sheet_is_passed_over(tmp_path: Path) -> None:
    read_job(
        book(
            tmp_path / "q.xlsx",
            sound(notes=[["fabric", "where I found it"], ["pear", "attic"]]),
        )
    )


def test_what_a_workbook_lacks_is_told_by_its_sheets(tmp_path: Path) -> None:
    """The workbook itself is named, not the folder that it lies in, and sheets, not files."""
    found = problems(book(tmp_path / "q.xlsx", {"fabrics": [["fabric"], ["pear"]]}))
    assert [(p.file, p.what, p.mend) for p in found] == [
        (
            "q.xlsx",
            "the sheet job is missing",
            "write one with at least unit = in or unit = cm",
        ),
        (
            "q.xlsx",
            "there is no pile",
            "write a sheet pile or pieces (it may be empty)",
        ),
        ("q.xlsx", "nothing is wanted", "write a sheet cuts, strips or quilt"),
    ]
