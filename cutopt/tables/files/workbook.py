"""The sheets of an .xlsx file as rows of text, as a CSV of the same table would give them, and such a file written."""

from __future__ import annotations

import csv
import datetime
import io
import warnings
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from cutopt.errors import JobError, Problem
from cutopt.signs import unseen_sign
from cutopt.tables.columns import COLUMNS
from cutopt.tables.files.csv_tables import Record, is_comment, too_many_rows
from cutopt.tables.files.text_files import MOST_ROWS, bytes_of, unseen
from cutopt.tables.files.toml_rows import rows_of_toml
from cutopt.tables.log import Log

_AGAIN = "save it again as .xlsx, or as CSV"
# how files with a password and workbooks before 2007 begin
_OLD = b"\xd0\xcf\x11\xe0"
_MOST_PARTS = 1_000
_MOST_UNPACKED = 64 * 2**20
# characters; longer sentences are wrapped
_WIDEST = 60


def read_workbook(path: Path, log: Log) -> dict[str, list[Record]] | None:
    """The rows of each sheet that has any text, by the sheet's name in lower case; None for what is no workbook."""
    data = bytes_of(path, log)
    if data is None:
        return None
    problem = _not_to_be_opened(data)
    if problem is None:
        before = len(log.problems)
        try:
            return _sheets(data, path, log)
        except JobError:
            # so many mistakes that reading ended
            raise
        except Exception:
            # whatever comes up in openpyxl when a file is not as it should be
            del log.problems[before:]
            problem = Problem(
                "",
                "it cannot be opened as a workbook: something in it is broken",
                _AGAIN,
            )
    log.add(problem, path.name)
    return None


def _not_to_be_opened(data: bytes) -> Problem | None:
    """What is wrong with a file that is no workbook, is locked, or would fill the memory."""
    if data.startswith(_OLD):
        what = "it cannot be opened as a workbook: it has a password, or is of an older kind"
        return Problem("", what, f"take the password off, and {_AGAIN}")
    try:
        entries = zipfile.ZipFile(io.BytesIO(data)).infolist()
    except (zipfile.BadZipFile, ValueError, OSError):
        return Problem(
            "", "it cannot be opened as a workbook: it is none, or was cut off", _AGAIN
        )
    if any(entry.flag_bits & 1 for entry in entries):
        return Problem(
            "",
            "it cannot be opened as a workbook: it has a password",
            f"take it off, and {_AGAIN}",
        )
    if (
        len(entries) > _MOST_PARTS
        or sum(entry.file_size for entry in entries) > _MOST_UNPACKED
    ):
        what = f"it cannot be opened as a workbook: unpacked it is larger than {_MOST_UNPACKED // 2**20} MiB"
        return Problem("", what, "copy the tables into a new workbook")
    return None


def _sheets(data: bytes, path: Path, log: Log) -> dict[str, list[Record]]:
    """Openpyxl reads row by row, so that a stray cell in the last row of a sheet fills no memory.

    With defusedxml beside it, it refuses entities that unfold into gigabytes; ``zipfile`` reads no more of an entry
    than its declared size, which is looked at before.
    """
    import openpyxl

    with warnings.catch_warnings():
        # openpyxl warns of looks that it passes over
        warnings.simplefilter("ignore")
        shown = openpyxl.load_workbook(io.BytesIO(data), data_only=True, read_only=True)
        typed = openpyxl.load_workbook(
            io.BytesIO(data), data_only=False, read_only=True
        )
        found: dict[str, list[Record]] = {}
        for sheet in shown.worksheets:
            file = sheet_file(path, sheet.title)
            name = sheet.title.strip().lower()
            records = _records(sheet, typed[sheet.title], file, log)
            if records and name in found:
                log.add(
                    Problem(
                        "", "there are two sheets of this name", "keep one of them"
                    ),
                    file,
                )
            elif records:
                found[name] = records
    return found


def is_workbook(path: Path) -> bool:
    """Whether a path is that of a workbook, which need not be there."""
    return path.suffix.lower() == ".xlsx" and not path.is_dir()


def sheet_file(path: Path, sheet: str) -> str:
    """How a problem names a sheet."""
    return f"{path.name} sheet {sheet.strip().lower()}"


def _records(shown: Any, typed: Any, file: str, log: Log) -> list[Record]:
    """The rows that have any text, at most so many, and what is wrong with formulas and signs in them."""
    records: list[Record] = []
    for sheet in (shown, typed):
        # what a file says of its size may be wrong
        sheet.reset_dimensions()
    both = zip(
        shown.iter_rows(values_only=True),
        typed.iter_rows(values_only=True),
        strict=True,
    )
    for row, (values, formulas) in enumerate(both, 1):
        if not any(formula is not None for formula in formulas):
            continue
        for value, formula in zip(values, formulas, strict=True):
            if value is None and isinstance(formula, str) and formula.startswith("="):
                mend = "open the file in a spreadsheet and save it, or write the number"
                log.add(
                    Problem("", f'the formula "{formula}" has no stored result', mend),
                    file,
                    row,
                )
        cells = [_seen_cell(cell_text(value), file, row, log) for value in values]
        if any(cells):
            records.append((row, cells))
        if len(records) > MOST_ROWS:
            log.add(too_many_rows(), file)
            break
    return records


def _seen_cell(text: str, file: str, row: int, log: Log) -> str:
    """The text of a cell without signs that nobody can see, which are noted."""
    if text.isprintable():
        return text
    sign = unseen_sign(text.replace("\t", " ").replace("\n", " "))
    if not sign:
        return text
    log.add(unseen(text, sign), file, row)
    return "".join(kept for kept in text if not unseen_sign(kept))


def cell_text(value: object) -> str:
    """The text of a cell: numbers as short as they are exact, dates as year-month-day."""
    if value is None:
        return ""
    if isinstance(value, bool):
        if value:
            return "yes"
        return "no"
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
    return [
        [line.strip()] if is_comment(line) else next(csv.reader([line]))
        for line in lines
        if line.strip()
    ]


def _fill(sheet: Any, rows: Iterable[Sequence[str]]) -> None:
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    widths: dict[int, int] = {}
    for row, cells in enumerate(rows, 1):
        for column, text in enumerate(cells, 1):
            if not text:
                continue
            cell = sheet.cell(row, column)
            cell.value = text
            cell.number_format = "@"
            # a text that begins with = is no formula
            cell.data_type = "s"
            comment = is_comment(cells[0])
            cell.font = Font(bold=row == 1, italic=comment)
            cell.alignment = Alignment(
                wrap_text=len(text) > _WIDEST and not comment, vertical="top"
            )
            if not comment or any(cells[1:]):
                widths[column] = max(widths.get(column, 8), min(len(text) + 2, _WIDEST))
    for column, width in widths.items():
        sheet.column_dimensions[get_column_letter(column)].width = width
    sheet.freeze_panes = "A2"
