"""One plate, copies limited, against published optima and against every join of small sets."""

from __future__ import annotations

import json
import random

import pytest

from cutopt.solve.plates.exact_plate import _Plate, exact_plate
from cutopt.solve.plates.plate_table import PlatePart
from tests.places import BENCH
from tests.solve.plates.small_plates import check_layout, fronts
from tests.thinned import named, partly_slow

CLASSIC = json.loads((BENCH / "classic.json").read_text())
SLOW = {"CU4", "CU5", "CU10", "CU11", "CW6", "CW8", "CW9", "CW10", "CW11"}

# N. Christofides & C. Whitlock (1977), Operations Research 25(1), 30-44, problems 1-3, copies limited, not turned:
# plate width, height and optimum, then (width, height, copies, value). Typed in from the open data (ESICUP).
CHRISTOFIDES_WHITLOCK = {
    (15, 10, 244): [
        (2, 1, 1, 2),
        (3, 2, 2, 8),
        (3, 3, 2, 11),
        (3, 4, 5, 17),
        (8, 2, 3, 24),
        (3, 7, 1, 35),
        (8, 4, 2, 66),
    ],
    (40, 70, 2892): [
        (21, 22, 1, 582),
        (31, 13, 1, 403),
        (9, 35, 3, 315),
        (9, 24, 3, 216),
        (30, 7, 2, 210),
        (11, 13, 3, 143),
        (10, 14, 1, 140),
        (14, 8, 3, 110),
        (12, 8, 3, 94),
        (13, 7, 3, 90),
    ],
    (40, 70, 1860): [
        (31, 43, 4, 500),
        (30, 41, 2, 480),
        (29, 39, 4, 460),
        (28, 38, 4, 440),
        (27, 37, 3, 420),
        (26, 36, 4, 410),
        (25, 35, 3, 400),
        (24, 34, 4, 380),
        (33, 23, 4, 360),
        (22, 32, 3, 340),
        (31, 21, 3, 320),
        (29, 18, 3, 300),
        (17, 27, 2, 280),
        (15, 24, 2, 240),
        (16, 25, 4, 260),
        (15, 24, 1, 240),
        (23, 14, 4, 220),
        (21, 12, 3, 180),
        (19, 11, 4, 160),
        (9, 17, 1, 140),
    ],
}


@pytest.mark.parametrize("plate", CHRISTOFIDES_WHITLOCK)
def test_christofides_and_whitlock(plate: tuple[int, int, int]) -> None:
    parts = [
        PlatePart(w, h, value, 1, most)
        for w, h, most, value in CHRISTOFIDES_WHITLOCK[plate]
    ]
    found = exact_plate(plate[0], plate[1], parts)
    assert found.proved
    assert (
        found.value
        == plate[2]
        == check_layout(plate[0], plate[1], parts, found.placements)
    )


@pytest.mark.parametrize("row", partly_slow(CLASSIC, SLOW, named), ids=named)
def test_published_optima(row: dict) -> None:
    # Optima: S. Wang, R. Baldacci, Q. Liu, L. Wei (2025), EJOR, doi:10.1016/j.ejor.2025.05.033.
    stock = row["stock"][0]
    parts = [PlatePart(i["w"], i["h"], i["value"], 1, i["max"]) for i in row["items"]]
    found = exact_plate(stock["w"], stock["h"], parts)
    assert found.proved
    assert (
        found.value
        == row["known"]["value"]
        == check_layout(stock["w"], stock["h"], parts, found.placements)
    )


def best_by_joining(
    w: int, h: int, sizes: list[tuple[int, int]], values: list[int]
) -> int:
    """Over every set of the parts and every join of them, turned as one likes."""
    best = 0
    for mask, plates in fronts(sizes).items():
        if any(a <= w and b <= h for a, b in plates):
            best = max(best, sum(v for k, v in enumerate(values) if mask >> k & 1))
    return best


@pytest.mark.parametrize("seed", range(40))
def test_agrees_with_every_join(seed: int) -> None:
    rng = random.Random(seed)
    w = rng.randint(6, 14)
    h = rng.randint(6, 14)
    kinds = [
        (rng.randint(1, 9), rng.randint(1, 9), rng.randint(1, 3))
        for _ in range(rng.randint(1, 3))
    ]
    parts = [
        PlatePart(pw, ph, pw * ph + rng.randint(0, 9), 3, most)
        for pw, ph, most in kinds
    ]
    sizes = [(part.w, part.h) for part in parts for _ in range(part.most)]
    values = [part.value for part in parts for _ in range(part.most)]
    found = exact_plate(w, h, parts)
    assert found.proved
    assert (
        found.value
        == best_by_joining(w, h, sizes, values)
        == check_layout(w, h, parts, found.placements)
    )


def test_an_incumbent_is_kept_and_a_stop_leaves_a_bound() -> None:
    parts = [
        PlatePart(5, 7, 35, 3, 4),
        PlatePart(6, 4, 24, 3, 3),
        PlatePart(9, 2, 18, 3, 5),
    ]
    best = exact_plate(20, 15, parts)
    again = exact_plate(20, 15, parts, incumbent=(best.value, best.placements))
    assert again.proved
    assert again.value == best.value
    halted = exact_plate(
        20, 15, parts, incumbent=(35, ((0, 0, 0, False),)), stop=lambda: True
    )
    assert halted.value >= 35
    assert halted.bound >= best.value


def test_stopped_at_any_question_it_knows_the_plan_that_its_prices_met() -> None:
    """Pricing the copies meets plans within the limits: the best of them is the least that is told."""
    rng = random.Random(4)
    better = 0
    for _ in range(40):
        w = rng.randint(20, 60)
        h = rng.randint(20, 60)
        sides = [(rng.randint(3, 20), rng.randint(3, 20)) for _ in range(5)]
        parts = [
            PlatePart(pw, ph, rng.randint(1, 300), 3, rng.randint(1, 4))
            for pw, ph in sides
        ]
        calls = iter(range(60))
        plate = _Plate(
            w, h, parts, lambda calls=calls: next(calls, None) is None, 1 << 22, 150
        )  # type: ignore[misc]
        met = plate.free[0]
        found = plate.solve(0)
        assert met <= found.value <= found.bound
        assert sum(parts[k].value for k, *_ in found.placements) == found.value
        better += 0 < met == found.value < found.bound
    assert better  # plans met that the search did not better, and that are not proved
