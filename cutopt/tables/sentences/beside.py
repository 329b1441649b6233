"""Fabrics right before what is cut from them, and between that and its size: taken out of the sentence."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

from cutopt.tables.sentences.vocabulary import Vocabulary
from cutopt.tables.sentences.words import Words

# words between a thing and its fabric
_LINKS: Final = ("in", "of")


def fabrics_before(
    words: Words, vocabulary: Vocabulary, known: Collection[str]
) -> dict[str, str]:
    """Fabrics that stand right before what is cut from them (``plum cornerstones``), by the words of the phrase.

    They are struck out of the sentence, so that the words around them stand side by side.

    Parameters
    ----------
    words : Words
    vocabulary : Vocabulary
    known : collection of str
        Names, tags and values of fabrics in lower case.
    """
    found: dict[str, str] = {}
    for key, spelt in words.said_of(vocabulary.clothed):
        at = words.place_of(spelt)
        if at is None or key in found:
            continue
        start = words.fabric_starts(at, known)
        if start < at:
            found[key] = words.raw(start, at)
            alone = vocabulary.says_alone(spelt, key)
            words.strike_out(start, at if alone else at + len(spelt))
    return found


def fabric_within(words: Words, vocabulary: Vocabulary, known: Collection[str]) -> str:
    """A fabric between a size and what it is the size of (``2 oat sashing``, ``sashing oat 2``), struck out.

    Only in whole sentences it may stand before the size. "" for none.

    Parameters
    ----------
    words : Words
    vocabulary : Vocabulary
    known : collection of str
        Names, tags and values of fabrics in lower case.
    """
    for end in sorted(words.left):
        start = words.fabric_starts(end, known)
        if start == end or not start:
            continue
        before, behind = words.tokens[start - 1], words.tokens[end]
        if vocabulary.talk and before.plain in _LINKS and start > 1:
            before = words.tokens[start - 2]
        sized = before.kind == "number" and behind.plain in vocabulary.literals
        named = before.plain in vocabulary.literals and behind.kind == "number"
        if sized or (named and vocabulary.talk):
            name = words.raw(start, end)
            linked = words.tokens[start - 1] is not before
            words.strike_out(start - linked, end)
            return name
    return ""
