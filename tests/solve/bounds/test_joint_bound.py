"""Backs together with other rows: no bound is above the best of every back of few parts with the rows cut beside it."""

from __future__ import annotations

import random
from dataclasses import replace
from decimal import Decimal

import pytest

from cutopt.fabric import ByLength, ByPiece, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.piecing import Back
from cutopt.solve.bounds.joint_bound import bound_of_job
from cutopt.solve.bounds.purchase_bound import Bound, purchase_bound
from cutopt.solve.model.from_job import model_of
from cutopt.wanted import Cut
from tests.solve.bounds.tiny_backs import UNIT, Tiny, drawn
from tests.solve.piecing.every_back import Parts, can_be_had, in_order


def rows_of(seed: int) -> Parts:
    """One or two sizes that are wanted besides, in units."""
    rnd = random.Random(f"rows {seed}")
    return in_order(
        [(rnd.randint(2, 7), rnd.randint(2, 8)) for _ in range(rnd.choice((1, 2)))]
    )


def with_rows(tiny: Tiny, rows: Parts) -> Job:
    cuts = tuple(
        Cut(name=f"c{k}", width=w * UNIT, length=l * UNIT, count=1)
        for k, (w, l) in enumerate(rows)
    )
    return replace(tiny.job, cuts=cuts)


def of_rows(job: Job) -> Bound:
    return purchase_bound(model_of(replace(job, backs=())))


def fewest_steps(tiny: Tiny, rows: Parts, most: int) -> int | None:
    """Steps of the sale for the cheapest back with the rows beside it; None beyond three times its length."""
    backs = sorted(tiny.parts(most), key=lambda parts: (len(parts), parts))
    for steps in range(3 * tiny.size[1] // 2):
        new = (tiny.usable, 2 * steps) if steps else None
        for parts in backs:
            if can_be_had(in_order([*parts, *rows]), tiny.pile, new):
                return steps
    return None


def judged(seed: int, most: int) -> bool | None:
    """Whether the bound is what the best costs, and by no more than either alone; it is never more."""
    tiny = drawn(seed)
    rows = rows_of(seed)
    best = fewest_steps(tiny, rows, most)
    if best is None:
        return None
    job = with_rows(tiny, rows)
    quick = bound_of_job(job)
    slow = bound_of_job(job, of_rows(job))
    assert quick.possible
    assert slow.possible
    assert tiny.bound * 100 <= quick.cost <= slow.cost <= best * 100, (seed, job)
    assert bool(slow.because) == (slow.cost > 0)
    return slow.cost == best * 100


def test_no_bound_on_both_is_above_the_best() -> None:
    for seed in range(12):
        judged(seed, 2)


@pytest.mark.slow
def test_no_bound_on_both_is_above_the_best_of_many() -> None:
    met = [judged(seed, 3) for seed in range(12, 150)]
    assert sum(one is True for one in met) > 25


def orchard() -> Job:
    """A back of 44 x 52 and twenty squares of 10 in, no pile."""
    return Job(
        fabrics=(Fabric(name="oat"), Fabric(name="pear")),
        shop=(
            ByLength(
                fabric="oat",
                usable_width=42 * INCH,
                sold_by=9 * INCH // 2,
                price=Decimal(12),
            ),
        ),
        cuts=(Cut(name="square", width=10 * INCH, length=10 * INCH, count=20),),
        backs=(Back(name="back", width=44 * INCH, length=52 * INCH),),
    )


def test_areas_are_added_up() -> None:
    """2000 of squares and 2193 of the back are 4193 square in: 99.8 in of cloth 42 in wide, and an inch for its ends,
    sold as 103 1/2 in; either alone takes 55 1/2 in for the back and 50 for the squares."""
    job = orchard()
    found = bound_of_job(job)
    assert found.kind == "area"
    assert found.cost == 3450
    assert found.because == (
        "all that is wanted comes to 4193 square in, backs without the seam allowances of their parts, and what there "
        "is gives 0 of that at most, so 4193 are missing; the least on sale that gives so much is 2 7/8 yd of oat, as "
        "2 3/4 yd gives 4116 at most"
    )


def test_cloth_that_rows_cannot_have_counts_with_what_it_shows() -> None:
    """A piece of pear shows 19 x 29 in the back; squares of oat have nothing of it."""
    job = orchard()
    square = replace(job.cuts[0], fabrics=("oat",))
    pear = Piece.of_size("p", "pear", 20 * INCH, 30 * INCH)
    both = bound_of_job(replace(job, pieces=(pear,)))
    only = bound_of_job(replace(job, cuts=(square,), pieces=(pear,)))
    assert "gives 600 of that" in both.because
    assert "gives 551 of that" in only.because
    closed = bound_of_job(replace(job, pieces=(pear,)), closed={"p"})
    assert closed == bound_of_job(job)


def test_two_backs_share_pile_and_purchase() -> None:
    """Two of 44 x 52 show 4386 square in, of which a length of 42 in shows 41 in of each inch: 106.98 + 1 in for seams."""
    job = replace(
        orchard(),
        cuts=(),
        backs=tuple(
            Back(name=name, width=44 * INCH, length=52 * INCH) for name in "ab"
        ),
    )
    found = bound_of_job(job)
    assert found.kind == "area"
    assert found.cost == 12 * 100 * 112.5 / 36


def test_the_rows_of_another_fabric_add_to_the_back() -> None:
    """Squares of pear alone, a back of oat alone: what is bought of either adds up, which needs all arguments at once."""
    job = orchard()
    shop = (*job.shop, replace(job.shop[0], fabric="pear"))
    cut = replace(job.cuts[0], fabrics=("pear",))
    back = replace(job.backs[0], fabrics=("oat",))
    job = replace(job, shop=shop, cuts=(cut,), backs=(back,))
    rows = of_rows(job)
    found = bound_of_job(job, rows)
    alone = bound_of_job(replace(job, cuts=()))
    assert found.kind == "together"
    assert found.cost == rows.cost + alone.cost


def test_what_is_sold_by_the_piece() -> None:
    """Of 18 x 21 pieces each shows 17 x 20 = 340: seven make the 2193 square in of a back, and six do not."""
    job = orchard()
    shop = (
        ByPiece(
            fabric="oat",
            each_width=18 * INCH,
            each_length=21 * INCH,
            price=Decimal(3),
        ),
    )
    job = replace(job, shop=shop, cuts=())
    found = bound_of_job(job)
    assert found.cost == 7 * 300
    assert "7 pieces of oat" in found.because
    few = replace(job, shop=(replace(shop[0], most=6),))
    assert not bound_of_job(few).possible
