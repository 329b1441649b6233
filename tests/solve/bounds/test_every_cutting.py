"""Bounds against every cutting of small irregular pieces: none may be below what comes of one (`every_cutting.py`)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product

import numpy as np
import pytest

from cutopt.cloth import cloth_of_piece
from cutopt.fabric import ByLength, ByPiece, Offered
from cutopt.solve.bounds.claims import Claims
from cutopt.solve.bounds.large_parts import share_arguments
from cutopt.solve.bounds.limited_copies import coarse, limited_value
from cutopt.solve.bounds.most_of_a_row import least_left_out
from cutopt.solve.bounds.plain_arguments import plain_arguments
from cutopt.solve.bounds.pricing import plain_value
from cutopt.solve.bounds.purchase_bound import purchase_bound
from cutopt.solve.bounds.relaxed import Relaxed, RelaxedCloth, relaxed
from cutopt.solve.bounds.windows import (
    FINE_CELLS,
    MOST_CELLS,
    Scratch,
    WindowTable,
    touched_cells,
)
from cutopt.solve.model.from_job import model_of
from tests.solve.bounds.every_cutting import Counts, Drawn, Every, connected, rectangle
from tests.thinned import mostly_slow


def dearest(found: set[Counts], prices: list[int]) -> int:
    return max(
        sum(count * price for count, price in zip(counts, prices, strict=True))
        for counts in found
    )


# -- a piece ---------------------------------------------------------------------------------------


def test_the_search_itself() -> None:
    """A T: the bar of 4 x 2 gives two squares of 2 x 2, the foot one; 3 x 3 without a corner gives two of 1 x 3."""
    tee = frozenset({*product(range(4), range(2, 4)), *product(range(1, 3), range(2))})
    assert Every([(2, 2, False)], (9,)).of(tee) == {(3,)}
    ell = rectangle(3, 3) - {(2, 2)}
    assert Every([(1, 3, True)], (9,)).of(ell) == {(2,)}
    assert Every([(1, 3, False)], (9,)).of(ell) == {(2,)}
    # the pinwheel: four of 1 x 2 round the middle of 3 x 3 are not to be had by cuts from edge to edge
    assert Every([(1, 2, True), (1, 1, False)], (4, 1)).of(rectangle(3, 3)) == {
        (4, 1)
    }  # but others are
    assert len(connected(rectangle(3, 1) - {(1, 0)})) == 2


@pytest.mark.parametrize("seed", mostly_slow(range(60), range(12)))
def test_no_value_is_below_a_cutting(seed: int) -> None:
    drawn = Drawn(seed)
    problem = relaxed(model_of(drawn.job((30, 30))))
    for source in problem.pile:
        found = drawn.able(0, (30, 30))
        for _ in range(4):
            prices = [drawn.random.randint(0, 9) for _ in problem.needs]
            least = dearest(found, prices)
            assert plain_value(problem, prices, source) >= least
            for table in windows(problem, source):
                assert table.fill(prices) >= least


def windows(problem: Relaxed, source: RelaxedCloth) -> Iterator[WindowTable]:
    """Tables on lines that fall on the corners of the piece, and on so few that most do not."""
    for most_cells in (
        (3, 4, 5, MOST_CELLS, FINE_CELLS) if source.cloth is not None else ()
    ):
        try:
            yield WindowTable(problem, source, Scratch(), most_cells)
        except ValueError:
            assert most_cells < MOST_CELLS


@pytest.mark.parametrize("many", mostly_slow([10, 40], {10}))
def test_windows_are_tight_on_most(many: int) -> None:
    """Without margins and on their own unit: weak bounds are noticed too."""
    tight = 0
    for seed in range(many):
        drawn = Drawn(seed, spoilt=False)
        problem = relaxed(model_of(drawn.job((30, 30))))
        (source,) = problem.pile
        prices = [drawn.random.randint(1, 9) for _ in problem.needs]
        table = WindowTable(problem, source, Scratch(), FINE_CELLS)
        tight += table.fill(prices) == dearest(drawn.able(0, (30, 30)), prices)
        counts = table.counts()
        assert sum(prices[k] * amount for k, amount in counts.items()) == table.fill(
            prices
        )
    assert tight >= 0.95 * many


@pytest.mark.parametrize("seed", range(40))
def test_cells_that_usable_cloth_touches(seed: int) -> None:
    """Whatever the lines: a cell in which usable cloth lies counts; on the lines of an unspoilt piece no other does."""
    drawn = Drawn(seed)
    heights = drawn.piles[0]
    cloth = cloth_of_piece(drawn.piece(0), drawn.job((1, 1)).settings)
    usable = drawn.cells(heights) - drawn.spoilt(heights)
    u = drawn.unit
    xs, ys = (
        np.array(sorted(drawn.random.sample(range(-u, 9 * u), 9)), dtype=np.int64)
        for _ in range(2)
    )
    touched = touched_cells(cloth, xs, ys)
    for i, j in product(range(8), repeat=2):
        met = any(
            xs[i] < (x + 1) * u
            and x * u < xs[i + 1]
            and ys[j] < (y + 1) * u
            and y * u < ys[j + 1]
            for x, y in usable
        )
        assert touched[i, j] or not met
    if drawn.kind in ("true", "flaw"):
        whole = touched_cells(cloth, *(u * np.arange(9, dtype=np.int64),) * 2)
        assert {(i, j) for i, j in np.argwhere(whole).tolist()} == usable


# -- what is left out ------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(60))
def test_never_said_to_be_left_out_what_could_be_cut(seed: int) -> None:
    drawn = Drawn(seed, pieces=2)
    offered = ByPiece(
        fabric="oat", each_width=3 * drawn.unit, each_length=4 * drawn.unit, most=3
    )
    wanted = drawn.random.randint(4, 20)
    model = model_of(drawn.job((wanted, 2), (offered,), "nice"))
    every = Every(drawn.sizes[:1], (wanted,))
    own = [{counts[:1] for counts in drawn.able(k, (wanted, 0))} for k in range(2)]
    for bought in range(5):  # three are on sale
        copies = [every.of(rectangle(3, 4))] * min(bought, 3)
        most = max(every.together([*own, *copies]))[0]
        least = least_left_out(model, model.items[0], bought * 4 * drawn.unit)
        assert least <= wanted - most
        assert least == wanted - most or drawn.kind in (
            "raw",
            "about",
        )  # no weak bound where nothing is lost at edges


@pytest.mark.parametrize("seed", range(30))
def test_exact_on_rectangles(seed: int) -> None:
    drawn = Drawn(seed, pieces=2, spoilt=False, rectangles=True)
    longest = ByLength(
        fabric="oat",
        usable_width=5 * drawn.unit,
        sold_by=drawn.unit,
        most=7 * drawn.unit,
    )
    model = model_of(drawn.job((99, 1), (longest,), "nice"))
    every = Every(drawn.sizes[:1], (99,))
    own = [every.of(drawn.cells(heights)) for heights in drawn.piles]
    for length in (0, 1, 4, 7, 9):
        roll = [every.of(rectangle(5, min(length, 7)))] if length else []
        most = max(every.together([*own, *roll]))[0]
        assert least_left_out(model, model.items[0], length * drawn.unit) == 99 - most


# -- what must be bought ---------------------------------------------------------------------------


def least_bought(
    drawn: Drawn, counts: Counts, sold: Iterable[tuple[int, set[Counts]]]
) -> int | None:
    """The least of the costs with which the pile and what is sold give all; None where nothing does."""
    every = Every(drawn.sizes, counts)
    own = every.together(drawn.able(k, counts) for k in range(len(drawn.piles)))
    return min(
        (cost for cost, more in sold if counts in every.together([own, more])),
        default=None,
    )


@pytest.mark.parametrize("many", mostly_slow([10, 50], {10}))
@pytest.mark.parametrize("by", ["length", "piece"])
def test_no_purchase_bound_is_above_a_plan(by: str, many: int) -> None:
    tight = 0
    for seed in range(many):
        drawn = Drawn(seed, pieces=2)
        counts = drawn.random.randint(1, 4), drawn.random.randint(1, 4)
        u = drawn.unit
        every = Every(drawn.sizes, counts)
        if by == "length":
            shop: tuple[Offered, ...] = (
                ByLength(fabric="oat", usable_width=4 * u, sold_by=u),
            )
            sold = [
                (n, every.of(rectangle(4, n))) for n in range(1, 25)
            ]  # one above the other
        else:
            shop = (ByPiece(fabric="oat", each_width=3 * u, each_length=4 * u),)
            sold = [
                (4 * n, every.together([every.of(rectangle(3, 4))] * n))
                for n in range(1, 9)
            ]
        least = least_bought(drawn, counts, [(0, {(0, 0)}), *sold])
        assert least is not None
        bound = purchase_bound(model_of(drawn.job(counts, shop)))
        assert bound.possible
        assert bound.cost <= least * u, seed
        assert all(claim.cost <= least * u for claim in bound.claims), seed
        tight += bound.cost == least * u
    assert tight >= 0.8 * many


@pytest.mark.parametrize("many", mostly_slow([10, 40], {10}))
def test_each_argument_allows_every_purchase_that_is_enough(many: int) -> None:
    """By area, by number and by shares, of sheets and of a length, without a pile."""
    kinds: dict[str, int] = {}
    for seed in range(many):
        drawn = Drawn(seed, pieces=0)
        u = drawn.unit
        counts = (drawn.random.randint(1, 6), drawn.random.randint(1, 6))

        w = drawn.random.randint(3, 5)
        l = drawn.random.randint(3, 6)
        sheet = ByPiece(fabric="oat", each_width=w * u, each_length=l * u, most=4)
        roll = ByLength(fabric="oat", usable_width=w * u, sold_by=u, most=6 * u)
        problem = relaxed(model_of(drawn.job(counts, (sheet, roll))))
        every = Every(drawn.sizes, counts)
        enough = [
            (many, length)
            for many, length in product(range(5), range(7))
            if counts
            in every.together(
                [*[every.of(rectangle(w, l))] * many, every.of(rectangle(w, length))]
            )
        ]
        redone = [
            claim.argument(problem)
            for claim in (*Claims(problem).strongest(), *Claims(problem).without_pile())
        ]
        for argument in (*plain_arguments(problem), *share_arguments(problem), *redone):
            kinds[argument.kind] = kinds.get(argument.kind, 0) + 1
            worth = {
                source.sold // u: value
                for source, value in zip(problem.shop, argument.values, strict=True)
            }
            for many, length in enough:
                first, *_ = argument.values
                assert (
                    many * first + (worth[length] if length else 0) >= argument.missing
                ), (seed, argument.kind)
    assert min(kinds[kind] for kind in ("area", "count", "shares", "redone")) >= many


@pytest.mark.parametrize("seed", range(40))
def test_the_worth_of_a_sheet_within_what_is_wanted(seed: int) -> None:
    drawn = Drawn(seed, pieces=0)
    rnd = drawn.random
    u = drawn.unit

    counts = (rnd.randint(1, 5), rnd.randint(1, 5))
    w = rnd.randint(3, 5)
    l = rnd.randint(3, 6)
    problem = relaxed(
        model_of(
            drawn.job(
                counts, (ByPiece(fabric="oat", each_width=w * u, each_length=l * u),)
            )
        )
    )
    prices = coarse(
        problem, [rnd.randint(1, 9) * need.weight // 9 for need in problem.needs]
    )
    best = dearest(Every(drawn.sizes, counts).of(rectangle(w, l)), prices)
    value, parts, _ = limited_value(problem, prices, problem.shop[0])
    assert value == best == sum(prices[k] * amount for k, amount in parts.items())
    assert plain_value(problem, prices, problem.shop[0]) >= best
