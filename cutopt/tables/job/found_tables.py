"""What a folder or workbook holds of a job, still as text, and what of it is missing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from cutopt.errors import Problem
from cutopt.tables.files.csv_tables import TextTable
from cutopt.tables.log import Log, Placed
from cutopt.tables.recipe.quilt import FILE as QUILT

WANTED: Final = ("cuts", "strips", "backs")
TABLES: Final = ("fabrics", "pieces", "shop", *WANTED, "blocks")

# what a maker calls the places of a job: files of a folder, or sheets of a workbook
IN_FOLDER: Final = {
    "job": "job.toml",
    "pile": "pile.txt or pieces.csv",
    "wanted": "cuts.csv, strips.csv",
    "quilt": QUILT,
    "rows": "cuts.csv or strips.csv",
    "inch": '"in"',
    "cm": '"cm"',
}
IN_WORKBOOK: Final = {
    "job": "the sheet job",
    "pile": "a sheet pile or pieces",
    "wanted": "a sheet cuts, strips",
    "quilt": "quilt",
    "rows": "the sheet cuts or strips",
    "inch": "in",
    "cm": "cm",
}


@dataclass(slots=True)
class FoundTables:
    """What there is of a job.

    Parameters
    ----------
    tables : dict
        By their names.
    pile : list of (int, str), optional
        The lines of the pile in words, with their numbers.
    pile_file : str
        How a problem names the place of the pile.
    entries : dict, optional
        The settings by name.
    quilt : str, optional
        The text of a quilt.toml.
    quilt_sheet : TextTable, optional
        The sheet of a workbook from which that text was made.
    """

    tables: dict[str, TextTable] = field(default_factory=dict)
    pile: list[tuple[int, str]] | None = None
    pile_file: str = "pile.txt"
    entries: dict[str, Placed[str]] | None = None
    quilt: str | None = None
    quilt_sheet: TextTable | None = None

    @property
    def quilt_file(self) -> str:
        """Where the quilt stands, if there is one."""
        if self.quilt_sheet:
            return self.quilt_sheet.file
        return QUILT

    def is_spoilt(self, log: Log) -> bool:
        """Whether a table of what is wanted has a mistake, so that nobody knows what it wants."""
        files = {
            self.tables[table].file for table in WANTED if table in self.tables
        } | {self.quilt_file}
        return any(problem.file in files for problem in log.problems)


def note_missing(
    found: FoundTables, where: str, places: Mapping[str, str], log: Log
) -> None:
    """Note each part of a job that is not there.

    Parameters
    ----------
    found : FoundTables
    where : str
        The folder or workbook in which it is missed.
    places : mapping
        `IN_FOLDER` or `IN_WORKBOOK`.
    log : Log
    """
    if found.entries is None:
        units = f"unit = {places['inch']} or unit = {places['cm']}"
        mend = f"write one with at least {units}"
        log.add(Problem("", f"{places['job']} is missing", mend), where)
    if found.pile is None and "pieces" not in found.tables:
        mend = f"write {places['pile']} (it may be empty)"
        log.add(Problem("", "there is no pile", mend), where)
    if found.quilt is not None:
        return
    wanted = [found.tables[table] for table in WANTED if table in found.tables]
    if not wanted:
        mend = f"write {places['wanted']} or {places['quilt']}"
        log.add(Problem("", "nothing is wanted", mend), where)
    elif not any(table.rows for table in wanted) and not found.is_spoilt(log):
        mend = f"add a row to {places['rows']}"
        log.add(Problem("", "nothing is wanted", mend), where)
