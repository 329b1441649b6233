"""Blocks that stand on their corners: how many, the triangles round them, and sashing between them.

n by m blocks of side f along the edges: nm + (n-1)(m-1) blocks, 2(n-1) + 2(m-1) side triangles and 4 of the corners fill
W = n f√2 by H = m f√2. With sashing w round every block the diagonals are those of f + w, and the triangles stay as they
are: half a sash lies on either leg of each, so its legs are f + w less two halves of w. Arithmetic identities.
"""

from __future__ import annotations

from collections.abc import Iterator

from cutopt.errors import Problem
from cutopt.fabric import counted
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.sashes import Sashes
from cutopt.quilt.sashing import all_round, cornerstones, short_sashes
from cutopt.quilt.surds import ROOT2, ZERO, Exact, exact, how_many
from cutopt.quilt.wanted_parts import ClothLike, Made, a_cut, cloth
from cutopt.wanted import Wanted


def on_point_blocks(across: int, down: int) -> int:
    """How many blocks an on-point setting takes."""
    return across * down + (across - 1) * (down - 1)


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
    corners: ClothLike = None,
    sashes: Sashes | None = None,
) -> Made:
    """Square blocks on their corners, `across` by `down` along the edges, with side and corner triangles.

    Where the setting triangles are cut larger by d (`float_by`) the edge lies d/2 further out on each side.

    Parameters
    ----------
    block : finished side
    across, down : how many along the edges
    of : cloth of the side triangles
    how : seam and unit, and what is usual in it
    corners : cloth of the corner triangles; None for that of the others
    sashes : what lies round every block

    Raises
    ------
    Problem
        Where sashed blocks are to float, or cloth of triangles has to stand up.
    """
    counted("across", across)
    counted("down", down)
    f = how.read(block, "block")
    d = exact(how.float_by)
    w = ZERO
    rows: list[Wanted] = []
    if sashes is not None:
        w = sashes.width(how)
        rows += _sashed(f, across, down, sashes, how)
    rows += _setting_triangles(
        f, across, down, (of, of if corners is None else corners), how
    )
    return Made(
        wanted=tuple(rows),
        width=across * (f + w) * ROOT2 + d,
        length=down * (f + w) * ROOT2 + d,
        notes=_notes(across, down, how),
    )


def _notes(across: int, down: int, how: Conventions) -> tuple[str, ...]:
    blocks = on_point_blocks(across, down)
    count = f"on point: {across} x {down} + {across - 1} x {down - 1} = {blocks} blocks"
    if not how.float_by:
        return (count,)
    by = how.show(exact(how.float_by) / 2)
    floats = f"the blocks float by {by} on every side: trim the edge straight"
    return count, floats


def _setting_triangles(
    f: Exact,
    across: int,
    down: int,
    of: tuple[ClothLike, ClothLike],
    how: Conventions,
) -> Iterator[Wanted]:
    """Side triangles, where there are any, and those of the four corners."""
    for each in of:
        _refuse_upright(each, "the four triangles of a square look four ways")
    count = 2 * (across - 1) + 2 * (down - 1)
    if count:
        side, why = side_square(f, how)
        yield a_cut(
            "side triangles",
            (side, side),
            how_many(count, 4),
            why,
            how,
            of[0],
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
        of[1],
        "cut once",
        then="4, 2 from a square",
    )


def _refuse_upright(of: ClothLike, why: str) -> None:
    """Round blocks on point no print stands up."""
    if cloth(of).upright:
        what = f"{why}, so that a print does not stand up on all"
        raise Problem("upright", what, "leave out upright")


def _sashed(
    f: Exact, across: int, down: int, sashes: Sashes, how: Conventions
) -> Iterator[Wanted]:
    """Sashes round every block, cornerstones where they meet, and halves of these along the edge.

    4nm sashes, 2nm - n - m cornerstones, and 2n + 2m halves, whose long side w√2 lies along the edge.
    """
    if not sashes.cornerstones:
        what = "sashing on point meets in cornerstones here"
        mend = "leave out without cornerstones: they may be of the cloth of the sashing"
        raise Problem("setting", what, mend)
    if how.float_by:
        what = "blocks with sashing on point are not made to float here"
        raise Problem("float_by", what, "take it out, or leave out the sashing")
    for each in (sashes.upright, sashes.posts):
        _refuse_upright(each, "sashing on point runs askew")
    count = 4 * across * down
    run = all_round(f, count, f"4 x {across} x {down}", sashes.upright)
    yield from short_sashes(run, sashes, how)
    inside = 2 * across * down - across - down
    if inside:
        told = f"2 x {across} x {down} - {across} - {down} = {inside}"
        yield cornerstones(inside, told, sashes, how)
    halves = 2 * (across + down)
    side, why = side_square(sashes.width(how), how)
    yield a_cut(
        "edge cornerstones",
        (side, side),
        how_many(halves, 4),
        why,
        how,
        sashes.posts,
        "cut twice, on both diagonals: half cornerstones along the edge",
        then=f"2 x {across} + 2 x {down} = {halves} triangles, 4 from a square",
    )
