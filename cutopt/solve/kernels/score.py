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
    MASKED,
    PART,
    PL,
    PW,
    S_FABRIC,
    S_FIRST,
    TOP,
    TURN,
    U_AREA,
    U_RANK,
    U_STRIP,
    UP,
    W_COST,
    W_CUT,
    W_FIRST,
    W_MIXED,
    W_MUST,
    W_PREFERENCE,
    W_SEGMENT,
    W_SPARE,
    W_TOUCHED,
    WEIGHTS,
    X1,
    X2,
    Y1,
    Y2,
)


@jit
def missing(P, S, rank):
    """Cells of what is wanted at this rank and not placed.

    Parameters
    ----------
    P, S : Problem, State
    rank : int
        0 what must be cut, 1 what is nice, 2 if cloth is left.
    """
    total = 0
    for i in range(P.unit.shape[0]):
        if P.unit[i, U_RANK] == rank and S.rem[i] > 0:
            total += S.rem[i] * P.unit[i, U_AREA]
    return total


@entry
def score(P, S, weights, worth):
    """What the search makes small: parts missing by rank, cost, and how the plan is to cut and to sew, less spare.

    `worth` is what one of each row that is missing counts before it is weighed by the rank of the row.

    Parameters
    ----------
    P, S : Problem, State
    weights : array (11,)
        See :func:`cutopt.solve.model.weights.weigh`.
    worth : array (units,)
        What one of each row that is missing counts before it is weighed by the rank of the row.
    """
    total = weights[W_COST] * S.misc[COST]
    for i in range(P.unit.shape[0]):
        if S.rem[i] > 0:
            total += weights[W_MUST + P.unit[i, U_RANK]] * S.rem[i] * worth[i]
    for k in range(W_PREFERENCE, WEIGHTS):
        if weights[k] != 0:
            return total + finer(P, S, weights)
    return total


@jit
def finer(P, S, weights):
    """What comes after money: wrong preference, cuts, pieces touched, seams of strips, less spare.

    Parameters
    ----------
    P, S : Problem, State
    weights : array (11,)
    """
    N = S.node
    last = P.unit.shape[0] - 1
    cuts = 0
    wrong = 0
    spare = 0
    touched = 0
    old = 0
    segments = 0
    along = 0
    across = 0
    for n in range(S.misc[TOP]):
        kind = N[n, KIND]
        if kind < 0:
            continue
        sheet = P.inst[N[n, INST], I_SHEET]
        if kind == FREE:
            wide = N[n, X2] - N[n, X1]
            long = N[n, Y2] - N[n, Y1]
            if min(wide, long) >= P.limits[1] and max(wide, long) >= P.limits[2]:
                area = free_cloth(P, S, n)
                spare += area * area
                old += area * P.sheet[sheet, S_FIRST]
            continue
        touched += N[n, UP] < 0
        if kind != PART:
            cuts += 1
            continue
        i = N[n, ITEM]
        wrong += P.pref[i, P.sheet[sheet, S_FABRIC]] * N[n, PW] * N[n, PL]
        if P.unit[i, U_STRIP] == 1:
            segments += 1
            # strips stand last, each has a bit
            if last - i < MASKED:
                if N[n, TURN] == 1:
                    across |= 1 << (last - i)
                else:
                    along |= 1 << (last - i)
    total = (
        weights[W_PREFERENCE] * wrong
        + weights[W_CUT] * cuts
        + weights[W_TOUCHED] * touched
    )
    total += weights[W_SEGMENT] * segments + weights[W_MIXED] * bits(along & across)
    return total + weights[W_FIRST] * old - weights[W_SPARE] * spare


@jit
def bits(mask):
    """How many bits are set."""
    count = 0
    while mask > 0:
        count += mask & 1
        mask >>= 1
    return count
