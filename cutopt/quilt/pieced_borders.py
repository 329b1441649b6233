"""Borders sewn of squares or rectangles, and the plain strip before one that makes it come out even.

Patches a long and b deep come out even round a top of W by H where W/a and H/a are whole: then m of them lie along
each end, k along each side, and a square of b in each corner. Where they are not, the usual mend is a strip first
(a coping strip, a spacer): c wide at the sides with W + 2c = ma. Arithmetic identities; that the mend is a strip is
common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

from cutopt.errors import Problem
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import Exact, Number, exact, how_many
from cutopt.quilt.units import seams
from cutopt.quilt.wanted_parts import ClothLike, Made, a_cut
from cutopt.wanted import Wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieces:
    """Patches of a pieced border: finished length along the edge and depth, and how many along an end and a side.

    `keys` are the rows of the patches in the order in which they lie, round and round; `corner` that of the corners,
    "" where these are patches like the others.
    """

    along: Exact
    deep: Exact
    across: int
    down: int
    keys: tuple[str, ...]
    corner: str = ""


def comes_out(inside: tuple[Number, Number], along: Number) -> tuple[int, int] | None:
    """How many patches lie along an end and along a side; None where that is no whole number.

    Parameters
    ----------
    inside : finished width and length of what the border goes round, ticks
    along : finished length of a patch along the edge, ticks
    """
    found = []
    for side in inside:
        n = (exact(side) / along).__floor__()
        if n < 1 or exact(along) * n != exact(side):
            return None
        found.append(n)
    return found[0], found[1]


def evening(
    inside: tuple[Number, Number], along: Number, least: Number
) -> tuple[Exact, Exact]:
    """Finished widths, at the sides and at top and bottom, of the narrowest strip that makes patches come out even.

    Parameters
    ----------
    inside : finished width and length of the top, ticks
    along : finished length of a patch along the edge, ticks
    least : how wide the strip has to be at least, ticks
    """
    first, second = (
        (exact(along) * how_many(exact(side) + 2 * exact(least), along) - side) / 2
        for side in inside
    )
    return first, second


def least_coping(how: Conventions) -> Exact:
    """A coping strip is not made narrower than this, finished: 1/2 in or 1.5 cm (common practice, no source)."""
    return how.usual(None, "1/2", "1.5")


def pieced_border(
    inside: tuple[Number, Number],
    patch: tuple[Length, Length],
    of: tuple[ClothLike, ...] = (None,),
    how: Conventions = DEFAULT,
    name: str = "border",
    corners: ClothLike = None,
) -> tuple[Made, Pieces]:
    """A border of patches `patch` (along the edge, deep), their cloths by turns all the way round.

    Parameters
    ----------
    inside : finished width and length of the top, ticks
    patch : finished size of a patch
    of : its cloths, in the order in which they lie
    how : seam and unit
    name : of the rows
    corners : cloth of the corners; None where squares run on through them, or where they are of the first cloth

    Raises
    ------
    Problem
        Where a patch has no size, or they do not come out even: with the strip that mends it.
    """
    a = how.read(patch[0], "borders")
    b = how.read(patch[1], "borders")
    if not a or not b:
        mend = "write its finished size, such as squares of 2"
        raise Problem("borders", "a patch of the border has no size", mend)
    number = comes_out(inside, a)
    if number is None:
        raise _uneven(inside, a, how)
    across, down = number
    through = a == b and corners is None
    ring = 2 * (across + down) + (4 if through else 0)
    rows = _rows((a, b), (across, down), ring, of, how, name)
    keys = tuple(row.key for row in rows)
    corner = ""
    if not through:
        last = _corners(b, of[0] if corners is None else corners, how, name)
        rows.append(last)
        corner = last.key
    made = Made(
        wanted=tuple(rows),
        width=exact(inside[0]) + 2 * b,
        length=exact(inside[1]) + 2 * b,
        notes=_closing(ring, len(of), name),
    )
    pieces = Pieces(along=a, deep=b, across=across, down=down, keys=keys, corner=corner)
    return made, pieces


def _uneven(inside: tuple[Number, Number], a: Exact, how: Conventions) -> Problem:
    """That patches do not come out even, and the strip that mends it."""
    size = how.size(*inside)
    what = f"patches {how.show(a)} long do not come out even round {size}"
    sides, ends = evening(inside, a, least_coping(how))
    wide = exact(inside[0]) + 2 * sides
    long = exact(inside[1]) + 2 * ends
    told = f"{how.show(sides)} wide at the sides and {how.show(ends)} at top and bottom it makes {how.size(wide, long)}"
    mend = f'write "coping" on a line before it: a plain strip; {told}'
    return Problem("borders", what, mend)


def _rows(
    patch: tuple[Exact, Exact],
    number: tuple[int, int],
    ring: int,
    of: tuple[ClothLike, ...],
    how: Conventions,
    name: str,
) -> list[Wanted]:
    """A row of patches for each cloth, as many as lie in the ring."""
    a, b = patch
    across, down = number
    size = (a + 2 * how.seam, b + 2 * how.seam)
    if a == b:
        noun = "square"
        why = f"finished {how.show(a)} + {seams(how)} = {how.show(size[0])}"
    else:
        noun = "patch"
        why = f"finished {how.size(a, b)}, + {seams(how)} each way = {how.size(*size)}"
    sum_ = f"2 x {across} + 2 x {down}"
    if ring != 2 * (across + down):
        sum_ += " + 4 in the corners"
    rows: list[Wanted] = []
    for i, each in enumerate(of):
        count = len(range(i, ring, len(of)))
        told = f"{sum_} = {ring}"
        if len(of) > 1:
            told += f", of this fabric {count}"
        label = f"{name} {noun}" + (f" {i + 1}" if len(of) > 1 else "")
        if count:
            rows.append(a_cut(label, size, count, why, how, each, then=told))
    return rows


def _corners(b: Exact, of: ClothLike, how: Conventions, name: str) -> Wanted:
    side = b + 2 * how.seam
    why = f"finished {how.show(b)} + {seams(how)} = {how.show(side)}"
    return a_cut(f"{name} corner", (side, side), 4, why, how, of)


def _closing(ring: int, cloths: int, name: str) -> tuple[str, ...]:
    """Where the ring closes two patches of the first cloth meet: that is told."""
    if cloths > 1 and ring % cloths == 1:
        told = f"{name}: {ring} patches of {cloths} fabrics by turns: where the ring closes two of the first meet"
        return (told,)
    return ()
