"""Kernels of the search: what must be true of every state, beside plain Python; compiled and plain do the same."""

from __future__ import annotations

from functools import cache
from itertools import combinations
from typing import Any

import numpy as np
import pytest

from cutopt.solve.cuts.offers import THRIFTIEST, WEIGHTS
from cutopt.solve.kernels import cuts, leaves
from cutopt.solve.kernels import patterns as p
from cutopt.solve.kernels import state as k
from cutopt.solve.kernels.loader import load
from cutopt.solve.kernels.score import missing, score
from cutopt.solve.model.from_job import model_of
from cutopt.solve.search.arrays import Arrays
from cutopt.solve.search.engine import Stream
from cutopt.solve.search.patterns_met import Met
from tests.solve.generate import generated
from tests.thinned import mostly_slow

SEEDS = mostly_slow([1, 4, 9, 16, 25], {1, 9})


@cache
def searched(seed: int, rounds: int, *, compiled: bool) -> tuple[Arrays, Stream]:
    """A stream of a generated job after so many rounds."""
    arrays = Arrays.of(model_of(generated(seed)))
    stream = Stream(arrays, 3, Met(arrays))
    kernel = load("search", compiled=compiled)
    kernel.start(arrays.problem, stream.now, stream.scratch, 3)
    kernel.copy_state(stream.now, stream.best)
    worst = 1 << 60
    stream.info[1:] = worst
    stream.late[:] = worst
    halt = np.zeros(1, dtype=np.int64)
    states = stream.now, stream.trial, stream.best, stream.scratch, stream.met
    judged = WEIGHTS[THRIFTIEST], stream.worth, stream.late, stream.info
    kernel.run(arrays.problem, *states, *judged, rounds, k.NOTHING // 4, 3, halt)
    return arrays, stream


def test_random_numbers_are_the_minimal_standard() -> None:
    """The 10 000th number after 1 is 399268537: the C++ standard, [rand.predef], of `minstd_rand`."""
    arrays = Arrays.of(model_of(generated(1)))
    state = arrays.state(0)
    state.misc[k.RNG] = 1
    for _ in range(10_000):
        k.rand(state, 7)
    assert state.misc[k.RNG] == 399268537


@pytest.mark.parametrize("seed", SEEDS)
def test_compiled_and_plain_give_the_same(seed: int) -> None:
    _, plain = searched(seed, 40, compiled=False)
    _, compiled = searched(seed, 40, compiled=True)
    assert plain.info.tolist() == compiled.info.tolist()
    for one, other in zip(plain.now, compiled.now, strict=True):
        assert np.array_equal(one, other)
    for one, other in zip(plain.met, compiled.met, strict=True):
        assert np.array_equal(one, other)


def cells_of(arrays: Arrays, sheet: int) -> Any:
    kind = arrays.model.sheets[sheet]
    if kind.cells is not None:
        return kind.cells
    rows = max([kind.rows, *(rung.rows for rung in kind.ladder)])
    return np.ones((kind.cols, rows), dtype=np.bool_)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_state_is_cloth_cut_from_edge_to_edge(seed: int) -> None:
    """A cut parts its window in two, nothing but waste beside them; a part lies in its leaf, on usable cells."""
    arrays, stream = searched(seed, 60, compiled=False)
    for state in (stream.now, stream.best):
        node = state.node[: state.misc[k.TOP]]
        for n, row in enumerate(node.tolist()):
            if row[k.KIND] == k.UNUSED:
                continue
            sheet = arrays.instances[row[k.INST]][0]
            window = tuple(row[k.X1 : k.Y2 + 1])
            usable = cells_of(arrays, sheet)
            if row[k.KIND] == k.PART:
                x, y, w, l = row[k.PX], row[k.PY], row[k.PW], row[k.PL]
                assert window[0] <= x
                assert x + w <= window[2]
                assert window[1] <= y
                assert y + l <= window[3]
                assert usable[x : x + w, y : y + l].all()
            elif row[k.KIND] in (k.V, k.H):
                low, high = (node[row[c]].tolist() for c in (k.LOW, k.HIGH))
                assert low[k.UP] == high[k.UP] == n
                near, far = (k.X2, k.X1) if row[k.KIND] == k.V else (k.Y2, k.Y1)
                assert low[near] <= high[far]
                for child in (low, high):
                    assert window[0] <= child[k.X1] < child[k.X2] <= window[2]
                    assert window[1] <= child[k.Y1] < child[k.Y2] <= window[3]


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_missing_and_paid_is_what_the_parts_and_purchases_say(
    seed: int,
) -> None:
    arrays, stream = searched(seed, 60, compiled=False)
    state = stream.now
    wanted = arrays.wanted.copy()
    node = state.node[: state.misc[k.TOP]]
    parts = node[node[:, k.KIND] == k.PART].tolist()
    for row in parts:
        unit = row[k.ITEM]
        wanted[unit] -= arrays.items[unit].amount(max(row[k.PW], row[k.PL]))
    assert wanted.tolist() == state.rem.tolist()
    cost = 0
    for n, (s, _) in enumerate(arrays.instances):
        sheet = arrays.model.sheets[s]
        if state.inst[n, k.OPEN] and sheet.offered is not None:
            rung = int(state.inst[n, k.RUNG])
            cost += sheet.ladder[rung].cost if sheet.ladder else sheet.cost
    assert cost == state.misc[k.COST]
    lacking = sum(
        int(left) * int(area)
        for left, area, item in zip(wanted, arrays.areas, arrays.items, strict=True)
        if item.rank == 0 and left > 0
    )
    assert missing(arrays.problem, state, 0) == lacking


@pytest.mark.parametrize("seed", SEEDS)
def test_no_two_parts_of_a_cloth_overlap_and_free_leaves_are_counted_right(
    seed: int,
) -> None:
    arrays, stream = searched(seed, 60, compiled=False)
    state = stream.best
    node = state.node[: state.misc[k.TOP]]
    parts = node[node[:, k.KIND] == k.PART].tolist()
    for one, other in combinations(parts, 2):
        if one[k.INST] == other[k.INST]:
            beside = (
                one[k.PX] + one[k.PW] <= other[k.PX]
                or other[k.PX] + other[k.PW] <= one[k.PX]
            )
            above = (
                one[k.PY] + one[k.PL] <= other[k.PY]
                or other[k.PY] + other[k.PL] <= one[k.PY]
            )
            assert beside or above
    for n, row in enumerate(node.tolist()):
        if row[k.KIND] == k.FREE:
            usable = cells_of(arrays, arrays.instances[row[k.INST]][0])
            inside = usable[row[k.X1] : row[k.X2], row[k.Y1] : row[k.Y2]]
            assert leaves.free_cloth(arrays.problem, state, n) == inside.sum()


@pytest.mark.parametrize("seed", SEEDS)
def test_the_score_is_the_sum_of_what_is_weighed(seed: int) -> None:
    """Without the finer weights: what is missing by rank, and the cost."""
    arrays, stream = searched(seed, 20, compiled=False)
    weights = WEIGHTS[THRIFTIEST].copy()
    weights[k.W_PREFERENCE :] = 0
    state = stream.now
    total = int(weights[k.W_COST]) * int(state.misc[k.COST])
    for item, left, worth in zip(arrays.items, state.rem, stream.worth, strict=True):
        total += int(weights[k.W_MUST + item.rank]) * max(0, int(left)) * int(worth)
    assert score(arrays.problem, state, weights, stream.worth) == total


def test_the_value_of_an_order_of_cuts_is_that_of_the_windows_it_leaves() -> None:
    """A part 2 x 3 at (1, 1) of cloth 6 x 8: right first leaves 3 x 8, then above 3 x 4, left 1 x 4 and below 2 x 1."""
    arrays = Arrays.of(model_of(generated(1)))
    full = next(s for s, kind in enumerate(arrays.model.sheets) if kind.cells is None)
    value = cuts.order_value(
        arrays.problem, full, 0, 0, 6, 8, 1, 1, 2, 3, cuts.ACROSS_FIRST
    )
    assert value == (3 * 8) ** 2 + (3 * 4) ** 2 + (1 * 4) ** 2 + (2 * 1) ** 2


@pytest.mark.parametrize("seed", SEEDS)
def test_patterns_that_are_kept_are_parts_of_one_cloth_apart_from_each_other(
    seed: int,
) -> None:
    arrays, stream = searched(seed, 96, compiled=False)
    info = stream.met.info
    assert info[p.M_PATTERNS] > 0
    for head in stream.met.head[: info[p.M_PATTERNS]].tolist():
        first, count = head[p.M_FIRST], head[p.M_COUNT]
        rows = stream.met.part[first : first + count]
        assert count > 0
        assert all(arrays.items[unit].rank == 0 for unit in rows[:, p.Q_UNIT])
        sheet = arrays.model.sheets[head[p.M_SHEET]]
        usable = cells_of(arrays, head[p.M_SHEET])
        taken = np.zeros_like(usable, dtype=np.int64)
        for _, x, y, w, l, _ in rows.tolist():
            taken[x : x + w, y : y + l] += 1
            if sheet.ladder:
                assert y + l <= head[p.M_ROWS]
        assert taken.max() == 1
        assert usable[taken == 1].all()
