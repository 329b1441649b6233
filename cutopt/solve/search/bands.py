"""Bands across the whole width of a plate that lose nothing, or next to nothing.

Blocks that lose little are joined bottom up, the largest first (Wang 1983, Operations Research 31(3), 573-586: joins
within a share of waste). Where parts of one length of cloth have sides in common this finds whole bands at once that
a search by chance does not meet.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from statistics import median

import numpy as np

from cutopt.solve.kernels import exact as plain
from cutopt.solve.kernels.loader import load
from cutopt.solve.plates.joined_parts import packing, part_key, placements_of, push
from cutopt.solve.plates.plate_table import Part, Placement

_DRAWN_SHARE = 0.8  # of the smaller parts, in each band by chance
_STEPS = 256
_SLOTS = 1 << 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A band `h` high from the left edge, and its parts; x and y from its lower left corner."""

    h: int
    placements: tuple[Placement, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Search:
    """How bands are looked for, one step after the other.

    Each step tells what a join may lose, in 1/10000 of the smaller block, and the most blocks then: with more the
    bands are larger, and found later. `vain` is how many bands are sought in vain before the next step.
    """

    steps: tuple[tuple[int, int], ...]
    vain: int = 1


def bands_of(
    w: int,
    h: int,
    parts: Sequence[Part],
    left: Sequence[int],
    search: Search,
    stop: Callable[[], bool],
    rng: random.Random | None = None,
) -> Iterator[Band]:
    """Bands of a plate w x h one after the other, each the best of what those before it left of so many parts.

    With `rng` each is made of the larger half of these parts and most of the others, by chance.
    """
    wanted = list(left)
    for loss, blocks in search.steps:
        vain = 0
        while any(wanted) and not stop() and vain < search.vain:
            kept = [k for k, many in enumerate(wanted) if many]
            if rng is not None:
                middle = median(parts[k].w * parts[k].h for k in kept)
                kept = [
                    k
                    for k in kept
                    if parts[k].w * parts[k].h >= middle or rng.random() < _DRAWN_SHARE
                ]
            found = _Joins(
                w, h, [replace(parts[k], most=wanted[k]) for k in kept], loss, blocks
            ).band(stop)
            if found is None:
                vain += 1
                continue
            placements = tuple(
                (kept[k], x, y, turned) for k, x, y, turned in found.placements
            )
            for k, *_ in placements:
                wanted[k] -= 1
            yield replace(found, placements=placements)


class _Joins:
    """Blocks of one plate, joined within one loss."""

    def __init__(
        self, w: int, h: int, parts: Sequence[Part], loss: int, most_blocks: int
    ) -> None:
        self.limit = np.array([w, h], dtype=np.int64)
        self.loss = loss
        shifts, self.guard = packing(
            np.array([part.most for part in parts], dtype=np.int64)
        )
        self.info = np.array([0, 0, 0, 0, -1, 0], dtype=np.int64)
        many = most_blocks
        words = self.guard.shape[1]
        self.size, self.words = (
            np.zeros((many, 2), dtype=np.int64),
            np.zeros((many, words), dtype=np.int64),
        )
        self.area, self.key, self.order, self.dead, self.chain, self.heap = np.zeros(
            (6, many), dtype=np.int64
        )
        self.made, self.heads = (
            np.zeros((many, 3), dtype=np.int64),
            np.full(_SLOTS, -1, dtype=np.int64),
        )
        self.after, self.first = (
            np.zeros((many, 2), dtype=np.int64),
            np.full((2, max(w, h) + 1), -1, dtype=np.int64),
        )
        self.kernels = load("exact", compiled=True)
        for k, part in enumerate(parts):
            for pw, ph, turned in part.ways():
                if pw <= w and ph <= h and self.info[0] < many:
                    self._start(k, pw, ph, turned, shifts[k])

    def _start(
        self, k: int, w: int, h: int, turned: bool, place: tuple[int, int]
    ) -> None:
        n = int(self.info[0])
        slot = part_key(k) & (_SLOTS - 1)
        self.size[n], self.area[n], self.order[n], self.made[n] = (
            (w, h),
            w * h,
            w * h,
            (-1, k, turned),
        )
        self.words[n, place[0]], self.key[n] = 1 << place[1], part_key(k)
        self.chain[n], self.heads[slot] = self.heads[slot], n
        push(self.heap, self.info, self.order, n)
        worth = int(plain.worth_as_band(self.limit, self.loss, h, w * h))
        if worth > self.info[3]:
            self.info[3:5] = worth, n

    def band(self, stop: Callable[[], bool]) -> Band | None:
        """The band that is worth most, of all that were joined within the limits."""
        info = self.info
        while info[1] and not info[5] and not stop():
            self.kernels.join_tight(
                self.limit,
                self.loss,
                self.guard,
                info,
                self.size,
                self.area,
                self.words,
                self.key,
                self.order,
                self.dead,
                self.made,
                self.chain,
                self.heads,
                self.heap,
                self.first,
                self.after,
                _STEPS,
            )
        if info[4] < 0:
            return None
        return Band(
            h=int(self.size[info[4], 1]),
            placements=placements_of(int(info[4]), self.size, self.made),
        )
