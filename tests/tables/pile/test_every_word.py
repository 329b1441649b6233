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
from cutopt.tables.pile import patterns
from cutopt.tables.pile.reading import read_pile
from cutopt.tables.pile.stock import Stock
from cutopt.tables.pile.tokens import tokens_of
from tests.tables.pile.corpus import ASKED, CORPUS, FILLERS, SAID_TWICE
from tests.tables.pile.spoken import ASKED_BACK, NOT_SEVERAL, SPOKEN

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


def test_a_line_says_what_a_quilter_means() -> None:
    for line, says in CORPUS.items():
        piece = read(line)
        assert piece is not None, line
        assert (piece.count, piece.fabric) == (says.count, says.fabric)
        assert piece.size == (says.across * INCH, says.along * INCH), line
        assert len(piece.outline) == says.corners, line


def told(piece: Piece) -> str:
    """What a piece is, as the corpus of spoken lines writes it."""
    width, length = (f"{side / INCH:.4g}" for side in piece.size)
    facts = {
        piece.edges: piece.edges != "true",
        "about": piece.about,
        "grain unknown": not piece.grain_known,
        piece.washed: bool(piece.washed),
        piece.wish: bool(piece.wish),
        "triangle": len(piece.outline) == 3,
        "a corner missing": len(piece.outline) == 6,
        "a flaw": bool(piece.flaws),
        f"note {piece.note}": bool(piece.note),
    }
    size = f"{piece.count} {piece.fabric} {width} x {length}"
    return ", ".join([size, *(fact for fact, is_so in facts.items() if is_so)])


def test_lines_as_people_say_them() -> None:
    for line, pieces in SPOKEN.items():
        assert tuple(told(piece) for piece in pile(line)) == pieces, line


def test_no_pattern_begins_with_another_word(monkeypatch: pytest.MonkeyPatch) -> None:
    """Words that open no pattern are not tried: the tokens are those that trying each of them gives."""
    lines = [*CORPUS, *SPOKEN, *ASKED_BACK]
    quick = [tokens_of(line) for line in lines]
    every = {word.lower() for line in lines for word in re.findall(r"[^\W\d_]+", line)}
    monkeypatch.setattr(patterns, "OPENING", every)
    assert [tokens_of(line) for line in lines] == quick


def test_the_corpus_is_large() -> None:
    assert len(CORPUS) + len(SPOKEN) >= 200


def _is_used_or_told(line: str, at: int) -> None:
    """Nonsense in place of a word is a name, or a mistake."""
    try:
        pieces = pile(with_word(line, at, NONSENSE))
    except JobError:
        return
    named = " ".join(f"{one.name} {one.fabric} {one.note}" for one in pieces)
    assert NONSENSE in named, (line, at)


SPOKEN_WORDS = [(line, at) for line in SPOKEN for at in range(len(line.split()))]


def test_nonsense_in_place_of_a_word_is_a_name_or_a_mistake() -> None:
    for line, at in (*WORDS[::4], *SPOKEN_WORDS[::13]):
        _is_used_or_told(line, at)


@pytest.mark.slow
def test_nonsense_in_place_of_any_word_is_a_name_or_a_mistake() -> None:
    for line, at in (*WORDS, *SPOKEN_WORDS):
        _is_used_or_told(line, at)


def _says_something(line: str, at: int) -> None:
    """Without a word something else is said."""
    word = re.sub(r"\W+$", "", line.split()[at])
    less = read(with_word(line, at, ""))
    if (line, at) in SAID_TWICE:
        assert less == read(line), word
    elif word and word not in FILLERS:
        assert less != read(line), (line, word)


def test_without_a_word_something_else_is_said() -> None:
    for line, at in WORDS[::3]:
        _says_something(line, at)


@pytest.mark.slow
def test_without_any_word_something_else_is_said() -> None:
    for line, at in WORDS:
        _says_something(line, at)


@pytest.mark.parametrize("line", ASKED_BACK)
def test_what_is_asked_back_of_spoken_lines(line: str) -> None:
    with pytest.raises(JobError) as caught:
        pile(line)
    (problem,) = caught.value.problems
    assert ASKED_BACK[line] in problem.mend
    assert pile(ASKED_BACK[line])


@pytest.mark.parametrize("line", NOT_SEVERAL)
def test_what_may_be_said_of_one_piece_is_no_second_one(line: str) -> None:
    with pytest.raises(JobError):
        pile(line)


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
    assert bool(found) != bool(log.problems) or words[0].startswith("#")
