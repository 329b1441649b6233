"""Blocks of the maker's own in rows: what is alike is one row, and what does not add up is told."""

from __future__ import annotations

import pytest

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.pieced.in_rows import Own, block_in_rows
from cutopt.quilt.pieced.unit import goose, half, patch
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.surds import exact
from cutopt.quilt.wanted_parts import ClothLike
from tests.quilt.pieced.shapes import of_block
from tests.quilt.sums import inch

HOW = Conventions()


def part(name: str, times: int, size: tuple[str, str], of: ClothLike) -> Own:
    cell = patch(inch(size[0]), inch(size[1]), 0)
    return Own(name=name, times=times, cell=cell, words=(name,), of=(of,))


def halves(times: int, side: str, of: tuple[str, str], turn: int = 0) -> Own:
    words = ("half first", "half second")
    cell = half(inch(side), 0, 1, turn)
    return Own(name="half", times=times, cell=cell, words=words, of=of, either=True)


def made(
    *rows: list[Own], size: tuple[str, str] | None = ("6", "6"), count: int = 10
) -> Block:
    sides = None
    if size is not None:
        sides = (exact(inch(size[0])), exact(inch(size[1])))
    return block_in_rows("house", count, sides, rows, HOW)


def rows(block: Block) -> list[tuple[str, str, str, int]]:
    show = HOW.show
    return [(r.name, show(r.width), show(r.length), r.count) for r in block.made.cuts]


def house() -> Block:
    wall = part("wall", 1, ("2", "4"), "oat")
    return made(
        [part("roof", 1, ("6", "2"), "bark")],
        [wall, part("door", 1, ("2", "4"), "plum"), wall],
    )


def test_a_house() -> None:
    """By hand: a roof of 6 1/2 x 2 1/2, two walls and a door of 2 1/2 x 4 1/2 to each of 10 (identity)."""
    block = house()
    assert rows(block) == [
        ("roof", "6 1/2", "2 1/2", 10),
        ("wall", "2 1/2", "4 1/2", 20),
        ("door", "2 1/2", "4 1/2", 10),
    ]
    assert block.made.cuts[1].why == (
        "finished 2 x 4, + 2 x 1/4 each way = 2 1/2 x 4 1/2; 2 to each of 10 blocks"
    )
    assert [patch.row for patch in block.patches] == [
        "cuts/roof",
        "cuts/wall",
        "cuts/door",
        "cuts/wall",
    ]
    assert of_block(block) == pytest.approx((0, 0), abs=1e-12)


def test_without_a_size_the_rows_give_it() -> None:
    """Arithmetic identity."""
    block = made([part("roof", 2, ("6", "2"), None)], size=None)
    assert block.size == (inch("12"), inch("2"))


def test_what_is_turned_is_cut_alike() -> None:
    """Four half-square triangles, one with its fabrics the other way round: 4 x 10 units, two from a pair of 3 7/8.

    Arithmetic identity.
    """
    block = made(
        [halves(1, "3", ("oat", "plum"), 1), halves(1, "3", ("oat", "plum"), 2)],
        [halves(1, "3", ("plum", "oat"), 2), halves(1, "3", ("oat", "plum"), 3)],
    )
    assert rows(block) == [
        ("half first", "3 7/8", "3 7/8", 20),
        ("half second", "3 7/8", "3 7/8", 20),
    ]
    oat, plum = (row.key for row in block.made.wanted)
    # the third, of plum and oat turned by half: plum at the lower right, as where oat and plum are not turned
    third = block.patches[4:6]
    assert {patch.row for patch in third} == {oat, plum}
    first = next(p for p in third if p.row == plum)
    assert (0.5, 0) in first.corners
    assert (0, 0.5) not in first.corners


def test_one_name_for_two_sizes_gives_two_rows() -> None:
    """Sizes and words are invented."""
    block = made(
        [part("wall", 3, ("2", "2"), "oat")], [part("wall", 3, ("2", "4"), "oat")]
    )
    assert [row[0] for row in rows(block)] == ["wall", "wall 2"]


def test_one_name_of_two_cloths_gives_two_rows() -> None:
    """Sizes and words are invented."""
    block = made(
        [part("wall", 1, ("3", "6"), "oat"), part("wall", 1, ("3", "6"), "plum")]
    )
    assert [row.fabrics for row in block.made.cuts] == [("oat",), ("plum",)]


def test_geese_keep_their_cloths_apart() -> None:
    """Arithmetic identity."""
    words = ("goose", "sky")
    cell = goose(inch("6"), 0, 1)
    birds = [
        Own(name="g", times=1, cell=cell, words=words, of=of)
        for of in (("oat", "plum"), ("plum", "oat"))
    ]
    block = made([birds[0]], [birds[1]], count=4)
    assert [(row.name, row.fabrics[0]) for row in block.made.cuts] == [
        ("goose", "oat"),
        ("sky", "plum"),
        ("goose 2", "plum"),
        ("sky 2", "oat"),
    ]


@pytest.mark.parametrize(
    ("given", "what"),
    [
        pytest.param(
            [
                [part("roof", 1, ("6", "2"), None)],
                [part("wall", 3, ("2 1/2", "4"), None)],
            ],
            "row 2 is 3 x 2 1/2 = 7 1/2 wide, and the block is 6",
            id="too wide",
        ),
        pytest.param(
            [[part("roof", 1, ("5", "6"), None)]],
            "5, and the block is 6 wide",
            id="one that is too narrow",
        ),
        pytest.param(
            [[part("roof", 1, ("6", "2"), None)], [part("wall", 1, ("6", "3"), None)]],
            "the rows are 2 [+] 3 = 5 high, and the block is 6",
            id="too low",
        ),
        pytest.param(
            [[part("wall", 1, ("3", "6"), None), part("door", 1, ("3", "5"), None)]],
            "row 1 is of units of several heights: wall 6 and door 5",
            id="heights",
        ),
    ],
)
def test_what_does_not_add_up(given: list[list[Own]], what: str) -> None:
    """Sizes and words are invented."""
    with pytest.raises(Problem, match=what):
        made(*given)


def test_rows_that_differ_where_no_size_is_said() -> None:
    """Sizes and words are invented."""
    with pytest.raises(Problem, match="row 2 is 5 wide, and row 1 is 6"):
        made(
            [part("a", 1, ("6", "2"), None)],
            [part("b", 1, ("5", "2"), None)],
            size=None,
        )
