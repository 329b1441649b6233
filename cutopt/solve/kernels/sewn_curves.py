"""The capacity curves of a tree of a pieced back, from its leaves up.

The curve of a window is the greatest height that it gives at each width; a stack adds heights at equal width, a row
widths at equal height, less a seam of both. With maxima in the place of minima these are the shape curves of slicing
floorplans (Stockmeyer 1983, Information and Control 57, 91-101): the best sizes of a tree are found without a search.
"""

from __future__ import annotations

from cutopt.solve.kernels.loader import jit

from .sewn_state import (
    C_FIRST,
    C_NUMBER,
    C_TURN,
    CLOTH,
    ELASTIC,
    G_BLOCK,
    G_HIGH,
    G_LEAST_HIGH,
    G_LEAST_WIDE,
    G_WIDE,
    GROUP,
    KIND,
    LEAF,
    LEFT,
    M_ROOT,
    OP,
    P_OUT,
    R_IDLE,
    RIGHT,
    ROW,
    SLOT,
    WHAT,
    Z_BLOCK_SEAM,
    Z_BOUGHT,
    Z_HIGH,
    Z_LEAST,
    Z_SEAM,
    Z_WIDE,
    X,
    Y,
    window,
)

# bits of the sides of a node, by axis the low and the high one
LOW = (1, 4)
HIGH = (2, 8)
ALL_ROUND = 15
# of the sums that tell curves from each other
PRIME = 8191
ROUND = 2147483647


@jit
def invert(one, last, other, most):
    """Of a falling curve `one` the other: the greatest place up to `last` with a value of v or more, for each v.

    Parameters
    ----------
    one : array (last + 1,)
        A curve that falls.
    last : int
        The last place of the first curve.
    other : array (most + 1,)
        Is filled.
    most : int
        The last place of the other.
    """
    at = last
    for v in range(1, most + 1):
        while at > 0 and one[at] < v:
            at -= 1
        other[v] = at
    other[0] = other[1]


@jit
def note(high, wide, tall, least, across, along, turn):
    """Note in a curve what a rectangle gives, as it lies and turned.

    Parameters
    ----------
    high : array (wide + 1,)
        A curve.
    wide : int
        Width of the back.
    tall : int
        Its height.
    least : int
        The least side of a part.
    across : int
        Width of the rectangle.
    along : int
        Length of the rectangle.
    turn : int
        Bits: 1 as it lies, 2 turned.
    """
    if across < least or along < least:
        return
    if turn & 1:
        w = min(across, wide)
        high[w] = max(high[w], min(along, tall))
    if turn & 2:
        w = min(along, wide)
        high[w] = max(high[w], min(across, tall))


@jit
def note_window(P, S, high, p, slot):
    """Note in a curve what a window of a cloth gives: the rectangles of usable cloth in it.

    Parameters
    ----------
    P : Task
    S : Tree
    high : array (wide + 1,)
        A curve.
    p : int
        A cloth.
    slot : int
        A window of it.
    """
    x1, y1, x2, y2 = window(P, S, p, slot)
    wide = P.size[Z_WIDE]
    tall = P.size[Z_HIGH]
    least = P.size[Z_LEAST]
    turn = P.cloth[p, C_TURN]
    if p == P.size[Z_BOUGHT]:
        note(high, wide, tall, least, x2 - x1, y2 - y1, turn)
        return
    first = P.cloth[p, C_FIRST]
    for r in range(first, first + P.cloth[p, C_NUMBER]):
        across = min(x2, P.rect[r, 2]) - max(x1, P.rect[r, 0])
        along = min(y2, P.rect[r, 3]) - max(y1, P.rect[r, 1])
        note(high, wide, tall, least, across, along, turn)


@jit
def marked(C, n, one, other):
    """Whether the curve of a node was worked out from just this; from now on it is.

    Parameters
    ----------
    C : Desk
    n : int
        A node.
    one, other : int
        Two sums of what it is worked out from, by which no two things are taken for each other in practice; if they
        were, the make-up would be found out when its parts are laid.
    """
    if C.mark[n, 0] == one and C.mark[n, 1] == other:
        return True
    C.mark[n, 0] = one
    C.mark[n, 1] = other
    return False


@jit
def mixed(one, other):
    """A sum of two numbers that tells trees from each other: no even mixture, or two subtrees could change places.

    Parameters
    ----------
    one, other : int
        Less than 2^31.
    """
    both = (one * 48271 + other * 16807 + 11) % ROUND
    return both * (both % PRIME + 17) % ROUND


@jit
def known_leaf(P, S, C, n):
    """Whether the curve of a leaf is there already.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    n : int
        A leaf of cloth or of a group.
    """
    what = S.node[n, WHAT]
    if S.node[n, KIND] != CLOTH:
        return marked(C, n, -2 - what, 0)
    x1, y1, x2, y2 = window(P, S, what, S.node[n, SLOT])
    one = mixed(mixed(what, x1), mixed(x2, mixed(y1, y2)))
    other = mixed(mixed(what, y2), mixed(y1, mixed(x2, x1)))
    return marked(C, n, one, other)


