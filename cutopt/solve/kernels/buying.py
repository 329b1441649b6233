"""Cloth bought for what does not fit on the cloth there is: another piece, or a longer length."""

from __future__ import annotations

from cutopt.solve.kernels.loader import jit

from .insertion import fits_rules
from .leaves import add_leaf, relist
from .state import (
    COST,
    FREE,
    HIGH,
    I_COST,
    I_SHEET,
    KIND,
    L_COST,
    L_ROWS,
    LOW,
    NOTHING,
    OPEN,
    ROOT,
    RUNG,
    S_BYLENGTH,
    S_COLS,
    S_COPIES,
    S_FABRIC,
    S_INST,
    S_LAD_AT,
    S_LAD_N,
    S_ROWS,
    U_L,
    U_W,
    UP,
    Y1,
    Y2,
    H,
    rand,
)
from .tree import new_node, set_free


@jit
def far_end(S, inst):
    """The window of full width at the far end of a bought length."""
    N = S.node
    n = S.inst[inst, ROOT]
    while N[n, KIND] == H:
        n = N[n, HIGH]
    return n


@jit
def rows_used(S, inst):
    """Rows of a bought length that are taken: all but a free far end."""
    N = S.node
    r = S.inst[inst, ROOT]
    if N[r, KIND] == FREE:
        return 0
    if N[r, KIND] == H and N[N[r, HIGH], KIND] == FREE:
        return N[N[r, HIGH], Y1]
    return N[r, Y2]


@jit
def rung_for(P, sheet, rows):
    """The shortest length on sale with so many usable rows, -1 where none is long enough.

    Parameters
    ----------
    P : Problem
    sheet : int
        A kind of cloth by length.
    rows : int
        Grid steps along the selvage.
    """
    at = P.sheet[sheet, S_LAD_AT]
    low = 0
    high = P.sheet[sheet, S_LAD_N]
    while low < high:
        middle = (low + high) // 2
        if P.ladder[at + middle, L_ROWS] >= rows:
            high = middle
        else:
            low = middle + 1
    return low if low < P.sheet[sheet, S_LAD_N] else -1


@jit
def grow(P, S, inst, rung):
    """Buy by length up to this rung: the new rows are free at the far end.

    Parameters
    ----------
    P, S : Problem, State
    inst : int
        The instance of the fabric by length.
    rung : int
        Its new length on the ladder.
    """
    N = S.node
    sheet = P.inst[inst, I_SHEET]
    rows = P.ladder[P.sheet[sheet, S_LAD_AT] + rung, L_ROWS]
    if S.inst[inst, OPEN] == 0:
        S.inst[inst, OPEN] = 1
        S.fab[P.sheet[sheet, S_FABRIC]] = inst
        S.inst[inst, ROOT] = new_node(S, inst, 0, 0, P.sheet[sheet, S_COLS], rows, -1)
        add_leaf(P, S, S.inst[inst, ROOT])
    else:
        S.misc[COST] -= P.ladder[P.sheet[sheet, S_LAD_AT] + S.inst[inst, RUNG], L_COST]
        r = S.inst[inst, ROOT]
        end = far_end(S, inst)
        # no longer one is sold: nothing may be lost
        if rung == P.sheet[sheet, S_LAD_N] - 1 and N[end, KIND] == FREE:
            n = end
            # up to the root: all of these reach to the end of the length
            while n >= 0:
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
def price_of_more(P, S, i, inst, turned):
    """What it costs to buy enough of this kind for one more of row i: (cost, rung), cost NOTHING if impossible.

    Parameters
    ----------
    P, S : Problem, State
    i : int
        A unit.
    inst : int
        The instance that would be bought, or more of it.
    turned : int
        1 where the part is turned.
    """
    sheet = P.inst[inst, I_SHEET]
    f = P.sheet[sheet, S_FABRIC]
    w, l = (
        (P.unit[i, U_L], P.unit[i, U_W])
        if turned == 1
        else (P.unit[i, U_W], P.unit[i, U_L])
    )
    if (
        (P.turns[i, sheet] >> turned) & 1 == 0
        or w > P.sheet[sheet, S_COLS]
        or not fits_rules(P, S, i, f)
    ):
        return NOTHING, -1
    if P.sheet[sheet, S_BYLENGTH] == 0:
        return (
            (P.inst[inst, I_COST], -1) if l <= P.sheet[sheet, S_ROWS] else (NOTHING, -1)
        )
    if S.inst[inst, OPEN] == 0 and S.fab[f] >= 0:
        # all that is bought of a fabric by length is one length
        return NOTHING, -1
    used = rows_used(S, inst) if S.inst[inst, OPEN] == 1 else 0
    rung = rung_for(P, sheet, used + l)
    last = P.sheet[sheet, S_LAD_N] - 1
    # with what is free behind the last row
    if rung < 0 and S.inst[inst, OPEN] == 1 and S.inst[inst, RUNG] < last:
        end = far_end(S, inst)
        if (
            S.node[end, KIND] == FREE
            and S.node[end, Y1] + l <= P.ladder[P.sheet[sheet, S_LAD_AT] + last, L_ROWS]
        ):
            rung = last
    if rung < 0:
        return NOTHING, -1
    before = (
        P.ladder[P.sheet[sheet, S_LAD_AT] + S.inst[inst, RUNG], L_COST]
        if S.inst[inst, OPEN] == 1
        else 0
    )
    return P.ladder[P.sheet[sheet, S_LAD_AT] + rung, L_COST] - before, rung


