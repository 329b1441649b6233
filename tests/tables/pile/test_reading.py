"""The pile in words: every form, every mistake with its line, and reading what was written."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from cutopt.errors import JobError, Problem
from cutopt.fabric import Piece
from cutopt.lengths import CM, INCH
from cutopt.tables import pile
from cutopt.tables.log import Log
from cutopt.tables.pile.missing_corners import rectangle_less
from cutopt.tables.pile.reading import read_pile
from cutopt.tables.pile.stock import Stock
from tests.tables.pile.pile_written import format_piece, format_pile


def inches(*corners: tuple[float, float]) -> tuple[tuple[int, int], ...]:
    """Corners in inches as ticks."""
    return tuple((int(Fraction(x) * INCH), int(Fraction(y) * INCH)) for x, y in corners)


def one(line: str, unit: str = "in") -> Piece:
    """The only piece of a line."""
    (piece,) = pile(line, unit)
    return piece


@pytest.mark.parametrize(
    "line",
    [
        "pear 11 x 7",
        "pear 11x7",
        "pear 11 × 7",
        'pear 11" x 7"',
        "pear 11 by 7",
        "  Pear  11 in x 17.78 cm  # mine",
        "pear 11 inches x 7 inches",
        "pear 11 inches by 17.78 centimetres",
    ],
)
def test_a_rectangle(line: str) -> None:
    piece = one(line)
    assert piece.outline == inches((0, 0), (11, 0), (11, 7), (0, 7))
    assert (piece.count, piece.edges, piece.about, piece.grain_known, piece.wish) == (
        1,
        "true",
        False,
        True,
        "",
    )
    assert piece.name.lower() == "pear-1"


@pytest.mark.parametrize(
    ("line", "fabric", "count", "size"),
    [
        ("4 strips bark 2 1/2 x 38", "bark", 4, (2.5, 38)),
        ("4 strips of bark 2½ x 38", "bark", 4, (2.5, 38)),
        ("strip bark 2-1/2 x 38", "bark", 1, (2.5, 38)),
        ("20 squares mist 5 cut", "mist", 20, (5, 5)),
        ("square mist 4 1/2", "mist", 1, (4.5, 4.5)),
        ("3 pear 11 x 7", "pear", 3, (11, 7)),
        ("2 pieces dark navy 18 x 30", "dark navy", 2, (18, 30)),
        ("any old blue 5/8 x .5", "any old blue", 1, (0.625, 0.5)),
        ('"number 9, x" 3 x 4', "number 9, x", 1, (3, 4)),
        ('2 strips "half #1" 3 x 4', "half #1", 2, (3, 4)),
        ("pear 2 11 x 7", "pear 2", 1, (11, 7)),
    ],
)
def test_counts_and_fabrics(
    line: str, fabric: str, count: int, size: tuple[float, float]
) -> None:
    piece = one(line)
    assert (piece.fabric, piece.count) == (fabric, count)
    assert piece.size == inches(size)[0]
    assert piece.is_rectangle


def test_an_l_and_other_missing_corners() -> None:
    """Outlines by hand, and shapely's difference of boxes as the oracle."""
    assert one("oat 20 x 14 less 7 x 4").outline == inches(
        (0, 0), (20, 0), (20, 10), (13, 10), (13, 14), (0, 14)
    )
    piece = one("oat 20 x 14 less 7 x 4 top left less 2 x 3 bottom right less 1 x 1")
    left = (
        box(0, 0, 20, 14) - box(0, 10, 7, 14) - box(18, 0, 20, 3) - box(19, 13, 20, 14)
    )
    assert Polygon([(x / INCH, y / INCH) for x, y in piece.outline]).equals(left)


def test_triangles() -> None:
    assert one("half square plum 14").outline == inches((0, 0), (14, 0), (0, 14))
    assert one("3 half-squares plum 14 x 14").count == 3
    assert one("triangle plum 14 x 9").outline == inches((0, 0), (14, 0), (0, 9))


def test_words_and_flaws() -> None:
    piece = one(
        "navy 18 x 30 about, raw, grain unknown, use first, stain 3 x 2 at 4 5, hole 1 x 1 at 9, 1/2, note old, soft"
    )
    assert (piece.about, piece.edges, piece.grain_known, piece.wish) == (
        True,
        "raw",
        False,
        "use first",
    )
    assert piece.flaws == (
        inches((4, 5), (7, 5), (7, 7), (4, 7)),
        inches((9, 0.5), (10, 0.5), (10, 1.5), (9, 1.5)),
    )
    assert piece.note == "old, soft"
    assert one("navy 18 x 30 raw about do not touch").wish == "do not touch"
    assert one("navy 18 x 30, Keep Whole").wish == "keep whole"


