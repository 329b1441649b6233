"""The sentences of the first page."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import prod

import pytest
from matplotlib.text import Text

from cutopt.app.telling import summary
from cutopt.draw import draw_shopping
from cutopt.errors import Problem
from cutopt.fabric import ByPiece, Fabric
from cutopt.job import Job
from cutopt.lengths import INCH, MM
from cutopt.pages import first_page as front
from cutopt.pages import grids
from cutopt.pages.how_sure import how_sure
from cutopt.pages.lists import shopping_slip
from cutopt.pages.measure_first import measure_first
from cutopt.pages.paper import register_fonts
from cutopt.plan import Level, Short
from cutopt.quilt.to_choose import Choosing, Option
from cutopt.result import MINUTES_FORMULA, Room, Stopped, estimate_minutes, washing
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables.plan.shopping_list import shopping_list
from cutopt.wanted import Cut
from tests.draw.sample import (
    Maker,
    inches,
    metric_result,
    orchard_job,
    orchard_plan,
    orchard_result,
    small_plan,
)

OAT = "oat 24 x 5 once squared up; oat 18 x 5 once squared up; oat 12 x 7 beside a flaw"
LEAVES = "4 of leaf are missing and must be cut. What mends it stands under Short on page 1; first: buy 1/8 yd more oat."


def test_what_to_buy() -> None:
    result = orchard_result()
    assert front.to_buy(result.plan, result) == [
        "5/8 yd of oat (22 1/2 in), usable width 42 in: $6.00.",
        "1 piece of plum, 21 x 18 in: $3.20.",
        "Together $9.20.",
        f"This is not enough for all: {LEAVES}",
    ]
    small = small_plan(orchard_job())
    assert front.to_buy(small, result) == ["Nothing: the pile is enough."]
    metric = metric_result()
    assert front.to_buy(metric.plan, metric) == [
        "0.2 m of pear (20 cm), usable width 106 cm: 2.98."
    ]


def test_a_pile_is_called_enough_only_where_nothing_is_short() -> None:
    """Page 1 and the slip said "the pile is enough" while a part that must be cut was missing."""
    result = orchard_result()
    small = small_plan(result.job)
    door = Short(
        for_="cuts/square", count=32, why="no room", mends=("buy 1 yd of oat.",)
    )
    centre = Short(for_="cuts/centre", count=1)
    assert front.to_buy(replace(small, short=(door,)), result) == [
        "Nothing in this plan.",
        "This is not enough for all: 32 of square are missing and must be cut. What mends it: buy 1 yd of oat.",
    ]
    assert front.to_buy(replace(small, short=(centre,)), result) == [
        "Nothing in this plan.",
        "1 of centre is left out, which would only be nice.",
    ]
    unexplained = replace(small, short=(replace(door, mends=()), centre))
    assert front.to_buy(unexplained, result)[1:] == [
        "This is not enough for all: 32 of square are missing and must be cut. Why stands under Short on page 1.",
        "1 of centre is left out, which would only be nice.",
    ]
    offer = replace(result.offers[0], plan=unexplained)
    whole = replace(result, offers=(offer,))
    assert "nothing, but something that must be cut is missing" in whole._repr_html_()
    drawn = " ".join(
        text.get_text() for text in draw_shopping(unexplained).findobj(Text)
    )
    register_fonts()
    slip = " ".join(item.getPlainText() for item in shopping_slip(whole))
    csv = " ".join(str(cell) for row in shopping_list(unexplained) for cell in row)
    for said in (drawn, slip, csv, "\n".join(summary(whole))):
        assert "32 of square" in said
        assert "missing" in said
        assert "enough." not in said


def test_that_a_mend_is_another_plan_is_said_once() -> None:
    small = small_plan(orchard_job())
    square, centre = (
        Short(for_=f"cuts/{name}", count=1, mends=("buy 1 yd of oat.",))
        for name in ("square", "centre")
    )
    told = front.short(replace(small, short=(square, centre)))
    assert [line for line in told if "plan again before you cut" in line] == told[-1:]
    assert len(told) == 3
    unmended = front.short(replace(small, short=(replace(square, mends=()),)))
    assert len(unmended) == 1


def test_what_is_not_known_to_be_tight_is_not_told() -> None:
    """Of a used whole strip the length may be less (its strip has some to spare), its width may not (counting)."""
    result = orchard_result()
    uncut = next(
        source.id
        for source in result.plan.sources
        if source.id not in {step.part for step in result.plan.cuts}
    )
    open_ = Room(source=uncut, across=None, along=None)
    assert measure_first(replace(result, room=(open_,))) == []
    told = {
        Room(source=uncut, across=0, along=None): "full size across: ",
        Room(source=uncut, across=INCH, along=0): "full size along: ",
        Room(source=uncut, across=0, along=0): "full size: ",
    }
    for room, said in told.items():
        (line,) = measure_first(replace(result, room=(room,)))
        assert said in line


def test_spares_are_told_apart_from_what_is_missing() -> None:
    """Three of 32 squares are missing, of which the maker wants 2 to spare: the quilt lacks one (counting)."""
    result = orchard_result()
    row, *others = result.job.cuts
    job = replace(result.job, cuts=(replace(row, spares=2), *others))
    assert job.digest == result.job.digest
    three = Short(for_=row.key, count=3, why="no room")
    plan = replace(small_plan(job), short=(three,))
    said = front.to_buy(plan, replace(result, job=job))[1]
    told = f"3 of {row.name} (2 of them to spare) are"
    assert f"{told} missing and must be cut" in said
    assert front.short(plan)[0].startswith(f"{told} not in this plan")
    one = replace(plan, short=(replace(three, count=1),))
    assert front.short(one)[0].startswith(f"1 of {row.name} (to spare) is not")


def test_a_missing_price_is_not_a_zero() -> None:
    result = orchard_result()
    sources = tuple(replace(source, price=None) for source in result.plan.sources)
    plan = replace(
        result.plan, sources=sources, totals=replace(result.plan.totals, money=None)
    )
    assert front.to_buy(plan, result)[2] == "Together not all priced."
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
    assert (
        said[1]
        == f"Of the cloth you touch, {round(100 * used / touched)} % goes into what you want."
    )
    assert front.kept(result.plan, result) == [
        f"plum 21 x 13; {OAT}; plum 4 3/4 x 4 3/4 out of an odd shape, 9 1/2 x 9 1/2 over all."
    ]
    whole = replace(result, offers=(result.offers[1],))
    assert front.used(result.offers[1].plan, whole)[-1] == (
        "Stay whole on the pile: pear L, plum half square, oat stained, 6 of mist & dew squares, pear post."
    )


def test_what_goes_into_back_or_batting_does_not_stay_whole() -> None:
    """Of 6 squares 2 are cut, so 4 of them stay; the oat goes into the back that is recommended first (counting)."""
    result = orchard_result()
    uncut = result.offers[1].plan
    squares = [s for s in result.plan.sources if s.piece == "mist & dew squares"]
    plan = replace(uncut, sources=(*uncut.sources, *squares[:2]))
    back = Choosing(
        what="back",
        options=(
            Option(
                what="oat",
                width=0,
                length=0,
                pieces=0,
                money=None,
                how="one piece on hand",
                own=("oat stained",),
            ),
        ),
    )
    said = front.used(plan, replace(result, offers=(result.offers[1],)), [back])
    assert said[-2] == "Go into back or batting: oat stained."
    assert "4 of mist & dew squares" in said[-1]
    assert "oat stained" not in said[-1]


def test_what_is_short_and_what_mends_it() -> None:
    said = "4 of leaf are not in this plan: no piece that is left is 4 1/2 long."
    mends = "What mends it: buy 1/8 yd more oat; or make 8 leaves."
    assert front.short(orchard_plan())[:-1] == [f"{said} {mends}"]


def test_how_sure() -> None:
    result = replace(orchard_result(), because="the binding takes 3 strips.")
    # a plan proved the cheapest says so, and does not leave it to the maker to compare two sums
    assert how_sure(result)[0] == (
        "No plan can pay less than $9.20, because the binding takes 3 strips. "
        "This plan takes just that: it is the cheapest there is."
    )
    open_still = replace(
        result.plan,
        levels=(Level(name="money", value="9.20", bound="6.00", proved=False),),
    )
    result = replace(result, offers=(replace(result.offers[0], plan=open_still),))
    assert how_sure(result)[0] == (
        "No plan can pay less than $6.00, because the binding takes 3 strips. "
        "This plan takes $9.20; whether one in between exists is open."
    )
    length = Level(
        name="length bought (in)", value="22 1/2", bound="22 1/2", proved=True
    )
    result = replace(
        result,
        offers=(
            replace(result.offers[0], plan=replace(result.plan, levels=(length,))),
        ),
    )
    assert how_sure(result)[0] == (
        "No plan can buy less than 5/8 yd, because the binding takes 3 strips. "
        "This plan takes just that: it is the least there is."
    )


@pytest.mark.parametrize(
    ("value", "bound", "proved", "said"),
    [
        ("0", "0", True, "Wished for but left out: none."),
        ("2", "2", True, "Wished for but left out: 2; no plan does better."),
        (
            "2",
            "0",
            False,
            "Wished for but left out: 2. Whether a plan does better than this one is open.",
        ),
        (
            "3",
            "1",
            False,
            "3. No plan can do better than 1. Whether a plan does better than this one is open.",
        ),
    ],
)
def test_what_is_left_out_is_said_without_empty_bounds(
    value: str, bound: str, proved: bool, said: str
) -> None:
    level = Level(
        name="wished for but left out", value=value, bound=bound, proved=proved
    )
    result = orchard_result()
    result = replace(
        result,
        offers=(replace(result.offers[0], plan=replace(result.plan, levels=(level,))),),
    )
    assert any(told.endswith(said) for told in how_sure(result))


@pytest.mark.parametrize(
    ("stopped", "said"),
    [
        ("quiet", "The search ended by itself: it found nothing better any more."),
        (
            "interrupted",
            "The search ended because it was stopped; more time might better the number of cuts.",
        ),
        ("proved", ""),
    ],
)
def test_why_the_search_ended(stopped: Stopped, said: str) -> None:
    told = how_sure(replace(orchard_result(), stopped=stopped))
    assert (
        told[-1].startswith(said)
        if said
        else not any("The search ended" in line for line in told)
    )


def test_only_what_is_open_might_be_bettered() -> None:
    """It spoke of what is not proved although all that was said above it is."""
    result = replace(orchard_result(), stopped="work")
    ended = "The search ended because the work allowed was done"
    assert (
        how_sure(result)[-1] == f"{ended}; more time might better the number of cuts."
    )
    levels = tuple(level for level in result.levels if level.proved)
    proved = replace(result.offers[0], plan=replace(result.plan, levels=levels))
    assert how_sure(replace(result, offers=(proved,)))[-1] == f"{ended}."
    money = replace(levels[0], bound="1.00", proved=False)
    dear = replace(result.offers[0], plan=replace(result.plan, levels=(money,)))
    assert how_sure(replace(result, offers=(dear,)))[-1].endswith(
        "might better the price."
    )


def test_what_every_plan_lacks() -> None:
    """A plan that is short is measured by plans that lack no more, and the reason is that of what is short."""
    result = replace(
        orchard_result(),
        because="no cloth on hand or on sale is large enough for 1 of big",
    )
    lacks = Level(name="short of what must be cut", value="4", bound="1", proved=False)
    money = Level(name="money", value="9.20", bound="6.00", proved=False)
    plan = replace(result.plan, levels=(lacks, money))
    short = replace(
        result, complete=False, offers=(replace(result.offers[0], plan=plan),)
    )
    assert how_sure(short)[:2] == [
        "Every plan lacks at least 1 of what must be cut; this one lacks 4.",
        "No cloth on hand or on sale is large enough for 1 of big.",
    ]
    assert how_sure(short)[2].startswith(
        "No plan that lacks no more can pay less than $6.00. This plan takes"
    )


def test_a_plan_that_buys_nothing_is_the_cheapest() -> None:
    nothing = replace(
        small_plan(orchard_job()),
        levels=(Level(name="money", value="0.00", bound="0.00", proved=True),),
    )
    result = orchard_result()
    result = replace(result, offers=(replace(result.offers[0], plan=nothing),))
    assert how_sure(result)[0] == "This plan buys nothing: it is the cheapest there is."


def test_what_a_whole_plan_takes_is_open_where_something_is_short() -> None:
    result = orchard_result()
    levels = (Level(name="money", value="9.20", bound="0.00", proved=False),)
    result = replace(
        result,
        complete=False,
        offers=(replace(result.offers[0], plan=replace(result.plan, levels=levels)),),
    )
    assert how_sure(result)[0].startswith(
        "Something is short, so the least that a whole plan"
    )


def test_measure_first_names_tight_pieces_only() -> None:
    """A line for each danger, so that a long pile still warns: odd shapes with nothing to spare come first."""
    result = orchard_result()
    assert measure_first(result) == [
        "Measure twice, an odd or ragged shape with nothing to spare along (1/8 in across): pear L.",
        "To spare only 1/4 in along: 5/8 yd of oat.",
    ]
    copies = tuple(Room(source=f"S{n}", across=0, along=0) for n in range(5, 11))
    assert measure_first(replace(result, room=copies)) == [
        "Nothing to spare either way: 6 of mist & dew squares."
    ]
    hair = (Room(source="S1", across=INCH // 64, along=INCH),)
    assert measure_first(replace(result, room=hair)) == [
        "Measure twice, an odd or ragged shape with nothing to spare across: pear L."
    ]
    metric = metric_result()
    assert measure_first(metric) == ["To spare only 0.5 cm along: 0.2 m of pear."]
    wide = replace(metric, room=(Room(source="S2", across=7 * MM, along=7 * MM),))
    assert measure_first(wide) == []


def test_measure_first_groups_what_is_the_same() -> None:
    result = orchard_result()
    ids = {source.piece: source.id for source in result.plan.sources}
    names = (
        "pear L",
        "plum half square",
        "bark raw",
        "mist & dew squares",
        "pear post",
    )
    rooms = [Room(source=ids[name], across=0, along=0) for name in names]
    assert measure_first(replace(result, room=tuple(rooms))) == [
        "Measure twice, an odd or ragged shape with nothing to spare either way: pear L, plum half square, bark raw.",
        "Nothing to spare either way: mist & dew squares (6 of 6).",
        "Used as they are, so they must have their full size: pear post.",
    ]


def test_offers_stand_side_by_side_with_the_formula() -> None:
    grid = grids.offers(orchard_result())
    assert grid.head == (
        "",
        "thriftiest and keeps the biggest pieces",
        "simplest to cut",
    )
    rows = {row[0]: row[1:] for row in grid.rows}
    assert rows["to pay"] == ("$9.20", "$0.00")
    assert rows["to buy"] == ("5/8 yd of oat, 1 of plum by the piece", "nothing")
    assert rows["cuts"][0] == "99"
    assert rows["spare and untouched"][0] == "300 square in"
    assert MINUTES_FORMULA in grid.note
    plan = orchard_result().plan
    told = grid.note.partition("of the first, ")[2].partition(".")[0]
    parts, _, total = told.partition(" = ")
    numbers = [[int(each) for each in part.split(" x ")] for part in parts.split(" + ")]
    assert numbers[0] == [len(plan.cuts)]
    assert numbers[1] == [3, len(plan.sources)]
    assert numbers[3] == [3, plan.totals.joins]
    assert sum(prod(each) for each in numbers) == int(total)
    assert (total,) == rows["minutes, about"][:1]


def test_one_plan_needs_no_names() -> None:
    result = orchard_result()
    grid = grids.offers(replace(result, offers=result.offers[:1]))
    assert (grid.title, grid.head) == ("This plan in numbers", ("", "this plan"))
    assert all(len(row) == 2 for row in grid.rows)


def test_other_widths() -> None:
    grid = grids.widths(orchard_result())
    assert grid is not None
    assert grid.rows[0] == ("40 in", "5/8 yd of oat", "$9.20", "not enough")
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


def test_bought_pieces_that_are_used_whole_are_counted() -> None:
    """Pieces by the piece must have their full size too: nothing comes off their edges. Each was named once more."""
    bit = ByPiece(fabric="oat", each_width=5 * INCH, each_length=5 * INCH)
    flag = Cut(name="flag", width=5 * INCH, length=5 * INCH, count=3)
    result = solve(
        Job(fabrics=(Fabric(name="oat"),), shop=(bit,), cuts=(flag,)), Work(50)
    )
    told = "Used as they are, so they must have their full size: 3 of oat, 5 x 5 in bought."
    assert measure_first(result) == [told]


def test_only_cloth_of_the_plan_is_to_be_washed_or_measured_again() -> None:
    """Oat is bought and mist is cut; of what lies untouched or in the shop nothing is said (counting)."""
    result = orchard_result()
    fabrics = tuple(
        replace(fabric, shrink_along=Fraction(5, 100), washed=False)
        for fabric in result.job.fabrics
    )
    job = replace(result.job, fabrics=fabrics)
    plan = result.plan
    bought = {source.bought for source in plan.sources if source.bought}
    used = {source.piece for source in plan.sources}
    cut = {piece.fabric for piece in job.pieces if piece.name in used}
    told = list(washing(job, plan))
    assert {text.partition(":")[0] for text in told if "wash what" in text} == bought
    assert {text.partition(":")[0] for text in told if "pile of it" in text} == cut
    assert list(washing(job, replace(plan, sources=()))) == []


@pytest.mark.parametrize(
    ("use", "word"),
    [
        ("", "guard"),
        ("lap", "guard"),
        ("baby", "12 months"),
        ("ward", "chlorine"),
        ("chair with wheels", "spokes"),
    ],
)
def test_a_terminal_says_one_caution_that_fits(use: str, word: str) -> None:
    """American Academy of Pediatrics 2022 (babies); CMS State Operations Manual (chlorine); the rest: common practice."""
    result = orchard_result()
    said = f'top = "40 x 50"\nuse = "{use}"\n' if use else ""
    lines = list(summary(replace(result, job=replace(result.job, quilt=said))))
    (line,) = [text for text in lines if text.startswith("Take care: ")]
    assert word in line
    empty = replace(result.plan, cuts=(), uses=(), spare=(), sources=(), joins=())
    offer = replace(result.offers[0], plan=empty)
    nothing = replace(result, offers=(offer,))
    assert not any(text.startswith("Take care") for text in summary(nothing))
