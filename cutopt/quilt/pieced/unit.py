"""A unit of a block, a rectangle that is sewn first, and the patches that it shows.

Sizes are finished, in ticks or in steps of a grid; points are from the lower left corner, across before up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, Literal, TypeAlias

Kind: TypeAlias = Literal[
    "patch",
    "half-square triangle",
    "hourglass",
    "flying goose",
    "sewn-over corners",
    "square in a square",
]
Size: TypeAlias = Fraction | int
Point: TypeAlias = tuple[Size, Size]
# which of the cloths of its unit a patch is of, and its corners
Shape: TypeAlias = tuple[int, tuple[Point, ...]]

# corners of a unit, anticlockwise
LOWER_LEFT: Final = 0
LOWER_RIGHT: Final = 1
UPPER_RIGHT: Final = 2
UPPER_LEFT: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """A unit as it lies before it is turned `turn` times clockwise, by a quarter each.

    `slots` says which cloths of the block it takes, by number. The first of a half-square triangle lies at the upper
    left, that of an hourglass below and above, that of a goose is the goose (its point up), that of sewn-over corners
    and of a square in a square the middle. `corner` is the finished leg of a corner that is sewn over, `corners` which
    ones are. `word` is what its patches are called beside the word of their cloth ("centre"), empty for the usual.
    """

    kind: Kind
    width: Size
    length: Size
    slots: tuple[int, ...]
    word: str = ""
    turn: int = 0
    corner: Size = 0
    corners: tuple[int, ...] = ()

    @property
    def lies(self) -> tuple[Size, Size]:
        """Width and length as it lies in the block."""
        if self.turn % 2:
            return self.length, self.width
        return self.width, self.length

    def turned(self, quarters: int) -> Unit:
        """The same, so many quarters further clockwise."""
        return replace(self, turn=(self.turn + quarters) % 4)

    def scaled(self, by: Fraction) -> Unit:
        """The same in another unit of length."""
        return replace(
            self,
            width=self.width * by,
            length=self.length * by,
            corner=self.corner * by,
        )

    def of_slots(self, slots: Sequence[int]) -> Unit:
        """The same from other cloths: `slots` says for each of its own which one of the block it is."""
        return replace(self, slots=tuple(slots[own] for own in self.slots))

    def shapes(self) -> list[Shape]:
        """Its patches as it lies."""
        size = (self.width, self.length)
        return [
            (which, tuple(quarters_on(corner, size, self.turn) for corner in corners))
            for which, corners in self._before_it_is_turned()
        ]

    def _before_it_is_turned(self) -> list[Shape]:
        w = self.width
        h = self.length
        ends = ((0, 0), (w, 0), (w, h), (0, h))
        if self.kind == "patch":
            return [(0, ends)]
        if self.kind == "sewn-over corners":
            return self._with_corners_sewn_over(ends)
        top = (Fraction(w) / 2, h)
        middle = (Fraction(w) / 2, Fraction(h) / 2)
        if self.kind == "half-square triangle":
            upper = (ends[0], ends[2], ends[3])
            return [(0, upper), (1, ends[:3])]
        if self.kind == "flying goose":
            left = (ends[0], top, ends[3])
            right = (ends[1], ends[2], top)
            return [(0, (ends[0], ends[1], top)), (1, left), (1, right)]
        if self.kind == "hourglass":
            sides = zip(ends, (*ends[1:], ends[0]), strict=True)
            quarters = [(*side, middle) for side in sides]
            return list(zip((0, 1, 0, 1), quarters, strict=True))
        mids: tuple[Point, ...] = ((middle[0], 0), (w, middle[1]), top, (0, middle[1]))
        corners = [(mids[i - 1], ends[i], mids[i]) for i in range(4)]
        return [(0, mids), *((1, corner) for corner in corners)]

    def _with_corners_sewn_over(self, ends: tuple[Point, ...]) -> list[Shape]:
        """The middle without its corners, and the corners; those that meet along a side share a point."""
        middle: list[Point] = []
        corners: list[Shape] = []
        for i, end in enumerate(ends):
            if i not in self.corners:
                middle.append(end)
                continue
            before = _towards(end, ends[i - 1], self.corner)
            behind = _towards(end, ends[(i + 1) % 4], self.corner)
            middle += [before, behind]
            corners.append((1, (before, end, behind)))
        outline = dict.fromkeys(middle)
        return [(0, tuple(outline)), *corners]


def _towards(start: Point, stop: Point, far: Size) -> Point:
    """The point so far from start on an upright or level line to stop."""

    def step(a: Size, b: Size) -> Size:
        return far * ((b > a) - (b < a))

    return start[0] + step(start[0], stop[0]), start[1] + step(start[1], stop[1])


def quarters_on(point: Point, size: tuple[Size, Size], quarters: int) -> Point:
    """Where a point of a rectangle comes to lie when that is turned clockwise, its lower left corner again at 0, 0.

    Parameters
    ----------
    point : from the lower left corner
    size : width and length of the rectangle
    quarters : how many quarter turns
    """
    x, y = point
    width, length = size
    for _ in range(quarters % 4):
        x, y = y, width - x
        width, length = length, width
    return x, y


def patch(width: Size, length: Size, slot: int, word: str = "") -> Unit:
    """A square or a rectangle.

    Parameters
    ----------
    width, length : finished
    slot : its cloth
    word : what it is called beside the word of its cloth
    """
    return Unit(kind="patch", width=width, length=length, slots=(slot,), word=word)


def half(side: Size, first: int, second: int, turn: int = 0) -> Unit:
    """A half-square triangle; unturned the first cloth lies at the upper left.

    Parameters
    ----------
    side : finished
    first, second : its cloths
    turn : quarter turns, clockwise
    """
    slots = (first, second)
    return Unit(
        kind="half-square triangle", width=side, length=side, slots=slots, turn=turn
    )


def hourglass(side: Size, first: int, second: int) -> Unit:
    """Four triangles, the first cloth below and above.

    Parameters
    ----------
    side : finished
    first, second : its cloths
    """
    return Unit(kind="hourglass", width=side, length=side, slots=(first, second))


def goose(width: Size, bird: int, sky: int, turn: int = 0) -> Unit:
    """A flying goose, its point up where it is not turned.

    Parameters
    ----------
    width : finished, twice its height
    bird, sky : its cloths
    turn : quarter turns, clockwise
    """
    high = Fraction(width) / 2
    return Unit(
        kind="flying goose", width=width, length=high, slots=(bird, sky), turn=turn
    )


def sewn_over(
    size: tuple[Size, Size],
    corner: Size,
    slots: tuple[int, int],
    corners: tuple[int, ...],
) -> Unit:
    """A rectangle with some of its corners sewn over and flipped.

    Parameters
    ----------
    size : finished width and length
    corner : finished leg of a corner
    slots : cloth of the middle, and of the corners
    corners : which ones
    """
    return Unit(
        kind="sewn-over corners",
        width=size[0],
        length=size[1],
        slots=slots,
        corner=corner,
        corners=corners,
    )


def square_in_a_square(side: Size, middle: int, corner: int) -> Unit:
    """A square on point in a square.

    Parameters
    ----------
    side : finished
    middle, corner : its cloths
    """
    return Unit(
        kind="square in a square", width=side, length=side, slots=(middle, corner)
    )
