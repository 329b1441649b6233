"""Squares sewn edge to edge, and blocks in straight rows without or with sashing; arithmetic identities."""

from __future__ import annotations

from cutopt.errors import Problem
from cutopt.fabric import counted
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.sashes import Sashes
from cutopt.quilt.sashing import sashed
from cutopt.quilt.surds import exact
from cutopt.quilt.wanted_parts import ClothLike, Made, a_cut


def patchwork(
    name: str,
    cut: Length,
    across: int,
    down: int,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
) -> Made:
    """Squares of one cut size, sewn edge to edge: finished m(c - 2s) by k(c - 2s).

    Parameters
    ----------
    name : of the rows
    cut : side of a square as cut
    across, down : how many
    of : its cloth, any where nothing is said
    how : seam and unit, and what is usual in it

    Raises
    ------
    Problem
        Where the seams would take it all.
    """
    counted("across", across)
    counted("down", down)
    c = exact(how.cut_size(how.read(cut, "cut")))
    if c <= 2 * how.seam:
        raise Problem(
            "cut",
            "the seams would take it all",
            f"write more than {how.show(2 * how.seam)}",
        )
    side = c - 2 * how.seam
    why = f"{across} across x {down} down of {how.show(c)}, each finishes {how.show(side)}"
    row = a_cut(name, (c, c), across * down, why, how, of)
    return Made(wanted=(row,), width=across * side, length=down * side)


def straight(
    block: tuple[Length, Length],
    across: int,
    down: int,
    sashes: Sashes | None = None,
    how: Conventions = DEFAULT,
) -> Made:
    """Blocks of width by length in straight rows, with sashing where there is any.

    Parameters
    ----------
    block : finished width and length of a block
    across, down : how many blocks
    sashes : what stands between them
    how : seam and unit, and what is usual in it
    """
    counted("across", across)
    counted("down", down)
    size = (how.read(block[0], "block"), how.read(block[1], "block"))
    if sashes is None:
        return Made(wanted=(), width=size[0] * across, length=size[1] * down)
    return sashed(size, across, down, sashes, how)
