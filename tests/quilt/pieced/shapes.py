"""Blocks as shapely sees them: an oracle for geometry that the program never asks."""

from __future__ import annotations

from collections.abc import Sequence

from shapely import Polygon
from shapely.ops import unary_union

from cutopt.quilt.recipe.block import Block
from cutopt.quilt.recipe.fill import Share


def polygon(corners: Sequence[Share]) -> Polygon:
    """The patch in floats."""
    return Polygon([(float(x), float(y)) for x, y in corners])


def gap_and_overlap(shapes: Sequence[Sequence[Share]]) -> tuple[float, float]:
    """Which share of a block of 1 by 1 no patch covers, and how much of patches lies on others or outside of it."""
    patches = [polygon(corners) for corners in shapes]
    whole = Polygon([(0, 0), (1, 0), (1, 1), (0, 1)])
    covered = unary_union(patches).intersection(whole).area
    return 1 - covered, sum(patch.area for patch in patches) - covered


def of_block(block: Block) -> tuple[float, float]:
    """The same of its patches."""
    return gap_and_overlap([patch.corners for patch in block.patches])
