"""What is told of a word that is not understood, with a mend that was tried: a sentence told to be written reads."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator
from typing import Final

from cutopt.errors import Problem
from cutopt.tables.columns import nearest
from cutopt.tables.sentences.vocabulary import Vocabulary

_VAGUE: Final = re.compile(
    r"\b(mostly|mainly|largely|a few|a bit of|several|lots of|plenty of|a little)\b",
    re.IGNORECASE,
)
_LEAVE: Final = "leave it out"
_BUT: Final = re.compile(r"(?:except|without|not|no|but not|but)\s+(.+)", re.IGNORECASE)


class NotUnderstood(Problem):
    """A word that nothing takes."""

    def __init__(self, part: str, word: str, text: str) -> None:
        super().__init__(part, f'"{word}" in "{text}" is not understood')
        self.word = word
        self.text = text


def mended(
    problem: NotUnderstood,
    vocabulary: Vocabulary,
    reads: Callable[[str], bool],
    known: Collection[str] = (),
) -> Problem:
    """The problem with a mend.

    Parameters
    ----------
    problem : NotUnderstood
    vocabulary : Vocabulary
    reads : callable
        Whether a sentence is understood.
    known : collection of str
        Names of fabrics in lower case: what she named is never to be left out.
    """
    vague = _VAGUE.search(problem.text)
    if vague and vocabulary.counted:
        what = f'"{vague[1]}" in "{problem.text}" is no number'
        return Problem(problem.field, what, _in_numbers(problem.text, reads))
    unknown = _no_fabric(problem.word, vocabulary)
    if unknown:
        what = f'"{unknown}" in "{problem.text}" is neither a fabric nor a tag of one'
        mend = "add it to fabrics.csv, or write one that is there"
        return Problem(problem.field, what, mend)
    mend = _mend(problem.word, problem.text, vocabulary, reads)
    fabric = next((each for each in runs(problem.word) if each.lower() in known), "")
    if fabric and mend.startswith(f"{_LEAVE},"):
        mend = f"say what {fabric} is for{mend.removeprefix(_LEAVE)}"
    return Problem(problem.field, problem.what, mend)


def _no_fabric(word: str, vocabulary: Vocabulary) -> str:
    """What stands as a fabric before the place that it would be for (``brown paws``), "" where nothing does."""
    words = word.lower().split()
    for place in vocabulary.places:
        rest = len(words) - len(place.words)
        if place.keys and rest > 0 and tuple(words[rest:]) == place.words:
            return " ".join(word.split()[:rest])
    return ""


def _in_numbers(text: str, reads: Callable[[str], bool]) -> str:
    """The mend of ``mostly navy, a few gold``: the sentence with numbers, to be changed to hers."""
    like = "write how many of each, such as 40 from navy and 9 from gold"
    first = _VAGUE.search(text)
    count = re.search(r"\d+", text)
    if first is None or count is None:
        return like
    named = re.findall(rf"{_VAGUE.pattern}\s+([^,;.]+)", text, re.IGNORECASE)
    fabrics = [
        re.sub(r"\s+(?:and|or)\s+|\s*&\s*", "|", each[1].strip()) for each in named
    ]
    few = max(1, int(count[0]) // (3 + len(fabrics)))
    numbers = [int(count[0]) - few * (len(fabrics) - 1), *[few] * (len(fabrics) - 1)]
    parts = [f"{n} from {of}" for n, of in zip(numbers, fabrics, strict=True)]
    head = text[: first.start()].rstrip(" ,;")
    sentence = f"{head}, {' and '.join(parts)}"
    if reads(sentence):
        return f'write your numbers, such as "{sentence}"'
    return like


def _mend(
    word: str, text: str, vocabulary: Vocabulary, reads: Callable[[str], bool]
) -> str:
    rest = _without(word, text)
    but = _BUT.fullmatch(word)
    if but:
        return _all_but(but[1], rest, vocabulary, reads)
    for typed, near in _nearest(word, vocabulary):
        sentence = text.replace(typed, near, 1)
        if reads(sentence):
            return f'did you mean "{near}"? write "{sentence}"'
    moved = f"{rest} from {word}"
    plain = re.fullmatch(r"[^\W\d][^,;:]*", word)
    apart = re.search(rf"[,;]\s*{re.escape(word)}", text)
    if plain and not apart and "from" not in text.split() and reads(moved):
        return f'if it is a fabric write "{moved}"'
    options = ", ".join(phrase.shown for phrase in vocabulary.all_phrases)
    if reads(rest):
        return f"{_LEAVE}, or say it in these words; the options are: {options}"
    return f'write it like "{vocabulary.like}"; the options are: {options}'


def _without(word: str, text: str) -> str:
    """A sentence without a word and the comma before it."""
    pattern = rf",?\s*{re.escape(word)}\s*"
    rest = re.sub(pattern, " ", text, count=1)
    tidy = re.sub(r"\s+([,;:])", r"\1", " ".join(rest.split()))
    return tidy.strip(" ,;")


def _nearest(word: str, vocabulary: Vocabulary) -> Iterator[tuple[str, str]]:
    """Words of a text that are like a phrase, and that phrase, the longest first."""
    by_key = {phrase.key: phrase for phrase in vocabulary.all_phrases}
    for typed in runs(word):
        guess = nearest(typed, by_key, 0.75)
        if guess:
            # "drip 3" has its number: then the words alone are meant
            yield typed, guess
            yield typed, by_key[guess].shown


def runs(text: str) -> Iterator[str]:
    """Every run of the words of a text, the longest first."""
    words = text.split()
    for length in range(len(words), 0, -1):
        for start in range(len(words) - length + 1):
            yield " ".join(words[start : start + length])


def _all_but(
    thing: str, rest: str, vocabulary: Vocabulary, reads: Callable[[str], bool]
) -> str:
    """The mend of ``except cream`` and of ``no sashing``.

    Parameters
    ----------
    thing, rest : str
        What is not to be, and the sentence without it.
    vocabulary : Vocabulary
    reads : callable
        Whether a sentence is understood.
    """
    sentence = f"{rest} from any but {thing}"
    if vocabulary.counted and reads(sentence):
        return f'write "{sentence}"'
    if reads(rest):
        return f'leave it out and write "{rest}": nothing is done that is not said'
    return f'write it like "{vocabulary.like}"'
