"""Kernel of the plate programme on all sizes across and few along, without what loses more than a budget.

Some sizes along at a time (lanes) are worked through for all sizes across. `v[i, j]` is what a plate of size i across
and size j along is worth, or `DEAD` if it loses too much: two scales (`scales.py`) say what it is worth at most, scaled
by `up`, and the difference is its loss. `across` and `along` have a row for each size: the size, its scale, and what
the scale loses by all means beside it.

As all sizes across are there, one of the two plates that a cut across leaves may always be one that no cut across
makes as good, of at most half the size: a row that has such plates is a piece. What the best lanes of two rows lose
tells whether it is of use to add them up.
"""

from __future__ import annotations

from cutopt.solve.kernels.loader import entry, jit

DEAD = -(1 << 61)
# of a size
SIZE, SCALE, SPARE = range(3)
# of a piece
ROW, WIDTH, WORTH = range(3)
PIECE = 3
# what a row is worth that has only dead plates
NOTHING = -(1 << 32)
# the state is how many pieces there are
PIECES = 0
STATE = 1


@jit
def _across(i, room, cut, across, below, pieces, worth, lanes, state):  # type: ignore[no-untyped-def]
    """The best of row i by a cut across, each lane on its own, where the row loses no more than `room`."""
    own = lanes[i]
    size = across[i, SIZE]
    scale = across[i, SCALE]
    for p in range(state[PIECES]):
        if 2 * pieces[p, WIDTH] > size:
            break
        b = below[size - pieces[p, WIDTH]]
        if pieces[p, WORTH] + worth[b] >= scale - room:
            a = pieces[p, ROW]
            if scale - across[a, SCALE] - across[b, SCALE] <= cut:
                first = lanes[a]
                second = lanes[b]
                for q in range(own.shape[0]):
                    own[q] = max(own[q], first[q] + second[q])


@jit
def _along(best, row, most, begin, end, pairs, losses):  # type: ignore[no-untyped-def]
    """The best of a plate by a cut along, of those that lose at most `most`."""
    for n in range(begin, end):
        if losses[n] > most:
            break
        best = max(best, row[pairs[n, 0]] + row[pairs[n, 1]])
    return best


@entry
def fill(
    first,
    last,
    lo,
    hi,
    across,
    along,
    below,
    budget,
    cut,
    up,
    starts,
    pairs,
    losses,
    base,
    v,
    lanes,
    pieces,
    worth,
    state,
):  # type: ignore[no-untyped-def]
    """Fill `v[first:last, lo:hi]`, after all rows before and all lanes before.

    A single cut may lose `cut`. Lane j is made of two others in the ways `pairs[starts[j]:starts[j + 1]]`, in order of
    `losses`. `base[i, j]` is the best grid of one part. `lanes` (as `v[:, lo:hi]`), `pieces` and `worth` are scratch:
    the scale of a row less what its lanes lose at least, by the scale of the lowest.
    """
    low = max(along[lo, SCALE], 1)
    beside = along[lo, SPARE]
    for j in range(lo, hi):
        beside = min(beside, along[j, SPARE])
    for i in range(first, last):
        scale = across[i, SCALE]
        own = lanes[i]
        before = lanes[i - 1]
        row = v[i]
        worth[i] = NOTHING
        room = (budget - beside * scale) // low - across[i, SPARE]
        if room < 0:
            own[:] = DEAD
            row[lo:hi] = DEAD
            continue
        for q in range(hi - lo):
            own[q] = max(before[q], base[i, lo + q])
        _across(i, room, cut // low, across, below, pieces, worth, lanes, state)
        least = budget + 1
        piece = False
        for q in range(hi - lo):
            j = lo + q
            may = budget - across[i, SPARE] * along[j, SCALE] - along[j, SPARE] * scale
            best = max(own[q], row[j - 1])
            if may >= 0:
                best = _along(
                    best,
                    row,
                    min(may, cut) // max(scale, 1),
                    starts[j],
                    starts[j + 1],
                    pairs,
                    losses,
                )
            loss = scale * along[j, SCALE] - best * up
            if best < 0 or loss > may:
                own[q], row[j] = DEAD, DEAD
                continue
            piece = piece or best > own[q] or (base[i, j] == best and best > before[q])
            own[q], row[j] = best, best
            least = min(least, loss)
        if least <= budget:
            worth[i] = scale - least // low
        if piece:
            n = state[PIECES]
            pieces[n, ROW], pieces[n, WIDTH], pieces[n, WORTH] = (
                i,
                across[i, SIZE],
                worth[i],
            )
            state[PIECES] = n + 1
