"""Irregular cloth for bounds: what straight cuts could at most isolate, on a grid that loses nothing.

A line of the grid stands for all cuts between it and the next one. A cell counts as cloth when any usable cloth
lies in it, and a part fits between two lines when it fits between some two cuts that they stand for.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from cutopt.cloth import Cloth
from cutopt.fabric import Outline
from cutopt.geometry import ceil_sqrt, edges
from cutopt.solve.bounds.relaxed import (
    LENGTH_UNIT,
    Need,
    Relaxed,
    RelaxedCloth,
    usable_span,
)
from cutopt.solve.kernels.loader import load
from cutopt.solve.plates.plate_table import TURNED, UNTURNED, Ints

Bools = NDArray[np.bool_]
# a side of the first grid
MOST_CELLS = 24
FINE_CELLS = 42


class Scratch:
    """Two tables that the windows of one piece after the other are worked out in."""

    def __init__(self) -> None:
        self._single = np.zeros(0, dtype=np.int64)
        self._values = np.zeros(0, dtype=np.int64)

    def tables(self, rows: int, columns: int) -> tuple[Ints, Ints]:
        """Both, of this shape, with whatever was in them."""
        size = rows * columns
        if len(self._single) < size:
            self._single, self._values = (
                np.zeros(size, dtype=np.int64) for _ in range(2)
            )
        return self._single[:size].reshape(rows, columns), self._values[:size].reshape(
            rows, columns
        )


class WindowTable:
    """Best values of the windows of one irregular piece, at prices that may change.

    Raises
    ------
    ValueError
        When the piece is so large beside the smallest part that the grid would not be fine enough.
    """

    def __init__(
        self,
        problem: Relaxed,
        source: RelaxedCloth,
        scratch: Scratch,
        most_cells: int = MOST_CELLS,
    ) -> None:
        assert source.cloth is not None
        self.index = problem.served(source.ways)
        self.needs = [problem.needs[k] for k in self.index]
        self.turns = [problem.ways[source.ways][k] for k in self.index]
        sizes = _sizes(self.needs, self.turns)
        self.xs = lines(*usable_span(source.cloth, 0), sizes[0], most_cells)
        self.ys = lines(*usable_span(source.cloth, 1), sizes[1], most_cells)
        cells = touched_cells(source.cloth, self.xs, self.ys)
        self.missing = np.zeros((len(self.xs), len(self.ys)), dtype=np.int64)
        self.missing[1:, 1:] = np.cumsum(np.cumsum(~cells, axis=0), axis=1)
        self.reach_x, self.reach_y = _reach(self.xs), _reach(self.ys)
        self.widths, self.lengths = (
            np.unique([size for size, _ in either]) for either in sizes
        )
        self.class_x = np.searchsorted(self.widths, self.reach_x, side="right")
        self.class_y = np.searchsorted(self.lengths, self.reach_y, side="right")
        self.scratch = scratch

    @property
    def work(self) -> int:
        """About how many additions one filling takes."""
        n = len(self.xs)
        m = len(self.ys)
        return n * n * m * m * (n + m) // 12

    def fill(self, prices: Sequence[int]) -> int:
        """The most that the piece can be worth at these prices of the needs of the problem."""
        kernels = load("windows", compiled=True)
        n = len(self.xs)
        m = len(self.ys)
        self.prices = prices
        self.plain, self.which, strips = self._priced(prices)
        self.single, self.values = self.scratch.tables(n * n, m * (m - 1) // 2)
        kernels.enter(
            n,
            m,
            self.missing,
            self.class_x,
            self.class_y,
            self.plain,
            self.reach_x,
            self.reach_y,
            strips,
            self.single,
        )
        kernels.fill(n, m, self.single, self.values)
        return int(self.values[n - 1, m - 2])

    def _priced(self, prices: Sequence[int]) -> tuple[Ints, Ints, Ints]:
        """Best rectangle by class of width and length, which need that is, and the strips for the kernel."""
        plain = np.zeros((len(self.widths) + 1, len(self.lengths) + 1), dtype=np.int64)
        which = np.full(plain.shape, -1, dtype=np.int64)
        strips = []
        for k, need, turns in zip(self.index, self.needs, self.turns, strict=True):
            for way, w, length in (
                (UNTURNED, need.w, need.l),
                (TURNED, need.l, need.w),
            ):
                if not turns & way or prices[k] <= 0:
                    continue
                if need.strip:
                    strips.append(
                        (
                            need.w,
                            need.l,
                            need.loss,
                            LENGTH_UNIT,
                            need.cap,
                            prices[k],
                            way == TURNED,
                            k,
                        )
                    )
                    continue
                i = int(np.searchsorted(self.widths, w)) + 1
                j = int(np.searchsorted(self.lengths, length)) + 1
                better = plain[i:, j:] < prices[k]
                plain[i:, j:][better], which[i:, j:][better] = prices[k], k
        return plain, which, np.array(strips, dtype=np.int64).reshape(-1, 8)

    def counts(self) -> dict[int, int]:
        """How much of each need (by number in the problem) a best plan of the whole piece holds."""
        n = len(self.xs)
        m = len(self.ys)
        stack = np.zeros((n * m + 2, 4), dtype=np.int64)
        found = np.zeros((n * m + 2, 4), dtype=np.int64)
        leaves = load("windows", compiled=True).trace(
            n, m, self.single, self.values, stack, found
        )
        total: dict[int, int] = {}
        for k1, k2, j1, j2 in found[:leaves].tolist():
            worth = int(
                self.values[k1 * n + k2, j1 * (m - 1) - j1 * (j1 + 1) // 2 - 1 + j2]
            )
            need, amount = self._held(worth, (k1, k2), (j1, j2))
            total[need] = total.get(need, 0) + amount
        return total

    def _held(
        self, worth: int, x: tuple[int, int], y: tuple[int, int]
    ) -> tuple[int, int]:
        classes = (self.class_x[x], self.class_y[y])
        if self.plain[classes] == worth:
            return int(self.which[classes]), 1
        across = int(self.reach_x[x])
        along = int(self.reach_y[y])
        for k, need, turns in zip(self.index, self.needs, self.turns, strict=True):
            for way, width, length in (
                (UNTURNED, across, along),
                (TURNED, along, across),
            ):
                if (
                    need.strip
                    and turns & way
                    and width >= need.w
                    and need.counts(length) * self.prices[k] == worth
                ):
                    return k, need.counts(length)
        raise AssertionError("a window is priced by a part that it cannot hold")


def _sizes(
    needs: Sequence[Need], turns: Sequence[int]
) -> tuple[list[tuple[int, int]], list[tuple[int, int]]]:
    """Sizes with their weights, across and along."""
    across: list[tuple[int, int]] = []
    along: list[tuple[int, int]] = []
    for need, way in zip(needs, turns, strict=True):
        if way & UNTURNED:
            across.append((need.w, need.worth))
            along.append((need.l, 0 if need.strip else need.worth))
        if way & TURNED:
            along.append((need.w, need.worth))
            across.append((need.l, 0 if need.strip else need.worth))
    return across, along


def lines(low: int, high: int, sizes: Sequence[tuple[int, int]], most: int) -> Ints:
    """Lines from `low` to `high` at a distance that loses least of the sizes and is at most the least of them.

    Parameters
    ----------
    low, high : int
        Ticks.
    sizes : sequence of (int, int)
        Sizes of parts in ticks, each with its weight.
    most : int
        Cells.

    Raises
    ------
    ValueError
        Where the piece is so large beside the smallest part that the grid would not be fine enough.
    """
    least = min(size for size, _ in sizes)
    extent = max(high - low, 1)
    if -(-extent // most) > least:
        raise ValueError("too large a piece for a grid of windows")
    tried = {
        size // parts
        for size, _ in sizes
        for parts in range(1, 1 + size * most // extent)
    } | {max(1, -(-extent // most))}
    fine = [
        step
        for step in tried
        if step > 0 and step <= least and -(-extent // step) <= most
    ]

    def kept(step: int) -> tuple[float, int]:
        return sum(
            weight * (size // step * step) / size for size, weight in sizes
        ), -step

    step = max(fine or [-(-extent // most)], key=kept)
    return np.append(np.arange(low, low + extent, step, dtype=np.int64), low + extent)


def _reach(points: Ints) -> Ints:
    """For each pair of lines the widest part between cuts that they may stand for; -1 where not in order."""
    n = len(points)
    after = np.append(points[1:] - 1, points[-1])
    reach = after[None, :] - points[:, None]
    reach[np.arange(n)[:, None] >= np.arange(n)[None, :]] = -1
    return np.ascontiguousarray(reach, dtype=np.int64)


def touched_cells(cloth: Cloth, xs: Ints, ys: Ints) -> Bools:
    """Cells in which some usable cloth may lie: met by the outline or in it, not all in a flaw or lost margin.

    Parameters
    ----------
    cloth : Cloth
    xs, ys : arrays (n + 1,) and (m + 1,)
        Lines of the grid, ticks in order.
    """
    cells = _middle_inside(cloth.outline, xs, ys)
    for p, q in edges(cloth.outline):
        cells |= _met(xs, ys, p, q)  # type: ignore[arg-type]
    for (p, q), margin in zip(edges(cloth.outline), cloth.margins, strict=True):
        if margin:
            cells &= ~_all_near(xs, ys, p, q, margin)  # type: ignore[arg-type]
    for flaw in cloth.flaws:
        spoilt = _middle_inside(flaw, xs, ys)
        for p, q in edges(flaw):
            spoilt &= ~_met(xs, ys, p, q)  # type: ignore[arg-type]
        cells &= ~spoilt
    return cells


def _middle_inside(outline: Outline, xs: Ints, ys: Ints) -> Bools:
    """Whether the middle of each cell lies in the polygon (even-odd rule, on doubled coordinates)."""
    mx = (xs[:-1] + xs[1:])[:, None]
    my = (ys[:-1] + ys[1:])[None, :]
    inside = np.zeros((len(xs) - 1, len(ys) - 1), dtype=np.bool_)
    for (ax, ay), (bx, by) in edges(outline):
        ax, ay, bx, by = (2 * int(v) for v in (ax, ay, bx, by))
        if ay != by:
            between = (ay > my) != (by > my)
            turn = (bx - ax) * (my - ay) - (by - ay) * (mx - ax)
            inside ^= between & ((turn > 0) == (by > ay))
    return inside


def _met(x: Ints, y: Ints, p: tuple[int, int], q: tuple[int, int]) -> Bools:
    """Cells whose inside the segment pq meets."""
    over_x = (x[:-1] < max(p[0], q[0])) & (x[1:] > min(p[0], q[0]))
    over_y = (y[:-1] < max(p[1], q[1])) & (y[1:] > min(p[1], q[1]))
    side = (q[0] - p[0]) * (y[None, :] - p[1]) - (q[1] - p[1]) * (x[:, None] - p[0])
    corners = np.stack((side[:-1, :-1], side[1:, :-1], side[:-1, 1:], side[1:, 1:]))
    both = (corners.min(axis=0) < 0) & (corners.max(axis=0) > 0)
    return np.asarray(over_x[:, None] & over_y[None, :] & both)


def _all_near(
    x: Ints, y: Ints, p: tuple[int, int], q: tuple[int, int], margin: int
) -> Bools:
    """Cells that lie wholly nearer to the segment than `margin`: their corners do, and what is near is convex."""
    dx = q[0] - p[0]
    dy = q[1] - p[1]
    length2 = dx * dx + dy * dy
    rx = x[:, None] - p[0]
    ry = y[None, :] - p[1]
    along = rx * dx + ry * dy
    reach = ceil_sqrt(margin * margin * length2)
    near = (along >= 0) & (along <= length2) & (np.abs(dx * ry - dy * rx) < reach)
    for end in (p, q):
        near |= (x[:, None] - end[0]) ** 2 + (
            y[None, :] - end[1]
        ) ** 2 < margin * margin
    return np.asarray(near[:-1, :-1] & near[1:, :-1] & near[:-1, 1:] & near[1:, 1:])
