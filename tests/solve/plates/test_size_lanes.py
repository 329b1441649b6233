"""All sizes of one axis and few of the other: against the table of all sizes, and the same sizes without a budget."""

from __future__ import annotations

import json
import random
from collections.abc import Iterable
from importlib import import_module

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.solve.plates.large.large_plate import large_plate
from cutopt.solve.plates.large.little_loss import LittleLoss
from cutopt.solve.plates.large.size_lanes import LanesTable
from cutopt.solve.plates.large.size_search import SizesSearch
from cutopt.solve.plates.large.two_scales import Scales
from cutopt.solve.plates.plate_table import Ints, PlatePart, PlateTable, raster, sums
from tests.places import BENCH
from tests.solve.plates.small_plates import (
    FEW,
    after,
    best_plate,
    check_layout,
    middling,
    parts_strategy,
    random_plate,
)


def pair_after(steps: int, w: int, h: int, parts: list[PlatePart]) -> Scales:
    scales = Scales(w, h, parts, shared=steps % 2 == 0)
    for _ in range(steps):
        scales.step(1)
    scales.proved()
    return scales


def sizes_of(w: int, h: int, parts: list[PlatePart]) -> tuple[Ints, Ints]:
    ways = [way for part in parts for way in part.ways() if way[0] <= w and way[1] <= h]
    return sums(w, [way[0] for way in ways]), sums(h, [way[1] for way in ways])


def few(sizes: Ints, share: float, rng: random.Random, keep: Iterable[int]) -> Ints:
    kept = {0, int(sizes[-1]), *keep} | {
        size for size in sizes.tolist() if rng.random() < share
    }
    return np.array(sorted(kept), dtype=np.int64)


def compare(
    table: LanesTable,
    plain: PlateTable,
    w: int,
    h: int,
    parts: list[PlatePart],
    known: int,
) -> None:
    """Where a plan on these sizes is worth `known`, both tables give the best one; else there is none in lanes."""
    for one in (table, plain):
        one.fill(parts)
    best = plain.value(w, h)
    if best >= known:
        assert table.value(w, h) == best  # first: a plate worth nothing has no layout
        assert best == check_layout(w, h, parts, tuple(table.layout(w, h)))
    else:
        assert table.value(w, h) < known


