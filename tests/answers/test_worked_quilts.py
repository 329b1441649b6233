"""Six worked quilts (invented): the solver against the strip method and against a careful hand.

Both hand methods are defined and checked in tests/quilt (strip method: sums are identities; careful hand: common
practice, no source). A plan that may do all that a hand may do never needs more, and never less than the area.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutopt.check import check
from cutopt.fabric import ByLength, Fabric
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.settings import Settings
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from tests.worked.by_hand import careful_hand, strip_method
from tests.worked.six_quilts import POCKET, Worked, six_quilts

SIX = six_quilts()


def job_of(quilt: Worked, step: int) -> Job:
    fabrics = dict.fromkeys(row.fabrics[0] for row in quilt.made.wanted)
    return Job(
        name=quilt.name,
        settings=Settings(square_up_end=0),
        fabrics=tuple(Fabric(name=name) for name in fabrics),
        shop=tuple(
            ByLength(fabric=name, usable_width=42 * INCH, sold_by=step)
            for name in fabrics
        ),
        cuts=quilt.made.cuts,
        strips=quilt.made.strips,
    )


@pytest.mark.parametrize("quilt", SIX, ids=[quilt.key for quilt in SIX])
def test_the_plan_buys_no_more_than_either_hand(quilt: Worked) -> None:
    """By the eighth of a yard, each fabric rounded up once."""
    job = job_of(quilt, YARD // 8)
    result = solve(job, Work(20_000), offers=False)
    assert result.complete
    assert check(job, result.plan) == []
    bought = sum(each.amount for each in result.plan.totals.bought)
    assert bought <= careful_hand(quilt.made.wanted, POCKET).bought()
    assert bought <= strip_method(quilt.made.wanted, POCKET).bought()
    assert bought >= strip_method(quilt.made.wanted, POCKET).least_length


def test_an_end_of_a_strip_is_used_by_a_careful_hand_and_by_the_plan() -> None:
    """On point: the setting squares take 36 1/2 in for the strip method's 45 7/8, so 5 yd for 5 1/4 (identity).

    The plan saves another eighth: the border of 259 5/8 in, 5 1/2 wide, out of 36 in: six lengths of 42 across take 33,
    and what is left is no strip more, but 12 segments up and across are (its area is 34 in).
    """
    quilt = SIX[-1]
    strips = strip_method(quilt.made.wanted, POCKET)
    job = job_of(quilt, YARD // 8)
    result = solve(job, Work(20_000), offers=False)
    assert strips.bought() == 21 * YARD // 4
    assert careful_hand(quilt.made.wanted, POCKET).bought() == 5 * YARD
    assert sum(each.amount for each in result.plan.totals.bought) == 39 * YARD // 8
    assert check(job, result.plan) == []


@pytest.mark.slow
def test_from_one_cloth_the_six_take_a_twentieth_less_than_strips() -> None:
    """All of a quilt from one fabric, by the eighth of an inch, parts turned as they fit (strip method: identity).

    With a fabric for each size there is nothing to win: of one size of square the strip method is already shortest.
    """
    by_hand = sum(strip_method(quilt.made.wanted, POCKET).length() for quilt in SIX)
    planned = 0
    for quilt in SIX:
        cuts = tuple(replace(row, fabrics=("oat",)) for row in quilt.made.cuts)
        strips = tuple(replace(row, fabrics=("oat",)) for row in quilt.made.strips)
        bolt = ByLength(fabric="oat", usable_width=42 * INCH, sold_by=INCH // 8)
        job = Job(
            name=quilt.name,
            settings=Settings(square_up_end=0),
            fabrics=(Fabric(name="oat"),),
            shop=(bolt,),
            cuts=cuts,
            strips=strips,
        )
        result = solve(job, Work(10_000), offers=False)
        assert result.complete
        assert check(job, result.plan) == []
        planned += result.plan.totals.length_of("oat")
    assert 100 * planned <= 95 * by_hand
