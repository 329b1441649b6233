"""From parts on a cloth to numbered cuts on the real outline.

A set of parts that can be cut edge to edge at all can be cut starting with any line that crosses none of them, so
the order of cuts is free: it is chosen for few cuts (lines on which many parts end) and for large spare cloth
(lines with nothing wanted on one side). Cuts that follow each other across the same cloth stay together, so that
strips are cut first and then sub-cut, as a person would; they begin at a straight edge where there is one, so that
each is measured from it or from the cut before.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import count

from cutopt.geometry import Axis, Number, Polygon, area2, bounds, split
from cutopt.measure import meets_ruler, straight_side

_MANY = 24  # equal lines, of which cutting one after the other from the side would take time that grows as a square


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
    """A part of cloth and how it is cut (axis "" where it is not), with the wanted parts on it until it is cut."""

    outline: Polygon
    rects: list[Rect]
    axis: Axis | str = ""
    at: int = 0
    children: tuple[Node, ...] = ()
    box: tuple[Number, Number, Number, Number] = field(init=False)

    def __post_init__(self) -> None:
        self.box = bounds(self.outline)


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
    unit: str = "in",
    left_out: list[Rect] | None = None,
    begin: Axis | None = None,
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
    unit : {"in", "cm"}
        Of the ruler, which decides at which corner a run of cuts begins where there is no straight edge.
    left_out : list, optional
        Where the turns do not suffice for all rects, gets those that are left out, as little area as is found; without
        it that is an error.
    begin : {"x", "y"}, optional
        The direction of the first cut after squaring up, where there is a line in it.

    Raises
    ------
    NotSeparableError
        Where that is impossible.
    """
    root = Node(outline, list(rects))
    if turns is None:
        todo = _squared(root, square_up)
        first = {id(node) for node in todo}
        while todo:
            node = todo.pop()
            if node.rects and not _done(node):
                lines = list(_lines(node))
                if id(node) in first:
                    lines = [line for line in lines if line.axis == begin] or lines
                if not lines:
                    raise NotSeparableError
                line = _best(lines, lambda c: (c.ends + spare_weight * c.free, c.axis == "y"))
                _cut(node, line.axis, line.at)
                todo.extend(node.children)
        return _outward(root, unit)
    return _outward(_turned(root, turns, square_up, left_out), unit)


