"""Kernels of plates beside the plainest Python for the same question, on small plates drawn by chance."""

from __future__ import annotations

import random
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from cutopt.solve.kernels import blocks, exact, plates, tight
from cutopt.solve.kernels.loader import load
from cutopt.solve.plates.joined_parts import no_blocks, packing, put_part
from cutopt.solve.plates.plate_table import Ints, below

EITHER = pytest.mark.parametrize("compiled", [False, True])


def ints(values: Any) -> Ints:
    return np.array(list(values), dtype=np.int64)


def best_filling(length: int, parts: list[tuple[int, int]]) -> list[int]:
    """The most worth of each length, any number of each part: one part first, then the rest."""
    best = [0]
    for n in range(1, length + 1):
        first = [best[n - long] + worth for long, worth in parts if long <= n]
        best.append(max([best[n - 1], *first]))
    return best


@EITHER
@pytest.mark.parametrize("seed", range(8))
def test_a_length_is_filled_as_by_trying_each_part_first(
    seed: int, *, compiled: bool
) -> None:
    rng = random.Random(seed)
    length = rng.randint(5, 60)
    parts = sorted((rng.randint(2, 15), rng.randint(1, 40)) for _ in range(5))
    lengths = ints(long for long, _ in parts)
    worth = ints(value for _, value in parts)
    f, last = np.zeros((2, length + 1), dtype=np.int64)
    live, copies = np.zeros((2, len(parts)), dtype=np.int64)
    load("plates", compiled=compiled).knapsack(lengths, worth, f, last, live, copies)
    assert f.tolist() == best_filling(length, parts)
    assert int(copies @ worth) == f[-1]
    assert int(copies @ lengths) <= length


