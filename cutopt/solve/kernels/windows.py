"""Kernel of the window programme: the most value that straight cuts can isolate from each window of a piece.

A window [k1, k2] x [j1, j2] of grid lines is row k1 * n + k2 and column after[j1] + j2 of a table, where
after[j1] = j1 * (m - 1) - j1 * (j1 + 1) / 2 - 1 counts only the pairs j1 < j2.
"""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry


@entry
def enter(n, m, missing, class_x, class_y, plain, reach_x, reach_y, strips, single):  # type: ignore[no-untyped-def]
    """Write to `single` the best part that a window may hold whole.

    Parameters
    ----------
    missing : array (n, m)
        How many cells below and left of a corner of the grid are no cloth.
    class_x, class_y : arrays (n, n) and (m, m)
        Number of wanted widths (lengths) that fit between two lines; `plain[cx, cy]` is the best of them.
    reach_x, reach_y : arrays of the widest part between two lines
    strips : array of rows (width, shortest, loss, unit, most units, price, across)
        `across` is 1 where the strip runs along x.
    """
    for k1 in range(n - 1):
        for k2 in range(k1 + 1, n):
            p = k1 * n + k2
            for j1 in range(m - 1):
                q0 = j1 * (m - 1) - j1 * (j1 + 1) // 2 - 1
                for j2 in range(j1 + 1, m):
                    best = 0
                    if (
                        missing[k2, j2]
                        - missing[k1, j2]
                        - missing[k2, j1]
                        + missing[k1, j1]
                        == 0
                    ):
                        best = plain[class_x[k1, k2], class_y[j1, j2]]
                        for s in range(strips.shape[0]):
                            width = reach_x[k1, k2]
                            length = reach_y[j1, j2]
                            if strips[s, 6] == 1:
                                width, length = length, width
                            if width >= strips[s, 0] and length >= strips[s, 1]:
                                units = -(-(length - strips[s, 2]) // strips[s, 3])
                                best = max(
                                    best, min(units, strips[s, 4]) * strips[s, 5]
                                )
                    single[p, q0 + j2] = best


@entry
def fill(n, m, single, v):  # type: ignore[no-untyped-def]
    """Fill `v`, the value of each window, from the best single parts; n and m are the numbers of lines."""
    columns = m * (m - 1) // 2
    for wide in range(1, n):
        for k1 in range(n - wide):
            k2 = k1 + wide
            p = k1 * n + k2
            for q in range(columns):
                v[p, q] = single[p, q]
            if wide > 1:
                p1 = k1 * n + k2 - 1
                p2 = (k1 + 1) * n + k2
                for q in range(columns):
                    v[p, q] = max(v[p, q], max(v[p1, q], v[p2, q]))
            for k in range(k1 + 1, k2):
                p1 = k1 * n + k
                p2 = k * n + k2
                for q in range(columns):
                    both = v[p1, q] + v[p2, q]
                    if both > v[p, q]:
                        v[p, q] = both
            for high in range(2, m):
                for j1 in range(m - high):
                    j2 = j1 + high
                    q0 = j1 * (m - 1) - j1 * (j1 + 1) // 2 - 1
                    # where the pairs of j1 + 1 begin, less j1 + 2
                    below = q0 + m - 2 - j1
                    best = max(v[p, q0 + j2], max(v[p, q0 + j2 - 1], v[p, below + j2]))
                    for j in range(j1 + 1, j2):
                        both = (
                            v[p, q0 + j] + v[p, j * (m - 1) - j * (j + 1) // 2 - 1 + j2]
                        )
                        if both > best:
                            best = both
                    v[p, q0 + j2] = best


@entry
def trace(n, m, single, v, stack, leaves):  # type: ignore[no-untyped-def]
    """Write the single parts of a best plan of the whole piece as rows (k1, k2, j1, j2) of `leaves`; how many."""
    stack[0, 0], stack[0, 1], stack[0, 2], stack[0, 3] = 0, n - 1, 0, m - 1
    top = 1
    found = 0
    while top > 0:
        top -= 1
        k1 = stack[top, 0]
        k2 = stack[top, 1]
        j1 = stack[top, 2]
        j2 = stack[top, 3]
        q0 = j1 * (m - 1) - j1 * (j1 + 1) // 2 - 1
        worth = v[k1 * n + k2, q0 + j2]
        if worth == 0:
            continue
        moved = True
        while moved:
            moved = False
            q0 = j1 * (m - 1) - j1 * (j1 + 1) // 2 - 1
            below = q0 + m - 2 - j1
            if k2 - k1 > 1 and v[k1 * n + k2 - 1, q0 + j2] == worth:
                k2 = k2 - 1
                moved = True
            elif k2 - k1 > 1 and v[(k1 + 1) * n + k2, q0 + j2] == worth:
                k1 = k1 + 1
                moved = True
            elif j2 - j1 > 1 and v[k1 * n + k2, q0 + j2 - 1] == worth:
                j2 = j2 - 1
                moved = True
            elif j2 - j1 > 1 and v[k1 * n + k2, below + j2] == worth:
                j1 = j1 + 1
                moved = True
        q0 = j1 * (m - 1) - j1 * (j1 + 1) // 2 - 1
        if single[k1 * n + k2, q0 + j2] == worth:
            leaves[found, 0], leaves[found, 1], leaves[found, 2], leaves[found, 3] = (
                k1,
                k2,
                j1,
                j2,
            )
            found += 1
            continue
        done = False
        for k in range(k1 + 1, k2):
            if v[k1 * n + k, q0 + j2] + v[k * n + k2, q0 + j2] == worth:
                stack[top, 0], stack[top, 1], stack[top, 2], stack[top, 3] = (
                    k1,
                    k,
                    j1,
                    j2,
                )
                (
                    stack[top + 1, 0],
                    stack[top + 1, 1],
                    stack[top + 1, 2],
                    stack[top + 1, 3],
                ) = k, k2, j1, j2
                top += 2
                done = True
                break
        if done:
            continue
        for j in range(j1 + 1, j2):
            q1 = j * (m - 1) - j * (j + 1) // 2 - 1
            if v[k1 * n + k2, q0 + j] + v[k1 * n + k2, q1 + j2] == worth:
                stack[top, 0], stack[top, 1], stack[top, 2], stack[top, 3] = (
                    k1,
                    k2,
                    j1,
                    j,
                )
                (
                    stack[top + 1, 0],
                    stack[top + 1, 1],
                    stack[top + 1, 2],
                    stack[top + 1, 3],
                ) = k1, k2, j, j2
                top += 2
                break
    return found
