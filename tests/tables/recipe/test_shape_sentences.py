"""Sentences of shapes and of articles: what is cut, and that whatever is not meant is told with a mend that reads.

The sums stand in tests/quilt/shapes; here is what a maker writes. Invented sentences.
"""

from __future__ import annotations

import re

import pytest

from cutopt.errors import Problem
from cutopt.lengths import INCH
from cutopt.quilt.conventions import DEFAULT
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.tables.recipe.kinds.articles import ARTICLES, article_of
from cutopt.tables.recipe.kinds.blocks import block_of
from cutopt.tables.recipe.kinds.by_their_box import BY_THEIR_BOX
from cutopt.tables.recipe.kinds.shapes import SHAPES
from cutopt.tables.recipe.quilt import quilt
from cutopt.wanted import Wanted
from tests.quilt.sums import inch

Size = tuple[int, str, str]


def told(rows: tuple[Wanted, ...]) -> list[Size]:
    """Count and size of each row, as a ruler shows them."""
    return [
        (row.count, DEFAULT.show(row.width), DEFAULT.show(row.length))  # type: ignore[union-attr]
        for row in rows
    ]


BLOCKS: dict[str, list[Size]] = {
    "20 60-degree triangles of 4 from oat, 6 to a strip": [
        (3, "4 3/4", "19 1/4"),
        (1, "4 3/4", "8 1/4"),
    ],
    "20 equilateral triangles, 4 high, 20 to a strip, from oat": [
        (1, "4 3/4", "57 5/8")
    ],
    "5 60° triangles of 4 from oat": [(1, "4 3/4", "16 1/2")],
    "5 sixty degree triangles finished 4 high from oat": [(1, "4 3/4", "16 1/2")],
    "5 60 degree triangles of 4 3/4 cut from oat": [(1, "4 3/4", "16 1/2")],
    "5 60-degree triangles of 4, by side, from oat": [(1, "4 1/4", "14 3/4")],
    "5 60-degree triangles, side 4, from oat": [(1, "4 1/4", "14 3/4")],
    "7 60-degree diamonds of 4 from oat": [(1, "4 1/2", "39")],
    "7 45-degree diamonds of 3 from oat": [(1, "2 5/8", "28 5/8")],
    "4 hexies of 2 from oat": [(1, "4", "18 1/2")],
    "4 2-inch hexagons from oat": [(1, "4", "18 1/2")],
    "4 hexagons, 3 flat to flat, from oat": [(1, "3 1/2", "16 1/4")],
    "4 hexagons of 1, over papers, from oat": [(4, "2 7/8", "2 1/2")],
    "4 EPP hexagons of 1, 1/4 to fold over, from oat": [(4, "2 5/8", "2 1/4")],
    "5 half hexagons of 4 from oat": [(1, "4", "35 5/8")],
    "10 tumblers of 4 x 4 1/2, narrow 3, from oat": [(1, "5", "40 5/8")],
    "10 tumblers, 4 wide, 4 1/2 high, narrow end 3, from oat": [(1, "5", "40 5/8")],
    "12 HRTs of 3 x 6 from oat and plum": [(6, "3 3/4", "7 3/8")] * 2,
    "12 templates of 5 x 7 cut from bark": [(12, "5", "7")],
    "12 templates of 5 x 7, 1/2 all round, from bark": [(12, "6", "8")],
    "12 curved pieces of 5 x 7 from bark": [(12, "5 1/2", "7 1/2")],
    "8 appliqué pieces of 2 x 3, turned under 3/16, from oat": [(8, "2 3/8", "3 3/8")],
    "8 applique pieces of 2 x 3, fused, from oat": [(8, "2 1/2", "3 1/2")],
    "16 paper-pieced bits of 2 x 3 from oat": [(16, "3", "4")],
    "16 paper-pieced bits of 2 x 3 plus 3/4 all round from oat": [
        (16, "3 1/2", "4 1/2")
    ],
    "6 squares of 4 fussy cut from blossom, repeat 12": [(1, "40 1/2", "28 1/2")],
    "6 squares of 4 from blossom, repeat 8 x 12, 2 to a piece": [
        (3, "20 1/2", "16 1/2")
    ],
    "12 T-shirt blocks of 12 x 14 from shirts and interfacing": [
        (12, "14 1/2", "16 1/2"),
        (12, "13 1/2", "15 1/2"),
    ],
}


