"""Trees of a pieced back as arrays of whole numbers: what each column means, and windows of a cloth that is shared.

A tree joins leaves: `ROW` side by side, `STACK` one above the other. A leaf is a window of a cloth (a piece of the
pile, or the length that is bought), a group of sewn blocks or patches, or the one elastic leaf, cut from new cloth in
just the size that is missing. All lengths are grid steps of raw sizes: two edges that meet lose a seam each.
"""

from __future__ import annotations

from collections import namedtuple

from cutopt.solve.kernels.loader import jit

# columns of a node, and what a node is
OP, LEFT, RIGHT, UP, KIND, WHAT, SLOT = range(7)
COLUMNS = 7
UNUSED = 0
LEAF = 1
ROW = 2
STACK = 3
# what a leaf is
ELASTIC = 0
CLOTH = 1
GROUP = 2
# a window of a cloth is a place in a heap: that of slot s is cut into those of 2 s + 1 and 2 s + 2
SLOTS = 15
SPLITS = 7
# free, and cut up further
FREE = -1
AXIS, AT = range(2)

# columns of the constants
(
    Z_WIDE,
    Z_HIGH,
    Z_SEAM,
    Z_BLOCK_SEAM,
    Z_LEAST,
    Z_OVERAGE,
    Z_EDGE,
    Z_MOST,
    Z_RUN,
    Z_MIDDLE,
    Z_BOUGHT,
    Z_BOUGHT_MAIN,
    Z_BOUGHT_FABRIC,
    Z_MAIN,
    Z_PRICED,
    Z_INNER,
    Z_SMALLEST,
) = range(17)
# of both axes: columns of sizes and boxes
X, Y = range(2)
EXTENT = 2
C_WIDE, C_LONG, C_PRICE, C_TURN, C_FABRIC, C_MAIN, C_FIRST, C_NUMBER, C_SOONER = range(
    9
)
(
    G_WIDE,
    G_HIGH,
    G_LEAST_WIDE,
    G_LEAST_HIGH,
    G_TAKES,
    G_STOCK,
    G_SEAMS,
    G_BLOCK,
    G_FABRIC,
) = range(9)
# columns of misc
M_ROOT, M_LENGTH, M_RNG, M_NODES = range(4)
# what a node is in the back: left out, a leaf or seam of it, or nothing but its left or right child
P_OUT = 0
P_IN = 1
P_LEFT = 2
P_RIGHT = 3
# what a tree comes to
R_COST, R_MONEY, R_PARTS, R_BAD, R_NARROW, R_FABRICS, R_LENGTH, R_OP, R_AREA, R_IDLE = (
    range(10)
)
# what the search weighs
V_MONEY, V_STEP, V_LENGTH, V_PART, V_AREA, V_NARROW, V_BAD, V_FABRIC, V_IDLE = range(9)

# The job. size (17,): Z_ columns, seams twice their allowance, cloths from Z_PRICED on have a price; cloth (cloths, 9):
# C_ columns, turn bits 1 as it lies and 2 turned, C_SOONER: to be used first; rect (rectangles, 4): the largest
# rectangles of usable cloth of each, x1 y1 x2 y2; group (groups, 9): G_ columns; stock (kinds, 2): how many blocks or
# patches there are that go into groups, and how many have to go in; price (lengths,): what a length of new cloth costs;
# new (wide + 1, high + 1, 2): of an elastic leaf the length that it takes, and its parts; weight (9,): V_ columns, the
# second what a step of the sale costs; chance (1024,): -1024 ln u for u in steps.
Task = namedtuple("Task", "size cloth rect group stock price new weight chance")
# A tree. node (nodes, 7); split (cloths, 7, 2): axis (0: whole, 1: x, 2: y) and place; user (cloths, 15): the leaf of
# a window, or FREE; used (kinds,): blocks and patches taken; misc (4,).
Tree = namedtuple("Tree", "node split user used misc")
# Work space. curve (2, nodes, size + 1): the greatest height at each width, and the greatest width at each height; mark
# (nodes, 2): what a curve was worked out from; least (nodes, 2): least width and height; near (nodes,): bits of the
# sides on which blocks lie, left 1, right 2, below 4, above 8; part (nodes,): what a node is in the back, P_ above; box
# (nodes, 4): x y w h; has (nodes,): whether the elastic leaf is in it; order, todo (nodes,); free (entries, 3): what may
# be taken; result (10,).
Desk = namedtuple("Desk", "curve mark least near part box has order todo free result")
# The best trees by their number of parts. cost, money (parts,); the rest as in a tree, one more axis in front.
Shelf = namedtuple("Shelf", "cost money node split user used misc")


@jit
def rand(S, n):
    """A random whole number below n (minimal standard generator, Park and Miller 1988)."""
    S.misc[M_RNG] = S.misc[M_RNG] * 48271 % 2147483647
    return S.misc[M_RNG] % n


@jit
def copy_rows(A, B):
    """Copy an array of two axes over another one."""
    for i in range(A.shape[0]):
        for j in range(A.shape[1]):
            B[i, j] = A[i, j]


@jit
def copy_fields(A, node, split, user, used, misc):
    """Copy the arrays of a tree over others.

    Parameters
    ----------
    A : Tree
    node : array
    split : array
    user : array
    used : array
    misc : array
    """
    copy_rows(A.node, node)
    copy_rows(A.user, user)
    for p in range(A.split.shape[0]):
        copy_rows(A.split[p], split[p])
    for kind in range(A.used.shape[0]):
        used[kind] = A.used[kind]
    for c in range(A.misc.shape[0]):
        misc[c] = A.misc[c]


@jit
def copy_tree(A, B):
    """Copy tree A over tree B, but for its random numbers."""
    rng = B.misc[M_RNG]
    copy_fields(A, B.node, B.split, B.user, B.used, B.misc)
    B.misc[M_RNG] = rng


@jit
def window(P, S, p, slot):
    """The window x1, y1, x2, y2 of a slot of cloth p.

    Parameters
    ----------
    P : Task
    S : Tree
    p : int
        A cloth.
    slot : int
        A window of it.
    """
    x1 = 0
    y1 = 0
    x2 = P.cloth[p, C_WIDE]
    y2 = P.cloth[p, C_LONG]
    if p == P.size[Z_BOUGHT]:
        y2 = S.misc[M_LENGTH]
    depth = 0
    up = slot
    while up > 0:
        up = (up - 1) // 2
        depth += 1
    at = 0
    for level in range(depth - 1, -1, -1):
        # the way down to the slot, from the top on
        below = slot
        for _ in range(level):
            below = (below - 1) // 2
        place = S.split[p, at, AT]
        if S.split[p, at, AXIS] == 1:
            if below == 2 * at + 1:
                x2 = min(x2, x1 + place)
            else:
                x1 = min(x2, x1 + place)
        elif below == 2 * at + 1:
            y2 = min(y2, y1 + place)
        else:
            y1 = min(y2, y1 + place)
        at = below
    return x1, y1, x2, y2


@jit
def live(S, p, slot):
    """Whether a slot is a window by now: all above it are cut up, and it is not.

    Parameters
    ----------
    S : Tree
    p : int
        A cloth.
    slot : int
        A window of it.
    """
    if slot < SPLITS and S.split[p, slot, AXIS] != 0:
        return False
    while slot > 0:
        slot = (slot - 1) // 2
        if S.split[p, slot, AXIS] == 0:
            return False
    return True
