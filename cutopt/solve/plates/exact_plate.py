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
from typing import Any

import numpy as np

from cutopt.solve.kernels.loader import load
from cutopt.solve.plates.joined_parts import packing, part_key, placements_of, push
from cutopt.solve.plates.large.large_plate import is_large, large_plate
from cutopt.solve.plates.plate_table import Ints, Part, Placement, PlateTable

# of prices
SCALE = 1000
# of the subgradient method
_ROUNDS = 150
_FIRST_BLOCKS = 1 << 16
_MOST_BLOCKS = 1 << 22
_STEPS = 64
# additions
_LONG_TABLE = 1_000_000_000
_QUICK_TRIES = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Exact:
    """The best plan found and what no plan can exceed; `value == bound` is a proof. `work` counts blocks."""

    value: int
    bound: int
    placements: tuple[Placement, ...]
    work: int

    @property
    def proved(self) -> bool:
        """Whether no plan is better."""
        return self.value == self.bound


def exact_plate(
    w: int,
    h: int,
    parts: Sequence[Part],
    *,
    incumbent: tuple[int, Sequence[Placement]] = (0, ()),
    stop: Callable[[], bool] | None = None,
    most_blocks: int = _MOST_BLOCKS,
    rounds: int = _ROUNDS,
) -> Exact:
    """The most value from one plate w x h with at most `part.most` copies of each part (below 0: as many as fit).

    `incumbent` is a plan already known; `stop` is asked every few milliseconds. `most_blocks` limits memory and work,
    `rounds` those of the subgradient method; both limits are the same on every machine. A very large plate whose
    copies are unlimited is searched for minutes where there is a `stop` (and stops within a second), else for seconds.
    """
    known = Exact(
        value=incumbent[0], bound=incumbent[0], placements=tuple(incumbent[1]), work=0
    )
    kept = [
        k
        for k, part in enumerate(parts)
        if part.value > 0 and part.most and _fits(part, w, h)
    ]
    if not kept:
        return known
    if all(parts[k].most < 0 for k in kept) and is_large(
        w, h, [parts[k] for k in kept]
    ):
        found = _large(
            w,
            h,
            [parts[k] for k in kept],
            stop or (lambda: False),
            climb=stop is not None,
        )
    else:
        found = _exact(
            w,
            h,
            [parts[k] for k in kept],
            incumbent[0],
            stop or (lambda: False),
            most_blocks,
            rounds,
        )
    placements = tuple((kept[k], x, y, turned) for k, x, y, turned in found.placements)
    if found.value > known.value:
        return replace(found, placements=placements)
    return replace(known, bound=max(found.bound, known.value), work=found.work)


def _exact(
    w: int,
    h: int,
    parts: list[Part],
    incumbent: int,
    stop: Callable[[], bool],
    most_blocks: int,
    rounds: int,
) -> Exact:
    if all(part.most < 0 for part in parts):
        quick = _quick(w, h, parts)
        if quick is not None:
            return quick
    limited = [_limited(part, w, h) for part in parts]
    if incumbent >= sum(part.value * part.most for part in limited):
        return Exact(value=incumbent, bound=incumbent, placements=(), work=0)
    plate = _Plate(w, h, limited, stop, most_blocks, rounds)
    return plate.solve(incumbent)


def _quick(w: int, h: int, parts: list[Part]) -> Exact | None:
    """A plan that meets its bound, where the table takes long and a few tries may spare it."""
    if PlateTable.for_parts(parts, (w, h), one_size=True).work < _LONG_TABLE:
        return None
    tries = iter(range(_QUICK_TRIES))
    found = _large(w, h, parts, lambda: next(tries, None) is None, climb=False)
    return found if found.proved else None


def _large(
    w: int, h: int, parts: list[Part], stop: Callable[[], bool], *, climb: bool
) -> Exact:
    value, placements, bound = large_plate(w, h, parts, stop, climb=climb)
    return Exact(value=value, bound=bound, placements=tuple(placements), work=0)


def _fits(part: Part, w: int, h: int) -> bool:
    return any(pw <= w and ph <= h for pw, ph, _ in part.ways())


def _limited(part: Part, w: int, h: int) -> Part:
    by_area = w * h // (part.w * part.h)
    return replace(part, most=by_area if part.most < 0 else min(part.most, by_area))


