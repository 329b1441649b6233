"""Blocks whose widths are said: a plus, and a square with strips round it."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from cutopt.errors import Problem
from cutopt.fabric import counted
from cutopt.quilt.conventions import Conventions, Length
from cutopt.quilt.pieced.panel import Panel, panel
from cutopt.quilt.pieced.pattern import (
    Pattern,
    for_each,
    off_the_marks,
    turned_where_set,
)
from cutopt.quilt.pieced.sums import Told, pieced
from cutopt.quilt.pieced.unit import patch
from cutopt.quilt.recipe.block import Block, Cloths
from cutopt.quilt.surds import Exact


def _crossed(arm: Fraction | int, wide: Fraction | int) -> Panel:
    """A bar through the middle, an arm above and below it, and a square in each corner."""
    corner = patch(arm, arm, 0, "corner")
    row = (corner, patch(wide, arm, 1, "arm"), corner)
    return panel(row, [patch(2 * arm + wide, wide, 1, "bar")], row)


PLUS: Final = Pattern(
    one="plus",
    many="pluses",
    parts=3,
    cloths=("background", "cross"),
    drawn=_crossed(1, 1),
)


def pluses(
    name: str,
    count: int,
    size: Length,
    of: Cloths,
    how: Conventions,
    wide: Length | None = None,
) -> Block:
    """A plus: a bar through the middle and an arm on each side of it.

    Parameters
    ----------
    name : of the rows
    count : how many blocks
    size : finished side
    of : background, cross
    how : seam and unit, and what is usual in it
    wide : finished width of the bar; a third of the side unless told

    Raises
    ------
    Problem
        Where the bar is as wide as the block.
    """
    if wide is None:
        return PLUS.block(name, count, size, of, how)
    side = how.read(size, "size")
    bar = how.read(wide, "plus")
    arm = (side - bar) / 2
    if bar <= 0 or arm <= 0:
        what = (
            f"a plus {how.show(bar)} wide does not go into a block of {how.show(side)}"
        )
        raise Problem("blocks", what, "make it narrower")
    crossed = _crossed(arm.plain, bar.plain)
    return _of_sizes(name, count, side, crossed, PLUS.cloths, of, how)


def framed_squares(
    name: str,
    count: int,
    middle: Length,
    strip: Length,
    of: Cloths,
    how: Conventions,
) -> Block:
    """A square with a strip round it, two at its sides first, then two across its ends.

    Parameters
    ----------
    name : of the rows
    count : how many blocks
    middle, strip : finished side of the square, and width of a strip
    of : cloth of the square, of the strips
    how : seam and unit, and what is usual in it

    Raises
    ------
    Problem
        Where one of them has no width.
    """
    inside = how.read(middle, "square")
    wide = how.read(strip, "strips")
    if inside <= 0 or wide <= 0:
        what = f"a square of {how.show(inside)} with strips of {how.show(wide)} is none"
        raise Problem("blocks", what, "write wider ones")
    square = patch(inside.plain, inside.plain, 0)
    side = patch(wide.plain, inside.plain, 1, "short")
    whole = inside + 2 * wide
    end = patch(whole.plain, wide.plain, 1, "long")
    framed = panel([end], [side, square, side], [end])
    return _of_sizes(name, count, whole, framed, ("square", "strip"), of, how)


def _of_sizes(
    name: str,
    count: int,
    side: Exact,
    drawn: Panel,
    words: tuple[str, ...],
    of: Cloths,
    how: Conventions,
) -> Block:
    """Blocks of patches whose sizes are said.

    Parameters
    ----------
    name : of the rows
    count : how many blocks
    side : finished
    drawn : its patches, in ticks
    words : of its cloths
    of : its cloths
    how : seam and unit, and what is usual in it
    """
    counted("count", count)
    cloths = for_each(of, len(words))
    told = Told(
        name=name,
        count=count,
        words=tuple(f"{name} {word}" for word in words),
        cloths=cloths,
        how=how,
        side=side,
    )
    block = pieced(drawn, told)
    notes = off_the_marks(block, drawn, 1, how)
    return turned_where_set(block, None, notes, cloths)
