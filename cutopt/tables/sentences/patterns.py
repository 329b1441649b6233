"""Phrases that a vocabulary declares, and finding them among the words of a sentence.

A phrase is its words with placeholders in capitals: ``logs LENGTH``, ``NUMBER across``, ``corner squares CLOTH``. Other
ways to say it stand behind a bar: ``centre LENGTH|LENGTH centre``, or in brackets (`ways.py`). It is known by the words
of its first way, which has no brackets. Articles between its words say nothing: ``round the outside``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Final

from cutopt.tables.sentences.tokens import Token
from cutopt.tables.sentences.ways import Way, ways_in

PLACES: Final = ("LENGTH", "NUMBER", "SIZE", "CLOTH", "WORD", "WORDS")
QUALIFIERS: Final = ("cut", "finished", "unfinished")
_BEFORE_CLOTH: Final = ("from", "of", "in")
_ARTICLES: Final = ("the", "a", "an", "my", "our", "its")


@dataclass(frozen=True)
class Phrase:
    """A thing that can be said, with all the ways to say it."""

    told: str

    @cached_property
    def ways(self) -> tuple[Way, ...]:
        """Each way as its words; hyphens part words."""
        return ways_in(self.told)

    @cached_property
    def key(self) -> str:
        """The words by which it is known: ``logs`` of ``logs LENGTH``."""
        first = self.told.split("|", maxsplit=1)[0]
        return " ".join(word for word in first.split() if word not in PLACES)

    @cached_property
    def shown(self) -> str:
        """How it is told to a maker: ``logs 1``."""
        example = {"LENGTH": "2", "NUMBER": "10", "SIZE": "6 x 12", "CLOTH": "from oat"}
        first = self.told.split("|", maxsplit=1)[0]
        return " ".join(example.get(word, word) for word in first.split())


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A phrase found: the first of its words, the one behind its last, and what stands in its place.

    `words` is how many words it counts for, where that is not all of them.
    """

    start: int
    end: int
    value: str
    cloth: str = ""
    words: int | None = None

    @property
    def length(self) -> int:
        """How many words it is."""
        if self.words is not None:
            return self.words
        return self.end - self.start


def length_at(
    tokens: Sequence[Token], i: int, end: int
) -> tuple[str, int, bool] | None:
    """A length from word `i` on, the word behind it, and whether only a length reads so (a unit, *cut*).

    Parameters
    ----------
    tokens : sequence of Token
    i, end : int
        The first word, and the one behind the last that may be taken.
    """
    before = _qualifier_before(tokens, i, end)
    i += bool(before)
    if i >= end or tokens[i].kind != "number":
        return None
    token = tokens[i]
    text = token.length
    i += 1
    if before:
        return f"{text} {before}", i, True
    sure = bool(token.unit) or not token.number.isdigit()
    if i < end and tokens[i].plain in QUALIFIERS:
        text += f" {tokens[i].plain}"
        i += 1
        sure = True
    return text, i, sure


def _qualifier_before(tokens: Sequence[Token], i: int, end: int) -> str:
    """The word before a number that is said of it (``cut 2 1/2``), "" where none is, or where one stands behind it."""
    if i + 1 >= end or tokens[i].compared not in QUALIFIERS:
        return ""
    if i + 2 < end and tokens[i + 2].compared in (*QUALIFIERS, "x", "by", "+"):
        return ""
    return tokens[i].plain if tokens[i + 1].kind == "number" else ""


def size_at(tokens: Sequence[Token], i: int, end: int) -> tuple[str, int, bool] | None:
    """A size from word `i` on (``6 x 12 cut``, ``2 + 1 + 2``), as :func:`length_at` gives a length.

    Parameters
    ----------
    tokens : sequence of Token
    i, end : int
    """
    numbers: list[Token] = []
    sign = ""
    while i < end and tokens[i].kind == "number":
        numbers.append(tokens[i])
        i += 1
        # 12 cut x 14 cut is said too; the word behind the last holds for all
        skipped = i < end and tokens[i].plain in QUALIFIERS
        at = i + skipped
        if at >= end or not _joins(tokens, at, end, sign):
            break
        sign = _sign(tokens[at])
        i = at + 1
    if not numbers:
        return None
    unit = numbers[-1].unit
    sides = [(one if one.unit else replace(one, unit=unit)).length for one in numbers]
    text = f" {sign} ".join(sides)
    sure = len(numbers) > 1 or bool(unit) or not numbers[0].number.isdigit()
    if i < end and tokens[i].plain in QUALIFIERS:
        return f"{text} {tokens[i].plain}", i + 1, True
    return text, i, sure


def _sign(token: Token) -> str:
    if token.plain == "+":
        return "+"
    return "x"


