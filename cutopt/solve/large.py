"""A plate so large beside its parts that the exact table cannot be filled: exact over few cuts at a time.

A local search over small sets of blocks, a block being a grid of copies of one part: cuts may lie at sums of the
sizes of these blocks, and every part of the plate between cuts is filled with copies of one part. A set is changed
by one block and kept when it is no worse. The bound is by area and the largest sums.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from typing import TypeAlias

import numpy as np

from cutopt.solve.plates import Ints, Part, Placement, PlateTable, raster, sums

MOST_WORK = 4_000_000_000  # additions of the whole table, about four seconds; above it is searched
_MOST_POINTS = 500
_FILLERS = 40
_TRIES = 2000
_MOST_COPIES = 600  # of a part between cuts: more would be a plan that nobody cuts

Block: TypeAlias = tuple[int, int]  # width and height of a grid of copies


def is_large(w: int, h: int, parts: Sequence[Part]) -> bool:
    """Whether the table of all sums is too large to be filled."""
    if max(w, h) > 1 << 17:
        return True
    across, along = _sizes(w, h, parts)
    xs, ys = raster(w, sums(w, across)), raster(h, sums(h, along))
    return len(xs) * len(ys) * (len(xs) + len(ys)) // 4 > MOST_WORK


def _sizes(w: int, h: int, parts: Sequence[Part]) -> tuple[list[int], list[int]]:
    ways = [way for part in parts for way in part.ways() if way[0] <= w and way[1] <= h]
    return [pw for pw, _, _ in ways], [ph for _, ph, _ in ways]


def area_bound(w: int, h: int, parts: Sequence[Part]) -> int:
    """No plan is worth more: the best worth by area on the widest and the highest sums that go on the plate."""
    across, along = _sizes(w, h, parts)
    widest, highest = int(sums(w, across)[-1]), int(sums(h, along)[-1])
    return max(part.value * widest * highest // (part.w * part.h) for part in parts)


def large_plate(
    w: int, h: int, parts: Sequence[Part], stop: Callable[[], bool], seed: int = 0
) -> tuple[int, list[Placement]]:
    """The best value found, copies unlimited, and its plan."""
    return _Large(w, h, parts, seed).search(stop)


class _Large:
    """The local search on one plate."""

    def __init__(self, w: int, h: int, parts: Sequence[Part], seed: int) -> None:
        self.w, self.h, self.rng = w, h, random.Random(seed)
        ways = [(k, *way) for k, part in enumerate(parts) for way in part.ways() if way[0] <= w and way[1] <= h]
        # of equal worth by area the larger parts first: fewer cuts
        area = [part.w * part.h for part in parts]
        self.ways = sorted(ways, key=lambda way: (-parts[way[0]].value / area[way[0]], -area[way[0]]))
        self.worth = [parts[way[0]].value for way in self.ways]
        self.bound = area_bound(w, h, parts)

    def search(self, stop: Callable[[], bool]) -> tuple[int, list[Placement]]:
        """Change the set of blocks again and again."""
        chosen = [self._block() for _ in range(3)]
        best, plan = -1, list[Placement]()
        for turn in range(_TRIES):
            tried = chosen if turn == 0 else self._changed(chosen)
            table, which = self._table(tried)
            value = table.value(self.w, self.h)
            if value > best:
                plan = self._layout(table, which)
            if value >= best:
                best, chosen = value, tried
            if stop() or best >= self.bound:
                break
        return best, plan

    def _block(self) -> Block:
        """A grid of a part, those of much worth by area more often, a fortieth to a third of the plate long."""
        mean = self.rng.choice((2.0, len(self.ways) / 8))
        n = min(int(self.rng.expovariate(1 / mean)), len(self.ways) - 1)
        _, pw, ph, _ = self.ways[n]
        return pw * self._times(self.w, pw), ph * self._times(self.h, ph)

    def _times(self, whole: int, size: int) -> int:
        least, most = -(-whole // (16 * size)), max(1, whole // (3 * size))
        return self.rng.randint(min(least, most), most)

    def _changed(self, chosen: list[Block]) -> list[Block]:
        kept = list(chosen)
        if len(kept) > 1 and self.rng.random() < 0.6:
            kept.pop(self.rng.randrange(len(kept)))
        if len(kept) < 8:
            kept.append(self._block())
        return kept

    def _table(self, chosen: list[Block]) -> tuple[PlateTable, Ints]:
        """The table on sums of the blocks, and which part fills each of its plates best."""
        xs = _points(self.w, [block[0] for block in chosen], [way[1] for way in self.ways])
        ys = _points(self.h, [block[1] for block in chosen], [way[2] for way in self.ways])
        table = PlateTable(xs, ys, (self.w, self.h))
        base, which = np.zeros((len(xs), len(ys)), dtype=np.int64), np.zeros((len(xs), len(ys)), dtype=np.int64)
        for n in self._fillers():
            _, pw, ph, _ = self.ways[n]
            copies = (xs // pw)[:, None] * (ys // ph)[None, :]
            better = (copies * self.worth[n] > base) & (copies <= _MOST_COPIES)
            base[better], which[better] = copies[better] * self.worth[n], n
        table.fill_from(base)
        return table, which

    def _fillers(self) -> list[int]:
        """The parts of most worth by area, and a few others."""
        count = len(self.ways)
        others = self.rng.sample(range(count), min(_FILLERS // 2, count))
        return sorted({*range(min(_FILLERS, count)), *others})

    def _layout(self, table: PlateTable, which: Ints) -> list[Placement]:
        placed: list[Placement] = []
        for i, j, x, y in table.leaves(self.w, self.h).tolist():
            k, pw, ph, turned = self.ways[int(which[i, j])]
            for a in range(int(table.xs[i]) // pw):
                placed += [(k, x + a * pw, y + b * ph, turned) for b in range(int(table.ys[j]) // ph)]
        return placed


def _points(limit: int, blocks: list[int], sizes: list[int]) -> Ints:
    """Sums of the blocks, thinned where they are many, and what a part can fill beside the larger ones."""
    points = raster(limit, sums(limit, blocks))
    if len(points) > _MOST_POINTS:
        points = points[np.unique(np.linspace(0, len(points) - 1, _MOST_POINTS).astype(np.int64))]
    rest = limit - points
    fitting = np.unique(np.array(sizes, dtype=np.int64))
    multiples = np.array([rest // size * size for size in fitting[:: max(1, len(fitting) // 60)]])
    return np.unique(np.concatenate(([0], points, multiples.max(axis=0), [limit])))
