"""Strips cut anew at no more cost: straight across the width, of one fabric, lying one way.

The search counts a seam only once money is settled, and a strip that lies in ten corners of a length stays there
where each corner by itself is as good as any other place. Here whole strips are taken out at once, laid in bands across
the whole width, and what they leave is searched for as a job of its own; or one that is mixed is searched for with a
rule of its own.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, TypeAlias

from cutopt.solve.control.stop import Meter
from cutopt.solve.kernels import state as k
from cutopt.solve.kernels.returning import rung_below, trim
from cutopt.solve.kernels.score import missing
from cutopt.solve.kernels.settle import settle_all
from cutopt.solve.kernels.tree import clear
from cutopt.solve.model.layout import Placement
from cutopt.solve.model.model import Item, Rung
from cutopt.solve.model.weights import weigh
from cutopt.solve.plates.plate_table import TURNED, UNTURNED, Ints
from cutopt.solve.search.arrays import Arrays, State
from cutopt.solve.search.descent import EVERYTHING, NO_LIMIT
from cutopt.solve.search.refill import lay_on

if TYPE_CHECKING:
    from cutopt.solve.search.engine import Engine

# rounds without everything in its place after which a search for the rest is given up
_PATIENCE = 600
# such searches, at most
_SEARCHES = 16
_LESS_LIKED = weigh(must=0, preference=1)

Worth: TypeAlias = tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SewnStrips:
    """One strip as a state has it: how many segments, and cells of each (fabric, whether turned)."""

    segments: int
    kinds: Counter[tuple[int, bool]]

    @property
    def fabrics(self) -> int:
        """From how many fabrics it is."""
        return len({fabric for fabric, _ in self.kinds})

    @property
    def ways(self) -> int:
        """How many ways its segments lie."""
        return len({turned for _, turned in self.kinds})

    @property
    def mixed(self) -> bool:
        """Whether it is of several fabrics, or lies both ways."""
        return len(self.kinds) > 1


class StripsAnew:
    """The strips of the best states of a run.

    Parameters
    ----------
    engine : Engine
        Its best state is replaced by better ones.
    """

    def __init__(self, engine: Engine) -> None:
        self.engine = engine
        self.arrays: Arrays = engine.arrays
        self.scratch = engine.arrays.scratch()
        # what was searched for and not found: another state may ask for the same
        self.vain: set[Hashable] = set()
        self.searches = 0
        self._most = 0
        self._meter = engine.meter

    def better(self, meter: Meter) -> bool:
        """Cut strips of the best state anew where they are mixed, or of more segments than straight ones.

        What must be cut, the cost, what is wished for and how well fabrics are liked stay as good as they are, or get
        better; cuts and spare cloth may not. Strips that are not whole stay as they are. Returns whether the best
        state was replaced; `meter` says what may be spent on that.
        """
        if self.engine.kernel in (None, self.engine.plain):
            return False
        self._meter = meter
        self._most = self.searches + _SEARCHES
        before = self.worth(self.engine.best)
        self._across()
        self._unmix()
        return self.worth(self.engine.best) < before

    def over(self) -> bool:
        """Whether to stop."""
        return self._meter.over() or self.searches >= self._most

    def beside(self, arrays: Arrays) -> Engine:
        """A search for a part of the job."""
        self.searches += 1
        return self.engine.beside(arrays, self.searches, self._meter)

    def worth(self, state: State) -> Worth:
        """What must not get worse, then what mixed strips and segments there are: the less the better."""
        problem = self.arrays.problem
        lacking = [int(missing(problem, state, rank)) for rank in range(3)]
        sewn = self.sewn(state).values()
        return (
            lacking[0],
            int(state.misc[k.COST]),
            *lacking[1:],
            self.engine.score(state, _LESS_LIKED),
            sum(strip.fabrics > 1 for strip in sewn),
            sum(strip.ways > 1 for strip in sewn),
            sum(strip.segments for strip in sewn),
        )

    def sewn(self, state: State) -> dict[int, SewnStrips]:
        """The whole strips of a state, by unit."""
        kinds: dict[int, Counter[tuple[int, bool]]] = {}
        many: Counter[int] = Counter()
        for row in self.segments(state):
            unit = int(row[k.ITEM])
            sheet = self.arrays.instances[int(row[k.INST])][0]
            kind = self.arrays.model.sheets[sheet].fabric, bool(row[k.TURN])
            kinds.setdefault(unit, Counter())[kind] += int(row[k.PW] * row[k.PL])
            many[unit] += 1
        return {
            unit: SewnStrips(segments=many[unit], kinds=kinds[unit])
            for unit in sorted(kinds)
            if state.rem[unit] <= 0
        }

    def segments(self, state: State) -> Iterator[Any]:
        """The nodes of a state that hold a segment of a strip."""
        nodes = state.node[: state.misc[k.TOP]]
        for row in nodes[nodes[:, k.KIND] == k.PART]:
            if self.arrays.items[row[k.ITEM]].strip:
                yield row

    def without(self, goes: Callable[[int, int, bool], bool]) -> State:
        """The best state without the segments for which this holds, given unit, instance and whether turned."""
        state = self.arrays.state(1)
        self.engine.copy(self.engine.best, state)
        nodes = state.node[: state.misc[k.TOP]]
        touched = set()
        for n in (nodes[:, k.KIND] == k.PART).nonzero()[0]:
            unit, inst, turned = (int(v) for v in nodes[n, [k.ITEM, k.INST, k.TURN]])
            if self.arrays.items[unit].strip and goes(unit, inst, bool(turned)):
                clear(self.arrays.problem, state, self.scratch, n)
                touched.add(inst)
        for inst in sorted(touched):
            settle_all(self.arrays.problem, state, self.scratch, inst)
        return state

    def take(self, state: State) -> bool:
        """Let a state be the best one if it is better; whether it is."""
        better = self.worth(state) < self.worth(self.engine.best)
        if better:
            self.engine.copy(state, self.engine.best)
        return better

    # -- straight across ---------------------------------------------------------------------------

    def _across(self) -> None:
        """Strips from whole widths of one bought length, as many of them at once as that goes well for."""
        for inst, (s, _) in enumerate(self.arrays.instances):
            sheet = self.arrays.model.sheets[s]
            if not sheet.ladder or sheet.cells is not None:
                continue
            if not self.engine.best.inst[inst, k.OPEN]:
                continue
            length = _Length(self, inst)
            for units, loose in length.choices():
                if self.over():
                    return
                if length.better_across(units):
                    length.cut_across(units, loose=loose)

    # -- one fabric, one way -----------------------------------------------------------------------

    def _unmix(self) -> None:
        """Each strip that is mixed from one of its fabrics alone, lying one way."""
        for unit, strip in self.sewn(self.engine.best).items():
            for fabric, turned in [kind for kind, _ in strip.kinds.most_common()]:
                if self.over() or not strip.mixed or self._of_one(unit, fabric, turned):
                    break

    def _of_one(self, unit: int, fabric: int, turned: bool) -> bool:
        """Search for a strip from one fabric, lying one way, and all else beside it."""
        engine = self.engine
        sheets = self.arrays.model.sheets
        instances = self.arrays.instances
        turns = self.arrays.problem.turns.copy()
        for s, sheet in enumerate(sheets):
            if turned:
                may = TURNED
            else:
                may = UNTURNED
            turns[unit, s] &= may if sheet.fabric == fabric else 0

        def other(u: int, inst: int, lies: bool) -> bool:
            kind = sheets[instances[inst][0]].fabric, lies
            return u == unit and kind != (fabric, turned)

        part = self.beside(self.arrays.with_turns(turns))
        try:
            part.best = self.without(other)
            engine.kernel.fill_up(part.arrays.problem, part.best, self.scratch)
            if part.missing():
                _place(part, engine.cost)
            return self.take(part.best)
        finally:
            part.close()


class _Length:
    """A bought length, from which strips may be cut straight across."""

    def __init__(self, task: StripsAnew, inst: int) -> None:
        self.task = task
        self.arrays = task.arrays
        self.inst = inst
        self.sheet, self.copy = task.arrays.instances[inst]
        self.cloth = task.arrays.model.sheets[self.sheet]

    def choices(self) -> list[tuple[list[int], bool]]:
        """Strips to be cut across together, all of them first, and whether their ends are left to the search."""
        here = {int(row[k.ITEM]) for row in self._segments_here()}
        sewn = self.task.sewn(self.task.engine.best)
        able = [unit for unit in sewn if self._able(unit)]
        better = self.better_across(able)
        both = [unit for unit in able if unit in here or unit in better]
        rows: dict[int, list[int]] = {}
        for unit in both:
            rows.setdefault(self.arrays.units[unit].item, []).append(unit)
        sets = [both, *rows.values(), *([unit] for unit in better)]
        once = list(dict.fromkeys(tuple(units) for units in sets if units))
        return [(list(units), loose) for loose in (False, True) for units in once]

    def better_across(self, units: Sequence[int]) -> list[int]:
        """Those strips that would be of fewer segments across, or are mixed."""
        sewn = self.task.sewn(self.task.engine.best)
        return [
            unit
            for unit in units
            if sewn[unit].mixed or sewn[unit].segments > self._bands(unit) + 1
        ]

    def _segments_here(self) -> Iterator[Any]:
        rows = self.task.segments(self.task.engine.best)
        return (row for row in rows if row[k.INST] == self.inst)

    def _able(self, unit: int) -> bool:
        """Whether a strip may be cut from here, lying across."""
        item = self.arrays.items[unit]
        turns = int(self.arrays.problem.turns[unit, self.sheet])
        wide = self.cloth.cols
        if not turns & TURNED or max(item.l, item.loss + 1) > wide:
            return False
        fabrics = self.task.engine.best.cnt[unit].nonzero()[0].tolist()
        return item.group < 0 or fabrics == [self.cloth.fabric]

    def _bands(self, unit: int) -> int:
        """How many whole widths a strip takes before the last segment."""
        item = self.arrays.items[unit]
        return -(-item.need // (self.cloth.cols - item.loss)) - 1

    def cut_across(self, units: Sequence[int], *, loose: bool = False) -> bool:
        """Cut these strips anew, and all else that comes from this length beside them; whether that is better.

        Parameters
        ----------
        units : sequence of int
        loose : bool
            Whether only half of each strip is laid in whole widths, and the search finds the rest of it.
        """
        engine = self.task.engine
        problem = self.arrays.problem
        scratch = self.task.scratch
        state = self.task.without(lambda unit, *_: unit in units)
        clear(problem, state, scratch, int(state.inst[self.inst, k.ROOT]))
        trim(problem, state, scratch)
        rung = rung_below(problem, self.sheet, engine.cost - int(state.misc[k.COST]))
        if rung < 0:
            return False
        bands = {unit: self._bands(unit) // (1 + loose) for unit in units}
        lies = self._banded(bands)
        rows = max((lie.y + lie.l for lie in lies), default=0)
        wanted = state.rem.clip(min=0) - engine.best.rem.clip(min=0)
        for unit, many in bands.items():
            wanted[unit] -= many * (self.cloth.cols - self.arrays.items[unit].loss)
        free = replace(
            self.cloth.ladder[rung], rows=self.cloth.ladder[rung].rows - rows
        )
        rest = self._rest(self._job(free, wanted, units, loose=loose), rows)
        if rest is None:
            return False
        lies += rest
        if not lay_on(self.arrays, state, self.inst, lies, engine.asked):
            return False
        return self.task.take(state)

    def _banded(self, bands: Mapping[int, int]) -> list[Placement]:
        """Segments as long as the cloth is wide, one beside the other from the beginning of the length."""
        lies = list[Placement]()
        rows = 0
        for unit, many in bands.items():
            for _ in range(many):
                band = Placement(
                    sheet=self.sheet,
                    copy=self.copy,
                    unit=unit,
                    x=0,
                    y=rows,
                    w=self.cloth.cols,
                    l=self.arrays.items[unit].w,
                    turned=True,
                )
                lies.append(band)
                rows += band.l
        return lies

    def _job(
        self, free: Rung, wanted: Ints, units: Sequence[int], *, loose: bool
    ) -> Arrays | None:
        """The search for all that is wanted in what is free of the length; None where it is too short.

        Parameters
        ----------
        free : Rung
            What is left of the length that may be bought.
        wanted : int array (units,)
            How much of each unit is to be found there.
        units : sequence of int
            Strips that are cut across.
        loose : bool
            Whether their ends may be of several segments.
        """
        arrays = self.arrays
        sheets = list(arrays.model.sheets)
        if free.rows <= 0:
            return None
        sheets[self.sheet] = replace(self.cloth, ladder=(free,), rows=free.rows)
        items = [replace(item, rank=0) for item in arrays.items]
        for unit in () if loose else units:
            items[unit] = _of_one_segment(items[unit], int(wanted[unit]))
        # every unit gets an item of its own: only the ends of these strips are to be whole
        own = tuple(replace(unit, item=n) for n, unit in enumerate(arrays.units))
        fits = arrays.fits[[unit.item for unit in arrays.units]]
        model = replace(arrays.model, sheets=tuple(sheets), items=tuple(items))
        closed = frozenset(range(len(sheets))) - {self.sheet}
        found = Arrays(model, own, wanted, closed, fits)
        joined = [unit for unit in units if self._bands(unit)]
        found.problem.turns[joined, self.sheet] &= TURNED
        return found

    def _rest(self, job: Arrays | None, rows: int) -> list[Placement] | None:
        """Where all that a search is for lies, beyond so many rows; None where it does not find that."""
        if job is None or not job.wanted.any():
            if job is None:
                return None
            return []
        asked = self.inst, job.wanted.tobytes(), job.problem.unit.tobytes(), rows
        if asked in self.task.vain:
            return None
        part = self.task.beside(job)
        try:
            part.first()
            if part.missing():
                _place(part, NO_LIMIT)
            if part.missing():
                self.task.vain.add(asked)
                return None
            found = part.layout().placements
            return [replace(lie, y=lie.y + rows) for lie in found]
        finally:
            part.close()


def _of_one_segment(item: Item, amount: int) -> Item:
    """A strip that is wanted in one segment, no shorter than its row allows."""
    return replace(item, l=max(item.l, amount + item.loss), need=amount)


def _place(part: Engine, budget: int) -> None:
    """Place all that must be cut, within a budget, if a short search can."""
    since = part.meter.rounds

    def until() -> bool:
        gone = part.meter.rounds - since
        return part.meter.over() or not part.missing() or gone > _PATIENCE

    part.reach(EVERYTHING, budget, 1, until)
