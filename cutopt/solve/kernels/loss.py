"""Kernels of the search by loss: blocks that lose little, and what is left of a plate when such blocks are cut off.

Each block and each rest is a row of an int64 array; the columns are numbered below. Rows wait in slices of loss until
their turn comes. Blocks of one height (width) hang together in lists, in order of the slice that they lie in.
"""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry, jit

# of a block and of a rest: size, value (of a rest: cut off so far), loss, fate, next of its slice
W, H, V, LOSS, FATE, NEXT = range(6)
# of a block: next of its height, of its width, and what it is made of
NEXT_H, NEXT_W, FIRST, SECOND = range(6, 10)
# of a rest: the one before, and the block cut off
BEFORE, BLOCK = range(6, 8)
BLOCK_WIDTH = 10
REST_WIDTH = 8
NEW = 0
DONE = 1
DEAD = 2
# of the state of either search
COUNT, SLICE, WORK, FULL = range(4)
# and of the second
BEST, REST, LAST_A, LAST_B = range(4, 8)
BLOCK_STATE = 4
REST_STATE = 8


@jit
def _place(table, rows, w, h):  # type: ignore[no-untyped-def]
    mask = table.shape[0] - 1
    k = ((w * 73856093) ^ (h * 19349663)) & mask
    while table[k] >= 0 and (rows[table[k], 0] != w or rows[table[k], 1] != h):
        k = (k + 1) & mask
    return k


@jit
def _note(rows, w, h, value, loss, least, table, slices, state):  # type: ignore[no-untyped-def]
    """Add a row that waits for its turn, unless one of its size is worth as much; its number, or -1."""
    k = _place(table, rows, w, h)
    if table[k] >= 0:
        if rows[table[k], V] >= value:
            return -1
        rows[table[k], FATE] = DEAD
    n = state[COUNT]
    if n >= rows.shape[0]:
        state[FULL] = 1
        return -1
    rows[n, W], rows[n, H], rows[n, V], rows[n, LOSS], rows[n, FATE] = (
        w,
        h,
        value,
        loss,
        NEW,
    )
    s = loss // least
    rows[n, NEXT] = slices[s]
    slices[s], table[k] = n, n
    state[COUNT] = n + 1
    return n


@jit
def _waiting(slices, state):  # type: ignore[no-untyped-def]
    """A row of the lowest slice that has one, which `state[SLICE]` then is; -1 where none is left."""
    while state[SLICE] < slices.shape[0] and slices[state[SLICE]] < 0:
        state[SLICE] += 1
    return slices[state[SLICE]] if state[SLICE] < slices.shape[0] else -1


@jit
def _keep(
    f,
    g,
    up,
    least,
    most,
    budget,
    w,
    h,
    value,
    first,
    second,
    blocks,
    table,
    slices,
    state,
):  # type: ignore[no-untyped-def]
    """Note a block if it loses little enough and no better one has its size."""
    whole_w = f.shape[0] - 1
    whole_h = g.shape[0] - 1
    loss = f[w] * g[h] - value * up
    if loss > most:
        return
    outside = (f[whole_w] - f[w] - f[whole_w - w]) * g[h] + (
        g[whole_h] - g[h] - g[whole_h - h]
    ) * f[w]
    if loss + outside > budget:
        return
    n = _note(blocks, w, h, value, loss, least, table, slices, state)
    if n >= 0:
        blocks[n, FIRST], blocks[n, SECOND] = first, second


@entry
def begin(
    f, g, up, least, most, budget, widths, heights, values, blocks, table, slices, state
):  # type: ignore[no-untyped-def]
    """The parts as blocks: part k is made of (-1, k)."""
    for k in range(widths.shape[0]):
        _keep(
            f,
            g,
            up,
            least,
            most,
            budget,
            widths[k],
            heights[k],
            values[k],
            -1,
            k,
            blocks,
            table,
            slices,
            state,
        )


