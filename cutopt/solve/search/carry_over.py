"""A plan carried over to a job that differs a little, so that a search for that begins where the plan is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace

from cutopt.solve.kernels import state as k
from cutopt.solve.kernels.buying import open_piece
from cutopt.solve.kernels.search import open_pile
from cutopt.solve.model.layout import Layout, Placement, units_of
from cutopt.solve.model.model import Item, Model
from cutopt.solve.search.arrays import Arrays, State
from cutopt.solve.search.engine import Engine
from cutopt.solve.search.refill import lay_on


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """A plan of `model`, and which sheet and copy of the other job each of its own has become.

    What is not named in `becomes` keeps its place, and what has become None is not there any more; rows are known by
    their key, and each part has the size that its row has in the other job.
    """

    model: Model
    layout: Layout
    becomes: Mapping[tuple[int, int], tuple[int, int] | None]

    def begin(self, engine: Engine) -> None:
        """Make the plan the best state of a new search; parts that have no place in the other job are missing there."""
        engine.best = self.laid(engine)

    def laid(self, engine: Engine) -> State:
        """The plan as a state of a new search."""
        arrays = engine.arrays
        state = engine.nothing()
        open_pile(arrays.problem, state)
        first = {
            sheet: inst
            for inst, (sheet, copy) in reversed(list(enumerate(arrays.instances)))
        }
        for (sheet, copy), parts in self._by_cloth(arrays).items():
            cloth = arrays.model.sheets[sheet]
            inst = first[sheet] + copy
            if cloth.offered is not None and not cloth.ladder:
                open_piece(arrays.problem, state, inst)
            if cloth.ladder or state.inst[inst, k.OPEN]:
                lay_on(arrays, state, inst, parts, engine.asked)
        return state

    def _by_cloth(self, arrays: Arrays) -> dict[tuple[int, int], list[Placement]]:
        """The placements in terms of the other job, as many of each row as it wants."""
        found: dict[tuple[int, int], list[Placement]] = defaultdict(list)
        units = _Units(self.model, arrays)
        room = arrays.wanted.tolist()
        for p in self.layout.placements:
            unit = units.of(p.unit)
            cloth = self.becomes.get((p.sheet, p.copy), (p.sheet, p.copy))
            if unit is None or cloth is None or room[unit] <= 0:
                continue
            item = arrays.items[unit]
            part = _sized(replace(p, sheet=cloth[0], copy=cloth[1], unit=unit), item)
            if part.w <= p.w and part.l <= p.l:
                room[unit] -= item.amount(max(part.w, part.l))
                found[cloth].append(part)
        return found


def _sized(part: Placement, item: Item) -> Placement:
    """A part with the size that its row has in the other job; a segment of a strip keeps its length."""
    across = item.w
    along = item.l
    if item.strip:
        if part.turned:
            along = part.w
        else:
            along = part.l
    w, l = (along, across) if part.turned else (across, along)
    return replace(part, w=w, l=l)


def worth(engine: Engine, state: State) -> tuple[int, int, int, int]:
    """What must be cut and is missing, the cost, then what is wished for and missing: the less the better.

    Of a strip that is not whole all is missing: it is not cut at all.
    """
    lost = [0, 0, 0]
    for unit, item in enumerate(engine.arrays.items):
        if state.rem[unit] > 0:
            if item.strip:
                left = engine.arrays.wanted[unit]
            else:
                left = state.rem[unit]
            lost[item.rank] += int(left * engine.arrays.areas[unit])
    must, nice, if_left = lost
    return must, int(state.misc[k.COST]), nice, if_left


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
