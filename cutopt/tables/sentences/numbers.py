"""Which numbers of a sentence are its size, and which its count."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from cutopt.errors import Problem
from cutopt.tables.sentences.patterns import QUALIFIERS, size_at
from cutopt.tables.sentences.words import Words

_ONE: Final = ("a", "an")
_SIDES: Final = ("width", "height", "depth")
_MEASURES: Final = {
    "wide": "width",
    "across": "width",
    "high": "height",
    "tall": "height",
    "long": "height",
    "deep": "depth",
}
_DOZEN: Final = "dozen"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Size:
    """A size that may be meant; `sure` where nothing else reads so."""

    text: str
    start: int
    end: int
    sure: bool


def size_in(words: Words, *, counted: bool) -> str:
    """The size, struck off: behind "of", or what only a size reads like, or else the last number; "" for none.

    Parameters
    ----------
    words : Words
    counted : bool
        Whether the sentence may have a count: then its only number is that.

    Raises
    ------
    Problem
        Where it is said to be cut and finished.
    """
    sides = _measured(words)
    if sides:
        return f"{sides} {_qualifier(words)}".strip()
    found = _size_said(words, 1 if counted else 0)
    if found is None:
        return ""
    first = found.start - _is_at(words, found.start - 1)
    words.take(first, found.end)
    if not found.text.endswith(QUALIFIERS):
        return f"{found.text} {_qualifier(words)}".strip()
    said = found.text.split()[-1]
    other = _qualifier(words)
    if other and other != said:
        what = f'"{words.text}" says both {said} and {other}'
        raise Problem(words.part, what, "keep one of the two")
    return found.text


def _is_at(words: Words, i: int) -> bool:
    """Whether word `i` is the *at* of ``at 9 inches``."""
    return i in words.left and words.tokens[i].compared == "at"


def _measured(words: Words) -> str:
    """Sides told by what they measure, struck off: ``12 high by 20 wide`` is 20 x 12; "" for fewer than two."""
    found: dict[str, int] = {}
    for i in sorted(words.left):
        if i + 1 in words.left and words.tokens[i].kind == "number":
            side = _MEASURES.get(words.tokens[i + 1].compared)
            if side:
                found.setdefault(side, i)
    if not {"width", "height"} <= set(found):
        return ""
    for i in found.values():
        words.take(i, i + 2)
        if i + 2 in words.left and words.tokens[i + 2].compared in ("x", "by"):
            words.take(i + 2, i + 3)
    sides = [words.tokens[found[side]] for side in _SIDES if side in found]
    unit = next((side.unit for side in sides if side.unit), "")
    told = (side if side.unit else replace(side, unit=unit) for side in sides)
    return " x ".join(side.length for side in told)


def _size_said(words: Words, counts: int) -> _Size | None:
    sizes = list(_sizes(words))
    sure = [size for size in sizes if size.sure]
    if sure:
        return sure[0]
    if len(sizes) > counts:
        return sizes[-1]
    return None


def _sizes(words: Words) -> Iterator[_Size]:
    for start, end in words.clauses():
        i = start
        while i < end:
            read = size_at(words.tokens, i, end)
            if read is None:
                i += 1
                continue
            text, behind, certain = read
            of = i > 0 and words.tokens[i - 1].plain == "of"
            yield _Size(text=text, start=i, end=behind, sure=of or certain)
            i = behind


def _qualifier(words: Words) -> str:
    """The word *cut*, *finished* or *unfinished* where it stands apart from its size; struck off."""
    return _first_of(words, QUALIFIERS)


def _first_of(words: Words, plains: tuple[str, ...]) -> str:
    """The first of these words that is left, struck off; "" where none is."""
    for i in sorted(words.left):
        plain = words.tokens[i].compared
        if plain in plains:
            words.take(i, i + 1)
            return plain
    return ""


def count_in(words: Words) -> int | None:
    """The count, struck off: ``12``, ``twelve``, ``a dozen``, ``a``; None where none is said."""
    for i in sorted(words.left):
        whole = words.tokens[i].whole
        if whole is None:
            continue
        words.take(i, i + 1)
        if _first_of(words, (_DOZEN,)):
            return 12 * whole
        return whole
    if _first_of(words, (_DOZEN,)):
        return 12
    if _first_of(words, _ONE):
        return 1
    return None
