"""Sets of bands of one plate: the best few that several ways of looking for them find.

Which bands come first decides what is left for the others, and what no band holds is searched for by chance and loses
most. So sets are drawn by chance, and then mended: some bands of a set are given up, and new ones made of their parts
and of what was left (a large neighbourhood search, Shaw 1998). What is left is searched for shortly each time, as the
length it takes hangs on its tallest parts more than on its area.
"""

from __future__ import annotations

import random
import threading
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import Executor, ThreadPoolExecutor, wait
from dataclasses import dataclass
from functools import cached_property, partial
from typing import TypeAlias

from cutopt.solve.arrays import Placement
from cutopt.solve.bands import Band, Search, bands_of
from cutopt.solve.plates import Part

_ORDERLY = tuple(Search(steps=tuple((loss, n) for loss in (0, 100, 150, 200, 300))) for n in (5_000, 20_000, 50_000))
_DRAWN = Search(steps=((0, 50_000), (100, 50_000), (200, 10_000), (300, 10_000)), vain=2)
_MENDED = Search(steps=tuple((loss, 10_000) for loss in (0, 100, 200, 300)))
_REST_LOSS = 0.06  # of what the bands leave: as a rule it is more
_BESIDE = 2  # sets that are worked on at a time, as the kernels run beside each other
_MENDED_SHARE = 0.3, 0.6  # of all parts, at most: those of the bands given up and those left, by chance
_IN_VAIN = 100  # times that each set is mended in vain before it is left
_WAIT = 0.05  # seconds between two questions whether to stop
_KEPT = 4  # sets that are told

