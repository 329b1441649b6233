"""A row that could be of one fabric and comes from several is told, with how much of each; counted by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from reportlab.platypus import Paragraph

from cutopt.check import check
from cutopt.fabric import Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.pages.page_flow import front_page
from cutopt.pages.paper import register_fonts
from cutopt.plan import Join, Plan, Source, Totals, Use
from cutopt.result import Offer, Result
from cutopt.wanted import Cut, Strip

FABRICS = (
    Fabric(name="moss", tags=("green",)),
    Fabric(name="rust"),
    Fabric(name="teal", tags=("green",)),
)


def bands(fabrics: str, joined: str, strip: Strip) -> Result:
    """Bands 12 x 2 of these fabrics, used whole; `joined` says for each of which strip it is a segment."""
    names = fabrics.split()
    pieces = tuple(
        Piece.of_size(f"p{n}", fabric, 2 * INCH, 12 * INCH)
        for n, fabric in enumerate(names)
    )
    job = Job(fabrics=FABRICS, pieces=pieces, strips=(strip,))
    sources = tuple(
        Source(id=f"S{n}", piece=piece.name) for n, piece in enumerate(pieces)
    )
    made = [
        tuple(f"S{n}" for n, of in enumerate(joined.split()) if of == each)
        for each in sorted(set(joined.split()))
    ]
    joins = tuple(
        Join(
            for_=strip.key,
            segments=names,
            join=strip.join,
            length=(12 * len(names) - 2 * (len(names) - 1)) * INCH,
        )
        for names in made
    )
    plan = Plan(
        job=job.digest,
        sources=sources,
        uses=tuple(Use(part=source.id, for_=strip.key) for source in sources),
        joins=joins,
        totals=Totals(joins=len(names) - len(joins)),
        origin=job,
    )
    assert (
        check(job, replace(plan, totals=replace(plan.totals, money=Decimal(0)))) == []
    )
    return Result(
        job=job,
        offers=(Offer(name="plan", plan=plan, minutes=1, spare=0, biggest_spare=0),),
        complete=True,
    )


def binding(total: int, **more: object) -> Strip:
    return Strip(name="binding", width=2 * INCH, total_length=total * INCH, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("fabrics", "joined", "strip", "told"),
    [
        ("moss moss rust", "1 1 1", binding(32), "2 segments of moss, 1 of rust"),
        (
            "moss rust moss rust",
            "1 2 1 2",
            binding(22, count=2),
            "1 strip of moss, 1 of rust",
        ),
        (
            "moss rust moss rust",
            "1 1 2 2",
            binding(22, count=2),
            "2 segments of moss, 2 of rust",
        ),
        ("moss moss", "1 1", binding(22), ""),
    ],
)
def test_a_strip_of_several_fabrics(
    fabrics: str, joined: str, strip: Strip, told: str
) -> None:
    expected = (f"binding (moss|rust) is cut from 2 fabrics: {told}.",) if told else ()
    assert (
        bands(fabrics, joined, replace(strip, fabrics=("moss", "rust"))).mixed
        == expected
    )


def test_a_strip_of_any_fabric_is_told_too_and_page_1_says_so() -> None:
    result = bands("moss teal rust", "1 1 1", binding(32))
    told = "binding is cut from 3 fabrics: 1 segment of moss, 1 of teal, 1 of rust."
    assert result.mixed == (told,)
    assert told in result._repr_html_()
    register_fonts()
    cells = [
        cell
        for item in front_page(result)
        for row in getattr(item, "_cellvalues", ())
        for cell in row
    ]
    assert told in [
        cell.getPlainText() for cell in cells if isinstance(cell, Paragraph)
    ]


@pytest.mark.parametrize(
    ("fabrics", "told"),
    [
        (
            ("teal", "moss"),
            "back (teal|moss) is cut from 2 fabrics: 1 of teal, 1 of moss.",
        ),
        (("green",), ""),
        ((), ""),
    ],
)
def test_patches_of_several_fabrics_by_name(
    fabrics: tuple[str, ...], told: str
) -> None:
    """Of any fabric, or of a tag, patches are meant to be mixed."""
    pieces = tuple(
        Piece.of_size(name, name, 9 * INCH, 9 * INCH) for name in ("teal", "moss")
    )
    back = Cut(name="back", width=9 * INCH, length=9 * INCH, count=2, fabrics=fabrics)
    job = Job(fabrics=FABRICS, pieces=pieces, cuts=(back,))
    sources = tuple(Source(id=f"S{piece.name}", piece=piece.name) for piece in pieces)
    uses = tuple(Use(part=source.id, for_=back.key) for source in sources)
    plan = Plan(job=job.digest, sources=sources, uses=uses, origin=job)
    result = Result(
        job=job,
        offers=(Offer(name="p", plan=plan, minutes=1, spare=0, biggest_spare=0),),
        complete=True,
    )
    assert result.mixed == ((told,) if told else ())
