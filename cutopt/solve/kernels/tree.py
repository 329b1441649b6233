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
    """Usable cells of a window."""
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
    """Whether the window of a node is cloth all over."""
    N = S.node
    sheet = P.inst[N[n, INST], I_SHEET]
    x1 = N[n, X1]
    y1 = N[n, Y1]
    x2 = N[n, X2]
    y2 = N[n, Y2]
    return cloth(P, sheet, x1, y1, x2, y2) == (x2 - x1) * (y2 - y1)


@jit
def new_node(S, inst, x1, y1, x2, y2, up):
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
    S.node[n, KIND] = UNUSED
    S.freed[S.misc[FREED]] = n
    S.misc[FREED] += 1


@jit
def take(P, S, n):
    """The part of a leaf is no longer wanted."""
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
    """The part of a leaf is wanted again."""
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
    """Make the window of node n free, taking back all parts below it."""
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
    """Move a whole subtree."""
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


@jit
def free_to_high(P, S, C, p):
    """In a window that is cloth all over, let the free child of a cut lie on its high side."""
    N = S.node
    a = N[p, LOW]
    b = N[p, HIGH]
    if N[a, KIND] != FREE or not whole(P, S, p):
        return
    if N[p, KIND] == V:
        size = N[a, X2] - N[a, X1]
        shift(S, C, b, -size, 0)
        N[a, X1], N[a, X2] = N[b, X2], N[p, X2]
    else:
        size = N[a, Y2] - N[a, Y1]
        shift(S, C, b, 0, -size)
        N[a, Y1], N[a, Y2] = N[b, Y2], N[p, Y2]
    N[p, LOW], N[p, HIGH] = b, a


@jit
def widen(S, n, p, at_low):
    """Let leaf n, child of p, take all of p's window beyond (or before) p's other child, whose window is right."""
    N = S.node
    o = N[p, HIGH] if at_low else N[p, LOW]
    set_free(S, n)
    N[n, X1], N[n, Y1], N[n, X2], N[n, Y2] = N[p, X1], N[p, Y1], N[p, X2], N[p, Y2]
    if N[p, KIND] == V:
        if at_low:
            N[n, X2] = N[o, X1]
        else:
            N[n, X1] = N[o, X2]
    elif at_low:
        N[n, Y2] = N[o, Y1]
    else:
        N[n, Y1] = N[o, Y2]


@jit
def adopt(S, p, child, low):
    if low:
        S.node[p, LOW] = child
    else:
        S.node[p, HIGH] = child
    S.node[child, UP] = p


@jit
def settle(P, S, C, n):
    """After leaf n became free: join it with free neighbours, as far as that goes."""
    N = S.node
    while True:
        p = N[n, UP]
        if p < 0:
            return
        a = N[p, LOW]
        b = N[p, HIGH]
        if N[a, KIND] == FREE and N[b, KIND] == FREE:
            drop_node(S, a)
            drop_node(S, b)
            set_free(S, p)
            n = p
            continue
        free_to_high(P, S, C, p)
        at_low = N[p, LOW] == n
        o = N[p, HIGH] if at_low else N[p, LOW]
        # the neighbour is cut the same way: take its near end if that is free
        if N[o, KIND] == N[p, KIND]:
            near = N[o, LOW] if at_low else N[o, HIGH]
            far = N[o, HIGH] if at_low else N[o, LOW]
            if N[near, KIND] == FREE:
                adopt(S, p, far, not at_low)
                drop_node(S, near)
                drop_node(S, o)
                widen(S, n, p, at_low)
                continue
        g = N[p, UP]
        if g < 0 or N[g, KIND] != N[p, KIND]:
            return
        if (N[g, LOW] == p) == at_low:
            # n lies at the outer side of g: nothing to join there
            return
        s = N[g, HIGH] if N[g, LOW] == p else N[g, LOW]
        keep = o
        # x n | s: one free leaf for n and s
        if N[s, KIND] == FREE:
            s_low = N[g, LOW] == s
            adopt(S, g, keep, not s_low)
            drop_node(S, n)
            drop_node(S, p)
            widen(S, s, g, s_low)
            n = s
            continue
        if at_low or not whole(P, S, g):
            return
        # g = (x n) s with cloth all over: move s next to x, n to the far end
        if N[g, KIND] == V:
            size = N[n, X2] - N[n, X1]
            shift(S, C, s, -size, 0)
            N[p, X2] = N[s, X2]
        else:
            size = N[n, Y2] - N[n, Y1]
            shift(S, C, s, 0, -size)
            N[p, Y2] = N[s, Y2]
        adopt(S, p, s, False)
        adopt(S, g, n, False)
        widen(S, n, g, False)


@jit
def settle_all(P, S, C, inst):
    """Join free neighbours anywhere in an instance."""
    again = True
    while again:
        again = False
        for n in range(S.misc[TOP]):
            if S.node[n, KIND] == FREE and S.node[n, INST] == inst:
                p = S.node[n, UP]
                if (
                    p >= 0
                    and S.node[S.node[p, LOW], KIND] == FREE
                    and S.node[S.node[p, HIGH], KIND] == FREE
                ):
                    settle(P, S, C, n)
                    again = True
