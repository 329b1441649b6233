"""Bounds on sheets sold by the piece: never above the optimum of small jobs, found by trying every division."""

from __future__ import annotations

import random
from decimal import Decimal

import pytest

from cutopt.fabric import ByPiece, Fabric
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.settings import Settings
from cutopt.solve.bounds.purchase_bound import purchase_bound
from cutopt.solve.model.from_job import model_of
from cutopt.wanted import Cut, Strip
from tests.solve.small import cut, each, inch, job, solved

Size = tuple[int, int]


def plates_for(sizes: list[Size], *, turning: bool) -> dict[int, set[Size]]:
    """For each set of parts (bits) the smallest plates that hold it, from joins of smaller sets."""
    plates: dict[int, set[Size]] = {}
    for mask in range(1, 1 << len(sizes)):
        made: set[Size] = set()
        if mask & (mask - 1) == 0:
            w, h = sizes[mask.bit_length() - 1]
            made = {(w, h), (h, w)} if turning else {(w, h)}
        sub = (mask - 1) & mask
        while sub > mask ^ sub:
            for w1, h1 in plates[sub]:
                for w2, h2 in plates[mask ^ sub]:
                    made |= {(w1 + w2, max(h1, h2)), (max(w1, w2), h1 + h2)}
            sub = (sub - 1) & mask
        plates[mask] = {
            a
            for a in made
            if not any(b != a and b[0] <= a[0] and b[1] <= a[1] for b in made)
        }
    return plates


def least_cost(
    sizes: list[Size], sheets: list[tuple[int, int, int]], *, turning: bool
) -> int | None:
    """The least cost of sheets (w, h, cost; any number) over every division of the parts."""
    plates = plates_for(sizes, turning=turning)
    everything = (1 << len(sizes)) - 1
    one = {
        mask: min(
            (c for w, h, c in sheets if any(a <= w and b <= h for a, b in held)),
            default=None,
        )
        for mask, held in plates.items()
    }
    best: dict[int, int | None] = {0: 0}
    for mask in range(1, everything + 1):
        sub = mask
        costs = []
        while sub:
            rest = best[mask ^ sub]
            cost = one[sub]
            if rest is not None and cost is not None:
                costs.append(rest + cost)
            sub = (sub - 1) & mask
        best[mask] = min(costs, default=None)
    return best[everything]


def sheets_job(
    sizes: list[Size], sheets: list[tuple[int, int, int]], *, turning: bool
) -> Job:
    shop = tuple(
        ByPiece(
            fabric="oat", each_width=w * INCH, each_length=h * INCH, price=Decimal(c)
        )
        for w, h, c in sheets
    )
    cuts = tuple(
        Cut(
            name=f"c{k}",
            width=w * INCH,
            length=h * INCH,
            grain="any" if turning else "along",
        )
        for k, (w, h) in enumerate(sizes)
    )
    return Job(fabrics=(Fabric(name="oat"),), shop=shop, cuts=cuts)


@pytest.mark.parametrize(
    ("many", "least"), [(8, 7), pytest.param(40, 34, marks=pytest.mark.slow)]
)
@pytest.mark.parametrize("turning", [False, True])
def test_against_every_division(turning: bool, many: int, least: int) -> None:
    reached = 0
    for seed in range(many):
        rng = random.Random(seed)
        sizes = [
            (rng.randint(2, 9), rng.randint(2, 9)) for _ in range(rng.randint(2, 7))
        ]
        sheets = [(10, 10, 10), (7, 9, 7), (12, 5, 5)][: rng.randint(1, 3)]
        best = least_cost(sizes, sheets, turning=turning)
        bound = purchase_bound(model_of(sheets_job(sizes, sheets, turning=turning)))
        assert best is not None
        assert bound.possible
        assert bound.cost <= 100 * best, seed
        reached += bound.cost == 100 * best
    assert reached >= least  # weak bounds are noticed too


def test_as_many_pieces_as_there_are_parts() -> None:
    """Where the shop sets no limit: 70 squares of 5 in, each all of a piece of 0.30, are 21.00."""
    task = job(each("pear", 5, 5, "0.30"), cut("charm", 5, 5, 70))
    assert purchase_bound(model_of(task)).possible
    result = solved(task)
    assert result.complete
    assert str(result.plan.totals.money) == "21.00"
    strip = Strip(name="edge", width=inch(2), total_length=inch(700), shortest=inch(10))
    pieced = job(
        each("pear", 2, 10, "0.30"), strips=(strip,)
    )  # 87 joins cost 2 in each: 88 x 10 - 87 x 2 is 706
    assert solved(pieced).complete


def test_segments_that_give_hardly_anything() -> None:
    """A diagonal join takes 2 1/2 in of a segment of 3 in: 1/2 in for each piece but the first, 195 of them for 100."""
    strip = Strip(
        name="edge",
        width=inch(2.5),
        total_length=inch(100),
        shortest=inch(3),
        join="diagonal",
    )
    task = job(each("pear", 2.5, 3, "0.30"), strips=(strip,))
    assert purchase_bound(model_of(task)).possible
    result = solved(task)
    assert result.complete
    assert str(result.plan.totals.money) == "58.50"


def test_no_more_pieces_are_offered_than_shelves_need() -> None:
    """600 squares of 2 in go on 600 x 4 / 324 = 7.4 pieces of 18 in by area: three dozen do by far."""
    squares = cut("square", 2, 2, 600)
    copies = [
        model_of(
            job(each("pear", 18, 18, "2"), squares, settings=Settings(turns=turns))
        )
        .sheets[0]
        .copies
        for turns in (None, 3, 2)
    ]
    assert copies == [4 * 600 * 256 // 144**2 + 4] * 2 + [600]
    assert 8 <= copies[0] < 40
    assert solved(job(each("pear", 18, 18, "2"), squares), rounds=200).complete
