"""Sixty piles out of which one back each is to be sewn: seeded, invented, of three kinds.

``plain`` piles are rectangles; ``blocks`` ones have spare blocks besides that may go in; ``odd`` ones have irregular
pieces, flaws and raw edges. A pile has from 0.7 to 1.6 times the area of its back. Any fabric may go into it, and one
of them, 42 in wide, is sold by the 1/8 yd at 12.00 a yard. Sizes are on quarter inches.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from cutopt.fabric import ByLength, Corner, Fabric, Outline, Piece
from cutopt.geometry import area2, rectangle
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.piecing import Back, BlockWish, SpareBlock

Kind: TypeAlias = Literal["plain", "blocks", "odd"]
KINDS: Final[tuple[Kind, ...]] = ("plain", "blocks", "odd")
SIZES: Final = ((44, 52), (50, 60), (54, 64), (58, 68))
FABRICS: Final = ("oat", "pear", "plum", "bark", "mist")
GOODS: Final = ByLength(
    fabric="oat",
    usable_width=42 * INCH,
    sold_by=YARD // 8,
    price=Decimal("12.00"),
)
BLOCKS: Final = (
    SpareBlock(name="gate", width=25 * INCH // 2, length=25 * INCH // 2, count=3),
    SpareBlock(
        name="ladder",
        width=17 * INCH // 2,
        length=25 * INCH // 2,
        count=2,
        may_trim_to=(8 * INCH, 12 * INCH),
    ),
)
# of each kind
COUNT: Final = 20
_QUARTER: Final = INCH // 4
# usual leftovers in inches: the narrower side and the longer one, least and most
_SHAPES: Final = (
    ((8, 14), (10, 22)),
    ((5, 8), (20, 42)),
    ((12, 20), (18, 30)),
    ((5, 9), (8, 14)),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PileOfBack:
    """A job with one back, and of which kind its pile is."""

    number: int
    kind: Kind
    job: Job

    @property
    def name(self) -> str:
        """``odd 7``."""
        return f"{self.kind} {self.number}"

    @property
    def share(self) -> Fraction:
        """The area of the pile, flaws counted in, by that of the back."""
        (back,) = self.job.backs
        cloth = sum(
            (Fraction(area2(piece.outline)) / 2 for piece in self.job.pieces),
            start=Fraction(0),
        )
        return cloth / (back.width * back.length)


def piles() -> tuple[PileOfBack, ...]:
    """All sixty, kind after kind, the small piles first."""
    return tuple(pile(kind, number) for kind in KINDS for number in range(COUNT))


def pile(kind: Kind, number: int) -> PileOfBack:
    """One of the twenty of a kind, from 0 on.

    Parameters
    ----------
    kind : {"plain", "blocks", "odd"}
    number : int
    """
    rnd = random.Random(f"back of {kind} {number}")
    width, length = SIZES[number % len(SIZES)]
    share = 0.7 + 0.9 * number / (COUNT - 1)
    # what is cut out of odd ones makes them about a tenth smaller
    more = 1.1 if kind == "odd" else 1.0
    sizes = _sizes(rnd, width * length * share * more, 6 + number * 7 % 15)
    pieces = tuple(
        _piece(rnd, kind, place, size) for place, size in enumerate(sizes, start=1)
    )
    back = Back(name="back", width=width * INCH, length=length * INCH)
    job = Job(
        name=f"a back from {kind} pile {number}",
        fabrics=tuple(Fabric(name=name) for name in FABRICS),
        pieces=pieces,
        shop=(GOODS,),
        backs=(back,),
    )
    if kind == "blocks":
        wished = replace(back, blocks=(BlockWish(name="any"),))
        job = replace(job, backs=(wished,), spare_blocks=BLOCKS)
    return PileOfBack(number=number, kind=kind, job=job)


def _sizes(rnd: random.Random, area: float, count: int) -> list[Corner]:
    """So many rectangles in quarter inches, as much cloth together as is asked for (square inches)."""
    drawn = []
    for _ in range(count):
        shape = rnd.choice(_SHAPES)
        short, long = (rnd.uniform(*side) for side in shape)
        drawn.append((short, long) if rnd.random() < 0.5 else (long, short))
    scale = (area / sum(a * b for a, b in drawn)) ** 0.5
    sizes = [(_quarters(a * scale), _quarters(b * scale)) for a, b in drawn]
    return [(a, b) for a, b in sizes]


def _quarters(inches: float) -> int:
    """A side of a leftover: no less than 4 1/2 in, and no more than the cloth is wide."""
    return min(max(round(inches * 4), 18), 168)


def _piece(rnd: random.Random, kind: Kind, place: int, size: Corner) -> Piece:
    width, length = (side * _QUARTER for side in size)
    whole = rectangle(width, length)
    piece = Piece(name=f"p{place}", fabric=rnd.choice(FABRICS), outline=whole)
    if kind != "odd" or rnd.random() < 0.4:
        return piece
    outline = rnd.choice((_without_corner, _slanted))(rnd, *size)
    piece = replace(piece, outline=outline)
    if rnd.random() < 0.3:
        piece = replace(piece, edges="raw")
    if rnd.random() < 0.3:
        x, y = rnd.choice(((INCH, 0), (0, INCH), (INCH, INCH)))
        piece = replace(piece, flaws=(rectangle(INCH, INCH, x, y),))
    return piece


def _without_corner(rnd: random.Random, across: int, along: int) -> Outline:
    """A rectangle out of which something was cut at a corner (quarter inches in, ticks out)."""
    a = rnd.randint(across // 2, across - 4)
    b = rnd.randint(along // 2, along - 4)
    ring = ((0, 0), (across, 0), (across, b), (a, b), (a, along), (0, along))
    return _in_ticks(ring)


def _slanted(rnd: random.Random, across: int, along: int) -> Outline:
    """A piece one side of which runs aslant."""
    a = rnd.randint(across * 3 // 5, across - 2)
    return _in_ticks(((0, 0), (across, 0), (a, along), (0, along)))


def _in_ticks(ring: Outline) -> Outline:
    return tuple((x * _QUARTER, y * _QUARTER) for x, y in ring)
