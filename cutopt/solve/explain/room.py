"""How much smaller each piece of cloth may turn out to be for somebody who follows the numbered cuts as printed.

She measures every cut from the edge or corner that the page names (:mod:`cutopt.moves`), at the distance that it says,
and leaves out a cut for which there is no cloth left to cut off. Every part that is wanted must come out as it should.
What is told was tried: the cuts are done on the smaller cloth, and the checker looks at what comes of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from cutopt.check import uses
from cutopt.check.replay import replay as replayed
from cutopt.check.shapes import box_of
from cutopt.cloth import Cloth
from cutopt.fabric import Outline, Piece
from cutopt.geometry import (
    Box,
    Number,
    area2,
    bounds,
    edges,
    is_rectangle,
    rectangle,
)
from cutopt.job import Job
from cutopt.moves import Mat
from cutopt.plan import CutStep, Plan, Source
from cutopt.result import Room
from cutopt.solve.explain.changed_jobs import changed, valid
from cutopt.solve.explain.cuts_followed import Shift, followed, measured
from cutopt.solve.model.cells import covers, summed, usable_cells
from cutopt.strips import as_measured, sewn_length
from cutopt.wanted import Strip

_UNIT: Final = 254
# in 32nds of an inch: 1/32, 1/16, 1/8, 1/4, 1/2
_TRIES: Final = (1, 2, 4, 8, 16)


def room_of(
    job: Job, plan: Plan, asked: Callable[[], bool] = lambda: False
) -> tuple[Room, ...]:
    """Room of every source of a plan; of rectangles without a flaw only once somebody has `asked` to stop.

    A rectangle may be shorter across (along) by as much as the spare cloth takes up between what is measured from one
    side and what is measured from the other. Else steps from 1/32 in to 1/2 in are tried: either end may be missing, and
    of an odd shape, or one with a flaw, all edges that lie across that way may move in by so much; the true room is at
    least that. A segment of a strip may be shorter while the strip stays as long as it has to be.

    Parameters
    ----------
    job : Job
    plan : Plan
        Sound: its cuts are followed as they are printed.
    asked : callable
        Whether somebody wants to stop.
    """
    mat = Mat(job, plan)
    cuts: dict[str, list[CutStep]] = {source.id: [] for source in plan.sources}
    for cut in plan.cuts:
        cuts[mat.owner[cut.part]].append(cut)
    every = (_Follower(mat, source, cuts[source.id]) for source in plan.sources)
    return tuple(each.room() for each in every if each.plain or not asked())


class _Follower:
    """Somebody who cuts up one source of a plan."""

    def __init__(self, mat: Mat, source: Source, cuts: Sequence[CutStep]) -> None:
        self.mat = mat
        self.source = source
        self.cloth = mat.cloth[source.id]
        self.plain = is_rectangle(self.cloth.outline) and not self.cloth.flaws
        self.moves = [measured(mat, cut) for cut in cuts]
        names = {source.id, *(name for cut in cuts for name in cut.gives)}
        self.used = [name for name in mat.uses if name in names]

    def room(self) -> Room:
        """Across and along."""
        across, along = (self._most(axis) for axis in (0, 1))
        return Room(source=self.source.id, across=across, along=along)

    def _most(self, axis: int) -> int | None:
        """The most up to which all is known to be well; 0 where the least step spoils it, None where that is open."""
        if self.plain:
            exact = self._slack(axis)
        else:
            exact = 0
        return exact or self._tried(axis)

    def _slack(self, axis: int) -> int:
        """Of a rectangle whose parts keep their size: exactly how much smaller, if the checker agrees."""
        slack = Shift(self.mat, self.source.id, axis).slack(self.moves, self.used)
        if slack and self._holds(axis, slack, "high"):
            return slack
        return 0

    def _tried(self, axis: int) -> int | None:
        """The largest of some steps up to which all is well."""
        # without a feature a rectangle is the same whichever end is missing
        ends = ("high",) if self.plain else ("low", "high")
        most = 0
        for less in (n * _UNIT for n in _TRIES):
            if not all(self._holds(axis, less, end) for end in ends):
                return most
            if not (self.plain or self._clear(axis, less)):
                return most or None
            most = less
        return most

    def _holds(self, axis: int, less: int, end: str) -> bool:
        """Whether the checker finds every part as it should be on cloth that lacks so much at one end."""
        cloth = _smaller(self.cloth, axis, less, end)
        piece = valid(lambda: self._as_piece(cloth))
        if piece is None:
            job = None
        else:
            # the cloth is as the wash leaves it
            settings = replace(self.mat.job.settings, prewash="")
            job = changed(self.mat.job, pieces=(piece,), shop=(), settings=settings)
        if piece is None or job is None:
            return False
        plan = followed(
            self.mat,
            replace(self.source, piece=piece.name, copy=1, bought=""),
            piece.outline,
            self.moves,
        )
        if plan is None or len(plan.uses) != len(self.used):
            return False
        table = replayed(job, plan)
        if table.faults or any(uses.faults(job, plan, table)):
            return False
        boxes = [box_of(table.parts[use.part].shape) for use in plan.uses]
        return self._strips_hold(dict(zip(self.used, boxes, strict=True)))

    def _strips_hold(self, boxes: Mapping[str, Box]) -> bool:
        """Whether strips are as long as they have to be with these segments of this cloth."""
        settings = self.mat.job.settings
        for join in self.mat.plan.joins:
            row = self.mat.job.row(join.for_)
            if not boxes.keys() & set(join.segments) or not isinstance(row, Strip):
                continue
            longs = [self._long(name, boxes) for name in join.segments]
            if len(longs) == 1:
                if longs[0] < row.total_length:
                    return False
                continue
            told = [as_measured(long, settings) for long in longs]
            if min(told) < min(row.shortest, row.total_length):
                return False
            if sewn_length(row, told, settings) < row.total_length:
                return False
        return True

    def _long(self, name: str, boxes: Mapping[str, Box]) -> Number:
        """How long a segment is, as it comes out of this cloth or as it is planned."""
        if name in boxes:
            box = boxes[name]
        else:
            box = bounds(self.mat.parts[name])
        if self.mat.uses[name].turned:
            axis = 0
        else:
            axis = 1
        return box[axis + 2] - box[axis]

    def _as_piece(self, cloth: Cloth) -> Piece:
        """Cloth as a piece of the pile; of what is bought the ends that are squared up are no good, like a flaw."""
        known = next(
            (piece for piece in self.mat.job.pieces if piece.name == self.source.piece),
            None,
        )
        if known is not None:
            return replace(
                known, outline=cloth.outline, flaws=cloth.flaws, count=1, wish=""
            )
        return Piece(
            name="bought",
            fabric=cloth.fabric,
            outline=cloth.outline,
            flaws=tuple(_lost(cloth)),
        )

    def _clear(self, axis: int, less: int) -> bool:
        """Whether all parts, moved along an axis by at most `less`, keep clear of edges that moved in by `less`.

        Edges that run along the axis stay where they are.
        """
        sides = zip(edges(self.cloth.outline), self.cloth.margins, strict=True)
        margins = [
            margin + less * (a[1 - axis] != b[1 - axis]) for (a, b), margin in sides
        ]
        origin, cells = usable_cells(replace(self.cloth, margins=tuple(margins)), _UNIT)
        table = summed(cells)
        rects = [tuple(map(int, bounds(self.mat.parts[name]))) for name in self.used]
        moved = ((0, d) if axis else (d, 0) for d in (0, less, -less))
        return any(
            all(
                covers(table, origin, _UNIT, (x1 + dx, y1 + dy, x2 + dx, y2 + dy))
                for x1, y1, x2, y2 in rects
            )
            for dx, dy in moved
        )


def _smaller(cloth: Cloth, axis: int, less: int, end: str) -> Cloth:
    """Cloth whose corners at one end lie further in, and what reaches beyond them too."""
    box = bounds(cloth.outline)
    low = int(box[axis])
    high = int(box[axis + 2])
    low, high = (low + less, high) if end == "low" else (low, high - less)

    def within(ring: Outline) -> Outline:
        moved = (
            (min(max(corner[axis], low), high), corner[1 - axis]) for corner in ring
        )
        return tuple((at, other) if axis == 0 else (other, at) for at, other in moved)

    flaws = tuple(flaw for flaw in map(within, cloth.flaws) if area2(flaw))
    return replace(cloth, outline=within(cloth.outline), flaws=flaws)


def _lost(cloth: Cloth) -> Iterator[Outline]:
    """What is cut off at the sides of a bought rectangle, side by side (see :class:`~cutopt.cloth.Cloth`)."""
    x1, y1, x2, y2 = map(int, bounds(cloth.outline))
    low, right, high, left = cloth.margins
    width = x2 - x1
    length = y2 - y1
    sides = (
        (width, low, x1, y1),
        (right, length, x2 - right, y1),
        (width, high, x1, y2 - high),
        (left, length, x1, y1),
    )
    yield from (rectangle(*side) for side in sides if side[0] and side[1])
