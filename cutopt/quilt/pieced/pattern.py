"""A pattern on a grid: so many parts to a side, units of whole parts, of any size that a maker says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from cutopt.fabric import counted
from cutopt.quilt.block_sums import Turns
from cutopt.quilt.conventions import Conventions, Length
from cutopt.quilt.pieced.panel import Cell, Panel
from cutopt.quilt.pieced.sums import GeeseWays, Told, pieced
from cutopt.quilt.pieced.unit import Kind, Unit
from cutopt.quilt.recipe.block import Block, Cloths
from cutopt.quilt.surds import Exact, Number, ceil_to, exact
from cutopt.quilt.triangles import Ways
from cutopt.quilt.wanted_parts import ClothLike, cloth


@dataclass(frozen=True, slots=True, kw_only=True)
class Sewn:
    """How the triangles of a pattern are made."""

    halves: Ways = "two at a time"
    geese: GeeseWays = "no waste"


USUAL: Final = Sewn()


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """A traditional block: what one and many are called, its parts, and the words of its cloths in their order.

    `parts` is how many parts its side has: a size that divides by it leaves clean marks. `drawn` is the block in parts.
    `turns` says how it is turned where it is set.
    """

    one: str
    many: str
    parts: int
    cloths: tuple[str, ...]
    drawn: Panel
    turns: Turns | None = None

    @property
    def has_halves(self) -> bool:
        """Whether it has half-square triangles, which are made in several ways."""
        return _has(self.drawn, "half-square triangle")

    @property
    def has_geese(self) -> bool:
        """Whether it has flying geese, which are made in two ways."""
        return _has(self.drawn, "flying goose")

    def block(
        self,
        name: str,
        count: int,
        size: Length,
        of: Cloths,
        how: Conventions,
        sewn: Sewn = USUAL,
    ) -> Block:
        """So many of it.

        Parameters
        ----------
        name : of the rows
        count : how many blocks
        size : finished side
        of : its cloths; the last again where fewer are named
        how : seam and unit, and what is usual in it
        sewn : how its triangles are made
        """
        counted("count", count)
        side = how.read(size, "size")
        panel = self.drawn.scaled(side.plain / self.parts)
        told = Told(
            name=name,
            count=count,
            words=tuple(f"{name} {word}" for word in self.cloths),
            cloths=for_each(of, len(self.cloths)),
            how=how,
            halves=sewn.halves,
            geese=sewn.geese,
            side=side,
        )
        made = pieced(panel, told)
        notes = off_the_marks(made, panel, self.parts, how)
        return turned_where_set(made, self.turns, notes, told.cloths)


def for_each(of: Sequence[ClothLike], slots: int) -> tuple[ClothLike, ...]:
    """A cloth for each slot, the last again where fewer are named."""
    have = of or (None,)
    return tuple(have[min(slot, len(have) - 1)] for slot in range(slots))


def _has(panel: Panel, kind: Kind) -> bool:
    """Whether any unit of it is of a kind."""
    return any(unit.kind == kind for unit, _ in panel.laid())


def turned_where_set(
    block: Block, turns: Turns | None, notes: tuple[str, ...], of: Cloths
) -> Block:
    """The block with notes of its own, and with how it is turned.

    Parameters
    ----------
    block : as it is pieced
    turns : how it is turned where it is set
    notes : of the block
    of : its cloths
    """
    told = block.made.notes
    if turns and any(cloth(each).upright for each in of):
        told += (f"{block.name}: every other block is turned, and its print with it",)
    made = replace(block.made, notes=told + notes)
    return replace(block, made=made, turns=turns)


def off_the_marks(
    block: Block, panel: Panel, parts: int, how: Conventions
) -> tuple[str, ...]:
    """A note where the ruler has no mark for the patches: as cut they make a larger block, and sizes near that do not.

    Parameters
    ----------
    block : its name and size
    panel : its units, in ticks
    parts : along a side
    how : grid and ruler
    """
    side = block.made.width
    comes_to = max(_as_cut(panel, which, how) for which in (0, 1))
    if comes_to == side:
        return ()
    step = exact(how.grid * parts)
    above = ceil_to(side, step)
    good = " or ".join(how.show(each) for each in (above - step, above) if each > 0)
    note = (
        f"{block.name}: {parts} parts to a side, cut to the next mark of the ruler, make a block of {how.show(comes_to)}, "
        f"not {how.show(side)}: trim each block, or choose {good}"
    )
    return (note,)


def _as_cut(cell: Cell, which: int, how: Conventions) -> Exact:
    """How wide (0) or long (1) a cell comes to be where every patch is cut to a mark of the ruler."""
    if isinstance(cell, Unit):
        raw = exact(cell.lies[which]) + 2 * how.seam
        return exact(how.cut_size(raw)) - 2 * how.seam
    across = which if cell.turn % 2 == 0 else 1 - which

    def of_row(row: Sequence[Cell]) -> list[Exact]:
        return [_as_cut(each, across, how) for each in row]

    if across == 0:
        return max(_sum(of_row(row)) for row in cell.rows)
    return _sum([max(of_row(row)) for row in cell.rows])


def _sum(lengths: Sequence[Number]) -> Exact:
    return sum((exact(length) for length in lengths), start=exact(0))
