"""Kernel of the window programme: the most value that straight cuts can isolate from each window of a piece.

A window [k1, k2] x [j1, j2] of grid lines is row k1 * n + k2 and column after[j1] + j2 of a table, where
after[j1] = j1 * (m - 1) - j1 * (j1 + 1) / 2 - 1 counts only the pairs j1 < j2.
"""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry, jit


@entry
def enter(n, m, missing, class_x, class_y, plain, reach_x, reach_y, strips, single):  # type: ignore[no-untyped-def]
    """Write to `single` the best part that a window may hold whole.

    Parameters
    ----------
    n, m : int
        Lines across and along.
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
    """Fill `v`, the value of each window, from the best single parts.

    Parameters
    ----------
    n, m : int
        Lines across and along.
    single, v : arrays (n * n, m * (m - 1) / 2)
    """
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


@jit
def place(n, m, k1, k2, j1, j2):  # type: ignore[no-untyped-def]
    """Row and column of a window in a table.

    Parameters
    ----------
    n, m : int
        Lines across and along.
    k1, k2, j1, j2 : int
        The lines that the window lies between.
    """
    return k1 * n + k2, j1 * (m - 1) - j1 * (j1 + 1) // 2 - 1 + j2


@jit
def shrunk(n, m, v, k1, k2, j1, j2):  # type: ignore[no-untyped-def]
    """The lines of a window in this one that is worth as much, and of which no narrower one is.

    Parameters
    ----------
    n, m : int
        Lines across and along.
    v : array (n * n, m * (m - 1) / 2)
        The value of each window.
    k1, k2, j1, j2 : int
        The lines that the window lies between.
    """
    worth = v[place(n, m, k1, k2, j1, j2)]
    while True:
        if k2 - k1 > 1 and v[place(n, m, k1, k2 - 1, j1, j2)] == worth:
            k2 = k2 - 1
        elif k2 - k1 > 1 and v[place(n, m, k1 + 1, k2, j1, j2)] == worth:
            k1 = k1 + 1
        elif j2 - j1 > 1 and v[place(n, m, k1, k2, j1, j2 - 1)] == worth:
            j2 = j2 - 1
        elif j2 - j1 > 1 and v[place(n, m, k1, k2, j1 + 1, j2)] == worth:
            j1 = j1 + 1
        else:
            return k1, k2, j1, j2


@jit
def write(rows, at, k1, k2, j1, j2):  # type: ignore[no-untyped-def]
    """Write a window as a row.

    Parameters
    ----------
    rows : array (most, 4)
    at : int
    k1, k2, j1, j2 : int
        The lines that the window lies between.
    """
    rows[at, 0] = k1
    rows[at, 1] = k2
    rows[at, 2] = j1
    rows[at, 3] = j2


@jit
def cut(n, m, v, k1, k2, j1, j2, stack, top):  # type: ignore[no-untyped-def]
    """Write both halves of the best cut of a window to the stack.

    Parameters
    ----------
    n, m : int
        Lines across and along.
    v : array (n * n, m * (m - 1) / 2)
        The value of each window.
    k1, k2, j1, j2 : int
        The lines that the window lies between.
    stack : array (most, 4)
    top : int
        Rows of the stack that are taken.
    """
    worth = v[place(n, m, k1, k2, j1, j2)]
    for k in range(k1 + 1, k2):
        left = v[place(n, m, k1, k, j1, j2)]
        if left + v[place(n, m, k, k2, j1, j2)] == worth:
            write(stack, top, k1, k, j1, j2)
            write(stack, top + 1, k, k2, j1, j2)
            return
    for j in range(j1 + 1, j2):
        low = v[place(n, m, k1, k2, j1, j)]
        if low + v[place(n, m, k1, k2, j, j2)] == worth:
            write(stack, top, k1, k2, j1, j)
            write(stack, top + 1, k1, k2, j, j2)
            return


@entry
def trace(n, m, single, v, stack, leaves):  # type: ignore[no-untyped-def]
    """Write the single parts of a best plan of the whole piece as rows (k1, k2, j1, j2) of `leaves`; how many.

    Parameters
    ----------
    n, m : int
        Lines across and along.
    single, v : arrays (n * n, m * (m - 1) / 2)
        The best single part of each window, and its value.
    stack, leaves : arrays (n * m + 2, 4)
        Scratch, and where the windows are written.
    """
    write(stack, 0, 0, n - 1, 0, m - 1)
    top = 1
    found = 0
    while top > 0:
        top -= 1
        k1 = stack[top, 0]
        k2 = stack[top, 1]
        j1 = stack[top, 2]
        j2 = stack[top, 3]
        worth = v[place(n, m, k1, k2, j1, j2)]
        if worth == 0:
            continue
        k1, k2, j1, j2 = shrunk(n, m, v, k1, k2, j1, j2)
        if single[place(n, m, k1, k2, j1, j2)] == worth:
            write(leaves, found, k1, k2, j1, j2)
            found += 1
        else:
            cut(n, m, v, k1, k2, j1, j2, stack, top)
            top += 2
    return found
