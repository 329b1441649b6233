"""A folder to work in with the browser: notebooks and jobs copied beside each other, and Jupyter started there."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

from cutopt.errors import Problem
from cutopt.tables import read_job

WORKSHOP = Path("cutopt-workshop")
FIRST = "01_use_up_scraps.ipynb"
_PACKAGE = Path(__file__).parents[1]
_OWN = (
    ("markdown", "# {name}\n\nRun the cells from top to bottom: click into one, then Shift and Enter."),
    ("code", 'import cutopt as co\n\njob = co.read_job({data})\njob'),
    ("markdown", "Change the tables in `data/{name}` on the left, save them, and run the cell above again."),
    ("code", "result = co.solve(job, stop=co.Seconds(20), progress=co.watch(job))\nresult"),
    ("code", "co.draw_plan(result.plan)"),
    ("code", 'co.check(job, result.plan)  # [] when all is well'),
    ("code", "co.write_pages(result, {out})"),
)  # fmt: skip


def shipped(name: str) -> Path:
    """A folder that comes with the package: beside it in a checkout, inside it where it is installed."""
    for base in (_PACKAGE / "_share", _PACKAGE.parent):
        if (base / name).is_dir():
            return base / name
    raise Problem("", f"the folder {name} did not come with this installation", "install cutopt again")


def set_up(workshop: Path, job: Path | None = None) -> Path:
    """Copy what is not there yet, never over what is; gives the notebook to open.

    Parameters
    ----------
    workshop : Path
        The folder to work in; gets ``notebooks`` and ``data``.
    job : Path, optional
        A job folder of the maker's own, copied too and given a short notebook.

    Raises
    ------
    JobError
        Where the job has mistakes.
    """
    if job is not None:
        read_job(job)
    _copy(shipped("notebooks"), workshop / "notebooks")
    _copy(shipped("data/orchard"), workshop / "data" / "orchard")
    if job is None:
        return workshop / "notebooks" / FIRST
    name = job.resolve().name
    _copy(job, workshop / "data" / name)
    notebook = workshop / "notebooks" / f"{name}.ipynb"
    if not notebook.exists():
        notebook.write_text(_own_notebook(name), encoding="utf-8")
    return notebook


def _copy(source: Path, target: Path) -> None:
    """Copy the files of one folder that the target does not have."""
    target.mkdir(parents=True, exist_ok=True)
    for path in sorted(source.iterdir()):
        if path.is_file() and not path.name.startswith(".") and not (target / path.name).exists():
            shutil.copyfile(path, target / path.name)


def _own_notebook(name: str) -> str:
    """A notebook that prints beside, not over, the pages of `cutopt plan`, which go into ``out/NAME``."""
    places = {"data": json.dumps(f"../data/{name}"), "out": json.dumps(f"../out/{name}-notebook")}
    cells = []
    for number, (kind, text) in enumerate(_OWN):
        cell: dict[str, object] = {"id": f"cell-{number}", "cell_type": kind, "metadata": {}}
        cell["source"] = text.format(name=name, **places)
        cells.append(cell | ({"outputs": [], "execution_count": None} if kind == "code" else {}))
    kernel = {"display_name": "Python 3", "language": "python", "name": "python3"}
    return json.dumps(
        {"cells": cells, "metadata": {"kernelspec": kernel}, "nbformat": 4, "nbformat_minor": 5}, indent=1
    )


def lab_command(workshop: Path, notebook: Path, *, browser: bool = True) -> list[str]:
    """The command that starts JupyterLab for this machine alone, asking nothing of the network."""
    command = [
        sys.executable, "-m", "jupyterlab", str(notebook.resolve()),
        f"--ServerApp.root_dir={workshop.resolve()}",
        "--ServerApp.ip=127.0.0.1",
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
        "--LabApp.extension_manager=readonly",
        "--LabApp.news_url=None",
    ]  # fmt: skip
    if not browser:
        command.append("--no-browser")
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        command.append("--allow-root")
    return command


def start(command: list[str]) -> int:
    """Hand over to JupyterLab: it takes this process's place where the system can do that."""
    sys.stdout.flush()
    if os.name == "posix":
        os.execv(command[0], command)
    return subprocess.call(command)
