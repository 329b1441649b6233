"""Which segments are sewn to which strip of a row: those of one fabric, and one grain, together where they suffice.

All of it is cut already: that segments change places between strips costs no cloth, no cut and no join.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Sequence
from itertools import combinations, product
from typing import NamedTuple, TypeAlias

# strips of a row: of more, each pair would take too long to compare
_MOST = 40
# a strip of one fabric counts as much as two of one grain: it is what is seen
_FABRIC = 2


class Segment(NamedTuple):
    """A part that is cut for a strip, its length in ticks, and what should be one in a strip."""

    part: str
    long: int
    fabric: int
    turned: bool


Sewn: TypeAlias = list[Segment]


def sort_out(strips: Sequence[Sewn], suffices: Callable[[Sewn], bool]) -> None:
    """Let segments of the strips of one row change places while that makes these more alike in themselves.

    Parameters
    ----------
    strips : the segments of each strip; changed in place, their numbers stay
    suffices : whether segments reach the length of the strip
    """
    if len(strips) > _MOST:
        return
    # each change makes the strips more alike, so that there is an end
    while any(_changed(one, other, suffices) for one, other in combinations(strips, 2)):
        pass


def _changed(one: Sewn, other: Sewn, suffices: Callable[[Sewn], bool]) -> bool:
    """Whether two strips were made more alike in themselves by a segment of each that changed places."""
    if not (_is_mixed(one) or _is_mixed(other)):
        return False
    before = _alike(one) + _alike(other)
    for i, j in product(range(len(one)), range(len(other))):
        one[i], other[j] = other[j], one[i]
        if _alike(one) + _alike(other) > before and suffices(one) and suffices(other):
            return True
        one[i], other[j] = other[j], one[i]
    return False


def _is_mixed(strip: Sewn) -> bool:
    return len({(segment.fabric, segment.turned) for segment in strip}) > 1


def _alike(strip: Sewn) -> int:
    """How much the segments of a strip are alike: pairs of one fabric and of one grain."""
    fabrics = _pairs(segment.fabric for segment in strip)
    return _FABRIC * fabrics + _pairs(segment.turned for segment in strip)


def _pairs(kinds: Iterable[Hashable]) -> int:
    return sum(count * count for count in Counter(kinds).values())


__all__ = ["Segment", "sort_out"]
