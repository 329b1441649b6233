"""All plans that lose little of a bound: against the exact table, every cut of small plates, and a publication."""

from __future__ import annotations

import json
import random
from importlib import import_module

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.solve.kernels.loader import load
from cutopt.solve.plates.exact_plate import exact_plate
from cutopt.solve.plates.large.little_loss import little_loss
from cutopt.solve.plates.large.two_scales import Pair, Scales
from cutopt.solve.plates.plate_table import PlatePart
from tests.places import BENCH
from tests.solve.plates.small_plates import (
    best_plate,
    by_hand,
    check_layout,
    parts_strategy,
    random_plate,
)
from tests.thinned import mostly_slow


def scales_after(
    steps: int, w: int, h: int, parts: list[PlatePart], known: int
) -> Scales:
    scales = Scales(w, h, parts, shared=steps % 2 == 0)
    for _ in range(steps):
        scales.step(known)
    scales.proved()
    return scales


def check_plan(
    w: int,
    h: int,
    parts: list[PlatePart],
    scales: Scales,
    plan: tuple[tuple[int, int, int], ...],
) -> int:
    return check_layout(
        w,
        h,
        parts,
        tuple((scales.ways[k][0], x, y, scales.ways[k][1]) for k, x, y in plan),
    )


def superadditive(scale: list[int]) -> bool:
    return all(
        scale[a] + scale[n - a] <= scale[n]
        for n in range(len(scale))
        for a in range(n // 2 + 1)
    )


@settings(max_examples=60, deadline=None)
@given(
    parts_strategy,
    st.integers(3, 16),
    st.integers(3, 16),
    st.integers(0, 12),
    st.integers(0, 30),
)
def test_proved_is_what_every_cut_gives(
    parts: list[PlatePart], w: int, h: int, steps: int, short: int
) -> None:
    if not any(pw <= w and ph <= h for part in parts for pw, ph, _ in part.ways()):
        return
    best = by_hand(w, h, parts, {})
    known = max(best - short, 0)
    scales = scales_after(steps, w, h, parts, known)
    pair = scales.pair()
    assert superadditive(pair.f.tolist())
    assert superadditive(pair.g.tolist())
    assert all(
        int(pair.f[a]) * int(pair.g[b]) >= pair.up * int(v)
        for a, b, v in zip(pair.widths, pair.heights, pair.values, strict=True)
    )
    found = little_loss(pair, known, lambda: False)
    assert (found.value, found.bound) == (best, best)
    if best > known:
        assert check_plan(w, h, parts, scales, found.plan) == best


@pytest.mark.parametrize("plain", [False, True])
@pytest.mark.parametrize("seed", mostly_slow(range(8), {0, 1, 2}))
def test_proved_is_the_value_of_the_table(
    seed: int, plain: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    w, h, parts = random_plate(seed)
    best, _ = best_plate(w, h, parts)
    scales = scales_after(60, w, h, parts, best)
    if plain:
        monkeypatch.setattr(
            import_module("cutopt.solve.plates.large.little_loss"),
            "load",
            lambda name, **_: load(name),
        )
    for known in (best, best - 1, best - best // 40):
        found = little_loss(scales.pair(), known, lambda: False)
        assert (found.value, found.bound) == (best, best)
        assert best == known or check_plan(w, h, parts, scales, found.plan) == best


@pytest.mark.parametrize("most", [3, 10, 40, 150])
@pytest.mark.parametrize("seed", mostly_slow(range(6), {0, 1}))
def test_too_many_blocks_or_rests_prove_no_more_than_is_true(
    seed: int, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    w, h, parts = random_plate(seed)
    best, _ = best_plate(w, h, parts)
    pair = scales_after(20, w, h, parts, best).pair()
    for limit in ("_MOST_BLOCKS", "_MOST_RESTS"):
        with monkeypatch.context() as patch:
            patch.setattr(
                import_module("cutopt.solve.plates.large.little_loss"), limit, most
            )
            for known in (0, best - best // 20, best - 1):
                found = little_loss(pair, known, lambda: False)
                assert (
                    known
                    <= found.value
                    <= best
                    <= found.bound
                    <= max(pair.bound, known)
                )


@pytest.mark.parametrize("seed", [0, 4, 5, 7, 8])
def test_no_block_is_lacking_up_to_the_loss_that_is_called_complete(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Wherever the array ends: each block of a whole search is there, or one no larger and worth no less."""
    module = import_module("cutopt.solve.plates.large.little_loss")
    w, h, parts = random_plate(seed)
    best, _ = best_plate(w, h, parts)
    pair = scales_after(20, w, h, parts, best).pair()
    most = (pair.top - (best - best // 20) * pair.up) // 2

    def blocks(limit: int) -> tuple[int, list[list[int]]]:
        monkeypatch.setattr(module, "_MOST_BLOCKS", limit)
        found = module._Blocks(pair, most, lambda: False)
        rows = found.rows[: found.count]
        light = (rows[:, module.k.FATE] == module.k.DONE) & (
            rows[:, module.k.LOSS] <= found.complete
        )
        return found.complete, rows[light].tolist()

    whole, everything = blocks(500_000)
    assert whole == most
    for limit in range(2, 160, 3):
        complete, some = blocks(limit)
        for x, y, value, loss, *_ in everything:
            assert loss > complete or any(
                a <= x and b <= y and v >= value for a, b, v, *_ in some
            )


def test_stopped_anywhere_it_is_true(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(
        import_module("cutopt.solve.plates.large.little_loss"), "_SLICE_WORK", 20
    )
    w, h, parts = random_plate(4)
    best, _ = best_plate(w, h, parts)
    pair = scales_after(20, w, h, parts, best).pair()
    bounds = []
    for calls in (0, 1, 5, 20, 80, 320, 100_000):
        left = iter(range(calls))
        found = little_loss(pair, best - 20, lambda left=left: next(left, None) is None)  # type: ignore[misc]
        assert best - 20 <= found.value <= best <= found.bound
        bounds.append(found.bound)
    assert bounds[0] > bounds[-1] == best


def test_a_part_that_loses_much_may_be_all_there_is() -> None:
    # By hand: one of 7 x 7 (40) and a strip of 8 x 1 or 1 x 8 (4) beside it; eight strips are worth 32.
    parts = [PlatePart(7, 7, 40), PlatePart(8, 1, 4), PlatePart(1, 8, 4)]
    scales = Scales(8, 8, parts)
    found = little_loss(scales.pair(), 0, lambda: False)
    assert found.value == found.bound == by_hand(8, 8, parts, {}) == 44


@pytest.mark.slow
@pytest.mark.parametrize("name", ["LW1", "LX1"])
def test_russo_sforza_and_sterle_2014(name: str) -> None:
    # M. Russo, A. Sforza, C. Sterle (2014), Computers & OR 50, 97-114: the optimum that the data file of LX1 states,
    # whose parts hold those of LW1 (whose file states less).
    row = next(
        r
        for r in json.loads((BENCH / "unconstrained.json").read_text())
        if r["name"] == name
    )
    parts = [PlatePart(i["w"], i["h"], i["value"]) for i in row["items"]]
    w = row["stock"][0]["w"]
    h = row["stock"][0]["h"]
    found = exact_plate(w, h, parts)
    assert found.proved
    assert found.value == 171257398 == sum(parts[k].value for k, *_ in found.placements)


@pytest.mark.parametrize("seed", range(4))
def test_a_pair_fits_the_words_of_the_machine(seed: int) -> None:
    rng = random.Random(seed)
    parts = [
        PlatePart(
            rng.randint(1, 300),
            rng.randint(1, 300),
            rng.randint(1, 10 ** rng.randint(1, 9)),
        )
        for _ in range(9)
    ]
    pair: Pair = Scales(5000, 7000, parts).pair()
    assert 0 < pair.top < 1 << 62
    assert pair.up * max(int(v) for v in pair.values) < 1 << 62
