"""What the lists for the maker have in common: the job of a plan, and cells that no spreadsheet works out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cutopt.errors import Problem
from cutopt.job import Job
from cutopt.plan import Plan
from cutopt.signs import not_a_formula
from cutopt.tables.files.atomic import csv_text


def job_of(plan: Plan) -> Job:
    """The job that a plan carries.

    Raises
    ------
    Problem
        Where it carries none.
    """
    if plan.origin is None:
        what = "it does not know its job"
        raise Problem("plan", what, "read it with read_plan(path, job)")
    return plan.origin


def list_text(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """A list as CSV, in which no cell is worked out as a formula by a spreadsheet."""
    cells = [list(map(not_a_formula, row)) for row in rows]
    return csv_text(columns, cells)
