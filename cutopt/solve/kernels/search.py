"""Ruin and recreate on trees of guillotine cuts: the inner loop of the search.

Every cloth instance (a copy of a piece of the pile, a bought length or piece) is a binary tree of windows:
upright grid rectangles [x1, x2) x [y1, y2). An inner node is a cut from edge to edge of its window; a leaf is
free or holds one part. What lies on the cloth inside a window is told by a summed-area table, so rectangles and
irregular outlines share all code. The idea of lowering the cost first and then placing everything again follows
T. Gardeyn, T. Wauters, "A goal-driven ruin and recreate heuristic for the 2D variable-sized bin packing problem
with guillotine constraints", European Journal of Operational Research, 2022.

All functions run as plain Python too (the first plan does), and compiled when numba is ready: see `loader.py`.
Whole numbers only, own random numbers: the same seed gives the same plan on any machine.
"""

from __future__ import annotations

from collections import namedtuple

from cutopt.solve.kernels.loader import entry, jit

# columns of a node
X1, Y1, X2, Y2, KIND, LOW, HIGH, UP, INST, ITEM, PX, PY, PW, PL, TURN = range(15)
WIDTH = 15
UNUSED, FREE, PART, V, H = -1, 0, 1, 2, 3
# columns of an instance
ROOT, OPEN, RUNG = range(3)
# misc
TOP, FREED, COST, RNG, NLEAF, WAY = range(6)
# columns of the list of free leaves
F_NODE, F_WIDE, F_LONG, F_SHEET, F_AREA = range(5)
# of a free node: bit i of column TRIED + turned is set when row i (if below MASKED) was found not to lie there
TRIED, MASKED = PX, 62
CLOTH = PW  # of a free node: its usable cells, -1 where nobody has counted them yet
NOTHING = 1 << 60
MOST_PAIRED = 40  # parts among which the one that fits best is looked for

# columns of the constants
U_W, U_L, U_RANK, U_STRIP, U_LOSS, U_GROUP, U_MOST, U_AREA = range(8)
S_COLS, S_ROWS, S_FABRIC, S_FULL, S_SAT_AT, S_BYLENGTH, S_FIRST, S_LAD_AT, S_LAD_N, S_INST, S_COPIES = range(11)
L_ROWS, L_COST = range(2)
I_SHEET, I_COST = range(2)

# few arrays with many columns: numba's compile time grows with the number of arrays that are passed on
Problem = namedtuple("Problem", "unit turns pref sheet ladder inst limits sat")
State = namedtuple("State", "node flat inst rem cnt grp fab misc freed leaf")
Scratch = namedtuple("Scratch", "stack order key spot todo")


@jit
def rand(S, n):
    """A random whole number below n (minimal standard generator, Park and Miller 1988)."""
    S.misc[RNG] = S.misc[RNG] * 48271 % 2147483647
    return S.misc[RNG] % n


@jit
def cloth(P, sheet, x1, y1, x2, y2):
    """Usable cells of a window."""
    if P.sheet[sheet, S_FULL] == 1:
        return (x2 - x1) * (y2 - y1)
    at, step = P.sheet[sheet, S_SAT_AT], P.sheet[sheet, S_ROWS] + 1
    return (
        P.sat[at + x2 * step + y2]
        - P.sat[at + x1 * step + y2]
        - P.sat[at + x2 * step + y1]
        + P.sat[at + x1 * step + y1]
    )


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
    N[n, KIND], N[n, LOW], N[n, HIGH], N[n, TRIED], N[n, TRIED + 1], N[n, CLOTH] = FREE, -1, -1, 0, 0, -1


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
def whole(P, S, n):
    """Whether the window of a node is cloth all over."""
    N = S.node
    sheet = P.inst[N[n, INST], I_SHEET]
    x1, y1, x2, y2 = N[n, X1], N[n, Y1], N[n, X2], N[n, Y2]
    return cloth(P, sheet, x1, y1, x2, y2) == (x2 - x1) * (y2 - y1)


@jit
def free_to_high(P, S, C, p):
    """In a window that is cloth all over, let the free child of a cut lie on its high side."""
    N = S.node
    a, b = N[p, LOW], N[p, HIGH]
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
        a, b = N[p, LOW], N[p, HIGH]
        if N[a, KIND] == FREE and N[b, KIND] == FREE:
            drop_node(S, a)
            drop_node(S, b)
            set_free(S, p)
            n = p
            continue
        free_to_high(P, S, C, p)
        at_low = N[p, LOW] == n
        o = N[p, HIGH] if at_low else N[p, LOW]
        if N[o, KIND] == N[p, KIND]:  # the neighbour is cut the same way: take its near end if that is free
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
            return  # n lies at the outer side of g: nothing to join there
        s = N[g, HIGH] if N[g, LOW] == p else N[g, LOW]
        keep = o
        if N[s, KIND] == FREE:  # x n | s: one free leaf for n and s
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
def cut_side(P, S, n, side, x, y, w, l):
    """Cut the window of node n along one side of the part at (x, y); returns the node that still holds the part."""
    N = S.node
    inst = N[n, INST]
    sheet = P.inst[inst, I_SHEET]
    x1, y1, x2, y2 = N[n, X1], N[n, Y1], N[n, X2], N[n, Y2]
    ax1, ay1, ax2, ay2 = x1, y1, x2, y2  # what is cut off
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
def add_leaf(P, S, n):
    """List a free leaf that could hold some part, with what decides most often that a part does not fit."""
    N, k = S.node, S.misc[NLEAF]
    wide, long = N[n, X2] - N[n, X1], N[n, Y2] - N[n, Y1]
    if wide < P.limits[0] or long < P.limits[0]:
        return
    sheet = P.inst[N[n, INST], I_SHEET]
    S.leaf[k, F_NODE], S.leaf[k, F_WIDE], S.leaf[k, F_LONG], S.leaf[k, F_SHEET] = n, wide, long, sheet
    S.leaf[k, F_AREA] = free_cloth(P, S, n)
    S.misc[NLEAF] += 1


