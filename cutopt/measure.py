"""What a cut can be measured from on the piece in hand: a straight edge of it, or one of its corners.

A measure from an edge or a corner that an earlier cut has taken away is a miscut, and one that no mark of a ruler
meets is a guess. So the edges and corners that are still there are listed, and the best of them is taken: a
straight edge before a corner, a distance that a ruler shows before one that it does not.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal, TypeAlias

from cutopt.geometry import Number, Point, Polygon, bounds, edges
from cutopt.lengths import INCH, MM

Side: TypeAlias = Literal["low", "high"]
SIDES: Final[tuple[Side, Side]] = ("low", "high")
EDGES: Final[dict[tuple[int, Side], str]] = {
    (0, "low"): "left",
    (0, "high"): "right",
    (1, "low"): "bottom",
    (1, "high"): "top",
}
ENDS: Final[dict[tuple[int, Side], str]] = {
    (0, "low"): "left",
    (0, "high"): "right",
    (1, "low"): "lower",
    (1, "high"): "upper",
}
_SHORTEST: Final = INCH  # an edge that a ruler's line can be laid along
FINE: Final = {"in": INCH // 16, "cm": MM}  # the marks of a ruler


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """An edge or a corner of a part that a cut across `axis` (0: upright, 1: level) is measured from.

    `at` is its place on that axis, ticks; `side` the edge that it is, or the end of the part that the corner sticks
    out to, "" for a corner in between; `straight` says whether it is an edge.
    """

    at: Number
    name: str
    side: Side | Literal[""]
    straight: bool


def straight_side(part: Sequence[Point], axis: int, side: Side) -> bool:
    """Whether a part ends at that side in an edge, square to the axis, that a ruler's line can be laid along.

    Parameters
    ----------
    part : corners in ticks
    axis : int
        0 for its left and right edge, 1 for the lower and the upper one.
    side : {"low", "high"}
    """
    box = bounds(part)
    at = box[axis + (2 if side == "high" else 0)]
    other = 1 - axis
    longest = max(
        (
            _apart(a[other], b[other])
            for a, b in edges(part)
            if a[axis] == b[axis] == at
        ),
        default=0,
    )
    return longest > 0 and longest >= min(_SHORTEST, box[other + 2] - box[other])


def _apart(a: Number, b: Number) -> Number:
    if b > a:
        return b - a
    return a - b


def marks(part: Sequence[Point], axis: int) -> list[Mark]:
    """All that a cut across the axis can be measured from: edges, corners that stick out, ends of the other edges."""
    box = bounds(part)
    other = 1 - axis
    found = []
    for side in SIDES:
        at = box[axis + (2 if side == "high" else 0)]
        straight = straight_side(part, axis, side)
        name = EDGES[axis, side]
        found.append(
            Mark(
                at=at,
                name=f"{name} edge" if straight else f"{name} corner",
                side=side,
                straight=straight,
            )
        )
    for side in SIDES:
        end = box[other + (2 if side == "high" else 0)]
        name = EDGES[other, side]
        places = sorted(corner[axis] for corner in part if corner[other] == end)
        if len(places) == 1:
            found.append(
                Mark(at=places[0], name=f"{name} corner", side="", straight=False)
            )
            continue
        for which, at in zip(SIDES, (places[0], places[-1]), strict=True):
            found.append(
                Mark(
                    at=at,
                    name=f"{ENDS[axis, which]} end of the {name} edge",
                    side="",
                    straight=False,
                )
            )
    return found


def on_ruler(distance: Number, unit: str) -> bool:
    """Whether a ruler of that unit has a mark for a distance: sixteenths of an inch, or millimetres."""
    return distance % FINE[unit] == 0


def meets_ruler(part: Polygon, axis: int, at: Number, unit: str) -> bool:
    """Whether anything that a cut can be measured from is at a distance that a ruler has a mark for.

    Parameters
    ----------
    part : corners in ticks
    axis : int
        0 for an upright cut, 1 for a level one.
    at : int or Fraction
        Where the cut is on that axis, ticks.
    unit : {"in", "cm"}
        Of the ruler.
    """
    return any(on_ruler(place - at, unit) for place in _places(part, axis))


@lru_cache(maxsize=1 << 14)
def _places(part: Polygon, axis: int) -> tuple[Number, ...]:
    return tuple({mark.at: None for mark in marks(part, axis)})


def best_mark(
    part: Sequence[Point],
    axis: int,
    at: Number,
    unit: str,
    side: Side = "low",
    raw: Collection[Side] = (),
) -> Mark:
    """What a cut at `at` is best measured from; of equals, what lies at `side`, then what is nearest.

    Parameters
    ----------
    part, axis, at, unit
        As of :func:`meets_ruler`.
    side : {"low", "high"}
    raw : collection of sides
        Where the part still has an edge that is not yet squared up.
    """

    def cost(mark: Mark) -> tuple[bool, bool, bool, bool, bool, Number]:
        far = _apart(mark.at, at)
        return (
            mark.side in raw,
            not on_ruler(far, unit),
            not mark.straight,
            mark.side != side,
            mark.side == "",
            far,
        )

    return min(marks(part, axis), key=cost)


def square_to(part: Sequence[Point], axis: int) -> str:
    """The edge that a ruler is laid square to for a cut across the axis: ``bottom edge``; "" where there is none."""
    for side in SIDES:
        if straight_side(part, 1 - axis, side):
            return f"{EDGES[1 - axis, side]} edge"
    return ""


__all__ = [
    "EDGES",
    "ENDS",
    "FINE",
    "SIDES",
    "Mark",
    "Side",
    "best_mark",
    "marks",
    "meets_ruler",
    "on_ruler",
    "square_to",
    "straight_side",
]