def _best(lines: Sequence[_Line], worth: Callable[[_Line], tuple[float, float]]) -> _Line:
    """The line of the greatest worth; of equal ones the first, of many the middle one: it halves what is left."""
    worths = [worth(line) for line in lines]
    most = max(worths)
    best = [line for line, value in zip(lines, worths, strict=True) if value == most]
    return best[0] if len(best) < _MANY else best[len(best) // 2]


def _turned(root: Node, turns: int, square_up: Sequence[tuple[Axis, int]], left_out: list[Rect] | None) -> Node:
    """The cuts within so many turns, beginning in the direction that leaves out less."""
    tried: list[tuple[list[Rect], Node]] = []
    for first in ("y", "x"):
        node, lost = Node(root.outline, list(root.rects)), list[Rect]()
        for part in _squared(node, [line for line in square_up if line[0] == first]):
            _staged(part, first, turns, lost)
        if not lost:
            return node
        tried.append((lost, node))
    if left_out is None:
        raise NotSeparableError
    lost, node = min(tried, key=lambda way: sum((r.x2 - r.x1) * (r.y2 - r.y1) for r in way[0]))
    left_out += lost
    return node


def _squared(root: Node, lines: Sequence[tuple[Axis, int]]) -> list[Node]:
    """Cut along the given lines where all rects lie on one side; returns the parts that hold the rects."""
    nodes = [root]
    for axis, at in lines:
        low, high = (0, 2) if axis == "x" else (1, 3)
        after: list[Node] = []
        for node in nodes:
            box = node.box
            spans = [(r.x1, r.y1, r.x2, r.y2) for r in node.rects]
            beside = all(at <= span[low] for span in spans) or all(span[high] <= at for span in spans)
            if box[low] < at < box[high] and beside:
                _cut(node, axis, at)
                after += [child for child in node.children if child.rects]
            else:
                after.append(node)
        nodes = after
    return nodes


def _outward(root: Node, unit: str) -> Node:
    """Order cuts that follow each other across a part from a straight edge outward, as a ruler moves."""
    todo = [root]
    while todo:
        node = todo.pop()
        if node.axis:
            todo.extend(_chain(node, node.axis, unit))
    return root


def _chain(node: Node, axis: str, unit: str) -> list[Node]:
    """The same cuts of a run, each taking one part off what is left: from the low edge up, or from the high one down.

    Where neither is straight it begins with a cut that can be measured from a corner, and goes on to both sides
    from the edge just cut. A run with a cut that comes apart in more than two keeps its order. Gives the parts.
    """
    inner, parts = _cuts(node, axis), _run(node, axis)
    if any(len(one.children) != 2 for one in inner):
        return parts
    lines = sorted(one.at for one in inner)
    low, high = (0, 2) if axis == "x" else (1, 3)
    parts.sort(key=lambda part: (part.box[low], part.box[high]))
    todo = [(node, 0, len(lines), _begin(node.outline, 0 if axis == "x" else 1, lines, unit))]
    while todo:  # a node, the lines from..to that are cut in it, the first of them to be cut
        here, start, end, first = todo.pop()
        halves = split(here.outline, "x" if axis == "x" else "y", lines[first])
        sides = ((start, first, first - 1, halves[0][0]), (first + 1, end, first + 1, halves[1][0]))
        children = []
        for a, b, following, outline in sides:
            child = parts[a] if a == b else Node(outline, [], axis)
            children.append(child)
            if a < b:
                todo.append((child, a, b, following))
        here.axis, here.at, here.children = axis, lines[first], (children[0], children[1])
    return parts


def _begin(outline: Polygon, axis: int, lines: Sequence[int], unit: str) -> int:
    """Which line of a run is cut first."""
    if straight_side(outline, axis, "low"):
        return 0
    if straight_side(outline, axis, "high"):
        return len(lines) - 1

    return next((k for k, at in enumerate(lines) if meets_ruler(outline, axis, at, unit)), 0)


def _cuts(node: Node, axis: str) -> list[Node]:
    """The nodes of a run, which are cut along the axis (a run may be longer than Python's stack is deep)."""
    found, todo = [], [node]
    while todo:
        here = todo.pop()
        if here.axis == axis:
            found.append(here)
            todo.extend(reversed(here.children))
    return found


def _run(node: Node, axis: str) -> list[Node]:
    found, todo = [], [node]
    while todo:
        here = todo.pop()
        if here.axis == axis:
            todo.extend(reversed(here.children))
        else:
            found.append(here)
    return found


def _staged(node: Node, axis: str, turns: int, lost: list[Rect]) -> None:
    """Cut along every line of one direction, then turn; what the turns do not suffice for goes to `lost`."""
    if not node.rects or _done(node):
        return
    other = "x" if axis == "y" else "y"
    lines = list(_lines(node)) if turns else []
    here = [line for line in lines if line.axis == axis]
    if not lines:
        lost += node.rects
        node.rects = []
        return
    if not here:
        _staged(node, other, turns, lost)
        return
    line = _best(here, lambda c: (c.free, c.ends))
    _cut(node, line.axis, line.at)
    for child in node.children:
        goes_on = _done(child) or not child.rects or any(line.axis == axis for line in _lines(child))
        _staged(child, axis if goes_on else other, turns if goes_on else turns - 1, lost)


def _done(node: Node) -> bool:
    """Whether the part is exactly its one rect (it lies inside, so equal boxes say so)."""
    if len(node.rects) != 1:
        return False
    r = node.rects[0]
    return node.box == (r.x1, r.y1, r.x2, r.y2)


def _cut(node: Node, axis: Axis, at: int) -> None:
    low, high = split(node.outline, axis, at)
    parts = tuple(Node(part, []) for part in (*low, *high))
    for r in node.rects:
        if len(parts) == 2:
            part = parts[(r.x1 if axis == "x" else r.y1) >= at]
        else:
            part = next(part for part in parts if _holds(part, r))
        part.rects.append(r)
    node.axis, node.at, node.rects, node.children = axis, at, [], parts


def _holds(node: Node, r: Rect) -> bool:
    """Whether a rect that no cut has crossed lies in this part: its middle does."""
    part, (x1, y1, x2, y2) = node.outline, node.box
    if not (x1 <= r.x1 and y1 <= r.y1 and r.x2 <= x2 and r.y2 <= y2):
        return False
    mx, my, inside = r.x1 + r.x2, r.y1 + r.y2, False
    for (ax, ay), (bx, by) in zip(part, (*part[1:], part[0]), strict=True):
        if (2 * ay > my) != (2 * by > my):
            turn = (bx - ax) * (my - 2 * ay) - (by - ay) * (mx - 2 * ax)
            inside ^= (turn > 0) == (by > ay)
    return inside


def _lines(node: Node) -> Iterator[_Line]:
    """Lines through the part that cross no rect and on which some rect ends."""
    limits = node.box
    extent = float(area2(node.outline)) / 2
    xs, ys = [(r.x1, r.x2) for r in node.rects], [(r.y1, r.y2) for r in node.rects]
    sides: tuple[tuple[Axis, int, int, list[tuple[int, int]]], ...] = (("x", 0, 2, xs), ("y", 1, 3, ys))
    for axis, low, high, spans in sides:
        across = float(limits[3 - low] - limits[1 - low])
        ends = Counter(end for span in spans for end in span)
        places = _gaps(spans)
        for at in places:
            if not limits[low] < at < limits[high]:
                continue
            free = 0.0
            if at == places[0]:
                free = float(at - limits[low]) * across / extent
            elif at == places[-1]:
                free = float(limits[high] - at) * across / extent
            yield _Line(axis, at, ends[at], min(free, 1.0))


def _gaps(spans: Sequence[tuple[int, int]]) -> list[int]:
    """Ends of the merged spans, in order: where a line passes between the rects."""
    places: list[int] = []
    last = None
    for start, end in sorted(spans):
        if last is None or start >= last:
            places += [start] if last in (None, start) else [last, start]
            last = end
        last = max(last, end)
    return places if last is None else [*places, last]


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
    numbers = count(1)
    later = deque([name])
    while later:
        run = [later.popleft()]
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
        later.extendleft(part for part in reversed(turned) if nodes[part].axis)
    return steps, nodes
