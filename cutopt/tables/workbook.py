"""The sheets of an .xlsx file as rows of text, as a CSV of the same table would give them."""

from __future__ import annotations

import datetime
import warnings
from pathlib import Path
from typing import Any
from zipfile import BadZipFile

from cutopt.errors import Problem
from cutopt.tables.log import Log
from cutopt.tables.sheets import Record


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
