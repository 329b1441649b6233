"""Traditional blocks and blocks in rows as makers say them; names are common practice, no source. Fabrics are invented."""

from __future__ import annotations

import re

import pytest

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.block import Block
from cutopt.tables.recipe.kinds.blocks import block_of
from cutopt.tables.recipe.kinds.made_of import LIKE_ROWS
from cutopt.tables.recipe.kinds.row_units import UNITS
from cutopt.tables.recipe.kinds.traditional import TRADITIONAL_BLOCKS
from cutopt.tables.sentences.vocabulary import Kind
from tests.quilt.pieced.shapes import of_block

HOW = Conventions()


def rows(block: Block) -> list[tuple[str, str, int]]:
    size = HOW.size
    return [(r.name, size(r.width, r.length), r.count) for r in block.made.cuts]


@pytest.mark.parametrize("kind", TRADITIONAL_BLOCKS, ids=lambda kind: kind.many)
def test_the_sentence_of_a_kind_reads(kind: Kind[Block]) -> None:
    """And leaves clean marks, uses all its fabrics, and fills the block."""
    block = block_of(kind.like, HOW)
    assert block.count == 8
    order = [note for note in block.made.notes if "in the order" in note]
    assert block.made.notes == tuple(order)
    assert bool(order) == (len(kind.roles) == 2)
    fabrics = {word for row in block.made.wanted for word in row.fabrics}
    assert len(fabrics) == kind.like.count(" and ") + 1
    assert of_block(block) == pytest.approx((0, 0), abs=1e-12)


@pytest.mark.parametrize("kind", TRADITIONAL_BLOCKS, ids=lambda kind: kind.many)
def test_one_of_it(kind: Kind[Block]) -> None:
    assert block_of(f"1 {kind.one} of 42", HOW).count == 1


@pytest.mark.parametrize(
    ("said", "plain"),
    [
        (
            '8 churn dashes, 9", from cream and navy',
            "8 churn dashes of 9 from cream and navy",
        ),
        (
            "8 hole in the barn door blocks of 9 from cream and navy",
            "8 churn dashes of 9 from cream and navy",
        ),
        (
            "6 16-patch blocks of 8 from oat and plum",
            "6 sixteen patches of 8 from oat and plum",
        ),
        ("12 pin wheels of 6, 8 at a time", "12 pinwheels of 6, eight at a time"),
        ("9 single Irish chain blocks of 9", "9 single irish chains of 9"),
        ("13 Double Irish Chain blocks of 10", "13 double Irish chains of 10"),
        ("4 bear paw blocks of 14", "4 bear's paws of 14"),
        ("4 bear’s paws of 14", "4 bear's paws of 14"),
        ("6 Dutchmans puzzles of 8", "6 Dutchman's puzzles of 8"),
        ("6 shoo-fly blocks of 9", "6 shooflies of 9"),
        ("6 saw-tooth star blocks of 8", "6 sawtooth stars of 8"),
        ("12 rail fence blocks of 6 with 4 rails", "12 rail fences of 6, rails 4"),
        ("8 snow ball blocks of 6, corners of 2", "8 snowballs of 6, corner 2"),
        (
            "8 courthouse steps, center 2, 1 logs, 3 rounds",
            "8 courthouse steps, centre 2, logs 1, rounds 3",
        ),
    ],
)
def test_other_ways_to_say_it(said: str, plain: str) -> None:
    assert rows(block_of(said, HOW)) == rows(block_of(plain, HOW))


def test_a_house_in_rows() -> None:
    """By hand: to each of 10 a roof of 6 1/2 x 2 1/2, two walls and a door of 2 1/2 x 4 1/2."""
    block = block_of(LIKE_ROWS, HOW)
    assert rows(block) == [
        ("roof", "6 1/2 x 2 1/2", 10),
        ("wall", "2 1/2 x 4 1/2", 20),
        ("door", "2 1/2 x 4 1/2", 10),
    ]
    numbered = LIKE_ROWS.replace("rows: ", "row 1: ").replace("; ", "; row 2: ")
    assert rows(block_of(numbered, HOW)) == rows(block)
    # the height of the second row follows from that of the first
    short = LIKE_ROWS.replace("2 x 4", "2")
    assert rows(block_of(short, HOW)) == rows(block)
    # and the size of the block from its rows
    assert block_of(LIKE_ROWS.replace(" of 6 made", " made"), HOW).size == block.size


