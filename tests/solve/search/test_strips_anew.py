"""Strips cut anew once money is settled: no more segments than straight ones, of one fabric, at the same cost."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest

from cutopt.check import check
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.plan import Plan
from cutopt.settings import Settings
from cutopt.solve.control.stop import Meter, Work
from cutopt.solve.kernels.loader import load
from cutopt.solve.kernels.search import open_pile
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.layout import Placement
from cutopt.solve.search.arrays import Arrays
from cutopt.solve.search.engine import Engine
from cutopt.solve.search.refill import lay_on
from cutopt.solve.search.strips_anew import StripsAnew
from cutopt.solve.solver import solve
from cutopt.wanted import Strip
from tests.solve.small import bolt, cut, inch, job, piece


def strip(name: str, width: str, total: str, **more: object) -> Strip:
    return Strip(name=name, width=inch(width), total_length=inch(total), **more)  # type: ignore[arg-type]


def fewest(wide: int, width: Fraction, total: int) -> int:
    """The identity of joined strips: n of them, joined on the diagonal, come to n wide - (n - 1) width."""
    return next(n for n in range(1, 99) if n * wide - (n - 1) * width >= total)


def segments(plan: Plan) -> int:
    return sum(len(join.segments) for join in plan.joins)


def yard_of_binding_and_squares() -> Job:
    """By hand: 7 strips of 2 1/2 in and 4 rows of nine 4 1/2 in squares are 35 1/2 in of the 36 in of a yard."""
    task = job(bolt(), cut("square", "4.5", "4.5", 36), strip("binding", "2.5", "240"))
    return replace(task, settings=Settings(square_up_end=0))


def test_a_binding_beside_squares_is_of_straight_strips_in_the_same_yard() -> None:
    result = solve(yard_of_binding_and_squares(), Work(3000))
    assert fewest(42, Fraction(5, 2), 240) == 7
    assert 7 * Fraction(5, 2) + 4 * Fraction(9, 2) <= 36
    assert 9 * Fraction(9, 2) <= 42
    assert result.plan.totals.length_of("pear") == YARD
    assert segments(result.plan) == 7
    assert not check(result.job, result.plan)


def test_it_is_the_same_plan_each_time() -> None:
    one, other = (solve(yard_of_binding_and_squares(), Work(1500)) for _ in range(2))
    assert one.plan == other.plan


def drawn(seed: int) -> Job:
    """Rectangles and a binding from one fabric 42 in wide, now and then with a border and some leftovers: invented."""
    rnd = random.Random(seed)
    rows = [
        cut(
            f"patch {n}",
            rnd.randint(4, 12) / 2,
            rnd.randint(4, 14) / 2,
            rnd.randint(4, 30),
        )
        for n in range(rnd.randint(1, 3))
    ]
    strips = [strip("binding", "2.5", str(rnd.randint(120, 260)))]
    if seed % 2:
        border = strip("border", "3.5", str(rnd.randint(44, 76)), count=2)
        strips.append(replace(border, join="straight"))
    pile = [
        piece(f"bit {n}", rnd.randint(6, 14), rnd.randint(6, 14))
        for n in range(seed % 3)
    ]
    return job(bolt(), *pile, *rows, *strips)


def cost_and_lack(plan: Plan) -> tuple[object, ...]:
    lacking = Counter({short.for_: short.count for short in plan.short})
    return plan.totals.money, plan.totals.bought, lacking


@pytest.mark.parametrize("seed", range(4))
def test_nothing_is_paid_for_it(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same job with and without it: as much is bought, nothing more is lacking, and there are no more segments."""
    with_it = solve(drawn(seed), Work(1500)).plan
    monkeypatch.setattr(StripsAnew, "better", lambda *_: False)
    without = solve(drawn(seed), Work(1500)).plan
    assert not check(drawn(seed), with_it)
    assert cost_and_lack(with_it) == cost_and_lack(without)
    assert segments(with_it) <= segments(without)


def two_fabrics() -> tuple[Engine, StripsAnew]:
    """A strip 2 x 30 in, half of it from each of two leftovers of 20 x 20 in of different fabrics. Steps of 1/8 in."""
    bits = piece("plum bit", 20, 20), replace(piece("oat bit", 20, 20), fabric="oat")
    task = job(*bits, strip("edge", "2", "30"))
    arrays = Arrays.of(model_of(task, INCH // 8))
    engine = Engine(arrays, 1, Meter(Work(1000)))
    engine.use(load("search", compiled=True))
    state = engine.best = arrays.state(1)
    open_pile(arrays.problem, state)
    for sheet in range(2):
        at = {"sheet": sheet, "copy": 0, "unit": 0, "x": 0, "y": 0}
        half = Placement(**at, w=128, l=16, turned=True)  # type: ignore[arg-type]
        assert lay_on(arrays, state, sheet, [half], lambda: False)
    return engine, StripsAnew(engine)


def test_a_strip_of_two_fabrics_is_of_one_where_that_has_room() -> None:
    engine, strips = two_fabrics()
    try:
        before = strips.sewn(engine.best)[0]
        assert before.fabrics == before.segments == 2
        assert strips.better(Meter(Work(500)))
        after = strips.sewn(engine.best)[0]
        assert after.fabrics == after.ways == 1
        assert not engine.missing()
    finally:
        engine.close()
