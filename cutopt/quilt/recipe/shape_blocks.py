"""Blocks of shapes that are no rectangles, or are cut larger at first. Loose shapes have no place in a setting."""

from __future__ import annotations

from cutopt.quilt import shirts as shirt_sums
from cutopt.quilt.conventions import Conventions, Length
from cutopt.quilt.recipe.block import Block, Cloths, Patch, box
from cutopt.quilt.shapes import boxes, halves, motifs
from cutopt.quilt.shapes.rows import rows_of
from cutopt.quilt.shapes.sixty import Angled, By, in_strip
from cutopt.quilt.shapes.tumblers import tumbler
from cutopt.quilt.surds import Exact
from cutopt.quilt.wanted_parts import ClothLike, cloth


def _first(of: Cloths) -> ClothLike:
    if of:
        return of[0]
    return None


def in_strips(
    name: str,
    count: int,
    kind: Angled,
    size: Length,
    of: Cloths,
    how: Conventions,
    *,
    by: By | None = None,
    to_a_strip: int | None = None,
) -> Block:
    """Loose shapes that are cut from strips.

    Parameters
    ----------
    name : of the rows
    count : how many shapes
    kind : of shape
    size : its height, its side, or that of the strip
    of : its cloth
    how : seam and unit, and what is usual in it
    by : what the size says; None for what is usual
    to_a_strip : how many are cut from one strip; None for as many as the usual cloth is wide
    """
    choice = cloth(_first(of))
    shape = in_strip(kind, size, how, by, alike=choice.upright)
    made = rows_of(name, shape, count, choice, how, to_a_strip)
    return Block(name=name, count=count, made=made)


def tumblers(
    name: str,
    count: int,
    size: tuple[Length, Length, Length],
    of: Cloths,
    how: Conventions,
    *,
    to_a_strip: int | None = None,
) -> Block:
    """Loose tumblers.

    Parameters
    ----------
    name : of the rows
    count : how many
    size : finished width, height, and width of the narrow edge
    of : its cloth
    how : seam and unit, and what is usual in it
    to_a_strip : how many are cut from one strip; None for as many as the usual cloth is wide
    """
    choice = cloth(_first(of))
    shape = tumbler(*size, how, alike=choice.upright)
    made = rows_of(name, shape, count, choice, how, to_a_strip)
    return Block(name=name, count=count, made=made)


def by_box(
    name: str,
    count: int,
    size: tuple[Length, Length],
    of: Cloths,
    how: Conventions,
    *,
    kind: boxes.Round,
    extra: Length | None = None,
) -> Block:
    """Loose shapes by their box.

    Parameters
    ----------
    name : of the rows
    count : how many
    size : width and length over all of the shape
    of : its cloth
    how : seam and unit, and what is usual in it
    kind : how it is sewn
    extra : on each side, None for what is usual
    """
    made = boxes.in_boxes(name, size, count, _first(of), how, kind, extra)
    return Block(name=name, count=count, made=made)


def over_papers(
    name: str,
    count: int,
    side: Length,
    of: Cloths,
    how: Conventions,
    *,
    extra: Length | None = None,
) -> Block:
    """Loose hexagons that are basted over papers.

    Parameters
    ----------
    name : of the rows
    count : how many
    side : of the paper
    of : its cloth
    how : unit, and what is usual in it
    extra : to fold over, None for what is usual
    """
    made = boxes.paper_hexagons(name, side, count, _first(of), how, extra)
    return Block(name=name, count=count, made=made)


def half_rectangles(
    name: str,
    count: int,
    size: tuple[Length, Length],
    of: Cloths,
    how: Conventions,
    *,
    leaning_left: bool = False,
) -> Block:
    """Half-rectangle triangle units.

    Parameters
    ----------
    name : of the rows
    count : how many units
    size : finished width and length
    of : its two cloths
    how : seam and unit, and what is usual in it
    leaning_left : whether the diagonal runs from the lower right corner to the upper left one
    """
    first = _first(of)
    second = of[1] if len(of) > 1 else first
    made = halves.half_rectangle_triangles(
        name, size, count, (first, second), how, leaning_left=leaning_left
    )
    one, other = (row.key for row in made.wanted)
    if leaning_left:
        corners = ((1, 0), (1, 1), (0, 1)), ((0, 0), (1, 0), (0, 1))
    else:
        corners = ((0, 0), (1, 1), (0, 1)), ((0, 0), (1, 0), (1, 1))
    patches = Patch(row=one, corners=corners[0]), Patch(row=other, corners=corners[1])
    return Block(name=name, count=count, made=made, patches=patches)


def fussy(
    name: str,
    count: int,
    size: tuple[Exact, Exact],
    repeat: tuple[Length, Length],
    of: Cloths,
    how: Conventions,
    *,
    to_a_piece: int | None = None,
) -> Block:
    """Squares and rectangles with a motif in the middle.

    Parameters
    ----------
    name : of the rows
    count : how many
    size : finished width and length
    repeat : of the motif, across the fabric and along the selvage
    of : its cloth
    how : seam and unit, and what is usual in it
    to_a_piece : how many come from one rectangle, None for all
    """
    made = motifs.fussy_cuts(name, size, count, repeat, _first(of), how, to_a_piece)
    patch = Patch(row=made.wanted[0].key, corners=box(0, 0, 1, 1))
    return Block(name=name, count=count, made=made, patches=(patch,))


def shirts(
    name: str, count: int, size: tuple[Length, Length], of: Cloths, how: Conventions
) -> Block:
    """Blocks from shirts, with interfacing.

    Parameters
    ----------
    name : of the rows
    count : how many
    size : finished width and length
    of : shirts and interfacing
    how : seam and unit, and what is usual in it
    """
    made = shirt_sums.shirt_blocks(name, size, count, (of[0], of[1]), how)
    patch = Patch(row=made.wanted[0].key, corners=box(0, 0, 1, 1))
    return Block(name=name, count=count, made=made, patches=(patch,))
