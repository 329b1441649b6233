"""A pieced back as it is sewn: its parts with their letters and places, and its seams one after the other.

All lengths are ticks. Places are those of the back as it hangs: x runs across it, y from its foot up, from the lower
left corner of what is sewn, raw edges included.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final, TypeAlias

from cutopt.back_letters import lettered, seams_of
from cutopt.cloth import laid
from cutopt.errors import Problem
from cutopt.geometry import Number, bounds
from cutopt.job import Job
from cutopt.piecing import Back, SpareBlock
from cutopt.plan import Plan, Seam, Side, Source

Ends: TypeAlias = tuple[tuple[Number, Number], tuple[Number, Number]]
Box: TypeAlias = tuple[Number, Number, Number, Number]
_DARKNESS: Final = {"light": 0, "medium": 1, "dark": 2}
_OPPOSITE: Final[dict[Side, Side]] = {
    "left": "right",
    "right": "left",
    "below": "above",
    "above": "below",
}
# a block is seams all over: whatever it is sewn to is pressed flat more easily
_SEAMS_OF_A_BLOCK: Final = 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class LetteredPart:
    """A part of a back: cloth that is cut for it, or a spare block.

    Parameters
    ----------
    letter : str
        A, B, C, ... in the order of sewing.
    name : str
        How the plan names it: ``S4.1``, or ``blocks/star/3``.
    fabric : str
        "" for a block.
    source : Source or None
        The cloth that it is cut from; None for a block.
    block : SpareBlock or None
    number : int
        Which of the blocks of its kind, from 1; 0 for cloth.
    turned : bool
        Whether its width across the back runs along the selvage.
    width, height : int or Fraction
        As it is sewn in, seams included, as it hangs.
    box : x, y, width, height
        What of it is seen in the back; at an outer edge the raw edge is.
    coping : bool
        Whether it only brings blocks to a size that fits.
    """

    letter: str
    name: str
    fabric: str = ""
    source: Source | None = None
    block: SpareBlock | None = None
    number: int = 0
    turned: bool = False
    width: Number
    height: Number
    box: Box
    coping: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Portion:
    """What is sewn at a seam: one part, or what an earlier `seam` gave; the `letters` of all parts in it."""

    letters: tuple[str, ...]
    width: Number
    height: Number
    seam: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SewingStep:
    """One seam of a back.

    Parameters
    ----------
    n : int
        Its number in the plan.
    one, other : Portion
        `other` is sewn to the `side` of `one`.
    side : {"left", "right", "below", "above"}
    length : int or Fraction
        Of the sides that are sewn together, raw edges included.
    seam : int
        Its allowance.
    press : Portion
        That of both to which the seam is pressed: with fewer seams along it, else the darker, else the larger
        (common practice, no source).
    width, height : int or Fraction
        What should be measured afterwards.
    line : pair of points
        Where the seam lies in the back.
    """

    n: int
    one: Portion
    other: Portion
    side: Side
    length: Number
    seam: int
    press: Portion
    width: Number
    height: Number
    line: Ends


@dataclass(frozen=True, slots=True, kw_only=True)
class SewnBack:
    """A back of a plan: `width` by `height` as sewn, which is the size asked for or more."""

    back: Back
    width: Number
    height: Number
    parts: tuple[LetteredPart, ...]
    steps: tuple[SewingStep, ...]

    @property
    def blocks(self) -> tuple[LetteredPart, ...]:
        """The spare blocks in it."""
        return tuple(part for part in self.parts if part.block is not None)

    @property
    def trimmed(self) -> Box:
        """Where the quilt lies on it, once the overage is cut off: x, y, width, height."""
        overage = self.back.rules.overage
        wide = self.back.width - 2 * overage
        high = self.back.length - 2 * overage
        x = overage + Fraction(self.width - self.back.width) / 2
        y = overage + Fraction(self.height - self.back.length) / 2
        return x, y, wide, high


@dataclass(slots=True, kw_only=True)
class _Sewn:
    """A part, or parts sewn together, while a back is put together."""

    width: Number
    height: Number
    names: tuple[str, ...]
    seam: Seam | None = None
    one: _Sewn | None = None
    other: _Sewn | None = None

    def side(self, side: Side) -> Number:
        """How long a side is."""
        if side in ("left", "right"):
            return self.height
        return self.width

    def along(self, side: Side) -> tuple[str, ...]:
        """The parts that lie along a side."""
        if self.seam is None or self.one is None or self.other is None:
            return self.names
        if self.seam.side == side:
            return self.other.along(side)
        if _OPPOSITE[self.seam.side] == side:
            return self.one.along(side)
        return (*self.one.along(side), *self.other.along(side))


def sewn_backs(job: Job, plan: Plan) -> tuple[SewnBack, ...]:
    """The backs that a plan gives, in the order of the job.

    Raises
    ------
    Problem
        Where a seam joins sides of different lengths, or a back does not come together.
    """
    found = (
        _Making(job, plan, back).sewn() for back in job.backs if _is_made(back, plan)
    )
    return tuple(found)


def _is_made(back: Back, plan: Plan) -> bool:
    return bool(seams_of(back.name, plan)) or any(
        use.for_ == back.key for use in plan.uses
    )


@dataclass(slots=True)
class _Making:
    """One back on its way from parts to seams."""

    job: Job
    plan: Plan
    back: Back
    ready: dict[str, _Sewn] = field(default_factory=dict)
    letters: dict[str, str] = field(default_factory=dict)
    boxes: dict[str, Box] = field(default_factory=dict)
    lines: dict[int, Ends] = field(default_factory=dict)
    coping: set[str] = field(default_factory=set)

    def sewn(self) -> SewnBack:
        """The whole of it."""
        for name, key in lettered(self.plan).items():
            _, mark, of = key.split("/", 2)
            if of == self.back.name:
                self.letters[name] = mark
                width, height = self._size(name)
                self.ready[name] = _Sewn(width=width, height=height, names=(name,))
        seams = seams_of(self.back.name, self.plan)
        steps = [(seam, *self._join(seam)) for seam in seams]
        if len(self.ready) != 1:
            what = f"{self.back.name} does not come together in one"
            raise Problem("seams", what, "sew every part and block into it once")
        (root,) = self.ready.values()
        self._place(root, (0, 0), dict.fromkeys(_OPPOSITE, 0))
        return SewnBack(
            back=self.back,
            width=root.width,
            height=root.height,
            parts=tuple(map(self._part, self.letters)),
            steps=tuple(self._step(*each) for each in steps),
        )

    def _size(self, name: str) -> tuple[Number, Number]:
        """Width and height of a part as it hangs, seams included."""
        block = _block_of(self.job, name)
        if block is not None:
            trims = (trim for trim in self.plan.trims if trim.block == name)
            trim = next(trims, None)
            if trim is None:
                return block.width, block.length
            return trim.width, trim.length
        x1, y1, x2, y2 = bounds(laid(self.job, self.plan).parts[name])
        if self._is_turned(name):
            return y2 - y1, x2 - x1
        return x2 - x1, y2 - y1

    def _is_turned(self, name: str) -> bool:
        return any(use.turned for use in self.plan.uses if use.part == name)

    def _join(self, seam: Seam) -> tuple[_Sewn, _Sewn, _Sewn]:
        """Both that a seam joins, and what it gives."""
        if seam.a == seam.b or not {seam.a, seam.b} <= self.ready.keys():
            what = f"seam {seam.n} takes up what is not there, or no longer"
            raise Problem(
                "seams", what, "sew parts, blocks and what earlier seams gave"
            )
        one, other = self.ready.pop(seam.a), self.ready.pop(seam.b)
        if one.side(seam.side) != other.side(seam.side):
            what = f"seam {seam.n} joins sides of different lengths"
            raise Problem("seams", what, "trim the longer one in the plan")
        width, height = one.width, one.height
        if seam.side in ("left", "right"):
            width = width + other.width - 2 * seam.seam
        else:
            height = height + other.height - 2 * seam.seam
        self._note_coping(seam, one, other)
        given = _Sewn(
            width=width,
            height=height,
            names=(*one.names, *other.names),
            seam=seam,
            one=one,
            other=other,
        )
        self.ready[seam.gives] = given
        return one, other, given

    def _note_coping(self, seam: Seam, one: _Sewn, other: _Sewn) -> None:
        """A strip narrower than the blocks, sewn to nothing but blocks and such strips, is coping."""
        upright = seam.side in ("left", "right")
        for strip, rest in ((one, other), (other, one)):
            blocks = [self._size(name) for name in rest.names if self._is_block(name)]
            plain = {n for n in rest.names if not self._is_block(n)} - self.coping
            if len(strip.names) > 1 or not blocks or plain:
                continue
            wide = strip.width if upright else strip.height
            if not self._is_block(strip.names[0]) and wide < min(map(min, blocks)):
                self.coping.add(strip.names[0])

    def _is_block(self, name: str) -> bool:
        return _block_of(self.job, name) is not None

    def _place(
        self, sewn: _Sewn, corner: tuple[Number, Number], taken: Mapping[Side, Number]
    ) -> None:
        """Note where all of it is seen; `taken` is what the seams round it take off each side."""
        x, y = corner
        wide = sewn.width - taken["left"] - taken["right"]
        high = sewn.height - taken["below"] - taken["above"]
        seam = sewn.seam
        if seam is None or sewn.one is None or sewn.other is None:
            self.boxes[sewn.names[0]] = (x, y, wide, high)
            return
        low, top = sewn.one, sewn.other
        if seam.side in ("left", "below"):
            low, top = top, low
        if seam.side in ("left", "right"):
            at = x + low.width - taken["left"] - seam.seam
            self.lines[seam.n] = ((at, y), (at, y + high))
            self._place(low, corner, {**taken, "right": seam.seam})
            self._place(top, (at, y), {**taken, "left": seam.seam})
        else:
            at = y + low.height - taken["below"] - seam.seam
            self.lines[seam.n] = ((x, at), (x + wide, at))
            self._place(low, corner, {**taken, "above": seam.seam})
            self._place(top, (x, at), {**taken, "below": seam.seam})

    def _part(self, name: str) -> LetteredPart:
        block = _block_of(self.job, name)
        width, height = self._size(name)
        source = None
        fabric = ""
        if block is None:
            there = laid(self.job, self.plan)
            source = next(s for s in self.plan.sources if s.id == there.owner[name])
            fabric = there.cloth(name).fabric
        return LetteredPart(
            letter=self.letters[name],
            name=name,
            fabric=fabric,
            source=source,
            block=block,
            number=_number_of(name) if block is not None else 0,
            turned=self._is_turned(name),
            width=width,
            height=height,
            box=self.boxes[name],
            coping=name in self.coping,
        )

    def _step(self, seam: Seam, one: _Sewn, other: _Sewn, given: _Sewn) -> SewingStep:
        portions = self._portion(one), self._portion(other)
        sides = (one, seam.side), (other, _OPPOSITE[seam.side])
        flat = [self._presses(*side) for side in sides]
        return SewingStep(
            n=seam.n,
            one=portions[0],
            other=portions[1],
            side=seam.side,
            length=one.side(seam.side),
            seam=seam.seam,
            press=portions[int(flat[1] > flat[0])],
            width=given.width,
            height=given.height,
            line=self.lines[seam.n],
        )

    def _portion(self, sewn: _Sewn) -> Portion:
        return Portion(
            letters=tuple(self.letters[name] for name in sewn.names),
            width=sewn.width,
            height=sewn.height,
            seam=None if sewn.seam is None else sewn.seam.n,
        )

    def _presses(self, sewn: _Sewn, side: Side) -> tuple[int, int, Number]:
        """How readily a seam at a side is pressed to it: few seams along it, dark, large."""
        names = sewn.along(side)
        seams = sum(_SEAMS_OF_A_BLOCK for name in names if self._is_block(name))
        fabrics = {self._part(name).fabric for name in names}
        values = {self.job.fabric(name).value for name in fabrics if name}
        dark = min((_DARKNESS.get(value, 1) for value in values), default=1)
        return -seams - len(names), dark, sewn.width * sewn.height


def _block_of(job: Job, name: str) -> SpareBlock | None:
    """The kind of a spare block by its name in a plan; None for cloth."""
    key = name.rpartition("/")[0]
    return next((block for block in job.spare_blocks if block.key == key), None)


def _number_of(name: str) -> int:
    """Which block of its kind it is."""
    return int(name.rpartition("/")[2])


__all__ = [
    "LetteredPart",
    "Portion",
    "SewingStep",
    "SewnBack",
    "sewn_backs",
]
