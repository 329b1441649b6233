"""Kernels of the exact plate: what can still be added round a block, and joins of blocks, best first."""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry, jit


@entry
def outside(xs, ys, below_x, below_y, v, u):  # type: ignore[no-untyped-def]
    """Fill `u[i, j]`: the most that can be added round a block xs[i] x ys[j], from the values `v` of plates."""
    nx, ny = xs.shape[0], ys.shape[0]
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
    top, last = heap[0], heap[size - 1]
    k, size = 0, size - 1
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
def known(heads, chain, words, size, dead, first, second, w, h, key):  # type: ignore[no-untyped-def]
    """Whether a live block of the same parts is no larger; larger ones of the same parts are marked dead."""
    state = heads[key & (heads.shape[0] - 1)]
    while state >= 0:
        same = dead[state] == 0
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
    w, h = max(size[a, 0], size[b, 0]), max(size[a, 1], size[b, 1])
    i, j = max(place[a, 0], place[b, 0]), max(place[a, 1], place[b, 1])
    if stacked == 0:
        w = size[a, 0] + size[b, 0]
        i = index_x[w] if w <= limit[0] else 0
    else:
        h = size[a, 1] + size[b, 1]
        j = index_y[h] if h <= limit[1] else 0
    return w, h, i, j


@entry
def join(  # type: ignore[no-untyped-def]
    limit, index_x, index_y, u, u_priced, scale, guard, info,
    size, place, worth, words, key, bound, dead, made, chain, heads, heap, closed, steps,
):  # fmt: skip
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
    blocks, waiting, taken, best = info[0], info[1], info[2], info[3]
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
            value, priced = worth[a, 0] + worth[b, 0], worth[a, 1] + worth[b, 1]
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
                if too_many(words, guard, a, b) or known(heads, chain, words, size, dead, a, b, w, h, key[a] + key[b]):
                    continue
                size[blocks, 0], size[blocks, 1], place[blocks, 0], place[blocks, 1] = w, h, i, j
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
