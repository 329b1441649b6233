"""Every size of one axis at once and few of the other: the plate programme without plans that lose much.

On a very large plate most plans lose more of its bound by two scales (`two_scales.py`) than the best one known does.
Without them the table of all sizes of one axis and some hundred of the other (lanes) takes seconds, and the best plan
on it leaves little to chance.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cutopt.solve.kernels import lanes as k
from cutopt.solve.kernels.loader import load
from cutopt.solve.plates.large.two_scales import Pair
from cutopt.solve.plates.plate_table import Ints, PlateTable

# lanes that are worked on together
_AT_ONCE = 16
# before the next question whether to stop
_ROWS = 256


class LanesTable(PlateTable):
    """Best values of the plates of plans worth at least `known`; below 0 for plates that these do not have.

    Parameters
    ----------
    xs, ys, limit
        As of any table, but few heights, or few widths if `turned`. Of the other axis all sizes must be there.
    pair : Pair
        Two scales of the plate `limit`.
    known : int
        The value of a plan.
    share : int
        A single cut may lose one in so many of what a plan may lose; 1 leaves no plan out.
    stop : callable
        Asked all the time; the plate is worth less than nothing then.
    turned : bool
    """

    def __init__(
        self,
        xs: Ints,
        ys: Ints,
        limit: tuple[int, int],
        pair: Pair,
        known: int,
        share: int,
        stop: Callable[[], bool],
        *,
        turned: bool = False,
    ) -> None:
        super().__init__(xs, ys, limit)
        self._turned = turned
        self._sides = _Side(xs, self.below_x, pair.f), _Side(ys, self.below_y, pair.g)
        self._budget = pair.top - known * pair.up
        self._up = pair.up
        self._stop = stop
        self._cut = self._budget // share

    def fill_from(self, base: Ints) -> None:
        """As of any table."""
        self.base = base
        across, along = self._sides
        if self._turned:
            values = np.zeros_like(self.values.T, order="C")
            self._fill(along, across, np.ascontiguousarray(base.T), values)
            self.values[:] = values.T
        else:
            self._fill(across, along, base, self.values)

    def _fill(self, across: _Side, along: _Side, base: Ints, values: Ints) -> None:
        rows = len(across.sizes)
        count = len(along.sizes)
        wide = across.table
        starts, pairs, losses = along.ways(self._cut // max(1, int(wide[1, k.SCALE])))
        sides = k.Sides(
            across=wide,
            along=along.table,
            below=across.below,
            budget=self._budget,
            cut=self._cut,
            up=self._up,
            starts=starts,
            pairs=pairs,
            losses=losses,
        )
        fill = load("lanes", compiled=True).fill
        filling = k.Filling(
            base=base,
            v=values,
            lanes=None,
            pieces=np.zeros((rows, k.PIECE), dtype=np.int64),
            worth=np.zeros(rows, dtype=np.int64),
            state=None,
        )
        for lo in range(1, count, _AT_ONCE):
            hi = min(lo + _AT_ONCE, count)
            filling = filling._replace(
                lanes=np.zeros((rows, hi - lo), dtype=np.int64),
                state=np.zeros(k.STATE, dtype=np.int64),
            )
            for first in range(1, rows, _ROWS):
                if self._stop():
                    values[-1, -1] = k.DEAD
                    return
                fill(sides, filling, first, min(first + _ROWS, rows), lo, hi)


@dataclass(frozen=True, slots=True)
class _Side:
    """The sizes of one axis, which of them is the largest for each length, and the scale of each length."""

    sizes: Ints
    below: NDArray[np.int32]
    scale: Ints

    @property
    def table(self) -> Ints:
        """Each size, its scale, and what the scale loses by all means beside it."""
        at = self.scale[self.sizes]
        return np.column_stack(
            (self.sizes, at, self.scale[-1] - at - self.scale[::-1][self.sizes])
        )

    def ways(self, most: int) -> tuple[Ints, Ints, Ints]:
        """Which two sizes make each one and lose at most `most`: where those of each begin, the pairs, their losses."""
        starts = [0, 0]
        pairs = [np.zeros((0, 2), dtype=np.int64)]
        losses = [np.zeros(0, dtype=np.int64)]
        at = self.scale[self.sizes]
        for j, size in enumerate(self.sizes[1:], 1):
            first = np.arange(1, np.searchsorted(self.sizes, size // 2, side="right"))
            second = self.below[size - self.sizes[first]]
            loss = at[j] - at[first] - at[second]
            order = np.argsort(loss, kind="stable")
            order = order[loss[order] <= most]
            pairs.append(np.column_stack((first, second))[order])
            losses.append(loss[order])
            starts.append(starts[-1] + len(order))
        return np.array(starts), np.concatenate(pairs), np.concatenate(losses)
