"""Traditional blocks with triangles; arrangements from memory, common practice.

Their first cloth is the background. Half-square triangles are drawn with the place of their first cloth.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions, Length
from cutopt.quilt.pieced.panel import panel, round_the_middle
from cutopt.quilt.pieced.pattern import Pattern, for_each
from cutopt.quilt.pieced.sums import Told, pieced
from cutopt.quilt.pieced.unit import (
    LOWER_LEFT,
    LOWER_RIGHT,
    UPPER_LEFT,
    UPPER_RIGHT,
    goose,
    half,
    hourglass,
    patch,
    sewn_over,
)
from cutopt.quilt.recipe.block import Block, Cloths

# where the first cloth of a half-square triangle lies, as turns
_UPPER_LEFT: Final = 0
_UPPER_RIGHT: Final = 1
_LOWER_RIGHT: Final = 2
_LOWER_LEFT: Final = 3
# which way a goose points
_UP: Final = 0
_RIGHT: Final = 1
_DOWN: Final = 2
_LEFT: Final = 3

_ALL: Final = (LOWER_LEFT, LOWER_RIGHT, UPPER_RIGHT, UPPER_LEFT)
_CORNER: Final = patch(1, 1, 0, "corner")

PINWHEEL: Final = Pattern(
    one="pinwheel",
    many="pinwheels",
    parts=2,
    cloths=("background", "blade"),
    drawn=round_the_middle(half(1, 1, 0, _UPPER_RIGHT)),
)

_DISH: Final = panel(
    (half(1, 1, 0, _UPPER_RIGHT), half(1, 1, 0, _UPPER_LEFT)),
    (half(1, 1, 0, _LOWER_RIGHT), half(1, 1, 0, _LOWER_LEFT)),
)
DISHES: Final = Pattern(
    one="broken dishes",
    many="broken dishes",
    parts=4,
    cloths=("background", "dish"),
    drawn=panel((_DISH, _DISH.turned(1)), (_DISH.turned(1), _DISH)),
)

_TWO_GEESE: Final = panel([goose(2, 1, 0)], [goose(2, 1, 0)])
PUZZLE: Final = Pattern(
    one="Dutchman's puzzle",
    many="Dutchman's puzzles",
    parts=4,
    cloths=("background", "flock"),
    drawn=round_the_middle(_TWO_GEESE.turned(_RIGHT)),
)

# a dash at the edge of the block, background at its centre
_DASH: Final = panel([patch(2, 1, 1, "rail")], [patch(2, 1, 0, "rail")])
CHURN: Final = Pattern(
    one="churn dash",
    many="churn dashes",
    parts=6,
    cloths=("background", "dash"),
    drawn=panel(
        (half(2, 0, 1, _UPPER_LEFT), _DASH, half(2, 0, 1, _UPPER_RIGHT)),
        (_DASH.turned(3), patch(2, 2, 0, "centre"), _DASH.turned(1)),
        (half(2, 0, 1, _LOWER_LEFT), _DASH.turned(2), half(2, 0, 1, _LOWER_RIGHT)),
    ),
)

FRIENDSHIP: Final = Pattern(
    one="friendship star",
    many="friendship stars",
    parts=3,
    cloths=("background", "star"),
    drawn=panel(
        (_CORNER, half(1, 1, 0, _LOWER_LEFT), _CORNER),
        (
            half(1, 1, 0, _LOWER_RIGHT),
            patch(1, 1, 1, "centre"),
            half(1, 1, 0, _UPPER_LEFT),
        ),
        (_CORNER, half(1, 1, 0, _UPPER_RIGHT), _CORNER),
    ),
)

SAWTOOTH: Final = Pattern(
    one="sawtooth star",
    many="sawtooth stars",
    parts=4,
    cloths=("background", "point", "centre"),
    drawn=panel(
        (_CORNER, goose(2, 0, 1, _DOWN), _CORNER),
        (goose(2, 0, 1, _RIGHT), patch(2, 2, 2), goose(2, 0, 1, _LEFT)),
        (_CORNER, goose(2, 0, 1, _UP), _CORNER),
    ),
)

_POINTS: Final = hourglass(1, 0, 1)
OHIO: Final = Pattern(
    one="Ohio star",
    many="Ohio stars",
    parts=3,
    cloths=("background", "point", "centre"),
    drawn=panel(
        (_CORNER, _POINTS, _CORNER),
        (_POINTS.turned(1), patch(1, 1, 2), _POINTS.turned(1)),
        (_CORNER, _POINTS, _CORNER),
    ),
)

_SIDE: Final = patch(1, 1, 0, "square")
SHOOFLY: Final = Pattern(
    one="shoofly",
    many="shooflies",
    parts=3,
    cloths=("background", "fly"),
    drawn=panel(
        (half(1, 0, 1, _UPPER_LEFT), _SIDE, half(1, 0, 1, _UPPER_RIGHT)),
        (_SIDE, patch(1, 1, 1, "centre"), _SIDE),
        (half(1, 0, 1, _LOWER_LEFT), _SIDE, half(1, 0, 1, _LOWER_RIGHT)),
    ),
)

_CLAW: Final = half(1, 0, 2, _UPPER_LEFT)
_PAW: Final = panel(
    (_CORNER, panel([_CLAW, _CLAW])),
    (panel([_CLAW], [_CLAW]), patch(2, 2, 1, "square")),
)
_BAR: Final = patch(1, 3, 0, "bar")
PAW: Final = Pattern(
    one="bear's paw",
    many="bear's paws",
    parts=7,
    cloths=("background", "paw", "claw"),
    drawn=panel(
        (_PAW, _BAR, _PAW.turned(1)),
        (_BAR.turned(1), patch(1, 1, 2, "centre"), _BAR.turned(1)),
        (_PAW.turned(3), _BAR, _PAW.turned(2)),
    ),
)

SPOOL: Final = Pattern(
    one="spool",
    many="spools",
    parts=3,
    cloths=("background", "spool", "thread"),
    drawn=panel(
        (
            half(1, 0, 1, _LOWER_LEFT),
            patch(1, 1, 1, "bar"),
            half(1, 0, 1, _LOWER_RIGHT),
        ),
        (_SIDE, patch(1, 1, 2), _SIDE),
        (
            half(1, 0, 1, _UPPER_LEFT),
            patch(1, 1, 1, "bar"),
            half(1, 0, 1, _UPPER_RIGHT),
        ),
    ),
)

_LEAF: Final = patch(1, 1, 1, "square")
_TIPS: Final = half(1, 0, 1, _UPPER_LEFT)
MAPLE: Final = Pattern(
    one="maple leaf",
    many="maple leaves",
    parts=3,
    cloths=("background", "leaf", "stem"),
    drawn=panel(
        (patch(1, 1, 0, "square"), _TIPS, _TIPS),
        (_TIPS, _LEAF, _LEAF),
        (
            _TIPS,
            _LEAF,
            sewn_over((1, 1), Fraction(3, 4), (2, 0), (LOWER_LEFT, UPPER_RIGHT)),
        ),
    ),
)

# a square of the background, a corner of the knot sewn over towards the middle
_FIELD: Final = sewn_over((2, 2), 1, (0, 2), (LOWER_LEFT,))
_END: Final = patch(2, 2, 1)
BOW: Final = Pattern(
    one="bow tie",
    many="bow ties",
    parts=4,
    cloths=("background", "tie", "knot"),
    drawn=panel((_END, _FIELD), (_FIELD.turned(2), _END)),
)

_RUNGS: Final = panel(
    (patch(1, 1, 1), patch(1, 1, 0)), (patch(1, 1, 0), patch(1, 1, 1))
)
_RAIL: Final = half(2, 0, 1, _UPPER_LEFT)
LADDER: Final = Pattern(
    one="Jacob's ladder",
    many="Jacob's ladders",
    parts=6,
    cloths=("background", "ladder"),
    drawn=panel(
        (_RUNGS, _RAIL, _RUNGS), (_RAIL, _RUNGS, _RAIL), (_RUNGS, _RAIL, _RUNGS)
    ),
)

WITH_TRIANGLES: Final = (
    PINWHEEL,
    DISHES,
    PUZZLE,
    CHURN,
    FRIENDSHIP,
    SAWTOOTH,
    OHIO,
    SHOOFLY,
    PAW,
    SPOOL,
    MAPLE,
    BOW,
    LADDER,
)
SNOWBALL: Final = Pattern(
    one="snowball",
    many="snowballs",
    parts=3,
    cloths=("middle", "corner"),
    drawn=panel([sewn_over((3, 3), 1, (0, 1), _ALL)]),
)


def snowballs(
    name: str,
    count: int,
    size: Length,
    of: Cloths,
    how: Conventions,
    corner: Length | None = None,
) -> Block:
    """Squares with all four corners sewn over, each a third of the side, or as said.

    Parameters
    ----------
    name : of the rows
    count : how many blocks
    size : finished side
    of : cloth of the middle, and of the corners
    how : seam and unit, and what is usual in it
    corner : finished leg of a corner

    Raises
    ------
    Problem
        Where corners are larger than half the side.
    """
    if corner is None:
        return SNOWBALL.block(name, count, size, of, how)
    side = how.read(size, "size")
    leg = how.read(corner, "corner")
    if not 0 < 2 * leg <= side:
        what = f"corners of {how.show(leg)} do not go into a block of {how.show(side)}"
        raise Problem(
            "blocks", what, f"write corner {how.show(side / 4)}, or leave it out"
        )
    square = sewn_over((side.plain, side.plain), leg.plain, (0, 1), _ALL)
    told = Told(
        name=name,
        count=count,
        words=tuple(f"{name} {word}" for word in SNOWBALL.cloths),
        cloths=for_each(of, 2),
        how=how,
    )
    return pieced(panel([square]), told)
