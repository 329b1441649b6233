"""Economy blocks: a square, set on point in a square, set on point in another; arrangement from memory, common practice."""

from __future__ import annotations

from fractions import Fraction

from cutopt.fabric import counted
from cutopt.quilt.conventions import Conventions, Length
from cutopt.quilt.pieced.pattern import for_each
from cutopt.quilt.recipe.block import Block, Cloths, Patch, box
from cutopt.quilt.recipe.fill import Share
from cutopt.quilt.surds import ROOT2, Exact
from cutopt.quilt.triangles import half_allowance
from cutopt.quilt.units import squares
from cutopt.quilt.wanted_parts import ClothLike, Made, a_cut
from cutopt.wanted import Cut

_QUARTER = Fraction(1, 4)
_HALF = Fraction(1, 2)


def economy(name: str, count: int, size: Length, of: Cloths, how: Conventions) -> Block:
    """A centre square of half the side, four triangles round it, and four more in the corners of the block.

    The long side of an inner triangle is the side of the centre, B/2, so its short ones are B/2/√2; the short sides of
    a corner are B/2 (arithmetic identities).

    Parameters
    ----------
    name : of the rows
    count : how many blocks
    size : finished side B
    of : cloth of the centre, of the inner triangles, of the corners
    how : seam, and the allowance for triangles
    """
    counted("count", count)
    side = how.read(size, "size")
    centre, inner, corner = for_each(of, 3)
    half = side / 2
    why = f"{how.show(side)} / 2"
    inside = squares(f"{name} centre", half, count, centre, how)
    rows = (
        inside.cuts[0],
        _triangles(f"{name} inner triangle", half / ROOT2, count, inner, how, why),
        _triangles(f"{name} corner", half, count, corner, how, why),
    )
    made = Made(wanted=rows, width=side, length=side)
    return Block(name=name, count=count, made=made, patches=_patches(rows))


def _triangles(
    name: str, leg: Exact, count: int, of: ClothLike, how: Conventions, why: str
) -> Cut:
    """Squares cut once for four triangles to a block.

    Parameters
    ----------
    name : of the row
    leg : finished short side
    count : of blocks
    of : their cloth
    how : the allowance for triangles
    why : half the block
    """
    allowance, told = half_allowance(how)
    cut = leg + allowance
    root = "" if leg.is_plain else " / 1.4142"
    return a_cut(
        name,
        (cut, cut),
        2 * count,
        f"{why}{root} + {told} = {how.show(cut)}",
        how,
        of,
        "cut once on the diagonal",
        then=f"2 squares for each of {count} blocks",
    )


def _patches(rows: tuple[Cut, Cut, Cut]) -> tuple[Patch, ...]:
    centre, inner, corner = (row.key for row in rows)
    # midpoints of the sides, corners of the block, corners of the centre square between these
    mids: list[Share] = [(_HALF, 0), (1, _HALF), (_HALF, 1), (0, _HALF)]
    ends: list[Share] = [(1, 0), (1, 1), (0, 1), (0, 0)]
    low = _QUARTER
    high = 1 - _QUARTER
    inside = box(low, low, high, high)
    found = [Patch(row=centre, corners=inside)]
    for i in range(4):
        before = inside[i]
        behind = inside[(i + 1) % 4]
        found.append(Patch(row=inner, corners=(before, mids[i], behind)))
        after = mids[(i + 1) % 4]
        found.append(Patch(row=corner, corners=(mids[i], ends[i], after)))
    return tuple(found)
