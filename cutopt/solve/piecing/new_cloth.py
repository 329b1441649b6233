"""A rectangle of new cloth, larger than the cloth is wide: strips side by side, the last of them pieced end to end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias, TypeVar

import numpy as np

from cutopt.solve.plates.plate_table import Ints

Size = TypeVar("Size", int, Ints)
Least: TypeAlias = tuple[int, int]
# a narrow strip is sewn end to end of so many pieces at most, which lie side by side on the cloth
_MOST_PIECES = 4


@dataclass(frozen=True, slots=True)
class Strips:
    """`full` strips of the usable width beside one that is pieced of `pieces`; they run `across` the back or up it."""

    across: bool
    full: int
    pieces: int


def table_of(
    wide: int, high: int, width: int, seam: int, least: Least, turns: int
) -> Ints:
    """What each size takes: length of the cloth, and parts; a length beyond all where it cannot be had.

    Parameters
    ----------
    wide, high : int
        The largest size, steps.
    width : int
        Usable width of the cloth; 0 where there is none.
    seam : int
        Twice the allowance of a seam.
    least : (int, int)
        The least side as cut of a part on its own, and of one of several.
    turns : int
        Bits: 1 where strips may run up, 2 where they may run across.

    Returns
    -------
    array (wide + 1, high + 1, 2)
    """
    beyond = wide * high
    found = np.full((wide + 1, high + 1, 2), (beyond, 1), dtype=np.int64)
    if width < least[0]:
        return _by_area(found)
    w, h = np.indices((wide + 1, high + 1))
    for way in _ways(wide, high, width, seam, turns):
        length = _length(way, w, h, width, seam, least)
        parts = way.full + way.pieces
        better = (length >= 0) & (length + parts < found.sum(axis=2))
        found[:, :, 0][better] = length[better]
        found[:, :, 1][better] = parts
    return found


def _by_area(found: Ints) -> Ints:
    """Where no new cloth can be had: the less is missing the better."""
    wide, high = found.shape[:2]
    found[:, :, 0] = np.outer(np.arange(wide), np.arange(high)) // 4 + 1
    return found


def _ways(wide: int, high: int, width: int, seam: int, turns: int) -> Iterator[Strips]:
    for across in (False, True):
        if not turns & (2 if across else 1):
            continue
        side = high if across else wide
        most = side // max(width - seam, 1) + 1
        for full in range(most + 1):
            for pieces in range(_MOST_PIECES + 1):
                if full or pieces:
                    yield Strips(across, full, pieces)


def _length(way: Strips, w: Ints, h: Ints, width: int, seam: int, least: Least) -> Ints:
    """The length that a way takes for sizes w x h; -1 for what it is not fit for."""
    if way.across:
        w, h = h, w
    small = least[way.full + way.pieces > 1]
    # the width as cut of the strip that is pieced
    rest = w - way.full * (width - seam)
    if way.pieces:
        each = end_to_end(h, way.pieces, seam)
        fits = (rest <= width // way.pieces) & (rest >= small) & (each >= small)
    else:
        each = np.zeros_like(h)
        # the last strip is trimmed
        fits = (rest <= seam) & (rest + width - seam >= small)
    return np.where(fits & (h >= small), way.full * h + each, -1)


def end_to_end(length: Size, pieces: int, seam: int) -> Size:
    """How long each of several pieces is that make a length, rounded up.

    Parameters
    ----------
    length : int or array
        As it comes out, cut size.
    pieces : int
    seam : int
        Twice the allowance.
    """
    return -(-(length + seam * (pieces - 1)) // pieces)


def strips_for(
    size: tuple[int, int], width: int, seam: int, least: Least, turns: int
) -> Strips | None:
    """The way in which a size takes the least, as :func:`table_of` counts it; None where it cannot be had.

    Parameters
    ----------
    size : (int, int)
        Across and up, steps.
    width, seam, least, turns
        As for :func:`table_of`.
    """
    best = None
    cheapest = size[0] * size[1]
    for way in _ways(*size, width, seam, turns):
        w, h = (np.array(side) for side in size)
        length = int(_length(way, w, h, width, seam, least))
        cost = length + way.full + way.pieces
        if length >= 0 and cost < cheapest:
            best = way
            cheapest = cost
    return best
