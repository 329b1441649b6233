"""Fabrics with the part of the whole that is cut from each: ``half navy, half cream``, ``ten each of navy and gold``."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import Final

from cutopt.tables.sentences.cloths import SHARE_WORDS
from cutopt.tables.sentences.places import Look
from cutopt.tables.sentences.vocabulary import Vocabulary
from cutopt.tables.sentences.words import Words

_SMALL: Final = ("of", "them", "from", "in", "and", "are", "squares", "blocks", "the")
_JOINTS: Final = ("and", ",", "&")
_BEFORE_SIZES: Final = ("of", "x", "by", "+", "most")
_HALVES: Final = ("half", "one half", "1/2")


@dataclass(frozen=True, slots=True, kw_only=True)
class Shared:
    """A fabric in words (`text`) and its share, with the words that say so."""

    text: str
    share: str
    start: int
    end: int


def shares_in(
    words: Words, vocabulary: Vocabulary, known: Collection[str]
) -> list[Shared]:
    """Each fabric with its share, struck off; none where fewer than two have one.

    Two halves of a block of several fabrics are two of its fabrics: they have no share then.

    Parameters
    ----------
    words : Words
    vocabulary : Vocabulary
    known : collection of str
        Names, tags and values of fabrics in lower case.
    """
    if not known:
        return []
    look = Look(words=words, vocabulary=vocabulary, known=known)
    found = list(_sites(look))
    if vocabulary.cloths == 1 and vocabulary.counted:
        found = found if len(found) > 1 else list(_of_each(look))
    halves = are_halves(found, vocabulary)
    if len(found) < 2 or (vocabulary.cloths > 1 and vocabulary.roles and not halves):
        return []
    for each in found:
        words.take(each.start, each.end)
    return found


def are_halves(found: list[Shared], vocabulary: Vocabulary) -> bool:
    """Whether they are two fabrics of each block, and not of half the blocks."""
    halves = [each for each in found if each.share in _HALVES]
    return vocabulary.cloths > 1 and len(halves) == len(found) == 2


def _sites(look: Look) -> Iterator[Shared]:
    """Each share with its fabric behind it."""
    i = 0
    while i < len(look.words.tokens):
        share, end = _share_at(look, i)
        cloth = look.cloth_at(look.behind(end, _SMALL)) if share else None
        if cloth is None:
            i += 1
            continue
        yield Shared(text=cloth.text, share=share, start=i, end=cloth.end)
        i = cloth.end


def _share_at(look: Look, i: int) -> tuple[str, int]:
    """The share that is said at a word, "" for none, and the word behind it."""
    words = look.words
    for share in SHARE_WORDS:
        end = i + len(share.split())
        free = set(range(i, end)) <= words.left
        if free and words.plains(i, end) == share.split():
            return share, end
    # where there is no count a number is a size
    number = _number_at(words, i) if look.vocabulary.counted else ""
    if number:
        return number, i + 1
    return "", i


def _number_at(words: Words, i: int) -> str:
    """A number that is no side of a size, "" for none."""
    if i not in words.left or words.tokens[i].whole is None:
        return ""
    if i and words.tokens[i - 1].plain in _BEFORE_SIZES:
        return ""
    return str(words.tokens[i].whole)


def _of_each(look: Look) -> Iterator[Shared]:
    """So many of each of several fabrics: ``twelve each navy and cream``, ``navy and cream, 12 of each``."""
    words = look.words
    for i in range(len(words.tokens)):
        number = _number_at(words, i)
        behind = look.behind(i + 1, ("of",))
        if not number or behind not in words.left:
            continue
        if words.tokens[behind].compared == "each":
            yield from _each(look, number, i, behind + 1)
            return


def _each(look: Look, number: str, start: int, end: int) -> Iterator[Shared]:
    """The fabrics of which there are so many each: behind these words, else all that are named."""
    cloth = look.cloth_at(look.behind(end, ("of", "in", "from")))
    at = 0 if cloth is None else look.behind(end, ("of", "in", "from"))
    first = start
    while at < len(look.words.tokens):
        each = look.cloth_at(at)
        if each is None or start <= at < end:
            at += 1
            continue
        # the words of the number go with the first fabric
        yield Shared(text=each.text, share=number, start=each.start, end=each.end)
        at = each.end
    look.words.take(first, end)
