"""Small changes of a tree of a pieced back, by chance. Each returns whether there was anything to change."""

from __future__ import annotations

from cutopt.solve.kernels.loader import jit

from .sewn_state import (
    AT,
    AXIS,
    C_LONG,
    C_WIDE,
    CLOTH,
    ELASTIC,
    FREE,
    G_STOCK,
    G_TAKES,
    GROUP,
    KIND,
    LEAF,
    LEFT,
    M_LENGTH,
    OP,
    RIGHT,
    ROW,
    SLOT,
    SLOTS,
    SPLITS,
    STACK,
    UNUSED,
    UP,
    WHAT,
    Z_BOUGHT,
    Z_LEAST,
    live,
    rand,
)
from .sewn_tree import (
    a_node,
    above,
    cut_off,
    hang,
    insert,
    let_go,
    new_node,
    take,
)


@jit
def find_free(P, S, C):
    """List what may be taken into `free`: windows of cloth that nobody uses, groups of which there are enough.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    """
    count = 0
    for p in range(P.cloth.shape[0]):
        if p == P.size[Z_BOUGHT] and S.misc[M_LENGTH] == 0:
            continue
        whole = S.split[p, 0, AXIS] == 0
        slots = SLOTS
        if whole:
            slots = 1
        for s in range(slots):
            if S.user[p, s] == FREE and live(S, p, s):
                C.free[count, 0] = CLOTH
                C.free[count, 1] = p
                C.free[count, 2] = s
                count += 1
    for g in range(P.group.shape[0]):
        kind = P.group[g, G_STOCK]
        if S.used[kind] + P.group[g, G_TAKES] <= P.stock[kind, 0]:
            C.free[count, 0] = GROUP
            C.free[count, 1] = g
            C.free[count, 2] = 0
            count += 1
    return count


@jit
def add_leaf(P, S, C):
    """Sew something that lies there to any part of the back.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    """
    count = find_free(P, S, C)
    if count == 0:
        return False
    k = rand(S, count)
    target = a_node(S, True, True)
    n = new_node(S)
    if n < 0:
        return False
    S.node[n, OP] = LEAF
    if not insert(S, target, n):
        S.node[n, OP] = UNUSED
        return False
    take(P, S, n, C.free[k, 0], C.free[k, 1], C.free[k, 2])
    return True


@jit
def drop_leaf(P, S):
    """Leave a leaf out."""
    n = a_node(S, True, False)
    if S.node[n, KIND] == ELASTIC or S.node[n, UP] < 0:
        return False
    let_go(P, S, n)
    cut_off(S, n)
    S.node[n, OP] = UNUSED
    return True


@jit
def replace_leaf(P, S, C):
    """Something that lies there in the place of a leaf.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    """
    n = a_node(S, True, False)
    if S.node[n, KIND] == ELASTIC:
        return False
    count = find_free(P, S, C)
    if count == 0:
        return False
    k = rand(S, count)
    let_go(P, S, n)
    take(P, S, n, C.free[k, 0], C.free[k, 1], C.free[k, 2])
    return True


@jit
def swap_nodes(S):
    """Two subtrees change places."""
    a = a_node(S, True, rand(S, 3) == 0)
    b = a_node(S, True, rand(S, 3) == 0)
    if a == b or a < 0 or b < 0 or above(S, a, b) or above(S, b, a):
        return False
    up_a = S.node[a, UP]
    up_b = S.node[b, UP]
    if up_a == up_b:
        left = S.node[up_a, LEFT]
        S.node[up_a, LEFT] = S.node[up_a, RIGHT]
        S.node[up_a, RIGHT] = left
        return True
    hang(S, up_a, a, b)
    hang(S, up_b, b, a)
    return True


@jit
def flip(S):
    """A row becomes a stack, or the other way round."""
    n = a_node(S, False, True)
    if n < 0:
        return False
    S.node[n, OP] = ROW + STACK - S.node[n, OP]
    return True


@jit
def move(S):
    """A subtree goes elsewhere."""
    n = a_node(S, True, rand(S, 3) == 0)
    if n < 0 or S.node[n, UP] < 0:
        return False
    target = a_node(S, True, True)
    if above(S, n, target) or target == S.node[n, UP]:
        return False
    cut_off(S, n)
    return insert(S, target, n)


