"""How much of a piece of cloth can show in a back, whatever parts it is cut into.

With one allowance g for all seams the sides of parts less 2 g add up: where w and v are sewn side by side, what comes
out is w + v - 2 g wide, and less 2 g that is (w - 2 g) + (v - 2 g). So a back of W x H holds parts whose sides, less
2 g each, cover (W - 2 g) x (H - 2 g) without gap or overlap, as if each had all four seams; what a part at the outer
edge keeps, the back has more. Of cloth of a x b parts can cover no more than (a - 2 g) (b - 2 g), since each cut
takes 2 g once more; of an outline no more than what is left of it when a strip of g is taken off all round, and no
more than its windows (:mod:`cutopt.solve.bounds.back_windows`).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cutopt.cloth import Cloth
from cutopt.geometry import bounds, is_rectangle
from cutopt.solve.bounds.back_windows import shown_by_windows
from cutopt.solve.bounds.relaxed import usable_box, usable_span
from cutopt.solve.bounds.windows import Bools, touched_cells
from cutopt.solve.model.cells import summed, usable_cells
from cutopt.solve.plates.plate_table import Ints

# lines of a grid along an axis
_MOST_LINES = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRules:
    """What holds for every part of a back.

    Parameters
    ----------
    seam : int
        What is counted as lost on each side of a part, no more than any of its seams takes; ticks.
    least : int
        No part is cut narrower; at least twice `seam`.
    longest : int
        No part shows more than this along either side, as sides are counted here; ticks.
    step : int
        The grid on which outlines are looked at, ticks.
    """

    seam: int
    least: int
    longest: int
    step: int

    def along(self, side: int) -> int:
        """The most that parts one after the other show of a side (ticks): the fewer they are, the more.

        Each shows `longest` at most, and takes two allowances.
        """
        if side < self.least:
            return 0
        parts = 1
        while parts * self.longest < side - 2 * self.seam * parts:
            parts = parts + 1
        # one part less would be longer than allowed, so it is cut off
        fewer = (parts - 1) * self.longest
        return max(side - 2 * self.seam * parts, fewer, 0)

    def of_box(self, width: int, length: int) -> int:
        """The most that parts cut from a rectangle show, square ticks."""
        return self.along(width) * self.along(length)

    def of_cloth(self, cloth: Cloth, *, sharp: bool = False) -> int:
        """The most that parts cut from a piece of any shape show, square ticks.

        `sharp`: look closer at slanting sides, with compiled kernels, about 0.1 s a piece.
        """
        box = self.of_box(*usable_box(cloth))
        if not box or (is_rectangle(cloth.outline) and not cloth.flaws):
            return box
        found = [box, self._of_outline(cloth)]
        by_windows = shown_by_windows(cloth, self.seam, self.least, compiled=sharp)
        if by_windows is not None:
            found.append(by_windows)
        return min(found)

    def _of_outline(self, cloth: Cloth) -> int:
        """The area that is left of what parts may cover when a strip is taken off all round."""
        step = self._step(cloth)
        (left, below), whole = usable_cells(cloth, step)
        x1, y1, x2, y2 = map(int, bounds(cloth.outline))
        # a line stands where a straight side is squared up
        xs = _lines((x1, x2), left, step)
        ys = _lines((y1, y2), below, step)
        touched = touched_cells(cloth, xs, ys)
        inner = np.zeros_like(touched)
        x, y = (left - int(xs[0])) // step, (below - int(ys[0])) // step
        inner[x : x + whole.shape[0], y : y + whole.shape[1]] = whole
        # so many cells of any part are whole, each way
        side = self.least // step - 1
        reach = _grown(_opened(inner, side)) & touched
        shown = _shrunk(reach, self.seam // step)
        return int(np.count_nonzero(shown)) * step * step

    def _step(self, cloth: Cloth) -> int:
        """Of the grid, or coarser where the piece is large; fine enough for two cells in a part."""
        longest = max(
            high - low for low, high in (usable_span(cloth, 0), usable_span(cloth, 1))
        )
        step = self.step
        while longest > _MOST_LINES * step:
            step = 2 * step
        while self.least < 2 * step:
            step = max(step // 2, 1)
        return step


def _lines(span: tuple[int, int], origin: int, step: int) -> Ints:
    """Lines at steps from an origin that reach over a span."""
    first = origin - -(-(origin - span[0]) // step) * step
    return np.arange(first, span[1] + step, step, dtype=np.int64)


def _opened(cells: Bools, side: int) -> Bools:
    """The cells that lie in some full square of so many cells a side."""
    if side < 1:
        return np.ones_like(cells)
    columns, rows = cells.shape
    found = np.zeros_like(cells)
    if columns < side or rows < side:
        return found
    table = summed(cells)
    full = (
        table[side:, side:]
        - table[:-side, side:]
        - table[side:, :-side]
        + table[:-side, :-side]
    ) == side * side
    # a cell is in one where one begins among the last `side` places each way
    starts = np.zeros((columns + side - 1, rows + side - 1), dtype=np.bool_)
    starts[side - 1 : side - 1 + full.shape[0], side - 1 : side - 1 + full.shape[1]] = (
        full
    )
    marks = summed(starts)
    met = (
        marks[side:, side:]
        - marks[:-side, side:]
        - marks[side:, :-side]
        + marks[:-side, :-side]
    )
    return np.asarray(met > 0)


def _grown(cells: Bools) -> Bools:
    """The same with all their neighbours, corner to corner as well."""
    wide = np.zeros((cells.shape[0] + 2, cells.shape[1] + 2), dtype=np.bool_)
    for x in range(3):
        for y in range(3):
            wide[x : x + cells.shape[0], y : y + cells.shape[1]] |= cells
    return wide[1:-1, 1:-1]


def _shrunk(cells: Bools, off: int) -> Bools:
    """The cells all of whose neighbours as far as `off` each way are there."""
    side = 2 * off + 1
    if min(cells.shape) < side:
        return np.zeros((0, 0), dtype=np.bool_)
    table = summed(cells)
    full = (
        table[side:, side:]
        - table[:-side, side:]
        - table[side:, :-side]
        + table[:-side, :-side]
    ) == side * side
    return np.asarray(full)
