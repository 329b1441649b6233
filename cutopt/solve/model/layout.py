"""What the search finds, in grid steps: placements and purchases; and the units that it counts."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cutopt.solve.model.cells import holds
from cutopt.solve.model.model import Model, Sheet
from cutopt.solve.plates.plate_table import TURNED, UNTURNED, Ints


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """One part on one cloth instance, in grid steps of its sheet; `l` is the extent along the selvage."""

    sheet: int
    copy: int
    unit: int
    x: int
    y: int
    w: int
    l: int
    turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BoughtSheet:
    """A bought instance: its sheet, which copy, and the rung of the ladder (-1 for cloth by the piece)."""

    sheet: int
    copy: int
    rung: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """What the search found: placements, purchases, and what is missing of each unit."""

    placements: tuple[Placement, ...]
    purchases: tuple[BoughtSheet, ...]
    missing: tuple[int, ...]
    cost: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """A row as the kernel counts it: a row of cuts, or one strip of a row of strips."""

    item: int
    copies: int


def units_of(model: Model) -> tuple[Unit, ...]:
    """Each row of cuts is one unit; each strip of a row of strips is one, with its own length to reach."""
    units = []
    for i, item in enumerate(model.items):
        units += (
            [Unit(item=i, copies=1)] * item.copies
            if item.strip
            else [Unit(item=i, copies=item.copies)]
        )
    return tuple(units)


def wanted_of(model: Model, units: tuple[Unit, ...], fits: Ints) -> Ints:
    """How many copies (or how much length) of each unit a search may place: all, but none of what fits no cloth.

    Parameters
    ----------
    model : Model
    units : tuple of Unit
    fits : array (items, sheets)
        As :func:`fits_alone` makes it.
    """
    possible = [bool(ways.any()) for ways in fits]
    wanted = [
        (model.items[unit.item].need or unit.copies) * possible[unit.item]
        for unit in units
    ]
    return np.array(wanted, dtype=np.int64)


def fits_alone(model: Model) -> Ints:
    """Which ways (bits UNTURNED and TURNED) one part of each item fits each empty sheet; shape (items, sheets)."""
    fits = np.zeros((len(model.items), len(model.sheets)), dtype=np.int64)
    for s, sheet in enumerate(model.sheets):
        for i, item in enumerate(model.items):
            for bit, (w, l) in (
                (UNTURNED, (item.w, item.l)),
                (TURNED, (item.l, item.w)),
            ):
                if sheet.turns(item) & bit and _fits(sheet, w, l):
                    fits[i, s] |= bit
    return fits


def _fits(sheet: Sheet, w: int, l: int) -> bool:
    if sheet.table is None:
        return w <= sheet.cols and l <= sheet.rows
    return holds(sheet.table, w, l)
