"""Plates too large for the exact table: against the table, against every cut of small ones, and publications."""

from __future__ import annotations

import json
from importlib import import_module

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.solve.plates.exact_plate import exact_plate
from cutopt.solve.plates.large.large_plate import area_bound, is_large, large_plate
from cutopt.solve.plates.large.part_columns import columns
from cutopt.solve.plates.large.two_scales import Scales
from cutopt.solve.plates.plate_table import PlatePart, PlateTable
from tests.places import BENCH
from tests.solve.plates.small_plates import (
    after,
    best_plate,
    by_hand,
    check_layout,
    parts_strategy,
    random_plate,
)
from tests.thinned import mostly_slow, named

GCUT = json.loads((BENCH / "gcut.json").read_text())


@pytest.mark.parametrize("by_area", [False, True])
@pytest.mark.parametrize("seed", mostly_slow(range(12), {0}))
def test_between_a_plan_and_the_bound(seed: int, by_area: bool) -> None:
    w, h, parts = random_plate(seed, by_area=by_area)
    best, _ = best_plate(w, h, parts)
    value, placed, bound = large_plate(w, h, parts, after(100))
    assert value == check_layout(w, h, parts, tuple(placed))
    assert value <= best <= bound <= area_bound(w, h, parts)
    assert value == best  # two hundred sizes are all that there are on such a plate
    assert large_plate(w, h, parts, after(100)) == (value, placed, bound)


