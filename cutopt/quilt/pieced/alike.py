"""Which patches of a block are cut alike: one wanted row for all of them, or one for each cloth of a unit."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final, Literal, TypeAlias

from cutopt.quilt.pieced.panel import Panel
from cutopt.quilt.pieced.unit import Kind, Point, Size, Unit
from cutopt.quilt.wanted_parts import ClothLike, cloth

# a group with the place of a patch among its rows, and the corners of the patch
Member: TypeAlias = "tuple[Alike, int, tuple[Point, ...]]"
# whichever of their two cloths comes first, turned they are the same
_EITHER_WAY: Final = ("half-square triangle", "hourglass")


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """Units of one kind and size from the same cloths, or patches, or corners that are sewn over.

    `size` is finished, in ticks; `lies` is that of the first of them, as it lies in the block; `word` its word.
    """

    kind: Kind | Literal["corner"]
    size: tuple[Size, Size]
    slots: tuple[int, ...]
    lies: tuple[Size, Size] = field(compare=False)
    word: str = field(compare=False, default="")

    @property
    def is_one_patch(self) -> bool:
        """Whether each is a patch, and no unit of several."""
        return self.kind in ("patch", "corner")


def members(block: Panel, cloths: Sequence[ClothLike]) -> Iterator[Member]:
    """Every patch of a block with what it is cut alike with, in the order of the rows."""
    for unit, shapes in block.laid():
        for which, corners in shapes:
            group, place = _group(unit, which, cloths)
            yield group, place, corners


def how_many_each(block: Panel, cloths: Sequence[ClothLike]) -> dict[Alike, int]:
    """How many of each a block has: patches, and units of several patches."""
    found: Counter[Alike] = Counter()
    for unit, shapes in block.laid():
        own = Counter(_group(unit, which, cloths)[0] for which, _ in shapes)
        for group, patches in own.items():
            if group.is_one_patch:
                found[group] += patches
            else:
                found[group] += 1
    return dict(found)


def _group(unit: Unit, which: int, cloths: Sequence[ClothLike]) -> tuple[Alike, int]:
    """What a patch of a unit is cut alike with, and which of its rows it is of."""
    if unit.kind == "patch" or (unit.kind == "sewn-over corners" and not which):
        return _patch(unit, cloths), 0
    if unit.kind == "sewn-over corners":
        sides = (unit.corner, unit.corner)
        slots = unit.slots[1:]
        return Alike(kind="corner", size=sides, slots=slots, lies=sides), 0
    slots = unit.slots
    size = (unit.width, unit.length)
    if unit.kind in _EITHER_WAY and slots[0] > slots[1]:
        slots = slots[::-1]
        which = 1 - which
    group = Alike(kind=unit.kind, size=size, slots=slots, lies=size, word=unit.word)
    return group, which


def _patch(unit: Unit, cloths: Sequence[ClothLike]) -> Alike:
    """A patch; one that lies down is the same as one that stands, but where its cloth has a direction."""
    lies = unit.lies
    chosen = cloth(cloths[unit.slots[0]])
    if chosen.upright or chosen.grain != "any":
        size = lies
    else:
        size = (min(lies), max(lies))
    return Alike(
        kind="patch", size=size, slots=unit.slots[:1], lies=lies, word=unit.word
    )
