"""One plate, copies limited: the most value, proved.

Blocks are built up by joining two side by side or one on the other, best first (Viswanathan & Bagchi 1993,
Operations Research 41(4), 768-776); what can still be added round a block is bounded by the plate programme with copies
unlimited, once plainly and once with prices on the copies (Lagrangian relaxation; Dolatabadi, Lodi & Monaci 2012,
Computers & OR 39(1), 48-53, for the idea of both). The search is told to find more than a threshold, which is
lowered until something is found: what was searched in vain is a bound.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from cutopt.solve.kernels import blocks as k
from cutopt.solve.kernels import exact
from cutopt.solve.kernels.loader import load
from cutopt.solve.plates.joined_parts import (
    no_blocks,
    packing,
    placements_of,
    put_part,
    with_room,
)
from cutopt.solve.plates.large.large_plate import is_large, large_plate
from cutopt.solve.plates.plate_table import Ints, PlatePart, PlatePlacement, PlateTable

# prices are whole numbers of thousandths
SCALE = 1000
# of the subgradient method
_ROUNDS = 150
_FIRST_BLOCKS = 1 << 16
_MOST_BLOCKS = 1 << 22
_STEPS = 64
# additions, above which a table takes too long
_LONG_TABLE = 1_000_000_000
_QUICK_TRIES = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedPlate:
    """The best plan found and what no plan can exceed; `value == bound` is a proof. `work` counts blocks."""

    value: int
    bound: int
    placements: tuple[PlatePlacement, ...]
    work: int

    @property
    def proved(self) -> bool:
        """Whether no plan is better."""
        return self.value == self.bound


def exact_plate(
    w: int,
    h: int,
    parts: Sequence[PlatePart],
    *,
    incumbent: tuple[int, Sequence[PlatePlacement]] = (0, ()),
    stop: Callable[[], bool] | None = None,
    most_blocks: int = _MOST_BLOCKS,
    rounds: int = _ROUNDS,
) -> SolvedPlate:
    """The most value from one plate w x h with at most `part.most` copies of each part (below 0: as many as fit).

    A very large plate whose copies are unlimited is searched for minutes where there is a `stop` (and stops within a
    second), else for seconds.

    Parameters
    ----------
    w, h : int
        The plate.
    parts : sequence of PlatePart
        Sizes in the same unit.
    incumbent : (value, placements)
        A plan already known.
    stop : callable, optional
        Asked every few milliseconds.
    most_blocks : int
        Limits memory and work, the same on every machine.
    rounds : int
        Of the subgradient method, the same on every machine.
    """
    known = SolvedPlate(
        value=incumbent[0], bound=incumbent[0], placements=tuple(incumbent[1]), work=0
    )
    kept = [
        number
        for number, part in enumerate(parts)
        if part.value > 0 and part.most and _fits(part, w, h)
    ]
    if not kept:
        return known
    some = [parts[number] for number in kept]
    if all(part.most < 0 for part in some) and is_large(w, h, some):
        found = _large(w, h, some, stop or _never, climb=stop is not None)
    else:
        found = _exact(w, h, some, incumbent[0], stop or _never, most_blocks, rounds)
    placements = tuple(
        (kept[number], x, y, turned) for number, x, y, turned in found.placements
    )
    if found.value > known.value:
        return replace(found, placements=placements)
    return replace(known, bound=max(found.bound, known.value), work=found.work)


def _never() -> bool:
    return False


def _exact(
    w: int,
    h: int,
    parts: list[PlatePart],
    incumbent: int,
    stop: Callable[[], bool],
    most_blocks: int,
    rounds: int,
) -> SolvedPlate:
    if all(part.most < 0 for part in parts):
        quick = _quick(w, h, parts)
        if quick is not None:
            return quick
    limited = [_limited(part, w, h) for part in parts]
    if incumbent >= sum(part.value * part.most for part in limited):
        return SolvedPlate(value=incumbent, bound=incumbent, placements=(), work=0)
    plate = _Plate(w, h, limited, stop, most_blocks, rounds)
    return plate.solve(incumbent)


def _quick(w: int, h: int, parts: list[PlatePart]) -> SolvedPlate | None:
    """A plan that meets its bound, where the table takes long and a few tries may spare it."""
    if PlateTable.for_parts(parts, (w, h), one_size=True).work < _LONG_TABLE:
        return None
    tries = iter(range(_QUICK_TRIES))
    found = _large(w, h, parts, lambda: next(tries, None) is None, climb=False)
    if found.proved:
        return found
    return None


def _large(
    w: int, h: int, parts: list[PlatePart], stop: Callable[[], bool], *, climb: bool
) -> SolvedPlate:
    value, placements, bound = large_plate(w, h, parts, stop, climb=climb)
    return SolvedPlate(value=value, bound=bound, placements=tuple(placements), work=0)


def _fits(part: PlatePart, w: int, h: int) -> bool:
    return any(pw <= w and ph <= h for pw, ph, _ in part.ways())


def _limited(part: PlatePart, w: int, h: int) -> PlatePart:
    by_area = w * h // (part.w * part.h)
    return replace(part, most=by_area if part.most < 0 else min(part.most, by_area))


class _Plate:
    """Tables of one plate and the state of the search."""

    def __init__(
        self,
        w: int,
        h: int,
        parts: list[PlatePart],
        stop: Callable[[], bool],
        most_blocks: int,
        rounds: int,
    ) -> None:
        self.w = w
        self.h = h
        self.parts = parts
        self.stop = stop
        self.most_blocks = most_blocks
        self.rounds = rounds
        self.kernels = load("exact", compiled=True)
        self.limits = np.array([part.most for part in parts], dtype=np.int64)
        self.prices, self.best_bound, self.free = self._priced_by_subgradient()
        self.work = 0

    def solve(self, incumbent: int) -> SolvedPlate:
        """Lower the threshold until a plan above it is found, or the incumbent is reached."""
        value, placements = self.free
        bound = self.best_bound
        gap = max(1, self.best_bound // 500)
        known = max(incumbent, value)
        best = SolvedPlate(
            value=value, bound=max(bound, known), placements=tuple(placements), work=0
        )
        if known >= bound or self.stop():
            return best
        self._fill_tables()
        while bound > known and not self.stop():
            threshold = max(known, bound - gap)
            search = _Search(self, threshold)
            finished = search.run()
            self.work += search.work
            if search.value > threshold:
                best = SolvedPlate(
                    value=search.value,
                    bound=bound,
                    placements=search.placements(),
                    work=0,
                )
            if not finished:
                break
            bound = max(search.value, threshold)
            if search.value > threshold:
                break
            gap = gap * 3 // 2 + 1
        return replace(best, bound=max(bound, known), work=self.work)

    def _priced_by_subgradient(
        self,
    ) -> tuple[Ints, int, tuple[int, list[PlatePlacement]]]:
        """Prices of the copies (scaled), the least bound that they give, and a plan that keeps the limits."""
        table = PlateTable.for_parts(self.parts, (self.w, self.h), one_size=True)
        values = np.array([part.value for part in self.parts], dtype=np.int64) * SCALE
        prices = best_prices = np.zeros(len(self.parts), dtype=np.int64)
        least = None
        step = 1.0
        since = 0
        free: tuple[int, list[PlatePlacement]] = (0, [])
        for _ in range(self.rounds):
            used, total = self._relaxed(table, values - prices)
            bound = total + int(prices @ self.limits)
            if np.all(used <= self.limits):
                worth = int(used @ values) // SCALE
                if worth > free[0]:
                    free = (worth, table.layout(self.w, self.h))
            if least is None or bound < least:
                least = bound
                best_prices = prices
                since = 0
            else:
                since += 1
            if free[0] * SCALE >= least or self.stop():
                break
            if since > 8:
                step = step * 0.6
                since = 0
                prices = best_prices
            slope = self.limits - used
            length = int(slope @ slope)
            if length == 0 or step < 1e-3:
                break
            far = step * 0.02 * bound / length
            prices = np.clip(prices - np.rint(far * slope).astype(np.int64), 0, values)
        assert least is not None
        everything = sum(part.value * part.most for part in self.parts)
        return best_prices, min(least // SCALE, everything), free

    def _relaxed(self, table: PlateTable, values: Ints) -> tuple[Ints, int]:
        table.fill(_worth(self.parts, values.tolist()))
        used = np.zeros(len(self.parts), dtype=np.int64)
        for part, *_ in table.layout(self.w, self.h):
            used[part] += 1
        return used, table.value(self.w, self.h)

    def _fill_tables(self) -> None:
        """Work out what can be added round a block, plainly and with prices of the copies."""
        table = PlateTable.for_parts(self.parts, (self.w, self.h))
        u = np.zeros_like(table.values)
        u_priced = np.zeros_like(table.values)
        table.fill(self.parts)
        self._outside(table, u)
        self.priced = [
            part.value * SCALE - int(price)
            for part, price in zip(self.parts, self.prices, strict=True)
        ]
        table.fill(_worth(self.parts, self.priced))
        self._outside(table, u_priced)
        u_priced += int(self.prices @ self.limits)
        self.tables = exact.Plate(
            limit=np.array([self.w, self.h], dtype=np.int64),
            index_x=table.below_x,
            index_y=table.below_y,
            u=u,
            u_priced=u_priced,
            scale=SCALE,
        )

    def _outside(self, table: PlateTable, u: Ints) -> None:
        self.kernels.outside(
            table.xs, table.ys, table.below_x, table.below_y, table.values, u
        )


def _worth(parts: Sequence[PlatePart], values: Sequence[int]) -> list[PlatePart]:
    """The same parts with other values."""
    return [
        replace(part, value=value) for part, value in zip(parts, values, strict=True)
    ]


class _Search:
    """One search for more than a threshold."""

    def __init__(self, plate: _Plate, threshold: int) -> None:
        self.plate = plate
        self.shifts, guard = packing(plate.limits)
        most = min(_FIRST_BLOCKS, plate.most_blocks)
        self.blocks = no_blocks(most, most, guard, threshold)
        self.state = self.blocks.state
        self._allocate(most)
        for part, wanted in enumerate(plate.parts):
            for way in wanted.ways():
                if way[0] <= plate.w and way[1] <= plate.h:
                    self._start(part, way)

    @property
    def work(self) -> int:
        """How many blocks there are."""
        return int(self.state[k.BLOCKS])

    @property
    def value(self) -> int:
        """The best value found, or the threshold."""
        return int(self.state[k.BEST])

    def run(self) -> bool:
        """Search to the end; False where it was stopped or grew too large."""
        plate = self.plate
        tables = plate.tables
        while self.state[k.WAITING] and not plate.stop():
            plate.kernels.join(
                tables, self.blocks, self.place, self.worth, self.closed, _STEPS
            )
            if self.state[k.FULL] and not self._grow():
                return False
        return bool(self.state[k.WAITING] == 0)

    def placements(self) -> tuple[PlatePlacement, ...]:
        """Where the parts of the best block lie."""
        best = int(self.state[k.BEST_BLOCK])
        return placements_of(best, self.blocks.size, self.blocks.made)

    def _allocate(self, most: int) -> None:
        self.place = np.zeros((most, 2), dtype=np.int64)
        self.worth = np.zeros((most, 2), dtype=np.int64)
        self.closed = np.zeros(most, dtype=np.int64)

    def _start(self, part: int, way: tuple[int, int, bool]) -> None:
        tables = self.plate.tables
        place = tables.index_x[way[0]], tables.index_y[way[1]]
        value = self.plate.parts[part].value
        priced = self.plate.priced[part]
        most = min(
            value + int(tables.u[place]),
            (priced + int(tables.u_priced[place])) // SCALE,
        )
        if most <= self.value:
            return
        n = put_part(self.blocks, part, way, self.shifts[part], most)
        self.place[n] = place
        self.worth[n] = value, priced
        if value > self.value:
            self.state[k.BEST] = value
            self.state[k.BEST_BLOCK] = n

    def _grow(self) -> bool:
        """Make room for twice as many blocks; False where that would be too many."""
        before = len(self.closed)
        if 2 * before > self.plate.most_blocks:
            return False
        self.blocks = with_room(self.blocks, 2 * before)
        self.state = self.blocks.state
        place, worth, closed = self.place, self.worth, self.closed
        self._allocate(2 * before)
        self.place[:before] = place
        self.worth[:before] = worth
        self.closed[:before] = closed
        return True
