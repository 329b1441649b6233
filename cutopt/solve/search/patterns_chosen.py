"""Patterns that the search has met put together anew: of each cloth one, so that all is there for less.

A search by small steps rarely meets all the good patterns in one state. Choosing among the columns that a local search
has met by a set covering programme follows Y. Rochat, E. D. Taillard, "Probabilistic diversification and
intensification in local search for vehicle routing", Journal of Heuristics 1(1), 1995.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from typing import Any

from cutopt.solve.cpsat import mip, solve_mip
from cutopt.solve.kernels.buying import open_piece
from cutopt.solve.kernels.score import missing
from cutopt.solve.kernels.search import open_pile
from cutopt.solve.kernels.state import COST, I_COST, S_INST
from cutopt.solve.model.layout import Placement
from cutopt.solve.search.arrays import Arrays, State
from cutopt.solve.search.engine import Engine
from cutopt.solve.search.patterns_met import Pattern
from cutopt.solve.search.refill import lay_on

# of SCIP, and of all of them together so many amounts of rows in patterns, so that it takes a few seconds at most;
# with more amounts at once the first linear programme alone takes longer
_NODES = 2_000
_WORK = 10_000_000
_MOST_AMOUNTS = 60_000
# of a length: the shortest, and the longest that the goal pays for
_RUNGS = 64
# share of the patterns that are new before the same is tried again
_NEWS = 0.25

Over = Callable[[], bool]


class Picks:
    """Choosing among the patterns that a search has met, within a share of its limit."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        # cost of the best state, and the patterns there had ever been, when they were last tried
        self._tried = (
            0,
            0,
        )

    def cheaper(self, least: int, over: Over) -> bool:
        """Whether patterns met make a plan that costs less than the best state; the cheapest replaces it then.

        `least` is what no plan can cost less than.
        """
        engine = self._engine
        goal = engine.cost - engine.arrays.cost_step
        if goal >= least:
            state = self._chosen(goal, least, over)
        else:
            state = None
        if (
            state is None
            or missing(engine.arrays.problem, state, 0)
            or state.misc[COST] > goal
        ):
            return False
        engine.copy(state, engine.best)
        return True

    def fuller(self, over: Over) -> bool:
        """Whether patterns met give more of what must be cut than the best state, which they replace then."""
        engine = self._engine
        state = self._chosen(None, 0, over)
        if (
            state is None
            or missing(engine.arrays.problem, state, 0) >= engine.missing()
        ):
            return False
        engine.copy(state, engine.best)
        return True

    def _chosen(self, goal: int | None, least: int, over: Over) -> State | None:
        """The best choice within the goal as a state; None where there is none or it is not worth the time."""
        engine = self._engine
        patterns = self._engine.patterns
        cost, ever = self._tried
        if (
            over()
            or engine.picking.over()
            or engine.kernel is engine.plain
            or not patterns.count
        ):
            # by work nothing but an interrupt may end SCIP: what it finds must not hang on the clock
            return None
        if cost == engine.cost and patterns.ever - ever < _NEWS * patterns.count:
            return None
        self._tried = engine.cost, patterns.ever
        with engine.picking:
            problem = engine.arrays.problem
            scratch = engine.streams[0].scratch
            engine.kernel.note_patterns(
                problem, engine.best, scratch, engine.streams[0].met
            )
            known = patterns.all()
            if sum(len(pattern.amounts) for pattern in known) > _MOST_AMOUNTS:
                return None
            choice = _Choice(engine.arrays, known, goal, least)
            if choice.solve(lambda: over() or engine.picking.over()):
                state = choice.laid(engine.asked)
            else:
                state = None
            if state is not None:
                engine.kernel.fill_up(problem, state, scratch)
            return state


