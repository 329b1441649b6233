"""Bands across the whole width of a plate that lose nothing, or next to nothing.

Blocks that lose little are joined bottom up, the largest first (Wang 1983, Operations Research 31(3), 573-586: joins
within a share of waste). Where parts of one length of cloth have sides in common this finds whole bands at once that
a search by chance does not meet.
"""

from __future__ import annotations

import random
import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Executor, ThreadPoolExecutor, wait
from dataclasses import dataclass, replace
from statistics import median

import numpy as np

from cutopt.solve.blocks import packing, part_key, placements_of, push
from cutopt.solve.kernels import exact as plain
from cutopt.solve.kernels.loader import load
from cutopt.solve.plates import Part, Placement

_LOSSES = (0, 100, 150, 200, 300)  # what a join may lose, in 1/10000 of the smaller block: one after the other
_BLOCKS = (5_000, 20_000, 50_000)  # at most so many in one search: with more the bands are larger, and found later
_REST_LOSS = 0.1  # what is lost, by experience, of what the bands leave, and is searched for by chance
DRAWS, _BESIDE = 16, 2  # sets of bands that are tried by chance, and how many at a time
_WAIT = 0.05  # seconds between two questions whether to stop
_KEPT = 4  # sets that are told
_DRAWN_SHARE, _VAIN = 0.8, 2  # of the smaller parts, in each band; bands sought in vain before more may be lost
_STEPS = 256
_SLOTS = 1 << 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A band `h` high from the left edge, and its parts; x and y from its lower left corner."""

    h: int
    placements: tuple[Placement, ...]


def tight_bands(
    w: int, h: int, parts: Sequence[Part], stop: Callable[[], bool], draws: int = DRAWS
) -> list[list[Band]]:
    """Sets of bands of a plate w x h, with at most `part.most` copies of each: the best few found, the best first.

    Ends when nothing is left over, when `stop` says so, or after a number of tries. Where the first bands hold most of
    all parts, others are tried that begin with some of the smaller parts left out, by chance: two at a time, as the
    kernels run beside each other.
    """
    sets: list[_Set] = []
    for most_blocks in _BLOCKS:
        sets.append(_Set(parts, tuple(_one_by_one(w, h, parts, stop, most_blocks))))
        if stop() or not sets[-1].lost(w):
            break
    if max(2 * found.cut for found in sets) >= sets[0].area:
        with ThreadPoolExecutor(_BESIDE, thread_name_prefix="cutopt-bands") as pool:
            for first in range(0, draws, _BESIDE):
                if stop() or not min(found.lost(w) for found in sets):
                    break
                sets += _drawn(w, h, parts, stop, pool, range(first, first + _BESIDE))
    best = dict.fromkeys(found.bands for found in sorted(sets, key=lambda found: found.lost(w)) if found.bands)
    return [list(bands) for bands in best][:_KEPT]


def _drawn(
    w: int, h: int, parts: Sequence[Part], stop: Callable[[], bool], pool: Executor, seeds: Iterable[int]
) -> list[_Set]:
    """Sets of bands by chance, beside each other; `stop` is asked by the caller's thread alone."""
    halted = threading.Event()

    def one(seed: int) -> _Set:
        return _Set(parts, tuple(_one_by_one(w, h, parts, halted.is_set, _BLOCKS[-1], random.Random(seed))))

    running = [pool.submit(one, seed) for seed in seeds]
    try:
        while wait(running, timeout=_WAIT).not_done:
            if stop():
                halted.set()
    finally:
        halted.set()
    return [each.result() for each in running]


@dataclass(frozen=True, slots=True)
class _Set:
    """Bands of one plate, one after the other, of some of the parts."""

    parts: Sequence[Part]
    bands: tuple[Band, ...]

    @property
    def area(self) -> int:
        """Of all parts."""
        return sum(part.w * part.h * part.most for part in self.parts)

    @property
    def cut(self) -> int:
        """Area of the parts in the bands."""
        return sum(self.parts[k].w * self.parts[k].h for band in self.bands for k, *_ in band.placements)

    def lost(self, w: int) -> float:
        """What is lost in bands `w` wide, and in all likelihood of what they leave."""
        return sum(band.h for band in self.bands) * w - self.cut + _REST_LOSS * (self.area - self.cut)


def _one_by_one(
    w: int, h: int, parts: Sequence[Part], stop: Callable[[], bool], most_blocks: int, rng: random.Random | None = None
) -> Iterator[Band]:
    """Bands one after the other, each the best of what those before it left of the parts.

    With `rng` each is made of the larger half of these parts and most of the others, by chance.
    """
    left = [part.most for part in parts]
    for loss in _LOSSES:
        vain = 0
        while any(left) and not stop() and vain < (1 if rng is None else _VAIN):
            kept = [k for k, many in enumerate(left) if many]
            if rng is not None:
                middle = median(parts[k].w * parts[k].h for k in kept)
                kept = [k for k in kept if parts[k].w * parts[k].h >= middle or rng.random() < _DRAWN_SHARE]
            found = _Joins(w, h, [replace(parts[k], most=left[k]) for k in kept], loss, most_blocks).band(stop)
            if found is None:
                vain += 1
                continue
            placements = tuple((kept[k], x, y, turned) for k, x, y, turned in found.placements)
            for k, *_ in placements:
                left[k] -= 1
            yield replace(found, placements=placements)


class _Joins:
    """Blocks of one plate, joined within one loss."""

    def __init__(self, w: int, h: int, parts: Sequence[Part], loss: int, most_blocks: int) -> None:
        self.limit, self.loss = np.array([w, h], dtype=np.int64), loss
        shifts, self.guard = packing(np.array([part.most for part in parts], dtype=np.int64))
        self.info = np.array([0, 0, 0, 0, -1, 0], dtype=np.int64)
        many, words = most_blocks, self.guard.shape[1]
        self.size, self.words = np.zeros((many, 2), dtype=np.int64), np.zeros((many, words), dtype=np.int64)
        self.area, self.key, self.order, self.dead, self.chain, self.heap = np.zeros((6, many), dtype=np.int64)
        self.made, self.heads = np.zeros((many, 3), dtype=np.int64), np.full(_SLOTS, -1, dtype=np.int64)
        self.after, self.first = np.zeros((many, 2), dtype=np.int64), np.full((2, max(w, h) + 1), -1, dtype=np.int64)
        self.kernels = load("exact", compiled=True)
        for k, part in enumerate(parts):
            for pw, ph, turned in part.ways():
                if pw <= w and ph <= h and self.info[0] < many:
                    self._start(k, pw, ph, turned, shifts[k])

    def _start(self, k: int, w: int, h: int, turned: bool, place: tuple[int, int]) -> None:
        n, slot = int(self.info[0]), part_key(k) & (_SLOTS - 1)
        self.size[n], self.area[n], self.order[n], self.made[n] = (w, h), w * h, w * h, (-1, k, turned)
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
                self.limit, self.loss, self.guard, info, self.size, self.area, self.words, self.key, self.order,
                self.dead, self.made, self.chain, self.heads, self.heap, self.first, self.after, _STEPS,
            )  # fmt: skip
        if info[4] < 0:
            return None
        return Band(h=int(self.size[info[4], 1]), placements=placements_of(int(info[4]), self.size, self.made))
