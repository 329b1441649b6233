"""From parts on a cloth to numbered cuts on the real outline.

A set of parts that can be cut edge to edge at all can be cut starting with any line that crosses none of them, so
the order of cuts is free: it is chosen for few cuts (lines on which many parts end) and for large spare cloth
(lines with nothing wanted on one side). Cuts that follow each other across the same cloth stay together, so that
strips are cut first and then sub-cut, as a person would; they begin at a straight edge where there is one, so that
each is measured from it or from the cut before.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import count
from typing import Final

from cutopt.geometry import Axis, Box, Polygon
from cutopt.measure import straight_side
from cutopt.solve.cuts.cut_parts import ClothPart, ClothParts, CutLine, PartShape, Rect

_DIRECTIONS: Final[tuple[Axis, Axis]] = ("y", "x")
# equal lines, of which cutting one after the other from the side would take time that grows as a square
_MANY = 24


@dataclass(slots=True)
class CutNode:
    """A part of cloth and how it is cut (axis "" where it is not), with the wanted parts on it until it is cut."""

    shape: PartShape
    rects: tuple[Rect, ...] = ()
    axis: Axis | str = ""
    at: int = 0
    children: tuple[CutNode, ...] = ()

    @property
    def outline(self) -> Polygon:
        """Corners in ticks, counter-clockwise."""
        return self.shape.outline

    @property
    def box(self) -> Box:
        """The box around it."""
        return self.shape.box


class NotSeparableError(RuntimeError):
    """No line from edge to edge keeps all parts whole (or not within the turns allowed)."""


class Cuts:
    """Along which line each part of a cloth is cut, and what that gives; those that are not in it stay."""

    def __init__(self, root: ClothPart, parts: ClothParts) -> None:
        self.root = root
        self.parts = parts
        self.made: dict[ClothPart, tuple[Axis, int, tuple[ClothPart, ...]]] = {}
        # for lack of turns; a set in order
        self.given_up: dict[ClothPart, None] = {}

    def cut(self, part: ClothPart, axis: Axis, at: int) -> tuple[ClothPart, ...]:
        """Cut a part; gives what it comes apart in.

        Parameters
        ----------
        part : ClothPart
        axis : {"x", "y"}
        at : int
            Ticks.
        """
        gives = self.parts.cut(part, axis, at)
        self.made[part] = axis, at, gives
        return gives

    @property
    def choices(self) -> tuple[object, ...]:
        """The same for the same cuts of the same parts."""
        return self.root, *self.made.values()

    @property
    def lost(self) -> list[Rect]:
        """The rects that are left out, for lack of turns."""
        return [rect for part in self.given_up for rect in part.rects]


def cut_tree(
    outline: Polygon,
    rects: Sequence[Rect],
    spare_weight: float,
    turns: int | None = None,
    square_up: Sequence[tuple[Axis, int]] = (),
    unit: str = "in",
    left_out: list[Rect] | None = None,
    begin: Axis | None = None,
    parts: ClothParts | None = None,
) -> CutNode:
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
    parts : ClothParts, optional
        What was found of the same cloth before.

    Raises
    ------
    NotSeparableError
        Where that is impossible.
    """
    parts = parts or ClothParts()
    root = parts.part(outline, rects)
    if turns is None:
        return outward(free_cuts(root, parts, spare_weight, square_up, begin), unit)
    return outward(_turned(root, parts, turns, square_up, left_out), unit)


def free_cuts(
    root: ClothPart,
    parts: ClothParts,
    spare_weight: float,
    square_up: Sequence[tuple[Axis, int]],
    begin: Axis | None,
) -> Cuts:
    """The cuts of :func:`cut_tree` where they may turn as often as they like.

    Parameters
    ----------
    root : ClothPart
        All of the cloth.
    parts : ClothParts
        What was found of it before.
    spare_weight, square_up, begin : as of :func:`cut_tree`

    Raises
    ------
    NotSeparableError
        Where no line from edge to edge keeps all parts whole.
    """
    cuts = Cuts(root, parts)
    todo = _squared(root, square_up, cuts)
    first = set(todo)
    while todo:
        part = todo.pop()
        if part.done:
            continue
        lines: Sequence[CutLine] = part.lines
        if part in first:
            lines = [line for line in lines if line.axis == begin] or lines
        if not lines:
            raise NotSeparableError
        line = _best(
            lines, [(c.ends + spare_weight * c.free, c.axis == "y") for c in lines]
        )
        todo += cuts.cut(part, line.axis, line.at)
    return cuts


