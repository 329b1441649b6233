"""What a short search still finds room for, with nothing more bought, becomes the plan and is no advice."""

from __future__ import annotations

from decimal import Decimal

import pytest

from cutopt.check import check
from cutopt.job import Job
from cutopt.lengths import YARD
from cutopt.solve.control.progress import Progress
from cutopt.solve.control.stop import Work
from cutopt.solve.cuts.offers import THRIFTIEST
from cutopt.solve.run import Run
from tests.solve.small import bolt, cut, job, piece


@pytest.mark.parametrize(
    "task",
    [
        job(piece("p", 11, 11), cut("square", 5, 5, 4)),
        job(piece("p", 11, 11), cut("square", 5, 5, 2), cut("slat", 5, 4, 2)),
        job(piece("p", 11, 11), cut("square", 5, 5, 4, importance="nice")),
    ],
)
def test_room_that_was_overlooked_is_used(task: Job) -> None:
    """Two by two of 5 in on 11 x 11 (identity). The search is made to end with nothing placed at all."""
    run = Run(task, Work(300), 0, Progress())
    try:
        run._search()
        run.engine.best = run.engine.nothing()
        run.best_layouts = {THRIFTIEST: run.engine.layout()}
        result = run._finish()
    finally:
        run.engine.close()
        run.feed.close()
    assert check(task, result.plan) == []
    assert result.plan.short == ()
    assert result.complete


def test_some_more_where_not_all_can_be_had() -> None:
    """Of nine squares of 5 in at most four may come from a fabric, and there is one: four lie on 11 x 11 (identity)."""
    task = job(
        piece("p", 11, 11), cut("square", 5, 5, 9, most_each=4, importance="nice")
    )
    run = Run(task, Work(300), 0, Progress())
    try:
        run._search()
        run.engine.best = run.engine.nothing()
        run.best_layouts = {THRIFTIEST: run.engine.layout()}
        result = run._finish()
    finally:
        run.engine.close()
        run.feed.close()
    assert check(task, result.plan) == []
    assert [short.count for short in result.plan.short] == [5]


def test_what_the_shop_sells_for_what_must_be_cut_is_bought_and_no_advice() -> None:
    """Four squares of 5 in on 20 x 5 less 1/4 in all round hold three: one more takes 6 in of the bolt, 1/4 yd: 2.40."""
    task = job(piece("p", 16, 5.5), bolt(smallest=YARD // 4), cut("square", 5, 5, 4))
    run = Run(task, Work(300), 0, Progress())
    try:
        run._search()
        run.engine.best = run.engine.nothing()
        run.best_layouts = {THRIFTIEST: run.engine.layout()}
        result = run._finish()
    finally:
        run.engine.close()
        run.feed.close()
    assert check(task, result.plan) == []
    assert result.plan.short == ()
    assert result.plan.totals.money == Decimal("2.40")
