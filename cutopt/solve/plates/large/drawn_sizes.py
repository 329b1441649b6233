"""Sizes along one axis of a very large plate, drawn by chance: those that fill another one, and what they leave."""

from __future__ import annotations

import functools
import random
from collections.abc import Sequence

import numpy as np

from cutopt.solve.plates.plate_table import Ints, raster, sums


class Axis:
    """Sizes along one axis: those of the best plan, and how others are drawn."""

    def __init__(self, length: int, sizes: Ints, rng: random.Random) -> None:
        self.sizes: list[int] = sizes.tolist()
        self.length = length
        self.rng = rng
        self.sums = sums(length, self.sizes)
        self.whole = int(self.sums[-1])
        self.multiple = np.zeros(length + 1, dtype=np.bool_)
        for size in set(self.sizes):
            self.multiple[size::size] = True
        self.kept: list[int] = []
        # kept by other searches
        self.met: list[int] = []

    def learn(self, sizes: Sequence[int]) -> None:
        """Remember sizes that another search keeps."""
        self.met = sorted({*self.met, *sizes})

    @functools.cached_property
    def every(self) -> Ints:
        """All sizes that matter."""
        return raster(self.length, self.sums)

    def drawn(self, count: int) -> Ints:
        """The sizes kept, and others until there are about so many; a quarter of them are new at least."""
        met = self.rng.sample(self.met, min(len(self.met), count // 2))
        found = {0, self.whole, *self.kept, *met}
        count = max(count, len(found) + count // 4)
        for _ in range(4 * count):
            if len(found) >= count:
                break
            if self.kept and self.rng.random() < 0.5:
                inside = self.rng.choice(self.kept)
            else:
                inside = self.whole
            found.update(
                self._filling(inside)
                if self.rng.random() < 0.5
                else self._loose(inside)
            )
        return np.array(sorted(found), dtype=np.int64)

    def _filling(self, inside: int) -> tuple[int, ...]:
        """Two or three multiples of parts that fill a size exactly."""
        first = self._multiple(inside)
        if inside - first <= 0:
            return ()
        if self.multiple[inside - first]:
            return first, inside - first
        for _ in range(6):
            rest = inside - first
            second = self._multiple(rest)
            if rest > second and self.multiple[rest - second]:
                return first, rest, second, rest - second
        return ()

    def _loose(self, inside: int) -> tuple[int, ...]:
        """A size from one or two multiples and a size kept, and the most beside it in that size and in the whole."""
        kind = self.rng.random()
        size = self._multiple(self.whole if kind < 0.8 else inside)
        if kind >= 0.8:
            size = inside - size
        elif kind >= 0.6:
            size += inside if inside < self.whole else 0
        elif kind >= 0.35:
            size += self._multiple(self.whole)
        if not 0 < size < self.whole:
            return ()
        beside = [size, self._below(self.whole - size)]
        if size < inside:
            beside.append(self._below(inside - size))
        return tuple(beside)

    def _multiple(self, limit: int) -> int:
        """Some copies of a part, of the first ones (of most worth by area) more often."""
        count = len(self.sizes)
        mean = self.rng.choice((2, 6, count / 4, count))
        size = self.sizes[min(int(self.rng.expovariate(1 / mean)), count - 1)]
        return size * self.rng.randint(1, max(1, limit // size))

    def _below(self, size: int) -> int:
        return int(self.sums[np.searchsorted(self.sums, size, side="right") - 1])
