"""Which rows a plan cuts from several fabrics, and how much from each: nobody should find that out at the machine."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from cutopt.cloth import laid
from cutopt.job import Job
from cutopt.lengths import so_many
from cutopt.plan import Plan
from cutopt.wanted import Cut, Wanted


def mixtures(job: Job, plan: Plan) -> Iterator[str]:
    """A sentence for each strip, and each row of several fabrics by name, that comes from more than one fabric.

    Of rows of any fabric, or of all with one tag, patches are meant to be mixed: of these nothing is said.
    """
    there = laid(job, plan)
    fabric_of = {use.part: there.cloth(use.part).fabric for use in plan.uses}
    for row in job.wanted:
        if isinstance(row, Cut) and len(row.fabrics) < 2:
            continue
        found = Counter(fabric_of[use.part] for use in plan.uses if use.for_ == row.key)
        if len(found) > 1:
            if row.fabrics:
                named = f"{row.name} ({'|'.join(row.fabrics)})"
            else:
                named = row.name
            yield f"{named} is cut from {so_many(len(found), 'fabric')}: {_shares(row, plan, fabric_of, found)}."


def _shares(
    row: Wanted, plan: Plan, fabric_of: dict[str, str], found: Counter[str]
) -> str:
    """``8 segments of moss, 5 of rust``; whole strips where each is of one fabric."""
    if isinstance(row, Cut):
        return _listed(found, "")
    strips = [
        {fabric_of[name] for name in join.segments}
        for join in plan.joins
        if join.for_ == row.key
    ]
    if any(len(fabrics) > 1 for fabrics in strips):
        return _listed(found, "segment")
    return _listed(Counter(fabric for fabrics in strips for fabric in fabrics), "strip")


def _listed(found: Counter[str], noun: str) -> str:
    """How many of each fabric, the most first; the noun stands once."""
    (first, count), *others = found.most_common()
    if noun:
        told = so_many(count, noun)
    else:
        told = str(count)
    return ", ".join(
        (f"{told} of {first}", *(f"{more} of {fabric}" for fabric, more in others))
    )


__all__ = ["mixtures"]
