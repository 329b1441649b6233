"""Some of the random jobs of `many_jobs.py`: those that once had a fault, and a few of each kind."""

from __future__ import annotations

import pytest

from tests.solve.many_jobs import judged

ONCE_AT_FAULT = {
    33: "narrower cloth, of which one fabric has no price",
    104: "none of a strip can be cut",
    128: "none of two strips can be cut",
    182: "cloth was bought for a strip that was not cut",
}


@pytest.mark.parametrize("seed", [*ONCE_AT_FAULT, 0, 1, 2, 20, 50])
def test_all_that_is_said_of_a_job_holds(seed: int) -> None:
    assert judged(seed, 200).faults == ()
