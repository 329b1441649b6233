"""The largest rectangles of usable cloth that a piece holds, in grid steps."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from cutopt.solve.model.model import Sheet

Bools: TypeAlias = NDArray[np.bool_]
Box: TypeAlias = tuple[int, int, int, int]
# lines of a grid beyond which cells are taken together
_LINES = 36


def largest_rectangles(sheet: Sheet) -> list[Box]:
    """Rectangles x1, y1, x2, y2 of usable cells that lie in no larger one.

    Of an outline with very many steps only cells that are whole in a coarser grid count: what is found is always there,
    and a little that is there is not found.

    Parameters
    ----------
    sheet : Sheet
        A piece of cloth in steps of the grid.
    """
    if sheet.cells is None:
        return [(0, 0, sheet.cols, sheet.rows)]
    xs, ys, cells = _coarse(sheet.cells)
    found = set(_maximal(cells))
    inner = [
        one
        for one in found
        if not any(one != other and _within(one, other) for other in found)
    ]
    return sorted(
        (int(xs[x1]), int(ys[y1]), int(xs[x2]), int(ys[y2])) for x1, y1, x2, y2 in inner
    )


def _within(one: Box, other: Box) -> bool:
    return (
        other[0] <= one[0]
        and other[1] <= one[1]
        and one[2] <= other[2]
        and one[3] <= other[3]
    )


def _coarse(cells: Bools) -> tuple[list[int], list[int], Bools]:
    """Lines across and along, and the cells between them, those alike taken together."""
    xs = _lines(cells)
    ys = _lines(cells.T)
    across = np.logical_and.reduceat(cells, xs[:-1], axis=0)
    return xs, ys, np.logical_and.reduceat(across, ys[:-1], axis=1)


def _lines(cells: Bools) -> list[int]:
    """Where neighbouring columns differ, no more than some dozen."""
    changes = np.flatnonzero((cells[1:] != cells[:-1]).any(axis=1)) + 1
    if len(changes) > _LINES:
        changes = changes[:: -(-len(changes) // _LINES)]
    return [0, *changes.tolist(), cells.shape[0]]


def _maximal(cells: Bools) -> list[Box]:
    """Rectangles that end at each row and cannot grow sideways or downward (the histogram of each row)."""
    found: list[Box] = []
    columns = cells.shape[0]
    tall = [0] * columns
    for row in range(cells.shape[1]):
        tall = [tall[x] + 1 if cells[x, row] else 0 for x in range(columns)]
        # columns from which on a rectangle of such a height reaches
        open_: list[tuple[int, int]] = []
        for x, height in enumerate([*tall, 0]):
            begun = x
            while open_ and open_[-1][1] >= height:
                begun, was = open_.pop()
                if was > height:
                    found.append((begun, row + 1 - was, x, row + 1))
            if height:
                open_.append((begun, height))
    return found
