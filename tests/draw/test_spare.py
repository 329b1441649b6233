"""Spare cloth is told as the largest whole rectangle in it, not as the box round it."""

from __future__ import annotations

import pytest

from cutopt.cloth import Cloth, laid
from cutopt.draw.spare import usable
from cutopt.fabric import Edges, Fabric, Piece
from cutopt.geometry import Polygon, rectangle
from cutopt.job import Job
from cutopt.settings import Settings
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.wanted import Cut
from tests.draw.sample import inches

i = inches
JOB = Job(settings=Settings(), cuts=(Cut(name="square", width=i(2), length=i(2)),))


def told(
    outline: Polygon,
    part: Polygon | None = None,
    margins: tuple[int, ...] = (),
    flaw: Polygon = (),
) -> str:
    cloth = Cloth(
        fabric="pear",
        outline=outline,
        margins=margins or (0,) * len(outline),
        flaws=(flaw,) if flaw else (),
    )
    return usable(JOB, cloth, part or outline).told("in")


def test_a_rectangle_is_itself() -> None:
    assert told(rectangle(i("7.25"), i(9))) == "7 1/4 x 9"


def test_a_right_triangle_holds_half_of_each_leg() -> None:
    """Of the rectangles in the corner of a triangle with legs a and b, a/2 x b/2 is the largest (Euclid VI.27)."""
    assert (
        told(((0, 0), (i(12), 0), (0, i(9))))
        == "6 x 4 1/2 out of an odd shape, 12 x 9 over all"
    )


def test_an_l() -> None:
    """The arms of 20 x 7 and 9 x 16: 140 and 144 square inches."""
    outline = (
        (0, 0),
        (i(20), 0),
        (i(20), i(7)),
        (i(9), i(7)),
        (i(9), i(16)),
        (0, i(16)),
    )
    assert told(outline) == "9 x 16 out of an odd shape, 20 x 16 over all"


def test_a_stain_and_raw_edges_are_taken_off() -> None:
    """Beside a stain 12 to 15 from the left: 12 x 9 = 108; above one that ends at 6: 18 x 3 = 54."""
    stain = rectangle(i(3), i(3), i(12), i(3))
    assert told(rectangle(i(18), i(9)), flaw=stain) == "12 x 9 beside a flaw"
    raw = (i("0.25"),) * 4
    assert told(rectangle(i(18), i(9)), margins=raw) == "17 1/2 x 8 1/2 once squared up"
    right = rectangle(i(8), i(9), i(10), 0)  # three of its sides are those of the cloth
    assert (
        told(rectangle(i(18), i(9)), part=right, margins=raw)
        == "7 3/4 x 8 1/2 once squared up"
    )
    inside = rectangle(i(8), i(5), i(2), i(2))
    assert told(rectangle(i(18), i(9)), part=inside, margins=raw) == "8 x 5"


@pytest.mark.parametrize("edges", ["true", "raw"])
def test_kept_is_what_is_large_enough_once_squared_up(edges: Edges) -> None:
    """What lies beside a 4 x 4 on 12 x 5 1/4 is at least 5 x 5 with true edges, and 4 3/4 high with raw ones."""
    piece = Piece.of_size("p", "pear", i(12), i("5.25"), edges=edges)
    job = Job(
        fabrics=(Fabric(name="pear"),),
        pieces=(piece,),
        cuts=(Cut(name="square", width=i(4), length=i(4)),),
    )
    plan = solve(job, Work(60)).plan
    there = laid(job, plan)
    kept = [
        usable(job, there.cloth(spare.part), there.parts[spare.part])
        for spare in plan.spare
        if spare.keep
    ]
    assert bool(kept) == (edges == "true")
    assert all(min(spare.wide, spare.long) >= i(5) for spare in kept)
