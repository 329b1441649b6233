"""From numbered cuts to moves of the hands: trims, strips, equal parts cut one after the other, equal stacks.

A move gathers cuts that follow each other and take the same width off the same side of what is left. Strips that
are cut alike are found, so that they can be stacked; so are pieces that are cut alike from end to end.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property
from typing import Literal, TypeAlias

from cutopt.cloth import Cloth, cloth_of, replay
from cutopt.draw.views import origin_of, owners, stretches
from cutopt.geometry import Number, Polygon, bounds, edges, is_rectangle
from cutopt.measure import SIDES, Mark, Side, best_mark, marks
from cutopt.plan import CutStep, Plan, Use

Kind: TypeAlias = Literal["trim", "parts", "strips", "apart", "spare", "line"]


@dataclass(slots=True, kw_only=True)
class Move:
    """Cuts that a person makes in one go.

    `part` is what they start from; `made` is what is taken off (in a trim nothing), `rest` what is left at the
    end (empty where that is taken as well). `size` is what is taken off at the `side`, in ticks; `mark` is what the
    cut is measured from: an edge or a corner of the part, mostly the straight edge at that side.
    """

    kind: Kind
    cuts: list[CutStep]
    part: str
    axis: int
    side: Side
    size: Number
    made: list[str] = field(default_factory=list)
    rest: str = ""
    mark: Mark | None = None

    @property
    def plain(self) -> bool:
        """Whether the size is measured from a straight edge at the side where it is taken off."""
        return self.mark is None or (self.mark.straight and self.mark.side == self.side)

    @property
    def at(self) -> Number:
        """Where the (first) cut is, on its axis."""
        cut = self.cuts[0]
        return cut.x if cut.x is not None else cut.y or 0


class Table:
    """All that the words need to know of a plan: parts, what they are for, and how they come to be."""

    def __init__(self, plan: Plan) -> None:
        self.plan, self.job = plan, origin_of(plan)
        self.parts: dict[str, Polygon] = replay(self.job, plan)
        self.uses: dict[str, Use] = {use.part: use for use in plan.uses}
        self.keep = {spare.part for spare in plan.spare if spare.keep}
        self.cut_of: dict[str, CutStep] = {cut.part: cut for cut in plan.cuts}
        self.owner = owners(plan)
        self.parent = {name: cut.part for cut in plan.cuts for name in cut.gives}
        self.sources = {source.id: source for source in plan.sources}

    @cached_property
    def cloth(self) -> dict[str, Cloth]:
        """The cloth of each source."""
        return {source.id: cloth_of(self.job, source) for source in self.plan.sources}

    def needed(self, part: str) -> bool:
        """Whether a part is used or cut again."""
        return part in self.uses or part in self.cut_of

    def size(self, part: str) -> tuple[Number, Number]:
        """Width and length of the box round a part."""
        x1, y1, x2, y2 = bounds(self.parts[part])
        return x2 - x1, y2 - y1

    def plain(self, part: str) -> bool:
        """Whether a part is a rectangle without flaws, so that it does not matter at which end one starts."""
        x1, y1, x2, y2 = bounds(self.parts[part])
        for flaw in self.cloth[self.owner[part]].flaws:
            fx1, fy1, fx2, fy2 = bounds(flaw)
            if fx1 < x2 and x1 < fx2 and fy1 < y2 and y1 < fy2:
                return False
        return is_rectangle(self.parts[part])

    def due(self, part: str, axis: int, side: Side) -> int:
        """The square-up that is still due at an edge of a part: that of the source where the part reaches it."""
        cloth = self.cloth[self.owner[part]]
        place = axis + (2 if side == "high" else 0)
        at = bounds(self.parts[part])[place]
        if at != bounds(cloth.outline)[place]:
            return 0
        sides = zip(edges(cloth.outline), cloth.margins, strict=True)
        return max((margin for (a, b), margin in sides if a[axis] == b[axis] == at), default=0)

    def raw(self, part: str, axis: int, side: Side) -> bool:
        """Whether a part ends at that side in an edge of its cloth that was not squared up."""
        box, other = bounds(self.parts[part]), 1 - axis
        at = box[axis + (2 if side == "high" else 0)]
        cloth = self.cloth[self.owner[part]]
        return any(
            margin and a[axis] == b[axis] == at and min(a[other], b[other]) < box[other + 2]
            and max(a[other], b[other]) > box[other]
            for (a, b), margin in zip(edges(cloth.outline), cloth.margins, strict=True)
        )  # fmt: skip

    def fate(self, part: str) -> tuple[str, ...]:
        """What becomes of a part: used for a row, cut again, kept, or scrap."""
        use = self.uses.get(part)
        if use:
            return ("use", use.for_)
        if part in self.cut_of:
            return ("cut",)
        return ("keep",) if part in self.keep else ("scrap",)

    def signature(self, root: str, cuts: Sequence[CutStep]) -> object:
        """The cuts of one part in a form that is the same for a congruent part that is cut alike."""
        x0, y0, _, _ = bounds(self.parts[root])
        local = {root: 0}
        ring = [(x - x0, y - y0) for x, y in self.parts[root]]
        start = ring.index(min(ring))
        out: list[object] = [(*ring[start:], *ring[:start])]
        for cut in cuts:
            for name in cut.gives:
                local[name] = len(local)
            at = (cut.x - x0) if cut.x is not None else (cut.y or 0) - y0
            out.append((local.get(cut.part), cut.x is None, at, cut.line, tuple(map(self.fate, cut.gives))))
        return tuple(out)

    def long(self, cut: CutStep) -> Number:
        """How long the longest stretch of a cut is."""
        if cut.line is not None:
            ways = [(Fraction(bx - ax), Fraction(by - ay)) for (ax, ay), (bx, by) in stretches(cut, self.parts)]
            return Fraction(max((math.hypot(x, y) for x, y in ways), default=0.0)).limit_denominator(1)
        return max((max(bx - ax, by - ay) for (ax, ay), (bx, by) in stretches(cut, self.parts)), default=0)


def by_source(table: Table) -> Iterator[tuple[str, list[CutStep]]]:
    """The cuts in order, in runs through one source."""
    run: list[CutStep] = []
    for cut in table.plan.cuts:
        if run and table.owner[run[-1].part] != table.owner[cut.part]:
            yield table.owner[run[0].part], run
            run = []
        run.append(cut)
    if run:
        yield table.owner[run[0].part], run


def descent(root: str, cuts: Sequence[CutStep]) -> list[CutStep]:
    """The cuts at the front that are cuts of `root` and of what came from it."""
    family = {root}
    out: list[CutStep] = []
    for cut in cuts:
        if cut.part not in family:
            break
        family.update(cut.gives)
        out.append(cut)
    return out


def next_move(table: Table, cuts: Sequence[CutStep]) -> Move:
    """The move at the front: the first cut, and those that go on in the same way."""
    move = single(table, cuts[0])
    for cut in cuts[1:]:
        if not _goes_on(table, move, cut):
            break
        following = single(table, cut)
        move.cuts.append(cut)
        move.made += following.made
        move.rest = following.rest
    if move.kind in ("parts", "strips") and move.rest and _alike(table, move.made[0], move.rest):
        move.made.append(move.rest)
        move.rest = ""
    return move


def _goes_on(table: Table, move: Move, cut: CutStep) -> bool:
    if move.kind not in ("parts", "strips") or cut.part != move.rest:
        return False
    other = single(table, cut)
    same = (other.kind, other.axis, other.side, other.size) == (move.kind, move.axis, move.side, move.size)
    return same and move.plain and other.plain and _alike(table, move.made[0], other.made[0])


def _alike(table: Table, a: str, b: str) -> bool:
    """Whether two parts are of one size and fate, and both plain where they are cut again."""
    if table.fate(a) != table.fate(b) or table.size(a) != table.size(b):
        return False
    return a in table.uses or (table.plain(a) and table.plain(b))


def single(table: Table, cut: CutStep) -> Move:
    """One cut as a move of its own."""
    if cut.line is not None:
        needed = [name for name in cut.gives if table.needed(name)]
        alone = len(needed) == 1
        return Move(
            kind="line", cuts=[cut], part=cut.part, axis=0, side="low", size=0,
            made=[] if alone else list(cut.gives), rest=needed[0] if alone else "",
        )  # fmt: skip
    low, high = _halves(table, cut)
    if len(low) > 1 or len(high) > 1:
        return _measured(table, _move(table, cut, "apart", "low", list(cut.gives)))
    first, second = low[0], high[0]
    if not table.needed(first) and not table.needed(second):
        return _measured(table, _move(table, cut, "spare", "low", [first], second))
    return _measured(table, _taken_off(table, cut, first, second))


def _halves(table: Table, cut: CutStep) -> tuple[list[str], list[str]]:
    axis, at = (0, cut.x) if cut.x is not None else (1, cut.y or 0)
    low = [name for name in cut.gives if bounds(table.parts[name])[axis] < at]
    return low, [name for name in cut.gives if name not in low]


def _move(table: Table, cut: CutStep, kind: Kind, side: Side, made: list[str], rest: str = "") -> Move:
    axis, at = (0, cut.x) if cut.x is not None else (1, cut.y or 0)
    box = bounds(table.parts[cut.part])
    size = at - box[axis] if side == "low" else box[axis + 2] - at
    return Move(kind=kind, cuts=[cut], part=cut.part, axis=axis, side=side, size=size, made=made, rest=rest)


def _taken_off(table: Table, cut: CutStep, first: str, second: str) -> Move:
    """A cut that gives something needed on one side at least, as it is told where both sides are straight."""
    trim = {"low": _move(table, cut, "trim", "low", [], second), "high": _move(table, cut, "trim", "high", [], first)}
    if not table.needed(first) and trim["low"].size <= trim["high"].size:
        return trim["low"]
    due = table.due(cut.part, trim["high"].axis, "high")
    if not table.needed(second) and first in table.cut_of and trim["high"].size <= due:
        return trim["high"]
    from_high = not table.needed(first) or (first in table.cut_of and second in table.uses)
    return _part_off(table, cut, first, second, "high" if from_high else "low")


def _part_off(table: Table, cut: CutStep, first: str, second: str, side: Side) -> Move:
    made, rest = (second, first) if side == "high" else (first, second)
    return _move(table, cut, "parts" if made in table.uses else "strips", side, [made], rest)


def _measured(table: Table, move: Move) -> Move:
    """The move with what it is measured from; told from the other side where only that one is straight."""
    part, unit, axis = table.parts[move.part], table.job.settings.unit, move.axis
    raw = [side for side in SIDES if table.raw(move.part, axis, side)]
    ends = {mark.side: mark for mark in marks(part, axis)}
    other: Side = "high" if move.side == "low" else "low"
    sound = move.side not in raw or other in raw or not ends[other].straight
    if move.kind == "trim" and move.rest not in table.uses:  # a raw edge is squared up from itself
        raw = [side for side in raw if side != move.side]
    if ends[move.side].straight and move.kind != "trim" and sound:
        mark = ends[move.side]
    else:
        mark = best_mark(part, axis, move.at, unit, move.side, raw)
    told = replace(move, mark=mark)
    if not mark.straight or told.plain or move.kind in ("trim", "apart"):
        return told
    cut, (first, second) = move.cuts[0], move.cuts[0].gives
    made, rest = (second, first) if other == "high" else (first, second)
    if move.kind == "spare":
        swapped = _move(table, cut, "spare", other, [made], rest)
    elif table.needed(made):
        swapped = _part_off(table, cut, first, second, other)
    else:
        swapped = _move(table, cut, "trim", other, [], rest)
    return replace(swapped, mark=mark)