@jit
def closed_copy(P, S, sheet):
    """The first copy of a kind of cloth that is not bought yet; of cloth by length the one there is; -1 for none.

    Parameters
    ----------
    P, S : Problem, State
    sheet : int
        A kind of cloth.
    """
    first = P.sheet[sheet, S_INST]
    for inst in range(first, first + P.sheet[sheet, S_COPIES]):
        if P.sheet[sheet, S_BYLENGTH] == 1 or S.inst[inst, OPEN] == 0:
            return inst
    return -1


@jit
def open_piece(P, S, inst):
    """Buy a piece.

    Parameters
    ----------
    P, S : Problem, State
    inst : int
        An instance that is not bought yet.
    """
    sheet = P.inst[inst, I_SHEET]
    S.inst[inst, OPEN] = 1
    S.misc[COST] += P.inst[inst, I_COST]
    S.inst[inst, ROOT] = new_node(
        S, inst, 0, 0, P.sheet[sheet, S_COLS], P.sheet[sheet, S_ROWS], -1
    )
    add_leaf(P, S, S.inst[inst, ROOT])


@jit
def buy(P, S, i, budget, blink, prefer, thrift):
    """Buy the cheapest cloth, within the budget, that takes one more of row i; whether there was any.

    `thrift` 0 compares what is paid now, 1 what is paid for the area.

    Parameters
    ----------
    P, S : Problem, State
    i : int
        A unit.
    budget : int
        What all that is bought may cost.
    blink : int
        In so many of 64 cases a kind of cloth is passed over.
    prefer : int
        1 where fabrics further down the maker's list are to be avoided, else 0.
    thrift : int
        0 compares what is paid now, 1 what is paid for the area.
    """
    best = NOTHING
    best_inst = -1
    best_rung = -1
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
                score = (
                    cost
                    * (1 << 24)
                    // (P.sheet[sheet, S_COLS] * P.sheet[sheet, S_ROWS])
                )
            score = (
                score * (60 + rand(S, 8)) // 64
                + prefer * P.pref[i, P.sheet[sheet, S_FABRIC]] * 65536
            )
            if score < best and (best == NOTHING or rand(S, 64) >= blink):
                best = score
                best_inst = inst
                best_rung = rung
    if best_inst < 0:
        return False
    if best_rung >= 0:
        grow(P, S, best_inst, best_rung)
    else:
        open_piece(P, S, best_inst)
    return True
