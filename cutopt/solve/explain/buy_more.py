"""What must be bought besides what a plan buys, so that a row that is short is there too.

Every purchase is one that the shop's table offers, and a short search has found a plan with it: all that the plan
gives, what it lacks of the one row, and no cloth but the pile, what the plan buys and this.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import islice
from typing import Final

import numpy as np

from cutopt.fabric import USABLE_WIDTH, ByLength, ByPiece, Offered
from cutopt.job import Job, cost_of
from cutopt.lengths import METRE, YARD, format_length, format_sale, up_to
from cutopt.plan import Plan
from cutopt.result import Evidence
from cutopt.settings import Unit
from cutopt.solve.explain.changed_jobs import (
    Mend,
    changed,
    changed_row,
    valid,
    with_row,
)
from cutopt.solve.explain.found import Found
from cutopt.solve.explain.trials import OnSale, Trials, listed
from cutopt.solve.search.carry_over import Carried
from cutopt.wanted import Wanted

_MOST_TOLD: Final = 2
# usual (common practice, no source)
STEPS: Final = {
    "in": (YARD // 8, YARD // 4),
    "cm": (METRE // 10, METRE // 4),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _More:
    """So much of one row of the shop, `before` of it bought by the plan already: ticks, or pieces.

    `also` says that the plan buys something, be it of this row or not; `spared` are words for what is bought no more
    of other rows. `found` is what a search for `mend` has found with it, of which no plan is made yet.
    """

    offered: Offered
    before: int
    amount: int
    mend: Mend
    found: Found
    also: bool
    spared: tuple[str, ...]

    @property
    def job(self) -> Job:
        """The maker's job with it on sale."""
        return self.mend.job

    @property
    def unit(self) -> Unit:
        """Inches or centimetres."""
        return self.job.settings.unit

    def cost(self, unit: Unit) -> Decimal | None:
        """What it costs besides what the plan pays; None without a price."""
        if isinstance(self.offered, ByPiece):
            each = cost_of(self.offered, 0, unit)
            return None if each is None else each * self.amount
        whole, paid = (
            cost_of(self.offered, ticks, unit)
            for ticks in (self.before + self.amount, self.before)
        )
        return None if whole is None or paid is None else whole - paid


def purchase_mends(trials: Trials, row: Wanted, searches: int) -> list[Evidence]:
    """Up to two purchases that would do, the cheapest first; at most `searches` rows of the shop are tried.

    The purse of the trials pays for the searches; what it cannot pay for is not told.

    Parameters
    ----------
    trials : Trials
    row : Cut or Strip
    searches : int
    """
    shop = _Shop(trials, row)
    job = trials.run.job
    places = shop.places()[:searches]
    # for what must be cut a plan buys whatever is on sale: that is no advice
    offered = [] if row.importance == "must" else places
    able = _cheapest_first(job, (shop.least(place) for place in offered))
    told = list(islice(_all_told(trials, able), _MOST_TOLD))
    if told:
        return told
    limited = [place for place in places if job.shop[place].most is not None]
    beyond = _cheapest_first(job, (shop.least(place, beyond=True) for place in limited))
    told = list(islice(_all_told(trials, beyond, _is_beyond), 1))
    if told:
        return told
    assumed = (shop.least_of(offered) for offered in _not_on_sale(job, row))
    unsold = (more for more in assumed if more is not None)
    return list(_all_told(trials, unsold, lambda more: unoffered(more.unit)))


def _all_told(
    trials: Trials,
    found: Iterable[_More],
    tail: Callable[[_More], str] = lambda _: "",
) -> Iterator[Evidence]:
    """Purchases as they are told; a plan is made of each when it is asked for, and what has none is left out."""
    for more in found:
        plan = trials.plan(more.mend, more.found)
        if plan is not None:
            yield _told(more, plan, trials.leaves(more.mend, plan), tail(more))


def _is_beyond(more: _More) -> str:
    """What is said of more than the shop's table says is the most."""
    most = more.offered.most
    if most is not None and more.before + more.amount <= most:
        return ""
    return ", if the shop has so much (most in shop.csv says less)"


