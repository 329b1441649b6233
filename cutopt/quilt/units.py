"""Units of patchwork that are cut as they are: squares and rectangles.

Every function takes finished sizes, seams not counted, and gives the rows to cut; the sums are arithmetic identities.
Triangles are in `triangles.py`, strips that are sewn first and cut then in `strip_sets.py`.
"""

from __future__ import annotations

from cutopt.fabric import counted
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import Exact, exact
from cutopt.quilt.wanted_parts import (
    ClothLike,
    Made,
    a_cut,
)
from cutopt.wanted import Cut


def seams(how: Conventions) -> str:
    """Both seams of a patch, as the arithmetic shows them: ``2 x 1/4``."""
    return f"2 x {how.show(how.seam)}"


def rectangles(
    name: str,
    width: Length,
    length: Length,
    count: int = 1,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
) -> Made:
    """`count` patches of one finished size: the cut size is the finished size and a seam on every side.

    Parameters
    ----------
    name : of the rows
    width, length : finished
    count : how many
    of : its cloth, any where nothing is said
    how : seam and unit, and what is usual in it
    """
    counted("count", count)
    w = how.read(width, "width")
    h = how.read(length, "length")
    cut = (w + 2 * how.seam, h + 2 * how.seam)
    if w == h:
        why = f"finished {how.show(w)} + {seams(how)} = {how.show(cut[0])}"
    else:
        why = f"finished {how.size(w, h)}, + {seams(how)} each way = {how.size(*cut)}"
    row = a_cut(name, cut, count, why, how, of)
    return Made(
        wanted=(row,), width=w, length=h, notes=_comes_out_larger(row, cut, how)
    )


def _comes_out_larger(
    row: Cut, needed: tuple[Exact, Exact], how: Conventions
) -> tuple[str, ...]:
    """A note where the ruler has no mark for a patch: sewn with the same seams it finishes larger, and that adds up."""
    over = [
        exact(side) - need
        for side, need in zip((row.width, row.length), needed, strict=True)
    ]
    if not any(over):
        return ()
    most = how.least(max(over, key=float))
    return (
        f"{row.name}: cut to the next mark of the ruler, each finishes up to {most} too large; trim rows to size",
    )


def squares(
    name: str,
    side: Length,
    count: int = 1,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
) -> Made:
    """`count` square patches of one finished size.

    Parameters
    ----------
    name : of the rows
    side : finished
    count : how many
    of : its cloth, any where nothing is said
    how : seam and unit, and what is usual in it
    """
    return rectangles(name, side, side, count, of, how)
