"""How much of an outline can show in a back, by the windows that straight cuts can isolate.

Parts are rectangles, and each cut between two of them takes its seams: an L does not show what its area would. Two
kinds of lines are used.

*Upright outlines* (all sides along the axes): on the lines on which its sides lie nothing is lost. What parts of a tree
of cuts show is linear in each place of a cut while the others stay, and where a cut may lie is bounded by such lines
and by other cuts; so of the best trees one has all its cuts on lines.

*Slanting outlines*: on lines at equal steps, where a line stands for all cuts between it and the next one, as in
:mod:`cutopt.solve.bounds.windows`.
"""

from __future__ import annotations

import numpy as np

from cutopt.cloth import Cloth
from cutopt.fabric import Outline
from cutopt.geometry import edges
from cutopt.solve.bounds.relaxed import usable_span
from cutopt.solve.bounds.windows import Bools, touched_cells
from cutopt.solve.kernels.loader import load
from cutopt.solve.model.cells import summed
from cutopt.solve.plates.plate_table import Ints

# cells along an axis of a slanting outline
_CELLS = 40
# windows of an upright outline that plain Python goes through at once
_FEW_LINES = 9


def is_upright(cloth: Cloth) -> bool:
    """Whether all sides of a cloth and of its flaws run along the axes."""
    return all(map(_runs_along_axes, (cloth.outline, *cloth.flaws)))


def _runs_along_axes(outline: Outline) -> bool:
    return all(a[0] == b[0] or a[1] == b[1] for a, b in edges(outline))


def shown_by_windows(
    cloth: Cloth, seam: int, least: int, *, compiled: bool
) -> int | None:
    """The most that parts cut from a cloth show, square ticks; None where that takes compiled kernels.

    Parameters
    ----------
    cloth : Cloth
    seam : int
        What is lost on each side of a part, ticks.
    least : int
        No part is cut narrower, ticks.
    compiled : bool
        Whether kernels are compiled, which takes a while the first time.
    """
    if is_upright(cloth):
        xs, ys = _lines_of(cloth, 0), _lines_of(cloth, 1)
        if not compiled and max(len(xs), len(ys)) > _FEW_LINES:
            return None
        cells = touched_cells(cloth, xs, ys) & ~_lost(cloth, xs, ys)
        single = _exact(cells, xs, ys, seam)
    elif compiled:
        xs, ys = (_at_steps(usable_span(cloth, axis), least) for axis in (0, 1))
        single = _rounded(touched_cells(cloth, xs, ys), xs, ys, seam, least)
    else:
        return None
    return _best(len(xs), len(ys), single, compiled=compiled)


def _best(n: int, m: int, single: Ints, *, compiled: bool) -> int:
    values = np.zeros_like(single)
    load("windows", compiled=compiled).fill(n, m, single, values)
    return int(values[n - 1, m - 2])


def _lines_of(cloth: Cloth, axis: int) -> Ints:
    """Where sides lie, and where what is lost beside them ends."""
    found = {corner[axis] for ring in (cloth.outline, *cloth.flaws) for corner in ring}
    for (a, b), margin in zip(edges(cloth.outline), cloth.margins, strict=True):
        if a[axis] == b[axis]:
            found |= {int(a[axis]) - margin, int(a[axis]) + margin}
    return np.array(sorted(found), dtype=np.int64)


def _lost(cloth: Cloth, xs: Ints, ys: Ints) -> Bools:
    """Cells that lie beside a side, no farther off than what it loses."""
    lost = np.zeros((len(xs) - 1, len(ys) - 1), dtype=np.bool_)
    for (a, b), margin in zip(edges(cloth.outline), cloth.margins, strict=True):
        spans = []
        for axis in (0, 1):
            off = margin * (a[axis] == b[axis])
            low, high = sorted((int(a[axis]), int(b[axis])))
            spans.append((low - off, high + off))
        (x1, x2), (y1, y2) = spans
        across = (xs[:-1] >= x1) & (xs[1:] <= x2)
        along = (ys[:-1] >= y1) & (ys[1:] <= y2)
        lost |= across[:, None] & along[None, :]
    return lost


def _exact(cells: Bools, xs: Ints, ys: Ints, seam: int) -> Ints:
    """What each window shows as one part between its lines."""
    shown_x, shown_y = (
        np.maximum(at[None, :] - at[:, None] - 2 * seam, 0) for at in (xs, ys)
    )
    return _table(cells, shown_x, shown_y, (0, 0))


def _rounded(cells: Bools, xs: Ints, ys: Ints, seam: int, least: int) -> Ints:
    """What each window shows at most as one part between cuts that its lines may stand for."""
    best = np.zeros(0, dtype=np.int64)
    for more in ((0, 0), (0, 1), (1, 0), (1, 1)):
        shown: list[Ints] = []
        for at, reaches in zip((xs, ys), more, strict=True):
            ends = at
            if reaches:
                # any place before the next line
                ends = np.append(at[1:] - 1, at[-1])
            side = ends[None, :] - at[:, None]
            shown.append(np.where(side >= least, side - 2 * seam, 0))
        table = _table(cells, shown[0], shown[1], more)
        best = np.maximum(best, table) if best.size else table
    return best


def _table(cells: Bools, shown_x: Ints, shown_y: Ints, more: tuple[int, int]) -> Ints:
    """Windows all of whose cells are there, as the kernel orders them: a row (k1, k2), a column (j1 < j2).

    `more` cells beyond the high lines have to be there as well.
    """
    n, m = shown_x.shape[0], shown_y.shape[0]
    missing = summed(~cells)
    low, high = np.triu_indices(m, 1)
    far = high + more[1]
    inside_y = far < m
    far = np.minimum(far, m - 1)
    table = np.zeros((n * n, len(low)), dtype=np.int64)
    for k1 in range(n - 1):
        for k2 in range(k1 + 1, n):
            end = k2 + more[0]
            if end >= n or not shown_x[k1, k2]:
                continue
            holes = (
                missing[end, far]
                - missing[k1, far]
                - missing[end, low]
                + missing[k1, low]
            )
            full = (holes == 0) & inside_y
            table[k1 * n + k2] = np.where(full, shown_x[k1, k2] * shown_y[low, high], 0)
    return table


def _at_steps(span: tuple[int, int], least: int) -> Ints:
    """Lines at equal steps over a span, no farther apart than the least part is wide."""
    extent = max(span[1] - span[0], 1)
    step = max(1, -(-extent // _CELLS))
    while step > least:
        step = -(-step // 2)
    return np.append(np.arange(*span, step, dtype=np.int64), span[1])
