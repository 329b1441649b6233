"""What a back of a tree does not keep to: rules of sewing, and wishes of its maker."""

from __future__ import annotations

from cutopt.solve.kernels.loader import jit

from .sewn_curves import seam_between, sides_of_both
from .sewn_state import (
    EXTENT,
    G_STOCK,
    G_TAKES,
    GROUP,
    KIND,
    LEAF,
    LEFT,
    OP,
    P_IN,
    P_LEFT,
    P_RIGHT,
    R_BAD,
    R_NARROW,
    RIGHT,
    ROW,
    WHAT,
    Z_BLOCK_SEAM,
    Z_EDGE,
    Z_MIDDLE,
    Z_OVERAGE,
    Z_SEAM,
    Z_SMALLEST,
    Z_WIDE,
)


@jit
def shown(C, S, n):
    """What is left of a subtree in the back: past nodes of which one child is left out.

    Parameters
    ----------
    C : Desk
    S : Tree
    n : int
        A node.
    """
    while S.node[n, OP] != LEAF and C.part[n] != P_IN:
        if C.part[n] == P_LEFT:
            n = S.node[n, LEFT]
        elif C.part[n] == P_RIGHT:
            n = S.node[n, RIGHT]
        else:
            break
    return n


@jit
def in_middle(P, S, C, n):
    """Count a seam that lies where none may be: along the middle, and as long as a third of that side.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    n : int
        A node.
    """
    if not P.size[Z_MIDDLE]:
        return
    along = S.node[n, OP] - ROW
    across = 1 - along
    a = S.node[n, LEFT]
    b = S.node[n, RIGHT]
    line = C.box[a, along] + C.box[a, EXTENT + along] + C.box[b, along]
    off = abs(line - P.size[Z_WIDE + along])
    if off < 2 * P.size[Z_MIDDLE]:
        if 3 * C.box[n, EXTENT + across] >= P.size[Z_WIDE + across]:
            C.result[R_BAD] += 1


@jit
def keeps_clear(P, C, n):
    """Count a block that comes nearer to an edge of the back than it may.

    Parameters
    ----------
    P : Task
    C : Desk
    n : int
        A node.
    """
    clear = P.size[Z_OVERAGE]
    for axis in range(2):
        low = C.box[n, axis]
        high = low + C.box[n, EXTENT + axis]
        if low < clear or high > P.size[Z_WIDE + axis] - clear:
            C.result[R_BAD] += 1


@jit
def too_small(P, C, n):
    """Count a part of which less is seen than may be.

    Parameters
    ----------
    P : Task
    C : Desk
    n : int
        A leaf.
    """
    seam = max(P.size[Z_SEAM], P.size[Z_BLOCK_SEAM])
    for axis in range(2):
        low = C.box[n, axis]
        size = C.box[n, EXTENT + axis]
        seams = 0
        if low > 0:
            seams += seam
        if low + size < P.size[Z_WIDE + axis]:
            seams += seam
        if 2 * size - seams < 2 * P.size[Z_SMALLEST]:
            C.result[R_BAD] += 1


@jit
def narrow_at_edge(P, C, n):
    """Count a part at the outer edge that is narrower there than is liked.

    Parameters
    ----------
    P : Task
    C : Desk
    n : int
        A node.
    """
    for axis in range(2):
        low = C.box[n, axis]
        size = C.box[n, EXTENT + axis]
        whole = P.size[Z_WIDE + axis]
        touches = low == 0 or low + size == whole
        if touches and size < whole and size < P.size[Z_EDGE]:
            C.result[R_NARROW] += 1


@jit
def other_seams(P, S, C, count):
    """Count the seams that were taken for those of a block that is left out, or for no such ones.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    count : int
        How many nodes are listed in `order`, parents first.
    """
    for k in range(count - 1, -1, -1):
        n = C.order[k]
        if S.node[n, OP] == LEAF:
            continue
        a = shown(C, S, S.node[n, LEFT])
        b = shown(C, S, S.node[n, RIGHT])
        along = S.node[n, OP] - ROW
        taken = C.box[a, EXTENT + along] + C.box[b, EXTENT + along]
        seam = taken - C.box[n, EXTENT + along]
        if seam != seam_between(P, C, a, b, along):
            C.result[R_BAD] += 1
        C.near[n] = sides_of_both(C, a, b, along)


@jit
def lacking(P, S, C, count):
    """How many of the blocks that have to go in do not, of the leaves listed.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    count : int
        How many nodes are listed in `order`.
    """
    lack = 0
    for kind in range(P.stock.shape[0]):
        if P.stock[kind, 1] <= 0:
            continue
        there = 0
        for k in range(count):
            n = C.order[k]
            if S.node[n, OP] == LEAF and S.node[n, KIND] == GROUP:
                what = S.node[n, WHAT]
                if P.group[what, G_STOCK] == kind:
                    there += P.group[what, G_TAKES]
        lack += max(0, P.stock[kind, 1] - there)
    return lack
