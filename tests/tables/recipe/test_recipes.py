"""Sentences of quilt.toml against the sums they stand for, and the picture against the area it must fill."""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction

import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union

from cutopt.lengths import INCH, MM
from cutopt.quilt.conventions import DEFAULT
from cutopt.quilt.recipe.layout import MEASURED, patches_of
from cutopt.settings import Settings
from cutopt.tables.recipe.kinds.blocks import BLOCKS, block_of
from cutopt.tables.recipe.quilt import quilt
from cutopt.wanted import Cut
from tests.tables.recipe.recipes import DRAWN, POCKET, SIX
from tests.worked.six_quilts import six_quilts

WORKED = {each.key: each for each in six_quilts()}


@pytest.mark.parametrize("key", SIX)
def test_the_six_worked_quilts_in_sentences(key: str) -> None:
    """A sentence gives row for row what the functions give (arithmetic identities, checked in tests/quilt)."""
    said = quilt(SIX[key] + 'binding = "from binding"\n' + POCKET)
    worked = WORKED[key]
    numbers = Counter(
        (row.key, row.count, row.width, _long(row), row.fabrics)
        for row in worked.made.wanted
    )
    assert (
        Counter(
            (row.key, row.count, row.width, _long(row), row.fabrics)
            for row in said.wanted
        )
        == numbers
    )
    assert said.finished == (worked.made.width, worked.made.length)
    need = said.backing_size
    assert need is not None
    assert (need.width, need.length) == (worked.backing.width, worked.backing.length)


def _long(row: object) -> int:
    return getattr(row, "length", None) or row.total_length  # type: ignore[attr-defined,no-any-return]


@pytest.mark.parametrize("text", [*DRAWN.values(), *SIX.values()], ids=[*DRAWN, *SIX])
def test_the_patches_fill_the_quilt(text: str) -> None:
    """Areas add up to the finished size and no two overlap (arithmetic identity; union by shapely).

    Where blocks float on point, the ground below them is one patch more, and is left out.
    """
    made = quilt(text)
    assert made.finished is not None
    width, length = (float(side) for side in made.finished)
    patches = [Polygon(patch.corners) for patch in patches_of(made)]
    ground = patches[:1] if made.how.float_by else []
    rest = patches[len(ground) :]
    whole = unary_union(patches)
    assert whole.area == pytest.approx(width * length, rel=1e-9)
    assert whole.bounds == pytest.approx((0, 0, width, length), abs=1e-3)
    if ground:
        assert sum(p.area for p in rest) < width * length
    assert sum(p.area for p in rest) == pytest.approx(unary_union(rest).area, rel=1e-9)


@pytest.mark.parametrize("text", DRAWN.values(), ids=DRAWN)
def test_every_patch_is_of_a_wanted_row(text: str) -> None:
    made = quilt(text)
    keys = {row.key for row in made.wanted}
    assert {patch.row for patch in patches_of(made)} - {MEASURED} <= keys


@pytest.mark.parametrize(
    "name",
    [
        "squares",
        "oblongs",
        "two sizes",
        "four patches",
        "nine patches",
        "log cabins",
        "bars",
        "inner sashing",
        "framed sashing",
    ],
)
def test_as_many_patches_are_drawn_as_are_cut(name: str) -> None:
    """Where a patch is cut singly, drawing and cutting list count alike, and it is drawn in its finished size."""
    made = quilt(DRAWN[name])
    drawn = Counter(patch.row for patch in patches_of(made))
    rows = {row.key: row for row in made.wanted if row.key.startswith("cuts/")}
    assert drawn == Counter({key: row.count for key, row in rows.items()})
    for patch in patches_of(made):
        xs, ys = zip(*patch.corners, strict=True)
        sides = sorted((max(xs) - min(xs), max(ys) - min(ys)))
        row = rows[patch.row]
        cut = sorted((row.width - 2 * made.how.seam, _long(row) - 2 * made.how.seam))
        assert sides == pytest.approx(cut, abs=1)


def test_every_kind_is_drawn_here() -> None:
    text = "".join([*DRAWN.values(), *SIX.values()])
    missing = {
        kind.many for kind in BLOCKS if kind.many not in text and kind.one not in text
    }
    loose = {kind.many for kind in BLOCKS if not block_of(kind.like, DEFAULT).patches}
    assert missing <= loose | {"quarter-square triangles"}
    assert "hexagons" in loose


def test_pieces_that_are_sewn_first_and_cut_again() -> None:
    """Disappearing nine patch: c = 5 gives units of 6 1/2 finished (arithmetic identity)."""
    made = quilt(DRAWN["disappearing"])
    assert made.finished == (4 * Fraction(13, 2) * INCH,) * 2


def test_names_of_the_makers_own() -> None:
    """Sizes and words are invented."""
    made = quilt(
        'blocks = ["ink and milk: 4 four patches of 6 from plum and oat|mist, nice, at most 3 each"]\n'
    )
    first, second = made.wanted
    assert (first.name, second.name) == ("ink", "milk")
    assert second.fabrics == ("oat", "mist")
    assert (first.importance, first.most_each) == ("nice", 3)  # type: ignore[union-attr]
    assert made.finished is None


