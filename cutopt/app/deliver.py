"""Putting a result where the maker finds it: checked first, the plan kept at once, the pages whole or not at all."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Final
from uuid import uuid4

from cutopt.check import check
from cutopt.errors import JobError, Problem
from cutopt.job import Job
from cutopt.pages import FILES, write_each
from cutopt.plan import Plan
from cutopt.result import Offer, Result
from cutopt.solve.control.progress import Progress
from cutopt.solve.cuts.offers import BIGGEST, SIMPLEST
from cutopt.solve.explain.room import room_of
from cutopt.tables import read_plan, write_plan
from cutopt.tables.files.atomic import settle, staged

# a file in a folder of pages: for which job they are
_MARK: Final = ".cutopt-job"
# a plan whose pages are not there yet, beside older pages
_KEPT: Final = "new-plan.json"


class UnsoundError(RuntimeError):
    """The checker found a fault in a plan of our own: an error of the program, not of the job."""


def home_of(job: Path) -> Path:
    """Where a job's pages go unless told: ``out/NAME`` in the current folder, NAME being the job folder's."""
    place = job.resolve()
    if place.name == "job.toml":
        place = place.parent
    if place.suffix.lower() == ".xlsx":
        name = place.stem
    else:
        name = place.name
    return Path("out") / (name or "job")


def claim(folder: Path, job: Path) -> None:
    """Make the folder, and find out before the search whether it can be written and holds no other job's pages.

    Raises
    ------
    Problem
        Where it cannot, or does.
    """
    owner = _owner(folder)
    if owner is not None and owner != _place(job) and owner.exists():
        what = f'"{folder}" holds the pages of another job, {owner}'
        raise Problem(
            "--out", what, "name another folder with --out, or delete that one"
        )
    probe = folder / f".{uuid4().hex}.tmp"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        probe.touch()
        probe.unlink()
        settle(folder)
    except OSError as error:
        raise Problem(
            "--out",
            f'"{folder}" cannot be written ({error.strerror})',
            "name another folder",
        ) from error


def holds_pages_of(folder: Path, job: Job, plan: Plan) -> bool:
    """Whether all the pages of just this plan are there: those of its search may tell more than it does.

    Parameters
    ----------
    folder : Path
    job : Job
    plan : Plan
    """
    if not all((folder / name).exists() for name in FILES):
        return False
    try:
        return read_plan(folder / "plan.json", job) == plan
    except (Problem, JobError, OSError):
        # whatever it is, it is no plan of this job
        return False


def _place(job: Path) -> Path:
    place = job.resolve()
    if place.name == "job.toml":
        return place.parent
    return place


def _owner(folder: Path) -> Path | None:
    """The job that a folder of pages remembers."""
    try:
        told = (folder / _MARK).read_text(encoding="utf-8", errors="surrogateescape")
    except OSError:
        return None
    if told.strip():
        return Path(told.strip())
    return None


def prove(result: Result) -> None:
    """Run every offer's plan through the checker.

    Raises
    ------
    UnsoundError
        With every fault of every offer.
    """
    faults = [
        f"{offer.name}: {fault}"
        for offer in result.offers
        for fault in check(result.job, offer.plan)
    ]
    if faults:
        raise UnsoundError("\n".join(faults))


def keep(result: Result, folder: Path) -> Path:
    """Write the first plan of a result before its pages; beside older pages under a name of its own.

    Returns
    -------
    path
        Where it is; :func:`deliver` takes it away again where it is not ``plan.json``.
    """
    older = any((folder / name).exists() for name in FILES if name != "plan.json")
    path = folder / (_KEPT if older else "plan.json")
    write_plan(result.plan, path)
    return path


def deliver(
    result: Result,
    folder: Path,
    *,
    every: bool = False,
    job: Path | None = None,
    progress: Progress | None = None,
) -> tuple[Path, ...]:
    """Write the pages of a result that was proved; those of a plan before it are there until all are.

    Parameters
    ----------
    result : Result
    folder : path
    every : bool
        Also the pages of the other offers, in folders of their names inside.
    job : path, optional
        The job folder, which the pages remember.
    progress : Progress, optional
        Told how long it still takes.

    Returns
    -------
    tuple of paths
        The files of the first offer, then the folders of the others.
    """
    if every:
        others = result.offers[1:]
    else:
        others = ()
    with staged(folder) as beside:
        more = [
            (following(result, offer), beside / _folder_of(offer.name))
            for offer in others
        ]
        write_each([(result, beside), *more], progress)
        if job is not None:
            (beside / _MARK).write_text(
                f"{_place(job)}\n", encoding="utf-8", errors="surrogateescape"
            )
    (folder / _KEPT).unlink(missing_ok=True)
    fresh = {_folder_of(offer.name) for offer in others}
    _clear(
        folder / name
        for name in map(_folder_of, (SIMPLEST, BIGGEST))
        if name not in fresh
    )
    folders = [folder / _folder_of(offer.name) for offer in others]
    return (*(folder / name for name in FILES), *folders)


def _folder_of(offer: str) -> str:
    return offer.replace(" ", "-")


def _clear(folders: Iterable[Path]) -> None:
    """Take away pages of other offers that belong to an older plan; what else is in their folders stays."""
    for folder in folders:
        for name in FILES:
            (folder / name).unlink(missing_ok=True)
        with suppress(OSError):
            folder.rmdir()


def following(result: Result, offer: Offer) -> Result:
    """The result with one of its offers put first, so that pages follow that one."""
    others = tuple(other for other in result.offers if other is not offer)
    return replace(
        result,
        offers=(offer, *others),
        complete=not offer.plan.lacking,
        room=room_of(result.job, offer.plan),
        widths=(),
        # these are about the plan that came first
        rules=(),
    )
