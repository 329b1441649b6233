"""Why something is short, in the maker's words, and what would mend it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from cutopt.job import standing
from cutopt.lengths import format_length
from cutopt.plan import Short
from cutopt.solve.arrays import Ints, Layout
from cutopt.solve.buymore import limit_mends, purchase_mends
from cutopt.solve.mends import hopeless_mends
from cutopt.solve.model import Item, Sheet
from cutopt.solve.raster import holds, summed
from cutopt.solve.snug import might_fit, smallest
from cutopt.solve.stop import Purse
from cutopt.solve.whatif import short_limit
from cutopt.wanted import Cut, Wanted

if TYPE_CHECKING:
    from cutopt.solve.solver import Run

_MOST_ROWS, _MOST_SEARCHES = 4, 8  # rows for which the least purchase is looked for, and rows of the shop tried
_SEARCHES_PAID = 5  # all searches for purchases together take as long as so many of full length


class Reasons:
    """Why rows are short in the plans of a run, and what mends it; `purse` pays for all searches for purchases."""

    def __init__(self, run: Run) -> None:
        self.run = run
        self.purse = Purse.of(short_limit(run), _SEARCHES_PAID)
        self._known: dict[tuple[object, ...], list[str]] = {}

    def of(self, layout: Layout, lacking: dict[str, int]) -> tuple[Short, ...]:
        """A `Short` for every row that lacks something, what must be cut first."""
        found: dict[str, list[str]] = {}
        searched = [] if self.run.engine.kernel is None else self._searched(layout, lacking)
        for number, key in enumerate(searched):
            with self.purse.part(len(searched) - number) as purse:
                found[key] = self._found(layout, lacking, key, _MOST_SEARCHES // len(searched), purse)
        spare = [] if self.run.meter.asked else _free_sheets(self.run, layout)
        return tuple(_short(self.run, layout, count, key, spare, found.get(key, [])) for key, count in lacking.items())

    def _searched(self, layout: Layout, lacking: dict[str, int]) -> list[str]:
        """The rows for which a mend is searched for, what must be cut first."""
        job, hopeless = self.run.job, self.run.hopeless
        rows = [(index, row) for index, row in enumerate(job.wanted) if row.key in lacking]
        mendable = [
            row
            for index, row in rows
            if row.importance != "if left" and not hopeless[index] and not _lost(self.run, layout, index)
        ]
        return [row.key for row in sorted(mendable, key=lambda row: row.importance != "must")][:_MOST_ROWS]

    def _found(self, layout: Layout, lacking: dict[str, int], key: str, searches: int, purse: Purse) -> list[str]:
        """What mends a row: the same where as much is bought and lacking, wherever the parts lie."""
        run, row, known = self.run, self.run.job.row(key), (key, tuple(lacking.items()), layout.purchases)
        if run.meter.asked:
            return []
        if known not in self._known:
            index = run.job.wanted.index(row)
            if fabrics := _limited(run, index):
                enough = _enough_each(run.model.items[index], fabrics)
                self._known[known] = limit_mends(run, layout, row, lacking, enough, purse)
            else:
                self._known[known] = purchase_mends(run, layout, row, lacking, searches, purse)
        return self._known[known]


def _short(run: Run, layout: Layout, count: int, key: str, spare: list[tuple[Sheet, Ints]], found: list[str]) -> Short:
    """One row that is short; `spare` is the cloth that a plan leaves, `found` are the mends that were searched for."""
    index = next(i for i, row in enumerate(run.job.wanted) if row.key == key)
    row, item = run.job.wanted[index], run.model.items[index]
    hopeless = run.hopeless[index]
    if _lost(run, layout, index):
        turns = run.job.settings.turns
        why = f"its size is not on the grid, and to cut it out takes more than {turns} changes of direction in a piece"
        mends = [f"allow more (turns in job.toml, now {turns})", "round its size to the grid"]
        return Short(for_=key, count=count, why=why, mends=tuple(mends))
    if hopeless:
        mends = [] if run.meter.asked else hopeless_mends(run.job, row)
    elif fabrics := _limited(run, index):  # neither a smaller size nor more cloth helps
        others = [] if row.together else _other_fabric(run, row, item, spare)
        return Short(for_=key, count=count, why=_limit_met(item, fabrics), mends=(*others, *found))
    else:
        mends = _other_fabric(run, row, item, spare) + _smaller(run, row, item, spare) + found
    return Short(for_=key, count=count, why=_why(run, row, item, hopeless), mends=tuple(mends))


def _lost(run: Run, layout: Layout, index: int) -> bool:
    """Whether all of a row has a place, from which it could not be cut out within the turns."""
    missed = any(layout.missing[u] for u, unit in enumerate(run.units) if unit.item == index)
    return run.job.settings.turns is not None and not missed and not run.hopeless[index]


def _limited(run: Run, index: int) -> int:
    """From how many fabrics a row may come where its limit from each is too low for all of it, else 0."""
    item = run.model.items[index]
    able = {run.model.sheets[s].fabric for s in np.flatnonzero(run.fits[index])}
    fabrics = min(len(able), 1) if item.group >= 0 else len(able)
    return fabrics if 0 < item.most_each * fabrics < item.copies else 0


def _limit_met(item: Item, fabrics: int) -> str:
    limit = f"at most {item.most_each} of the {item.copies} may come from each fabric"
    have = f"only {'one has' if fabrics == 1 else f'{fabrics} have'} cloth for it"
    rule = "all have to come from the same one (together)" if item.group >= 0 else have
    return f"{limit}, and {rule}: for all of them that limit has to be {_enough_each(item, fabrics)} (most_each)"


def _enough_each(item: Item, fabrics: int) -> int:
    """The least limit from each of so many fabrics with which a row can be had."""
    return -(-item.copies // fabrics)


def _cloth(run: Run, row: Wanted) -> str:
    """What a row may be cut from: `pear, plum or oat`, or in general words."""
    names = run.job.allowed(row)
    if len(names) <= 3:
        return " or ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))
    return "cloth of its fabrics" if row.fabrics else "cloth"


def _why(run: Run, row: Wanted, item: Item, hopeless: bool) -> str:
    unit, cloth = run.job.settings.unit, _cloth(run, row)
    size = f"{' x '.join(format_length(side, unit) for side in smallest(row))} {unit}"
    if not any(sheet.turns(item) for sheet in run.model.sheets):
        rule = ", lying in the direction it asks for" if row.grain != "any" or standing(row) else ""
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
    return f"the search found no room for all of it on the {cloth} that there is in the pile and the shop"


def _snug(run: Run, size: str, cloth: str) -> str:
    """A row of which it is not certain that no part fits; it fits nowhere on the grid."""
    step = format_length(run.model.step, run.job.settings.unit, mark=True)
    near = f"{size} comes so close to the edges of the {cloth} that there is"
    return f"{near} that cut lines {step} apart leave no room for it"


def _large_enough(run: Run, row: Wanted, item: Item) -> bool:
    """Whether a cloth of an allowed fabric would hold a part if it might lie either way."""
    allowed = run.job.allowed(row)
    for sheet in run.model.sheets:
        if run.job.fabrics[sheet.fabric].name in allowed:
            table = summed(np.ones((sheet.cols, sheet.rows), np.bool_)) if sheet.table is None else sheet.table
            if holds(table, item.w, item.l) or holds(table, item.l, item.w):
                return True
    return False


def _free_sheets(run: Run, layout: Layout) -> list[tuple[Sheet, Ints]]:
    """What is left of every sheet that is at hand or bought: summed areas of the cells that nothing lies on."""
    taken: dict[tuple[int, int], list[tuple[int, int, int, int]]] = {}
    for p in layout.placements:
        taken.setdefault((p.sheet, p.copy), []).append((p.x, p.y, p.w, p.l))
    rungs = {(p.sheet, p.copy): p.rung for p in layout.purchases}
    free = []
    for s, sheet in enumerate(run.model.sheets):
        copies = range(sheet.copies) if sheet.offered is None else [c for (k, c) in rungs if k == s]
        for copy in copies:
            rows = sheet.ladder[rungs[s, copy]].rows if sheet.ladder else sheet.rows
            cells = np.ones((sheet.cols, rows), np.bool_) if sheet.cells is None else sheet.cells.copy()
            for x, y, w, l in taken.get((s, copy), ()):  # noqa: E741
                cells[x : x + w, y : y + l] = False
            free.append((sheet, summed(cells)))
    return free


def _other_fabric(run: Run, row: Wanted, item: Item, spare: list[tuple[Sheet, Ints]]) -> list[str]:
    """Fabrics on hand that the row does not name and that have room for at least one."""
    allowed, found = run.job.allowed(row), []
    for sheet, table in spare:
        name = run.job.fabrics[sheet.fabric].name
        fits = holds(table, item.w, item.l) or holds(table, item.l, item.w)
        if name not in allowed and name not in found and fits:
            found.append(name)
    return [f"let it be cut from {name} too: there is room for at least one" for name in found[:2]]


def _smaller(run: Run, row: Wanted, item: Item, spare: list[tuple[Sheet, Ints]]) -> list[str]:
    """The nearest smaller size that the cloth left over would hold once."""
    if not isinstance(row, Cut):
        return []
    step, unit = run.model.step, run.job.settings.unit
    own = [(sheet, table) for sheet, table in spare if sheet.turns(item)]
    for less in range(1, max(2, min(item.w, item.l) // 2)):
        w, l = item.w - less, item.l - less  # noqa: E741
        for sheet, table in own:
            bits = sheet.turns(item)
            if (bits & 1 and holds(table, w, l)) or (bits & 2 and holds(table, l, w)):
                size = f"{format_length(w * step, unit)} x {format_length(l * step, unit)}"
                return [f"cut one of them {size} instead: that still fits"]
    return []
