"""Which words of a sentence name cloths: those behind each "from", with its share, and fabrics that are known."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Final

from cutopt.errors import Problem
from cutopt.fabric_words import words_in
from cutopt.tables.sentences.cloths import (
    MIXTURES,
    SHARE_WORDS,
    cloths_in,
    is_whatever,
)
from cutopt.tables.sentences.patterns import all_at, size_at
from cutopt.tables.sentences.shares import are_halves, shares_in
from cutopt.tables.sentences.vocabulary import Vocabulary
from cutopt.tables.sentences.words import FILLERS, Words

# words between two fabrics, or between a fabric and what else is said
_BETWEEN: Final = {"with", "against", "on"}
_LEADS: Final = ("from", "of", "in", "is", "are", "=")
_JOINS: Final = ("and", "or", "|", "but")
_JOINTS: Final = ("with", "and", "a", "an", "the")


@dataclass(frozen=True, slots=True, kw_only=True)
class Clothing:
    """Words that name cloths, as typed, with the share or the mixture that stands before them."""

    text: str
    share: str = ""
    mixture: str = ""


def clothing_in(
    words: Words, vocabulary: Vocabulary, known: Collection[str]
) -> list[Clothing]:
    """What stands behind each "from" that is no part of an option; struck off.

    Parameters
    ----------
    words : Words
    vocabulary : Vocabulary
    known : collection of str
        Names, tags and values of fabrics in lower case.

    Raises
    ------
    Problem
        Where nothing stands behind one.
    """
    says_from = words.says_from()
    own = [i for i in says_from if not _option_before(words, i, vocabulary)]
    several = len(own) > 1
    found = []
    for start in own:
        behind = next((i for i in says_from if i > start), len(words.tokens))
        end = _end_of_names(words, start, behind, vocabulary)
        end = _end_of_known(words, start, end, known)
        end = _without_options(words, start, end, vocabulary)
        share, first = _share_before(words, start, numbers=several)
        if not several and share[:1].isdigit():
            # the width of the only cloth is no share: flange 1/4 from gold
            share, first = "", start
        mixture, first = _mixture_before(words, first)
        within, behind_it = _unmixed(words, start + 1, end)
        text = words.raw(behind_it, end) or words.raw(start + 1, end)
        mixture = mixture or within
        if not text:
            what = f'"from" in "{words.text}" names no fabric'
            raise Problem(words.part, what, "write a fabric behind it, or from any")
        found.append(Clothing(text=text, share=share, mixture=mixture))
        words.take(first, end)
    return found


def _option_before(words: Words, at: int, vocabulary: Vocabulary) -> int:
    """How many words before a "from" are an option that names a cloth: ``corner squares from plum``; 0 for none.

    An option names one: ``sashing and cornerstones from oat and plum`` names the cloths of the whole.
    """
    names = words.plains(at, words.clause_end(at))
    if "and" in names or "&" in names:
        return 0
    ways = (len(way) for way in vocabulary.before_cloths if _ends_at(words, at, way))
    return max(ways, default=0)


def _ends_at(words: Words, at: int, before: tuple[str, ...]) -> bool:
    start = at - len(before)
    return start >= 0 and tuple(words.plains(start, at)) == before


def _end_of_names(words: Words, start: int, behind: int, vocabulary: Vocabulary) -> int:
    """The word behind the names that a "from" has.

    Parameters
    ----------
    words : Words
    start, behind : int
        The place of this "from", and of the next.
    vocabulary : Vocabulary
    """
    end = words.clause_end(start)
    taken = (i for i in range(start + 1, end) if i not in words.left)
    end = next(taken, end)
    if behind < end:
        option = _option_before(words, behind, vocabulary)
        _, end = _share_before(words, behind, numbers=True)
        _, end = _mixture_before(words, min(end, behind - option))
        if words.tokens[end - 1].plain in ("and", "with"):
            end -= 1
    return end


def _end_of_known(words: Words, start: int, end: int, known: Collection[str]) -> int:
    """The end of the fabrics that are known, where other words stand behind them: ``from navy uprigt``."""
    if _all_known(words.raw(start + 1, end), known):
        return end
    for shorter in range(end - 1, start + 1, -1):
        whole = not _BETWEEN & set(words.plains(start + 1, shorter))
        if whole and _all_known(words.raw(start + 1, shorter), known):
            rest = words.raw(shorter, end)
            return end if _all_known(rest, known) else shorter
    return end


def _share_before(words: Words, at: int, *, numbers: bool) -> tuple[str, int]:
    """The share that stands before a "from", and its first word; a number only where several have one."""
    for share in SHARE_WORDS:
        spelt = tuple(share.split())
        if _ends_at(words, at, spelt):
            return share, at - len(spelt)
    if not numbers:
        return "", at
    last = at
    if _ends_at(words, at, ("of", "them")):
        last = at - 2
    if last and words.tokens[last - 1].whole is not None and not _sized(words, last):
        return str(words.tokens[last - 1].whole), last - 1
    return "", at


def _sized(words: Words, end: int) -> bool:
    """Whether the number before word `end` is a side of a size, or stands behind "of"."""
    return end > 1 and words.tokens[end - 2].plain in ("of", "x", "by", "+")


def _mixture_before(words: Words, at: int) -> tuple[str, int]:
    if at and words.tokens[at - 1].compared in MIXTURES:
        return words.tokens[at - 1].plain, at - 1
    return "", at


def _without_options(words: Words, start: int, end: int, vocabulary: Vocabulary) -> int:
    """The end of the names, where options or a size stand behind them without a comma."""
    found = True
    while found:
        found = False
        for i in range(start + 2, end):
            if _is_said_at(words, i, end, vocabulary):
                end = _without_joints(words, start, i)
                found = True
                break
    return end


def _without_joints(words: Words, start: int, end: int) -> int:
    """The end of the names without the small words that lead to an option: ``blossom with a repeat of 12``."""
    while end > start + 2 and words.tokens[end - 1].plain in _JOINTS:
        end -= 1
    return end


def _is_said_at(words: Words, i: int, end: int, vocabulary: Vocabulary) -> bool:
    """Whether the words from `i` to the end of the names are an option, or a size."""
    if words.tokens[i - 1].plain in _JOINS:
        return False
    if vocabulary.counted and i + 1 == end and words.tokens[i].whole is not None:
        return True
    said = all_at(vocabulary.tree, words.tokens, i, end, words.text)
    for found in said.values():
        if found.end != end:
            continue
        # "oat lined with plum": of a cloth that an option names only this shows that it begins
        if not found.cloth or words.tokens[i + 1].plain == "with":
            return True
    if not vocabulary.sized:
        return False
    of = words.tokens[i].plain == "of"
    read = size_at(words.tokens, i + of, end)
    return read is not None and read[1] == end and (of or read[2])


def fabrics_behind(
    words: Words, vocabulary: Vocabulary, known: Collection[str]
) -> dict[str, str]:
    """A fabric right behind what is cut from it (``cornerstones plum``, ``sashing in oat``), by the words of its phrase.

    It is struck out of the sentence with the word that leads to it, so that the words around stand side by side.

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
        end = at + len(spelt)
        first = end + (words.plains(end, end + 1) in [[each] for each in _LEADS])
        last = _end_of_one(words, first, known)
        if last > first:
            found[key] = words.raw(first, last)
            words.strike_out(end, last)
            if not vocabulary.says_alone(spelt, key):
                words.strike_out(at, end)
    return found


