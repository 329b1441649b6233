"""The traditional blocks: counts and cut sizes worked by hand, and patches that fill the block.

Arrangements and names are common practice, no source (from memory). Sizes are identities: a seam of 1/4 in on every side, a
half-square triangle from a square of its side and (2 + √2)/4 = 0.8536, a quarter-square one from its long side and
(2 + 2√2)/4 = 1.2071, both cut up to 1/8 in.
"""

from __future__ import annotations

from collections import Counter

import pytest

from cutopt.errors import Problem
from cutopt.lengths import INCH
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.pieced.economy import economy
from cutopt.quilt.pieced.library import TRADITIONAL
from cutopt.quilt.pieced.pattern import Sewn
from cutopt.quilt.pieced.plus_and_frame import framed_squares, pluses
from cutopt.quilt.pieced.stars import snowballs
from cutopt.quilt.pieced.straight import courthouse_steps, rail_fence
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.wanted_parts import ClothWanted
from tests.quilt.pieced.shapes import of_block, polygon

HOW = Conventions()
CLOTHS = ("oat", "plum", "bark")

# One block of a size: patches to look at, and rows as (cloth, cut width, cut length, how many), all by hand.
ONE = {
    "sixteen patches": (
        "8",
        16,
        [("oat", "2 1/2", "2 1/2", 8), ("plum", "2 1/2", "2 1/2", 8)],
    ),
    "basket weaves": ("9", 12, [("oat", "5", "2", 8), ("plum", "5", "2", 4)]),
    "single Irish chains": (
        "9",
        9,
        [("oat", "3 1/2", "3 1/2", 4), ("plum", "3 1/2", "3 1/2", 5)],
    ),
    "double Irish chains": (
        "10",
        25,
        [
            ("oat", "2 1/2", "2 1/2", 4),
            ("plum", "2 1/2", "2 1/2", 12),
            ("bark", "2 1/2", "2 1/2", 9),
        ],
    ),
    "double Irish chain alternates": (
        "10",
        7,
        [
            ("oat", "6 1/2", "2 1/2", 2),
            ("oat", "10 1/2", "6 1/2", 1),
            ("plum", "2 1/2", "2 1/2", 4),
        ],
    ),
    "rail fences": (
        "6",
        3,
        [
            ("oat", "2 1/2", "6 1/2", 1),
            ("plum", "2 1/2", "6 1/2", 1),
            ("bark", "2 1/2", "6 1/2", 1),
        ],
    ),
    "courthouse steps": (
        "7",
        13,
        [
            ("oat", "1 1/2", "1 1/2", 1),
            ("plum", "1 1/2", "1 1/2", 2),
            ("plum", "1 1/2", "3 1/2", 2),
            ("plum", "1 1/2", "5 1/2", 2),
            ("bark", "3 1/2", "1 1/2", 2),
            ("bark", "5 1/2", "1 1/2", 2),
            ("bark", "7 1/2", "1 1/2", 2),
        ],
    ),
    # a corner of 2: a square of 2 1/2
    "snowballs": (
        "6",
        5,
        [("oat", "6 1/2", "6 1/2", 1), ("plum", "2 1/2", "2 1/2", 4)],
    ),
    # 4 units of 3, two from a pair of squares of 3 7/8
    "pinwheels": (
        "6",
        8,
        [("oat", "3 7/8", "3 7/8", 2), ("plum", "3 7/8", "3 7/8", 2)],
    ),
    "broken dishes": (
        "8",
        32,
        [("oat", "2 7/8", "2 7/8", 8), ("plum", "2 7/8", "2 7/8", 8)],
    ),
    # 8 geese of 2 x 4, four from a square of 5 1/4 and four of 2 7/8
    "Dutchman's puzzles": (
        "8",
        24,
        [("oat", "2 7/8", "2 7/8", 8), ("plum", "5 1/4", "5 1/4", 2)],
    ),
    "churn dashes": (
        "9",
        17,
        [
            ("oat", "3 7/8", "3 7/8", 2),
            ("oat", "3 1/2", "2", 4),
            ("oat", "3 1/2", "3 1/2", 1),
            ("plum", "3 7/8", "3 7/8", 2),
            ("plum", "3 1/2", "2", 4),
        ],
    ),
    "friendship stars": (
        "6",
        13,
        [
            ("oat", "2 1/2", "2 1/2", 4),
            ("oat", "2 7/8", "2 7/8", 2),
            ("plum", "2 7/8", "2 7/8", 2),
            ("plum", "2 1/2", "2 1/2", 1),
        ],
    ),
    # the geese of the worked example of four at a time: 3 x 6 from 7 1/4 and four of 3 7/8
    "sawtooth stars": (
        "12",
        17,
        [
            ("oat", "3 1/2", "3 1/2", 4),
            ("oat", "7 1/4", "7 1/4", 1),
            ("plum", "3 7/8", "3 7/8", 4),
            ("bark", "6 1/2", "6 1/2", 1),
        ],
    ),
    # 4 hourglasses of 3, two from a pair of squares of 4 1/4
    "Ohio stars": (
        "9",
        21,
        [
            ("oat", "3 1/2", "3 1/2", 4),
            ("oat", "4 1/4", "4 1/4", 2),
            ("plum", "4 1/4", "4 1/4", 2),
            ("bark", "3 1/2", "3 1/2", 1),
        ],
    ),
    "shooflies": (
        "12",
        13,
        [
            ("oat", "4 7/8", "4 7/8", 2),
            ("oat", "4 1/2", "4 1/2", 4),
            ("plum", "4 7/8", "4 7/8", 2),
            ("plum", "4 1/2", "4 1/2", 1),
        ],
    ),
    # 4 paws: 1 corner, 4 claws, 1 square of 2 x 2; a cross of 4 bars and a centre
    "bear's paws": (
        "14",
        45,
        [
            ("oat", "2 1/2", "2 1/2", 4),
            ("oat", "2 7/8", "2 7/8", 8),
            ("oat", "2 1/2", "6 1/2", 4),
            ("plum", "4 1/2", "4 1/2", 4),
            ("bark", "2 7/8", "2 7/8", 8),
            ("bark", "2 1/2", "2 1/2", 1),
        ],
    ),
    "spools": (
        "6",
        13,
        [
            ("oat", "2 7/8", "2 7/8", 2),
            ("oat", "2 1/2", "2 1/2", 2),
            ("plum", "2 7/8", "2 7/8", 2),
            ("plum", "2 1/2", "2 1/2", 2),
            ("bark", "2 1/2", "2 1/2", 1),
        ],
    ),
    "twenty-five patches": (
        "10",
        25,
        [("oat", "2 1/2", "2 1/2", 13), ("plum", "2 1/2", "2 1/2", 12)],
    ),
    "thirty-six patches": (
        "12",
        36,
        [("oat", "2 1/2", "2 1/2", 18), ("plum", "2 1/2", "2 1/2", 18)],
    ),
    "uneven nine patches": (
        "8",
        9,
        [
            ("oat", "2 1/2", "2 1/2", 4),
            ("plum", "4 1/2", "2 1/2", 4),
            ("bark", "4 1/2", "4 1/2", 1),
        ],
    ),
    # 5 four patches of squares of 2, 4 units of 4
    "Jacob's ladders": (
        "12",
        28,
        [
            ("oat", "2 1/2", "2 1/2", 10),
            ("plum", "2 1/2", "2 1/2", 10),
            ("oat", "4 7/8", "4 7/8", 2),
            ("plum", "4 7/8", "4 7/8", 2),
        ],
    ),
    # 5 small nine patches of squares of 1, 4 large squares of 3
    "double nine patches": (
        "9",
        49,
        [
            ("oat", "1 1/2", "1 1/2", 25),
            ("plum", "1 1/2", "1 1/2", 20),
            ("plum", "3 1/2", "3 1/2", 4),
        ],
    ),
    "pluses": (
        "9",
        7,
        [
            ("oat", "3 1/2", "3 1/2", 4),
            ("plum", "3 1/2", "3 1/2", 2),
            ("plum", "9 1/2", "3 1/2", 1),
        ],
    ),
    # 4 tips of 4, three squares of the leaf, and over the stem two corners of 3: 3 1/2
    "maple leaves": (
        "12",
        15,
        [
            ("oat", "4 1/2", "4 1/2", 1),
            ("oat", "4 7/8", "4 7/8", 2),
            ("plum", "4 7/8", "4 7/8", 2),
            ("plum", "4 1/2", "4 1/2", 3),
            ("bark", "4 1/2", "4 1/2", 1),
            ("oat", "3 1/2", "3 1/2", 2),
        ],
    ),
    # squares of 3, over two of them a corner of 1 1/2: 2
    "bow ties": (
        "6",
        6,
        [
            ("oat", "3 1/2", "3 1/2", 2),
            ("plum", "3 1/2", "3 1/2", 2),
            ("bark", "2", "2", 2),
        ],
    ),
}


