"""A bound on one plate, copies unlimited: two scales of length whose product is worth no less than any part.

Let f and g be superadditive (f(a) + f(b) <= f(a + b)) and f(width) * g(height) >= value for every part. Each cut then
loses nothing of f times g, so that no plan of a plate W x H is worth more than f(W) * g(H) (conservative scales, Fekete
& Schepers 2004, Mathematical Methods of Operations Research 60(2), 311-329). The best filling of a length by parts
of given worth is superadditive, so any worth of the widths makes f, and f makes the least worth of the heights. The
product is convex in the logarithms of these worths, and the fillings are its slopes: a subgradient method finds its
least value, and the last step is in whole numbers, rounded upward.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import log
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from cutopt.solve.kernels.loader import load
from cutopt.solve.plates.plate_table import Ints, PlatePart

Floats: TypeAlias = NDArray[np.float64]

# bits of each scale of a pair
_HALF = 30
# of the largest worth: a filling of 2^17 parts still fits 63 bits
_BITS = 40
_MOMENTUM = 0.5
_PATIENCE = 20
_LESS = 0.7
_LEAST_HOPE = 1e-7


@dataclass(frozen=True, slots=True)
class Pair:
    """Two superadditive scales in whole numbers: f[width] * g[height] >= up * value for every part, however it lies."""

    f: Ints
    g: Ints
    up: int
    # of the parts, with their heights and values
    widths: Ints
    heights: Ints
    values: Ints

    @property
    def top(self) -> int:
        """The product for the whole plate."""
        return int(self.f[-1]) * int(self.g[-1])

    @property
    def bound(self) -> int:
        """No plan is worth more."""
        return self.top // self.up


class Scales:
    """The bound of a plate w x h, better with each :meth:`step`.

    Parameters
    ----------
    w, h : int
        The plate.
    parts : sequence of PlatePart
        Copies are unlimited. At least one of them must fit.
    shared : bool
        Begin with the worth by area shared alike by both axes, else with the least worths that go with the heights.
    """

    def __init__(
        self, w: int, h: int, parts: Sequence[PlatePart], *, shared: bool = True
    ) -> None:
        found = [
            (k, *way)
            for k, part in enumerate(parts)
            for way in part.ways()
            if way[0] <= w and way[1] <= h
        ]
        # part and whether it is turned
        self.ways = [(k, turned) for k, _, _, turned in found]
        ways = [(pw, ph, parts[k].value) for k, pw, ph, _ in found]
        self.widths, self.heights, self.values = (
            np.array(side, dtype=np.int64) for side in zip(*ways, strict=True)
        )
        self.across, self.along = _Filling(w, self.widths), _Filling(h, self.heights)
        self.bound = min(
            self._rounded(self.across, self.along, self.values / self.heights),
            self._rounded(self.along, self.across, self.values / self.widths),
        )
        self.logs = (
            np.log(self.values * self.widths / self.heights) / 2
            if shared
            else self._least_start()
        )
        self.least = self.now = self._product()
        self.best, self.drift = self.logs, np.zeros(len(ways))
        # how far below the least product the next one may be
        self.hope = 1.0
        self.vain = 0
        self.steps = 0

    @property
    def finished(self) -> bool:
        """Whether further steps are of no use."""
        return self.hope < _LEAST_HOPE

    def step(self, known: int) -> None:
        """One step of the subgradient method (Polyak's length), `known` being the value of a plan."""
        self.steps += 1
        if self.steps == 1:
            self.hope = (self.least - log(max(known, 1))) / 2
        self.drift = _MOMENTUM * self.drift + self.across.shares() - self.along.shares()
        size = float(self.drift @ self.drift)
        if size < 1e-20:
            self.hope = 0.0
            return
        self.logs = self.logs - (self.now - self.least + self.hope) / size * self.drift
        self.now = self._product()
        self.vain = 0 if self.now < self.least - self.hope / 10 else self.vain + 1
        if self.now < self.least:
            self.least = self.now
            self.best = self.logs
        if self.vain > _PATIENCE:
            self.hope *= _LESS
            self._return()

    def _return(self) -> None:
        """Go on from the best worths."""
        self.vain = 0
        self.logs = self.best
        self.drift[:] = 0
        self.now = self._product()

    def proved(self) -> int:
        """The bound in whole numbers at the best worths met so far."""
        self.bound = min(
            self.bound, self._rounded(self.across, self.along, np.exp(self.best))
        )
        self._return()
        return self.bound

    def pair(self) -> Pair:
        """The best scales met so far, in whole numbers whose products fit 62 bits."""
        self.across.fill(np.exp(self.best))
        shares = self.across.at_parts() / self.across.whole()
        self._return()
        across = np.maximum(np.ceil(shares * (1 << _HALF)), 1).astype(np.int64)
        up = max(1, (1 << 2 * _HALF) // (self.bound + self.bound // 50 + 1))
        self.across.fill_whole(across)
        f = self.across.f.copy()
        along = [
            -(-v * up // a)
            for v, a in zip(self.values.tolist(), f[self.widths].tolist(), strict=True)
        ]
        self.along.fill_whole(np.array(along, dtype=np.int64))
        g = self.along.f.copy()
        self._return()
        return Pair(
            f=f,
            g=g,
            up=up,
            widths=self.widths,
            heights=self.heights,
            values=self.values,
        )

    def _least_start(self) -> Floats:
        """The least worths of the widths with the least worths of the heights with the widths by area."""
        self.across.fill(self.values / self.heights)
        self.along.fill(self.values / self.across.at_parts())
        return np.log(self.values / self.along.at_parts())

    def _product(self) -> float:
        """The logarithm of the product at the present worths."""
        worth = np.exp(self.logs)
        self.across.fill(worth)
        self.along.fill(self.values / worth)
        return float(np.log(self.across.whole()) + np.log(self.along.whole()))

    def _rounded(self, first: _Filling, second: _Filling, worth: Floats) -> int:
        """A bound from any worths of the parts along the first axis."""
        first.fill(worth)
        least = 0
        for one, other in ((first, second), (second, first), (first, second)):
            bound = self._least_worths(one, other)
            if not least:
                least = bound
            else:
                least = min(least, bound)
        return least

    def _least_worths(self, one: _Filling, other: _Filling) -> int:
        """Fill `other` by the least worths that go with `one`, in whole numbers; the bound of both."""
        given = one.whole_numbers()
        values = self.values.tolist()
        most = max(v / f for v, f in zip(values, given, strict=True))
        scale = int(np.floor(np.log2(2.0**_BITS / most)))
        up = 1 << max(scale, 0)
        other.fill_whole(
            np.array(
                [-(-v * up // f) for v, f in zip(values, given, strict=True)],
                dtype=np.int64,
            )
        )
        return one.top * other.top // up


class _Filling:
    """The best filling of one length by the parts."""

    def __init__(self, length: int, lengths: Ints) -> None:
        self.lengths = lengths
        self.order = np.argsort(lengths, kind="stable")
        self.sorted = lengths[self.order]
        self.f, self.last = (np.zeros(length + 1, dtype=np.int64) for _ in range(2))
        self.live, self.copies = (
            np.zeros(len(lengths), dtype=np.int64) for _ in range(2)
        )
        self.worth = np.zeros(len(lengths), dtype=np.int64)
        self.scale = 1.0

    def fill(self, worth: Floats) -> None:
        """Fill for these worths, rounded to whole multiples of a power of two."""
        self.scale = 2.0 ** (_BITS - np.ceil(np.log2(worth.max())))
        self._run(np.maximum(np.rint(worth * self.scale), 1).astype(np.int64))

    def fill_whole(self, worth: Ints) -> None:
        """Fill for worths in whole numbers."""
        self.scale = 1.0
        self._run(worth)

    def _run(self, worth: Ints) -> None:
        self.worth = worth
        kernel = load("plates", compiled=True).knapsack
        kernel(
            self.sorted, worth[self.order], self.f, self.last, self.live, self.copies
        )

    @property
    def top(self) -> int:
        """The worth of the whole length, scaled."""
        return int(self.f[-1])

    def whole(self) -> float:
        """The worth of the whole length."""
        return self.top / self.scale

    def at_parts(self) -> Floats:
        """What a length as long as each part is worth: no less than the part's own worth."""
        return self.f[self.lengths] / self.scale

    def whole_numbers(self) -> list[int]:
        """The same, scaled."""
        values: list[int] = self.f[self.lengths].tolist()
        return values

    def shares(self) -> Floats:
        """What each part adds to the best filling, as a share of the whole."""
        copies = np.zeros(len(self.lengths))
        copies[self.order] = self.copies
        return copies * self.worth / self.top
