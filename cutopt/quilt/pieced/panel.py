"""Units in rows, and rows in rows: what a block is sewn from."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TypeAlias

from cutopt.quilt.pieced.unit import Point, Shape, Size, Unit, patch, quarters_on

Cell: TypeAlias = "Unit | Panel"
# a unit with its patches where they lie
Laid: TypeAlias = tuple[Unit, tuple[Shape, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """Rows from the top, each of cells from the left; as a whole turned `turn` quarters clockwise.

    A row is as high as its highest cell, a panel as wide as its widest row. What does not fill it is told by the block.
    """

    rows: tuple[tuple[Cell, ...], ...]
    turn: int = 0

    @property
    def size(self) -> tuple[Size, Size]:
        """Width and length before it is turned."""
        long = sum(height(row) for row in self.rows)
        return max(width(row) for row in self.rows), long

    @property
    def lies(self) -> tuple[Size, Size]:
        """Width and length as it lies."""
        if self.turn % 2:
            return self.size[1], self.size[0]
        return self.size

    def turned(self, quarters: int) -> Panel:
        """The same, so many quarters further clockwise."""
        return replace(self, turn=(self.turn + quarters) % 4)

    def scaled(self, by: Fraction) -> Panel:
        """The same in another unit of length."""
        return self._each(lambda cell: cell.scaled(by))

    def of_slots(self, slots: Sequence[int]) -> Panel:
        """The same from other cloths: `slots` says for each of its own which one of the block it is."""
        return self._each(lambda cell: cell.of_slots(slots))

    def _each(self, changed: Callable[[Cell], Cell]) -> Panel:
        """The same of cells that are changed."""

        def one(row: tuple[Cell, ...]) -> tuple[Cell, ...]:
            return tuple(changed(cell) for cell in row)

        return replace(self, rows=tuple(one(row) for row in self.rows))

    def laid(self) -> list[Laid]:
        """Every unit, turned as it lies, with its patches from the lower left corner of the panel."""
        found: list[Laid] = []
        y = self.size[1]
        for row in self.rows:
            y -= height(row)
            x: Size = 0
            for cell in row:
                for unit, shapes in laid(cell):
                    found.append((unit, _moved(shapes, (x, y))))
                x += cell.lies[0]
        return [
            (unit.turned(self.turn), _turned(shapes, self.size, self.turn))
            for unit, shapes in found
        ]


def width(row: Sequence[Cell]) -> Size:
    """How wide a row is."""
    return sum(cell.lies[0] for cell in row)


def height(row: Sequence[Cell]) -> Size:
    """How high a row is."""
    return max(cell.lies[1] for cell in row)


def laid(cell: Cell) -> list[Laid]:
    """Every unit of a cell, with its patches from the lower left corner of the cell."""
    if isinstance(cell, Unit):
        return [(cell, tuple(cell.shapes()))]
    return cell.laid()


def _moved(shapes: Sequence[Shape], by: Point) -> tuple[Shape, ...]:
    dx, dy = by
    return tuple(
        (which, tuple((x + dx, y + dy) for x, y in corners))
        for which, corners in shapes
    )


def _turned(
    shapes: Sequence[Shape], size: tuple[Size, Size], turn: int
) -> tuple[Shape, ...]:
    return tuple(
        (which, tuple(quarters_on(corner, size, turn) for corner in corners))
        for which, corners in shapes
    )


def panel(*rows: Sequence[Cell]) -> Panel:
    """Rows from the top, each of cells from the left."""
    return Panel(rows=tuple(tuple(row) for row in rows))


def round_the_middle(cell: Cell) -> Panel:
    """Four of a cell, which lies at the upper left, each a quarter turn on from the one before it, clockwise."""
    return panel((cell, cell.turned(1)), (cell.turned(3), cell.turned(2)))


def checkered(side: Size, parts: int) -> Panel:
    """Squares of two cloths by turns, the first in the corners."""
    step = Fraction(side) / parts
    places = range(parts)
    rows = (
        [patch(step, step, (down + across) % 2) for across in places] for down in places
    )
    return panel(*rows)


def rails(size: tuple[Size, Size], number: int, *, level: bool) -> Panel:
    """Rails of as many cloths, side by side or one above the other.

    Parameters
    ----------
    size : finished width and length of all of them
    number : of rails
    level : whether they lie one above the other
    """
    if level:
        step = Fraction(size[1]) / number
        return panel(*([patch(size[0], step, rail)] for rail in range(number)))
    step = Fraction(size[0]) / number
    return panel([patch(step, size[1], rail) for rail in range(number)])
