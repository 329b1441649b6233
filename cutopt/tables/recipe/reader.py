"""A quilt while it is worked out from its sentences: what was said, what is known so far, and where mistakes go."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.top import Top
from cutopt.quilt.wanted_parts import Made
from cutopt.tables.log import Line, Log, Placed
from cutopt.tables.recipe.sentences_of_backs import BackSaid
from cutopt.wanted import Wanted

T = TypeVar("T")


@dataclass(slots=True)
class Reader:
    """What every part of a quilt is read with.

    Parameters
    ----------
    file : str
        How a problem names the place of the quilt.
    log : Log
        Mistakes, each with its line.
    said : dict
        The sentences of each part.
    how : Conventions
        Those under [how]; what is said of the seams of a backing is added.
    rows : list of Placed
        Wanted rows so far, with the lines that made them.
    named : dict
        The words said of backing and batting, with their lines.
    notes : list of str
        What is to be known of the quilt.
    pieced : Placed, optional
        What is said of a back that is pieced from what there is.
    made : list of Made
        The parts that the rows are from.
    unplaced : int
        Blocks of one place that are left over.
    known : frozenset of str
        Names, tags and values of the job's fabrics in lower case.
    """

    file: str
    log: Log
    said: dict[str, list[Line]]
    how: Conventions
    rows: list[Placed[Wanted]] = field(default_factory=list)
    named: dict[str, Placed[tuple[str, ...]]] = field(default_factory=dict)
    pieced: Placed[BackSaid] | None = None
    notes: list[str] = field(default_factory=list)
    made: list[Made] = field(default_factory=list)
    unplaced: int = 0
    known: frozenset[str] = frozenset()

    @property
    def sound(self) -> bool:
        """Whether this file has no mistake so far; where it has one, what is missing may be missing for that."""
        return all(problem.file != self.file for problem in self.log.problems)

    def all(self, key: str) -> list[Line]:
        """The sentences of a key."""
        return self.said.get(key, [])

    def one(self, key: str) -> Line | None:
        """The one sentence of a key."""
        return next(iter(self.all(key)), None)

    def text(self, key: str) -> str:
        """The one sentence of a key, "" where nothing is said."""
        line = self.one(key)
        if line:
            return line.text
        return ""

    def asked(self, key: str, top: Top | None, without: str) -> Line | None:
        """The sentence of a key that is not refused.

        Parameters
        ----------
        key : str
        top : Top or None
        without : str
            What is wrong where there is no top for it.
        """
        line = self.one(key)
        if line is None or is_refused(line):
            return None
        if top is None and self.sound:
            self.note(Problem(key, without, "write a top, or a setting"), line)
        return line

    def note(self, problem: Problem, line: Line) -> None:
        """Note a problem of a sentence."""
        self.log.add(problem, self.file, line.row)

    def attempt(self, read: Callable[[], T], row: int) -> T | None:
        """What `read` gives, None where it has a problem, which is noted with its line."""
        return self.log.attempt(read, None, self.file, row)

    def add(self, made: Made, row: int) -> None:
        """Keep the rows of a part, with the line that made them."""
        self.rows += [Placed(each, self.file, row) for each in made.wanted]
        self.made.append(made)


def is_refused(line: Line) -> bool:
    """Whether a sentence says that there is to be no such part."""
    return line.text.lower() in ("no", "none")
