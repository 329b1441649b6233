"""What is told of a word that is not understood, with a mend that was tried: a sentence told to be written reads."""

from __future__ import annotations

import re
from collections.abc import Callable

from cutopt.errors import Problem
from cutopt.tables.columns import nearest
from cutopt.tables.sentences.vocabulary import Vocabulary


class NotUnderstood(Problem):
    """A word that nothing takes."""

    def __init__(self, part: str, word: str, text: str) -> None:
        super().__init__(part, f'"{word}" in "{text}" is not understood')
        self.word = word
        self.text = text


def mended(
    problem: NotUnderstood, vocabulary: Vocabulary, reads: Callable[[str], bool]
) -> Problem:
    """The problem with a mend.

    Parameters
    ----------
    problem : NotUnderstood
    vocabulary : Vocabulary
    reads : callable
        Whether a sentence is understood.
    """
    mend = _mend(problem.word, problem.text, vocabulary, reads)
    return Problem(problem.field, problem.what, mend)


def _mend(
    word: str, text: str, vocabulary: Vocabulary, reads: Callable[[str], bool]
) -> str:
    near = _nearest(word, vocabulary)
    if near:
        sentence = text.replace(word, near, 1)
        if reads(sentence):
            return f'did you mean "{near}"? write "{sentence}"'
    rest = _without(word, text)
    moved = f"{rest} from {word}"
    plain = re.fullmatch(r"[^\W\d][^,;:]*", word)
    apart = re.search(rf"[,;]\s*{re.escape(word)}", text)
    if plain and not apart and "from" not in text.split() and reads(moved):
        return f'if it is a fabric write "{moved}"'
    options = ", ".join(phrase.shown for phrase in vocabulary.all_phrases)
    if reads(rest):
        return f"leave it out, or say it in these words; the options are: {options}"
    return f'write it like "{vocabulary.like}"; the options are: {options}'


def _without(word: str, text: str) -> str:
    """A sentence without a word and the comma before it."""
    pattern = rf",?\s*{re.escape(word)}\s*"
    rest = re.sub(pattern, " ", text, count=1)
    tidy = re.sub(r"\s+([,;:])", r"\1", " ".join(rest.split()))
    return tidy.strip(" ,;")


def _nearest(word: str, vocabulary: Vocabulary) -> str:
    """The phrase most like a word, as it is told."""
    by_key = {phrase.key: phrase for phrase in vocabulary.all_phrases}
    guess = nearest(word, by_key, 0.7)
    if guess:
        return by_key[guess].shown
    return ""