@jit
def known_sums(C, n, a, b, how):
    """Whether the curve of an inner node is there already, made so from those of its children.

    Parameters
    ----------
    C : Desk
    n, a, b : int
        The node and its children.
    how : int
        Their seam, and the axis.
    """
    one = mixed(mixed(C.mark[a, 0], C.mark[b, 0]), how)
    other = mixed(how, mixed(C.mark[b, 1], C.mark[a, 1]))
    return marked(C, n, one, other)


@jit
def leaf_curve(P, S, C, n):
    """The curve of a leaf: of a window of cloth, or of a group that is sewn together already.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    n : int
        A node.
    """
    what = S.node[n, WHAT]
    C.least[n, X] = P.size[Z_LEAST]
    C.least[n, Y] = P.size[Z_LEAST]
    C.near[n] = 0
    if S.node[n, KIND] == GROUP:
        C.near[n] = ALL_ROUND * P.group[what, G_BLOCK]
        C.least[n, X] = P.group[what, G_LEAST_WIDE]
        C.least[n, Y] = P.group[what, G_LEAST_HIGH]
    if S.node[n, KIND] == ELASTIC or known_leaf(P, S, C, n):
        return
    wide = P.size[Z_WIDE]
    high = C.curve[0, n]
    high[:] = 0
    if S.node[n, KIND] == CLOTH:
        note_window(P, S, high, what, S.node[n, SLOT])
    elif P.group[what, G_WIDE] <= wide:
        high[P.group[what, G_WIDE]] = min(P.size[Z_HIGH], P.group[what, G_HIGH])
    for w in range(wide - 1, -1, -1):
        high[w] = max(high[w], high[w + 1])
    invert(high, wide, C.curve[1, n], P.size[Z_HIGH])


@jit
def seam_of(P, S, C, n):
    """Twice the seam of an inner node: that of blocks where one touches it.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    n : int
        A node.
    """
    along = S.node[n, OP] - ROW
    return seam_between(P, C, S.node[n, LEFT], S.node[n, RIGHT], along)


@jit
def seam_between(P, C, a, b, along):
    """Twice the seam of two nodes that are sewn together along an axis.

    Parameters
    ----------
    P : Task
    C : Desk
    a, b : int
        Two nodes.
    along : int
        The axis: 0 across the back, 1 up it.
    """
    if (C.near[a] & HIGH[along]) | (C.near[b] & LOW[along]):
        return P.size[Z_BLOCK_SEAM]
    return P.size[Z_SEAM]


@jit
def sides_of_both(C, a, b, along):
    """The sides on which blocks lie of two nodes that are sewn together along an axis.

    Parameters
    ----------
    C : Desk
    a, b : int
        Two nodes.
    along : int
        The axis: 0 across the back, 1 up it.
    """
    across = 1 - along
    both = (C.near[a] | C.near[b]) & (LOW[across] | HIGH[across])
    return both | (C.near[a] & LOW[along]) | (C.near[b] & HIGH[along])


@jit
def join(P, S, C, n):
    """An inner node from its children: its least sizes, the sides with blocks, and its curves where all are known.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    n : int
        A node.
    """
    a = S.node[n, LEFT]
    b = S.node[n, RIGHT]
    along = S.node[n, OP] - ROW
    across = 1 - along
    seam = seam_of(P, S, C, n)
    C.least[n, along] = C.least[a, along] + C.least[b, along] - seam
    C.least[n, across] = max(C.least[a, across], C.least[b, across])
    C.near[n] = sides_of_both(C, a, b, along)
    C.has[n] = C.has[a] | C.has[b]
    if C.has[n] or known_sums(C, n, a, b, 2 * seam + along):
        return
    last = P.size[Z_WIDE + across]
    most = P.size[Z_WIDE + along]
    sums = C.curve[across, n]
    one = C.curve[across, a]
    other = C.curve[across, b]
    for w in range(last + 1):
        if one[w] > 0 and other[w] > 0:
            sums[w] = min(most, one[w] + other[w] - seam)
        else:
            sums[w] = 0
    invert(sums, last, C.curve[along, n], most)


@jit
def curves(P, S, C):
    """Curves of all subtrees without the elastic leaf; returns that leaf.

    Parameters
    ----------
    P : Task
    S : Tree
    C : Desk
    """
    count = 1
    C.order[0] = S.misc[M_ROOT]
    at = 0
    while at < count:
        n = C.order[at]
        at += 1
        C.part[n] = P_OUT
        if S.node[n, OP] != LEAF:
            C.order[count] = S.node[n, LEFT]
            C.order[count + 1] = S.node[n, RIGHT]
            count += 2
    C.result[R_IDLE] = (count + 1) // 2
    elastic = 0
    for k in range(count - 1, -1, -1):
        n = C.order[k]
        if S.node[n, OP] != LEAF:
            join(P, S, C, n)
            continue
        leaf_curve(P, S, C, n)
        C.has[n] = 0
        if S.node[n, KIND] == ELASTIC:
            C.has[n] = 1
            elastic = n
    return elastic
