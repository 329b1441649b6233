"""What the back of a tree costs: money, parts, and the wishes that it does not keep."""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry, jit

from .sewn_size import (
    sizes,
)
from .sewn_state import (
    C_FABRIC,
    C_MAIN,
    C_PRICE,
    C_SOONER,
    CLOTH,
    ELASTIC,
    EXTENT,
    G_BLOCK,
    G_FABRIC,
    G_SEAMS,
    GROUP,
    KIND,
    LEAF,
    LEFT,
    M_LENGTH,
    M_ROOT,
    OP,
    P_IN,
    R_AREA,
    R_BAD,
    R_COST,
    R_FABRICS,
    R_IDLE,
    R_LENGTH,
    R_MONEY,
    R_NARROW,
    R_OP,
    R_PARTS,
    RIGHT,
    SLOTS,
    V_AREA,
    V_BAD,
    V_FABRIC,
    V_IDLE,
    V_LENGTH,
    V_MONEY,
    V_NARROW,
    V_PART,
    V_STEP,
    WHAT,
    Z_BOUGHT,
    Z_BOUGHT_FABRIC,
    Z_BOUGHT_MAIN,
    Z_HIGH,
    Z_MAIN,
    Z_MOST,
    Z_PRICED,
    Z_RUN,
    Z_WIDE,
    X,
    Y,
)
from .sewn_wishes import (
    in_middle,
    keeps_clear,
    lacking,
    narrow_at_edge,
    other_seams,
    shown,
    too_small,
)


@entry
def weigh(P, S, C):
    """Size a tree and note in `result` what it comes to; returns its cost.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    """
    C.result[:] = 0
    C.result[R_BAD] = sizes(P, S, C)
    C.result[R_LENGTH] = S.misc[M_LENGTH]
    count = gone_through(P, S, C, shown(C, S, S.misc[M_ROOT]))
    parts = C.result[R_PARTS]
    if P.size[Z_RUN] and parts > 1 and C.result[R_OP] != P.size[Z_RUN]:
        C.result[R_BAD] += 1
    if P.size[Z_MOST]:
        C.result[R_BAD] += max(0, parts - P.size[Z_MOST])
    C.result[R_BAD] += lacking(P, S, C, count)
    C.result[R_IDLE] -= (count + 1) // 2
    length = min(C.result[R_LENGTH], P.price.shape[0] - 1)
    C.result[R_MONEY] = paid(P, S, C) + P.price[length]
    C.result[R_COST] = summed(P, C)
    return C.result[R_COST]


@jit
def gone_through(P, S, C, root):
    """List the nodes that are in the back, and note what its parts and seams come to; returns how many nodes.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    root : int
        The last seam, or the only part.
    """
    C.result[R_OP] = S.node[root, OP]
    fabrics = 0
    largest = 0
    main = 0
    at = 0
    count = 1
    C.order[0] = root
    while at < count:
        n = C.order[at]
        at += 1
        if S.node[n, OP] != LEAF:
            C.order[count] = shown(C, S, S.node[n, LEFT])
            C.order[count + 1] = shown(C, S, S.node[n, RIGHT])
            count += 2
            in_middle(P, S, C, n)
            continue
        fabric = a_part(P, S, C, n)
        if fabric < 0:
            continue
        fabrics |= 1 << fabric
        too_small(P, C, n)
        narrow_at_edge(P, C, n)
        area = C.box[n, EXTENT + X] * C.box[n, EXTENT + Y]
        # a group of patches is no part that is the largest
        if S.node[n, KIND] != GROUP and area > largest:
            largest = area
            main = is_main(P, S, n)
    if P.size[Z_MAIN] and not main:
        C.result[R_BAD] += 1
    while fabrics > 0:
        C.result[R_FABRICS] += fabrics & 1
        fabrics >>= 1
    other_seams(P, S, C, count)
    return count


@jit
def is_main(P, S, n):
    """Whether a leaf is of the fabric that the largest part has to be of.

    Parameters
    ----------
    P : Task
    S : Tree
    n : int
        A leaf.
    """
    if S.node[n, KIND] == ELASTIC:
        return P.size[Z_BOUGHT_MAIN]
    return P.cloth[S.node[n, WHAT], C_MAIN]


@jit
def a_part(P, S, C, n):
    """Note what a leaf comes to; returns its fabric, -1 for blocks.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    n : int
        A leaf.
    """
    what = S.node[n, WHAT]
    w = C.box[n, EXTENT + X]
    h = C.box[n, EXTENT + Y]
    if S.node[n, KIND] == ELASTIC:
        C.result[R_PARTS] += P.new[w, h, 1]
        C.result[R_LENGTH] += P.new[w, h, 0]
        # new cloth that nobody sells, or not so large
        if C.result[R_LENGTH] >= P.price.shape[0]:
            C.result[R_BAD] += 1
        return P.size[Z_BOUGHT_FABRIC]
    if S.node[n, KIND] == CLOTH:
        C.result[R_PARTS] += 1
        if what != P.size[Z_BOUGHT]:
            # what is to be used first saves what other cloth costs
            C.result[R_AREA] += w * h * (1 - 4 * P.cloth[what, C_SOONER])
        return P.cloth[what, C_FABRIC]
    C.result[R_PARTS] += P.group[what, G_SEAMS] + 1
    if P.group[what, G_BLOCK]:
        keeps_clear(P, C, n)
        return -1
    return P.group[what, G_FABRIC]


@jit
def paid(P, S, C):
    """What pieces that the shop sells cost, once each however many windows of them are sewn in.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    """
    money = 0
    for p in range(P.size[Z_PRICED], P.cloth.shape[0]):
        for slot in range(SLOTS):
            n = S.user[p, slot]
            if n >= 0 and C.part[n] == P_IN:
                money += P.cloth[p, C_PRICE]
                break
    return money


@jit
def summed(P, C):
    """The one cost of all that a tree comes to."""
    panel = P.size[Z_WIDE] * P.size[Z_HIGH]
    return (
        C.result[R_MONEY] * P.weight[V_MONEY] // P.weight[V_STEP]
        + C.result[R_LENGTH] * P.weight[V_LENGTH]
        + C.result[R_PARTS] * P.weight[V_PART]
        + C.result[R_AREA] * P.weight[V_AREA] // panel
        + C.result[R_NARROW] * P.weight[V_NARROW]
        + C.result[R_FABRICS] * P.weight[V_FABRIC]
        + C.result[R_BAD] * P.weight[V_BAD]
        + C.result[R_IDLE] * P.weight[V_IDLE]
    )