def _end_of_one(words: Words, first: int, known: Collection[str]) -> int:
    """The word behind the fabric that begins with word `first`; `first` where none does."""
    end = words.clause_end(first)
    for last in range(end, first, -1):
        free = set(range(first, last)) <= words.left
        names = words.plains(first, last)
        one = not {"and", "with", "&", "on"} & set(names)
        if free and one and _all_known(words.raw(first, last), known):
            return last
    return first


def bare_clothing(
    words: Words, vocabulary: Vocabulary, known: Collection[str]
) -> list[Clothing]:
    """Fabrics without "from": those that are known, and in some parts whatever is left over first; struck off.

    Parameters
    ----------
    words : Words
    vocabulary : Vocabulary
    known : collection of str
        Names, tags and values of fabrics in lower case.
    """
    runs = [_trimmed(words, *run, vocabulary.small) for run in words.clauses()]
    apart = [(*_unmixed(words, *run), run[1]) for run in runs]
    named = [each for each in apart if _all_known(words.raw(*each[1:]), known)]
    if not named and vocabulary.bare_cloth:
        named = [each for each in apart if each[1] < each[2]]
    for mixture, start, end in named[:1]:
        text = words.raw(start, end)
        words.take(start - bool(mixture), end)
        return [Clothing(text=text, mixture=mixture)]
    return []


