"""How blocks are set: edge to edge, with sashing, or on point.

r rows of c columns of blocks, w the sashing, all finished; arithmetic identities.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypeAlias

from cutopt.errors import Problem
from cutopt.fabric import counted, one_of
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import ROOT2, Exact, exact, how_many
from cutopt.quilt.units import seams
from cutopt.quilt.wanted_parts import ClothLike, Made, a_cut, a_long_part
from cutopt.wanted import Wanted

Sashing: TypeAlias = Literal["none", "inner", "framed"]


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
    sash: Length = "0",
    sashing: Sashing = "none",
    cornerstones: bool = True,
    of: tuple[ClothLike, ClothLike] = (None, None),
    how: Conventions = DEFAULT,
) -> Made:
    """Blocks of width by length in straight rows; `of` is sashing and cornerstones.

    With cornerstones every sash is as long as a block. Without, short ones stand between the blocks of a row and
    long ones between the rows (framed: also above, below and down both sides).

    Parameters
    ----------
    block : finished width and length of a block
    across, down : how many blocks
    sash, sashing : its finished width, and where it stands
    cornerstones : whether sashes meet in squares
    of : cloth of the sashing, and of the cornerstones
    how : seam and unit, and what is usual in it

    Raises
    ------
    Problem
        Where the sashing has no width.
    """
    one_of("sashing", sashing, ("none", "inner", "framed"))
    counted("across", across)
    counted("down", down)
    bw = how.read(block[0], "block")
    bl = how.read(block[1], "block")
    w = how.read(sash, "sash")
    if sashing == "none":
        return Made(wanted=(), width=bw * across, length=bl * down)
    if not w:
        raise Problem(
            "sash", "the sashing has no width", "write its finished width, such as 2"
        )
    if sashing == "framed":
        more = 1
    else:
        more = -1
    width = bw * across + w * (across + more)
    length = bl * down + w * (down + more)
    make = _with_cornerstones if cornerstones else _without_cornerstones
    rows = make((bw, bl), across, down, w, more, (width, length), of, how)
    return Made(wanted=rows, width=width, length=length)


def _with_cornerstones(
    block: tuple[Exact, Exact],
    across: int,
    down: int,
    w: Exact,
    more: int,
    _: tuple[Exact, Exact],
    of: tuple[ClothLike, ClothLike],
    how: Conventions,
) -> tuple[Wanted, ...]:
    """Inner: r(c-1) + c(r-1) sashes and (r-1)(c-1) cornerstones; framed: r(c+1) + c(r+1) and (r+1)(c+1)."""
    upright = down * (across + more)
    level = across * (down + more)
    corners = (across + more) * (down + more)
    two = 2 * how.seam
    rows: list[Wanted] = []
    if block[0] == block[1] and upright + level:
        told = (
            f"{down} x {across + more} + {across} x {down + more} = {upright + level}"
        )
        rows.append(_sash("sash", w, block[1], upright + level, told, of[0], how))
    else:
        for word, count, long, told in (
            ("upright sash", upright, block[1], f"{down} x {across + more}"),
            ("level sash", level, block[0], f"{across} x {down + more}"),
        ):
            if count:
                rows.append(
                    _sash(word, w, long, count, f"{told} = {count}", of[0], how)
                )
    if corners:
        why = f"finished {how.show(w)} + {seams(how)} = {how.show(w + two)}"
        then = f"{across + more} x {down + more} = {corners}"
        rows.append(
            a_cut(
                "cornerstone", (w + two, w + two), corners, why, how, of[1], then=then
            )
        )
    return tuple(rows)


def _without_cornerstones(
    block: tuple[Exact, Exact],
    across: int,
    down: int,
    w: Exact,
    more: int,
    size: tuple[Exact, Exact],
    of: tuple[ClothLike, ClothLike],
    how: Conventions,
) -> tuple[Wanted, ...]:
    """Short r(c-1); long r-1 (framed r+1) of the width inside the frame; framed: 2 sides of the whole length."""
    inside = block[0] * across + w * (across - 1)
    rows: list[Wanted] = []
    if across > 1:
        told = f"{down} x {across - 1} = {down * (across - 1)}"
        rows.append(
            _sash("short sash", w, block[1], down * (across - 1), told, of[0], how)
        )
    if down + more:
        sum_ = f"{across} x {how.show(block[0])} + {across - 1} x {how.show(w)}"
        rows.append(long_sash("long sash", w, inside, down + more, sum_, of[0], how))
    if more > 0:
        sum_ = f"{down} x {how.show(block[1])} + {down + 1} x {how.show(w)}"
        rows.append(long_sash("side sash", w, size[1], 2, sum_, of[0], how))
    return tuple(rows)


def _sash(
    name: str,
    w: Exact,
    long: Exact,
    count: int,
    told: str,
    of: ClothLike,
    how: Conventions,
) -> Wanted:
    size = (w + 2 * how.seam, long + 2 * how.seam)
    why = f"finished {how.size(w, long)}, + {seams(how)} each way = {how.size(*size)}"
    return a_cut(name, size, count, why, how, of, then=told)


def long_sash(
    name: str,
    w: Exact,
    long: Exact,
    count: int,
    sum_: str,
    of: ClothLike,
    how: Conventions,
) -> Wanted:
    """Sashing between rows or down a side: as long as the quilt is, so that it may be joined.

    Parameters
    ----------
    name : of the rows
    w, long : finished width, and length, ticks
    count : how many
    sum_ : the arithmetic of the length
    of : its cloth, any where nothing is said
    how : seam and unit, and what is usual in it
    """
    width = w + 2 * how.seam
    length = long + 2 * how.seam
    why = (
        f"{sum_} + {seams(how)} = {how.show(length)}",
        f"wide {how.show(w)} + {seams(how)} = {how.show(width)}",
    )
    return a_long_part(
        name,
        (width, length),
        count,
        why,
        how,
        of,
        stands="along" if name == "side sash" else "across",
    )


def side_square(block: Length, how: Conventions = DEFAULT) -> tuple[Exact, str]:
    """Square for four side triangles of an on-point quilt, exactly, and the sum that gives it.

    Their long side is the diagonal of the block, f√2, and lies on the straight grain along the edge.
    """
    f = how.read(block, "block")
    if how.setting_triangles == "exact":
        by = how.exact_quarter
    else:
        by = exact(how.rule_quarter)
    return _setting_square(f * ROOT2, f"{how.show(f)} x 1.4142", by, how)


def corner_square(block: Length, how: Conventions = DEFAULT) -> tuple[Exact, str]:
    """Square for two corner triangles, exactly, and the sum: legs of half the diagonal, f/√2."""
    f = how.read(block, "block")
    if how.setting_triangles == "exact":
        by = how.exact_half
    else:
        by = exact(how.rule_half)
    return _setting_square(f / ROOT2, f"{how.show(f)} / 1.4142", by, how)


def _setting_square(
    finished: Exact, told: str, by: Exact, how: Conventions
) -> tuple[Exact, str]:
    total = finished + by + how.float_by
    if how.float_by:
        floats = f" + {how.show(how.float_by)} to float"
    else:
        floats = ""
    return total, f"square of {told} + {how.show(by)}{floats} = {how.show(total)}"


def on_point(
    block: Length,
    across: int,
    down: int,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
) -> Made:
    """Square blocks on their corners, `across` by `down` along the edges, with side and corner triangles.

    W = n f√2, H = m f√2; nm + (n-1)(m-1) blocks, 2(n-1) + 2(m-1) side triangles, 4 corners. Where the setting
    triangles are cut larger by d (`float_by`) the edge lies d/2 further out on each side.

    Parameters
    ----------
    block : finished side
    across, down : how many along the edges
    of : cloth of the triangles
    how : seam and unit, and what is usual in it
    """
    counted("across", across)
    counted("down", down)
    f = how.read(block, "block")
    blocks = on_point_blocks(across, down)
    notes = [
        f"on point: {across} x {down} + {across - 1} x {down - 1} = {blocks} blocks"
    ]
    if how.float_by:
        notes.append(
            f"the blocks float by {how.show(exact(how.float_by) / 2)} on every side: trim the edge straight"
        )
    d = exact(how.float_by)
    return Made(
        wanted=tuple(_setting_triangles(f, across, down, of, how)),
        width=across * f * ROOT2 + d,
        length=down * f * ROOT2 + d,
        notes=tuple(notes),
    )


def _setting_triangles(
    f: Exact, across: int, down: int, of: ClothLike, how: Conventions
) -> Iterator[Wanted]:
    """Side triangles, where there are any, and those of the four corners."""
    count = 2 * (across - 1) + 2 * (down - 1)
    if count:
        side, why = side_square(f, how)
        yield a_cut(
            "side triangles",
            (side, side),
            how_many(count, 4),
            why,
            how,
            of,
            "cut twice, on both diagonals",
            then=f"2 x {across - 1} + 2 x {down - 1} = {count} triangles, 4 from a square",
        )
    corner, why = corner_square(f, how)
    yield a_cut(
        "corner triangles",
        (corner, corner),
        2,
        why,
        how,
        of,
        "cut once",
        then="4, 2 from a square",
    )


def on_point_blocks(across: int, down: int) -> int:
    """How many blocks an on-point setting takes."""
    return across * down + (across - 1) * (down - 1)
