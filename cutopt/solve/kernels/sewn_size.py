"""What a tree of a pieced back comes to: capacity curves from the leaves up, then sizes from the root down.

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
    ELASTIC,
    EXTENT,
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
    P_IN,
    P_LEFT,
    P_OUT,
    P_RIGHT,
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


@jit
def invert(one, last, other, most):
    """Of a falling curve `one` the other: the greatest place up to `last` with a value of v or more, for each v."""
    at = last
    for v in range(1, most + 1):
        while at > 0 and one[at] < v:
            at -= 1
        other[v] = at
    other[0] = other[1]


@jit
def note(high, wide, tall, least, across, along, turn):
    """Note in a curve what a rectangle gives, as it lies and turned."""
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
    """Note in a curve what a window of a cloth gives: the rectangles of usable cloth in it."""
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
def leaf_curve(P, S, C, n):
    """The curve of a leaf: of a window of cloth, or of a group that is sewn together already."""
    wide = P.size[Z_WIDE]
    high = C.curve[0, n]
    high[:] = 0
    what = S.node[n, WHAT]
    C.least[n, X] = P.size[Z_LEAST]
    C.least[n, Y] = P.size[Z_LEAST]
    C.near[n] = 0
    if S.node[n, KIND] == GROUP:
        C.near[n] = ALL_ROUND * P.group[what, G_BLOCK]
        C.least[n, X] = P.group[what, G_LEAST_WIDE]
        C.least[n, Y] = P.group[what, G_LEAST_HIGH]
        if P.group[what, G_WIDE] <= wide:
            high[P.group[what, G_WIDE]] = min(P.size[Z_HIGH], P.group[what, G_HIGH])
    elif S.node[n, KIND] != ELASTIC:
        note_window(P, S, high, what, S.node[n, SLOT])
    for w in range(wide - 1, -1, -1):
        high[w] = max(high[w], high[w + 1])
    invert(high, wide, C.curve[1, n], P.size[Z_HIGH])


@jit
def seam_of(P, S, C, n):
    """Twice the seam of an inner node: that of blocks where one touches it."""
    along = S.node[n, OP] - ROW
    one = C.near[S.node[n, LEFT]] & HIGH[along]
    other = C.near[S.node[n, RIGHT]] & LOW[along]
    if one or other:
        return P.size[Z_BLOCK_SEAM]
    return P.size[Z_SEAM]


@jit
def join(P, S, C, n):
    """An inner node from its children: its least sizes, the sides with blocks, and its curves where all are known."""
    a = S.node[n, LEFT]
    b = S.node[n, RIGHT]
    along = S.node[n, OP] - ROW
    across = 1 - along
    seam = seam_of(P, S, C, n)
    C.least[n, along] = C.least[a, along] + C.least[b, along] - seam
    C.least[n, across] = max(C.least[a, across], C.least[b, across])
    C.near[n] = (
        (C.near[a] & LOW[along])
        | (C.near[b] & HIGH[along])
        | ((C.near[a] | C.near[b]) & (LOW[across] | HIGH[across]))
    )
    C.has[n] = C.has[a] | C.has[b]
    if C.has[n]:
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
    """Curves of all subtrees without the elastic leaf; returns that leaf."""
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


@jit
def place(C, n, child, along, at, extent):
    """Sew a child of n in: along one axis at this place and so large, along the other as n is."""
    across = 1 - along
    C.part[child] = P_IN
    C.box[child, along] = C.box[n, along] + at
    C.box[child, across] = C.box[n, across]
    C.box[child, EXTENT + along] = extent
    C.box[child, EXTENT + across] = C.box[n, EXTENT + across]


@jit
def sew(C, n, a, b, along, one, other, seam):
    """Sew both children of a node in, so large along an axis."""
    C.part[n] = P_IN
    place(C, n, a, along, 0, one)
    place(C, n, b, along, one - seam, other)


@jit
def size_down(P, S, C, top):
    """Sizes of all of a subtree whose own is known; returns how many of its nodes cannot be so."""
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
    """How much of a node, along its axis, the child without the elastic leaf takes; 0 where it is left out."""
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
