"""Words whose meaning hangs on those beside them: an `and` between two facts, a `small` before a form."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from cutopt.tables.pile.phrases import Meaning
from cutopt.tables.pile.tokens import Token
from cutopt.tables.pile.ways_to_say import AT, FABRIC, OF_A_PRINT

_FILLER: Final = Meaning(kind="filler", value="")
_ODD: Final = Meaning(kind="odd", value="shaped")
_ELL: Final = Meaning(kind="ell", value="l")
AMOUNTS: Final = ("size", "across", "length", "side")


# more is never counted; Python refuses to read some thousands of figures
_MOST_FIGURES: Final = 9


def settled(tokens: Sequence[Token]) -> list[Token]:
    """The tokens, each a filler, a word of the grammar, or a plain word that may name the fabric.

    Parameters
    ----------
    tokens : sequence of Token
        As they were found, each by itself.
    """
    counted = any(_says_how_many(token) for token in tokens)
    cornered = any(token.kind == "less" for token in tokens)
    out: list[Token] = []
    for at, token in enumerate(tokens):
        before = out[-1] if out else None
        behind = tokens[at + 1] if at + 1 < len(tokens) else None
        if token.is_a("adjective"):
            # a long thin strip
            rest = (one for one in tokens[at:] if not one.is_a("adjective"))
            behind = next(rest, None)
        told = is_told(tokens[:at])
        if cornered and token.text == "L":
            token = replace(token, kind="phrase", means=_ELL)
        out.append(_settled(token, before, behind, told=told, counted=counted))
    return out


def is_told(before: Sequence[Token]) -> bool:
    """Whether both a fabric and how much of it there is stand in some tokens."""
    named = any(token.kind in ("plain", "name") for token in before)
    return named and any(_is_amount(token) for token in before)


def _is_amount(token: Token) -> bool:
    return token.kind in AMOUNTS or token.is_a("share", "precut", "bundle")


def _says_how_many(token: Token) -> bool:
    return token.is_bare or token.kind == "times" or token.is_a("number", "count")


def _is_a_count(token: Token | None) -> bool:
    """Whether a word behind a token tells that it is a count: ``4 of them``, ``2 @ 5 x 7``."""
    return token is not None and _says_how_many(token)


def _settled(
    token: Token,
    before: Token | None,
    behind: Token | None,
    *,
    told: bool,
    counted: bool,
) -> Token:
    """One token as it stands between two others.

    Parameters
    ----------
    token : Token
    before, behind : Token or None
        Its neighbours; None at the ends.
    told : bool
        Whether fabric and amount stand before it.
    counted : bool
        Whether the line says how many there are.
    """
    names_before = before is not None and before.kind == "plain"
    names_behind = behind is not None and behind.kind == "plain"
    prints = behind is not None and behind.text.lower() in OF_A_PRINT
    if token.is_a("block") and prints:
        return _plain(token)
    if token.is_a("adjective"):
        if behind is not None and behind.is_a("form", "ell", "odd", "block"):
            return replace(token, means=_FILLER)
        return _plain(token)
    if token.is_a("join"):
        if names_before and names_behind:
            return _plain(token)
        return replace(token, means=_FILLER)
    if token.is_a("soft"):
        if names_behind and " " not in token.text:
            return _plain(token)
        return replace(token, means=_FILLER)
    sized = behind is not None and behind.kind in AMOUNTS
    if token.text.lower() in AT and _is_a_count(before) and not sized:
        # 8 at the top
        return _plain(token)
    if token.is_a("tally") and not _is_a_count(before):
        if names_behind:
            return _plain(token)
        return replace(token, means=_FILLER)
    if token.is_a("vague") and counted and " " not in token.text:
        return _plain(token)
    if token.is_a("remark") and not told:
        return _plain(token)
    if token.is_a("source") and not told:
        if token.text.lower() == "from":
            return replace(token, means=_FILLER)
        return _plain(token)
    if token.is_a("filler") and token.text.lower() in FABRIC and not names_before:
        return _plain(token)
    if token.kind == "plain" and token.text.lower().endswith("shaped"):
        return replace(token, kind="phrase", means=_ODD)
    return token


def _plain(token: Token) -> Token:
    return replace(token, kind="plain", means=None)


def number_of(token: Token) -> int | None:
    """How many a word may say."""
    if token.is_bare:
        return int(token.text[:_MOST_FIGURES])
    if token.kind == "times":
        return int(token.parts[0][:_MOST_FIGURES])
    if token.means is not None and token.is_a("number", "count"):
        return int(token.means.value)
    return None
