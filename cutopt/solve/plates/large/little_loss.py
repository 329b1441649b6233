"""Which plans of a plate lose little of its bound: all of them, or none.

By two scales (`two_scales.py`) a plate w x h is worth at most f(w) * g(h); what a plan falls short of that is its
loss. A cut loses f(a + b) - f(a) - f(b) times g of the height, never less than nothing, so that a plan loses no less
than any disjoint plates of it together. A plan worth more than the best one known loses at most B. Of two disjoint
plates at most one then loses more than B / 2: all plates that lose more lie in each other, and beside the smaller of
two of them lies one that loses at most B / 2. Hence all blocks that lose so little are joined bottom up (best first,
as Wang 1983, Operations Research 31(3), 573-586), and cut off the plate one after the other; of what is then left
over few sizes remain, as nearly everything loses too much.

A block also has to lose little with what is beside it: whatever the cuts around it, they lose at least
(f(W) - f(w) - f(W - w)) * g(h) and the same along the other side.

Where the blocks are too many for B, a smaller budget still lowers the bound.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from cutopt.solve.kernels import loss as k
from cutopt.solve.kernels.loader import load
from cutopt.solve.plates.large.two_scales import Pair
from cutopt.solve.plates.plate_table import Ints, below, sums

_MOST_BLOCKS = 500_000
_MOST_RESTS = 100_000
# pairs of blocks that are looked at in all
_MOST_WORK = 3_000_000_000
_SLICES = 128
# pairs before the next question whether to stop
_SLICE_WORK = 2_000_000
# the first budget is 2^5 times smaller
_HALVINGS = 5

# way, x, y of its lower left corner
Place: TypeAlias = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class LittleLoss:
    """What no plan exceeds, and a plan worth more than the one known, if there is one."""

    bound: int
    value: int
    plan: tuple[Place, ...] = ()


def little_loss(pair: Pair, known: int, stop: Callable[[], bool]) -> LittleLoss:
    """Look for plans worth more than `known`, those that lose least first.

    Parameters
    ----------
    pair : Pair
        Two scales, and the ways in which parts may lie.
    known : int
        The value of a plan.
    stop : callable
        Asked every tenth of a second; what is found so far is given then.
    """
    bound = max(pair.bound, known)
    value = known
    plan = tuple[Place, ...]()
    for halved in range(_HALVINGS, -1, -1):
        most = ((pair.top - (value + 1) * pair.up) >> halved) // 2
        if bound <= value or most < 0:
            break
        blocks = _Blocks(pair, most, stop)
        if blocks.complete < 0:
            break
        rests = _Rests(blocks, value, stop)
        if rests.value > value:
            value = rests.value
            plan = tuple(rests.places())
        # whatever is worth more loses more than was looked at
        if rests.complete:
            bound = max(min(bound, (pair.top - rests.budget - 1) // pair.up), value)
        if not rests.complete or blocks.complete < most:
            break
    return LittleLoss(bound=max(bound, value), value=value, plan=plan)


class _Blocks:
    """All blocks that lose at most `complete`, which is `most` unless they are too many."""

    def __init__(self, pair: Pair, most: int, stop: Callable[[], bool]) -> None:
        self.pair = pair
        self.rows = np.zeros(
            (_MOST_BLOCKS + len(pair.widths), k.BLOCK_WIDTH), dtype=np.int64
        )
        self.lists = k.Lists(
            by_height=np.full((len(pair.g), 3), -1, dtype=np.int64),
            by_width=np.full((len(pair.f), 3), -1, dtype=np.int64),
        )
        kernels = load("loss", compiled=True)
        scales = _scales(pair, most)
        state = np.zeros(k.BLOCK_STATE, dtype=np.int64)
        kept = _kept(self.rows[:_MOST_BLOCKS], state)
        kernels.begin(scales, kept, pair.widths, pair.heights, pair.values)
        self.complete = -1
        while not state[k.FULL]:
            until = int(state[k.WORK]) + _SLICE_WORK
            if kernels.join(scales, kept, self.lists, until):
                self.complete = most
                break
            self.complete = int(state[k.SLICE]) * scales.slice - 1
            if until > _MOST_WORK or stop():
                break
        self.count = int(state[k.COUNT])
        self._add_large()

    def _add_large(self) -> None:
        """Put the parts that lose more last: a plan may end with one."""
        pair = self.pair
        row = self.count
        by_height = self.lists.by_height
        for part, (w, h, value) in enumerate(
            zip(pair.widths, pair.heights, pair.values, strict=True)
        ):
            loss = int(pair.f[w] * pair.g[h] - value * pair.up)
            if loss > self.complete:
                self.rows[row] = (
                    w,
                    h,
                    value,
                    loss,
                    k.DONE,
                    -1,
                    by_height[h, 0],
                    -1,
                    -1,
                    part,
                )
                by_height[h, 0] = row
                row += 1

    def places(self, block: int, x: int, y: int) -> list[Place]:
        """The parts of a block with its lower left corner at (x, y)."""
        placed = list[Place]()
        stack = [(block, x, y)]
        while stack:
            n, x, y = stack.pop()
            w, h, first, second = (
                int(self.rows[n, c]) for c in (k.W, k.H, k.FIRST, k.SECOND)
            )
            if first < 0:
                placed.append((second, x, y))
                continue
            beside = (
                w == self.rows[first, k.W] + self.rows[second, k.W]
                and h >= self.rows[second, k.H]
            )
            beside = beside and h == max(self.rows[first, k.H], self.rows[second, k.H])
            right, up = (
                (int(self.rows[first, k.W]), 0)
                if beside
                else (0, int(self.rows[first, k.H]))
            )
            stack += [(first, x, y), (second, x + right, y + up)]
        return placed


class _Rests:
    """What is left of the plate when blocks are cut off it, and the best plan that it ends in."""

    def __init__(self, blocks: _Blocks, known: int, stop: Callable[[], bool]) -> None:
        self.blocks = blocks
        pair = blocks.pair
        kernels = load("loss", compiled=True)
        scales = _scales(pair, blocks.complete)
        self.budget = scales.budget
        self.rows = np.zeros((_MOST_RESTS, k.REST_WIDTH), dtype=np.int64)
        self.state = np.zeros(k.REST_STATE, dtype=np.int64)
        self.state[k.BEST] = known
        kept = _kept(self.rows, self.state)
        cutting = k.Cutting(
            blocks=blocks.rows,
            lists=blocks.lists,
            count=blocks.count,
            x=self._largest(pair.f, pair.widths),
            y=self._largest(pair.g, pair.heights),
        )
        kernels.start(scales, kept, cutting, int(cutting.x[-1]), int(cutting.y[-1]))
        self.complete = False
        while not self.complete:
            until = int(self.state[k.WORK]) + _SLICE_WORK
            self.complete = bool(kernels.strip(scales, kept, cutting, until))
            if self.complete:
                break
            if self.state[k.FULL] or until > _MOST_WORK or stop():
                break
        self.value = int(self.state[k.BEST])

    @staticmethod
    def _largest(scale: Ints, sizes: Ints) -> Ints:
        """For each n the largest sum of sizes that is at most n."""
        points = sums(len(scale) - 1, sizes.tolist())
        return points[below(points, len(scale) - 1)]

    def places(self) -> list[Place]:
        """The parts of the best plan: the rests lie in the lower left corner, each in the one before."""
        rest, block, last = (int(self.state[n]) for n in (k.REST, k.LAST_A, k.LAST_B))
        rows = self.rows
        blocks = self.blocks.rows
        placed = self.blocks.places(last, 0, 0)
        w = int(blocks[last, k.W])
        h = int(blocks[last, k.H])
        while block >= 0:
            # beside or above: wherever both fit into the rest that the block was cut off
            beside = (
                w + blocks[block, k.W] <= rows[rest, k.W]
                and max(h, blocks[block, k.H]) <= rows[rest, k.H]
            )
            placed += self.blocks.places(block, w if beside else 0, 0 if beside else h)
            w = int(rows[rest, k.W])
            h = int(rows[rest, k.H])
            rest, block = int(rows[rest, k.BEFORE]), int(rows[rest, k.BLOCK])
        return placed


def _scales(pair: Pair, most: int) -> k.Scales:
    """As the kernels take them, where a row that is kept may lose `most`."""
    return k.Scales(
        f=pair.f,
        g=pair.g,
        up=pair.up,
        slice=most // _SLICES + 1,
        most=most,
        budget=2 * most + 1,
        slim=int(pair.widths.min()),
        low=int(pair.heights.min()),
    )


def _kept(rows: Ints, state: Ints) -> k.Kept:
    """Rows of blocks or of rests, none of which is there yet."""
    return k.Kept(
        rows=rows,
        table=np.full(1 << 20, -1, dtype=np.int64),
        slices=np.full(_SLICES, -1, dtype=np.int64),
        state=state,
    )
