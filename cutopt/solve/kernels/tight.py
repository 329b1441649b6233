"""Kernel of bands: blocks of parts that lose next to nothing, joined the largest first."""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry, inlined, jit

from .blocks import (
    BEST,
    BEST_BLOCK,
    BLOCKS,
    FULL,
    TAKEN,
    WAITING,
    add,
    known,
    pop,
    too_many,
)

LOSS_SCALE = 10_000
# what lost cloth counts, in cloth used: for the order in which blocks are taken, and for a band where a join may lose
# no more than `TIGHT`; where it may lose more it counts that much less
ORDER_WEIGHT = 20
WASTE_WEIGHT = 50
TIGHT = 100


@inlined
def joined(limit, loss, size, a, b, stacked):  # type: ignore[no-untyped-def]
    """Width and height of two blocks joined; (0, 0) where that is too large or loses too much beside the smaller.

    Parameters
    ----------
    limit : array (width, height of the plate)
    loss : int
        What a join may lose, as a share of the smaller of its blocks, in `LOSS_SCALE`.
    size : array (most, 2)
        Width and height of each block.
    a, b : int
    stacked : int
        1 where b lies on a, 0 where it lies beside it.
    """
    w = max(size[a, 0], size[b, 0])
    h = max(size[a, 1], size[b, 1])
    if stacked == 0:
        w = size[a, 0] + size[b, 0]
    else:
        h = size[a, 1] + size[b, 1]
    if w > limit[0] or h > limit[1]:
        return 0, 0
    one = size[a, 0] * size[a, 1]
    two = size[b, 0] * size[b, 1]
    if (w * h - one - two) * LOSS_SCALE > loss * min(one, two):
        return 0, 0
    return w, h


@jit
def worth_as_band(limit, loss, h, area):  # type: ignore[no-untyped-def]
    """How much a block is worth as a band across the whole width, cut off from it; 0 where it loses too much.

    Parameters
    ----------
    limit : array (width, height of the plate)
    loss : int
        What a band may lose, as a share of its area, in `LOSS_SCALE`.
    h : int
        The height of the block.
    area : int
        Of its parts.
    """
    waste = limit[0] * h - area
    if waste * LOSS_SCALE > loss * limit[0] * h:
        return 0
    return area - WASTE_WEIGHT * waste * TIGHT // max(loss, TIGHT)


@entry
def join_tight(limit, loss, blocks, area, first, after, steps):  # type: ignore[no-untyped-def]
    """Take up to `steps` blocks, largest first, and join each with all taken before it that fit it (almost) exactly.

    Parameters
    ----------
    limit : array (width, height of the plate)
    loss : int
        What a join may lose, as a share of the smaller of its blocks, in `LOSS_SCALE`.
    blocks : Blocks
    area : array (most,)
        Of the parts of each block.
    first, after : arrays (2, longest side of the plate + 1) and (most, 2)
        Lists of the blocks taken, by width (0) and by height (1): first[k, extent], then after[block, k].
    steps : int
    """
    state = blocks.state
    size = blocks.size
    for _ in range(steps):
        if state[WAITING] == 0 or state[FULL] == 1:
            break
        a = pop(blocks.heap, state[WAITING], blocks.order)
        state[WAITING] -= 1
        if blocks.dead[a] == 1:
            continue
        state[TAKEN] += 1
        for k in range(2):
            after[a, k], first[k, size[a, k]] = first[k, size[a, k]], a
        for stacked in range(2):
            # blocks of about the same width are stacked, of the same height laid side by side
            k = 1 - stacked
            # a larger difference loses too much, whichever is the narrower
            far = size[a, k] * loss // LOSS_SCALE
            for side in range(
                max(1, size[a, k] - far), min(limit[k], size[a, k] + far) + 1
            ):
                b = first[k, side]
                while b >= 0 and state[FULL] == 0:
                    join_if_tight(limit, loss, blocks, area, a, b, stacked)
                    b = after[b, k]


@inlined
def join_if_tight(limit, loss, blocks, area, a, b, stacked):  # type: ignore[no-untyped-def]
    """Join two blocks where that loses little and is not known yet.

    Parameters
    ----------
    limit, loss, blocks, area : as of :func:`join_tight`
    a, b : int
    stacked : int
        1 where b lies on a, 0 where it lies beside it.
    """
    state = blocks.state
    w, h = joined(limit, loss, blocks.size, a, b, stacked)
    if w == 0 or blocks.dead[b] != 0 or too_many(blocks, a, b):
        return
    if known(blocks, a, b, w, h):
        return
    n = state[BLOCKS]
    area[n] = area[a] + area[b]
    add(blocks, a, b, stacked, w, h, area[n] - ORDER_WEIGHT * (w * h - area[n]))
    worth = worth_as_band(limit, loss, h, area[n])
    if worth > state[BEST]:
        state[BEST] = worth
        state[BEST_BLOCK] = n
    state[FULL] = 1 if state[BLOCKS] >= blocks.size.shape[0] else 0
