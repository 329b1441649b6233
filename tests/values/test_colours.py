"""The named colours of the web are those of the standard, as matplotlib has them too."""

from __future__ import annotations

import pytest
from matplotlib.colors import CSS4_COLORS, is_color_like

from cutopt.colours import NAMED, WORDS, colour_of, is_told, said_colour


def test_the_named_colours() -> None:
    """W3C, CSS Color Module Level 4, section 6.1: 148 names, in lower case."""
    assert {word: number.lower() for word, number in CSS4_COLORS.items()} == NAMED
    assert len(NAMED) == 148


def test_every_word_is_a_colour() -> None:
    assert all(is_color_like(number) and len(number) == 7 for number in WORDS.values())


@pytest.mark.parametrize(
    ("text", "same"),
    [
        ("Navy", "navy"),
        ("light blue", "lightblue"),
        ("Forest-green stars", "forestgreen"),
        ("stripes, teal", "teal"),
        ("deep pink", "darkpink pink"),
        ("tan 2", "tan"),
    ],
)
def test_words_in_a_name(text: str, same: str) -> None:
    assert said_colour(text) == said_colour(same) != ""


@pytest.mark.parametrize(
    "text",
    ["", "curtain", "tangle", "redder", "#12", "#1234", "rgb(1,2,3)", 'red" onload="x'],
)
def test_what_says_no_colour_or_a_word_alone(text: str) -> None:
    assert said_colour(text) in ("", NAMED["red"])
    assert is_told(text, "") == bool(said_colour(text))


def test_its_own_colour_comes_first() -> None:
    assert colour_of("#ABC", "navy") == "#aabbcc"
    assert colour_of("teal", "navy") == NAMED["teal"]
    assert colour_of("", "navy") == NAMED["navy"]
    assert len({colour_of("", "curtain", place) for place in range(4)}) == 4
