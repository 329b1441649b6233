"""Putting a result where the maker finds it: checked first, whole or not at all."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path
from uuid import uuid4

from cutopt.check import check
from cutopt.errors import Problem
from cutopt.pages import write_pages
from cutopt.result import Offer, Result
from cutopt.solve.room import room_of


class UnsoundError(RuntimeError):
    """The checker found a fault in a plan of our own: an error of the program, not of the job."""


def home_of(job: Path) -> Path:
    """Where a job's pages go unless told: ``out/NAME`` in the current folder, NAME being the job folder's."""
    place = job.resolve()
    return Path("out") / (place.parent.name if place.name == "job.toml" else place.stem or "job")


def claim(folder: Path) -> None:
    """Make the folder, and find out before the search whether it can be written.

    Raises
    ------
    Problem
        Where it cannot.
    """
    probe = folder / f".{uuid4().hex}.tmp"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        probe.touch()
        probe.unlink()
    except OSError as error:
        raise Problem("--out", f'"{folder}" cannot be written ({error.strerror})', "name another folder") from error


def prove(result: Result) -> None:
    """Run every offer's plan through the checker.

    Raises
    ------
    UnsoundError
        With every fault of every offer.
    """
    faults = [f"{offer.name}: {fault}" for offer in result.offers for fault in check(result.job, offer.plan)]
    if faults:
        raise UnsoundError("\n".join(faults))


def deliver(result: Result, folder: Path, *, every: bool = False) -> tuple[Path, ...]:
    """Check a result and write its pages; with `every`, those of the other offers into folders of their names.

    Returns
    -------
    tuple of paths
        The files of the first offer, then the folders of the others.
    """
    prove(result)
    written = [*_whole(result, folder)]
    for offer in result.offers[1:] if every else ():
        home = folder / offer.name.replace(" ", "-")
        _whole(following(result, offer), home)
        written.append(home)
    return tuple(written)


def _whole(result: Result, folder: Path) -> tuple[Path, ...]:
    """Write beside the place first, so that a failure on the way leaves older pages as they were."""
    folder.mkdir(parents=True, exist_ok=True)
    beside = folder / f".{uuid4().hex}.tmp"
    try:
        return tuple(path.replace(folder / path.name) for path in write_pages(result, beside))
    finally:
        shutil.rmtree(beside, ignore_errors=True)


def following(result: Result, offer: Offer) -> Result:
    """The result with one of its offers put first, so that pages follow that one."""
    others = tuple(other for other in result.offers if other is not offer)
    short = {result.job.row(short.for_).importance for short in offer.plan.short}
    return replace(
        result,
        offers=(offer, *others),
        complete="must" not in short,
        room=room_of(result.job, offer.plan),
        widths=(),
    )