class _Choice:
    """The programme: how often each pattern is cut, and what is bought."""

    def __init__(
        self, arrays: Arrays, patterns: Sequence[Pattern], goal: int | None, least: int
    ) -> None:
        self.arrays = arrays
        self.patterns = patterns
        self.goal = goal
        self.model = mip()
        self.fabrics = sorted({sheet.fabric for sheet in arrays.model.sheets})
        self.must = [
            u
            for u, item in enumerate(arrays.items)
            if item.rank == 0 and arrays.wanted[u] > 0
        ]
        self.times = [
            self.model.IntVar(0, self._most(pattern), "") for pattern in patterns
        ]
        self.fabric = {
            (group, fabric): self.model.BoolVar("")
            for group in sorted({arrays.items[u].group for u in self.must} - {-1})
            for fabric in self.fabrics
        }
        self._one_fabric_each()
        lacking = self._needs()
        cost = self._cloth()
        if goal is None:
            self.model.Minimize(self.model.Sum(lacking))
        else:
            self.model.Minimize(cost)
            self.model.Add(cost <= goal)
            self.model.Add(cost >= least)

    def _most(self, pattern: Pattern) -> int:
        """How often a pattern can be of use."""
        wanted = self.arrays.wanted
        sheet = self.arrays.model.sheets[pattern.sheet]
        most = max(-(-int(wanted[u]) // many) for u, many in pattern.amounts)
        if sheet.ladder:
            return most
        return min(most, sheet.copies)

    def _one_fabric_each(self) -> None:
        """Rows that stay together come from one fabric."""
        for group in {group for group, _ in self.fabric}:
            self.model.Add(
                self.model.Sum(self.fabric[group, f] for f in self.fabrics) == 1
            )

    def _needs(self) -> list[Any]:
        """Everything that must be cut is there, or (without a goal) counts as lacking, in cells."""
        arrays = self.arrays
        model = self.model
        rows = {
            u: model.Constraint(int(arrays.wanted[u]), model.infinity())
            for u in self.must
        }
        # by row and fabric, where the rules of the row ask for it
        within: dict[tuple[int, int], Any] = {}
        for pattern, times in zip(self.patterns, self.times, strict=True):
            fabric = arrays.model.sheets[pattern.sheet].fabric
            for u, many in pattern.amounts:
                row = rows[u]
                if arrays.items[u].group >= 0 or arrays.items[u].most_each:
                    if (u, fabric) not in within:
                        within[u, fabric] = self._within(u, fabric, row)
                    row = within[u, fabric]
                row.SetCoefficient(times, min(many, int(arrays.wanted[u])))
        if self.goal is not None:
            return []
        lacking = {u: model.NumVar(0, int(arrays.wanted[u]), "") for u in self.must}
        for u, lack in lacking.items():
            rows[u].SetCoefficient(lack, 1)
        return [int(arrays.areas[u]) * lack for u, lack in lacking.items()]

    def _within(self, u: int, fabric: int, row: Any) -> Any:
        """A row of what one fabric gives of a row of the job, of which no more counts than its rules allow."""
        item = self.arrays.items[u]
        wanted = int(self.arrays.wanted[u])
        model = self.model
        counted = model.NumVar(
            0, min(wanted, item.most_each) if item.most_each else wanted, ""
        )
        row.SetCoefficient(counted, 1)
        if item.group >= 0:
            model.Add(counted <= wanted * self.fabric[item.group, fabric])
        given = model.Constraint(0, model.infinity())
        given.SetCoefficient(counted, -1)
        return given

    def _cloth(self) -> Any:
        """No more is cut than is there or bought; gives what is bought costs."""
        arrays = self.arrays
        model = self.model
        used: dict[int, list[tuple[Pattern, Any]]] = defaultdict(list)
        for pattern, times in zip(self.patterns, self.times, strict=True):
            used[pattern.sheet].append((pattern, times))
        cost: list[Any] = []
        # by fabric
        lengths: dict[int, list[Any]] = defaultdict(list)
        for s, patterns in used.items():
            sheet = arrays.model.sheets[s]
            row = model.Constraint(
                -model.infinity(), 0 if sheet.ladder else sheet.copies
            )
            for pattern, times in patterns:
                row.SetCoefficient(times, pattern.rows if sheet.ladder else 1)
            if sheet.ladder:
                rungs = [
                    rung
                    for rung in sheet.ladder
                    if self.goal is None or rung.cost <= self.goal
                ]
                for rung in (
                    rungs
                    if len(rungs) <= 2 * _RUNGS
                    else rungs[:_RUNGS] + rungs[-_RUNGS:]
                ):
                    chosen = model.BoolVar("")
                    row.SetCoefficient(chosen, -rung.rows)
                    lengths[sheet.fabric].append(chosen)
                    cost.append(rung.cost * chosen)
            elif price := int(arrays.problem.inst[self._first(s), I_COST]):
                cost += [price * times for _, times in patterns]
        # all that is bought of a fabric by length is one length
        for bought in lengths.values():
            model.Add(model.Sum(bought) <= 1)
        return model.Sum(cost)

    def _first(self, sheet: int) -> int:
        """The first instance of a sheet."""
        return int(self.arrays.problem.sheet[sheet, S_INST])

    def solve(self, stop: Over) -> bool:
        """Whether a choice is found."""
        amounts = sum(len(pattern.amounts) for pattern in self.patterns)
        return solve_mip(
            self.model, nodes=min(_NODES, _WORK // max(1, amounts)), stop=stop
        ) in ("optimal", "feasible")

    def laid(self, asked: Over) -> State | None:
        """The choice as a state, without what is more than wanted; None as :func:`lay` says it."""
        arrays = self.arrays
        state = arrays.state(1)
        room = _Room(self)
        open_pile(arrays.problem, state)
        chosen: dict[int, list[Pattern]] = defaultdict(list)
        for pattern, times in zip(self.patterns, self.times, strict=True):
            chosen[pattern.sheet] += [pattern] * round(times.solution_value())
        for s, patterns in chosen.items():
            first = self._first(s)
            sheet = arrays.model.sheets[s]
            if sheet.ladder:
                cloths = [self._one_length(s, patterns, room)]
            else:
                cloths = [
                    room.take(s, copy, pattern, 0)
                    for copy, pattern in enumerate(patterns)
                ]
            for inst, parts in enumerate(cloths, first):
                if not parts:
                    continue
                if sheet.offered is not None and not sheet.ladder:
                    open_piece(arrays.problem, state, inst)
                if not lay_on(arrays, state, inst, parts, asked):
                    return None
        return state

    def _one_length(
        self, sheet: int, bands: Sequence[Pattern], room: _Room
    ) -> list[Placement]:
        """Bands one after the other."""
        parts: list[Placement] = []
        for band in bands:
            rows = max((part.y + part.l for part in parts), default=0)
            parts += room.take(sheet, 0, band, rows)
        return parts


class _Room:
    """What is still wanted while a choice is laid, within the rules of the rows."""

    def __init__(self, choice: _Choice) -> None:
        self._items = choice.arrays.items
        self._sheets = choice.arrays.model.sheets
        self._left = choice.arrays.wanted.tolist()
        self._from = {
            at: choice.fabric[at].solution_value() > 0.5 for at in choice.fabric
        }
        self._each: dict[tuple[int, int], int] = defaultdict(int)

    def take(
        self, sheet: int, copy: int, pattern: Pattern, rows: int
    ) -> list[Placement]:
        """The parts of a pattern that are of use, beyond so many rows."""
        fabric = self._sheets[sheet].fabric
        return [
            Placement(
                sheet=sheet,
                copy=copy,
                unit=unit,
                x=x,
                y=rows + y,
                w=w,
                l=l,
                turned=bool(turned),
            )
            for unit, x, y, w, l, turned in pattern.parts.tolist()
            if self._wants(unit, fabric, max(w, l))
        ]

    def _wants(self, unit: int, fabric: int, length: int) -> bool:
        item = self._items[unit]
        if self._left[unit] <= 0 or not self._from.get((item.group, fabric), True):
            return False
        if item.most_each and self._each[unit, fabric] >= item.most_each:
            return False
        self._each[unit, fabric] += 1
        self._left[unit] -= item.amount(length)
        return True
