"""Parts pushed together on their cloth, so that the gaps between them become one spare piece at the end.

The search leaves a part wherever it found room. Each gap between parts of a row costs a cut of its own and leaves a
scrap; pushed together they share their cuts, and what is left over is whole. Rows are pushed onto each other in the
same way, and the parts of a row within it. Parts move only between lines that keep them apart, so that they can be
cut edge to edge as before, and only to where the cloth under them is wholly usable.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from operator import itemgetter
from typing import TypeAlias

from cutopt.cloth import Cloth
from cutopt.geometry import is_rectangle
from cutopt.solve.bounds.relaxed import usable_span
from cutopt.solve.cuts.cut_parts import Rect
from cutopt.solve.model.cells import covers, summed, usable_cells

# x1, y1, x2, y2 in ticks; moved in place
Box: TypeAlias = list[int]
# boxes that no line across an axis keeps apart
Block: TypeAlias = list[Box]
# blocks, each with the box around it
Row: TypeAlias = Sequence[tuple[Block, Box]]

# rows within columns within rows ...: beyond, parts stay where they are
_DEEPEST = 60


class UsableGround:
    """Where on a cloth parts may lie: on it, off its flaws, clear of its raw edges.

    Parameters
    ----------
    cloth : Cloth
    step : int
        Ticks of a cell. On outlines other than rectangles a part is clear where all cells that it touches are.
    """

    def __init__(self, cloth: Cloth, step: int) -> None:
        self.whole = is_rectangle(cloth.outline) and not cloth.flaws
        self.step = step
        (x1, x2), (y1, y2) = usable_span(cloth, 0), usable_span(cloth, 1)
        self.box: Box = [x1, y1, x2, y2]
        if not self.whole:
            self.origin, cells = usable_cells(cloth, step)
            self.table = summed(cells)

    def clear(self, block: Block, around: Box, axis: int, by: int) -> bool:
        """Whether all boxes, around which is another, lie on usable cloth when moved along an axis by so many ticks.

        Parameters
        ----------
        block : list of boxes
            Ticks.
        around : Box
            The box around them.
        axis : int
            0 across, 1 along.
        by : int
            Ticks.
        """
        dx, dy = (by, 0) if axis == 0 else (0, by)
        if self.whole:
            (low_x, low_y, high_x, high_y), (x1, y1, x2, y2) = self.box, around
            return (
                low_x <= x1 + dx
                and low_y <= y1 + dy
                and x2 + dx <= high_x
                and y2 + dy <= high_y
            )
        return all(
            covers(
                self.table, self.origin, self.step, (x1 + dx, y1 + dy, x2 + dx, y2 + dy)
            )
            for x1, y1, x2, y2 in block
        )


def settled(
    rects: Sequence[Rect], ground: UsableGround, *, quick: bool = False
) -> Iterator[list[Rect]]:
    """Different ways to push parts together, as far as the cloth allows; none where nothing can be moved.

    On a whole rectangle towards its left and lower side, elsewhere towards each pair of sides; `quick` is one way only.

    Parameters
    ----------
    rects : sequence of Rect
    ground : UsableGround
        The cloth.
    quick : bool
        One way only.
    """
    seen: set[tuple[tuple[int, ...], ...]] = {
        tuple((r.x1, r.y1, r.x2, r.y2) for r in rects)
    }
    sides = (
        ((False, False),)
        if ground.whole
        else tuple(product((False, True), (False, True)))
    )
    choices = product(sides, (False, True), (False, True), (1, 0))
    ways = [
        _Way(ground, (first, 1 - first), high, *how) for high, *how, first in choices
    ]
    for way in ways[:1] if quick else ways:
        boxes = [[r.x1, r.y1, r.x2, r.y2] for r in rects]
        way.settle(boxes, ground.box.copy() if ground.whole else _around(boxes))
        places = tuple(map(tuple, boxes))
        if places not in seen:
            seen.add(places)
            yield [_moved(rect, box) for rect, box in zip(rects, boxes, strict=True)]


def _moved(rect: Rect, box: Box) -> Rect:
    x1, y1, x2, y2 = box
    return replace(rect, x1=x1, y1=y1, x2=x2, y2=y2)


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to push.

    `axes` says which lines are looked at first, those across axis 1 or across axis 0, `high` towards which side of each
    axis, `in_order` whether the like lie side by side. With `through` neighbours that one of the lines looked at first
    divides are one block, which it runs through.
    """

    ground: UsableGround
    axes: tuple[int, int]
    high: tuple[bool, bool]
    in_order: bool
    through: bool

    def settle(self, boxes: Block, window: Box, deeper: int = _DEEPEST) -> None:
        """Push boxes together within their window: what lies within a row first, then the rows."""
        for axis in self.axes if deeper else ():
            blocks = _blocks(boxes, axis)
            if self.through and axis == self.axes[1] and len(blocks) > 1:
                blocks = _gathered(blocks, self.axes[0])
            for block in blocks if len(blocks) > 1 else ():
                inner = window.copy()
                own = _around(block)
                inner[axis], inner[axis + 2] = own[axis], own[axis + 2]
                self.settle(block, inner, deeper - 1)
            row = [(block, _around(block)) for block in blocks]
            if self.high[axis]:
                row.reverse()
            if not (
                self.in_order and len(row) > 1 and self._line_up(row, axis, window)
            ):
                self._slide(row, axis, window)

    def _slide(self, row: Row, axis: int, window: Box) -> None:
        """Push blocks one after the other towards a side of the window; one that cannot lie there stays."""
        near, far = (axis + 2, axis) if self.high[axis] else (axis, axis + 2)
        edge = window[near]
        for block, own in row:
            by = edge - own[near]
            if by and self.ground.clear(block, own, axis, by):
                _move(block, axis, by)
                edge = own[far] + by
            else:
                edge = own[far]

    def _line_up(self, row: Row, axis: int, window: Box) -> bool:
        """The same, the largest first and equal ones side by side; whether all can lie there, else none is moved."""
        near, far = (axis + 2, axis) if self.high[axis] else (axis, axis + 2)
        edge = window[near]
        moves = list[tuple[Block, int]]()
        for block, own in sorted(
            row, key=lambda one: _largeness(one[1], axis), reverse=True
        ):
            by = edge - own[near]
            if not self.ground.clear(block, own, axis, by):
                return False
            moves.append((block, by))
            edge = own[far] + by
        for block, by in moves:
            _move(block, axis, by)
        return True


