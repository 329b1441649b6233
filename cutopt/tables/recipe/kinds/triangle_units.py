"""Units of triangles, as their sentences say them."""

from __future__ import annotations

from typing import Final, get_args

from cutopt.errors import Problem
from cutopt.quilt import triangles
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe import block_patches as make
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.surds import Exact, exact
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import CUT, one_size, qualified, two_sizes
from cutopt.tables.sentences.vocabulary import Kind

_FIELD: Final = "blocks"
_METHODS: Final[dict[str, triangles.Ways]] = {
    method: method for method in get_args(triangles.Ways)
}
_FROM_PAIRS: Final = ("cut once", "two at a time")


def _halves(said: Said, name: str, how: Conventions) -> Block:
    method = said.meant(_METHODS) or "two at a time"
    plain, word = qualified(said.size)
    if word == CUT:
        size = _finished_of_cut(said, plain, method, how)
    else:
        size = one_size(said.size, how, _FIELD)
    return make.half_squares(name, said.many, size, said.cloths, how, method)


def _finished_of_cut(
    said: Said, plain: str, method: triangles.Ways, how: Conventions
) -> Exact:
    """The finished size of the triangles that a cut square gives, as patterns list it: 4 7/8 in for 4 in.

    It is the largest on the grid whose square is no larger than the one that is said.
    """
    if method not in _FROM_PAIRS:
        what = (
            f'"{said.size}" may be the square as cut or the unit before it is sewn in'
        )
        mend = "write the finished size, or the unfinished one like of 4 1/2 unfinished"
        raise Problem(_FIELD, what, mend)
    cut = how.read(plain, _FIELD)
    steps = ((exact(cut) - how.exact_half) / how.grid).__floor__()
    size = exact(steps * how.grid)
    if size <= 0:
        what = f'"{said.size}" leaves nothing after the seams'
        raise Problem(_FIELD, what, "write a larger size")
    return size


def _quarters(said: Said, name: str, how: Conventions) -> Block:
    """Of two fabrics the unit of four triangles is meant; of one loose triangles, for a setting or an edge."""
    if len(said.cloths) > 1:
        return _hours(said, name, how)
    size = _finished(said, how)
    return make.quarter_squares(name, said.many, size, said.cloths, how)


def _hours(said: Said, name: str, how: Conventions) -> Block:
    size = _finished(said, how)
    return make.hourglasses(name, said.many, size, said.cloths, how)


def _finished(said: Said, how: Conventions) -> Exact:
    """A size that is finished or unfinished; a cut one may be that of the square or that of the unit."""
    if qualified(said.size)[1] == CUT:
        what = (
            f'"{said.size}" may be the square as cut or the unit before it is sewn in'
        )
        mend = "write the finished size, like of 6, or the unfinished one, like of 6 1/2 unfinished"
        raise Problem(_FIELD, what, mend)
    return one_size(said.size, how, _FIELD)


def _geese(said: Said, name: str, how: Conventions) -> Block:
    flipped = said.take("stitch and flip", "no waste") == "stitch and flip"
    if qualified(said.size)[1] == CUT:
        _finished(said, how)
    sides = two_sizes(said.size, how, _FIELD)
    wide = max(sides)
    if " x " in said.size and wide != 2 * min(sides):
        what = f'"{said.size}" is not twice as wide as high'
        raise Problem(_FIELD, what, "write it like 6 x 3, or 6")
    return make.geese(name, said.many, wide, said.cloths, how, no_waste=not flipped)


TRIANGLE_UNITS: Final[tuple[Kind[Block], ...]] = (
    Kind(
        one="half-square triangle",
        square=True,
        many="half-square triangles",
        make=_halves,
        like="20 half-square triangles of 4, two at a time, from oat and plum",
        options=tuple(_METHODS),
        cloths=2,
    ),
    Kind(
        one="quarter-square triangle",
        square=True,
        many="quarter-square triangles",
        make=_quarters,
        like="12 quarter-square triangles of 6 from oat and plum",
        cloths=2,
    ),
    Kind(
        one="hourglass",
        square=True,
        many="hourglasses",
        make=_hours,
        like="12 hourglasses of 6 from oat and plum",
        cloths=2,
    ),
    Kind(
        one="flying goose",
        many="flying geese",
        make=_geese,
        like="24 flying geese of 6 x 3 from oat and plum",
        options=("no waste|four at a time", "stitch and flip"),
        cloths=2,
        roles=("goose", "sky"),
    ),
)
