"""Why a row is short, in the maker's words: a rule of hers, a size that fits nowhere, or no room found."""

from __future__ import annotations

import numpy as np

from cutopt.lengths import format_length
from cutopt.solve.bounds.most_of_a_row import most_cut
from cutopt.solve.bounds.off_grid import might_fit, smallest
from cutopt.solve.context import Context
from cutopt.solve.explain.changed_jobs import set_of
from cutopt.solve.explain.trials import listed
from cutopt.solve.model.cells import holds, summed
from cutopt.solve.model.layout import Layout
from cutopt.solve.model.model import Item
from cutopt.solve.search.prepare import is_ready
from cutopt.wanted import Wanted


def lost(run: Context, layout: Layout, index: int) -> bool:
    """Whether all of a row has a place, from which it could not be cut out within the turns.

    Parameters
    ----------
    run : Context
    layout : Layout
    index : int
        Of the row in the model.
    """
    missed = any(
        layout.missing[u] for u, unit in enumerate(run.units) if unit.item == index
    )
    return run.job.settings.turns is not None and not missed and not run.hopeless[index]


def limited(run: Context, index: int) -> int:
    """From how many fabrics a row may come where its limit from each is too low for all of it, else 0."""
    item = run.model.items[index]
    able = {run.model.sheets[s].fabric for s in np.flatnonzero(run.fits[index])}
    if item.group >= 0:
        fabrics = min(len(able), 1)
    else:
        fabrics = len(able)
    if 0 < item.most_each * fabrics < item.copies:
        return fabrics
    return 0


def excluded(run: Context, row: Wanted) -> str:
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


def limit_met(item: Item, fabrics: int) -> str:
    """That a limit from each fabric is too low for all of a row."""
    limit = f"at most {item.most_each} of the {item.copies} may come from each fabric"
    have = f"only {'one has' if fabrics == 1 else f'{fabrics} have'} cloth for it"
    if item.group >= 0:
        rule = "all have to come from the same one (together)"
    else:
        rule = have
    return f"{limit}, and {rule}: for all of them that limit has to be {enough_each(item, fabrics)} (most_each)"


def enough_each(item: Item, fabrics: int) -> int:
    """The least limit from each of so many fabrics with which a row can be had."""
    return -(-item.copies // fabrics)


def _cloth(run: Context, row: Wanted) -> str:
    """What a row may be cut from: `pear, plum or oat`, or in general words."""
    names = run.job.allowed(row)
    if len(names) <= 3:
        return " or ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))
    if row.fabrics:
        return "cloth of its fabrics"
    return "cloth"


def why_short(run: Context, row: Wanted, item: Item, hopeless: bool) -> str:
    """Why a row is short that no limit and no set of rows keeps short.

    Parameters
    ----------
    run : Context
    row : Cut or Strip
    item : Item
        The row in the model.
    hopeless : bool
        Whether not one of it fits any cloth.
    """
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
        if otherwise:
            rule = ", lying in the direction it asks for"
        else:
            rule = ""
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
    if run.meter.asked or not is_ready():
        most = item.copies
    else:
        most = most_cut(run.model, item)
    if most < item.copies:
        return f"{_at_most(most, item.copies)}, even if nothing else is: {there} there is room for no more"
    return f"the search found no room for all of it {there}"


def _at_most(most: int, wanted: int) -> str:
    if most:
        return f"at most {most} of the {wanted} can be cut"
    if wanted == 1:
        return "it cannot be cut"
    return "none of them can be cut"


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
            if sheet.table is None:
                table = summed(np.ones((sheet.cols, sheet.rows), np.bool_))
            else:
                table = sheet.table
            if holds(table, item.w, item.l) or holds(table, item.l, item.w):
                return True
    return False
