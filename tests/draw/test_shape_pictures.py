"""Pictures of shapes in a strip: at scale, every shape inside, what is lost hatched. Invented sizes."""

from __future__ import annotations

import pytest
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch

from cutopt.draw.looks import SCRAP_HATCH
from cutopt.draw.shapes import draw_shapes
from cutopt.quilt.conventions import DEFAULT
from cutopt.quilt.shapes.nested import Laid
from cutopt.quilt.shapes.rows import rows_of
from cutopt.quilt.shapes.sixty import ANGLED, Angled, in_strip
from tests.pages.printed import words_in


def laid_of(kind: Angled, size: str, count: int) -> Laid:
    laid, *_ = rows_of("leaf", in_strip(kind, size), count).held
    return laid


def shapes_in(figure: Figure) -> list[PathPatch]:
    found = figure.findobj(PathPatch)
    return [each for each in found if each.get_fill() and not each.get_hatch()]


@pytest.mark.parametrize("kind", ANGLED)
def test_every_shape_lies_in_the_strip(kind: Angled) -> None:
    figure = draw_shapes(laid_of(kind, "4", 4), DEFAULT)
    waste = [p for p in figure.findobj(PathPatch) if p.get_hatch() == SCRAP_HATCH]
    (strip,) = (each.get_path().get_extents() for each in waste)
    shapes = [each.get_path().get_extents() for each in shapes_in(figure)]
    assert len(shapes) == 4
    assert min(each.x0 for each in shapes) >= strip.x0 - 1e-9
    assert max(each.x1 for each in shapes) <= strip.x1 + 1e-9
    assert {round(each.height, 6) for each in shapes} == {round(strip.height, 6)}


def test_it_is_at_scale_and_says_its_measures() -> None:
    """Identity: 14 triangles in 41 1/4 x 4 3/4."""
    figure = draw_shapes(laid_of("60-degree triangle", "4", 14), DEFAULT)
    (strip,) = (
        each.get_path().get_extents()
        for each in figure.findobj(PathPatch)
        if each.get_hatch()
    )
    assert strip.width / strip.height == pytest.approx(41.25 / 4.75)
    told = words_in(figure)
    assert "14 from a strip 41 1/4 in long; the lower edge of the first: 5.48" in told
    assert "4 3/4" in told


def test_a_large_shape_is_drawn_smaller_and_a_small_one_no_larger_than_a_page() -> None:
    for size, count in (("1/2", 60), ("24", 1)):
        laid = laid_of("hexagon", size, count)
        wide, high = draw_shapes(laid, DEFAULT).get_size_inches()
        assert wide * 25.4 <= 151
        assert high * 25.4 <= 40
