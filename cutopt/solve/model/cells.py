"""Which cells of a grid lie wholly on usable cloth: exact, in whole numbers, vectorised over the cells."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from cutopt.cloth import Cloth
from cutopt.fabric import Corner
from cutopt.geometry import bounds, ceil_sqrt, edges
from cutopt.solve.plates.plate_table import Ints

Bools = NDArray[np.bool_]
# cells that are tested together
_AT_ONCE = 1 << 18


def usable_cells(cloth: Cloth, step: int) -> tuple[tuple[int, int], Bools]:
    """Cells of `step` ticks that are on the cloth, off its flaws and clear of its raw edges.

    Returns
    -------
    origin : (int, int)
        Ticks of the lower left corner of cell (0, 0): the corner of the bounding box, moved in by what is lost
        at a straight left or lower side, so that a squared-up edge lies on a grid line.
    cells : array of bool, shape (columns, rows)

    A grid rectangle lies on usable cloth exactly when all its cells do: containment and distance of a union are
    those of its members.
    """
    x1, y1, x2, y2 = (int(v) for v in bounds(cloth.outline))
    left = _loss(cloth, 0, x1)
    below = _loss(cloth, 1, y1)
    x1 = x1 + left
    y1 = y1 + below
    xs = x1 + step * np.arange((x2 - x1) // step + 1, dtype=np.int64)
    ys = y1 + step * np.arange((y2 - y1) // step + 1, dtype=np.int64)
    if len(xs) < 2 or len(ys) < 2:
        return (x1, y1), np.zeros(
            (max(len(xs) - 1, 0), max(len(ys) - 1, 0)), dtype=np.bool_
        )
    cells = np.empty((len(xs) - 1, len(ys) - 1), dtype=np.bool_)
    columns = max(_AT_ONCE // len(ys), 1)
    # what is worked out in between takes fifty times the room of the cells
    for i in range(0, len(xs) - 1, columns):
        cells[i : i + columns] = _usable(cloth, xs[i : i + columns + 1], ys)
    return (x1, y1), cells


def _usable(cloth: Cloth, xs: Ints, ys: Ints) -> Bools:
    cells = _inside(cloth.outline, xs, ys)
    for (p, q), margin in zip(edges(cloth.outline), cloth.margins, strict=True):
        _clear_near(cells, xs, ys, p, q, margin)  # type: ignore[arg-type]
    for flaw in cloth.flaws:
        cells &= ~_inside(flaw, xs, ys)
        for p, q in edges(flaw):
            _clear_near(cells, xs, ys, p, q, 0)  # type: ignore[arg-type]
    return cells


def _loss(cloth: Cloth, axis: int, low: int) -> int:
    """What is lost along the left (axis 0) or lower (axis 1) side where the outline has a straight side there."""
    losses = [
        margin
        for (p, q), margin in zip(edges(cloth.outline), cloth.margins, strict=True)
        if p[axis] == low and q[axis] == low
    ]
    return min(losses, default=0)


def _inside(outline: Sequence[Corner], xs: Ints, ys: Ints) -> Bools:
    """Whether the middle of each cell lies in the polygon (even-odd rule, on doubled coordinates)."""
    mx = (xs[:-1] + xs[1:])[:, None]
    my = (ys[:-1] + ys[1:])[None, :]
    inside = np.zeros((len(xs) - 1, len(ys) - 1), dtype=np.bool_)
    for (ax, ay), (bx, by) in edges(outline):
        ax, ay, bx, by = (2 * int(v) for v in (ax, ay, bx, by))
        if ay == by:
            continue
        between = (ay > my) != (by > my)
        turn = (bx - ax) * (my - ay) - (by - ay) * (mx - ax)
        inside ^= between & ((turn > 0) == (by > ay))
    return inside


def _clear_near(
    cells: Bools, xs: Ints, ys: Ints, p: Corner, q: Corner, margin: int
) -> None:
    """Clear the cells that an edge runs through, or that are nearer to it than `margin`."""
    lo_x = min(p[0], q[0]) - margin
    hi_x = max(p[0], q[0]) + margin
    lo_y = min(p[1], q[1]) - margin
    hi_y = max(p[1], q[1]) + margin
    i1 = max(int(np.searchsorted(xs, lo_x, "right")) - 1, 0)
    i2 = int(np.searchsorted(xs, hi_x, "left"))
    j1 = max(int(np.searchsorted(ys, lo_y, "right")) - 1, 0)
    j2 = int(np.searchsorted(ys, hi_y, "left"))
    i2 = min(i2, len(xs) - 1)
    j2 = min(j2, len(ys) - 1)
    if i1 >= i2 or j1 >= j2:
        return
    x = xs[i1 : i2 + 1]
    y = ys[j1 : j2 + 1]
    cells[i1:i2, j1:j2] &= ~(_meets(x, y, p, q) | _too_near(x, y, p, q, margin))


def _meets(x: Ints, y: Ints, p: Corner, q: Corner) -> Bools:
    """Cells whose inside the segment pq meets: its box overlaps, and corners lie on both sides of its line."""
    overlap_x = (x[:-1] < max(p[0], q[0])) & (x[1:] > min(p[0], q[0]))
    overlap_y = (y[:-1] < max(p[1], q[1])) & (y[1:] > min(p[1], q[1]))
    side = (q[0] - p[0]) * (y[None, :] - p[1]) - (q[1] - p[1]) * (x[:, None] - p[0])
    corners = np.stack((side[:-1, :-1], side[1:, :-1], side[:-1, 1:], side[1:, 1:]))
    both = (corners.min(axis=0) < 0) & (corners.max(axis=0) > 0)
    return np.asarray(overlap_x[:, None] & overlap_y[None, :] & both)


def _too_near(x: Ints, y: Ints, p: Corner, q: Corner, margin: int) -> Bools:
    """Cells (not met by pq) nearer than `margin` to it: from a cell corner to the segment, or an end to the cell."""
    shape = (len(x) - 1, len(y) - 1)
    if margin == 0:
        return np.zeros(shape, dtype=np.bool_)
    dx = q[0] - p[0]
    dy = q[1] - p[1]
    length2 = dx * dx + dy * dy
    rx = x[:, None] - p[0]
    ry = y[None, :] - p[1]
    along = rx * dx + ry * dy
    # |cross| >= margin * length, in whole numbers
    reach = ceil_sqrt(margin * margin * length2)
    near = (along > 0) & (along < length2) & (np.abs(dx * ry - dy * rx) < reach)
    out = near[:-1, :-1] | near[1:, :-1] | near[:-1, 1:] | near[1:, 1:]
    for end in (p, q):
        gap_x = np.maximum(np.maximum(x[:-1] - end[0], end[0] - x[1:]), 0)[:, None]
        gap_y = np.maximum(np.maximum(y[:-1] - end[1], end[1] - y[1:]), 0)[None, :]
        out |= gap_x * gap_x + gap_y * gap_y < margin * margin
    return np.asarray(out)


def summed(cells: Bools) -> Ints:
    """Summed-area table of cells: entry [i, j] counts those before column i and row j; shape one more each way."""
    table = np.zeros((cells.shape[0] + 1, cells.shape[1] + 1), dtype=np.int64)
    table[1:, 1:] = cells.cumsum(axis=0, dtype=np.int64).cumsum(axis=1)
    return table


def holds(table: Ints, w: int, l: int) -> bool:
    """Whether a summed-area table has a full window of w x l cells.

    Parameters
    ----------
    table : array (columns + 1, rows + 1)
        As :func:`summed` makes it.
    w, l : int
        Cells across and along.
    """
    if not (0 < w < table.shape[0] and 0 < l < table.shape[1]):
        return False
    inside = table[w:, l:] - table[:-w, l:] - table[w:, :-l] + table[:-w, :-l]
    return bool((inside == w * l).any())


def covers(
    table: Ints, origin: tuple[int, int], step: int, box: tuple[int, int, int, int]
) -> bool:
    """Whether all cells of `step` ticks that a box (x1, y1, x2, y2 in ticks) touches are there and full.

    Parameters
    ----------
    table : array (columns + 1, rows + 1)
        As :func:`summed` makes it.
    origin : (int, int)
        Ticks of the lower left corner of cell (0, 0).
    step : int
        Ticks of a cell.
    box : (x1, y1, x2, y2)
        Ticks.
    """
    (ox, oy), (x1, y1, x2, y2) = origin, box
    i1 = (x1 - ox) // step
    j1 = (y1 - oy) // step
    i2 = -((ox - x2) // step)
    j2 = -((oy - y2) // step)
    if i1 < 0 or j1 < 0 or i2 >= table.shape[0] or j2 >= table.shape[1]:
        return False
    inside = table[i2, j2] - table[i1, j2] - table[i2, j1] + table[i1, j1]
    return bool(inside == (i2 - i1) * (j2 - j1))