def _unmixed(words: Words, start: int, end: int) -> tuple[str, int]:
    """A word such as *scrappy* before fabrics, and the first word behind it."""
    if start < end and words.tokens[start].compared in MIXTURES:
        return words.tokens[start].plain, start + 1
    return "", start


def shared_clothing(
    words: Words, vocabulary: Vocabulary, known: Collection[str]
) -> list[Clothing]:
    """Fabrics without "from", each with its share of the whole; struck off.

    Parameters
    ----------
    words : Words
    vocabulary : Vocabulary
    known : collection of str
        Names, tags and values of fabrics in lower case.
    """
    found = shares_in(words, vocabulary, known)
    if are_halves(found, vocabulary):
        return [Clothing(text=" and ".join(each.text for each in found))]
    return [Clothing(text=each.text, share=each.share) for each in found]


def more_clothing(
    words: Words, clothed: list[Clothing], known: Collection[str]
) -> list[Clothing]:
    """The cloths with those that follow behind a comma: ``from navy, cream and gold`` names three.

    Parameters
    ----------
    words : Words
    clothed : list of Clothing
        Behind "from".
    known : collection of str
        Names, tags and values of fabrics in lower case.
    """
    if len(clothed) != 1:
        return clothed
    one = clothed[0]
    for run in list(words.clauses()):
        start, end = _trimmed(words, *run)
        mixture, start = _unmixed(words, start, end)
        text = words.raw(start, end)
        if text and _all_known(text, known):
            words.take(start - bool(mixture), end)
            if not is_whatever(text, known):
                one = replace(one, text=f"{one.text} and {text}")
    return [one]


def mixture_in(words: Words, *, apart: bool = False) -> str:
    """A word such as *scrappy* that stands apart from the fabrics, struck off; "" where there is none.

    Parameters
    ----------
    words : Words
    apart : bool
        Whether it is taken out of the sentence, so that the words around it stand side by side.
    """
    found = ""
    for i in sorted(words.left, reverse=apart):
        plain = words.tokens[i].plain
        if words.tokens[i].compared not in MIXTURES:
            continue
        words.take(i, i + 1)
        found = plain
        if apart:
            words.strike_out(i, i + 1)
    return found


def _trimmed(
    words: Words, start: int, end: int, small: Collection[str] = ()
) -> tuple[int, int]:
    """Without small words at both ends."""
    plains = words.plains(0, len(words.tokens))
    while start < end and (plains[start] in FILLERS or plains[start] in small):
        start += 1
    while start < end and (plains[end - 1] in FILLERS or plains[end - 1] in small):
        end -= 1
    return start, end


def _all_known(text: str, known: Collection[str]) -> bool:
    """Whether all the words are fabrics, tags or values that are known, or any of them."""
    if is_whatever(text, known):
        return True
    said = [word for cloth in cloths_in(text, known) for word in cloth.fabrics]
    return bool(said) and all(_is_known(word, known) for word in said)


def _is_known(word: str, known: Collection[str]) -> bool:
    plain = (re.sub(r"^any\s+", "", each.lower()) for each in words_in(word))
    return bool(known) and all(each in known or each == "any" for each in plain)
