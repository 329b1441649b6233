"""Gathering all that is wrong with a job, and remembering where each value stood."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import Final, Generic, TypeVar

from cutopt.errors import JobError, Problem

T = TypeVar("T")
Fallback = TypeVar("Fallback")
Value_co = TypeVar("Value_co", covariant=True)
_MOST_PROBLEMS: Final = 200


@dataclass(frozen=True, slots=True)
class Placed(Generic[Value_co]):
    """A value and the file and row it was read from (rows as a spreadsheet counts them)."""

    value: Value_co
    file: str
    row: int


@dataclass(frozen=True, slots=True)
class Line:
    """A text and the line it stands on."""

    text: str
    row: int


class Log:
    """Collects problems, so that a maker mends a folder once and not line by line."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []
        self._notices: list[Problem] = []

    def add(self, problem: Problem, file: str = "", row: int | None = None) -> None:
        """Note a problem; the place is added where the problem does not know it. So many end the reading.

        Parameters
        ----------
        problem : Problem
        file : str
        row : int, optional
            As a spreadsheet counts, or the line of a text.

        Raises
        ------
        JobError
            Where so many are noted that reading ends.
        """
        self.problems.append(problem.at(file, row))
        if self._full:
            self.problems.append(
                Problem("", "there may be more mistakes than these", "mend these first")
            )
            self.finish()

    @property
    def _full(self) -> bool:
        return len(self.problems) >= _MOST_PROBLEMS

    def tell(self, notice: Problem, file: str = "", row: int | None = None) -> None:
        """Note what can be planned and may not be meant.

        Parameters
        ----------
        notice : Problem
        file : str
        row : int, optional
            As a spreadsheet counts, or the line of a text.
        """
        self._notices.append(notice.at(file, row))

    @property
    def notices(self) -> tuple[str, ...]:
        """A sentence for each that was noted; rows of one file that say the same are named in one."""
        rows: dict[tuple[str, str, str, str], list[int | None]] = {}
        for told in self._notices:
            rows.setdefault((told.field, told.what, told.mend, told.file), []).append(
                told.row
            )
        return tuple(
            f"{_of_rows(Problem(*said[:3]), said[3], where).sentence}."
            for said, where in rows.items()
        )

    def attempt(
        self,
        read: Callable[[], T],
        fallback: Fallback,
        file: str = "",
        row: int | None = None,
    ) -> T | Fallback:
        """What `read` gives, or the fallback when it raised problems, which are noted.

        Parameters
        ----------
        read : callable
        fallback
            Given where a problem is noted.
        file : str
        row : int, optional
            Where the problem stands if it does not know.

        Raises
        ------
        JobError
            Where so many problems are noted that reading ends.
        """
        try:
            return read()
        except JobError as error:
            if self._full:
                raise
            for problem in error.problems:
                self.add(problem, file, row)
        except Problem as problem:
            self.add(problem, file, row)
        return fallback

    def in_column(self, file: str, column: str, columns: Collection[str]) -> None:
        """Place what is wrong in a row of `file` in a column, where it names none of its columns.

        Parameters
        ----------
        file : str
        column : str
            The one that is named.
        columns : collection of str
            All that `file` has.
        """
        for i, problem in enumerate(self.problems):
            if (
                problem.file == file
                and problem.row is not None
                and problem.field not in columns
            ):
                self.problems[i] = Problem(
                    column, problem.what, problem.mend, file=file, row=problem.row
                )

    def finish(self) -> None:
        """End the reading where there is a problem.

        Raises
        ------
        JobError
            With all of them.
        """
        if self.problems:
            raise JobError(self.problems)


def _of_rows(notice: Problem, file: str, rows: list[int | None]) -> Problem:
    """A notice with its place: ``shop.csv rows 2, 3 and 5``."""
    if len(rows) == 1:
        return notice.at(file, rows[0])
    *most, last = map(str, rows)
    return notice.at(f"{file} rows {', '.join(most)} and {last}")