def best_column(
    width: int, h: int, parts: list[PlatePart], memo: dict[int, int]
) -> int:
    """The most value of rows of one part each in a column, row by row."""
    if h not in memo:
        rows = [
            (p.h, width // p.w * p.value)
            for p in parts
            if p.h <= h and p.w <= width and width % p.w <= 3
        ]
        memo[h] = max(
            (value + best_column(width, h - high, parts, memo) for high, value in rows),
            default=0,
        )
    return memo[h]


@settings(max_examples=40, deadline=None)
@given(parts_strategy, st.integers(9, 24), st.integers(9, 24))
def test_columns_of_rows_are_as_good_as_column_by_column(
    parts: list[PlatePart], w: int, h: int
) -> None:
    parts = [PlatePart(p.w, p.h, p.value) for p in parts]
    one = [best_column(x, h, parts, {}) for x in range(w + 1)]
    best = [0] * (w + 1)
    for x in range(1, w + 1):
        best[x] = max(one[a] + best[x - a] for a in range(1, x + 1))
    sides = (
        np.array(side, dtype=np.int64)
        for side in zip(*((p.w, p.h, p.value) for p in parts), strict=True)
    )
    across, along = columns(w, h, *sides, lambda: False)
    xs, ys = (
        np.array(sorted(sizes | {0, whole}), dtype=np.int64)
        for sizes, whole in ((across, w), (along, h))
    )
    table = PlateTable(xs, ys, (w, h))
    table.fill_from(
        np.max(
            [(xs // p.w)[:, None] * (ys // p.h)[None, :] * p.value for p in parts],
            axis=0,
        )
    )
    assert best[w] <= table.value(w, h) <= by_hand(w, h, parts, {})


@settings(max_examples=60, deadline=None)
@given(parts_strategy, st.integers(1, 16), st.integers(1, 16), st.booleans())
def test_no_plan_exceeds_the_product_of_scales(
    parts: list[PlatePart], w: int, h: int, shared: bool
) -> None:
    if not any(pw <= w and ph <= h for part in parts for pw, ph, _ in part.ways()):
        return
    best = by_hand(w, h, parts, {})
    scales = Scales(w, h, parts, shared=shared)
    assert best <= scales.bound
    for _ in range(5):
        for _ in range(10):
            scales.step(best)
        assert best <= scales.proved()


@pytest.mark.parametrize(
    "row", mostly_slow(GCUT, {"gcut1", "gcut5", "gcut9_rot"}, named), ids=named
)
def test_beasley_1985_as_if_large(row: dict, monkeypatch: pytest.MonkeyPatch) -> None:
    # J. E. Beasley (1985), JORS 36(4), 297-306; not turned gcut1-13 and turned.
    monkeypatch.setattr(
        import_module("cutopt.solve.plates.exact_plate"), "is_large", lambda *_: True
    )
    parts = [
        PlatePart(i["w"], i["h"], i["value"], 3 if row["rotate"] else 1)
        for i in row["items"]
    ]
    stock = row["stock"][0]
    found = exact_plate(stock["w"], stock["h"], parts, stop=after(60))
    assert found.value == check_layout(stock["w"], stock["h"], parts, found.placements)
    assert (
        0.995 * row["known"]["value"]
        <= found.value
        <= row["known"]["value"]
        <= found.bound
    )


@pytest.mark.parametrize(
    "row", mostly_slow(GCUT, {"gcut1", "gcut9_rot"}, named), ids=named
)
def test_tries_before_a_long_table_change_no_optimum(
    row: dict, monkeypatch: pytest.MonkeyPatch
) -> None:
    # J. E. Beasley (1985), as above.
    monkeypatch.setattr(
        import_module("cutopt.solve.plates.exact_plate"), "_LONG_TABLE", 0
    )
    parts = [
        PlatePart(i["w"], i["h"], i["value"], 3 if row["rotate"] else 1)
        for i in row["items"]
    ]
    stock = row["stock"][0]
    found = exact_plate(stock["w"], stock["h"], parts)
    assert found.proved
    assert (
        found.value
        == row["known"]["value"]
        == check_layout(stock["w"], stock["h"], parts, found.placements)
    )


@pytest.mark.slow
@pytest.mark.parametrize(("name", "tries"), [("LU4", 1000), ("LW2", 300), ("LW3", 300)])
def test_russo_sforza_and_sterle_2014(name: str, tries: int) -> None:
    # M. Russo, A. Sforza, C. Sterle (2014), Computers & OR 50, 97-114: values of the data files, here reached.
    row = next(
        r
        for r in json.loads((BENCH / "unconstrained.json").read_text())
        if r["name"] == name
    )
    parts = [PlatePart(i["w"], i["h"], i["value"]) for i in row["items"]]
    w = row["stock"][0]["w"]
    h = row["stock"][0]["h"]
    assert is_large(w, h, parts)
    found = exact_plate(w, h, parts, stop=after(tries))
    assert row["known"]["value"] <= found.value <= found.bound
    assert found.value == sum(parts[k].value for k, *_ in found.placements)
    if name == "LU4":  # all of the widest and the highest sums is covered
        assert found.proved


@pytest.mark.slow
def test_a_plan_worth_more_than_the_published_value() -> None:
    """LW2 by hand: 46 rows of 756 x 748 and a strip of 128 x 124 beside a column 598 wide."""
    row = next(
        r
        for r in json.loads((BENCH / "unconstrained.json").read_text())
        if r["name"] == "LW2"
    )
    value = {(i["w"], i["h"]): i["value"] for i in row["items"]}
    w = row["stock"][0]["w"]
    h = row["stock"][0]["h"]
    wide = w - 598
    assert wide >= 33 * 756
    assert wide >= 195 * 128
    assert h >= 46 * 748 + 124
    assert h >= 38 * 894 + 532
    rest = 38 * value[586, 894] + value[598, 532]
    by_sums = 46 * 33 * value[756, 748] + 195 * value[128, 124] + rest
    parts = [PlatePart(i["w"], i["h"], i["value"]) for i in row["items"]]
    assert by_sums <= exact_plate(w, h, parts, stop=after(300)).value
    assert by_sums == 325051375


def test_stopped_at_once_there_is_a_plan_and_a_bound() -> None:
    w, h, parts = random_plate(3)
    value, placed, bound = large_plate(w, h, parts, lambda: True)
    assert 0 < value == check_layout(w, h, parts, tuple(placed))
    assert best_plate(w, h, parts)[0] <= bound
