"""The cells of a cloth do not depend on how many of them are worked out at once."""

from __future__ import annotations

import numpy as np
import pytest

from cutopt.cloth import Cloth
from cutopt.lengths import INCH
from cutopt.solve.model import cells as raster

TRIANGLE = ((0, 0), (20 * INCH, 0), (3 * INCH, 17 * INCH))
NOTCHED = (
    (0, 0),
    (20 * INCH, 0),
    (20 * INCH, 9 * INCH),
    (11 * INCH, 9 * INCH),
    (11 * INCH, 17 * INCH),
    (0, 15 * INCH),
)
FLAW = ((4 * INCH, INCH), (7 * INCH, 2 * INCH), (5 * INCH, 5 * INCH))


@pytest.mark.parametrize("outline", [TRIANGLE, NOTCHED])
@pytest.mark.parametrize("margin", [0, INCH // 4])
@pytest.mark.parametrize("at_once", [1, 300, 1000])
def test_cells_a_few_columns_at_a_time(
    outline: tuple[tuple[int, int], ...],
    margin: int,
    at_once: int,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    cloth = Cloth(
        fabric="oat", outline=outline, margins=(margin,) * len(outline), flaws=(FLAW,)
    )
    origin, whole = raster.usable_cells(cloth, INCH // 8)
    monkeypatch.setattr(raster, "_AT_ONCE", at_once)
    again, parts = raster.usable_cells(cloth, INCH // 8)
    assert origin == again
    assert whole.any()
    assert np.array_equal(whole, parts)
