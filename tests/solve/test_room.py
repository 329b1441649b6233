"""How much smaller a cloth may be: what is told holds on the smaller cloth."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutopt.check import check
from cutopt.fabric import Piece
from cutopt.geometry import rectangle
from cutopt.job import Job
from cutopt.solve.solver import solve
from cutopt.solve.stop import Work
from tests.solve.small import cut, inch, job, solved


def strip_of(width: float, flawed: bool) -> Job:
    """Two parts of 4 x 10 from a piece 10 in long, with a stain from 4 to 6 in across all of it where it is flawed."""
    stain = tuple((x + inch(4), y) for x, y in rectangle(inch(2), inch(10)))
    cloth = Piece.of_size("cloth", "pear", inch(width), inch(10))
    return job(replace(cloth, flaws=(stain,) if flawed else ()), cut("slat", 4, 10, 2))


@pytest.mark.parametrize(("flawed", "across"), [(True, 0), (False, 2)])
def test_a_flaw_keeps_its_place(flawed: bool, across: int) -> None:
    """Without the stain a piece 8 in wide would do; with it a slat must lie on either side of the stain."""
    result = solved(strip_of(10, flawed))
    assert result.complete
    (room,) = result.room
    assert (room.across, room.along) == (inch(across), 0)
    smaller = strip_of(10 - across, flawed)
    again = solve(smaller, Work(300))
    assert again.complete
    assert check(smaller, again.plan) == []
    assert not solve(strip_of(10 - across - 0.5, flawed), Work(300)).complete
