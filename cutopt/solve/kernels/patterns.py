"""What lay on each cloth in states that the search met: patterns, each kept once.

A pattern is all that must be cut and lies on one cloth. Of a bought length it is one band: what lies between two cuts
across its whole width, so that bands of several states can follow each other on one length.
"""

from __future__ import annotations

from collections import namedtuple

from cutopt.solve.kernels.loader import entry, jit

from .state import (
    HIGH,
    I_SHEET,
    INST,
    ITEM,
    KIND,
    LOW,
    PART,
    PL,
    PW,
    PX,
    PY,
    S_BYLENGTH,
    TOP,
    TURN,
    U_LOSS,
    U_RANK,
    U_STRIP,
    UP,
    H,
    V,
)

# columns of a pattern: its sheet, rows that a band takes (else 0), its first part and how many, what it is known by
M_SHEET, M_ROWS, M_FIRST, M_COUNT, M_KEY = range(5)
# columns of a part: row, lower left corner (y from the beginning of a band), size, whether turned
Q_UNIT, Q_X, Q_Y, Q_W, Q_L, Q_TURN = range(6)
# info: how many are kept, their parts, whether there is no room, ever kept
M_PATTERNS, M_PARTS, M_FULL, M_EVER = range(4)
# columns of the scratch beside each node: what its pattern is known by, where its parts begin and end, how many
C_KEY, C_LOW, C_HIGH, C_COUNT = range(4)

# head (most patterns, 5): M_ columns; part (most parts, 6): Q_ columns; table (a power of two,): patterns by their key, -1
# where none; keys (units,): what a part adds to a key; info (4,)
Met = namedtuple("Met", "head part table keys info")


@jit
def amount(P, S, n):
    """How much of its row the part of a leaf is: one, or so much of a strip.

    Parameters
    ----------
    P, S : Problem, State
    n : int
        A leaf that holds a part.
    """
    i = S.node[n, ITEM]
    return (
        max(S.node[n, PW], S.node[n, PL]) - P.unit[i, U_LOSS]
        if P.unit[i, U_STRIP] == 1
        else 1
    )


@jit
def top_of(P, S, n):
    """The root of the cloth of node n; on a bought length the window of full width that it lies in.

    Parameters
    ----------
    P, S : Problem, State
    n : int
        A node.
    """
    N = S.node
    top = n
    by_length = P.sheet[P.inst[N[n, INST], I_SHEET], S_BYLENGTH] == 1
    while N[n, UP] >= 0:
        n = N[n, UP]
        if not by_length or N[n, KIND] == V:
            top = n
    return top


@jit
def slot(M, key):
    """Where in the table a pattern stands or would stand."""
    mask = M.table.shape[0] - 1
    k = (key ^ (key >> 17)) & mask
    while M.table[k] >= 0 and M.head[M.table[k], M_KEY] != key:
        k = (k + 1) & mask
    return k


@entry
def note_patterns(P, S, C, M):
    """Keep the patterns of a state that are not kept yet, as far as there is room.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    M : Met
    """
    N = S.node
    size = 0
    for n in range(S.misc[TOP]):
        C.mark[n, C_COUNT] = 0
    for n in range(S.misc[TOP]):
        if N[n, KIND] != PART or P.unit[N[n, ITEM], U_RANK] != 0:
            continue
        top = top_of(P, S, n)
        low = N[n, PY]
        high = N[n, PY] + N[n, PL]
        if C.mark[top, C_COUNT] == 0:
            C.todo[size], size = top, size + 1
            C.mark[top, C_KEY] = (P.inst[N[n, INST], I_SHEET] + 1) * 7919
            C.mark[top, C_LOW], C.mark[top, C_HIGH] = low, high
        C.mark[top, C_KEY] += M.keys[N[n, ITEM]] * amount(P, S, n)
        C.mark[top, C_LOW], C.mark[top, C_HIGH] = (
            min(C.mark[top, C_LOW], low),
            max(C.mark[top, C_HIGH], high),
        )
        C.mark[top, C_COUNT] += 1
    for t in range(size):
        top = C.todo[t]
        sheet = P.inst[N[top, INST], I_SHEET]
        by_length = P.sheet[sheet, S_BYLENGTH] == 1
        rows = C.mark[top, C_HIGH] - C.mark[top, C_LOW] if by_length else 0
        note(P, S, C, M, top, sheet, rows, C.mark[top, C_LOW] if by_length else 0)


@jit
def note(P, S, C, M, top, sheet, rows, low):
    """Keep the pattern below one node, unless it is kept already and takes no more rows there.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    M : Met
    top : int
        The node.
    sheet : int
        Its kind of cloth.
    rows : int
        Grid rows that a band takes; 0 for a whole cloth.
    low : int
        Where the band begins.
    """
    key = C.mark[top, C_KEY]
    at = M.info[M_PATTERNS]
    k = slot(M, key)
    if M.table[k] >= 0 and M.head[M.table[k], M_ROWS] <= rows:
        return
    first = M.info[M_PARTS]
    if at >= M.head.shape[0] or first + C.mark[top, C_COUNT] > M.part.shape[0]:
        M.info[M_FULL] = 1
        return
    M.table[k], M.info[M_PATTERNS] = at, at + 1
    M.head[at, M_SHEET], M.head[at, M_ROWS], M.head[at, M_KEY] = sheet, rows, key
    M.head[at, M_FIRST], M.head[at, M_COUNT] = first, C.mark[top, C_COUNT]
    M.info[M_PARTS] = write(P, S, C, M, top, low, first)
    M.info[M_EVER] += 1


@jit
def write(P, S, C, M, top, low, at):
    """Write the parts below a node as rows of `part` from `at`; gives the row after the last.

    Parameters
    ----------
    P, S, C : Problem, State, Scratch
    M : Met
    top : int
        The node.
    low : int
        Where a band begins: y counts from there.
    at : int
        A row of `M.part`.
    """
    N = S.node
    C.stack[0], size = top, 1
    while size > 0:
        size -= 1
        n = C.stack[size]
        if N[n, KIND] == V or N[n, KIND] == H:
            C.stack[size], C.stack[size + 1] = N[n, LOW], N[n, HIGH]
            size += 2
        elif N[n, KIND] == PART and P.unit[N[n, ITEM], U_RANK] == 0:
            M.part[at, Q_UNIT], M.part[at, Q_X], M.part[at, Q_Y] = (
                N[n, ITEM],
                N[n, PX],
                N[n, PY] - low,
            )
            M.part[at, Q_W], M.part[at, Q_L], M.part[at, Q_TURN] = (
                N[n, PW],
                N[n, PL],
                N[n, TURN],
            )
            at += 1
    return at
