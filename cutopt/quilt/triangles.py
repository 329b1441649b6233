"""Triangles: half and quarter squares, flying geese, and a square in a square, sewn from squares.

Finished sizes go in, seams not counted; the sums are arithmetic identities, the allowances of the `triangles` setting
aside. Which squares are cut on which diagonal stands in the note of the row.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

from cutopt.fabric import counted, one_of
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import ROOT2, Exact, Number, exact, how_many
from cutopt.quilt.units import seams
from cutopt.quilt.wanted_parts import (
    ANY,
    ClothLike,
    Made,
    Pair,
    Triangles,
    a_cut,
    come_of_it,
)

Ways: TypeAlias = Literal[
    "cut once", "two at a time", "four at a time", "eight at a time"
]


def half_allowance(how: Conventions) -> tuple[Exact, str]:
    """What a half-square triangle needs beyond its finished side, by the setting, and how it is told."""
    by = {
        "exact": how.exact_half,
        "rule": exact(how.rule_half),
        "oversize": exact(how.over_half),
    }[how.triangles]
    return by, how.show(by)


def quarter_allowance(how: Conventions) -> tuple[Exact, str]:
    """The same for a quarter-square triangle and its finished long side."""
    by = {
        "exact": how.exact_quarter,
        "rule": exact(how.rule_quarter),
        "oversize": exact(how.over_quarter),
    }
    return by[how.triangles], how.show(by[how.triangles])


def half_square_triangles(
    name: str,
    side: Length,
    count: int,
    of: Pair = ANY,
    how: Conventions = DEFAULT,
    method: Ways = "two at a time",
) -> Made:
    """`count` half-square triangle units, of one finished side, half from each of two fabrics.

    ================  ==========================  ============================
    method            squares of each fabric      their side
    ================  ==========================  ============================
    cut once          one for two units           side + allowance
    two at a time     one for two units           side + allowance
    four at a time    one for four units          √2 (side + 2 seams) + 2 seams
    eight at a time   one for eight units         2 (side + allowance)
    ================  ==========================  ============================

    Parameters
    ----------
    name : of the rows
    side : finished
    count : how many units
    of : the two fabrics
    how : seam, and the allowance for triangles
    method : how the units are made
    """
    one_of(
        "method",
        method,
        ("cut once", "two at a time", "four at a time", "eight at a time"),
    )
    counted("count", count)
    f = how.read(side, "side")
    square, why, note = _half_square(f, how, method)
    each = {
        "cut once": 2,
        "two at a time": 2,
        "four at a time": 4,
        "eight at a time": 8,
    }[method]
    n = how_many(count, each)
    then = f"{each} units from a pair of squares, {count} units: {n} of each fabric"
    rows = tuple(
        a_cut(f"{name} {word}", (square, square), n, why, how, cloth, note, then=then)
        for word, cloth in zip(("first", "second"), of, strict=True)
    )
    return Made(
        wanted=rows, width=f, length=f, notes=come_of_it(name, "units", n * each, count)
    )


def _half_square(f: Exact, how: Conventions, method: Ways) -> tuple[Exact, str, str]:
    """The side of the square, the sum that gives it, and how it is cut."""
    by, told = half_allowance(how)
    raw = f + 2 * how.seam
    trim = f"; trim the units to {how.show(raw)}"
    if method == "eight at a time":
        square = 2 * (f + by)
        return (
            square,
            f"2 x ({how.show(f)} + {told}) = {how.show(square)}",
            "sewn in pairs, both diagonals" + trim,
        )
    if method == "four at a time":
        square = ROOT2 * raw + 2 * how.seam
        why = f"{how.show(raw)} x 1.4142 + {seams(how)} = {how.show(square)}"
        return (
            square,
            why,
            "sewn in pairs round the edge, then cut on both diagonals: outer edges are bias"
            + trim,
        )
    square = f + by
    why = f"{how.show(f)} + {told} = {how.show(square)}"
    if method == "cut once":
        return square, why, "cut once on the diagonal"
    return square, why, "sewn in pairs either side of a diagonal, then cut on it" + trim


def unit_of_two(square: Number, how: Conventions = DEFAULT) -> Exact:
    """Unfinished side of the two units that a pair of squares gives, before trimming: less s√2."""
    return exact(square) - how.seam * ROOT2


def unit_of_four(square: Number, how: Conventions = DEFAULT) -> Exact:
    """Unfinished side of the four units from a pair sewn round the edge: (a - 2s)/√2."""
    return (exact(square) - 2 * how.seam) / ROOT2


def largest_of_eight(square: Number, how: Conventions = DEFAULT) -> Exact:
    """The largest finished side of eight units from a pair of squares: half of it less the allowance."""
    return exact(square) / 2 - half_allowance(how)[0]


def quarter_square_triangles(
    name: str,
    long_side: Length,
    count: int,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
) -> Made:
    """`count` triangles of one finished long side, four from a square; the long side is on the straight grain.

    Parameters
    ----------
    name : of the rows
    long_side : finished
    count : how many triangles
    of : its cloth, any where nothing is said
    how : seam, and the allowance for triangles
    """
    counted("count", count)
    f = how.read(long_side, "long_side")
    by, told = quarter_allowance(how)
    n = how_many(count, 4)
    why = f"{how.show(f)} + {told} = {how.show(f + by)}"
    then = f"4 from a square, {count} triangles: {n}"
    row = a_cut(
        name,
        (f + by, f + by),
        n,
        why,
        how,
        of,
        "cut twice, on both diagonals",
        then=then,
    )
    return Made(wanted=(row,), width=f, length=f / 2)


def hourglasses(
    name: str, side: Length, count: int, of: Pair = ANY, how: Conventions = DEFAULT
) -> Made:
    """`count` units of four quarter-square triangles from two fabrics, two at a time from a pair of squares.

    Parameters
    ----------
    name : of the rows
    side : finished
    count : how many units
    of : the two fabrics
    how : seam, and the allowance for triangles
    """
    counted("count", count)
    f = how.read(side, "side")
    by, told = quarter_allowance(how)
    n = how_many(count, 2)
    why = f"{how.show(f)} + {told} = {how.show(f + by)}"
    then = f"2 units from a pair of squares, {count} units: {n} of each"
    note = f"sewn in pairs to half-square triangles, those again; trim to {how.show(f + 2 * how.seam)}"
    rows = (
        a_cut(f"{name} first", (f + by, f + by), n, why, how, of[0], note, then=then),
        a_cut(f"{name} second", (f + by, f + by), n, why, how, of[1], note, then=then),
    )
    return Made(wanted=rows, width=f, length=f)


def flying_geese(
    name: str,
    width: Length,
    count: int,
    of: Pair = ANY,
    how: Conventions = DEFAULT,
    method: Literal["no waste", "stitch and flip"] = "no waste",
) -> Made:
    """`count` geese, `width` by half of it finished; `of` is the goose and the sky.

    No waste, four at a time: one square of width + 1.21 and four of height + 0.85 (seams of 1/4 in). Stitch and
    flip: a rectangle and two squares for each; the corners that are cut off are counted as spare triangles.

    Parameters
    ----------
    name : of the rows
    width : finished
    count : how many geese
    of : cloth of the goose, and of the sky
    how : seam, and the allowance for triangles
    method : how they are made
    """
    one_of("method", method, ("no waste", "stitch and flip"))
    counted("count", count)
    w = how.read(width, "width")
    if method == "no waste":
        made = _no_waste
    else:
        made = _stitch_and_flip
    return made(name, w, count, of, how)


def _no_waste(name: str, w: Exact, count: int, of: Pair, how: Conventions) -> Made:
    h = w / 2
    goose = w + quarter_allowance(how)[0]
    sky = h + half_allowance(how)[0]
    n = how_many(count, 4)
    told = f"4 geese from 1 goose square and 4 sky squares, {count} geese"
    trim = f"trim to {how.size(h + 2 * how.seam, w + 2 * how.seam)}"
    why = f"{how.show(w)} + {quarter_allowance(how)[1]} = {how.show(goose)}"
    why_sky = f"{how.show(h)} + {half_allowance(how)[1]} = {how.show(sky)}"
    rows = (
        a_cut(
            f"{name} goose",
            (goose, goose),
            n,
            why,
            how,
            of[0],
            f"four at a time; {trim}",
            then=f"{told}: {n}",
        ),
        a_cut(
            f"{name} sky",
            (sky, sky),
            4 * n,
            why_sky,
            how,
            of[1],
            "4 to a goose square",
            then=f"{told}: {4 * n}",
        ),
    )
    return Made(
        wanted=rows, width=w, length=h, notes=come_of_it(name, "geese", 4 * n, count)
    )


def _stitch_and_flip(
    name: str, w: Exact, count: int, of: Pair, how: Conventions
) -> Made:
    h = w / 2
    goose = (w + 2 * how.seam, h + 2 * how.seam)
    sky = h + 2 * how.seam
    # a seam beyond the line of stitches
    leg = sky - how.seam * ROOT2
    why = f"finished {how.size(w, h)}, + {seams(how)} each way = {how.size(*goose)}"
    why_sky = f"as high as the goose: {how.show(h)} + {seams(how)} = {how.show(sky)}"
    rows = (
        a_cut(f"{name} goose", goose, count, why, how, of[0]),
        a_cut(
            f"{name} sky",
            (sky, sky),
            2 * count,
            why_sky,
            how,
            of[1],
            "sewn on the diagonal, then flipped",
            then=f"2 for each of {count} geese",
        ),
    )
    told = f"{how.show(sky)} - {how.show(how.seam)} x 1.4142 = {how.show(leg)}, two of each fabric from every goose"
    spare = tuple(
        Triangles(name=f"{name} {word} corner", leg=leg, count=2 * count, why=told)
        for word in ("goose", "sky")
    )
    return Made(wanted=rows, width=w, length=h, spare=spare)


def corners_sewn_over(
    name: str, leg: Length, count: int, of: ClothLike = None, how: Conventions = DEFAULT
) -> Made:
    """`count` squares that are sewn on their diagonal to a corner of a patch and flipped: a triangle there.

    The line of stitches runs from edge to edge of the patch, each a seam outside of what is seen: a square of the
    finished leg and two seams. What is cut off are two spare triangles, one of each fabric.

    Parameters
    ----------
    name : of the row
    leg : finished, along the edges of the patch
    count : how many corners
    of : their cloth, any where nothing is said
    how : seam and unit, and what is usual in it
    """
    counted("count", count)
    f = how.read(leg, "leg")
    square = f + 2 * how.seam
    why = f"corner of {how.show(f)} + {seams(how)} = {how.show(square)}"
    row = a_cut(
        name,
        (square, square),
        count,
        why,
        how,
        of,
        "sewn on the diagonal, then flipped",
    )
    # a seam beyond the line of stitches
    left = square - how.seam * ROOT2
    told = f"{how.show(square)} - {how.show(how.seam)} x 1.4142 = {how.show(left)}, one of each fabric from every corner"
    spare = Triangles(name=name, leg=left, count=2 * count, why=told)
    return Made(wanted=(row,), width=f, length=f, spare=(spare,))


def square_in_a_square(
    name: str, block: Length, count: int, of: Pair = ANY, how: Conventions = DEFAULT
) -> Made:
    """`count` blocks: a centre square on point and four corner triangles; `of` is centre and corners.

    Parameters
    ----------
    name : of the rows
    block : finished side
    count : how many blocks
    of : cloth of the centre, and of the corners
    how : seam, and the allowance for triangles
    """
    counted("count", count)
    b = how.read(block, "block")
    centre = b / ROOT2 + 2 * how.seam
    corner = b / 2 + half_allowance(how)[0]
    why = f"{how.show(b)} / 1.4142 + {seams(how)} = {how.show(centre)}"
    why_corner = f"{how.show(b)} / 2 + {half_allowance(how)[1]} = {how.show(corner)}"
    rows = (
        a_cut(f"{name} centre", (centre, centre), count, why, how, of[0]),
        a_cut(
            f"{name} corner",
            (corner, corner),
            2 * count,
            why_corner,
            how,
            of[1],
            "cut once on the diagonal",
            then=f"2 squares for each of {count} blocks",
        ),
    )
    return Made(wanted=rows, width=b, length=b)
