"""Blocks of parts joined two by two, as the kernels keep them: packed counts, hashes, a heap, what was joined."""

from __future__ import annotations

import numpy as np

from cutopt.solve.kernels import blocks as k
from cutopt.solve.plates.plate_table import Ints, PlatePlacement


def placements_of(block: int, size: Ints, made: Ints) -> tuple[PlatePlacement, ...]:
    """Where the parts of a block lie in it.

    Parameters
    ----------
    block : int
    size : array (blocks, 2)
        Width and height of each block.
    made : array (blocks, 3)
        What each is made of: (first, second, 1 if stacked), or (-1, part, 1 if turned).
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


def no_blocks(most: int, slots: int, guard: Ints, threshold: int = 0) -> k.Blocks:
    """Room for blocks, none of which is there yet.

    Parameters
    ----------
    most : int
        Blocks that there is room for.
    slots : int
        Of the table by which blocks of the same parts are found; a power of two.
    guard : array (2, words)
        See :func:`packing`.
    threshold : int
        Only what is worth more counts.
    """
    state = np.zeros(k.FULL + 1, dtype=np.int64)
    state[k.BEST] = threshold
    state[k.BEST_BLOCK] = -1
    return k.Blocks(
        size=np.zeros((most, 2), dtype=np.int64),
        words=np.zeros((most, guard.shape[1]), dtype=np.int64),
        key=np.zeros(most, dtype=np.int64),
        order=np.zeros(most, dtype=np.int64),
        dead=np.zeros(most, dtype=np.int64),
        made=np.zeros((most, 3), dtype=np.int64),
        chain=np.zeros(most, dtype=np.int64),
        heap=np.zeros(most, dtype=np.int64),
        heads=np.full(slots, -1, dtype=np.int64),
        guard=guard,
        state=state,
    )


def with_room(blocks: k.Blocks, most: int) -> k.Blocks:
    """The same blocks, with room for `most` (a power of two)."""
    larger = no_blocks(most, most, blocks.guard)
    before = len(blocks.heap)
    for name in ("size", "words", "key", "order", "dead", "made", "heap"):
        getattr(larger, name)[:before] = getattr(blocks, name)
    larger.state[:] = blocks.state
    larger.state[k.FULL] = 0
    for n in range(int(blocks.state[k.BLOCKS])):
        _hash(larger, n)
    return larger


def put_part(
    blocks: k.Blocks,
    part: int,
    way: tuple[int, int, bool],
    place: tuple[int, int],
    order: int,
) -> int:
    """Add a part as a block that waits; its number as a block.

    Parameters
    ----------
    blocks : Blocks
        With room for one more.
    part : int
    way : (width, height, whether turned)
    place : (word, shift)
        Where its count stands, see :func:`packing`.
    order : int
        The largest is taken first.
    """
    w, h, turned = way
    n = int(blocks.state[k.BLOCKS])
    blocks.size[n] = w, h
    blocks.made[n] = -1, part, turned
    blocks.words[n, place[0]] = 1 << place[1]
    blocks.key[n] = part_key(part)
    blocks.order[n] = order
    _hash(blocks, n)
    k.push(blocks.heap, int(blocks.state[k.WAITING]), blocks.order, n)
    blocks.state[k.WAITING] += 1
    blocks.state[k.BLOCKS] += 1
    return n


def _hash(blocks: k.Blocks, n: int) -> None:
    """Let block n be found by its key."""
    slot = blocks.key[n] & (len(blocks.heads) - 1)
    blocks.chain[n] = blocks.heads[slot]
    blocks.heads[slot] = n


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


def part_key(part: int) -> int:
    """A well mixed 62-bit number for a part (splitmix64, Steele, Lea & Flood 2014)."""
    z = (part + 1) * 0x9E3779B97F4A7C15 & 0xFFFFFFFFFFFFFFFF
    z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & 0xFFFFFFFFFFFFFFFF
    z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & 0xFFFFFFFFFFFFFFFF
    return (z ^ (z >> 31)) >> 2
