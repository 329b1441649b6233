"""The patterns that the search has met, kept beside its streams."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypeAlias

import numpy as np

from cutopt.solve.arrays import Arrays, Ints
from cutopt.solve.blocks import part_key
from cutopt.solve.kernels import patterns as p

Amounts: TypeAlias = tuple[tuple[int, int], ...]  # unit and how much of it, in order of the units

_PATTERNS, _PARTS, _TABLE = 4_096, 1 << 16, 1 << 14
_KEY_BITS = 36  # sums of these, times what a strip is long, stay far below 63 bits


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

    def __init__(self, units: int) -> None:
        keys = np.array([part_key(unit) >> (62 - _KEY_BITS) | 1 for unit in range(units)], dtype=np.int64)
        self.arrays: Any = p.Met(
            head=np.zeros((_PATTERNS, 5), dtype=np.int64), part=np.zeros((_PARTS, 6), dtype=np.int64),
            table=np.full(_TABLE, -1, dtype=np.int64), keys=keys, info=np.zeros(4, dtype=np.int64),
        )  # fmt: skip

    def make_room(self) -> None:
        """Where no more could be kept, forget the older half."""
        head, part, table, _, info = self.arrays
        if not info[p.M_FULL]:
            return
        many = int(info[p.M_PATTERNS])
        kept = head[many // 2 : many].copy()
        first = int(kept[0, p.M_FIRST]) if len(kept) else int(info[p.M_PARTS])
        left = int(info[p.M_PARTS]) - first
        part[:left] = part[first : first + left].copy()
        kept[:, p.M_FIRST] -= first
        head[: len(kept)] = kept
        info[:3] = len(kept), left, 0
        table[:] = -1
        for at, key in enumerate(kept[:, p.M_KEY].tolist()):
            k = (key ^ (key >> 17)) & (_TABLE - 1)
            while table[k] >= 0 and head[table[k], p.M_KEY] != key:
                k = (k + 1) & (_TABLE - 1)
            table[k] = at

    def rows(self) -> list[tuple[int, int, Ints]]:
        """Sheet, rows and parts of each pattern."""
        head, part, _, _, info = self.arrays
        return [
            (sheet, rows, part[first : first + count])
            for sheet, rows, first, count, _ in head[: info[p.M_PATTERNS]].tolist()
        ]


class Patterns:
    """All that streams of one job have met.

    Parameters
    ----------
    arrays : Arrays
        Of the job; searches for a part of it with the same rows and cloth may share it.
    streams : int
    """

    def __init__(self, arrays: Arrays, streams: int) -> None:
        self._arrays = arrays
        self.met = [Met(len(arrays.items)) for _ in range(streams)]

    def make_room(self) -> None:
        """Forget old patterns where no more could be kept."""
        for met in self.met:
            met.make_room()

    @property
    def count(self) -> int:
        """How many there are, what both streams have met counted twice."""
        return sum(int(met.arrays.info[p.M_PATTERNS]) for met in self.met)

    @property
    def ever(self) -> int:
        """How many there ever were, those that are forgotten as well."""
        return sum(int(met.arrays.info[p.M_EVER]) for met in self.met)

    def all(self) -> list[Pattern]:
        """Each pattern once, a band in the fewest rows that it was met in; always in the same order."""
        found: dict[tuple[int, Amounts], Pattern] = {}
        for met in self.met:
            for sheet, rows, parts in met.rows():
                amounts = self._amounts(parts)
                known = found.get((sheet, amounts))
                if known is None or rows < known.rows:
                    found[sheet, amounts] = Pattern(sheet, rows, amounts, parts.copy())
        return list(found.values())

    def _amounts(self, parts: Ints) -> Amounts:
        items, found = self._arrays.items, dict[int, int]()
        for unit, _, _, w, l, _ in parts.tolist():  # noqa: E741
            found[unit] = found.get(unit, 0) + (max(w, l) - items[unit].loss if items[unit].strip else 1)
        return tuple(sorted(found.items()))
