"""Blocks of a recipe: what they need, and how they look, patch by patch, so that the quilt itself can be drawn.

Every function wraps the arithmetic of :mod:`cutopt.quilt` and adds the picture. Corners of patches are shares of
the finished block, 0 to 1 from its lower left corner, exactly.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Final

from cutopt.quilt import block_sums, strip_sets, triangles, units
from cutopt.quilt.conventions import Conventions, Length
from cutopt.quilt.recipe.block import Block, Cloths, Patch, box
from cutopt.quilt.recipe.fill import Share
from cutopt.quilt.surds import Exact, exact
from cutopt.quilt.wanted_parts import ClothLike
from cutopt.wanted import Wanted

_HALF: Final = Fraction(1, 2)


def share(part: Exact, whole: Exact) -> Fraction:
    """A part of a length, as a share of it; finished sizes along the sides of a block have no √2."""
    return (part / whole).plain


def _of(row: Wanted, *corners: Share) -> Patch:
    return Patch(row=row.key, corners=corners)


def _two(of: Cloths) -> tuple[ClothLike, ClothLike]:
    if of:
        first = of[0]
    else:
        first = None
    return first, of[1] if len(of) > 1 else first


def _three(of: Cloths) -> tuple[ClothLike, ClothLike, ClothLike]:
    first, second = _two(of)
    return first, second, of[2] if len(of) > 2 else second


def plain(
    name: str, count: int, size: tuple[Length, Length], of: Cloths, how: Conventions
) -> Block:
    """Squares and rectangles.

    Parameters
    ----------
    name : of the rows
    count : how many blocks
    size : finished width and length
    of : its cloths
    how : seam and unit, and what is usual in it
    """
    made = units.rectangles(name, size[0], size[1], count, of[0] if of else None, how)
    return Block(
        name=name,
        count=count,
        made=made,
        patches=(_of(made.cuts[0], *box(0, 0, 1, 1)),),
    )


def checkered(
    name: str, count: int, size: Length, parts: int, of: Cloths, how: Conventions
) -> Block:
    """Four patch (2 parts) and nine patch (3): the first cloth has the corners.

    Parameters
    ----------
    name : of the rows
    count : how many blocks
    size : finished side
    parts : squares along a side
    of : its cloths
    how : seam and unit, and what is usual in it
    """
    made = (block_sums.four_patch if parts == 2 else block_sums.nine_patch)(
        name, size, count, _two(of), how
    )
    each = (parts * parts + 1) // 2, parts * parts // 2
    rows = (_counted(row, n, count) for row, n in zip(made.wanted, each, strict=True))
    made = replace(made, wanted=tuple(rows))
    step = Fraction(1, parts)
    patches = tuple(
        _of(
            made.cuts[(i + j) % 2],
            *box(i * step, j * step, (i + 1) * step, (j + 1) * step),
        )
        for j in range(parts)
        for i in range(parts)
    )
    return Block(name=name, count=count, made=made, patches=patches)


def _counted(row: Wanted, each: int, blocks: int) -> Wanted:
    """The row with the sum of its count behind that of its size."""
    return replace(row, why=f"{row.why}; {each} to each of {blocks} blocks")


def half_squares(
    name: str,
    count: int,
    size: Length,
    of: Cloths,
    how: Conventions,
    method: triangles.Ways,
) -> Block:
    """Half-square triangle units.

    Parameters
    ----------
    name : of the rows
    count : how many blocks
    size : finished side
    of : its cloths
    how : seam and unit, and what is usual in it
    method : how the units are made
    """
    made = triangles.half_square_triangles(name, size, count, _two(of), how, method)
    first, second = made.cuts
    halves = _of(first, (0, 0), (1, 1), (0, 1)), _of(second, (0, 0), (1, 0), (1, 1))
    return Block(name=name, count=count, made=made, patches=halves)


def hourglasses(
    name: str, count: int, size: Length, of: Cloths, how: Conventions
) -> Block:
    """Four quarter-square triangles to a unit.

    Parameters
    ----------
    name : of the rows
    count : how many blocks
    size : finished side
    of : its cloths
    how : seam and unit, and what is usual in it
    """
    made = triangles.hourglasses(name, size, count, _two(of), how)
    first, second = made.cuts
    mid = (_HALF, _HALF)
    sides = (
        _of(first, (0, 0), (1, 0), mid),
        _of(second, (1, 0), (1, 1), mid),
        _of(first, (1, 1), (0, 1), mid),
        _of(second, (0, 1), (0, 0), mid),
    )
    return Block(name=name, count=count, made=made, patches=sides)


def quarter_squares(
    name: str, count: int, size: Length, of: Cloths, how: Conventions
) -> Block:
    """Loose quarter-square triangles; they are not set.

    Parameters
    ----------
    name : of the rows
    count : how many triangles
    size : finished long side
    of : its cloths
    how : seam and unit, and what is usual in it
    """
    made = triangles.quarter_square_triangles(
        name, size, count, of[0] if of else None, how
    )
    return Block(name=name, count=count, made=made)


def geese(
    name: str,
    count: int,
    size: Length,
    of: Cloths,
    how: Conventions,
    *,
    no_waste: bool = True,
) -> Block:
    """Flying geese, twice as wide as high.

    Parameters
    ----------
    name : of the rows
    count : how many blocks
    size : finished width
    of : its cloths
    how : seam and unit, and what is usual in it
    no_waste : whether four are made at a time
    """
    made = triangles.flying_geese(
        name, size, count, _two(of), how, "no waste" if no_waste else "stitch and flip"
    )
    goose, sky = made.cuts
    patches = (
        _of(goose, (0, 0), (1, 0), (_HALF, 1)),
        _of(sky, (0, 0), (_HALF, 1), (0, 1)),
        _of(sky, (1, 0), (1, 1), (_HALF, 1)),
    )
    return Block(name=name, count=count, made=made, patches=patches)


def square_in_square(
    name: str, count: int, size: Length, of: Cloths, how: Conventions
) -> Block:
    """A square on point in a square.

    Parameters
    ----------
    name : of the rows
    count : how many blocks
    size : finished side
    of : its cloths
    how : seam and unit, and what is usual in it
    """
    made = triangles.square_in_a_square(name, size, count, _two(of), how)
    centre, corner = made.cuts
    mids = ((_HALF, 0), (1, _HALF), (_HALF, 1), (0, _HALF))
    ends = ((1, 0), (1, 1), (0, 1), (0, 0))
    corners = tuple(_of(corner, mids[i], ends[i], mids[(i + 1) % 4]) for i in range(4))
    return Block(
        name=name, count=count, made=made, patches=(_of(centre, *mids), *corners)
    )


def disappearing(
    name: str,
    count: int,
    cut: Length,
    of: Cloths,
    how: Conventions,
    turned: block_sums.Turned = "as cut",
) -> Block:
    """Units of a nine patch cut in four and sewn back; `turned` says how they are turned.

    Parameters
    ----------
    name : of the rows
    count : how many units
    cut : side of a square as cut
    of : its cloths
    how : seam and unit, and what is usual in it
    turned : how the units are turned
    """
    made = block_sums.disappearing_nine_patch(name, cut, count, _three(of), how)
    corner, edge, centre = made.cuts
    nine = block_sums.NinePatchCut.of(exact(corner.width), how.seam)
    at = share(nine.half, nine.finished)
    patches = (
        _of(corner, *box(0, at, 1 - at, 1)),
        _of(edge, *box(1 - at, at, 1, 1)),
        _of(edge, *box(0, 0, 1 - at, at)),
        _of(centre, *box(1 - at, 0, 1, at)),
    )
    return Block(name=name, count=count, made=made, patches=patches, turns=turned)


def log_cabins(
    name: str,
    count: int,
    centre: Length,
    log: Length,
    rounds: int,
    of: Cloths,
    how: Conventions,
) -> Block:
    """Log cabins: light logs below and to the right, dark ones above and to the left.

    Parameters
    ----------
    name : of the rows
    count : how many blocks
    centre, log : finished side of the centre, and width of a log
    rounds : of four logs
    of : its cloths
    how : seam and unit, and what is usual in it
    """
    made = block_sums.log_cabin(name, centre, log, rounds, count, _three(of), how)
    c = share(how.read(centre), made.width)
    w = share(how.read(log), made.width)
    x1 = y1 = (1 - c) / 2
    x2 = y2 = (1 + c) / 2
    patches = [_of(made.cuts[0], *box(x1, y1, x2, y2))]
    for i, row in enumerate(made.cuts[1:]):
        if i % 4 == 0:
            patches.append(_of(row, *box(x1, y1 - w, x2, y1)))
            y1 -= w
        elif i % 4 == 1:
            patches.append(_of(row, *box(x2, y1, x2 + w, y2)))
            x2 += w
        elif i % 4 == 2:
            patches.append(_of(row, *box(x1, y2, x2, y2 + w)))
            y2 += w
        else:
            patches.append(_of(row, *box(x1 - w, y1, x1, y2)))
            x1 -= w
    return Block(name=name, count=count, made=made, patches=tuple(patches))


def segments(
    name: str,
    count: int,
    widths: tuple[Length, ...],
    segment: Length,
    of: Cloths,
    how: Conventions,
) -> Block:
    """Segments of a strip set: the strips lie side by side.

    Parameters
    ----------
    name : of the rows
    count : how many segments
    widths : finished width of each strip
    segment : finished length of a segment
    of : its cloths
    how : seam and unit, and what is usual in it
    """
    made = strip_sets.strip_set(name, widths, segment, count, of, how)
    patches = []
    at = Fraction(0)
    for i, width in enumerate(widths):
        row = next(
            row
            for row in made.cuts
            if row.name in (f"{name} strip {i + 1}", f"{name} strip {i + 1} short")
        )
        wide = share(how.read(width), made.width)
        patches.append(_of(row, *box(at, 0, at + wide, 1)))
        at += wide
    return Block(name=name, count=count, made=made, patches=tuple(patches))
