"""Usual sizes with their cautions, and sizes found. Ranges: common practice, no source; cautions: as named."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutopt.answers import largest_quilt, sizes_for
from cutopt.errors import Problem
from cutopt.lengths import INCH


@pytest.mark.parametrize("name", ["baby", "cot"])
def test_infants_have_their_caution(name: str) -> None:
    """American Academy of Pediatrics, Sleep-Related Infant Deaths: Updated 2022 Recommendations."""
    html = sizes_for(name)._repr_html_()
    assert "never for sleep" in html
    assert "American Academy of Pediatrics" in html


def test_wheels_and_wards_have_theirs() -> None:
    rows = {row[0]: row for row in sizes_for().rows}
    assert "spokes" in rows["chair with wheels"][-1]
    assert "rules of the ward" in rows["ward"][-1]
    assert rows["chair with wheels"][2:4] == ("30 to 36", "36 to 48")
    assert all(row[4] for row in rows.values())


@pytest.mark.parametrize(
    ("said", "name"),
    [("crib", "cot"), ("wheelchair", "chair with wheels"), ("hospital", "ward")],
)
def test_a_use_is_found_by_what_quilters_call_it(said: str, name: str) -> None:
    assert [row[0] for row in sizes_for(said).rows] == [name]


def test_an_unknown_use() -> None:
    with pytest.raises(Problem, match="hammock"):
        sizes_for("hammock")


def test_as_large_as_it_goes() -> None:
    """56 blocks of 6, no narrower than 36, square to 4:3: 7 x 8 = 42 x 48 uses all (arithmetic identity)."""
    found = largest_quilt("6", 56, least=("36", "36"))
    best = found.best
    assert best is not None
    assert (best.across, best.down, best.left) == (7, 8, 0)
    assert (best.width, best.length) == (42 * INCH, 48 * INCH)
    assert found.rows[0][4] == "needs 7 more"
    areas = [float(each.width * each.length) for each in found.found]
    assert areas == sorted(areas, reverse=True)
    for each in found.found:
        assert each.width >= 36 * INCH
        assert 1 <= each.length / each.width <= Fraction(4, 3)


def test_nothing_within_the_limits_is_said() -> None:
    assert "widen them" in largest_quilt("6", 4, least=("36", "36"))._repr_html_()


def test_a_row_more_that_is_within_the_limits_is_in_the_table() -> None:
    """56 blocks of 6: 7 x 7 leaves 7, and a row of 7 more is 7 x 8, 42 x 48 (counting); 8 x 7 is wider than long."""
    rows = {row[1]: row for row in largest_quilt("6", 56, least=("36", "36")).rows}
    assert rows["7 x 7"][4:6] == (
        "7 x 8, in this table",
        "could be had, but for the limits",
    )
    assert rows["7 x 8"][4] == "needs 7 more"
