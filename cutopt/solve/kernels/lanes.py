"""Kernel of the plate programme on all sizes across and few along, without what loses more than a budget.

Some sizes along at a time (lanes) are worked through for all sizes across. `v[i, j]` is what a plate of size i across
and size j along is worth, or `DEAD` if it loses too much: two scales (`two_scales.py`) say what it is worth at most, scaled
by `up`, and the difference is its loss. `across` and `along` have a row for each size: the size, its scale, and what
the scale loses by all means beside it.

As all sizes across are there, one of the two plates that a cut across leaves may always be one that no cut across
makes as good, of at most half the size: a row that has such plates is a piece. What the best lanes of two rows lose
tells whether it is of use to add them up.
"""

from __future__ import annotations

from collections import namedtuple

from cutopt.solve.kernels.loader import entry, inlined, jit

DEAD = -(1 << 61)
# columns of a size
SIZE, SCALE, SPARE = range(3)
# columns of a piece
ROW, WIDTH, WORTH = range(3)
PIECE = 3
# what a row is worth that has only dead plates
NOTHING = -(1 << 32)
# the state is how many pieces there are
PIECES = 0
STATE = 1


# across and along (sizes, 3): SIZE, SCALE and SPARE of each; below (length + 1,): the number of the largest width that
# is no larger; budget: what a plan may lose; cut: what a single cut may lose; up: what a value counts in the product of
# the scales; starts (along + 1,), pairs (ways, 2), losses (ways,): lane j is made of two others in the ways
# pairs[starts[j]:starts[j + 1]], in order of their losses
Sides = namedtuple("Sides", "across along below budget cut up starts pairs losses")
# base (across, along): the best grid of one part; v (across, along): what is filled; scratch: lanes (across, lanes), as
# v of the lanes that are worked through; pieces (across, 3); worth (across,): the scale of a row less what its lanes
# lose at least, by the scale of the lowest; state (1,): how many pieces there are
Filling = namedtuple("Filling", "base v lanes pieces worth state")


@inlined
def _across(sides, filling, i, room, cut):  # type: ignore[no-untyped-def]
    """The best of row i by a cut across, each lane on its own, where the row loses no more than `room`."""
    across = sides.across
    pieces = filling.pieces
    lanes = filling.lanes
    own = lanes[i]
    size = across[i, SIZE]
    scale = across[i, SCALE]
    for p in range(filling.state[PIECES]):
        if 2 * pieces[p, WIDTH] > size:
            break
        b = sides.below[size - pieces[p, WIDTH]]
        if pieces[p, WORTH] + filling.worth[b] >= scale - room:
            a = pieces[p, ROW]
            if scale - across[a, SCALE] - across[b, SCALE] <= cut:
                first = lanes[a]
                second = lanes[b]
                for q in range(own.shape[0]):
                    own[q] = max(own[q], first[q] + second[q])


@inlined
def _along(sides, best, row, j, most):  # type: ignore[no-untyped-def]
    """The best of a plate of lane j by a cut along, of those that lose at most `most`."""
    pairs = sides.pairs
    for n in range(sides.starts[j], sides.starts[j + 1]):
        if sides.losses[n] > most:
            break
        best = max(best, row[pairs[n, 0]] + row[pairs[n, 1]])
    return best


@entry
def fill(sides, filling, first, last, lo, hi):  # type: ignore[no-untyped-def]
    """Fill `filling.v[first:last, lo:hi]`, after all rows before and all lanes before.

    Parameters
    ----------
    sides : Sides
    filling : Filling
    first, last : int
        Rows (sizes across), the last not included.
    lo, hi : int
        Lanes (sizes along), the last not included.
    """
    along = sides.along
    low = max(along[lo, SCALE], 1)
    beside = along[lo, SPARE]
    for j in range(lo, hi):
        beside = min(beside, along[j, SPARE])
    for i in range(first, last):
        filling.worth[i] = NOTHING
        spare = sides.across[i, SPARE]
        room = (sides.budget - beside * sides.across[i, SCALE]) // low - spare
        if room < 0:
            filling.lanes[i][:] = DEAD
            filling.v[i][lo:hi] = DEAD
        else:
            _fill_row(sides, filling, i, lo, hi, room, low)


@jit
def _fill_row(sides, filling, i, lo, hi, room, low):  # type: ignore[no-untyped-def]
    """Fill a row that may lose so much, in some lanes, of which the lowest has the scale `low`."""
    along = sides.along
    base = filling.base
    budget = sides.budget
    up = sides.up
    spare = sides.across[i, SPARE]
    scale = sides.across[i, SCALE]
    own = filling.lanes[i]
    before = filling.lanes[i - 1]
    row = filling.v[i]
    for q in range(hi - lo):
        own[q] = max(before[q], base[i, lo + q])
    _across(sides, filling, i, room, sides.cut // low)
    least = budget + 1
    piece = False
    for q in range(hi - lo):
        j = lo + q
        may = budget - spare * along[j, SCALE] - along[j, SPARE] * scale
        best = max(own[q], row[j - 1])
        if may >= 0:
            best = _along(sides, best, row, j, min(may, sides.cut) // max(scale, 1))
        loss = scale * along[j, SCALE] - best * up
        if best < 0 or loss > may:
            own[q], row[j] = DEAD, DEAD
            continue
        piece = piece or best > own[q] or (base[i, j] == best and best > before[q])
        own[q], row[j] = best, best
        least = min(least, loss)
    if least <= budget:
        filling.worth[i] = scale - least // low
    if piece:
        n = filling.state[PIECES]
        filling.pieces[n, ROW] = i
        filling.pieces[n, WIDTH] = sides.across[i, SIZE]
        filling.pieces[n, WORTH] = filling.worth[i]
        filling.state[PIECES] = n + 1
