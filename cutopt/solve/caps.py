"""How many of a row any plan could cut at most: a bound on what must be left out."""

from __future__ import annotations

from cutopt.solve.arrays import Layout
from cutopt.solve.model import Item, Model, Sheet
from cutopt.solve.plates import Part, best_plate


def least_left_out(model: Model, item: Item, layout: Layout) -> int:
    """How many of a row every plan leaves out that costs no more than this layout.

    Each cloth is counted as if it served this row alone; a rectangle exactly (one size, both directions, see
    :func:`cutopt.solve.plates.best_plate`), another outline by its area.
    """
    if item.strip:
        return 0
    most = sum(_most(item, sheet, layout.cost) for sheet in model.sheets if sheet.turns(item))
    return max(0, item.copies - most)


def _most(item: Item, sheet: Sheet, cost: int) -> int:
    rows, copies = sheet.rows, sheet.copies
    if sheet.ladder:
        rows = max((rung.rows for rung in sheet.ladder if rung.cost <= cost), default=0)
    elif sheet.offered is not None and sheet.cost:
        copies = min(copies, cost // sheet.cost)
    if not rows or not copies:
        return 0
    if sheet.cells is not None:
        return copies * (sheet.area // (item.w * item.l))
    part = Part(w=item.w, h=item.l, value=1, turns=sheet.turns(item))
    return copies * best_plate(sheet.cols, rows, [part])[0]
