"""Kernels of the search by loss: blocks that lose little, and what is left of a plate when such blocks are cut off.

Each block and each rest is a row of an int64 array; the columns are numbered below. Rows wait in slices of loss until
their turn comes. Blocks of one height (width) hang together in lists, in order of the slice that they lie in.

All sizes are units of the plate (whole numbers); a loss is a product of two scales, as `up` times a value is.
"""

from __future__ import annotations

from collections import namedtuple

from cutopt.solve.kernels.loader import entry, inlined, jit

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

# f (width + 1,) and g (height + 1,): the scales; up: what a value counts in their product; slice: how wide a slice of
# loss is; most: what a row that is kept may lose; budget: what a plan may lose; slim, low: least sides of a part
Scales = namedtuple("Scales", "f g up slice most budget slim low")
# rows (most, columns): blocks or rests; table (a power of two,): rows by their size, -1 where none; slices (n,): the
# first row that waits in each slice, -1 where none; state: see above
Kept = namedtuple("Kept", "rows table slices state")
# by_height (height + 1, 3) and by_width (width + 1, 3): the first and last block of that size, -1 where none, and the
# least of their other sides
Lists = namedtuple("Lists", "by_height by_width")
# blocks: rows of blocks; lists: theirs; count: how many of the rows may be cut off (the others only end a plan);
# x (width + 1,) and y (height + 1,): the largest sum of widths (heights) that is at most n
Cutting = namedtuple("Cutting", "blocks lists count x y")


@inlined
def _place(table, rows, w, h):  # type: ignore[no-untyped-def]
    """Where in the table a row of this size stands or would stand."""
    mask = table.shape[0] - 1
    k = ((w * 73856093) ^ (h * 19349663)) & mask
    while table[k] >= 0 and (rows[table[k], 0] != w or rows[table[k], 1] != h):
        k = (k + 1) & mask
    return k


@inlined
def _note(scales, kept, w, h, value, loss):  # type: ignore[no-untyped-def]
    """Add a row that waits for its turn, unless one of its size is worth as much; its number, or -1."""
    rows = kept.rows
    k = _place(kept.table, rows, w, h)
    if kept.table[k] >= 0:
        if rows[kept.table[k], V] >= value:
            return -1
        rows[kept.table[k], FATE] = DEAD
    n = kept.state[COUNT]
    if n >= rows.shape[0]:
        kept.state[FULL] = 1
        return -1
    rows[n, W] = w
    rows[n, H] = h
    rows[n, V] = value
    rows[n, LOSS] = loss
    rows[n, FATE] = NEW
    s = loss // scales.slice
    rows[n, NEXT] = kept.slices[s]
    kept.slices[s] = n
    kept.table[k] = n
    kept.state[COUNT] = n + 1
    return n


@jit
def _waiting(kept):  # type: ignore[no-untyped-def]
    """A row of the lowest slice that has one, which `state[SLICE]` then is; -1 where none is left."""
    slices = kept.slices
    state = kept.state
    while state[SLICE] < slices.shape[0] and slices[state[SLICE]] < 0:
        state[SLICE] += 1
    return slices[state[SLICE]] if state[SLICE] < slices.shape[0] else -1


@inlined
def _keep(scales, kept, w, h, value, first, second):  # type: ignore[no-untyped-def]
    """Note a block if it loses little enough and no better one has its size."""
    f = scales.f
    g = scales.g
    whole_w = f.shape[0] - 1
    whole_h = g.shape[0] - 1
    loss = f[w] * g[h] - value * scales.up
    if loss > scales.most:
        return
    beside = (f[whole_w] - f[w] - f[whole_w - w]) * g[h]
    above = (g[whole_h] - g[h] - g[whole_h - h]) * f[w]
    if loss + beside + above > scales.budget:
        return
    n = _note(scales, kept, w, h, value, loss)
    if n >= 0:
        kept.rows[n, FIRST] = first
        kept.rows[n, SECOND] = second


