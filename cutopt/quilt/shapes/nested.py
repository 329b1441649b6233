"""How shapes of one kind lie side by side in a strip that is as high as they are.

Two sides of a shape lie on the long edges of its strip; its slanted sides are met by those of its neighbours, so
that nothing is lost but at the two ends. All numbers are exact (arithmetic identities).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from cutopt.quilt.surds import Exact, Number, exact

Corner: TypeAlias = tuple[Exact, Exact]
Outline: TypeAlias = tuple[Corner, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Nested:
    """Shapes in a strip: the first takes `each` + `more` of its length, every other one `each`.

    Parameters
    ----------
    height : of the strip as cut, ticks
    each, more : of the length of the strip, ticks
    corners : of the first shape, seams included, from the lower left corner of the strip
    turns : whether every other one lies upside down
    """

    height: Exact
    each: Exact
    more: Exact
    corners: Outline
    turns: bool = False

    @property
    def box(self) -> tuple[Exact, Exact]:
        """Width and height of one shape, over its corners."""
        return self.each + self.more, self.height

    def length(self, count: int) -> Exact:
        """Length of a strip that holds so many: `count` x each + more."""
        return count * self.each + self.more

    def fit_in(self, room: Number) -> int:
        """How many lie in a strip of that length, 0 where none does."""
        return max(0, ((exact(room) - self.more) / self.each).__floor__())

    def outlines(self, count: int) -> tuple[Outline, ...]:
        """Corners of so many shapes as they lie in their strip."""
        return tuple(self._outline(number) for number in range(count))

    def _outline(self, number: int) -> Outline:
        at = number * self.each
        wide, high = self.box
        if self.turns and number % 2:
            return tuple((at + wide - x, high - y) for x, y in self.corners)
        return tuple((at + x, y) for x, y in self.corners)


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A wanted row (its key, as a plan names it) each rectangle of which holds `count` parts that are cut by hand.

    So it serves in one piece only, and no smaller.
    """

    row: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid(Held):
    """Shapes in a strip, and how long it is as cut."""

    shape: Nested
    long: int


def trapezoid(
    height: Number, wide: Number, narrow: Number, *, alike: bool = False
) -> Nested:
    """Shapes with two even slanted sides: by turns upright and upside down they take their mean width each.

    k of them take k (B + b) / 2 + (B - b) / 2: the slanted sides of neighbours meet, and one slope is left over at
    an end. A triangle is one with b = 0: (k + 1) B / 2.

    Parameters
    ----------
    height : as cut
    wide, narrow : its long and its short edge as cut, B and b
    alike : all stand the same way, as a print does that has a top: then each takes B
    """
    high = exact(height)
    long = exact(wide)
    short = exact(narrow)
    slope = (long - short) / 2
    corners = [(exact(0), exact(0)), (long, exact(0)), (long - slope, high)]
    if short:
        corners.append((slope, high))
    if alike:
        return Nested(height=high, each=long, more=exact(0), corners=tuple(corners))
    return Nested(
        height=high,
        each=(long + short) / 2,
        more=slope,
        corners=tuple(corners),
        turns=True,
    )


def slanted(height: Number, side: Number, lean: Number) -> Nested:
    """Diamonds: each takes a side, and one slope is left over at the end: k a + lean.

    Parameters
    ----------
    height : as cut
    side : on the edge of the strip, as cut
    lean : how far its upper side lies beside the lower one
    """
    high = exact(height)
    long = exact(side)
    over = exact(lean)
    corners = (
        (exact(0), exact(0)),
        (long, exact(0)),
        (long + over, high),
        (over, high),
    )
    return Nested(height=high, each=long, more=over, corners=corners)


__all__ = ["Corner", "Held", "Laid", "Nested", "Outline", "slanted", "trapezoid"]
