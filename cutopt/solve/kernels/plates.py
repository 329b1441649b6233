"""Kernel of the plate programme: the most value from each size of plate, copies unlimited."""

from __future__ import annotations

from numba import njit


@njit(cache=True, nogil=True)
def fill(xs, ys, below_x, below_y, v):  # type: ignore[no-untyped-def]  # pragma: no cover
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
