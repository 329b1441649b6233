"""What a person does with each numbered cut: what is taken off which side, and what the cut is measured from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal, TypeAlias

from cutopt.cloth import Cloth, laid
from cutopt.geometry import Number, Polygon, bounds, edges
from cutopt.job import Job
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
        if cut.x is not None:
            return cut.x
        return cut.y or 0


class Mat:
    """A plan with its parts, what they are for, and how they come to be."""

    def __init__(self, job: Job, plan: Plan) -> None:
        self.plan = plan
        self.job = job
        there = laid(job, plan)
        self.parts: Mapping[str, Polygon] = there.parts
        self.cloth: Mapping[str, Cloth] = there.cloths
        self.owner: Mapping[str, str] = there.owner
        self.uses: dict[str, Use] = {use.part: use for use in plan.uses}
        self.cut_of: dict[str, CutStep] = {cut.part: cut for cut in plan.cuts}

    def needed(self, part: str) -> bool:
        """Whether a part is used or cut again."""
        return part in self.uses or part in self.cut_of

    def due(self, part: str, axis: int, side: Side) -> int:
        """The square-up that is still due at an edge of a part: that of the source where the part reaches it.

        Parameters
        ----------
        part : str
            Its name.
        axis : int
            0 for its left and right edge, 1 for the lower and the upper one.
        side : {"low", "high"}

        Returns
        -------
        int
            Ticks.
        """
        cloth = self.cloth[self.owner[part]]
        place = axis + (2 if side == "high" else 0)
        at = bounds(self.parts[part])[place]
        if at != bounds(cloth.outline)[place]:
            return 0
        sides = zip(edges(cloth.outline), cloth.margins, strict=True)
        return max(
            (margin for (a, b), margin in sides if a[axis] == b[axis] == at), default=0
        )

    def raw(self, part: str, axis: int, side: Side) -> bool:
        """Whether a part ends at that side in an edge of its cloth that was not squared up.

        Parameters
        ----------
        part, axis, side
            As of :meth:`due`.
        """
        box = bounds(self.parts[part])
        other = 1 - axis
        at = box[axis + (2 if side == "high" else 0)]
        cloth = self.cloth[self.owner[part]]
        return any(
            margin
            and a[axis] == b[axis] == at
            and min(a[other], b[other]) < box[other + 2]
            and max(a[other], b[other]) > box[other]
            for (a, b), margin in zip(edges(cloth.outline), cloth.margins, strict=True)
        )


def single(table: Mat, cut: CutStep) -> Move:
    """One cut as a move of its own."""
    if cut.line is not None:
        needed = [name for name in cut.gives if table.needed(name)]
        alone = len(needed) == 1
        return Move(
            kind="line",
            cuts=[cut],
            part=cut.part,
            axis=0,
            side="low",
            size=0,
            made=[] if alone else list(cut.gives),
            rest=needed[0] if alone else "",
        )
    low, high = _halves(table, cut)
    if len(low) > 1 or len(high) > 1:
        return _measured(table, _move(table, cut, "apart", "low", list(cut.gives)))
    first = low[0]
    second = high[0]
    if not table.needed(first) and not table.needed(second):
        return _measured(table, _move(table, cut, "spare", "low", [first], second))
    return _measured(table, _taken_off(table, cut, first, second))


def _halves(table: Mat, cut: CutStep) -> tuple[list[str], list[str]]:
    axis, at = (0, cut.x) if cut.x is not None else (1, cut.y or 0)
    low = [name for name in cut.gives if bounds(table.parts[name])[axis] < at]
    return low, [name for name in cut.gives if name not in low]


def _move(
    table: Mat, cut: CutStep, kind: Kind, side: Side, made: list[str], rest: str = ""
) -> Move:
    axis, at = (0, cut.x) if cut.x is not None else (1, cut.y or 0)
    box = bounds(table.parts[cut.part])
    if side == "low":
        size = at - box[axis]
    else:
        size = box[axis + 2] - at
    return Move(
        kind=kind,
        cuts=[cut],
        part=cut.part,
        axis=axis,
        side=side,
        size=size,
        made=made,
        rest=rest,
    )


def _taken_off(table: Mat, cut: CutStep, first: str, second: str) -> Move:
    """A cut that gives something needed on one side at least, as it is told where both sides are straight."""
    trim = {
        "low": _move(table, cut, "trim", "low", [], second),
        "high": _move(table, cut, "trim", "high", [], first),
    }
    if not table.needed(first) and trim["low"].size <= trim["high"].size:
        return trim["low"]
    due = table.due(cut.part, trim["high"].axis, "high")
    if not table.needed(second) and first in table.cut_of and trim["high"].size <= due:
        return trim["high"]
    from_high = not table.needed(first) or (
        first in table.cut_of and second in table.uses
    )
    return _part_off(table, cut, first, second, "high" if from_high else "low")


def _part_off(table: Mat, cut: CutStep, first: str, second: str, side: Side) -> Move:
    made, rest = (second, first) if side == "high" else (first, second)
    return _move(
        table, cut, "parts" if made in table.uses else "strips", side, [made], rest
    )


def _measured(table: Mat, move: Move) -> Move:
    """The move with what it is measured from; told from the other side where only that one is straight."""
    part = table.parts[move.part]
    unit = table.job.settings.unit
    axis = move.axis
    raw = [side for side in SIDES if table.raw(move.part, axis, side)]
    ends = {mark.side: mark for mark in marks(part, axis)}
    other: Side = "high" if move.side == "low" else "low"
    sound = move.side not in raw or other in raw or not ends[other].straight
    # a raw edge is squared up from itself
    if move.kind == "trim" and move.rest not in table.uses:
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