class _Plate:
    """Tables of one plate and the state of the search."""

    def __init__(
        self,
        w: int,
        h: int,
        parts: list[Part],
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

    def solve(self, incumbent: int) -> Exact:
        """Lower the threshold until a plan above it is found, or the incumbent is reached."""
        value, placements = self.free
        bound = self.best_bound
        gap = max(1, self.best_bound // 500)
        known = max(incumbent, value)
        best = Exact(
            value=value, bound=max(bound, known), placements=tuple(placements), work=0
        )
        if known >= bound or self.stop():
            return best
        self._tables()
        while bound > known and not self.stop():
            threshold = max(known, bound - gap)
            search = _Search(self, threshold)
            finished = search.run()
            self.work += search.blocks
            if search.value > threshold:
                best = Exact(
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

    def _priced_by_subgradient(self) -> tuple[Ints, int, tuple[int, list[Placement]]]:
        """Prices of the copies (scaled), the least bound that they give, and a plan that keeps the limits."""
        table = PlateTable.for_parts(self.parts, (self.w, self.h), one_size=True)
        values = np.array([part.value for part in self.parts], dtype=np.int64) * SCALE
        prices = best_prices = np.zeros(len(self.parts), dtype=np.int64)
        least = None
        step = 1.0
        since = 0
        free: tuple[int, list[Placement]] = (0, [])
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
        parts = [
            replace(part, value=int(v))
            for part, v in zip(self.parts, values, strict=True)
        ]
        table.fill(parts)
        used = np.zeros(len(parts), dtype=np.int64)
        for k, *_ in table.layout(self.w, self.h):
            used[k] += 1
        return used, table.value(self.w, self.h)

    def _tables(self) -> None:
        table = PlateTable.for_parts(self.parts, (self.w, self.h))
        self.index_x = table.below_x
        self.index_y = table.below_y
        self.u, self.u_priced = (np.zeros_like(table.values) for _ in range(2))
        table.fill(self.parts)
        self._outside(table, self.u)
        values = [
            part.value * SCALE - int(price)
            for part, price in zip(self.parts, self.prices, strict=True)
        ]
        table.fill(
            [
                replace(part, value=value)
                for part, value in zip(self.parts, values, strict=True)
            ]
        )
        self._outside(table, self.u_priced)
        self.u_priced += int(self.prices @ self.limits)
        self.priced = values

    def _outside(self, table: PlateTable, u: Ints) -> None:
        self.kernels.outside(
            table.xs, table.ys, table.below_x, table.below_y, table.values, u
        )


class _Search:
    """One search for more than a threshold."""

    def __init__(self, plate: _Plate, threshold: int) -> None:
        self.plate = plate
        self.shifts, self.guard = packing(plate.limits)
        self.info = np.array([0, 0, 0, threshold, -1, 0], dtype=np.int64)
        self._allocate(min(_FIRST_BLOCKS, plate.most_blocks))
        for k, part in enumerate(plate.parts):
            for w, h, turned in part.ways():
                if w <= plate.w and h <= plate.h:
                    self._start(k, w, h, turned)

    @property
    def blocks(self) -> int:
        """How many blocks there are."""
        return int(self.info[0])

    @property
    def value(self) -> int:
        """The best value found, or the threshold."""
        return int(self.info[3])

    def run(self) -> bool:
        """Search to the end; False where it was stopped or grew too large."""
        plate = self.plate
        limit = np.array([plate.w, plate.h], dtype=np.int64)
        while self.info[1] and not plate.stop():
            plate.kernels.join(
                limit,
                plate.index_x,
                plate.index_y,
                plate.u,
                plate.u_priced,
                SCALE,
                self.guard,
                self.info,
                *self.arrays,
                self.heads,
                self.heap,
                self.closed,
                _STEPS,
            )
            if self.info[5] and not self._grow():
                return False
        return bool(self.info[1] == 0)

    def placements(self) -> tuple[Placement, ...]:
        """Where the parts of the best block lie."""
        return placements_of(int(self.info[4]), self.arrays[0], self.arrays[7])

    def _allocate(self, blocks: int) -> None:
        words = self.guard.shape[1]
        shapes = [
            (blocks, 2),
            (blocks, 2),
            (blocks, 2),
            (blocks, words),
            (blocks,),
            (blocks,),
            (blocks,),
        ]
        self.arrays = [
            np.zeros(shape, dtype=np.int64)
            for shape in (*shapes, (blocks, 3), (blocks,))
        ]
        self.heads = np.repeat(np.int64(-1), blocks)
        self.heap, self.closed = (np.zeros(blocks, dtype=np.int64) for _ in range(2))

    def _start(self, k: int, w: int, h: int, turned: bool) -> None:
        plate = self.plate
        n = self.blocks
        i = plate.index_x[w]
        j = plate.index_y[h]
        value = plate.parts[k].value
        priced = plate.priced[k]
        most = min(
            value + int(plate.u[i, j]), (priced + int(plate.u_priced[i, j])) // SCALE
        )
        if most <= self.info[3]:
            return
        size, place, worth, words, key, bound, _, made, chain = self.arrays
        size[n], place[n], worth[n], bound[n], made[n] = (
            (w, h),
            (i, j),
            (value, priced),
            most,
            (-1, k, turned),
        )
        word, shift = self.shifts[k]
        words[n, word] = 1 << shift
        key[n] = part_key(k)
        chain[n] = self.heads[key[n] & (len(self.heads) - 1)]
        self.heads[key[n] & (len(self.heads) - 1)] = n
        push(self.heap, self.info, bound, n)
        if value > self.info[3]:
            self.info[3:5] = value, n

    def _grow(self) -> bool:
        blocks = 2 * len(self.heap)
        if blocks > self.plate.most_blocks:
            return False
        old: list[Any] = [*self.arrays, self.heap, self.closed]
        self._allocate(blocks)
        for new, before in zip(
            [*self.arrays, self.heap, self.closed], old, strict=True
        ):
            new[: len(before)] = before
        key = self.arrays[4]
        chain = self.arrays[8]
        for n in range(self.blocks):
            slot = key[n] & (blocks - 1)
            chain[n], self.heads[slot] = self.heads[slot], n
        self.info[5] = 0
        return True
