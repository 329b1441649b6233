"""In the pile every word is used or told: no word can be changed or left out without a change, or a mistake told."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutopt.errors import JobError
from cutopt.fabric import Piece
from cutopt.lengths import INCH
from cutopt.settings import Settings
from cutopt.tables import pile
from cutopt.tables.log import Log
from cutopt.tables.pile.reading import read_pile
from cutopt.tables.pile.stock import Stock
from tests.tables.pile.corpus import ASKED, CORPUS, FILLERS, SAID_TWICE

NONSENSE = "quizzle"
LINES = sorted(CORPUS)
WORDS = [(line, at) for line in LINES for at in range(len(line.split()))]


def read(line: str) -> Piece | None:
    """The piece of a line; None where a mistake is told."""
    try:
        (piece,) = pile(line)
    except JobError:
        return None
    return piece


def with_word(line: str, at: int, word: str) -> str:
    """The line with another word in one place, or without it."""
    words = line.split()
    comma = "," if words[at].endswith(",") and word else ""
    words[at] = word + comma
    return " ".join(each for each in words if each)


@pytest.mark.parametrize("line", LINES)
def test_a_line_says_what_a_quilter_means(line: str) -> None:
    says = CORPUS[line]
    piece = read(line)
    assert piece is not None
    assert (piece.count, piece.fabric) == (says.count, says.fabric)
    assert piece.size == (says.across * INCH, says.along * INCH)
    assert len(piece.outline) == says.corners


def test_the_corpus_is_large() -> None:
    assert len(CORPUS) >= 60


@pytest.mark.parametrize(("line", "at"), WORDS)
def test_nonsense_in_place_of_a_word_is_a_name_or_a_mistake(line: str, at: int) -> None:
    piece = read(with_word(line, at, NONSENSE))
    if piece is not None:
        named = f"{piece.name} {piece.fabric} {piece.note}"
        assert NONSENSE in named


@pytest.mark.parametrize(("line", "at"), WORDS)
def test_without_a_word_something_else_is_said(line: str, at: int) -> None:
    word = re.sub(r"\W+$", "", line.split()[at])
    less = read(with_word(line, at, ""))
    if word and word not in FILLERS and (line, at) not in SAID_TWICE:
        assert less != read(line), word
    elif (line, at) in SAID_TWICE:
        assert less == read(line), word


@pytest.mark.parametrize("line", ASKED)
def test_what_is_in_doubt_is_asked_back_with_mends_that_read(line: str) -> None:
    with pytest.raises(JobError) as caught:
        pile(line)
    (problem,) = caught.value.problems
    assert f'"{line}"' in problem.what
    for mend in ASKED[line]:
        assert mend in problem.mend
        assert read(mend) is not None, mend


@pytest.mark.parametrize(
    ("line", "fabric", "corners"),
    [
        ("rust strip 3 x 4", "rust strip", 4),
        ("2 rust strip 3 x 4", "rust strip", 4),
        ("raw silk 3 x 4", "raw silk", 4),
        ("Raw Silk 3 x 4 raw", "Raw Silk", 4),
        ("triangle raw silk 3 x 4", "raw silk", 3),
        ("2 two tone blue 3 x 4", "two tone blue", 4),
        ("plum triangle 3 x 4", "plum", 3),
    ],
)
def test_a_fabric_of_the_tables_is_known_by_its_name(
    line: str, fabric: str, corners: int
) -> None:
    """With a row in fabrics.csv the quotes may be left out."""
    stock = Stock.of(Settings(), ["rust strip", "raw silk", "two tone blue", "plum"])
    log = Log()
    (placed,) = read_pile([(1, line)], "pile.txt", stock, log)
    assert placed.value.fabric.lower() == fabric.lower()
    assert len(placed.value.outline) == corners


def test_two_fabrics_of_the_tables_are_two_lines() -> None:
    log = Log()
    stock = Stock.of(Settings(), ["oat", "plum"])
    assert not read_pile([(1, "strip bundle of 40 oat and plum")], "p", stock, log)
    (problem,) = log.problems
    assert "fabrics of their own" in problem.what
    assert "a line for each" in problem.mend


WORDS_OF_ALL = sorted({word for line in LINES for word in line.split()})


@given(st.lists(st.sampled_from(WORDS_OF_ALL), min_size=1, max_size=8))
def test_any_words_give_a_piece_or_a_mistake(words: list[str]) -> None:
    log = Log()
    found = read_pile([(1, " ".join(words))], "pile", Stock(), log)
    assert len(found) + bool(log.problems) == 1 or words[0].startswith("#")
