"""Rectangles out of pieces of any shape, for a backing: identities of geometry, and the checker on the true outline."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.answers import BackingAnswer, backing_to_buy, batting_to_buy
from cutopt.answers.rectangles_inside import _widest, rectangles_inside
from cutopt.check import check
from cutopt.fabric import ByLength, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.quilt.backs.way import Way
from cutopt.settings import Settings
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables import pile
from cutopt.wanted import Cut

SHOP = [ByLength(fabric="mist", usable_width=42 * INCH, sold_by=YARD // 8)]


def inches(words: str, *reaches: int) -> list[tuple[float, float]]:
    (piece,) = pile(words)
    found = rectangles_inside(piece, Settings(), [reach * INCH for reach in reaches])
    return [(width / INCH, length / INCH) for width, length in found]


def test_an_l_gives_the_larger_of_its_two_rectangles() -> None:
    """42 x 36 less 30 x 20: 42 x 16 = 672 or 12 x 36 = 432 (counting); as long as 30 only the second is."""
    assert inches("oat 42 x 36 less 30 x 20") == [(42, 16)]
    assert inches("oat 42 x 36 less 30 x 20", 40) == [(42, 16)]
    assert inches("oat 20 x 36 less 12 x 20", 30) == [(20, 16), (8, 36)]


def test_the_largest_in_a_right_triangle_has_half_its_sides() -> None:
    """Euclid, Elements VI.27 (from memory): a/2 x b/2; so long as r, by similar triangles, a (1 - r/b) wide."""
    assert inches("half square oat 60") == [(30, 30)]
    assert inches("half square oat 60", 45)[1] in ((15, 45), (45, 15))
    # across 40 (1 - r/20), along 20 (1 - r/40): beside a side of 15, 10 or 12 1/2; the second is the wider
    assert inches("triangle oat 40 x 20", 15) == [(20, 10), (15, 12.5)]


def test_flaws_ragged_edges_and_rough_measures_come_off() -> None:
    """60 x 60 with a stain of 3 x 3 at 50 4: above it 60 x 53; square-up 1/4 and about 1/2 on every side (default)."""
    assert inches("oat 60 x 60, stain 3 x 3 at 50 4") == [(60, 53)]
    assert inches("oat 60 x 60 about, raw, stain 3 x 3 at 50 4")[0] == (58.5, 52.25)


@given(
    st.lists(st.lists(st.booleans(), min_size=5, max_size=5), min_size=1, max_size=6)
)
def test_the_widest_of_each_length_by_trying_all(rows: list[list[bool]]) -> None:
    high = len(rows)
    wide = 5
    best = [0] * (high + 1)
    for top, bottom, left, right in product(
        range(high), range(high), range(wide), range(wide)
    ):
        if (
            top <= bottom
            and left <= right
            and all(all(row[left : right + 1]) for row in rows[top : bottom + 1])
        ):
            best[bottom - top + 1] = max(best[bottom - top + 1], right - left + 1)
    assert _widest(rows)[1:] == best[1:]


corner = st.tuples(st.integers(0, 30), st.integers(0, 40))


@settings(max_examples=25, deadline=None)
@given(st.tuples(corner, corner, corner), st.sampled_from(["true", "raw"]))
def test_each_can_be_cut_out_of_the_true_outline(
    corners: tuple[tuple[int, int], ...], edges: str
) -> None:
    """The checker replays the cuts on the polygon; it knows nothing of grids."""
    (ax, ay), (bx, by), (cx, cy) = corners
    if abs((bx - ax) * (cy - ay) - (cx - ax) * (by - ay)) < 60:
        return
    outline = tuple((x * INCH, y * INCH) for x, y in corners)
    piece = Piece(name="p", fabric="oat", outline=outline, edges=edges)  # type: ignore[arg-type]
    for width, length in rectangles_inside(piece, Settings(), [15 * INCH]):
        cut = Cut(name="panel", width=width, length=length, grain="along")
        job = Job(fabrics=(Fabric(name="oat"),), pieces=(piece,), cuts=(cut,))
        result = solve(job, Work(3000), offers=False)
        assert result.complete
        assert check(job, result.plan) == []


def one_seam(answer: BackingAnswer) -> Way:
    """The recommended way with one seam; others may take less, in more parts."""
    (way,) = (choice.way for choice in answer.best if choice.way.seams == 1)
    return way


def test_an_irregular_piece_serves_as_a_panel() -> None:
    """44 x 52 is to be reached; 30 x 60 out of the piece and one width: 30 + 42 - 1 = 71, 52 + 1 in bought."""
    answer = backing_to_buy("40 x 48", SHOP, on_hand=pile("oat 40 x 60 less 10 x 20"))
    assert answer.best[0].way.from_hand == ("30 x 60 of oat-1",)
    way = next(
        way
        for way in answer.ways
        if way.from_hand and way.seams == 1 and way.net == 44 * INCH
    )
    assert any(
        told.startswith("oat-1: a rectangle along the grain") for told in answer.said
    )
    ways = backing_to_buy("40 x 48", SHOP, on_hand=pile("oat 30 x 60")).ways
    whole = next(
        other
        for other in ways
        if other.from_hand and other.seams == 1 and other.net == way.net
    )
    assert (whole.bought, whole.seams, whole.spare_across) == (
        way.bought,
        way.seams,
        way.spare_across,
    )


def test_each_way_of_an_irregular_piece_stands_once() -> None:
    answer = backing_to_buy("40 x 48", SHOP, on_hand=pile("half square oat 60"))
    of_it = [way for way in answer.ways if " of oat-1" in way.kind]
    told = [
        (way.offered, way.risky, way.run, way.kind.partition(" of oat-1")[2])
        for way in of_it
    ]
    assert len(told) == len(set(told)) >= 2


@pytest.mark.parametrize("wish", ["keep whole", "do not touch"])
def test_what_must_stay_stays(wish: str) -> None:
    (piece,) = pile("oat 60 x 60 less 4 x 4")
    answer = backing_to_buy("40 x 48", SHOP, on_hand=[replace(piece, wish=wish)])  # type: ignore[arg-type]
    assert not any(way.from_hand for way in answer.ways)


def test_pieces_that_serve_nowhere_are_told() -> None:
    told = backing_to_buy(
        "40 x 48", SHOP, on_hand=pile("half square oat 9\noat 5 x 6")
    ).said
    nothing = "Nothing of your own that may be cut is long and wide enough to serve"
    assert told[-1] == f"{nothing}; the largest is oat-2 (5 x 6)."


def test_batting_is_joined_of_what_is_in_scraps_of_any_shape() -> None:
    """30 x 60 out of the triangle, and 30 x 60: 60 x 60 for 44 x 52 with one join, nothing to buy."""
    scraps = pile("triangle fluff 60 x 120\nfluff 30 x 60")
    way = batting_to_buy("40 x 48", on_hand=scraps).ways[0]
    assert way.joins == 1
    assert not way.pieces
