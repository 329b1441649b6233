"""Shapes with slanted sides, as their sentences say them: ``60 60-degree triangles of 4 from oat, 6 to a strip``."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe import shape_blocks as make
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.shapes.sixty import Angled, By
from cutopt.quilt.wanted_parts import Made
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import one_size, qualified, sides_of, two_sizes
from cutopt.tables.sentences.vocabulary import Kind

_FIELD: Final = "blocks"
_TO_A_STRIP: Final = "NUMBER to a strip|NUMBER from a strip|NUMBER per strip|NUMBER from each strip|NUMBER to each strip"
_HEIGHT: Final = "height LENGTH|LENGTH flat to flat"
_SIDE: Final = "side LENGTH|sides LENGTH"
_BY: Final[dict[str, By]] = {"by height": "height", "by side": "side"}
_OF: Final[dict[str, By]] = {"height": "height", "side": "side"}
_BY_PHRASES: Final = (
    "by height|high|tall|in height|flat to flat",
    "by side|side|sides|on a side|a side|along the side|on each side|along a side",
)
_MEASURED: Final = (_HEIGHT, _SIDE, *_BY_PHRASES, _TO_A_STRIP)
_PAPERS: Final = "over papers|over paper|english paper pieced|paper pieced|epp"
_EXTRA: Final = (
    "extra LENGTH|plus LENGTH|LENGTH extra|LENGTH all round|LENGTH to fold over"
)


def to_a_strip(said: Said) -> int | None:
    """How many shapes come from a strip, None where nothing is said."""
    number = said.after("to a strip")
    if not number:
        return None
    return int(number)


def _measure(said: Said, like: str) -> tuple[str, By | None]:
    """A length and what it says of a shape: its height, its side, or the strip where it is a cut size.

    Raises
    ------
    Problem
        Where none is said, or two that do not go together.
    """
    by = said.meant(_BY)
    told: list[tuple[str, By | None]] = []
    for phrase, measured in _OF.items():
        length = said.after(phrase)
        if length:
            told.append((length, measured))
    if said.size:
        told.append((said.size, by))
    if len(told) != 1 or (by and not said.size):
        what = f'"{said.text}" does not say of what size, or says it twice'
        raise Problem(_FIELD, what, f'write it like "{like}"')
    text, meant = told[0]
    plain, word = qualified(text)
    if len(sides_of(plain)) > 1:
        what = f'"{text}" is a width and a length, and a shape has one size'
        raise Problem(_FIELD, what, f'write it like "{like}"')
    if word:
        return plain, "strip"
    return plain, meant


def _angled(kind: Angled, like: str, said: Said, name: str, how: Conventions) -> Block:
    size, by = _measure(said, like)
    return make.in_strips(
        name,
        said.many,
        kind,
        how.read(size, _FIELD),
        said.cloths,
        how,
        by=by,
        to_a_strip=to_a_strip(said),
    )


def _hexagon(said: Said, name: str, how: Conventions) -> Block:
    like = "40 hexagons of 2 from oat"
    if not said.take("over papers"):
        return _angled("hexagon", like, said, name, how)
    size, by = _measure(said, like)
    if by not in (None, "side"):
        what = f'"{said.text}" does not say the side of the paper'
        raise Problem(
            _FIELD, what, 'write it like "40 hexagons of 1, over papers, from oat"'
        )
    extra = said.after("extra")
    return make.over_papers(
        name,
        said.many,
        how.read(size, _FIELD),
        said.cloths,
        how,
        extra=how.read(extra, _FIELD) if extra else None,
    )


def _flower(said: Said, name: str, how: Conventions) -> Block:
    """A hexagon and a round of six; of each further fabric a round of six more than the one before."""
    size = said.after("hexagons")
    if size:
        if said.size:
            what = f'"{said.text}" says two sizes: {size} and {said.size}'
            raise Problem(_FIELD, what, "write that of a hexagon alone")
        said.size = size
    cloths = said.cloths or (said.rules,)
    rounds = max(1, len(cloths) - 1)
    parts = ["centre", "petal", *(f"round {n}" for n in range(2, rounds + 1))]
    made: Made | None = None
    for number, part in enumerate(parts):
        own = replace(
            said,
            count=said.many * max(1, 6 * number),
            cloths=(cloths[min(number, len(cloths) - 1)],),
            options=dict(said.options),
        )
        block = _hexagon(own, f"{name} {part}", how)
        made = block.made if made is None else made + block.made
    assert made is not None
    # each part took the options of the whole
    said.options = {}
    return Block(name=name, count=said.many, made=made)


def _tumbler(said: Said, name: str, how: Conventions) -> Block:
    narrow = said.after("narrow")
    height = said.after("height")
    if height:
        said.size = f"{said.size} x {height}"
    sides = sides_of(qualified(said.size)[0])
    if not narrow or len(sides) != 2:
        what = f'"{said.text}" lacks width and height, or the narrow edge'
        raise Problem(_FIELD, what, f'write it like "{_TUMBLERS}"')
    wide, high = two_sizes(said.size, how, _FIELD)
    return make.tumblers(
        name,
        said.many,
        (wide, high, one_size(narrow, how, _FIELD)),
        said.cloths,
        how,
        to_a_strip=to_a_strip(said),
    )


def _half_rectangle(said: Said, name: str, how: Conventions) -> Block:
    size = two_sizes(said.size, how, _FIELD)
    if size[0] == size[1]:
        what = f'"{said.size}" is a square'
        raise Problem(
            _FIELD, what, f"write half-square triangles of {how.show(size[0])}"
        )
    left = said.take("leaning left", "leaning right") == "leaning left"
    return make.half_rectangles(
        name, said.many, size, said.cloths, how, leaning_left=left
    )


def _kind(one: Angled, like: str) -> Kind[Block]:
    measure: Callable[[Said, str, Conventions], Block] = partial(_angled, one, like)
    return Kind(
        one=one,
        many=f"{one}s",
        make=measure,
        like=like,
        options=_MEASURED,
        needs_size=False,
        evenly=False,
    )


_TUMBLERS: Final = "30 tumblers of 4 x 4 1/2, narrow 3, from oat"
SHAPES: Final[tuple[Kind[Block], ...]] = (
    _kind("60-degree triangle", "60 60-degree triangles of 4 from oat"),
    _kind("60-degree diamond", "24 60-degree diamonds of 3 from oat"),
    _kind("45-degree diamond", "32 45-degree diamonds of 3 from oat"),
    _kind("half hexagon", "40 half hexagons of 3 from oat"),
    Kind(
        one="hexagon",
        many="hexagons",
        make=_hexagon,
        like="40 hexagons of 2 from oat",
        options=(*_MEASURED, _PAPERS, _EXTRA),
        needs_size=False,
        evenly=False,
    ),
    Kind(
        one="hexagon flower",
        many="hexagon flowers",
        make=_flower,
        like="10 hexagon flowers of 1 from oat and plum",
        options=(
            "hexagons SIZE|SIZE hexagons|SIZE hexagon|hexagon SIZE|SIZE hexies",
            "flowers|flower|flowers of",
            *_MEASURED,
            _PAPERS,
            _EXTRA,
        ),
        cloths=4,
        needs_size=False,
        evenly=False,
        told_by=r"\bflowers?\b.*\bhexa?(?:gon|ie)s?\b|\bhexa?(?:gon|ie)s? flowers?\b",
        roles=("centre", "petal"),
        also={"petal": ("petals", "round", "outside", "ring")},
    ),
    Kind(
        one="tumbler",
        many="tumblers",
        make=_tumbler,
        like=_TUMBLERS,
        evenly=False,
        options=(
            "narrow LENGTH|LENGTH narrow|LENGTH narrow end|LENGTH narrow edge|narrow edge LENGTH|narrow end LENGTH",
            "height LENGTH|LENGTH high|LENGTH tall",
            _TO_A_STRIP,
        ),
    ),
    Kind(
        one="half-rectangle triangle",
        many="half-rectangle triangles",
        make=_half_rectangle,
        like="12 half-rectangle triangles of 3 x 6 from oat and plum",
        options=("leaning left", "leaning right"),
        cloths=2,
    ),
)
