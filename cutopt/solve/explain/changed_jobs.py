"""Jobs with one thing changed, as a maker could write them: nothing where her tables would not take it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from cutopt.errors import JobError, Problem
from cutopt.fabric import Fabric
from cutopt.job import Job
from cutopt.wanted import Cut, Strip, Wanted

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Mend:
    """What a maker might do, in words, and her job as it is then.

    `whole` are the keys of the rows that it is meant to give in full. `place` is that of a row of the shop which is to
    be bought from whatever the row is worth. `step` is the grid of the search in ticks, where it is another one than
    that of the job as it is. `beyond` is the same with more to be had than her table of the shop says, told where the
    mend does not do with that. `rule` says in words what rule of the row it does without, as `its grain is set (grain)`.
    """

    said: str
    job: Job
    whole: frozenset[str]
    place: int | None = None
    step: int | None = None
    beyond: Mend | None = None
    new_size: bool = False
    rule: str = ""


def valid(build: Callable[[], T]) -> T | None:
    """What is built, None where it is no row or no job: nobody is told to write that."""
    try:
        return build()
    except (Problem, JobError):
        return None


def changed(job: Job, **fields: Any) -> Job | None:
    """The job with some of its fields replaced."""
    return valid(lambda: replace(job, quilt="", **fields))


def changed_row(row: Wanted, **fields: Any) -> Wanted | None:
    """The row with some of its fields replaced."""
    return valid(lambda: replace(row, **fields))


def with_rows(
    job: Job, rows_for: Callable[[Wanted], Iterable[Wanted | None]]
) -> Job | None:
    """The job with other rows in the place of each row; None where one of them is none."""
    rows = [new for row in job.wanted for new in rows_for(row)]
    if any(row is None for row in rows):
        return None
    cuts = tuple(row for row in rows if isinstance(row, Cut))
    return changed(
        job, cuts=cuts, strips=tuple(row for row in rows if isinstance(row, Strip))
    )


def with_row(job: Job, old: Wanted, *new: Wanted | None) -> Job | None:
    """The job with other rows in the place of one."""
    return with_rows(job, lambda row: new if row.key == old.key else (row,))


def set_of(job: Job, row: Wanted) -> tuple[Wanted, ...]:
    """The rows that have to come from one fabric with this one, itself among them."""
    if not row.together:
        return (row,)
    return tuple(other for other in job.wanted if other.together == row.together)


def may_be_named(job: Job, row: Wanted, fabric: Fabric) -> bool:
    """Whether a row may be said to come from a fabric: from batting and the like where its set has no other cloth.

    Parameters
    ----------
    job : Job
    row : Cut or Strip
    fabric : Fabric
    """
    names = {name for each in set_of(job, row) for name in job.allowed(each)}
    inside = bool(names) and all(job.fabric(name).is_inside for name in names)
    return fabric.is_inside == inside


def from_fabric(job: Job, row: Wanted, fabric: str) -> Job | None:
    """The job in which a row, and what comes from one fabric with it, may be cut from this fabric too.

    Parameters
    ----------
    job : Job
    row : Cut or Strip
    fabric : str
        Its name.
    """
    keys = {each.key for each in set_of(job, row) if fabric not in job.allowed(each)}

    def also(each: Wanted) -> tuple[Wanted | None]:
        names = each.fabrics
        if not names and job.allowed(each):
            names = ("any",)
        return (
            changed_row(each, fabrics=(*names, fabric)) if each.key in keys else each,
        )

    return with_rows(job, also)


def free_name(job: Job, name: str) -> str:
    """A name for a new row, of a table that has none of that name."""
    known = {row.name.lower() for row in job.wanted}
    names = (name, *(f"{name} {number}" for number in range(2, len(known) + 3)))
    return next(each for each in names if each.lower() not in known)