@entry
def begin(scales, kept, widths, heights, values):  # type: ignore[no-untyped-def]
    """The parts as blocks: part k is made of (-1, k).

    Parameters
    ----------
    scales : Scales
    kept : Kept
        Of blocks, empty.
    widths, heights, values : arrays (parts,)
    """
    for k in range(widths.shape[0]):
        _keep(scales, kept, widths[k], heights[k], values[k], -1, k)


@jit
def _worse(kept, p, other, following, q):  # type: ignore[no-untyped-def]
    """Whether one of a list (from q) of blocks of the same height or width is no larger and worth no less."""
    blocks = kept.rows
    while q >= 0:
        if blocks[q, other] <= blocks[p, other] and blocks[q, V] >= blocks[p, V]:
            return True
        kept.state[WORK] += 1
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
def _join_along(scales, kept, lists, p, beside):  # type: ignore[no-untyped-def]
    """Join block p with all that are about as high and lie `beside` it, or with all about as wide that lie above it.

    `lists` are those of the heights (widths).
    """
    blocks = kept.rows
    state = kept.state
    one, other, following = (H, W, NEXT_H) if beside else (W, H, NEXT_W)
    # the scales of the side in common, and of the one that adds up
    same, across = (scales.g, scales.f) if beside else (scales.f, scales.g)
    own = blocks[p, one]
    long = blocks[p, other]
    left = scales.most - blocks[p, LOSS]
    thin = across[scales.slim if beside else scales.low]
    size = own
    while size > 1 and same[own] - same[size - 1] <= left // thin:
        size -= 1
    state[WORK] += own - size
    while size < same.shape[0] and (
        size <= own or same[size] - same[own] <= left // across[long]
    ):
        q = lists[size, 0]
        # what the lower of two loses by the height of the other
        if q >= 0:
            lower = across[lists[size, 2]] if size < own else across[long]
            enough = _enough(left - abs(same[own] - same[size]) * lower, scales.slice)
        while q >= 0 and blocks[q, LOSS] < enough:
            state[WORK] += 1
            total = long + blocks[q, other]
            if blocks[q, FATE] == DONE and total < across.shape[0]:
                w, h = (total, max(own, size)) if beside else (max(own, size), total)
                _keep(scales, kept, w, h, blocks[p, V] + blocks[q, V], p, q)
            q = blocks[q, following]
        size += 1


@entry
def join(scales, kept, lists, until):  # type: ignore[no-untyped-def]
    """Join all blocks that together lose at most `scales.most`, until `kept.state[WORK]` reaches `until`.

    Gives whether nothing is left to join; else all joins are there of blocks in slices before `kept.state[SLICE]`.

    Parameters
    ----------
    scales : Scales
    kept : Kept
        Of blocks.
    lists : Lists
        The blocks whose turn has come.
    until : int
        Pairs of blocks looked at since the first call.
    """
    blocks = kept.rows
    state = kept.state
    p = _waiting(kept)
    # what found no place loses no less than this slice
    while p >= 0 and not state[FULL]:
        if state[WORK] >= until:
            return False
        kept.slices[state[SLICE]] = blocks[p, NEXT]
        if blocks[p, FATE] == NEW:
            w = blocks[p, W]
            h = blocks[p, H]
            if _worse(kept, p, W, NEXT_H, lists.by_height[h, 0]) or _worse(
                kept, p, H, NEXT_W, lists.by_width[w, 0]
            ):
                blocks[p, FATE] = DEAD
            else:
                blocks[p, FATE] = DONE
                _hang(blocks, p, h, w, NEXT_H, lists.by_height)
                _hang(blocks, p, w, h, NEXT_W, lists.by_width)
                _join_along(scales, kept, lists.by_height, p, True)
                _join_along(scales, kept, lists.by_width, p, False)
        if not state[FULL]:
            p = _waiting(kept)
    return not state[FULL]


