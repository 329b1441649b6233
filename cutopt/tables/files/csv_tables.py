"""One table as text: finding its columns, numbering its rows as a spreadsheet does."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest
from pathlib import Path

from cutopt.errors import Problem
from cutopt.tables.columns import COLUMNS, NEEDED, known_heading, nearest
from cutopt.tables.files.text_files import MOST_ROWS, read_text
from cutopt.tables.log import Log, Placed

# signs of a cell
_LONGEST = 2_000
_LONGEST_OF = {
    "outline": 100_000,
    "flaws": 100_000,
    "together": 80,
    "colour": 80,
    "kind": 80,
}
_MOST_COLUMNS = 100
Record = tuple[int, list[str]]
"""A row number, counted from 1, and the texts of its cells."""


@dataclass(frozen=True, slots=True)
class TextTable:
    """A table: the file it stands in, and per row its number and the text of each column (blank ones left out)."""

    file: str
    rows: tuple[tuple[int, dict[str, str]], ...]


def read_csv(path: Path, table: str, log: Log) -> TextTable:
    """Read a CSV file as the table of that name; problems go to `log`, what can be read is read.

    Parameters
    ----------
    path : Path
    table : str
        Its name: which columns it has.
    log : Log
        What is wrong with the file or its heading row.
    """
    text = read_text(path, log)
    records = _records(text, _separator(text, path.name, log), path.name, log)
    return as_sheet(path.name, records, table, log)


def _separator(text: str, file: str, log: Log) -> str:
    """The sign between cells: a comma, or what a spreadsheet of another country put there (a problem)."""
    header = next(
        (
            line
            for line in text.splitlines()
            if line.strip() and not line.startswith("# ")
        ),
        "",
    )
    if "," in header:
        return ","
    for sign, said in ((";", "semicolons (;)"), ("\t", "tabs")):
        if sign in header:
            log.add(
                Problem(
                    "",
                    f"the cells are separated by {said}",
                    "save it as CSV with commas",
                ),
                file,
                1,
            )
            return sign
    return ","


def _records(text: str, separator: str, file: str, log: Log) -> list[Record]:
    records: list[Record] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    try:
        for cells in reader:
            records.append((len(records) + 1, [cell.strip() for cell in cells]))
            if len(records) > MOST_ROWS:
                log.add(too_many_rows(), file)
                return records
    except csv.Error as error:
        what = f"the row cannot be taken apart ({error}): a double quote that opens a cell must close it"
        log.add(
            Problem(
                "", what, "write an inch mark only behind a number, or close the quote"
            ),
            file,
            len(records) + 1,
        )
    return records


def too_many_rows() -> Problem:
    """What is wrong with a table that is too long."""
    return Problem(
        "", f"it has more than {MOST_ROWS} rows", "give a count to rows that are alike"
    )


def is_comment(cell: str) -> bool:
    """Whether a row that begins with this cell is passed over."""
    return re.match(r"#(\s|$)", cell) is not None


def as_sheet(file: str, records: Sequence[Record], table: str, log: Log) -> TextTable:
    """Find the header and give each cell its column.

    Blank rows and rows that begin with ``# `` are passed over; the first other row is the header.

    Parameters
    ----------
    file : str
        How a problem names the place of the table.
    records : sequence of (int, list of str)
        Its rows with their numbers.
    table : str
        Its name: which columns it has.
    log : Log
        What is wrong in the heading row, and cells without a heading or too long.
    """
    told = [
        (row, cells)
        for row, cells in records
        if any(cells) and not is_comment(cells[0])
    ]
    if not told:
        mend = "begin with: " + ",".join(COLUMNS[table])
        log.add(Problem("", "it has no heading row", mend), file, 1)
        return TextTable(file, ())
    header_row, headings = told[0]
    columns = _columns(file, header_row, headings, table, log)
    if columns is None:
        return TextTable(file, ())
    rows = []
    for row, cells in told[1:]:
        named = _named(cells, columns, Placed("", file, row), log)
        if named is not None:
            rows.append((row, named))
    return TextTable(file, tuple(rows))


def _named(
    cells: Sequence[str],
    columns: Sequence[str | None],
    at: Placed[str],
    log: Log,
) -> dict[str, str] | None:
    """The cells of a row by column; None where one is too long to be read."""
    blank = None
    for cell, column in zip_longest(cells, columns):
        if cell and column is None:
            blank = blank or cell
    if blank is not None:
        what = f'"{blank}" stands in a column without a heading'
        mend = "put a cell that has a comma in it in double quotes, or give the column a heading"
        log.add(Problem("", what, mend), at.file, at.row)
    named = {c: cell for c, cell in zip(columns, cells, strict=False) if c and cell}
    readable = True
    for column, cell in named.items():
        most = _LONGEST_OF.get(column, _LONGEST)
        if len(cell) > most:
            what = f'"{cell[:40]}..." has {len(cell)} signs'
            log.add(Problem(column, what, f"write at most {most}"), at.file, at.row)
            readable = False
    if readable:
        return named
    return None


def _columns(
    file: str, row: int, headings: list[str], table: str, log: Log
) -> list[str | None] | None:
    """The column of each heading ("": passed over; None: blank); None where no heading fits."""
    known = COLUMNS[table]
    if len(headings) > _MOST_COLUMNS:
        what = f"its heading row has {len(headings)} cells"
        mend = "begin with: " + ",".join(known)
        log.add(Problem("", what, mend), file, row)
        return None
    exact = [known_heading(text, known) for text in headings]
    if not any(exact):
        said = ",".join(filter(None, headings))
        what = f'no column of {table} is named in "{said}"'
        log.add(Problem("", what, "begin with: " + ",".join(known)), file, row)
        return None
    columns: list[str | None] = []
    for text, column in zip(headings, exact, strict=True):
        meant = column
        if column is None and text:
            free = [name for name in known if name not in exact]
            meant = nearest(text, free)
            mend = "the columns are: " + ", ".join(known)
            if meant:
                mend = f'did you mean "{meant}"?'
            what = f'there is no column "{text}" in {table}'
            log.add(Problem(text, what, mend), file, row)
        if meant and meant in columns:
            what = f'the heading "{text}" stands twice'
            log.add(Problem(meant, what, "keep one of the two columns"), file, row)
            meant = None
        columns.append(meant or ("" if text else None))
    missing = [column for column in NEEDED[table] if column not in columns]
    for column in missing:
        what = f'the column "{column}" is missing'
        log.add(Problem(column, what, "add it to the heading row"), file, row)
    if missing:
        return None
    return columns
