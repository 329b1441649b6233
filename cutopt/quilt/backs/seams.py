"""Where the long seams of a pieced backing lie, and how to shift it clear of the seams of the top.

Two seams one above the other make a thick ridge, and a backing seam down the middle lies on the fold of the quilt.
Keeping clear of both is common practice, no source: nothing is left out for it, but of two ways alike the clear one
comes first, and where a seam lies is told.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from cutopt.quilt.backs.sewn import long_seams, size_of
from cutopt.quilt.backs.way import CLEAR, OFF_MIDDLE, Lies, Way
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.surds import ZERO, Exact, Number, ceil_to, exact
from cutopt.quilt.top import Needed

IN_MIDDLE: Final = "in the middle"
UNDER: Final = "under a seam of the top"
# position from the edge of the top, and how near is too near
Line: TypeAlias = tuple[Number, Number]


@dataclass(frozen=True, slots=True, kw_only=True)
class TopSeams:
    """Long seams of a top, from the edge of the finished patchwork: `upright` from the left, `level` from above.

    `whole` says that they are all; a measured top has others that nobody told.
    """

    upright: tuple[Exact, ...] = ()
    level: tuple[Exact, ...] = ()
    whole: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class _Axis:
    """One direction: seams of the backing from the edge of the top when it lies centred, and how far it can go."""

    seams: tuple[Exact, ...]
    slack: Exact

    def shift(self, lines: Sequence[Line], mark: int) -> Exact | None:
        """The least shift with which no seam lies near a line, by marks of a ruler if it can be; None if none helps."""
        edges = [
            exact(line) + sign * exact(near) - at
            for line, near in lines
            for at in self.seams
            for sign in (-1, 1)
        ]
        marked = [
            ceil_to(abs_(shift), mark) * (-1 if shift < 0 else 1) for shift in edges
        ]
        for tries in ([ZERO, *marked], edges):
            near = sorted(
                (shift for shift in tries if abs_(shift) <= self.slack), key=abs_
            )
            clear = next((shift for shift in near if self._clear(shift, lines)), None)
            if clear is not None:
                return clear
        return None

    def _clear(self, shift: Exact, lines: Sequence[Line]) -> bool:
        return all(
            abs_(at + shift - line) >= near for at in self.seams for line, near in lines
        )


def seams_at(way: Way) -> tuple[Exact, ...]:
    """Where the seams along its panels lie, from the first edge of the pieced backing; of pieces those that run up."""
    upright, level = long_seams(way.sewn)
    if way.tiles is not None or way.run == "up":
        return upright
    return level


def _axes(way: Way, need: Needed) -> tuple[_Axis | None, _Axis | None]:
    """The seams that run up and those that run across, None where there are none."""
    wide, high = size_of(way.sewn)
    upright, level = long_seams(way.sewn)
    return (
        _axis(upright, wide - need.width, need.overage[0]),
        _axis(level, high - need.length, need.overage[1]),
    )


def _axis(seams: tuple[Exact, ...], spare: Exact, over: int) -> _Axis | None:
    if not seams:
        return None
    return _Axis(seams=tuple(at - spare / 2 - over for at in seams), slack=spare / 2)


def shift_clear_of(way: Way, need: Needed, lines: Sequence[Line]) -> Exact | None:
    """How far to shift the backing so that none of its seams lies near a line of the top; None where none helps.

    Parameters
    ----------
    lines : (position, how near is too near)
        From the edge of what `need` is measured from, across the seams of the backing.

    Returns
    -------
    Exact or None
        Shift from centred, no further than what is to spare allows; 0 where nothing has to be done.
    """
    axis = next((axis for axis in _axes(way, need) if axis is not None), None)
    if axis is None:
        return ZERO
    return axis.shift(lines, 1)


def laid(
    way: Way, need: Needed, top: TopSeams | None, how: Conventions = DEFAULT
) -> Way:
    """The way with what lies above its seams, and how far it is shifted from centred so that nothing does.

    Parameters
    ----------
    way, need : a backing, and the size that it has to reach
    top : long seams of the top; None where only the middle is known, and nothing is said of the top's seams
    how : how near is too near, and the marks of the ruler
    """
    if _axes(way, need) == (None, None):
        return way
    tries: list[tuple[TopSeams, Lies]] = [(TopSeams(), OFF_MIDDLE)]
    if top is not None:
        tries = [(top, CLEAR if top.whole else OFF_MIDDLE), (TopSeams(), UNDER)]
    for lines, word in tries:
        shift = _clear_of(way, need, lines, how)
        if shift is not None:
            return replace(way, lies=word, shift=shift)
    return replace(way, lies=IN_MIDDLE)


def _clear_of(
    way: Way, need: Needed, top: TopSeams, how: Conventions
) -> tuple[Exact, Exact] | None:
    """The shift with which no seam lies in the middle or under these; None where there is none."""
    shifts = []
    known = (top.upright, top.level)
    for side, axis in enumerate(_axes(way, need)):
        shift: Exact | None = ZERO
        if axis is not None:
            lines = [_middle(need, side, how), *_lines(known[side], need, how)]
            shift = axis.shift(lines, how.ruler)
        if shift is None:
            return None
        shifts.append(shift)
    return shifts[0], shifts[1]


def _middle(need: Needed, side: int, how: Conventions) -> Line:
    """The middle, and how near to it is in the middle."""
    size = (need.width, need.length)[side] - 2 * need.overage[side]
    return size / 2, how.usual(None, "2", "5")


def _lines(known: Sequence[Exact], need: Needed, how: Conventions) -> list[Line]:
    """Seams of the top from the edge that `need` is measured from."""
    if need.base == "finished":
        edge = 0
    else:
        edge = how.seam
    return [(line + edge, how.seam_clear) for line in known]


def abs_(value: Number) -> Exact:
    """The value without its sign."""
    number = exact(value)
    if number < 0:
        return -number
    return number
