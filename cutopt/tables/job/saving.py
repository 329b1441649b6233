"""Writing a job as a folder of tables, or as one workbook, that reads back to an equal job."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace as changed
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory

from cutopt.errors import JobError, Problem
from cutopt.fabric import ByLength, ByPiece, Fabric, Offered, Piece
from cutopt.geometry import rectangle
from cutopt.job import Job, Settings
from cutopt.lengths import format_length, parse_length
from cutopt.tables.columns import COLUMNS
from cutopt.tables.exact_lengths import exact_length
from cutopt.tables.files.atomic import csv_text, staged, write_whole
from cutopt.tables.files.toml_rows import quoted
from cutopt.tables.files.workbook import is_workbook, workbook_of
from cutopt.tables.job.reading import read_job
from cutopt.tables.job.settings import KNOWN
from cutopt.tables.outlines import format_outline
from cutopt.tables.recipe.quilt import FILE as QUILT
from cutopt.tables.recipe.quilt import quilt_of
from cutopt.wanted import Cut, Strip, Wanted

Cells = dict[str, object]


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
        (
            beside / QUILT
        ).unlink()  # rows or settings were changed since: the rows alone say what is wanted
        del files[QUILT]
        job = changed(job, quilt="")
        _refuse_clash(target, files, replace)
    if not _reads_back(job, beside):
        raise _changing(beside)


def _refuse_clash(target: Path, files: Iterable[str], replace: bool) -> None:
    beside = [
        p.name
        for p in sorted(target.iterdir())
        if p.name.lower() in {"pile.txt", QUILT, *files} - ({*files} & {p.name})
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
        return changed(again, quilt=job.quilt) == job and quilt_of(again) == quilt_of(
            job
        )
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
    unit = job.settings.unit
    files = {"job.toml": _toml(job)} | ({QUILT: job.quilt} if job.quilt else {})
    rows: dict[str, Iterable[Cells]] = {
        "fabrics": (_fabric(fabric) for fabric in job.fabrics),
        "pieces": (_piece(piece, unit) for piece in job.pieces),
        "shop": (_offered(offered, unit) for offered in job.shop),
        "cuts": (_cut(row, unit) for row in job.cuts),
        "strips": (_strip(row, unit) for row in job.strips),
    }
    for table, cells in rows.items():
        columns = COLUMNS[table]
        files[f"{table}.csv"] = csv_text(
            columns, ([row.get(column, "") for column in columns] for row in cells)
        )
    return files


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
        "longest_cut",
    ):
        told[key] = exact_length(getattr(settings, key), settings.unit)
    sides = (
        exact_length(side, settings.unit)
        for side in (settings.keep_width, settings.keep_length)
    )
    told["keep"] = " x ".join(sides)
    if settings.turns is not None:
        told["turns"] = str(settings.turns)
    if settings.preference != Settings().preference:
        told["preference"] = _share(settings.preference) or "0"
    return "".join(f"{key} = {quoted(told[key])}\n" for key in KNOWN if key in told)


def _fabric(fabric: Fabric) -> Cells:
    return {
        "fabric": fabric.name,
        "colour": fabric.colour,
        "value": fabric.value,
        "kind": fabric.kind or "-",
        "washed": "yes" if fabric.washed else "no",
        "one_way": fabric.one_way,
        "shrink_across": _share(fabric.shrink_across),
        "shrink_along": _share(fabric.shrink_along),
        "tags": "|".join(fabric.tags),
        "note": fabric.note,
    }


def _share(share: Fraction) -> str:
    """A share in per cent where that is a short decimal, else as a fraction."""
    if not share:
        return ""
    percent = share * 100
    if 10**6 % percent.denominator == 0:
        return f"{(Decimal(percent.numerator) / percent.denominator).normalize():f}%"
    return f"{share.numerator}/{share.denominator}"


def _piece(piece: Piece, unit: str) -> Cells:
    cells: Cells = {
        "piece": piece.name,
        "fabric": piece.fabric,
        "count": piece.count,
        "flaws": " | ".join(format_outline(flaw, unit) for flaw in piece.flaws),
        "edges": piece.edges,
        "grain": "known" if piece.grain_known else "unknown",
        "measured": "about" if piece.about else "exact",
        "wish": piece.wish,
        "note": piece.note,
    }
    width, length = piece.size
    if piece.outline == rectangle(width, length):
        return cells | {
            "width": exact_length(width, unit),
            "length": exact_length(length, unit),
        }
    return cells | {"outline": format_outline(piece.outline, unit)}


def _offered(offered: Offered, unit: str) -> Cells:
    price = "" if offered.price is None else f"{offered.price:f}"
    cells: Cells = {"fabric": offered.fabric, "price": price, "note": offered.note}
    if isinstance(offered, ByPiece):
        most = "" if offered.most is None else str(offered.most)
        sizes = {"each_width": offered.each_width, "each_length": offered.each_length}
        return (
            cells
            | {"most": most}
            | {column: exact_length(ticks, unit) for column, ticks in sizes.items()}
        )
    return cells | _by_length(offered, unit)


def _by_length(offered: ByLength, unit: str) -> Cells:
    return {
        "usable_width": exact_length(offered.usable_width, unit),
        "sold_by": _sale(offered.sold_by, unit),
        "smallest": _sale(offered.smallest, unit) if offered.smallest else "",
        "most": "" if offered.most is None else _sale(offered.most, unit),
    }


def _sale(ticks: int, unit: str) -> str:
    """A length as a shop sells it, with its unit: ``3/8 yd``, ``10 cm``."""
    trade = "yd" if unit == "in" else "cm"
    shown = format_length(ticks, trade, mark=True)
    try:
        if parse_length(shown) == ticks:
            return shown
    except Problem:
        pass  # shown with a leading ≈
    shown = exact_length(ticks, unit)
    return shown if shown.endswith("mm") else f"{shown} {unit}"


def _cut(row: Cut, unit: str) -> Cells:
    return _wanted(row) | {
        "cut": row.name,
        "width": exact_length(row.width, unit),
        "length": exact_length(row.length, unit),
        "upright": "yes" if row.upright else "",
        "most_each": "" if row.most_each is None else row.most_each,
    }


def _strip(row: Strip, unit: str) -> Cells:
    return _wanted(row) | {
        "strip": row.name,
        "width": exact_length(row.width, unit),
        "total_length": exact_length(row.total_length, unit),
        "shortest": exact_length(row.shortest, unit),
        "join": row.join,
        "upright": "" if row.upright == "no" else row.upright,
    }


def _wanted(row: Wanted) -> Cells:
    return {
        "count": row.count,
        "fabrics": "|".join(row.fabrics),
        "grain": "" if row.grain == "any" else row.grain,
        "importance": row.importance,
        "together": row.together,
        "why": row.why,
        "note": row.note,
    }


__all__ = ["save_job", "tables_of"]
