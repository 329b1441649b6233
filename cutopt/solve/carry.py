"""A plan carried over to a job that differs a little, so that a search for that begins where the plan is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace

from cutopt.solve.arrays import Arrays, Layout, Placement, State, units_of
from cutopt.solve.engine import Engine
from cutopt.solve.kernels import state as k
from cutopt.solve.kernels.search import open_pile
from cutopt.solve.model import Model
from cutopt.solve.refill import lay_on


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """A plan of `model`, and which sheet and copy of the other job each of its own has become.

    What is not named in `becomes` keeps its place; rows are known by their key.
    """

    model: Model
    layout: Layout
    becomes: Mapping[tuple[int, int], tuple[int, int]]

    def begin(self, engine: Engine) -> None:
        """Make the plan the best state of a new search; parts that have no place in the other job are missing there."""
        engine.best = self.laid(engine)

    def laid(self, engine: Engine) -> State:
        """The plan as a state of a new search."""
        arrays, state = engine.arrays, engine.nothing()
        open_pile(arrays.problem, state)
        first = {sheet: inst for inst, (sheet, copy) in reversed(list(enumerate(arrays.instances)))}
        for (sheet, copy), parts in self._by_cloth(arrays).items():
            inst = first[sheet] + copy
            if arrays.model.sheets[sheet].ladder or state.inst[inst, k.OPEN]:
                lay_on(arrays, state, inst, parts, engine.asked)
        return state

    def _by_cloth(self, arrays: Arrays) -> dict[tuple[int, int], list[Placement]]:
        """The placements in terms of the other job, as many of each row as it wants."""
        found: dict[tuple[int, int], list[Placement]] = defaultdict(list)
        units, room = _Units(self.model, arrays), arrays.wanted.tolist()
        for p in self.layout.placements:
            unit = units.of(p.unit)
            if unit is not None and room[unit] > 0:
                item = arrays.items[unit]
                room[unit] -= item.amount(max(p.w, p.l))
                sheet, copy = self.becomes.get((p.sheet, p.copy), (p.sheet, p.copy))
                found[sheet, copy].append(replace(p, sheet=sheet, copy=copy, unit=unit))
        return found


class _Units:
    """Units of a plan as units of another job: of a row of strips the first that the plan has become the first."""

    def __init__(self, model: Model, arrays: Arrays) -> None:
        self._keys = [model.items[unit.item].row.key for unit in units_of(model)]
        self._free: dict[str, list[int]] = defaultdict(list)
        for number in reversed(range(len(arrays.units))):
            self._free[arrays.items[number].row.key].append(number)
        self._known: dict[int, int | None] = {}

    def of(self, unit: int) -> int | None:
        """The unit that a unit of the plan has become; None where the other job has none for it."""
        if unit not in self._known:
            free = self._free[self._keys[unit]]
            self._known[unit] = free.pop() if free else None
        return self._known[unit]
