"""Search over sets of sizes of one very large plate: exact over few sizes of an axis at a time.

The plate programme (`plate_table.py`) on some two hundred widths and heights, with the best grid of one part in each
of its plates, takes milliseconds. The sizes that the best plan uses are kept, the others drawn anew
(`drawn_sizes.py`). No set is worse than the one before. With every size of one axis (`size_lanes.py`) it takes
seconds, and leaves less to chance.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from cutopt.solve.kernels.loader import load
from cutopt.solve.plates.large.drawn_sizes import Axis
from cutopt.solve.plates.large.part_columns import columns
from cutopt.solve.plates.large.size_lanes import LanesTable
from cutopt.solve.plates.large.tilings import by_area, tilings
from cutopt.solve.plates.large.two_scales import Pair
from cutopt.solve.plates.plate_table import Ints, PlatePart, PlatePlacement, PlateTable

# of an axis at a time
_SIZES = 220
# sizes of one axis beside every size of the other: more after tries in vain
_FEW = (100, 100)
_MANY = (400, 400)
# a single cut may lose this part of what a plan may lose then
_CUT_SHARE = 16
# tries on few sizes (of many parts more) without a better plan before it is quiet
_QUIET = 40
_QUIET_BY_AREA = 20
# tries on few sizes with which a climb begins
_BEGUN = 20
# parts of most worth by area and others that grids are made of in one try
_FIRST = 100
_OTHERS = 60
# a plan by area that falls this part short of the bound will do
_CLOSE = 800_000
# by area, of the best, of parts of the first plan
_LEAST_WORTH = 0.5
# of a part: more cannot be asked for
_MOST_COPIES = 10_000

# part, width, height, turned
Way: TypeAlias = tuple[int, int, int, bool]
# number of a way, copies across and up, x, y of its lower left corner
Grid: TypeAlias = tuple[int, int, int, int, int]
Plan: TypeAlias = list[PlatePlacement]


class SizesSearch:
    """The search on one plate."""

    def __init__(self, w: int, h: int, parts: Sequence[PlatePart], seed: int) -> None:
        self.w, self.h, self.parts, self.rng = w, h, parts, random.Random(seed)
        ways = [
            (k, *way)
            for k, part in enumerate(parts)
            for way in part.ways()
            if way[0] <= w and way[1] <= h
        ]
        # of equal worth by area the larger parts first: fewer cuts
        area = [part.w * part.h for part in parts]
        self.ways: list[Way] = sorted(
            ways, key=lambda way: (-parts[way[0]].value / area[way[0]], -area[way[0]])
        )
        self.widths, self.heights = (
            np.array([way[n] for way in self.ways], dtype=np.int64) for n in (1, 2)
        )
        self.worth = np.array(
            [parts[way[0]].value for way in self.ways], dtype=np.int64
        )
        self.across, self.along = (
            Axis(w, self.widths, self.rng),
            Axis(h, self.heights, self.rng),
        )
        self.value = -1
        self.vain = 0
        self.plan: Plan = []
        self.used: set[int] = set()
        self.turned = True
        self.by_area = by_area(self.widths, self.heights, self.worth)

    @property
    def quiet(self) -> bool:
        """Whether tries on few sizes hardly find anything any more."""
        return self.vain >= (
            _QUIET_BY_AREA if self.by_area else max(_QUIET, len(self.ways) // 3)
        )

    def begin(self, bound: int, stop: Callable[[], bool]) -> None:
        """The best of plans of columns and plans of rows, of the parts of much worth by area (where there are some)."""
        density = self.worth / (self.widths * self.heights)
        # of each part on all of the plate
        copies = self.w * self.h // (self.widths * self.heights)
        if self.by_area:
            whole = self.across.whole, self.along.whole
            for sizes in tilings(
                *whole, self.widths, self.heights, copies <= 4 * _MOST_COPIES, stop
            ):
                self._turn_at(*sizes)
                if self.value >= bound - bound // _CLOSE:
                    return
            return
        best = (copies <= 2 * _MOST_COPIES) & (density >= _LEAST_WORTH * density[0])
        if np.count_nonzero(best) < 2:
            return
        sides = self.widths[best], self.heights[best]
        self._turn_at(*columns(self.w, self.h, *sides, self.worth[best], stop))
        if not stop():
            self._turn_at(
                *columns(self.h, self.w, *sides[::-1], self.worth[best], stop)[::-1]
            )

    def _turn_at(self, across: set[int], along: set[int]) -> None:
        self.turn((sorted(across), sorted(along)))

    def take(self, value: int, plan: Plan) -> None:
        """A better plan from elsewhere, unless it holds too many copies of a part."""
        if max(Counter(k for k, *_ in plan).values()) <= _MOST_COPIES:
            self.value = value
            self.vain = 0
            self.plan = plan

    def turn(self, start: tuple[list[int], list[int]] | None = None) -> None:
        """Draw sizes beside those kept (or of a start), and keep those of the best plan on them if it is no worse."""
        kept = self.across.kept, self.along.kept
        self.across.kept, self.along.kept = start or kept
        table = PlateTable(
            self.across.drawn(_SIZES), self.along.drawn(_SIZES), (self.w, self.h)
        )
        if not self.improve(table, everything=start is not None):
            self.across.kept, self.along.kept = kept

    def anew(self) -> SizesSearch:
        """A search of the same plate with other draws."""
        return SizesSearch(self.w, self.h, self.parts, self.rng.randrange(1 << 30))

    def learn(self, other: SizesSearch) -> None:
        """Remember the sizes that another search keeps, and take its plan if that is better."""
        self.across.learn(other.across.kept)
        self.along.learn(other.along.kept)
        if other.value > self.value:
            self.value = other.value
            self.plan = other.plan
            self.used = other.used
            self.across.kept, self.along.kept = other.across.kept, other.along.kept

    def climb(self, pair: Pair, stop: Callable[[], bool]) -> None:
        """Better the plan with every size of one axis until tries are in vain; a new search has some others first."""
        lanes = *_FEW, *_MANY
        # few lanes give nothing to a search that is quiet
        self.vain = len(_FEW)
        if not self.plan:
            for _ in range(_BEGUN):
                if not stop():
                    self.turn()
            self.vain = 0
        while self.vain < len(lanes) and not stop():
            self.whole(pair, lanes[self.vain], stop)

    def whole(self, pair: Pair, lanes: int, stop: Callable[[], bool]) -> None:
        """A try with every size of one axis, of both in turn, and so many of the other.

        Parameters
        ----------
        pair : Pair
            Two scales of the plate.
        lanes : int
            Sizes of the other axis.
        stop : callable
        """
        self.turned = not self.turned
        if self.turned:
            xs = self.across.drawn(lanes)
        else:
            xs = self.across.every
        if self.turned:
            ys = self.along.every
        else:
            ys = self.along.drawn(lanes)
        limits = (self.w, self.h), pair, self.value, _CUT_SHARE
        table = LanesTable(xs, ys, *limits, stop, turned=self.turned)
        self.improve(table)

    def improve(self, table: PlateTable, *, everything: bool = True) -> bool:
        """Whether the best plan on the sizes of a table is no worse; it and its sizes are kept then.

        Grids are made of every part, or of those of much worth and some others.
        """
        now, which = self._grids(table, everything=everything)
        value = table.value(self.w, self.h)
        self.vain += 1
        if value < self.value:
            return False
        grids = list[Grid]()
        for i, j, x, y in table.leaves(self.w, self.h).tolist():
            way = int(now[which[i, j]])
            grids.append(
                (
                    way,
                    int(table.xs[i] // self.widths[way]),
                    int(table.ys[j] // self.heights[way]),
                    x,
                    y,
                )
            )
        if self.value > 0 and self._most_copies(grids) > _MOST_COPIES:
            return False
        self.across.kept, self.along.kept = (
            points[met > 0].tolist()
            for points, met in zip((table.xs, table.ys), table.met, strict=True)
        )
        self.used = {way for way, *_ in grids}
        if value > self.value:
            self.value, self.vain, self.plan = value, 0, self._placed(grids)
        return True

    def _grids(
        self, table: PlateTable, *, everything: bool
    ) -> tuple[Ints, NDArray[np.int32]]:
        """Fill the table from the best grids of one part; ways of parts, and which of these each grid is of."""
        base = np.zeros_like(table.values)
        which = np.zeros(table.values.shape, dtype=np.int32)
        grids = load("plates", compiled=True).grids
        count = len(self.ways)
        chosen = set(range(count))
        if count > _FIRST + _OTHERS and not everything:
            others = self.rng.sample(range(_FIRST, count), _OTHERS)
            chosen = {*range(_FIRST), *self.used, *others}
        now = np.array(sorted(chosen), dtype=np.int64)
        sizes = table.xs, table.ys, table.below_x, table.below_y
        grids(
            *sizes,
            self.widths[now],
            self.heights[now],
            self.worth[now],
            _MOST_COPIES,
            base,
            which,
        )
        table.fill_from(base)
        return now, which

    def _most_copies(self, grids: Sequence[Grid]) -> int:
        """Copies of the part that a plan holds most often."""
        copies = Counter[int]()
        for way, across, up, _, _ in grids:
            copies[self.ways[way][0]] += across * up
        return max(copies.values())

    def _placed(self, grids: Sequence[Grid]) -> Plan:
        placed: Plan = []
        for way, across, up, x, y in grids:
            k, w, h, turned = self.ways[way]
            placed += [
                (k, x + a * w, y + b * h, turned)
                for a in range(across)
                for b in range(up)
            ]
        return placed
