"""The best free leaf for one more of a row, and laying it there."""

from __future__ import annotations

from cutopt.solve.kernels.loader import inlined, jit

from .cuts import cut_side
from .leaves import unlist
from .spots import find_spot
from .state import (
    F_AREA,
    F_LONG,
    F_NODE,
    F_SHEET,
    F_WIDE,
    I_COST,
    INST,
    ITEM,
    KIND,
    LONGEST,
    MASKED,
    NLEAF,
    NOTHING,
    PART,
    PL,
    PW,
    PX,
    PY,
    S_BYLENGTH,
    S_FABRIC,
    S_FIRST,
    TRIED,
    TURN,
    U_GROUP,
    U_L,
    U_LOSS,
    U_MOST,
    U_STRIP,
    U_W,
    WAY,
    X1,
    X2,
    Y1,
    Y2,
    rand,
)
from .tree import take


@jit
def fits_rules(P, S, i, f):
    """Whether row i may still take cloth of fabric f: all of a group from one fabric, at most so many from one.

    Parameters
    ----------
    P, S : Problem, State
    i : int
        A unit.
    f : int
        A fabric.
    """
    g = P.unit[i, U_GROUP]
    if g >= 0 and S.grp[g, 0] >= 0 and S.grp[g, 0] != f and S.grp[g, 1] > 0:
        return False
    return not (P.unit[i, U_MOST] > 0 and S.cnt[i, f] >= P.unit[i, U_MOST])


@jit
def segment(P, S, i, room):
    """Length of the next segment of strip i in a window with so much room; 0 where it is too short.

    Parameters
    ----------
    P, S : Problem, State
    i : int
        A unit of a strip.
    room : int
        Cells along the strip.
    """
    need = max(S.rem[i] + P.unit[i, U_LOSS], P.unit[i, U_L])
    size = min(need, room)
    return size if size >= P.unit[i, U_L] else 0


@jit
def fit_score(rule, dw, dl, waste):
    """How badly a part fits a window: short side, area, squared waste or long side.

    Parameters
    ----------
    rule : int
        0 short side, 1 area, 2 squared waste, else long side.
    dw, dl : int
        What is left beside the part, across and along.
    waste : int
        Cells of the window that are left.
    """
    if rule == 0:
        return min(dw, dl) * 64 + max(dw, dl) // 8
    if rule == 1:
        return waste
    if rule == 2:
        return (dw * dw + dl * dl) // 16
    return max(dw, dl) * 64


@jit
def insert(P, S, C, i, rule, blink, prefer):
    """Place one copy (or one segment) of row i in the best free leaf; whether it found a place.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    i : int
        A unit.
    rule, blink, prefer : as of :func:`look`
    """
    if look(P, S, C, i, rule, blink, prefer) >= NOTHING:
        return False
    place(P, S, C, i)
    return True


@jit
def place(P, S, C, i):
    """Place row i where it was last looked for.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    i : int
        The unit.
    """
    n = S.leaf[C.spot[7], F_NODE]
    k = C.spot[7]
    unlist(S, k)
    put(P, S, C, n, i, C.spot[8], C.spot[5], C.spot[6])


@jit
def put(P, S, C, n, i, turned, w, l):
    """Place row i at spot in free leaf n, cutting the leaf along the sides of the part.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    n : int
        A free leaf.
    i : int
        A unit.
    turned : int
        1 where the part is turned.
    w, l : int
        Cells of the part, across and along.
    """
    N = S.node
    x = C.spot[0]
    y = C.spot[1]
    order = C.spot[3]
    for k in range(4):
        n = cut_side(P, S, n, (order >> (2 * k)) & 3, x, y, w, l)
    N[n, KIND], N[n, ITEM], N[n, TURN] = PART, i, turned
    N[n, PX], N[n, PY], N[n, PW], N[n, PL] = x, y, w, l
    take(P, S, n)


