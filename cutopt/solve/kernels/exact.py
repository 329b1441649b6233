"""Kernels of the exact plate: what can still be added round a block, and joins of blocks, best or largest first."""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry, jit

LOSS_SCALE = 10_000
# what lost cloth counts, in cloth used: for the order in which blocks are taken, and for a band where a join may lose
# no more than `TIGHT`; where it may lose more it counts that much less
ORDER_WEIGHT = 20
WASTE_WEIGHT = 50
TIGHT = 100


@entry
def outside(xs, ys, below_x, below_y, v, u):  # type: ignore[no-untyped-def]
    """Fill `u[i, j]`: the most that can be added round a block xs[i] x ys[j], from the values `v` of plates."""
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


@jit
def push(heap, size, bound, state):  # type: ignore[no-untyped-def]
    """Add a state to the heap, the largest bound on top; `size` is how many were there."""
    k = size
    while k > 0 and bound[heap[(k - 1) // 2]] < bound[state]:
        heap[k] = heap[(k - 1) // 2]
        k = (k - 1) // 2
    heap[k] = state


@jit
def pop(heap, size, bound):  # type: ignore[no-untyped-def]
    """Take the state of the largest bound from a heap of `size`."""
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


@jit
def known(heads, chain, words, keys, size, dead, first, second, w, h):  # type: ignore[no-untyped-def]
    """Whether a live block of the same parts is no larger; larger ones of the same parts are marked dead."""
    key = keys[first] + keys[second]
    state = heads[key & (heads.shape[0] - 1)]
    while state >= 0:
        same = keys[state] == key and dead[state] == 0
        if same:
            for k in range(words.shape[1]):
                if words[state, k] != words[first, k] + words[second, k]:
                    same = False
        if same and size[state, 0] <= w and size[state, 1] <= h:
            return True
        if same and size[state, 0] >= w and size[state, 1] >= h:
            dead[state] = 1
        state = chain[state]
    return False


@jit
def too_many(words, guard, a, b):  # type: ignore[no-untyped-def]
    """Whether two blocks together have more copies of a part than are wanted."""
    for k in range(words.shape[1]):
        if (words[a, k] + words[b, k] + guard[0, k]) & guard[1, k] != 0:
            return True
    return False


@jit
def record(n, a, b, stacked, words, key, dead, made, chain, heads):  # type: ignore[no-untyped-def]
    """Note what block n is made of, so that it is known from now on."""
    dead[n] = 0
    made[n, 0], made[n, 1], made[n, 2] = a, b, stacked
    key[n] = key[a] + key[b]
    for k in range(words.shape[1]):
        words[n, k] = words[a, k] + words[b, k]
    slot = key[n] & (heads.shape[0] - 1)
    chain[n], heads[slot] = heads[slot], n


@jit
def extent(limit, index_x, index_y, size, place, a, b, stacked):  # type: ignore[no-untyped-def]
    """Width and height of two blocks joined, and their places in the tables (0 where it does not go on the plate)."""
    w = max(size[a, 0], size[b, 0])
    h = max(size[a, 1], size[b, 1])
    i = max(place[a, 0], place[b, 0])
    j = max(place[a, 1], place[b, 1])
    if stacked == 0:
        w = size[a, 0] + size[b, 0]
        i = index_x[w] if w <= limit[0] else 0
    else:
        h = size[a, 1] + size[b, 1]
        j = index_y[h] if h <= limit[1] else 0
    return w, h, i, j


@entry
def join(  # type: ignore[no-untyped-def]
    limit,
    index_x,
    index_y,
    u,
    u_priced,
    scale,
    guard,
    info,
    size,
    place,
    worth,
    words,
    key,
    bound,
    dead,
    made,
    chain,
    heads,
    heap,
    closed,
    steps,
):
    """Take up to `steps` blocks, best first, and join each with all taken before it, side by side and stacked.

    Parameters
    ----------
    limit : array (width, height of the plate)
    u, u_priced, scale : what can be added, plainly and with prices of the copies (scaled by `scale`)
    guard : array; guard[0] is added to the packed counts, bits of guard[1] then show where a count is too high
    info : array (blocks, on the heap, taken, best value, its block, 1 where the arrays are full)
    size, place, worth, words, key, bound, dead, made, chain : blocks: width and height, their places in tables,
        value and priced value, packed counts, hash, upper bound, whether dominated, (first, second, 1 if stacked)
    """
    blocks = info[0]
    waiting = info[1]
    taken = info[2]
    best = info[3]
    for _ in range(steps):
        if waiting == 0 or blocks + 2 * taken + 2 >= size.shape[0]:
            break
        a = pop(heap, waiting, bound)
        waiting -= 1
        if dead[a] == 1:
            continue
        if bound[a] <= best:
            waiting = 0
            break
        closed[taken] = a
        taken += 1
        for t in range(taken):
            b = closed[t]
            if dead[b] == 1:
                continue
            value = worth[a, 0] + worth[b, 0]
            priced = worth[a, 1] + worth[b, 1]
            for stacked in range(2):
                w, h, i, j = extent(limit, index_x, index_y, size, place, a, b, stacked)
                if w > limit[0] or h > limit[1]:
                    continue
                most = value + u[i, j]
                if most <= best:
                    continue
                most = min(most, (priced + u_priced[i, j]) // scale)
                if most <= best:
                    continue
                if too_many(words, guard, a, b) or known(
                    heads, chain, words, key, size, dead, a, b, w, h
                ):
                    continue
                size[blocks, 0], size[blocks, 1], place[blocks, 0], place[blocks, 1] = (
                    w,
                    h,
                    i,
                    j,
                )
                worth[blocks, 0], worth[blocks, 1], bound[blocks] = value, priced, most
                record(blocks, a, b, stacked, words, key, dead, made, chain, heads)
                push(heap, waiting, bound, blocks)
                waiting += 1
                if value > best:
                    best = value
                    info[4] = blocks
                blocks += 1
    info[0], info[1], info[2], info[3] = blocks, waiting, taken, best
    info[5] = 1 if blocks + 2 * taken + 2 >= size.shape[0] else 0


@jit
def joined(limit, loss, size, a, b, stacked):  # type: ignore[no-untyped-def]
    """Width and height of two blocks joined; (0, 0) where that is too large or loses too much beside the smaller."""
    w = max(size[a, 0], size[b, 0])
    h = max(size[a, 1], size[b, 1])
    if stacked == 0:
        w = size[a, 0] + size[b, 0]
    else:
        h = size[a, 1] + size[b, 1]
    one = size[a, 0] * size[a, 1]
    two = size[b, 0] * size[b, 1]
    if (
        w > limit[0]
        or h > limit[1]
        or (w * h - one - two) * LOSS_SCALE > loss * min(one, two)
    ):
        return 0, 0
    return w, h


@jit
def worth_as_band(limit, loss, h, area):  # type: ignore[no-untyped-def]
    """How much a block is worth as a band across the whole width, cut off from it; 0 where it loses too much."""
    waste = limit[0] * h - area
    if waste * LOSS_SCALE > loss * limit[0] * h:
        return 0
    return area - WASTE_WEIGHT * waste * TIGHT // max(loss, TIGHT)


@entry
def join_tight(  # type: ignore[no-untyped-def]
    limit,
    loss,
    guard,
    info,
    size,
    area,
    words,
    key,
    order,
    dead,
    made,
    chain,
    heads,
    heap,
    first,
    after,
    steps,
):
    """Take up to `steps` blocks, largest first, and join each with all taken before it that fit it (almost) exactly.

    Parameters
    ----------
    limit : array (width, height of the plate)
    loss : what a join may lose, as a share of the smaller of its blocks, in `LOSS_SCALE`
    guard : array; guard[0] is added to the packed counts, bits of guard[1] then show where a count is too high
    info : array (blocks, on the heap, taken, best worth as a band, its block, 1 where the arrays are full)
    size, area, words, key, order, dead, made, chain : blocks: width and height, area of the parts, packed counts,
        hash, what is taken first, whether dominated, (first, second, 1 if stacked)
    first, after : lists of the blocks taken, by width (0) and by height (1): first[k, extent], then after[block, k]
    """
    blocks = info[0]
    waiting = info[1]
    taken = info[2]
    for _ in range(steps):
        if waiting == 0 or info[5] == 1:
            break
        a = pop(heap, waiting, order)
        waiting -= 1
        if dead[a] == 1:
            continue
        taken += 1
        for k in range(2):
            after[a, k], first[k, size[a, k]] = first[k, size[a, k]], a
        for stacked in range(2):
            # blocks of about the same width are stacked, of the same height laid side by side
            k = 1 - stacked
            # a larger difference loses too much, whichever is the narrower
            far = size[a, k] * loss // LOSS_SCALE
            for extent in range(
                max(1, size[a, k] - far), min(limit[k], size[a, k] + far) + 1
            ):
                b = first[k, extent]
                while b >= 0 and info[5] == 0:
                    w, h = joined(limit, loss, size, a, b, stacked)
                    if w > 0 and dead[b] == 0 and not too_many(words, guard, a, b):
                        if not known(heads, chain, words, key, size, dead, a, b, w, h):
                            size[blocks, 0], size[blocks, 1], area[blocks] = (
                                w,
                                h,
                                area[a] + area[b],
                            )
                            order[blocks] = area[blocks] - ORDER_WEIGHT * (
                                w * h - area[blocks]
                            )
                            record(
                                blocks,
                                a,
                                b,
                                stacked,
                                words,
                                key,
                                dead,
                                made,
                                chain,
                                heads,
                            )
                            push(heap, waiting, order, blocks)
                            waiting += 1
                            worth = worth_as_band(limit, loss, h, area[blocks])
                            if worth > info[3]:
                                info[3], info[4] = worth, blocks
                            blocks += 1
                            info[5] = 1 if blocks >= size.shape[0] else 0
                    b = after[b, k]
    info[0], info[1], info[2] = blocks, waiting, taken
