"""The numbered cuts of a plan, done as they are printed on cloth that turned out smaller."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cutopt.geometry import Axis, Number, Polygon, bounds, split
from cutopt.measure import Mark, marks
from cutopt.moves import Mat, single
from cutopt.plan import CutStep, Plan, Source, Spare, Use

_AXES: tuple[Axis, Axis] = ("x", "y")


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A cut across `axis` at `at`, what it is measured from (None: along a line), and what lies on its two sides."""

    cut: CutStep
    axis: int
    at: Number
    mark: Mark | None
    low: tuple[str, ...]
    high: tuple[str, ...]


def measured(mat: Mat, cut: CutStep) -> Measured:
    """A cut as the page tells it."""
    move = single(mat, cut)
    if cut.x is not None:
        axis = 0
    else:
        axis = 1
    low = tuple(
        name
        for name in cut.gives
        if cut.line is None and bounds(mat.parts[name])[axis] < move.at
    )
    high = tuple(name for name in cut.gives if name not in low)
    return Measured(cut=cut, axis=axis, at=move.at, mark=move.mark, low=low, high=high)


class Shift:
    """Which edges of the parts of a rectangle move with its high edge along an axis, and which stay with its low one.

    `of` maps a part to what its low and its high edge do: 0 to stay, 1 to move.
    """

    def __init__(self, mat: Mat, source: str, axis: int) -> None:
        self.mat = mat
        self.source = source
        self.axis = axis
        self.of: dict[str, tuple[int, int]] = {source: (0, 1)}

    def slack(self, moves: Sequence[Measured], used: Sequence[str]) -> int:
        """How far the high edge may move in until a part that is wanted is too small, or comes too near to an edge."""
        for move in moves:
            self._cut(move)
        limits = [
            limit
            for move in moves
            if move.axis == self.axis
            for limit in self._of_cut(move)
        ]
        return int(max(0, min([*limits, *map(self._of_part, used)], default=0)))

    def _ends(self, part: str) -> tuple[Number, Number]:
        box = bounds(self.mat.parts[part])
        return box[self.axis], box[self.axis + 2]

    def _moves(self, move: Measured) -> int:
        """Whether a cut moves: as what it is measured from."""
        ends = self._ends(move.cut.part)
        return self.of[move.cut.part][move.mark is not None and move.mark.at == ends[1]]

    def _cut(self, move: Measured) -> None:
        low, high = self.of[move.cut.part]
        if move.axis == self.axis:
            here = self._moves(move)
        else:
            here = None
        self.of.update(dict.fromkeys(move.low, (low, high if here is None else here)))
        self.of.update(dict.fromkeys(move.high, (low if here is None else here, high)))

    def _of_cut(self, move: Measured) -> Iterator[Number]:
        """Until the cut, or a side of it that is needed, has no cloth any more."""
        (low, high), here = self._ends(move.cut.part), self._moves(move)
        stays, goes = self.of[move.cut.part]
        if goes > stays:
            yield high - low
        if here > stays and any(map(self.mat.needed, move.high)):
            yield move.at - low
        if goes > here and any(map(self.mat.needed, move.low)):
            yield high - move.at

    def _of_part(self, part: str) -> Number:
        """Until it lies where an edge is squared up; nothing where it would become smaller."""
        (low, high), (first, last) = self._ends(part), self._ends(self.source)
        stays, goes = self.of[part]
        margins = self.mat.cloth[self.source].margins
        before, after = (
            (margins[3], margins[1]) if self.axis == 0 else (margins[0], margins[2])
        )
        if stays != goes:
            return 0
        if stays:
            return low - first - before
        return last - high - after


def followed(
    mat: Mat, source: Source, outline: Polygon, moves: Sequence[Measured]
) -> Plan | None:
    """The plan of one source with its cuts as they come out on cloth of this outline.

    Parameters
    ----------
    mat : Mat
    source : Source
    outline : Polygon
        In ticks, of the cloth as it has turned out.
    moves : sequence of Measured
        The cuts with what each is measured from, as printed.

    Returns
    -------
    Plan or None
        None where a cut cannot be done as it is told. What is said of counts, sums and strips is left out.
    """
    hands = _Hands(mat, source.id, outline)
    if not all(map(hands.do, moves)):
        return None
    cut = {step.part for step in hands.steps}
    ends = [name for name in hands.held if name not in cut]
    uses = tuple(hands.uses())
    taken = {use.part for use in uses}
    spare = tuple(Spare(part=name) for name in ends if name not in taken)
    return Plan(
        job="", sources=(source,), cuts=tuple(hands.steps), uses=uses, spare=spare
    )


class _Hands:
    """What lies on the table: shapes by the names of the parts; `known_as` is under which name a part lies there."""

    def __init__(self, mat: Mat, source: str, outline: Polygon) -> None:
        self.mat = mat
        self.held: dict[str, Polygon] = {source: outline}
        self.known_as = {source: source}
        self.steps: list[CutStep] = []

    def do(self, move: Measured) -> bool:
        """Do one cut, or leave it out where nothing is there to cut off; whether that goes well."""
        here = self.known_as.get(move.cut.part)
        if here is None:
            at = None
        else:
            at = self._place(move, self.held[here])
        if here is None or at is None:
            return False
        low, high = split(self.held[here], _AXES[move.axis], at)
        if not low or not high:
            there, gone = (move.low, move.high) if low else (move.high, move.low)
            self.known_as.update(dict.fromkeys(there, here))
            return len(there) == 1 and not any(map(self.mat.needed, gone))
        if (len(low), len(high)) != (len(move.low), len(move.high)):
            return False
        found = dict(zip((*move.low, *move.high), (*low, *high), strict=True))
        self.held.update(found)
        self.known_as.update((name, name) for name in found)
        x, y = (at, None) if move.axis == 0 else (None, at)
        self.steps.append(
            CutStep(n=len(self.steps) + 1, part=here, gives=tuple(found), x=x, y=y)
        )
        return True

    def _place(self, move: Measured, shape: Polygon) -> int | None:
        """Where the cut comes to lie: as far as printed from the edge or corner of that name."""
        mark = move.mark
        if mark is None:
            return None
        same = next(
            (other for other in marks(shape, move.axis) if other.name == mark.name),
            None,
        )
        if same is None:
            at = None
        else:
            at = same.at + move.at - mark.at
        if at is not None and at == int(at):
            return int(at)
        return None

    def uses(self) -> list[Use]:
        """What the parts that are there serve, in the order of the plan."""
        parts = (
            (name, self.known_as[name])
            for name in self.mat.uses
            if name in self.known_as
        )
        return [
            Use(
                part=here,
                for_=self.mat.uses[name].for_,
                turned=self.mat.uses[name].turned,
            )
            for name, here in parts
        ]
