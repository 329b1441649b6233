"""Other widths: what is told of them is a plan that the checker passes, and more width never costs more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

import pytest

from cutopt.check import check
from cutopt.fabric import ByLength, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.result import Result, WidthCase
from cutopt.solve.control.progress import Progress
from cutopt.solve.control.stop import Meter, Seconds, Work
from cutopt.solve.cuts.cut_parts import Rect
from cutopt.solve.cuts.cutter import Cutter
from cutopt.solve.explain import other_widths as widths
from cutopt.solve.kernels import state as k
from cutopt.solve.kernels.loader import load
from cutopt.solve.kernels.score import missing
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.layout import Placement
from cutopt.solve.run import Run
from cutopt.solve.search.arrays import Arrays, State
from cutopt.solve.search.carry_over import Carried
from cutopt.solve.search.engine import Engine
from cutopt.solve.search.refill import lay_on
from cutopt.solve.solver import solve
from cutopt.wanted import Cut
from tests.solve.generate import generated
from tests.solve.small import bolt, cut, inch, job, piece, solved
from tests.thinned import mostly_slow


def squares() -> Job:
    """16 squares of 10 1/2 in from a square of 21 in and a yard: four from the pile, and twelve from the yard.

    A yard that is squared up holds three rows, so each must have four: 42 in, and no less.
    """
    oat = ByLength(
        fabric="oat", usable_width=42 * INCH, sold_by=YARD, most=YARD, price=Decimal(10)
    )
    return job(
        piece("left over", 21, 21, fabric="oat"), oat, cut("square", 10.5, 10.5, 16)
    )


def judged(result: Result) -> Iterator[WidthCase]:
    """The cases, each judged anew: the checker passes its plan for fabric of that width, and it says what that buys."""
    for case in result.widths:
        task = case.plan.origin
        assert task is not None
        rows = [row for row in task.shop if isinstance(row, ByLength)]
        assert {row.usable_width for row in rows} >= {case.usable_width}
        assert [replace(row, usable_width=YARD) for row in rows] == [
            replace(row, usable_width=YARD)
            for row in result.job.shop
            if isinstance(row, ByLength)
        ]
        assert check(task, case.plan) == []
        assert case.complete == all(
            task.row(short.for_).importance != "must" for short in case.plan.short
        )
        assert case.money == case.plan.totals.money
        assert case.bought == case.plan.totals.bought
        yield case


def test_what_does_not_fit_on_narrower_fabric_is_missing_there() -> None:
    cases = list(judged(solved(squares())))
    assert [(case.usable_width // INCH, case.complete) for case in cases] == [
        (40, False),
        (41, False),
        (42, True),
        (43, True),
    ]
    assert [sum(short.count for short in case.plan.short) for case in cases] == [
        3,
        3,
        0,
        0,
    ]


@pytest.mark.parametrize("compiled", [False, True])
def test_a_first_plan_from_a_used_state_counts_no_cloth_twice(compiled: bool) -> None:
    """Whatever a state has been through, its placements are on cloth of which there is so much."""
    arrays = Arrays.of(model_of(squares()))
    engine = Engine(arrays, 0, Meter(Work(1)))
    engine.use(load("search", compiled=compiled))
    engine.first()
    engine.kernel.reduce_to(arrays.problem, engine.best, arrays.scratch(), 0)
    used = engine.best
    engine.kernel.start(arrays.problem, used, arrays.scratch(), 3)
    for state in (used, engine.best):
        assert missing(arrays.problem, state, 0) == 0
        assert state.misc[k.COST] == 1_000
        places = [(p.sheet, p.copy, p.x, p.y) for p in arrays.layout(state).placements]
        assert len(set(places)) == len(places) == 16
    engine.first()
    assert (engine.missing(), engine.cost) == (0, 1_000)
    assert engine.best is not used
    engine.close()


def test_a_plan_carried_to_a_used_search_is_the_plan() -> None:
    """Nothing that the search had before stays in it."""
    model = model_of(squares())
    arrays = Arrays.of(model)
    engine = Engine(arrays, 0, Meter(Work(1)))
    engine.use(load("search"))
    engine.first()
    layout = engine.layout()
    for _ in range(2):
        Carried(model=model, layout=layout, becomes={}).begin(engine)
        assert engine.layout() == layout
    engine.close()


@pytest.mark.parametrize("seed", mostly_slow([0, 4, 8, 15, 24], {0}))
def test_more_width_never_costs_more(seed: int) -> None:
    """What is cut from narrower fabric can be cut from wider fabric: each case is judged by the checker."""
    result = solve(generated(seed), Work(1_500), offers=False)
    cases = [case for case in judged(result) if case.complete]
    money = [case.money for case in cases if case.money is not None]
    assert money == sorted(money, reverse=True)
    shown = [
        evidence.plan
        for evidence in result.evidence
        if evidence.said.startswith("with fabric ")
    ]
    assert shown == [
        case.plan for case in result.widths if case.plan is not result.plan
    ]


def test_the_width_that_is_planned_is_the_plan() -> None:
    task = job(bolt(), Cut(name="square", width=inch(5), length=inch(5), count=30))
    result = solved(task)
    assert [case.plan is result.plan for case in result.widths] == [
        False,
        False,
        True,
        False,
    ]


def test_a_cloth_with_raw_edges_is_not_cut_up_as_one_with_clean_edges() -> None:
    """Two pieces of one outline with the same part: only one of them may lose its edge."""
    clean = Piece.of_size("clean", "oat", inch(10), inch(10))
    raw = Piece.of_size("raw", "oat", inch(10), inch(10), edges="raw")
    task = job(clean, raw, cut("square", 4, 4, 2))
    model = model_of(task)
    cutter = Cutter(task.settings, model.step)
    rect = Rect(tag=0, x1=inch(2), y1=inch(2), x2=inch(6), y2=inch(6))
    cloths = {
        sheet.piece.name: sheet.cloth
        for sheet in model.sheets
        if sheet.piece is not None
    }
    least = {}
    for name in ("clean", "raw"):
        boxes = [
            node.box
            for way in cutter.ways(cloths[name], [rect])
            for _, node in way.leaves
            if node.rects
        ]
        least[name] = min(min(box[0], box[1]) for box in boxes)
    assert least["clean"] == 0
    assert least["raw"] >= task.settings.square_up > 0


def test_what_is_found_for_narrower_fabric_and_better_is_cut_from_what_is_planned() -> (
    None
):
    """A run that has found nothing but a poor first plan: a search at 40 in finds better, and that is then the plan."""
    task = job(bolt(), cut("square", 5, 5, 30))
    run = Run(task, Work(4_000), 0, Progress(), offers=False)
    run.engine.use(load("search", compiled=True))
    run.engine.first()
    poor = run.engine.nothing()
    place_badly(run, poor)
    run.engine.best = poor
    before = run.engine.cost
    result = run._finish()
    run.engine.close()
    run.feed.close()
    money = result.plan.totals.money
    assert money is not None
    assert money * 100 < before
    assert check(task, result.plan) == []
    assert all(
        case.money is not None and case.money >= money
        for case in result.widths
        if case.usable_width <= inch(42)
    )
    assert [case.plan is result.plan for case in judged(result)] == [
        False,
        False,
        True,
        False,
    ]
    assert result.history[-1].value == money


def place_badly(run: Run, state: State) -> None:
    """Six squares beside each other, where eight have room."""
    (item,) = run.engine.arrays.items
    placed = [
        Placement(
            sheet=0,
            copy=0,
            unit=0,
            x=column * item.w,
            y=row * item.l,
            w=item.w,
            l=item.l,
            turned=False,
        )
        for row in range(5)
        for column in range(6)
    ]
    assert lay_on(run.engine.arrays, state, 0, placed, run.engine.asked)


def test_once_the_time_is_over_no_other_width_is_searched_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """And the maker is told what is still done."""
    said: list[str] = []

    class Keep(Progress):
        def say(self, text: str) -> None:
            said.append(text)

    run = Run(squares(), Seconds(100), 0, Keep())
    run.engine.first()
    run.engine.use_plain()
    run.meter.begun -= 100
    monkeypatch.setattr(widths, "what_if", pytest.fail)
    result = run._finish()
    run.engine.close()
    run.feed.close()
    assert result.complete
    assert any(text.startswith("The time is over") for text in said)
