"""Writing a job as a folder of tables, or as one workbook, that reads back to an equal job."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace as changed
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from cutopt.errors import JobError, Problem
from cutopt.job import Job
from cutopt.precuts import NAMES as PRECUTS
from cutopt.precuts import Precuts
from cutopt.settings import Settings
from cutopt.tables.columns import COLUMNS
from cutopt.tables.exact_lengths import written_length
from cutopt.tables.files.atomic import csv_text, staged, write_whole
from cutopt.tables.files.toml_rows import quoted
from cutopt.tables.files.workbook import is_workbook, workbook_of
from cutopt.tables.job.back_rules import rules_text
from cutopt.tables.job.reading import read_job
from cutopt.tables.job.settings import KNOWN
from cutopt.tables.recipe.quilt import FILE as QUILT
from cutopt.tables.recipe.quilt import quilt_of
from cutopt.tables.rows.writing import Cells, cells_of, share_text

# which a job need not have, and would be read beside its tables
_MAY_BE_THERE: Final = ("pile.txt", QUILT, "backs.csv", "blocks.csv")


def save_job(job: Job, folder: str | Path, *, replace: bool = False) -> None:
    """Write a job as job.toml and tables, or as the sheets of one workbook; nothing is left half-written.

    Parameters
    ----------
    job : Job
        What to write.
    folder : str or Path
        Made where it is not there. A path that ends in .xlsx is a workbook.
    replace : bool
        Whether tables that stand in the folder, or the workbook, may be written over.

    Raises
    ------
    Problem
        Where tables are there and `replace` was not said, where a pile.txt or workbook in the folder would be read
        beside the new tables, or where the job has texts that tables cannot hold (a line of blanks as a note).
    """
    target = Path(folder)
    if is_workbook(target):
        _save_book(job, target, replace)
        return
    if target.exists() and not target.is_dir():
        raise Problem("folder", f'"{target}" is not a folder', "name another one")
    with staged(target) as beside:
        _write_trial(job, beside, target, replace)


def _write_trial(job: Job, beside: Path, target: Path, replace: bool) -> None:
    """Write a job into the folder from which it will be switched in, once it is known to read back equal."""
    files = tables_of(job)
    _refuse_clash(target, files, replace)
    for name, text in files.items():
        write_whole(beside / name, text)
    if job.quilt and not _reads_back(job, beside):
        # rows or settings were changed since: the rows alone say what is wanted
        (beside / QUILT).unlink()
        del files[QUILT]
        job = changed(job, quilt="")
        _refuse_clash(target, files, replace)
    if not _reads_back(job, beside):
        raise _changing(beside)


def _refuse_clash(target: Path, files: Iterable[str], replace: bool) -> None:
    beside = [
        p.name
        for p in sorted(target.iterdir())
        if p.name.lower() in {*_MAY_BE_THERE, *files} - ({*files} & {p.name})
        or p.suffix.lower() == ".xlsx"
    ]
    if beside:
        raise Problem(
            "folder",
            f"{beside[0]} is there and would be read too",
            "save into another folder",
        )
    there = [name for name in files if (target / name).exists()]
    if there and not replace:
        raise Problem(
            "folder",
            f"{there[0]} is there already",
            "save into another folder, or say replace=True",
        )


def _save_book(job: Job, target: Path, replace: bool) -> None:
    """Write a workbook once it has been read back; its quilt stays where it still makes the rows of the job."""
    beside = [name for name in ("job.toml", QUILT) if (target.parent / name).is_file()]
    if beside:
        raise Problem(
            "folder",
            f"{beside[0]} is there and would be read too",
            "save into another folder",
        )
    if target.exists() and not replace:
        raise Problem(
            "folder",
            f"{target.name} is there already",
            "name another one, or say replace=True",
        )
    with TemporaryDirectory() as folder:
        trial = Path(folder) / target.name
        for kept in (job, changed(job, quilt="")):
            book = workbook_of(tables_of(kept))
            write_whole(trial, book)
            if _reads_back(kept, trial):
                break
        else:
            raise _changing(trial)
    write_whole(target, book)


def _reads_back(job: Job, written: Path) -> bool:
    """Whether it is the same job; its quilt is the same quilt, in whatever layout of its words."""
    try:
        again = read_job(written)
        same_rows = changed(again, quilt=job.quilt) == job
        return same_rows and quilt_of(again) == quilt_of(job)
    except JobError:
        return False


def _changing(written: Path) -> Problem:
    """Why what was written is not the job."""
    try:
        read_job(written)
    except JobError as error:
        return Problem("", f"the job cannot be written as tables: {error.problems[0]}")
    what = (
        "the job has texts that tables would change, such as blanks at an end or a name"
    )
    return Problem("", what, "take them out")


def tables_of(job: Job) -> dict[str, str]:
    """The files of a job by name, with their text."""
    files = {"job.toml": _toml(job)}
    if job.quilt:
        files[QUILT] = job.quilt
    for table, rows in cells_of(job).items():
        columns = COLUMNS[table]
        cells = [_in_order(row, columns) for row in rows]
        files[f"{table}.csv"] = csv_text(columns, cells)
    return files


def _in_order(row: Cells, columns: Iterable[str]) -> list[object]:
    return [row.get(column, "") for column in columns]


def _toml(job: Job) -> str:
    settings = job.settings
    told = {"name": job.name, "unit": settings.unit, "currency": settings.currency}
    for key in (
        "grid",
        "seam",
        "square_up",
        "square_up_end",
        "extra",
        "about",
        "pinked",
        "longest_cut",
    ):
        told[key] = written_length(getattr(settings, key), settings.unit)
    sizes = {"keep": (settings.keep_width, settings.keep_length)}
    usual = Precuts.metric() if settings.unit == "cm" else Precuts()
    for key in PRECUTS:
        if settings.precuts.of(key) != usual.of(key):
            sizes[key] = settings.precuts.of(key)
    for key, size in sizes.items():
        told[key] = " x ".join(written_length(side, settings.unit) for side in size)
    if settings.prewash:
        told["prewash"] = settings.prewash
    if settings.shrinkage != Settings().shrinkage:
        told["shrinkage"] = share_text(settings.shrinkage) or "0"
    if settings.turns is not None:
        told["turns"] = str(settings.turns)
    if settings.preference != Settings().preference:
        told["preference"] = share_text(settings.preference) or "0"
    lines = "".join(f"{key} = {quoted(told[key])}\n" for key in KNOWN if key in told)
    return lines + "".join(rules_text(back, settings) for back in job.backs)


__all__ = ["save_job", "tables_of"]
