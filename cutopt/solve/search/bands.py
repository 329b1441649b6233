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

from cutopt.solve.kernels import blocks as kernel
from cutopt.solve.kernels import tight
from cutopt.solve.kernels.loader import load
from cutopt.solve.plates.joined_parts import (
    no_blocks,
    packing,
    placements_of,
    put_part,
)
from cutopt.solve.plates.plate_table import PlatePart, PlatePlacement

# of the smaller parts, in each band by chance
_DRAWN_SHARE = 0.8
_STEPS = 256
_SLOTS = 1 << 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A band `h` high from the left edge, and its parts; x and y from its lower left corner."""

    h: int
    placements: tuple[PlatePlacement, ...]


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
    parts: Sequence[PlatePart],
    left: Sequence[int],
    search: Search,
    stop: Callable[[], bool],
    rng: random.Random | None = None,
) -> Iterator[Band]:
    """Bands of a plate w x h one after the other, each the best of what those before it left of so many parts.

    With `rng` each is made of the larger half of these parts and most of the others, by chance.

    Parameters
    ----------
    w, h : int
        Steps of the grid across and along the plate.
    parts : sequence of Part
    left : sequence of int
        How many of each part may be laid.
    search : Search
        How much bands may lose, and how many blocks are joined for that.
    stop : callable
        Whether to stop.
    rng : random.Random, optional
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
        self, w: int, h: int, parts: Sequence[PlatePart], loss: int, most_blocks: int
    ) -> None:
        self.limit = np.array([w, h], dtype=np.int64)
        self.loss = loss
        most = np.array([part.most for part in parts], dtype=np.int64)
        self.shifts, guard = packing(most)
        self.blocks = no_blocks(most_blocks, _SLOTS, guard)
        self.area = np.zeros(most_blocks, dtype=np.int64)
        self.after = np.zeros((most_blocks, 2), dtype=np.int64)
        self.first = np.full((2, max(w, h) + 1), -1, dtype=np.int64)
        self.kernels = load("tight", compiled=True)
        for part, wanted in enumerate(parts):
            for way in wanted.ways():
                room = self.blocks.state[kernel.BLOCKS] < most_blocks
                if way[0] <= w and way[1] <= h and room:
                    self._start(part, way)

    def _start(self, part: int, way: tuple[int, int, bool]) -> None:
        w, h, _ = way
        n = put_part(self.blocks, part, way, self.shifts[part], w * h)
        self.area[n] = w * h
        worth = int(tight.worth_as_band(self.limit, self.loss, h, w * h))
        if worth > self.blocks.state[kernel.BEST]:
            self.blocks.state[kernel.BEST] = worth
            self.blocks.state[kernel.BEST_BLOCK] = n

    def band(self, stop: Callable[[], bool]) -> Band | None:
        """The band that is worth most, of all that were joined within the limits."""
        blocks = self.blocks
        state = blocks.state
        lists = self.first, self.after
        while state[kernel.WAITING] and not state[kernel.FULL] and not stop():
            self.kernels.join_tight(
                self.limit, self.loss, blocks, self.area, *lists, _STEPS
            )
        best = int(state[kernel.BEST_BLOCK])
        if best < 0:
            return None
        return Band(
            h=int(blocks.size[best, 1]),
            placements=placements_of(best, blocks.size, blocks.made),
        )