@pytest.mark.parametrize("text", BLOCKS)
def test_blocks(text: str) -> None:
    assert told(block_of(text, DEFAULT).made.wanted) == BLOCKS[text]


ARTICLE: dict[str, list[Size]] = {
    "2 oblong cushions of 12 x 20 from oat and plum": [
        (2, "12 1/2", "20 1/2"),
        (4, "12 1/2", "13 1/4"),
    ],
    "2 cushions of 18, overlap 6, hem 2, from oat": [
        (2, "18 1/2", "18 1/2"),
        (4, "18 1/2", "14 1/4"),
    ],
    "2 pillowcases for standard pillows from oat and plum": [
        (2, "41", "26"),
        (2, "41", "11"),
    ],
    "2 pillow cases of 20 x 30, cuff 4, from oat": [(2, "41", "27"), (2, "41", "9")],
    "6 coasters from oat and plum": [(6, "4 1/2", "4 1/2")] * 2,
    "1 lined tote bag of 13 x 14 x 4, pocket 6 x 7, from oat and plum": [
        (2, "18", "17"),
        (2, "18", "17"),
        (2, "4", "24"),
        (1, "7", "9 1/2"),
    ],
}


@pytest.mark.parametrize("text", ARTICLE)
def test_articles(text: str) -> None:
    assert told(article_of(text, DEFAULT).wanted) == ARTICLE[text]


def test_each_fabric_of_a_tote_is_used() -> None:
    """Arithmetic identity."""
    of_two = article_of("1 lined tote of 13 x 14 x 4 from oat and plum", DEFAULT)
    assert [row.fabrics for row in of_two.wanted] == [("oat",), ("plum",), ("oat",)]
    text = "1 lined tote of 13 x 14 x 4 from oat and plum and bark"
    of_three = article_of(text, DEFAULT)
    assert [row.fabrics for row in of_three.wanted] == [("oat",), ("plum",), ("bark",)]


NAMED_APART = {
    "1 tote of 13 x 14 x 4 from oat, lining from plum, handles from bark": "oat plum bark",
    "1 tote of 13 x 14 x 4 from oat lined with plum": "oat plum oat",
    "1 tote of 13 x 14 x 4 from oat, straps from bark": "oat bark",
    "2 cushions of 18 from oat, backs from plum": "oat plum",
    "2 cushions of 18, backed with plum, from oat": "oat plum",
    "1 runner of 14 x 48 from oat, binding from bark": "oat oat bark",
    "6 place mats from oat, back from plum": "oat plum",
    "1 pot holder of 8 from oat, bound with plum": "oat plum",
    "2 pillowcases of 20 x 30 from oat, cuffs from plum, cuff 4": "oat plum",
}


@pytest.mark.parametrize("text", NAMED_APART)
def test_cloth_of_each_part_may_be_named_apart(text: str) -> None:
    """Invented sentences; what is named is counted by the names."""
    rows = article_of(text, DEFAULT).wanted
    assert [row.fabrics for row in rows] == [
        (name,) for name in NAMED_APART[text].split()
    ]


@pytest.mark.parametrize("kind", [*SHAPES, *BY_THEIR_BOX], ids=lambda kind: kind.one)
def test_what_is_told_to_be_written_reads(kind: object) -> None:
    like = kind.like  # type: ignore[attr-defined]
    assert block_of(like, DEFAULT).made.wanted


@pytest.mark.parametrize("kind", ARTICLES, ids=lambda kind: kind.one)
def test_articles_that_are_told_to_be_written_read(kind: object) -> None:
    assert article_of(kind.like, DEFAULT).wanted  # type: ignore[attr-defined]


