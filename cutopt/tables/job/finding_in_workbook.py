"""The tables of a job in the sheets of a workbook."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from cutopt.errors import Problem
from cutopt.tables.columns import COLUMNS, NEEDED, nearest
from cutopt.tables.files.csv_tables import Record, as_sheet
from cutopt.tables.files.workbook import sheet_file
from cutopt.tables.job.found_tables import FoundTables
from cutopt.tables.log import Log, Placed
from cutopt.tables.recipe.told import toml_of_sheet


def tables_of_workbook(
    path: Path, sheets: Mapping[str, Sequence[Record]], found: FoundTables, log: Log
) -> None:
    """Add the sheets of a workbook to what was found of a job.

    Parameters
    ----------
    path : Path
        Of the workbook.
    sheets : mapping
        The rows of each sheet by its name in lower case.
    found : FoundTables
        What there is already is no place for a second one.
    log : Log
        What is there twice, or is not understood.
    """
    for sheet, records in sheets.items():
        file = sheet_file(path, sheet)
        there = {"pile": found.pile, "job": found.entries, "quilt": found.quilt}
        if sheet in found.tables or there.get(sheet) is not None:
            what = "the folder holds this table as a file too"
            log.add(Problem("", what, "keep one of the two"), file)
        elif sheet in (*COLUMNS, "pile"):
            _add_sheet(sheet, file, records, found, log)
        else:
            _note_stranger(sheet, file, records, sheets, log)


def _add_sheet(
    sheet: str, file: str, records: Sequence[Record], found: FoundTables, log: Log
) -> None:
    if sheet == "pile":
        lines = [(row, cells[0]) for row, cells in records if cells]
        found.pile = [line for line in lines if line != (1, "pile")]
        found.pile_file = file
        return
    table = as_sheet(file, records, sheet, log)
    if sheet == "job":
        found.entries = {
            cells["setting"]: Placed(cells.get("value", ""), file, row)
            for row, cells in table.rows
            if "setting" in cells
        }
    elif sheet == "quilt":
        found.quilt_sheet = table
        found.quilt = toml_of_sheet(table, records)
    else:
        found.tables[sheet] = table


def _note_stranger(
    sheet: str,
    file: str,
    records: Sequence[Record],
    sheets: Mapping[str, Sequence[Record]],
    log: Log,
) -> None:
    """Note a sheet whose name or columns look like those of a table; any other is the maker's own."""
    guess = nearest(sheet, (*COLUMNS, "pile"))
    if guess:
        mend = f"name the sheet {guess} if it is meant to be"
        log.add(Problem("", "there is no such table", mend), file)
        return
    table = _meant(records)
    if table and table not in sheets:
        what = (
            f"it has the columns of {table} and another name, so nobody would read it"
        )
        mend = f"name the sheet {table} if it is meant to be"
        log.add(Problem("", what, mend), file)


def _meant(records: Sequence[Record]) -> str:
    """The table whose columns stand at the top of a sheet of another name: at least those that it must have."""
    if records:
        heading = records[0][1]
    else:
        heading = []
    head = {cell.strip().lower() for cell in heading if cell.strip()}
    if head == {"pile"}:
        return "pile"
    for table, columns in COLUMNS.items():
        needed = set(NEEDED[table])
        enough = len(head) > 2 or len(head) == len(needed) == 2
        if needed <= head <= set(columns) and enough:
            return table
    return ""
