"""Where the name of the fabric stands in a line, and what is asked about words in it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from cutopt.errors import Problem
from cutopt.tables.pile.asked_back import (
    NotUnderstood,
    is_near_a_word,
    name_or_word,
    no_fabric,
    unread,
)
from cutopt.tables.pile.phrases import COUNTED, OF_NAMES, slip_of_a_form
from cutopt.tables.pile.stock import Stock
from cutopt.tables.pile.tokens import Token

# number 9 is the name of a cloth, and no count
_NUMBERED: Final = ("number", "no", "no.", "nr", "nr.", "#")


# of a size that is not whole: 5 x 5 x 2
_SIGNS: Final = ("x", "×", "*", "by")


def words_from(body: str, token: Token) -> str:
    """The words from one to the next comma."""
    return body[token.start :].partition(",")[0].strip()


def fabric_run(text: str, body: str, tokens: Sequence[Token]) -> range:
    """The places of the words that name the fabric.

    Parameters
    ----------
    text, body : str
        The line, and what of it the words were taken from.
    tokens : sequence of Token

    Raises
    ------
    Problem
        Where there is no name, or a word that belongs to none.
    """
    quoted = [at for at, token in enumerate(tokens) if token.kind == "name"]
    plain = [at for at, token in enumerate(tokens) if token.kind == "plain"]
    if len(quoted) > 1:
        raise unread(text, "two names are in it", "one leftover a line")
    if quoted and plain:
        raise _refused(text, body, tokens, plain[0])
    if quoted:
        return range(quoted[0], quoted[0] + 1)
    if not plain:
        sized = any(token.kind == "size" for token in tokens)
        raise no_fabric(text, sized=sized)
    signs = [at for at in plain if tokens[at].text.lower() in _SIGNS]
    if signs:
        raise _refused(text, body, tokens, signs[0])
    size = _place_of_size(tokens)
    before = [at for at in plain if at < size]
    if before:
        run = range(before[0], before[-1] + 1)
    else:
        if is_near_a_word(words_from(body, tokens[plain[0]])):
            raise _refused(text, body, tokens, plain[0])
        run = _one_stretch(plain)
    behind = [at for at in plain if at not in run]
    if behind:
        raise _refused(text, body, tokens, behind[0])
    return _with_number(run, tokens)


def _refused(text: str, body: str, tokens: Sequence[Token], at: int) -> Problem:
    corners = any(token.kind == "less" for token in tokens)
    return NotUnderstood(text, words_from(body, tokens[at]), corners=corners)


def _place_of_size(tokens: Sequence[Token]) -> int:
    """Where the size stands; in a line without two lengths, the last length that is no count in front."""
    for at, token in enumerate(tokens):
        if token.kind in ("size", "across", "side"):
            return at
    lengths = [at for at, token in enumerate(tokens) if token.kind == "length"]
    if lengths and lengths[-1]:
        return lengths[-1]
    return len(tokens)


def _one_stretch(plain: Sequence[int]) -> range:
    last = plain[0]
    while last + 1 in plain:
        last += 1
    return range(plain[0], last + 1)


def _with_number(run: range, tokens: Sequence[Token]) -> range:
    """The run with a number behind it that is no count: ``number 9``, ``pear 2 11 x 7``."""
    at = run.stop
    if at >= len(tokens) or not tokens[at].is_bare:
        return run
    named = tokens[at - 1].text.lower() in _NUMBERED
    has_size = any(token.kind in ("size", "across", "side") for token in tokens[at:])
    counts = at + 1 < len(tokens) and tokens[at + 1].is_a(*COUNTED)
    if has_size and (named or not counts):
        return range(run.start, at + 1)
    return run


def check_name(
    text: str, body: str, tokens: Sequence[Token], run: range, stock: Stock
) -> None:
    """Ask about words in a name, or beside it, that are words of the grammar.

    Parameters
    ----------
    text, body : str
        The line, and what of it the words were taken from.
    tokens : sequence of Token
    run : range
        The places of the name.
    stock : Stock
        What is known: nothing is asked about the name of a fabric that the tables have.

    Raises
    ------
    Problem
        For the first that is in doubt.
    """
    if tokens[run.start].kind == "name":
        return
    name = body[tokens[run.start].start : tokens[run.stop - 1].end]
    plain = " ".join(name.lower().split())
    if plain in stock.fabrics:
        return
    for problem in _doubts(text, name, tokens, run):
        raise problem
    parts = re.split(r"\s+(?:and|or|&|\+)\s+", plain)
    if len(parts) > 1 and all(part in stock.fabrics for part in parts):
        what = f'"{name}" are fabrics of their own'
        raise unread(
            text, what, f"a line for each, or {_quoted(text, name)} if it is one"
        )


def _doubts(
    text: str, name: str, tokens: Sequence[Token], run: range
) -> Iterator[Problem]:
    beside = (token for at, token in enumerate(tokens) if at not in run)
    has_form = any(token.is_a(*COUNTED) for token in beside)
    for at in run:
        token = tokens[at]
        word = token.text
        if word.lower() == "or" and at > run.start and tokens[at - 1].is_bare:
            # 12 or 13 x 15
            yield NotUnderstood(text, words_from(text, tokens[at - 1]))
        joined = at > run.start and tokens[at - 1].text.lower() in ("and", "&", "+")
        if joined and (token.is_bare or token.is_a("number")):
            yield NotUnderstood(text, words_from(text, token))
        if _is_plain(token):
            slip = slip_of_a_form(word)
            if slip and not has_form:
                meant = text.replace(word, slip, 1)
                yield name_or_word(text, name, word, meant)
            continue
        without = " ".join(name.replace(word, " ", 1).split())
        meant = ""
        if token.is_a("form") and not has_form:
            meant = text.replace(name, f"{word} {without}", 1)
        elif token.kind == "comma":
            first, rest = (part.strip() for part in name.split(token.text, 1))
            line = text.replace(name, first, 1).rstrip(" .!")
            meant = f"{line}, note {rest}"
        elif token.is_a("word"):
            meant = _behind(text, name, without, word)
        yield name_or_word(text, name, word, meant)
    before = run.start - 1
    if before >= 0 and tokens[before].is_a("word"):
        means = tokens[before].means
        word = tokens[before].text
        if means is not None and {means.value, word.lower()} & {*OF_NAMES}:
            whole = f"{word} {name}"
            yield name_or_word(text, whole, word, _behind(text, whole, name, word))


def _is_plain(token: Token) -> bool:
    """Whether a word may stand in a name: ``out of the blue 2``."""
    if token.is_a("filler", "number"):
        return token.text.lower() != "each"
    return token.kind == "plain" or token.is_bare


def _behind(text: str, name: str, without: str, word: str) -> str:
    """The line with a word of the name at its end, before its flaws and note."""
    line = text.replace(name, without, 1)
    head, comma, rest = line.partition(",")
    return f"{head.rstrip()} {word}{comma}{rest}"


def _quoted(text: str, name: str) -> str:
    return text.replace(name, f'"{name}"', 1)


def number_or_name(text: str, word: str, number: int, name: str) -> Problem:
    """The problem of a number in words before a name, with no form between: ``two tone blue``.

    Parameters
    ----------
    text, word : str
        The line and the number in it.
    number : int
    name : str
        What stands behind it.
    """
    return name_or_word(
        text, f"{word} {name}", word, text.replace(word, str(number), 1)
    )
