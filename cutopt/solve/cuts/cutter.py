"""How each piece of cloth is cut up: its parts pushed together, several orders of cuts, and the one an offer likes."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from cutopt.cloth import Cloth, inside_margins, margins_of
from cutopt.geometry import Axis, Box, bounds, edges
from cutopt.lengths import INCH
from cutopt.measure import SIDES, straight_side
from cutopt.settings import Settings
from cutopt.solve.cuts.cut_parts import ClothParts, Rect
from cutopt.solve.cuts.sequence import (
    CutNode,
    OrderedCut,
    cut_tree,
    free_cuts,
    in_order,
    outward,
)
from cutopt.solve.cuts.settle import UsableGround, settled
from cutopt.solve.model.cells import holds, summed, usable_cells

# ticks: less than this is hard to cut off with a ruler (our judgement, no source)
THINNEST = INCH // 8

# What it counts to free all of a part as spare cloth, in ends of parts that lie on a line.
_SPARE_WEIGHTS = (0.0, 3.0, 10.0, 40.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutUp:
    """One way to cut a cloth: its steps, its leaves by name, and the areas of the spare ones worth keeping.

    `guessed` counts the cuts for which the cloth in hand has no edge or corner at a distance that a ruler shows, `thin`
    those that take off a sliver of waste too thin to be cut well with a ruler; `settings` says how often the ruler is
    set to another width.
    """

    steps: tuple[OrderedCut, ...]
    leaves: tuple[tuple[str, CutNode], ...]
    kept: tuple[tuple[str, int], ...]
    boxes: dict[str, Box]
    guessed: int = 0
    thin: int = 0
    settings: int = 0

    @property
    def hard(self) -> int:
        """Cuts that are hard to make."""
        return self.guessed + self.thin

    @property
    def spare(self) -> int:
        """Area worth keeping, square ticks."""
        return sum(area for _, area in self.kept)

    @property
    def biggest(self) -> int:
        """Area of the largest spare part worth keeping."""
        return max((area for _, area in self.kept), default=0)


class Cutter:
    """Cuts cloths up and remembers them, since offers share most of their pieces.

    Once somebody has `asked` to stop, no more ways are looked for than there must be: one for each cloth.
    """

    def __init__(
        self, settings: Settings, step: int, asked: Callable[[], bool] = lambda: False
    ) -> None:
        self.settings = settings
        self.step = step
        self._asked = asked
        self._known: dict[tuple[object, ...], list[CutUp]] = {}

    def ways(
        self, cloth: Cloth, rects: Sequence[Rect], *, quick: bool = False
    ) -> list[CutUp]:
        """Different ways to isolate the rects, named ``S.1``, ``S.2``, ... below a source called S.

        Where the maker allows only so many turns, parts of sizes off the grid may need one more to be trimmed: they
        are then left out, and are no leaf.

        Parameters
        ----------
        cloth : Cloth
        rects : sequence of Rect
            The wanted parts on it.
        quick : bool
            Look at one way only.
        """
        key = (cloth, tuple(rects), quick)
        if key not in self._known:
            laid = self._laid(cloth, rects, quick=quick)
            if self.settings.turns is None:
                self._known[key] = self._try_all(
                    cloth, laid, _SPARE_WEIGHTS[1:2] if quick else _SPARE_WEIGHTS
                )
            else:
                self._known[key] = self._within_turns(cloth, laid, self.settings.turns)
        return self._known[key]

    def _laid(
        self, cloth: Cloth, rects: Sequence[Rect], *, quick: bool
    ) -> list[list[Rect]]:
        """The rects pushed together in different ways, and as they are."""
        laid: list[list[Rect]] = []
        ground = UsableGround(cloth, self.step)
        for way in chain(settled(rects, ground, quick=quick), [list(rects)]):
            laid.append([_to_the_end(rect, cloth, ground) for rect in way])
            if self._asked():
                break
        return laid

    def _within_turns(
        self, cloth: Cloth, laid: Sequence[Sequence[Rect]], turns: int
    ) -> list[CutUp]:
        """One way for each laying of the parts, of those that leave out the least area."""
        found: list[tuple[int, CutUp]] = []
        sides = _raw_sides(cloth)
        parts = ClothParts()
        for rects in laid:
            lost: list[Rect] = []
            tree = cut_tree(
                cloth.outline,
                rects,
                0.0,
                turns,
                square_up=sides,
                unit=self.settings.unit,
                left_out=lost,
                parts=parts,
            )
            steps, nodes = in_order(self._untrimmed(tree, cloth), "S")
            found.append(
                (
                    sum((r.x2 - r.x1) * (r.y2 - r.y1) for r in lost),
                    self._cut_up(cloth, steps, nodes),
                )
            )
            if self._asked():
                break
        least = min(area for area, _ in found)
        return [way for area, way in found if area == least]

    def _try_all(
        self, cloth: Cloth, laid: Sequence[Sequence[Rect]], weights: Sequence[float]
    ) -> list[CutUp]:
        sides = _raw_sides(cloth)
        unit = self.settings.unit
        parts = ClothParts()
        found: dict[tuple[tuple[str, int], ...], CutUp] = {}
        # by what was chosen: different weights agree
        keys: dict[tuple[object, ...], tuple[tuple[str, int], ...]] = {}

        def one(
            rects: Sequence[Rect], begin: Axis | None, weight: float
        ) -> tuple[tuple[str, int], ...]:
            cuts = free_cuts(
                parts.part(cloth.outline, rects), parts, weight, sides, begin
            )
            if cuts.choices not in keys:
                steps, nodes = in_order(
                    self._untrimmed(outward(cuts, unit), cloth), "S"
                )
                key = keys[cuts.choices] = tuple((step.axis, step.at) for step in steps)
                if key not in found:
                    found[key] = self._cut_up(cloth, steps, nodes)
            return keys[cuts.choices]

        def add(rects: Sequence[Rect], begin: Axis | None) -> None:
            if found and self._asked():
                return
            first, *more = weights
            alike = one(rects, begin, first)
            if more and not self._asked() and one(rects, begin, more[-1]) != alike:
                for weight in more[:-1]:
                    one(rects, begin, weight)

        for rects in laid:
            add(rects, None)
        # begun in the other direction it may be easier
        if all(way.hard for way in found.values()):
            for rects in laid:
                add(rects, "x")
                add(rects, "y")
        return list(found.values())

    def _untrimmed(self, root: CutNode, cloth: Cloth) -> CutNode:
        """The tree without cuts that only take waste off a part that may be longer."""
        nodes = [root]
        for node in nodes:
            nodes.extend(node.children)
        for node in reversed(nodes):
            grown = self._grown(node, cloth)
            if grown is not None:
                node.rects = (grown,)
                node.axis = ""
                node.children = ()
        return root

    def _grown(self, node: CutNode, cloth: Cloth) -> Rect | None:
        """The part of a node made as long as that is; None where it must be cut off, or the rest is worth keeping."""
        parts = [child for child in node.children if child.rects]
        if len(node.children) != 2 or len(parts) != 1 or parts[0].axis:
            return None
        part = parts[0].rects[0]
        other = node.children[node.children[0] is parts[0]]
        if (
            part.grows != node.axis
            or not node.shape.whole
            or other.axis
            or self._worth_keeping(other, cloth)
        ):
            return None
        x1, y1, x2, y2 = box = [int(v) for v in node.box]
        if not UsableGround(cloth, self.step).clear([box], box, 0, 0):
            return None
        return replace(part, x1=x1, y1=y1, x2=x2, y2=y2)

    def _cut_up(
        self, cloth: Cloth, steps: Sequence[OrderedCut], nodes: Mapping[str, CutNode]
    ) -> CutUp:
        leaves = [(name, node) for name, node in nodes.items() if node.axis == ""]
        spare = [
            (name, node)
            for name, node in leaves
            if not node.rects and self._worth_keeping(node, cloth)
        ]
        kept = tuple((name, int(node.shape.area2) // 2) for name, node in spare)
        boxes = {name: node.box for name, node in nodes.items()}
        guessed = sum(self._guessed(nodes[step.part], step) for step in steps)
        thin = sum(
            any(self._sliver(nodes[name], step) for name in step.gives)
            for step in steps
        )
        return CutUp(
            steps=tuple(steps),
            leaves=tuple(leaves),
            kept=kept,
            boxes=boxes,
            guessed=guessed,
            thin=thin,
            settings=_settings(steps, nodes),
        )

    def _sliver(self, node: CutNode, step: OrderedCut) -> bool:
        """Whether what a cut gave is waste, and too thin to be held under a ruler."""
        low, high = (0, 2) if step.axis == "x" else (1, 3)
        box = node.box
        return not node.axis and not node.rects and box[high] - box[low] < THINNEST

    def _guessed(self, node: CutNode, step: OrderedCut) -> bool:
        """Whether no mark of a ruler meets a cut, from whatever it is measured; on straight edges that is as told."""
        if step.axis == "x":
            axis = 0
        else:
            axis = 1
        unit = self.settings.unit
        return not node.shape.whole and not node.shape.meets_ruler(axis, step.at, unit)

    def _worth_keeping(self, node: CutNode, cloth: Cloth) -> bool:
        """Whether spare cloth, once it is squared up, holds a rectangle of the size that the maker keeps."""
        small, large = sorted((self.settings.keep_width, self.settings.keep_length))
        x1, y1, x2, y2 = (int(v) for v in node.box)
        if min(x2 - x1, y2 - y1) < small or max(x2 - x1, y2 - y1) < large:
            return False
        margins = margins_of(cloth, node.outline)
        if node.shape.whole and not cloth.flaws:
            size = inside_margins(node.outline, margins)
            return min(size) >= small and max(size) >= large
        outline = tuple((int(x), int(y)) for x, y in node.outline)
        part = Cloth(
            fabric=cloth.fabric,
            outline=outline,
            margins=margins,
            flaws=cloth.flaws,
        )
        _, cells = usable_cells(part, self.step)
        table = summed(cells)

        w = -(-small // self.step)
        l = -(-large // self.step)
        return holds(table, w, l) or holds(table, l, w)


def _to_the_end(rect: Rect, cloth: Cloth, ground: UsableGround) -> Rect:
    """A part that may be longer with what is left beyond its ends, where that is too little to be cut off.

    Only up to straight edges that need no squaring up: no other part has room there.
    """
    if not rect.grows or not ground.whole:
        return rect
    box = bounds(cloth.outline)
    if rect.grows == "x":
        axis = 0
    else:
        axis = 1
    ends = [rect.x1, rect.y1, rect.x2, rect.y2]
    for side in (axis, axis + 2):
        if (
            ground.box[side] == box[side]
            and abs(ends[side] - ground.box[side]) < THINNEST
        ):
            ends[side] = ground.box[side]
    x1, y1, x2, y2 = ends
    return replace(rect, x1=x1, y1=y1, x2=x2, y2=y2)


def _settings(steps: Sequence[OrderedCut], nodes: Mapping[str, CutNode]) -> int:
    """How often the ruler is set to another width, as :func:`cutopt.result.estimate_minutes` counts it."""
    count = 0
    last = None
    for step in steps:
        if step.axis == "x":
            axis = 0
        else:
            axis = 1
        low = [nodes[name] for name in step.gives if nodes[name].box[axis] < step.at]
        if any(node.axis or node.rects for node in low):
            width = step.at - nodes[step.part].box[axis]
            count = count + (width != last)
            last = width
    return count


def _raw_sides(cloth: Cloth) -> list[tuple[Axis, int]]:
    """The lines along which straight raw sides are squared up first, so that all else is measured from a fresh edge.

    One of each pair: the lower (left) side, or the upper (right) one where only that is straight.
    """
    box = [int(v) for v in bounds(cloth.outline)]
    lines: list[tuple[Axis, int]] = []
    for axis in (1, 0):
        side = next(
            (side for side in SIDES if straight_side(cloth.outline, axis, side)), None
        )
        if side is None:
            continue
        at = box[axis + (2 if side == "high" else 0)]
        raw = [
            margin
            for (a, b), margin in zip(edges(cloth.outline), cloth.margins, strict=True)
            if a[axis] == b[axis] == at
        ]
        if min(raw):
            lines.append(
                ("y" if axis else "x", at + (min(raw) if side == "low" else -min(raw)))
            )
    return lines
