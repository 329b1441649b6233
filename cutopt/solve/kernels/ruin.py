"""Ruin: some parts are taken back, by chance."""

from __future__ import annotations

from cutopt.solve.kernels.loader import jit

from .returning import give_back
from .state import ITEM, KIND, PART, TOP, U_GROUP, UP, rand
from .tree import clear, settle


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
