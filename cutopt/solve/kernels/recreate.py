"""Recreate: everything that is missing is placed again, and cloth bought for it."""

from __future__ import annotations

from cutopt.solve.kernels.loader import jit

from .buying import buy
from .insertion import insert, look, place
from .leaves import list_leaves
from .returning import trim
from .state import LONGEST, NOTHING, U_L, U_RANK, U_STRIP, U_W, WAY, rand

# parts among which the one that fits best is looked for
MOST_PAIRED = 40


@jit
def recreate(P, S, C, budget, ranks, paired):
    """Place what is missing, buying within the budget for what must be cut.

    `paired`: now and then first by what fits best, which takes longer than in the order of a list.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    budget : int
        What all that is bought may cost.
    ranks : int
        Rows of a rank below this are placed: 1 what must be cut, 3 all.
    paired : bool
        Whether, now and then, what fits best comes first, which takes longer than the order of a list.
    """
    list_leaves(P, S)
    longest = S.misc[WAY] == LONGEST
    S.misc[WAY] = 2
    rule = rand(S, 4)
    blink = 0 if rand(S, 4) == 0 else 2
    prefer = 1 if rand(S, 3) > 0 else 0
    thrift = rand(S, 2)
    size = sort_rows(P, S, C, rand(S, 5) if rand(S, 4) > 0 else 0, ranks, longest)
    if paired and not longest and rand(S, 3) == 0:
        place_best_fitting(P, S, C, size, blink, prefer)
    for a in range(size):
        i = C.order[a]
        S.misc[WAY] = way_of_strip(S, longest) if P.unit[i, U_STRIP] == 1 else 2
        while S.rem[i] > 0:
            if insert(P, S, C, i, rule, blink, prefer):
                continue
            if S.misc[WAY] != 2:
                S.misc[WAY] = 2
                continue
            if P.unit[i, U_RANK] > 0 or not buy(P, S, i, budget, blink, prefer, thrift):
                break
            if not insert(P, S, C, i, rule, 0, prefer):
                break
    trim(P, S, C)


@jit
def way_of_strip(S, longest):
    """How the segments of a strip are laid: 0 and 1 one way round alone, while it goes; LONGEST; 2 as they fit."""
    way = rand(S, 8)
    if longest:
        return LONGEST
    return way if way < 2 else 2


@jit
def sort_rows(P, S, C, kind, ranks, longest):
    """Order of insertion: what must be cut first, then by size as `kind` says, with some chance.

    `longest`: strips before all else of their rank.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    kind : int
        0 area, 1 long side, 2 short side, 3 all that is missing, 4 by chance.
    ranks : int
        As of :func:`recreate`.
    longest : bool
        Whether strips come before all else of their rank.
    """
    size = 0
    for i in range(P.unit.shape[0]):
        if S.rem[i] <= 0 or P.unit[i, U_RANK] >= ranks:
            continue
        w = min(P.unit[i, U_W], P.unit[i, U_L])
        l = max(P.unit[i, U_W], P.unit[i, U_L])
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
        if P.unit[i, U_STRIP] == 1 and longest:
            key <<= 12
        elif P.unit[i, U_STRIP] == 1 and rand(S, 3) > 0:
            # strips take what is left: they can be pieced
            key //= 4
        C.order[size], C.key[size] = i, -key + (P.unit[i, U_RANK] << 40)
        size += 1
    # insertion sort: short lists, no allocation
    for a in range(1, size):
        i = C.order[a]
        key = C.key[a]
        b = a - 1
        while b >= 0 and C.key[b] > key:
            C.order[b + 1], C.key[b + 1] = C.order[b], C.key[b]
            b -= 1
        C.order[b + 1], C.key[b + 1] = i, key
    return size


@jit
def place_best_fitting(P, S, C, size, blink, prefer):
    """Place must parts, each time the one that fits its leaf best; not where very many are missing.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    size : int
        Entries of `C.order`.
    blink, prefer : as of :func:`cutopt.solve.kernels.insertion.look`
    """
    lacking = 0
    for a in range(size):
        lacking += S.rem[C.order[a]] if P.unit[C.order[a], U_STRIP] == 0 else 0
    while lacking <= MOST_PAIRED:
        best = NOTHING
        pick = -1
        for a in range(size):
            i = C.order[a]
            if S.rem[i] > 0 and P.unit[i, U_RANK] == 0 and P.unit[i, U_STRIP] == 0:
                fit = look(P, S, C, i, 0, blink, prefer)
                fit = (
                    fit * 16 - min(P.unit[i, U_W], P.unit[i, U_L])
                    if fit < NOTHING
                    else NOTHING
                )
                if fit < best:
                    best = fit
                    pick = i
        if pick < 0 or look(P, S, C, pick, 0, 0, prefer) >= NOTHING:
            return
        place(P, S, C, pick)
