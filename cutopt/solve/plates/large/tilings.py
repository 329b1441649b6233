"""Parts worth their area on a very large plate: plans of columns of rows that hardly leave anything.

Which rectangles are filled by blocks of parts to the last unit is a question of yes and no, asked of all widths at
once (a bit each): w x h is, if it is a grid of one part, or if a cut leaves two that are. A column of a plan is as
high as the plate and is cut into such rows, which may leave a unit of its width.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from cutopt.solve.kernels.loader import load
from cutopt.solve.kernels.tilings import BITS
from cutopt.solve.plates.large.part_columns import Sizes, fill_length, work_through
from cutopt.solve.plates.plate_table import Ints

# of the width of a row
_WASTE = 1
# highest row and widest column
_STAGES = ((1500, 3000), (6000, 6000))
# additions of the columns of a stage
_MOST_WORK = 15_000_000_000
# before the next question whether to stop
_AT_ONCE = 30_000_000


def by_area(widths: Ints, heights: Ints, values: Ints) -> bool:
    """Whether all parts are worth alike by area.

    Parameters
    ----------
    widths, heights, values : arrays (ways,)
        Of the parts, as they may lie.
    """
    sides = zip(widths.tolist(), heights.tolist(), values.tolist(), strict=True)
    return len({Fraction(value, w * h) for w, h, value in sides}) == 1


def tilings(
    w: int,
    h: int,
    widths: Ints,
    heights: Ints,
    large: NDArray[np.bool_],
    stop: Callable[[], bool],
) -> Iterator[Sizes]:
    """The widths and heights of all plates of plans of columns, then of rows, then of both with larger ones.

    The larger ones are made of the `large` parts only: a plan may hold no more than so many copies of a small one.

    Parameters
    ----------
    w, h : int
        The plate.
    widths, heights : arrays (ways,)
        Of the parts, as they may lie.
    large : array of bool (ways,)
        Those of which a plan may hold as many as fit.
    stop : callable
    """
    before = 0, 0
    for stage in _STAGES:
        if before[0]:
            widths = widths[large]
            heights = heights[large]
        if not len(widths):
            return
        for turned in (False, True):
            if turned:
                sides = (h, w, heights, widths)
            else:
                sides = (w, h, widths, heights)
            limits = min(stage[0], sides[1]), min(stage[1], sides[0])
            if limits == (min(before[0], sides[1]), min(before[1], sides[0])):
                continue
            found = _Tilings(*sides, limits, stop).sizes()
            if found is None:
                return
            yield found[::-1] if turned else found
        before = stage


def _add_multiples(sizes: set[int], before: int, size: int, copies: int) -> int:
    """Add what copies of a size make, by themselves and after what was there before; where they end."""
    for n in range(1, copies + 1):
        sizes.add(n * size)
        sizes.add(before + n * size)
    return before + copies * size


class _Tilings:
    """Rows of a plate w x h, and the best columns of them."""

    def __init__(
        self,
        w: int,
        h: int,
        widths: Ints,
        heights: Ints,
        limits: tuple[int, int],
        stop: Callable[[], bool],
    ) -> None:
        self.w = w
        self.h = h
        self.stop = stop
        self.high, self.wide = limits
        self.ways = sorted(set(zip(heights.tolist(), widths.tolist(), strict=True)))
        self.kernels = load("tilings", compiled=True)
        self.tiled = np.zeros((self.high + 1, w // BITS + 1), dtype=np.int64)
        self.rank, self.ranked = (
            np.zeros(self.high + 2, dtype=np.int64) for _ in range(2)
        )

    def sizes(self) -> Sizes | None:
        """The sizes of all plates of a best plan; nothing if it was stopped."""
        best = np.zeros(self.wide + 1, dtype=np.int64)
        if not self._fill_rows() or not self._fill_columns(best):
            return None
        across = set[int]()
        along = set[int]()
        beside = 0
        columns = np.flatnonzero(best)
        for x, copies in fill_length(self.w, columns, best[columns]):
            beside = _add_multiples(across, beside, x, copies)
            above = 0
            for y, rows in self._rows_of(x):
                above = _add_multiples(along, above, y, rows)
                self._split(x, y, across, along)
        return across, along

    def _fill_rows(self) -> bool:
        sides = (
            np.array([way[n] for way in self.ways], dtype=np.int64) for n in (1, 0)
        )
        args = (
            *sides,
            self.tiled,
            self.rank,
            self.ranked,
            np.zeros(self.tiled.shape[1], dtype=np.int64),
        )
        y = 1
        while y <= self.high:
            if self.stop():
                return False
            # pairs of rows below, and sums of widths: a thousand at most
            step = max(
                1, _AT_ONCE // (self.tiled.shape[1] * (int(self.rank[-1]) // 2 + 1000))
            )
            self.kernels.rows(y, min(y + step, self.high + 1), *args)
            y += step
        return True

    def _fill_columns(self, best: Ints) -> bool:
        count = int(self.rank[-1])
        f = np.zeros(self.h + 1, dtype=np.int64)
        scratch = [np.zeros(count + 1, dtype=np.int64) for _ in range(2)]
        tables = self.tiled, self.rank, f, *scratch, best
        kernel = self.kernels.columns
        return work_through(
            self.wide,
            self.stop,
            lambda a, b: int(kernel(a, b, _WASTE, *tables)),
            _MOST_WORK,
        ) and bool(best.any())

    def _rows_of(self, x: int) -> list[tuple[int, int]]:
        """The best rows of a column: (height, copies)."""
        worth = {}
        for y in self.rank[: int(self.rank[-1])].tolist():
            width = self._width(x, y)
            if width:
                worth[y] = y * width
        return fill_length(
            self.h,
            *(np.array(list(side), dtype=np.int64) for side in (worth, worth.values())),
        )

    def _width(self, x: int, y: int) -> int:
        """The most of a row y high that is filled exactly and leaves no more of the width x than it may."""
        return next(
            (z for z in range(x, max(x - _WASTE - 1, 0), -1) if self._fills(z, y)), 0
        )

    def _fills(self, x: int, y: int) -> bool:
        return bool(int(self.tiled[y, x // BITS]) >> (x % BITS) & 1)

    def _grid(self, x: int, y: int) -> bool:
        return any(y % high == 0 and x % wide == 0 for high, wide in self.ways)

    def _split(self, x: int, y: int, across: set[int], along: set[int]) -> None:
        """The sizes of all plates that a row is made of."""
        todo = [(self._width(x, y), y)]
        while todo:
            x, y = todo.pop()
            across.add(x)
            along.add(y)
            if not self._grid(x, y):
                todo += self._halves(x, y)

    def _halves(self, x: int, y: int) -> list[tuple[int, int]]:
        """Two blocks that fill x x y: grids of one part where that goes."""
        cuts = [
            ((a, y), (x - a, y))
            for a in range(1, x // 2 + 1)
            if self._fills(a, y) and self._fills(x - a, y)
        ]
        cuts += [
            ((x, b), (x, y - b))
            for b in range(1, y // 2 + 1)
            if self._fills(x, b) and self._fills(x, y - b)
        ]
        return list(max(cuts, key=lambda cut: sum(self._grid(*side) for side in cut)))
