"""How blocks are set, and the borders round them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from cutopt.quilt import on_point as point_sums
from cutopt.quilt.block_settings import straight
from cutopt.quilt.borders import border as border_sums
from cutopt.quilt.borders import flange as flange_sums
from cutopt.quilt.conventions import Conventions, Length
from cutopt.quilt.pieced_borders import Pieces, evening, least_coping, pieced_border
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.recipe.block_patches import plain
from cutopt.quilt.sashes import Sashes
from cutopt.quilt.shapes.stripes import striped_border
from cutopt.quilt.surds import ZERO, Exact, ceil_to, exact
from cutopt.quilt.wanted_parts import ClothLike, Made

_PLAIN: Final = "plain block"


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """How blocks are set: places across and down, straight or on point, with or without sashing.

    `triangles` and `corners` are the cloths of the triangles round blocks on point; without corners both are one.
    Where it `alternates`, every other block is a `plain` square of that cloth.
    `turned` is a name of how the blocks are turned, which changes nothing of what is cut.
    """

    across: int
    down: int
    on_point: bool = False
    sashes: Sashes | None = None
    triangles: ClothLike = None
    corners: ClothLike = None
    alternates: bool = False
    plain: ClothLike = None
    turned: str = ""

    @property
    def plain_places(self) -> int:
        """How many places have a plain square: the inner ones on point, every other one else; corners have none."""
        if not self.alternates:
            return 0
        if self.on_point:
            return (self.across - 1) * (self.down - 1)
        return self.across * self.down // 2

    def plain_block(self, size: tuple[Exact, Exact], how: Conventions) -> Block | None:
        """The plain squares between the blocks, None where there are none.

        Parameters
        ----------
        size : finished width and length of a block, ticks
        how : seam and unit
        """
        if not self.plain_places:
            return None
        return plain(_PLAIN, self.plain_places, size, (self.plain,), how)

    @property
    def places(self) -> int:
        """How many blocks of one size it holds."""
        if self.on_point:
            return point_sums.on_point_blocks(self.across, self.down)
        return self.across * self.down

    @property
    def framed(self) -> bool:
        """Whether sashing goes round the blocks too."""
        return self.sashes is not None and (self.sashes.framed or self.on_point)

    def sash(self, how: Conventions) -> Exact:
        """Finished width of the sashing, 0 where there is none."""
        if self.sashes is None:
            return ZERO
        return self.sashes.width(how)

    def sash_between(self, how: Conventions) -> tuple[Exact, Exact]:
        """Finished width of the sashing between columns, and between rows."""
        sash = self.sash(how)
        way = "both"
        if self.sashes is not None and not self.on_point:
            way = self.sashes.way(self.across, self.down)
        if way == "columns":
            return sash, ZERO
        if way == "rows":
            return ZERO, sash
        return sash, sash

    def made(self, block: tuple[Exact, Exact], how: Conventions) -> Made:
        """Sashing, cornerstones or setting triangles, and the size of the top."""
        if not self.on_point:
            return straight(block, self.across, self.down, self.sashes, how)
        return point_sums.on_point(
            block[0],
            self.across,
            self.down,
            self.triangles,
            how,
            self.corners,
            self.sashes,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Border:
    """One border: its rows, the size with it, and its finished widths at the sides and at top and bottom.

    `pieces` are the patches of a pieced one. A flange `shows` on what it is sewn to, and has no width.
    """

    name: str
    sides: Exact
    ends: Exact
    made: Made
    corners: str = ""
    pieces: Pieces | None = None
    shows: Exact = ZERO


def bordered(
    inside: tuple[Exact, Exact],
    width: Length | tuple[Length, Length],
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
    width : finished width of the border, or those at the sides and at top and bottom
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
        sides=(made.width - inside[0]) / 2,
        ends=(made.length - inside[1]) / 2,
        made=made,
        corners=told.border_corner,
    )


def striped(
    inside: tuple[Exact, Exact],
    width: Length,
    repeat: Length,
    of: ClothLike,
    how: Conventions,
    name: str,
) -> Border:
    """A mitred border cut along one stripe of a print.

    Parameters
    ----------
    inside : finished width and length, ticks
    width : finished width of the border
    repeat : from stripe to stripe across the fabric
    of : its cloth
    how : seam and unit
    name : of its rows
    """
    made = striped_border(inside, width, repeat, of, how, name)
    wide = how.read(width, "borders")
    return Border(name=name, sides=wide, ends=wide, made=made, corners="mitred")


def coped(
    inside: tuple[Exact, Exact],
    along: Exact,
    of: ClothLike,
    how: Conventions,
    name: str,
    least: Length | None = None,
    corner: str = "",
    cut: str = "",
) -> Border:
    """The plain strip that makes the patches of the next border come out even.

    Parameters
    ----------
    inside : finished width and length, ticks
    along : finished length of a patch of the next border along the edge, ticks
    of : its cloth
    how : seam, and how borders are made where nothing is said
    name : of its rows
    least : how wide it is to be at least; None for what is usual
    corner, cut : how this one is made, empty for what is usual
    """
    wide = least_coping(how) if least is None else how.read(least, "borders")
    widths = evening(inside, along, wide)
    made = bordered(inside, widths, of, how, name, None, corner or "sides first", cut)
    return replace(made, made=replace(made.made, notes=_coping_notes(made, along, how)))


def _coping_notes(border: Border, along: Exact, how: Conventions) -> tuple[str, ...]:
    """The widths that were worked out, and to what the top is trimmed where no ruler has them."""
    size = how.size(border.made.width, border.made.length)
    told = f"{border.name}: {how.show(border.sides)} wide at the sides and {how.show(border.ends)} at top and bottom, "
    told += f"finished, makes {size}: patches {how.show(along)} long come out even"
    two = 2 * how.seam
    if all(ceil_to(w, how.ruler) == w for w in (border.sides, border.ends)):
        return (told,)
    raw = how.size(border.made.width + two, border.made.length + two)
    return (
        told,
        f"{border.name}: cut to the next mark of the ruler; trim the top to {raw} before the next border",
    )


def pieced(
    inside: tuple[Exact, Exact],
    patch: tuple[Length, Length],
    of: Sequence[ClothLike],
    how: Conventions,
    name: str,
    corners: ClothLike = None,
) -> Border:
    """A border of squares or rectangles, their cloths by turns.

    Parameters
    ----------
    inside : finished width and length, ticks
    patch : finished size of a patch, along the edge and deep
    of : its cloths
    how : seam and unit
    name : of its rows
    corners : cloth of the corners, None for those of the patches
    """
    made, pieces = pieced_border(
        inside, patch, tuple(of) or (None,), how, name, corners
    )
    return Border(
        name=name, sides=pieces.deep, ends=pieces.deep, made=made, pieces=pieces
    )


def flanged(
    inside: tuple[Exact, Exact],
    shows: Length,
    of: ClothLike,
    how: Conventions,
    name: str,
) -> Border:
    """A folded strip in the seam: it adds nothing to the size.

    Parameters
    ----------
    inside : finished width and length, ticks
    shows : how wide the fold is that is seen
    of : its cloth
    how : seam and unit
    name : of its rows
    """
    return Border(
        name=name,
        sides=ZERO,
        ends=ZERO,
        made=flange_sums(inside, shows, of, how, name),
        shows=exact(how.read(shows, "flange")),
    )


def all_widths(borders: Sequence[Border]) -> tuple[Exact, Exact]:
    """What borders add together, on each side and at each end."""
    return (
        sum((border.sides for border in borders), start=ZERO),
        sum((border.ends for border in borders), start=ZERO),
    )
