"""What a plan leaves of the cloth at hand and of what it buys."""

from __future__ import annotations

import numpy as np

from cutopt.solve.context import Context
from cutopt.solve.model.cells import holds, summed
from cutopt.solve.model.layout import Layout
from cutopt.solve.model.model import Item, Sheet
from cutopt.solve.plates.plate_table import Ints


def cloth_left(run: Context, layout: Layout, item: Item) -> dict[str, int]:
    """Fabrics of which something is left, or on sale, that holds a part lying either way: how many cells are left.

    Parameters
    ----------
    run : Context
    layout : Layout
    item : Item
    """
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
            if sheet.ladder:
                rows = sheet.ladder[rungs[s, copy]].rows
            else:
                rows = sheet.rows
            if sheet.cells is None:
                cells = np.ones((sheet.cols, rows), np.bool_)
            else:
                cells = sheet.cells.copy()
            for x, y, w, l in taken.get((s, copy), ()):
                cells[x : x + w, y : y + l] = False
            free.append((sheet, summed(cells)))
    return free
