"""Why something is short, in the maker's words, and what would mend it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import chain, islice

import numpy as np

from cutopt.job import Job
from cutopt.lengths import format_length, up_to
from cutopt.plan import Short
from cutopt.result import Evidence
from cutopt.solve.bounds.most_of_a_row import most_cut
from cutopt.solve.bounds.off_grid import might_fit, roomiest, smallest
from cutopt.solve.context import Context
from cutopt.solve.control.stop import Purse
from cutopt.solve.explain import easier_rows as easier
from cutopt.solve.explain.buy_more import limit_mends, on_sale, purchase_mends, within
from cutopt.solve.explain.changed_jobs import (
    Mend,
    changed,
    changed_row,
    may_be_named,
    set_of,
    with_row,
)
from cutopt.solve.explain.no_cloth_fits import hopeless_mends
from cutopt.solve.explain.strip_mends import as_far_as, reached, strip_mends
from cutopt.solve.explain.trials import Trials, listed
from cutopt.solve.explain.what_if import short_limit
from cutopt.solve.model.cells import holds, summed
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.layout import Layout, fits_alone
from cutopt.solve.model.model import Item, Sheet
from cutopt.solve.plates.plate_table import Ints
from cutopt.solve.search.carry_over import Carried, worth
from cutopt.solve.search.prepare import is_ready
from cutopt.wanted import Cut, Strip, Wanted

# rows for which a mend is looked for, and rows of the shop tried
_MOST_ROWS = 6
_MOST_SEARCHES = 8
_FULLER_PAID = (
    2  # searches for a plan that lacks less take as long as so many short ones
)
# of what is left of the limit for a plan that lacks less, and for all mends
_FOR_FULLER = 1 / 4
_OF_WHAT_IS_LEFT = 3 / 4
# seconds for mends where the time is over
_AT_LEAST = 0.25
_SEARCHES_PAID = 5  # all searches for mends together take as long as so many short ones
# mends of one row
_MOST_TOLD = 5
_MOST_OF_A_KIND = 2
_FEW = 3  # of a row, that may differ in size (our judgement, no source)


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
        searched = (
            [] if self.run.engine.kernel is None else _searched(self.run.job, lacking)
        )
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
            mends = list(islice(one.mends(trials, searches), _MOST_TOLD))
            self.run.evidence.extend([*far, *mends])
            self._known[known] = _Told(
                far="".join(each.said for each in far),
                mends=tuple(each.said for each in mends),
                rule=one.rule,
            )
        return self._known[known]


def fuller(run: Context, layout: Layout, lacking: Mapping[str, int]) -> Carried | None:
    """A better plan of a run that lacks less, and buys more only for what must be cut: then nothing need be mended."""
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

    def why(self, rule: str = "") -> str:
        """Why it is short; `rule` is one of hers without which it need not be, in words."""
        if _lost(self.run, self.layout, self.index):
            turns = self.run.job.settings.turns
            return (
                f"its size is not on the grid, and to cut it out takes more than {turns} changes of direction in a "
                "piece"
            )
        if not self.hopeless and (fabrics := _limited(self.run, self.index)):
            return _limit_met(self.item, fabrics)
        if not self.hopeless and (told := _excluded(self.run, self.row)):
            return told
        told = _why(self.run, self.row, self.item, self.hopeless)
        return f"as {rule}, {told}" if rule else told

    def far(self, trials: Trials) -> list[Evidence]:
        """How long a strip comes to that is not whole."""
        row = self.row
        length = (
            reached(trials, row) if isinstance(row, Strip) and row.join != "none" else 0
        )
        if not isinstance(row, Strip) or not length:
            return []
        mend = as_far_as(self.run.job, row, length, self.short)
        found = None if mend is None else trials.search(mend)
        if mend is None or found is None or not found.complete:
            return []
        plan = trials.plan(mend, found)
        if plan is None:
            return []
        unit = self.run.job.settings.unit
        there, whole = (
            format_length(size, unit, mark=True) for size in (length, row.total_length)
        )
        who = "it comes" if self.short == 1 else "one of them comes"
        missing = format_length(row.total_length - length, unit, mark=True)
        return [
            Evidence(
                said=f"; {who} to {there} of {whole}, {missing} are missing",
                job=mend.job,
                plan=plan,
            )
        ]

    def mends(self, trials: Trials, searches: int) -> Iterator[Evidence]:
        """What would mend it, the least trouble first."""
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
        if _lost(self.run, self.layout, self.index):
            yield _tried(trials, _other_turns(job, row))
            return
        if self.hopeless:
            yield from (
                _tried(trials, [_fine(self.run, mend)])
                for mend in hopeless_mends(job, row)
            )
            return
        if fabrics := _limited(self.run, self.index):
            yield _one(limit_mends(trials, row, _enough_each(self.item, fabrics)))
        yield self._without_rules(trials)
        if self.only_time:
            yield iter(self._bought(trials, searches))
        yield _tried(trials, easier.fabrics(job, row, self._others()))
        yield from self._sizes(trials)
        yield _tried(trials, easier.wider(job, row))

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
        return self.may_have_more and not _limited(self.run, self.index)

    @property
    def may_have_more(self) -> bool:
        """Whether no rule and no size says that not one more can be there, but perhaps that not all can."""
        lost = _lost(self.run, self.layout, self.index)
        return not (self.hopeless or lost or _excluded(self.run, self.row))

    @property
    def _worked_out(self) -> bool:
        """Whether the row comes from the recipe of a quilt: her tables may then not give it another size or number."""
        return bool(self.run.job.quilt and self.row.why)

    def _others(self) -> list[str]:
        """Fabrics that the row, or another one of its set, does not name, those first of which most cloth is left."""
        run = self.run
        rows = set_of(self.run.job, self.row)
        allowed = [set(run.job.allowed(row)) for row in rows]
        left = _left(run, self.layout, self.item)
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
    return iter(()) if told is None else iter((told,))


def _other_turns(job: Job, row: Wanted) -> Iterator[Mend]:
    """What lets a part be cut out that has a place and takes too many changes of direction."""
    turns = job.settings.turns or 0
    grid = job.settings.grid
    keys = frozenset({row.key})
    more = changed(job, settings=replace(job.settings, turns=turns + 1))
    if more is not None:
        yield Mend(
            said=f"allow {turns + 1} (turns in job.toml, now {turns})",
            job=more,
            whole=keys,
        )
    sizes = {"width": up_to(row.width, grid)}
    if isinstance(row, Cut):
        sizes["length"] = up_to(row.length, grid)
    rounded = changed_row(row, **sizes)
    other = None if rounded is None or row.why else with_row(job, row, rounded)
    if other is not None and rounded is not None:
        told = " x ".join(
            format_length(side, job.settings.unit) for side in smallest(rounded)
        )
        yield Mend(said=f"round its size to the grid, {told}", job=other, whole=keys)


def _fine(run: Context, mend: Mend) -> Mend:
    """The mend with a finer grid for its search where that of the run has no room for what it gives."""
    if mend.beyond is not None:
        mend = replace(mend, beyond=_fine(run, mend.beyond))
    if mend.step is not None:
        return mend
    model = model_of(mend.job, run.model.step)
    fits = fits_alone(model)
    if all(
        ways.any()
        for ways, item in zip(fits, model.items, strict=True)
        if item.row.key in mend.whole
    ):
        return mend
    step = roomiest(mend.job).step
    return replace(mend, step=step) if step != run.model.step else mend


def _lost(run: Context, layout: Layout, index: int) -> bool:
    """Whether all of a row has a place, from which it could not be cut out within the turns."""
    missed = any(
        layout.missing[u] for u, unit in enumerate(run.units) if unit.item == index
    )
    return run.job.settings.turns is not None and not missed and not run.hopeless[index]


def _limited(run: Context, index: int) -> int:
    """From how many fabrics a row may come where its limit from each is too low for all of it, else 0."""
    item = run.model.items[index]
    able = {run.model.sheets[s].fabric for s in np.flatnonzero(run.fits[index])}
    fabrics = min(len(able), 1) if item.group >= 0 else len(able)
    return fabrics if 0 < item.most_each * fabrics < item.copies else 0


def _excluded(run: Context, row: Wanted) -> str:
    """That rows which have to come from one fabric have none in common; nothing where they have one."""
    rows = set_of(run.job, row)
    allowed = [set(run.job.allowed(each)) for each in rows]
    if len(rows) < 2 or not row.together or set.intersection(*allowed):
        return ""
    own = [
        f"{each.name} from {listed(run.job.allowed(each)[:3], 'or') or 'none'}"
        for each in rows[:3]
    ]
    what = f"they have to come from the same fabric (together: {row.together})"
    return f"{what}, and no fabric may serve all of them: {listed(own)}"


def _limit_met(item: Item, fabrics: int) -> str:
    limit = f"at most {item.most_each} of the {item.copies} may come from each fabric"
    have = f"only {'one has' if fabrics == 1 else f'{fabrics} have'} cloth for it"
    rule = "all have to come from the same one (together)" if item.group >= 0 else have
    return f"{limit}, and {rule}: for all of them that limit has to be {_enough_each(item, fabrics)} (most_each)"


def _enough_each(item: Item, fabrics: int) -> int:
    """The least limit from each of so many fabrics with which a row can be had."""
    return -(-item.copies // fabrics)


def _cloth(run: Context, row: Wanted) -> str:
    """What a row may be cut from: `pear, plum or oat`, or in general words."""
    names = run.job.allowed(row)
    if len(names) <= 3:
        return " or ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))
    return "cloth of its fabrics" if row.fabrics else "cloth"


def _why(run: Context, row: Wanted, item: Item, hopeless: bool) -> str:
    if not run.job.allowed(row):
        return "no fabric may serve it: it names none, and batting is cut only where it is named"
    unit = run.job.settings.unit
    cloth = _cloth(run, row)
    size = f"{' x '.join(format_length(side, unit) for side in smallest(row))} {unit}"
    if not any(sheet.turns(item) for sheet in run.model.sheets):
        otherwise = any(
            run.job.fabrics[sheet.fabric].name in run.job.allowed(row)
            for sheet in run.model.sheets
        )
        rule = ", lying in the direction it asks for" if otherwise else ""
        return f"neither the pile nor the shop has any {cloth} for it{rule}"
    if hopeless and might_fit(run.model, item):
        return _snug(run, size, cloth)
    if hopeless and _large_enough(run, row, item):
        return f"{size} would fit on the {cloth} that there is, but its grain or print would run the wrong way"
    if hopeless and might_fit(run.model, item, either_way=True):
        return _snug(run, size, cloth)
    if hopeless:
        return f"no {cloth} in the pile or the shop is large enough for {size}"
    if row.importance != "must":
        left = f"the search found no room for it on the {cloth} that is left"
        return f"{left}, and new cloth is bought only for what must be cut"
    there = f"on the {cloth} that there is in the pile and the shop"
    most = (
        item.copies if run.meter.asked or not is_ready() else most_cut(run.model, item)
    )
    if most < item.copies:
        return f"{_at_most(most, item.copies)}, even if nothing else is: {there} there is room for no more"
    return f"the search found no room for all of it {there}"


def _at_most(most: int, wanted: int) -> str:
    if most:
        return f"at most {most} of the {wanted} can be cut"
    return "it cannot be cut" if wanted == 1 else "none of them can be cut"


def _snug(run: Context, size: str, cloth: str) -> str:
    """A row of which it is not certain that no part fits; it fits nowhere on the grid."""
    step = format_length(run.model.step, run.job.settings.unit, mark=True)
    near = f"{size} comes so close to the edges of the {cloth} that there is"
    return f"{near} that cut lines {step} apart leave no room for it"


def _large_enough(run: Context, row: Wanted, item: Item) -> bool:
    """Whether a cloth of an allowed fabric would hold a part if it might lie either way."""
    allowed = run.job.allowed(row)
    for sheet in run.model.sheets:
        if run.job.fabrics[sheet.fabric].name in allowed:
            table = (
                summed(np.ones((sheet.cols, sheet.rows), np.bool_))
                if sheet.table is None
                else sheet.table
            )
            if holds(table, item.w, item.l) or holds(table, item.l, item.w):
                return True
    return False


def _left(run: Context, layout: Layout, item: Item) -> dict[str, int]:
    """Fabrics of which something is left, or on sale, that holds a part lying either way: how many cells are left."""
    left: dict[str, int] = {}
    for sheet, table in _free_sheets(run, layout):
        if holds(table, item.w, item.l) or holds(table, item.l, item.w):
            name = run.job.fabrics[sheet.fabric].name
            left[name] = left.get(name, 0) + int(table[-1, -1])
    for sheet in run.model.sheets:
        if sheet.offered is not None and item.rank == 0:
            left.setdefault(run.job.fabrics[sheet.fabric].name, 0)
    return left


def _free_sheets(run: Context, layout: Layout) -> list[tuple[Sheet, Ints]]:
    """What is left of every sheet that is at hand or bought: summed areas of the cells that nothing lies on."""
    taken: dict[tuple[int, int], list[tuple[int, int, int, int]]] = {}
    for p in layout.placements:
        taken.setdefault((p.sheet, p.copy), []).append((p.x, p.y, p.w, p.l))
    rungs = {(p.sheet, p.copy): p.rung for p in layout.purchases}
    free = []
    for s, sheet in enumerate(run.model.sheets):
        copies = (
            range(sheet.copies)
            if sheet.offered is None
            else [c for (k, c) in rungs if k == s]
        )
        for copy in copies:
            rows = sheet.ladder[rungs[s, copy]].rows if sheet.ladder else sheet.rows
            cells = (
                np.ones((sheet.cols, rows), np.bool_)
                if sheet.cells is None
                else sheet.cells.copy()
            )
            for x, y, w, l in taken.get((s, copy), ()):
                cells[x : x + w, y : y + l] = False
            free.append((sheet, summed(cells)))
    return free
