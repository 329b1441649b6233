"""Pieces share pages: as few as there can be, in order, and no drawing loses a mark for it."""

from __future__ import annotations

from functools import lru_cache
from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from cutopt.draw.views import views
from cutopt.pages.files import pages_pdf
from cutopt.pages.fit_to_pages import SIZES, Drawings, groups
from cutopt.pages.paper import ROOM
from tests.draw.sample import orchard_plan
from tests.pages.printed import many_cuts

# words and drawing of a piece, points; a piece of more than a page takes as many as its height
pieces = st.lists(
    st.tuples(st.integers(40, 1100), st.integers(0, 560), st.booleans()), max_size=9
)


def fewest(heights: list[tuple[int, int, bool]]) -> int:
    """By trying every way to part the row of pieces."""

    @lru_cache
    def least(first: int) -> int:
        if first == len(heights):
            return 0
        best = 99
        long = all(
            heights[first][0] + heights[first][1] * size > ROOM for size in sizes(first)
        )
        pages = 1
        used = 0.0
        if long:
            pages, used = tail(first)
        for end in range(first + 1, len(heights) + 1):
            others = range(first + long, end)
            for size in SIZES:
                fits = (
                    used + sum(heights[i][0] + heights[i][1] * size for i in others)
                    <= ROOM
                )
                if fits and all(size in sizes(i) for i in others):
                    best = min(best, pages + least(end))
        return best

    def sizes(i: int) -> tuple[float, ...]:
        return SIZES if heights[i][2] else SIZES[:1]

    def tail(i: int) -> tuple[int, float]:
        whole = heights[i][0] + heights[i][1]
        return int(whole // ROOM) + 1, whole % ROOM

    return least(0)


def test_a_piece_of_hundreds_of_pages_is_not_left_out() -> None:
    """No more than 99 pages a piece were counted, and steps of one that took more were not printed at all."""
    found = groups(2, lambda _i, _size, _least: None, lambda _i: (1.0, 270, 10.0))
    assert [(group.first, group.end) for group in found] == [(0, 1), (1, 2)]


@given(pieces)
def test_no_other_way_takes_fewer_pages(heights: list[tuple[int, int, bool]]) -> None:
    def height(i: int, size: float, least: bool) -> float | None:
        words, drawing, may = heights[i]
        return words + drawing * size if may or size == 1.0 or least else None

    def tail(i: int) -> tuple[float, int, float]:
        whole = heights[i][0] + heights[i][1]
        return 1.0, int(whole // ROOM) + 1, whole % ROOM

    found = groups(len(heights), height, tail)
    assert [i for group in found for i in range(group.first, group.end)] == list(
        range(len(heights))
    )
    taken = 0
    for group in found:
        alone = height(group.first, group.size, False)
        long = all(
            (height(group.first, size, False) or ROOM + 1) > ROOM for size in SIZES
        )
        used, pages = (tail(group.first)[2], tail(group.first)[1]) if long else (0.0, 1)
        assert long or alone is not None
        others = [
            height(i, group.size, False) for i in range(group.first + long, group.end)
        ]
        assert None not in others
        assert used + sum(each or 0 for each in others) <= ROOM
        taken += pages
    assert taken == fewest(heights)


def test_a_smaller_drawing_loses_no_mark() -> None:
    plan = orchard_plan()
    assert plan.origin is not None
    for shown in views(plan):
        drawings = Drawings(plan.origin, shown)
        full = drawings.at(1.0)
        assert full is not None
        high = float(full.figure.get_size_inches()[1]) * 72
        assert high == pytest.approx(full.size[1] / 25.4 * 72)
        assert drawings.least(1.0) <= high + 1e-6
        for size in SIZES[1:]:
            smaller = drawings.at(size)
            if smaller is not None:
                assert (
                    drawings.least(size) - 1e-6
                    <= float(smaller.figure.get_size_inches()[1]) * 72
                    < high
                )
                said = {text.get_text() for text in smaller.figure.axes[0].texts}
                assert {str(line.n) for line in shown.lines} <= said


def test_the_sum_of_a_piece_does_not_begin_a_page() -> None:
    for rows in (5, 11):
        for page in PdfReader(BytesIO(pages_pdf(many_cuts(rows)))).pages:
            said = page.extract_text()
            assert (
                "Now you have" not in said
                or "cut " in said.partition("Now you have")[0]
            )
