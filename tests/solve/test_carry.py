"""A plan carried over to a job that has what it buys on hand: nothing may be missing there, before any search."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from cutopt.solve.buymore import _Had
from cutopt.solve.carry import Carried
from cutopt.solve.engine import Engine
from cutopt.solve.offers import THRIFTIEST
from cutopt.solve.progress import Progress
from cutopt.solve.solver import Run
from cutopt.solve.stop import Purse, Work
from cutopt.solve.whatif import what_if
from tests.solve.generate import generated


def begun(carried: Carried) -> Callable[[Engine], None]:
    """Begin a search with it, and see that nothing that must be cut is missing then."""

    def begin(engine: Engine) -> None:
        carried.begin(engine)
        assert engine.missing() == 0

    return begin


@pytest.mark.parametrize("seed", [0, 4, 9, 24, 28])
def test_what_a_plan_cuts_lies_in_the_other_job_as_well(seed: int) -> None:
    """All 50 to 200 parts have their place before the first round."""
    run = Run(generated(seed), Work(3_000), 0, Progress())
    assert run.result().complete
    layout = run.best_layouts[THRIFTIEST]
    lacking = {run.model.items[u.item].row.key: n for u, n in zip(run.units, layout.missing, strict=True) if n}
    row = next(row for row in run.job.wanted if row.importance == "must")
    had = _Had(run, layout, row, lacking, Purse(0))
    task = had._job()
    assert task.shop == ()
    begin = begun(Carried(model=run.model, layout=layout, becomes=had._becomes(None)))
    assert what_if(run, task, Work(1), begin).complete


def test_a_length_that_grows_is_bought_at_once() -> None:
    """The plan's length is left out and a longer one is on sale: what lies on the old one lies on the new one."""
    run = Run(generated(0), Work(3_000), 0, Progress())
    assert run.result().complete
    layout = run.best_layouts[THRIFTIEST]
    grown = next(sheet.offered for p in layout.purchases if (sheet := run.model.sheets[p.sheet]).ladder)
    row = next(row for row in run.job.wanted if row.importance == "must")
    lacking = {run.model.items[u.item].row.key: n for u, n in zip(run.units, layout.missing, strict=True) if n}
    had = _Had(run, layout, row, lacking, Purse(0))
    begin = begun(Carried(model=run.model, layout=layout, becomes=had._becomes(grown)))
    answer = what_if(run, had._job(grown, grown=grown), Work(1), begin)
    assert answer.complete
    assert [answer.model.sheets[p.sheet].offered for p in answer.layout.purchases] == [grown]
