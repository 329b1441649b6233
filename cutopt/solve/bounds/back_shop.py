"""What may be bought for a back: the sources of :mod:`cutopt.solve.bounds.cheapest_purchase`, made of the shop of a job."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from cutopt.cloth import Cloth, cloth_of_each, cloth_of_length
from cutopt.fabric import ByLength
from cutopt.job import Job
from cutopt.solve.bounds.relaxed import RelaxedCloth, usable_box
from cutopt.solve.model.from_job import unit_cost

# ticks; where so much is of no use, more of it is not either
_TOO_LONG = 1 << 26


def sources_of(
    job: Job,
    number: int,
    value: Callable[[RelaxedCloth], int],
    missing: int,
    known: Sequence[RelaxedCloth] = (),
) -> Iterator[RelaxedCloth]:
    """One thing that the shop sells, by length all that is sold up to what alone is enough.

    Parameters
    ----------
    job : Job
    number : int
        Its place in the shop of the job; sources have it as `offer`.
    value : callable
        What a source is worth; the more of it the more.
    missing : int
        So much is enough.
    known : sequence of RelaxedCloth
        The same as it is sold for something else: no less of it is needed than that.
    """
    longest = max((source.sold for source in known), default=0)
    copies = max((source.copies for source in known), default=0)
    offered = job.shop[number]
    fabric = job.fabric(offered.fabric)
    if not isinstance(offered, ByLength):
        cloth = cloth_of_each(fabric, offered.each_width, offered.each_length)
        one = _source(job, number, cloth, 1)
        pieces = -(-missing // max(value(one), 1))
        copies = offered.most or max(pieces + copies, 1)
        yield _source(job, number, cloth, copies)
        return
    steps = max(1, -(-offered.smallest // offered.sold_by))
    while offered.most is None or steps * offered.sold_by <= offered.most:
        sold = steps * offered.sold_by
        cloth = cloth_of_length(fabric, offered.usable_width, sold, job.settings)
        source = _source(job, number, cloth, 1, sold)
        yield source
        enough = value(source) >= missing or sold > _TOO_LONG
        if enough and sold >= longest:
            return
        steps = steps + 1


def _source(
    job: Job, number: int, cloth: Cloth, copies: int, sold: int = 0
) -> RelaxedCloth:
    offered = job.shop[number]
    names = [fabric.name for fabric in job.fabrics]
    width, length = usable_box(cloth)
    if isinstance(offered, ByLength):
        of_fabric = names.index(offered.fabric)
        size = sold
    else:
        of_fabric = -1
        size = offered.each_length
    priced = all(each.price is not None for each in job.shop)
    return RelaxedCloth(
        sheet=number,
        ways=0,
        w=width,
        l=length,
        copies=copies,
        cost=unit_cost(job, offered, size, priced),
        offer=number,
        exclusive=of_fabric,
        sold=sold,
    )
