"""Reading a job from a folder of tables (or a workbook), with every mistake found in one pass."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TypeVar

from cutopt.errors import Problem
from cutopt.fabric import Fabric, Offered, Piece
from cutopt.job import Job, Settings
from cutopt.tables.columns import COLUMNS, LATER, NEEDED, nearest
from cutopt.tables.files.atomic import settle
from cutopt.tables.files.csv_tables import Record, Sheet, as_sheet, read_csv
from cutopt.tables.files.text_files import MOST_ROWS, read_text
from cutopt.tables.files.workbook import is_workbook, read_workbook, sheet_file
from cutopt.tables.job.cells import Row
from cutopt.tables.job.contradictions import (
    named_twice,
    of_known_fabric,
    of_known_words,
    of_owners,
    of_sound_rules,
)
from cutopt.tables.job.odd_sizes import of_cells
from cutopt.tables.job.rows import cut_of, fabric_of, offered_of, piece_of, strip_of
from cutopt.tables.job.rows_by_hand import mixed
from cutopt.tables.job.settings import settings_of, toml_entries
from cutopt.tables.log import Log, Placed
from cutopt.tables.pile.reading import read_pile
from cutopt.tables.recipe.habits import width_on_sale
from cutopt.tables.recipe.quilt import FILE as QUILT
from cutopt.tables.recipe.quilt import QuiltFile, read_quilt, read_sheet
from cutopt.tables.recipe.told import SENTENCE, toml_of_sheet
from cutopt.wanted import Cut, Strip, Wanted

T = TypeVar("T")
VALUES = ("light", "medium", "dark")
_TABLES = ("fabrics", "pieces", "shop", "cuts", "strips")
_WANTED = ("cuts", "strips")
_MOST_TOML = 2**16  # bytes
_FILES = ("job.toml", "pile.txt", QUILT, *(f"{table}.csv" for table in _TABLES), *LATER)

_PLACES = {
    "job": "job.toml",
    "pile": "pile.txt or pieces.csv",
    "wanted": "cuts.csv, strips.csv",
    "quilt": QUILT,
    "rows": "cuts.csv or strips.csv",
    "inch": '"in"',
    "cm": '"cm"',
}
_SHEETS = {
    "job": "the sheet job",
    "pile": "a sheet pile or pieces",
    "wanted": "a sheet cuts, strips",
    "quilt": "quilt",
    "rows": "the sheet cuts or strips",
    "inch": "in",
    "cm": "cm",
}


@dataclass(slots=True)
class _Found:
    """What a folder holds, still as text."""

    tables: dict[str, Sheet] = field(default_factory=dict)
    pile: list[tuple[int, str]] | None = None
    pile_file: str = "pile.txt"
    entries: dict[str, Placed[str]] | None = None
    quilt: str | None = None
    quilt_sheet: Sheet | None = None

    @property
    def quilt_file(self) -> str:
        """Where the quilt stands, if there is one."""
        return self.quilt_sheet.file if self.quilt_sheet else QUILT


def read_job(folder: str | Path) -> Job:
    """Read a job from a folder of tables.

    Parameters
    ----------
    folder : str or Path
        A folder with job.toml, a pile (pile.txt or pieces.csv or both) and what is wanted (cuts.csv or
        strips.csv or both, or a quilt.toml that they are worked out from); fabrics.csv and shop.csv where they
        are needed. The tables may also be sheets of one
        .xlsx file in the folder. The path of an .xlsx or of the job.toml itself will do as well.

    Returns
    -------
    Job
        With every length in ticks: cloth rounded down, what is needed rounded up. What can be planned but is
        hardly meant (cloth as narrow as if its width were in another unit) is told in its `notices`.

    Raises
    ------
    JobError
        With every mistake of the folder, each with its file, row, column and mend.
    """
    log = Log()
    found = _found(Path(folder), log)
    name, settings = settings_of(found.entries or {}, log)
    read = _Reader(found=found, settings=settings, log=log)
    parts = read.parts()
    if found.quilt_sheet:
        log.in_column(found.quilt_file, SENTENCE, COLUMNS["quilt"])
    log.finish()
    more = {"quilt": found.quilt or "", "notices": log.notices}
    return Job(name=name, **more, **parts)  # type: ignore[arg-type]


def _found(path: Path, log: Log) -> _Found:
    """Look for the tables; what is missing, is there twice or is not understood is noted."""
    found = _Found()
    if is_workbook(path):
        books = [path]
        folder = path.parent
    else:
        folder = path.parent if path.name == "job.toml" else path
        books = []
    if not folder.is_dir() or (books == [path] and not os.path.lexists(path)):
        log.add(_no_job(path), str(path))
        log.finish()
    settle(folder)
    if books != [path]:
        books = [
            p
            for p in _entries(folder, log)
            if is_workbook(p) and not p.name.startswith("~$")
        ]
    if len(books) > 1:
        names = " and ".join(book.name for book in books)
        log.add(
            Problem("", f"there are two workbooks, {names}", "keep one"), folder.name
        )
    if books != [path]:
        _tables_of_folder(folder, found, log)
    else:
        if os.path.lexists(folder / "job.toml"):
            _settings_file(folder / "job.toml", found, log)
        if os.path.lexists(folder / QUILT):
            found.quilt = read_text(folder / QUILT, log, _MOST_TOML)
    for book in books[:1]:
        sheets = read_workbook(book, log)
        if sheets is None:
            return found  # nobody knows what is missing in it
        _tables_of_book(book, sheets, found, log)
    if books == [path]:
        _note_missing(found, path.name, _SHEETS, log)
    else:
        _note_missing(found, folder.resolve().name, _PLACES, log)
    return found


def _no_job(path: Path) -> Problem:
    """Why there is no job at a path."""
    if path.is_file() and not is_workbook(path):
        return Problem("", "it is not a job", "name the folder in which it lies")
    what = "there is no such file" if is_workbook(path) else "there is no such folder"
    return Problem("", what, "check the path, or start a new job there")


def _entries(folder: Path, log: Log) -> list[Path]:
    """All that lies in a folder and is not hidden, of names that differ in case the one in lower case first."""
    try:
        found = [path for path in folder.iterdir() if not path.name.startswith(".")]
    except OSError as error:
        log.add(
            Problem(
                "",
                f"the folder cannot be read ({error.strerror})",
                "check who may read it",
            ),
            str(folder),
        )
        log.finish()
    return sorted(
        found,
        key=lambda path: (path.name.lower(), path.name != path.name.lower(), path.name),
    )


def _settings_file(path: Path, found: _Found, log: Log) -> None:
    found.entries = toml_entries(read_text(path, log, _MOST_TOML), path.name, log)


def _tables_of_folder(folder: Path, found: _Found, log: Log) -> None:
    lower: dict[str, str] = {}
    for path in _entries(folder, log):
        first = lower.setdefault(path.name.lower(), path.name)
        if first != path.name and path.name.lower() in _FILES:
            log.add(
                Problem(
                    "",
                    f"{first} is there too, and only one of them can be read",
                    "keep one",
                ),
                path.name,
            )
    for name in lower.values():
        if not (folder / name).is_dir():
            _note_stranger(name, lower, log)
    if "job.toml" in lower:
        _settings_file(folder / lower["job.toml"], found, log)
    if "pile.txt" in lower:
        found.pile = _lines_of(folder / lower["pile.txt"], log)
    if QUILT in lower:
        found.quilt = read_text(folder / lower[QUILT], log, _MOST_TOML)
    for table in _TABLES:
        if f"{table}.csv" in lower:
            found.tables[table] = read_csv(folder / lower[f"{table}.csv"], table, log)


def _lines_of(path: Path, log: Log) -> list[tuple[int, str]]:
    lines = list(enumerate(read_text(path, log).splitlines(), 1))
    if len(lines) > MOST_ROWS:
        mend = "write leftovers alike in one line, such as: 20 squares mist 5"
        log.add(
            Problem(
                "",
                f"{len(lines)} lines are more than the {MOST_ROWS} that are read",
                mend,
            ),
            path.name,
        )
    return lines[:MOST_ROWS]


def _note_stranger(name: str, lower: dict[str, str], log: Log) -> None:
    """Note a file that belongs to a job but is not read, or that looks like a misspelt table."""
    plain = name.lower()
    if plain in LATER:
        log.add(
            Problem(
                "", "it is not planned by this version yet", "take it out of the folder"
            ),
            name,
        )
    elif plain not in _FILES and plain.endswith(
        (".csv", ".txt", ".toml", ".ods", ".xls")
    ):
        guess = nearest(Path(plain).stem, {Path(file).stem for file in _FILES}, 0.8)
        file = next((file for file in _FILES if Path(file).stem == guess), None)
        if file and file not in lower:
            log.add(
                Problem(
                    "",
                    "it is not a table of a job",
                    f"save it as {file} if it is meant to be",
                ),
                name,
            )


def _tables_of_book(
    path: Path, sheets: Mapping[str, list[Record]], found: _Found, log: Log
) -> None:
    for sheet, records in sheets.items():
        file = sheet_file(path, sheet)
        there = {"pile": found.pile, "job": found.entries, "quilt": found.quilt}
        if sheet in found.tables or there.get(sheet) is not None:
            log.add(
                Problem(
                    "",
                    "the folder holds this table as a file too",
                    "keep one of the two",
                ),
                file,
            )
        elif f"{sheet}.csv" in LATER:
            log.add(
                Problem(
                    "", "it is not planned by this version yet", "take the sheet out"
                ),
                file,
            )
        elif sheet == "pile":
            lines = [(row, cells[0]) for row, cells in records if cells]
            found.pile = [line for line in lines if line != (1, "pile")]
            found.pile_file = file
        elif sheet == "job":
            rows = as_sheet(file, records, "job", log).rows
            found.entries = {
                c["setting"]: Placed(c.get("value", ""), file, row)
                for row, c in rows
                if "setting" in c
            }
        elif sheet == "quilt":
            found.quilt_sheet = as_sheet(file, records, sheet, log)
            found.quilt = toml_of_sheet(found.quilt_sheet, records)
        elif sheet in COLUMNS:
            found.tables[sheet] = as_sheet(file, records, sheet, log)
        elif guess := nearest(sheet, (*COLUMNS, "pile")):
            log.add(
                Problem(
                    "",
                    "there is no such table",
                    f"name the sheet {guess} if it is meant to be",
                ),
                file,
            )
        elif (table := _meant(records)) and table not in sheets:
            mend = f"name the sheet {table} if it is meant to be"
            log.add(
                Problem(
                    "",
                    f"it has the columns of {table} and another name, so nobody would read it",
                    mend,
                ),
                file,
            )


def _meant(records: Sequence[Record]) -> str:
    """The table whose columns stand at the top of a sheet of another name: at least those that it must have."""
    head = {
        cell.strip().lower()
        for _, cells in records[:1]
        for cell in cells
        if cell.strip()
    }
    if head == {"pile"}:
        return "pile"
    for table, columns in COLUMNS.items():
        needed = set(NEEDED[table])
        if needed <= head <= set(columns) and (
            len(head) > 2 or len(head) == len(needed) == 2
        ):
            return table
    return ""


def _note_missing(
    found: _Found, where: str, places: Mapping[str, str], log: Log
) -> None:
    if found.entries is None:
        mend = (
            f"write one with at least unit = {places['inch']} or unit = {places['cm']}"
        )
        log.add(Problem("", f"{places['job']} is missing", mend), where)
    if found.pile is None and "pieces" not in found.tables:
        log.add(
            Problem(
                "", "there is no pile", f"write {places['pile']} (it may be empty)"
            ),
            where,
        )
    if found.quilt is not None:
        return
    if "cuts" not in found.tables and "strips" not in found.tables:
        log.add(
            Problem(
                "",
                "nothing is wanted",
                f"write {places['wanted']} or {places['quilt']}",
            ),
            where,
        )
    elif not any(
        found.tables[t].rows for t in _WANTED if t in found.tables
    ) and not _spoilt(found, log):
        log.add(
            Problem("", "nothing is wanted", f"add a row to {places['rows']}"), where
        )


def _spoilt(found: _Found, log: Log) -> bool:
    """Whether a table of what is wanted has a mistake, so that nobody knows what it wants."""
    files = {found.tables[table].file for table in _WANTED if table in found.tables} | {
        found.quilt_file
    }
    return any(problem.file in files for problem in log.problems)


@dataclass(slots=True)
class _Reader:
    """Turns the tables of a folder into the parts of a job."""

    found: _Found
    settings: Settings
    log: Log
    named: dict[str, Placed[tuple[str, ...]]] = field(default_factory=dict)

    @property
    def unit(self) -> str:
        """The unit of the job."""
        return self.settings.unit

    def parts(self) -> dict[str, object]:
        """The keyword arguments of :class:`Job`, checked against each other row by row."""
        in_table = self._rows("pieces", piece_of)
        told = [
            cells["piece"] for _, cells in self._cells("pieces") if "piece" in cells
        ]
        in_words = read_pile(
            self.found.pile or (), self.found.pile_file, self.unit, self.log, told
        )
        pieces = [*in_words, *in_table]
        of_cells(pieces, self.settings, self.log)
        shop: list[Placed[Offered]] = self._rows("shop", offered_of)
        fabrics = self._fabrics(pieces, shop)
        on_sale = width_on_sale(
            [row.value for row in shop], [row.value for row in fabrics]
        )
        cuts, strips = self._wanted(on_sale)
        wanted: list[Placed[Wanted]] = [*cuts, *strips]  # type: ignore[list-item]
        self._note_contradictions(fabrics, pieces, cuts, strips)
        values = tuple(placed.value for placed in fabrics)
        half_read = self._half_read()
        of_known_words(wanted, self.named, values, half_read, self.log)
        of_sound_rules(wanted, values, self.settings, self.log)
        return {
            "settings": self.settings,
            "fabrics": values,
            "pieces": of_known_fabric(pieces, values, half_read, self.log),
            "shop": of_known_fabric(shop, values, half_read, self.log),
            "cuts": tuple(placed.value for placed in cuts),
            "strips": tuple(placed.value for placed in strips),
        }

    def _wanted(
        self, usable: int | None
    ) -> tuple[list[Placed[Cut]], list[Placed[Strip]]]:
        """What is wanted: the rows written by hand, and those that quilt.toml makes."""
        cuts = self._rows("cuts", cut_of)
        strips = self._rows("strips", strip_of)
        if self.found.quilt is None:
            return cuts, strips
        made = self._quilt(self.found.quilt, usable)
        if made is None:
            return cuts, strips
        how = (
            made.quilt.how
        )  # what [how] says of lengths from the shop holds for all of the job
        self.settings = replace(
            self.settings, extra=how.extra, square_up_end=how.square_up_end
        )
        self.named = made.named
        backed = made.quilt.backing is not None or made.quilt.batting is not None
        if not (cuts or strips or made.rows or backed) and not _spoilt(
            self.found, self.log
        ):
            problem = Problem(
                "",
                "nothing is wanted",
                "write blocks, a binding, a backing or articles",
            )
            self.log.add(problem, self.found.quilt_file)
        return mixed(cuts, strips, made.rows, self.settings.unit, self.log)

    def _quilt(self, text: str, usable: int | None) -> QuiltFile | None:
        sheet = self.found.quilt_sheet
        if sheet:
            return read_sheet(sheet, self.settings, self.log, usable)
        return read_quilt(text, self.settings, self.log, usable=usable)

    def _note_contradictions(
        self,
        fabrics: list[Placed[Fabric]],
        pieces: list[Placed[Piece]],
        cuts: list[Placed[Cut]],
        strips: list[Placed[Strip]],
    ) -> None:
        named_twice(fabrics, "fabric", self.log)
        named_twice(pieces, "piece", self.log)
        named_twice(cuts, "cut", self.log)
        named_twice(strips, "strip", self.log)

    def _cells(self, table: str) -> tuple[tuple[int, dict[str, str]], ...]:
        return self.found.tables[table].rows if table in self.found.tables else ()

    def _rows(self, table: str, read: Callable[[Row], T | None]) -> list[Placed[T]]:
        """The values of a table's rows that could be read."""
        out = []
        for number, cells in self._cells(table):
            file = self.found.tables[table].file
            value = read(Row(file, number, cells, self.unit, self.log))
            if value is not None:
                out.append(Placed(value, file, number))
        return out

    def _half_read(self) -> str:
        """The text of all rows that name fabrics and in which something is wrong, in lower case."""
        wrong = {(problem.file, problem.row) for problem in self.log.problems}
        told: list[str] = []
        tables = ("fabrics",) if "fabrics" in self.found.tables else ("pieces", "shop")
        for table in tables:
            for row, cells in self._cells(table):
                if (self.found.tables[table].file, row) in wrong:
                    told += (
                        [*cells.values(), *VALUES]
                        if table == "fabrics"
                        else cells.values()
                    )
        if "fabrics" not in self.found.tables:
            told += [
                text
                for row, text in self.found.pile or ()
                if (self.found.pile_file, row) in wrong
            ]
        return "\n".join(told).lower()

    def _fabrics(
        self, pieces: list[Placed[Piece]], shop: list[Placed[Offered]]
    ) -> list[Placed[Fabric]]:
        """The rows of fabrics.csv, and each fabric that only pile or shop name."""
        told = (
            self._rows("fabrics", fabric_of) if "fabrics" in self.found.tables else []
        )
        owners: list[Placed[Piece] | Placed[Offered]] = [*pieces, *shop]
        log = self.log if "fabrics" in self.found.tables else None
        return [*told, *of_owners(owners, told, self._half_read(), log)]
