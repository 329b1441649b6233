"""Rectangles of which corners are missing: ``20 x 14 less 7 x 4`` is an L."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from cutopt.errors import Problem
from cutopt.fabric import Outline

CORNERS: Final = ("top right", "top left", "bottom right", "bottom left")


def rectangle_less(
    width: int, length: int, less: Iterable[tuple[str, int, int]]
) -> Outline:
    """A rectangle without some of its corners; each missing corner is a rectangle itself.

    Parameters
    ----------
    width : int
        Ticks.
    length : int
        Ticks.
    less : iterable of (str, int, int)
        One of `CORNERS`, and how far it reaches across and along, in ticks.

    Raises
    ------
    Problem
        Where a corner is missing twice, is as large as the piece, or meets another one.
    """
    missing: dict[str, tuple[int, int]] = {}
    for corner, across, along in less:
        if corner in missing:
            raise Problem(
                "less",
                f"the {corner} corner is taken off twice",
                "name another corner, such as top left",
            )
        if across >= width or along >= length:
            raise Problem(
                "less",
                "the missing corner is as large as the piece",
                "write the size of what is left",
            )
        missing[corner] = (across, along)
    ring: list[tuple[int, int]] = []
    for corner, x, y, dx, dy in (
        ("bottom left", 0, 0, 1, 1),
        ("bottom right", width, 0, -1, 1),
        ("top right", width, length, -1, -1),
        ("top left", 0, length, 1, -1),
    ):
        a, b = missing.get(corner, (0, 0))
        upright = [(x, y + dy * b), (x + dx * a, y + dy * b), (x + dx * a, y)]
        ring += upright if (dx > 0) == (dy > 0) else upright[::-1]
    if _overlap(missing, width, length):
        raise Problem("less", "the missing corners overlap", "check their sizes")
    return tuple(ring)


def _overlap(missing: dict[str, tuple[int, int]], width: int, length: int) -> bool:
    """Whether missing corners touch, so that nothing would hold the piece together there."""

    def size(corner: str) -> tuple[int, int]:
        return missing.get(corner, (0, 0))

    beside = [
        (s, size(f"{s} left")[0] + size(f"{s} right")[0] >= width)
        for s in ("top", "bottom")
    ]
    above = [
        (s, size(f"top {s}")[1] + size(f"bottom {s}")[1] >= length)
        for s in ("left", "right")
    ]
    (a, b), (c, d) = size("bottom left"), size("top right")
    (e, f), (g, h) = size("bottom right"), size("top left")
    across = (a + c >= width and b + d >= length) or (
        e + g >= width and f + h >= length
    )
    return across or any(touch for _, touch in (*beside, *above))