def test_a_pinwheel_in_rows_is_cut_like_a_pinwheel() -> None:
    """The four turns of a half-square triangle, one of them with its fabrics exchanged."""
    said = (
        "pin: 8 blocks of 6, eight at a time, made of rows: 1 HST of 3 from plum and oat, top right"
        " + 1 HST of 3 from plum and oat, bottom right;"
        " 1 HST of 3 from oat and plum, bottom right + 1 HST of 3 from plum and oat, bottom left"
    )
    own = block_of(said, HOW)
    known = block_of("8 pinwheels of 6 from oat and plum, eight at a time", HOW)
    cut = {(row.fabrics, row.width, row.count) for row in own.made.cuts}
    assert cut == {(row.fabrics, row.width, row.count) for row in known.made.cuts}
    fabric = {row.key: row.fabrics for block in (own, known) for row in block.made.cuts}
    shown = [
        {(fabric[patch.row], frozenset(patch.corners)) for patch in block.patches}
        for block in (own, known)
    ]
    assert shown[0] == shown[1]


def test_squares_and_triangles_are_what_they_are_called() -> None:
    """Once bars as long as the block: 5 squares of 2 are 2 1/2 x 2 1/2, half-square triangles of 4 from 4 7/8."""
    squares = block_of("4 blocks of 10 x 2 made of 5 squares of 2 from oat", HOW)
    assert rows(squares) == [("square", "2 1/2 x 2 1/2", 20)]
    halves = block_of("4 blocks of 8 x 4 made of 2 half-square triangles of 4", HOW)
    assert [row[1:] for row in rows(halves)] == [("4 7/8 x 4 7/8", 4)] * 2


@pytest.mark.parametrize(
    "joined",
    ["in rows:", "with rows:", "in 2 rows:", "made up of rows:", "made in rows:"],
)
def test_other_ways_to_say_rows(joined: str) -> None:
    said = LIKE_ROWS.replace("made of rows:", joined)
    assert rows(block_of(said, HOW)) == rows(block_of(LIKE_ROWS, HOW))


def test_a_fabric_in_the_name_of_a_patch_is_its_cloth() -> None:
    """Where another is named behind "from", that is meant."""
    said = "2 blocks of 8 made of rows: 1 plum door of 8 x 4; 1 oat square of 4 + 1 plum wall of 4 x 4 from bark"
    block = block_of(said, HOW, known=("plum", "oat", "bark"))
    told = [(row.name, row.fabrics) for row in block.made.wanted]
    assert told == [
        ("plum door", ("plum",)),
        ("oat square", ("oat",)),
        ("plum wall", ("bark",)),
    ]
    (first, *_) = block_of(said, HOW, known=()).made.wanted
    assert first.fabrics == ()


def test_both_sides_of_a_square_block() -> None:
    said = "6 churn dashes of 9 x 9 from oat and plum"
    assert rows(block_of(said, HOW)) == rows(block_of(said.replace(" x 9", ""), HOW))


def test_the_first_of_two_kinds_is_meant() -> None:
    """Flying geese are as long a name as sawtooth stars."""
    said = "6 sawtooth stars of 8 with geese from oat and plum and bark"
    with pytest.raises(Problem, match='"geese" in'):
        block_of(said, HOW)


@pytest.mark.parametrize("kind", UNITS, ids=lambda kind: kind.many)
def test_every_unit_reads(kind: Kind[object]) -> None:
    block = block_of(f"2 blocks made of rows: {kind.like}", HOW)
    assert {word for row in block.made.wanted for word in row.fabrics} == {
        "oat",
        "plum",
    }


@pytest.mark.parametrize(
    ("units", "lowest"),
    [
        # which fabric lies at the lower left corner of the block
        pytest.param(
            "1 hst of 4 from oat and plum", {"oat", "plum"}, id="seam through it"
        ),
        pytest.param("1 hst of 4 from oat and plum, bottom left", {"oat"}, id="half"),
        pytest.param(
            "1 hst of 4 from oat and plum, at top right", {"plum"}, id="opposite"
        ),
        pytest.param("1 goose of 4 x 2 from oat and plum", {"oat", "plum"}, id="up"),
        pytest.param(
            "1 goose of 4 x 2 from oat and plum, pointing down", {"plum"}, id="down"
        ),
        pytest.param(
            "1 snowball of 4 from oat and plum, corner 1, bottom left",
            {"plum"},
            id="sewn over",
        ),
        pytest.param(
            "1 snowball of 4 from oat and plum, corner 1, top left",
            {"oat"},
            id="others",
        ),
        pytest.param("1 rail fence of 4 from oat and plum", {"oat"}, id="rails stand"),
        pytest.param(
            "1 rail fence of 4 from oat and plum, level", {"plum"}, id="rails lie"
        ),
    ],
)
def test_how_a_unit_lies(units: str, lowest: set[str]) -> None:
    block = block_of(f"1 block made of rows: {units}", HOW)
    fabric = {row.key: row.fabrics[0] for row in block.made.cuts}
    there = {fabric[patch.row] for patch in block.patches if (0, 0) in patch.corners}
    assert there == lowest


