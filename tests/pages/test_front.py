"""The sentences of the first page."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutopt.errors import Problem
from cutopt.lengths import INCH, MM
from cutopt.pages import front
from cutopt.plan import Level
from cutopt.result import MINUTES_FORMULA, Room, estimate_minutes
from tests.draw.sample import Maker, inches, metric_result, orchard_job, orchard_plan, orchard_result, small_plan


def test_what_to_buy() -> None:
    result = orchard_result()
    assert front.to_buy(result.plan, result) == [
        "5/8 yd of oat (22 1/2 in), usable width 42 in: $6.00.",
        "1 piece of plum, 21 x 18 in: $3.20.",
        "Together $9.20.",
    ]
    small = small_plan(orchard_job())
    assert front.to_buy(small, result) == ["Nothing: the pile is enough."]
    metric = metric_result()
    assert front.to_buy(metric.plan, metric) == ["0.2 m of pear (20 cm), usable width 106 cm: 2.98."]


def test_a_missing_price_is_not_a_zero() -> None:
    result = orchard_result()
    sources = tuple(replace(source, price=None) for source in result.plan.sources)
    plan = replace(result.plan, sources=sources, totals=replace(result.plan.totals, money=None))
    assert front.to_buy(plan, result)[-1] == "Together not all priced."
    assert "no price given" in front.to_buy(plan, result)[0]


def test_what_is_used_and_kept() -> None:
    result = orchard_result()
    said = front.used(result.plan, result)
    assert said[0] == (
        "From the pile: pear L, plum half square, oat stained, bark raw, 6 of mist & dew squares, pear post."
    )
    # 32 squares of 4 1/2, 49 of 2 1/2, 8 of 2 1/2 x 4 1/2, one 8 1/2, 3 strips 2 1/2 x 42: 1431.75 sq in of
    # 2251.25 touched (areas: arithmetic identity)
    used = 32 * 20.25 + 49 * 6.25 + 8 * 11.25 + 72.25 + 3 * 105
    touched = (20 * 7 + 9 * 9) + 98 + 216 + 209 + 6 * 25 + 6.25 + 42 * 22.5 + 21 * 18
    assert said[1] == f"Of the cloth you touch, {round(100 * used / touched)} % goes into what you want."
    assert front.kept(result.plan, result) == [
        "plum 21 x 13; oat 24 x 5 1/2; oat 18 x 7; oat 18 x 5 1/2; plum 9 1/2 x 9 1/2."
    ]


def test_what_is_short_and_what_mends_it() -> None:
    said = "4 of leaf not in this plan: no piece that is left is 4 1/2 long."
    mends = "What mends it: buy 1/8 yd more oat; or make 8 leaves."
    assert front.short(orchard_plan()) == [f"{said} {mends}"]


def test_how_sure() -> None:
    result = replace(orchard_result(), because="the binding takes 3 strips.")
    assert front.how_sure(result)[0] == "No plan can pay less than $9.20, because the binding takes 3 strips."
    open_still = replace(result.plan, levels=(Level(name="money", value="9.20", bound="6.00", proved=False),))
    result = replace(result, offers=(replace(result.offers[0], plan=open_still),))
    assert front.how_sure(result)[0] == (
        "No plan can pay less than $6.00, because the binding takes 3 strips. "
        "This plan takes $9.20; whether one in between exists is open."
    )
    length = Level(name="length bought (in)", value="22 1/2", bound="22 1/2", proved=True)
    result = replace(result, offers=(replace(result.offers[0], plan=replace(result.plan, levels=(length,))),))
    assert front.how_sure(result)[0] == "No plan can buy less than 22 1/2 in, because the binding takes 3 strips."


def test_measure_first_names_tight_pieces_only() -> None:
    result = orchard_result()
    assert front.measure_first(result) == [
        "pear L: 1/8 in to spare across and nothing to spare along.",
        "oat, 5/8 yd bought: 1/4 in to spare along.",
    ]
    copies = tuple(Room(source=f"S{n}", across=0, along=0) for n in range(5, 11))
    assert front.measure_first(replace(result, room=copies)) == [
        "6 of mist & dew squares: nothing to spare either way."
    ]
    hair = (Room(source="S1", across=INCH // 64, along=INCH),)
    assert front.measure_first(replace(result, room=hair)) == ["pear L: less than 1/16 in to spare across."]
    metric = metric_result()
    assert front.measure_first(metric) == ["pear, 0.2 m bought: 0.5 cm to spare along."]
    wide = replace(metric, room=(Room(source="S2", across=7 * MM, along=7 * MM),))
    assert front.measure_first(wide) == []


def test_offers_stand_side_by_side_with_the_formula() -> None:
    grid = front.offers(orchard_result())
    assert grid.head == ("", "thriftiest and keeps the biggest pieces", "simplest to cut")
    rows = {row[0]: row[1:] for row in grid.rows}
    assert rows["to pay"] == ("$9.20", "$0.00")
    assert rows["to buy"] == ("5/8 yd oat, 1 plum by the piece", "nothing")
    assert rows["cuts"][0] == "99"
    assert rows["spare to keep"][0] == "300 square in"
    assert MINUTES_FORMULA in grid.note


def test_other_widths() -> None:
    grid = front.widths(orchard_result())
    assert grid is not None
    assert grid.rows[0] == ("40 in", "5/8 yd oat", "$9.20", "not enough")
    assert [row[0] for row in grid.rows] == ["40 in", "41 in", "42 in", "43 in"]


def test_minutes_follow_their_formula() -> None:
    job = orchard_job()
    maker = Maker(job)
    _, bark = maker.cut(maker.take("bark raw"), y=inches("0.25"))
    row, rest = maker.cut(bark, y=inches("4.75"))
    maker.run(row, "x", inches("4.5"), 2, "cuts/square")
    maker.run(rest, "y", inches("2.5"), 1)
    # five cuts through one piece of cloth; the square-up and the last cut leave spare cloth below and need no ruler
    # width, the row and its two squares are cut at one: 5 + 3 + 1
    plan = maker.plan()
    assert len(plan.cuts) == 5
    assert estimate_minutes(plan) == 9
    with pytest.raises(Problem, match="does not carry its job"):
        estimate_minutes(replace(plan, origin=None))
    assert estimate_minutes(replace(plan, origin=None), job) == 9
