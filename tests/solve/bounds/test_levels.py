"""Levels of plans that are short: what every plan lacks, and what plans cost that lack no more. Worked out by hand."""

from __future__ import annotations

from itertools import product

import pytest

from cutopt.fabric import ByPiece, Fabric
from cutopt.lengths import YARD
from cutopt.plan import Level
from cutopt.result import Result
from cutopt.solve.bounds.most_of_a_row import least_cost, least_short, most_cut
from cutopt.solve.bounds.purchase_bound import purchase_bound
from cutopt.solve.model.from_job import model_of
from cutopt.wanted import Strip
from tests.solve.bounds.every_cutting import Drawn, Every, rectangle
from tests.solve.small import bolt, cut, inch, job, piece, solved
from tests.thinned import mostly_slow


def level(result: Result, name: str) -> Level:
    return next(level for level in result.levels if level.name == name)


def test_a_row_that_must_be_cut_is_proved_short() -> None:
    """Two by two of 5 in on 11 x 11 (identity): of five one is short in every plan, and nothing is on sale."""
    task = job(piece("p", 11, 11), cut("square", 5, 5, 5))
    result = solved(task)
    assert level(result, "short of what must be cut") == Level(
        name="short of what must be cut", value="1", bound="1", proved=True
    )
    assert level(result, "money").proved
    assert most_cut(model_of(task), model_of(task).items[0]) == 4
    assert result.plan.short[0].why.startswith(
        "at most 4 of the 5 can be cut, even if nothing else is: on the pear"
    )


def test_rows_are_short_together() -> None:
    """7 in beside 5 in is 12 in, on 11 x 11: either alone has room, so that one of the three is short at least."""
    result = solved(job(piece("p", 11, 11), cut("tall", 7, 7), cut("square", 5, 5, 2)))
    assert level(result, "short of what must be cut").bound == "1"


def test_a_whole_plan_has_no_such_level() -> None:
    result = solved(job(piece("p", 11, 11), cut("square", 5, 5, 4)))
    assert [level.name for level in result.levels] == ["money", "cuts"]


def test_money_of_plans_that_lack_no_more() -> None:
    """21 x 21 gives four of 10 in, a length of at most 3/8 yd (13 1/2 in, 1/2 in off at each end) four more of nine.

    A row of 10 in with its ends takes 11 in: 1/4 yd is 9 in, so the eight that can be cut cost 3/8 yd, 3.60.
    """
    task = job(piece("p", 21, 21), bolt(most=3 * YARD // 8), cut("square", 10, 10, 9))
    result = solved(task)
    assert level(result, "short of what must be cut").proved
    assert level(result, "money") == Level(
        name="money", value="3.60", bound="3.60", proved=True
    )
    bound = purchase_bound(model_of(task))
    assert bound.problem is not None
    assert [
        least_cost(model_of(task), bound.problem, bound.arguments, short)
        for short in (1, 5)
    ] == [360, 0]


def test_what_is_short_in_any_plan_makes_nothing_else_cheaper() -> None:
    """A binding of 260 in, 2 1/2 in wide, of strips of 42 in that lose 2 1/2 in with each join (identity).

    Six come to 6 x 42 - 5 x 2 1/2 = 239 1/2 in, so there are seven: 17 1/2 in and 1 in for the ends, 5/8 yd, 6.00. The
    window is of a fabric that is nowhere, and short in every plan.
    """
    sky = Fabric(name="sky")
    binding = Strip(
        name="binding",
        width=inch(2.5),
        total_length=inch(260),
        join="diagonal",
        shortest=inch(6),
        fabrics=("pear",),
    )
    result = solved(job(sky, bolt(), cut("window", 6, 8, fabrics=("sky",)), binding))
    assert level(result, "short of what must be cut").proved
    assert level(result, "money") == Level(
        name="money", value="6.00", bound="6.00", proved=True
    )


def test_whole_strips_are_counted() -> None:
    """Two strips of 2 x 40 joined straight (a seam of 1/4 in loses 1/2 in): 2 x 60 gives one."""
    strip = Strip(
        name="edge",
        width=inch(2),
        total_length=inch(40),
        count=2,
        shortest=inch(5),
        join="straight",
    )
    result = solved(job(piece("p", 2, 60), strips=(strip,)))
    assert level(result, "short of what must be cut") == Level(
        name="short of what must be cut", value="1", bound="1", proved=True
    )


def test_a_limit_from_each_fabric_is_counted() -> None:
    """At most three from each of two fabrics: of eight two are short."""
    task = job(
        bolt("pear"),
        bolt("plum"),
        cut("square", 10, 10, 8, fabrics=("pear", "plum"), most_each=3),
    )
    assert level(solved(task), "short of what must be cut").bound == "2"


@pytest.mark.parametrize("part", mostly_slow(range(4), {0}))
def test_no_level_is_better_than_every_cutting(part: int) -> None:
    """What is short at least, and what it costs at least to be short of no more: all cuttings are tried."""
    tight = 0
    for seed in range(100 + 12 * part, 112 + 12 * part):
        drawn = Drawn(seed, pieces=1)
        counts = drawn.random.randint(3, 9), drawn.random.randint(1, 5)
        every = Every(drawn.sizes, counts)
        u = drawn.unit
        on_sale = drawn.random.randint(0, 2)
        each = ByPiece(
            fabric="oat", each_width=3 * u, each_length=4 * u, most=max(on_sale, 1)
        )
        model = model_of(drawn.job(counts, (each,) if on_sale else ()))
        bound = purchase_bound(model)
        own = drawn.able(0, counts)
        copies = [
            every.together([own, *[every.of(rectangle(3, 4))] * bought])
            for bought in range(on_sale + 1)
        ]
        lacks = [min(sum(counts) - sum(found) for found in some) for some in copies]
        least = least_short(model, bound.problem, bound.arguments)
        assert least <= lacks[-1], seed
        tight += least == lacks[-1]
        for short, bought in product(range(max(lacks) + 1), range(on_sale + 1)):
            if lacks[bought] <= short and bound.problem is not None:
                assert (
                    least_cost(model, bound.problem, bound.arguments, short)
                    <= bought * 4 * u
                ), seed
    assert tight >= 6


def test_one_lack_has_one_sum_the_sharper_one() -> None:
    """Of 5 x 3 lie three on 8 x 8: cuts go from edge to edge, 5 + 3 across and 2 x 3 + 2 along leave 5 x 2 and 3 x 3.

    In patches the pile has room for more of them, which is true and weaker; only the three are told (identity).
    """
    result = solved(job(piece("rest", 8, 8), cut("slat", 5, 3, 5)), 300)
    three = "the pile gives at most 3 however it is cut, so 2 are missing"
    assert three in result.because
    assert result.plan.short[0].why.startswith("at most 3 of the 5 can be cut")
    plain = purchase_bound(model_of(result.job)).because
    assert "2 are missing" not in plain
