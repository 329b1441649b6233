"""The search for pieced backs: trees that change by chance, held to what is better more and more strictly.

Simulated annealing (Kirkpatrick, Gelatt and Vecchi 1983, Science 220, 671-680) on slicing trees (Wong and Liu 1986, 23rd
Design Automation Conference, 101-107), in whole numbers.
"""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry, jit

from .sewn_cost import weigh
from .sewn_moves import change
from .sewn_state import R_BAD, R_MONEY, R_PARTS, copy_fields, copy_tree, rand


@jit
def put_by(S, C, K):
    """Keep a tree that is better than all others of as many parts.

    Parameters
    ----------
    S : Tree
    C : Desk
    K : Shelf
    """
    parts = C.result[R_PARTS]
    if C.result[R_BAD] or parts < 1 or parts >= K.cost.shape[0]:
        return False
    money = C.result[R_MONEY]
    cost = C.result[0]
    if money > K.money[parts]:
        return False
    if money == K.money[parts] and cost >= K.cost[parts]:
        return False
    K.money[parts] = money
    K.cost[parts] = cost
    copy_fields(
        S, K.node[parts], K.split[parts], K.user[parts], K.used[parts], K.misc[parts]
    )
    return True


@entry
def anneal(P, S, T, C, K, heat, cool, rounds, halt):
    """Change a tree `rounds` times, from a heat that falls to `cool`; returns the rounds that were done.

    Parameters
    ----------
    P : Task
    S, T : Tree
        The tree, and room for another one.
    C : Desk
    K : Shelf
        Where the best trees are kept.
    heat, cool : int
        How much dearer a change may be at first and in the end, in 1/64 of a part.
    rounds : int
    halt : array (1,)
        Not 0 when the search has to end.
    """
    cost = weigh(P, S, C)
    put_by(S, C, K)
    for done in range(rounds):
        if done % 64 == 0 and halt[0]:
            return done
        copy_tree(S, T)
        if not change(P, S, C):
            copy_tree(T, S)
            continue
        other = weigh(P, S, C)
        # the heat falls with the square of what is left
        left = rounds - done
        warm = cool + (heat - cool) * left // rounds * left // rounds
        if other <= cost or (other - cost) * 1024 <= warm * P.chance[rand(S, 1024)]:
            cost = other
            put_by(S, C, K)
        else:
            copy_tree(T, S)
    return rounds
