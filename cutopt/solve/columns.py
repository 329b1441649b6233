"""Plans of columns of rows on a very large plate: where to begin its search.

A column is as high as the plate and is cut into rows, each of one part. The best rows of a column and the best columns
of a plate are fillings of one length, exact to the last unit, which the search on drawn sizes (`large.py`) is not.
To be quick, a row is made only of parts that leave little of the column's width.
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np

from cutopt.solve.kernels.loader import load
from cutopt.solve.plates import Ints

Sizes: TypeAlias = tuple[set[int], set[int]]

_WASTES = (3, 1, 0)
_MOST_WORK = 3_000_000_000  # additions


def columns(w: int, h: int, widths: Ints, heights: Ints, values: Ints) -> Sizes:
    """The widths and heights of all plates of a good plan of columns for parts of these sizes and values."""
    order = np.argsort(heights, kind="stable")
    parts = widths[order], heights[order], values[order]
    waste = next((waste for waste in _WASTES if _work(w, h, widths, waste) <= _MOST_WORK), 0)
    best = np.zeros(w + 1, dtype=np.int64)
    scratch = [np.zeros(len(widths), dtype=np.int64) for _ in range(2)]
    load("plates", compiled=True).columns(*parts, waste, np.zeros(h + 1, dtype=np.int64), *scratch, best)
    wide = np.flatnonzero(best)
    across, along, beside = set[int](), set[int](), 0
    for x, copies in _fill(w, wide, best[wide]):
        beside += x * copies
        across |= {x * copies, beside}
        fitting = (parts[0] <= x) & (x % parts[0] <= waste)
        above = 0
        for y, rows in _fill(h, parts[1][fitting], x // parts[0][fitting] * parts[2][fitting]):
            above += y * rows
            along |= {y * rows, above}
    return across, along


def _work(w: int, h: int, widths: Ints, waste: int) -> int:
    return int(np.sum(w // widths * np.minimum(widths, waste + 1))) * h


def _fill(length: int, lengths: Ints, worth: Ints) -> list[tuple[int, int]]:
    """The best filling of a length: (length, copies) of what it takes."""
    count = len(lengths)
    copies, live = np.zeros(count, dtype=np.int64), np.zeros(count, dtype=np.int64)
    f, last = (np.zeros(length + 1, dtype=np.int64) for _ in range(2))
    load("plates", compiled=True).knapsack(lengths, worth, f, last, live, copies)
    return [(int(lengths[k]), int(copies[k])) for k in np.flatnonzero(copies)]
