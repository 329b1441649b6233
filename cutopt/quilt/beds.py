"""Beds: mattresses with where their sizes come from, how far a quilt hangs on each side, and the size that it needs.

A measured mattress beats a listed one. Sizes differ between makers and between countries, so a metric job has no names
for them: it is asked for a size.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from cutopt.errors import Problem
from cutopt.lengths import CM, INCH
from cutopt.quilt.cautions import COT_QUILT, PRACTICE
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import ZERO, Exact, Number, exact
from cutopt.quilt.top import Top

MEMORY: Final = f"{PRACTICE}; from memory"
CRIB: Final = "16 CFR 1219, the inside of a full-size crib"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mattress:
    """A usual mattress: width and length in ticks, where they come from, whether a baby sleeps on it."""

    name: str
    width: int
    length: int
    provenance: str = PRACTICE
    is_a_babys: bool = False
    metric: bool = False

    @property
    def size(self) -> tuple[int, int]:
        """Width and length in ticks."""
        return self.width, self.length


def _in_inches(
    name: str, width: int, length: Fraction | int, **more: object
) -> Mattress:
    long = int(length * INCH)
    return Mattress(name=name, width=width * INCH, length=long, **more)  # type: ignore[arg-type]


def _in_cm(name: str, width: int, length: int, *, is_a_babys: bool = False) -> Mattress:
    return Mattress(
        name=name,
        width=width * CM,
        length=length * CM,
        provenance=MEMORY,
        is_a_babys=is_a_babys,
        metric=True,
    )


_LISTED: Final = (
    _in_inches("twin", 38, 75),
    _in_inches("twin long", 38, 80),
    _in_inches("full", 53, 75),
    _in_inches("queen", 60, 80),
    _in_inches("king", 76, 80),
    _in_inches("western king", 72, 84),
    _in_inches("hospital bed", 36, 80, provenance=MEMORY),
    _in_inches("crib", 28, Fraction(419, 8), provenance=CRIB, is_a_babys=True),
    _in_cm("cot", 60, 120, is_a_babys=True),
    _in_cm("cot bed", 70, 140, is_a_babys=True),
)
MATTRESSES: Final = {each.name: each for each in _LISTED}
"""By name. Of those in inches pages differ by 1 to 2 in (common practice, no source)."""

METRIC: Final = (
    (90, 190),
    (90, 200),
    (120, 200),
    (140, 200),
    (160, 200),
    (180, 200),
)
"""Usual mattresses in centimetres: common practice, no source; from memory."""


def mattress(name: str, how: Conventions = DEFAULT) -> Mattress:
    """A usual mattress by its name; measured beats listed.

    Raises
    ------
    Problem
        Where none is known by that name, or the name means another size in another country.
    """
    found = MATTRESSES.get(name)
    if found is None:
        raise Problem(
            "bed",
            f'"{name}" is no bed known here',
            f"write its size, such as {_like(how)}, or one of: {', '.join(_names(how))}",
        )
    if how.unit == "cm" and not found.metric:
        raise Problem(
            "bed",
            f'"{name}" is not the same size in every country',
            f"measure the mattress and write its size, such as {_like(how)}",
        )
    return found


def _like(how: Conventions) -> str:
    if how.unit == "cm":
        return "90 x 200, drop 30"
    return "60 x 80, drop 12"


def _names(how: Conventions) -> Iterator[str]:
    """Names that have a meaning in the unit of a job."""
    return (each.name for each in _LISTED if how.unit == "in" or each.metric)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drops:
    """How far a quilt hangs from the top of the mattress at each side, in ticks: nothing at the head unless told."""

    left: Exact
    right: Exact
    foot: Exact
    head: Exact = ZERO

    def __post_init__(self) -> None:
        for side in ("left", "right", "foot", "head"):
            if getattr(self, side) < 0:
                raise Problem(side, "it is below 0", "write a length, 0 or more")

    @classmethod
    def all_round(cls, drop: Exact) -> Drops:
        """The same on the left, on the right and at the foot."""
        return cls(left=drop, right=drop, foot=drop)

    @property
    def is_even(self) -> bool:
        """Whether it hangs as far at the foot as on both sides, and not at the head."""
        return self.left == self.right == self.foot and not self.head


def below_mattress(depth: Number, below: Number = 0) -> Exact:
    """The drop that ends so far below a mattress of this depth."""
    return exact(depth) + below


def to_floor(height: Number, above: Number = 0) -> Exact:
    """The drop from the top of a mattress at this height that ends so far above the floor.

    Raises
    ------
    Problem
        Where the bed is lower than that.
    """
    drop = exact(height) - above
    if drop < 0:
        raise Problem(
            "height",
            "the bed is lower than the quilt is to end above the floor",
            "measure from the floor to the top of the mattress",
        )
    return drop


def bed_quilt(
    bed: tuple[Length, Length],
    drop: Length | Drops,
    tuck: Length = "0",
    how: Conventions = DEFAULT,
) -> tuple[Exact, Exact, str]:
    """A quilt for a bed: width + both sides; length + foot + head + the tuck under the pillow (0, or 8 to 15 in).

    Parameters
    ----------
    bed : width and length of the mattress
    drop : from its edge down, all round but at the head; or each side
    tuck : under the pillow
    how : the unit
    """
    w = how.read(bed[0])
    h = how.read(bed[1])
    t = how.read(tuck, "tuck")
    if isinstance(drop, Drops):
        hangs = drop
    else:
        hangs = Drops.all_round(how.read(drop, "drop"))
    width = w + hangs.left + hangs.right
    length = h + hangs.foot + hangs.head + t
    across = _sum([w], width, how, hangs)
    along = _sum([h, hangs.foot, hangs.head, t], length, how)
    return width, length, f"{across}; {along}"


def _sum(
    parts: list[Exact], total: Exact, how: Conventions, sides: Drops | None = None
) -> str:
    """``60 + 2 x 12 = 84``; parts of nothing are left out."""
    first, *rest = parts
    told = [how.show(first)]
    if sides is not None and sides.left == sides.right and sides.left:
        told.append(f"2 x {how.show(sides.left)}")
    elif sides is not None:
        rest = [sides.left, sides.right]
    told += [how.show(part) for part in rest if part]
    if len(told) == 1:
        return told[0]
    return f"{' + '.join(told)} = {how.show(total)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bed:
    """A bed, and the quilt that it wants: finished width and length, and the sums.

    Parameters
    ----------
    size : of the mattress, ticks
    drops : how far the quilt is to hang
    tuck : under the pillow
    width, length : of the quilt
    why : the sums
    depth : of the mattress, None where it is not known
    height : of its top above the floor, None where it is not known
    listed : the mattress that was named, None where it was measured
    """

    size: tuple[Exact, Exact]
    drops: Drops
    tuck: Exact
    width: Exact
    length: Exact
    why: str
    depth: Exact | None = None
    height: Exact | None = None
    listed: Mattress | None = None

    def remarks(self, top: Top, how: Conventions) -> tuple[str, ...]:
        """How a quilt of the size of this top lies on the bed."""
        return tuple(self._told(top, how))

    def _told(self, top: Top, how: Conventions) -> Iterator[str]:
        wide, long = top.size("trimmed", how)
        yield f"for this bed: {self.why}"
        if self.listed is not None:
            yield from _of_the_list(self.listed, how)
        over = wide - self.size[0]
        size = how.size(wide, long, how.near)
        if over < 0:
            yield f"a quilt of {size} does not cover the bed in its width"
            return
        sides, told = self._sides(over, how)
        foot = sides[0] if self.drops.is_even else self.drops.foot
        yield f"bound, {size}, it hangs {told}; {self._foot(long, foot, how)}"
        lowest = max(*sides, foot)
        yield from self._mattress_covered(sides, how)
        yield from self._floor(lowest, how)

    def _sides(self, over: Exact, how: Conventions) -> tuple[tuple[Exact, Exact], str]:
        """How far it hangs on the left and on the right: what is too much or too little is shared."""
        more = (over - self.drops.left - self.drops.right) / 2
        left = self.drops.left + more
        right = self.drops.right + more
        if left == right:
            return (left, right), f"{how.near(left)} on each side"
        if min(left, right) < 0:
            # laid to the edge of the mattress where less was wanted
            left = ZERO if left < right else over
            right = over - left
        told = f"{how.near(left)} on the left, {how.near(right)} on the right"
        return (left, right), told

    def _foot(self, long: Exact, foot: Exact, how: Conventions) -> str:
        """What is left at the pillow once it hangs as it should at the foot."""
        head = self.drops.head
        more = long - self.size[1] - foot - head
        if self.drops.is_even:
            hung = "with as much at the foot"
        elif foot:
            hung = f"with {how.near(foot)} at the foot"
        else:
            hung = "with nothing at the foot"
        if head:
            hung += f" and {how.near(head)} at the head"
        if more >= 0:
            return f"{hung} {how.near(more)} is left to tuck under the pillow"
        return f"{hung} it is {how.near(-more)} short"

    def _mattress_covered(
        self, sides: tuple[Exact, Exact], how: Conventions
    ) -> Iterator[str]:
        """Whether the sides of the mattress are seen; of sides where nothing was to hang nothing is told."""
        if self.depth is None:
            return
        wanted = (self.drops.left, self.drops.right)
        hanging = [
            side for side, asked in zip(sides, wanted, strict=True) if asked or side > 0
        ]
        if not hanging:
            return
        least = min(hanging)
        deep = how.show(self.depth)
        if least < self.depth:
            yield f"it covers {how.near(least)} of the {deep} that the mattress is deep"
        elif least == self.depth:
            yield f"it ends where the mattress ends, which is {deep} deep"
        else:
            below = how.near(least - self.depth)
            yield f"it ends {below} below the mattress, which is {deep} deep"

    def _floor(self, lowest: Exact, how: Conventions) -> Iterator[str]:
        """How near it comes to the floor, where feet and wheels are."""
        if self.height is None:
            return
        above = self.height - lowest
        if above > 0:
            yield f"it ends {how.near(above)} above the floor"
        elif above == 0:
            yield f"it just reaches the floor: {_TRIPS}"
        else:
            yield f"{how.near(-above)} of it lies on the floor: {_TRIPS}"


_TRIPS: Final = "keep it clear of feet and wheels"


def _of_the_list(listed: Mattress, how: Conventions) -> Iterator[str]:
    """That a listed size is no measured one, and for whom it is not."""
    size = how.size(*listed.size, how.near)
    yield f"{listed.name}, {size} ({listed.provenance}): measure yours"
    if listed.is_a_babys:
        yield COT_QUILT


def drop_of(quilt: Number, bed: Number) -> Exact:
    """How far a quilt of this width hangs on each side."""
    return (exact(quilt) - bed) / 2


__all__ = [
    "MATTRESSES",
    "METRIC",
    "Bed",
    "Drops",
    "Mattress",
    "bed_quilt",
    "below_mattress",
    "drop_of",
    "mattress",
    "to_floor",
]
