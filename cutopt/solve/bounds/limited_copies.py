"""The worth of a rectangle where no part counts more often than it is wanted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from cutopt.solve.bounds.relaxed import Relaxed, RelaxedCloth
from cutopt.solve.plates.exact_plate import exact_plate
from cutopt.solve.plates.plate_table import PlatePart, sums

# prices are whole multiples of so small a share of the dearest part
_FINEST = 4000
_BLOCKS = 1 << 14
_ROUNDS = 40
_MOST_WANTED = 400
_MOST_SOURCES = 12
# additions in one table, of which one plate takes about forty
_MOST_WORK = 8_000_000


def can_limit(problem: Relaxed, sources: Sequence[RelaxedCloth]) -> bool:
    """Whether limits matter and can be reckoned with: rectangles only, not too many, and few kinds of cloth."""
    if any(need.strip for need in problem.needs):
        return False
    if any(source.cloth is not None for source in sources):
        return False
    wanted = sum(need.demand for need in problem.needs)
    if wanted > _MOST_WANTED or len(sources) > _MOST_SOURCES:
        return False
    return all(_work(problem, source) <= _MOST_WORK for source in sources)


def _work(problem: Relaxed, source: RelaxedCloth) -> int:
    """About how many additions one table of the exact plate takes."""
    unit = problem.unit
    ways = problem.ways[source.ways]
    if max(source.w, source.l) // unit > 1 << 14:
        return _MOST_WORK + 1
    across = set()
    along = set()
    for need, turns in zip(problem.needs, ways, strict=True):
        for w, length, _ in PlatePart(need.w // unit, need.l // unit, 1, turns).ways():
            across.add(w)
            along.add(length)
    n = len(sums(source.w // unit, across))
    m = len(sums(source.l // unit, along))
    return n * m * (n + m) // 4


def coarse(problem: Relaxed, prices: Sequence[int]) -> list[int]:
    """The prices rounded down to multiples of :func:`grain`."""
    step = grain(problem)
    return [price // step * step for price in prices]


def grain(problem: Relaxed) -> int:
    """What the prices are multiples of, so that the exact search works with small numbers."""
    return max(1, max(need.weight for need in problem.needs) // _FINEST)


def limited_value(
    problem: Relaxed, prices: Sequence[int], source: RelaxedCloth
) -> tuple[int, dict[int, int], int]:
    """The most that a copy is worth, the parts of the best plan found, and how much work that was.

    Parameters
    ----------
    problem : Relaxed
    prices : sequence of int
        Of one of each need.
    source : RelaxedCloth
        A rectangle.
    """
    step = grain(problem)
    unit = problem.unit
    served = problem.served(source.ways)
    parts = [
        PlatePart(
            need.w // unit,
            need.l // unit,
            prices[k] // step,
            problem.ways[source.ways][k],
            need.demand,
        )
        for k, need in ((k, problem.needs[k]) for k in served)
    ]
    found = exact_plate(
        source.w // unit, source.l // unit, parts, most_blocks=_BLOCKS, rounds=_ROUNDS
    )
    return (
        found.bound * step,
        dict(Counter(served[k] for k, *_ in found.placements)),
        1000 * (found.work + 1),
    )
