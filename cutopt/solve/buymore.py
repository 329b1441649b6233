"""What must be bought besides what a plan buys, so that a row that is short is there too.

Every purchase is one that the shop's table offers, and a short search has found a plan with it: all that the plan
gives, what it lacks of the one row, and no cloth but the pile, what the plan buys and this.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from cutopt.fabric import USABLE_WIDTH, ByLength, ByPiece, Offered, Piece
from cutopt.job import Job, Unit, cost_of
from cutopt.lengths import METRE, YARD, format_length, format_sale, up_to
from cutopt.solve.arrays import Layout
from cutopt.solve.carry import Carried
from cutopt.solve.model import Sheet
from cutopt.solve.stop import Purse
from cutopt.solve.whatif import Answer, short_limit, what_if
from cutopt.wanted import Wanted

if TYPE_CHECKING:
    from cutopt.solve.solver import Run

_MOST_TOLD: Final = 2
_ONE: Final = Decimal(100)  # one price for all: of one fabric the least money is the least length, or number
_STEPS: Final = {"in": (YARD // 8, YARD // 4), "cm": (METRE // 10, METRE // 4)}  # usual (common practice, no source)


@dataclass(frozen=True, slots=True, kw_only=True)
class _More:
    """So much of one row of the shop, `before` of it bought by the plan already: ticks, or pieces.

    `also` says that the plan buys something, be it of this row or not.
    """

    offered: Offered
    before: int
    amount: int
    also: bool = False

    def cost(self, unit: Unit) -> Decimal | None:
        """What it costs besides what the plan pays; None without a price."""
        if isinstance(self.offered, ByPiece):
            each = cost_of(self.offered, 0, unit)
            return None if each is None else each * self.amount
        whole, paid = (cost_of(self.offered, ticks, unit) for ticks in (self.before + self.amount, self.before))
        return None if whole is None or paid is None else whole - paid


def purchase_mends(
    run: Run, layout: Layout, row: Wanted, lacking: Mapping[str, int], searches: int, purse: Purse
) -> list[str]:
    """Up to two purchases that would do, the cheapest first; at most `searches` rows of the shop are tried.

    The purse pays for the searches; what it cannot pay for is not told.
    """
    had = _Had(run, layout, row, lacking, purse)
    if had.enough():
        return ["search for longer: the pile and what this plan buys have room for it"]
    offers, job = had.offers()[:searches], run.job
    told = [_told(job, more) for more in _cheapest_first(job, (had.least(offered) for offered in offers))]
    if told:
        return told[:_MOST_TOLD]
    limited = [offered for offered in offers if offered.most is not None]
    beyond = _cheapest_first(job, (had.least(offered, beyond=True) for offered in limited))
    if beyond:
        more = beyond[0]
        within = more.offered.most is not None and more.before + more.amount <= more.offered.most
        return [
            _told(job, more) if within else f"{_told(job, more)}, if the shop has so much (most in shop.csv says less)"
        ]
    missing = [had.least(offered) for offered in _not_on_sale(job, row)]
    return [f"{_told(job, more)}, which shop.csv does not offer" for more in missing if more is not None]


def limit_mends(
    run: Run, layout: Layout, row: Wanted, lacking: Mapping[str, int], most_each: int, purse: Purse
) -> list[str]:
    """A higher limit from each fabric, where a short search finds all of the row with it and nothing more bought."""
    if not _Had(run, layout, row, lacking, purse).enough_with(most_each):
        return []
    return [f"let up to {most_each} of it come from each fabric (most_each in cuts.csv says less)"]


def _cheapest_first(job: Job, found: Iterable[_More | None]) -> list[_More]:
    """What has a price first, by what it costs; then by how much it is."""

    def key(more: _More) -> tuple[bool, Decimal, int]:
        cost = more.cost(job.settings.unit)
        return cost is None, cost or Decimal(0), more.amount

    return sorted((more for more in found if more is not None), key=key)


def _not_on_sale(job: Job, row: Wanted) -> list[ByLength]:
    """The first fabric of a row that the shop's table does not have, as such fabric is usually sold."""
    unit, sold = job.settings.unit, {offered.fabric for offered in job.shop}
    step, smallest = _STEPS[unit]
    names = [name for name in job.allowed(row) if name not in sold]
    width = USABLE_WIDTH[unit]
    return [ByLength(fabric=name, usable_width=width, sold_by=step, smallest=smallest) for name in names[:1]]


def _told(job: Job, more: _More) -> str:
    """`buy 1/4 yd of plum, 42 in wide, for 2.40`, or `buy 1/2 yd of plum instead of 1/4 yd, for 2.40 more`."""
    unit, offered = job.settings.unit, more.offered
    cost = more.cost(unit)
    price = "" if cost is None else f", for {job.settings.currency}{cost:.2f}"
    buy = "also buy" if more.also else "buy"
    if isinstance(offered, ByPiece):
        size = f"{format_length(offered.each_width, unit)} x {format_length(offered.each_length, unit)} {unit}"
        other = "more " if more.before else ""
        return f"{buy} {more.amount} {other}piece{'s' * (more.amount > 1)} of {offered.fabric}, {size}{price}"
    length, wide = format_sale(more.before + more.amount, unit), format_length(offered.usable_width, unit, mark=True)
    if more.before:
        return (
            f"buy {length} of {offered.fabric} instead of {format_sale(more.before, unit)}{price and price + ' more'}"
        )
    return f"{buy} {length} of {offered.fabric}, {wide} wide{price}"


