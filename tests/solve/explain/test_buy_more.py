"""What mends a shortage by buying: the amounts and prices are worked out by hand beside each test.

Cloth by length loses 1/2 in at each end before it is cut. Each advice is also followed: a plan with so much bought
must then be there, and none with one step less.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from importlib import import_module
from typing import Any

import pytest

from cutopt.check import check
from cutopt.fabric import ByLength, Fabric
from cutopt.job import Job
from cutopt.lengths import CM, YARD
from cutopt.plan import Plan
from cutopt.settings import Settings
from cutopt.solve.control.progress import Progress
from cutopt.solve.control.stop import Purse, Seconds, Stop, Work
from cutopt.solve.cuts.offers import THRIFTIEST
from cutopt.solve.explain.buy_more import purchase_mends
from cutopt.solve.explain.changed_jobs import Mend
from cutopt.solve.explain.found import Found
from cutopt.solve.explain.trials import Trials
from cutopt.solve.explain.what_if import Answer, short_limit, what_if
from cutopt.solve.explain.why import Reasons
from cutopt.solve.run import Run
from cutopt.wanted import Strip
from tests.solve.small import bolt, cut, each, inch, job, lengths_of, piece, solved

PILE = piece("rest", 10, 10)


def mends(task: Job, row: str = "cuts/star") -> list[str]:
    """What is said about buying for a row, with which nothing is short; each has a plan that passes the checker."""
    result = solved(task)
    short = {short.for_: short for short in result.plan.short}
    told = [
        mend for mend in short[row].mends if "buy " in mend or mend.startswith("search")
    ]
    plans = {each.said: each for each in result.evidence}
    for mend in told:
        assert check(plans[mend].job, plans[mend].plan) == []
        assert plans[mend].plan.short == ()
    return [mend.removesuffix(": then everything is there") for mend in told]


def star(
    width: float,
    length: float,
    count: int = 1,
    fabric: str = "plum",
    importance: str = "nice",
):  # type: ignore[no-untyped-def]
    return cut(
        "star",
        width,
        length,
        count,
        fabrics=tuple(fabric.split()),
        importance=importance,
    )


def test_the_smallest_sale_of_the_shop() -> None:
    """5 in and twice 1/2 in are 6 in: 1/4 yd (9 in), because the shop sells no 1/8 yd that counts: 9.60 / 4 = 2.40."""
    task = job(PILE, bolt("plum", smallest=YARD // 4), star(5, 5))
    assert mends(task) == ["buy 1/4 yd of plum, 42 in wide, for 2.40"]


def test_the_step_width_and_wash_of_the_shop() -> None:
    """Two of 20 x 5 do not lie side by side in 30 in: 5 + 5 + 1 = 11 in, 12.22 before a tenth is lost: 1/2 yd."""
    plum = Fabric(name="plum", shrink_along=Fraction(1, 10))
    on_sale = replace(bolt("plum"), usable_width=inch(30), sold_by=YARD // 2)
    grain = cut("star", 20, 5, 2, fabrics=("plum",), importance="nice", grain="along")
    assert mends(job(plum, PILE, on_sale, grain)) == [
        "buy 1/2 yd of plum, 30 in wide, for 4.80"
    ]
    assert mends(job(plum, PILE, replace(on_sale, sold_by=YARD // 8), grain)) == [
        "buy 3/8 yd of plum, 30 in wide, for 3.60"
    ]


def test_every_fabric_of_the_row_the_cheapest_first() -> None:
    """Two of 6 x 6: 1/4 yd of plum is 2.40, of fig 2.00; 10 x 10 of oat holds one of them, so twice 1.50 is 3.00."""
    shop = (bolt("plum"), each("oat", 10, 10, "1.50"), bolt("fig", price="8"))
    task = job(PILE, *shop, star(6, 6, 2, "plum oat fig"))
    assert mends(task) == [
        "buy 1/4 yd of fig, 42 in wide, for 2.00",
        "buy 1/4 yd of plum, 42 in wide, for 2.40",
    ]
    dear = job(
        PILE,
        bolt("plum", price="20"),
        each("oat", 10, 10, "1.50"),
        star(6, 6, 2, "plum oat"),
    )
    assert mends(dear) == [
        "buy 2 pieces of oat, 10 x 10 in, for 3.00",
        "buy 1/4 yd of plum, 42 in wide, for 5.00",
    ]


def test_without_a_price_comes_last() -> None:
    task = job(
        PILE,
        bolt("plum", price=None),
        bolt("fig", price="8"),
        star(6, 6, 2, "plum fig"),
    )
    assert mends(task) == [
        "buy 1/4 yd of fig, 42 in wide, for 2.00",
        "buy 1/4 yd of plum, 42 in wide",
    ]


def test_besides_what_the_plan_buys() -> None:
    """40 x 10 takes 11 in: 3/8 yd (13 1/2). With 40 x 5 it is 16 in: 1/2 yd (18), 1/8 yd more: 1.20."""
    must = cut("panel", 40, 10, fabrics=("plum",))
    task = job(PILE, bolt("plum"), must, star(40, 5))
    assert lengths_of(solved(task).plan) == {"plum": 3 * YARD // 8}
    assert mends(task) == ["buy 1/2 yd of plum instead of 3/8 yd, for 1.20 more"]
    other = job(PILE, bolt("plum"), bolt("fig"), must, star(40, 5, fabric="fig"))
    assert mends(other) == ["also buy 1/4 yd of fig, 42 in wide, for 2.40"]


def test_in_place_of_what_the_plan_buys() -> None:
    """A 20 x 40 panel lies on plum or fig: 21 in, 5/8 yd. With 40 x 20 of fig the panel is cut from that as well.

    40 x 20 and 40 x 20 are 41 in with both ends: 1 1/4 yd (45) of fig at 8.00 is 10.00, without 5/8 yd of plum.
    """
    panel = cut("panel", 20, 40, fabrics=("plum", "fig"))
    task = job(
        PILE,
        bolt("plum", price="7"),
        bolt("fig", price="8"),
        panel,
        star(40, 20, fabric="fig"),
    )
    assert lengths_of(solved(task).plan) == {"plum": 5 * YARD // 8}
    (told,) = mends(task)
    assert told in (
        "also buy 5/8 yd of fig, 42 in wide, for 5.00",
        "buy 1 1/4 yd of fig, 42 in wide, for 10.00, in place of 5/8 yd of plum",
    )


def test_pieces_besides_pieces() -> None:
    """One of 8 x 8 lies in a piece of 10 x 10: one is bought for the panel, one more is needed for each star."""
    must = cut("panel", 8, 8, fabrics=("oat",))
    task = job(
        piece("rest", 10, 10), each("oat", 10, 10, "1.50"), must, star(8, 8, 2, "oat")
    )
    assert mends(task) == ["also buy 2 more pieces of oat, 10 x 10 in, for 3.00"]


def test_more_than_the_table_says() -> None:
    """Two of 40 x 10 take 21 in, 5/8 yd (22 1/2), where the shop has 1/2 yd (18) left: one is cut from that."""
    task = job(PILE, bolt("plum", most=YARD // 2), star(40, 10, 2, importance="must"))
    (told,) = mends(task)
    assert told.startswith(
        ("buy 5/8 yd of plum instead of 3/8 yd", "buy 5/8 yd of plum instead of 1/2 yd")
    )
    assert told.endswith(", if the shop has so much (most in shop.csv says less)")


def test_a_fabric_that_the_shop_does_not_have() -> None:
    """Of what nobody is known to sell: a usual width, by the 1/8 yd from 1/4 yd, or by the 10 cm from 1/4 m."""
    task = job(
        PILE,
        Fabric(name="plum"),
        piece("bit", 6, 6, fabric="plum"),
        star(6, 6, 2, importance="must"),
    )
    usual = "(as if sold by the 1/8 yd from 1/4 yd on)"
    assert mends(task) == [
        f"buy 1/4 yd of plum, 42 in wide, which shop.csv does not offer {usual}"
    ]


def test_a_strip() -> None:
    """100 in of 2 1/2 in: three rows of 42 less two joins of 2 1/2 are 121: 7 1/2 + 1 = 8 1/2 in, 1/4 yd (9)."""
    strip = Strip(
        name="edge",
        width=inch(2.5),
        total_length=inch(100),
        fabrics=("plum",),
        importance="nice",
        shortest=inch(8),
    )
    task = job(
        PILE, bolt("plum"), cut("patch", 5, 5, fabrics=("pear",)), strips=(strip,)
    )
    assert mends(task, "strips/edge") == ["buy 1/4 yd of plum, 42 in wide, for 2.40"]


def test_a_metric_shop() -> None:
    """12 cm and twice 1.5 cm are 15 cm: 20 cm by the 10 cm, at 12.00 a metre 2.40."""
    on_sale = ByLength(
        fabric="plum", usable_width=106 * CM, sold_by=10 * CM, price=Decimal("12.00")
    )
    wanted = replace(star(1, 1), width=12 * CM, length=12 * CM)
    task = job(PILE, on_sale, wanted, settings=replace(Settings.metric(), currency="€"))
    ask = " (smallest in shop.csv is blank: ask whether so little is sold)"
    assert mends(task) == ["buy 0.2 m of plum, 106 cm wide, for €2.40" + ask]
    told = replace(task, shop=(replace(on_sale, smallest=20 * CM),))
    assert mends(told) == ["buy 0.2 m of plum, 106 cm wide, for €2.40"]


def test_steps_of_the_other_measure_are_told_as_the_shop_tells_them() -> None:
    """By the 10 cm: two of 40 x 5 in are 10 in and 1 in for the ends, 27.94 cm: 0.3 m, where one takes 15.24: 0.2 m."""
    plum = replace(bolt("plum", smallest=10 * CM), sold_by=10 * CM)
    task = job(PILE, plum, cut("panel", 40, 5, fabrics=("plum",)), star(40, 5))
    told = mends(task)
    assert [mend.partition(", for")[0] for mend in told] == [
        "buy 0.3 m of plum instead of 0.2 m"
    ]


def test_the_advice_followed_helps() -> None:
    """The row made a must is cut from a sale of just so much; from one that is a step less it is not."""
    task = job(
        PILE, bolt("plum"), cut("panel", 40, 10, fabrics=("plum",)), star(40, 5, 2)
    )
    assert mends(task) == [
        "buy 5/8 yd of plum instead of 3/8 yd, for 2.40 more"
    ]  # 10 + 5 + 5 + 1 = 21 in
    for eighths, there in ((5, True), (4, False)):
        length = eighths * YARD // 8
        must = job(
            PILE,
            bolt("plum", smallest=length, most=length),
            cut("panel", 40, 10, fabrics=("plum",)),
            star(40, 5, 2, importance="must"),
        )
        assert solved(must).complete is there


def test_why_it_is_short() -> None:
    """Up to three fabrics are named; of more, and of a row that names none, it is said in general."""
    names = ("plum", "oat", "fig", "sage")
    for many, told in (
        (1, "plum"),
        (2, "plum or oat"),
        (3, "plum, oat or fig"),
        (4, "cloth of its fabrics"),
    ):
        task = job(
            PILE,
            *(bolt(name) for name in names),
            star(5, 5, fabric=" ".join(names[:many])),
        )
        (short,) = solved(task, 60).plan.short
        assert short.why == (
            f"the search found no room for it on the {told} that is left, "
            "and new cloth is bought only for what must be cut"
        )


def test_a_limit_from_each_fabric_is_not_mended_by_buying() -> None:
    """Six with at most two from each of plum and fig are four: three from each would do; of one fabric alone, six.

    The advice is given where there is cloth for it, and followed it helps: 15 x 5 in holds three, 15 x 10 in six.
    """
    shop = (bolt("plum"), bolt("fig"))
    row = cut("star", 5, 5, 6, fabrics=("plum", "fig"), importance="nice", most_each=2)
    (short,) = solved(job(PILE, *shop, row)).plan.short
    least = "for all of them that limit has to be"
    told = "at most 2 of the 6 may come from each fabric, and only 2 have cloth for it"
    assert short.why == f"{told}: {least} 3 (most_each)"
    # cloth is bought only for what must be cut, so a higher limit alone does not do
    assert short.mends == (
        "let it be cut from pear too: then 4 of star are still short, with nothing bought",
    )  # 10 x 10 holds four more
    threes = [piece(name, 15, 5, fabric=name) for name in ("plum", "fig")]
    sixes = [piece(name, 15, 10, fabric=name) for name in ("plum", "fig")]
    for pile, more, enough in ((threes, {}, 3), (sixes, {"together": "sky"}, 6)):
        (short,) = solved(job(*pile, *shop, replace(row, **more))).plan.short
        told = f"let up to {enough} of it come from each fabric (most_each in cuts.csv says less)"
        assert f"{told}: then everything is there, with nothing bought" in short.mends
        assert not solved(
            job(*pile, *shop, replace(row, most_each=enough, **more))
        ).plan.short
    assert short.why.endswith(
        f", and all have to come from the same one (together): {least} 6 (most_each)"
    )
    assert (
        len(mends(job(PILE, *shop, replace(row, most_each=6)))) == 2
    )  # of either fabric


@pytest.mark.slow
def test_all_searches_for_purchases_are_paid_from_one_purse(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A pile too small for 30 rows, ten fabrics on sale: four rows with two searches and more, and five are paid."""
    searches: list[Stop] = []

    def counted(run: Run, task: Job, limit: Stop, *rest: Any, **more: Any) -> Answer:
        searches.append(limit)
        return what_if(run, task, limit, *rest, **more)

    monkeypatch.setattr(
        import_module("cutopt.solve.explain.trials"), "what_if", counted
    )
    names = [f"plum{n}" for n in range(10)]
    rows = [
        replace(
            cut(f"star{n}", 5 + n / 4, 5, 40, fabrics=tuple(names), importance="nice"),
            most_each=4,
        )
        for n in range(30)
    ]
    run = Run(
        job(PILE, *(bolt(name, most=YARD // 4) for name in names), *rows),
        Work(200),
        0,
        Progress(),
    )
    result = run.result()
    lacking = {short.for_: short.count for short in result.plan.short}
    searches.clear()
    reasons = Reasons(run)
    reasons.of(run.best_layouts[THRIFTIEST], lacking)
    one = short_limit(run)
    assert isinstance(one, Work)
    assert len(searches) >= 4  # each of four rows has its part
    assert all(
        isinstance(limit, Work) and limit.rounds <= one.rounds for limit in searches
    )
    assert (
        -2 * 500 < reasons.purse.left < 5 * one.rounds
    )  # a slice of both streams is not stopped half-way


def test_no_more_plans_are_made_of_purchases_than_are_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Any of six fabrics on sale would do for a star: two are told, the cheapest first, and two plans are made."""
    made: list[Found] = []
    plan = Trials.plan

    def counted(trials: Trials, mend: Mend, found: Found) -> Plan | None:
        made.append(found)
        return plan(trials, mend, found)

    names = [f"plum{n}" for n in range(6)]
    shop = [bolt(name, f"{9 - n}.00") for n, name in enumerate(names)]
    run = Run(
        job(PILE, *shop, star(40, 5, fabric=" ".join(names))), Work(200), 0, Progress()
    )
    run.result()
    monkeypatch.setattr(Trials, "plan", counted)
    row = run.job.cuts[0]
    purse = Purse.of(short_limit(run), 20)
    layout = run.best_layouts[THRIFTIEST]
    trials = Trials(run, layout, {row.key: 1}, purse, buys=False, row=row)
    told = [each.said for each in purchase_mends(trials, row, 6)]
    assert [said.partition(" of ")[2][:5] for said in told] == ["plum5", "plum4"]
    assert len(made) == 2


def test_who_is_asked_to_stop_searches_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    run = Run(job(PILE, bolt("plum"), star(5, 5)), Work(200), 0, Progress())
    assert [short.for_ for short in run.result().plan.short] == ["cuts/star"]
    monkeypatch.setattr(import_module("cutopt.solve.explain.trials"), "what_if", None)
    run.meter.stop()
    (short,) = Reasons(run).of(run.best_layouts[THRIFTIEST], {"cuts/star": 1})
    assert short.mends == ()


def test_a_purse_gives_no_more_than_it_has() -> None:
    purse = Purse.of(Work(100), 3)
    assert purse.limit(Work(100)) == Work(100)
    with purse.part(2) as part:
        assert part.limit(Work(200)) == Work(150)
        part.spend(100)
    assert purse.left == 200
    with purse.part(1) as part:
        part.spend(230)  # a search that went on for a slice
    assert purse.left == -30
    assert purse.limit(Work(100)) is None
    assert Purse.of(Seconds(0.5), 2).limit(Seconds(3)) == Seconds(1)


def test_nothing_is_left_of_a_purse_after_its_end(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Whoever has spent the time: at 7 of 10 seconds three are left of five, at 10 none, in no part of it either."""
    clock = [7.0]
    monkeypatch.setattr("time.perf_counter", lambda: clock[0])
    purse = Purse(5.0, end=10.0)
    assert purse.left == 3
    with purse.at_most(4) as part:
        assert part.left == 3
        clock[0] = 10.0
        assert part.limit(Seconds(1)) is None
    assert purse.limit(Seconds(1)) is None
