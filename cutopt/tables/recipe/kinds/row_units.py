"""Units of a row of a block, as they are said: ``2 half-square triangles of 2 from oat and plum, top right``."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from typing import Final, TypeAlias

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.pieced import panel
from cutopt.quilt.pieced import unit as units
from cutopt.quilt.pieced.in_rows import Own
from cutopt.quilt.pieced.panel import Cell
from cutopt.quilt.pieced.pattern import for_each
from cutopt.quilt.surds import Exact
from cutopt.quilt.wanted_parts import ClothLike
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import (
    CUT,
    one_size,
    qualified,
    sides_of,
    two_sizes,
)
from cutopt.tables.sentences.taking_apart import kind_in, reads_by, taken_apart
from cutopt.tables.sentences.tokens import Token, tokens_of
from cutopt.tables.sentences.vocabulary import Kind, Vocabulary
from cutopt.tables.sentences.words import Words

_FIELD: Final = "blocks"
_PART: Final = Vocabulary(
    part=_FIELD,
    told="parts of a block",
    like="1 window of 4 from oat",
    counted=True,
    sized=True,
)
_SQUARES: Final = ("square", "squares")
# shapes that nobody means a rectangle by
_SHAPES: Final = (
    *("triangle", "triangles", "diamond", "diamonds", "hexagon", "hexagons"),
    *("circle", "circles"),
)
_CORNERS: Final = {
    "top left": units.UPPER_LEFT,
    "top right": units.UPPER_RIGHT,
    "bottom right": units.LOWER_RIGHT,
    "bottom left": units.LOWER_LEFT,
}
# how often a unit is turned, clockwise, for its first cloth to lie there
_TURNED: Final = {word: turn for turn, word in enumerate(_CORNERS)}
_POINTS: Final = {"point up": 0, "point right": 1, "point down": 2, "point left": 3}
_PLACES: Final = (
    "top left|at top left|at the top left|upper left",
    "top right|at top right|at the top right|upper right",
    "bottom right|at bottom right|at the bottom right|lower right",
    "bottom left|at bottom left|at the bottom left|lower left",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class HighAsRow:
    """A patch of which only its width is said: it is as high as its row."""

    name: str
    times: int
    width: Exact
    of: ClothLike

    def made(self, height: Exact) -> Own:
        """The patch in a row of a height."""
        return _patch(self.name, self.times, (self.width, height), self.of)


InRow: TypeAlias = Own | HighAsRow


def _patch(name: str, times: int, size: tuple[Exact, Exact], of: ClothLike) -> Own:
    cell = units.patch(size[0].plain, size[1].plain, 0)
    return Own(name=name, times=times, cell=cell, words=(name,), of=(of,))


def _side(said: Said, how: Conventions) -> Fraction:
    """The finished side of a unit."""
    _refuse_cut(said)
    return one_size(said.size, how, _FIELD).plain


def _refuse_cut(said: Said) -> None:
    """A cut size may be that of a square for triangles, or that of the unit."""
    if qualified(said.size)[1] == CUT:
        what = (
            f'"{said.size}" may be the square as cut or the unit before it is sewn in'
        )
        mend = "write the finished size, or the unfinished one like of 4 1/2 unfinished"
        raise Problem(_FIELD, what, mend)


def _own(
    said: Said, name: str, cell: Cell, words: Sequence[str], *, either: bool = False
) -> Own:
    """The unit of two cloths or more, its rows under its name and a word each."""
    return Own(
        name=name,
        times=said.many,
        cell=cell,
        words=tuple(f"{name} {word}" for word in words),
        of=for_each(said.cloths, len(words)),
        either=either,
    )


def _half(said: Said, name: str, how: Conventions) -> Own:
    turn = said.meant(_TURNED) or 0
    cell = units.half(_side(said, how), 0, 1, turn)
    return _own(said, name, cell, ("first", "second"), either=True)


def _hourglass(said: Said, name: str, how: Conventions) -> Own:
    cell = units.hourglass(_side(said, how), 0, 1)
    return _own(said, name, cell, ("first", "second"), either=True)


def _goose(said: Said, name: str, how: Conventions) -> Own:
    turn = said.meant(_POINTS) or 0
    _refuse_cut(said)
    width, height = two_sizes(said.size, how, _FIELD)
    if len(sides_of(said.size)) > 1 and width != 2 * height:
        what = f'"{said.size}" is not twice as wide as high, point up'
        raise Problem(_FIELD, what, "write it like 4 x 2, or 4")
    cell = units.goose(width.plain, 0, 1, turn)
    return _own(said, name, cell, ("large triangle", "small triangle"))


def _diamond(said: Said, name: str, how: Conventions) -> Own:
    cell = units.square_in_a_square(_side(said, how), 0, 1)
    return _own(said, name, cell, ("middle", "corner"))


def _ball(said: Said, name: str, how: Conventions) -> Own:
    width, height = two_sizes(said.size, how, _FIELD)
    leg = said.after("corner")
    taken = [number for word, number in _CORNERS.items() if said.take(word)]
    corners = tuple(sorted(taken)) or tuple(sorted(_CORNERS.values()))
    most = _most_of_a_corner((width, height), corners)
    if leg:
        corner = one_size(leg, how, _FIELD)
    else:
        corner = min(width, height) / 3
    if corner > most:
        size = how.size(width, height)
        what = f"corners of {how.show(corner)} do not go into {size}"
        raise Problem(_FIELD, what, f"write corner {how.show(most)} or less")
    cell = units.sewn_over((width.plain, height.plain), corner.plain, (0, 1), corners)
    return _own(said, name, cell, ("middle", "corner"))


def _most_of_a_corner(size: tuple[Exact, Exact], corners: tuple[int, ...]) -> Exact:
    """The longest leg of corners that are sewn over: two along a side share it."""
    most = min(size)
    for number in corners:
        if (number + 1) % 4 in corners:
            most = min(most, size[number % 2] / 2)
    return most


def _checkered(parts: int, said: Said, name: str, how: Conventions) -> Own:
    cell = panel.checkered(one_size(said.size, how, _FIELD).plain, parts)
    return _own(said, name, cell, ("first", "second"))


def _rails(said: Said, name: str, how: Conventions) -> Own:
    level = bool(said.take("level"))
    width, height = two_sizes(said.size, how, _FIELD)
    number = len(said.cloths)
    if number < 2:
        what = f'"{said.text}" does not say of which rails'
        mend = f'write "1 rail fence of {how.show(width)} from oat and plum": a rail of each'
        raise Problem(_FIELD, what, mend)
    cell = panel.rails((width.plain, height.plain), number, level=level)
    words = [f"rail {n}" for n in range(1, number + 1)]
    return _own(said, name, cell, words)


def _kind(
    one: str,
    many: str,
    make: Callable[[Said, str, Conventions], Own],
    size: str = "2",
    options: Sequence[str] = (),
    cloths: int = 2,
) -> Kind[Own]:
    """A kind of unit.

    Parameters
    ----------
    one, many : str
    make : callable
    size : str
        In the sentence that reads.
    options : sequence of str
    cloths : int
        How many it takes at most.
    """
    like = f"1 {one} of {size} from oat and plum"
    return Kind(
        one=one, many=many, make=make, like=like, options=tuple(options), cloths=cloths
    )


_ALL_POINTS: Final = tuple(
    f"point {way}|pointing {way}|points {way}"
    for way in ("up", "right", "down", "left")
)
UNITS: Final[tuple[Kind[Own], ...]] = (
    _kind("half-square triangle", "half-square triangles", _half, "2", _PLACES),
    _kind("hourglass", "hourglasses", _hourglass),
    _kind("quarter-square triangle", "quarter-square triangles", _hourglass),
    _kind("flying goose", "flying geese", _goose, "4 x 2", _ALL_POINTS),
    _kind("square in a square", "squares in a square", _diamond),
    _kind("snowball", "snowballs", _ball, "3", ("corner LENGTH", *_PLACES)),
    _kind("four patch", "four patches", partial(_checkered, 2)),
    _kind("nine patch", "nine patches", partial(_checkered, 3), "3"),
    _kind("rail fence", "rail fences", _rails, "2", ("level|lying", "standing"), 12),
)


def in_row(
    text: str,
    how: Conventions,
    known: Collection[str],
    others: Sequence[Kind[object]] = (),
    prefix: str = "",
) -> InRow:
    """A unit of a row: one of a kind, or a patch under a name of the maker's own.

    Parameters
    ----------
    text : str
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.
    others : sequence of Kind
        Kinds that are no units: none of them is meant by a name of her own.
    prefix : str
        The name of the block, "" where it has none.

    Raises
    ------
    Problem
        With what is not understood, and what to write.
    """
    if Words.of(text, _FIELD).kind(UNITS) is None:
        return _her_own(text, how, known, others, prefix)
    reads = reads_by(partial(kind_in, kinds=UNITS, part=_FIELD, known=known))
    kind, said = kind_in(text, UNITS, _FIELD, known, reads)
    _refuse_shares(said, text)
    if said.count is None:
        what = f'"{text}" does not say how many'
        raise Problem(_FIELD, what, f'write it like "{kind.like}"')
    if not said.size:
        what = f'"{text}" does not say of what size'
        raise Problem(_FIELD, what, f'write it like "{kind.like}"')
    if len(said.names) > 1:
        what = f'"{text}" has {len(said.names)} names'
        raise Problem(_FIELD, what, "give one name, or none")
    name = " ".join(said.names) or f"{prefix} {kind.one}".strip()
    own = kind.make(said, name, how)
    said.finish()
    return own


def _refuse_shares(said: Said, text: str) -> None:
    """Each unit is from one choice of cloths: which of several alike has which share nobody could tell."""
    if said.shares:
        what = f'"{text}" gives each fabric a share'
        mend = "say two units, each from its own fabrics, with a plus sign between them"
        raise Problem(_FIELD, what, mend)


def _her_own(
    text: str,
    how: Conventions,
    known: Collection[str],
    others: Sequence[Kind[object]],
    prefix: str,
) -> InRow:
    """``1 tree window of 4 from blossom, upright``: what stands between number and size is the name of the patch."""
    tokens = tokens_of(text, _FIELD)
    count, first = _count(tokens)
    size = next((i for i in range(first, len(tokens)) if _is_size(tokens, i)), None)
    if size is None or size == first:
        what = f'"{text}" is no part of a block'
        raise Problem(_FIELD, what, f'write it like "{_PART.like}"')
    name = " ".join(text[tokens[first].start : tokens[size - 1].end].lower().split())
    _refuse_others(name, text, others)
    said = _behind_the_name(name, count, text[tokens[size].start :], known)
    _refuse_shares(said, text)
    of = said.cloths[0] if said.cloths else said.rules
    if not of.fabrics:
        of = replace(of, fabrics=_in_the_name(name, known))
    width, height = two_sizes(said.size, how, _FIELD)
    is_square = name.split()[-1] in _SQUARES
    if name in _SQUARES:
        name = f"{prefix} square".strip()
    if len(sides_of(said.size)) == 1 and not is_square:
        return HighAsRow(name=name, times=count, width=width, of=of)
    return _patch(name, count, (width, height), of)


def _behind_the_name(name: str, count: int, rest: str, known: Collection[str]) -> Said:
    """A patch taken apart as if it were called a patch; what is wrong is told of it under its own name."""
    plain = f"{count} patch {rest}"
    try:
        return taken_apart(plain, _PART, known)
    except Problem as problem:
        called = f"{count} {name} "
        told = (text.replace(f"{count} patch ", called) for text in _texts(problem))
        raise Problem(_FIELD, *told) from problem


def _texts(problem: Problem) -> tuple[str, str]:
    return problem.what, problem.mend or ""


def _in_the_name(name: str, known: Collection[str]) -> tuple[str, ...]:
    """The fabric that the name of a patch begins with: ``1 plum door of 2 x 4``; none where it has none."""
    words = name.split()
    for end in range(len(words), 0, -1):
        first = " ".join(words[:end])
        if first in known:
            return (first,)
    return ()


def _count(tokens: Sequence[Token]) -> tuple[int, int]:
    """How many, and the first word of the name; one where nothing is said."""
    if not tokens:
        return 1, 0
    whole = tokens[0].whole
    if whole is not None:
        return whole, 1
    return 1, int(tokens[0].plain in ("a", "an"))


def _is_size(tokens: Sequence[Token], i: int) -> bool:
    """Whether a size begins at a word: a number, or "of" before one."""
    if tokens[i].kind == "number":
        return True
    behind = i + 1 < len(tokens) and tokens[i + 1].kind == "number"
    return tokens[i].plain == "of" and behind


def _refuse_others(name: str, text: str, others: Sequence[Kind[object]]) -> None:
    """No block, and no shape that is no rectangle, is taken for the name of a patch."""
    found = Words.of(name, _FIELD).kind(others)
    odd = [word for word in name.split() if word in _SHAPES]
    if found is None and not odd:
        return
    kinds = ", ".join(kind.many for kind in UNITS)
    what = f'"{name}" in "{text}" is no unit of a row, nor the name of a patch'
    mend = f"give the patch a name of its own, or write one of: {kinds}"
    raise Problem(_FIELD, what, mend)