def within(trials: Trials, row: Wanted) -> Carried | None:
    """A plan with all of the row, or more of it, and no more than the plan buys, where a short search finds one."""
    job = trials.run.job
    short = trials.lacking[row.key]
    for more in sorted({short, short // 2, 1} - {0}, reverse=True):
        asked = with_row(job, row, replace(row, count=row.count - short + more))
        if asked is not None:
            mend = Mend(said="", job=asked, whole=frozenset({row.key}))
            found = trials.search(mend, trials.bought(job))
            if found is not None and found.complete:
                return trials.carried(found)
    return None


def on_sale(trials: Trials, row: Wanted) -> Carried | None:
    """A plan with all of a row that must be cut, and what that takes of all that is on sale, where one is found."""
    mend = Mend(said="", job=trials.run.job, whole=frozenset({row.key}))
    found = trials.search(mend)
    return trials.carried(found) if found is not None and found.complete else None


def limit_mends(trials: Trials, row: Wanted, most_each: int) -> Evidence | None:
    """A higher limit from each fabric, where a short search finds all of the row with it.

    Parameters
    ----------
    trials : Trials
    row : Cut or Strip
    most_each : int
        The limit that is tried.
    """
    job = trials.run.job
    other = changed_row(row, most_each=most_each)
    new = None if other is None else with_row(job, row, other)
    if new is None:
        return None
    said = f"let up to {most_each} of it come from each fabric (most_each in cuts.csv says less)"
    mend = Mend(said=said, job=new, whole=frozenset({row.key}))
    found = trials.search(mend)
    return trials.told(mend, found) if found is not None and found.complete else None


def _cheapest_first(job: Job, found: Iterable[_More | None]) -> list[_More]:
    """What has a price first, by what it costs; then by how much it is."""

    def key(more: _More) -> tuple[bool, Decimal, int]:
        cost = more.cost(job.settings.unit)
        return cost is None, cost or Decimal(0), more.amount

    return sorted((more for more in found if more is not None), key=key)


def _not_on_sale(job: Job, row: Wanted) -> Iterator[ByLength]:
    """The first fabric of a row that the shop's table does not have, as such fabric is usually sold."""
    unit = job.settings.unit
    sold = {offered.fabric for offered in job.shop}
    step, smallest = STEPS[unit]
    for name in [name for name in job.allowed(row) if name not in sold][:1]:
        yield ByLength(
            fabric=name,
            usable_width=USABLE_WIDTH[unit],
            sold_by=step,
            smallest=smallest,
        )


def _told(more: _More, plan: Plan, leaves: str, tail: str) -> Evidence:
    """The purchase and what it leaves."""
    told = f"{_purchase(more)}{tail}{_little(more)}"
    if more.spared:
        told += f", in place of {listed(more.spared)}"
    return Evidence(said=f"{told}: {leaves}", job=more.job, plan=plan)


def unoffered(unit: Unit) -> str:
    """What is said of cloth that is bought as if it were sold as usual."""
    step, smallest = (format_sale(length, unit) for length in STEPS[unit])
    return (
        f", which shop.csv does not offer (as if sold by the {step} from {smallest} on)"
    )


def _purchase(more: _More) -> str:
    """``buy 1/4 yd of plum, 42 in wide, for 2.40``, or ``buy 1/2 yd of plum instead of 1/4 yd, for 2.40 more``."""
    unit = more.unit
    offered = more.offered
    cost = more.cost(unit)
    price = "" if cost is None else f", for {more.job.settings.currency}{cost:.2f}"
    buy = "also buy" if more.also and not more.spared else "buy"
    if isinstance(offered, ByPiece):
        size = f"{format_length(offered.each_width, unit)} x {format_length(offered.each_length, unit)} {unit}"
        other = "more " if more.before else ""
        return f"{buy} {more.amount} {other}piece{'s' * (more.amount > 1)} of {offered.fabric}, {size}{price}"
    length = format_sale(more.before + more.amount, unit)
    wide = format_length(offered.usable_width, unit, mark=True)
    if more.before:
        dearer = f"{price} more" if price else ""
        return f"buy {length} of {offered.fabric} instead of {format_sale(more.before, unit)}{dearer}"
    return f"{buy} {length} of {offered.fabric}, {wide} wide{price}"


def _little(more: _More) -> str:
    """What is said where nobody has told the smallest sale, and this is less than is usually sold."""
    offered = more.offered
    unit = more.unit
    if (
        not isinstance(offered, ByLength)
        or offered.smallest
        or more.before + more.amount >= STEPS[unit][1]
    ):
        return ""
    return " (smallest in shop.csv is blank: ask whether so little is sold)"


class _Shop:
    """Trials with one thing more bought for a row."""

    def __init__(self, trials: Trials, row: Wanted) -> None:
        self.trials = trials
        self.row = row
        self.run = trials.run

    def places(self) -> list[int]:
        """Rows of the shop from which the row may be cut, those first of which the least on sale costs least."""
        job = self.run.job
        sheets = self.run.model.sheets
        able = [
            sheets[s].offered
            for s in np.flatnonzero(self.run.fits[job.wanted.index(self.row)])
        ]
        found = [
            place
            for place, offered in enumerate(job.shop)
            if any(offered is other for other in able)
        ]

        def key(place: int) -> tuple[bool, Decimal]:
            offered = job.shop[place]
            cost = cost_of(offered, _first_sale(offered, 0), job.settings.unit)
            return cost is None, cost or Decimal(0)

        return sorted(found, key=key)

    def least(self, place: int, *, beyond: bool = False) -> _More | None:
        """The least of a row of the shop, besides what is bought, with which a short search is complete.

        `beyond` leaves out what the shop's table says is the most.
        """
        job = self.run.job
        offered = self.run.job.shop[place]
        if beyond:
            free = (
                *job.shop[:place],
                replace(offered, most=None),
                *job.shop[place + 1 :],
            )
            other = changed(job, shop=free)
            return None if other is None else self._least(other, place)
        return self._least(job, place)

    def least_of(self, offered: ByLength) -> _More | None:
        """The same of cloth that the shop's table does not have."""
        job = changed(self.run.job, shop=(*self.run.job.shop, offered))
        return None if job is None else self._least(job, len(self.run.job.shop))

    def _least(self, job: Job, place: int) -> _More | None:
        offered = job.shop[place]
        before = self.trials.now.amount(place)
        first = _first_sale(offered, before)
        if isinstance(offered, ByLength):
            trial: Offered | None = valid(lambda: replace(offered, smallest=first))
        else:
            trial = offered if offered.most is None or offered.most > before else None
        if trial is None:
            return None
        fixed = [
            (other, limited)
            for other, limited in self.trials.bought(self.run.job)
            if other != place
        ]
        shop = sorted([*fixed, (place, trial)], key=lambda each: each[0])
        mend = Mend(said="", job=job, whole=frozenset({self.row.key}))
        found = self.trials.search(
            mend, shop, self._cost(shop, place, first or before + 1)
        )
        return (
            None
            if found is None or not found.complete
            else self._found(mend, place, found)
        )

    def _cost(self, shop: OnSale, place: int, least: int) -> int:
        """What all that is bought costs at least, in the units of a search among such a shop."""
        unit = self.run.job.settings.unit
        total = 0
        priced = all(offered.price is not None for _, offered in shop)
        for other, offered in shop:
            amount = least if other == place else self.trials.now.amount(other)
            if isinstance(offered, ByPiece):
                each = cost_of(offered, 0, unit)
                total += amount * (
                    int(100 * each)
                    if priced and each is not None
                    else offered.each_length
                )
            else:
                cost = cost_of(offered, amount, unit)
                total += int(100 * cost) if priced and cost is not None else amount
        return total

    def _found(self, mend: Mend, place: int, found: Found) -> _More | None:
        """What a search bought of a row of the shop; None where it buys no more of that."""
        now = self.trials.now
        before = self.trials.now.amount(place)
        bought = found.amount(place)
        if bought <= before:
            return None
        others = [
            other
            for other in now.places
            if other != place and found.amount(other) < now.amount(other)
        ]
        return _More(
            offered=mend.job.shop[place],
            before=before,
            amount=bought - before,
            mend=mend,
            found=found,
            also=bool(now.layout.purchases),
            spared=tuple(
                self._much(other, now.amount(other) - found.amount(other))
                for other in others
            ),
        )

    def _much(self, place: int, amount: int) -> str:
        """So much of a row of the shop: ``1/4 yd of plum``, or ``2 pieces of plum``."""
        offered = self.run.job.shop[place]
        if isinstance(offered, ByPiece):
            return f"{amount} piece{'s' * (amount > 1)} of {offered.fabric}"
        return f"{format_sale(amount, self.run.job.settings.unit)} of {offered.fabric}"


def _first_sale(offered: Offered, before: int) -> int:
    """The least length on sale above what is bought; 0 for what is sold by the piece."""
    if isinstance(offered, ByPiece):
        return 0
    return up_to(max(offered.smallest, before + offered.sold_by), offered.sold_by)
