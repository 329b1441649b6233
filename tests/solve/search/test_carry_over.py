"""A plan carried over to a job that differs a little: nothing may be missing there, before any search."""

from __future__ import annotations

import pytest

from cutopt.solve.control.progress import Progress
from cutopt.solve.control.stop import Purse, Work
from cutopt.solve.cuts.offers import THRIFTIEST
from cutopt.solve.explain.changed_jobs import Mend
from cutopt.solve.explain.trials import OnSale, Trials
from cutopt.solve.explain.what_if import Answer, what_if
from cutopt.solve.run import Run
from cutopt.solve.search.engine import Engine
from tests.solve.generate import generated
from tests.solve.small import lengths_of
from tests.thinned import mostly_slow


def trials_of(seed: int) -> Trials:
    """Trials for the plan of a job of which nothing that must be cut is short."""
    run = Run(generated(seed), Work(3_000), 0, Progress())
    assert run.result().complete
    layout = run.best_layouts[THRIFTIEST]
    lacking = {
        run.model.items[u.item].row.key: n
        for u, n in zip(run.units, layout.missing, strict=True)
        if n
    }
    return Trials(run, layout, lacking, Purse(0), buys=False)


def begun(trials: Trials, shop: OnSale) -> Answer:
    """What is there before the first round of a search with this on sale."""
    job = trials._job(
        Mend(said="", job=trials.run.job, whole=frozenset()),
        [offered for _, offered in shop],
    )
    places = [place for place, _ in shop]

    def begin(engine: Engine) -> None:
        trials._begin(engine, trials.now, places)
        assert engine.missing() == 0

    assert job is not None
    return what_if(trials.run, job, Work(1), begin, enough=trials.layout.cost)


@pytest.mark.parametrize("seed", mostly_slow([0, 4, 9, 24, 28], {0}))
def test_what_a_plan_cuts_lies_in_the_other_job_as_well(seed: int) -> None:
    """All 50 to 200 parts have their place before the first round, on cloth of the pile and on what is bought."""
    trials = trials_of(seed)
    answer = begun(trials, trials.bought(trials.run.job))
    assert answer.complete
    assert answer.plan is not None
    assert answer.plan.totals.bought == trials.buys_now


def test_a_length_that_grows_is_bought_at_once() -> None:
    """The shop sells at least a step more of what the plan buys: what lies on the old length lies on the new one."""
    trials = trials_of(0)
    shop = trials.run.job.shop
    grown = next(place for place in trials.now.places if trials.now.amount(place) > 100)
    longer = [
        (place, shop[place] if place == grown else limited)
        for place, limited in trials.bought(trials.run.job)
    ]
    answer = begun(trials, longer)
    assert answer.complete
    assert answer.plan is not None
    assert lengths_of(answer.plan)[shop[grown].fabric] >= trials.now.amount(grown)
