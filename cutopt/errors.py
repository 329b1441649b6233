"""What can be wrong with what a maker wrote, and how it is told.

A value raises a :class:`Problem`: it knows the field and the mend, not the place. Whoever read the
value from a table adds file and row with :meth:`Problem.at` and collects all problems of a job in one
:class:`JobError`, so that a maker mends a folder once and not line by line.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import Final

from cutopt.signs import unseen_sign

_MOST_SHOWN: Final = 400


def shown(text: str) -> str:
    """A text as it may stand in a sentence: signs that nobody can see as \ufffd, the middle of a long one left out."""
    plain = text
    if unseen_sign(text):
        plain = "".join("\ufffd" if unseen_sign(sign) else sign for sign in text)
    if len(plain) <= _MOST_SHOWN:
        return plain
    return f"{plain[: _MOST_SHOWN - 100]} ... {plain[-80:]}"


class Problem(ValueError):  # noqa: N818 - what a maker has to mend, not an error of the program
    """One thing that is wrong, with the mend.

    Parameters
    ----------
    field : str
        The column or setting, as the maker knows it ("outline"); may be empty.
    what : str
        What is wrong, quoting the text that was read.
    mend : str
        What to write instead; may be empty where `what` says it all.
    file, row : str, int or None
        Where the text stands. Rows are counted as a spreadsheet counts them, the header is row 1.
    """

    def __init__(
        self,
        field: str,
        what: str,
        mend: str = "",
        *,
        file: str = "",
        row: int | None = None,
    ) -> None:
        self.field = shown(field)
        self.what = shown(what)
        self.mend = shown(mend)
        self.file = shown(file)
        self.row = row
        super().__init__(self.sentence)

    def __reduce__(self) -> tuple[object, ...]:
        return _rebuild, (self.field, self.what, self.mend, self.file, self.row)

    def _render_traceback_(self) -> list[str]:
        """What a notebook shows in place of a traceback."""
        return [self.sentence]

    @property
    def sentence(self) -> str:
        """One sentence: ``pieces.csv row 7, outline: corner 3 "6 11/" is not a length; write 6 11/16``."""
        place = self.file + (f" row {self.row}" if self.row is not None else "")
        head = ", ".join(part for part in (place, self.field) if part)
        if self.mend:
            tail = f"{self.what}; {self.mend}"
        else:
            tail = self.what
        if head:
            return f"{head}: {tail}"
        return tail

    def at(self, file: str, row: int | None = None) -> Problem:
        """The same problem, with its place; a place that is known already stays."""
        return Problem(
            self.field,
            self.what,
            self.mend,
            file=self.file or file,
            row=self.row if self.row is not None else row,
        )


def _rebuild(field: str, what: str, mend: str, file: str, row: int | None) -> Problem:
    return Problem(field, what, mend, file=file, row=row)


class JobError(ValueError):
    """All that is wrong with a job, gathered in one pass; `problems` lists them."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(problem.sentence for problem in self.problems))

    def _render_traceback_(self) -> list[str]:
        """What a notebook shows in place of a traceback: the sentences alone."""
        return [problem.sentence for problem in self.problems]


def debugging() -> bool:
    """Whether somebody looks for errors of the program: then they are raised where a maker would get a notice."""
    return bool(os.environ.get("CUTOPT_DEBUG"))
