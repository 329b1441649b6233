"""What a rule costs is told where it costs something; a better plan that keeps it all the same is the plan."""

from __future__ import annotations

from cutopt.check import check
from cutopt.lengths import YARD
from cutopt.solve.control.progress import Progress
from cutopt.solve.control.stop import Work
from cutopt.solve.cuts.offers import THRIFTIEST
from cutopt.solve.finish import finish
from cutopt.solve.kernels import state as k
from cutopt.solve.kernels.buying import grow
from cutopt.solve.run import Run
from tests.solve.small import bolt, cut, job, lengths_of


def test_a_better_plan_found_without_a_rule_that_keeps_it_is_the_plan() -> None:
    """Eight squares of 5 in from 42 in across are one row: 5 in and an inch at the ends, 1/4 yd, whatever the grain.

    The run is made to end with 3/8 yd: then it is no rule that costs 1.20.
    """
    task = job(bolt(), cut("square", 5, 5, 8, grain="along"))
    run = Run(task, Work(200), 0, Progress())
    assert lengths_of(run.result().plan) == {"pear": YARD // 4}
    engine = run.engine
    rung = int(engine.best.inst[0, k.RUNG]) + 1
    grow(engine.arrays.problem, engine.best, 0, rung)
    run.best_layouts = {THRIFTIEST: engine.layout()}
    assert run.best_layouts[THRIFTIEST].purchases[0].rung == rung
    result = finish(run)
    assert lengths_of(result.plan) == {"pear": YARD // 4}
    assert check(task, result.plan) == []
    assert result.rules == ()
