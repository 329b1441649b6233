"""Blocks of squares and rectangles, as their sentences say them."""

from __future__ import annotations

from typing import Final, get_args

from cutopt.errors import Problem
from cutopt.quilt import block_sums
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe import block_patches as make
from cutopt.quilt.recipe import shape_blocks
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.surds import Exact
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import (
    CUT,
    one_size,
    qualified,
    sides_of,
    two_sizes,
)
from cutopt.tables.sentences.vocabulary import Kind

_FIELD: Final = "blocks"
_FUSSY: Final = "6 squares of 4 from blossom, fussy, repeat 12"
_CUT_BY_PRINT: Final = (
    "fussy",
    "repeat SIZE|repeats SIZE|motif repeat SIZE|repeat of SIZE|SIZE repeat",
    "NUMBER to a piece|NUMBER from a piece|NUMBER per piece|NUMBER from each piece",
)
_TURNED: Final[dict[str, block_sums.Turned]] = {
    turned: turned for turned in get_args(block_sums.Turned)
}


def _square(said: Said, name: str, how: Conventions) -> Block:
    size = two_sizes(said.size, how, _FIELD)
    if said.take("fussy") or "repeat" in said.options:
        return _fussy(said, name, size, how)
    return make.plain(name, said.many, size, said.cloths, how)


def _fussy(said: Said, name: str, size: tuple[Exact, Exact], how: Conventions) -> Block:
    """Each with a motif in its middle.

    Parameters
    ----------
    said : Said
    name : of the rows
    size : finished width and length
    how : Conventions
    """
    repeat = said.after("repeat")
    if not repeat:
        what = f'"{said.text}" does not say how far it is from motif to motif'
        raise Problem(_FIELD, what, f'write it like "{_FUSSY}"')
    sides = [how.read(side, _FIELD) for side in sides_of(repeat)]
    if len(sides) > 2:
        what = f'"{repeat}" is no repeat'
        raise Problem(_FIELD, what, "write it like repeat 8 x 12, across and along")
    number = said.after("to a piece")
    return shape_blocks.fussy(
        name,
        said.many,
        size,
        (sides[0], sides[-1]),
        said.cloths,
        how,
        to_a_piece=int(number) if number else None,
    )


def _four(said: Said, name: str, how: Conventions) -> Block:
    size = one_size(said.size, how, _FIELD)
    return make.checkered(name, said.many, size, 2, said.cloths, how)


def _nine(said: Said, name: str, how: Conventions) -> Block:
    size = one_size(said.size, how, _FIELD)
    return make.checkered(name, said.many, size, 3, said.cloths, how)


def _diamond(said: Said, name: str, how: Conventions) -> Block:
    size = one_size(said.size, how, _FIELD)
    return make.square_in_square(name, said.many, size, said.cloths, how)


def _disappearing(said: Said, name: str, how: Conventions) -> Block:
    turned = said.meant(_TURNED) or "as cut"
    if qualified(said.size)[1] != CUT:
        what = f'"{said.size}" is not a cut size'
        mend = "write the size of the nine squares, like of 5 cut"
        raise Problem(_FIELD, what, mend)
    cut = one_size(said.size, how, _FIELD) + 2 * how.seam
    return make.disappearing(name, said.many, cut, said.cloths, how, turned)


def _cabin(said: Said, name: str, how: Conventions) -> Block:
    centre = said.after("centre")
    log = said.after("logs")
    rounds = said.after("rounds")
    if not (centre and log and rounds):
        what = f'"{said.text}" lacks centre, logs or rounds'
        raise Problem(_FIELD, what, "write , centre 2, logs 1, rounds 3,")
    block = make.log_cabins(
        name,
        said.many,
        one_size(centre, how, _FIELD),
        one_size(log, how, _FIELD),
        int(rounds),
        said.cloths,
        how,
    )
    if said.size and one_size(said.size, how, _FIELD) != block.made.width:
        shown = how.show(block.made.width)
        what = f'"{said.text}" comes to a block of {shown}'
        raise Problem(_FIELD, what, f"write of {shown}, or change the logs")
    return block


def _segment(said: Said, name: str, how: Conventions) -> Block:
    long = said.after("segments")
    if not (said.size and long):
        what = f'"{said.text}" lacks widths or segments'
        raise Problem(_FIELD, what, "write of 2 + 2 + 2, segments 6,")
    plain, word = qualified(said.size)
    widths = tuple(
        one_size(f"{width} {word}", how, _FIELD) for width in plain.split("+")
    )
    length = one_size(long, how, _FIELD)
    if len(said.cloths) > len(widths):
        what = (
            f'"{said.text}" names {len(said.cloths)} fabrics for {len(widths)} strips'
        )
        raise Problem(_FIELD, what, "name one for each strip, joined by and")
    return make.segments(name, said.many, widths, length, said.cloths, how)


PATCHWORK: Final[tuple[Kind[Block], ...]] = (
    Kind(
        one="square",
        square=True,
        many="squares",
        make=_square,
        like="20 squares of 6 from oat",
        options=_CUT_BY_PRINT,
    ),
    Kind(
        one="rectangle",
        many="rectangles",
        make=_square,
        like="12 rectangles of 6 x 12 from oat",
        options=_CUT_BY_PRINT,
    ),
    Kind(
        one="four patch",
        square=True,
        many="four patches",
        make=_four,
        like="10 four patches of 6 from oat and plum",
        cloths=2,
    ),
    Kind(
        one="nine patch",
        square=True,
        many="nine patches",
        make=_nine,
        like="8 nine patches of 6 from oat and plum",
        cloths=2,
        roles=("corner", "side"),
    ),
    Kind(
        one="square in a square",
        square=True,
        many="squares in a square",
        make=_diamond,
        like="8 squares in a square of 6 from oat and plum",
        cloths=2,
        roles=("centre", "corner"),
    ),
    Kind(
        one="disappearing nine patch",
        many="disappearing nine patches",
        make=_disappearing,
        like="16 disappearing nine patches of 5 cut from oat and plum and bark",
        options=tuple(_TURNED),
        cloths=3,
    ),
    Kind(
        one="log cabin",
        many="log cabins",
        make=_cabin,
        like="8 log cabins, centre 2, logs 1, rounds 3, from bark and oat and plum",
        options=(
            "centre LENGTH|LENGTH centre",
            "logs LENGTH|log LENGTH|LENGTH logs",
            "rounds NUMBER|round NUMBER|NUMBER rounds|NUMBER round",
        ),
        cloths=3,
        needs_size=False,
        roles=("centre", "light", "dark"),
    ),
    Kind(
        one="strip set",
        many="strip sets",
        make=_segment,
        like="12 strip sets of 2 + 2 + 2, segments 6, from oat and plum and bark",
        options=("segments LENGTH|segment LENGTH|cut every LENGTH|LENGTH segments",),
        cloths=99,
    ),
)
