"""A row that no fabric of the job may serve is short, with a reason, whatever else the job has."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutopt.check import check
from cutopt.fabric import ByLength, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.wanted import Cut, Strip
from tests.solve.small import cut, job, piece, solved

WOOL = Fabric(name="wool", kind="batting")  # no part is cut from it unless it is named
PIECE = Piece.of_size("rest", "wool", 20 * INCH, 20 * INCH)
BOLT = ByLength(fabric="wool", usable_width=40 * INCH, sold_by=YARD)
SQUARE = Cut(name="square", width=5 * INCH, length=5 * INCH, count=2)
BAND = Strip(name="band", width=2 * INCH, total_length=50 * INCH)
NAMED = Cut(name="layer", width=9 * INCH, length=9 * INCH, fabrics=("wool",))


@pytest.mark.parametrize("pieces", [(), (PIECE,)])
@pytest.mark.parametrize("shop", [(), (BOLT,)])
@pytest.mark.parametrize(
    ("cuts", "strips"),
    [((SQUARE,), ()), ((), (BAND,)), ((SQUARE, NAMED), (BAND,)), ((NAMED, SQUARE), ())],
)
def test_a_row_that_no_fabric_may_serve(
    pieces: tuple[Piece, ...],
    shop: tuple[ByLength, ...],
    cuts: tuple[Cut, ...],
    strips: tuple[Strip, ...],
) -> None:
    task = Job(fabrics=(WOOL,), pieces=pieces, shop=shop, cuts=cuts, strips=strips)
    result = solve(task, Work(200))
    assert check(task, result.plan) == []
    assert not result.complete
    short = {each.for_: each for each in result.plan.short}
    assert {row.key for row in (*cuts, *strips) if row is not NAMED} <= short.keys()
    assert all(each.why for each in short.values())


def test_a_direction_is_named_only_where_the_fabric_lies_otherwise() -> None:
    """Of mist there is none: which way a part lies is not what is wrong. A scrap of unknown grain would serve it."""
    rust = piece("rust", 18, 30, fabric="rust")
    window = cut("window", 4.5, 6.5, fabrics=("mist",), grain="along")
    (short,) = solved(job(Fabric(name="mist"), rust, window), 100).plan.short
    assert short.why == "neither the pile nor the shop has any mist for it"
    scrap = replace(piece("scrap", 9, 9, fabric="mist"), grain_known=False)
    (short,) = solved(job(scrap, rust, window), 100).plan.short
    assert (
        short.why
        == "neither the pile nor the shop has any mist for it, lying in the direction it asks for"
    )