# what is sewn over lies on another patch: so many halves of a square of the leg
HIDDEN = {
    "cuts/snowball middle": 4 * 2 * 2 / 2,
    "cuts/maple leaf stem": 2 * 3 * 3 / 2,
    "cuts/bow tie background": 2 * 1.5 * 1.5 / 2,
}


def made(many: str, size: str, count: int = 1, how: Conventions = HOW) -> Block:
    pattern = TRADITIONAL[many]
    cloths = CLOTHS[: len(pattern.cloths)]
    if many == "courthouse steps":
        return courthouse_steps(pattern.one, count, size, cloths, how)
    return pattern.block(pattern.one, count, size, cloths, how)


def rows(block: Block) -> list[tuple[str, str, str, int]]:
    return [
        (row.fabrics[0], HOW.show(row.width), HOW.show(row.length), row.count)
        for row in block.made.cuts
    ]


def test_every_block_is_worked_by_hand() -> None:
    """Arithmetic identity."""
    assert set(ONE) == set(TRADITIONAL)


@pytest.mark.parametrize("many", ONE)
def test_counts_and_sizes_by_hand(many: str) -> None:
    """Arithmetic identity."""
    size, patches, wanted = ONE[many]
    block = made(many, size)
    assert sorted(rows(block)) == sorted(wanted)
    assert len(block.patches) == patches
    assert block.made.notes == ()
    assert block.size == (HOW.read(size), HOW.read(size))


