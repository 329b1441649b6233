"""Pages to print and take to the mat; all that is heavy is imported when pages are written.

`files.py` is to be opened first: everything that is written (`written.py`), with the time that it takes
(`time_left.py`). `page_flow.py` is the order of pages: `first_page.py` with `how_sure.py`, `measure_first.py` and
`grids.py`, pieces shared out to pages by `fit_to_pages.py`, `backs.py` with `parts_alike.py` and `sewing_words.py`
(both of `runs.py`), `lists.py`, and `quilt.py` with `label.py`; `paper.py` sets all of it, `tick_rows.py` what is
ticked off. What a person does at the mat, in words: `steps.py` asks `telling_cuts.py`, which makes moves of cuts
(`moves_of_cuts.py`) and tells each by `words.py`, of `phrases.py`, `fates.py` and `folding.py`.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from cutopt.pages.written import FILES, Written
from cutopt.result import Result
from cutopt.solve.control.progress import Progress


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
        Told how long it still takes; :func:`cutopt.watch` gives one that shows it.

    Raises
    ------
    Problem
        Where the plan does not carry its job.
    OSError
        Where the folder cannot be written.
    """
    write_each([(result, Path(folder))], progress)
    return Written(Path(folder) / name for name in FILES)


def write_each(
    results: Sequence[tuple[Result, Path]], progress: Progress | None = None
) -> None:
    """Write the pages of several results, each into its folder, as :func:`write_pages` does of one."""
    from cutopt.pages import files

    files.write_each(results, progress)


__all__ = ["FILES", "write_each", "write_pages"]
