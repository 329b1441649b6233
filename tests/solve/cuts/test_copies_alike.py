"""Copies of one piece that give the same parts are laid alike, so that they can be stacked and cut together."""

from __future__ import annotations

import pytest

from cutopt.pages.steps import sections
from tests.solve.small import cut, job, laid, piece

JOB = job(
    piece("bit", 4, 9, count=3),
    cut("square", 4, 4, 2),
    cut("leaf", 3, 4, 2),
    cut("slat", 2, 9),
)
# from two of the three pieces a square and a leaf, laid otherwise, from one the slat
TIDY = ((0, 0, 0), (1, 0, 4))
ASTRAY = ((0, 0, 5), (1, 1, 0))
OTHER = ((2, 1, 0),)


@pytest.mark.parametrize("copies", [(TIDY, OTHER, ASTRAY), (ASTRAY, OTHER, TIDY)])
def test_what_gives_the_same_is_cut_the_same_and_told_once(
    copies: tuple[tuple[tuple[int, int, int], ...], ...],
) -> None:
    plan = laid(JOB, *copies)
    told = sections(plan)
    assert [section.title for section in told] == ["2 of bit", "bit (2 of 3)"]
    # by hand, the tidy one: at 4 along, at 8 along, and 1 in off the side of the leaf; the slat: at 2 across
    assert [len(section.steps) for section in told] == [3 + 1, 1]
    assert len(plan.cuts) == 2 * 3 + 1


def test_the_words_say_to_stack_with_the_caution() -> None:
    told = sections(laid(JOB, TIDY, OTHER, ASTRAY))[0]
    assert (
        "You need 2 of them. Stack both and cut them together. Layers slip:"
        in told.intro[1]
    )
    assert told.steps[-1].text == "Do the same with the other one."
    assert told.result == "Now you have 2 of square and 2 of leaf."


def test_each_copy_still_gives_its_own_parts() -> None:
    plan = laid(JOB, TIDY, OTHER, ASTRAY)
    assert sorted((source.piece, source.copy) for source in plan.sources) == [
        ("bit", 1),
        ("bit", 2),
        ("bit", 3),
    ]
    assert sorted(use.for_ for use in plan.uses) == [
        "cuts/leaf",
        "cuts/leaf",
        "cuts/slat",
        "cuts/square",
        "cuts/square",
    ]
