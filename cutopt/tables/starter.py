"""A commented job to begin with, in inches or in centimetres."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from cutopt.errors import Problem
from cutopt.tables.atomic import write_whole

QUILT_FILES = ("job.toml", "pile.txt", "fabrics.csv", "shop.csv", "quilt.toml")
FILES = ("job.toml", "pile.txt", "fabrics.csv", "shop.csv", "cuts.csv", "strips.csv")


def new_job(folder: str | Path, unit: str = "in", quilt: bool = False) -> None:
    """Write a commented job that reads without problems and shows each form once.

    Parameters
    ----------
    folder : str or Path
        Made where it is not there.
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
    if target.exists() and not target.is_dir():
        raise Problem("folder", f'"{target}" is not a folder', "name another one")
    there = sorted(p.name for p in target.iterdir() if _of_a_job(p.name)) if target.exists() else []
    if there:
        what = f'{there[0]} is in the folder "{target}" already and would be written over'
        raise Problem("folder", what, "name an empty folder or a new one")
    starter = files("cutopt.tables").joinpath("starter")
    for name in QUILT_FILES if quilt else FILES:
        own = starter.joinpath("quilt", unit, name)
        source = own if quilt and own.is_file() else starter.joinpath(unit, name)
        write_whole(target / name, source.read_text(encoding="utf-8"))


def _of_a_job(name: str) -> bool:
    return name.lower() in (*FILES, "pieces.csv", "backs.csv", "blocks.csv", "quilt.toml") or name.endswith(".xlsx")
