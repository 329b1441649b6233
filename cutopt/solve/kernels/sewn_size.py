"""What each part of a tree of a pieced back is cut to: sizes from the root down, to what is asked."""

from __future__ import annotations

from cutopt.solve.kernels.loader import jit

from .sewn_curves import (
    curves,
    seam_of,
)
from .sewn_state import (
    EXTENT,
    LEAF,
    LEFT,
    M_ROOT,
    OP,
    P_IN,
    P_LEFT,
    P_RIGHT,
    RIGHT,
    ROW,
    Z_HIGH,
    Z_WIDE,
    X,
    Y,
)


@jit
def place(C, n, child, along, at, extent):
    """Sew a child of n in: along one axis at this place and so large, along the other as n is.

    Parameters
    ----------
    C : Desk
    n : int
        A node.
    child : int
        A node below it.
    along : int
        The axis: 0 across the back, 1 up it.
    at : int
        Where it begins, from where n does.
    extent : int
        How large it is.
    """
    across = 1 - along
    C.part[child] = P_IN
    C.box[child, along] = C.box[n, along] + at
    C.box[child, across] = C.box[n, across]
    C.box[child, EXTENT + along] = extent
    C.box[child, EXTENT + across] = C.box[n, EXTENT + across]


@jit
def sew(C, n, a, b, along, one, other, seam):
    """Sew both children of a node in, so large along an axis.

    Parameters
    ----------
    C : Desk
    n : int
        A node.
    a : int
        A node.
    b : int
        A node.
    along : int
        The axis: 0 across the back, 1 up it.
    one : int
        How large the first child is.
    other : int
        How large the second child is.
    seam : int
        Twice the allowance.
    """
    C.part[n] = P_IN
    place(C, n, a, along, 0, one)
    place(C, n, b, along, one - seam, other)


@jit
def size_down(P, S, C, top):
    """Sizes of all of a subtree whose own is known; returns how many of its nodes cannot be so.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    top : int
        The node that it begins with.
    """
    bad = 0
    C.todo[0] = top
    count = 1
    while count > 0:
        count -= 1
        n = C.todo[count]
        C.part[n] = P_IN
        w = C.box[n, EXTENT + X]
        h = C.box[n, EXTENT + Y]
        if w < C.least[n, X] or h < C.least[n, Y] or C.curve[0, n, w] < h:
            bad += 1
            continue
        if S.node[n, OP] == LEAF:
            continue
        a = S.node[n, LEFT]
        b = S.node[n, RIGHT]
        along = S.node[n, OP] - ROW
        seam = seam_of(P, S, C, n)
        whole = C.box[n, EXTENT + along] + seam
        wide = C.box[n, EXTENT + 1 - along]
        # the second gives what is too much, and the first what that has not
        one = min(C.curve[1 - along, a, wide], whole - C.least[b, along])
        other = whole - one
        most = C.curve[1 - along, b, wide]
        if other > most:
            other = most
            one = whole - other
        sew(C, n, a, b, along, one, other, seam)
        C.todo[count] = a
        C.todo[count + 1] = b
        count += 2
    return bad


@jit
def taken(P, S, C, n, beside, below, along):
    """How much of a node, along its axis, the child without the elastic leaf takes; 0 where it is left out.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    n : int
        A node.
    beside : int
        The child without the elastic leaf.
    below : int
        The child with it.
    along : int
        The axis: 0 across the back, 1 up it.
    """
    wide = C.box[n, EXTENT + 1 - along]
    whole = C.box[n, EXTENT + along]
    most = C.curve[1 - along, beside, wide]
    least = C.least[beside, along]
    if most < least or wide < C.least[beside, 1 - along]:
        return 0
    if most >= whole:
        return whole
    seam = seam_of(P, S, C, n)
    most = min(most, whole + seam - C.least[below, along])
    if most < least or wide < C.least[below, 1 - along]:
        return 0
    return most


@jit
def sizes(P, S, C):
    """Sizes of the whole tree; returns how many of its nodes cannot be so.

    What cannot go where it stands beside the elastic leaf is left out of the back, and so is that leaf where nothing
    is missing.


    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    """
    elastic = curves(P, S, C)
    n = S.misc[M_ROOT]
    C.box[n, X] = 0
    C.box[n, Y] = 0
    C.box[n, EXTENT + X] = P.size[Z_WIDE]
    C.box[n, EXTENT + Y] = P.size[Z_HIGH]
    bad = 0
    while n != elastic:
        a = S.node[n, LEFT]
        b = S.node[n, RIGHT]
        along = S.node[n, OP] - ROW
        beside = b
        below = a
        if C.has[b]:
            beside = a
            below = b
        whole = C.box[n, EXTENT + along]
        took = taken(P, S, C, n, beside, below, along)
        if took == 0:
            C.part[n] = P_LEFT if below == a else P_RIGHT
            place(C, n, below, along, 0, whole)
        elif took == whole:
            C.part[n] = P_LEFT if beside == a else P_RIGHT
            place(C, n, beside, along, 0, whole)
            return bad + size_down(P, S, C, beside)
        else:
            seam = seam_of(P, S, C, n)
            left = whole + seam - took
            if beside == a:
                sew(C, n, a, b, along, took, left, seam)
            else:
                sew(C, n, a, b, along, left, took, seam)
            bad += size_down(P, S, C, beside)
        n = below
    C.part[elastic] = P_IN
    return bad
