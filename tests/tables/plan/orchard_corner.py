"""A plan made by hand with every kind of entry; lengths in inches. Invented data."""

from __future__ import annotations

from decimal import Decimal

from cutopt.fabric import ByLength, ByPiece, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
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
from cutopt.wanted import Cut, Strip


def orchard_corner() -> Plan:
    """A 12 x 8 bit of pear, 1/8 yd of oat cut into binding, two bought squares used as they are.

    Pear: cut at x = 5, then y = 5: one square of 5. Oat 42 x 4 1/2: 1/2 in off each end leaves 3 1/2; a strip of
    2 1/2 across the width, cut at 30: segments of 30 and 12, joined on the diagonal to 30 + 12 - 2 1/2 = 39 1/2.
    """
    job = Job(
        fabrics=(Fabric(name="pear"), Fabric(name="oat")),
        pieces=(Piece.of_size("bit", "pear", 12 * INCH, 8 * INCH, count=3),),
        shop=(
            ByLength(
                fabric="oat",
                usable_width=42 * INCH,
                sold_by=YARD // 8,
                price=Decimal("9.60"),
                note="bolt 3",
            ),
            ByPiece(
                fabric="pear",
                each_width=5 * INCH,
                each_length=5 * INCH,
                price=Decimal("0.40"),
                note="bin",
            ),
        ),
        cuts=(
            Cut(name="square", width=5 * INCH, length=5 * INCH, count=4, note="as cut"),
        ),
        strips=(
            Strip(name="binding", width=5 * INCH // 2, total_length=79 * INCH // 2),
        ),
    )
    half = INCH // 2
    cuts = (
        CutStep(n=1, part="S1", x=5 * INCH, gives=("a", "b")),
        CutStep(n=2, part="a", y=5 * INCH, gives=("c", "d")),
        CutStep(n=3, part="S2", y=half, gives=("e", "f")),
        CutStep(n=4, part="f", y=6 * half, gives=("g", "h")),
        CutStep(n=5, part="g", x=30 * INCH, gives=("i", "j")),
    )
    each = [
        Source(
            id=i,
            bought="pear",
            by_piece=True,
            width=5 * INCH,
            length=5 * INCH,
            price=Decimal("0.40"),
        )
        for i in ("S3", "S4")
    ]
    oat = Source(
        id="S2", bought="oat", width=42 * INCH, length=YARD // 8, price=Decimal("1.20")
    )
    binding = "strips/binding"
    return Plan(
        job=job.digest,
        sources=(Source(id="S1", piece="bit", copy=2), oat, *each),
        cuts=cuts,
        uses=(
            Use(part="i", for_=binding, turned=True),
            Use(part="j", for_=binding, turned=True),
            *(Use(part=part, for_="cuts/square") for part in ("c", "S3", "S4")),
        ),
        spare=(
            Spare(part="b", keep=True),
            Spare(part="d"),
            Spare(part="e"),
            Spare(part="h"),
        ),
        joins=(
            Join(for_=binding, segments=("i", "j"), join="diagonal", length=79 * half),
        ),
        short=(
            Short(
                for_="cuts/square",
                count=1,
                why="no more pear",
                mends=("one more square from the bin",),
            ),
        ),
        levels=(Level(name="money", value="2.00", bound="1.20", proved=False),),
        totals=Totals(
            money=Decimal("2.00"),
            bought=(
                Bought(fabric="oat", amount=YARD // 8),
                Bought(fabric="pear", amount=2, by_piece=True),
            ),
            cuts=5,
            ruler_widths=3,
            joins=1,
        ),
        origin=job,
    )
