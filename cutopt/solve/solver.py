"""The one public sentence of the solver: `solve(job, stop=..., seed=...) -> Result`."""

from __future__ import annotations

from cutopt.errors import Problem
from cutopt.job import Job
from cutopt.result import Result
from cutopt.solve.context import stop_all
from cutopt.solve.control.progress import Progress
from cutopt.solve.control.stop import Seconds, Stop
from cutopt.solve.empty_job import nothing_to_cut
from cutopt.solve.piecing.solver import PiecedRun
from cutopt.solve.run import Run

__all__ = ["solve", "stop_all"]


def solve(
    job: Job,
    stop: Stop | None = None,
    seed: int = 0,
    progress: Progress | None = None,
    *,
    offers: bool = True,
) -> Result:
    """Plan a job.

    Parameters
    ----------
    job : Job
    stop : Seconds or Work, default Seconds(5)
        `Work(n)` gives the same plan for the same seed on any machine.
    seed : int
    progress : Progress, optional
    offers : bool
        Without offers the whole limit goes into the least money, and only the thriftiest plan is shown.

    Returns
    -------
    Result
        Its first offer is the thriftiest plan met. An interrupt (Ctrl-C, or :func:`stop_all` from another
        thread) returns the best so far.

    Raises
    ------
    Problem
        For a stop or seed that makes no sense.
    """
    if not isinstance(seed, int) or not 0 <= seed < 2**31:
        raise Problem(
            "seed", f'"{seed}" is not a whole number from 0', "write one such as 0 or 7"
        )
    if job.backs:
        run: Run | PiecedRun = PiecedRun(
            job, stop or Seconds(5), seed, progress or Progress(), offers=offers
        )
        return run.result()
    if not job.wanted:
        return nothing_to_cut(job, seed)
    run = Run(job, stop or Seconds(5), seed, progress or Progress(), offers=offers)
    return run.result()
