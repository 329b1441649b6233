"""Kernels of the exact plate: what can still be added round a block, and joins of blocks, best first."""

from __future__ import annotations

from collections import namedtuple

from cutopt.solve.kernels.loader import entry, inlined

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

# limit (width, height); index_x (width + 1,) and index_y (height + 1,): the place of the largest size of the tables
# that is no larger; u and u_priced (sizes across, sizes along): what can be added round a block, plainly and with
# prices of the copies, which are scaled by `scale`
Plate = namedtuple("Plate", "limit index_x index_y u u_priced scale")


@entry
def outside(xs, ys, below_x, below_y, v, u):  # type: ignore[no-untyped-def]
    """Fill `u[i, j]`: the most that can be added round a block xs[i] x ys[j], from the values `v` of plates.

    Parameters
    ----------
    xs, ys : arrays (across,) and (along,)
        Sizes in order, the first 0.
    below_x, below_y : arrays
        For each length the index of the largest size that is no larger.
    v, u : arrays (across, along)
    """
    nx = xs.shape[0]
    ny = ys.shape[0]
    for i in range(nx - 1, -1, -1):
        for j in range(ny):
            u[i, j] = 0
        for i2 in range(i + 1, nx):
            d = below_x[xs[i2] - xs[i]]
            for j in range(ny):
                more = v[d, j] + u[i2, j]
                if more > u[i, j]:
                    u[i, j] = more
        for j in range(ny - 2, -1, -1):
            best = max(u[i, j], u[i, j + 1])
            for j2 in range(j + 1, ny):
                more = v[i, below_y[ys[j2] - ys[j]]] + u[i, j2]
                if more > best:
                    best = more
            u[i, j] = best


@inlined
def extent(plate, size, place, a, b, stacked):  # type: ignore[no-untyped-def]
    """Width and height of two blocks joined, and their places in the tables (0 where it does not go on the plate).

    Parameters
    ----------
    plate : Plate
    size, place : arrays (most, 2)
        Width and height of each block, and their places in the tables.
    a, b : int
    stacked : int
        1 where b lies on a, 0 where it lies beside it.
    """
    w = max(size[a, 0], size[b, 0])
    h = max(size[a, 1], size[b, 1])
    i = max(place[a, 0], place[b, 0])
    j = max(place[a, 1], place[b, 1])
    if stacked == 0:
        w = size[a, 0] + size[b, 0]
        i = plate.index_x[w] if w <= plate.limit[0] else 0
    else:
        h = size[a, 1] + size[b, 1]
        j = plate.index_y[h] if h <= plate.limit[1] else 0
    return w, h, i, j


@inlined
def most_with(plate, i, j, value, priced, best):  # type: ignore[no-untyped-def]
    """The most that a plan with a block is worth, as far as it matters: nothing exact is known at `best` and below.

    Parameters
    ----------
    plate : Plate
    i, j : int
        The places of its width and height in the tables.
    value, priced : int
        What it is worth, plainly and with prices of the copies.
    best : int
    """
    most = value + plate.u[i, j]
    if most <= best:
        return most
    return min(most, (priced + plate.u_priced[i, j]) // plate.scale)


@entry
def join(plate, blocks, place, worth, closed, steps):  # type: ignore[no-untyped-def]
    """Take up to `steps` blocks, best first, and join each with all taken before it, side by side and stacked.

    Parameters
    ----------
    plate : Plate
    blocks : Blocks
        `order` is the most that a plan with the block is worth.
    place : array (most, 2)
        Where the width and height of each block stand in the tables.
    worth : array (most, 2)
        The value of each block, and its value with prices of the copies.
    closed : array (most,)
        Scratch: the blocks taken.
    steps : int
    """
    state = blocks.state
    limit = plate.limit
    most_blocks = blocks.size.shape[0]
    for _ in range(steps):
        taken = state[TAKEN]
        if state[WAITING] == 0 or state[BLOCKS] + 2 * taken + 2 >= most_blocks:
            break
        a = pop(blocks.heap, state[WAITING], blocks.order)
        state[WAITING] -= 1
        if blocks.dead[a] == 1:
            continue
        if blocks.order[a] <= state[BEST]:
            state[WAITING] = 0
            break
        closed[taken] = a
        state[TAKEN] += 1
        best = state[BEST]
        for t in range(taken + 1):
            b = closed[t]
            if blocks.dead[b] == 1:
                continue
            value = worth[a, 0] + worth[b, 0]
            priced = worth[a, 1] + worth[b, 1]
            for stacked in range(2):
                w, h, i, j = extent(plate, blocks.size, place, a, b, stacked)
                if w > limit[0] or h > limit[1]:
                    continue
                most = most_with(plate, i, j, value, priced, best)
                if most <= best or too_many(blocks, a, b) or known(blocks, a, b, w, h):
                    continue
                n = state[BLOCKS]
                place[n, 0] = i
                place[n, 1] = j
                worth[n, 0] = value
                worth[n, 1] = priced
                add(blocks, a, b, stacked, w, h, most)
                if value > best:
                    best = value
                    state[BEST] = value
                    state[BEST_BLOCK] = n
    state[FULL] = 1 if state[BLOCKS] + 2 * state[TAKEN] + 2 >= most_blocks else 0
