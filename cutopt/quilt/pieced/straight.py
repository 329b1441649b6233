"""Traditional blocks of squares and rectangles alone; arrangements from memory, common practice.

A rail fence and courthouse steps are of as many rails or rounds as a maker says.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from string import ascii_lowercase
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
from cutopt.quilt.pieced.unit import Unit, patch
from cutopt.quilt.recipe.block import Block, Cloths
from cutopt.quilt.surds import Exact

_ROUNDS: Final = 3


def _squares(*rows: str) -> Panel:
    """Squares of one part each, a letter for the cloth of each."""

    def of_row(letters: str) -> list[Unit]:
        return [patch(1, 1, ascii_lowercase.index(letter)) for letter in letters]

    return panel(*(of_row(row) for row in rows))


_LEVEL: Final = panel([patch(3, 1, 0)], [patch(3, 1, 1)], [patch(3, 1, 0)])

SIXTEEN: Final = Pattern(
    one="sixteen patch",
    many="sixteen patches",
    parts=4,
    cloths=("first", "second"),
    drawn=_squares("abab", "baba", "abab", "baba"),
)
TWENTY_FIVE: Final = Pattern(
    one="twenty-five patch",
    many="twenty-five patches",
    parts=5,
    cloths=("first", "second"),
    drawn=_squares("ababa", "babab", "ababa", "babab", "ababa"),
)
THIRTY_SIX: Final = Pattern(
    one="thirty-six patch",
    many="thirty-six patches",
    parts=6,
    cloths=("first", "second"),
    drawn=_squares("ababab", "bababa", "ababab", "bababa", "ababab", "bababa"),
)
UNEVEN: Final = Pattern(
    one="uneven nine patch",
    many="uneven nine patches",
    parts=4,
    cloths=("corner", "bar", "centre"),
    drawn=panel(
        [patch(1, 1, 0), patch(2, 1, 1), patch(1, 1, 0)],
        [patch(1, 2, 1), patch(2, 2, 2), patch(1, 2, 1)],
        [patch(1, 1, 0), patch(2, 1, 1), patch(1, 1, 0)],
    ),
)
NINE: Final = Pattern(
    one="nine patch",
    many="nine patches",
    parts=3,
    cloths=("first", "second", "centre"),
    drawn=_squares("aba", "bcb", "aba"),
)
WEAVE: Final = Pattern(
    one="basket weave",
    many="basket weaves",
    parts=6,
    cloths=("outer rail", "middle rail"),
    drawn=panel((_LEVEL, _LEVEL.turned(1)), (_LEVEL.turned(1), _LEVEL)),
)
CHAIN: Final = Pattern(
    one="single Irish chain",
    many="single Irish chains",
    parts=3,
    cloths=("background", "chain"),
    drawn=_squares("bab", "aba", "bab"),
)
DOUBLE: Final = Pattern(
    one="double Irish chain",
    many="double Irish chains",
    parts=5,
    cloths=("background", "outer chain", "middle chain"),
    drawn=_squares("cbabc", "bcbcb", "abcba", "bcbcb", "cbabc"),
)
BETWEEN: Final = Pattern(
    one="double Irish chain alternate",
    many="double Irish chain alternates",
    parts=5,
    cloths=("background", "outer chain"),
    drawn=panel(
        [patch(1, 1, 1), patch(3, 1, 0, "edge"), patch(1, 1, 1)],
        [patch(5, 3, 0, "middle")],
        [patch(1, 1, 1), patch(3, 1, 0, "edge"), patch(1, 1, 1)],
    ),
)
_SMALL: Final = _squares("aba", "bab", "aba")
_LARGE: Final = patch(3, 3, 1, "large")
DOUBLE_NINE: Final = Pattern(
    one="double nine patch",
    many="double nine patches",
    parts=9,
    cloths=("small square", "background"),
    drawn=panel(
        (_SMALL, _LARGE, _SMALL), (_LARGE, _SMALL, _LARGE), (_SMALL, _LARGE, _SMALL)
    ),
)


STRAIGHT: Final = (
    SIXTEEN,
    TWENTY_FIVE,
    THIRTY_SIX,
    UNEVEN,
    WEAVE,
    CHAIN,
    DOUBLE,
    BETWEEN,
    DOUBLE_NINE,
)


def rail_fence(
    name: str,
    count: int,
    size: Length,
    of: Cloths,
    how: Conventions,
    rails: int | None = None,
) -> Block:
    """Rails side by side; every other block is turned where they are set.

    Parameters
    ----------
    name : of the rows
    count : how many blocks
    size : finished side
    of : cloths of the rails, by turns where there are more rails
    how : seam and unit, and what is usual in it
    rails : how many; one for each of two cloths or more, else three

    Raises
    ------
    Problem
        Where there are fewer than two rails, or fewer than cloths.
    """
    number = rails
    if number is None and len(of) > 1:
        number = len(of)
    if number is None:
        number = 3
    if number < max(2, len(of)):
        what = f"a rail fence of {number} rails, from {len(of)} fabrics"
        mend = f"write rails {max(2, len(of))} or more, or leave it out"
        raise Problem("blocks", what, mend)
    return _fence(number, max(1, len(of))).block(name, count, size, of, how)


def _fence(rails: int, cloths: int) -> Pattern:
    """So many rails, from so many cloths by turns."""
    words = tuple(f"rail {n}" for n in range(1, cloths + 1))
    if cloths == 1:
        words = ("rail",)
    return Pattern(
        one="rail fence",
        many="rail fences",
        parts=rails,
        cloths=words,
        drawn=panel([patch(1, rails, rail % cloths) for rail in range(rails)]),
        turns="by turns",
    )


def courthouse_steps(
    name: str,
    count: int,
    size: Length | None,
    of: Cloths,
    how: Conventions,
    *,
    centre: Length | None = None,
    log: Length | None = None,
    rounds: int = _ROUNDS,
) -> Block:
    """A centre and rounds of logs, two at its sides first, then two across its ends.

    Parameters
    ----------
    name : of the rows
    count : how many blocks
    size : finished side; None where centre and logs give it
    of : cloth of the centre, of the logs at its sides, of those at its ends
    how : seam and unit, and what is usual in it
    centre, log : finished side of the centre, and width of a log; left out, what the size leaves
    rounds : of four logs

    Raises
    ------
    Problem
        Where the sizes do not agree, or leave no centre.
    """
    counted("count", count)
    counted("rounds", rounds)
    whole, middle, wide = _steps(size, centre, log, rounds, how)
    steps = _stepped(middle.plain, wide.plain, rounds)
    cloths = for_each(of, 3)
    told = Told(
        name=name,
        count=count,
        words=tuple(f"{name} {word}" for word in ("centre", "side log", "end log")),
        cloths=cloths,
        how=how,
        side=whole,
    )
    block = pieced(steps, told)
    # from the centre outwards, as they are sewn
    made = replace(block.made, wanted=block.made.wanted[::-1])
    notes = off_the_marks(block, steps, 2 * rounds + 1, how)
    return turned_where_set(replace(block, made=made), None, notes, cloths)


def _steps(
    size: Length | None,
    centre: Length | None,
    log: Length | None,
    rounds: int,
    how: Conventions,
) -> tuple[Exact, Exact, Exact]:
    """Finished side, centre and log of which at least two, or the side, are said."""
    whole = None if size is None else how.read(size, "size")
    middle = None if centre is None else how.read(centre, "centre")
    wide = None if log is None else how.read(log, "logs")
    if whole is not None and middle is None and wide is None:
        wide = whole / (2 * rounds + 1)
    if whole is not None and middle is None and wide is not None:
        middle = whole - 2 * rounds * wide
    if whole is not None and wide is None and middle is not None:
        wide = (whole - middle) / (2 * rounds)
    if middle is None or wide is None:
        mend = "write its size, or centre and logs: of 7, or centre 1, logs 1, rounds 3"
        raise Problem("blocks", "courthouse steps lack a size", mend)
    comes_to = middle + 2 * rounds * wide
    if middle <= 0 or wide <= 0:
        what = (
            f"{rounds} rounds of logs leave no room in a block of {how.show(comes_to)}"
        )
        raise Problem("blocks", what, "write narrower logs, or fewer rounds")
    if whole is not None and comes_to != whole:
        what = (
            f"{how.show(middle)} and {2 * rounds} logs of {how.show(wide)} come to {how.show(comes_to)}, "
            f"not {how.show(whole)}"
        )
        raise Problem("blocks", what, f"write of {how.show(comes_to)}, or other logs")
    return comes_to, middle, wide


def _stepped(centre: Fraction, log: Fraction, rounds: int) -> Panel:
    steps = panel([patch(centre, centre, 0)])
    length = centre
    for n in range(rounds):
        side = patch(log, length, 1, str(n + 1))
        length = length + 2 * log
        end = patch(length, log, 2, str(n + 1))
        steps = panel([end], [side, steps, side], [end])
    return steps


FENCE: Final = _fence(3, 3)
COURTHOUSE: Final = Pattern(
    one="courthouse steps",
    many="courthouse steps",
    parts=2 * _ROUNDS + 1,
    cloths=("centre", "side log", "end log"),
    drawn=_stepped(Fraction(1), Fraction(1), _ROUNDS),
)
