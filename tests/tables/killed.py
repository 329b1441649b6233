"""Run as a script: does something in a folder again and again, killed before each of its steps in turn.

A step is whatever the interpreter tells an audit hook of (PEP 578): opening, making, moving and removing files. The
process ends there and then (``os._exit``), as after a power cut; then the folder is read. What is found goes to the
standard output as JSON, one entry for each step.
"""

from __future__ import annotations

import json
import os
import shutil
import sys
from collections.abc import Callable
from pathlib import Path

from cutopt import read_job, save_job
from cutopt.errors import JobError, Problem
from cutopt.fabric import Fabric
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.tables import new_job
from cutopt.tables.files.atomic import settle, staged
from cutopt.wanted import Cut

STEPS = (
    "open",
    "os.mkdir",
    "os.rename",
    "os.remove",
    "os.rmdir",
    "os.link",
    "os.truncate",
)


def small(name: str) -> Job:
    """A job of one cut of that name."""
    fabrics = (Fabric(name="pear"), Fabric(name="oat"))
    return Job(
        name=name,
        fabrics=fabrics,
        cuts=(Cut(name=f"{name} square", width=INCH, length=INCH),),
    )


OLD = small("old")
NEW = small("new")


def killed_before(step: int, home: Path, act: Callable[[], object]) -> bool:
    """Run `act` in a child process that dies before its step of that number; whether it did."""
    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 9
    count = 0

    def hook(event: str, arguments: tuple[object, ...]) -> None:
        nonlocal count
        if event in STEPS and str(home) in str(arguments[0]):
            if count == step:
                os._exit(9)
            count += 1

    sys.addaudithook(hook)
    act()
    os._exit(0)


def in_turn(
    home: Path,
    begin: Callable[[], object],
    act: Callable[[], object],
    look: Callable[[], object],
) -> None:
    """Write what `look` finds in a folder after `begin`, and `act` killed before each of its steps."""
    told = []
    while True:
        shutil.rmtree(home, ignore_errors=True)
        home.mkdir()
        begin()
        died = killed_before(len(told), home, act)
        told.append(
            [look(), sorted(str(path.relative_to(home)) for path in home.rglob("*"))]
        )
        if not died:
            break
    sys.stdout.write(json.dumps(told))


def name_of(folder: Path) -> str:
    """The name of the job in a folder, followed by its cuts; what is wrong with it if it cannot be read."""
    try:
        job = read_job(folder)
    except (JobError, Problem) as error:
        return f"unreadable: {error}"
    return " ".join([job.name, *(cut.name for cut in job.cuts)])


def kill_saving(home: Path) -> None:
    """A job saved over another, in a folder with a photo and a note."""

    def begin() -> None:
        save_job(OLD, home)
        (home / "photo.jpg").write_text("photo")
        (home / "notes").mkdir()
        (home / "notes" / "cuts.csv").write_text("my own")

    in_turn(
        home, begin, lambda: save_job(NEW, home, replace=True), lambda: name_of(home)
    )


def kill_new(home: Path) -> None:
    """`cutopt new`, and after it was killed again."""

    def again() -> str:
        if (home / "quilt").is_dir():
            settle(home / "quilt")
        if not (home / "quilt" / "job.toml").exists():
            new_job(home / "quilt")
        return name_of(home / "quilt")

    in_turn(home, lambda: None, lambda: new_job(home / "quilt"), again)


def kill_book(home: Path) -> None:
    """A workbook saved over another."""
    book = home / "job.xlsx"
    in_turn(
        home,
        lambda: save_job(OLD, book),
        lambda: save_job(NEW, book, replace=True),
        lambda: name_of(book),
    )


def kill_pages(home: Path) -> None:
    """Files of any kind, in folders too, switched in over older ones: killed in the switch and in the settling."""

    def write(word: str) -> None:
        with staged(home) as beside:
            for name in ("a.txt", "b.txt", "simplest/a.txt"):
                (beside / name).parent.mkdir(exist_ok=True)
                (beside / name).write_text(word)

    def look() -> list[str]:
        killed_before(len(list(home.rglob("*"))) % 5, home, lambda: settle(home))
        settle(home)
        return [
            (home / name).read_text() for name in ("a.txt", "b.txt", "simplest/a.txt")
        ]

    in_turn(home, lambda: write("old"), lambda: write("new"), look)


if __name__ == "__main__":
    globals()[f"kill_{sys.argv[1]}"](Path(sys.argv[2]))
