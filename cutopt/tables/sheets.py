"""One table as text: decoding the file, finding its columns, numbering its rows as a spreadsheet does."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from cutopt.errors import Problem
from cutopt.tables.columns import COLUMNS, NEEDED, known_heading, nearest
from cutopt.tables.log import Log

Record = tuple[int, list[str]]
"""A row number, counted from 1, and the texts of its cells."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table: the file it stands in, and per row its number and the text of each column (blank ones left out)."""

    file: str
    rows: tuple[tuple[int, dict[str, str]], ...]


def read_csv(path: Path, table: str, log: Log) -> Sheet:
    """Read a CSV file as the table of that name; problems go to `log`, what can be read is read."""
    text = read_text(path, log)
    records = _records(text, _separator(text, path.name, log), path.name, log)
    return as_sheet(path.name, records, table, log)


def read_text(path: Path, log: Log) -> str:
    """The text of a UTF-8 file; another encoding is a problem, and is read as far as it can be."""
    try:
        data = path.read_bytes()
    except OSError as error:
        log.add(Problem("", f"it cannot be read ({error.strerror or error})", "check the file"), path.name)
        return ""
    return decoded(data, path.name, log)


def decoded(data: bytes, file: str, log: Log) -> str:
    """Text from bytes: UTF-8 with or without a byte order mark; UTF-16 and Windows-1252 are explained."""
    mend = "save it again as CSV UTF-8" if file.endswith(".csv") else "save it again as UTF-8"
    wide = "utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else _unmarked_utf16(data)
    if wide:
        log.add(Problem("", "it is saved as UTF-16 (Unicode text)", mend), file)
        return data.decode(wide, errors="replace").removeprefix("\ufeff")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        row = data[: error.start].count(b"\n") + 1
        text = data.decode("cp1252", errors="replace")
        shown = text.splitlines()[row - 1].strip() if text.splitlines()[row - 1 :] else ""
        log.add(Problem("", f'it is saved in an old encoding (Windows-1252), seen at "{shown}"', mend), file, row)
        return text


def _unmarked_utf16(data: bytes) -> str:
    head = data[:200]
    if head.count(0) * 4 < len(head) or len(head) < 4:
        return ""
    odd, even = head[1::2].count(0), head[0::2].count(0)
    return "utf-16-le" if odd > even else "utf-16-be"


def _separator(text: str, file: str, log: Log) -> str:
    """The sign between cells: a comma, or what a spreadsheet of another country put there (a problem)."""
    header = next((line for line in text.splitlines() if line.strip() and not line.startswith("# ")), "")
    if "," in header:
        return ","
    for sign, said in ((";", "semicolons (;)"), ("\t", "tabs")):
        if sign in header:
            log.add(Problem("", f"the cells are separated by {said}", "save it as CSV with commas"), file, 1)
            return sign
    return ","


def _records(text: str, separator: str, file: str, log: Log) -> list[Record]:
    records: list[Record] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    try:
        for cells in reader:
            records.append((len(records) + 1, [cell.strip() for cell in cells]))
    except csv.Error as error:
        what = f"the row cannot be taken apart ({error}): a double quote that opens a cell must close it"
        log.add(
            Problem("", what, "write an inch mark only behind a number, or close the quote"),
            file,
            len(records) + 1,
        )
    return records


def is_comment(cell: str) -> bool:
    """Whether a row that begins with this cell is passed over."""
    return re.match(r"#(\s|$)", cell) is not None


def as_sheet(file: str, records: Sequence[Record], table: str, log: Log) -> Sheet:
    """Find the header and give each cell its column.

    Blank rows and rows that begin with ``# `` are passed over; the first other row is the header.
    """
    told = [(row, cells) for row, cells in records if any(cells) and not is_comment(cells[0])]
    if not told:
        log.add(Problem("", "it has no heading row", "begin with: " + ",".join(COLUMNS[table])), file, 1)
        return Sheet(file, ())
    header_row, headings = told[0]
    columns = _columns(file, header_row, headings, table, log)
    if columns is None:
        return Sheet(file, ())
    rows = []
    for row, cells in told[1:]:
        beyond = [cell for i, cell in enumerate(cells) if cell and (i >= len(columns) or columns[i] is None)]
        if beyond:
            what = f'"{beyond[0]}" stands in a column without a heading'
            mend = "put a cell that has a comma in it in double quotes, or give the column a heading"
            log.add(Problem("", what, mend), file, row)
        rows.append((row, {c: cell for c, cell in zip(columns, cells, strict=False) if c and cell}))
    return Sheet(file, tuple(rows))


def _columns(file: str, row: int, headings: list[str], table: str, log: Log) -> list[str | None] | None:
    """The column of each heading ("": passed over; None: blank); None where no heading fits."""
    known = COLUMNS[table]
    exact = [known_heading(text, known) for text in headings]
    if not any(exact):
        log.add(Problem("", f'no column of {table} is named in "{",".join(filter(None, headings))}"',
                        "begin with: " + ",".join(known)), file, row)  # fmt: skip
        return None
    columns: list[str | None] = []
    for text, column in zip(headings, exact, strict=True):
        guess = column
        if column is None and text:
            guess = nearest(text, [c for c in known if c not in exact])
            mend = f'did you mean "{guess}"?' if guess else "the columns are: " + ", ".join(known)
            log.add(Problem(text, f'there is no column "{text}" in {table}', mend), file, row)
        if guess and guess in columns:
            log.add(Problem(guess, f'the heading "{text}" stands twice', "keep one of the two columns"), file, row)
            guess = None
        columns.append(guess or ("" if text else None))
    missing = [column for column in NEEDED[table] if column not in columns]
    for column in missing:
        log.add(Problem(column, f'the column "{column}" is missing', "add it to the heading row"), file, row)
    return None if missing else columns
