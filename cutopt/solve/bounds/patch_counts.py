"""Patches of a x b in parts and in cloth, for many sides a and b at once: what claims count."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from math import gcd

import numpy as np

from cutopt.geometry import area2
from cutopt.lengths import INCH, MM, up
from cutopt.solve.bounds.relaxed import Relaxed, RelaxedCloth
from cutopt.solve.plates.plate_table import TURNED, UNTURNED, Ints, limited_sums

# the cost where all that is on sale is too little
NOTHING_ENOUGH = 1 << 60
# of which the sides of a patch are parts
_MOST_SIZES = 20
_MOST_UNITS = 1 << 20
# a side of a patch is one of the sizes, or a half, a third, a quarter of it
_PARTS = 4
# the finest marks of a ruler
_SHOWN = {"in": INCH // 64, "cm": MM // 10}


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedRow:
    """A row as claims see it: `copies` of w x l ticks (of a strip l is its whole length), and who may serve it.

    `shortest` is the least length of a segment of a strip, else `l`. `ways` are the turns in which some cloth that is
    there could hold a part; `fabrics` (numbers of the job) those that cloth is of.
    """

    item: int
    name: str
    copies: int
    w: int
    l: int
    strip: bool
    shortest: int
    ways: tuple[int, ...] = ()
    fabrics: frozenset[int] = frozenset()

    def lies(self, source: RelaxedCloth, turns: int) -> bool:
        """Whether a part (of a strip the shortest segment) is small enough for cloth in one of these turns."""
        along = turns & UNTURNED and self.w <= source.w and self.shortest <= source.l
        across = turns & TURNED and self.shortest <= source.w and self.w <= source.l
        return bool(along or across)


class Sides:
    """Sides that a patch may have along one axis; the first is one tick, which counts without steps."""

    def __init__(self, sizes: Sequence[int], finest: int) -> None:
        told = {(1, 1)}
        for size in sizes:
            told |= {
                (size, parts)
                for parts in range(1, _PARTS + 1)
                if parts == 1 or size % (parts * finest) == 0
            }
        self._sides = sorted(told, key=lambda side: Fraction(*side))
        self.sizes = np.array([size for size, _ in self._sides], dtype=np.int64)
        self.parts = np.array([parts for _, parts in self._sides], dtype=np.int64)

    def of(self, length: int) -> Ints:
        """How many of each side lie one after the other in a length (ticks)."""
        return length * self.parts // self.sizes

    def length(self, counts: Ints) -> Ints:
        """The least whole ticks in which so many of each side lie; the sides are the last axis of `counts`."""
        return -(-counts * self.sizes // self.parts)

    def stepless(self) -> Ints:
        """1 where a side is one tick."""
        return np.asarray(self.sizes == self.parts, dtype=np.int64)

    def __getitem__(self, number: int) -> Fraction | None:
        size, parts = self._sides[number]
        if size == parts:
            return None
        return Fraction(size, parts)


class FillRule:
    """How much of a length some parts can fill, one after the other: pushed together they reach no farther.

    `parts` are the sizes that a part may have along the axis, and how many parts there are; without parts, or where
    the lengths are too long to try all sums, all of a length may be filled.
    """

    def __init__(
        self, parts: Sequence[tuple[Sequence[int], int]], longest: int
    ) -> None:
        self._unit = gcd(*(size for sizes, _ in parts for size in sizes)) or 1
        self._sums: Ints | None = None
        if parts and longest // self._unit <= _MOST_UNITS:
            whole = [
                ([size // self._unit for size in sizes], copies)
                for sizes, copies in parts
            ]
            self._sums = limited_sums(longest // self._unit, whole)

    @property
    def partly(self) -> bool:
        """Whether not all of every length may be filled."""
        return self._sums is not None

    def of(self, length: int) -> int:
        """The most of a length that they fill."""
        if self._sums is None:
            return length
        place = int(np.searchsorted(self._sums, length // self._unit, side="right"))
        return int(self._sums[place - 1]) * self._unit


class Patches:
    """Counts for some rows: arrays with a row for each side across and a column for each side along."""

    def __init__(
        self, problem: Relaxed, rows: Sequence[CountedRow], *, filled: bool
    ) -> None:
        everything = (*problem.pile, *problem.shop)
        # segments may have any length
        filled = filled and not any(row.strip for row in rows)
        longest = (
            max(source.w for source in everything),
            max(source.l for source in everything),
        )
        self.fill = (
            FillRule(_sizes(rows, UNTURNED) if filled else (), longest[0]),
            FillRule(_sizes(rows, TURNED) if filled else (), longest[1]),
        )
        finest = _SHOWN[problem.model.job.settings.unit]
        across: dict[int, None] = {}
        along: dict[int, None] = {}
        for row in sorted(rows, key=lambda row: -row.copies * row.w * row.l):
            if UNTURNED in row.ways:
                across[row.w], along[row.l] = None, None
            if TURNED in row.ways:
                across[row.l], along[row.w] = None, None
        self.across, self.along = (
            Sides(list(sizes)[:_MOST_SIZES], finest) for sizes in (across, along)
        )
        self._parts = np.outer(self.across.parts, self.along.parts)
        self._sizes = np.outer(self.across.sizes, self.along.sizes)
        self.of_row = cache(self._of_row)

    def _of_row(self, row: CountedRow) -> Ints:
        """The least that a copy counts, whichever way it lies."""
        found = []
        for way in row.ways or (UNTURNED,):
            w, length = (row.w, row.l) if way == UNTURNED else (row.l, row.w)
            x = self.across.of(w)
            y = self.along.of(length)
            # of segments nobody knows how long they are, only what they come to
            if row.strip:
                x, y = (
                    (x, y * self.along.stepless())
                    if way == UNTURNED
                    else (x * self.across.stepless(), y)
                )
            found.append(np.outer(x, y))
        return np.asarray(np.minimum.reduce(found))

    @property
    def parts_of_sizes(self) -> Ints:
        """How easy the sides are to follow, the easiest with the least: whole sizes, no sides, halves, thirds."""
        hard = [
            np.where(axis.stepless() == 1, 2, axis.parts)
            for axis in (self.across, self.along)
        ]
        return np.add.outer(*hard)

    @property
    def none(self) -> Ints:
        """No patch, whatever its sides."""
        return np.zeros_like(self._parts)

    def wanted(self, rows: Sequence[CountedRow]) -> Ints:
        """What all copies of some rows count."""
        return sum((row.copies * self.of_row(row) for row in rows), start=self.none)

    def of_source(self, source: RelaxedCloth) -> Ints:
        """The most that one copy of some cloth has: by its sides and, where it is irregular, by its area too."""
        counts = np.outer(
            self.across.of(self.fill[0].of(source.w)),
            self.along.of(self.fill[1].of(source.l)),
        )
        if source.cloth is None:
            return counts
        area = up(Fraction(area2(source.cloth.outline)) / 2)
        return np.asarray(np.minimum(counts, area * self._parts // self._sizes))

    def at(self, source: RelaxedCloth, place: tuple[int, int]) -> int:
        """As :meth:`of_source` of a rectangle, for the sides of one place in the arrays."""
        a, b = place
        w = self.fill[0].of(source.w)
        length = self.fill[1].of(source.l)
        lanes = w * int(self.across.parts[a]) // int(self.across.sizes[a])
        return lanes * (length * int(self.along.parts[b]) // int(self.along.sizes[b]))

    def cheapest_alone(
        self, problem: Relaxed, offers: Sequence[Sequence[int]], missing: Ints
    ) -> Ints:
        """What it costs where all that is missing comes from the cheapest single offer.

        Parameters
        ----------
        problem : Relaxed
        offers : sequence of sequences of int
            Numbers of the sources of the shop that belong together: all lengths of one offer, or one kind of piece.
        missing : array of int64 (sides across, sides along)
            Patches, for each pair of sides of a patch.

        Returns
        -------
        array of int64 (sides across, sides along)
            Units of the model; `NOTHING_ENOUGH` where no offer has so many.
        """
        least = np.full(missing.shape, NOTHING_ENOUGH, dtype=np.int64)
        for offer in offers:
            sources = [problem.shop[s] for s in offer]
            if sources[0].exclusive >= 0:
                alone = self._from_lengths
            else:
                alone = self._from_pieces
            np.minimum(least, alone(sources, missing), out=least)
        return least

    def _from_lengths(self, sources: Sequence[RelaxedCloth], missing: Ints) -> Ints:
        lanes = self.across.of(self.fill[0].of(sources[0].w))[:, None]
        needed = self.along.length(-(-missing // np.maximum(lanes, 1)))
        rung = np.searchsorted(
            [self.fill[1].of(source.l) for source in sources], needed
        )
        costs = np.array(
            [*(source.cost for source in sources), NOTHING_ENOUGH], dtype=np.int64
        )
        return np.where(lanes > 0, costs[rung], NOTHING_ENOUGH)

    def _from_pieces(self, sources: Sequence[RelaxedCloth], missing: Ints) -> Ints:
        (source,) = sources
        each = self.of_source(source)
        copies = -(-missing // np.maximum(each, 1))
        return np.where(
            (each > 0) & (copies <= source.copies), copies * source.cost, NOTHING_ENOUGH
        )


def _sizes(rows: Sequence[CountedRow], straight: int) -> list[tuple[list[int], int]]:
    """What parts measure along the axis on which their width lies in the turn `straight`, and how many there are."""
    found = []
    for row in rows:
        sizes = [row.w if way == straight else row.l for way in row.ways]
        found.append((sizes, row.copies))
    return found
