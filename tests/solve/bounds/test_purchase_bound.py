"""Bounds that are true: no plan that can be cut costs less. Plans are made here by cutting cloth up at random."""

from __future__ import annotations

import random
from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest

from cutopt.fabric import ByLength, ByPiece, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.settings import Settings
from cutopt.solve.bounds.purchase_bound import improve, purchase_bound
from cutopt.solve.model.from_job import model_of
from cutopt.wanted import Cut
from tests.solve.bounds.known_jobs import known_job
from tests.solve.plates.small_plates import fronts
from tests.thinned import mostly_slow


@pytest.mark.parametrize("seed", mostly_slow(range(30), range(9)))
def test_never_above_a_plan_that_was_cut(seed: int) -> None:
    job, steps, price = known_job(seed)
    if not job.wanted:
        return
    bounds = list(improve(model_of(job)))
    assert bounds[-1].final
    assert all(bound.possible for bound in bounds)
    assert all(a.cost <= b.cost and a.work <= b.work for a, b in pairwise(bounds))
    assert bounds[-1].cost <= steps * price


def least_by_trying(
    sizes: list[tuple[int, int]], pile: tuple[int, int], width: int, longest: int
) -> int:
    """The least whole length of a roll beside one piece of the pile, over every division of the parts."""
    boxes = fronts(sizes)
    everything = (1 << len(sizes)) - 1
    best = longest
    for mask in range(1 << len(sizes)):
        held = mask == 0 or any(w <= pile[0] and h <= pile[1] for w, h in boxes[mask])
        rest = everything ^ mask
        if held:
            best = min(
                best,
                min((h for w, h in boxes[rest] if w <= width), default=longest)
                if rest
                else 0,
            )
    return best


@pytest.mark.parametrize(
    ("many", "least"), [(10, 4), pytest.param(60, 30, marks=pytest.mark.slow)]
)
def test_against_every_division_of_small_jobs(many: int, least: int) -> None:
    settings = Settings(square_up_end=0)
    reached = 0
    for seed in range(many):
        rng = random.Random(seed)
        sizes = [
            (rng.randint(2, 9), rng.randint(2, 9)) for _ in range(rng.randint(2, 6))
        ]
        pile = (rng.randint(4, 12), rng.randint(4, 12))
        best = least_by_trying(sizes, pile, 12, 999)
        job = Job(
            settings=settings,
            fabrics=(Fabric(name="oat"),),
            pieces=(Piece.of_size("p", "oat", pile[0] * INCH, pile[1] * INCH),),
            shop=(
                ByLength(
                    fabric="oat",
                    usable_width=12 * INCH,
                    sold_by=INCH,
                    price=Decimal(36),
                ),
            ),
            cuts=tuple(
                Cut(name=f"c{k}", width=w * INCH, length=h * INCH)
                for k, (w, h) in enumerate(sizes)
            ),
        )
        bound = purchase_bound(model_of(job))
        assert bound.cost <= best * 100
        reached += bound.cost == best * 100
    assert reached >= least


def one_fabric(
    cuts: tuple[Cut, ...],
    pieces: tuple[Piece, ...],
    shop: tuple[ByLength | ByPiece, ...],
) -> Job:
    return Job(
        fabrics=(Fabric(name="oat"), Fabric(name="pear")),
        pieces=pieces,
        shop=shop,
        cuts=cuts,
    )


def test_squares_from_a_yard() -> None:
    # floor x floor (identity): 224 squares of 2 1/2 are what 36 x 42 holds, so that one more needs another eighth.
    shop = (
        ByLength(
            fabric="oat",
            usable_width=42 * INCH,
            sold_by=YARD // 8,
            price=Decimal("8.00"),
        ),
    )
    for count, cost in ((224, 900), (225, 900), (208, 900), (207, 800)):
        cuts = (
            Cut(
                name="square",
                width=5 * INCH // 2,
                length=5 * INCH // 2,
                count=count,
                fabrics=("oat",),
            ),
        )
        # squared up by half an inch at both ends: a yard leaves 35 in, 14 rows of 16; 9/8 yd leaves 39 1/2
        expected = 800 if count <= 224 else 900
        assert purchase_bound(model_of(one_fabric(cuts, (), shop))).cost == expected, (
            cost
        )


