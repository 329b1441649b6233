"""What is opened in the browser: a job where it is, with a notebook beside its tables, or the lessons."""

from __future__ import annotations

import json
import shutil
from dataclasses import dataclass
from pathlib import Path

from cutopt.errors import Problem
from cutopt.tables import read_job
from cutopt.tables.files.workbook import is_workbook

LESSONS = Path("cutopt-lessons")
# the folders of data/ that they read
JOBS = ("orchard", "orchard-back")
GUIDE = Path("cutopt-guide")
FIRST = "01_use_up_scraps.ipynb"
NOTEBOOK = "notebook.ipynb"
_PACKAGE = Path(__file__).parents[1]
_HEAD = (
    "# {name}\n\nRun the cells from top to bottom: click into one, then *Shift* and *Enter*. Nothing here spoils "
    "anything before you cut.\n\n**Before you cut.** A blade cuts fingers as well as cloth: close the guard at every "
    "lay-down, cut away from yourself, wear shoes. Never leave an iron on and alone. Local rules come before this page.\n\n"
    "What can be written where stands in [the guide](cutopt-guide/index.md)."
)
_EDIT = (
    (
        "markdown",
        "## The tables\n\nChange what you like, press *Save*, and read what is said below the tables.",
    ),
    ("code", "import cutopt as co\n\nco.edit_tables({job})"),
)
_ELSEWHERE = (
    (
        "markdown",
        "## The tables\n\nChange the workbook {file} in a spreadsheet, save it there, then run the next cell.",
    ),
    ("code", "import cutopt as co"),
)
_REST = (
    ("markdown", "## The job\n\nAfter each change, run this cell again and all below."),
    ("code", "job = co.read_job({job})\njob"),
    (
        "markdown",
        "## A plan\n\nThe square button above stops the search and keeps the best plan so far.",
    ),
    (
        "code",
        "result = co.solve(job, stop=co.Seconds(20), progress=co.watch(job))\nresult",
    ),
    ("code", "co.draw_plan(result.plan)"),
    (
        "markdown",
        "## The pages for the table\n\nA second program checks every cut first: no word means that all is well.",
    ),
    ("code", "for fault in co.check(job, result.plan):\n    print(fault)"),
    ("code", "co.write_pages(result, {out})"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """The folder that the list of files shows, and the notebook that is opened."""

    root: Path
    notebook: Path


def shipped(name: str) -> Path:
    """A folder that comes with the package: beside it in a checkout, inside it where it is installed.

    Raises
    ------
    Problem
        Where it did not come with this installation.
    """
    for base in (_PACKAGE / "_share", _PACKAGE.parent):
        if (base / name).is_dir():
            return base / name
    raise Problem(
        "",
        f"the folder {name} did not come with this installation",
        "install cutopt again",
    )


def open_lessons(home: Path = LESSONS) -> Opened:
    """Copy the notebooks and the orchard jobs into a folder to try things in; what is there stays as it is.

    The guide lies beside them, as in :func:`open_job`.
    """
    _copy(shipped("notebooks"), home / "notebooks")
    for name in JOBS:
        _copy(shipped(f"data/{name}"), home / "data" / name)
    _lay_guide(home)
    return Opened(root=home, notebook=home / "notebooks" / FIRST)


def open_job(path: Path) -> Opened:
    """Put a short notebook beside the tables of a job, unless there is one, and the guide of this version.

    Parameters
    ----------
    path : Path
        A job folder, its job.toml, or a workbook.

    Raises
    ------
    Problem
        Where the folder cannot be written.
    JobError
        Where there is no job; mistakes in one are told in the notebook, where they are mended.
    """
    if is_workbook(path):
        # a workbook is mended elsewhere: better told at once
        read_job(path)
        return _opened(path.parent, path.stem + ".ipynb", path.stem, path.name)
    if path.name == "job.toml":
        folder = path.parent
    else:
        folder = path
    if not (folder / "job.toml").is_file():
        # tells what is not there
        read_job(folder)
    return _opened(folder, NOTEBOOK, folder.resolve().name, ".")


def _opened(folder: Path, notebook: str, name: str, job: str) -> Opened:
    place = folder / notebook
    try:
        with place.open("x", encoding="utf-8") as file:
            file.write(_notebook(name, job))
    except FileExistsError:
        pass
    except OSError as error:
        raise _unwritten(f'the notebook "{place}"', error) from error
    _lay_guide(folder)
    return Opened(root=folder, notebook=place)


def _unwritten(what: str, error: OSError) -> Problem:
    return Problem(
        "",
        f"{what} cannot be written ({error.strerror})",
        "copy the job to a folder of your own and open it there",
    )


def _lay_guide(folder: Path) -> None:
    """Write the pages of the guide anew, so that they are those of this version; other files there stay."""
    place = folder / GUIDE
    try:
        place.mkdir(parents=True, exist_ok=True)
        for page in sorted(shipped("notebooks/guide").iterdir()):
            shutil.copyfile(page, place / page.name)
    except OSError as error:
        raise _unwritten(f'the guide "{place}"', error) from error


def _copy(source: Path, target: Path) -> None:
    """Copy the files of one folder that the target does not have."""
    target.mkdir(parents=True, exist_ok=True)
    for path in sorted(source.iterdir()):
        if (
            path.is_file()
            and not path.name.startswith(".")
            and not (target / path.name).exists()
        ):
            shutil.copyfile(path, target / path.name)


def _notebook(name: str, job: str) -> str:
    """A notebook of the job `job`, seen from its own folder; its pages go into a folder beside it."""
    inside = job == "."
    if inside:
        out = "pages"
    else:
        out = f"{name} pages"
    words = {"name": name, "file": job, "job": json.dumps(job, ensure_ascii=False)}
    words["out"] = json.dumps(out, ensure_ascii=False)
    told = (("markdown", _HEAD), *(_EDIT if inside else _ELSEWHERE), *_REST)
    cells = [
        _cell(number, kind, text.format(**words))
        for number, (kind, text) in enumerate(told)
    ]
    kernel = {"display_name": "Python 3", "language": "python", "name": "python3"}
    book = {
        "cells": cells,
        "metadata": {"kernelspec": kernel},
        "nbformat": 4,
        "nbformat_minor": 5,
    }
    return json.dumps(book, indent=1, ensure_ascii=False)


def _cell(number: int, kind: str, text: str) -> dict[str, object]:
    cell: dict[str, object] = {
        "id": f"cell-{number}",
        "cell_type": kind,
        "metadata": {},
        "source": text,
    }
    if kind == "code":
        cell |= {"outputs": [], "execution_count": None}
    return cell
