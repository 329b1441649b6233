"""Traditional blocks, as their sentences say them: ``8 churn dashes of 9 from cream and navy``."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Final, get_args

from cutopt.quilt import triangles
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.pieced.pattern import Pattern, Sewn
from cutopt.quilt.pieced.stars import SNOWBALL, WITH_TRIANGLES, snowballs
from cutopt.quilt.pieced.straight import (
    COURTHOUSE,
    FENCE,
    STRAIGHT,
    courthouse_steps,
    rail_fence,
)
from cutopt.quilt.pieced.sums import GeeseWays
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.surds import Exact
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import one_size
from cutopt.tables.sentences.vocabulary import Kind

_FIELD: Final = "blocks"
HALVES: Final[dict[str, triangles.Ways]] = {
    way: way for way in get_args(triangles.Ways)
}
GEESE: Final[dict[str, GeeseWays]] = {way: way for way in get_args(GeeseWays)}
_CLOTHS: Final = ("oat", "plum", "bark")
# more rails than anybody sews into one block
_MOST_RAILS: Final = 12


def sewn(said: Said) -> Sewn:
    """How the triangles of a block are made, struck off."""
    halves = said.meant(HALVES) or "two at a time"
    geese = said.meant(GEESE) or "no waste"
    return Sewn(halves=halves, geese=geese)


def _side(said: Said, how: Conventions) -> Exact:
    return one_size(said.size, how, _FIELD)


def _pattern(pattern: Pattern, said: Said, name: str, how: Conventions) -> Block:
    size = _side(said, how)
    return pattern.block(name, said.many, size, said.cloths, how, sewn(said))


def _fence(said: Said, name: str, how: Conventions) -> Block:
    rails = said.after("rails")
    number = int(rails) if rails else None
    return rail_fence(name, said.many, _side(said, how), said.cloths, how, number)


def _ball(said: Said, name: str, how: Conventions) -> Block:
    corner = said.after("corner")
    leg = one_size(corner, how, _FIELD) if corner else None
    return snowballs(name, said.many, _side(said, how), said.cloths, how, leg)


def _steps(said: Said, name: str, how: Conventions) -> Block:
    centre = said.after("centre")
    log = said.after("logs")
    return courthouse_steps(
        name,
        said.many,
        _side(said, how) if said.size else None,
        said.cloths,
        how,
        centre=one_size(centre, how, _FIELD) if centre else None,
        log=one_size(log, how, _FIELD) if log else None,
        rounds=int(said.after("rounds") or 3),
    )


def _kind(
    pattern: Pattern,
    make: Callable[[Said, str, Conventions], Block],
    options: Sequence[str],
    *,
    cloths: int = 0,
    needs_size: bool = True,
) -> Kind[Block]:
    """A kind with a sentence of two units of length to a part: every size of it meets a mark."""
    of = " and ".join(_CLOTHS[: len(pattern.cloths)])
    return Kind(
        one=pattern.one,
        many=pattern.many,
        make=make,
        like=f"8 {pattern.many} of {2 * pattern.parts} from {of}",
        options=tuple(options),
        cloths=cloths or len(pattern.cloths),
        needs_size=needs_size,
        roles=_roles(pattern),
    )


def _roles(pattern: Pattern) -> tuple[str, ...]:
    """What its cloths are for; those that have no more than a number are named in order alone."""
    if any(word in ("first", "rail 1") for word in pattern.cloths):
        return ()
    return pattern.cloths


def _of_pattern(pattern: Pattern) -> Kind[Block]:
    options: list[str] = []
    if pattern.has_halves:
        options += HALVES
    if pattern.has_geese:
        options += GEESE
    return _kind(pattern, partial(_pattern, pattern), options)


TRADITIONAL_BLOCKS: Final[tuple[Kind[Block], ...]] = (
    *(_of_pattern(pattern) for pattern in (*STRAIGHT, *WITH_TRIANGLES)),
    _kind(FENCE, _fence, ["rails NUMBER|NUMBER rails"], cloths=_MOST_RAILS),
    _kind(SNOWBALL, _ball, ["corner LENGTH|corners LENGTH|LENGTH corners"]),
    _kind(
        COURTHOUSE,
        _steps,
        [
            "centre LENGTH|LENGTH centre",
            "logs LENGTH|log LENGTH|LENGTH logs",
            "rounds NUMBER|round NUMBER|NUMBER rounds|NUMBER round",
        ],
        needs_size=False,
    ),
)
