"""Of mends that leave the same the cheaper is told first; prices are worked out beside each test."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from cutopt.check import check
from cutopt.fabric import Fabric
from cutopt.job import Job
from cutopt.plan import Plan, Short
from cutopt.result import Evidence
from cutopt.solve.explain.cheaper_first import cheaper_first
from tests.solve.small import bolt, cut, job, piece, solved

ALL_THERE = ": then everything is there"


def mends_of(task: Job) -> tuple[str, ...]:
    """What mends the only row that is short; each mend has a plan that passes the checker."""
    result = solved(task, 600)
    plans = {evidence.said: evidence for evidence in result.evidence}
    (short,) = result.plan.short
    for mend in short.mends:
        assert check(plans[mend].job, plans[mend].plan) == []
    return short.mends


def test_the_cheaper_fabric_comes_first() -> None:
    """12 in and twice 1/2 in are 13: 3/8 yd (13 1/2 in), 7.50 of clay at 20 and 3.75 of dusk at 10 a yard.

    More is left of clay: it is tried first.
    """
    task = job(
        piece("h", 5, 5, fabric="heron"),
        piece("c", 10, 10, fabric="clay"),
        piece("d", 5, 5, fabric="dusk"),
        bolt("clay", price="20"),
        bolt("dusk", price="10"),
        cut("star", 12, 12, fabrics=("heron",)),
    )
    fabrics = [mend for mend in mends_of(task) if mend.startswith("let it be cut from")]
    assert fabrics == [
        f"let it be cut from dusk too{ALL_THERE}, with 3/8 yd of dusk (3.75 in all) bought",
        f"let it be cut from clay too{ALL_THERE}, with 3/8 yd of clay (7.50 in all) bought",
    ]


def mend(said: str, money: str | None, *, short: int = 0, width: int = 12) -> Evidence:
    """A mend whose plan pays so much in all, lacks so many stars, and has stars of this width."""
    task = job(Fabric(name="heron"), piece("h", 40, 40), cut("star", width, 12, 3))
    price = None if money is None else Decimal(money)
    lacking = (Short(for_="cuts/star", count=short),) if short else ()
    plan = replace(solved(task, 1).plan, short=lacking)
    plan = replace(plan, totals=replace(plan.totals, money=price))
    return Evidence(said=said, job=task, plan=plan)


@pytest.mark.parametrize(
    ("mends", "order"),
    [
        ("dear=9 cheap=3", "cheap dear"),
        ("unpriced= free=2", "free unpriced"),
        # what only drops a rule and costs nothing stays first, be another one cheaper still
        ("rule=4 cheap=3", "rule cheap"),
        # as dear: the order of the trouble stays
        ("one=3 two=3", "one two"),
        # other sizes, or something short: not the same
        ("dear=9 smaller=0", "dear smaller"),
        ("dear=9 partly=0", "dear partly"),
        ("dear=9 smaller=0 cheap=3", "cheap smaller dear"),
    ],
)
def test_only_what_leaves_the_same_changes_places(mends: str, order: str) -> None:
    def same(plan: Plan) -> bool:
        return plan.totals.money in (Decimal(4), Decimal(2))

    pairs = [each.split("=") for each in mends.split()]
    found = [
        mend(
            said,
            money or None,
            short=said == "partly",
            width=11 if said == "smaller" else 12,
        )
        for said, money in pairs
    ]
    told = cheaper_first(found, same, lambda each: each.said == "rule")
    assert " ".join(each.said for each in told) == order


def test_nothing_more_bought_comes_before_what_has_no_price() -> None:
    """Where nothing has a price, no more than now is less than more of it."""
    mends = [mend("buy", None), mend("free", None)]
    free = mends[1].plan
    told = cheaper_first(mends, lambda plan: plan is free, lambda _: False)
    assert [each.said for each in told] == ["free", "buy"]