@settings(max_examples=80, deadline=None)
@given(
    parts_strategy,
    st.integers(3, 16),
    st.integers(3, 16),
    st.integers(0, 12),
    st.integers(-2, 30),
)
def test_all_sizes_give_what_the_table_gives(
    parts: list[PlatePart], w: int, h: int, steps: int, short: int
) -> None:
    if not any(pw <= w and ph <= h for part in parts for pw, ph, _ in part.ways()):
        return
    known = max(best_plate(w, h, parts)[0] - short, 0)
    pair = pair_after(steps, w, h, parts).pair()
    if pair.top < known * pair.up:
        return
    xs, ys = sizes_of(w, h, parts)
    for budget in (known, 0):
        compare(
            LanesTable(xs, ys, (w, h), pair, budget, 1, lambda: False),
            PlateTable(xs, ys, (w, h)),
            w,
            h,
            parts,
            budget,
        )


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("seed", range(25))
def test_few_sizes_along_give_what_a_table_of_the_same_gives(
    seed: int, turned: bool
) -> None:
    w, h, parts = random_plate(seed, by_area=seed % 3 == 0)
    rng = random.Random(seed)
    xs, ys = sizes_of(w, h, parts)
    if turned:
        xs = few(
            xs, 0.3, rng, (p for part in parts for p, _, _ in part.ways() if p <= w)
        )
    else:
        ys = few(
            ys, 0.3, rng, (p for part in parts for _, p, _ in part.ways() if p <= h)
        )
    plain = PlateTable(xs, ys, (w, h))
    plain.fill(parts)
    best = plain.value(w, h)
    pair = pair_after(20 * (seed % 4), w, h, parts).pair()
    for known in (best + 1, best, best - 5, best - best // 20, 0):
        lanes = LanesTable(xs, ys, (w, h), pair, known, 1, lambda: False, turned=turned)
        compare(lanes, PlateTable(xs, ys, (w, h)), w, h, parts, known)


def test_a_cut_may_lose_only_its_share() -> None:
    """Fewer cuts make no more: the best with a share of a tenth is a plan, and worth no more than the best."""
    less = 0
    for seed in range(40):
        w, h, parts = random_plate(seed)
        pair = pair_after(20, w, h, parts).pair()
        best, _ = best_plate(w, h, parts)
        table = LanesTable(
            *sizes_of(w, h, parts), (w, h), pair, best - best // 10, 40, lambda: False
        )
        table.fill(parts)
        value = table.value(w, h)
        assert value <= best
        if value >= 0:
            assert value == check_layout(w, h, parts, tuple(table.layout(w, h)))
        less += value < best
    assert 0 < less < 40  # the share matters, and not always


def test_stopped_anywhere_the_plate_is_worth_nothing() -> None:
    w, h, parts = random_plate(5)
    pair = pair_after(20, w, h, parts).pair()
    calls = 0
    while True:
        table = LanesTable(*sizes_of(w, h, parts), (w, h), pair, 0, 1, after(calls))
        table.fill(parts)
        if table.value(w, h) >= 0:
            break
        assert table.layout(w, h) == []
        calls += 1
    assert calls > 2
    assert table.value(w, h) == best_plate(w, h, parts)[0]


@pytest.mark.slow
def test_russo_sforza_and_sterle_2014() -> None:
    """LX4: a plan on thirteen heights is worth what the data file states to be the best."""
    # M. Russo, A. Sforza, C. Sterle (2014), Computers & OR 50, 97-114: 566 205 113. The heights are this program's own.
    row = next(
        r
        for r in json.loads((BENCH / "unconstrained.json").read_text())
        if r["name"] == "LX4"
    )
    parts = [PlatePart(i["w"], i["h"], i["value"]) for i in row["items"]]
    w = row["stock"][0]["w"]
    h = row["stock"][0]["h"]
    heights = [
        0,
        80,
        106,
        116,
        764,
        804,
        880,
        884,
        964,
        986,
        34916,
        35818,
        35902,
        35982,
    ]
    every = sums(w, [part.w for part in parts])
    pair = pair_after(100, w, h, parts).pair()
    table = LanesTable(
        raster(w, every),
        np.array(heights),
        (w, h),
        pair,
        566_000_000,
        16,
        lambda: False,
    )
    search = SizesSearch(w, h, parts, 0)
    assert search.improve(table)
    assert search.value == row["known"]["value"] == 566_205_113
    assert search.value == sum(parts[k].value for k, *_ in search.plan)


@pytest.fixture
def few_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    sizes = import_module("cutopt.solve.plates.large.size_search")
    for name, value in FEW.items():
        monkeypatch.setattr(sizes, name, value)
    monkeypatch.setattr(
        import_module("cutopt.solve.plates.large.large_plate"),
        "little_loss",
        lambda pair, *_: LittleLoss(pair.bound, 0),
    )


@pytest.mark.usefixtures("few_at_a_time")
@pytest.mark.parametrize(
    ("many", "least"), [(2, 1), pytest.param(12, 3, marks=pytest.mark.slow)]
)
def test_a_climb_betters_plans_and_is_the_same_again(many: int, least: int) -> None:
    better = 0
    for seed in range(many):
        w, h, parts = middling(seed)
        best, _ = best_plate(w, h, parts)
        before = large_plate(w, h, parts, lambda: False, climb=False)[0]
        value, plan, bound = large_plate(w, h, parts, lambda: False)
        assert value == check_layout(w, h, parts, tuple(plan))
        assert before <= value <= best <= bound
        assert large_plate(w, h, parts, lambda: False) == (value, plan, bound)
        better += value > before
    assert better >= least


@pytest.mark.usefixtures("few_at_a_time")
def test_a_search_learns_plan_and_sizes_of_another() -> None:
    w, h, parts = middling(1)
    one = SizesSearch(w, h, parts, 0)
    other = SizesSearch(w, h, parts, 1)
    other.turn()
    assert one.value < other.value
    one.learn(other)
    assert (one.value, one.plan) == (other.value, other.plan)
    assert set(other.across.kept) <= set(one.across.drawn(12).tolist())
    lesser = SizesSearch(w, h, parts, 2)
    lesser.turn()
    lesser.value = 0
    one.learn(lesser)
    assert (one.value, one.plan) == (other.value, other.plan)
    assert set(lesser.along.kept) <= set(one.along.met)
