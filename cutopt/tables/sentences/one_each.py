"""``one dark per block``, ``each star from one dark``: each block has one fabric there, whichever it is."""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Final

from cutopt.tables.sentences.cloths import MIXTURES, is_known
from cutopt.tables.sentences.words import Words

ANY_ONE: Final = "fabric"
# the words of a sentence are put together with this sign, which stands in none of them
_GAP: Final = "\x1f"
_ONE: Final = r"(?:(?:a|the|one|single|same|scrappy) )+"
_BLOCK: Final = r"(?:block|star|one|unit|square)"
_EVERY: Final = r"(?:each|every)(?: (?P<what>(?!from|in|of)[^ ]+))?"
_MADE: Final = r"(?: (?:is|made|cut|all))*(?: (?:from|in|of|out of))?"
_CLOTH: Final = r"(?P<cloth>[^ ]+)(?: (?:fabric|print))?"
_EACH: Final = r"(?:per|to|in|for)(?: (?:a|each|every|the|one))?"
_WAYS: Final = tuple(
    re.compile(rf"(?:(?<= )|^){way}(?= |$)".replace(" ", _GAP))
    for way in (
        rf"{_ONE}{_CLOTH} {_EACH} {_BLOCK}",
        rf"{_ONE}{_CLOTH} each(?: {_BLOCK})?",
        rf"{_EVERY}{_MADE} {_ONE}{_CLOTH}",
    )
)


def one_to_each(words: Words, known: Collection[str]) -> tuple[str, bool]:
    """The fabric of which each block has one, in words, and whether each is to have another.

    It is :data:`ANY_ONE` where any is meant, "" where nothing is said.

    What says so is struck out; the fabric stays where it is.

    Parameters
    ----------
    words : Words
    known : collection of str
        Names, tags and values of fabrics in lower case.
    """
    plains = words.plains(0, len(words.tokens))
    text = _GAP.join(
        plain if i in words.left else "," for i, plain in enumerate(plains)
    )
    for way in _WAYS:
        for found in way.finditer(text):
            cloth = found["cloth"]
            generic = cloth in (ANY_ONE, "print")
            if generic or (known and is_known(cloth, known)):
                differ = MIXTURES[1] in found[0].split(_GAP)
                _strike(words, text, found, keep=not generic)
                return ANY_ONE if generic else cloth.removesuffix("s"), differ
    return "", False


def _strike(words: Words, text: str, found: re.Match[str], *, keep: bool) -> None:
    """Strike out what was found, but for the fabric and for what of the block it is."""
    first, last = (_word(text, at) for at in found.span())
    kept = {_word(text, found.start("cloth"))} if keep else set()
    what = found.groupdict().get("what")
    if what and not re.fullmatch(_BLOCK, what):
        kept.add(_word(text, found.start("what")))
    for i in range(last, first - 1, -1):
        if i not in kept:
            words.strike_out(i, i + 1)


def _word(text: str, at: int) -> int:
    """Which word of the sentence a sign belongs to."""
    return text.count(_GAP, 0, at)
