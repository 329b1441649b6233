"""Kernels of tilings without loss: which rectangles blocks of parts fill exactly, and columns of such rows.

Sets of widths are bits, 62 to a word of int64, so that no shift meets the sign.
"""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry, jit

BITS = 62
MASK = (1 << BITS) - 1


@jit
def _close(found, closed):  # type: ignore[no-untyped-def]
    """Fill `closed` with 0 and all sums of the widths in `found`, in order; widths that are sums are not looked at."""
    words = found.shape[0]
    for t in range(words):
        closed[t] = 0
    closed[0] = 1
    for t in range(words):
        new = found[t] & ~closed[t]
        while new != 0:
            b = 0
            while not (new >> b) & 1:
                b += 1
            whole = (t * BITS + b) // BITS
            part = (t * BITS + b) % BITS
            # upward, so that any number of copies is taken (words below are ready)
            for u in range(whole, words):
                over = (
                    closed[u - whole - 1] >> (BITS - part)
                    if part > 0 and u > whole
                    else 0
                )
                bits = closed[u] | over | ((closed[u - whole] << part) & MASK)
                # a width of less than a word goes several times into this one
                while bits != closed[u]:
                    closed[u] = bits
                    bits |= (closed[u - whole] << part) & MASK
            new = found[t] & ~closed[t]


@entry
def rows(first, last, widths, heights, tiled, rank, ranked, found):  # type: ignore[no-untyped-def]
    """Fill `tiled[h]`, heights `first` to `last` (not included), with the widths w such that w x h is filled exactly.

    `rank[:n]` are the heights with any such width, in order, `ranked[h]` says whether h is among them; `rank[-1]` is
    n. `found` is scratch.

    Parameters
    ----------
    first, last : int
        Heights, the last not included.
    widths, heights : arrays (ways,)
        Of the parts, as they may lie.
    tiled : array (heights + 1, words)
        Bits: widths of each height.
    rank : array (heights + 2,)
    ranked : array (heights + 2,)
    found : array (words,)
        Scratch.
    """
    count = rank[rank.shape[0] - 1]
    for h in range(first, last):
        some = False
        for t in range(found.shape[0]):
            found[t] = 0
        for k in range(widths.shape[0]):
            if h % heights[k] == 0:
                found[widths[k] // BITS] |= 1 << (widths[k] % BITS)
                some = True
        for n in range(count):
            low = rank[n]
            if 2 * low > h:
                break
            if ranked[h - low]:
                some = True
                for t in range(found.shape[0]):
                    found[t] |= tiled[low, t] & tiled[h - low, t]
        if not some:
            continue
        _close(found, tiled[h])
        tiled[h, 0] &= ~1
        some = False
        for t in range(found.shape[0]):
            some = some or tiled[h, t] != 0
        if some:
            rank[count], ranked[h] = h, 1
            count += 1
    rank[rank.shape[0] - 1] = count


@jit
def _raise(before, worth, now):  # type: ignore[no-untyped-def]
    for n in range(now.shape[0]):
        now[n] = max(now[n], before[n] + worth)


@entry
def columns(first, last, waste, tiled, rank, f, lengths, worth, best):  # type: ignore[no-untyped-def]
    """Fill `best[x]`, `first` to `last` (not included), with the most area that rows cover of a column x wide.

    The column is as high as `f` is long; a row is filled exactly, but for at most `waste` of its width. `f`, `lengths`
    and `worth` are scratch. Gives the additions that it took.

    Parameters
    ----------
    first, last : int
        Widths of columns, the last not included.
    waste : int
    tiled, rank : as of :func:`rows`
    f : array (height + 1,)
        Scratch.
    lengths, worth : arrays (heights with any width + 1,)
        Scratch.
    best : array (width + 1,)
    """
    high = f.shape[0] - 1
    count = rank[rank.shape[0] - 1]
    work = 0
    f[0] = 0
    for x in range(first, last):
        live = 0
        n = 0
        y = 1
        while y <= high and (live > 0 or n < count):
            # as many heights at once as the lowest row has, so that no row reads what is written here
            step = min(lengths[0] if live > 0 else rank[n], high + 1 - y)
            for i in range(step):
                f[y + i] = 0
            for t in range(live):
                _raise(
                    f[y - lengths[t] : y - lengths[t] + step], worth[t], f[y : y + step]
                )
            work += live * step
            for i in range(y, y + step):
                most = max(f[i], f[i - 1])
                if n < count and rank[n] == i:
                    n += 1
                    for z in range(x, max(x - waste - 1, 0), -1):
                        if (tiled[i, z // BITS] >> (z % BITS)) & 1:
                            if i * z > most:
                                most = i * z
                                lengths[live], worth[live] = i, most
                                live += 1
                            break
                f[i] = most
            y += step
        best[x] = f[high] if live > 0 else 0
    return work
