"""Ruin: some parts are taken back, by chance."""

from __future__ import annotations

from cutopt.solve.kernels.loader import jit

from .returning import give_back, times_given_back
from .settle import settle
from .state import (
    I_SHEET,
    INST,
    ITEM,
    KIND,
    LONGEST,
    PART,
    TOP,
    U_GROUP,
    U_RANK,
    U_STRIP,
    UP,
    WAY,
    rand,
)
from .tree import clear


@jit
def ruin(P, S, C):
    """Take some parts back: whole purchases, or subtrees around random parts, now and then a group.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    """
    S.misc[WAY] = 2
    dice = rand(S, 32)
    often = times_given_back(P, S, 12)
    if dice < often:
        for _ in range(1 + rand(S, 2)):
            give_back(P, S, C)
        if dice < often // 2:
            return
    elif dice == 31:
        shuffle_group(P, S, C)
    elif dice == 30:
        unpick_strip(P, S, C)
    i = a_missing(P, S) if rand(S, 4) > 0 else -1
    for _ in range(1 + rand(S, 4)):
        n = a_part(P, S, i)
        if n < 0:
            return
        climb = 35 if rand(S, 8) > 0 else 85
        while S.node[n, UP] >= 0 and rand(S, 100) < climb:
            n = S.node[n, UP]
        clear(P, S, C, n)
        settle(P, S, C, n)


@jit
def a_missing(P, S):
    """A row that must be cut and is missing, by chance; -1 where none is."""
    pick = -1
    seen = 0
    for i in range(P.unit.shape[0]):
        if S.rem[i] > 0 and P.unit[i, U_RANK] == 0:
            seen += 1
            if rand(S, seen) == 0:
                pick = i
    return pick


@jit
def a_part(P, S, i):
    """A node that holds a part, by chance, most often on cloth from which row i may be cut; -1 where none is met.

    Parameters
    ----------
    P, S : Problem, State
    i : int
        A unit, or -1.
    """
    if S.misc[TOP] == 0:
        return -1
    for tries in range(60):
        k = rand(S, S.misc[TOP])
        if S.node[k, KIND] == PART and (
            tries >= 20 or i < 0 or P.turns[i, P.inst[S.node[k, INST], I_SHEET]] != 0
        ):
            return k
    return -1


@jit
def shuffle_group(P, S, C):
    """Take back all parts of a `together` group, so that another fabric may serve it.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    """
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
def unpick_strip(P, S, C):
    """Take back all segments of a strip; it comes first when all is placed again, in the longest that there are.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    """
    strips = 0
    for i in range(P.unit.shape[0]):
        strips += P.unit[i, U_STRIP]
    if strips == 0:
        return
    S.misc[WAY] = LONGEST
    # strips stand last
    i = P.unit.shape[0] - 1 - rand(S, strips)
    for n in range(S.misc[TOP]):
        if S.node[n, KIND] == PART and S.node[n, ITEM] == i:
            clear(P, S, C, n)
            settle(P, S, C, n)
