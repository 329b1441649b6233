"""Why no plan costs less: what a reason says is worked out again here, from the job alone, by trying and counting.

Nothing of the solver but the reason itself is used: usable sizes, patches, sums of sizes, and all purchases are found
anew. The jobs are invented (:mod:`tests.solve.counter`).
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import product

import pytest

from cutopt.fabric import ByLength, Fabric, Offered, Piece
from cutopt.geometry import area2
from cutopt.job import Job, cost_of
from cutopt.lengths import YARD, format_sale
from cutopt.solve.bounds.claims import Claim
from cutopt.solve.bounds.purchase_bound import Bound, purchase_bound
from cutopt.solve.model.from_job import model_of
from cutopt.wanted import Cut, Wanted
from tests.solve.counter import counter
from tests.solve.small import bolt, cut, each, job, piece

Size = tuple[int, int]


def times(length: int, side: Fraction | None) -> int:
    """How often a side goes into a length; without one every tick counts."""
    if side is None:
        return length
    n = 0
    while (n + 1) * side <= length:
        n += 1
    return n


def lyings(row: Wanted) -> list[Size]:
    """Width and length in which a part may lie; of a strip with all its length."""
    w = row.width
    long = row.length if isinstance(row, Cut) else row.total_length
    return {"any": [(w, long), (long, w)], "along": [(w, long)], "across": [(long, w)]}[
        row.grain
    ]


def holds(row: Wanted, size: Size, cloth: Size) -> bool:
    """Whether a part goes on cloth; of a strip the shortest segment."""
    long = row.length if isinstance(row, Cut) else min(row.shortest, row.total_length)
    shown = tuple(row.width if side == row.width else long for side in size)
    return shown[0] <= cloth[0] and shown[1] <= cloth[1]


class Redone:
    """One claim, worked out again."""

    def __init__(self, task: Job, claim: Claim) -> None:
        self.task = task
        self.claim = claim
        self.rows = [task.wanted[asked.item] for asked in claim.asked]
        self.cloths = [(p.fabric, p.size) for p in task.pieces]
        self.cloths += [
            (offered.fabric, self.usable(offered, sold))
            for offered, sold in self.sales()
        ]
        self.ways = {row.key: self.ways_of(row) for row in self.rows}

    def sales(self) -> Iterator[tuple[Offered, int]]:
        """All lengths up to 60 yards and all pieces that are on sale."""
        for offered in self.task.shop:
            if isinstance(offered, ByLength):
                first = max(1, -(-offered.smallest // offered.sold_by))
                yield from (
                    (offered, n * offered.sold_by)
                    for n in range(first, 60 * YARD // offered.sold_by)
                )
            else:
                yield offered, offered.each_length

    def usable(self, offered: Offered, sold: int) -> Size:
        """Both ends of a length are squared up."""
        if isinstance(offered, ByLength):
            return offered.usable_width, sold - 2 * self.task.settings.square_up_end
        return offered.each_width, offered.each_length

    def ways_of(self, row: Wanted) -> list[Size]:
        return [
            size
            for size in lyings(row)
            if any(
                fabric in self.task.allowed(row) and holds(row, size, cloth)
                for fabric, cloth in self.cloths
            )
        ]

    def serves(self, fabric: str, cloth: Size) -> bool:
        """Whether one part of any of the rows could come from some cloth."""
        return any(
            fabric in self.task.allowed(row)
            and any(holds(row, size, cloth) for size in self.ways[row.key])
            for row in self.rows
        )

    def each(self, row: Wanted) -> int:
        """Patches in a part, whichever way it lies; a strip may be cut anywhere along its length."""
        across = self.claim.across
        along = self.claim.along
        found = []
        for w, long in self.ways[row.key]:
            lengthwise = along if w == row.width else across
            broken = (
                not isinstance(row, Cut)
                and row.join != "none"
                and lengthwise is not None
            )
            found.append(0 if broken else times(w, across) * times(long, along))
        return min(found)

    def filled(self, length: int, axis: int) -> int:
        """The most of a length that the parts fill one after the other: all sums that there are."""
        if not self.claim.fill[axis].partly:
            return length
        sums = {0}
        for row in self.rows:
            sides = {size[axis] for size in self.ways[row.key]}
            for _ in range(min(row.count, length // min(sides))):
                more = {a + side for a in sums for side in sides if a + side <= length}
                if more <= sums:
                    break
                sums |= more
        return max(sums)

    def patches(self, fabric: str, cloth: Size) -> int:
        if not self.serves(fabric, cloth):
            return 0
        w, long = (self.filled(side, axis) for axis, side in enumerate(cloth))
        return times(w, self.claim.across) * times(long, self.claim.along)

    def in_piece(self, p: Piece) -> int:
        area = -(-Fraction(area2(p.outline)) / 2 // 1)
        by_area = int(area / (self.claim.across or 1) / (self.claim.along or 1))
        found = self.patches(p.fabric, p.size)
        return p.count * (found if p.is_rectangle else min(found, by_area))

    def cheapest(self, missing: int) -> int | None:
        """The least money that buys so many patches: all ways to buy are tried, one length of a fabric."""
        choices: list[list[tuple[int, int]]] = []
        for fabric in self.task.fabrics:
            lengths = [(0, 0)]
            for offered in self.task.shop:
                if offered.fabric == fabric.name and isinstance(offered, ByLength):
                    lengths += self.lengths(offered, missing)
                elif offered.fabric == fabric.name:
                    gives = self.patches(offered.fabric, self.usable(offered, 0))
                    price = self.price(offered, 0)
                    choices.append(
                        [(n * gives, n * price) for n in range(1 + (offered.most or 0))]
                    )
            choices.append(lengths)
        enough = [
            sum(cost for _, cost in some)
            for some in product(*choices)
            if sum(gives for gives, _ in some) >= missing
        ]
        return min(enough, default=None)

    def lengths(self, offered: ByLength, missing: int) -> list[tuple[int, int]]:
        """Lengths up to the first that is enough alone."""
        found = []
        for other, sold in self.sales():
            if other is offered and self.usable(offered, sold)[1] > 0:
                found.append(
                    (
                        self.patches(offered.fabric, self.usable(offered, sold)),
                        self.price(offered, sold),
                    )
                )
                if found[-1][0] >= missing:
                    break
        return found

    def price(self, offered: Offered, sold: int) -> int:
        cost = cost_of(offered, sold, self.task.settings.unit)
        assert cost is not None
        return int(cost * 100)


def check_claim(task: Job, claim: Claim) -> None:
    redone = Redone(task, claim)
    if not claim.fabrics:  # no cloth is large enough for it
        assert claim.bought is None
        assert not any(redone.ways.values())
        return
    for asked, row in zip(claim.asked, redone.rows, strict=True):
        assert (asked.name, asked.copies) == (row.name, row.count)
        assert asked.each == redone.each(row)
        assert set(task.allowed(row)) & {
            fabric for fabric, cloth in redone.cloths if redone.serves(fabric, cloth)
        } <= {task.fabrics[f].name for f in claim.fabrics}
    pile = sum(redone.in_piece(p) for p in task.pieces)
    assert (
        claim.pile <= pile if claim.weighed else claim.pile >= pile
    )  # it has at most so much
    missing = sum(row.count * redone.each(row) for row in redone.rows) - claim.pile
    assert redone.cheapest(missing) == (
        None if claim.bought is None else claim.bought.cost
    )


def check_reason(task: Job, bound: Bound) -> str:
    """Work a reason out again; its kind."""
    reason = bound.reason
    if reason.kind == "redone":
        for claim in reason.claims:
            check_claim(task, claim)
        if bound.possible:
            assert sum(claim.cost for claim in reason.claims) == bound.cost
            fabrics = [f for claim in reason.claims for f in claim.fabrics]
            assert len(fabrics) == len(set(fabrics))
    return reason.kind


@pytest.mark.parametrize(
    ("many", "least"), [(6, 2), pytest.param(24, 12, marks=pytest.mark.slow)]
)
def test_what_is_said_forces_the_very_amount(many: int, least: int) -> None:
    kinds = []
    for seed in range(many):
        task = counter(seed)
        bound = purchase_bound(model_of(task))
        kinds.append(check_reason(task, bound))
        assert (kinds[-1] == "nothing") == (bound.possible and bound.cost == 0)
        assert ("no shorter reason" in bound.because) == (kinds[-1] == "weighed")
    assert kinds.count("redone") >= least


def test_a_row_across_the_width() -> None:
    """Four of 10 1/2 in lie on 42 in: 13 take four rows, 42 in; 1 1/8 yd leaves 39 1/2, 1 1/4 yd 44 in."""
    bound = purchase_bound(model_of(job(cut("square", 10.5, 10.5, 13), bolt())))
    assert bound.cost == 1200
    assert bound.because == (
        "13 of square are wanted; on 42 in wide pear at most 4 of 10 1/2 in lie side by side: that is 4 rows of "
        "10 1/2 in, 42 in of length, so 1 1/4 yd, as 1 1/8 yd, the next shorter length on sale, leaves 39 1/2 in"
    )


def test_the_smallest_sale_is_the_reason() -> None:
    """16 square in, and not one of them at hand: the shop sells no less than half a yard, 4.80."""
    bound = purchase_bound(
        model_of(job(cut("square", 4, 4, 1), bolt(smallest=YARD // 2)))
    )
    assert bound.cost == 480
    assert bound.because.endswith(
        f"and the shop sells no less than {format_sale(YARD // 2, 'in')}"
    )


def test_amounts_of_several_fabrics_add_up() -> None:
    """Three of 20 in from pear take two rows, 40 in, 1 1/4 yd; five of 9 in from plum, four side by side, 18 in."""
    cuts = (
        cut("big", 20, 20, 3, fabrics=("pear",)),
        cut("small", 9, 9, 5, fabrics=("plum",)),
    )
    task = job(*cuts, bolt("pear"), bolt("plum"))
    bound = purchase_bound(model_of(task))
    assert bound.cost == 1200 + 600
    assert [claim.cost for claim in bound.reason.claims] in ([1200, 600], [600, 1200])


def test_of_several_on_sale_each_is_told() -> None:
    """Two of 12 in by 16 in, which run along: one lies on a piece of 20 x 18, three on 42 in: 6.00 or 4.80."""
    square = cut("square", 12, 16, 2, grain="along")
    bound = purchase_bound(
        model_of(job(square, bolt(), each("pear", 20, 18, "3.00", most=9)))
    )
    assert bound.cost == 480
    assert bound.because == (
        "2 of square are wanted; on 42 in wide pear at most 3 of 12 in lie side by side, in rows of 16 in; a piece of "
        "pear, 20 in x 18 in, gives at most 1; the cheapest on sale that gives so much is 1/2 yd of pear"
    )


def test_cloth_that_shrinks_is_told_down_to_a_mark_of_a_ruler() -> None:
    """42 in less 5 in 100 are 39.9 in: the mark of 1/16 below it is 39 14/16, three of 10 in lie beside each other."""
    shrinks = Fabric(name="pear", shrink_across=Fraction(5, 100))
    told = because(job(shrinks, bolt("pear"), cut("square", 10, 10, 8)))
    assert "≈" not in told
    assert "on 39 7/8 in wide pear at most 3 of 10 in lie side by side" in told


def test_pieces_are_counted() -> None:
    """A piece of 20 x 18 gives two of 10 x 10, though by area three: five take three pieces."""
    task = job(cut("square", 10, 10, 5), each("pear", 20, 18, "3.00", most=9))
    bound = purchase_bound(model_of(task))
    assert bound.cost == 900
    assert bound.because.endswith(
        "a piece of pear, 20 in x 18 in, gives at most 2, so 3 pieces"
    )


def test_a_fabric_that_is_nowhere_is_named() -> None:
    """The window may come from mist alone, of which there is none; rust of 18 x 30 does not help."""
    mist = Fabric(name="mist")
    rust = piece("rest", 18, 30, fabric="rust")
    window = cut("window", 4.5, 6.5, 4, fabrics=("mist",))
    assert (
        because(job(mist, rust, window))
        == "there is no mist on hand or on sale for 4 of window"
    )
    small = piece("scrap", 4, 6, fabric="mist")
    assert (
        because(job(mist, rust, small, window))
        == "no mist on hand or on sale is large enough for 4 of window"
    )
    either = cut("window", 40, 60, 4)
    assert because(job(mist, rust, small, either)) == (
        "no mist or rust on hand or on sale is large enough for 4 of window"
    )
    kept = piece("scrap", 14, 16, fabric="mist", wish="do not touch")
    assert because(job(mist, rust, kept, window)) == (
        "no mist on hand or on sale that may be cut is large enough for 4 of window"
    )


def because(task: Job) -> str:
    """The reason as it is told."""
    return purchase_bound(model_of(task)).because