@jit
def _worse(blocks, p, other, following, q, state):  # type: ignore[no-untyped-def]
    """Whether one of a list (from q) of blocks of the same height or width is no larger and worth no less."""
    while q >= 0:
        if blocks[q, other] <= blocks[p, other] and blocks[q, V] >= blocks[p, V]:
            return True
        state[WORK] += 1
        q = blocks[q, following]
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


@jit
def _join_along(
    f, g, up, least, most, budget, p, beside, thin, blocks, table, slices, lists, state
):  # type: ignore[no-untyped-def]
    """Join block p with all that are about as high and lie `beside` it, or with all about as wide that lie above it.

    `lists` are those of the heights (widths), `thin` is the least width (height) of a part.
    """
    one, other, following = (H, W, NEXT_H) if beside else (W, H, NEXT_W)
    # the scales of the side in common, and of the one that adds up
    same, across = (g, f) if beside else (f, g)
    own = blocks[p, one]
    long = blocks[p, other]
    left = most - blocks[p, LOSS]
    size = own
    while size > 1 and same[own] - same[size - 1] <= left // across[thin]:
        size -= 1
    state[WORK] += own - size
    while size < same.shape[0] and (
        size <= own or same[size] - same[own] <= left // across[long]
    ):
        q = lists[size, 0]
        # what the lower of two loses by the height of the other
        if q >= 0:
            lower = across[lists[size, 2]] if size < own else across[long]
            enough = _enough(left - abs(same[own] - same[size]) * lower, least)
        while q >= 0 and blocks[q, LOSS] < enough:
            state[WORK] += 1
            total = long + blocks[q, other]
            if blocks[q, FATE] == DONE and total < across.shape[0]:
                w, h = (total, max(own, size)) if beside else (max(own, size), total)
                value = blocks[p, V] + blocks[q, V]
                _keep(
                    f,
                    g,
                    up,
                    least,
                    most,
                    budget,
                    w,
                    h,
                    value,
                    p,
                    q,
                    blocks,
                    table,
                    slices,
                    state,
                )
            q = blocks[q, following]
        size += 1


@entry
def join(
    f,
    g,
    up,
    least,
    most,
    budget,
    slim,
    low,
    blocks,
    table,
    slices,
    by_height,
    by_width,
    state,
    until,
):  # type: ignore[no-untyped-def]
    """Join all blocks that together lose at most `most`, in slices `least` wide, until `state[WORK]` reaches `until`.

    `slim` and `low` are the least width and height of a part. Gives whether nothing is left to join; else all joins
    are there of blocks in slices before `state[SLICE]`.
    """
    p = _waiting(slices, state)
    # what found no place loses no less than this slice
    while p >= 0 and not state[FULL]:
        if state[WORK] >= until:
            return False
        slices[state[SLICE]] = blocks[p, NEXT]
        if blocks[p, FATE] == NEW:
            w = blocks[p, W]
            h = blocks[p, H]
            if _worse(blocks, p, W, NEXT_H, by_height[h, 0], state) or _worse(
                blocks, p, H, NEXT_W, by_width[w, 0], state
            ):
                blocks[p, FATE] = DEAD
            else:
                blocks[p, FATE] = DONE
                _hang(blocks, p, h, w, NEXT_H, by_height)
                _hang(blocks, p, w, h, NEXT_W, by_width)
                _join_along(
                    f,
                    g,
                    up,
                    least,
                    most,
                    budget,
                    p,
                    True,
                    slim,
                    blocks,
                    table,
                    slices,
                    by_height,
                    state,
                )
                _join_along(
                    f,
                    g,
                    up,
                    least,
                    most,
                    budget,
                    p,
                    False,
                    low,
                    blocks,
                    table,
                    slices,
                    by_width,
                    state,
                )
        if not state[FULL]:
            p = _waiting(slices, state)
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
                state[BEST], state[REST], state[LAST_A], state[LAST_B] = (
                    value + blocks[q, V],
                    rest,
                    block,
                    q,
                )
            q = blocks[q, NEXT_H]
        y -= 1
    state[WORK] += h - y


