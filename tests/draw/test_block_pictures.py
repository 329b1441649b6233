"""The picture of the traditional blocks: each under its name, at one size, told apart without colours."""

from __future__ import annotations

import pytest
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch
from shapely import Polygon

from cutopt.draw.blocks import draw_blocks
from cutopt.quilt.pieced.library import TRADITIONAL


@pytest.fixture(scope="module")
def sheet() -> Figure:
    return draw_blocks(TRADITIONAL.values())


def patches(figure: Figure) -> list[PathPatch]:
    return [p for p in figure.axes[0].artists if isinstance(p, PathPatch)] or [
        p for p in figure.axes[0].patches if isinstance(p, PathPatch)
    ]


def test_every_patch_is_drawn_and_they_fill_their_blocks(sheet: Figure) -> None:
    """Identity: 24 mm x 24 mm for each block."""
    drawn = [Polygon(patch.get_path().vertices) for patch in patches(sheet)]
    units = [shapes for p in TRADITIONAL.values() for _, shapes in p.drawn.laid()]
    assert len(drawn) == sum(len(shapes) for shapes in units)
    area = sum(patch.area for patch in drawn)
    assert area == pytest.approx(24 * 24 * len(TRADITIONAL))


def test_every_block_has_its_name(sheet: Figure) -> None:
    told = " ".join(text.get_text() for text in sheet.axes[0].texts)
    for pattern in TRADITIONAL.values():
        assert pattern.one in told


def test_fabrics_differ_in_grey(sheet: Figure) -> None:
    looks = {(to_hex(p.get_facecolor()), p.get_hatch()) for p in patches(sheet)}
    assert len(looks) == 3
    for colour, _ in looks:
        assert colour[1:3] == colour[3:5] == colour[5:7]
