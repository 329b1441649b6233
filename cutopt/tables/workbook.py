"""The sheets of an .xlsx file as rows of text, as a CSV of the same table would give them, and such a file written."""

from __future__ import annotations

import csv
import datetime
import io
import warnings
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any
from zipfile import BadZipFile

from cutopt.errors import Problem
from cutopt.tables.columns import COLUMNS
from cutopt.tables.log import Log
from cutopt.tables.sheets import Record, is_comment
from cutopt.tables.toml_rows import rows_of_toml

_WIDEST = 60  # characters; longer sentences are wrapped


def read_workbook(path: Path, log: Log) -> dict[str, list[Record]]:
    """The rows of each sheet that has any text, by the sheet's name in lower case."""
    import openpyxl
    from openpyxl.utils.exceptions import InvalidFileException

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # openpyxl warns of looks that it passes over
            shown = openpyxl.load_workbook(path, data_only=True)
            typed = openpyxl.load_workbook(path, data_only=False)
    except (BadZipFile, InvalidFileException, KeyError, ValueError, TypeError, OSError) as error:
        log.add(Problem("", f"it cannot be opened as a workbook ({error})", "save it again as .xlsx, or as CSV"),
                path.name)  # fmt: skip
        return {}
    found = {}
    for sheet in shown.worksheets:
        file = sheet_file(path, sheet.title)
        records = _records(sheet, typed[sheet.title], file, log)
        if any(any(cells) for _, cells in records):
            found[sheet.title.strip().lower()] = records
    return found


def is_workbook(path: Path) -> bool:
    """Whether a path is that of a workbook, which need not be there."""
    return path.suffix.lower() == ".xlsx" and not path.is_dir()


def sheet_file(path: Path, sheet: str) -> str:
    """How a problem names a sheet."""
    return f"{path.name} sheet {sheet.strip().lower()}"


def _records(shown: Any, typed: Any, file: str, log: Log) -> list[Record]:
    records: list[Record] = []
    both = zip(shown.iter_rows(values_only=True), typed.iter_rows(values_only=True), strict=True)
    for row, (values, formulas) in enumerate(both, 1):
        for value, formula in zip(values, formulas, strict=True):
            if value is None and isinstance(formula, str) and formula.startswith("="):
                mend = "open the file in a spreadsheet and save it, or write the number"
                log.add(Problem("", f'the formula "{formula}" has no stored result', mend), file, row)
        records.append((row, [cell_text(value) for value in values]))
    return records


def cell_text(value: object) -> str:
    """The text of a cell: numbers as short as they are exact, dates as year-month-day."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.12g}"
    if isinstance(value, datetime.datetime):
        return value.date().isoformat()
    if isinstance(value, datetime.date):
        return value.isoformat()
    return str(value).strip()


def workbook_of(files: Mapping[str, str]) -> bytes:
    """The workbook with a sheet for each file of a job, given by their names and texts.

    All cells are text, so that no spreadsheet turns 1/2 into a date.

    Raises
    ------
    Problem
        Where a text has a sign that no workbook can hold.
    """
    import openpyxl
    from openpyxl.utils.exceptions import IllegalCharacterError

    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, text in files.items():
        try:
            _fill(book.create_sheet(Path(name).stem), _rows_of_file(name, text))
        except IllegalCharacterError as error:
            what = f"{str(error)[:40]!r} has a sign that a workbook cannot hold"
            raise Problem("", what, "take it out, or save as a folder") from error
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _rows_of_file(name: str, text: str) -> list[Sequence[str]]:
    table, kind = name.split(".")
    if kind == "toml":
        return [COLUMNS[table], *rows_of_toml(text)]
    if kind == "txt":
        return [[table], *([line] for line in text.splitlines() if line.strip())]
    lines = text.removeprefix("\ufeff").splitlines(keepends=True)
    if not any(is_comment(line) for line in lines):
        return list(csv.reader(lines))
    return [[line.strip()] if is_comment(line) else next(csv.reader([line])) for line in lines if line.strip()]


def _fill(sheet: Any, rows: Iterable[Sequence[str]]) -> None:
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    widths: dict[int, int] = {}
    for row, cells in enumerate(rows, 1):
        for column, text in enumerate(cells, 1):
            if not text:
                continue
            cell = sheet.cell(row, column)
            cell.value, cell.number_format = text, "@"
            cell.data_type = "s"  # a text that begins with = is no formula
            comment = is_comment(cells[0])
            cell.font = Font(bold=row == 1, italic=comment)
            cell.alignment = Alignment(wrap_text=len(text) > _WIDEST and not comment, vertical="top")
            if not comment or any(cells[1:]):
                widths[column] = max(widths.get(column, 8), min(len(text) + 2, _WIDEST))
    for column, width in widths.items():
        sheet.column_dimensions[get_column_letter(column)].width = width
    sheet.freeze_panes = "A2"
