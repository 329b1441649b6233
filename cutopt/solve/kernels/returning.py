"""Cloth given back: a purchase that nobody uses, or bought less of until the cost is low enough."""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry, jit

from .buying import rows_used, rung_for
from .settle import settle_all
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
    OPEN,
    PART,
    PL,
    PY,
    ROOT,
    RUNG,
    S_BYLENGTH,
    S_FABRIC,
    S_LAD_AT,
    S_LAD_N,
    TOP,
    UP,
    Y2,
    H,
    V,
    rand,
)
from .tree import clear, drop_node


@jit
def rung_below(P, sheet, cost):
    """The longest length on sale that costs no more than this, -1 where none is that cheap.

    Parameters
    ----------
    P : Problem
    sheet : int
        A kind of cloth by length.
    cost : int
    """
    at = P.sheet[sheet, S_LAD_AT]
    low = 0
    high = P.sheet[sheet, S_LAD_N]
    while low < high:
        middle = (low + high) // 2
        if P.ladder[at + middle, L_COST] <= cost:
            low = middle + 1
        else:
            high = middle
    return low - 1


@jit
def shut(P, S, C, inst):
    """Give a purchase back; what was cut from it is wanted again.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    inst : int
        A bought instance.
    """
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
def lower(P, S, C, inst, rung):
    """Buy a shorter length: parts beyond it are wanted again.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    inst : int
        A bought length.
    rung : int
        The new length on its ladder.
    """
    N = S.node
    sheet = P.inst[inst, I_SHEET]
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
        # all of the high side goes: the low side takes its place
        if N[n, KIND] == H and N[N[n, LOW], Y2] >= rows:
            a = N[n, LOW]
            b = N[n, HIGH]
            p = N[n, UP]
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
def trim(P, S, C):
    """Buy no more than is used.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    """
    for inst in range(P.inst.shape[0]):
        sheet = P.inst[inst, I_SHEET]
        if S.inst[inst, OPEN] == 0 or (
            P.inst[inst, I_COST] == 0 and P.sheet[sheet, S_BYLENGTH] == 0
        ):
            continue
        if S.node[S.inst[inst, ROOT], KIND] == FREE:
            shut(P, S, C, inst)
        elif P.sheet[sheet, S_BYLENGTH] == 1:
            rung = rung_for(P, sheet, rows_used(S, inst))
            if rung < S.inst[inst, RUNG]:
                lower(P, S, C, inst, rung)


@entry
def reduce_to(P, S, C, budget):
    """Give back bought cloth, by chance, until the cost is within the budget.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    budget : int
        What all that is bought may cost.
    """
    while S.misc[COST] > budget:
        pick = a_purchase(P, S)
        if pick < 0:
            return
        back(P, S, C, pick, S.misc[COST] - budget)


@jit
def a_purchase(P, S):
    """A bought instance by chance, -1 where nothing is bought."""
    pick = -1
    seen = 0
    for inst in range(P.inst.shape[0]):
        bought = (
            P.inst[inst, I_COST] > 0 or P.sheet[P.inst[inst, I_SHEET], S_BYLENGTH] == 1
        )
        if bought and S.inst[inst, OPEN] == 1:
            seen += 1
            if rand(S, seen) == 0:
                pick = inst
    return pick


@jit
def times_given_back(P, S, most):
    """How often of 32 times something is given back: as a rule `most`.

    Where only one thing is on sale nothing else can be bought in its place, and each of few holds much of all that is
    cut: then no more often than so many are bought.

    Parameters
    ----------
    P, S : Problem, State
    most : int
    """
    kind = -1
    count = 0
    for inst in range(P.inst.shape[0]):
        sheet = P.inst[inst, I_SHEET]
        if P.inst[inst, I_COST] > 0 or P.sheet[sheet, S_BYLENGTH] == 1:
            if kind >= 0 and kind != sheet:
                return most
            kind = sheet
            count = count + S.inst[inst, OPEN]
    return min(most, count)


@jit
def back(P, S, C, inst, saving):
    """Buy less of one thing: shorter by a step or so, or by all that is to be saved, or none of it.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    inst : int
        A bought instance.
    saving : int
        What is to be saved in all; 0 for nothing in particular.
    """
    sheet = P.inst[inst, I_SHEET]
    rung = S.inst[inst, RUNG]
    if (
        P.sheet[sheet, S_BYLENGTH] == 1
        and rung > 0
        and rand(S, 8 + S.misc[TOP] // 256) > 0
    ):
        shorter_one = rung - 1 - rand(S, min(rung, 2))
        if rand(S, 2) == 0 and saving > 0:
            enough = rung_below(
                P, sheet, P.ladder[P.sheet[sheet, S_LAD_AT] + rung, L_COST] - saving
            )
            if enough >= 0:
                shorter_one = enough
        lower(P, S, C, inst, shorter_one)
    else:
        shut(P, S, C, inst)


@jit
def give_back(P, S, C):
    """One purchase a step smaller, by chance.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    """
    pick = a_purchase(P, S)
    if pick >= 0 and (
        P.sheet[P.inst[pick, I_SHEET], S_BYLENGTH] == 0 or rand(S, 6) == 0
    ):
        back(P, S, C, pick, 0)
