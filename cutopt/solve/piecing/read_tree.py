"""From a tree of the search to a make-up: what is left out is passed over, new cloth and groups become their parts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from cutopt.geometry import Axis
from cutopt.solve.kernels import sewn_state as k
from cutopt.solve.piecing.make_up import BlockPart, ClothPart, Node, Sewn
from cutopt.solve.piecing.new_cloth import Strips, end_to_end, strips_for
from cutopt.solve.piecing.task import Group, Task


def read_tree(task: Task, tree: Any, desk: Any) -> Node:
    """The make-up of a tree that was weighed last.

    Parameters
    ----------
    task : Task
    tree, desk : Tree, Desk
        Of the kernels, as :func:`cutopt.solve.kernels.sewn_cost.weigh` left them.
    """
    return _Reading(task, tree, desk).node(int(tree.misc[k.M_ROOT]))


class _Reading:
    def __init__(self, task: Task, tree: Any, desk: Any) -> None:
        self.task = task
        self.tree = tree
        self.desk = desk
        self.size = task.arrays.size

    def node(self, n: int) -> Node:
        op, left, right, _, kind, what, _ = self.tree.node[n].tolist()
        part = int(self.desk.part[n])
        if op == k.LEAF:
            return self._leaf(n, kind, what)
        if part == k.P_LEFT:
            return self.node(left)
        if part == k.P_RIGHT:
            return self.node(right)
        along: Axis = "x" if op == k.ROW else "y"
        axis = op - k.ROW
        twice = (
            self.desk.box[left, k.EXTENT + axis]
            + self.desk.box[right, k.EXTENT + axis]
            - self.desk.box[n, k.EXTENT + axis]
        )
        return Sewn(
            a=self.node(left),
            b=self.node(right),
            along=along,
            seam=self._ticks(int(twice)) // 2,
        )

    def _ticks(self, steps: int) -> int:
        return steps * self.task.step

    def _leaf(self, n: int, kind: int, what: int) -> Node:
        wide, high = self.desk.box[n, k.EXTENT :].tolist()
        if kind == k.ELASTIC:
            assert self.task.bought is not None
            return self._new(self.task.bought.fabric, wide, high)
        if kind == k.CLOTH:
            return self._cloth(self.task.cloths[what].fabric, wide, high)
        return self._group(self.task.groups[what], wide, high)

    def _cloth(self, fabric: int, wide: int, high: int) -> ClothPart:
        name = self.task.model.job.fabrics[fabric].name
        return ClothPart(fabric=name, width=self._ticks(wide), length=self._ticks(high))

    def _new(self, fabric: int, wide: int, high: int) -> Node:
        """New cloth: one part, or strips of the usable width with a narrower one that is pieced."""
        assert self.task.bought is not None
        width = self.task.bought.cols
        seam = int(self.size[k.Z_SEAM])
        least = int(self.size[k.Z_LEAST])
        way = strips_for((wide, high), width, seam, least, self.task.turns)
        assert way is not None
        sizes = _sizes_of(way, wide, high, width, seam)

        def strip(sides: Sequence[tuple[int, int]]) -> Node:
            parts = [self._cloth(fabric, *side) for side in sides]
            return self._joined(parts, "x" if way.across else "y", seam)

        strips = [strip(sides) for sides in sizes]
        return self._joined(strips, "y" if way.across else "x", seam)

    def _joined(self, parts: Sequence[Node], along: Axis, seam: int) -> Node:
        """Parts sewn one to the other along an axis; `seam` in steps, both sides."""
        node = parts[0]
        for part in parts[1:]:
            node = Sewn(a=node, b=part, along=along, seam=self._ticks(seam) // 2)
        return node

    def _group(self, group: Group, wide: int, high: int) -> Node:
        seam = int(self.size[k.Z_SEAM])
        if group.block is not None:
            seam = int(self.size[k.Z_BLOCK_SEAM])
        widths = _trimmed(group.columns, group.width, seam, wide)
        highs = _trimmed(group.rows, group.length, seam, high)
        one: Callable[[int, int], Node]
        if group.block is None:

            def one(w: int, h: int) -> Node:
                return self._cloth(group.fabric, w, h)
        else:
            name = group.block.name

            def one(w: int, h: int) -> Node:
                return BlockPart(
                    block=name, width=self._ticks(w), length=self._ticks(h)
                )

        rows = []
        for h in highs:
            row = [one(w, h) for w in widths]
            rows.append(self._joined(row, "x", seam))
        return self._joined(rows, "y", seam)


def _trimmed(count: int, size: int, seam: int, whole: int) -> list[int]:
    """Sizes of so many in a line that make a whole: all as they are but for the last."""
    last = whole - (count - 1) * (size - seam)
    return [size] * (count - 1) + [last]


def _sizes_of(
    way: Strips, wide: int, high: int, width: int, seam: int
) -> list[list[tuple[int, int]]]:
    """The parts of new cloth, strip by strip, each across the back and up it; steps."""
    across, long = (high, wide) if way.across else (wide, high)
    sizes: list[list[tuple[int, int]]] = []
    full = way.full
    rest = across - full * (width - seam)
    if not way.pieces:
        full -= 1
        rest += width - seam
    sizes += [[(width, long)]] * full
    pieces = max(way.pieces, 1)
    each = end_to_end(long, pieces, seam)
    lengths = _trimmed(pieces, each, seam, long)
    sizes.append([(rest, length) for length in lengths])
    if way.across:
        sizes = [list(map(_turned, strip)) for strip in sizes]
    return sizes


def _turned(size: tuple[int, int]) -> tuple[int, int]:
    return size[1], size[0]
