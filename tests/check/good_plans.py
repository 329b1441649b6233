"""Small plans made by hand, each with its arithmetic in the open; all lengths here are inches. Invented data."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import TypeAlias

from cutopt.fabric import ByLength, ByPiece, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.plan import (
    Bought,
    CutStep,
    Join,
    Level,
    Plan,
    Short,
    Source,
    Spare,
    Totals,
    Use,
)
from cutopt.settings import Settings
from cutopt.wanted import Cut, Strip

Case: TypeAlias = tuple[Job, Plan]


def inch(number: float | str | Fraction) -> int:
    """Inches as ticks; the numbers used here are all exact in binary or given as text."""
    ticks = Fraction(number) * INCH
    assert ticks.denominator == 1, number
    return int(ticks)


def outline(text: str) -> tuple[tuple[int, int], ...]:
    """`"0 0; 18 0; 18 6"` as corners."""
    return tuple(
        (inch(x), inch(y)) for x, y in (corner.split() for corner in text.split(";"))
    )


def cut(n: int, part: str, place: str, gives: str) -> CutStep:
    """`cut(1, "S1", "x 5", "a b")`, or `"line 0 1 12 0"`."""
    axis, *numbers = place.split()
    at = [inch(number) for number in numbers]
    step = CutStep(n=n, part=part, gives=tuple(gives.split()))
    if axis == "line":
        return replace(step, line=((at[0], at[1]), (at[2], at[3])))
    return replace(step, x=at[0]) if axis == "x" else replace(step, y=at[0])


def uses(key: str, parts: str, *, turned: bool = False) -> tuple[Use, ...]:
    return tuple(Use(part=part, for_=key, turned=turned) for part in parts.split())


def spare(parts: str) -> tuple[Spare, ...]:
    return tuple(Spare(part=part) for part in parts.split())


def lengths(**bought: int) -> tuple[Bought, ...]:
    return tuple(
        Bought(fabric=fabric, amount=length) for fabric, length in bought.items()
    )


def pieces(**bought: int) -> tuple[Bought, ...]:
    return tuple(
        Bought(fabric=fabric, amount=count, by_piece=True)
        for fabric, count in bought.items()
    )


def totals(cuts: int, ruler_widths: int, money: str = "0", **bought: int) -> Totals:
    return Totals(
        money=Decimal(money),
        bought=lengths(**bought),
        cuts=cuts,
        ruler_widths=ruler_widths,
    )


PEAR = Fabric(name="pear", colour="green", tags=("greens",))
BARK = Fabric(name="bark", one_way="along")
MIST = Fabric(name="mist", one_way="across")
OAT = Fabric(name="oat", shrink_across=Fraction(2, 100), shrink_along=Fraction(3, 100))


def ell() -> Case:
    """An L: the first cut leaves the tall side, from which two 5-inch squares come. Widths: 5 (three times)."""
    piece = Piece(
        name="ell",
        fabric="pear",
        outline=outline("0 0; 18 0; 18 6; 6 6; 6 11; 0 11"),
        count=2,
    )
    job = Job(
        fabrics=(PEAR,),
        pieces=(piece,),
        cuts=(Cut(name="square", width=inch(5), length=inch(5), count=3),),
    )
    plan = Plan(
        job=job.digest,
        sources=(Source(id="S1", piece="ell", copy=2),),
        cuts=(
            cut(1, "S1", "x 5", "a b"),
            cut(2, "a", "y 5", "c d"),
            cut(3, "d", "y 10", "e f"),
        ),
        uses=uses("cuts/square", "c e"),
        spare=spare("b f"),
        short=(Short(for_="cuts/square", count=1, why="no more cloth"),),
        levels=(
            Level(name="money", value="0.00", bound="0", proved=True),
            Level(name="spare", value="-12", bound="-20.5", proved=False),
        ),
        totals=totals(3, 1),
    )
    return job, plan


def notch() -> Case:
    """A U: one cut at the foot of the notch gives three parts. A later cut runs through both arms of another U."""
    u = outline("0 0; 12 0; 12 8; 8 8; 8 4; 4 4; 4 8; 0 8")
    pieces = (
        Piece(name="u", fabric="pear", outline=u),
        Piece(name="v", fabric="pear", outline=u),
    )
    job = Job(
        fabrics=(PEAR,),
        pieces=pieces,
        cuts=(
            Cut(name="arm", width=inch(4), length=inch(4), count=2),
            Cut(name="foot", width=inch(12), length=inch(4)),
            Cut(name="tip", width=inch(4), length=inch(2), count=2),
        ),
    )
    plan = Plan(
        job=job.digest,
        sources=(Source(id="S1", piece="u"), Source(id="S2", piece="v")),
        cuts=(
            cut(1, "S1", "y 4", "foot left right"),
            cut(2, "S2", "y 6", "rest tip1 tip2"),
        ),
        uses=uses("cuts/arm", "left right")
        + uses("cuts/foot", "foot")
        + uses("cuts/tip", "tip1 tip2"),
        spare=spare("rest"),
        totals=totals(2, 1),  # 4 from the foot; what lies below the second cut is spare
    )
    return job, plan


def triangle() -> Case:
    """Half of a 12-inch square: the corner of a 6 x 6 part lies on its long side, touching."""
    piece = Piece(name="half", fabric="pear", outline=outline("0 0; 12 0; 0 12"))
    job = Job(
        fabrics=(PEAR,),
        pieces=(piece,),
        cuts=(Cut(name="square", width=inch(6), length=inch(6)),),
    )
    plan = Plan(
        job=job.digest,
        sources=(Source(id="S1", piece="half"),),
        cuts=(cut(1, "S1", "x 6", "a b"), cut(2, "a", "y 6", "c d")),
        uses=uses("cuts/square", "c"),
        spare=spare("b d"),
        totals=totals(2, 1),
    )
    return job, plan


def stain() -> Case:
    """A stain in the middle that the wanted parts touch from three sides, none of them on it."""
    piece = Piece(
        name="tray",
        fabric="pear",
        outline=outline("0 0; 12 0; 12 8; 0 8"),
        flaws=(outline("4 3; 6 3; 5 5"),),
    )
    job = Job(
        fabrics=(PEAR,),
        pieces=(piece,),
        cuts=(Cut(name="bar", width=inch(4), length=inch(8), count=2),),
    )
    plan = Plan(
        job=job.digest,
        sources=(Source(id="S1", piece="tray"),),
        cuts=(
            cut(1, "S1", "x 4", "a b"),
            cut(2, "b", "x 6", "c d"),
            cut(3, "d", "x 10", "e f"),
        ),
        uses=uses("cuts/bar", "a e"),
        spare=spare("c f"),
        totals=totals(3, 1),
    )
    return job, plan


def raw() -> Case:
    """Raw edges lose 1/4 in, a rough measure 1/2 in more; a cut edge loses nothing. Both give exactly 4 x 4."""
    pieces = (
        Piece.of_size("torn", "pear", inch("4.5"), inch("8.5"), edges="raw"),
        Piece.of_size(
            "rough", "pear", inch("5.5"), inch("5.5"), edges="raw", about=True
        ),
    )
    job = Job(
        fabrics=(PEAR,),
        pieces=pieces,
        cuts=(Cut(name="square", width=inch(4), length=inch(4), count=3),),
    )
    plan = Plan(
        job=job.digest,
        sources=(Source(id="S1", piece="torn"), Source(id="S2", piece="rough")),
        cuts=(
            cut(1, "S1", "x 0.25", "t1 t2"),
            cut(2, "t2", "x 4.25", "t3 t4"),
            cut(3, "t3", "y 0.25", "t5 t6"),
            cut(4, "t6", "y 4.25", "t7 t8"),
            cut(5, "t8", "y 8.25", "t9 t0"),
            cut(6, "S2", "x 0.75", "r1 r2"),
            cut(7, "r2", "x 4.75", "r3 r4"),
            cut(8, "r3", "y 0.75", "r5 r6"),
            cut(9, "r6", "y 4.75", "r7 r8"),
        ),
        uses=uses("cuts/square", "t7 t9 r7"),
        spare=spare("t1 t4 t5 t0 r1 r4 r5 r8"),
        totals=totals(
            9, 1
        ),  # squaring up leaves only spare cloth below: 4 is the one width
    )
    return job, plan


def shrunk() -> Case:
    """1/4 yd of oat, 42 in wide: 41.16 x 8.73 after the wash, 1/2 in off both ends, three segments 2 1/2 wide.

    The binding: 41.16 + 20 - 2 1/2 for the diagonal join = 58.66; the sash of one segment 40 in.
    41.16 in are 334 548.48 ticks, rounded down; 8.73 in are 70 957.44 ticks.
    """
    job = Job(
        fabrics=(OAT,),
        shop=(
            ByLength(
                fabric="oat",
                usable_width=inch(42),
                sold_by=inch("4.5"),
                smallest=inch(9),
                most=inch(72),
                price=Decimal("9.60"),
            ),
            ByPiece(
                fabric="oat",
                each_width=inch(18),
                each_length=inch(21),
                most=2,
                price=Decimal("4.50"),
            ),
        ),
        strips=(
            Strip(
                name="binding",
                width=inch("2.5"),
                total_length=inch("58.5"),
                grain="across",
            ),
            Strip(name="sash", width=inch("2.5"), total_length=inch(38), join="none"),
        ),
    )
    plan = Plan(
        job=job.digest,
        sources=(
            Source(
                id="S1",
                bought="oat",
                width=inch(42),
                length=inch(9),
                price=Decimal("2.40"),
            ),
        ),
        cuts=(
            cut(1, "S1", "y 0.5", "end1 a"),
            cut(2, "a", "y 3", "seg1 b"),
            cut(3, "b", "y 5.5", "c d"),
            cut(4, "c", "x 20", "seg2 e"),
            cut(5, "d", "y 8", "f end2"),
            cut(6, "f", "x 40", "seg3 g"),
        ),
        uses=uses("strips/binding", "seg1 seg2", turned=True)
        + uses("strips/sash", "seg3", turned=True),
        spare=spare("end1 e end2 g"),
        joins=(
            Join(
                for_="strips/binding",
                segments=("seg1", "seg2"),
                join="diagonal",
                length=334_548 + inch("17.5"),
            ),
            Join(for_="strips/sash", segments=("seg3",), join="none", length=inch(40)),
        ),
        levels=(
            Level(name="money", value="2.40", bound="1.20", proved=False),
            Level(name="cuts", value="6", bound="6", proved=True),
            Level(name="ruler widths", value="3", bound="0", proved=False),
            Level(name="seams", value="0", bound="0", proved=True),
        ),
        totals=replace(
            totals(6, 3, "2.40", oat=inch(9)), joins=1
        ),  # 2 1/2 three times, 20, 40
    )
    return job, plan


def each() -> Case:
    """Two fat quarters of oat at their size after the wash, nothing off the edges: 17.64 x 20.37."""
    job = replace(
        shrunk()[0],
        strips=(),
        cuts=(Cut(name="panel", width=inch(17), length=inch(20), count=2),),
    )
    plan = Plan(
        job=job.digest,
        sources=tuple(
            Source(
                id=name,
                bought="oat",
                by_piece=True,
                width=inch(18),
                length=inch(21),
                price=Decimal("4.50"),
            )
            for name in "ST"
        ),
        cuts=(
            cut(1, "S", "x 17", "s1 s2"),
            cut(2, "s1", "y 20", "s3 s4"),
            cut(3, "T", "y 20", "t1 t2"),
            cut(4, "t1", "x 17", "t3 t4"),
        ),
        uses=uses("cuts/panel", "s3 t3"),
        spare=spare("s2 s4 t2 t4"),
        totals=replace(totals(4, 2, "9.00"), bought=pieces(oat=2)),
    )
    return job, plan


def grain() -> Case:
    """Grain rules and prints with a right way up: bark stands along the selvage, mist across it.

    From each a 3 x 5 leaf that must stand up; from pear, of known grain, a leaf along and one across; a patch
    without a rule, turned, from a pear piece whose grain nobody knows.
    """
    leaf = {"width": inch(3), "length": inch(5)}
    job = Job(
        fabrics=(PEAR, BARK, MIST),
        pieces=(
            Piece.of_size("b", "bark", inch(3), inch(5)),
            Piece.of_size("m", "mist", inch(5), inch(3)),
            Piece.of_size("p", "pear", inch(3), inch(5)),
            Piece.of_size("q", "pear", inch(5), inch(3)),
            Piece.of_size("u", "pear", inch(5), inch(3), grain_known=False),
            Piece.of_size("no", "pear", inch(5), inch(3), wish="do not touch"),
        ),
        cuts=(
            Cut(name="leaf", **leaf, count=2, upright=True),
            Cut(name="long", **leaf, grain="along", fabrics=("greens",)),
            Cut(name="cross", **leaf, grain="across", fabrics=("greens",)),
            Cut(name="patch", **leaf, upright=True),
        ),
    )
    plan = Plan(
        job=job.digest,
        sources=tuple(Source(id=name.upper(), piece=name) for name in "bmpqu"),
        uses=(
            *uses("cuts/leaf", "B"),
            *uses("cuts/leaf", "M", turned=True),
            *uses("cuts/long", "P"),
            *uses("cuts/cross", "Q", turned=True),
            *uses("cuts/patch", "U", turned=True),
        ),
        totals=totals(0, 0),
    )
    return job, plan


def straightened() -> Case:
    """A piece whose foot slants from 0 to 2 in over 12 in: the first cut runs along a line a little above it."""
    piece = Piece(name="slant", fabric="pear", outline=outline("0 0; 12 2; 12 9; 0 9"))
    job = Job(
        fabrics=(PEAR,),
        pieces=(piece,),
        settings=Settings(turns=3),
        cuts=(Cut(name="bar", width=inch(12), length=inch(6), count=1),),
    )
    plan = Plan(
        job=job.digest,
        sources=(Source(id="S1", piece="slant"),),
        cuts=(
            cut(1, "S1", "line 12 2.5 0 0.5", "low high"),
            cut(2, "high", "y 3", "a b"),
        ),
        uses=uses("cuts/bar", "b"),
        spare=spare("low a"),
        totals=totals(2, 0),
    )
    return job, plan


def together() -> Case:
    """Two rows that come from one fabric; at most two squares from any one fabric; three pieces alike."""
    row = {"width": inch(3), "length": inch(3)}
    job = Job(
        fabrics=(PEAR, BARK),
        pieces=(
            Piece.of_size("p", "pear", inch(3), inch(3), count=3),
            Piece.of_size("b", "bark", inch(3), inch(3), count=4),
        ),
        cuts=(
            Cut(name="petal", **row, together="flower"),
            Cut(name="heart", **row, together="flower"),
            Cut(name="square", **row, count=3, most_each=2),
        ),
    )
    plan = Plan(
        job=job.digest,
        sources=(
            *(Source(id=f"P{i}", piece="p", copy=i) for i in (1, 2, 3)),
            *(Source(id=f"B{i}", piece="b", copy=i) for i in (1, 4)),
        ),
        uses=uses("cuts/petal", "P1")
        + uses("cuts/heart", "P2")
        + uses("cuts/square", "P3 B1 B4"),
        totals=totals(0, 0),
    )
    return job, plan


GOOD: dict[str, Callable[[], Case]] = {
    made.__name__: made
    for made in (
        ell,
        notch,
        triangle,
        stain,
        raw,
        shrunk,
        each,
        grain,
        straightened,
        together,
    )
}
