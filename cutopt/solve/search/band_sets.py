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
from typing import Protocol, TypeAlias

from cutopt.solve.model.layout import Placement
from cutopt.solve.plates.plate_table import PlatePart
from cutopt.solve.search.bands import Band, Search, bands_of

_ORDERLY = tuple(
    Search(steps=tuple((loss, n) for loss in (0, 100, 150, 200, 300)))
    for n in (5_000, 20_000, 50_000)
)
_BY_CHANCE = Search(
    steps=((0, 50_000), (100, 50_000), (200, 10_000), (300, 10_000)), vain=2
)
_MENDING = Search(steps=tuple((loss, 10_000) for loss in (0, 100, 200, 300)))
# of what the bands leave: as a rule it is more, so that a set that needs less is not looked at
_LEAST_LOSS = 0.06
# sets that are worked on at a time, as the kernels run beside each other
_BESIDE = 2
# of all that is wanted, at most: bands that are given up and what none holds, by chance
_GIVEN_UP = (
    0.3,
    0.6,
)
# turns in vain before a set is left
_IN_VAIN = 100
# seconds between two questions whether to stop
_WAIT = 0.05
# sets that are told, and of which the others are mended after the best
_KEPT = 4

Over: TypeAlias = Callable[[], bool]


class Length(Protocol):
    """The length of which the plate is a part, as :func:`best_sets` asks for it."""

    # area of what is wanted besides the parts
    more: int

    def rest(self, counts: list[int], rows: int) -> Sequence[Placement] | None:
        """Search shortly for all that is wanted beyond bands so high, so many of each part; None for no plan."""

    def take(self, bands: Sequence[Band], rest: Sequence[Placement]) -> bool:
        """Cut it like this if that is cheaper; whether it is."""

    def goal(self) -> int:
        """The rows that a plan must keep to so that less has to be bought."""

    def pays(self, rows: int) -> bool:
        """Whether bands are worth more time, where the best of them need so many rows with what they leave."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tries:
    """How many sets are drawn by chance and how many turns of mending there are at most.

    Drawing ends with `drawn`, and everything with `mended`.
    """

    draws: int
    mends: int
    drawn: Over
    mended: Over


def best_sets(
    w: int, h: int, parts: Sequence[PlatePart], length: Length, tries: Tries
) -> list[BandSet]:
    """Sets of bands of a plate w x h, with at most `part.most` copies of each: the best few found, the best first.

    Ends when nothing is left over, or with the tries. Sets are drawn by chance and mended only where the first ones
    hold most of all that is wanted. Each that is cheaper is taken at once.

    Parameters
    ----------
    w, h : int
        Steps of the grid across and along the plate.
    parts : sequence of Part
    length : Length
        Searches for what bands leave, and says whether they pay.
    tries : Tries
        How often sets are drawn and mended, and when that ends.
    """
    found = _Found(_Plate(w, h, tuple(parts), length))
    for search in _ORDERLY:
        found.add(found.plate.bands(found.plate.everything, search, tries.mended))
        if tries.mended() or not found.best[0].lost:
            break
    if any(bands.holds_most for bands in found.best):
        with ThreadPoolExecutor(_BESIDE, thread_name_prefix="cutopt-bands") as pool:
            _draw(found, tries, pool)
            if length.pays(found.best[0].length):
                _mend(found, tries, pool)
    return [bands for bands in found.best if bands.bands]


class _Found:
    """The best sets so far, and which have been looked at."""

    def __init__(self, plate: _Plate) -> None:
        self.plate = plate
        self.best: list[BandSet] = []
        self._known: set[tuple[int, ...]] = set()

    def add(self, bands: BandSet) -> bool:
        """Search shortly for what a set leaves, unless another one leaves the same; whether it was looked at."""
        key = (bands.rows, *bands.left(bands.bands))
        if key in self._known:
            return False
        self._known.add(key)
        if bands.rest is not None:
            self.plate.length.take(bands.bands, bands.rest)
        self.best = sorted([*self.best, bands], key=lambda each: each.length)[:_KEPT]
        return True


def _draw(found: _Found, tries: Tries, pool: Executor) -> None:
    """Add sets by chance."""
    for first in range(0, tries.draws, _BESIDE):
        if tries.drawn() or not found.best[0].lost:
            break
        for bands in _beside(
            pool,
            partial(_drawn, found.plate),
            range(first, first + _BESIDE),
            tries.drawn,
        ):
            found.add(bands)


def _drawn(plate: _Plate, seed: int, over: Over) -> BandSet:
    return plate.bands(plate.everything, _BY_CHANCE, over, random.Random(seed))


def _mend(found: _Found, tries: Tries, pool: Executor) -> None:
    """Mend the best set until that is in vain, then the next best."""
    now, *waiting = (bands for bands in found.best if bands.holds_most)
    vain = 0
    for turn in range(tries.mends):
        if vain >= _IN_VAIN and waiting:
            now = waiting.pop(0)
            vain = 0
        if tries.mended() or vain >= _IN_VAIN or not now.lost:
            break
        vain += 1
        seeds = range(turn * _BESIDE, (turn + 1) * _BESIDE)
        for bands in _beside(pool, partial(_mended, now), seeds, tries.mended):
            if (
                bands.hoped <= found.plate.length.goal()
                and found.add(bands)
                and bands.length <= now.length
            ):
                if bands.length < now.length:
                    vain = 0
                now = bands


def _mended(bands: BandSet, seed: int, over: Over) -> BandSet:
    return bands.mended(random.Random(seed), over)


def _beside(
    pool: Executor,
    work: Callable[[int, Over], BandSet],
    numbers: Iterable[int],
    over: Over,
) -> list[BandSet]:
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
    parts: tuple[PlatePart, ...]
    length: Length

    @property
    def everything(self) -> list[int]:
        """How many of each part are wanted."""
        return [part.most for part in self.parts]

    @property
    def area(self) -> int:
        """Of all that is wanted."""
        return (
            sum(part.w * part.h * part.most for part in self.parts) + self.length.more
        )

    def area_of(self, bands: Iterable[Band]) -> int:
        """Of the parts in some bands."""
        return sum(
            self.parts[k].w * self.parts[k].h
            for band in bands
            for k, *_ in band.placements
        )

    def bands(
        self,
        left: Sequence[int],
        search: Search,
        over: Over,
        rng: random.Random | None = None,
    ) -> BandSet:
        """A set of bands of so many of the parts."""
        return self.set_of(
            bands_of(self.w, self.h, self.parts, left, search, over, rng)
        )

    def set_of(self, bands: Iterable[Band]) -> BandSet:
        """A set of some bands, in which their order does not count."""
        return BandSet(
            self, tuple(sorted(bands, key=lambda band: (-band.h, band.placements)))
        )


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
        return self.rows + (self.plate.area - self.cut) / self.plate.w / (
            1 - _LEAST_LOSS
        )

    @property
    def holds_most(self) -> bool:
        """Whether the bands hold at least half of all that is wanted."""
        return 2 * self.cut >= self.plate.area

    @cached_property
    def rest(self) -> Sequence[Placement] | None:
        """Where all else lies beyond the bands; None where no plan was found, or the bands leave most."""
        if self.holds_most:
            return self.plate.length.rest(self.left(self.bands), self.rows)
        return None

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
        free = self.plate.area - self.cut
        most = self.plate.area * rng.uniform(*_GIVEN_UP)
        kept: list[Band] = []
        for n, band in enumerate(bands):
            area = self.plate.area_of([band])
            if n and free + area > most:
                kept.append(band)
                continue
            free += area
        return self.plate.set_of(
            [*kept, *self.plate.bands(self.left(kept), _MENDING, over, rng).bands]
        )
