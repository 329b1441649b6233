"""Why something is short, in the maker's words, and what would mend it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import chain, islice

from cutopt.job import Job
from cutopt.lengths import format_length
from cutopt.plan import Short
from cutopt.result import Evidence
from cutopt.solve.context import Context
from cutopt.solve.control.stop import Purse
from cutopt.solve.explain import easier_rows as easier
from cutopt.solve.explain.buy_more import limit_mends, on_sale, purchase_mends, within
from cutopt.solve.explain.changed_jobs import (
    Mend,
    may_be_named,
    set_of,
)
from cutopt.solve.explain.cheaper_first import cheaper_first
from cutopt.solve.explain.cloth_left import cloth_left
from cutopt.solve.explain.fewer_to_a_strip import fewer_to_a_strip
from cutopt.solve.explain.grid_and_turns import on_a_finer_grid, other_turns
from cutopt.solve.explain.no_cloth_fits import hopeless_mends
from cutopt.solve.explain.strip_mends import as_far_as, reached, strip_mends
from cutopt.solve.explain.trials import Trials
from cutopt.solve.explain.what_if import short_limit
from cutopt.solve.explain.why_short import (
    enough_each,
    excluded,
    limit_met,
    limited,
    lost,
    why_short,
)
from cutopt.solve.explain.wider_cloth import wider
from cutopt.solve.model.layout import Layout
from cutopt.solve.model.model import Item
from cutopt.solve.search.carry_over import Carried, worth
from cutopt.wanted import Cut, Strip, Wanted

# rows for which a mend is looked for, and rows of the shop tried
_MOST_ROWS = 6
_MOST_SEARCHES = 8
# searches for a plan that lacks less take as long as so many short ones
_FULLER_PAID = 2
# of what is left of the limit for a plan that lacks less, and for all mends
_FOR_FULLER = 1 / 4
_OF_WHAT_IS_LEFT = 3 / 4
# seconds for mends where the time is over
_AT_LEAST = 0.25
# all searches for mends together take as long as so many short ones
_SEARCHES_PAID = 5
# mends of one row
_MOST_TOLD = 5
_MOST_OF_A_KIND = 2
# of a row, that may differ in size (our judgement, no source)
_FEW = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """How far a row goes, what mends it, and a rule of hers without which all of it was found to have room."""

    far: str = ""
    mends: tuple[str, ...] = ()
    rule: str = ""


class Reasons:
    """Why rows are short in the plans of a run, and what mends it; `purse` pays for all searches."""

    def __init__(self, run: Context) -> None:
        self.run = run
        each = short_limit(run)
        self.purse = run.purse(each, _SEARCHES_PAID, _OF_WHAT_IS_LEFT, _AT_LEAST)
        self._known: dict[tuple[object, ...], _Told] = {}

    def of(self, layout: Layout, lacking: Mapping[str, int]) -> tuple[Short, ...]:
        """A `Short` for every row that lacks something."""
        found: dict[str, _Told] = {}
        if self.run.engine.kernel is None:
            searched = []
        else:
            searched = _searched(self.run.job, lacking)
        for number, row in enumerate(searched):
            with self.purse.part(len(searched) - number) as purse:
                most = max(1, _MOST_SEARCHES // len(searched))
                found[row.key] = self._found(layout, lacking, row, most, purse)
        told = []
        for key, count in lacking.items():
            known = found.get(key, _Told())
            short = _Row(self.run, layout, lacking, self.run.job.row(key))
            why = short.why(known.rule) + known.far
            told.append(Short(for_=key, count=count, why=why, mends=known.mends))
        return tuple(told)

    def _found(
        self,
        layout: Layout,
        lacking: Mapping[str, int],
        row: Wanted,
        searches: int,
        purse: Purse,
    ) -> _Told:
        """How far a row goes and what mends it: the same where as much is bought and lacking, wherever parts lie."""
        if self.run.meter.asked:
            return _Told()
        known = (row.key, tuple(lacking.items()), layout.purchases)
        if known not in self._known:
            one = _Row(self.run, layout, lacking, row)
            trials = Trials(
                self.run, layout, lacking, purse, buys=row.importance == "must", row=row
            )
            far = one.far(trials)
            found = list(islice(one.mends(trials, searches), _MOST_TOLD))
            mends = cheaper_first(found, trials.buys_the_same, one.drops_a_rule)
            self.run.evidence.extend([*far, *mends])
            self._known[known] = _Told(
                far="".join(each.said for each in far),
                mends=tuple(each.said for each in mends),
                rule=one.rule,
            )
        return self._known[known]


def fuller(run: Context, layout: Layout, lacking: Mapping[str, int]) -> Carried | None:
    """A better plan of a run that lacks less, and buys more only for what must be cut: then nothing need be mended.

    Parameters
    ----------
    run : Context
    layout : Layout
        Of the plan.
    lacking : mapping of str to int
        How much of which rows it lacks.
    """
    if run.engine.kernel is None or run.meter.asked:
        return None
    rows = [
        row
        for row in _searched(run.job, lacking)
        if _Row(run, layout, lacking, row).may_have_more
    ]
    purse = run.purse(short_limit(run), _FULLER_PAID, _FOR_FULLER)
    for number, row in enumerate(rows):
        with purse.part(len(rows) - number) as part:
            found = _with_more(run, layout, lacking, row, part)
        if found is not None and worth(run.engine, found.laid(run.engine)) < worth(
            run.engine, run.engine.best
        ):
            return found
    return None


def _with_more(
    run: Context, layout: Layout, lacking: Mapping[str, int], row: Wanted, purse: Purse
) -> Carried | None:
    """A plan with more of a row, with no more bought; else with all of a row that must be cut, as the shop sells."""
    trials = Trials(run, layout, lacking, purse, buys=False, row=row)
    if row.importance != "must" or not run.job.shop:
        return within(trials, row)
    with purse.part(2) as trials.purse:
        found = within(trials, row)
    if found is not None:
        return found
    return on_sale(Trials(run, layout, lacking, purse, buys=True, row=row), row)


def _searched(job: Job, lacking: Mapping[str, int]) -> list[Wanted]:
    """The rows for which a mend is searched for, what must be cut first."""
    ranks = {"must": 0, "nice": 1, "if left": 2}
    rows = [row for row in job.wanted if row.key in lacking]
    return sorted(rows, key=lambda row: ranks[row.importance])[:_MOST_ROWS]


class _Row:
    """A row that is short in a plan."""

    def __init__(
        self, run: Context, layout: Layout, lacking: Mapping[str, int], row: Wanted
    ) -> None:
        self.run = run
        self.layout = layout
        self.lacking = lacking
        self.row = row
        self.index = next(
            i for i, other in enumerate(run.job.wanted) if other.key == row.key
        )
        self.item: Item = run.model.items[self.index]
        self.hopeless = run.hopeless[self.index]
        self.short = lacking[row.key]
        self.rule = ""
        # mends that only do without a rule
        self._unruled: list[Evidence] = []

    def drops_a_rule(self, mend: Evidence) -> bool:
        """Whether a mend that was found only does without a rule of the row."""
        return any(mend is each for each in self._unruled)

    def why(self, rule: str = "") -> str:
        """Why it is short; `rule` is one of hers without which it need not be, in words."""
        if lost(self.run, self.layout, self.index):
            turns = self.run.job.settings.turns
            return (
                f"its size is not on the grid, and to cut it out takes more than {turns} changes of direction in a "
                "piece"
            )
        if not self.hopeless and (fabrics := limited(self.run, self.index)):
            return limit_met(self.item, fabrics)
        if not self.hopeless and (told := excluded(self.run, self.row)):
            return told
        told = why_short(self.run, self.row, self.item, self.hopeless)
        if rule:
            return f"as {rule}, {told}"
        return told

    def far(self, trials: Trials) -> list[Evidence]:
        """How long a strip comes to that is not whole."""
        row = self.row
        if isinstance(row, Strip) and row.join != "none":
            length = reached(trials, row)
        else:
            length = 0
        if not isinstance(row, Strip) or not length:
            return []
        mend = as_far_as(self.run.job, row, length, self.short)
        if mend is None:
            found = None
        else:
            found = trials.search(mend)
        if mend is None or found is None or not found.complete:
            return []
        plan = trials.plan(mend, found)
        if plan is None:
            return []
        unit = self.run.job.settings.unit
        there, whole = (
            format_length(size, unit, mark=True) for size in (length, row.total_length)
        )
        if self.short == 1:
            who = "it comes"
        else:
            who = "one of them comes"
        missing = format_length(row.total_length - length, unit, mark=True)
        return [
            Evidence(
                said=f"; {who} to {there} of {whole}, {missing} are missing",
                job=mend.job,
                plan=plan,
            )
        ]

    def mends(self, trials: Trials, searches: int) -> Iterator[Evidence]:
        """What would mend it, the least trouble first, whatever it costs."""
        helped = False
        for way in self._ways(trials, searches):
            for told in islice(way, _MOST_OF_A_KIND):
                helped = True
                yield told
        for told in self._for_some(trials, helped=helped):
            helped = True
            yield told
        if (
            not (helped or self.hopeless or self._worked_out)
            and self.row.importance == "must"
        ):
            yield from _tried(
                trials, [easier.fewer(self.run.job, self.row, self.short)]
            )

    def _for_some(self, trials: Trials, *, helped: bool) -> Iterator[Evidence]:
        """Another size for a part of the row: many of a row are meant to be alike, so there it is never all advice."""
        row = self.row
        alike = row.count > _FEW and not helped
        if isinstance(row, Cut) and not (alike or self.hopeless or self._worked_out):
            yield from easier.some_smaller(trials, row, self.short)

    def _ways(self, trials: Trials, searches: int) -> Iterator[Iterator[Evidence]]:
        """Kinds of mends, one after the other."""
        job = self.run.job
        row = self.row
        if lost(self.run, self.layout, self.index):
            yield _tried(trials, other_turns(job, row))
            return
        if self.hopeless:
            yield from (
                _tried(trials, [on_a_finer_grid(self.run, mend)])
                for mend in hopeless_mends(job, row)
            )
            return
        if fabrics := limited(self.run, self.index):
            yield _one(limit_mends(trials, row, enough_each(self.item, fabrics)))
        yield self._without_rules(trials)
        yield islice(_tried(trials, fewer_to_a_strip(job, row)), 1)
        if self.only_time:
            yield iter(self._bought(trials, searches))
        yield _tried(trials, easier.fabrics(job, row, self._others()))
        yield from self._sizes(trials)
        yield _tried(trials, wider(job, row))

    def _without_rules(self, trials: Trials) -> Iterator[Evidence]:
        """Without a rule of hers, which costs nothing; the first one that gives all of the row is kept in `rule`."""
        job = self.run.job
        ways = (easier.turned, easier.apart, easier.wishes)
        for mend in chain.from_iterable(way(job, self.row) for way in ways):
            told = trials.tried(mend)
            if told is None:
                continue
            all_there = all(short.for_ != self.row.key for short in told.plan.short)
            if all_there and not self.rule:
                self.rule = mend.rule
            self._unruled.append(told)
            yield told

    def _bought(self, trials: Trials, searches: int) -> list[Evidence]:
        """Purchases that would do, paid from half of the purse."""
        whole = trials.purse
        with whole.part(2) as half:
            trials.purse = half
            found = purchase_mends(trials, self.row, searches)
        trials.purse = whole
        return found

    def _sizes(self, trials: Trials) -> Iterator[Iterator[Evidence]]:
        """Another size, or another way to put it together; what a recipe has worked out keeps its numbers."""
        row = self.row
        if isinstance(row, Strip):
            yield from strip_mends(
                trials, row, reached(trials, row), worked_out=self._worked_out
            )
        elif not self._worked_out:
            yield easier.smaller(trials, row)
            yield easier.sewn(trials, row, self.short)

    @property
    def only_time(self) -> bool:
        """Whether no rule and no size says that it cannot be there as things are."""
        return self.may_have_more and not limited(self.run, self.index)

    @property
    def may_have_more(self) -> bool:
        """Whether no rule and no size says that not one more can be there, but perhaps that not all can."""
        if self.hopeless or lost(self.run, self.layout, self.index):
            return False
        return not excluded(self.run, self.row)

    @property
    def _worked_out(self) -> bool:
        """Whether the row comes from the recipe of a quilt: her tables may then not give it another size or number."""
        return bool(self.run.job.quilt and self.row.why)

    def _others(self) -> list[str]:
        """Fabrics that the row, or another one of its set, does not name, those first of which most cloth is left."""
        run = self.run
        rows = set_of(self.run.job, self.row)
        allowed = [set(run.job.allowed(row)) for row in rows]
        left = cloth_left(run, self.layout, self.item)
        found = [
            fabric.name
            for fabric in run.job.fabrics
            if fabric.name in left
            and not all(fabric.name in names for names in allowed)
            and may_be_named(run.job, self.row, fabric)
        ]
        return sorted(found, key=lambda name: -left[name])


def _tried(trials: Trials, mends: Iterable[Mend | None]) -> Iterator[Evidence]:
    """Those of some mends that help."""
    found = (trials.tried(mend) for mend in mends)
    return (told for told in found if told is not None)


def _one(told: Evidence | None) -> Iterator[Evidence]:
    if told is None:
        return iter(())
    return iter((told,))
