"""A make-up: the parts of a back and the seams that join them, two by two, exact to the tick."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from cutopt.geometry import Axis


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothPart:
    """A part cut from a fabric, `width` across the back and `length` up, as cut; ticks."""

    fabric: str
    width: int
    length: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockPart:
    """A spare block of a kind, so large as it is sewn in; ticks."""

    block: str
    width: int
    length: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Sewn:
    """Two parts of a back sewn together: `b` to the right of `a` ("x"), or above it ("y")."""

    a: Node
    b: Node
    along: Axis
    seam: int

    @property
    def width(self) -> int:
        """Across the back, ticks."""
        if self.along == "x":
            return self.a.width + self.b.width - 2 * self.seam
        return self.a.width

    @property
    def length(self) -> int:
        """Up the back, ticks."""
        if self.along == "y":
            return self.a.length + self.b.length - 2 * self.seam
        return self.a.length


Node: TypeAlias = ClothPart | BlockPart | Sewn


def leaves(node: Node) -> Iterator[ClothPart | BlockPart]:
    """The parts and blocks of a make-up, from the left and from below."""
    if isinstance(node, Sewn):
        yield from leaves(node.a)
        yield from leaves(node.b)
    else:
        yield node


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """Where a part was found: on copy `copy` of a piece of the pile, or on what is bought of the fabric `bought`.

    `x` and `y` are the tick of its lower left corner in the frame of the cloth; `turned` where its width runs along
    the selvage.
    """

    part: ClothPart
    x: int
    y: int
    turned: bool
    piece: str = ""
    bought: str = ""
    by_piece: bool = False
    copy: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class MakeUp:
    """One way to piece a back.

    Parameters
    ----------
    root : Node
        All of it.
    laid : tuple of Laid
        Where its parts were found.
    cost : int
        What the search for trees expects it to cost (hundredths of money, or ticks of length).
    worth : int
        What the search makes small: money, parts and what is liked less, in 1/64 of a part.
    """

    root: Node
    laid: tuple[Laid, ...]
    cost: int
    worth: int

    @property
    def parts(self) -> int:
        """Parts and blocks; there is one seam less."""
        return sum(1 for _ in leaves(self.root))

    @property
    def is_bought_whole(self) -> bool:
        """Whether nothing of the pile is in it."""
        cloth = all(laid.bought for laid in self.laid)
        return cloth and len(self.laid) == self.parts

    @property
    def largest(self) -> Laid | None:
        """Where its largest part of cloth lies; None for blocks alone."""
        return max(
            self.laid,
            key=lambda laid: laid.part.width * laid.part.length,
            default=None,
        )
