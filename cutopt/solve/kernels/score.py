"""What the search makes small."""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry, jit

from .leaves import free_cloth
from .state import (
    COST,
    FREE,
    I_SHEET,
    INST,
    ITEM,
    KIND,
    PART,
    PL,
    PW,
    S_FABRIC,
    S_FIRST,
    TOP,
    U_AREA,
    U_RANK,
    UP,
    X1,
    X2,
    Y1,
    Y2,
)


@jit
def missing(P, S, rank):
    """Cells of what is wanted at this rank and not placed."""
    total = 0
    for i in range(P.unit.shape[0]):
        if P.unit[i, U_RANK] == rank and S.rem[i] > 0:
            total += S.rem[i] * P.unit[i, U_AREA]
    return total


@entry
def score(P, S, weights, worth):
    """What the search makes small: parts missing by rank, cost, wrong preference, cuts, pieces touched, less spare.

    `worth` is what one of each row that is missing counts before it is weighed by the rank of the row.
    """
    N = S.node
    total = weights[3] * S.misc[COST]
    for i in range(P.unit.shape[0]):
        if S.rem[i] > 0:
            total += weights[P.unit[i, U_RANK]] * S.rem[i] * worth[i]
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
