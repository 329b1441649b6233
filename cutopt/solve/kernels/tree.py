"""The tree of windows of a cloth: a cut in each inner node, a part or nothing in each leaf.

What lies on the cloth inside a window is told by a summed-area table, so rectangles and irregular outlines share all
code.
"""

from __future__ import annotations

from cutopt.solve.kernels.loader import jit

from .state import (
    CLOTH,
    FREE,
    FREED,
    HIGH,
    I_SHEET,
    INST,
    ITEM,
    KIND,
    LOW,
    PART,
    PL,
    PW,
    PX,
    PY,
    S_FABRIC,
    S_FULL,
    S_ROWS,
    S_SAT_AT,
    TOP,
    TRIED,
    U_GROUP,
    U_LOSS,
    U_STRIP,
    UNUSED,
    UP,
    X1,
    X2,
    Y1,
    Y2,
    H,
    V,
)


@jit
def cloth(P, sheet, x1, y1, x2, y2):
    """Usable cells of a window.

    Parameters
    ----------
    P : Problem
    sheet : int
        A kind of cloth.
    x1, y1, x2, y2 : int
        The window, in cells.
    """
    if P.sheet[sheet, S_FULL] == 1:
        return (x2 - x1) * (y2 - y1)
    at = P.sheet[sheet, S_SAT_AT]
    step = P.sheet[sheet, S_ROWS] + 1
    return (
        P.sat[at + x2 * step + y2]
        - P.sat[at + x1 * step + y2]
        - P.sat[at + x2 * step + y1]
        + P.sat[at + x1 * step + y1]
    )


@jit
def whole(P, S, n):
    """Whether the window of a node is cloth all over.

    Parameters
    ----------
    P, S : Problem, State
    n : int
        A node.
    """
    N = S.node
    sheet = P.inst[N[n, INST], I_SHEET]
    x1 = N[n, X1]
    y1 = N[n, Y1]
    x2 = N[n, X2]
    y2 = N[n, Y2]
    return cloth(P, sheet, x1, y1, x2, y2) == (x2 - x1) * (y2 - y1)


@jit
def new_node(S, inst, x1, y1, x2, y2, up):
    """A free node with this window; its number.

    Parameters
    ----------
    S : State
    inst : int
        The instance of cloth.
    x1, y1, x2, y2 : int
        The window, in cells.
    up : int
        The node above, -1 for none.
    """
    if S.misc[FREED] > 0:
        S.misc[FREED] -= 1
        n = S.freed[S.misc[FREED]]
    else:
        n = S.misc[TOP]
        S.misc[TOP] += 1
    N = S.node
    N[n, X1], N[n, Y1], N[n, X2], N[n, Y2] = x1, y1, x2, y2
    N[n, UP], N[n, INST], N[n, ITEM] = up, inst, -1
    set_free(S, n)
    return n


@jit
def set_free(S, n):
    """A window without cuts and parts, in which nothing has been tried yet."""
    N = S.node
    N[n, KIND], N[n, LOW], N[n, HIGH], N[n, TRIED], N[n, TRIED + 1], N[n, CLOTH] = (
        FREE,
        -1,
        -1,
        0,
        0,
        -1,
    )


@jit
def drop_node(S, n):
    """Node n is no longer in use."""
    S.node[n, KIND] = UNUSED
    S.freed[S.misc[FREED]] = n
    S.misc[FREED] += 1


@jit
def take(P, S, n):
    """The part of a leaf is no longer wanted.

    Parameters
    ----------
    P, S : Problem, State
    n : int
        The leaf.
    """
    N = S.node
    i = N[n, ITEM]
    f = P.sheet[P.inst[N[n, INST], I_SHEET], S_FABRIC]
    if P.unit[i, U_STRIP] == 1:
        S.rem[i] -= max(N[n, PW], N[n, PL]) - P.unit[i, U_LOSS]
    else:
        S.rem[i] -= 1
    S.cnt[i, f] += 1
    g = P.unit[i, U_GROUP]
    if g >= 0:
        S.grp[g, 0] = f
        S.grp[g, 1] += 1


@jit
def take_back(P, S, n):
    """The part of a leaf is wanted again.

    Parameters
    ----------
    P, S : Problem, State
    n : int
        The leaf.
    """
    N = S.node
    i = N[n, ITEM]
    f = P.sheet[P.inst[N[n, INST], I_SHEET], S_FABRIC]
    if P.unit[i, U_STRIP] == 1:
        S.rem[i] += max(N[n, PW], N[n, PL]) - P.unit[i, U_LOSS]
    else:
        S.rem[i] += 1
    S.cnt[i, f] -= 1
    g = P.unit[i, U_GROUP]
    if g >= 0:
        S.grp[g, 1] -= 1
    N[n, ITEM] = -1


@jit
def clear(P, S, C, n):
    """Make the window of node n free, taking back all parts below it.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    n : int
        A node.
    """
    N = S.node
    C.stack[0], size = n, 1
    while size > 0:
        size -= 1
        k = C.stack[size]
        if N[k, KIND] == PART:
            take_back(P, S, k)
        elif N[k, KIND] == V or N[k, KIND] == H:
            C.stack[size], C.stack[size + 1] = N[k, LOW], N[k, HIGH]
            size += 2
        if k != n:
            drop_node(S, k)
    set_free(S, n)


@jit
def shift(S, C, n, dx, dy):
    """Move a whole subtree.

    Parameters
    ----------
    S, C : State, Scratch
    n : int
        The node at its top.
    dx, dy : int
        Cells.
    """
    N = S.node
    C.stack[0], size = n, 1
    while size > 0:
        size -= 1
        k = C.stack[size]
        N[k, X1] += dx
        N[k, X2] += dx
        N[k, Y1] += dy
        N[k, Y2] += dy
        if N[k, KIND] == PART:
            N[k, PX] += dx
            N[k, PY] += dy
        elif N[k, KIND] == V or N[k, KIND] == H:
            C.stack[size], C.stack[size + 1] = N[k, LOW], N[k, HIGH]
            size += 2
