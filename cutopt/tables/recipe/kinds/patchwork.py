"""Blocks of squares and rectangles, as their sentences say them."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final, get_args

from cutopt.errors import Problem
from cutopt.quilt import block_sums
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.pieced.plus_and_frame import framed_squares
from cutopt.quilt.pieced.straight import NINE
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
_OPPOSITE: Final = re.compile(r"top and bottom|bottom and top|left and right", re.I)
_CABIN: Final = re.compile(r"log cabins?", re.I)
_FUSSY: Final = "6 squares of 4 from blossom, fussy, repeat 12"
_CUT_BY_PRINT: Final = (
    "fussy",
    "repeat SIZE|repeats SIZE|motif repeat SIZE|repeat of SIZE|SIZE repeat",
    "NUMBER to a piece|NUMBER from a piece|NUMBER per piece|NUMBER from each piece",
)
IN_COLUMNS: Final = (
    "columns NUMBER|NUMBER columns|NUMBER columns of",
    "to a column NUMBER|NUMBER to a column|NUMBER to each column|NUMBER in a column|NUMBER in each column|NUMBER per column",
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
    """The middle is of the fabric of the corners where no other is said."""
    size = one_size(said.size, how, _FIELD)
    if len(said.cloths) > 2 and said.cloths[2] != said.cloths[0]:
        return NINE.block(name, said.many, size, said.cloths, how)
    return make.checkered(name, said.many, size, 3, said.cloths[:2], how)


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
    block = make.disappearing(name, said.many, cut, said.cloths, how, turned)
    note = (
        f"{name}: {said.many} quarters are counted, each a block as it is set; "
        f"for {said.many} nine patches cut in four each write {4 * said.many}"
    )
    return replace(block, made=replace(block.made, notes=(*block.made.notes, note)))


def _cabin(said: Said, name: str, how: Conventions) -> Block:
    _refuse_opposite(said)
    centre, log, rounds = _of_cabin(said, how)
    block = make.log_cabins(name, said.many, centre, log, rounds, said.cloths, how)
    if said.size and one_size(said.size, how, _FIELD) != block.made.width:
        shown = how.show(block.made.width)
        what = f'"{said.text}" comes to a block of {shown}'
        raise Problem(_FIELD, what, f"write of {shown}, or change the logs")
    return block


def _refuse_opposite(said: Said) -> None:
    """Two fabrics of a log cabin meet at a corner; those that lie opposite are of courthouse steps."""
    if _OPPOSITE.search(said.text):
        steps = _CABIN.sub("courthouse steps", said.text)
        what = f'"{said.text}" has a fabric on opposite sides, and those of a log cabin meet at a corner'
        raise Problem(_FIELD, what, f'write "{steps}"')


def _of_cabin(said: Said, how: Conventions) -> tuple[Exact, Exact, int]:
    """Centre, width of a log and rounds; of the size of the block and these three, one follows from the others.

    Raises
    ------
    Problem
        Where too little is said, or they do not come to the block.
    """
    told = [said.after(each) for each in ("centre", "logs")]
    number = said.after("rounds")
    centre, log = (one_size(each, how, _FIELD) if each else None for each in told)
    whole = one_size(said.size, how, _FIELD) if said.size else None
    rounds = int(number) if number else None
    if whole is not None and centre is not None and log is not None and not rounds:
        turns = (whole - centre) / (2 * log)
        rounds = int(turns.plain) if turns.is_plain else 0
        if rounds < 1 or turns != rounds:
            what = f"{how.show(whole)} - {how.show(centre)} is no whole number of rounds of logs {how.show(log)} wide"
            mend = f"{said.text}, and another width for the logs"
            raise Problem(_FIELD, what, mend)
    if whole is not None and rounds and log is None and centre is not None:
        log = (whole - centre) / (2 * rounds)
    if whole is not None and rounds and centre is None and log is not None:
        centre = whole - 2 * rounds * log
    if centre is None or log is None or not rounds or min(centre, log) <= 0:
        what = f'"{said.text}" lacks centre, logs or rounds'
        raise Problem(_FIELD, what, _cabin_mend(whole, how))
    return centre, log, rounds


def _cabin_mend(whole: Exact | None, how: Conventions) -> str:
    """Centre, logs and rounds to write: for a block of a size some that come to it, in three rounds."""
    if whole is None:
        return "write , centre 2, logs 1, rounds 3,"
    log = (whole / 7 / how.grid).__floor__() * how.grid
    centre = whole - 6 * log
    plain = f"centre {how.show(centre)}, logs {how.show(log)}, rounds 3"
    return f"say them, such as , {plain}, which come to {how.show(whole)}"


def _framed(said: Said, name: str, how: Conventions) -> Block:
    """A square with strips round it, by two of the three: the block, the square, the strips."""
    said.take("round it")
    inside = said.after("square")
    wide = said.after("strips")
    whole = one_size(said.size, how, _FIELD) if said.size else None
    square = one_size(inside, how, _FIELD) if inside else None
    strip = one_size(wide, how, _FIELD) if wide else None
    if square is None and whole is not None and strip is not None:
        square = whole - 2 * strip
    if strip is None and whole is not None and square is not None:
        strip = (whole - square) / 2
    if square is None or strip is None:
        what = f'"{said.text}" does not say how large the square is, or how wide the strips'
        raise Problem(_FIELD, what, f'write it like "{_FRAMED}"')
    if whole is not None and square + 2 * strip != whole:
        comes_to = how.show(square + 2 * strip)
        what = f'"{said.text}" comes to a block of {comes_to}'
        raise Problem(_FIELD, what, f"write of {comes_to}, or other strips")
    return framed_squares(name, said.many, square, strip, said.cloths, how)


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


def _oblongs(one: str) -> Kind[Block]:
    """Rectangles that have a name of their own; in columns they may be told by how many each has."""
    return Kind(
        one=one,
        many=f"{one}s",
        make=_square,
        like=f"60 {one}s of 3 x 6 from oat",
        options=(*_CUT_BY_PRINT, *IN_COLUMNS),
    )


_FRAMED: Final = "12 framed squares of 12, strips 2, from oat and plum"
LOGS: Final = (
    *("logs", "log", "steps", "step", "strips", "two sides", "one side"),
    *("two opposite sides", "the other two sides", "other two sides", "other two"),
    *("other sides", "other side", "one half", "other half", "top and bottom"),
    *("bottom and top", "sides", "left and right"),
)
LOGS_SAID: Final = (
    "centre LENGTH|LENGTH centre|LENGTH centres|centres LENGTH",
    "logs LENGTH|log LENGTH|LENGTH logs|LENGTH strips|strips LENGTH|LENGTH steps|steps LENGTH",
    "rounds NUMBER|round NUMBER|NUMBER rounds|NUMBER round|NUMBER times round|NUMBER rounds of logs",
)
_SQUARES: Final = ("squares", "patches", "square", "pieces")
_BETWEEN: Final = ("between", "in between", "edge", "edges", "plain squares")
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
    *(_oblongs(one) for one in ("brick", "coin", "panel")),
    Kind(
        one="four patch",
        square=True,
        many="four patches",
        make=_four,
        like="10 four patches of 6 from oat and plum",
        cloths=2,
        nouns=_SQUARES,
        by_number=(2, 2),
    ),
    Kind(
        one="nine patch",
        square=True,
        many="nine patches",
        make=_nine,
        like="8 nine patches of 6 from oat and plum",
        cloths=2,
        roles=("corner", "side", "centre"),
        also={"side": _BETWEEN},
        nouns=_SQUARES,
        by_number=(5, 4),
        falls_back={"centre": "corner"},
    ),
    Kind(
        one="square in a square",
        square=True,
        many="squares in a square",
        make=_diamond,
        like="8 squares in a square of 6 from oat and plum",
        cloths=2,
        roles=("centre", "corner"),
        also={
            "centre": ("inside", "inner square", "diamond", "square"),
            "corner": ("outside", "background", "triangle", "triangles"),
        },
    ),
    Kind(
        one="disappearing nine patch",
        many="disappearing nine patches",
        make=_disappearing,
        like="16 disappearing nine patches of 5 cut from oat and plum and bark",
        options=tuple(_TURNED),
        cloths=3,
        roles=("corner", "edge", "centre"),
    ),
    Kind(
        one="log cabin",
        many="log cabins",
        make=_cabin,
        like="8 log cabins, centre 2, logs 1, rounds 3, from bark and oat and plum",
        options=LOGS_SAID,
        cloths=3,
        needs_size=False,
        roles=("centre", "light", "dark"),
        nouns=LOGS,
        noun_roles=("light", "dark"),
    ),
    Kind(
        one="framed square",
        many="framed squares",
        make=_framed,
        like=_FRAMED,
        options=(
            "square LENGTH|one square LENGTH|one big square LENGTH|big square LENGTH|LENGTH square|middle LENGTH|LENGTH middle",
            "strips LENGTH|strip LENGTH|LENGTH strips|LENGTH strip|frame LENGTH|LENGTH frame",
            "round it|around it|round them|around them|all round|round each|around each|round|around",
        ),
        told_by=r"\bsquares?\b.*\b(?:strips?|frames?)\b.*\b(?:a?round|outside)\b",
        cloths=2,
        needs_size=False,
        roles=("middle", "strip"),
        also={
            "middle": (
                "square",
                "squares",
                "big square",
                "one square",
                "one big square",
            ),
            "strip": ("frame", "frames", "border", "borders"),
        },
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
