"""Rectangles from one rectangular plate, as many of each as wanted: the exact dynamic programme.

Gilmore & Gomory (1966), Operations Research 14(6), 1045-1074, on the sizes that can matter: sums of wanted sizes
("normal patterns", Herz 1972; one table then prices every plate), thinned for a single plate to those that leave a
sum on the other side ("raster points", Scheithauer & Terno 1996). All in whole numbers.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from cutopt.solve.kernels.loader import load

Ints: TypeAlias = NDArray[np.int64]
# item, x, y of its lower left corner, turned
PlatePlacement: TypeAlias = tuple[int, int, int, bool]

UNTURNED = 1
TURNED = 2


@dataclass(frozen=True, slots=True)
class PlatePart:
    """A rectangle w x h wanted any number of times (`most` where that is limited), worth `value` each."""

    w: int
    h: int
    value: int
    turns: int = UNTURNED
    most: int = -1

    def ways(self) -> list[tuple[int, int, bool]]:
        """The sizes in which it may lie: (width, height, turned)."""
        if self.turns & UNTURNED:
            ways = [(self.w, self.h, False)]
        else:
            ways = []
        if self.turns & TURNED and (self.w != self.h or not ways):
            ways.append((self.h, self.w, True))
        return ways


def sums(limit: int, sizes: Iterable[int]) -> Ints:
    """All sums of the sizes, each taken any number of times, from 0 to `limit`, in order."""
    bits = 1
    mask = (1 << (limit + 1)) - 1
    for size in sorted({s for s in sizes if 0 < s <= limit}):
        shift = size
        while shift <= limit:
            bits |= (bits << shift) & mask
            shift *= 2
    return _set_bits(bits)


def limited_sums(limit: int, sizes: Iterable[tuple[Sequence[int], int]]) -> Ints:
    """As :func:`sums`, each entry (alternatives, copies) taken at most so many times."""
    bits = 1
    mask = (1 << (limit + 1)) - 1
    for ways, copies in sizes:
        for _ in range(min(copies, limit // max(1, min(ways, default=1)))):
            more = bits
            for size in ways:
                more |= (bits << size) & mask
            if more == bits:
                break
            bits = more
    return _set_bits(bits)


def _set_bits(bits: int) -> Ints:
    raw = np.frombuffer(
        bits.to_bytes(bits.bit_length() // 8 + 1, "little"), dtype=np.uint8
    )
    return np.flatnonzero(np.unpackbits(raw, bitorder="little")).astype(np.int64)


def raster(limit: int, normal: Ints) -> Ints:
    """Those of the sums that are the largest beside some other sum in a plate of exactly `limit`."""
    kept = normal[np.searchsorted(normal, limit - normal, side="right") - 1]
    return np.unique(np.concatenate((np.zeros(1, dtype=np.int64), kept)))


def below(points: Ints, limit: int) -> NDArray[np.int32]:
    """For each n from 0 to `limit` the index of the largest point that is at most n."""
    return (np.searchsorted(points, np.arange(limit + 1), side="right") - 1).astype(
        np.int32
    )


class PlateTable:
    """Best values for all plates up to a largest size, for parts whose sizes are sums of `xs` and `ys`.

    Parameters
    ----------
    xs, ys : arrays of int64, in order, the first 0
        Sizes across and along that may matter.
    limit : (int, int)
        The largest plate asked for.
    """

    def __init__(self, xs: Ints, ys: Ints, limit: tuple[int, int]) -> None:
        self.xs = xs
        self.ys = ys
        self.limit = limit
        self.below_x, self.below_y = below(xs, limit[0]), below(ys, limit[1])
        self.values = np.zeros((len(xs), len(ys)), dtype=np.int64)
        self.base = self.values
        self.parts: Sequence[PlatePart] = ()
        # sizes of the plates of the plan traced last
        self.met: tuple[NDArray[np.uint8], ...] = ()

    @classmethod
    def for_parts(
        cls,
        parts: Sequence[PlatePart],
        limit: tuple[int, int],
        *,
        one_size: bool = False,
    ) -> PlateTable:
        """A table for these parts; `one_size` where only the plate of size `limit` will be asked for.

        Parameters
        ----------
        parts : sequence of PlatePart
        limit : (int, int)
            The largest plate asked for.
        one_size : bool
            Whether only the plate of size `limit` will be asked for.
        """
        xs = sums(
            limit[0], (w for part in parts for w, h, _ in part.ways() if h <= limit[1])
        )
        ys = sums(
            limit[1], (h for part in parts for w, h, _ in part.ways() if w <= limit[0])
        )
        if one_size:
            xs = raster(limit[0], xs)
            ys = raster(limit[1], ys)
        return cls(xs, ys, limit)

    @property
    def work(self) -> int:
        """About how many additions one filling takes, at least 1."""
        return max(1, len(self.xs) * len(self.ys) * (len(self.xs) + len(self.ys)) // 4)

    def fill(self, parts: Sequence[PlatePart]) -> None:
        """Price all plates for parts of these values; values below 1 are left out."""
        self.parts = parts
        base = np.zeros((len(self.xs), len(self.ys)), dtype=np.int64)
        for part in parts:
            for w, h, _ in part.ways():
                if w <= self.limit[0] and h <= self.limit[1] and part.value > 0:
                    i = np.searchsorted(self.xs, w)
                    j = np.searchsorted(self.ys, h)
                    if i < len(self.xs) and j < len(self.ys):
                        base[i, j] = max(base[i, j], part.value)
        self.fill_from(base)

    def fill_from(self, base: Ints) -> None:
        """Price all plates from the best single part of each plate (`base[i, j]`, 0 where none)."""
        fill = load("plates", compiled=True).fill

        self.base = base
        np.maximum.accumulate(base, axis=1, out=self.values)
        fill(self.xs, self.ys, self.below_x, self.below_y, self.values)

    def value(self, w: int, h: int) -> int:
        """The most that a plate w x h is worth."""
        return int(self.values[self.below_x[w], self.below_y[h]])

    def layout(self, w: int, h: int) -> list[PlatePlacement]:
        """Where the parts of a best plan lie in a plate w x h."""
        placed = []
        for i, j, x, y in self.leaves(w, h).tolist():
            k, turned = self._single(i, j)
            placed.append((k, x, y, turned))
        return placed

    def leaves(self, w: int, h: int) -> Ints:
        """The single parts of a best plan of a plate w x h, a row (i, j, x, y) each: in a plate xs[i] x ys[j]."""
        trace = load("plates", compiled=True).trace

        i = int(self.below_x[w])
        j = int(self.below_y[h])
        if self.values[i, j] <= 0:
            return np.zeros((0, 4), dtype=np.int64)
        least_x, least_y = (
            int(points[np.argmax(self.base.any(axis=n))])
            for n, points in ((1, self.xs), (0, self.ys))
        )
        most = (w // least_x) * (h // least_y) + 2
        found = np.zeros((most, 4), dtype=np.int64)
        stack = np.zeros((most, 4), dtype=np.int64)
        tables = (self.xs, self.ys, self.below_x, self.below_y, self.base, self.values)
        self.met = tuple(
            np.zeros(len(points), dtype=np.uint8) for points in (self.xs, self.ys)
        )
        return found[: trace(*tables, i, j, stack, found, *self.met)]

    def _single(self, i: int, j: int) -> tuple[int, bool]:
        w = self.xs[i]
        h = self.ys[j]
        wanted = self.base[i, j]
        for k, part in enumerate(self.parts):
            if part.value == wanted:
                for pw, ph, turned in part.ways():
                    if pw <= w and ph <= h:
                        return k, turned
        raise AssertionError("a plate is priced by a part that it cannot hold")
