"""Kernel of the plate programme: the most value from each size of plate, copies unlimited."""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry


@entry
def fill(xs, ys, below_x, below_y, v):  # type: ignore[no-untyped-def]
    """Turn `v[i, j]`, the best single part in a plate xs[i] x ys[j], into the best plan of straight cuts.

    `below_x[n]` is the index of the largest size of `xs` that is at most n. Rows of `v` are worked through whole,
    so that the inner loop over a cut in x runs on neighbours in memory.
    """
    nx, ny = xs.shape[0], ys.shape[0]
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


@entry
def trace(xs, ys, below_x, below_y, base, v, i0, j0, stack, leaves):  # type: ignore[no-untyped-def]
    """Write the single parts of a best plan of plate (i0, j0) as rows (i, j, x, y) of `leaves`; how many.

    `base` holds the best single part of each plate. Plates are shrunk first, so that a part lies in its own size.
    """
    stack[0, 0], stack[0, 1], stack[0, 2], stack[0, 3] = i0, j0, 0, 0
    top, found = 1, 0
    while top > 0:
        top -= 1
        i, j, x, y = stack[top, 0], stack[top, 1], stack[top, 2], stack[top, 3]
        worth = v[i, j]
        if worth == 0:
            continue
        while i > 0 and v[i - 1, j] == worth:
            i -= 1
        while j > 0 and v[i, j - 1] == worth:
            j -= 1
        if base[i, j] == worth:
            leaves[found, 0], leaves[found, 1], leaves[found, 2], leaves[found, 3] = i, j, x, y
            found += 1
            continue
        a, b, along = 1, 0, False
        while 2 * xs[a] <= xs[i]:
            b = below_x[xs[i] - xs[a]]
            if v[a, j] + v[b, j] == worth:
                along = True
                break
            a += 1
        if along:
            stack[top, 0], stack[top, 1], stack[top, 2], stack[top, 3] = a, j, x, y
            top += 1
            stack[top, 0], stack[top, 1], stack[top, 2], stack[top, 3] = b, j, x + xs[a], y
            top += 1
            continue
        c = 1
        while v[i, c] + v[i, below_y[ys[j] - ys[c]]] != worth:
            c += 1
        b = below_y[ys[j] - ys[c]]
        stack[top, 0], stack[top, 1], stack[top, 2], stack[top, 3] = i, c, x, y
        top += 1
        stack[top, 0], stack[top, 1], stack[top, 2], stack[top, 3] = i, b, x, y + ys[c]
        top += 1
    return found
