"""A plate so large beside its parts that the exact table cannot be filled: exact over few sizes at a time.

A search over sets of sizes: the plate programme (`plates.py`) on some two hundred widths and heights, with the best
grid of one part in each of its plates, takes milliseconds. The sizes that the best plan uses are kept, the others
drawn anew: multiples of parts, sums that fill a size exactly, what such a size leaves of another one. No set is worse
than the one before. The bound (`scales.py`) is worked on in turn with it.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Sequence
from typing import TypeAlias

import numpy as np

from cutopt.solve.columns import columns
from cutopt.solve.kernels.loader import load
from cutopt.solve.loss import little_loss
from cutopt.solve.plates import Ints, Part, Placement, PlateTable, raster, sums
from cutopt.solve.scales import Scales
from cutopt.solve.tilings import by_area, tilings

MOST_WORK = 4_000_000_000  # additions of the whole table, about four seconds; above it is searched
_SIZES = 220  # of an axis at a time
_TRIES = 1000
_QUIET = 40  # tries (of many parts more) without a better plan before those that lose little are looked through
_VAIN, _VAIN_BY_AREA = 200, 20  # before the search ends
_STEPS = 400  # of the bound
_BOUND_EVERY = 50
_FIRST, _OTHERS = 100, 60  # parts of most worth by area and others that grids are made of in one try
_CLOSE = 800_000  # a plan by area that falls this part short of the bound will do
_LEAST_WORTH = 0.5  # by area, of the best, of parts of the first plan
_MOST_COPIES = 10_000  # of a part: more cannot be asked for

Way: TypeAlias = tuple[int, int, int, bool]  # part, width, height, turned
Plan: TypeAlias = list[Placement]


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
) -> tuple[int, Plan, int]:
    """The best value found, copies unlimited, its plan, and what no plan can exceed."""
    search, bound = _Large(w, h, parts, seed), area_bound(w, h, parts)
    descents = [Scales(w, h, parts, shared=shared) for shared in (True, False)]
    bound = min(bound, *(scales.bound for scales in descents))
    if not stop():
        search.begin(bound, stop)
    tried = search.by_area  # then everything loses little
    for turn in range(1, _TRIES + 1):
        search.turn()
        for scales in descents:
            _step(scales, search.value, bound)
        if turn % _BOUND_EVERY == 0:
            bound = min(bound, *(scales.proved() for scales in descents))
        if not tried and search.vain >= max(_QUIET, len(search.ways) // 3) and search.value < bound:
            tried, bound = True, min(bound, _by_loss(search, descents, stop))
        if search.value >= bound or search.vain >= (_VAIN_BY_AREA if search.by_area else _VAIN) or stop():
            break
    return search.value, search.plan, min(bound, *(scales.proved() for scales in descents))


def warm_up() -> None:
    """Load all that is loaded once: a plate of parts worth their area, and one of others, both tiny."""
    large_plate(7, 7, [Part(3, 2, 6), Part(2, 3, 6)], lambda: False)
    large_plate(7, 7, [Part(3, 2, 6), Part(2, 3, 5)], lambda: False)
    scales = Scales(7, 7, [Part(3, 2, 6), Part(2, 3, 5)])
    little_loss(scales.pair(), 1, lambda: False)


def _step(scales: Scales, known: int, bound: int) -> bool:
    """One more step of a bound where it may be of use."""
    if known >= bound or scales.finished or scales.steps >= _STEPS:
        return False
    scales.step(known)
    return True


def _by_loss(search: _Large, descents: Sequence[Scales], stop: Callable[[], bool]) -> int:
    """Look through all plans that lose little of the better bound; what no plan exceeds."""
    for scales in descents:
        while _step(scales, search.value, scales.bound) and not stop():
            pass
    best = min(descents, key=lambda scales: scales.proved())
    found = little_loss(best.pair(), search.value, stop)
    if found.plan:
        search.take(found.value, [(best.ways[k][0], x, y, best.ways[k][1]) for k, x, y in found.plan])
    return found.bound


class _Large:
    """The search on one plate."""

    def __init__(self, w: int, h: int, parts: Sequence[Part], seed: int) -> None:
        self.w, self.h, self.rng = w, h, random.Random(seed)
        ways = [(k, *way) for k, part in enumerate(parts) for way in part.ways() if way[0] <= w and way[1] <= h]
        # of equal worth by area the larger parts first: fewer cuts
        area = [part.w * part.h for part in parts]
        self.ways: list[Way] = sorted(ways, key=lambda way: (-parts[way[0]].value / area[way[0]], -area[way[0]]))
        self.widths, self.heights = (np.array([way[n] for way in self.ways], dtype=np.int64) for n in (1, 2))
        self.worth = np.array([parts[way[0]].value for way in self.ways], dtype=np.int64)
        self.across, self.along = _Axis(w, self.widths, self.rng), _Axis(h, self.heights, self.rng)
        self.value, self.vain = -1, 0
        self.plan: Plan = []
        self.used: set[int] = set()
        self.by_area = by_area(self.widths, self.heights, self.worth)

    def begin(self, bound: int, stop: Callable[[], bool]) -> None:
        """The best of plans of columns and plans of rows, of the parts of much worth by area (where there are some)."""
        density = self.worth / (self.widths * self.heights)
        copies = self.w * self.h // (self.widths * self.heights)  # of each part on all of the plate
        if self.by_area:
            whole = self.across.whole, self.along.whole
            for sizes in tilings(*whole, self.widths, self.heights, copies <= 4 * _MOST_COPIES, stop):
                self._turn_at(*sizes)
                if self.value >= bound - bound // _CLOSE:
                    return
            return
        best = (copies <= 2 * _MOST_COPIES) & (density >= _LEAST_WORTH * density[0])
        if np.count_nonzero(best) < 2:
            return
        sides = self.widths[best], self.heights[best]
        self._turn_at(*columns(self.w, self.h, *sides, self.worth[best], stop))
        if not stop():
            self._turn_at(*columns(self.h, self.w, *sides[::-1], self.worth[best], stop)[::-1])

    def _turn_at(self, across: set[int], along: set[int]) -> None:
        self.turn((sorted(across), sorted(along)))

    def take(self, value: int, plan: Plan) -> None:
        """A better plan from elsewhere, unless it holds too many copies of a part."""
        if max(Counter(k for k, *_ in plan).values()) <= _MOST_COPIES:
            self.value, self.vain, self.plan = value, 0, plan

    def turn(self, start: tuple[list[int], list[int]] | None = None) -> None:
        """Draw sizes beside those kept (or of a start), and keep those of the best plan on them if it is no worse."""
        kept = self.across.kept, self.along.kept
        self.across.kept, self.along.kept = start or kept
        table = PlateTable(self.across.drawn(), self.along.drawn(), (self.w, self.h))
        which = self._grids(table, everything=start is not None)
        value = table.value(self.w, self.h)
        self.vain += 1
        plates = table.leaves(self.w, self.h).tolist() if value >= self.value else []
        if value < self.value or (self.value > 0 and self._most_copies(table, which, plates) > _MOST_COPIES):
            self.across.kept, self.along.kept = kept
            return
        self.across.kept, self.along.kept = (
            points[met > 0].tolist() for points, met in zip((table.xs, table.ys), table.met, strict=True)
        )
        self.used = {int(which[i, j]) for i, j, _, _ in plates}
        if value > self.value:
            self.value, self.vain, self.plan = value, 0, self._placed(table, which, plates)

    def _grids(self, table: PlateTable, *, everything: bool) -> Ints:
        """Fill the table from the best grids of one part; which part each grid is of."""
        base, which = np.zeros_like(table.values), np.zeros_like(table.values)
        blocks = load("plates", compiled=True).blocks
        count = len(self.ways)
        chosen = set(range(count))
        if count > _FIRST + _OTHERS and not everything:
            others = self.rng.sample(range(_FIRST, count), _OTHERS)
            chosen = {*range(_FIRST), *self.used, *others}
        now = np.array(sorted(chosen), dtype=np.int64)
        sides = self.widths[now], self.heights[now], self.worth[now]
        blocks(table.xs, table.ys, *sides, _MOST_COPIES, np.zeros_like(table.ys), base, which)
        table.fill_from(base)
        return now[which]

    def _most_copies(self, table: PlateTable, which: Ints, plates: list[list[int]]) -> int:
        """Copies of the part that a plan holds most often."""
        copies = Counter[int]()
        for i, j, _, _ in plates:
            k, pw, ph, _ = self.ways[int(which[i, j])]
            copies[k] += (int(table.xs[i]) // pw) * (int(table.ys[j]) // ph)
        return max(copies.values())

    def _placed(self, table: PlateTable, which: Ints, plates: list[list[int]]) -> Plan:
        placed: Plan = []
        for i, j, x, y in plates:
            k, pw, ph, turned = self.ways[int(which[i, j])]
            for a in range(int(table.xs[i]) // pw):
                placed += [(k, x + a * pw, y + b * ph, turned) for b in range(int(table.ys[j]) // ph)]
        return placed


class _Axis:
    """Sizes along one axis: those of the best plan, and how others are drawn."""

    def __init__(self, whole: int, sizes: Ints, rng: random.Random) -> None:
        self.sizes: list[int] = sizes.tolist()
        self.rng = rng
        self.sums = sums(whole, self.sizes)
        self.whole = int(self.sums[-1])
        self.multiple = np.zeros(whole + 1, dtype=np.bool_)
        for size in set(self.sizes):
            self.multiple[size::size] = True
        self.kept: list[int] = []

    def drawn(self) -> Ints:
        """The sizes kept and so many others that there are about two hundred."""
        found = {0, self.whole, *self.kept}
        for _ in range(4 * _SIZES):
            if len(found) >= _SIZES:
                break
            inside = self.rng.choice(self.kept) if self.kept and self.rng.random() < 0.5 else self.whole
            found.update(self._filling(inside) if self.rng.random() < 0.5 else self._loose(inside))
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
