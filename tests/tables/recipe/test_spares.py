"""`[how] spares` acts on every kind of part that is cut piece by piece, and on no other. All recipes are invented."""

from __future__ import annotations

import pytest

from cutopt.tables.recipe.quilt import quilt
from cutopt.wanted import Cut
from tests.tables.recipe.recipes import DRAWN

ARTICLES = (
    "2 cushions of 18",
    "2 pillowcases of 20 x 30",
    "runner of 14 x 40",
    "4 place mats",
    "4 mug mats",
    "2 burp cloths",
    "2 bibs",
    "2 pot holders of 8",
    "6 napkins",
    "tote of 13 x 14 x 4",
    "drawstring bag of 10 x 12",
)


def counts(text: str, spares: int) -> dict[str, tuple[type, int]]:
    head, _, how = text.partition("[how]\n")
    made = quilt(f"{head}\n[how]\n{how}spares = {spares}\n")
    return {row.name: (type(row), row.count) for row in made.wanted}


@pytest.mark.parametrize(
    "name", [name for name in DRAWN if name not in ("strip sets", "motifs")]
)
def test_blocks_triangles_sashing_and_cornerstones(name: str) -> None:
    """Two more of each piece; borders, long sashing and binding are mended by a join, so nothing is added to them."""
    plain = counts(DRAWN[name], 0)
    more = counts(DRAWN[name], 2)
    assert plain.keys() == more.keys()
    for row, (kind, count) in more.items():
        sash = any(word in row for word in ("long sash", "side sash", "end sash"))
        long = kind is not Cut or sash or row.endswith((" side", " end"))
        assert count == plain[row][1] + (0 if long else 2), row


@pytest.mark.parametrize("article", ARTICLES)
def test_articles(article: str) -> None:
    plain, more = (counts(f'articles = ["{article}"]\n', spares) for spares in (0, 1))
    for row, (kind, count) in more.items():
        assert count == plain[row][1] + (kind is Cut), row


def test_strip_sets_are_long_enough_for_spare_segments() -> None:
    """24 segments of 4 1/2, nine to a strip of 42: two of 40 1/2 and one of 27; with two spare, eight in that: 36."""
    text = 'blocks = ["24 strip sets of 2 + 1 + 3, segments 4"]\nbinding = "no"\n'
    plain, more = (quilt(f"{text}[how]\nspares = {spares}\n") for spares in (0, 2))
    for made, segments in ((plain, 24), (more, 26)):
        lengths = [
            row.count * row.length
            for row in made.wanted
            if isinstance(row, Cut) and "strip 1" in row.name
        ]
        assert sum(lengths) == segments * made.how.cut_size(made.how.read("4 1/2"))
    assert "for 24 segments and 2 spare" in more.notes[0]


def test_a_bias_tube_has_no_spare() -> None:
    plain, more = (
        counts('top = "40 x 50"\nbinding = "from oat, bias"\n', spares)
        for spares in (0, 3)
    )
    assert plain == more


def test_it_is_said_with_the_arithmetic() -> None:
    (row,) = quilt(
        'blocks = ["6 half-square triangles of 4 from oat and oat"]\n[how]\nspares = 2\n'
    ).wanted[:1]
    assert row.count == 5
    assert row.why.endswith("6 units: 3 of each fabric; 3 and 2 spare")