@pytest.mark.parametrize(
    ("said", "what"),
    [
        (
            "4 blocks of 6 made of rows: 1 roof of 6 x 2; 3 wall of 2 1/2 x 4",
            "row 2 is 3 x 2 1/2 = 7 1/2 wide, and the block is 6",
        ),
        (
            "4 blocks of 6 made of 2 half-square triangles of 4",
            "2 x 4 = 8, and the block is 6 wide",
        ),
        (
            "4 blocks of 10 made of 5 squares of 2",
            "the patches are 2 high, and the block is 10",
        ),
        (
            "4 blocks of 6 made of rows: 1 churn dash of 6",
            '"churn dash" in "1 churn dash of 6" is no unit',
        ),
        (
            "4 blocks of 6 made of rows: 2 triangles of 3",
            '"triangles" in "2 triangles of 3" is no unit',
        ),
        (
            "4 blocks of 6 made of rows: 1 roof of 6; 3 wall of 2",
            "row 1 .* does not say how high it is",
        ),
        (
            "4 blocks of 6 made of rows: 1 roof of 6 x 6; 3 wall of 2",
            "leave no height for row 2",
        ),
        ("4 blocks of 6 from oat made of 2 bar of 3", "before the patches"),
        ("4 blocks of 6, nice, made of 2 bar of 3", "before the patches"),
        ("a and b: 4 blocks of 6 made of 2 bar of 3", "has 2 names"),
        (
            "4 blocks of 6 made of rows: 1 hst of 6 from oat and plum, tip left",
            '"tip left" in .* is not understood',
        ),
        (
            "4 blocks of 6 made of rows: 1 roof of 6 x 6, sideways",
            '"sideways" in "1 roof of 6 x 6, sideways"',
        ),
        (
            "4 blocks of 6 made of rows: 1 hst of 6 from oat and plum and bark",
            "at most 2 fabrics",
        ),
        (
            "4 blocks of 6 made of rows: hsts of 6 from oat and plum",
            "does not say how many",
        ),
        (
            "4 blocks of 6 made of rows: 1 hst from oat and plum",
            "does not say of what size",
        ),
        (
            "4 blocks of 6 made of rows: 1 hst of 6 cut from oat and plum",
            "the square as cut or the unit",
        ),
        ("4 blocks of 6 made of rows: 1 goose of 6 x 6", "not twice as wide as high"),
        (
            "4 blocks of 6 made of rows: 1 snowball of 6, corner 7",
            "corners of 7 do not go into 6 x 6",
        ),
        (
            "4 blocks of 6 made of rows: 1 snowball of 6, corner 4",
            "corners of 4 do not go into 6 x 6",
        ),
        (
            "4 blocks of 6 made of rows: 1 rail fence of 6 from oat",
            "does not say of which rails",
        ),
        (
            "4 blocks of 6 made of rows: 2 wall of 3, half from oat and half from plum",
            "gives each fabric a share",
        ),
        ("4 blocks of 6 made of rows: 1 roof of 6 x 6;", '"" is no part of a block'),
        ("4 blocks made of 2 bar of 3", "does not say how large the blocks are"),
        ("8 churn dashes of 9 from cream and navy and gold", "at most 2 fabrics"),
        ("8 churn dashes from cream and navy", "does not say of what size"),
        (
            "8 churn dashes of 9 from cream and navy, stitch and flip",
            '"stitch and flip" in',
        ),
        (
            "6 blocks of 6 made of 1 rail of 2 from oat, 1 rail of 2 from plum and 1 rail of 2 from bark",
            '"1 rail" in .* is not understood',
        ),
        (
            "6 blocks of 6 made of 3 rail of 2 from oat and plum and bark",
            "take one fabric",
        ),
        ("6 churn dashes of 9 x 12 from oat and plum", "has two sides"),
        # "of" stands twice: the mend is made where the unit is
        ("4 blocks made of rows: of", '"of" is no part of a block'),
        ("4 blocks of 6 made of rows: 2 rows of 3 x 6, sideways", '"sideways" in'),
        ("10 Irish chains of 9", '"Irish chains" in'),
    ],
)
def test_what_is_told(said: str, what: str) -> None:
    """And a sentence that is told to be written reads."""
    with pytest.raises(Problem, match=what) as told:
        block_of(said, HOW)
    for sentence in re.findall(r'(?:write|like|in) "([^"]+)"', told.value.mend or ""):
        assert block_of(sentence, HOW).count


@pytest.mark.parametrize(
    ("sentence", "rule"),
    [
        ("2 blocks of 4 made of rows: 1 hst of 4 from oat and plum, nice", "nice"),
        ("2 churn dashes of 9 from oat and plum, if left", "if left"),
    ],
)
def test_rules_go_with_every_row(sentence: str, rule: str) -> None:
    block = block_of(sentence, HOW)
    assert {row.importance for row in block.made.wanted} == {rule}