def test_metric_rounds_the_exact_size_up_once() -> None:
    """s = 0.75 cm, f = 10: exact 12.561, so 12.6; the thumb rule + 2.5 would be short (arithmetic identity)."""
    made = quilt('blocks = ["8 half-square triangles of 10"]\n', Settings.metric())
    assert {row.width for row in made.wanted} == {126 * MM}
    assert "12.56" in made.wanted[0].why


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("hourglasses of 6", "7 1/4"),  # + 1.2071, up to 1/8 (arithmetic identity)
        ("half-square triangles of 3", "3 7/8"),
        ("half-square triangles of 3, eight at a time,", "7 3/4"),
        ("half-square triangles of 3, four at a time,", "5 1/2"),
        ("flying geese of 6", "7 1/4"),
        ("squares in a square of 6", "4 3/4"),
        ("squares of 5 cut", "5"),
        ("nine patches of 12", "4 1/2"),
    ],
)
def test_sizes_as_cut(text: str, size: str) -> None:
    """Arithmetic identities, up to 1/8 in; the seam of 1/4 is common practice, no source."""
    from cutopt.lengths import parse_length

    made = quilt(f'blocks = ["8 {text} from oat"]\n')
    assert made.wanted[0].width == parse_length(size)


@pytest.mark.parametrize(
    ("sentence", "cuts"),
    [
        # envelope cushion of 18: 18 1/2 square and two 18 1/2 x 12 1/4 (arithmetic identity, overlap 4, hem 1)
        ("cushion of 18 from pear and oat", [(18.5, 18.5, 1), (18.5, 12.25, 2)]),
        # place mats 12 x 18 (common practice, no source)
        ("3 place mats from pear and oat", [(18.5, 12.5, 3), (18.5, 12.5, 3)]),
        ("2 pot holders of 8 from pear and oat", [(8, 8, 4)]),
        ("4 napkins of 18 cut", [(18, 18, 4)]),
        ("tote of 13 x 14 x 4 from bark and oat", [(18, 17, 2), (4, 24, 2)]),
        ("3 drawstring bags of 10 x 12 from pear", [(11, 15, 6)]),
        (
            "runner of 14 x 48 from pear and oat and bark",
            [(14.5, 48.5, 1), (18.5, 52.5, 1)],
        ),
        # pillowcase 20 x 30, cuff 5, seams 1/2: 41 round (arithmetic identity)
        ("pillowcase of 20 x 30 from pear and oat", [(41, 26, 1), (41, 11, 1)]),
    ],
)
def test_small_articles(sentence: str, cuts: list[tuple[float, float, int]]) -> None:
    """Sums are arithmetic identities. Overlap, hem, handles, the tops of bags, two layers to a mat or holder: common
    practice, no source. Sizes that are said are invented."""
    made = quilt(f'articles = ["{sentence}"]\n')
    got = [
        (row.width / INCH, row.length / INCH, row.count)
        for row in made.wanted
        if row.key.startswith("cuts/")
    ]  # type: ignore[union-attr]
    assert got == cuts


def test_a_top_alone_is_enough() -> None:
    """58 x 66 raw: binding 2 x (58 + 66) + 10 = 258 (identity), backing 2 in a side more (common practice, no source)."""
    made = quilt('top = "58 x 66"\n')
    (binding,) = made.wanted
    assert binding.total_length == 258 * INCH  # type: ignore[union-attr]
    assert "58" in binding.why
    need = made.backing_size
    assert need is not None
    assert (need.width, need.length, need.base) == (62 * INCH, 70 * INCH, "raw top")


def test_out_of_square_takes_the_larger_and_says_so() -> None:
    """Arithmetic identity."""
    made = quilt('top = "58, 57 3/4, 58 1/4 x 66"\n')
    assert made.top is not None
    assert made.top.width == Fraction(233, 4) * INCH
    assert "out of square" in made.notes[0]


def test_a_finished_size_says_its_base() -> None:
    """Identity; allowance of 10: common practice, no source."""
    made = quilt(
        'top = "60 x 80"\nmeasured = "finished"\nbinding = "2 1/4 from oat, straight joins"\n'
    )
    assert made.top is not None
    assert made.top.size("trimmed") == (
        Fraction(121, 2) * INCH,
        Fraction(161, 2) * INCH,
    )
    (binding,) = made.wanted
    assert binding.total_length == 292 * INCH  # type: ignore[union-attr]
    assert (binding.width, binding.join) == (9 * INCH // 4, "straight")  # type: ignore[union-attr]


def test_a_sleeve_and_no_binding() -> None:
    """Sleeve: 2 in shorter, hems of 1/2 in, 8 1/2 in deep (size common practice, no source)."""
    made = quilt('top = "40 x 50"\nbinding = "no"\nsleeve = "from oat"\n')
    (sleeve,) = made.wanted
    assert (sleeve.width, sleeve.total_length, sleeve.fabrics) == (
        17 * INCH // 2,
        39 * INCH,
        ("oat",),
    )  # type: ignore[union-attr]


SUMS = {
    **SIX,
    **DRAWN,
    "articles": (
        'articles = ["cushion of 18 from pear and oat", "3 place mats", "2 pot holders of 8", "4 napkins of 18 cut", '
        '"runner of 14 x 48", "pillowcase of 20 x 30", "tote of 13 x 14 x 4", "drawstring bag of 10 x 12"]\n'
    ),
    "sleeve": 'top = "40 x 50"\nsleeve = "from oat"\nbinding = "no"\n',
}


@pytest.mark.parametrize("name", SUMS)
def test_each_size_stands_in_its_line_of_arithmetic(name: str) -> None:
    """The width of a binding is chosen and not worked out; every other size that is cut is the end of a sum.

    Identity; sizes invented.
    """
    made = quilt(SUMS[name])
    for row in made.wanted:
        chosen = "binding" in row.name and not isinstance(row, Cut)
        sizes = [
            row.length if isinstance(row, Cut) else row.total_length,
            *([] if chosen else [row.width]),
        ]
        for size in sizes:
            assert re.search(
                rf"(?<![\d/]){re.escape(made.how.show(size))}(?![\d/])", row.why
            ), (row.name, row.why)
