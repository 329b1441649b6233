"""The patterns that the search has met, kept beside its streams."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypeAlias

import numpy as np

from cutopt.solve.kernels import patterns as p
from cutopt.solve.plates.joined_parts import part_key
from cutopt.solve.plates.plate_table import Ints
from cutopt.solve.search.arrays import Arrays

# unit and how much of it, in order of the units
Amounts: TypeAlias = tuple[tuple[int, int], ...]

_PATTERNS = 4_096
_PARTS = 1 << 16
_TABLE = 1 << 14
# sums of these, times what a strip is long, stay far below 63 bits
_KEY_BITS = 36


@dataclass(frozen=True, slots=True)
class Pattern:
    """What may lie on one cloth, or on a band of a bought length that takes so many rows.

    `parts` holds a row (unit, x, y, w, l, turned) for each part.
    """

    sheet: int
    rows: int
    amounts: Amounts
    parts: Ints


class Met:
    """The patterns that one stream has met, the oldest forgotten where they are too many."""

    def __init__(self, arrays: Arrays) -> None:
        self._items = arrays.items
        keys = [
            part_key(unit) >> (62 - _KEY_BITS) | 1 for unit in range(len(arrays.items))
        ]
        self.arrays: Any = p.Met(
            head=np.zeros((_PATTERNS, 5), dtype=np.int64),
            part=np.zeros((_PARTS, 6), dtype=np.int64),
            table=np.full(_TABLE, -1, dtype=np.int64),
            keys=np.array(keys, dtype=np.int64),
            info=np.zeros(4, dtype=np.int64),
        )
        # the first of them
        self._read: list[Pattern] = []

    @property
    def count(self) -> int:
        """How many there are."""
        return int(self.arrays.info[p.M_PATTERNS])

    @property
    def ever(self) -> int:
        """How many there ever were."""
        return int(self.arrays.info[p.M_EVER])

    def all(self) -> list[Pattern]:
        """All of them, the oldest first."""
        head = self.arrays.head
        part = self.arrays.part
        for sheet, rows, first, count, _ in head[len(self._read) : self.count].tolist():
            parts = part[first : first + count].copy()
            self._read.append(Pattern(sheet, rows, self._amounts(parts), parts))
        return self._read

    def _amounts(self, parts: Ints) -> Amounts:
        found = dict[int, int]()
        for unit, _, _, w, l, _ in parts.tolist():
            item = self._items[unit]
            found[unit] = found.get(unit, 0) + item.amount(max(w, l))
        return tuple(sorted(found.items()))

    def make_room(self) -> None:
        """Where no more could be kept, forget the older half."""
        head, part, table, _, info = self.arrays
        if not info[p.M_FULL]:
            return
        older = (self.count + 1) // 2
        kept = head[older : self.count].copy()
        del self._read[:older]
        end = int(info[p.M_PARTS])
        if len(kept):
            first = int(kept[0, p.M_FIRST])
        else:
            first = end
        part[: end - first] = part[first:end].copy()
        kept[:, p.M_FIRST] -= first
        head[: len(kept)] = kept
        info[:3] = len(kept), end - first, 0
        table[:] = -1
        for at, key in enumerate(kept[:, p.M_KEY].tolist()):
            table[p.slot(self.arrays, key)] = at


class Patterns:
    """All that streams of one job have met.

    Parameters
    ----------
    arrays : Arrays
        Of the job; searches for a part of it with the same rows and cloth may share it.
    streams : int
    """

    def __init__(self, arrays: Arrays, streams: int) -> None:
        self.met = [Met(arrays) for _ in range(streams)]

    def make_room(self) -> None:
        """Forget old patterns where no more could be kept."""
        for met in self.met:
            met.make_room()

    @property
    def count(self) -> int:
        """How many there are, what both streams have met counted twice."""
        return sum(met.count for met in self.met)

    @property
    def ever(self) -> int:
        """How many there ever were, those that are forgotten as well."""
        return sum(met.ever for met in self.met)

    def all(self) -> list[Pattern]:
        """Each pattern once, a band in the fewest rows that it was met in; always in the same order."""
        found: dict[tuple[int, Amounts], Pattern] = {}
        for pattern in (pattern for met in self.met for pattern in met.all()):
            known = found.get((pattern.sheet, pattern.amounts))
            if known is None or pattern.rows < known.rows:
                found[pattern.sheet, pattern.amounts] = pattern
        return list(found.values())
