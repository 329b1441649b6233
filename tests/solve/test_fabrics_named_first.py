"""Fabrics in order of preference: a stated small amount is worth the first, and what it costs or saves is said.

Forty squares of 4 1/2 in lie nine across 42 in, five rows are 22 1/2 in, with an inch squared up 3/4 yd is enough
and 5/8 yd (22 1/2 in) is not: all prices below are those of 3/4 yd, halves of a hundredth up.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutopt.app.deliver import following
from cutopt.errors import Problem
from cutopt.fabric import Fabric
from cutopt.result import Result
from cutopt.settings import Settings
from tests.solve.small import bolt, cut, fabrics_of, job, solved

SQUARES = cut("square", 4.5, 4.5, 40, fabrics=("navy", "cream"))


def planned(navy: str, cream: str, settings: Settings | None = None) -> Result:
    task = job(
        Fabric(name="cream"),
        Fabric(name="navy"),
        bolt("navy", navy),
        bolt("cream", cream),
        SQUARES,
    )
    return solved(replace(task, settings=settings or Settings()))


def money(result: Result) -> dict[str, Decimal | None]:
    return {offer.name: offer.plan.totals.money for offer in result.offers}


def test_ten_cents_a_yard_are_worth_the_fabric_named_first() -> None:
    """7.20 for navy, 7.13 for cream (9.50 a yard): 5 % of 7.13 are 0.35."""
    result = planned("9.60", "9.50")
    assert result.offers[0].name == "your fabrics first"
    assert fabrics_of(result.job, result.plan) == {"square": {"navy": 40}}
    assert money(result)["thriftiest"] == Decimal("7.13")
    assert money(result)["your fabrics first"] == Decimal("7.20")
    told = "square (navy|cream) is cut from navy: that costs 0.07 more than the cheapest plan found."
    assert told in result.rules


def test_what_a_preference_given_up_saves_is_said_with_both_plans() -> None:
    """9.00 for navy at 12.00 a yard: 1.80 more than 7.20 for cream, a quarter more."""
    result = planned("12.00", "9.60")
    assert result.offers[0].name == "thriftiest"
    assert fabrics_of(result.job, result.plan) == {"square": {"cream": 40}}
    assert money(result)["thriftiest"] == Decimal("7.20")
    assert money(result)["your fabrics first"] == Decimal("9.00")
    saved = "square (navy|cream) is cut from cream: that saves 1.80 against the plan that keeps to the fabrics named first."
    assert saved in result.rules


def test_the_share_is_the_makers() -> None:
    """A quarter of 7.20 is 1.80; with 0 % the least money comes first, and no other plan is looked for."""
    result = planned("12.00", "9.60", Settings(preference=Fraction(1, 4)))
    assert result.offers[0].name == "your fabrics first"
    result = planned("9.60", "9.50", Settings(preference=Fraction(0)))
    assert (result.offers[0].name, result.plan.totals.money) == (
        "thriftiest",
        Decimal("7.13"),
    )
    assert "your fabrics first" not in money(result)


def test_rows_that_are_worth_it_keep_their_fabric_where_others_do_not() -> None:
    """The squares as above (0.07 for navy), and as many tiles of plum (1.50 a yard), not of bark (24.00)."""
    tiles = cut("tile", 4.5, 4.5, 40, fabrics=("bark", "plum"))
    shop = (
        bolt("navy", "9.60"),
        bolt("cream", "9.50"),
        bolt("bark", "24.00"),
        bolt("plum", "1.50"),
    )
    result = solved(job(*shop, SQUARES, tiles), 3_000)
    assert fabrics_of(result.job, result.plan) == {
        "square": {"navy": 40},
        "tile": {"plum": 40},
    }
    assert result.offers[0].name == "your fabrics first"


def test_nothing_is_said_where_the_cheapest_plan_keeps_to_it() -> None:
    result = planned("9.50", "9.60")
    assert "your fabrics first" not in money(result)
    assert not [told for told in result.rules if "is cut from" in told]


def test_the_pages_of_another_plan_do_not_say_it() -> None:
    """What is said of the plan that comes first need not be so of the others, whose pages can be written too."""
    result = planned("9.60", "9.50")
    assert result.rules
    assert following(result, result.offers[1]).rules == ()


def test_a_share_beyond_all_of_the_money_makes_no_sense() -> None:
    with pytest.raises(Problem, match="between 0 and 100 %"):
        Settings(preference=Fraction(3, 2))


def test_the_fabrics_of_a_tag_are_liked_alike() -> None:
    """One tag is one place, be navy at 12.00 a yard written before cream at 9.60 or not: nothing was named first."""
    task = job(
        Fabric(name="navy", tags=("darks",)),
        Fabric(name="cream", tags=("darks",)),
        Fabric(name="plum"),
        bolt("navy", "12.00"),
        bolt("cream", "9.60"),
        bolt("plum", "5.00"),
        replace(SQUARES, fabrics=("darks",)),
    )
    assert task.places(task.cuts[0]) == {"navy": 0, "cream": 0}
    result = solved(task)
    assert result.plan.totals.money == Decimal("7.20")
    assert "your fabrics first" not in money(result)
    assert not [told for told in result.rules if "is cut from" in told]
    both = replace(SQUARES, fabrics=("darks", "any"))
    assert task.places(both) == {"navy": 0, "cream": 0, "plum": 1}