class _Had:
    """What a plan has, and trials with one thing more."""

    def __init__(self, run: Run, layout: Layout, row: Wanted, lacking: Mapping[str, int], purse: Purse) -> None:
        self.run, self.layout, self.row, self.lacking, self.purse = run, layout, row, lacking, purse

    def enough(self) -> bool:
        """Whether a short search finds room for the row with no more than the plan has."""
        answer = self._search(self._job())
        return answer is not None and answer.complete

    def enough_with(self, most_each: int) -> bool:
        """The same if so many of the row may come from each fabric."""
        job = self._job()
        cuts = tuple(replace(r, most_each=most_each) if r.key == self.row.key else r for r in job.cuts)
        answer = self._search(replace(job, cuts=cuts))
        return answer is not None and answer.complete

    def offers(self) -> list[Offered]:
        """Rows of the shop from which the row may be cut, those first of which the least on sale costs least."""
        run, unit = self.run, self.run.job.settings.unit
        fits = run.fits[run.job.wanted.index(self.row)]
        found = [sheet.offered for s, sheet in enumerate(run.model.sheets) if sheet.offered is not None and fits[s]]

        def key(offered: Offered) -> tuple[bool, Decimal]:
            cost = cost_of(offered, _first_sale(offered, 0), unit)
            return cost is None, cost or Decimal(0)

        return sorted(found, key=key)

    def least(self, offered: Offered, *, beyond: bool = False) -> _More | None:
        """The least of a row of the shop, besides what is bought, with which a short search is complete.

        `beyond` leaves out what the shop's table says is the most.
        """
        before, most = self._bought(offered), None if beyond else offered.most
        first = _first_sale(offered, before)
        if most is not None and most < (first if isinstance(offered, ByLength) else before + 1):
            return None
        if isinstance(offered, ByLength):
            trial: Offered = replace(offered, smallest=first, most=most, price=_ONE)
        else:
            trial = replace(offered, most=None if most is None else most - before, price=_ONE)
        enough = cost_of(trial, first, self.run.job.settings.unit) or Decimal(0)
        answer = self._search(self._job(trial, grown=offered), grown=offered, enough=int(100 * enough))
        if answer is None or not answer.complete or not answer.layout.purchases:
            return None
        sheets = answer.model.sheets
        amount = sum(sheets[p.sheet].ladder[p.rung].sold if p.rung >= 0 else 1 for p in answer.layout.purchases)
        amount -= before if isinstance(offered, ByLength) else 0
        return _More(offered=offered, before=before, amount=amount, also=bool(self.layout.purchases))

    def _search(self, job: Job, *, grown: Offered | None = None, enough: int = 0) -> Answer | None:
        """A short search that begins where the plan is; None where the purse is empty."""
        limit = self.purse.limit(short_limit(self.run))
        if limit is None or self.run.meter.asked:
            return None
        begin = Carried(model=self.run.model, layout=self.layout, becomes=self._becomes(grown)).begin
        answer = what_if(self.run, job, limit, begin, enough=enough)
        self.purse.left -= answer.spent
        return answer

    def _becomes(self, grown: Offered | None) -> dict[tuple[int, int], tuple[int, int]]:
        """What is bought is cloth after the pile, in the order in which it is bought, and `grown` comes last."""
        sheets, becomes = self.run.model.sheets, {}
        number = pile = sum(sheet.offered is None for sheet in sheets)
        last = pile + len(list(self._purchases(grown)))
        for p in self.layout.purchases:
            stays = p.rung < 0 or sheets[p.sheet].offered is not grown
            becomes[p.sheet, p.copy] = (number, 0) if stays else (last, 0)
            number += stays
        return becomes

    def _job(self, trial: Offered | None = None, *, grown: Offered | None = None) -> Job:
        """All that the plan gives and what it lacks of the row; the pile has what is bought, the shop has `trial`.

        A length that is bought of `grown` is left out: `trial` stands for a longer one.
        """
        job, counts = self.run.job, {row.key: self._count(row) for row in self.run.job.wanted}
        new = [
            Piece.of_size(f"bought, {i}", job.fabrics[sheet.fabric].name, sheet.cols * step, rows * step)
            for step in (self.run.model.step,)
            for i, (sheet, rows) in enumerate(self._purchases(grown))
        ]
        return replace(
            job, pieces=(*job.pieces, *new), shop=() if trial is None else (trial,), quilt="",
            cuts=tuple(replace(r, importance="must", count=counts[r.key]) for r in job.cuts if counts[r.key]),
            strips=tuple(replace(r, importance="must", count=counts[r.key]) for r in job.strips if counts[r.key]),
        )  # fmt: skip

    def _count(self, row: Wanted) -> int:
        return row.count - (0 if row.key == self.row.key else self.lacking.get(row.key, 0))

    def _purchases(self, grown: Offered | None) -> Iterator[tuple[Sheet, int]]:
        """Sheets that are bought and their usable rows, less a length of `grown`."""
        for p in self.layout.purchases:
            sheet = self.run.model.sheets[p.sheet]
            if p.rung < 0:
                yield sheet, sheet.rows
            elif sheet.offered is not grown:
                yield sheet, sheet.ladder[p.rung].rows

    def _bought(self, offered: Offered) -> int:
        """How much the plan buys of a row of the shop: ticks, or pieces."""
        sheets = self.run.model.sheets
        mine = [p for p in self.layout.purchases if sheets[p.sheet].offered is offered]
        return sum(sheets[p.sheet].ladder[p.rung].sold if p.rung >= 0 else 1 for p in mine)


def _first_sale(offered: Offered, before: int) -> int:
    """The least length on sale above what is bought; 0 for what is sold by the piece."""
    if isinstance(offered, ByPiece):
        return 0
    return up_to(max(offered.smallest, before + offered.sold_by), offered.sold_by)
