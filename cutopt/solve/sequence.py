"""From parts on a cloth to numbered cuts on the real outline.

A set of parts that can be cut edge to edge at all can be cut starting with any line that crosses none of them, so
the order of cuts is free: it is chosen for few cuts (lines on which many parts end) and for large spare cloth
(lines with nothing wanted on one side). Cuts that follow each other across the same cloth stay together, so that
strips are cut first and then sub-cut, as a person would.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cutopt.geometry import Axis, Number, Polygon, area2, bounds, is_rectangle, rectangle, split


@dataclass(frozen=True, slots=True, kw_only=True)
class Rect:
    """A wanted part on a cloth, in ticks of its frame; `tag` says whose it is."""

    tag: int
    x1: int
    y1: int
    x2: int
    y2: int


@dataclass(slots=True)
class Node:
    """A part of cloth with the wanted parts on it, and how it is cut (axis "" where it is not)."""

    outline: Polygon
    rects: list[Rect]
    axis: Axis | str = ""
    at: int = 0
    children: tuple[Node, ...] = ()


class NotSeparableError(RuntimeError):
    """No line from edge to edge keeps all parts whole (or not within the turns allowed)."""


@dataclass(frozen=True, slots=True)
class _Line:
    axis: Axis
    at: int
    ends: int
    free: float


def cut_tree(
    outline: Polygon,
    rects: Sequence[Rect],
    spare_weight: float,
    turns: int | None = None,
    square_up: Sequence[tuple[Axis, int]] = (),
) -> Node:
    """Cuts that isolate all rects from a cloth.

    Parameters
    ----------
    outline : corners in ticks, counter-clockwise
    rects : the wanted parts, inside the outline and separable by guillotine cuts
    spare_weight : float
        What it counts to free the whole of a part as spare cloth, in ends of parts met by a line.
    turns : int or None
        At most so many runs of cuts in one direction from the cloth to a part.
    square_up : lines to cut first (raw sides from which all else is measured)

    Raises
    ------
    NotSeparableError
        Where that is impossible.
    """
    root = Node(outline, list(rects))
    if turns is None:
        todo = [_squared(root, square_up)]
        while todo:
            node = todo.pop()
            if node.rects and not _done(node):
                line = max(_lines(node), key=lambda c: (c.ends + spare_weight * c.free, c.axis == "y"), default=None)
                if line is None:
                    raise NotSeparableError
                _cut(node, line.axis, line.at)
                todo.extend(node.children)
        return _outward(root)
    for first in ("y", "x"):
        if _staged(root, first, turns):
            return root
        root = Node(outline, list(rects))
    raise NotSeparableError


def _squared(node: Node, lines: Sequence[tuple[Axis, int]]) -> Node:
    """Cut along the given lines where they cross no rect; returns the part that holds the rects."""
    for axis, at in lines:
        low, high = (0, 2) if axis == "x" else (1, 3)
        box = bounds(node.outline)
        spans = [(r.x1, r.y1, r.x2, r.y2) for r in node.rects]
        if box[low] < at < box[high] and all(at <= span[low] for span in spans):
            _cut(node, axis, at)
            node = next(child for child in node.children if child.rects)
    return node


def _outward(root: Node) -> Node:
    """Order cuts that follow each other across a rectangle from the low side outward, as a ruler moves."""
    todo = [root]
    while todo:
        node = todo.pop()
        if node.axis and is_rectangle(node.outline):
            _chain(node, node.axis)
        todo.extend(node.children)
    return root


def _chain(node: Node, axis: str) -> None:
    """The same cuts of a run, the lowest first: each takes one part off and leaves the rest."""
    parts = _run(node, axis)
    low, high = (0, 2) if axis == "x" else (1, 3)
    parts.sort(key=lambda part: bounds(part.outline)[low])
    for k in range(len(parts) - 1):
        part = parts[k]
        at = bounds(part.outline)[high]
        rest = parts[k + 1]
        if k + 2 < len(parts):
            box = list(bounds(node.outline))
            box[low] = at
            rest = Node(rectangle(*_size(box)), [r for other in parts[k + 1 :] for r in other.rects], axis)
        node.axis, node.at, node.children = axis, int(at), (part, rest)
        node = rest


def _size(box: Sequence[Number]) -> tuple[int, int, int, int]:
    x1, y1, x2, y2 = (int(v) for v in box)
    return x2 - x1, y2 - y1, x1, y1


def _run(node: Node, axis: str) -> list[Node]:
    if node.axis != axis:
        return [node]
    return [part for child in node.children for part in _run(child, axis)]


def _staged(node: Node, axis: str, turns: int) -> bool:
    """Cut along every line of one direction, then turn; whether the turns suffice."""
    if not node.rects or _done(node):
        return True
    if turns == 0:
        return False
    lines = [line for line in _lines(node) if line.axis == axis]
    if not lines:
        return _staged(node, "x" if axis == "y" else "y", turns)
    line = max(lines, key=lambda c: (c.free, c.ends))
    _cut(node, line.axis, line.at)
    return all(_continue(child, axis, turns) for child in node.children)


def _continue(node: Node, axis: str, turns: int) -> bool:
    """The same direction costs no turn; else the other one does."""
    if not node.rects or _done(node) or any(line.axis == axis for line in _lines(node)):
        return _staged(node, axis, turns)
    return _staged(node, "x" if axis == "y" else "y", turns - 1)


def _done(node: Node) -> bool:
    """Whether the part is exactly its one rect (it lies inside, so equal boxes say so)."""
    if len(node.rects) != 1:
        return False
    r = node.rects[0]
    return bounds(node.outline) == (r.x1, r.y1, r.x2, r.y2)


def _cut(node: Node, axis: Axis, at: int) -> None:
    low, high = split(node.outline, axis, at)
    parts = [*low, *high]
    owned: list[list[Rect]] = [[] for _ in parts]
    boxes = [bounds(part) for part in parts]
    for r in node.rects:
        home = next(k for k, part in enumerate(parts) if _holds(part, boxes[k], r))
        owned[home].append(r)
    node.axis, node.at = axis, at
    node.children = tuple(Node(part, rects) for part, rects in zip(parts, owned, strict=True))


def _holds(part: Polygon, box: tuple[object, ...], r: Rect) -> bool:
    """Whether a rect that no cut has crossed lies in this part: its middle does."""
    x1, y1, x2, y2 = box
    if not (x1 <= r.x1 and y1 <= r.y1 and r.x2 <= x2 and r.y2 <= y2):  # type: ignore[operator]
        return False
    mx, my, inside = r.x1 + r.x2, r.y1 + r.y2, False
    for (ax, ay), (bx, by) in zip(part, (*part[1:], part[0]), strict=True):
        if (2 * ay > my) != (2 * by > my):
            turn = (bx - ax) * (my - 2 * ay) - (by - ay) * (mx - 2 * ax)
            inside ^= (turn > 0) == (by > ay)
    return inside


def _lines(node: Node) -> Iterator[_Line]:
    """Lines through the part that cross no rect and on which some rect ends."""
    box = np.array([(r.x1, r.y1, r.x2, r.y2) for r in node.rects], dtype=np.int64)
    limits = bounds(node.outline)
    extent = float(area2(node.outline)) / 2
    for axis, low, high in (("x", 0, 2), ("y", 1, 3)):
        starts, ends = box[:, low], box[:, high]
        across = float(limits[3 - low] - limits[1 - low])
        first, last = int(starts.min()), int(ends.max())
        for at in _gaps(starts, ends):
            if not limits[low] < at < limits[high]:
                continue
            free = 0.0
            if at == first:
                free = float(at - limits[low]) * across / extent
            elif at == last:
                free = float(limits[high] - at) * across / extent
            yield _Line(axis, at, int((starts == at).sum() + (ends == at).sum()), min(free, 1.0))  # type: ignore[arg-type]


def _gaps(starts: NDArray[np.int64], ends: NDArray[np.int64]) -> list[int]:
    """Ends of the merged intervals: where a line passes between the rects."""
    order = np.argsort(starts, kind="stable")
    starts, ends = starts[order], np.maximum.accumulate(ends[order])
    apart = np.flatnonzero(starts[1:] >= ends[:-1])
    return sorted({int(starts[0]), int(ends[-1]), *starts[apart + 1].tolist(), *ends[apart].tolist()})


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One numbered cut, ready for the plan."""

    part: str
    axis: Axis
    at: int
    gives: tuple[str, ...]


def in_order(root: Node, name: str) -> tuple[list[Step], dict[str, Node]]:
    """Number the cuts of a tree: along one direction first, then the parts it gave.

    Returns the steps and all parts by name; those without an axis stay: wanted ones (one rect) and spare ones.
    """
    steps: list[Step] = []
    nodes = {name: root}
    numbers = iter(range(1, 1 << 30))
    later = [name]
    while later:
        run = [later.pop(0)]
        axis = nodes[run[0]].axis
        turned: list[str] = []
        while run:
            part = run.pop()
            node = nodes[part]
            if node.axis != axis:
                turned.append(part)
            elif node.axis:
                gives = tuple(f"{name}.{next(numbers)}" for _ in node.children)
                nodes.update(zip(gives, node.children, strict=True))
                steps.append(Step(part=part, axis="x" if axis == "x" else "y", at=node.at, gives=gives))
                run.extend(reversed(gives))
        later[:0] = [part for part in turned if nodes[part].axis]
    return steps, nodes
