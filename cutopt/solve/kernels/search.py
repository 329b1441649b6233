"""Ruin and recreate on trees of guillotine cuts: the inner loop of the search.

Every cloth instance (a copy of a piece of the pile, a bought length or piece) is a tree of windows (`tree.py`, its
columns in `state.py`). A round takes some parts back (`ruin.py`), gives bought cloth back until the cost is within the
budget (`returning.py`), and places what is missing (`recreate.py`) where it fits best (`leaves.py`, `spots.py`,
`cuts.py`, `insertion.py`), buying as the budget allows (`buying.py`); `score.py` says whether that was better, and
`patterns.py` keeps what lies on each cloth now and then. The
idea of lowering the cost first and then placing everything again follows T. Gardeyn, T. Wauters, "A goal-driven ruin
and recreate heuristic for the 2D variable-sized bin packing problem with guillotine constraints", European Journal of
Operational Research, 2022.

All functions run as plain Python too (the first plan does), and compiled when numba is ready: see `loader.py`.
"""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry, jit

from .patterns import note_patterns
from .recreate import recreate
from .returning import reduce_to
from .ruin import ruin
from .score import score
from .state import (
    COST,
    I_COST,
    I_SHEET,
    NOTHING,
    OPEN,
    ROOT,
    S_BYLENGTH,
    S_COLS,
    S_ROWS,
    U_AREA,
    U_RANK,
    W_COST,
    copy_state,
)
from .tree import new_node

# rounds from one state to the next whose patterns are kept
EVERY = 32
# rounds after which what is missing becomes worth more, by an eighth of its area
HARDER = 500


@jit
def make_harder(P, S, B, weights, worth, late, info):
    """Let the rows that are missing in S be worth more, and begin a new list of late acceptance.

    Parameters
    ----------
    P : Problem
    S, B : State
        The state at hand, and the best one.
    weights : array (11,)
    worth : array (units,)
    late : array (n,)
        The list of late acceptance.
    info : array (3,)
        As of :func:`run`.
    """
    for i in range(P.unit.shape[0]):
        if P.unit[i, U_RANK] == 0 and S.rem[i] > 0:
            worth[i] += 1 + P.unit[i, U_AREA] // 8
    info[1], info[2] = score(P, B, weights, worth), score(P, S, weights, worth)
    for k in range(late.shape[0]):
        late[k] = info[2]


@jit
def open_pile(P, S):
    """All cloth of the pile at hand; what is at hand already stays as it is, so that none counts twice."""
    for inst in range(P.inst.shape[0]):
        sheet = P.inst[inst, I_SHEET]
        of_pile = P.inst[inst, I_COST] == 0 and P.sheet[sheet, S_BYLENGTH] == 0
        if of_pile and S.inst[inst, OPEN] == 0:
            S.inst[inst, OPEN] = 1
            S.inst[inst, ROOT] = new_node(
                S, inst, 0, 0, P.sheet[sheet, S_COLS], P.sheet[sheet, S_ROWS], -1
            )


@entry
def start(P, S, C, ranks):
    """A first plan: what is missing in a state placed once, shop as needed.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    ranks : int
        Rows of a rank below this are placed: 1 what must be cut, 3 all.
    """
    open_pile(P, S)
    recreate(P, S, C, NOTHING // 4, ranks, False)


@entry
def fill_up(P, S, C):
    """Place what is missing of all rows in the cloth that there is.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    """
    recreate(P, S, C, S.misc[COST], 3, False)


@entry
def run(P, S, W, B, C, M, weights, worth, late, info, rounds, budget, ranks, halt):
    """So many ruin-and-recreate rounds from S, with W to try in and the best in B; gives the rounds done.

    Stops early when nothing that must be cut is missing in B and only that was asked (no weight on the cost), or when
    `halt` is raised. Where only that is asked, what stays missing is worth more and more (as customers that are hard
    to serve are to Y. Nagata, O. Braysy, "A powerful route minimization heuristic for the vehicle routing problem with
    time windows", Operations Research Letters 37(5), 2009), so that the search leaves what it cannot better.

    Parameters
    ----------
    P, C, M : Problem, Scratch, Met
    S, W, B : State
    weights, worth : arrays (11,) and (units,)
        As of :func:`cutopt.solve.kernels.score.score`.
    late : array (n,)
        The list of late acceptance.
    info : array (3,)
        The position in that list, the best score, the score of S.
    rounds, budget, ranks : int
        The rounds, what all that is bought may cost, and the ranks that are placed.
    halt : array (1,)
        Not 0 where the search is to stop.
    """
    only_must = weights[W_COST] == 0
    now = S
    trial = W
    swapped = False
    done = 0
    while done < rounds:
        if halt[0] != 0 or (only_must and info[1] == 0):
            break
        copy_state(now, trial)
        ruin(P, trial, C)
        reduce_to(P, trial, C, budget)
        recreate(P, trial, C, budget, ranks, True)
        value = score(P, trial, weights, worth)
        k = info[0] % late.shape[0]
        if value <= late[k] or value <= info[2]:
            now, trial, swapped = trial, now, not swapped
            info[2] = value
            if value < info[1]:
                info[1] = value
                copy_state(now, B)
        if info[2] < late[k]:
            late[k] = info[2]
        info[0] += 1
        done += 1
        if info[0] % EVERY == 0:
            note_patterns(P, now, C, M)
        if only_must and info[0] % HARDER == 0 and info[1] > 0:
            make_harder(P, now, B, weights, worth, late, info)
    if swapped:
        copy_state(now, S)
    return done