def test_names_are_counted_by_fabric() -> None:
    names = [
        piece.name
        for piece in pile("pear 3 x 3\n\n# old\nplum 3 x 3\nPear 4 x 4\n2 pear 5 x 5\n")
    ]
    assert names == ["pear-1", "plum-1", "pear-2", "pear-3"]


def test_centimetres() -> None:
    assert one("linen 32 x 24.5", "cm").size == (32 * CM, 245 * CM // 10)


MISTAKES = {
    "pear elven x 7": ("", "no size is found", "11 x 7"),
    "11 x 7": ("", "no fabric is named", "11 x 7 pear"),
    "pear 11": ("", "no size", "pear 11 x 7"),
    "pear": ("", "no size", "pear 11 x 7"),
    "pear 11 x -7": ("", '"x -7" is not understood', "pear 11 x 7"),
    "-3 strips bark 2 x 3": ("", "below 0", "4 strips bark 2 1/2 x 38"),
    "pear 3 1/4 yards by 13": ("", "where the width stands", "pear 13 x 3 1/4 yards"),
    "pear 11,5 x 7": ("", "decimal comma", "write pear 11.5 x 7"),
    "pear 1,000 x 7": (
        "",
        "may stand before thousands",
        "pear 1000 x 7 for thousands, or pear 1.000 x 7 for decimals",
    ),
    "strips bark 2 1/2": ("", "no size", "4 strips bark 2 1/2 x 38"),
    "square mist 5 x 6": ("", "one size", "20 squares mist 5 cut"),
    "oat 20 x 14 less 7 x 4 top lft": ("", '"top lft"', '"top left"'),
    "oat 20 x 14 less 7 x 4 somewhere": ("", "somewhere", "bottom left"),
    "pear 11 x 7 abuot": ("", '"abuot" is not understood', '"about"'),
    "pear 11 x 7, les 2 x 3": ("", '"les 2 x 3"', "about, raw, cut"),
    "pear 11 x 7 minus 3 x 3": (
        "",
        '"minus 3 x 3" is not understood',
        "write less 3 x 3 (a missing corner)",
    ),
    "pear 11 x 7 - 3 x 2 top left": ("", "top left", "write less 3 x 2 top left"),
    "pear 11 x 7 upside down": ("", "upside down", "less 7 x 4 (a missing corner)"),
    "pear 11 x 7, ragged all over": ("", "all over", "note all over"),
    "pear 11 x 7 less 2": ("", '"less 2"', "pear 11 x 7 less 7 x 4"),
    "pear 11 x 7, stain 3 x 2 at 4 1/2": ("flaw", "may be one length or two", "4, 1/2"),
    "pear 11 x 7, stain 3 x 2 at 9 5": ("flaws", "outside", "frame of the outline"),
    "pear 0 x 7": ("size", '"0" is nothing', "above 0"),
    "pear 9999 x 7": ("size", "100 m", "unit"),
    "pear 1/16 x 7": ("outline", "narrower", "unit"),
    "0 pear 2 x 3": ("count", "0 is too few", "1 or more"),
    "99999999999999 pear 2 x 3": ("count", "more than 10000", "check"),
    "pear|plum 2 x 3": ("fabric", "|", "letters"),
    "pear 11 x 7 less 12 x 3": ("less", "as large as the piece", "what is left"),
    "pear 11 x 7 less 2 x 3 less 1 x 1": (
        "less",
        "top right corner is taken off twice",
        "another corner",
    ),
    "pear 11 x 7 less 6 x 3 less 6 x 1 top left": ("less", "overlap", "sizes"),
    "pear 11 x 7 less 6 x 4 less 6 x 4 bottom left": ("less", "overlap", "sizes"),
    "triangle pear 11 x 7 less 2 x 3": ("less", "from a triangle", "pieces.csv"),
    "pear 11 x 7 cut raw": ("", "raw and cut", "one of the two"),
    "pear 11 x 7 washed, unwashed": ("", "washed and unwashed", "one of the two"),
    "pear 11 x 7, use first, keep whole": (
        "",
        "keep whole and use first",
        "one of the two",
    ),
}


@pytest.mark.parametrize("line", MISTAKES)
def test_a_line_that_cannot_be_read(line: str) -> None:
    field, what, mend = MISTAKES[line]
    with pytest.raises(JobError) as caught:
        pile(f"oat 3 x 3\n{line}")
    (problem,) = caught.value.problems
    assert (problem.file, problem.row, problem.field) == ("pile", 2, field)
    assert what in problem.what
    assert mend in problem.mend


def test_all_lines_are_reported() -> None:
    with pytest.raises(JobError) as caught:
        pile("\n".join(MISTAKES))
    assert [problem.row for problem in caught.value.problems] == list(
        range(1, len(MISTAKES) + 1)
    )


eighths = st.integers(2, 400).map(lambda n: n * INCH // 8)
fabrics = st.sampled_from(
    [
        "pear",
        "dark navy",
        "number 9",
        "half square",
        "less",
        '9" plaid',
        "Ω, mauve",
        "# 1",
        "3 x 4",
        "raw",
    ]
)
words = st.fixed_dictionaries(
    {
        "count": st.integers(1, 30),
        "edges": st.sampled_from(["true", "raw", "pinked"]),
        "washed": st.sampled_from(["", "washed", "unwashed"]),
        "about": st.booleans(),
        "grain_known": st.booleans(),
        "wish": st.sampled_from(["", "use first", "keep whole", "do not touch"]),
        "note": st.sampled_from(["", "from the barn", "old, soft"]),
    }
)


@st.composite
def pieces(draw: st.DrawFn) -> Piece:
    """A piece that the words can tell: a rectangle, one without corners, a right triangle, one with a flaw."""
    width = draw(eighths)
    length = draw(eighths)
    outline: tuple[tuple[int, int], ...] = ((0, 0), (width, 0), (0, length))
    flaws: list[tuple[tuple[int, int], ...]] = []
    if draw(st.booleans()):
        corners = draw(
            st.lists(
                st.sampled_from(
                    ["top left", "top right", "bottom left", "bottom right"]
                ),
                unique=True,
            )
        )
        less = [
            (
                c,
                draw(st.integers(1, width // 2 - 1)),
                draw(st.integers(1, length // 2 - 1)),
            )
            for c in corners
        ]
        outline = rectangle_less(width, length, less)
        if not less and min(width, length) > INCH and draw(st.booleans()):
            x = draw(st.integers(0, width - INCH))
            y = draw(st.integers(0, length - INCH))
            flaws.append(((x, y), (x + INCH, y), (x + INCH, y + INCH), (x, y + INCH)))
    return Piece(
        name="p",
        fabric=draw(fabrics),
        outline=outline,
        flaws=tuple(flaws),
        **draw(words),
    )


def _reads_back(some: list[Piece], unit: str) -> None:
    """Names are made anew; everything else is the same."""
    text = format_pile(some, unit)
    again = pile(text, unit)
    assert [replace(p, name="p") for p in again] == [replace(p, name="p") for p in some]
    assert pile(format_pile(again, unit), unit) == again


PILES = st.lists(pieces(), max_size=4)
UNITS = st.sampled_from(["in", "cm"])


@settings(deadline=None, max_examples=15)
@given(PILES, UNITS)
def test_what_is_written_reads_back(some: list[Piece], unit: str) -> None:
    _reads_back(some, unit)


@pytest.mark.slow
@settings(deadline=None)
@given(PILES, UNITS)
def test_whatever_is_written_reads_back(some: list[Piece], unit: str) -> None:
    _reads_back(some, unit)


def test_what_words_cannot_tell() -> None:
    slant = Piece(
        name="p", fabric="pear", outline=inches((0, 0), (9, 0), (5, 7), (3, 7))
    )
    with pytest.raises(
        Problem, match=r"p cannot be told in words; put it into pieces\.csv"
    ):
        format_piece(slant)


@settings(deadline=None)
@given(st.text(max_size=60))
def test_any_text_gives_pieces_or_problems(text: str) -> None:
    log = Log()
    for placed in read_pile(
        enumerate(text.splitlines(), 1), "pile", Stock.of_unit("in"), log
    ):
        assert placed.value.area > 0
    assert all(problem.row and problem.what for problem in log.problems)