def _best(lines: Sequence[CutLine], worths: Sequence[tuple[float, float]]) -> CutLine:
    """The line of the greatest worth; of equal ones the first, of many the middle one: it halves what is left."""
    most = max(worths)
    best = [line for line, worth in zip(lines, worths, strict=True) if worth == most]
    if len(best) < _MANY:
        return best[0]
    return best[len(best) // 2]


def _turned(
    root: ClothPart,
    parts: ClothParts,
    turns: int,
    square_up: Sequence[tuple[Axis, int]],
    left_out: list[Rect] | None,
) -> Cuts:
    """The cuts within so many turns, beginning in the direction that leaves out less."""
    tried: list[Cuts] = []
    for first in _DIRECTIONS:
        cuts = Cuts(root, parts)
        for part in _squared(
            root, [line for line in square_up if line[0] == first], cuts
        ):
            _staged(part, first, turns, cuts)
        if not cuts.given_up:
            return cuts
        tried.append(cuts)
    if left_out is None:
        raise NotSeparableError
    cuts = min(
        tried, key=lambda way: sum((r.x2 - r.x1) * (r.y2 - r.y1) for r in way.lost)
    )
    left_out += cuts.lost
    return cuts


def _squared(
    root: ClothPart, lines: Sequence[tuple[Axis, int]], cuts: Cuts
) -> list[ClothPart]:
    """Cut along the given lines where all rects lie on one side; returns the parts that hold the rects."""
    found = [root]
    for axis, at in lines:
        low, high = (0, 2) if axis == "x" else (1, 3)
        after: list[ClothPart] = []
        for part in found:
            box = part.shape.box
            beside = not part.rects or at <= part.around[low] or part.around[high] <= at
            if box[low] < at < box[high] and beside:
                after += [child for child in cuts.cut(part, axis, at) if child.rects]
            else:
                after.append(part)
        found = after
    return found


def _staged(part: ClothPart, axis: Axis, turns: int, cuts: Cuts) -> None:
    """Cut along every line of one direction, then turn; what the turns do not suffice for is given up."""
    if part.done:
        return
    other: Axis = "x" if axis == "y" else "y"
    if not (turns and part.lines):
        cuts.given_up[part] = None
        return
    here = [line for line in part.lines if line.axis == axis]
    if not here:
        _staged(part, other, turns, cuts)
        return
    line = _best(here, [(c.free, c.ends) for c in here])
    for child in cuts.cut(part, line.axis, line.at):
        goes_on = child.done or any(line.axis == axis for line in child.lines)
        _staged(
            child, axis if goes_on else other, turns if goes_on else turns - 1, cuts
        )


def outward(cuts: Cuts, unit: str) -> CutNode:
    """Cuts that follow each other across a part in order from a straight edge outward, as a ruler moves."""
    root = CutNode(cuts.root.shape)
    todo = [(root, cuts.root)]
    while todo:
        node, part = todo.pop()
        if part in cuts.made:
            todo += _chain(node, part, cuts, unit)
        elif part not in cuts.given_up:
            node.rects = part.rects
    return root


def _chain(
    node: CutNode, top: ClothPart, cuts: Cuts, unit: str
) -> Iterable[tuple[CutNode, ClothPart]]:
    """The same cuts of a run, each taking one part off what is left: from the low edge up, or from the high one down.

    Where neither is straight it begins with a cut that can be measured from a corner, and goes on to both sides
    from the edge just cut. A run with a cut that comes apart in more than two keeps its order. Gives the parts.
    """
    axis = cuts.made[top][0]
    lines, parts = _run(top, axis, cuts)
    if len(lines) == 1 or len(parts) != len(lines) + 1:
        return _as_found(node, top, axis, cuts)
    lines.sort()
    low, high = (0, 2) if axis == "x" else (1, 3)
    parts.sort(key=lambda part: (part.shape.box[low], part.shape.box[high]))
    ends = [CutNode(part.shape) for part in parts]
    todo = [
        (node, 0, len(lines), _begin(node.shape, 0 if axis == "x" else 1, lines, unit))
    ]
    # a node, the lines from..to that are cut in it, the first of them to be cut
    while todo:
        here, start, end, first = todo.pop()
        below, above = cuts.parts.halves(here.shape, axis, lines[first])
        here.axis = axis
        here.at = lines[first]
        here.children = (
            ends[start] if start == first else CutNode(below),
            ends[end] if first + 1 == end else CutNode(above),
        )
        if start < first:
            todo.append((here.children[0], start, first, first - 1))
        if first + 1 < end:
            todo.append((here.children[1], first + 1, end, first + 1))
    return zip(ends, parts, strict=True)


def _run(top: ClothPart, axis: Axis, cuts: Cuts) -> tuple[list[int], list[ClothPart]]:
    """The lines of a run of cuts along an axis and the parts that it gives (it may be longer than a stack is deep)."""
    lines: list[int] = []
    parts: list[ClothPart] = []
    todo = [top]
    while todo:
        part = todo.pop()
        made = cuts.made.get(part)
        if made and made[0] == axis:
            lines.append(made[1])
            todo += made[2]
        else:
            parts.append(part)
    return lines, parts


def _as_found(
    node: CutNode, top: ClothPart, axis: Axis, cuts: Cuts
) -> list[tuple[CutNode, ClothPart]]:
    """A run of cuts in the order in which they were found."""
    ends = []
    todo = [(node, top)]
    while todo:
        here, part = todo.pop()
        made = cuts.made.get(part)
        if made and made[0] == axis:
            here.axis, here.at, here.children = (
                axis,
                made[1],
                tuple(CutNode(part.shape) for part in made[2]),
            )
            todo += zip(here.children, made[2], strict=True)
        else:
            ends.append((here, part))
    return ends


def _begin(shape: PartShape, axis: int, lines: Sequence[int], unit: str) -> int:
    """Which line of a run is cut first."""
    if shape.whole or straight_side(shape.outline, axis, "low"):
        return 0
    if straight_side(shape.outline, axis, "high"):
        return len(lines) - 1
    return next(
        (k for k, at in enumerate(lines) if shape.meets_ruler(axis, at, unit)), 0
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderedCut:
    """One numbered cut, ready for the plan."""

    part: str
    axis: Axis
    at: int
    gives: tuple[str, ...]


def in_order(root: CutNode, name: str) -> tuple[list[OrderedCut], dict[str, CutNode]]:
    """Number the cuts of a tree: along one direction first, then the parts it gave.

    Returns the steps and all parts by name; those without an axis stay: wanted ones (one rect) and spare ones.
    """
    steps: list[OrderedCut] = []
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
                steps.append(
                    OrderedCut(
                        part=part,
                        axis="x" if axis == "x" else "y",
                        at=node.at,
                        gives=gives,
                    )
                )
                run.extend(reversed(gives))
        later.extendleft(part for part in reversed(turned) if nodes[part].axis)
    return steps, nodes
