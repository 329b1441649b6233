"""The state of the search as arrays of whole numbers: what each column means, and its random numbers.

An upright grid rectangle [x1, x2) x [y1, y2) of a cloth is a window; nodes of a tree of windows are rows of `node`.
Whole numbers only, own random numbers: the same seed gives the same plan on any machine.
"""

from __future__ import annotations

from collections import namedtuple

from cutopt.solve.kernels.loader import entry, jit

# columns of a node
X1, Y1, X2, Y2, KIND, LOW, HIGH, UP, INST, ITEM, PX, PY, PW, PL, TURN = range(15)
WIDTH = 15
UNUSED = -1
FREE = 0
PART = 1
V = 2
H = 3
# columns of an instance
ROOT, OPEN, RUNG = range(3)
# columns of misc
TOP, FREED, COST, RNG, NLEAF, WAY = range(6)
# a WAY in which strips are laid: before all else, and the longest segment wherever it is had
LONGEST = 3
# columns of the list of free leaves
F_NODE, F_WIDE, F_LONG, F_SHEET, F_AREA = range(5)
# of a free node: bit i of column TRIED + turned is set when row i (if below MASKED) was found not to lie there
TRIED = PX
MASKED = 62
# of a free node: its usable cells, -1 where nobody has counted them yet
CLOTH = PW
NOTHING = 1 << 60

# columns of the constants
U_W, U_L, U_RANK, U_STRIP, U_LOSS, U_GROUP, U_MOST, U_AREA = range(8)
(
    S_COLS,
    S_ROWS,
    S_FABRIC,
    S_FULL,
    S_SAT_AT,
    S_BYLENGTH,
    S_FIRST,
    S_LAD_AT,
    S_LAD_N,
    S_INST,
    S_COPIES,
) = range(11)
L_ROWS, L_COST = range(2)
I_SHEET, I_COST = range(2)
# what the search weighs, see solve/model/weights.py
(
    W_MUST,
    W_NICE,
    W_LEFT,
    W_COST,
    W_PREFERENCE,
    W_CUT,
    W_TOUCHED,
    W_FIRST,
    W_SPARE,
    W_SEGMENT,
    W_MIXED,
) = range(11)
WEIGHTS = 11

# Few arrays with many columns: numba's compile time grows with the number of arrays that are passed on. All are int64;
# lengths are cells (grid steps), costs hundredths of money, or ticks of length where prices are missing.
#
# The job. unit (units, 8): U_ columns; turns (units, sheets): bit 0 where a part may lie there unturned, bit 1 turned;
# pref (units, fabrics): the place of each fabric on the maker's list; sheet (sheets, 11): S_ columns; ladder (rungs of
# all sheets, 2): L_ columns; inst (instances, 2): I_ columns; limits (4,): the least side of a part, the lesser and the
# greater side of spare cloth worth keeping, most turns of the cut (0: any number); sat: the summed-area tables of all
# irregular sheets, one after the other.
Problem = namedtuple("Problem", "unit turns pref sheet ladder inst limits sat")
# A plan. node (most nodes, 15), and flat, the same memory as one row; inst (instances, 3): its root, whether it is at
# hand or bought, its rung; rem (units,): copies (of a strip, cells of length) that are missing; cnt (units, fabrics):
# parts from each fabric; grp (groups, 2): the fabric of its parts, and how many they are; fab (fabrics,): the bought
# length, or -1; misc (6,): TOP nodes were ever used, FREED of them are free again, COST, RNG, NLEAF free leaves are
# listed, WAY; freed (most nodes,): those that are free again; leaf (most nodes, 5): F_ columns.
State = namedtuple("State", "node flat inst rem cnt grp fab misc freed leaf")
# Work space. stack, todo (most nodes,); order, key (units,): rows in the order of insertion; spot (9,): x, y of the
# best spot, what it leaves, the order of its cuts, that of the spot looked at last, size of the part, number of its
# leaf in the list, whether it is turned; mark (most nodes, 4): C_ columns of `patterns.py`.
Scratch = namedtuple("Scratch", "stack order key spot todo mark")


@jit
def rand(S, n):
    """A random whole number below n (minimal standard generator, Park and Miller 1988)."""
    S.misc[RNG] = S.misc[RNG] * 48271 % 2147483647
    return S.misc[RNG] % n


@entry
def copy_state(A, B):
    """Copy state A over state B."""
    top = A.misc[TOP]
    for k in range(top * WIDTH):
        B.flat[k] = A.flat[k]
    for n in range(top, B.misc[TOP]):
        B.node[n, KIND] = UNUSED
    for k in range(A.misc[FREED]):
        B.freed[k] = A.freed[k]
    for k in range(A.inst.shape[0]):
        for c in range(3):
            B.inst[k, c] = A.inst[k, c]
    for i in range(A.rem.shape[0]):
        B.rem[i] = A.rem[i]
        for f in range(A.cnt.shape[1]):
            B.cnt[i, f] = A.cnt[i, f]
    for g in range(A.grp.shape[0]):
        B.grp[g, 0], B.grp[g, 1] = A.grp[g, 0], A.grp[g, 1]
    for f in range(A.fab.shape[0]):
        B.fab[f] = A.fab[f]
    rng = B.misc[RNG]
    for k in range(5):
        B.misc[k] = A.misc[k]
    B.misc[RNG] = rng
