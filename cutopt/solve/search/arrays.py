"""The model as flat arrays for the search kernel, and states of the search as placements."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from copy import copy
from dataclasses import replace
from functools import cached_property
from math import gcd
from typing import Any, TypeAlias

import numpy as np

from cutopt.solve.kernels import state as k
from cutopt.solve.model.layout import (
    BoughtSheet,
    Layout,
    Placement,
    Unit,
    fits_alone,
    units_of,
    wanted_of,
)
from cutopt.solve.model.model import Model, Sheet
from cutopt.solve.plates.plate_table import Ints

# a named tuple of arrays, see kernels/state.py
State: TypeAlias = Any


class Arrays:
    """The constants of a search, and makers of its states.

    Parameters
    ----------
    model : Model
    units : the rows as units
    wanted : how many copies (or how much length) of each unit the search may place
    closed : sheets that the search must not touch
    fits : which ways each item fits each sheet alone, see :func:`fits_alone`
    """

    def __init__(
        self,
        model: Model,
        units: tuple[Unit, ...],
        wanted: Ints,
        closed: frozenset[int],
        fits: Ints,
    ) -> None:
        self.model = model
        self.units = units
        self.wanted = wanted
        self.fits = fits
        # the search that this one leaves rows out of
        self.whole: Arrays | None = None
        self.items = [model.items[unit.item] for unit in units]
        self.instances = [
            (s, copy)
            for s, sheet in enumerate(model.sheets)
            for copy in range(sheet.copies)
        ]
        self.problem = self._problem(closed)
        self.capacity = self._capacity()

    @classmethod
    def of(cls, model: Model, closed: frozenset[int] = frozenset()) -> Arrays:
        """The constants of a search for all that a job wants."""
        units = units_of(model)
        fits = fits_alone(model)
        return cls(model, units, wanted_of(model, units, fits), closed, fits)

    def _problem(self, closed: frozenset[int]) -> Any:
        model = self.model
        items = self.items
        sheets = self.model.sheets
        turns = self.fits[[unit.item for unit in self.units]]
        turns[:, sorted(closed)] = 0
        sat, sat_at = _summed_areas(sheets)
        lad_at = np.cumsum([0, *(len(sheet.ladder) for sheet in sheets)])
        rungs = [rung for sheet in sheets for rung in sheet.ladder]
        keep = model.job.settings.keep_width, model.job.settings.keep_length
        unit = [
            (
                i.w,
                i.l,
                i.rank,
                i.strip,
                i.loss,
                i.group,
                i.most_each,
                i.w if i.strip else i.w * i.l,
            )
            for i in items
        ]
        first = np.cumsum([0, *(kind.copies for kind in sheets)]).tolist()
        sheet = [
            (
                kind.cols,
                kind.rows,
                kind.fabric,
                kind.cells is None,
                at,
                bool(kind.ladder),
                kind.wish == "use first",
                rung,
                len(kind.ladder),
                inst,
                kind.copies,
            )
            for kind, at, rung, inst in zip(sheets, sat_at, lad_at, first, strict=False)
        ]
        smallest = min((min(item.w, item.l) for item in items), default=1)
        return k.Problem(
            unit=_ints(unit).reshape(len(items), 8),
            turns=turns,
            pref=_ints(item.preference for item in items).reshape(len(items), -1),
            sheet=_ints(sheet).reshape(len(sheets), 11),
            ladder=_ints([(rung.rows, rung.cost) for rung in rungs] or [(0, 0)]),
            inst=_ints(
                (s, max(sheets[s].cost, int(sheets[s].offered is not None)))
                for s, _ in self.instances
            ).reshape(-1, 2),
            limits=_ints(
                [
                    smallest,
                    *sorted(-(-size // model.step) for size in keep),
                    model.turns or 0,
                ]
            ),
            sat=sat,
        )

    def within(self, choice: Mapping[int, int]) -> Arrays:
        """The same search, in which each group that is named may only come from this fabric."""
        turns = self.problem.turns.copy()
        for unit, item in enumerate(self.items):
            if item.group in choice:
                others = [
                    s
                    for s, sheet in enumerate(self.model.sheets)
                    if sheet.fabric != choice[item.group]
                ]
                turns[unit, others] = 0
        return self.with_turns(turns)

    def with_turns(self, turns: Ints) -> Arrays:
        """The same search, in which rows may come only from these sheets, in these ways; shape (units, sheets)."""
        return self._with(self.problem._replace(turns=turns))

    def buying(self, most: Mapping[int, int]) -> Arrays:
        """The same search, in which no more may be bought than this: copies, or rungs, of each sheet that is named."""
        turns = self.problem.turns.copy()
        sheet = self.problem.sheet.copy()
        for s, kind in enumerate(self.model.sheets):
            if kind.offered is not None:
                sheet[s, k.S_LAD_N if kind.ladder else k.S_COPIES] = most.get(s, 0)
                turns[:, s] *= s in most
        return self._with(self.problem._replace(turns=turns, sheet=sheet))

    def without(self, units: Iterable[int]) -> Arrays:
        """The same search for all rows but these units of them; `whole` is the one for all of them."""
        other = copy(self)
        other.whole = self.whole or self
        other.wanted = other.whole.wanted.copy()
        other.wanted[sorted(units)] = 0
        return other

    def _with(self, problem: Any) -> Arrays:
        other = copy(self)
        other.problem = problem
        return other

    def _capacity(self) -> int:
        """More nodes than any state can have: each part adds at most eight, each instance one or two."""
        parts = 0
        for item, wanted in zip(self.items, self.wanted.tolist(), strict=True):
            parts += (
                wanted
                if not item.strip
                else max(1, 2 + wanted // max(1, item.l - item.loss))
            )
        return int(9 * parts + 4 * len(self.instances) + 256)

    @cached_property
    def areas(self) -> Ints:
        """Cells of one of each unit (of a strip of one step of its length)."""
        return np.ascontiguousarray(self.problem.unit[:, k.U_AREA])

    @cached_property
    def cost_step(self) -> int:
        """The largest number of which all costs are multiples: no two plans differ by less."""
        return (
            gcd(
                *self.problem.ladder[:, k.L_COST].tolist(),
                *self.problem.inst[:, k.I_COST].tolist(),
            )
            or 1
        )

    def state(self, seed: int) -> State:
        """An empty state: nothing placed, nothing open."""
        n = self.capacity
        units = len(self.items)
        fabrics = len(self.model.job.fabrics)
        node = np.zeros((n, k.WIDTH), dtype=np.int64)
        node[:, k.KIND] = k.UNUSED
        misc = np.zeros(6, dtype=np.int64)
        misc[k.RNG] = seed * 7919 % 2147483646 + 1
        inst = np.zeros((len(self.instances), 3), dtype=np.int64)
        inst[:, k.ROOT] = -1
        groups = np.zeros((len(self.model.groups), 2), dtype=np.int64)
        groups[:, 0] = -1
        return k.State(
            node=node,
            flat=node.reshape(-1),
            inst=inst,
            rem=self.wanted.copy(),
            cnt=np.zeros((units, fabrics), dtype=np.int64),
            grp=groups,
            fab=np.full(fabrics, -1, dtype=np.int64),
            misc=misc,
            freed=np.zeros(n, dtype=np.int64),
            leaf=np.zeros((n, 5), dtype=np.int64),
        )

    def scratch(self) -> Any:
        """Work space of the kernel."""
        n = self.capacity
        units = max(1, len(self.items))
        return k.Scratch(
            stack=np.zeros(n, dtype=np.int64),
            order=np.zeros(units, dtype=np.int64),
            key=np.zeros(units, dtype=np.int64),
            spot=np.zeros(9, dtype=np.int64),
            todo=np.zeros(n, dtype=np.int64),
            mark=np.zeros((n, 4), dtype=np.int64),
        )

    def layout(self, state: State) -> Layout:
        """What a state has placed, bought and missed, in a fixed order."""
        nodes = state.node[: state.misc[k.TOP]]
        parts = nodes[nodes[:, k.KIND] == k.PART]
        placements = []
        for row in parts.tolist():
            if self.items[row[k.ITEM]].strip and state.rem[row[k.ITEM]] > 0:
                # a strip that is not complete is not cut at all
                continue
            sheet, copy = self.instances[row[k.INST]]
            placements.append(
                Placement(
                    sheet=sheet,
                    copy=copy,
                    unit=row[k.ITEM],
                    x=row[k.PX],
                    y=row[k.PY],
                    w=row[k.PW],
                    l=row[k.PL],
                    turned=bool(row[k.TURN]),
                )
            )
        placements.sort(key=lambda p: (p.sheet, p.copy, p.y, p.x, p.unit))
        purchases = [
            BoughtSheet(
                sheet=s,
                copy=copy,
                rung=int(state.inst[n, k.RUNG]) if self.model.sheets[s].ladder else -1,
            )
            for n, (s, copy) in enumerate(self.instances)
            if self.model.sheets[s].offered is not None and state.inst[n, k.OPEN]
        ]
        # nothing is bought for a strip that is not cut
        if len(placements) < len(parts):
            purchases = list(self._needed(purchases, placements))
        return Layout(
            placements=tuple(placements),
            purchases=tuple(purchases),
            missing=tuple(max(0, int(left)) for left in state.rem),
            cost=self._cost(purchases),
        )

    def _needed(
        self, purchases: list[BoughtSheet], placements: list[Placement]
    ) -> Iterator[BoughtSheet]:
        """Of what is bought the cloth that gives something, and of a length no more than that takes."""
        for purchase in purchases:
            mine = [
                p
                for p in placements
                if (p.sheet, p.copy) == (purchase.sheet, purchase.copy)
            ]
            if not mine:
                continue
            if purchase.rung < 0:
                yield purchase
                continue
            rows = max(p.y + p.l for p in mine)
            ladder = self.model.sheets[purchase.sheet].ladder
            yield replace(
                purchase,
                rung=next(r for r, rung in enumerate(ladder) if rung.rows >= rows),
            )

    def _cost(self, purchases: list[BoughtSheet]) -> int:
        sheets = self.model.sheets
        return sum(
            sheets[p.sheet].ladder[p.rung].cost if p.rung >= 0 else sheets[p.sheet].cost
            for p in purchases
        )


def _ints(values: Any) -> Ints:
    return np.array(list(values), dtype=np.int64)


def _summed_areas(sheets: tuple[Sheet, ...]) -> tuple[Ints, Ints]:
    tables = [
        np.zeros(0, np.int64) if sheet.table is None else sheet.table.ravel()
        for sheet in sheets
    ]
    starts = np.cumsum([0, *(table.size for table in tables)])
    return np.concatenate([*tables, np.zeros(1, np.int64)]), _ints(starts[:-1])
