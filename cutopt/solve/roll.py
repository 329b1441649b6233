"""One long length to buy, begun with bands that lose nothing: what they leave is searched for as a job of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from cutopt.solve.arrays import Arrays, Ints, Placement
from cutopt.solve.bands import DRAWS, tight_bands
from cutopt.solve.descent import descend
from cutopt.solve.kernels import state as k
from cutopt.solve.kernels.buying import rung_for
from cutopt.solve.kernels.returning import lower
from cutopt.solve.kernels.score import missing
from cutopt.solve.kernels.tree import clear
from cutopt.solve.picking import Picks
from cutopt.solve.plates import Part
from cutopt.solve.refill import holds_most, lay
from cutopt.solve.stop import Ration, Seconds

if TYPE_CHECKING:
    from cutopt.solve.engine import Engine

_BANDS = 0.3  # of the limit: the search for bands
_ROUNDS_A_DRAW = 5_000  # of a limit by work, for each set of bands tried by chance
_PATIENCE = 10_000  # rounds without news after which what the bands leave is planned
_LEAST_PARTS = 12  # with fewer the exact search or the search by chance is at the end sooner


def begin_with_bands(engine: Engine, bound: Callable[[], int], over: Callable[[], bool]) -> bool:
    """Cut the one length that gives most of all parts anew, its bands first; whether that is cheaper.

    `over` limits the search for bands and then the searches in what several sets of them leave.
    """
    inst = _length(engine)
    if inst < 0:
        return False
    wanted = _wanted_from(engine, inst)
    bands, better = Ration(engine.meter, _BANDS, 0.0), False
    with bands:
        sets = list(_sets(engine, inst, wanted, lambda: over() or bands.over()))
    for lies, rows, left in sets:
        if _area(engine, left) > sum(lie.w * lie.l for lie in lies):
            continue  # most is left to the search by chance anyway, and that does best with all of it
        rest = _rest(engine, inst, rows, left, bound, over) if left.any() else []
        if rest or not left.any():
            better |= _take(engine, inst, [*lies, *rest])
        if over() or engine.cost <= bound():
            break
    return better


def _length(engine: Engine) -> int:
    """The bought length that gives more than half of all that is cut; -1 where there is none."""
    sheets = engine.arrays.model.sheets
    for inst, (s, _) in enumerate(engine.arrays.instances):
        if sheets[s].ladder and sheets[s].cells is None and engine.best.inst[inst, k.OPEN] and holds_most(engine, inst):
            return inst
    return -1


def _area(engine: Engine, wanted: Ints) -> int:
    """Cells of so much of each unit."""
    return int(wanted @ engine.arrays.areas)


def _wanted_from(engine: Engine, inst: int) -> Ints:
    """How much of each unit that must be cut comes from this length now."""
    trial = engine.arrays.state(1)
    engine.copy(engine.best, trial)
    clear(engine.arrays.problem, trial, engine.arrays.scratch(), trial.inst[inst, k.ROOT])
    ranks = engine.arrays.problem.unit[:, k.U_RANK]
    return np.where(ranks == 0, np.maximum(trial.rem, 0), 0)


def _sets(
    engine: Engine, inst: int, wanted: Ints, over: Callable[[], bool]
) -> Iterator[tuple[list[Placement], int, Ints]]:
    """Sets of bands: parts from the beginning of the length, where these end, and what is wanted still."""
    arrays, state = engine.arrays, engine.best
    (sheet, copy), root = arrays.instances[inst], state.node[state.inst[inst, k.ROOT]]
    units = [u for u, item in enumerate(arrays.items) if wanted[u] and not item.strip]
    if sum(int(wanted[u]) for u in units) < _LEAST_PARTS:
        return
    turns = arrays.problem.turns[units, sheet].tolist()
    parts = [
        Part(arrays.items[u].w, arrays.items[u].l, 0, turn, int(wanted[u]))
        for u, turn in zip(units, turns, strict=True)
    ]
    limit = engine.meter.limit
    draws = DRAWS if isinstance(limit, Seconds) else min(DRAWS, limit.rounds // _ROUNDS_A_DRAW)
    for bands in tight_bands(int(root[k.X2]), int(root[k.Y2]), parts, over, draws):
        lies, rows, left = [], 0, wanted.copy()
        for band in bands:
            for part, x, y, turned in band.placements:
                w, h = (parts[part].h, parts[part].w) if turned else (parts[part].w, parts[part].h)
                lies.append(
                    Placement(sheet=sheet, copy=copy, unit=units[part], x=x, y=rows + y, w=w, l=h, turned=turned)
                )
                left[units[part]] -= 1
            rows += band.h
        yield lies, rows, left


def _rest(
    engine: Engine, inst: int, rows: int, wanted: Ints, bound: Callable[[], int], over: Callable[[], bool]
) -> list[Placement]:
    """What is wanted after the first `rows` of the length, by a search in what can be bought beyond them."""
    arrays, (s, _) = engine.arrays, engine.arrays.instances[inst]
    sheets = list(arrays.model.sheets)
    ladder = tuple(replace(rung, rows=rung.rows - rows) for rung in sheets[s].ladder if rung.rows > rows)
    if not ladder:
        return []
    others = engine.cost - sheets[s].ladder[int(engine.best.inst[inst, k.RUNG])].cost
    sheets[s] = replace(sheets[s], ladder=ladder, rows=ladder[-1].rows)
    closed = frozenset(range(len(sheets))) - {s}
    model = replace(arrays.model, sheets=tuple(sheets))
    part = engine.beside(Arrays(model, arrays.units, wanted, closed, arrays.fits))
    try:
        part.first()
        last, patience = engine.meter.rounds, _PATIENCE + 30 * part.arrays.capacity

        def news() -> None:
            nonlocal last
            last = engine.meter.rounds

        def tired() -> bool:
            return over() or engine.meter.rounds - last > patience

        def least() -> int:
            return bound() - others

        picks = Picks(part)
        descend(part, least, tired, news=news, others=lambda *_: picks.cheaper(least(), tired))
        if part.missing():
            return []
        return [replace(p, y=rows + p.y) for p in part.layout().placements if p.sheet == s]
    finally:
        part.close()


def _take(engine: Engine, inst: int, lies: list[Placement]) -> bool:
    """Let the parts of the length lie like this in the best state, if less has to be bought then."""
    arrays, problem, sheet = engine.arrays, engine.arrays.problem, engine.arrays.instances[inst][0]
    trial, scratch = arrays.state(1), arrays.scratch()
    rung = rung_for(problem, sheet, max(lie.y + lie.l for lie in lies))
    if not 0 <= rung < engine.best.inst[inst, k.RUNG]:
        return False
    engine.copy(engine.best, trial)
    clear(problem, trial, scratch, trial.inst[inst, k.ROOT])
    lower(problem, trial, scratch, inst, rung)
    if not lay(arrays, trial, int(trial.inst[inst, k.ROOT]), lies):
        return False
    if missing(problem, trial, 0):
        return False
    engine.copy(trial, engine.best)
    return True
