"""How blocks are set, and the borders round them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutopt.quilt import block_settings as setting_sums
from cutopt.quilt.borders import border as border_sums
from cutopt.quilt.conventions import Conventions, Length
from cutopt.quilt.surds import Exact, exact
from cutopt.quilt.wanted_parts import ClothLike, Made


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
        if self.of:
            first = self.of[0]
        else:
            first = None
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
    """A border round a size, with its own kind of corners where one is named.

    Parameters
    ----------
    inside : finished width and length, ticks
    width : finished width of the border
    of, corners : its cloth, and that of its corner squares
    how : seam, and how borders are made where nothing is said
    name : of its rows
    corner, cut : how this one is made, empty for what is usual
    """
    # words that are none of a convention are refused by the conventions themselves
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