def test_setting_triangle_squares() -> None:
    # Two 18 1/4 and two 9 3/8 squares, 42 in wide: 36 1/2 in (worked example of the trade): 37 1/2 with the ends.
    shop = (
        ByLength(
            fabric="oat", usable_width=42 * INCH, sold_by=INCH // 2, price=Decimal(36)
        ),
    )
    cuts = (
        Cut(name="side", width=73 * INCH // 4, length=73 * INCH // 4, count=3),
        Cut(name="corner", width=75 * INCH // 8, length=75 * INCH // 8, count=2),
    )
    assert purchase_bound(model_of(one_fabric(cuts, (), shop))).cost == 3750


def test_reasons_are_said_in_words() -> None:
    cuts = (
        Cut(name="square", width=5 * INCH, length=5 * INCH, count=20, fabrics=("oat",)),
    )
    pieces = (
        Piece.of_size("p", "oat", 11 * INCH, 11 * INCH),
        Piece.of_size("q", "pear", 40 * INCH, 40 * INCH),
    )
    shop = (
        ByLength(
            fabric="oat",
            usable_width=42 * INCH,
            sold_by=YARD // 8,
            price=Decimal("8.00"),
        ),
    )
    first, *_, last = improve(model_of(one_fabric(cuts, pieces, shop)))
    assert first.cost == 300  # 400 sq in: more than 42 x 8, which a quarter yard leaves
    told = "20 of square are wanted, and the pile of oat has at most 4, so 16 are missing"  # two by two on 11 x 11
    rows = "on 42 in wide oat at most 8 of 5 in lie side by side: that is 2 rows of 5 in, 10 in of length"
    assert (
        last.because
        == f"{told}; {rows}, so 3/8 yd, as 1/4 yd, the next shorter length on sale, leaves 8 in"
    )
    assert last.cost == 300


def test_cloth_that_cannot_give_all_is_named() -> None:
    # 11 x 11 holds four of 5 x 5 (two by two, identity), and none beside 7 x 7: 7 + 5 = 12
    cuts = (
        Cut(name="square", width=5 * INCH, length=5 * INCH, count=20, fabrics=("oat",)),
    )
    pieces = (Piece.of_size("p", "oat", 11 * INCH, 11 * INCH),)
    said = {bound.because for bound in improve(model_of(one_fabric(cuts, pieces, ())))}
    missing = (
        "20 of square are wanted, and the pile of oat has at most 4, so 16 are missing"
    )
    assert f"{missing}; nothing that is on sale would do" in said
    tall = (
        Cut(name="tall", width=7 * INCH, length=7 * INCH, fabrics=("oat",)),
        replace(cuts[0], count=2),
    )
    *_, last = improve(model_of(one_fabric(tall, pieces, ())))
    assert not last.possible
    # rows of 3 1/2 in: 7 x 7 has two, 14 in of them, 5 x 5 one, 5 in, in all 24; 11 in take two, each filled by 5 + 5
    assert last.because.startswith(
        "1 of tall and 2 of square come to 24 in of rows 3 1/2 in high (14 in of rows in"
    )
    assert (
        " has at most 20 in of rows (of each piece only what they can fill), so 4 in of rows"
        in last.because
    )


def test_impossible_is_said() -> None:
    cuts = (Cut(name="big", width=50 * INCH, length=50 * INCH),)
    shop = (
        ByLength(
            fabric="oat",
            usable_width=42 * INCH,
            sold_by=YARD // 8,
            price=Decimal("8.00"),
        ),
    )
    bound = purchase_bound(model_of(one_fabric(cuts, (), shop)))
    assert not bound.possible
    assert "big" in bound.because


def test_widths_of_one_fabric_are_alternatives() -> None:
    # 6 squares of 20 in: 42 in wide takes two a row, 60 in wide three; only one length of a fabric is bought.
    cuts = (Cut(name="big", width=20 * INCH, length=20 * INCH, count=6),)
    wide = ByLength(
        fabric="oat", usable_width=60 * INCH, sold_by=INCH, price=Decimal("50.4")
    )
    slim = ByLength(
        fabric="oat", usable_width=42 * INCH, sold_by=INCH, price=Decimal(36)
    )
    assert purchase_bound(model_of(one_fabric(cuts, (), (slim, wide)))).cost == 41 * 140
    pieces = ByPiece(
        fabric="oat", each_width=21 * INCH, each_length=20 * INCH, price=Decimal(9)
    )
    assert (
        purchase_bound(model_of(one_fabric(cuts, (), (slim, wide, pieces)))).cost
        == 5400
    )


def test_the_first_bound_needs_no_heavy_library() -> None:
    import subprocess
    import sys

    code = (
        "import sys; from tests.solve.bounds.known_jobs import known_job; from cutopt.solve.model.from_job import model_of;"
        "from cutopt.solve.bounds.purchase_bound import improve; next(improve(model_of(known_job(3)[0])));"
        "print([m for m in ('numba', 'ortools', 'matplotlib', 'pandas') if m in sys.modules])"
    )
    told = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert told.stdout.strip() == "[]"