def _gathered(blocks: Sequence[Block], axis: int) -> list[Block]:
    """The blocks, neighbours joined where a line across this (the other) axis passes between their boxes."""
    out: list[Block] = []
    # by the block at the end
    taken: list[tuple[int, int]] = []
    for block in blocks:
        own = [
            (group[axis], group[axis + 2])
            for group in map(_around, _blocks(block, axis))
        ]
        both = _merged([*taken, *own])
        if out and len(both) > 1:
            out[-1] += block
            taken = both
        else:
            out.append(block.copy())
            taken = own
    return out


def _merged(spans: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """What the spans cover together, where they overlap as one."""
    out: list[tuple[int, int]] = []
    for start, end in sorted(spans):
        if out and start < out[-1][1]:
            out[-1] = out[-1][0], max(out[-1][1], end)
        else:
            out.append((start, end))
    return out


def _largeness(own: Box, axis: int) -> tuple[int, int]:
    """By what blocks of a row, given the boxes around them, are put in order: their reach across it, then along it."""
    return own[3 - axis] - own[1 - axis], own[axis + 2] - own[axis]


def _move(block: Block, axis: int, by: int) -> None:
    for box in block:
        box[axis] += by
        box[axis + 2] += by


def _around(boxes: Block) -> Box:
    if len(boxes) == 1:
        return boxes[0].copy()
    x1, y1, x2, y2 = zip(*boxes, strict=True)
    return [min(x1), min(y1), max(x2), max(y2)]


def _blocks(boxes: Block, axis: int) -> list[Block]:
    """The boxes in groups that lines across the axis keep apart, the lowest first."""
    if len(boxes) == 1:
        return [boxes]
    blocks: list[Block] = []
    end = 0
    for box in sorted(boxes, key=itemgetter(axis)):
        if not blocks or box[axis] >= end:
            blocks.append([])
            end = box[axis + 2]
        blocks[-1].append(box)
        end = max(end, box[axis + 2])
    return blocks
