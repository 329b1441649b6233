"""Six worked quilts (invented), from recipe to wanted rows: what plans and hand methods are measured on.

Each is made of the functions of this package; nothing is typed in but the recipe.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from cutopt.lengths import INCH
from cutopt.quilt.binding import binding
from cutopt.quilt.block_settings import patchwork, straight
from cutopt.quilt.block_sums import checkered, nine_patch
from cutopt.quilt.borders import border
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.on_point import on_point, on_point_blocks
from cutopt.quilt.sashes import Sashes
from cutopt.quilt.top import Needed, Top, backing_size
from cutopt.quilt.triangles import half_square_triangles
from cutopt.quilt.units import squares
from cutopt.quilt.wanted_parts import Made

# Sizes are taken from the finished quilt, as pocket tables do, and no end is squared up.
POCKET: Final = Conventions(
    overage_from="finished",
    binding_from="finished",
    back_overage=4 * INCH,
    square_up_end=0,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """A worked quilt: its parts, binding included, its finished size and the backing it needs."""

    key: str
    name: str
    made: Made
    backing: Needed


def six_quilts(how: Conventions = POCKET) -> tuple[Worked, ...]:
    """The six, in order."""
    recipes: tuple[tuple[str, str, Callable[[Conventions], Made]], ...] = (
        ("E1", "patchwork lap", _patchwork_lap),
        ("E2", "nine-patch throw", _nine_patch_throw),
        ("E3", "half-square-triangle twin", _triangle_twin),
        ("E4", "queen of four patches", _four_patch_queen),
        ("E5", "robe for a chair with wheels", _robe),
        ("E6", "on-point throw", _on_point_throw),
    )
    return tuple(_worked(key, name, recipe(how), how) for key, name, recipe in recipes)


def _worked(key: str, name: str, top: Made, how: Conventions) -> Worked:
    measured = Top.finished(top.width, top.length, how)
    bound = binding(*measured.size(how.binding_from, how), "binding", how)
    return Worked(
        key=key,
        name=name,
        made=top + bound.sized(top.width, top.length),
        backing=backing_size(measured, how),
    )


def _patchwork_lap(how: Conventions) -> Made:
    return patchwork("square", "5", 9, 11, "scrap top", how)


def _nine_patch_throw(how: Conventions) -> Made:
    blocks = nine_patch("ninth", "12", 20, ("dark", "light"), how)
    sashes = Sashes(
        strips=("2",), upright="sashing", level="sashing", posts="cornerstones"
    )
    top = blocks + straight(("12", "12"), 4, 5, sashes, how)
    return top + border((top.width, top.length), "3", "border", how)


def _triangle_twin(how: Conventions) -> Made:
    units = half_square_triangles("leaf", "6", 140, ("dark", "light"), how)
    top = units + straight(("6", "6"), 10, 14, how=how)
    return top + border((top.width, top.length), "4", "border", how)


def _four_patch_queen(how: Conventions) -> Made:
    blocks = checkered("quarter", "12", 32, 2, ("A", "B"), how) + squares(
        "plain", "12", 31, "plain", how
    )
    top = blocks + straight(("12", "12"), 7, 9, how=how)
    return top + border((top.width, top.length), "3", "border", how)


def _robe(how: Conventions) -> Made:
    top = patchwork("square", "4 1/2", 8, 10, "scrap top", how)
    return top + border((top.width, top.length), "2", "border", how)


def _on_point_throw(how: Conventions) -> Made:
    blocks = squares("block", "12", on_point_blocks(3, 4), "blocks", how)
    top = blocks + on_point("12", 3, 4, "setting", how)
    return top + border((top.width, top.length), "5", "border", how)