@jit
def look(P, S, C, i, rule, blink, prefer):
    """The best free leaf for one copy (or one segment) of row i: how badly it fits; spot says where and how.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    i, rule, prefer : as of :func:`badness`
    blink : int
        In so many of 64 cases a leaf is passed over.
    """
    best = NOTHING
    best_leaf = -1
    best_turn = 0
    best_w = 0
    best_l = 0
    x = 0
    y = 0
    order = 0
    strip = P.unit[i, U_STRIP] == 1
    way = S.misc[WAY] if strip else 2
    short = min(P.unit[i, U_W], P.unit[i, U_L])
    least = P.unit[i, U_W] * P.unit[i, U_L]
    # now and then a leaf is looked at again
    masked = not strip and i < MASKED and rand(S, 8) > 0
    for k in range(S.misc[NLEAF]):
        wide = S.leaf[k, F_WIDE]
        long = S.leaf[k, F_LONG]
        sheet = S.leaf[k, F_SHEET]
        bits = P.turns[i, sheet]
        if bits == 0 or S.leaf[k, F_AREA] < least or min(wide, long) < short:
            continue
        if not fits_rules(P, S, i, P.sheet[sheet, S_FABRIC]):
            continue
        n = S.leaf[k, F_NODE]
        for turned in range(2):
            if (bits >> turned) & 1 == 0 or way == 1 - turned:
                continue
            w, l = size_in(P, S, i, wide, long, turned)
            if w == 0 or l == 0 or (turned == 1 and bits == 3 and w == l and not strip):
                continue
            score = badness(P, S, i, k, w, l, rule, prefer, way)
            if score >= best or rand(S, 64) < blink:
                continue
            tried = masked and (S.node[n, TRIED + turned] >> i) & 1 == 1
            if tried or not lies(P, S, C, i, k, w, l, turned):
                continue
            best = score
            best_leaf = k
            best_turn = turned
            best_w = C.spot[5]
            best_l = C.spot[6]
            x = C.spot[0]
            y = C.spot[1]
            order = C.spot[3]
    if best_leaf < 0:
        return NOTHING
    C.spot[0], C.spot[1], C.spot[3] = x, y, order
    C.spot[5], C.spot[6], C.spot[7], C.spot[8] = best_w, best_l, best_leaf, best_turn
    return best


@inlined
def size_in(P, S, i, wide, long, turned):
    """Width and length of the next part (or segment) of row i in a window; one is 0 where it does not go in.

    Parameters
    ----------
    P, S : Problem, State
    i : int
        A unit.
    wide, long : int
        Cells of the window, across and along.
    turned : int
        1 where the part is turned.
    """
    w = P.unit[i, U_L] if turned == 1 else P.unit[i, U_W]
    l = P.unit[i, U_W] if turned == 1 else P.unit[i, U_L]
    if w > wide or l > long:
        return 0, 0
    if P.unit[i, U_STRIP] == 0:
        return w, l
    if turned == 1:
        return segment(P, S, i, wide), l
    return w, segment(P, S, i, long)


@inlined
def badness(P, S, i, k, w, l, rule, prefer, way):
    """How badly a part fits a leaf: new cloth after what is at hand, cloth to be used first before.

    Parameters
    ----------
    P, S : Problem, State
    i, k : int
        A unit, and a leaf of the list.
    w, l : int
        Cells of the part, across and along.
    rule : int
        How the fit is judged, see :func:`fit_score`.
    prefer : int
        1 where fabrics further down the maker's list are to be avoided, else 0.
    way : int
        How segments are laid (`WAY`).
    """
    sheet = S.leaf[k, F_SHEET]
    waste = S.leaf[k, F_AREA] - w * l
    score = fit_score(rule, S.leaf[k, F_WIDE] - w, S.leaf[k, F_LONG] - l, waste)
    score += prefer * P.pref[i, P.sheet[sheet, S_FABRIC]] * 4096
    if P.unit[i, U_STRIP] == 1:
        score -= 128 * max(w, l)
        if way == LONGEST:
            score -= max(w, l) << 13
    inst = S.node[S.leaf[k, F_NODE], INST]
    if P.inst[inst, I_COST] > 0 or P.sheet[sheet, S_BYLENGTH] == 1:
        score += 1 << 20
    return score - (P.sheet[sheet, S_FIRST] << 18)


@inlined
def lies(P, S, C, i, k, w, l, turned):
    """Whether a part lies on the cloth of a leaf (of a strip, perhaps a shorter segment): spot says where, how large.

    Where it does not the leaf remembers it.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    i, k : int
        A unit, and a leaf of the list.
    w, l : int
        Cells of the part, across and along.
    turned : int
        1 where the part is turned.
    """
    strip = P.unit[i, U_STRIP] == 1
    n = S.leaf[k, F_NODE]
    C.spot[5] = w
    C.spot[6] = l
    if S.leaf[k, F_AREA] >= w * l and find_spot(P, S, C, n, w, l, not strip):
        return True
    if strip:
        return shorter(P, S, C, n, i, turned)
    if i < MASKED and P.limits[3] == 0:
        S.node[n, TRIED + turned] |= 1 << i
    return False


@jit
def shorter(P, S, C, n, i, turned):
    """A shorter segment of strip i where the longest does not lie on the cloth; its size in spot[5:7].

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    n : int
        A free leaf.
    i : int
        A unit of a strip.
    turned : int
        1 where the strip lies across.
    """
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
