"""Where not everything can be had: rows that are whole come first, then parts; a strip in part holds no cloth.

Somebody who cannot have all of it can use a row that is whole, and some rectangles of one that is not; a strip that is
too short is of no use to her. So strips that are not whole are left out one after the other, those first that no plan
can have, until the rest is whole; and of several rows in part one is made whole where that leaves no more parts missing.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection

from cutopt.solve.bounds.most_of_a_row import least_left_out
from cutopt.solve.search.arrays import Arrays, State
from cutopt.solve.search.carry_over import Carried
from cutopt.solve.search.descent import EVERYTHING, NO_LIMIT
from cutopt.solve.search.engine import Engine

# that are tried to be made whole
_MOST_ROWS = 4
# without a better state, after which such a row is given up
_ROUNDS = 500

Over = Callable[[], bool]


def lacks(arrays: Arrays, state: State) -> tuple[int, int]:
    """How many rows that must be cut a state leaves in part, and how many parts these lack.

    Rows that have to match count as one row; a strip counts as one part, be it long or short.
    """
    rows = {_set(arrays, unit) for unit in _in_part(arrays, state)}
    parts = sum(_missed(arrays, state, unit) for unit in _in_part(arrays, state))
    return len(rows), parts


def _in_part(arrays: Arrays, state: State) -> list[int]:
    """The units that must be cut of which something is missing."""
    musts = (u for u, item in enumerate(arrays.items) if item.rank == 0)
    return [u for u in musts if state.rem[u] > 0]


def _missed(arrays: Arrays, state: State, unit: int) -> int:
    if arrays.items[unit].strip:
        return 1
    return int(state.rem[unit])


def _set(arrays: Arrays, unit: int) -> tuple[str, int]:
    """What a unit is whole together with: its group, or its row."""
    item = arrays.items[unit]
    if item.group >= 0:
        return "group", item.group
    return "row", arrays.units[unit].item


def without_strips_in_part(engine: Engine, over: Over, *, prove: bool) -> Engine:
    """The search for what is left once no strip in part holds cloth; the same one where there is none.

    Parameters
    ----------
    engine : has a best plan that lacks something; it is closed where another one takes its place
    over : whether to stop
    prove : bool
        Whether bounds may be asked which strips no plan can have.
    """
    left_out: set[int] = set()
    if prove:
        known = _hopeless(engine)
    else:
        known = set()
    while engine.missing() and not over():
        more = known or _largest_strip(engine)
        known = set()
        if not more:
            break
        left_out |= more
        engine = _instead(engine, _rest_of(engine, left_out, over))
    return engine


def _instead(engine: Engine, other: Engine) -> Engine:
    engine.close()
    return other


def _hopeless(engine: Engine) -> set[int]:
    """Strips that are in part in the best state and that no plan can have, whatever else is not cut."""
    arrays = engine.arrays
    by_row: dict[int, list[int]] = defaultdict(list)
    for unit in _strips_in_part(engine):
        by_row[arrays.units[unit].item].append(unit)
    found: set[int] = set()
    for row, units in by_row.items():
        many = least_left_out(arrays.model, arrays.model.items[row], None)
        found.update(units[len(units) - min(many, len(units)) :])
    return found


def _strips_in_part(engine: Engine) -> list[int]:
    units = _in_part(engine.arrays, engine.best)
    return [unit for unit in units if engine.arrays.items[unit].strip]


def _largest_strip(engine: Engine) -> set[int]:
    """Of the strips in part the one that takes the most cloth; nothing where there is none."""
    items = engine.arrays.items
    strips = _strips_in_part(engine)
    strips.sort(key=lambda unit: items[unit].need * items[unit].w)
    return set(strips[-1:])


def _rest_of(engine: Engine, left_out: Collection[int], over: Over) -> Engine:
    """A search without some units, from the best state on, until all of the rest is placed or nothing helps."""
    other = engine.beside(engine.arrays.without(left_out))
    _begin_at(other, engine)
    if other.missing():
        until = lambda: over() or not other.missing()  # noqa: E731
        other.reach(EVERYTHING, NO_LIMIT, 1, until, other.patience)
    return other


def _begin_at(other: Engine, engine: Engine) -> None:
    """Let a search begin where another one is, with what it wants more bought."""
    arrays = other.arrays
    layout = engine.arrays.layout(engine.best)
    plan = Carried(model=arrays.model, layout=layout, becomes={})
    other.best = plan.laid(other)
    other.kernel.start(arrays.problem, other.best, arrays.scratch(), 1)


def one_more_whole(engine: Engine, over: Over, *, prove: bool) -> bool:
    """Whether a row was made whole at the cost of others that are in part too: then that is the best state.

    It is not done where more parts are missing then, or another row that was whole.

    Parameters
    ----------
    engine : has a best plan that lacks something
    over : whether to stop
    prove : bool
        Whether bounds may be asked which rows no plan can have.
    """
    arrays = engine.arrays
    rows: dict[tuple[str, int], list[int]] = defaultdict(list)
    for unit in _in_part(arrays, engine.best):
        rows[_set(arrays, unit)].append(unit)
    if len(rows) < 2:
        return False
    able = [
        row
        for row, units in rows.items()
        if not (prove and any(_beyond_all(arrays, unit) for unit in units))
    ]
    fewest = sorted(
        able,
        key=lambda row: sum(_missed(arrays, engine.best, unit) for unit in rows[row]),
    )
    for row in fewest[:_MOST_ROWS]:
        others = {unit for each in rows if each != row for unit in rows[each]}
        if not over() and _made_whole(engine, others, over):
            return True
    return False


def _beyond_all(arrays: Arrays, unit: int) -> bool:
    """Whether no plan can have all of a row, whatever else is not cut."""
    item = arrays.model.items[arrays.units[unit].item]
    return least_left_out(arrays.model, item, None) > 0


def _made_whole(engine: Engine, others: Collection[int], over: Over) -> bool:
    """Whether all but some units is there once these give way, and no more is missing with what then has room of them."""
    arrays = engine.arrays
    now = lacks(arrays, engine.best)
    beyond = arrays.without({*others, *_left_out(arrays)})
    rest = engine.beside(beyond)
    try:
        _begin_at(rest, engine)
        until = lambda: over() or not rest.missing()  # noqa: E731
        if rest.missing():
            rest.reach(EVERYTHING, NO_LIMIT, 1, until, _ROUNDS + arrays.capacity)
        if rest.missing():
            return False
        state = engine.nothing()
        engine.kernel.copy_state(rest.best, state)
    finally:
        rest.close()
    state.rem[:] += arrays.wanted - beyond.wanted
    engine.kernel.start(arrays.problem, state, arrays.scratch(), 1)
    then = lacks(arrays, state)
    if then[0] >= now[0] or then[1] > now[1]:
        return False
    engine.copy(state, engine.best)
    return True


def _left_out(arrays: Arrays) -> list[int]:
    """Units that a search leaves out already."""
    if arrays.whole is None:
        return []
    wanted = zip(arrays.whole.wanted.tolist(), arrays.wanted.tolist(), strict=True)
    return [unit for unit, (all_, some) in enumerate(wanted) if all_ and not some]
