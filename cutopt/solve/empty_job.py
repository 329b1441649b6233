"""A job that wants nothing cut, as one of a finished top that wants a backing: a plan without a cut."""

from __future__ import annotations

from decimal import Decimal

from cutopt.job import Job
from cutopt.plan import Plan, Totals
from cutopt.result import Offer, Result


def nothing_to_cut(job: Job, seed: int) -> Result:
    """A result at once: there is nothing to search for."""
    plan = Plan(job=job.digest, totals=Totals(money=Decimal("0.00")), origin=job)
    offer = Offer(name="thriftiest", plan=plan, minutes=0, spare=0, biggest_spare=0)
    return Result(job=job, offers=(offer,), complete=True, stopped="proved", seed=seed)
