"""Gathering all that is wrong with a job, and remembering where each value stood."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import Generic, TypeVar

from cutopt.errors import JobError, Problem

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Placed(Generic[T]):
    """A value and the file and row it was read from (rows as a spreadsheet counts them)."""

    value: T
    file: str
    row: int


class Log:
    """Collects problems, so that a maker mends a folder once and not line by line."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []

    def add(self, problem: Problem, file: str = "", row: int | None = None) -> None:
        """Note a problem; the place is added where the problem does not know it."""
        self.problems.append(problem.at(file, row))

    def attempt(self, read: Callable[[], T], fallback: T, file: str = "", row: int | None = None) -> T:
        """What `read` gives, or the fallback when it raised problems, which are noted."""
        try:
            return read()
        except JobError as error:
            for problem in error.problems:
                self.add(problem, file, row)
        except Problem as problem:
            self.add(problem, file, row)
        return fallback

    def in_column(self, file: str, column: str, columns: Collection[str]) -> None:
        """Place what is wrong in a row of `file` in a column, where it names none of its columns."""
        for i, problem in enumerate(self.problems):
            if problem.file == file and problem.row is not None and problem.field not in columns:
                self.problems[i] = Problem(column, problem.what, problem.mend, file=file, row=problem.row)

    def finish(self) -> None:
        """Raise all problems as one :class:`JobError`, if there are any."""
        if self.problems:
            raise JobError(self.problems)
