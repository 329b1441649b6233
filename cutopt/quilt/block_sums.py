"""Blocks made of several patches: nine patch, disappearing nine patch, log cabin.

Sizes are finished unless a name says cut; the sums are arithmetic identities.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from cutopt.errors import Problem
from cutopt.fabric import counted, one_of
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import Exact, Number, exact, how_many
from cutopt.quilt.units import seams, squares
from cutopt.quilt.wanted_parts import ANY, ClothLike, Made, Pair, a_cut, come_of_it

Turned: TypeAlias = Literal["as cut", "every other one", "all turned", "pinwheel"]
# how blocks of any kind are turned where they are set
Turns: TypeAlias = Turned | Literal["by turns"]


def row_of(cut: Number, count: int, how: Conventions = DEFAULT) -> Exact:
    """Unfinished length of a row of `count` patches: the sum of the cut sizes less two seams for each seam.

    Parameters
    ----------
    cut : size of each as cut, ticks
    count : how many
    how : seam and unit, and what is usual in it
    """
    return exact(cut) * count - 2 * how.seam * (count - 1)


def checkered(
    name: str, block: Length, count: int, parts: int, of: Pair, how: Conventions
) -> Made:
    """Blocks of parts x parts squares in two fabrics by turns; the first has the corners.

    Parameters
    ----------
    name : of the rows
    block : finished side
    count : how many blocks
    parts : squares along a side
    of : the two fabrics
    how : seam and unit, and what is usual in it
    """
    b = how.read(block, "block")
    first = (parts * parts + 1) // 2
    side = b / parts
    rows = [
        squares(f"{name} {word}", side, number * count, of[i], how).cuts[0]
        for i, (word, number) in enumerate(
            (("first", first), ("second", parts * parts - first))
        )
    ]
    comes_to = row_of(rows[0].width, parts, how) - 2 * how.seam
    note = (
        f"{name}: {parts} squares of {how.show(rows[0].width)} make a block of {how.show(comes_to)}, not "
        f"{how.show(b)}: trim each block, or choose a size that divides by {parts}"
    )
    return Made(
        wanted=tuple(rows), width=b, length=b, notes=() if comes_to == b else (note,)
    )


def four_patch(
    name: str, block: Length, count: int, of: Pair = ANY, how: Conventions = DEFAULT
) -> Made:
    """`count` blocks of two and two squares.

    Parameters
    ----------
    name : of the rows
    block : finished side
    count : how many blocks
    of : the two fabrics
    how : seam and unit, and what is usual in it
    """
    return checkered(name, block, count, 2, of, how)


def nine_patch(
    name: str, block: Length, count: int, of: Pair = ANY, how: Conventions = DEFAULT
) -> Made:
    """`count` blocks of five squares of the first fabric (corners and centre) and four of the second.

    Parameters
    ----------
    name : of the rows
    block : finished side
    count : how many blocks
    of : the two fabrics
    how : seam and unit, and what is usual in it
    """
    return checkered(name, block, count, 3, of, how)


@dataclass(frozen=True, slots=True, kw_only=True)
class NinePatchCut:
    """A nine patch of nine cut squares, halved both ways: four units, each sewn back costs a seam each way.

    `sewn` is the unfinished nine patch, `unit` and `finished` a quarter of it before and after it is sewn back;
    `whole`, `half` and `quarter` are finished sides inside a unit: one whole x whole corner square, two
    half x whole bars, one quarter of the centre, half x half.
    """

    cut: Exact
    sewn: Exact
    unit: Exact
    finished: Exact
    whole: Exact
    half: Exact

    @classmethod
    def of(cls, cut: Number, seam: int) -> NinePatchCut:
        """From the cut size of the nine squares."""
        sewn = 3 * exact(cut) - 4 * seam
        whole = exact(cut) - 2 * seam
        return cls(
            cut=exact(cut),
            sewn=sewn,
            unit=sewn / 2,
            finished=sewn / 2 - 2 * seam,
            whole=whole,
            half=whole / 2 - seam,
        )


def disappearing_nine_patch(
    name: str,
    cut: Length,
    units: int,
    of: tuple[ClothLike, ClothLike, ClothLike] = (None, None, None),
    how: Conventions = DEFAULT,
) -> Made:
    """`units` quarter units from nine patches of squares of a cut size; `of` is corners, edges and centre.

    Nine squares of cut size c sew to 3(c - 2s) + 2s and are halved both ways. How the units are turned
    (:func:`turns`) changes the look and not the arithmetic.

    Parameters
    ----------
    name : of the rows
    cut : side of a square as cut
    units : how many
    of : cloth of corners, edges and centre
    how : seam and unit, and what is usual in it

    Raises
    ------
    Problem
        Where nothing would be left of the centre.
    """
    counted("units", units)
    c = exact(how.cut_size(how.read(cut, "cut")))
    if c <= 4 * how.seam:
        raise Problem(
            "cut",
            "nothing would be left of the centre",
            f"write more than {how.show(4 * how.seam)}",
        )
    nine = NinePatchCut.of(c, how.seam)
    n = how_many(units, 4)
    told = f"cut {how.show(c)} as said; {units} units, 4 from a nine patch: {n} nine patches"
    rows = tuple(
        a_cut(
            f"{name} {word}",
            (c, c),
            each * n,
            f"{told} x {each} = {each * n}",
            how,
            choice,
        )
        for (word, each), choice in zip(
            (("corner", 4), ("edge", 4), ("centre", 1)), of, strict=True
        )
    )
    note = (
        f"{name}: sew nine to {how.show(nine.sewn)}, cut through the middle both ways to {how.show(nine.unit)}; "
        f"a unit finishes {how.show(nine.finished)}"
    )
    notes = (note, *come_of_it(name, "units", 4 * n, units))
    return Made(wanted=rows, width=nine.finished, length=nine.finished, notes=notes)


def turns(variant: Turns, rows: int, columns: int) -> tuple[tuple[int, ...], ...]:
    """Quarter turns of each unit of a layout, for the variants in which cut blocks are sewn back.

    0 is the unit whose whole corner square lies at the upper left, each quarter turn goes clockwise. "as cut":
    the four units of a block where they were; "every other one": two opposite units of each four turned by half;
    "all turned": whole corner squares meet in the middle of each four; "pinwheel": each unit of four a quarter
    turn on from where it was. "by turns" are blocks of any kind, every other one a quarter turn on, like the fields of
    a board.

    Parameters
    ----------
    variant : how cut blocks are sewn back
    rows, columns : of units
    """
    known = ("as cut", "every other one", "all turned", "pinwheel", "by turns")
    one_of("variant", variant, known)
    if variant == "by turns":
        even = tuple(c % 2 for c in range(columns))
        odd = tuple((c + 1) % 2 for c in range(columns))
        return tuple((even, odd)[r % 2] for r in range(rows))
    # whole squares at the outer corners
    home = ((0, 1), (3, 2))
    add = {
        "as cut": ((0, 0), (0, 0)),
        "every other one": ((2, 0), (0, 2)),
        "all turned": ((2, 2), (2, 2)),
        "pinwheel": ((1, 1), (1, 1)),
    }[variant]
    return tuple(
        tuple((home[r % 2][c % 2] + add[r % 2][c % 2]) % 4 for c in range(columns))
        for r in range(rows)
    )


def log_lengths(centre: Number, log: Number, rounds: int) -> tuple[Exact, ...]:
    """Finished lengths of the logs in the order of sewing: round i takes c+2(i-1)w, twice c+(2i-1)w, c+2iw.

    Parameters
    ----------
    centre, log : finished side of the centre, and width of a log, ticks
    rounds : of four logs
    """
    c = exact(centre)
    w = exact(log)
    return tuple(c + (2 * i + step) * w for i in range(rounds) for step in (0, 1, 1, 2))


def log_cabin(
    name: str,
    centre: Length,
    log: Length,
    rounds: int,
    count: int,
    of: tuple[ClothLike, ClothLike, ClothLike] = (None, None, None),
    how: Conventions = DEFAULT,
) -> Made:
    """`count` blocks of a centre and `rounds` of four logs; `of` is centre, light and dark half of a round.

    Parameters
    ----------
    name : of the rows
    centre, log : finished side of the centre, and width of a log
    rounds : of four logs
    count : how many blocks
    of : cloth of the centre, the light and the dark half
    how : seam and unit, and what is usual in it
    """
    counted("count", count)
    counted("rounds", rounds)
    c = how.read(centre, "centre")
    w = how.read(log, "log")
    rows = list(squares(f"{name} centre", c, count, of[0], how).wanted)
    for number, length in enumerate(log_lengths(c, w, rounds)):
        word, choice = ("light", of[1]) if number % 4 < 2 else ("dark", of[2])
        size = (w + 2 * how.seam, length + 2 * how.seam)
        why = f"log {number + 1}: finished {how.size(w, length)}, + {seams(how)} each way = {how.size(*size)}"
        rows.append(a_cut(f"{name} {word} {number + 1}", size, count, why, how, choice))
    block = c + 2 * rounds * w
    return Made(wanted=tuple(rows), width=block, length=block)
