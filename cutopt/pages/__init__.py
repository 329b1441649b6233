"""Pages to print and take to the mat; all that is heavy is imported when pages are written."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from cutopt.result import Result
from cutopt.solve.control.progress import Progress

if TYPE_CHECKING:
    from cutopt.pages.written import Written

FILES: Final = ("plan.pdf", "cut-list.csv", "shopping.csv", "plan.json", "overview.png")


def write_pages(
    result: Result, folder: str | Path, progress: Progress | None = None
) -> Written:
    """Write plan.pdf, cut-list.csv, shopping.csv, plan.json and overview.png into a folder; gives their paths.

    Parameters
    ----------
    result : Result
        Its first offer is what the pages follow.
    folder : path
        Made where it is missing. Files of the same names are replaced, all in one step or none.
    progress : Progress, optional
        Told what is being written, which takes some seconds; :func:`cutopt.watch` gives one that shows it.

    Raises
    ------
    Problem
        Where the plan does not carry its job.
    OSError
        Where the folder cannot be written.
    """
    from cutopt.pages import files

    return files.write_pages(result, folder, progress)


__all__ = ["FILES", "write_pages"]
