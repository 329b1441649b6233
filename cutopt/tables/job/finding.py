"""Finding the tables of a job in a folder or a workbook; what is there twice or is not understood is noted."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

from cutopt.errors import Problem
from cutopt.tables.columns import nearest
from cutopt.tables.files.atomic import settle
from cutopt.tables.files.csv_tables import read_csv
from cutopt.tables.files.text_files import MOST_ROWS, read_text
from cutopt.tables.files.workbook import is_workbook, read_workbook
from cutopt.tables.job.finding_in_workbook import tables_of_workbook
from cutopt.tables.job.found_tables import (
    IN_FOLDER,
    IN_WORKBOOK,
    TABLES,
    FoundTables,
    note_missing,
)
from cutopt.tables.job.settings import toml_entries
from cutopt.tables.log import Log
from cutopt.tables.recipe.quilt import FILE as QUILT

# in bytes
_MOST_TOML: Final = 2**16
_TABLE_FILES: Final = tuple(f"{table}.csv" for table in TABLES)
_FILES: Final = ("job.toml", "pile.txt", QUILT, *_TABLE_FILES)
# what a misspelt table of a job may end in
_ENDINGS: Final = (".csv", ".txt", ".toml", ".ods", ".xls")


def find_tables(path: Path, log: Log) -> FoundTables:
    """What there is of a job at a path: that of a folder, of the job.toml in it, or of a workbook.

    Raises
    ------
    JobError
        Where nothing is there, or the folder cannot be read.
    """
    if is_workbook(path):
        return _of_workbook(path, log)
    return _of_folder(path.parent if path.name == "job.toml" else path, path, log)


def _of_workbook(path: Path, log: Log) -> FoundTables:
    """A workbook may have job.toml and quilt.toml beside it."""
    folder = path.parent
    if not folder.is_dir() or not os.path.lexists(path):
        log.add(_no_job(path), str(path))
        log.finish()
    settle(folder)
    found = FoundTables()
    if os.path.lexists(folder / "job.toml"):
        _read_settings(folder / "job.toml", found, log)
    if os.path.lexists(folder / QUILT):
        found.quilt = read_text(folder / QUILT, log, _MOST_TOML)
    sheets = read_workbook(path, log)
    # of a workbook that cannot be read nobody knows what is missing in it
    if sheets is not None:
        tables_of_workbook(path, sheets, found, log)
        note_missing(found, path.name, IN_WORKBOOK, log)
    return found


def _of_folder(folder: Path, path: Path, log: Log) -> FoundTables:
    if not folder.is_dir():
        log.add(_no_job(path), str(path))
        log.finish()
    settle(folder)
    books = [
        each
        for each in _entries(folder, log)
        if is_workbook(each) and not each.name.startswith("~$")
    ]
    if len(books) > 1:
        names = " and ".join(book.name for book in books)
        what = f"there are two workbooks, {names}"
        log.add(Problem("", what, "keep one"), folder.name)
    found = FoundTables()
    _read_files(folder, found, log)
    for book in books[:1]:
        sheets = read_workbook(book, log)
        if sheets is None:
            return found
        tables_of_workbook(book, sheets, found, log)
    note_missing(found, folder.resolve().name, IN_FOLDER, log)
    return found


def _no_job(path: Path) -> Problem:
    """Why there is no job at a path."""
    if path.is_file() and not is_workbook(path):
        return Problem("", "it is not a job", "name the folder in which it lies")
    if is_workbook(path):
        what = "there is no such file"
    else:
        what = "there is no such folder"
    return Problem("", what, "check the path, or start a new job there")


def _entries(folder: Path, log: Log) -> list[Path]:
    """All that lies in a folder and is not hidden, of names that differ in case the one in lower case first."""
    try:
        found = [path for path in folder.iterdir() if not path.name.startswith(".")]
    except OSError as error:
        what = f"the folder cannot be read ({error.strerror})"
        log.add(Problem("", what, "check who may read it"), str(folder))
        log.finish()
    return sorted(found, key=_in_order)


def _in_order(path: Path) -> tuple[str, bool, str]:
    lower = path.name.lower()
    return lower, path.name != lower, path.name


def _read_settings(path: Path, found: FoundTables, log: Log) -> None:
    found.entries = toml_entries(read_text(path, log, _MOST_TOML), path.name, log)


def _read_files(folder: Path, found: FoundTables, log: Log) -> None:
    """Read the files of a job, whatever the case of their names."""
    names = _names(folder, log)
    for name in names.values():
        if not (folder / name).is_dir():
            _note_stranger(name, names, log)
    if "job.toml" in names:
        _read_settings(folder / names["job.toml"], found, log)
    if "pile.txt" in names:
        found.pile = _lines_of(folder / names["pile.txt"], log)
    if QUILT in names:
        found.quilt = read_text(folder / names[QUILT], log, _MOST_TOML)
    for table, file in zip(TABLES, _TABLE_FILES, strict=True):
        if file in names:
            found.tables[table] = read_csv(folder / names[file], table, log)


def _names(folder: Path, log: Log) -> dict[str, str]:
    """The names of a folder by their lower case; two of a job that differ in case alone are a problem."""
    names: dict[str, str] = {}
    for path in _entries(folder, log):
        lower = path.name.lower()
        first = names.setdefault(lower, path.name)
        if first != path.name and lower in _FILES:
            what = f"{first} is there too, and only one of them can be read"
            log.add(Problem("", what, "keep one"), path.name)
    return names


def _lines_of(path: Path, log: Log) -> list[tuple[int, str]]:
    lines = list(enumerate(read_text(path, log).splitlines(), 1))
    if len(lines) > MOST_ROWS:
        what = f"{len(lines)} lines are more than the {MOST_ROWS} that are read"
        mend = "write leftovers alike in one line, such as: 20 squares mist 5"
        log.add(Problem("", what, mend), path.name)
    return lines[:MOST_ROWS]


def _note_stranger(name: str, names: dict[str, str], log: Log) -> None:
    """Note a file that belongs to a job but is not read, or that looks like a misspelt table."""
    plain = name.lower()
    if plain not in _FILES and plain.endswith(_ENDINGS):
        by_stem = {Path(file).stem: file for file in reversed(_FILES)}
        meant = by_stem.get(nearest(Path(plain).stem, by_stem, 0.8) or "")
        if meant and meant not in names:
            mend = f"save it as {meant} if it is meant to be"
            log.add(Problem("", "it is not a table of a job", mend), name)