@pytest.mark.parametrize("many", ONE)
def test_four_blocks_need_four_times_as_much(many: str) -> None:
    """Every count above is even or one to a block, so that none of it is rounded (identity)."""
    size, _, wanted = ONE[many]
    four = [(*row[:3], 4 * row[3]) for row in wanted]
    assert sorted(rows(made(many, size, 4))) == sorted(four)


@pytest.mark.parametrize("many", ONE)
def test_patches_fill_the_block_and_each_has_its_row(many: str) -> None:
    """Oracle: shapely."""
    block = made(many, ONE[many][0])
    gap, overlap = of_block(block)
    assert gap == pytest.approx(0, abs=1e-12)
    assert overlap == pytest.approx(0, abs=1e-12)
    keys = {row.key for row in block.made.wanted}
    assert {patch.row for patch in block.patches} == keys
    assert len(keys) == len(block.made.wanted)


@pytest.mark.parametrize("many", ONE)
def test_each_cloth_covers_what_is_cut_of_it(many: str) -> None:
    """Identity: what is seen of a cloth is the area of its rows without seams; triangles are cut by two, or by four."""
    size, _, _ = ONE[many]
    block = made(many, size, 8)
    side = float(HOW.read(size)) / INCH
    row_of = {row.key: row for row in block.made.cuts}
    seen: Counter[str] = Counter()
    for patch in block.patches:
        seen[patch.row] += polygon(patch.corners).area * side * side
    for key, row in row_of.items():
        if row.note:
            continue
        width = row.width / INCH - 0.5
        length = row.length / INCH - 0.5
        area = width * length * row.count / block.count
        assert seen[key] == pytest.approx(area - HIDDEN.get(key, 0)), key


@pytest.mark.parametrize(
    ("halves", "square", "count"),
    [
        # 32 units of 3: worked examples of the identities for two, eight and four at a time
        pytest.param("two at a time", "3 7/8", 16, id="two"),
        pytest.param("eight at a time", "7 3/4", 4, id="eight"),
        # √2 (3 + 1/2) + 1/2 = 5.4497
        pytest.param("four at a time", "5 1/2", 8, id="four"),
        pytest.param("cut once", "3 7/8", 16, id="once"),
    ],
)
def test_triangles_are_made_as_she_makes_them(
    halves: str, square: str, count: int
) -> None:
    sewn = Sewn(halves=halves)  # type: ignore[arg-type]
    pattern = TRADITIONAL["pinwheels"]
    block = pattern.block("p", 8, "6", ("oat", "plum"), HOW, sewn)
    assert rows(block) == [
        ("oat", square, square, count),
        ("plum", square, square, count),
    ]


def test_geese_that_are_stitched_and_flipped() -> None:
    """Worked example of the identity: 3 x 6 from a rectangle of 6 1/2 x 3 1/2 and two squares of 3 1/2."""
    pattern = TRADITIONAL["sawtooth stars"]
    sewn = Sewn(geese="stitch and flip")
    block = pattern.block("star", 5, "12", CLOTHS, HOW, sewn)
    assert ("oat", "6 1/2", "3 1/2", 20) in rows(block)
    assert ("plum", "3 1/2", "3 1/2", 40) in rows(block)
    assert {spare.count for spare in block.made.spare} == {40}


