"""The list of free leaves that could hold some part, with what decides most often that a part does not fit."""

from __future__ import annotations

from cutopt.solve.kernels.loader import jit

from .state import (
    CLOTH,
    F_AREA,
    F_LONG,
    F_NODE,
    F_SHEET,
    F_WIDE,
    FREE,
    I_SHEET,
    INST,
    KIND,
    NLEAF,
    S_FULL,
    TOP,
    X1,
    X2,
    Y1,
    Y2,
)
from .tree import cloth


@jit
def free_cloth(P, S, n):
    """Usable cells of a free node, counted once for each window on irregular cloth.

    Parameters
    ----------
    P, S : Problem, State
    n : int
        A free node.
    """
    N = S.node
    sheet = P.inst[N[n, INST], I_SHEET]
    if P.sheet[sheet, S_FULL] == 1:
        return (N[n, X2] - N[n, X1]) * (N[n, Y2] - N[n, Y1])
    if N[n, CLOTH] < 0:
        N[n, CLOTH] = cloth(P, sheet, N[n, X1], N[n, Y1], N[n, X2], N[n, Y2])
    return N[n, CLOTH]


@jit
def add_leaf(P, S, n):
    """List a free leaf that could hold some part, with what decides most often that a part does not fit.

    Parameters
    ----------
    P, S : Problem, State
    n : int
        A free node.
    """
    N = S.node
    k = S.misc[NLEAF]
    wide = N[n, X2] - N[n, X1]
    long = N[n, Y2] - N[n, Y1]
    if wide < P.limits[0] or long < P.limits[0]:
        return
    sheet = P.inst[N[n, INST], I_SHEET]
    S.leaf[k, F_NODE], S.leaf[k, F_WIDE], S.leaf[k, F_LONG], S.leaf[k, F_SHEET] = (
        n,
        wide,
        long,
        sheet,
    )
    S.leaf[k, F_AREA] = free_cloth(P, S, n)
    S.misc[NLEAF] += 1


@jit
def list_leaves(P, S):
    """Begin the list of free leaves anew."""
    S.misc[NLEAF] = 0
    for n in range(S.misc[TOP]):
        if S.node[n, KIND] == FREE:
            add_leaf(P, S, n)


@jit
def relist(P, S, n):
    """List a leaf that grew, in place of its old entry if it has one.

    Parameters
    ----------
    P, S : Problem, State
    n : int
        A free node.
    """
    for k in range(S.misc[NLEAF]):
        if S.leaf[k, F_NODE] == n:
            unlist(S, k)
            break
    add_leaf(P, S, n)


@jit
def unlist(S, k):
    """Take entry k off the list of free leaves; the last one takes its place."""
    S.misc[NLEAF] -= 1
    for c in range(5):
        S.leaf[k, c] = S.leaf[S.misc[NLEAF], c]
