"""Traditional blocks, as their sentences say them: ``8 churn dashes of 9 from cream and navy``."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import Final, get_args

from cutopt.errors import Problem
from cutopt.quilt import triangles
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.pieced.economy import economy
from cutopt.quilt.pieced.pattern import Pattern, Sewn
from cutopt.quilt.pieced.plus_and_frame import PLUS, pluses
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
from cutopt.tables.recipe.kinds.patchwork import LOGS, LOGS_SAID
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
# of logs round a centre, the usual number first
_ROUNDS: Final = (3, 4, 2, 5, 1, 6)


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
    wide = said.after("wide")
    block = rail_fence(name, said.many, _side(said, how), said.cloths, how, number)
    rail = min(min(row.width, row.length) for row in block.made.cuts) - 2 * how.seam
    if wide and one_size(wide, how, _FIELD) != rail:
        what = (
            f'"{said.text}" says rails {wide} wide, and they come to {how.show(rail)}'
        )
        raise Problem(_FIELD, what, "leave the width out, or change the block")
    return block


def _ball(said: Said, name: str, how: Conventions) -> Block:
    corner = said.after("corner")
    leg = one_size(corner, how, _FIELD) if corner else None
    return snowballs(name, said.many, _side(said, how), said.cloths, how, leg)


def _steps(said: Said, name: str, how: Conventions) -> Block:
    centre = said.after("centre")
    log = said.after("logs")
    rounds = said.after("rounds")
    number = int(rounds) if rounds else rounds_of(said.size, centre, log, how)
    block = courthouse_steps(
        name,
        said.many,
        _side(said, how) if said.size else None,
        said.cloths,
        how,
        centre=one_size(centre, how, _FIELD) if centre else None,
        log=one_size(log, how, _FIELD) if log else None,
        rounds=number,
    )
    if rounds or log or not centre:
        return block
    note = f"{name}: {number} rounds of logs, as nothing is said of them; write rounds {number + 1} for another number"
    return replace(block, made=replace(block.made, notes=(*block.made.notes, note)))


def rounds_of(size: str, centre: str, log: str, how: Conventions) -> int:
    """How many rounds of logs a block has: those between its centre and its side, three where that is not clear.

    Where no width is said, as many as make logs of a width on the marks of a ruler, three or nearest to it.

    Parameters
    ----------
    size, centre, log : str
        As said, "" where nothing is.
    how : Conventions
    """
    if size and centre and not log:
        between = one_size(size, how, _FIELD) - one_size(centre, how, _FIELD)
        on_marks = (n for n in _ROUNDS if _is_marked(between / (2 * n), how))
        return next(on_marks, 3)
    if not (size and centre and log):
        return 3
    side, middle, wide = (one_size(each, how, _FIELD) for each in (size, centre, log))
    rounds = (side - middle) / (2 * wide)
    if rounds <= 0 or not rounds.is_plain or rounds.plain.denominator != 1:
        return 3
    return int(rounds.plain)


def _is_marked(wide: Exact, how: Conventions) -> bool:
    """Whether a width meets the marks of the ruler."""
    steps = wide / how.grid
    return steps > 0 and steps.is_plain and steps.plain.denominator == 1


def _economy(said: Said, name: str, how: Conventions) -> Block:
    return economy(name, said.many, _side(said, how), said.cloths, how)


def _plus(said: Said, name: str, how: Conventions) -> Block:
    wide = said.after("wide")
    bar = one_size(wide, how, _FIELD) if wide else None
    return pluses(name, said.many, _side(said, how), said.cloths, how, bar)


def _kind(
    pattern: Pattern,
    make: Callable[[Said, str, Conventions], Block],
    options: Sequence[str],
    *,
    cloths: int = 0,
    needs_size: bool = True,
    nouns: Sequence[str] = (),
    noun_roles: Sequence[str] = (),
) -> Kind[Block]:
    """A kind with a sentence of two units of length to a part: every size of it meets a mark."""
    of = " and ".join(_CLOTHS[: len(pattern.cloths)])
    roles = _roles(pattern)
    fallen = {role: other for role, other in _FALLS_BACK.items() if role in roles}
    return Kind(
        one=pattern.one,
        many=pattern.many,
        make=make,
        like=f"8 {pattern.many} of {2 * pattern.parts} from {of}",
        options=tuple(options),
        cloths=cloths or len(pattern.cloths),
        needs_size=needs_size,
        roles=roles,
        also={role: _ALSO[role] for role in roles if role in _ALSO}
        | _ALSO_OF.get(pattern.one, {}),
        nouns=tuple(nouns) or _PIECES,
        noun_roles=tuple(noun_roles),
        falls_back=fallen,
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


_PIECES: Final = ("squares", "patches", "triangles", "pieces")
# the cloth of one where it is not said
_FALLS_BACK: Final = {
    "centre": "point",
    "claw": "paw",
    "stem": "leaf",
    "thread": "spool",
    "knot": "tie",
}
_ALSO: Final = {
    "star": ("points", "star points"),
    "small square": ("little square", "little squares", "small patches", "chain"),
    "side log": ("sides", "side", "left and right", "side steps"),
    "end log": ("ends", "end", "top and bottom", "bottom and top", "end steps"),
    "outer chain": ("chain", "chains", "outer chains"),
    "tie": ("bow", "bows"),
    "dash": ("dashes",),
    "cross": ("plus", "pluses"),
    "fly": ("flies",),
    "blade": ("sails", "vanes"),
}
_ALSO_OF: Final[dict[str, dict[str, tuple[str, ...]]]] = {
    "double nine patch": {
        "small square": ("little square", "little squares", "small patches", "chain"),
        "background": ("big squares", "big ones", "large squares", "plain squares"),
    },
    "snowball": {"corner": ("background", "backgrounds")},
}
_ECONOMY: Final = "8 economy blocks of 8 from oat and plum and bark"
TRADITIONAL_BLOCKS: Final[tuple[Kind[Block], ...]] = (
    *(_of_pattern(pattern) for pattern in (*STRAIGHT, *WITH_TRIANGLES)),
    _kind(
        FENCE,
        _fence,
        [
            "rails NUMBER|NUMBER rails|NUMBER strips|NUMBER rails each|NUMBER strips each",
            "wide LENGTH|LENGTH wide|LENGTH rails|LENGTH strips|rails LENGTH|strips LENGTH",
        ],
        cloths=_MOST_RAILS,
        nouns=("rails", "strips", "rail", "strip"),
    ),
    _kind(SNOWBALL, _ball, ["corner LENGTH|corners LENGTH|LENGTH corners"]),
    _kind(
        PLUS,
        _plus,
        ["wide LENGTH|plus LENGTH|plus LENGTH wide|cross LENGTH wide|LENGTH wide"],
    ),
    _kind(
        COURTHOUSE,
        _steps,
        LOGS_SAID,
        needs_size=False,
        nouns=LOGS,
        noun_roles=("side log", "end log"),
    ),
    Kind(
        one="economy block",
        many="economy blocks",
        make=_economy,
        like=_ECONOMY,
        cloths=3,
        roles=("centre", "inner triangle", "corner"),
        also={
            "inner triangle": (
                "triangle",
                "triangles",
                "inner triangles",
                "first round",
            ),
            "corner": ("outer triangle", "outer triangles", "outside", "last round"),
        },
    ),
)