def _joins(tokens: Sequence[Token], i: int, end: int, sign: str) -> bool:
    """Whether the word `i` joins two sides of a size, as the signs before it did."""
    if tokens[i].plain not in ("x", "by", "+"):
        return False
    same = not sign or _sign(tokens[i]) == sign
    return same and i + 1 < end and tokens[i + 1].kind == "number"


@dataclass(slots=True)
class Node:
    """What ways have in common as far as they are alike: how they go on, and which phrases end here."""

    on: dict[str, Node] = field(default_factory=dict)
    ends: list[int] = field(default_factory=list)


def tree_of(phrases: Sequence[Phrase]) -> Node:
    """All ways of phrases, those that begin alike joined; a phrase is known by its place."""
    root = Node()
    for number, phrase in enumerate(phrases):
        for way in phrase.ways:
            node = root
            for word in way:
                node = node.on.setdefault(word, Node())
            node.ends.append(number)
    return root


def all_at(
    tree: Node, tokens: Sequence[Token], i: int, end: int, text: str
) -> dict[int, Found]:
    """The phrases that are said from word `i` on, by their place, each in its longest way.

    Parameters
    ----------
    tree : Node
    tokens : sequence of Token
    i, end : int
        The first word, and the one behind the last of this clause that was not taken.
    text : str
        The sentence.
    """
    best: dict[int, Found] = {}
    open_ = [(tree, Found(start=i, end=i, value=""))]
    while open_:
        node, found = open_.pop()
        for number in node.ends:
            if number not in best or found.end > best[number].end:
                best[number] = found
        if found.end < end:
            open_ += _further(node, found, tokens, end, text)
    return dict(sorted(best.items()))


def _further(
    node: Node, found: Found, tokens: Sequence[Token], end: int, text: str
) -> Iterator[tuple[Node, Found]]:
    """Each way on with the next word."""
    i = found.end
    for word in PLACES:
        if word not in node.on:
            continue
        first = _behind_of(tokens, i, end, i - found.start)
        read = _PLACE[word](tokens, first, end, text)
        if read is not None and word == "CLOTH":
            yield node.on[word], replace(found, end=read[1], cloth=read[0])
        elif read is not None:
            value = f"{found.value} {read[0]}".strip()
            yield node.on[word], replace(found, end=read[1], value=value)
    if i > found.start:
        while i < end and tokens[i].compared in _ARTICLES:
            if tokens[i].compared in node.on:
                break
            i += 1
    if i < end and tokens[i].compared in node.on:
        yield node.on[tokens[i].compared], replace(found, end=i + 1)


def _behind_of(tokens: Sequence[Token], i: int, end: int, n: int) -> int:
    """``logs of 1`` is ``logs 1``."""
    if n and i < end and tokens[i].plain in ("of", "is", "="):
        return i + 1
    return i


def _length(
    tokens: Sequence[Token], i: int, end: int, _: str
) -> tuple[str, int] | None:
    read = length_at(tokens, i, end)
    if read is None:
        return None
    return read[0], read[1]


def _size(tokens: Sequence[Token], i: int, end: int, _: str) -> tuple[str, int] | None:
    read = size_at(tokens, i, end)
    if read is None:
        return None
    return read[0], read[1]


def _number(
    tokens: Sequence[Token], i: int, end: int, _: str
) -> tuple[str, int] | None:
    if i >= end or tokens[i].whole is None:
        return None
    return str(tokens[i].whole), i + 1


def _word(
    tokens: Sequence[Token], i: int, end: int, text: str
) -> tuple[str, int] | None:
    if i >= end or tokens[i].kind not in ("word", "name", "number"):
        return None
    if tokens[i].kind == "name":
        return tokens[i].plain, i + 1
    return text[tokens[i].start : tokens[i].end], i + 1


def _words(
    tokens: Sequence[Token], i: int, end: int, text: str
) -> tuple[str, int] | None:
    if i >= end:
        return None
    return text[tokens[i].start : tokens[end - 1].end], end


def _cloth(
    tokens: Sequence[Token], i: int, end: int, text: str
) -> tuple[str, int] | None:
    if i < end and tokens[i].plain in _BEFORE_CLOTH:
        i += 1
    at = i + 1 if i < end and tokens[i].plain in QUALIFIERS else i
    if at < end and tokens[at].kind == "number":
        return None
    return _words(tokens, i, end, text)


_PLACE: Final[
    dict[str, Callable[[Sequence[Token], int, int, str], tuple[str, int] | None]]
] = {
    "LENGTH": _length,
    "NUMBER": _number,
    "SIZE": _size,
    "CLOTH": _cloth,
    "WORD": _word,
    "WORDS": _words,
}
