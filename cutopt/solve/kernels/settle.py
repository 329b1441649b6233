"""Free leaves of a tree of windows joined with their free neighbours, so that what is left of a cloth stays whole."""

from __future__ import annotations

from cutopt.solve.kernels.loader import inlined, jit

from .state import FREE, HIGH, INST, KIND, LOW, TOP, UP, X1, X2, Y1, Y2, V
from .tree import drop_node, set_free, shift, whole


@jit
def free_to_high(P, S, C, p):
    """In a window that is cloth all over, let the free child of a cut lie on its high side.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    p : int
        A node with a cut.
    """
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
    """Let leaf n, child of p, take all of p's window beyond (or before) p's other child, whose window is right.

    Parameters
    ----------
    S : State
    n, p : int
        The leaf and its parent.
    at_low : bool
        Whether n is the low child.
    """
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
    """Let a node have this low (or high) child.

    Parameters
    ----------
    S : State
    p, child : int
    low : bool
    """
    if low:
        S.node[p, LOW] = child
    else:
        S.node[p, HIGH] = child
    S.node[child, UP] = p


@jit
def settle(P, S, C, n):
    """After leaf n became free: join it with free neighbours, as far as that goes.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    n : int
        The leaf.
    """
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
        to_far_end(S, C, g, p, n, s)


@inlined
def to_far_end(S, C, g, p, n, s):
    """Where cut g has x and the free leaf n on its low side (below cut p), move s next to x, and n to the far end.

    Parameters
    ----------
    S, C : State, Scratch
    g, p, n, s : int
        Nodes: two cuts the same way, the leaf, and what lies on the high side of g.
    """
    N = S.node
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
    """Join free neighbours anywhere in an instance.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    inst : int
        An instance of cloth.
    """
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