@jit
def free_cloth(P, S, n):
    """Usable cells of a free node, counted once for each window on irregular cloth."""
    N = S.node
    sheet = P.inst[N[n, INST], I_SHEET]
    if P.sheet[sheet, S_FULL] == 1:
        return (N[n, X2] - N[n, X1]) * (N[n, Y2] - N[n, Y1])
    if N[n, CLOTH] < 0:
        N[n, CLOTH] = cloth(P, sheet, N[n, X1], N[n, Y1], N[n, X2], N[n, Y2])
    return N[n, CLOTH]


@jit
def order_value(P, sheet, x1, y1, x2, y2, x, y, w, l, order):
    """Sum of squares of the cloth left in up to four windows when the sides are cut in this order."""
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
ALONG_FIRST, ACROSS_FIRST = 3 | (1 << 2) | (0 << 4) | (2 << 6), 1 | (3 << 2) | (0 << 4) | (2 << 6)
# orders of the four sides, two bits each, first side lowest: the fourteen that differ
ORDERS = (228, 216, 210, 201, 156, 147, 141, 120, 114, 99, 78, 57, 54, 39)


@jit
def runs_above(P, S, n):
    """Runs of cuts in one direction from the cloth down to node n, and the kind of the last one: runs * 4 + kind."""
    N = S.node
    runs, last, below = 0, 0, 0
    p = N[n, UP]
    while p >= 0:
        if N[p, KIND] != below:
            runs += 1
            below = N[p, KIND]
            if last == 0:
                last = below
        p = N[p, UP]
    if P.sheet[P.inst[N[n, INST], I_SHEET], S_BYLENGTH] == 1 and below == V:
        runs += 1  # more of it may be bought, and then a cut across comes first
    return runs * 4 + last


@jit
def too_many_runs(P, S, n, x, y, w, l, order):
    """Whether cutting the sides of a part in this order takes more turns than the maker wants."""
    if P.limits[3] == 0:
        return False
    N, sheet = S.node, P.inst[S.node[n, INST], I_SHEET]
    x1, y1, x2, y2 = N[n, X1], N[n, Y1], N[n, X2], N[n, Y2]
    above = runs_above(P, S, n)
    runs, last = above // 4, above % 4
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
    """The order of cuts that keeps the largest windows; stores it in spot[4], returns its value."""
    N = S.node
    sheet = P.inst[N[n, INST], I_SHEET]
    best, order = -1, 228
    for k in range(14):
        value = order_value(P, sheet, N[n, X1], N[n, Y1], N[n, X2], N[n, Y2], x, y, w, l, ORDERS[k])
        if value > best and not too_many_runs(P, S, n, x, y, w, l, ORDERS[k]):
            best, order = value, ORDERS[k]
    C.spot[4] = order
    return best


@jit
def consider(P, S, C, n, x, y, w, l):
    """Keep the spot if the part fits there and leaves more than the best so far; whether it fits."""
    sheet = P.inst[S.node[n, INST], I_SHEET]
    if cloth(P, sheet, x, y, x + w, y + l) < w * l:
        return False
    value = best_order(P, S, C, n, x, y, w, l)
    if value > C.spot[2]:
        C.spot[0], C.spot[1], C.spot[2], C.spot[3] = x, y, value, C.spot[4]
    return value >= 0


@jit
def slide(P, S, C, n, x, y, dx, dy, far, w, l):
    """Move from (x, y) along one axis until the part fits; consider that spot. Whether it was found.

    Where m cells of the part lie off the cloth it must move by at least m / (its extent across the way).
    """
    sheet = P.inst[S.node[n, INST], I_SHEET]
    across = w if dx == 0 else l
    while far >= 0:
        off = w * l - cloth(P, sheet, x, y, x + w, y + l)
        if off == 0:
            return consider(P, S, C, n, x, y, w, l)
        move = (off + across - 1) // across
        x += dx * move
        y += dy * move
        far -= move
    return False


