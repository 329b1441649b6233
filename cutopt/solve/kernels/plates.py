"""Kernels of the plate programme: the most value from each size of plate, copies unlimited; one length alike."""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry, jit


@entry
def fill(xs, ys, below_x, below_y, v):  # type: ignore[no-untyped-def]
    """Turn `v[i, j]`, the best single part in a plate xs[i] x ys[j], into the best plan of straight cuts.

    `below_x[n]` is the index of the largest size of `xs` that is at most n. Rows of `v` are worked through whole,
    so that the inner loop over a cut in x runs on neighbours in memory.

    Parameters
    ----------
    xs, ys : arrays (across,) and (along,)
        Sizes in order, the first 0.
    below_x, below_y : arrays
        For each length the number of the largest size that is no larger.
    v : array (across, along)
    """
    nx = xs.shape[0]
    ny = ys.shape[0]
    for i in range(1, nx):
        for j in range(ny):
            if v[i - 1, j] > v[i, j]:
                v[i, j] = v[i - 1, j]
        a = 1
        while 2 * xs[a] <= xs[i]:
            b = below_x[xs[i] - xs[a]]
            for j in range(ny):
                both = v[a, j] + v[b, j]
                if both > v[i, j]:
                    v[i, j] = both
            a += 1
        for j in range(1, ny):
            best = max(v[i, j], v[i, j - 1])
            c = 1
            while 2 * ys[c] <= ys[j]:
                both = v[i, c] + v[i, below_y[ys[j] - ys[c]]]
                if both > best:
                    best = both
                c += 1
            v[i, j] = best


@jit
def write(rows, at, i, j, x, y):  # type: ignore[no-untyped-def]
    """Write a plate as a row.

    Parameters
    ----------
    rows : array (most, 4)
    at : int
    i, j : int
        Numbers of its width and height.
    x, y : int
        Its lower left corner.
    """
    rows[at, 0] = i
    rows[at, 1] = j
    rows[at, 2] = x
    rows[at, 3] = y


@jit
def cut_across(xs, below_x, v, i, j):  # type: ignore[no-untyped-def]
    """Numbers of the two widths that a best cut across x makes of plate (i, j); (0, 0) where no such cut is best.

    Parameters
    ----------
    xs : array (across,)
    below_x : array
    v : array (across, along)
    i, j : int
    """
    a = 1
    while 2 * xs[a] <= xs[i]:
        b = below_x[xs[i] - xs[a]]
        if v[a, j] + v[b, j] == v[i, j]:
            return a, b
        a += 1
    return 0, 0


@entry
def trace(xs, ys, below_x, below_y, base, v, i0, j0, stack, leaves, met_x, met_y):  # type: ignore[no-untyped-def]
    """Write the single parts of a best plan of plate (i0, j0) as rows (i, j, x, y) of `leaves`; how many.

    Plates are shrunk first, so that a part lies in its own size.

    Parameters
    ----------
    xs, ys, below_x, below_y : as of :func:`fill`
    base, v : arrays (across, along)
        The best single part of each plate, and its value.
    i0, j0 : int
        Numbers of the width and the height of the plate.
    stack, leaves : arrays (most, 4)
        Scratch, and where the parts are written.
    met_x, met_y : arrays (across,) and (along,)
        In which the sizes of all plates of the plan are marked.
    """
    write(stack, 0, i0, j0, 0, 0)
    top = 1
    found = 0
    while top > 0:
        top -= 1
        i = stack[top, 0]
        j = stack[top, 1]
        x = stack[top, 2]
        y = stack[top, 3]
        worth = v[i, j]
        if worth == 0:
            continue
        while i > 0 and v[i - 1, j] == worth:
            i -= 1
        while j > 0 and v[i, j - 1] == worth:
            j -= 1
        met_x[i], met_y[j] = 1, 1
        if base[i, j] == worth:
            write(leaves, found, i, j, x, y)
            found += 1
            continue
        a, b = cut_across(xs, below_x, v, i, j)
        if a > 0:
            write(stack, top, a, j, x, y)
            write(stack, top + 1, b, j, x + xs[a], y)
        else:
            c = 1
            while v[i, c] + v[i, below_y[ys[j] - ys[c]]] != worth:
                c += 1
            write(stack, top, i, c, x, y)
            write(stack, top + 1, i, below_y[ys[j] - ys[c]], x, y + ys[c])
        top += 2
    return found


