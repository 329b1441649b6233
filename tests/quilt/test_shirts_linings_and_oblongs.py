"""T-shirt blocks, lined totes, oblong cushions, coasters. Sizes are common practice, no source; sums are identities."""

from __future__ import annotations

import pytest

from cutopt.errors import Problem
from cutopt.quilt import articles, bags, covers
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.shirts import shirt_blocks
from tests.quilt.sums import inch, size


@pytest.mark.parametrize("form", [("12", "20"), ("20", "12")])
def test_oblong_cushion(form: tuple[str, str]) -> None:
    """Identity: the longer side of 20 is shared: 2 (13 1/4 - 1/4 - 1) - 20 = 4 of overlap; the shorter is 12 1/2."""
    front, back = covers.envelope_cushion(form, 2).cuts
    assert sorted(size(front)) == [12.5, 20.5]
    assert (front.count, back.count) == (2, 4)
    assert sorted(size(back)) == [12.5, 13.25]
    # width is width: a print that stands up does so on the backs too
    if form[0] == "20":
        assert back.length == front.length
    else:
        assert back.width == front.width
    halves = 2 * (inch("13 1/4") - inch("1/4") - inch("1"))
    assert halves - inch("20") == inch("4")


def test_square_cushions_are_as_before() -> None:
    """Arithmetic identity."""
    assert covers.envelope_cushion(("18", "18")) == covers.envelope_cushion("18")
    with pytest.raises(Problem, match="larger form"):
        covers.envelope_cushion("1/2", snug="1/2")


def test_pillowcases_for_usual_pillows() -> None:
    """Common practice, no source (from memory): standard 20 x 26, queen 20 x 30, king 20 x 36; the case 4 longer."""
    assert covers.pillowcase_for("standard") == (inch("20"), inch("30"))
    assert covers.pillowcase_for("king") == (inch("20"), inch("40"))
    with pytest.raises(Problem, match="standard, queen, king"):
        covers.pillowcase_for("emperor")


def test_lined_tote() -> None:
    """Identity: 13 x 14 x 4, seams 1/2: 18 x 17, the lining as much; pocket 6 x 7: 7 x (7 + 1/2 + 2)."""
    rows = bags.lined_tote(
        ("13", "14", "4"), 2, ("bark", "oat", "pear"), pocket=("6", "7")
    ).cuts
    body, lining, handle, pocket = rows
    assert size(body) == size(lining) == (18.0, 17.0)
    assert [row.count for row in rows] == [4, 4, 4, 2]
    assert size(pocket) == (7.0, 9.5)
    named = [row.fabrics for row in rows]
    assert named == [("bark",), ("oat",), ("pear",), ("oat",)]
    assert size(handle) == (4.0, 24.0)
    without = bags.lined_tote(("13", "14", "4")).cuts
    assert len(without) == 3
    with pytest.raises(Problem, match="larger than the bag"):
        bags.lined_tote(("13", "14", "4"), pocket=("14", "7"))


def test_spares_of_a_lined_tote_are_spares_of_each_part() -> None:
    """Arithmetic identity."""
    rows = bags.lined_tote(("13", "14", "4"), 1, how=Conventions(spares=1)).cuts
    assert [row.count for row in rows] == [3, 3, 3]


def test_shirt_blocks() -> None:
    """From memory: the shirt 1 in more on each side than the block as cut, the interfacing between the two."""
    shirt, inside = shirt_blocks("shirt", ("12", "14"), 12).cuts
    assert size(shirt) == (14.5, 16.5)
    assert size(inside) == (13.5, 15.5)
    # it is trimmed to the block, and never reaches past the shirt
    for block, middle, outer in zip(
        (12.5, 14.5), size(inside), size(shirt), strict=True
    ):
        assert block < middle < outer
    metric = shirt_blocks("shirt", ("30", "35"), 1, how=Conventions.metric()).cuts
    assert metric[0].width == 320 * 10 * 365 // 10


def test_coasters() -> None:
    """Common practice, no source: 4 in or 10 cm square, two layers of cloth and one of batting."""
    made = articles.turned_through("coaster", 4)
    assert [size(row) for row in made.cuts] == [(4.5, 4.5)] * 2
    assert any("batting" in note for note in made.notes)
