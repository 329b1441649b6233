"""How a tree of a pieced back is put together: leaves and subtrees sewn in and taken out, cloth taken and given back."""

from __future__ import annotations

from cutopt.solve.kernels.loader import jit

from .sewn_state import (
    CLOTH,
    FREE,
    G_STOCK,
    G_TAKES,
    GROUP,
    KIND,
    LEAF,
    LEFT,
    M_ROOT,
    OP,
    RIGHT,
    ROW,
    SLOT,
    UNUSED,
    UP,
    WHAT,
    rand,
)


@jit
def new_node(S):
    """A node that is not used; -1 where there is none."""
    for n in range(S.node.shape[0]):
        if S.node[n, OP] == UNUSED:
            return n
    return -1


@jit
def a_node(S, leaves, inner):
    """A node of the tree by chance, of leaves or inner ones or both; -1 where there is none. The elastic leaf is one.

    Parameters
    ----------
    S : Tree
    leaves : bool
        Whether leaves count.
    inner : bool
        Whether inner nodes count.
    """
    pick = -1
    seen = 0
    for n in range(S.node.shape[0]):
        op = S.node[n, OP]
        if (op == LEAF and leaves) or (op > LEAF and inner):
            seen += 1
            if rand(S, seen) == 0:
                pick = n
    return pick


@jit
def above(S, a, b):
    """Whether b lies in the subtree of a.

    Parameters
    ----------
    S : Tree
    a : int
        A node.
    b : int
        A node.
    """
    while b >= 0:
        if a == b:
            return True
        b = S.node[b, UP]
    return False


@jit
def hang(S, parent, old, new):
    """Let `new` be what `old` was to its parent, or the root.

    Parameters
    ----------
    S : Tree
    parent : int
        A node, -1 for none.
    old : int
        A node.
    new : int
        A node.
    """
    S.node[new, UP] = parent
    if parent < 0:
        S.misc[M_ROOT] = new
    elif S.node[parent, LEFT] == old:
        S.node[parent, LEFT] = new
    else:
        S.node[parent, RIGHT] = new


@jit
def insert(S, target, n):
    """Sew n to a node of the tree, on any of its sides; False where there is no node for the seam.

    Parameters
    ----------
    S : Tree
    target : int
        The node that it is sewn to.
    n : int
        A node.
    """
    seam = new_node(S)
    if seam < 0:
        return False
    hang(S, S.node[target, UP], target, seam)
    S.node[seam, OP] = ROW + rand(S, 2)
    if rand(S, 2):
        S.node[seam, LEFT] = n
        S.node[seam, RIGHT] = target
    else:
        S.node[seam, LEFT] = target
        S.node[seam, RIGHT] = n
    S.node[n, UP] = seam
    S.node[target, UP] = seam
    return True


@jit
def cut_off(S, n):
    """Take a subtree out, with the seam above it; the root stays."""
    seam = S.node[n, UP]
    other = S.node[seam, LEFT]
    if other == n:
        other = S.node[seam, RIGHT]
    hang(S, S.node[seam, UP], seam, other)
    S.node[seam, OP] = UNUSED
    S.node[n, UP] = -1


@jit
def let_go(P, S, n):
    """Give back what a leaf takes.

    Parameters
    ----------
    P : Task
    S : Tree
    n : int
        A node.
    """
    what = S.node[n, WHAT]
    if S.node[n, KIND] == CLOTH:
        S.user[what, S.node[n, SLOT]] = FREE
    elif S.node[n, KIND] == GROUP:
        S.used[P.group[what, G_STOCK]] -= P.group[what, G_TAKES]


@jit
def take(P, S, n, kind, what, slot):
    """Let a leaf be of a window of cloth, or of a group.

    Parameters
    ----------
    P : Task
    S : Tree
    n : int
        A node.
    kind : int
        CLOTH or GROUP.
    what : int
        Its number.
    slot : int
        A window of it.
    """
    S.node[n, OP] = LEAF
    S.node[n, KIND] = kind
    S.node[n, WHAT] = what
    S.node[n, SLOT] = slot
    if kind == CLOTH:
        S.user[what, slot] = n
    else:
        S.used[P.group[what, G_STOCK]] += P.group[what, G_TAKES]