@inlined
def _finish(scales, kept, cutting, left, w, h, value, rest, block):  # type: ignore[no-untyped-def]
    """The best single block of a rest w x h, of those that lose at most `left`, where it makes the best plan."""
    f = scales.f
    g = scales.g
    blocks = cutting.blocks
    state = kept.state
    y = h
    while y > 0 and f[w] * (g[h] - g[y]) <= left:
        q = cutting.lists.by_height[y, 0]
        while q >= 0:
            state[WORK] += 1
            if blocks[q, W] <= w and value + blocks[q, V] > state[BEST]:
                state[BEST] = value + blocks[q, V]
                state[REST] = rest
                state[LAST_A] = block
                state[LAST_B] = q
            q = blocks[q, NEXT_H]
        y -= 1
    state[WORK] += h - y


@inlined
def _cut(scales, kept, cutting, w, h, value, rest, block):  # type: ignore[no-untyped-def]
    """A rest w x h beside the block cut off last: finish it with one block, and keep it to be cut further."""
    if w == 0 or h == 0:
        return
    f = scales.f
    g = scales.g
    whole = f[f.shape[0] - 1] * g[g.shape[0] - 1]
    loss = whole - f[w] * g[h] - value * scales.up
    if loss > scales.budget:
        return
    _finish(scales, kept, cutting, scales.budget - loss, w, h, value, rest, block)
    if loss > scales.most:
        return
    n = _note(scales, kept, w, h, value, loss)
    if n >= 0:
        kept.rows[n, BEFORE] = rest
        kept.rows[n, BLOCK] = block


@entry
def start(scales, kept, cutting, w, h):  # type: ignore[no-untyped-def]
    """The whole plate w x h as the first rest.

    Parameters
    ----------
    scales : Scales
    kept : Kept
        Of rests, empty.
    cutting : Cutting
    w, h : int
    """
    _cut(scales, kept, cutting, w, h, 0, -1, -1)


@jit
def _cut_along(scales, kept, cutting, lists, p, beside):  # type: ignore[no-untyped-def]
    """Cut off rest p, at its side or (not `beside`) at its top, each block that is about as high (wide) as it is.

    `lists` are those of the heights (widths).
    """
    blocks = cutting.blocks
    one, other, following = (H, W, NEXT_H) if beside else (W, H, NEXT_W)
    same, across = (scales.g, scales.f) if beside else (scales.f, scales.g)
    sums = cutting.x if beside else cutting.y
    thin = across[scales.slim if beside else scales.low]
    own = kept.rows[p, one]
    long = kept.rows[p, other]
    value = kept.rows[p, V]
    left = scales.budget - kept.rows[p, LOSS]
    size = own
    while size > 0 and same[own] - same[size] <= left // thin:
        q = lists[size, 0]
        while q >= 0:
            kept.state[WORK] += 1
            if q < cutting.count and blocks[q, other] < long:
                rest = sums[long - blocks[q, other]]
                w, h = (rest, own) if beside else (own, rest)
                _cut(scales, kept, cutting, w, h, value + blocks[q, V], p, q)
            q = blocks[q, following]
        size -= 1


@entry
def strip(scales, kept, cutting, until):  # type: ignore[no-untyped-def]
    """Cut blocks off rests in order of loss, until `kept.state[WORK]` reaches `until`.

    A rest is kept if it lost at most `scales.most`, and finished with one block if that loses at most
    `scales.budget` in all. Gives whether nothing is left to be cut.

    Parameters
    ----------
    scales : Scales
    kept : Kept
        Of rests.
    cutting : Cutting
    until : int
        Pairs of a rest and a block looked at since the first call.
    """
    rests = kept.rows
    state = kept.state
    p = _waiting(kept)
    while p >= 0 and not state[FULL]:
        if state[WORK] >= until:
            return False
        kept.slices[state[SLICE]] = rests[p, NEXT]
        if rests[p, FATE] == NEW:
            rests[p, FATE] = DONE
            _cut_along(scales, kept, cutting, cutting.lists.by_height, p, True)
            _cut_along(scales, kept, cutting, cutting.lists.by_width, p, False)
        p = _waiting(kept)
    return not state[FULL]
