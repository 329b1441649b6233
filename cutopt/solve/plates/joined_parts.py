"""Blocks of parts joined two by two, as the kernels keep them: packed counts, hashes, a heap, what was joined."""

from __future__ import annotations

import numpy as np

from cutopt.solve.plates.plate_table import Ints, Placement


def placements_of(block: int, size: Ints, made: Ints) -> tuple[Placement, ...]:
    """Where the parts of a block lie in it.

    `size[n]` is the width and height of block n, `made[n]` is (first, second, 1 if stacked), or (-1, part, turned).
    """
    placed = []
    todo = [(block, 0, 0)]
    while todo:
        block, x, y = todo.pop()
        first, second, how = (int(v) for v in made[block])
        if first < 0:
            placed.append((second, x, y, bool(how)))
            continue
        w, h = (int(v) for v in size[first])
        todo += [(first, x, y), (second, x, y + h) if how else (second, x + w, y)]
    return tuple(placed)


def push(heap: Ints, info: Ints, order: Ints, block: int) -> None:
    """Add a block as the kernels do it: larger `order` above smaller; counts it in info (blocks, waiting)."""
    k = int(info[1])
    while k > 0 and order[heap[(k - 1) // 2]] < order[block]:
        heap[k] = heap[(k - 1) // 2]
        k = (k - 1) // 2
    heap[k] = block
    info[0] += 1
    info[1] += 1


def packing(limits: Ints) -> tuple[list[tuple[int, int]], Ints]:
    """Where the count of each part stands in 63-bit words (word, shift), and what shows a count too high."""
    shifts = []
    guard = [[0, 0]]
    word = 0
    at = 0
    for limit in limits.tolist():
        # counts of a join reach twice the limit; the top bit is the guard
        bits = (2 * limit).bit_length()
        bits = max(bits, limit.bit_length() + 1)
        if at + bits > 62:
            word = word + 1
            at = 0
            guard.append([0, 0])
        shifts.append((word, at))
        guard[word][0] += ((1 << (bits - 1)) - 1 - limit) << at
        guard[word][1] |= 1 << (at + bits - 1)
        at += bits
    return shifts, np.array(guard, dtype=np.int64).T.copy()


def part_key(k: int) -> int:
    """A well mixed 62-bit number for part k (splitmix64, Steele, Lea & Flood 2014)."""
    z = (k + 1) * 0x9E3779B97F4A7C15 & 0xFFFFFFFFFFFFFFFF
    z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & 0xFFFFFFFFFFFFFFFF
    z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & 0xFFFFFFFFFFFFFFFF
    return (z ^ (z >> 31)) >> 2