@EITHER
@pytest.mark.parametrize("seed", range(4))
def test_a_column_takes_the_best_rows_of_parts_that_fill_its_width(
    seed: int, *, compiled: bool
) -> None:
    rng = random.Random(seed)
    high = rng.randint(8, 30)
    wide = 20
    waste = rng.randint(0, 2)
    parts = sorted(
        (rng.randint(2, 9), rng.randint(2, 9), rng.randint(1, 40)) for _ in range(4)
    )
    heights, widths, values = (ints(side) for side in zip(*parts, strict=True))
    f = np.zeros(high + 1, dtype=np.int64)
    live, worth = np.zeros((2, len(parts)), dtype=np.int64)
    best = np.zeros(wide + 1, dtype=np.int64)
    columns = load("plates", compiled=compiled).columns
    columns(1, wide + 1, widths, heights, values, waste, f, live, worth, best)
    for x in range(1, wide + 1):
        rows = [(h, x // w * v) for h, w, v in parts if w <= x and x % w <= waste]
        assert best[x] == best_filling(high, rows)[-1]


@pytest.mark.parametrize("seed", range(6))
def test_what_is_added_round_a_block_is_the_best_way_to_grow_it_to_the_plate(
    seed: int,
) -> None:
    rng = random.Random(seed)
    xs, ys = (ints(sorted({0, *rng.sample(range(1, 14), 4), 14})) for _ in range(2))
    below_x, below_y = below(xs, 14), below(ys, 14)
    v = ints(rng.randint(0, 30) for _ in range(36)).reshape(6, 6)
    v = np.maximum.accumulate(np.maximum.accumulate(v, axis=0), axis=1)
    u = np.zeros_like(v)
    exact.outside(xs, ys, below_x, below_y, v, u)

    def grown(i: int, j: int) -> int:
        """Grow by each larger width (height) in turn: what lies beside (above) is a plate of its own."""
        found = [0]
        for wider in range(i + 1, 6):
            more = int(v[below_x[xs[wider] - xs[i]], j])
            found.append(more + grown(wider, j))
        for higher in range(j + 1, 6):
            more = int(v[i, below_y[ys[higher] - ys[j]]])
            found.append(more + grown(i, higher))
        return max(found)

    for i in range(1, 6):
        for j in range(1, 6):
            assert u[i, j] == grown(i, j)


def test_a_heap_gives_the_largest_first() -> None:
    rng = random.Random(3)
    bound = ints(rng.randint(0, 50) for _ in range(80))
    heap = np.zeros(80, dtype=np.int64)
    for n in range(80):
        blocks.push(heap, n, bound, n)
    taken = [int(bound[blocks.pop(heap, 80 - n, bound)]) for n in range(80)]
    assert taken == sorted(bound.tolist(), reverse=True)


@pytest.mark.parametrize("seed", range(5))
def test_packed_counts_show_what_plain_counts_show(seed: int) -> None:
    """Twenty parts of many copies take several words; a join has too many where any part is more often than asked."""
    rng = random.Random(seed)
    limits = [rng.choice((1, 2, 7, 200)) for _ in range(20)]
    shifts, guard = packing(ints(limits))
    kept = no_blocks(40, 64, guard)
    counts = []
    for n in range(40):
        count = [rng.randint(0, most) for most in limits]
        counts.append(count)
        for (word, shift), many in zip(shifts, count, strict=True):
            kept.words[n, word] += many << shift
    for a, b in pairwise(range(40)):
        both = zip(counts[a], counts[b], limits, strict=True)
        plain = any(x + y > most for x, y, most in both)
        assert blocks.too_many(kept, a, b) == plain


def joined_by_hand(parts: list[tuple[int, int, int]], loss: int, w: int, h: int) -> int:
    """The greatest worth as a band of all blocks that joins of little loss make, each part by its number of copies."""
    start = {
        (tuple(int(k == n) for k in range(len(parts))), pw, ph)
        for n, (pw, ph, _) in enumerate(parts)
    }
    met = set(start)
    todo = list(start)
    limit = ints((w, h))
    while todo:
        one = todo.pop()
        for other in list(met):
            count = tuple(map(sum, zip(one[0], other[0], strict=True)))
            if any(n > part[2] for n, part in zip(count, parts, strict=True)):
                continue
            size = ints([one[1:], other[1:]]).reshape(2, 2)
            for stacked in range(2):
                jw, jh = tight.joined(limit, loss, size, 0, 1, stacked)
                new = (count, int(jw), int(jh))
                if jw and new not in met:
                    met.add(new)
                    todo.append(new)
    best = 0
    for count, _, bh in met:
        area = sum(n * p[0] * p[1] for n, p in zip(count, parts, strict=True))
        best = max(best, int(tight.worth_as_band(limit, loss, bh, area)))
    return best


@EITHER
@pytest.mark.parametrize("seed", range(6))
def test_tight_joins_find_the_band_that_all_joins_find(
    seed: int, *, compiled: bool
) -> None:
    """Where nothing may be lost: then no block of the same parts and area can make up for another one."""
    rng = random.Random(seed)
    parts = [
        (rng.randint(2, 6), rng.randint(2, 4), rng.randint(1, 2)) for _ in range(4)
    ]
    shifts, guard = packing(ints(most for *_, most in parts))
    kept = no_blocks(20_000, 1 << 10, guard)
    area = np.zeros(20_000, dtype=np.int64)
    limit = ints((12, 12))
    best = 0
    for k, (w, h, _) in enumerate(parts):
        n = put_part(kept, k, (w, h, False), shifts[k], w * h)
        area[n] = w * h
        best = max(best, int(tight.worth_as_band(limit, 0, h, w * h)))
    kept.state[blocks.BEST] = best
    first = np.full((2, 13), -1, dtype=np.int64)
    after = np.zeros((20_000, 2), dtype=np.int64)
    join = load("tight", compiled=compiled).join_tight
    while kept.state[blocks.WAITING]:
        # hashes are added round the end of 64 bits, of which plain numpy warns
        with np.errstate(over="ignore"):
            join(limit, 0, kept, area, first, after, 64)
        assert not kept.state[blocks.FULL]
    assert kept.state[blocks.BEST] == joined_by_hand(parts, 0, 12, 12)


@pytest.mark.parametrize("seed", range(4))
def test_grids_of_one_part_are_those_that_fit(seed: int) -> None:
    rng = random.Random(seed)
    xs, ys = (ints(sorted({0, *rng.sample(range(1, 30), 12), 30})) for _ in range(2))
    below_x, below_y = below(xs, 30), below(ys, 30)
    ways = [
        (rng.randint(2, 9), rng.randint(2, 9), rng.randint(1, 30)) for _ in range(3)
    ]
    widths, heights, values = (ints(side) for side in zip(*ways, strict=True))
    base = np.zeros((len(xs), len(ys)), dtype=np.int64)
    which = np.zeros((len(xs), len(ys)), dtype=np.int32)
    args = widths, heights, values, 10_000, base, which
    plates.grids(xs, ys, below_x, below_y, *args)
    whole = max((30 // w) * (30 // h) * v for w, h, v in ways)
    assert base.max() == whole
    for i, j in np.argwhere(base).tolist():
        w, h, v = ways[which[i, j]]
        assert base[i, j] == (int(xs[i]) // w) * (int(ys[j]) // h) * v