def test_an_economy_block_by_hand() -> None:
    """Identity: 6 / 2 = 3, 3 / √2 + 0.8536 = 2.9749 and 3 + 0.8536 = 3.8536, cut 3 and 3 7/8; with 8: 3.6820, 4.8536."""
    for size, wanted in (
        ("6", ["3 1/2", "3", "3 7/8"]),
        ("8", ["4 1/2", "3 3/4", "4 7/8"]),
    ):
        block = economy("e", 3, size, CLOTHS, HOW)
        cut = [(HOW.show(row.width), row.count) for row in block.made.cuts]
        assert cut == list(zip(wanted, (3, 6, 6), strict=True))
        assert of_block(block) == pytest.approx((0, 0), abs=1e-12)
    inner = economy("e", 1, "6", CLOTHS, HOW).made.cuts[1]
    assert inner.why.startswith("6 / 2 / 1.4142 + ")


def test_a_plus_and_a_frame_by_hand() -> None:
    """Identity: (10 - 2) / 2 = 4 and 10 = 4 + 2 + 4; 12 = 2 + 8 + 2."""
    plus = pluses("plus", 20, "10", CLOTHS, HOW, "2")
    assert sorted(rows(plus)) == [
        ("oat", "4 1/2", "4 1/2", 80),
        ("plum", "10 1/2", "2 1/2", 20),
        ("plum", "2 1/2", "4 1/2", 40),
    ]
    framed = framed_squares("f", 3, "8", "2", CLOTHS, HOW)
    assert sorted(rows(framed)) == [
        ("oat", "8 1/2", "8 1/2", 3),
        ("plum", "12 1/2", "2 1/2", 6),
        ("plum", "2 1/2", "8 1/2", 6),
    ]
    assert framed.size == (HOW.read("12"),) * 2
    with pytest.raises(Problem, match="does not go into"):
        pluses("plus", 1, "10", CLOTHS, HOW, "10")
    with pytest.raises(Problem, match="is none"):
        framed_squares("f", 1, "8", "0", CLOTHS, HOW)


def test_the_sums_lead_from_the_block_to_the_count() -> None:
    """Arithmetic identity."""
    block = made("churn dashes", "9", 8)
    told = {row.name: row.why for row in block.made.cuts}
    assert told["churn dash background centre"] == (
        "9 / 3 = 3; finished 3 + 2 x 1/4 = 3 1/2; 1 to each of 8 blocks"
    )
    assert told["churn dash dash rail"] == (
        "9 / 3 = 3; 9 / 6 = 1 1/2; finished 3 x 1 1/2, + 2 x 1/4 each way = 3 1/2 x 2; 4 to each of 8 blocks"
    )
    assert "4 units to each of 8 blocks" in told["churn dash dash triangle"]


def test_a_size_without_clean_marks_is_told_once() -> None:
    """A third of 10 is 3 1/3, cut 3 7/8, shows 3 3/8; a sixth is 1 2/3, cut 2 1/4, shows 1 3/4, two of them 3 1/2.

    So the middle row is 3 1/2 + 3 3/8 + 3 1/2 = 10 3/8 wide.
    Invented.
    """
    notes = made("churn dashes", "10").made.notes
    assert len(notes) == 1
    assert "make a block of 10 3/8, not 10" in notes[0]
    assert "or choose 9 3/4 or 10 1/2" in notes[0]
    for size in ("9 3/4", "10 1/2"):
        assert made("churn dashes", size).made.notes == ()


def test_an_odd_number_of_units_is_told() -> None:
    """One pinwheel has 4 units; eight come of a pair of squares (identity)."""
    sewn = Sewn(halves="eight at a time")
    pattern = TRADITIONAL["pinwheels"]
    block = pattern.block("p", 1, "6", ("oat", "plum"), HOW, sewn)
    assert block.made.notes == (
        "p half-square triangles: 8 units come of it, 4 are wanted",
    )


def test_metric() -> None:
    """Identity: seam 0.75 cm; a third of 30 is 10: 11.5, and (2 + √2) x 0.75 = 2.56 more for triangles, cut 12.6."""
    how = Conventions.metric()
    block = made("shooflies", "30", 2, how)
    sizes = {how.show(row.width) for row in block.made.cuts}
    assert sizes == {"11.5", "12.6"}