@jit
def _cut(
    f,
    g,
    up,
    least,
    most,
    budget,
    w,
    h,
    value,
    rest,
    block,
    blocks,
    by_height,
    rests,
    table,
    slices,
    state,
):  # type: ignore[no-untyped-def]
    """A rest w x h beside the block cut off last: finish it with one block, and keep it to be cut further."""
    if w == 0 or h == 0:
        return
    loss = f[f.shape[0] - 1] * g[g.shape[0] - 1] - f[w] * g[h] - value * up
    if loss > budget:
        return
    _finish(f, g, budget - loss, w, h, value, state, rest, block, blocks, by_height)
    if loss > most:
        return
    n = _note(rests, w, h, value, loss, least, table, slices, state)
    if n >= 0:
        rests[n, BEFORE], rests[n, BLOCK] = rest, block


@entry
def start(
    f, g, up, least, most, budget, w, h, blocks, by_height, rests, table, slices, state
):  # type: ignore[no-untyped-def]
    """The whole plate w x h as the first rest."""
    _cut(
        f,
        g,
        up,
        least,
        most,
        budget,
        w,
        h,
        0,
        -1,
        -1,
        blocks,
        by_height,
        rests,
        table,
        slices,
        state,
    )


@jit
def _cut_along(
    f,
    g,
    up,
    least,
    most,
    budget,
    p,
    beside,
    thin,
    sums,
    lights,
    blocks,
    by_height,
    lists,
    rests,
    table,
    slices,
    state,
):  # type: ignore[no-untyped-def]
    """Cut off rest p, at its side or (not `beside`) at its top, each block that is about as high (wide) as it is.

    `sums[n]` is the largest sum of widths (heights) that is at most n.
    """
    one, other, following = (H, W, NEXT_H) if beside else (W, H, NEXT_W)
    same, across = (g, f) if beside else (f, g)
    own = rests[p, one]
    long = rests[p, other]
    left = budget - rests[p, LOSS]
    size = own
    while size > 0 and same[own] - same[size] <= left // across[thin]:
        q = lists[size, 0]
        while q >= 0:
            state[WORK] += 1
            if q < lights and blocks[q, other] < long:
                rest = sums[long - blocks[q, other]]
                w, h = (rest, own) if beside else (own, rest)
                value = rests[p, V] + blocks[q, V]
                _cut(
                    f,
                    g,
                    up,
                    least,
                    most,
                    budget,
                    w,
                    h,
                    value,
                    p,
                    q,
                    blocks,
                    by_height,
                    rests,
                    table,
                    slices,
                    state,
                )
            q = blocks[q, following]
        size -= 1


@entry
def strip(
    f,
    g,
    up,
    least,
    most,
    budget,
    slim,
    low,
    sums_x,
    sums_y,
    lights,
    blocks,
    by_height,
    by_width,
    rests,
    table,
    slices,
    state,
    until,
):  # type: ignore[no-untyped-def]
    """Cut blocks (those below `lights`) off rests in order of loss, until `state[WORK]` reaches `until`.

    A rest is kept if it lost at most `most`, and finished with one block if that loses at most `budget` in all.
    Gives whether nothing is left to be cut.
    """
    p = _waiting(slices, state)
    while p >= 0 and not state[FULL]:
        if state[WORK] >= until:
            return False
        slices[state[SLICE]] = rests[p, NEXT]
        if rests[p, FATE] == NEW:
            rests[p, FATE] = DONE
            _cut_along(
                f,
                g,
                up,
                least,
                most,
                budget,
                p,
                True,
                slim,
                sums_x,
                lights,
                blocks,
                by_height,
                by_height,
                rests,
                table,
                slices,
                state,
            )
            _cut_along(
                f,
                g,
                up,
                least,
                most,
                budget,
                p,
                False,
                low,
                sums_y,
                lights,
                blocks,
                by_height,
                by_width,
                rests,
                table,
                slices,
                state,
            )
        p = _waiting(slices, state)
    return not state[FULL]
