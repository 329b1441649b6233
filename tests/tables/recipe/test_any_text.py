"""Whatever stands in a quilt.toml: it is a quilt, or every mistake is told with its place; nothing else is raised."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.errors import JobError, Problem
from cutopt.quilt.recipe.layout import patches_of
from cutopt.tables.recipe.quilt import KEYS, quilt
from tests.tables.recipe.recipes import DRAWN, SIX

WORDS = sorted(
    {
        word
        for text in [*DRAWN.values(), *SIX.values()]
        for word in text.replace('"', " ").split()
    }
)
ODD = [
    "",
    "0",
    "-3",
    "1/0",
    "1e9",
    "∞",
    "½",
    "x",
    "of of",
    "from",
    "from and",
    ":",
    ";",
    "made of",
    "9999999",
    "cut",
]
sentences = st.lists(
    st.sampled_from([*WORDS, *ODD]) | st.text(max_size=4), max_size=9
).map(" ".join)


def toml(text: str) -> str:
    plain = "".join(
        c
        for c in text
        if c >= " " and c not in "\\\x7f" and not "\ud800" <= c <= "\udfff"
    )
    return '"' + plain.replace('"', "'") + '"'


keys = st.sampled_from([key for key in KEYS if key != "how"])
lines = st.tuples(keys, sentences | st.lists(sentences, max_size=2)).map(
    lambda pair: (
        f"{pair[0]} = "
        + (
            toml(pair[1])
            if isinstance(pair[1], str)
            else f"[{', '.join(map(toml, pair[1]))}]"
        )
    )
)


def read_or_explained(text: str) -> None:
    problems: tuple[Problem, ...] = ()
    try:
        patches_of(quilt(text))
    except JobError as error:
        problems = error.problems
    assert all(problem.what and problem.file for problem in problems)


texts = st.lists(
    lines, max_size=5, unique_by=lambda line: line.split(" = ")[0]
) | st.lists(st.text(max_size=30))


@given(texts)
@settings(max_examples=60)
def test_some_of_anything_is_read_or_explained(text: list[str]) -> None:
    """Sizes and words are invented."""
    read_or_explained("\n".join(text))


@pytest.mark.slow
@given(texts)
@settings(max_examples=400)
def test_anything_is_read_or_explained(text: list[str]) -> None:
    """Sizes and words are invented."""
    read_or_explained("\n".join(text))


def out_of_place(text: str, data: st.DataObject) -> str:
    """A recipe with another word in the place of one of its own."""
    words = text.split(" ")
    at = data.draw(st.integers(0, len(words) - 1))
    words[at] = data.draw(st.sampled_from([*WORDS, *ODD]))
    return " ".join(words)


recipes = st.sampled_from([*DRAWN.values(), *SIX.values()])


@given(recipes, st.data())
@settings(max_examples=40)
def test_some_recipes_with_a_word_out_of_place(text: str, data: st.DataObject) -> None:
    """Sizes and words are invented."""
    read_or_explained(out_of_place(text, data))


@pytest.mark.slow
@given(recipes, st.data())
@settings(max_examples=400)
def test_a_recipe_with_a_word_out_of_place(text: str, data: st.DataObject) -> None:
    """Sizes and words are invented."""
    read_or_explained(out_of_place(text, data))
