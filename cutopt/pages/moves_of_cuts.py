"""From numbered cuts to moves of the hands: trims, strips, equal parts cut one after the other, equal stacks.

A move gathers cuts that follow each other and take the same width off the same side of what is left. Strips that
are cut alike are found, so that they can be stacked; so are pieces that are cut alike from end to end.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

from cutopt.back_letters import lettered
from cutopt.draw.views import origin_of, stretches
from cutopt.geometry import Number, bounds, is_rectangle
from cutopt.moves import Mat, Move, single
from cutopt.plan import CutStep, Plan
from cutopt.strips import joined


class Table(Mat):
    """All that the words need to know of a plan."""

    def __init__(self, plan: Plan) -> None:
        super().__init__(origin_of(plan), plan)
        self.keep = {spare.part for spare in plan.spare if spare.keep}
        self.parent = {name: cut.part for cut in plan.cuts for name in cut.gives}
        self.joined = joined(plan)
        letters = lettered(plan)
        self.keys = {
            name: letters.get(name, use.for_) for name, use in self.uses.items()
        }
        self.sources = {source.id: source for source in plan.sources}

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

    def from_bolt(self, move: Move) -> bool:
        """Whether a cut runs from end to end of cloth from the bolt."""
        source = self.sources[self.owner[move.part]]
        other = 1 - move.axis
        whole = self.size(move.part)[other] == self.size(source.id)[other]
        return bool(source.bought) and not source.by_piece and whole

    def fate(self, part: str) -> tuple[str, ...]:
        """What becomes of a part: used for a row or as a part of a back, cut again, kept, or scrap."""
        if part in self.keys:
            return ("use", self.keys[part])
        if part in self.cut_of:
            return ("cut",)
        if part in self.keep:
            return ("keep",)
        return ("scrap",)

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
            if cut.x is not None:
                at = cut.x - x0
            else:
                at = (cut.y or 0) - y0
            out.append(
                (
                    local.get(cut.part),
                    cut.x is None,
                    at,
                    cut.line,
                    tuple(map(self.fate, cut.gives)),
                )
            )
        return tuple(out)

    def long(self, cut: CutStep) -> Number:
        """How long the longest stretch of a cut is."""
        if cut.line is not None:
            ways = [
                (Fraction(bx - ax), Fraction(by - ay))
                for (ax, ay), (bx, by) in stretches(cut, self.parts)
            ]
            return Fraction(
                max((math.hypot(x, y) for x, y in ways), default=0.0)
            ).limit_denominator(1)
        return max(
            (
                max(bx - ax, by - ay)
                for (ax, ay), (bx, by) in stretches(cut, self.parts)
            ),
            default=0,
        )


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
    if (
        move.kind in ("parts", "strips")
        and move.rest
        and _alike(table, move.made[0], move.rest)
    ):
        move.made.append(move.rest)
        move.rest = ""
    return move


def _goes_on(table: Table, move: Move, cut: CutStep) -> bool:
    if move.kind not in ("parts", "strips") or cut.part != move.rest:
        return False
    other = single(table, cut)
    same = (other.kind, other.axis, other.side, other.size) == (
        move.kind,
        move.axis,
        move.side,
        move.size,
    )
    return (
        same
        and move.plain
        and other.plain
        and _alike(table, move.made[0], other.made[0])
    )


def _alike(table: Table, a: str, b: str) -> bool:
    """Whether two parts are of one size and fate, and both plain where they are cut again."""
    if table.size(a) != table.size(b):
        return False
    if a in table.uses and b in table.uses:
        return table.uses[a].for_ == table.uses[b].for_
    return table.fate(a) == table.fate(b) and table.plain(a) and table.plain(b)
