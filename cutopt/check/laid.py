"""What seams hold together, laid out flat: where every part, block and seam lies, and how much of it is seen.

Whatever is sewn has a frame of its own: x across the back, y up it, from the lower left corner of its raw edges.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from cutopt.fabric import Fabric
from cutopt.geometry import Number
from cutopt.piecing import SpareBlock
from cutopt.plan import Seam

Span: TypeAlias = tuple[Number, Number]
# from left to right, from below to above
Area: TypeAlias = tuple[Span, Span]
# across and up
Size: TypeAlias = tuple[Number, Number]
# 0: the seam runs up, 1: it runs across
AXES: Final = {"left": 0, "right": 0, "below": 1, "above": 1}


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """Cloth, a block or a seam in what is sewn: `cut` to its raw edges, `seen` without its seam allowances."""

    name: str
    what: Fabric | SpareBlock | Seam
    cut: Area
    seen: Area

    @property
    def shows(self) -> Size:
        """What is seen of it, across and up; 0 or less where seams take all of it."""
        (left, right), (below, above) = self.seen
        return right - left, above - below


@dataclass(frozen=True, slots=True, kw_only=True)
class Sewn:
    """What holds together, `size` across and up to its raw edges; the seam sewn last is the last that is laid."""

    size: Size
    laid: tuple[Laid, ...]


def alone(name: str, what: Fabric | SpareBlock, size: Size) -> Sewn:
    """A part or a block before anything is sewn to it.

    Parameters
    ----------
    name : str
    what : Fabric or SpareBlock
    size : Size
        To its raw edges, ticks.
    """
    area = ((0, size[0]), (0, size[1]))
    return Sewn(size=size, laid=(Laid(name=name, what=what, cut=area, seen=area),))


def sewn_at(seam: Seam, low: Sewn, high: Sewn) -> Sewn:
    """Two parts sewn together; on both sides of the seam its allowance is seen no more.

    Parameters
    ----------
    seam : Seam
    low : Sewn
        On the left, or below.
    high : Sewn
        As long as the other where they meet.
    """
    axis = AXES[seam.side]
    line = low.size[axis] - seam.seam
    by = line - seam.seam
    laid = [_seen_to(each, axis, line) for each in low.laid]
    laid += [_seen_from(_moved(each, axis, by), axis, line) for each in high.laid]
    place = _put(((0, low.size[0]), (0, low.size[1])), axis, (line, line))
    laid.append(Laid(name=f"seam {seam.n}", what=seam, cut=place, seen=place))
    if axis == 0:
        size = (by + high.size[0], low.size[1])
    else:
        size = (low.size[0], by + high.size[1])
    return Sewn(size=size, laid=tuple(laid))


def _put(area: Area, axis: int, span: Span) -> Area:
    """The area with another span on one axis."""
    if axis == 0:
        return span, area[1]
    return area[0], span


def _moved(each: Laid, axis: int, by: Number) -> Laid:
    """The same farther right or up."""
    cut, seen = (
        _put(area, axis, (area[axis][0] + by, area[axis][1] + by))
        for area in (each.cut, each.seen)
    )
    return replace(each, cut=cut, seen=seen)


def _seen_to(each: Laid, axis: int, line: Number) -> Laid:
    """The same, seen no farther right or up than a line."""
    low, high = each.seen[axis]
    return replace(each, seen=_put(each.seen, axis, (low, min(high, line))))


def _seen_from(each: Laid, axis: int, line: Number) -> Laid:
    """The same, seen no farther left or down than a line."""
    low, high = each.seen[axis]
    return replace(each, seen=_put(each.seen, axis, (max(low, line), high)))
