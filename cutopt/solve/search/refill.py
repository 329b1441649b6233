"""Filling one rectangular cloth anew by the exact plate search, where the stochastic search left something out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from cutopt.geometry import Axis, bounds, rectangle
from cutopt.solve.cuts.cut_parts import ClothPart, ClothParts, Rect
from cutopt.solve.cuts.sequence import CutNode, NotSeparableError, cut_tree
from cutopt.solve.kernels import state as k
from cutopt.solve.kernels.buying import grow, rung_for
from cutopt.solve.kernels.score import missing
from cutopt.solve.kernels.tree import clear, new_node, take
from cutopt.solve.model.layout import Placement
from cutopt.solve.plates.exact_plate import exact_plate
from cutopt.solve.plates.plate_table import Ints, PlatePart, PlateTable
from cutopt.solve.search.arrays import Arrays, State

if TYPE_CHECKING:
    from cutopt.solve.search.engine import Engine

_MOST_SHEETS = 6
# of the exact search: a limit by work
_STEPS = 75
_MOST_FUTILE = 5
# additions to fill the table of a plate once: beyond, the search is the quicker way
_MOST_WORK = 10_000_000
# additions in all rounds of pricing
_PRICING_WORK = 200_000_000
_RANK_VALUE = (10_000, 100, 1)


def refill(engine: Engine, weights: Ints) -> bool:
    """Try each large rectangular cloth in turn; keep what betters the best state. Whether anything did."""
    arrays = engine.arrays
    kernel = engine.kernel
    better = False
    for inst in _largest(engine):
        if engine.refilling.over():
            break
        trial = arrays.state(1)
        kernel.copy_state(engine.best, trial)
        filled = _fill(engine, trial, inst, everything=False)
        if filled and engine.score(trial, weights) < engine.score(engine.best, weights):
            kernel.copy_state(trial, engine.best)
            better = True
    return better


def refill_within(engine: Engine, budget: int) -> bool:
    """Whether one cloth, filled anew exactly, lets everything be cut within a budget; the best state is replaced."""
    arrays = engine.arrays
    kernel = engine.kernel
    for inst in _largest(engine):
        if (
            kernel is engine.plain
            or engine.refilling.over()
            or engine.futile >= _MOST_FUTILE
        ):
            break
        if not holds_most(engine, inst):
            continue
        trial = arrays.state(1)
        kernel.copy_state(engine.best, trial)
        kernel.reduce_to(arrays.problem, trial, arrays.scratch(), budget)
        if (
            trial.inst[inst, k.OPEN]
            and _fill(engine, trial, inst, everything=True)
            and not missing(arrays.problem, trial, 0)
        ):
            kernel.copy_state(trial, engine.best)
            engine.futile = 0
            return True
        engine.futile += 1
    return False


def holds_most(engine: Engine, inst: int) -> bool:
    """Whether this cloth gives more than half of all that is cut: elsewhere one cloth alone settles nothing."""
    nodes = engine.best.node[: engine.best.misc[k.TOP]]
    parts = nodes[nodes[:, k.KIND] == k.PART]
    areas = parts[:, k.PW] * parts[:, k.PL]
    return bool(2 * areas[parts[:, k.INST] == inst].sum() > areas.sum())


def _largest(engine: Engine) -> list[int]:
    """Open instances of whole rectangles, the largest first."""
    sheets = engine.arrays.model.sheets
    state = engine.best
    found = []
    for inst, (s, _) in enumerate(engine.arrays.instances):
        if sheets[s].cells is None and state.inst[inst, k.OPEN]:
            root = state.node[state.inst[inst, k.ROOT]]
            found.append((-int(root[k.X2] * root[k.Y2]), inst))
    return [inst for _, inst in sorted(found)[:_MOST_SHEETS]]


def _fill(engine: Engine, state: State, inst: int, *, everything: bool) -> bool:
    """Clear a cloth and cut the most from it, what must be cut first; whether that was done.

    `everything`: only a plan that lacks nothing that must be cut is of use, which makes the search much shorter. It
    is not done where the rows have rules of their own.
    """
    arrays = engine.arrays
    root = int(state.inst[inst, k.ROOT])
    clear(arrays.problem, state, arrays.scratch(), root)
    sheet = arrays.instances[inst][0]
    units = [
        u
        for u, item in enumerate(arrays.items)
        if arrays.problem.turns[u, sheet] and state.rem[u] > 0 and not item.strip
    ]
    items = [arrays.items[u] for u in units]
    if not units or any(item.group >= 0 or item.most_each for item in items):
        return False
    parts = [_part(arrays, state, u, sheet) for u in units]
    musts = (
        part.value * part.most
        for part, item in zip(parts, items, strict=True)
        if item.rank == 0
    )
    if everything:
        least = max(sum(musts) - 1, 0)
    else:
        least = 0
    plate = int(state.node[root, k.X2]), int(state.node[root, k.Y2])
    placements = [
        _placed(arrays, inst, units[part], (x, y), turned=turned)
        for part, x, y, turned in _filled(engine, plate, parts, least)
    ]
    if not placements:
        return False
    return lay(arrays, state, root, placements, engine.asked)


def _part(arrays: Arrays, state: State, unit: int, sheet: int) -> PlatePart:
    """What is wanted of a row, as a part of a plate."""
    item = arrays.items[unit]
    return PlatePart(
        w=item.w,
        h=item.l,
        value=item.w * item.l * _RANK_VALUE[item.rank],
        turns=int(arrays.problem.turns[unit, sheet]),
        most=int(state.rem[unit]),
    )


def _filled(
    engine: Engine, plate: tuple[int, int], parts: Sequence[PlatePart], least: int
) -> Sequence[tuple[int, int, int, bool]]:
    """Which parts lie where on a plate: the most valuable found, worth more than `least`; none for want of work."""
    work = PlateTable.for_parts(parts, plate, one_size=True).work
    if work > _MOST_WORK:
        return ()
    rounds = min(150, _PRICING_WORK // work)
    calls = iter(range(rounds + _STEPS))
    stop = engine.refilling.over
    with engine.refilling:
        found = exact_plate(
            *plate,
            parts,
            incumbent=(least, ()),
            stop=lambda: next(calls, None) is None or stop(),
            rounds=rounds,
        )
    return found.placements


def _placed(
    arrays: Arrays, inst: int, unit: int, at: tuple[int, int], *, turned: bool
) -> Placement:
    """One of a row with its lower left corner there."""
    sheet, copy = arrays.instances[inst]
    item = arrays.items[unit]
    w, l = (item.l, item.w) if turned else (item.w, item.l)
    x, y = at
    return Placement(
        sheet=sheet, copy=copy, unit=unit, x=x, y=y, w=w, l=l, turned=turned
    )


class _AskedError(RuntimeError):
    """Somebody asked to stop."""


class _PartsUntil(ClothParts):
    """Parts of a cloth that are cut until somebody asks to stop: thousands of them take longer than that may."""

    def __init__(self, asked: Callable[[], bool]) -> None:
        super().__init__()
        self._asked = asked

    def cut(self, part: ClothPart, axis: Axis, at: int) -> tuple[ClothPart, ...]:
        if self._asked():
            raise _AskedError
        return super().cut(part, axis, at)


def lay(
    arrays: Arrays,
    state: State,
    root: int,
    placements: Sequence[Placement],
    asked: Callable[[], bool],
) -> bool:
    """Lay parts on a cloth that is free, whose node is `root`.

    False, and nothing is changed, where they cannot be cut out within the turns that the maker allows, and where
    `asked` says meanwhile that somebody asked to stop.

    Parameters
    ----------
    arrays : Arrays
    state : State
    root : int
    placements : sequence of Placement
    asked : callable
    """
    rects = [
        Rect(tag=n, x1=p.x, y1=p.y, x2=p.x + p.w, y2=p.y + p.l)
        for n, p in enumerate(placements)
    ]
    wide = int(state.node[root, k.X2])
    long = int(state.node[root, k.Y2])
    try:
        tree = cut_tree(
            rectangle(wide, long),
            rects,
            3.0,
            arrays.model.turns,
            parts=_PartsUntil(asked),
        )
    except (NotSeparableError, _AskedError):
        return False
    _build(arrays, state, root, tree, placements)
    return True


def lay_on(
    arrays: Arrays,
    state: State,
    inst: int,
    placements: Sequence[Placement],
    asked: Callable[[], bool],
) -> bool:
    """Lay parts on a cloth that nothing lies on; of one by length so much is bought as they take.

    False where no such length is on sale, or as :func:`lay` says it.

    Parameters
    ----------
    arrays : Arrays
    state : State
    inst : int
        The instance of the cloth.
    placements : sequence of Placement
    asked : callable
        Whether somebody asked to stop.
    """
    sheet = arrays.instances[inst][0]
    if arrays.model.sheets[sheet].ladder:
        rung = int(rung_for(arrays.problem, sheet, max(p.y + p.l for p in placements)))
        if rung < 0:
            return False
        grow(arrays.problem, state, inst, rung)
    return lay(arrays, state, int(state.inst[inst, k.ROOT]), placements, asked)


def _build(
    arrays: Arrays,
    state: State,
    node: int,
    tree: CutNode,
    placements: Sequence[Placement],
) -> None:
    """Write a tree of cuts into a state, below a free node with the same window."""
    nodes = state.node
    todo = [(node, tree)]
    while todo:
        n, part = todo.pop()
        x1, y1, x2, y2 = (int(v) for v in bounds(part.outline))
        if part.axis:
            low, high = (
                new_node(state, nodes[n, k.INST], x1, y1, x2, y2, n) for _ in range(2)
            )
            near, far = (k.X2, k.X1) if part.axis == "x" else (k.Y2, k.Y1)
            nodes[low, near] = nodes[high, far] = part.at
            nodes[n, k.KIND], nodes[n, k.LOW], nodes[n, k.HIGH] = (
                k.V if part.axis == "x" else k.H,
                low,
                high,
            )
            todo += [(low, part.children[0]), (high, part.children[1])]
        elif part.rects:
            placed = placements[part.rects[0].tag]
            nodes[n, k.KIND], nodes[n, k.ITEM], nodes[n, k.TURN] = (
                k.PART,
                placed.unit,
                int(placed.turned),
            )
            nodes[n, [k.PX, k.PY, k.PW, k.PL]] = (x1, y1, x2 - x1, y2 - y1)
            take(arrays.problem, state, n)