@jit
def _holding(points, below, size):  # type: ignore[no-untyped-def]
    """The index of the smallest of some sizes that is at least `size`; how many there are if none is."""
    i = below[size]
    return i if points[i] == size else i + 1


@entry
def grids(xs, ys, below_x, below_y, widths, heights, values, most, base, which):  # type: ignore[no-untyped-def]
    """Fill `base[i, j]` with the most value from a grid of one part in a plate xs[i] x ys[j], `which` with the part.

    Only plates that are hardly larger than a grid are filled; no grid has more than `most` copies.

    Parameters
    ----------
    xs, ys, below_x, below_y : as of :func:`fill`
    widths, heights, values : arrays (ways,)
        Of the parts, as they may lie.
    most : int
        Copies of a grid.
    base, which : arrays (across, along)
    """
    for k in range(widths.shape[0]):
        across = 1
        while across * widths[k] < below_x.shape[0]:
            i = _holding(xs, below_x, across * widths[k])
            if i >= xs.shape[0]:
                break
            across = xs[i] // widths[k]
            up = 1
            while up * heights[k] < below_y.shape[0]:
                j = _holding(ys, below_y, up * heights[k])
                if j >= ys.shape[0]:
                    break
                up = ys[j] // heights[k]
                if across * up > most:
                    break
                if across * up * values[k] > base[i, j]:
                    base[i, j], which[i, j] = across * up * values[k], k
                up += 1
            across += 1


@entry
def knapsack(lengths, worth, f, last, live, copies):  # type: ignore[no-untyped-def]
    """Fill `f[n]` with the most worth of parts (lengths in order, each any number of times) in a length n.

    `copies` gets how many of each a best filling of the whole length takes. `last` and `live` are scratch: a part that
    shorter ones make up for when its own length is reached is never tried again.

    Parameters
    ----------
    lengths, worth : arrays (parts,)
        The lengths in order.
    f, last : arrays (length + 1,)
        What is filled, and scratch.
    live : array (parts,)
        Scratch.
    copies : array (parts,)
    """
    count = lengths.shape[0]
    alive = 0
    after = 0
    f[0] = 0
    for n in range(1, f.shape[0]):
        best = f[n - 1]
        taken = -1
        for t in range(alive):
            k = live[t]
            more = f[n - lengths[k]] + worth[k]
            if more > best:
                best = more
                taken = k
        while after < count and lengths[after] == n:
            if worth[after] > best:
                best = worth[after]
                taken = after
                live[alive] = after
                alive += 1
            after += 1
        f[n], last[n] = best, taken
    for k in range(count):
        copies[k] = 0
    n = f.shape[0] - 1
    while n > 0:
        if last[n] < 0:
            n -= 1
        else:
            copies[last[n]] += 1
            n -= lengths[last[n]]


@entry
def columns(first, last, widths, heights, values, waste, f, live, worth, best):  # type: ignore[no-untyped-def]
    """Fill `best[x]`, `first` to `last` (not included), with the most value of rows of one part in a column x wide.

    The column is as high as `f` is long. The parts come in order of their heights; a part is used where its copies
    leave no more than `waste` of x. `f`, `live` and `worth` are scratch. Gives the additions that it took.

    Parameters
    ----------
    first, last : int
        Widths of columns, the last not included.
    widths, heights, values : arrays (parts,)
    waste : int
    f : array (height + 1,)
        Scratch.
    live, worth : arrays (parts,)
        Scratch.
    best : array (width + 1,)
    """
    high = f.shape[0] - 1
    work = 0
    for x in range(first, last):
        count = 0
        for k in range(widths.shape[0]):
            if widths[k] <= x and x % widths[k] <= waste:
                live[count], worth[count] = heights[k], x // widths[k] * values[k]
                count += 1
        best[x] = 0
        if count == 1:
            best[x] = high // live[0] * worth[0]
        work += widths.shape[0]
        if count < 2:
            continue
        work += count * high
        for y in range(1, high + 1):
            most = f[y - 1]
            for t in range(count):
                if live[t] > y:
                    break
                more = f[y - live[t]] + worth[t]
                if more > most:
                    most = more
            f[y] = most
        best[x] = f[high]
    return work
