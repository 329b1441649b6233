"""From a tree of the search to a make-up: what is left out is passed over, new cloth and groups become their parts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any, TypeAlias

from cutopt.geometry import Axis
from cutopt.solve.kernels import sewn_state as k
from cutopt.solve.model.model import Sheet
from cutopt.solve.piecing.arrays import Group
from cutopt.solve.piecing.make_up import BlockPart, ClothPart, Laid, Node, Sewn
from cutopt.solve.piecing.new_cloth import Strips, end_to_end, strips_for
from cutopt.solve.piecing.task import Task

Size: TypeAlias = tuple[int, int]


def read_tree(task: Task, tree: Any, desk: Any) -> tuple[Node, tuple[Laid, ...]]:
    """The make-up of a tree that was weighed last, and where its parts lie.

    Parameters
    ----------
    task : Task
    tree, desk : Tree, Desk
        Of the kernels, as :func:`cutopt.solve.kernels.sewn_cost.weigh` left them.
    """
    reading = _Reading(task, tree, desk)
    root = reading.node(int(tree.misc[k.M_ROOT]))
    return root, tuple(reading.laid)


class _Reading:
    def __init__(self, task: Task, tree: Any, desk: Any) -> None:
        self.task = task
        self.tree = tree
        self.desk = desk
        self.size = task.arrays.size
        self.laid: list[Laid] = []
        # new cloth lies behind what windows are cut from
        self._behind = int(tree.misc[k.M_LENGTH])
        self._patches: Counter[int] = Counter()

    def node(self, n: int) -> Node:
        """What is sewn below a node."""
        op, left, right, _, kind, what, slot = self.tree.node[n].tolist()
        part = int(self.desk.part[n])
        if op == k.LEAF:
            return self._leaf(n, kind, what, slot)
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

    def _leaf(self, n: int, kind: int, what: int, slot: int) -> Node:
        wide, high = self.desk.box[n, k.EXTENT :].tolist()
        if kind == k.ELASTIC:
            return self._new(wide, high)
        if kind == k.CLOTH:
            part = self._part(self.task.cloths[what].fabric, wide, high)
            x, y, turned = self._place(what, slot, wide, high)
            self._lay(part, what, x, y, turned=turned)
            return part
        return self._group(self.task.groups[what], wide, high)

    def _part(self, fabric: int, wide: int, high: int) -> ClothPart:
        name = self.task.model.job.fabrics[fabric].name
        return ClothPart(fabric=name, width=self._ticks(wide), length=self._ticks(high))

    def _place(self, p: int, slot: int, wide: int, high: int) -> tuple[int, int, bool]:
        """Where in a window of a cloth a part lies, in steps, and whether it is turned."""
        x1, y1, x2, y2 = k.window(self.task.arrays, self.tree, p, slot)
        boxes = self.task.boxes[p]
        if p == self.size[k.Z_BOUGHT]:
            boxes = [(x1, y1, x2, y2)]
        turns = int(self.task.arrays.cloth[p, k.C_TURN])
        for box in boxes:
            x = max(int(x1), box[0])
            y = max(int(y1), box[1])
            across = min(int(x2), box[2]) - x
            along = min(int(y2), box[3]) - y
            if turns & 1 and across >= wide and along >= high:
                return x, y, False
            if turns & 2 and across >= high and along >= wide:
                return x, y, True
        raise AssertionError("a part lies in its window")

    def _lay(self, part: ClothPart, p: int, x: int, y: int, *, turned: bool) -> None:
        sheet = self.task.cloths[p]
        copy = sum(other is sheet for other in self.task.cloths[:p])
        self._lay_on(part, sheet, copy, x, y, turned=turned)

    def _lay_on(
        self, part: ClothPart, sheet: Sheet, copy: int, x: int, y: int, *, turned: bool
    ) -> None:
        piece = ""
        bought = ""
        if sheet.piece is not None:
            piece = sheet.piece.name
        elif sheet.offered is not None:
            bought = sheet.offered.fabric
        self.laid.append(
            Laid(
                part=part,
                x=sheet.origin[0] + self._ticks(x),
                y=sheet.origin[1] + self._ticks(y),
                turned=turned,
                piece=piece,
                bought=bought,
                by_piece=bool(bought) and not sheet.ladder,
                copy=copy,
            )
        )

    def _new(self, wide: int, high: int) -> Node:
        """New cloth: one part, or strips of the usable width with a narrower one that is pieced."""
        sheet = self.task.bought
        assert sheet is not None
        seam = int(self.size[k.Z_SEAM])
        least = int(self.size[k.Z_LEAST]), int(self.size[k.Z_INNER])
        way = strips_for((wide, high), sheet.cols, seam, least, self.task.turns)
        assert way is not None
        strips = [
            self._strip(sizes, sheet, seam, across=way.across)
            for sizes in _sizes_of(way, wide, high, sheet.cols, seam)
        ]
        return self._joined(strips, "y" if way.across else "x", seam)

    def _strip(
        self, sizes: Sequence[Size], sheet: Sheet, seam: int, *, across: bool
    ) -> Node:
        """A strip of new cloth, cut from pieces that lie side by side."""
        parts: list[Node] = []
        at = 0
        p = len(self.task.cloths) - 1
        for wide, length in sizes:
            size = (length, wide) if across else (wide, length)
            part = self._part(sheet.fabric, *size)
            self._lay(part, p, at, self._behind, turned=across)
            at += wide
            parts.append(part)
        self._behind += max(length for _, length in sizes)
        return self._joined(parts, "x" if across else "y", seam)

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
        rows = []
        for h in highs:
            row = [self._one_of(group, w, h) for w in widths]
            rows.append(self._joined(row, "x", seam))
        return self._joined(rows, "y", seam)

    def _one_of(self, group: Group, wide: int, high: int) -> Node:
        """A block or a patch of a group."""
        if group.block is not None:
            return BlockPart(
                block=group.block.name,
                width=self._ticks(wide),
                length=self._ticks(high),
            )
        assert group.patches is not None
        part = self._part(group.patches.fabric, wide, high)
        copy = group.first + self._patches[group.kind]
        self._patches[group.kind] += 1
        self._lay_on(part, group.patches, copy, 0, 0, turned=group.turned)
        return part


def _trimmed(count: int, size: int, seam: int, whole: int) -> list[int]:
    """Sizes of so many in a line that make a whole: all as they are but for the last."""
    last = whole - (count - 1) * (size - seam)
    return [size] * (count - 1) + [last]


def _sizes_of(
    way: Strips, wide: int, high: int, width: int, seam: int
) -> list[list[Size]]:
    """The parts of new cloth, strip by strip, each across the cloth and along it; steps."""
    across, long = (high, wide) if way.across else (wide, high)
    full = way.full
    rest = across - full * (width - seam)
    if not way.pieces:
        full -= 1
        rest += width - seam
    pieces = max(way.pieces, 1)
    each = end_to_end(long, pieces, seam)
    lengths = _trimmed(pieces, each, seam, long)
    return [[(width, long)]] * full + [[(rest, length) for length in lengths]]
