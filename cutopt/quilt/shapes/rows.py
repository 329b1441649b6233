"""From shapes in a strip to wanted rows: strips of so many shapes each, and one that holds the rest."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from cutopt.errors import Problem
from cutopt.fabric import counted
from cutopt.quilt.cautions import SHARP
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.shapes.nested import Laid
from cutopt.quilt.shapes.sixty import InStrip
from cutopt.quilt.surds import Exact
from cutopt.quilt.wanted_parts import ClothLike, ClothWanted, Made, a_cut, cloth
from cutopt.wanted import Cut, Grain

_OTHER_WAY: Final[dict[Grain, Grain]] = {
    "any": "any",
    "along": "across",
    "across": "along",
}
# what is done at the mat, common practice, no source
_BY_HAND: Final = {
    "60-degree triangle": "cut the end of the strip off with the 60-degree line of the ruler on its long edge, then by "
    "turns with the ruler leaning the other way",
    "60-degree diamond": "cut the end of the strip off with the 60-degree line of the ruler on its long edge, then "
    "parallel to that cut, the ruler set to the height of the strip",
    "45-degree diamond": "cut the end of the strip off with the 45-degree line of the ruler on its long edge, then "
    "parallel to that cut, the ruler set to the height of the strip",
    "hexagon": "a hexagon touches both ends of its share of the strip with a point: cut the four corners off at 60 "
    "degrees, or cut round a template",
    "half hexagon": "lay a template by turns with its long edge below and above",
    "tumbler": "lay a template by turns with its wide edge below and above",
}
_ALIKE: Final = {
    "60-degree triangle": "all points up, so cloth is lost between them",
    "half hexagon": "all with the long edge below, so cloth is lost between them",
    "tumbler": "all with the wide edge below, so cloth is lost between them",
}


def rows_of(
    name: str,
    shape: InStrip,
    count: int,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
    to_a_strip: int | None = None,
) -> Made:
    """Strips that hold `count` shapes.

    Parameters
    ----------
    name : of the rows
    shape : how it lies in a strip
    count : how many shapes
    of : its cloth, any where nothing is said
    how : usable width, grid and spares
    to_a_strip : how many are cut from one strip; None for as many as the usual cloth is wide

    Raises
    ------
    Problem
        Where a limit for each fabric is said of strips that hold several.
    """
    counted("count", count)
    chosen = cloth(of)
    wanted = count + how.spares
    if to_a_strip is None:
        each = _as_wide_as_cloth(shape, how)
    else:
        each = to_a_strip
    counted("to a strip", each)
    each = min(each, wanted)
    if chosen.most_each is not None and each > 1:
        what = f'"at most {chosen.most_each} each" is said of {name}, {each} of which come from one strip'
        raise Problem("at most", what, "write 1 to a strip beside it, or leave it out")
    full, rest = divmod(wanted, each)
    rows = []
    laid = []
    for strips, shapes in ((full, each), (1, rest)):
        if strips and shapes:
            told = _counts(shape, shapes, strips, wanted, how)
            row = _row(_called(name, shapes), shape, shapes, strips, told, chosen, how)
            long = how.cut_size(shape.nested.length(shapes))
            rows.append(row)
            laid.append(Laid(row=row.key, shape=shape.nested, count=shapes, long=long))
    notes = _notes(name, shape, how)
    if to_a_strip is None and each > 1:
        notes = (_for_leftovers(name, each), *notes)
    return Made(
        wanted=tuple(rows),
        width=shape.side,
        length=shape.height,
        notes=notes,
        held=tuple(laid),
    )


def _called(name: str, shapes: int) -> str:
    """What a row is called: a strip by how many shapes it holds, so that nobody counts strips as shapes."""
    if shapes == 1:
        return name
    return f"{name} strip of {shapes}"


def _as_wide_as_cloth(shape: InStrip, how: Conventions) -> int:
    """As many as a strip holds that is cut across the usual cloth, 1 where that is too narrow even for one."""
    each = shape.nested.fit_in(how.usable_width)
    while each > 1 and how.cut_size(shape.nested.length(each)) > how.usable_width:
        each -= 1
    return max(1, each)


def _counts(
    shape: InStrip, shapes: int, strips: int, wanted: int, how: Conventions
) -> str:
    """The sums of length and number: ``14 to a strip: 14 x 2.74 + 2.74 = 41.14; 60 shapes: 4 strips``."""
    nested = shape.nested
    length = nested.length(shapes)
    told = f"{shapes} x {how.show(nested.each)}"
    if nested.more:
        told += f" + {how.show(nested.more)}"
    number = f"{strips} such strip{'s' * (strips > 1)} of {wanted} shapes"
    return f"{shapes} to a strip: {told} = {how.show(length)}; {number}"


def _row(
    name: str,
    shape: InStrip,
    shapes: int,
    strips: int,
    told: str,
    of: ClothWanted,
    how: Conventions,
) -> Cut:
    """A row of strips. Its length runs along the strip, but where a print stands up: that stands up along the length.

    Parameters
    ----------
    name : of the row
    shape : how it lies in a strip
    shapes : how many are cut from one
    strips : how many
    told : the sums of length and number
    of : its cloth
    how : grid and ruler
    """
    size: tuple[Exact, Exact] = shape.nested.height, shape.nested.length(shapes)
    if of.upright:
        size = size[1], size[0]
        of = replace(of, grain=_OTHER_WAY[of.grain])
    note = f"{shapes} from each: {_BY_HAND[shape.kind]}"
    if _stand_alike(shape):
        note = f"{shapes} from each, {_ALIKE[shape.kind]}"
    note += f"; the edge of one is {how.show(shape.cut_side)} as cut"
    why = f"{shape.why}; {told}"
    return a_cut(name, size, strips, why, how, of, note, spares=False)


def _stand_alike(shape: InStrip) -> bool:
    return shape.kind in _ALIKE and not shape.nested.turns


def _notes(name: str, shape: InStrip, how: Conventions) -> tuple[str, ...]:
    """What a shape adds to a row, what rounding did, and the caution."""
    told = [
        f"{name}: sewn, one is {how.near(shape.height)} high and adds {how.show(shape.row)} to a row"
    ]
    if shape.over:
        over = how.show(shape.over)
        told.append(
            f"{name}: the strip is {over} higher than {how.show(shape.needed)}, which no ruler shows: sew all "
            "shapes of the quilt so, or cut round a template of the exact size"
        )
    return *told, SHARP


def _for_leftovers(name: str, each: int) -> str:
    """How shorter cloth may serve, told where nobody said how many come from a strip."""
    fewer = max(1, each // 3)
    return f"{name}: {each} come from one strip; for shorter leftovers write, for example, {fewer} to a strip"


__all__ = ["rows_of"]