Over: TypeAlias = Callable[[], bool]
Rest: TypeAlias = Callable[[list[int], int], Sequence[Placement] | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tries:
    """How many sets are drawn by chance at most, and how often each is mended; and when to go on to what is next.

    `rest` searches shortly for all that is wanted beyond bands so high, of the parts so many of each; None for no plan.
    `pays` says whether bands are worth the time, where the best set uses the plate so far.
    """

    draws: int
    mends: int
    drawn: Over
    mended: Over
    rest: Rest
    pays: Callable[[int], bool]


def best_sets(w: int, h: int, parts: Sequence[Part], tries: Tries) -> list[BandSet]:
    """Sets of bands of a plate w x h, with at most `part.most` copies of each: the best few found, the best first.

    Ends when nothing is left over, or with the tries. Sets are drawn by chance and mended only where the first ones
    hold most of all parts.
    """
    plate = _Plate(w, h, tuple(parts), tries.rest)
    sets: list[BandSet] = []
    for search in _ORDERLY:
        sets.append(plate.bands(plate.everything, search, tries.drawn))
        if tries.drawn() or not sets[-1].lost:
            break
    if any(found.holds_most for found in sets):
        with ThreadPoolExecutor(_BESIDE, thread_name_prefix="cutopt-bands") as pool:
            _draw(plate, sets, tries, pool)
            if tries.pays(min(found.length for found in sets)):
                _mend(sets, tries, pool)
    best: dict[tuple[Band, ...], BandSet] = {}
    for found in sorted(sets, key=lambda found: found.length):
        best.setdefault(found.bands, found)
    return [found for found in best.values() if found.bands][:_KEPT]


def _draw(plate: _Plate, sets: list[BandSet], tries: Tries, pool: Executor) -> None:
    """Add sets by chance."""

    for first in range(0, tries.draws, _BESIDE):
        if tries.drawn() or not all(found.lost for found in sets):
            break
        sets += _beside(pool, partial(_drawn, plate), range(first, first + _BESIDE), tries.drawn)


def _drawn(plate: _Plate, seed: int, over: Over) -> BandSet:
    return plate.bands(plate.everything, _DRAWN, over, random.Random(seed))


def _mend(sets: list[BandSet], tries: Tries, pool: Executor) -> None:
    """Mend the best set until that is in vain, then the next best, and add what becomes of them."""
    waiting = sorted((found for found in sets if found.holds_most), key=lambda found: found.length)[_KEPT - 1 :: -1]
    now, last = waiting.pop(), 0
    for turn in range(tries.mends):
        if turn - last > _IN_VAIN and waiting:
            now, last = waiting.pop(), turn
        if tries.mended() or turn - last > _IN_VAIN or not now.lost:
            break
        seeds = range(turn * _BESIDE, (turn + 1) * _BESIDE)
        for other in _beside(pool, partial(_mended, now), seeds, tries.mended):
            if other.hoped <= now.length and other.length <= now.length:
                last = turn if other.length < now.length else last
                now = other
                sets.append(now)


def _mended(bands: BandSet, seed: int, over: Over) -> BandSet:
    return bands.mended(random.Random(seed), over)


def _beside(pool: Executor, work: Callable[[int, Over], BandSet], numbers: Iterable[int], over: Over) -> list[BandSet]:
    """Do the same work with several numbers beside each other; `over` is asked by the caller's thread alone."""
    halted = threading.Event()
    running = [pool.submit(work, number, halted.is_set) for number in numbers]
    try:
        while wait(running, timeout=_WAIT).not_done:
            if over():
                halted.set()
    finally:
        halted.set()
    return [each.result() for each in running]


@dataclass(frozen=True, slots=True)
class _Plate:
    """A plate w x h, and what is wanted from it."""

    w: int
    h: int
    parts: tuple[Part, ...]
    rest: Rest

    @property
    def everything(self) -> list[int]:
        """How many of each part are wanted."""
        return [part.most for part in self.parts]

    @property
    def area(self) -> int:
        """Of all parts."""
        return sum(part.w * part.h * part.most for part in self.parts)

    def area_of(self, bands: Iterable[Band]) -> int:
        """Of the parts in some bands."""
        return sum(self.parts[k].w * self.parts[k].h for band in bands for k, *_ in band.placements)

    def bands(self, left: Sequence[int], search: Search, over: Over, rng: random.Random | None = None) -> BandSet:
        """A set of bands of so many of the parts."""
        return self.set_of(bands_of(self.w, self.h, self.parts, left, search, over, rng))

    def set_of(self, bands: Iterable[Band]) -> BandSet:
        """A set of some bands, in which their order does not count."""
        return BandSet(self, tuple(sorted(bands, key=lambda band: (-band.h, band.placements))))


@dataclass(frozen=True, eq=False)
class BandSet:
    """Bands of one plate, the highest first, of some of the parts, and what was found for the others."""

    plate: _Plate
    bands: tuple[Band, ...]

    @cached_property
    def cut(self) -> int:
        """Area of the parts in the bands."""
        return self.plate.area_of(self.bands)

    @cached_property
    def rows(self) -> int:
        """How far the bands go."""
        return sum(band.h for band in self.bands)

    @property
    def lost(self) -> bool:
        """Whether anything is lost, or left over."""
        return self.rows * self.plate.w > self.cut or self.cut < self.plate.area

    @property
    def hoped(self) -> float:
        """How far the plate is used if what the bands leave loses little."""
        return self.rows + (self.plate.area - self.cut) / self.plate.w / (1 - _REST_LOSS)

    @property
    def holds_most(self) -> bool:
        """Whether the bands hold at least half of all parts."""
        return 2 * self.cut >= self.plate.area

    @cached_property
    def rest(self) -> Sequence[Placement] | None:
        """Where all else lies beyond the bands; None where no plan was found, or the bands leave most."""
        return self.plate.rest(self.left(self.bands), self.rows) if self.holds_most else None

    @cached_property
    def length(self) -> int:
        """How far the plate is used; the whole of it where there is no plan."""
        if self.rest is None:
            return self.plate.h
        return max((lie.y + lie.l for lie in self.rest), default=self.rows)

    def left(self, bands: Iterable[Band]) -> list[int]:
        """How many of each part are not in some bands."""
        left = self.plate.everything
        for band in bands:
            for k, *_ in band.placements:
                left[k] -= 1
        return left

    def mended(self, rng: random.Random, over: Over) -> BandSet:
        """Some bands given up, by chance, and new ones made of their parts and those that no band holds."""
        bands = rng.sample(self.bands, len(self.bands))
        free, most = self.plate.area - self.cut, self.plate.area * rng.uniform(*_MENDED_SHARE)
        kept: list[Band] = []
        for n, band in enumerate(bands):
            area = self.plate.area_of([band])
            if n and free + area > most:
                kept.append(band)
                continue
            free += area
        return self.plate.set_of([*kept, *self.plate.bands(self.left(kept), _MENDED, over, rng).bands])