def test_rails_of_any_number() -> None:
    """One rail for each cloth; more rails take cloths by turns (identity)."""
    four = rail_fence("r", 6, "8", ("oat", "plum", "bark", "mist"), HOW)
    assert [row[1:] for row in rows(four)] == [("2 1/2", "8 1/2", 6)] * 4
    five = rail_fence("r", 6, "10", ("oat", "plum"), HOW, rails=5)
    assert rows(five) == [
        ("oat", "2 1/2", "10 1/2", 18),
        ("plum", "2 1/2", "10 1/2", 12),
    ]
    assert rail_fence("r", 1, "6", ("oat",), HOW).made.cuts[0].count == 3
    with pytest.raises(Problem, match="of 2 rails, from 3 fabrics"):
        rail_fence("r", 6, "6", CLOTHS, HOW, rails=2)


def test_rail_fences_turn_every_other_one() -> None:
    """Arithmetic identity."""
    upright = ClothWanted(fabrics=("oat",), upright=True)
    block = rail_fence("r", 6, "6", (upright, "plum", "bark"), HOW)
    assert block.turns == "by turns"
    assert block.made.notes == (
        "r: every other block is turned, and its print with it",
    )


def test_courthouse_steps_by_centre_and_logs() -> None:
    """Identity: centre 2 and 2 rounds of 1: sides 2 and 4, ends 4 and 6, block 6; each and a seam on every side."""
    block = courthouse_steps("c", 3, None, CLOTHS, HOW, centre="2", log="1", rounds=2)
    assert block.size == (6 * INCH, 6 * INCH)
    assert rows(block) == [
        ("oat", "2 1/2", "2 1/2", 3),
        ("plum", "1 1/2", "2 1/2", 6),
        ("bark", "4 1/2", "1 1/2", 6),
        ("plum", "1 1/2", "4 1/2", 6),
        ("bark", "6 1/2", "1 1/2", 6),
    ]
    same = courthouse_steps("c", 3, "6", CLOTHS, HOW, log="1", rounds=2)
    assert rows(same) == rows(block)
    same = courthouse_steps("c", 3, "6", CLOTHS, HOW, centre="2", rounds=2)
    assert rows(same) == rows(block)


@pytest.mark.parametrize(
    ("said", "what"),
    [
        pytest.param({"size": None, "log": "1"}, "lack a size", id="no size"),
        pytest.param({"size": "6", "log": "1"}, "leave no room", id="no centre"),
        pytest.param(
            {"size": "9", "centre": "2", "log": "1"},
            "2 and 6 logs of 1 come to 8, not 9",
            id="another size",
        ),
    ],
)
def test_courthouse_steps_that_do_not_come_out(said: dict[str, str], what: str) -> None:
    """Arithmetic identity."""
    with pytest.raises(Problem, match=what):
        courthouse_steps("c", 1, said.pop("size"), CLOTHS, HOW, **said)  # type: ignore[arg-type]


def test_snowballs_with_corners_of_her_own() -> None:
    """Identity: a finished leg of 1 1/2 wants a square of 2, sewn from corner to corner a seam outside of what is seen."""
    block = snowballs("s", 4, "9", ("oat", "plum"), HOW, corner="1 1/2")
    assert rows(block) == [("oat", "9 1/2", "9 1/2", 4), ("plum", "2", "2", 16)]
    # 2 - 1/4 x 1.4142 = 1.6464
    assert float(block.made.spare[0].leg) / INCH == pytest.approx(1.6464, abs=1e-4)
    with pytest.raises(Problem, match="corners of 5 do not go into a block of 9"):
        snowballs("s", 4, "9", (), HOW, corner="5")


def test_an_upright_print_is_cut_as_it_stands() -> None:
    """Of the rails of a churn dash two lie and two stand: with an upright print they are two rows (identity)."""
    upright = ClothWanted(fabrics=("plum",), upright=True)
    pattern = TRADITIONAL["churn dashes"]
    block = pattern.block("c", 2, "9", ("oat", upright), HOW)
    rails = [row[1:] for row in rows(block) if row[0] == "plum" and "7" not in row[1]]
    assert sorted(rails) == [("2", "3 1/2", 4), ("3 1/2", "2", 4)]
    assert any("in triangles it lies as they are turned" in n for n in block.made.notes)


def test_fewer_cloths_than_slots() -> None:
    """The last stands for the rest: a star of two cloths has a centre like its points (identity)."""
    block = TRADITIONAL["sawtooth stars"].block("s", 1, "8", ("oat", "plum"), HOW)
    assert {row[0] for row in rows(block)} == {"oat", "plum"}
    assert ("plum", "4 1/2", "4 1/2", 1) in rows(block)
