"""Kernels of the search by loss: blocks that lose little, and what is left of a plate when such blocks are cut off.

Each block and each rest is a row of an int64 array; the columns are numbered below. Blocks of one height (width) hang
together in lists, in order of the slice of loss that they lie in.
"""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry, jit

# of a block: size, value, loss, fate, next of its slice, of its height, of its width, and what it is made of
W, H, V, LOSS, FATE, NEXT, NEXT_H, NEXT_W, FIRST, SECOND = range(10)
NEW, DONE, DEAD = 0, 1, 2
# of a rest: size, value cut off so far, whether expanded, next of its slice, the rest before, the block cut off
DONE_R, NEXT_R, BEFORE, BLOCK = 3, 4, 5, 6
COUNT, SLICE, WORK, FULL = 0, 1, 2, 3  # of the state of either search
BEST, REST, LAST_A, LAST_B = 4, 5, 6, 7  # and of the second


@jit
def _place(table, rows, w, h):  # type: ignore[no-untyped-def]
    mask = table.shape[0] - 1
    k = ((w * 73856093) ^ (h * 19349663)) & mask
    while table[k] >= 0 and (rows[table[k], 0] != w or rows[table[k], 1] != h):
        k = (k + 1) & mask
    return k


@jit
def _keep(f, g, up, least, most, budget, w, h, value, first, second, blocks, table, slices, state):  # type: ignore[no-untyped-def]
    """Note a block if it loses little enough and no better one has its size."""
    whole_w, whole_h = f.shape[0] - 1, g.shape[0] - 1
    loss = f[w] * g[h] - value * up
    if loss > most:
        return
    outside = (f[whole_w] - f[w] - f[whole_w - w]) * g[h] + (g[whole_h] - g[h] - g[whole_h - h]) * f[w]
    if loss + outside > budget:
        return
    k = _place(table, blocks, w, h)
    if table[k] >= 0:
        if blocks[table[k], V] >= value:
            return
        blocks[table[k], FATE] = DEAD
    n = state[COUNT]
    if n >= blocks.shape[0]:
        state[FULL] = 1
        return
    blocks[n, W], blocks[n, H], blocks[n, V], blocks[n, LOSS], blocks[n, FATE] = w, h, value, loss, NEW
    blocks[n, FIRST], blocks[n, SECOND] = first, second
    s = loss // least
    blocks[n, NEXT] = slices[s]
    slices[s], table[k] = n, n
    state[COUNT] = n + 1


@entry
def begin(f, g, up, least, most, budget, widths, heights, values, blocks, table, slices, state):  # type: ignore[no-untyped-def]
    """The parts as blocks: part k is made of (-1, k)."""
    for k in range(widths.shape[0]):
        _keep(
            f, g, up, least, most, budget, widths[k], heights[k], values[k], -1, k, blocks, table, slices, state
        )  # fmt: skip


@jit
def _worse(blocks, p, by_height, by_width, state):  # type: ignore[no-untyped-def]
    """Whether a block of the same height or width is no larger and worth no less."""
    q = by_height[blocks[p, H], 0]
    while q >= 0:
        if blocks[q, W] <= blocks[p, W] and blocks[q, V] >= blocks[p, V]:
            return True
        state[WORK] += 1
        q = blocks[q, NEXT_H]
    q = by_width[blocks[p, W], 0]
    while q >= 0:
        if blocks[q, H] <= blocks[p, H] and blocks[q, V] >= blocks[p, V]:
            return True
        state[WORK] += 1
        q = blocks[q, NEXT_W]
    return False


@jit
def _hang(blocks, p, size, other, following, lists):  # type: ignore[no-untyped-def]
    """Put a block at the end of the list of its height or width: (first, last, least of its other side)."""
    blocks[p, following] = -1
    if lists[size, 0] < 0:
        lists[size, 0], lists[size, 2] = p, other
    else:
        blocks[lists[size, 1], following] = p
        lists[size, 2] = min(lists[size, 2], other)
    lists[size, 1] = p


