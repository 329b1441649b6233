"""The files of a job as they are shown to be changed: words as text, tables as rows of cells, and back."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from cutopt.tables.columns import COLUMNS
from cutopt.tables.files.atomic import csv_text, write_whole

Rows: TypeAlias = list[list[str]]
"""Cells of a table, the header first; a comment is a row of one cell that begins with "# "."""

_WORDS = ("pile.txt", "quilt.toml", "job.toml")
_TABLES = ("cuts", "strips", "backs", "blocks", "pieces", "fabrics", "shop")
_HELP = {
    "pile.txt": "One leftover a line: how many, what form, which fabric, across x along.",
    "quilt.toml": "The quilt in sentences. Sizes are finished, seams not counted.",
    "job.toml": "Unit, seam and the other choices.",
    "cuts.csv": "Rectangles to cut, seam allowances included.",
    "strips.csv": "Strips sewn end to end, such as a binding.",
    "backs.csv": "Backs sewn from what there is, raw, overage included.",
    "blocks.csv": "Spare blocks for a back, as measured, unfinished.",
    "pieces.csv": "Leftovers of any outline.",
    "fabrics.csv": "What a fabric is.",
    "shop.csv": "What the shop sells.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownTable:
    """One file as it is shown: either its `text` or its `rows`; `columns` are those that its header may have."""

    file: str
    text: str | None = None
    rows: Rows | None = None
    columns: tuple[str, ...] = ()

    def as_message(self) -> dict[str, object]:
        """What the page gets."""
        return {
            "file": self.file,
            "help": _HELP[self.file],
            "text": self.text,
            "rows": self.rows,
            "columns": list(self.columns),
        }


def shown(folder: Path) -> tuple[ShownTable, ...]:
    """The files of a job folder in the order in which a maker thinks of them; those that are not there left out."""
    files = (
        "pile.txt",
        "quilt.toml",
        *(f"{table}.csv" for table in _TABLES),
        "job.toml",
    )
    found = (_shown(folder / file) for file in files if (folder / file).is_file())
    return tuple(one for one in found if one is not None)


def _shown(path: Path) -> ShownTable | None:
    """None for a file that is no text: reading the job tells what is wrong with it."""
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except (OSError, UnicodeDecodeError):
        return None
    if path.name in _WORDS:
        return ShownTable(file=path.name, text=text.replace("\r\n", "\n"))
    return ShownTable(
        file=path.name, rows=rows_of(text), columns=tuple(COLUMNS[path.stem])
    )


def rows_of(text: str) -> Rows:
    """The cells of a table, comments kept whole."""
    rows: Rows = []
    for record in _records(text):
        comment = record.startswith("# ")
        rows.append(
            [record] if comment else next(csv.reader(io.StringIO(record)), [""])
        )
    return rows


def _records(text: str) -> list[str]:
    """The lines of a table; a line goes on where a cell in quotation marks holds the end of a line."""
    records: list[str] = []
    for line in text.splitlines():
        if records and _is_open(records[-1]):
            records[-1] += "\n" + line
        else:
            records.append(line)
    return records


def _is_open(record: str) -> bool:
    return not record.startswith("# ") and record.count('"') % 2 == 1


def table_text(rows: Rows) -> str:
    """A table of cells as the text of a file: blank rows left out, comments as they are."""
    text = "".join(_line(row) for row in rows if "".join(row).strip())
    if text.isascii():
        return text
    return "\ufeff" + text


def _line(row: list[str]) -> str:
    if row[0].startswith("# "):
        return row[0] + "\n"
    return csv_text(row, ()).removeprefix("\ufeff")


def save(folder: Path, file: str, content: str | Rows) -> None:
    """Write one file, whole or not at all.

    Parameters
    ----------
    folder : Path
        The job folder.
    file : str
        One of the names of a job's files.
    content : str or rows of cells
        The text of pile.txt, quilt.toml or job.toml; the cells of a table.

    Raises
    ------
    ValueError
        For a name that no file of a job has.
    OSError
        Where the folder cannot be written.
    """
    if file not in _HELP:
        raise ValueError(f"{file} is no file of a job")
    write_whole(
        folder / file, content if isinstance(content, str) else table_text(content)
    )
