"""A block of a recipe, and a patch of it: what they need, and how they look.

Corners of patches are shares of the finished block, 0 to 1 from its lower left corner, exactly. They are for drawing, and
for the proof that the patches of a block fill it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TypeAlias

from cutopt.errors import Problem
from cutopt.quilt import block_sums
from cutopt.quilt.recipe.fill import Share, does_not_fill
from cutopt.quilt.surds import Exact
from cutopt.quilt.wanted_parts import ClothLike, Made
from cutopt.wanted import Wanted

Cloths: TypeAlias = tuple[ClothLike, ...]
At: TypeAlias = Fraction | float


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """A patch of a block or of a quilt: the key of the wanted row that gives it, and its corners."""

    row: str
    corners: tuple[Share, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """`count` blocks alike: their rows and size (`made`), and the patches of one; without patches none is set.

    Patches fill the block, or there are none. `turns` says how the blocks are turned where they are set.
    """

    name: str
    count: int
    made: Made
    patches: tuple[Patch, ...] = ()
    turns: block_sums.Turns | None = None

    def __post_init__(self) -> None:
        """Patches that leave a gap, or lie upon each other, are no block."""
        wrong = does_not_fill([patch.corners for patch in self.patches])
        if self.patches and wrong:
            what = f"the patches of {self.name} do not fill the block: {wrong}"
            mend = (
                "make the sizes of its rows add up (finished sizes, seams not counted)"
            )
            raise Problem("blocks", what, mend)

    @property
    def size(self) -> tuple[Exact, Exact]:
        """Finished width and length."""
        return self.made.width, self.made.length

    def renamed(self, names: Sequence[str]) -> Block:
        """The same with other names for its rows, in order; as many as there are rows.

        Raises
        ------
        Problem
            Where there are more or fewer names than rows.
        """
        rows = self.made.wanted
        if len(names) != len(rows):
            have = " and ".join(row.name for row in rows)
            what = f"{len(names)} names are given for {len(rows)} kinds of patches ({have})"
            raise Problem(
                "blocks",
                what,
                "give one name for the block, or one for each kind of patch",
            )
        new = tuple(_named(row, name) for row, name in zip(rows, names, strict=True))
        keys = {old.key: now.key for old, now in zip(rows, new, strict=True)}
        patches = tuple(replace(patch, row=keys[patch.row]) for patch in self.patches)
        held = tuple(replace(each, row=keys[each.row]) for each in self.made.held)
        made = replace(self.made, wanted=new, held=held)
        return replace(self, made=made, patches=patches)


def _named(row: Wanted, name: str) -> Wanted:
    return replace(row, name=name)


def box(x1: At, y1: At, x2: At, y2: At) -> tuple[Share, ...]:
    """Corners of an upright rectangle.

    Parameters
    ----------
    x1, y1 : lower left corner
    x2, y2 : upper right corner
    """
    return (x1, y1), (x2, y1), (x2, y2), (x1, y2)
