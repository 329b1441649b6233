"""Blocks of parts joined two by two: which wait on a heap, which are known, and what each is made of."""

from __future__ import annotations

from collections import namedtuple

from cutopt.solve.kernels.loader import inlined

# of the state: blocks there are, those on the heap, those taken from it, the best value (or worth as a band), its
# block, 1 where the arrays are full
BLOCKS, WAITING, TAKEN, BEST, BEST_BLOCK, FULL = range(6)

# A row (or entry) for each block: size (width, height), words (packed counts of its parts), key (hash of these),
# order (the largest is taken first), dead (1 where another one dominates it), made (first, second, 1 if stacked; or
# -1, part, 1 if turned), chain (the next block of the same slot, or -1), heap. heads (a power of two,): the first
# block of each slot, or -1. guard (2, words): guard[0] is added to the packed counts, bits of guard[1] then show
# where a count is too high. state (6,): see above.
Blocks = namedtuple(
    "Blocks", "size words key order dead made chain heap heads guard state"
)


@inlined
def push(heap, size, bound, state):  # type: ignore[no-untyped-def]
    """Add a state to the heap, the largest bound on top.

    Parameters
    ----------
    heap : array (most,)
        Numbers of states.
    size : int
        How many were there.
    bound : array (most,)
        Of each state.
    state : int
    """
    k = size
    while k > 0 and bound[heap[(k - 1) // 2]] < bound[state]:
        heap[k] = heap[(k - 1) // 2]
        k = (k - 1) // 2
    heap[k] = state


@inlined
def pop(heap, size, bound):  # type: ignore[no-untyped-def]
    """Take the state of the largest bound from a heap.

    Parameters
    ----------
    heap : array (most,)
    size : int
        How many are there.
    bound : array (most,)
    """
    top = heap[0]
    last = heap[size - 1]
    k = 0
    size = size - 1
    while True:
        child = 2 * k + 1
        if child >= size:
            break
        if child + 1 < size and bound[heap[child + 1]] > bound[heap[child]]:
            child += 1
        if bound[heap[child]] <= bound[last]:
            break
        heap[k] = heap[child]
        k = child
    heap[k] = last
    return top


@inlined
def known(blocks, a, b, w, h):  # type: ignore[no-untyped-def]
    """Whether a live block of the same parts is no larger; larger ones of the same parts are marked dead.

    Parameters
    ----------
    blocks : Blocks
    a, b : int
        The blocks that are to be joined.
    w, h : int
        Width and height of both joined.
    """
    words = blocks.words
    size = blocks.size
    key = blocks.key[a] + blocks.key[b]
    n = blocks.heads[key & (blocks.heads.shape[0] - 1)]
    while n >= 0:
        same = blocks.key[n] == key and blocks.dead[n] == 0
        if same:
            for k in range(words.shape[1]):
                if words[n, k] != words[a, k] + words[b, k]:
                    same = False
        if same and size[n, 0] <= w and size[n, 1] <= h:
            return True
        if same and size[n, 0] >= w and size[n, 1] >= h:
            blocks.dead[n] = 1
        n = blocks.chain[n]
    return False


@inlined
def too_many(blocks, a, b):  # type: ignore[no-untyped-def]
    """Whether two blocks together have more copies of a part than are wanted.

    Parameters
    ----------
    blocks : Blocks
    a, b : int
    """
    words = blocks.words
    guard = blocks.guard
    for k in range(words.shape[1]):
        if (words[a, k] + words[b, k] + guard[0, k]) & guard[1, k] != 0:
            return True
    return False


@inlined
def record(blocks, n, a, b, stacked):  # type: ignore[no-untyped-def]
    """Note what block n is made of, so that it is known from now on.

    Parameters
    ----------
    blocks : Blocks
    n, a, b : int
        The new block, and the two that it is made of.
    stacked : int
        1 where b lies on a, 0 where it lies beside it.
    """
    blocks.dead[n] = 0
    blocks.made[n, 0] = a
    blocks.made[n, 1] = b
    blocks.made[n, 2] = stacked
    blocks.key[n] = blocks.key[a] + blocks.key[b]
    for k in range(blocks.words.shape[1]):
        blocks.words[n, k] = blocks.words[a, k] + blocks.words[b, k]
    slot = blocks.key[n] & (blocks.heads.shape[0] - 1)
    blocks.chain[n] = blocks.heads[slot]
    blocks.heads[slot] = n


@inlined
def add(blocks, a, b, stacked, w, h, order):  # type: ignore[no-untyped-def]
    """Two blocks joined as a block that waits.

    Parameters
    ----------
    blocks : Blocks
    a, b : int
    stacked : int
        1 where b lies on a, 0 where it lies beside it.
    w, h : int
        Width and height of both joined.
    order : int
        The largest is taken first.
    """
    n = blocks.state[BLOCKS]
    blocks.size[n, 0] = w
    blocks.size[n, 1] = h
    blocks.order[n] = order
    record(blocks, n, a, b, stacked)
    push(blocks.heap, blocks.state[WAITING], blocks.order, n)
    blocks.state[WAITING] += 1
    blocks.state[BLOCKS] = n + 1
