"""A commented job to begin with, in inches or in centimetres."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from cutopt.errors import Problem
from cutopt.tables.files.atomic import settle, staged, write_whole
from cutopt.tables.files.workbook import is_workbook, workbook_of

QUILT_FILES = ("job.toml", "pile.txt", "fabrics.csv", "shop.csv", "quilt.toml")
FILES = ("job.toml", "pile.txt", "fabrics.csv", "shop.csv", "cuts.csv", "strips.csv")


def new_job(folder: str | Path, unit: str = "in", quilt: bool = False) -> None:
    """Write a commented job that reads without problems and shows each form once.

    Parameters
    ----------
    folder : str or Path
        Made where it is not there. A path that ends in .xlsx is a workbook with the same tables as sheets.
    unit : {"in", "cm"}
        The unit of the job.
    quilt : bool
        What is wanted as a quilt in sentences, quilt.toml, in place of tables of cuts and strips.

    Raises
    ------
    Problem
        When a file of a job is there already: nothing is ever written over.
    """
    if unit not in ("in", "cm"):
        raise Problem("unit", f'"{unit}" is not a unit of a job', "write in or cm")
    target = Path(folder)
    book = is_workbook(target)
    if book:
        home = target.parent
    else:
        home = target
    if home.exists() and not home.is_dir():
        raise Problem("folder", f'"{home}" is not a folder', "name another one")
    settle(home)
    if home.exists():
        there = sorted(p.name for p in home.iterdir() if _of_a_job(p.name))
    else:
        there = []
    if there:
        what = f'{there[0]} is in the folder "{home}" already and would be {"read too" if book else "written over"}'
        raise Problem("folder", what, "name an empty folder or a new one")
    texts = starter_files(unit, quilt)
    if book:
        write_whole(target, workbook_of(texts))
        return
    with staged(target) as beside:
        for name, text in texts.items():
            write_whole(beside / name, text)


def starter_files(unit: str, quilt: bool) -> dict[str, str]:
    """The files of a job to begin with, by name, with their texts."""
    starter = files("cutopt.tables").joinpath("starter")
    out = {}
    for name in QUILT_FILES if quilt else FILES:
        own = starter.joinpath("quilt", unit, name)
        if quilt and own.is_file():
            source = own
        else:
            source = starter.joinpath(unit, name)
        out[name] = source.read_text(encoding="utf-8")
    return out


def _of_a_job(name: str) -> bool:
    return name.lower() in (
        *FILES,
        "pieces.csv",
        "backs.csv",
        "blocks.csv",
        "quilt.toml",
    ) or name.endswith(".xlsx")
