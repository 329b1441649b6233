"""Half-rectangle triangles: units of two right-angled triangles that are not half a square."""

from __future__ import annotations

from cutopt.fabric import counted
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import Exact, how_many, square_root
from cutopt.quilt.wanted_parts import ANY, Made, Pair, a_cut, come_of_it


def half_rectangle(
    width: Length, length: Length, how: Conventions = DEFAULT
) -> tuple[Exact, Exact]:
    """The rectangle that is cut on one diagonal into two such triangles, seams included.

    A right-angled triangle with legs w and h has inradius r = (w + h - √(w² + h²)) / 2; a seam s all round adds s to it,
    so that both legs grow by (r + s) / r (arithmetic identity).

    Parameters
    ----------
    width, length : finished legs
    how : the seam
    """
    w = how.read(width, "width")
    h = how.read(length, "length")
    long = square_root((w * w + h * h).plain)
    inradius = (w + h - long) / 2
    grown = (inradius + how.seam) / inradius
    return w * grown, h * grown


def half_rectangle_triangles(
    name: str,
    size: tuple[Length, Length],
    count: int,
    of: Pair = ANY,
    how: Conventions = DEFAULT,
    *,
    leaning_left: bool = False,
) -> Made:
    """`count` units of a finished width and length, one triangle from each of two fabrics.

    Two triangles come from a rectangle. The diagonal of a unit leans one way: units that lean the other way are
    no turned ones, and want rectangles that are cut on the other diagonal.

    Parameters
    ----------
    name : of the rows
    size : finished width and length of a unit
    count : how many units
    of : the two fabrics
    how : seam, grid and spares
    leaning_left : whether the diagonal runs from the lower right corner to the upper left one
    """
    counted("count", count)
    w = how.read(size[0], "width")
    h = how.read(size[1], "length")
    cut = half_rectangle(w, h, how)
    n = how_many(count, 2)
    why = f"finished {how.size(w, h)}, seams all round: {how.size(*cut)}"
    then = f"2 triangles from each, {count} units: {n} of each fabric"
    ends = (
        "lower right to the upper left"
        if leaning_left
        else "lower left to the upper right"
    )
    note = (
        f"right side up, in one layer, cut once on the diagonal from the {ends} corner; trim the units to "
        f"{how.size(w + 2 * how.seam, h + 2 * how.seam)}, the seam through the corners of the finished size"
    )
    rows = tuple(
        a_cut(f"{name} {word}", cut, n, why, how, cloth, note, then=then)
        for word, cloth in zip(("first", "second"), of, strict=True)
    )
    notes = come_of_it(name, "units", 2 * n, count)
    return Made(wanted=rows, width=w, length=h, notes=notes)


__all__ = ["half_rectangle", "half_rectangle_triangles"]
