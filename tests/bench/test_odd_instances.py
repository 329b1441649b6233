"""Instances at the edges of the format: nothing fits, everything fits, none of a sheet, high costs. All invented."""

from __future__ import annotations

import random
from typing import Any

import pytest

from cutopt.bench import instance_solver as door
from cutopt.bench import run
from cutopt.bench.instances import Instance, Stock, Wish, instance_of
from cutopt.check import check
from cutopt.errors import Problem
from cutopt.solve.control.stop import Work
from cutopt.solve.plates.exact_plate import exact_plate
from cutopt.solve.plates.plate_table import TURNED, UNTURNED, PlatePart
from cutopt.solve.plates.shelving import fill_plate


def made(
    items: list[Wish],
    stock: Stock | None = None,
    objective: str = "max value",
    **more: Any,
) -> Instance:
    sheet = stock or Stock(w=100, h=100, count=None, cost=1)
    known = {"value": 0, "status": "best known"}
    return Instance(
        family="odd",
        name="odd",
        stock=(sheet,),
        items=tuple(items),
        rotate=more.pop("rotate", False),
        objective=objective,
        known=known,
    )


def wish(w: int, h: int, most: int | None = 1, value: int | None = None) -> Wish:
    return Wish(w=w, h=h, most=most, value=w * h if value is None else value)


def solved(instance: Instance, work: int = 300) -> door.Answer:
    answer = door.solve_instance(instance, Work(work))
    assert check(answer.job, answer.plan) == []
    assert [
        told for told in run.disagreements(instance, answer) if "excludes" not in told
    ] == []
    return answer


@pytest.mark.parametrize(
    ("items", "value"),
    [
        ([wish(30, 40, 2, 5)], 10),
        ([wish(30, 40, None, 5)], 30),  # three by two
        ([wish(130, 40)], 0),
        ([wish(30, 40, 0)], 0),
        ([wish(30, 40, 2, 0)], 0),
        ([wish(30, 40, 2, 5), wish(30, 40, 3, 6)], 28),
        ([wish(100, 100)], 10_000),
        ([wish(130, 40), wish(50, 50, 9, 2)], 8),
    ],
)
def test_the_most_value_of_a_few_items(items: list[Wish], value: int) -> None:
    answer = solved(made(items))
    assert (answer.value, answer.bound) == (value, value)


def test_what_may_be_turned() -> None:
    """Three of 30 x 90 beside each other, one of 90 x 10 above them and one along the side: all of 27."""
    assert (
        solved(made([wish(30, 90, 3, 5), wish(90, 10, 2, 6)], rotate=True)).value == 27
    )


def divided(rnd: random.Random, w: int, h: int, times: int) -> list[tuple[int, int]]:
    """Sizes that a rectangle is cut into by cuts from edge to edge."""
    if not times:
        return [(w, h)]
    if w >= h:
        at = rnd.randint(w // 3, 2 * w // 3)
        return [*divided(rnd, at, h, times - 1), *divided(rnd, w - at, h, times - 1)]
    at = rnd.randint(h // 3, 2 * h // 3)
    return [*divided(rnd, w, at, times - 1), *divided(rnd, w, h - at, times - 1)]


@pytest.mark.parametrize("seed", range(3))
def test_where_all_copies_fit_all_are_there(seed: int) -> None:
    """Sizes that 200 x 200 was cut into, on a sheet a fifth larger: the sum of the values is the best."""
    sizes = divided(random.Random(seed), 200, 200, 5)
    answer = solved(
        made([wish(w, h) for w, h in sizes], Stock(w=240, h=240, count=None, cost=1)),
        2_000,
    )
    assert answer.value == answer.bound == 200 * 200


def test_no_bound_is_above_the_sum_of_the_values() -> None:
    """By copies without limit 100 x 100 would hold four of the best; there is one of each."""
    parts = [
        PlatePart(50, 50, 100, UNTURNED, 1),
        PlatePart(40, 40, 3, UNTURNED | TURNED, 1),
        PlatePart(30, 70, 4, UNTURNED, 1),
    ]
    found = exact_plate(100, 100, parts, rounds=1, most_blocks=1, stop=lambda: True)
    assert found.bound <= 107


@pytest.mark.parametrize("seed", range(6))
def test_a_plate_is_filled_at_once(seed: int) -> None:
    """The plan keeps to the sheet and the numbers, no parts overlap, and it is worth what it says."""
    rnd = random.Random(seed)
    parts = [
        PlatePart(
            rnd.randint(15, 60),
            rnd.randint(15, 60),
            rnd.randint(1, 99),
            rnd.choice((1, 2, 3)),
            rnd.randint(0, 3),
        )
        for _ in range(12)
    ]
    filled = fill_plate(150, 150, parts)
    boxes = []
    for k, x, y, turned in filled.placements:
        assert parts[k].turns & (TURNED if turned else UNTURNED)
        w, h = (parts[k].h, parts[k].w) if turned else (parts[k].w, parts[k].h)
        assert x + w <= 150
        assert y + h <= 150
        assert all(x >= b or a >= x + w or y >= d or c >= y + h for a, c, b, d in boxes)
        boxes.append((x, y, x + w, y + h))
    counts = [sum(k == n for k, *_ in filled.placements) for n in range(len(parts))]
    assert all(count <= part.most for count, part in zip(counts, parts, strict=True))
    assert (
        filled.value
        == sum(count * part.value for count, part in zip(counts, parts, strict=True))
        > 0
    )
    bound = exact_plate(
        150, 150, parts, incumbent=(filled.value, filled.placements), stop=lambda: True
    ).bound
    assert bound >= filled.value >= bound // 2


def test_high_costs_are_taken() -> None:
    """Six of 30 x 40 on a sheet, 20 need four."""
    answer = solved(
        made(
            [wish(30, 40, 20)],
            Stock(w=100, h=100, count=None, cost=250_000),
            "min stock",
        )
    )
    assert (answer.value, answer.bound) == (1_000_000, 1_000_000)


def test_none_of_a_sheet_is_none() -> None:
    with pytest.raises(RuntimeError, match="not everything was placed"):
        solved(
            made([wish(30, 40, 2)], Stock(w=100, h=100, count=0, cost=5), "min stock")
        )


def test_nothing_wanted_costs_nothing() -> None:
    assert solved(made([wish(30, 40, 0)], None, "min stock")).value == 0


ROW: dict[str, Any] = {
    "name": "odd",
    "objective": "min stock",
    "known": {"value": 0},
    "stock": [{"w": 9, "h": 9, "count": None, "cost": 1}],
    "items": [{"w": 3, "h": 3, "max": 1}],
}


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"items": [{"w": 3, "h": 3, "max": None}]}, "an item of odd has no number"),
        ({"items": []}, "odd has no stock or no items"),
        (
            {"stock": [{"w": 9, "h": 9, "count": None, "cost": 10**12}]},
            "a sheet of odd costs more than 10000000",
        ),
    ],
)
def test_what_makes_no_sense_is_said(change: dict[str, Any], told: str) -> None:
    assert instance_of("odd", ROW).items[0].most == 1
    with pytest.raises(Problem, match=told):
        instance_of("odd", ROW | change)
