"""A whole quilt, from a finished top or a recipe: its wanted rows, its sizes, and a picture of it, patch by patch."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeAlias

from cutopt.quilt import block_settings as setting_sums
from cutopt.quilt.borders import border as border_sums
from cutopt.quilt.conventions import Conventions, Length
from cutopt.quilt.recipe.block_patches import Block, Patch
from cutopt.quilt.surds import Exact, exact
from cutopt.quilt.top import Needed, Top, backing_size, batting_size
from cutopt.quilt.wanted_parts import ClothLike, Made, Triangles
from cutopt.wanted import Wanted

Frame: TypeAlias = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """How blocks are set: places across and down, straight with or without sashing, or on point."""

    across: int
    down: int
    on_point: bool = False
    sashing: setting_sums.Sashing = "none"
    sash: Length = "0"
    cornerstones: bool = True
    of: tuple[ClothLike, ...] = ()

    @property
    def places(self) -> int:
        """How many blocks of one size it holds."""
        if self.on_point:
            return setting_sums.on_point_blocks(self.across, self.down)
        return self.across * self.down

    def made(self, block: tuple[Exact, Exact], how: Conventions) -> Made:
        """Sashing, cornerstones or setting triangles, and the size of the top."""
        first = self.of[0] if self.of else None
        if self.on_point:
            return setting_sums.on_point(block[0], self.across, self.down, first, how)
        of = first, self.of[1] if len(self.of) > 1 else first
        return setting_sums.straight(
            block,
            self.across,
            self.down,
            self.sash,
            self.sashing,
            self.cornerstones,
            of,
            how,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Border:
    """One border: finished width, its rows, and the size with it."""

    name: str
    width: Exact
    made: Made
    corners: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Quilt:
    """All that quilt.toml says, worked out.

    `finished` is the patchwork without its outer seams, None where only single parts are wanted; `use` and
    `label` are words; `backing` lists fabrics to back it with, None where nothing was said, and so does `batting`;
    `backing_upright` says that its print stands up; `unplaced` counts the blocks of one place that are left over.
    """

    how: Conventions
    wanted: tuple[Wanted, ...] = ()
    notes: tuple[str, ...] = ()
    spare: tuple[Triangles, ...] = ()
    blocks: tuple[Block, ...] = ()
    setting: Setting | None = None
    unplaced: int = 0
    borders: tuple[Border, ...] = ()
    top: Top | None = None
    inner: Made | None = None
    use: str = ""
    label: str = ""
    backing: tuple[str, ...] | None = None
    backing_upright: bool = False
    batting: tuple[str, ...] | None = None
    binding: str = ""

    @property
    def finished(self) -> tuple[Exact, Exact] | None:
        """Width and length of the patchwork, seams at its edge not counted."""
        return None if self.top is None else self.top.size("finished", self.how)

    @property
    def backing_size(self) -> Needed | None:
        """What a backing has to reach."""
        return None if self.top is None else backing_size(self.top, self.how)

    @property
    def batting_size(self) -> Needed | None:
        """What batting has to reach."""
        return None if self.top is None else batting_size(self.top, self.how)

    def patches(self) -> tuple[Patch, ...]:
        """Every patch of the top, in units of ticks from the lower left corner of the finished quilt."""
        from cutopt.quilt.recipe.layout import patches_of  # a layout is that of a quilt

        return (
            tuple(patches_of(self))
            if self.setting is not None and self.inner is not None
            else ()
        )


def bordered(
    inside: tuple[Exact, Exact],
    width: Length,
    of: ClothLike,
    how: Conventions,
    name: str,
    corners: ClothLike = None,
    corner: str = "",
    cut: str = "",
) -> Border:
    """A border round a size, with its own kind of corners where one is named."""
    told = replace(
        how,
        border_corner=corner or how.border_corner,  # type: ignore[arg-type]
        border_cut=cut or how.border_cut,  # type: ignore[arg-type]
    )
    made = border_sums(inside, width, of, told, name, corners)
    return Border(
        name=name,
        width=exact(how.read(width, "width")),
        made=made,
        corners=told.border_corner,
    )
