"""One long length to buy, begun with bands that lose little: what they leave is searched for as a job of its own."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from cutopt.solve.control.stop import Work
from cutopt.solve.kernels import state as k
from cutopt.solve.kernels.buying import rung_for
from cutopt.solve.kernels.returning import lower
from cutopt.solve.kernels.score import missing
from cutopt.solve.kernels.tree import clear
from cutopt.solve.model.layout import Placement
from cutopt.solve.plates.plate_table import Ints, PlatePart
from cutopt.solve.search.arrays import Arrays
from cutopt.solve.search.band_sets import BandSet, Tries, best_sets
from cutopt.solve.search.bands import Band
from cutopt.solve.search.descent import descend
from cutopt.solve.search.refill import holds_most, lay

if TYPE_CHECKING:
    from cutopt.solve.search.engine import Engine

# of what the bands may spend: until sets of them are drawn by chance, and until they are mended
_DRAWN = 0.2
_MENDED = 0.85
# sets drawn by chance and turns of mending, at most
_DRAWS = 16
_MENDS = 1_000
# of a limit by work
_ROUNDS_A_DRAW = 5_000
_ROUNDS_A_MEND = 500
# rounds without news after which a search for what the bands leave ends
_SHORT = 2_000
_PATIENCE = 12_000
# such searches in vain, one after the other
_AGAIN = 20
# with fewer the exact search or the search by chance is at the end sooner
_LEAST_PARTS = 12


def begin_with_bands(
    engine: Engine, share: float, bound: Callable[[], int], over: Callable[[], bool]
) -> bool:
    """Cut the one length that gives most of all parts anew, its bands first; whether that is cheaper.

    Ends when this share of the limit is spent. `over` says whether to stop at once.

    Parameters
    ----------
    engine : Engine
        Its best state is replaced by a cheaper one.
    share : float
        Of the limit.
    bound : callable
        What no plan can cost less than, asked anew each time.
    over : callable
    """
    inst = _length(engine)
    before = engine.cost
    if inst >= 0:
        roll = _Roll(engine, inst, bound, over)
        roll.search_rests(roll.sets(share), share)
    return engine.cost < before


def _length(engine: Engine) -> int:
    """The bought length that gives more than half of all that is cut; -1 where there is none."""
    sheets = engine.arrays.model.sheets
    for inst, (s, _) in enumerate(engine.arrays.instances):
        if (
            sheets[s].ladder
            and sheets[s].cells is None
            and engine.best.inst[inst, k.OPEN]
            and holds_most(engine, inst)
        ):
            return inst
    return -1


class _Roll:
    """One bought length, and what must be cut from it."""

    def __init__(
        self,
        engine: Engine,
        inst: int,
        bound: Callable[[], int],
        over: Callable[[], bool],
    ) -> None:
        self._engine = engine
        self._inst = inst
        self._bound = bound
        self._over = over
        self._sheet, self._copy = engine.arrays.instances[inst]
        self._root = int(engine.best.inst[inst, k.ROOT])
        self._ladder = engine.arrays.model.sheets[self._sheet].ladder
        # for all else that is bought
        self._others = engine.cost - self._ladder[self._rung].cost
        # so far
        self._searches = 0
        self._pays = False
        self._wanted = self._wanted_from()
        items = engine.arrays.items
        turns = engine.arrays.problem.turns
        self._units = [
            u for u, item in enumerate(items) if self._wanted[u] and not item.strip
        ]
        self._parts = [
            PlatePart(
                items[u].w,
                items[u].l,
                0,
                int(turns[u, self._sheet]),
                int(self._wanted[u]),
            )
            for u in self._units
        ]
        in_parts = sum(part.w * part.h * part.most for part in self._parts)
        self.more = int(self._wanted @ engine.arrays.areas) - in_parts

    @property
    def _rung(self) -> int:
        """How much of the length is bought in the best state."""
        return int(self._engine.best.inst[self._inst, k.RUNG])

    def _wanted_from(self) -> Ints:
        """How much of each unit that must be cut comes from this length now."""
        arrays = self._engine.arrays
        trial = arrays.state(1)
        self._engine.copy(self._engine.best, trial)
        clear(arrays.problem, trial, arrays.scratch(), self._root)
        return np.where(
            arrays.problem.unit[:, k.U_RANK] == 0, np.maximum(trial.rem, 0), 0
        )

    def over(self) -> bool:
        """Whether to stop."""
        return self._over() or self._engine.cost <= self._bound()

    def sets(self, share: float) -> list[BandSet]:
        """The best sets of bands, each with what a short search found for the parts that they leave."""
        if sum(part.most for part in self._parts) < _LEAST_PARTS:
            return []
        wide, long = (
            int(side) for side in self._engine.best.node[self._root, [k.X2, k.Y2]]
        )
        meter = self._engine.meter
        begun = self._engine.meter.share
        drawn, mended = (begun + part * (share - begun) for part in (_DRAWN, _MENDED))
        draws = _DRAWS
        mends = _MENDS
        # which bands do not spend
        if isinstance(limit := meter.limit, Work):
            draws = min(draws, limit.rounds // _ROUNDS_A_DRAW)
            mends = min(mends, limit.rounds // _ROUNDS_A_MEND)
        tries = Tries(
            draws=draws,
            mends=mends,
            drawn=lambda: self.over() or meter.over(drawn),
            mended=lambda: self.over() or meter.over(mended),
        )
        return best_sets(wide, long, self._parts, self, tries)

    def pays(self, rows: int) -> bool:
        """Whether so many rows are less to buy than what a short search finds without any bands."""
        lies = self.rest([part.most for part in self._parts], 0)
        if lies is not None:
            self.take((), lies)
        problem = self._engine.arrays.problem
        self._pays = not self.over() and (
            lies is None
            or rung_for(problem, self._sheet, rows)
            < rung_for(problem, self._sheet, _end(lies))
        )
        return self._pays

    def goal(self) -> int:
        """The rows that a plan must keep to so that less has to be bought."""
        if self._rung > 0:
            return self._ladder[self._rung - 1].rows
        return 0

    def search_rests(self, sets: Sequence[BandSet], share: float) -> None:
        """Search longer for what the bands leave, every other time after those of the best."""
        lengths = {bands: bands.length for bands in sets if bands.rest and self._pays}
        turn = vain = 0
        while (
            lengths
            and vain < _AGAIN
            and not self.over()
            and not self._engine.meter.over(share)
        ):
            best = sorted(lengths, key=lengths.__getitem__)
            if turn % 2:
                bands = best[turn // 2 % len(best)]
            else:
                bands = best[0]
            rest = self._searched(bands.left(bands.bands), bands.rows, _PATIENCE)
            turn = turn + 1
            vain = vain + 1
            if rest is not None:
                lengths[bands] = min(lengths[bands], _end(rest))
                if self.take(bands.bands, rest):
                    vain = 0

    def rest(self, counts: Sequence[int], rows: int) -> list[Placement] | None:
        """Search shortly for all that is wanted beyond so many rows, so many of each part; None for no plan."""
        if self.over():
            return None
        return self._searched(counts, rows, _SHORT)

    def _searched(
        self, counts: Sequence[int], rows: int, patience: int
    ) -> list[Placement] | None:
        """A search for so many of each part, and all strips, in what can be bought beyond so many rows."""
        engine = self._engine
        arrays = self._engine.arrays
        s = self._sheet
        sheets = list(arrays.model.sheets)
        wanted = self._wanted.copy()
        wanted[self._units] = counts
        ladder = tuple(
            replace(rung, rows=rung.rows - rows)
            for rung in self._ladder
            if rung.rows > rows
        )
        if not ladder or not wanted.any():
            if wanted.any():
                return None
            return []
        sheets[s] = replace(sheets[s], ladder=ladder, rows=ladder[-1].rows)
        closed = frozenset(range(len(sheets))) - {s}
        model = replace(arrays.model, sheets=tuple(sheets))
        part = engine.beside(
            Arrays(model, arrays.units, wanted, closed, arrays.fits), self._searches
        )
        self._searches += 1
        try:
            part.first()
            last = engine.meter.rounds

            def news() -> None:
                nonlocal last
                last = engine.meter.rounds

            def bound() -> int:
                return self._bound() - self._others

            descend(
                part,
                bound,
                lambda: self.over() or engine.meter.rounds - last > patience,
                news=news,
            )
            if part.missing():
                return None
            return [
                replace(p, y=rows + p.y)
                for p in part.layout().placements
                if p.sheet == s
            ]
        finally:
            part.close()

    def take(self, bands: Sequence[Band], rest: Sequence[Placement]) -> bool:
        """Cut the length like this in the best state if less has to be bought then; whether that is so."""
        engine = self._engine
        arrays = self._engine.arrays
        problem = self._engine.arrays.problem
        trial = arrays.state(1)
        scratch = arrays.scratch()
        inst = self._inst
        lies = [*self._lies(bands), *rest]
        rung = rung_for(problem, self._sheet, _end(lies))
        if not 0 <= rung < self._rung:
            return False
        engine.copy(engine.best, trial)
        clear(problem, trial, scratch, trial.inst[inst, k.ROOT])
        lower(problem, trial, scratch, inst, rung)
        root = int(trial.inst[inst, k.ROOT])
        if not lay(arrays, trial, root, lies, engine.asked) or missing(
            problem, trial, 0
        ):
            return False
        engine.copy(trial, engine.best)
        return True

    def _lies(self, bands: Sequence[Band]) -> list[Placement]:
        """Where the parts of bands lie, one band after the other from the beginning of the length."""
        lies = list[Placement]()
        rows = 0
        for band in bands:
            for part, x, y, turned in band.placements:
                w = self._parts[part].w
                h = self._parts[part].h
                w, h = (h, w) if turned else (w, h)
                at = {"sheet": self._sheet, "copy": self._copy, "x": x, "y": rows + y}
                lies.append(
                    Placement(**at, unit=self._units[part], w=w, l=h, turned=turned)
                )
            rows += band.h
        return lies


def _end(lies: Sequence[Placement]) -> int:
    """How far some parts go."""
    return max(lie.y + lie.l for lie in lies)
