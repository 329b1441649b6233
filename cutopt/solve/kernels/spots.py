"""Where in the window of a free leaf a part may lie."""

from __future__ import annotations

from cutopt.solve.kernels.loader import jit

from .cuts import ACROSS_FIRST, ALONG_FIRST, best_order, too_many_runs
from .state import I_SHEET, INST, UP, X1, X2, Y1, Y2, rand
from .tree import cloth, whole


@jit
def consider(P, S, C, n, x, y, w, l):
    """Keep the spot if the part fits there and leaves more than the best so far; whether it fits.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    n : int
        A free leaf.
    x, y, w, l : int
        Lower left corner and size of the part, in cells.
    """
    sheet = P.inst[S.node[n, INST], I_SHEET]
    if cloth(P, sheet, x, y, x + w, y + l) < w * l:
        return False
    value = best_order(P, S, C, n, x, y, w, l)
    if value > C.spot[2]:
        C.spot[0], C.spot[1], C.spot[2], C.spot[3] = x, y, value, C.spot[4]
    return value >= 0


@jit
def slide(P, S, C, n, x, y, dx, dy, far, w, l):
    """Move from (x, y) along one axis until the part fits; consider that spot. Whether it was found.

    Where m cells of the part lie off the cloth it must move by at least m / (its extent across the way).

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    n : int
        A free leaf.
    x, y : int
        Where the lower left corner begins.
    dx, dy : int
        The way: one is 1 or -1, the other 0.
    far : int
        The most that it may move.
    w, l : int
        Cells of the part, across and along.
    """
    sheet = P.inst[S.node[n, INST], I_SHEET]
    across = w if dx == 0 else l
    while far >= 0:
        off = w * l - cloth(P, sheet, x, y, x + w, y + l)
        if off == 0:
            return consider(P, S, C, n, x, y, w, l)
        move = (off + across - 1) // across
        x += dx * move
        y += dy * move
        far -= move
    return False


@jit
def find_spot(P, S, C, n, w, l, thorough):
    """A place for a w x l part in the window of free leaf n; spot = x, y, value, order. Whether there is one.

    Not `thorough`: most often only the sides of the window are looked at.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    n : int
        A free leaf.
    w, l : int
        Cells of the part, across and along.
    thorough : bool
        Else most often only the sides of the window are looked at.
    """
    N = S.node
    x1 = N[n, X1]
    y1 = N[n, Y1]
    x2 = N[n, X2] - w
    y2 = N[n, Y2] - l
    C.spot[2] = -1
    if whole(P, S, n):
        C.spot[0], C.spot[1], C.spot[2] = x1, y1, 0
        upright_first = (N[n, X2] - N[n, X1] - w) * l < (N[n, Y2] - N[n, Y1] - l) * w
        if rand(S, 8) == 0:
            upright_first = not upright_first
        C.spot[3] = ALONG_FIRST if upright_first else ACROSS_FIRST
        if too_many_runs(P, S, n, x1, y1, w, l, C.spot[3]):
            C.spot[3] = ACROSS_FIRST if upright_first else ALONG_FIRST
            return not too_many_runs(P, S, n, x1, y1, w, l, C.spot[3])
        return True
    found = False
    for k in range(4):
        found |= consider(
            P, S, C, n, x1 if k & 1 == 0 else x2, y1 if k & 2 == 0 else y2, w, l
        )
    if found and rand(S, 4) > 0:
        return True
    for k in range(2):
        found |= slide(P, S, C, n, x1 if k == 0 else x2, y1, 0, 1, y2 - y1, w, l)
        found |= slide(P, S, C, n, x1 if k == 0 else x2, y2, 0, -1, y2 - y1, w, l)
        found |= slide(P, S, C, n, x1, y1 if k == 0 else y2, 1, 0, x2 - x1, w, l)
        found |= slide(P, S, C, n, x2, y1 if k == 0 else y2, -1, 0, x2 - x1, w, l)
    if found or (not thorough and N[n, UP] >= 0 and rand(S, 4) > 0):
        return found
    pace = max(1, (x2 - x1) // 8)
    x = x1 + rand(S, pace)
    while x <= x2:
        if slide(P, S, C, n, x, y1, 0, 1, y2 - y1, w, l):
            slide(P, S, C, n, x, y2, 0, -1, y2 - y1, w, l)
            found = True
        x += pace
    return found
