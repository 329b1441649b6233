"""The one public sentence of the solver: `solve(job, stop=..., seed=...) -> Result`."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from decimal import Decimal

import numpy as np

from cutopt.errors import Problem
from cutopt.job import Job
from cutopt.result import Moment, Result, Stopped
from cutopt.solve.arrays import Arrays, Ints, Layout, fits_alone, summed_area, units_of
from cutopt.solve.engine import Engine
from cutopt.solve.model import Model, model_of
from cutopt.solve.offers import WEIGHTS, Candidate, offers_of
from cutopt.solve.progress import Progress, State
from cutopt.solve.stop import Meter, Seconds, Stop

NO_LIMIT = 1 << 58
# shares of the limit at which the phases end: everything placed, money, then one share for each offer
_COMPLETE, _MONEY, _POLISH = 0.2, 0.55, {"thriftiest": 0.75, "keeps the biggest pieces": 0.85, "simplest to cut": 0.95}
_MUST_ONLY = np.array([1, 0, 0, 0, 0, 0, 0, 0, 0], dtype=np.int64)


def solve(job: Job, stop: Stop | None = None, seed: int = 0, progress: Progress | None = None) -> Result:
    """Plan a job.

    Parameters
    ----------
    job : Job
    stop : Seconds or Work, default Seconds(5)
        `Work(n)` gives the same plan for the same seed on any machine.
    seed : int
    progress : Progress, optional

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
        raise Problem("seed", f'"{seed}" is not a whole number from 0', "write one such as 0 or 7")
    return Run(job, stop or Seconds(5), seed, progress or Progress()).result()