@jit
def _enough(left, least):  # type: ignore[no-untyped-def]
    """Lists are in order of slices of loss: at this loss and beyond it nothing fits into what is left."""
    return (left // least + 1) * least if left >= 0 else 0


@entry
def join(f, g, up, least, most, budget, slim, low, blocks, table, slices, by_height, by_width, state, until):  # type: ignore[no-untyped-def]
    """Join all blocks that together lose at most `most`, in slices `least` wide, until `state[WORK]` reaches `until`.

    `slim` and `low` are the least width and height of a part. Gives whether nothing is left to join.
    """
    whole_w, whole_h = f.shape[0] - 1, g.shape[0] - 1
    while state[SLICE] < slices.shape[0]:
        p = slices[state[SLICE]]
        if p < 0:
            state[SLICE] += 1
            continue
        if state[WORK] >= until or state[FULL]:
            return False
        slices[state[SLICE]] = blocks[p, NEXT]
        if blocks[p, FATE] != NEW:
            continue
        if _worse(blocks, p, by_height, by_width, state):
            blocks[p, FATE] = DEAD
            continue
        blocks[p, FATE] = DONE
        w, h, value = blocks[p, W], blocks[p, H], blocks[p, V]
        _hang(blocks, p, h, w, NEXT_H, by_height)
        _hang(blocks, p, w, h, NEXT_W, by_width)
        left = most - blocks[p, LOSS]
        y = h
        while y > 1 and g[h] - g[y - 1] <= left // f[slim]:
            y -= 1
        while y <= whole_h and (y <= h or g[y] - g[h] <= left // f[w]):
            q = by_height[y, 0]
            if q >= 0:  # what the lower of two loses by the height of the other
                enough = _enough(
                    left - (g[h] - g[y]) * f[by_height[y, 2]] if y < h else left - (g[y] - g[h]) * f[w], least
                )
            while q >= 0 and blocks[q, LOSS] < enough:
                state[WORK] += 1
                if blocks[q, FATE] == DONE and w + blocks[q, W] <= whole_w:
                    _keep(
                        f, g, up, least, most, budget, w + blocks[q, W], max(h, y), value + blocks[q, V], p, q,
                        blocks, table, slices, state,
                    )  # fmt: skip
                q = blocks[q, NEXT_H]
            y += 1
        state[WORK] += y - h
        x = w
        while x > 1 and f[w] - f[x - 1] <= left // g[low]:
            x -= 1
        while x <= whole_w and (x <= w or f[x] - f[w] <= left // g[h]):
            q = by_width[x, 0]
            if q >= 0:
                enough = _enough(
                    left - (f[w] - f[x]) * g[by_width[x, 2]] if x < w else left - (f[x] - f[w]) * g[h], least
                )
            while q >= 0 and blocks[q, LOSS] < enough:
                state[WORK] += 1
                if blocks[q, FATE] == DONE and h + blocks[q, H] <= whole_h:
                    _keep(
                        f, g, up, least, most, budget, max(w, x), h + blocks[q, H], value + blocks[q, V], p, q,
                        blocks, table, slices, state,
                    )  # fmt: skip
                q = blocks[q, NEXT_W]
            x += 1
    return not state[FULL]


@jit
def _finish(f, g, rest_loss, w, h, value, state, rest, block, blocks, by_height):  # type: ignore[no-untyped-def]
    """The best single block of a rest w x h, where it makes the best plan."""
    y = h
    while y > 0 and f[w] * (g[h] - g[y]) <= rest_loss:
        q = by_height[y, 0]
        while q >= 0:
            state[WORK] += 1
            if blocks[q, W] <= w and value + blocks[q, V] > state[BEST]:
                state[BEST], state[REST], state[LAST_A], state[LAST_B] = value + blocks[q, V], rest, block, q
            q = blocks[q, NEXT_H]
        y -= 1
    state[WORK] += h - y


@jit
def _cut(f, g, up, least, most, budget, w, h, value, rest, block, blocks, by_height, rests, table, slices, state):  # type: ignore[no-untyped-def]
    """A rest w x h beside the block cut off last: finish it with one block, and keep it to be cut further."""
    if w == 0 or h == 0:
        return
    loss = f[f.shape[0] - 1] * g[g.shape[0] - 1] - f[w] * g[h] - value * up
    if loss > budget:
        return
    _finish(f, g, budget - loss, w, h, value, state, rest, block, blocks, by_height)
    if loss > most:
        return
    k = _place(table, rests, w, h)
    if table[k] >= 0:
        if rests[table[k], V] >= value:
            return
        rests[table[k], DONE_R] = 1
    n = state[COUNT]
    if n >= rests.shape[0]:
        state[FULL] = 1
        return
    rests[n, W], rests[n, H], rests[n, V], rests[n, DONE_R] = w, h, value, 0
    rests[n, BEFORE], rests[n, BLOCK] = rest, block
    s = loss // least
    rests[n, NEXT_R] = slices[s]
    slices[s], table[k] = n, n
    state[COUNT] = n + 1


@entry
def start(f, g, up, least, most, budget, w, h, blocks, by_height, rests, table, slices, state):  # type: ignore[no-untyped-def]
    """The whole plate w x h as the first rest."""
    _cut(f, g, up, least, most, budget, w, h, 0, -1, -1, blocks, by_height, rests, table, slices, state)


@entry
def strip(
    f, g, up, least, most, budget, slim, low, sums_x, sums_y, lights, blocks, by_height, by_width, rests, table, slices,
    state, until,
):  # type: ignore[no-untyped-def]  # fmt: skip
    """Cut blocks (those below `lights`) off rests in order of loss, until `state[WORK]` reaches `until`.

    A rest is kept if it lost at most `most`, and finished with one block if that loses at most `budget` in all.
    `sums_x[n]` is the largest sum of widths that is at most n. Gives whether nothing is left to be cut.
    """
    top = f[f.shape[0] - 1] * g[g.shape[0] - 1]
    while state[SLICE] < slices.shape[0]:
        p = slices[state[SLICE]]
        if p < 0:
            state[SLICE] += 1
            continue
        if state[WORK] >= until or state[FULL]:
            return False
        slices[state[SLICE]] = rests[p, NEXT_R]
        if rests[p, DONE_R]:
            continue
        rests[p, DONE_R] = 1
        w, h, value = rests[p, W], rests[p, H], rests[p, V]
        left = budget - (top - f[w] * g[h] - value * up)
        y = h
        while y > 0 and g[h] - g[y] <= left // f[slim]:
            q = by_height[y, 0]
            while q >= 0:
                state[WORK] += 1
                if q < lights and blocks[q, W] < w:
                    _cut(
                        f, g, up, least, most, budget, sums_x[w - blocks[q, W]], h, value + blocks[q, V], p, q,
                        blocks, by_height, rests, table, slices, state,
                    )  # fmt: skip
                q = blocks[q, NEXT_H]
            y -= 1
        x = w
        while x > 0 and f[w] - f[x] <= left // g[low]:
            q = by_width[x, 0]
            while q >= 0:
                state[WORK] += 1
                if q < lights and blocks[q, H] < h:
                    _cut(
                        f, g, up, least, most, budget, w, sums_y[h - blocks[q, H]], value + blocks[q, V], p, q,
                        blocks, by_height, rests, table, slices, state,
                    )  # fmt: skip
                q = blocks[q, NEXT_W]
            x -= 1
    return not state[FULL]
