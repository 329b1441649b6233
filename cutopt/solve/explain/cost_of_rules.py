"""What a rule costs: the same parts without it, where a short search then finds that less has to be bought."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from cutopt.fabric_words import standing
from cutopt.job import Job
from cutopt.lengths import format_sale
from cutopt.plan import Bought, Plan
from cutopt.result import Evidence
from cutopt.solve.context import Context
from cutopt.solve.cuts.checked_plan import lacks_nothing
from cutopt.solve.explain.changed_jobs import Mend, set_of, with_rows
from cutopt.solve.explain.easier_rows import lying
from cutopt.solve.explain.found import Found
from cutopt.solve.explain.trials import Trials, listed, told_bought
from cutopt.solve.explain.what_if import short_limit
from cutopt.solve.model.layout import Layout
from cutopt.solve.search.carry_over import Carried, worth
from cutopt.wanted import Cut, Wanted

# all searches for this together take as long as so many short ones
_SEARCHES_PAID: Final = 2
# of what is left of the limit
_OF_WHAT_IS_LEFT: Final = 1 / 4
_MOST_NAMED: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rule:
    """A rule in words, the column that asks for it, which rows it binds, and a row without it."""

    because: str
    column: str
    binds: Callable[[Job, Wanted], bool]
    lifted: Callable[[Wanted], Wanted]


def _stands(job: Job, row: Wanted) -> bool:
    return bool(standing(row)) and any(
        job.fabric(name).one_way for name in job.allowed(row)
    )


def _matches(job: Job, row: Wanted) -> bool:
    """Whether it has to come from one fabric and there are several, with another row or with more of its own."""
    return (
        bool(row.together)
        and len(job.allowed(row)) > 1
        and (len(set_of(job, row)) > 1 or row.count > 1)
    )


def _limited(_: Job, row: Wanted) -> bool:
    return (
        isinstance(row, Cut) and row.most_each is not None and row.most_each < row.count
    )


def _unlimited(row: Wanted) -> Wanted:
    if isinstance(row, Cut):
        return replace(row, most_each=None)
    return row


_RULES: Final = (
    _Rule(
        because="the print of {rows} stands up",
        column="upright",
        binds=_stands,
        lifted=lying,
    ),
    _Rule(
        because="the grain of {rows} is set",
        column="grain",
        binds=lambda _, row: row.grain != "any",
        lifted=lambda row: replace(row, grain="any"),
    ),
    _Rule(
        because="all of {rows} come from one fabric",
        column="together",
        binds=_matches,
        lifted=lambda row: replace(row, together=""),
    ),
    _Rule(
        because="only so many of {rows} come from each fabric",
        column="most_each",
        binds=_limited,
        lifted=_unlimited,
    ),
)


class RuleCosts:
    """What the rules of the rows cost in the plans of a run that lack nothing that must be cut.

    `told` has one sentence for each. `better` is a plan that was found without a rule, keeps it all the same and is
    better than the plan of the run, where there is one: it is the plan then, and nothing is told.

    A rule is blamed only for what lies above the bound: no plan that keeps it buys less than that. Where a search
    without a rule comes below the plan and not below the bound, the sentence says no more than that.
    """

    def __init__(self, run: Context, layout: Layout, plan: Plan) -> None:
        self.told: list[Evidence] = []
        self.better: Carried | None = None
        self.layout = layout
        if not layout.purchases or run.engine.kernel is None or run.meter.asked:
            return
        lacking = {short.for_: short.count for short in plan.short}
        purse = run.purse(short_limit(run), _SEARCHES_PAID, _OF_WHAT_IS_LEFT)
        trials = Trials(run, layout, lacking, purse, buys=True)
        rules = [
            rule
            for rule in _RULES
            if any(rule.binds(run.job, row) for row in run.job.wanted)
        ]
        for number, rule in enumerate(rules):
            with purse.part(len(rules) - number) as trials.purse:
                self._try_without(trials, rule)
            if self.better is not None:
                self.told = []
                return

    def _try_without(self, trials: Trials, rule: _Rule) -> None:
        """What a plan buys that need not keep a rule, where that is less."""
        job = trials.run.job
        free = with_rows(
            job, lambda row: (rule.lifted(row) if rule.binds(job, row) else row,)
        )
        if free is None:
            return
        mend = Mend(said="", job=free, whole=frozenset())
        found = trials.search(mend, enough=0)
        now = trials.layout.cost
        if found is None or not found.complete or found.layout.cost >= now:
            return
        self.better = _kept_all_the_same(trials, found)
        if self.better is not None:
            return
        plan = trials.plan(mend, found)
        if plan is not None:
            certain = min(trials.run.bound, now) - found.layout.cost
            said = _told(trials, rule, plan, found.layout.cost, certain)
            self.told.append(Evidence(said=said, job=free, plan=plan))


def _kept_all_the_same(trials: Trials, found: Found) -> Carried | None:
    """What was found without a rule, where the checker finds that it keeps all rules, and it is better than the plan."""
    run = trials.run
    plan = trials.checked(found, run.job)
    if plan is None or not lacks_nothing(run.job, plan):
        return None
    carried = trials.carried(found)
    better = worth(run.engine, carried.laid(run.engine))
    if better < worth(run.engine, run.engine.best):
        return carried
    return None


def _told(trials: Trials, rule: _Rule, plan: Plan, cost: int, certain: int) -> str:
    """The sentence about a rule; `certain` is how much of what is saved no plan that keeps the rule saves."""
    job = trials.run.job
    now = trials.layout.cost
    names = [row.name for row in job.wanted if rule.binds(job, row)]
    if len(names) <= _MOST_NAMED:
        rows = listed(names)
    else:
        rows = f"{len(names)} rows"
    because = rule.because.format(rows=rows)
    would = f"without that rule ({rule.column}) {_bought(job, plan)} would do"
    if certain <= 0:
        saved = _amount(trials, now - cost)
        return f"That {because} may cost {saved}: {would}."
    if certain < now - cost:
        return f"Because {because}, this costs at least {_amount(trials, certain)} more: {would}."
    return f"Because {because}, {_more(trials, plan, certain)}: {would}."


def _more(trials: Trials, plan: Plan, cost: int) -> str:
    """``1/4 yd of oat more is bought, for 2.40``, or what it costs where more than one length is another one."""
    unit = trials.run.job.settings.unit
    now = _amounts(trials.buys_now)
    then = _amounts(plan.totals.bought)
    fewer = then - now
    more = now - then
    if trials.run.model.priced:
        price = f", for {_amount(trials, cost)}"
    else:
        price = ""
    lengths = [
        (fabric, length) for (fabric, by_piece), length in more.items() if not by_piece
    ]
    if fewer or len(more) != 1 or not lengths:
        return f"this costs {_amount(trials, cost)} more"
    ((fabric, length),) = lengths
    return f"{format_sale(length, unit)} of {fabric} more is bought{price}"


def _amounts(bought: Iterable[Bought]) -> Counter[tuple[str, bool]]:
    """Amounts by fabric and whether they are pieces."""
    return Counter({(each.fabric, each.by_piece): each.amount for each in bought})


def _bought(job: Job, plan: Plan) -> str:
    if plan.totals.bought:
        return told_bought(job, plan)
    return "nothing new"


def _amount(trials: Trials, cost: int) -> str:
    """Money, or a length where not all has a price."""
    settings = trials.run.job.settings
    if trials.run.model.priced:
        return f"{settings.currency}{Decimal(cost) / 100:.2f}"
    return format_sale(cost, settings.unit)
