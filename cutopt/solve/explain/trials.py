"""Short searches for what would mend a plan: what is told of a mend has a plan behind it that passed the checker."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Final, TypeAlias

from cutopt.fabric import ByLength, Offered
from cutopt.job import Job
from cutopt.lengths import format_sale, so_many
from cutopt.plan import Bought, Plan, Short, bought_of
from cutopt.result import Evidence
from cutopt.solve.context import Context
from cutopt.solve.control.stop import Purse, Stop, Work
from cutopt.solve.cuts.checked_plan import checked_plan
from cutopt.solve.explain.changed_jobs import Mend, changed, valid
from cutopt.solve.explain.found import Found, becomes
from cutopt.solve.explain.what_if import cutter_for, short_limit, what_if
from cutopt.solve.model.layout import Layout, units_of
from cutopt.solve.search.carry_over import Carried
from cutopt.solve.search.engine import Engine
from cutopt.wanted import Cut, Strip, Wanted

# a search for one mend may take such a part of a short search
_PART: Final = 4
_MOST_NAMED: Final = 2

# rows of a shop, with their places in the shop of the run
OnSale: TypeAlias = Sequence[tuple[int, Offered]]


class Trials:
    """What would mend a plan of a run, each searched for from where the plan is.

    Parameters
    ----------
    lacking : what the plan is short of, by row
    row : the one that is to be mended, if any
    purse : pays for all searches, and by the clock for the plans that are made of them
    buys : bool
        Whether what the shop sells may be bought, else no more than the plan buys.
    """

    def __init__(
        self,
        run: Context,
        layout: Layout,
        lacking: Mapping[str, int],
        purse: Purse,
        *,
        buys: bool,
        row: Wanted | None = None,
    ) -> None:
        self.run = run
        self.layout = layout
        self.lacking = lacking
        self.purse = purse
        self.buys = buys
        self.row = row
        self.now = Found(
            model=run.model, layout=layout, places=tuple(range(len(run.job.shop)))
        )

    def search(
        self, mend: Mend, shop: OnSale | None = None, enough: int | None = None
    ) -> Found | None:
        """A short search for all that the plan gives and all of the rows that are meant; None where none is paid.

        Parameters
        ----------
        shop : what may be bought; by default see `buys`
        enough : a cost that ends the search, by default that of the plan
        """
        return self._search(
            mend, self._shop(mend) if shop is None else shop, enough, self.now
        )

    def told(self, mend: Mend, found: Found | None) -> Evidence | None:
        """The mend and what it leaves; None where it gives nothing more, or its plan does not pass the checker."""
        if found is None or not self._gives_more(mend, _missed(mend.job, found)):
            return None
        plan = self.plan(mend, found)
        if plan is None or not self._gives_more(mend, _short_of(plan)):
            return None
        told = f"{self.leaves(mend, plan)}{self._with_bought(mend.job, plan)}"
        return Evidence(said=f"{mend.said}: {told}", job=mend.job, plan=plan)

    def _with_bought(self, job: Job, plan: Plan) -> str:
        """What is bought then, and what it costs in all; nothing where nobody sells anything."""
        if not job.shop:
            return ""
        if not self.buys_the_same(plan):
            return f", with {told_bought(job, plan)} bought"
        if plan.totals.bought:
            more = "more "
        else:
            more = ""
        return f", with nothing {more}bought"

    def tried(self, mend: Mend | None) -> Evidence | None:
        """Search, and tell what was found; where that is not all that is meant, with more than the shop's table has."""
        if mend is None:
            return None
        told = self.told(mend, self.search(mend))
        if told is not None and mend.new_size and not self._as_much_anew(mend, told):
            told = None
        if mend.beyond is None or (
            told is not None and not mend.whole & _short_of(told.plan).keys()
        ):
            return told
        return self.tried(mend.beyond) or told

    def anew(self, mend: Mend) -> bool:
        """Whether a search from nothing finds all of it too: whoever plans again begins so."""
        found = self._search(mend, self._shop(mend), None, None)
        return found is not None and found.complete

    def _as_much_anew(self, mend: Mend, told: Evidence) -> bool:
        """Whether a search from nothing lacks no more of what is meant than the plan that stands behind a mend."""
        found = self._search(mend, self._shop(mend), None, None)
        if found is None:
            return False
        missed = _missed(mend.job, found)
        short = _short_of(told.plan)
        return all(missed.get(key, 0) <= short.get(key, 0) for key in mend.whole)

    def bought(self, job: Job, found: Found | None = None) -> OnSale:
        """What a plan buys as all that is on sale; by default the plan of the run."""
        amounts = (
            (place, offered, (found or self.now).amount(place))
            for place, offered in enumerate(job.shop)
        )
        limited = (
            (place, _just(offered, amount))
            for place, offered, amount in amounts
            if amount
        )
        return [(place, offered) for place, offered in limited if offered is not None]

    def carried(self, found: Found) -> Carried:
        """What was found for the job of the run, as a plan of the run's own."""
        cloth = becomes(found, self.run.model, self.now.places)
        return Carried(model=found.model, layout=found.layout, becomes=cloth)

    def plan(self, mend: Mend, found: Found) -> Plan | None:
        """The plan of what was found, with what else then has room, for the whole job; None where it has a fault."""
        if found.complete:
            more = self._with_others(mend, found)
        else:
            more = found
        for each in (more, found)[: 1 + (more is not found)]:
            plan = self.checked(each, mend.job)
            if plan is not None:
                return plan
        return None

    def checked(self, found: Found, job: Job) -> Plan | None:
        """The plan of what was found; making and checking it is paid for too, where the clock decides."""
        begun = time.perf_counter()
        plan = checked_plan(
            found.model, found.layout, cutter_for(self.run, found.model), job
        )
        if self.run.meter.timed:
            self.purse.spend(time.perf_counter() - begun)
        return plan

    def leaves(self, mend: Mend, plan: Plan) -> str:
        """What is still short: of what is meant, and of other rows where that is less than before."""
        if not plan.short:
            return "then everything is there"
        meant = [short for short in plan.short if short.for_ in mend.whole]
        if meant:
            return f"then {_still_short(mend.job, meant)}"
        others = {
            key: count for key, count in self.lacking.items() if key not in mend.whole
        }
        if self.row is None:
            name = ""
        else:
            name = self.row.name
        if _short_of(plan) == others:
            return f"then all of {name} is there"
        return f"then all of {name} is there, and only {_still_short(mend.job, plan.short)}"

    def buys_the_same(self, plan: Plan) -> bool:
        """Whether a plan buys nothing, or just what the plan of the run buys."""
        return plan.totals.bought in ((), self.buys_now)

    @property
    def buys_now(self) -> tuple[Bought, ...]:
        """What the plan of the run buys."""
        sums: Counter[tuple[str, bool]] = Counter()
        for p in self.layout.purchases:
            sheet = self.run.model.sheets[p.sheet]
            fabric = self.run.job.fabrics[sheet.fabric].name
            if sheet.ladder:
                amount = sheet.ladder[p.rung].sold
            else:
                amount = 1
            sums[fabric, not sheet.ladder] += amount
        return bought_of(sums)

    # -- the search --------------------------------------------------------------------------------

    def _shop(self, mend: Mend) -> OnSale:
        if self.buys:
            return list(enumerate(mend.job.shop))
        if mend.place is None:
            more = []
        else:
            more = [(mend.place, mend.job.shop[mend.place])]
        others = [
            (place, offered)
            for place, offered in self.bought(mend.job)
            if place != mend.place
        ]
        return sorted([*others, *more], key=lambda each: each[0])

    def _search(
        self, mend: Mend, shop: OnSale, enough: int | None, begin: Found | None
    ) -> Found | None:
        """Search from where a plan is, or from nothing."""
        job = self._job(mend, [offered for _, offered in shop])
        limit = self._limit()
        if limit is None or job is None or self.run.meter.asked:
            return None
        places = tuple(place for place, _ in shop)
        answer = what_if(
            self.run,
            job,
            limit,
            lambda engine: self._begin(engine, begin, places),
            enough=(begin or self.now).layout.cost if enough is None else enough,
            step=mend.step,
            planned=False,
        )
        self.purse.spend(answer.spent)
        return Found(model=answer.model, layout=answer.layout, places=places)

    def _with_others(self, mend: Mend, found: Found) -> Found:
        """What was found, with as much as has room then of the other rows that are short."""
        keys = {row.key for row in mend.job.wanted}
        whole = mend.whole | (self.lacking.keys() & keys)
        if whole == mend.whole:
            return found
        more = self._search(
            replace(mend, whole=whole), self.bought(mend.job, found), None, found
        )
        if more is None:
            return found
        missed = _missed(mend.job, more)
        kept = not any(missed.get(key) for key in mend.whole)
        if kept and self._gives_more(mend, missed):
            return more
        return found

    def _limit(self) -> Stop | None:
        limit = self.purse.limit(short_limit(self.run))
        if isinstance(limit, Work):
            return Work(max(1, limit.rounds // _PART))
        if limit is None:
            return None
        return replace(limit, seconds=limit.seconds / _PART)

    def _job(self, mend: Mend, shop: Iterable[Offered]) -> Job | None:
        """All of this must be cut: the rows that are meant, and of the others what the plan gives."""
        rows = [
            must
            for row in mend.job.wanted
            if (must := self._must(row, mend)) is not None
        ]
        cuts = tuple(row for row in rows if isinstance(row, Cut))
        strips = tuple(row for row in rows if isinstance(row, Strip))
        return changed(mend.job, shop=tuple(shop), cuts=cuts, strips=strips)

    def _must(self, row: Wanted, mend: Mend) -> Wanted | None:
        if row.key in mend.whole:
            count = row.count
        else:
            count = row.count - self.lacking.get(row.key, 0)
        if count > 0:
            return replace(row, importance="must", count=count)
        return None

    def _begin(
        self, engine: Engine, begin: Found | None, places: Sequence[int]
    ) -> None:
        """A plan as far as it has its place in the other job, and what else has room there."""
        model = engine.arrays.model
        if begin is not None and model.step == begin.model.step:
            cloth = becomes(begin, model, places)
            Carried(model=begin.model, layout=begin.layout, becomes=cloth).begin(engine)
            engine.kernel.fill_up(
                engine.arrays.problem, engine.best, engine.arrays.scratch()
            )
        else:
            engine.first()

    # -- what is told ------------------------------------------------------------------------------

    def _gives_more(self, mend: Mend, after: Mapping[str, int]) -> bool:
        """Whether less of the row and of all that is meant is short, and no more of any other row."""
        if (
            self.row is not None
            and after.get(self.row.key, 0) >= self.lacking[self.row.key]
        ):
            return False
        meant = sum(after.get(key, 0) for key in mend.whole)
        harmed = any(
            count > self.lacking.get(key, 0)
            for key, count in after.items()
            if key not in mend.whole
        )
        return not harmed and meant < sum(
            self.lacking.get(key, 0) for key in mend.whole
        )


def _just(offered: Offered, amount: int) -> Offered | None:
    """A row of the shop that sells so much and nothing else."""
    if isinstance(offered, ByLength):
        return valid(lambda: replace(offered, smallest=amount, most=amount))
    return valid(lambda: replace(offered, most=amount))


def _missed(job: Job, found: Found) -> dict[str, int]:
    """How much of each row what was found lacks, of a job that wants no less."""
    lacks: Counter[str] = Counter()
    for unit, missing in zip(units_of(found.model), found.layout.missing, strict=True):
        item = found.model.items[unit.item]
        lacks[item.row.key] += bool(missing) if item.strip else missing
    tried = {row.key: row.count for row in found.model.job.wanted}
    return {
        row.key: lacks[row.key] + row.count - tried.get(row.key, 0)
        for row in job.wanted
    }


def _short_of(plan: Plan) -> dict[str, int]:
    return {short.for_: short.count for short in plan.short}


def _still_short(job: Job, short: Sequence[Short]) -> str:
    """``2 of star and 1 of edge are still short``; of many rows the first ones."""
    named = [
        f"{each.count} of {job.row(each.for_).name}" for each in short[:_MOST_NAMED]
    ]
    if len(short) > _MOST_NAMED:
        rest = sum(each.count for each in short[_MOST_NAMED:])
        named.append(f"{rest} of other rows")
    one = len(named) == 1 and short[0].count == 1
    return f"{listed(named)} {'is' if one else 'are'} still short"


def listed(words: Sequence[str], last: str = "and") -> str:
    """``a, b and c``."""
    *others, end = words or ("",)
    if others:
        return f"{', '.join(others)} {last} {end}"
    return end


def told_bought(job: Job, plan: Plan) -> str:
    """``3/8 yd of plum and 2 pieces of oat``, and what it costs in all."""
    told = [
        f"{so_many(each.amount, 'piece')} of {each.fabric}"
        if each.by_piece
        else f"{format_sale(each.amount, job.settings.unit)} of {each.fabric}"
        for each in plan.totals.bought
    ]
    money = plan.totals.money
    if money is None:
        price = ""
    else:
        price = f" ({job.settings.currency}{money:.2f} in all)"
    return listed(told) + price