@jit
def find_spot(P, S, C, n, w, l, thorough):
    """A place for a w x l part in the window of free leaf n; spot = x, y, value, order. Whether there is one.

    Not `thorough`: most often only the sides of the window are looked at.
    """
    N = S.node
    x1, y1, x2, y2 = N[n, X1], N[n, Y1], N[n, X2] - w, N[n, Y2] - l
    C.spot[2] = -1
    if whole(P, S, n):
        C.spot[0], C.spot[1], C.spot[2] = x1, y1, 0
        upright_first = (N[n, X2] - N[n, X1] - w) * l < (N[n, Y2] - N[n, Y1] - l) * w
        if rand(S, 8) == 0:
            upright_first = not upright_first
        C.spot[3] = ALONG_FIRST if upright_first else ACROSS_FIRST
        if too_many_runs(P, S, n, x1, y1, w, l, C.spot[3]):
            C.spot[3] = ACROSS_FIRST if upright_first else ALONG_FIRST
            return not too_many_runs(P, S, n, x1, y1, w, l, C.spot[3])
        return True
    found = False
    for k in range(4):
        found |= consider(P, S, C, n, x1 if k & 1 == 0 else x2, y1 if k & 2 == 0 else y2, w, l)
    if found and rand(S, 4) > 0:
        return True
    for k in range(2):
        found |= slide(P, S, C, n, x1 if k == 0 else x2, y1, 0, 1, y2 - y1, w, l)
        found |= slide(P, S, C, n, x1 if k == 0 else x2, y2, 0, -1, y2 - y1, w, l)
        found |= slide(P, S, C, n, x1, y1 if k == 0 else y2, 1, 0, x2 - x1, w, l)
        found |= slide(P, S, C, n, x2, y1 if k == 0 else y2, -1, 0, x2 - x1, w, l)
    if found or (not thorough and N[n, UP] >= 0 and rand(S, 4) > 0):
        return found
    pace = max(1, (x2 - x1) // 8)
    x = x1 + rand(S, pace)
    while x <= x2:
        if slide(P, S, C, n, x, y1, 0, 1, y2 - y1, w, l):
            slide(P, S, C, n, x, y2, 0, -1, y2 - y1, w, l)
            found = True
        x += pace
    return found


@jit
def fits_rules(P, S, i, f):
    """Whether row i may still take cloth of fabric f: all of a group from one fabric, at most so many from one."""
    g = P.unit[i, U_GROUP]
    if g >= 0 and S.grp[g, 0] >= 0 and S.grp[g, 0] != f and S.grp[g, 1] > 0:
        return False
    return not (P.unit[i, U_MOST] > 0 and S.cnt[i, f] >= P.unit[i, U_MOST])


@jit
def segment(P, S, i, room):
    """Length of the next segment of strip i in a window with so much room; 0 where it is too short."""
    need = max(S.rem[i] + P.unit[i, U_LOSS], P.unit[i, U_L])
    size = min(need, room)
    return size if size >= P.unit[i, U_L] else 0


@jit
def put(P, S, C, n, i, turned, w, l):
    """Place row i at spot in free leaf n, cutting the leaf along the sides of the part."""
    N = S.node
    x, y, order = C.spot[0], C.spot[1], C.spot[3]
    for k in range(4):
        n = cut_side(P, S, n, (order >> (2 * k)) & 3, x, y, w, l)
    N[n, KIND], N[n, ITEM], N[n, TURN] = PART, i, turned
    N[n, PX], N[n, PY], N[n, PW], N[n, PL] = x, y, w, l
    take(P, S, n)


@jit
def fit_score(rule, dw, dl, waste):
    """How badly a part fits a window: short side, area, squared waste or long side."""
    if rule == 0:
        return min(dw, dl) * 64 + max(dw, dl) // 8
    if rule == 1:
        return waste
    if rule == 2:
        return (dw * dw + dl * dl) // 16
    return max(dw, dl) * 64


@jit
def insert(P, S, C, i, rule, blink, prefer):
    """Place one copy (or one segment) of row i in the best free leaf; whether it found a place."""
    if look(P, S, C, i, rule, blink, prefer) >= NOTHING:
        return False
    place(P, S, C, i)
    return True


@jit
def place(P, S, C, i):
    """Place row i where it was last looked for."""
    n, k = S.leaf[C.spot[7], F_NODE], C.spot[7]
    unlist(S, k)
    put(P, S, C, n, i, C.spot[8], C.spot[5], C.spot[6])


@jit
def look(P, S, C, i, rule, blink, prefer):
    """The best free leaf for one copy (or one segment) of row i: how badly it fits; spot says where and how."""
    best, best_leaf, best_turn, best_w, best_l = NOTHING, -1, 0, 0, 0
    bx, by, border = 0, 0, 0
    strip, short, least = (
        P.unit[i, U_STRIP] == 1,
        min(P.unit[i, U_W], P.unit[i, U_L]),
        P.unit[i, U_W] * P.unit[i, U_L],
    )
    way = S.misc[WAY] if strip else 2
    masked = not strip and i < MASKED and rand(S, 8) > 0  # now and then a leaf is looked at again
    for k in range(S.misc[NLEAF]):
        wide, long, sheet, area = S.leaf[k, F_WIDE], S.leaf[k, F_LONG], S.leaf[k, F_SHEET], S.leaf[k, F_AREA]
        bits = P.turns[i, sheet]
        if bits == 0 or area < least or wide < short or long < short:
            continue
        f = P.sheet[sheet, S_FABRIC]
        if not fits_rules(P, S, i, f):
            continue
        n = S.leaf[k, F_NODE]
        for turned in range(2):
            if (bits >> turned) & 1 == 0 or way == 1 - turned:
                continue
            w, l = (P.unit[i, U_L], P.unit[i, U_W]) if turned == 1 else (P.unit[i, U_W], P.unit[i, U_L])
            if w > wide or l > long or (turned == 1 and bits == 3 and w == l and not strip):
                continue
            if strip:
                size = segment(P, S, i, wide if turned == 1 else long)
                if size == 0:
                    continue
                w, l = (size, l) if turned == 1 else (w, size)
            score = fit_score(rule, wide - w, long - l, area - w * l) + prefer * P.pref[i, f] * 4096
            if strip:
                score -= 128 * max(w, l)
            if P.inst[S.node[n, INST], I_COST] > 0 or P.sheet[sheet, S_BYLENGTH] == 1:
                score += 1 << 20
            score -= P.sheet[sheet, S_FIRST] << 18
            if score >= best or rand(S, 64) < blink:
                continue
            if masked and (S.node[n, TRIED + turned] >> i) & 1 == 1:
                continue
            if area < w * l or not find_spot(P, S, C, n, w, l, not strip):
                if strip and shorter(P, S, C, n, i, turned):
                    w, l = C.spot[5], C.spot[6]
                else:
                    if not strip and i < MASKED and P.limits[3] == 0:
                        S.node[n, TRIED + turned] |= 1 << i
                    continue
            best, best_leaf, best_turn, best_w, best_l = score, k, turned, w, l
            bx, by, border = C.spot[0], C.spot[1], C.spot[3]
    if best_leaf < 0:
        return NOTHING
    C.spot[0], C.spot[1], C.spot[3] = bx, by, border
    C.spot[5], C.spot[6], C.spot[7], C.spot[8] = best_w, best_l, best_leaf, best_turn
    return best


@jit
def shorter(P, S, C, n, i, turned):
    """A shorter segment of strip i where the longest does not lie on the cloth; its size in spot[5:7]."""
    N = S.node
    room = N[n, X2] - N[n, X1] if turned == 1 else N[n, Y2] - N[n, Y1]
    size = segment(P, S, i, room)
    while size > 0 and size * 4 // 5 >= P.unit[i, U_L]:
        size = size * 4 // 5
        w, l = (size, P.unit[i, U_W]) if turned == 1 else (P.unit[i, U_W], size)
        if find_spot(P, S, C, n, w, l, False):
            C.spot[5], C.spot[6] = w, l
            return True
    return False


@jit
def far_end(S, inst):
    """The window of full width at the far end of a bought length."""
    N, n = S.node, S.inst[inst, ROOT]
    while N[n, KIND] == H:
        n = N[n, HIGH]
    return n


@jit
def grow(P, S, inst, rung):
    """Buy by length up to this rung: the new rows are free at the far end."""
    N, sheet = S.node, P.inst[inst, I_SHEET]
    rows = P.ladder[P.sheet[sheet, S_LAD_AT] + rung, L_ROWS]
    if S.inst[inst, OPEN] == 0:
        S.inst[inst, OPEN] = 1
        S.fab[P.sheet[sheet, S_FABRIC]] = inst
        S.inst[inst, ROOT] = new_node(S, inst, 0, 0, P.sheet[sheet, S_COLS], rows, -1)
        add_leaf(P, S, S.inst[inst, ROOT])
    else:
        S.misc[COST] -= P.ladder[P.sheet[sheet, S_LAD_AT] + S.inst[inst, RUNG], L_COST]
        r, end = S.inst[inst, ROOT], far_end(S, inst)
        if rung == P.sheet[sheet, S_LAD_N] - 1 and N[end, KIND] == FREE:  # no longer one is sold: nothing may be lost
            n = end
            while n >= 0:  # up to the root: all of these reach to the end of the length
                N[n, Y2] = rows
                n = N[n, UP]
            set_free(S, end)
            relist(P, S, end)
        elif N[r, KIND] == H and N[N[r, HIGH], KIND] == FREE:
            N[N[r, HIGH], Y2] = rows
            N[r, Y2] = rows
            set_free(S, N[r, HIGH])
            relist(P, S, N[r, HIGH])
        elif N[r, KIND] == FREE:
            N[r, Y2] = rows
            set_free(S, r)
            relist(P, S, r)
        else:
            p = new_node(S, inst, 0, 0, P.sheet[sheet, S_COLS], rows, -1)
            b = new_node(S, inst, 0, N[r, Y2], P.sheet[sheet, S_COLS], rows, p)
            N[p, KIND], N[p, LOW], N[p, HIGH], N[r, UP] = H, r, b, p
            S.inst[inst, ROOT] = p
            add_leaf(P, S, b)
    S.inst[inst, RUNG] = rung
    S.misc[COST] += P.ladder[P.sheet[sheet, S_LAD_AT] + rung, L_COST]


@jit
def relist(P, S, n):
    """List a leaf that grew, in place of its old entry if it has one."""
    for k in range(S.misc[NLEAF]):
        if S.leaf[k, F_NODE] == n:
            unlist(S, k)
            break
    add_leaf(P, S, n)


@jit
def unlist(S, k):
    S.misc[NLEAF] -= 1
    for c in range(5):
        S.leaf[k, c] = S.leaf[S.misc[NLEAF], c]


@jit
def rows_used(S, inst):
    """Rows of a bought length that are taken: all but a free far end."""
    N, r = S.node, S.inst[inst, ROOT]
    if N[r, KIND] == FREE:
        return 0
    if N[r, KIND] == H and N[N[r, HIGH], KIND] == FREE:
        return N[N[r, HIGH], Y1]
    return N[r, Y2]


@jit
def rung_for(P, sheet, rows):
    """The shortest length on sale with so many usable rows, -1 where none is long enough."""
    at, low, high = P.sheet[sheet, S_LAD_AT], 0, P.sheet[sheet, S_LAD_N]
    while low < high:
        middle = (low + high) // 2
        if P.ladder[at + middle, L_ROWS] >= rows:
            high = middle
        else:
            low = middle + 1
    return low if low < P.sheet[sheet, S_LAD_N] else -1


@jit
def rung_below(P, sheet, cost):
    """The longest length on sale that costs no more than this, -1 where none is that cheap."""
    at, low, high = P.sheet[sheet, S_LAD_AT], 0, P.sheet[sheet, S_LAD_N]
    while low < high:
        middle = (low + high) // 2
        if P.ladder[at + middle, L_COST] <= cost:
            low = middle + 1
        else:
            high = middle
    return low - 1


@jit
def price_of_more(P, S, i, inst, turned):
    """What it costs to buy enough of this kind for one more of row i: (cost, rung), cost NOTHING if impossible."""
    sheet = P.inst[inst, I_SHEET]
    f = P.sheet[sheet, S_FABRIC]
    w, l = (P.unit[i, U_L], P.unit[i, U_W]) if turned == 1 else (P.unit[i, U_W], P.unit[i, U_L])
    if (P.turns[i, sheet] >> turned) & 1 == 0 or w > P.sheet[sheet, S_COLS] or not fits_rules(P, S, i, f):
        return NOTHING, -1
    if P.sheet[sheet, S_BYLENGTH] == 0:
        return (P.inst[inst, I_COST], -1) if l <= P.sheet[sheet, S_ROWS] else (NOTHING, -1)
    if S.inst[inst, OPEN] == 0 and S.fab[f] >= 0:
        return NOTHING, -1  # all that is bought of a fabric by length is one length
    used = rows_used(S, inst) if S.inst[inst, OPEN] == 1 else 0
    rung = rung_for(P, sheet, used + l)
    last = P.sheet[sheet, S_LAD_N] - 1
    if rung < 0 and S.inst[inst, OPEN] == 1 and S.inst[inst, RUNG] < last:  # with what is free behind the last row
        end = far_end(S, inst)
        if S.node[end, KIND] == FREE and S.node[end, Y1] + l <= P.ladder[P.sheet[sheet, S_LAD_AT] + last, L_ROWS]:
            rung = last
    if rung < 0:
        return NOTHING, -1
    before = P.ladder[P.sheet[sheet, S_LAD_AT] + S.inst[inst, RUNG], L_COST] if S.inst[inst, OPEN] == 1 else 0
    return P.ladder[P.sheet[sheet, S_LAD_AT] + rung, L_COST] - before, rung


@jit
def closed_copy(P, S, sheet):
    """The first copy of a kind of cloth that is not bought yet; of cloth by length the one there is; -1 for none."""
    first = P.sheet[sheet, S_INST]
    for inst in range(first, first + P.sheet[sheet, S_COPIES]):
        if P.sheet[sheet, S_BYLENGTH] == 1 or S.inst[inst, OPEN] == 0:
            return inst
    return -1


@jit
def buy(P, S, i, budget, blink, prefer, thrift):
    """Buy the cheapest cloth, within the budget, that takes one more of row i; whether there was any.

    `thrift` 0 compares what is paid now, 1 what is paid for the area.
    """
    best, best_inst, best_rung = NOTHING, -1, -1
    for sheet in range(P.sheet.shape[0]):
        if P.turns[i, sheet] == 0:
            continue
        inst = closed_copy(P, S, sheet)
        if inst < 0 or (P.inst[inst, I_COST] == 0 and P.sheet[sheet, S_BYLENGTH] == 0):
            continue
        for turned in range(2):
            cost, rung = price_of_more(P, S, i, inst, turned)
            if cost >= NOTHING or S.misc[COST] + cost > budget:
                continue
            score = cost * 4096
            if thrift == 1 and rung < 0:
                score = cost * (1 << 24) // (P.sheet[sheet, S_COLS] * P.sheet[sheet, S_ROWS])
            score = score * (60 + rand(S, 8)) // 64 + prefer * P.pref[i, P.sheet[sheet, S_FABRIC]] * 65536
            if score < best and (best == NOTHING or rand(S, 64) >= blink):
                best, best_inst, best_rung = score, inst, rung
    if best_inst < 0:
        return False
    if best_rung >= 0:
        grow(P, S, best_inst, best_rung)
    else:
        sheet = P.inst[best_inst, I_SHEET]
        S.inst[best_inst, OPEN] = 1
        S.misc[COST] += P.inst[best_inst, I_COST]
        S.inst[best_inst, ROOT] = new_node(S, best_inst, 0, 0, P.sheet[sheet, S_COLS], P.sheet[sheet, S_ROWS], -1)
        add_leaf(P, S, S.inst[best_inst, ROOT])
    return True


@jit
def list_leaves(P, S):
    S.misc[NLEAF] = 0
    for n in range(S.misc[TOP]):
        if S.node[n, KIND] == FREE:
            add_leaf(P, S, n)


@jit
def sort_rows(P, S, C, kind, ranks):
    """Order of insertion: what must be cut first, then by size as `kind` says, with some chance."""
    size = 0
    for i in range(P.unit.shape[0]):
        if S.rem[i] <= 0 or P.unit[i, U_RANK] >= ranks:
            continue
        w, l = min(P.unit[i, U_W], P.unit[i, U_L]), max(P.unit[i, U_W], P.unit[i, U_L])
        if kind == 0:
            key = w * l
        elif kind == 1:
            key = l * 1024 + w
        elif kind == 2:
            key = w * 1024 + l
        elif kind == 3:
            key = S.rem[i] * w * l if P.unit[i, U_STRIP] == 0 else S.rem[i] * w
        else:
            key = rand(S, 1 << 20)
        key = key * (24 + rand(S, 8)) // 28
        if P.unit[i, U_STRIP] == 1 and rand(S, 3) > 0:
            key //= 4  # strips take what is left: they can be pieced
        C.order[size], C.key[size] = i, -key + (P.unit[i, U_RANK] << 40)
        size += 1
    for a in range(1, size):  # insertion sort: short lists, no allocation
        i, key = C.order[a], C.key[a]
        b = a - 1
        while b >= 0 and C.key[b] > key:
            C.order[b + 1], C.key[b + 1] = C.order[b], C.key[b]
            b -= 1
        C.order[b + 1], C.key[b + 1] = i, key
    return size


@jit
def place_best_fitting(P, S, C, size, blink, prefer):
    """Place must parts, each time the one that fits its leaf best; not where very many are missing."""
    lacking = 0
    for a in range(size):
        lacking += S.rem[C.order[a]] if P.unit[C.order[a], U_STRIP] == 0 else 0
    while lacking <= MOST_PAIRED:
        best, pick = NOTHING, -1
        for a in range(size):
            i = C.order[a]
            if S.rem[i] > 0 and P.unit[i, U_RANK] == 0 and P.unit[i, U_STRIP] == 0:
                fit = look(P, S, C, i, 0, blink, prefer)
                fit = fit * 16 - min(P.unit[i, U_W], P.unit[i, U_L]) if fit < NOTHING else NOTHING
                if fit < best:
                    best, pick = fit, i
        if pick < 0 or look(P, S, C, pick, 0, 0, prefer) >= NOTHING:
            return
        place(P, S, C, pick)


@jit
def recreate(P, S, C, budget, ranks, paired):
    """Place what is missing, buying within the budget for what must be cut.

    `paired`: now and then first by what fits best, which takes longer than in the order of a list.
    """
    list_leaves(P, S)
    S.misc[WAY] = 2
    rule = rand(S, 4)
    blink = 0 if rand(S, 4) == 0 else 2
    prefer = 1 if rand(S, 3) > 0 else 0
    thrift = rand(S, 2)
    size = sort_rows(P, S, C, rand(S, 5) if rand(S, 4) > 0 else 0, ranks)
    if paired and rand(S, 3) == 0:
        place_best_fitting(P, S, C, size, blink, prefer)
    for a in range(size):
        i = C.order[a]
        S.misc[WAY] = rand(S, 8) if P.unit[i, U_STRIP] == 1 else 2  # 0, 1: one way round alone, while it goes
        while S.rem[i] > 0:
            if insert(P, S, C, i, rule, blink, prefer):
                continue
            if S.misc[WAY] < 2:
                S.misc[WAY] = 2
                continue
            if P.unit[i, U_RANK] > 0 or not buy(P, S, i, budget, blink, prefer, thrift):
                break
            if not insert(P, S, C, i, rule, 0, prefer):
                break
    trim(P, S, C)


@jit
def shut(P, S, C, inst):
    """Give a purchase back; what was cut from it is wanted again."""
    sheet = P.inst[inst, I_SHEET]
    clear(P, S, C, S.inst[inst, ROOT])
    drop_node(S, S.inst[inst, ROOT])
    if P.sheet[sheet, S_BYLENGTH] == 1:
        S.misc[COST] -= P.ladder[P.sheet[sheet, S_LAD_AT] + S.inst[inst, RUNG], L_COST]
        S.fab[P.sheet[sheet, S_FABRIC]] = -1
    else:
        S.misc[COST] -= P.inst[inst, I_COST]
    S.inst[inst, OPEN], S.inst[inst, ROOT], S.inst[inst, RUNG] = 0, -1, 0


@jit
def trim(P, S, C):
    """Buy no more than is used."""
    for inst in range(P.inst.shape[0]):
        sheet = P.inst[inst, I_SHEET]
        if S.inst[inst, OPEN] == 0 or (P.inst[inst, I_COST] == 0 and P.sheet[sheet, S_BYLENGTH] == 0):
            continue
        if S.node[S.inst[inst, ROOT], KIND] == FREE:
            shut(P, S, C, inst)
        elif P.sheet[sheet, S_BYLENGTH] == 1:
            rung = rung_for(P, sheet, rows_used(S, inst))
            if rung < S.inst[inst, RUNG]:
                lower(P, S, C, inst, rung)


@jit
def lower(P, S, C, inst, rung):
    """Buy a shorter length: parts beyond it are wanted again."""
    N, sheet = S.node, P.inst[inst, I_SHEET]
    rows = P.ladder[P.sheet[sheet, S_LAD_AT] + rung, L_ROWS]
    S.misc[COST] += (
        P.ladder[P.sheet[sheet, S_LAD_AT] + rung, L_COST]
        - P.ladder[P.sheet[sheet, S_LAD_AT] + S.inst[inst, RUNG], L_COST]
    )
    S.inst[inst, RUNG] = rung
    C.todo[0], size = S.inst[inst, ROOT], 1
    while size > 0:
        size -= 1
        n = C.todo[size]
        if N[n, Y2] <= rows:
            continue
        if N[n, KIND] == H and N[N[n, LOW], Y2] >= rows:  # all of the high side goes: the low side takes its place
            a, b, p = N[n, LOW], N[n, HIGH], N[n, UP]
            clear(P, S, C, b)
            drop_node(S, b)
            drop_node(S, n)
            N[a, UP] = p
            if p < 0:
                S.inst[inst, ROOT] = a
            elif N[p, LOW] == n:
                N[p, LOW] = a
            else:
                N[p, HIGH] = a
            C.todo[size] = a
            size += 1
            continue
        N[n, Y2] = rows
        if N[n, KIND] == PART and N[n, PY] + N[n, PL] > rows:
            clear(P, S, C, n)
        elif N[n, KIND] == H:
            C.todo[size] = N[n, HIGH]
            size += 1
        elif N[n, KIND] == V:
            C.todo[size], C.todo[size + 1] = N[n, LOW], N[n, HIGH]
            size += 2
    settle_all(P, S, C, inst)


@jit
def settle_all(P, S, C, inst):
    """Join free neighbours anywhere in an instance."""
    again = True
    while again:
        again = False
        for n in range(S.misc[TOP]):
            if S.node[n, KIND] == FREE and S.node[n, INST] == inst:
                p = S.node[n, UP]
                if p >= 0 and S.node[S.node[p, LOW], KIND] == FREE and S.node[S.node[p, HIGH], KIND] == FREE:
                    settle(P, S, C, n)
                    again = True


@entry
def reduce_to(P, S, C, budget):
    """Give back bought cloth, by chance, until the cost is within the budget."""
    while S.misc[COST] > budget:
        pick = a_purchase(P, S)
        if pick < 0:
            return
        back(P, S, C, pick, S.misc[COST] - budget)


@jit
def a_purchase(P, S):
    """A bought instance by chance, -1 where nothing is bought."""
    pick, seen = -1, 0
    for inst in range(P.inst.shape[0]):
        bought = P.inst[inst, I_COST] > 0 or P.sheet[P.inst[inst, I_SHEET], S_BYLENGTH] == 1
        if bought and S.inst[inst, OPEN] == 1:
            seen += 1
            if rand(S, seen) == 0:
                pick = inst
    return pick


@jit
def back(P, S, C, inst, saving):
    """Buy less of one thing: shorter by a step or so, or by all that is to be saved, or none of it."""
    sheet, rung = P.inst[inst, I_SHEET], S.inst[inst, RUNG]
    if P.sheet[sheet, S_BYLENGTH] == 1 and rung > 0 and rand(S, 8 + S.misc[TOP] // 256) > 0:
        shorter_one = rung - 1 - rand(S, min(rung, 2))
        if rand(S, 2) == 0 and saving > 0:
            enough = rung_below(P, sheet, P.ladder[P.sheet[sheet, S_LAD_AT] + rung, L_COST] - saving)
            if enough >= 0:
                shorter_one = enough
        lower(P, S, C, inst, shorter_one)
    else:
        shut(P, S, C, inst)


@jit
def ruin(P, S, C):
    """Take some parts back: whole purchases, or subtrees around random parts, now and then a group."""
    dice = rand(S, 32)
    if dice < 12:
        for _ in range(1 + rand(S, 2)):
            give_back(P, S, C)
        if dice < 6:
            return
    elif dice == 31:
        shuffle_group(P, S, C)
    for _ in range(1 + rand(S, 4)):
        n = a_part(S)
        if n < 0:
            return
        climb = 35 if rand(S, 8) > 0 else 85
        while S.node[n, UP] >= 0 and rand(S, 100) < climb:
            n = S.node[n, UP]
        clear(P, S, C, n)
        settle(P, S, C, n)


@jit
def a_part(S):
    """A node that holds a part, by chance; -1 where none is met."""
    if S.misc[TOP] == 0:
        return -1
    for _ in range(40):
        k = rand(S, S.misc[TOP])
        if S.node[k, KIND] == PART:
            return k
    return -1


@jit
def shuffle_group(P, S, C):
    """Take back all parts of a `together` group, so that another fabric may serve it."""
    if S.grp.shape[0] == 0:
        return
    g = rand(S, S.grp.shape[0])
    again = True
    while again:
        again = False
        for n in range(S.misc[TOP]):
            if S.node[n, KIND] == PART and P.unit[S.node[n, ITEM], U_GROUP] == g:
                clear(P, S, C, n)
                settle(P, S, C, n)
                again = True
                break
    S.grp[g, 0] = -1


@jit
def give_back(P, S, C):
    """One purchase a step smaller, by chance."""
    pick = a_purchase(P, S)
    if pick >= 0 and (P.sheet[P.inst[pick, I_SHEET], S_BYLENGTH] == 0 or rand(S, 6) == 0):
        back(P, S, C, pick, 0)


@jit
def missing(P, S, rank):
    """Cells of what is wanted at this rank and not placed."""
    total = 0
    for i in range(P.unit.shape[0]):
        if P.unit[i, U_RANK] == rank and S.rem[i] > 0:
            total += S.rem[i] * P.unit[i, U_AREA]
    return total


@entry
def score(P, S, weights):
    """What the search makes small: parts missing by rank, cost, wrong preference, cuts, pieces touched, less spare."""
    N = S.node
    total = weights[3] * S.misc[COST]
    for rank in range(3):
        if weights[rank] > 0:
            total += weights[rank] * missing(P, S, rank)
    if weights[4] == 0 and weights[5] == 0 and weights[6] == 0 and weights[7] == 0 and weights[8] == 0:
        return total
    cuts, wrong, spare, touched, old = 0, 0, 0, 0, 0
    for n in range(S.misc[TOP]):
        kind = N[n, KIND]
        if kind < 0:
            continue
        sheet = P.inst[N[n, INST], I_SHEET]
        if kind == FREE:
            wide, long = N[n, X2] - N[n, X1], N[n, Y2] - N[n, Y1]
            if min(wide, long) >= P.limits[1] and max(wide, long) >= P.limits[2]:
                area = free_cloth(P, S, n)
                spare += area * area
                old += area * P.sheet[sheet, S_FIRST]
        else:
            touched += N[n, UP] < 0
            if kind == PART:
                wrong += P.pref[N[n, ITEM], P.sheet[sheet, S_FABRIC]] * N[n, PW] * N[n, PL]
            else:
                cuts += 1
    return total + weights[4] * wrong + weights[5] * cuts + weights[6] * touched + weights[7] * old - weights[8] * spare


@entry
def copy_state(A, B):
    """Copy state A over state B."""
    top = A.misc[TOP]
    for k in range(top * WIDTH):
        B.flat[k] = A.flat[k]
    for n in range(top, B.misc[TOP]):
        B.node[n, KIND] = UNUSED
    for k in range(A.misc[FREED]):
        B.freed[k] = A.freed[k]
    for k in range(A.inst.shape[0]):
        for c in range(3):
            B.inst[k, c] = A.inst[k, c]
    for i in range(A.rem.shape[0]):
        B.rem[i] = A.rem[i]
        for f in range(A.cnt.shape[1]):
            B.cnt[i, f] = A.cnt[i, f]
    for g in range(A.grp.shape[0]):
        B.grp[g, 0], B.grp[g, 1] = A.grp[g, 0], A.grp[g, 1]
    for f in range(A.fab.shape[0]):
        B.fab[f] = A.fab[f]
    rng = B.misc[RNG]
    for k in range(5):
        B.misc[k] = A.misc[k]
    B.misc[RNG] = rng


@entry
def start(P, S, C, ranks):
    """The first plan: all cloth of the pile open, everything placed once, shop as needed."""
    for inst in range(P.inst.shape[0]):
        sheet = P.inst[inst, I_SHEET]
        if P.inst[inst, I_COST] == 0 and P.sheet[sheet, S_BYLENGTH] == 0:
            S.inst[inst, OPEN] = 1
            S.inst[inst, ROOT] = new_node(S, inst, 0, 0, P.sheet[sheet, S_COLS], P.sheet[sheet, S_ROWS], -1)
    recreate(P, S, C, NOTHING // 4, ranks, False)


@entry
def run(P, S, W, B, C, weights, late, info, rounds, budget, ranks, halt):
    """So many ruin-and-recreate rounds from S, with W to try in and the best in B.

    `late` is the list of late acceptance, `info` holds the position in it, the best score and the score of S; the
    cost stays within `budget`. Stops early when nothing that must be cut is missing in B and only that was asked
    (weights beyond the first all 0), or when `halt` is raised. Returns the rounds done.
    """
    only_must, now, trial, swapped, done = weights[3] == 0, S, W, False, 0
    while done < rounds:
        if halt[0] != 0 or (only_must and info[1] == 0):
            break
        copy_state(now, trial)
        ruin(P, trial, C)
        reduce_to(P, trial, C, budget)
        recreate(P, trial, C, budget, ranks, True)
        value = score(P, trial, weights)
        k = info[0] % late.shape[0]
        if value <= late[k] or value <= info[2]:
            now, trial, swapped = trial, now, not swapped
            info[2] = value
            if value < info[1]:
                info[1] = value
                copy_state(now, B)
        if info[2] < late[k]:
            late[k] = info[2]
        info[0] += 1
        done += 1
    if swapped:
        copy_state(now, S)
    return done
