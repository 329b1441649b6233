"""A plate so large beside its parts that the exact table cannot be filled: a search over sizes, and a bound.

The search (`size_search.py`) and the bound (`two_scales.py`) are worked on in turn until few sizes give nothing more.
Then all plans that lose little of the bound are looked through (`little_loss.py`), and the search goes on with all
sizes of one axis.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor

from cutopt.solve.plates.large.little_loss import little_loss
from cutopt.solve.plates.large.size_search import Plan, SizesSearch
from cutopt.solve.plates.large.two_scales import Pair, Scales
from cutopt.solve.plates.plate_table import PlatePart, raster, sums

# additions of the whole table, about four seconds; above it is searched
MOST_WORK = 4_000_000_000
_TRIES = 1000
# climbs before the search ends
_VAIN = 6
# steps of the bound
_STEPS = 400
_BOUND_EVERY = 50


def is_large(w: int, h: int, parts: Sequence[PlatePart]) -> bool:
    """Whether the table of all sums is too large to be filled.

    Parameters
    ----------
    w, h : int
        The plate.
    parts : sequence of PlatePart
    """
    if max(w, h) > 1 << 17:
        return True
    across, along = _sizes(w, h, parts)
    xs = raster(w, sums(w, across))
    ys = raster(h, sums(h, along))
    return len(xs) * len(ys) * (len(xs) + len(ys)) // 4 > MOST_WORK


def _sizes(w: int, h: int, parts: Sequence[PlatePart]) -> tuple[list[int], list[int]]:
    ways = [way for part in parts for way in part.ways() if way[0] <= w and way[1] <= h]
    across = [pw for pw, _, _ in ways]
    along = [ph for _, ph, _ in ways]
    return across, along


def area_bound(w: int, h: int, parts: Sequence[PlatePart]) -> int:
    """No plan is worth more: the best worth by area on the widest and the highest sums that go on the plate.

    Parameters
    ----------
    w, h : int
        The plate.
    parts : sequence of PlatePart
    """
    across, along = _sizes(w, h, parts)
    widest = int(sums(w, across)[-1])
    highest = int(sums(h, along)[-1])
    return max(part.value * widest * highest // (part.w * part.h) for part in parts)


def large_plate(
    w: int,
    h: int,
    parts: Sequence[PlatePart],
    stop: Callable[[], bool],
    seed: int = 0,
    *,
    climb: bool = True,
) -> tuple[int, Plan, int]:
    """The best value found, copies unlimited, its plan, and what no plan can exceed.

    Unless it is to climb it ends within seconds, where few sizes of an axis at a time give nothing more.

    Parameters
    ----------
    w, h : int
        The plate.
    parts : sequence of PlatePart
        Copies are unlimited.
    stop : callable
        Asked every tenth of a second or so.
    seed : int
        Of the draws.
    climb : bool
        Else it ends within seconds, where few sizes of an axis at a time give nothing more.
    """
    search = SizesSearch(w, h, parts, seed)
    bound = area_bound(w, h, parts)
    descents = [Scales(w, h, parts, shared=shared) for shared in (True, False)]
    bound = min(bound, *(scales.bound for scales in descents))
    if not stop():
        search.begin(bound, stop)
    for turn in range(1, _TRIES + 1):
        search.turn()
        for scales in descents:
            _step(scales, search.value, bound)
        if turn % _BOUND_EVERY == 0:
            bound = min(bound, *(scales.proved() for scales in descents))
        if search.value >= bound or search.quiet or stop():
            break
    if search.value < bound and not stop():
        pair, least = _closely(search, descents, stop)
        bound = min(bound, least)
        if climb and search.value < bound:
            _climb(search, pair, lambda: search.value >= bound or stop())
    return (
        search.value,
        search.plan,
        min(bound, *(scales.proved() for scales in descents)),
    )


def warm_up() -> None:
    """Load all that is loaded once: a plate of parts worth their area, and one of others, both tiny."""
    large_plate(7, 7, [PlatePart(3, 2, 6), PlatePart(2, 3, 6)], lambda: False)
    large_plate(7, 7, [PlatePart(3, 2, 6), PlatePart(2, 3, 5)], lambda: False)
    scales = Scales(7, 7, [PlatePart(3, 2, 6), PlatePart(2, 3, 5)])
    little_loss(scales.pair(), 1, lambda: False)


def _step(scales: Scales, known: int, bound: int) -> bool:
    """One more step of a bound where it may be of use."""
    if known >= bound or scales.finished or scales.steps >= _STEPS:
        return False
    scales.step(known)
    return True


def _closely(
    search: SizesSearch, descents: Sequence[Scales], stop: Callable[[], bool]
) -> tuple[Pair, int]:
    """Look through plans that lose little of the better bound; its scales, and what no plan exceeds."""
    for scales in descents:
        while _step(scales, search.value, scales.bound) and not stop():
            pass
    best = min(descents, key=lambda scales: scales.proved())
    pair = best.pair()
    bound = best.bound
    # then everything loses little
    if not search.by_area:
        found = little_loss(pair, search.value, stop)
        bound = min(bound, found.bound)
        if found.plan:
            search.take(
                found.value,
                [(best.ways[k][0], x, y, best.ways[k][1]) for k, x, y in found.plan],
            )
    return pair, bound


def _climb(search: SizesSearch, pair: Pair, stop: Callable[[], bool]) -> None:
    """Better the plan with every size of one axis at once; beside it begin anew, and use the sizes found there too."""
    vain = 0
    given_up = False
    with ThreadPoolExecutor(2) as threads:
        try:
            while vain < _VAIN and not stop():
                before = search.value
                other = search.anew()
                list(
                    threads.map(
                        lambda one: one.climb(pair, lambda: given_up or stop()),
                        (search, other),
                    )
                )
                search.learn(other)
                if search.value > before:
                    vain = 0
                else:
                    vain = vain + 1
        finally:
            # Ctrl-C: the threads end too
            given_up = True