MISTAKES = {
    "diamonds of 3 from oat": "60-degree diamonds",
    "20 60-degree triangles from oat": "does not say of what size",
    "20 60-degree triangles of 4, side 3, from oat": "or says it twice",
    "20 hexagons of 2 x 3 from oat": "a shape has one size",
    "20 hexagons of 3, by height, over papers, from oat": "side of the paper",
    "30 tumblers of 4 from oat": "narrow edge",
    "30 tumblers of 4 x 4, narrow 5, from oat": "cannot be 5 at its narrow edge",
    "12 half-rectangle triangles of 6 from oat and plum": "half-square triangles of 6",
    "12 templates of 5 x 7 cut, 1/2 all round, from bark": "has all round it already",
    "12 templates of 5 x 7 x 9 from bark": "not a width and a length",
    "8 applique pieces of 2 x 3, fused, turned under 1/4, from oat": "keep one",
    "6 squares of 4 from blossom, fussy": "motif to motif",
    "6 squares of 4 from blossom, fussy, repeat 8 x 9 x 12": "across and along",
    "6 squares of 4 from blossom, 2 to a piece": "of no use here",
    "12 T-shirt blocks of 12 from shirts": "does not name shirts and interfacing",
    "20 60-degree triangles of 4 from oat, at most 3 each": "1 to a strip",
    "30 half hexagons of 3 from oat and plum": "half from",
    "2 oblong cushions of 18 from oat": "not oblong",
    "2 pillowcases from oat": "the pillow that it is for",
    "2 pillowcases of 20 x 30 for king pillows from oat": "or the pillow",
    "2 totes of 13 x 14 x 4, pocket 6 x 7, from oat": "no lining",
    "2 totes of 13 x 14 x 4 from oat and plum and bark": "no lining",
    "2 cushions of 18 from oat and plum, backs from bark": 'nothing is cut from "plum"',
}


@pytest.mark.parametrize("text", MISTAKES)
def test_mistakes_are_told_and_their_mends_read(text: str) -> None:
    """Sizes and words are invented."""
    of_blocks = not re.search("cushion|pillow|tote", text)
    read = block_of if of_blocks else article_of
    with pytest.raises(Problem) as caught:
        read(text, DEFAULT)
    sentence = f"{caught.value.what}; {caught.value.mend}"
    assert MISTAKES[text] in sentence, sentence
    for mend in re.findall(r'write (?:it like )?"([^"]+)"', caught.value.mend):
        assert read(mend, DEFAULT), mend


def said(block: str) -> Quilt:
    return quilt(f'blocks = ["{block}"]\n')


def test_loose_shapes_take_no_place_in_a_setting() -> None:
    """Arithmetic identity."""
    made = quilt(
        'blocks = ["6 squares of 6", "20 hexagons of 2"]\nsetting = "2 across, 3 down"\n'
    )
    assert made.finished == (12 * INCH, 18 * INCH)
    assert [block.count for block in made.blocks] == [6, 20]


def test_the_quilt_knows_which_rows_are_strips_of_shapes() -> None:
    """Arithmetic identity."""
    made = said("leaf: 20 60-degree triangles of 4 from oat, 6 to a strip")
    assert [(each.row, each.count) for each in made.laid.values()] == [
        ("cuts/leaf strip of 6", 6),
        ("cuts/leaf strip of 2", 2),
    ]
    two = said("one and two: 20 60-degree triangles of 4 from oat, 6 to a strip")
    assert list(two.laid) == ["cuts/one", "cuts/two"]
    shared = said("20 hexagons of 2, half from oat and half from plum")
    assert {row.fabrics for row in shared.wanted} == {("oat",), ("plum",)}
    assert set(shared.laid) == {row.key for row in shared.wanted}


def test_an_upright_print_is_asked_to_stand_up_in_its_strip() -> None:
    """Sizes and words are invented."""
    (row,) = said("5 60-degree triangles of 4 from oat, upright").wanted
    assert row.upright
    assert row.length == inch("4 3/4")  # type: ignore[union-attr]
