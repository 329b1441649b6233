"""What every plan lacks where fabrics have to be chosen, against every way to cut tiny jobs.

All cloth and all parts are 20 in across and less than 20 in along, so that parts lie one behind the other: what a cloth
holds is a sum of lengths, and all ways to fill it are counted here without the solver. Invented data.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from functools import reduce
from itertools import product

import pytest

from cutopt.job import Job
from cutopt.solve.bounds.most_of_a_row import least_cost, least_short
from cutopt.solve.bounds.purchase_bound import purchase_bound
from cutopt.solve.model.from_job import model_of
from cutopt.wanted import Strip, Wanted
from tests.solve.small import cut, each, inch, job, piece, solved
from tests.thinned import mostly_slow

FABRICS = ("pear", "plum", "oat")
Counts = tuple[int, ...]


class Lanes:
    """A job of rows and cloth 20 in across, and how many of each row can be cut together."""

    def __init__(self, seed: int) -> None:
        rnd = random.Random(seed)
        self.rows: list[Wanted] = []
        for number in range(rnd.randint(2, 3)):
            some = tuple(rnd.sample(FABRICS, rnd.randint(1, 3)))
            together = rnd.choice(("set", "set", ""))
            self.rows.append(self.row(rnd, f"row {number}", some, together))
        self.pile = [
            (rnd.choice(FABRICS), rnd.randint(3, 19)) for _ in range(rnd.randint(1, 3))
        ]
        self.on_sale = (rnd.choice(FABRICS), rnd.randint(5, 12), rnd.randint(0, 2))

    @staticmethod
    def row(
        rnd: random.Random, name: str, fabrics: tuple[str, ...], together: str
    ) -> Wanted:
        size = rnd.randint(3, 9)
        count = rnd.randint(1, 3)
        if rnd.random() < 0.3:
            long = {"total_length": inch(20), "join": "none"}
            return Strip(
                name=name,
                width=inch(size),
                count=count,
                fabrics=fabrics,
                together=together,
                **long,
            )
        most = (
            rnd.choice((1, 2))
            if not together and count > 1 and rnd.random() < 0.7
            else None
        )
        return cut(
            name, 20, size, count, fabrics=fabrics, together=together, most_each=most
        )

    def job(self) -> Job:
        pieces = [
            piece(f"p{n}", 20, length, fabric=fabric)
            for n, (fabric, length) in enumerate(self.pile)
        ]
        fabric, length, most = self.on_sale
        shop = [each(fabric, 20, length, "2.00", most=most)] if most else []
        named = [
            piece(f"scrap {fabric}", 0.5, 0.5, fabric=fabric) for fabric in FABRICS
        ]
        return job(*pieces, *named, *shop, *self.rows)

    def lacks(self, bought: int) -> int:
        """How many are lacking at least when so many pieces are bought."""
        wanted = sum(row.count for row in self.rows)
        return wanted - max(
            sum(self.capped(self.full(chosen, bought))) for chosen in FABRICS
        )

    def full(self, chosen: str, bought: int) -> Counts:
        """The counts of most parts when rows of the set come from one fabric."""
        fabric, length, _ = self.on_sale
        cloths = [*self.pile, *[(fabric, length)] * bought]
        ways = [
            self.of_fabric(
                fabric, [size for name, size in cloths if name == fabric], chosen
            )
            for fabric in FABRICS
        ]
        sums = reduce(
            lambda some, more: {added(a, b) for a, b in product(some, more)}, ways
        )
        return max(sums, key=lambda counts: sum(self.capped(counts)))

    def of_fabric(
        self, fabric: str, lengths: Sequence[int], chosen: str
    ) -> set[Counts]:
        """All counts that cloths of one fabric give."""
        most = [self.most(row, fabric, chosen) for row in self.rows]
        found = {(0,) * len(self.rows)}
        for length in lengths:
            found = {added(a, b) for a in found for b in self.on(length, most)}
            found = {tuple(map(min, counts, most)) for counts in found}
        return found

    def most(self, row: Wanted, fabric: str, chosen: str) -> int:
        if fabric not in row.fabrics or (row.together and fabric != chosen):
            return 0
        return min(row.count, getattr(row, "most_each", None) or row.count)

    def on(self, length: int, most: Sequence[int]) -> Iterator[Counts]:
        sizes = [
            (row.width if isinstance(row, Strip) else row.length) // inch(1)
            for row in self.rows
        ]
        for counts in product(*(range(number + 1) for number in most)):
            if (
                sum(size * number for size, number in zip(sizes, counts, strict=True))
                <= length
            ):
                yield counts

    def capped(self, counts: Counts) -> Counts:
        return tuple(
            min(number, row.count)
            for number, row in zip(counts, self.rows, strict=True)
        )


def added(a: Counts, b: Counts) -> Counts:
    return tuple(x + y for x, y in zip(a, b, strict=True))


def test_rows_of_a_set_of_which_one_is_hopeless_take_another_fabric() -> None:
    """The tall one fits no pear and may not come from plum; without it all the squares come from plum."""
    task = job(
        piece("a", 20, 10),
        piece("b", 20, 10, fabric="plum"),
        cut("tall", 20, 19, 1, fabrics=("pear",), together="set"),
        cut("filler", 20, 9, 1, fabrics=("pear",)),
        cut("square", 20, 5, 2, fabrics=("pear", "plum"), together="set"),
    )
    result = solved(task)
    (level,) = [
        level for level in result.levels if level.name == "short of what must be cut"
    ]
    assert (level.value, level.bound, level.proved) == ("1", "1", True)


@pytest.mark.parametrize("part", mostly_slow(range(4), {0}))
def test_no_bound_is_above_what_can_be_cut(part: int) -> None:
    """What every plan lacks, and what it costs to lack no more: all ways to cut are tried."""
    for seed in range(40 * part, 40 * part + 40):
        lanes = Lanes(seed)
        most = lanes.on_sale[2]
        model = model_of(lanes.job())
        bound = purchase_bound(model)
        lacks = [lanes.lacks(bought) for bought in range(most + 1)]
        assert least_short(model, bound.problem, bound.arguments) <= lacks[-1], seed
        assert bound.problem is not None
        assert lacks[-1] or bound.possible, seed
        for short, bought in product(range(max(lacks) + 1), range(most + 1)):
            if lacks[bought] <= short:
                assert (
                    least_cost(model, bound.problem, bound.arguments, short)
                    <= 200 * bought
                ), (seed, short, bought)


def test_what_every_plan_lacks_is_often_known() -> None:
    """The bound is no mere nought: of the jobs in which something is lacking it says so in most."""
    known = told = 0
    for seed in range(40):
        lanes = Lanes(seed)
        model = model_of(lanes.job())
        bound = purchase_bound(model)
        lacking = lanes.lacks(lanes.on_sale[2])
        known += lacking > 0
        told += lacking > 0 and least_short(model, bound.problem, bound.arguments) > 0
    assert told >= known * 0.6
