"""The order in which the four sides of a part are cut from its window."""

from __future__ import annotations

from cutopt.solve.kernels.loader import jit

from .leaves import add_leaf
from .state import HIGH, I_SHEET, INST, KIND, LOW, S_BYLENGTH, UP, X1, X2, Y1, Y2, H, V
from .tree import cloth, new_node


@jit
def cut_side(P, S, n, side, x, y, w, l):
    """Cut the window of node n along one side of the part at (x, y); returns the node that still holds the part.

    Parameters
    ----------
    P, S : Problem, State
    n : int
        A node.
    side : int
        0 left, 1 right, 2 below, 3 above.
    x, y, w, l : int
        Lower left corner and size of the part, in cells.
    """
    N = S.node
    inst = N[n, INST]
    sheet = P.inst[inst, I_SHEET]
    x1 = N[n, X1]
    y1 = N[n, Y1]
    x2 = N[n, X2]
    y2 = N[n, Y2]
    # what is cut off
    ax1 = x1
    ay1 = y1
    ax2 = x2
    ay2 = y2
    if side == 0:
        ax2 = x
    elif side == 1:
        ax1 = x + w
    elif side == 2:
        ay2 = y
    else:
        ay1 = y + l
    if ax1 >= ax2 or ay1 >= ay2 or cloth(P, sheet, ax1, ay1, ax2, ay2) == 0:
        return n
    off = new_node(S, inst, ax1, ay1, ax2, ay2, n)
    rest = new_node(S, inst, x1, y1, x2, y2, n)
    N[n, KIND] = V if side < 2 else H
    if side == 0:
        N[rest, X1] = x
    elif side == 1:
        N[rest, X2] = x + w
    elif side == 2:
        N[rest, Y1] = y
    else:
        N[rest, Y2] = y + l
    if side == 0 or side == 2:
        N[n, LOW], N[n, HIGH] = off, rest
    else:
        N[n, LOW], N[n, HIGH] = rest, off
    add_leaf(P, S, off)
    return rest


@jit
def order_value(P, sheet, x1, y1, x2, y2, x, y, w, l, order):
    """Sum of squares of the cloth left in up to four windows when the sides are cut in this order.

    Parameters
    ----------
    P : Problem
    sheet : int
        A kind of cloth.
    x1, y1, x2, y2 : int
        The window, in cells.
    x, y, w, l : int
        Lower left corner and size of the part.
    order : int
        Four sides of two bits each, the first one lowest.
    """
    total = 0
    for k in range(4):
        side = (order >> (2 * k)) & 3
        if side == 0:
            c = cloth(P, sheet, x1, y1, x, y2) if x > x1 else 0
            x1 = x
        elif side == 1:
            c = cloth(P, sheet, x + w, y1, x2, y2) if x2 > x + w else 0
            x2 = x + w
        elif side == 2:
            c = cloth(P, sheet, x1, y1, x2, y) if y > y1 else 0
            y1 = y
        else:
            c = cloth(P, sheet, x1, y + l, x2, y2) if y2 > y + l else 0
            y2 = y + l
        total += c * c
    return total


# orders of two cuts beside a part in the lower left corner of whole cloth: the upper side first, or the right one
ALONG_FIRST = 3 | (1 << 2) | (0 << 4) | (2 << 6)
ACROSS_FIRST = 1 | (3 << 2) | (0 << 4) | (2 << 6)
# orders of the four sides, two bits each, first side lowest: the fourteen that differ
ORDERS = (228, 216, 210, 201, 156, 147, 141, 120, 114, 99, 78, 57, 54, 39)


@jit
def runs_above(P, S, n):
    """Runs of cuts in one direction from the cloth down to node n, and the kind of the last one: runs * 4 + kind.

    Parameters
    ----------
    P, S : Problem, State
    n : int
        A node.
    """
    N = S.node
    runs = 0
    last = 0
    below = 0
    p = N[n, UP]
    while p >= 0:
        if N[p, KIND] != below:
            runs += 1
            below = N[p, KIND]
            if last == 0:
                last = below
        p = N[p, UP]
    if P.sheet[P.inst[N[n, INST], I_SHEET], S_BYLENGTH] == 1 and below == V:
        # more of it may be bought, and then a cut across comes first
        runs += 1
    return runs * 4 + last


@jit
def too_many_runs(P, S, n, x, y, w, l, order):
    """Whether cutting the sides of a part in this order takes more turns than the maker wants.

    Parameters
    ----------
    P, S : Problem, State
    n : int
        A free leaf.
    x, y, w, l : int
        Lower left corner and size of the part, in cells.
    order : int
        Four sides of two bits each, the first one lowest.
    """
    if P.limits[3] == 0:
        return False
    N = S.node
    sheet = P.inst[S.node[n, INST], I_SHEET]
    x1 = N[n, X1]
    y1 = N[n, Y1]
    x2 = N[n, X2]
    y2 = N[n, Y2]
    above = runs_above(P, S, n)
    runs = above // 4
    last = above % 4
    for k in range(4):
        side = (order >> (2 * k)) & 3
        if side == 0:
            c = cloth(P, sheet, x1, y1, x, y2) if x > x1 else 0
            x1 = x if c > 0 else x1
        elif side == 1:
            c = cloth(P, sheet, x + w, y1, x2, y2) if x2 > x + w else 0
            x2 = x + w if c > 0 else x2
        elif side == 2:
            c = cloth(P, sheet, x1, y1, x2, y) if y > y1 else 0
            y1 = y if c > 0 else y1
        else:
            c = cloth(P, sheet, x1, y + l, x2, y2) if y2 > y + l else 0
            y2 = y + l if c > 0 else y2
        kind = V if side < 2 else H
        if c > 0 and kind != last:
            if last == 0 and kind == V and P.sheet[sheet, S_BYLENGTH] == 1:
                runs += 1
            runs += 1
            last = kind
    return runs > P.limits[3]


@jit
def best_order(P, S, C, n, x, y, w, l):
    """The order of cuts that keeps the largest windows; stores it in spot[4], returns its value.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    n : int
        A free leaf.
    x, y, w, l : int
        Lower left corner and size of the part, in cells.
    """
    N = S.node
    sheet = P.inst[N[n, INST], I_SHEET]
    best = -1
    order = 228
    for k in range(14):
        value = order_value(
            P, sheet, N[n, X1], N[n, Y1], N[n, X2], N[n, Y2], x, y, w, l, ORDERS[k]
        )
        if value > best and not too_many_runs(P, S, n, x, y, w, l, ORDERS[k]):
            best = value
            order = ORDERS[k]
    C.spot[4] = order
    return best