@jit
def cut_up(P, S):
    """The window of a leaf is cut in two; the other half is sewn in elsewhere, or stays free."""
    n = a_node(S, True, False)
    slot = S.node[n, SLOT]
    if S.node[n, KIND] != CLOTH or slot >= SPLITS:
        return False
    p = S.node[n, WHAT]
    axis = rand(S, 2)
    size = P.cloth[p, C_WIDE + axis]
    if p == P.size[Z_BOUGHT] and axis == 1:
        size = S.misc[M_LENGTH]
    least = P.size[Z_LEAST]
    if size < 2 * least:
        return False
    S.split[p, slot, AXIS] = 1 + axis
    S.split[p, slot, AT] = least + rand(S, size - 2 * least + 1)
    S.user[p, slot] = FREE
    one = 2 * slot + 1 + rand(S, 2)
    other = 4 * slot + 3 - one
    S.node[n, SLOT] = one
    S.user[p, one] = n
    S.user[p, other] = FREE
    if rand(S, 4) == 0:
        return True
    leaf = new_node(S)
    if leaf < 0:
        return True
    target = a_node(S, True, True)
    S.node[leaf, OP] = LEAF
    if not insert(S, target, leaf):
        S.node[leaf, OP] = UNUSED
        return True
    take(P, S, leaf, CLOTH, p, other)
    return True


@jit
def a_cut(S):
    """A leaf of cloth that was cut off something by chance; -1 where there is none."""
    pick = -1
    seen = 0
    for n in range(S.node.shape[0]):
        if S.node[n, OP] == LEAF and S.node[n, KIND] == CLOTH and S.node[n, SLOT] > 0:
            seen += 1
            if rand(S, seen) == 0:
                pick = n
    return pick


@jit
def shift_cut(S):
    """The cut beside a leaf goes elsewhere, most often not far."""
    n = a_cut(S)
    if n < 0:
        return False
    p = S.node[n, WHAT]
    up = (S.node[n, SLOT] - 1) // 2
    reach = 1 + rand(S, 4)
    if rand(S, 4) == 0:
        reach = 1 + rand(S, 40)
    if rand(S, 2):
        reach = -reach
    at = S.split[p, up, AT] + reach
    if at < 1:
        return False
    S.split[p, up, AT] = at
    return True


@jit
def put_together(S):
    """A cut is not made: a leaf has its window whole, and what was cut from the rest is left out."""
    n = a_cut(S)
    if n < 0:
        return False
    p = S.node[n, WHAT]
    slot = S.node[n, SLOT]
    up = (slot - 1) // 2
    other = 4 * up + 3 - slot
    if not live(S, p, other):
        return False
    leaf = S.user[p, other]
    if leaf != FREE:
        cut_off(S, leaf)
        S.node[leaf, OP] = UNUSED
    S.user[p, other] = FREE
    S.user[p, slot] = FREE
    S.split[p, up, AXIS] = 0
    S.node[n, SLOT] = up
    S.user[p, up] = n
    return True


@jit
def other_length(P, S):
    """More or less of the length that windows are cut from is bought."""
    if P.size[Z_BOUGHT] < 0:
        return False
    most = P.cloth[P.size[Z_BOUGHT], C_LONG]
    step = 1 + rand(S, 8)
    if rand(S, 3) == 0:
        step = 1 + rand(S, 80)
    if rand(S, 2):
        step = -step
    length = S.misc[M_LENGTH] + step
    if length < 0 or length > most:
        return False
    S.misc[M_LENGTH] = length
    return True


@jit
def change(P, S, C):
    """One change by chance.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    """
    dice = rand(S, 100)
    if dice < 16:
        return add_leaf(P, S, C)
    if dice < 26:
        return drop_leaf(P, S)
    if dice < 38:
        return replace_leaf(P, S, C)
    if dice < 54:
        return swap_nodes(S)
    if dice < 63:
        return flip(S)
    if dice < 79:
        return move(S)
    if dice < 85:
        return cut_up(P, S)
    if dice < 93:
        return shift_cut(S)
    if dice < 97:
        return put_together(S)
    return other_length(P, S)
