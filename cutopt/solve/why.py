"""Why something is short, in the maker's words, and what would mend it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from cutopt.lengths import format_length
from cutopt.plan import Short
from cutopt.solve.arrays import Ints, Layout
from cutopt.solve.buymore import purchase_mends
from cutopt.solve.mends import hopeless_mends
from cutopt.solve.model import Item, Sheet
from cutopt.solve.raster import holds, summed
from cutopt.wanted import Cut, Wanted

if TYPE_CHECKING:
    from cutopt.solve.solver import Run

_MOST_ROWS, _MOST_SEARCHES = 4, 8  # rows for which the least purchase is looked for, and rows of the shop tried


def shorts(run: Run, layout: Layout, lacking: dict[str, int]) -> tuple[Short, ...]:
    """A `Short` for every row that lacks something."""
    searched = sorted(lacking, key=lambda key: run.job.row(key).importance != "must")[:_MOST_ROWS]
    searches = dict.fromkeys(searched, _MOST_SEARCHES // max(1, len(searched)))
    return tuple(_short(run, layout, lacking, key, searches.get(key, 0)) for key in lacking)


def _short(run: Run, layout: Layout, lacking: dict[str, int], key: str, searches: int) -> Short:
    index = next(i for i, row in enumerate(run.job.wanted) if row.key == key)
    row, item = run.job.wanted[index], run.model.items[index]
    hopeless = run.hopeless[index]
    turns = run.job.settings.turns
    if turns is not None and not _missed(run, layout, index):  # it has a place, from which it could not be cut out
        why = f"its size is not on the grid, and to cut it out takes more than {turns} changes of direction in a piece"
        mends = [f"allow more (turns in job.toml, now {turns})", "round its size to the grid"]
        return Short(for_=key, count=lacking[key], why=why, mends=tuple(mends))
    if hopeless:
        mends = [] if run.meter.asked else hopeless_mends(run.job, row)
    else:
        spare = [] if run.meter.asked else _free_sheets(run, layout)
        mends = _other_fabric(run, row, item, spare) + _smaller(run, row, item, spare)
        if searches and row.importance != "if left" and run.engine.kernel is not None and not run.meter.asked:
            mends += purchase_mends(run, layout, row, lacking, searches)
    return Short(for_=key, count=lacking[key], why=_why(run, row, item, hopeless), mends=tuple(mends))


def _missed(run: Run, layout: Layout, index: int) -> int:
    """How much of a row the search found no place for."""
    missed = sum(layout.missing[u] for u, unit in enumerate(run.units) if unit.item == index)
    return missed if not run.hopeless[index] else 1


def _cloth(run: Run, row: Wanted) -> str:
    """What a row may be cut from: `pear, plum or oat`, or in general words."""
    names = run.job.allowed(row)
    if len(names) <= 3:
        return " or ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))
    return "cloth of its fabrics" if row.fabrics else "cloth"


def _why(run: Run, row: Wanted, item: Item, hopeless: bool) -> str:
    unit, cloth = run.job.settings.unit, _cloth(run, row)
    long = row.length if isinstance(row, Cut) else min(row.shortest, row.total_length)
    size = f"{format_length(row.width, unit)} x {format_length(long, unit)} {unit}"
    if not any(sheet.turns(item) for sheet in run.model.sheets):
        rule = ", lying in the direction it asks for" if row.grain != "any" or getattr(row, "upright", False) else ""
        return f"neither the pile nor the shop has any {cloth} for it{rule}"
    if hopeless and _large_enough(run, row, item):
        return f"{size} would fit on the {cloth} that there is, but its grain or print would run the wrong way"
    if hopeless:
        return f"no {cloth} in the pile or the shop is large enough for {size}"
    if row.importance != "must":
        return f"this plan leaves too little {cloth} for it, and new cloth is bought only for what must be cut"
    return f"the search found no room for all of it on the {cloth} that there is in the pile and the shop"


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
