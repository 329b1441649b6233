"""Plans of columns of rows on a very large plate: where to begin its search.

A column is as high as the plate and is cut into rows, each of one part. The best rows of a column and the best
columns of a plate are fillings of one length, exact to the last unit, which the search on drawn sizes
(`size_search.py`) is not. To be quick, a row is made only of parts that leave little of the column's width.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

import numpy as np

from cutopt.solve.kernels.loader import load
from cutopt.solve.plates.plate_table import Ints

Sizes: TypeAlias = tuple[set[int], set[int]]

_WASTES = (3, 1, 0)
# additions that are made in all
_MOST_WORK = 3_000_000_000
# before the next question whether to stop
_AT_ONCE = 50_000_000


def columns(
    w: int, h: int, widths: Ints, heights: Ints, values: Ints, stop: Callable[[], bool]
) -> Sizes:
    """The widths and heights of all plates of a good plan of columns for parts of these sizes and values.

    Where it is stopped, the plan is made of the narrower columns.

    Parameters
    ----------
    w, h : int
        The plate.
    widths, heights, values : arrays (ways,)
        Of the parts, as they may lie.
    stop : callable
    """
    order = np.argsort(heights, kind="stable")
    parts = widths[order], heights[order], values[order]
    waste = next(
        (waste for waste in _WASTES if _work(w, h, widths, waste) <= _MOST_WORK), 0
    )
    best = np.zeros(w + 1, dtype=np.int64)
    scratch = [np.zeros(len(widths), dtype=np.int64) for _ in range(2)]
    kernel = load("plates", compiled=True).columns
    f = np.zeros(h + 1, dtype=np.int64)
    work_through(
        w,
        stop,
        lambda first, last: int(kernel(first, last, *parts, waste, f, *scratch, best)),
    )
    wide = np.flatnonzero(best)
    across = set[int]()
    along = set[int]()
    beside = 0
    for x, copies in fill_length(w, wide, best[wide]):
        beside += x * copies
        across |= {x * copies, beside}
        fitting = (parts[0] <= x) & (x % parts[0] <= waste)
        above = 0
        for y, rows in fill_length(
            h, parts[1][fitting], x // parts[0][fitting] * parts[2][fitting]
        ):
            above += y * rows
            along |= {y * rows, above}
    return across, along


def work_through(
    wide: int,
    stop: Callable[[], bool],
    some: Callable[[int, int], int],
    most: int | None = None,
) -> bool:
    """Work through 1 to `wide`, some (which says how much work it was) between two questions whether to stop.

    Gives whether it was not stopped. With `most` work done the rest is left out.

    Parameters
    ----------
    wide : int
    stop : callable
    some : callable
        Called with the first number and the one after the last; gives the additions that it took.
    most : int, optional
        With so many additions done the rest is left out.
    """
    first = 1
    step = 1
    done = 0
    while first <= wide and (most is None or done < most):
        if stop():
            return False
        last = min(first + step, wide + 1)
        work = some(first, last)
        done += work
        step = max(1, min(step * _AT_ONCE // max(work, 1), 2 * step))
        first = last
    return True


def _work(w: int, h: int, widths: Ints, waste: int) -> int:
    return int(np.sum(w // widths * np.minimum(widths, waste + 1))) * h


def fill_length(length: int, lengths: Ints, worth: Ints) -> list[tuple[int, int]]:
    """The best filling of a length: (length, copies) of what it takes.

    Parameters
    ----------
    length : int
    lengths, worth : arrays (parts,)
        The lengths in order.
    """
    count = len(lengths)
    copies = np.zeros(count, dtype=np.int64)
    live = np.zeros(count, dtype=np.int64)
    f, last = (np.zeros(length + 1, dtype=np.int64) for _ in range(2))
    load("plates", compiled=True).knapsack(lengths, worth, f, last, live, copies)
    return [(int(lengths[k]), int(copies[k])) for k in np.flatnonzero(copies)]
