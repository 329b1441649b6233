"""Lengths as people say them, in figures or in words: ``five-inch``, ``two and a half yards``, ``a yard and a half``."""

from __future__ import annotations

import re
from typing import Final

from cutopt.lengths import (
    NUMBER_IN_TEXT,
    NUMBER_WORDS,
    SPELLINGS,
    TENS,
    UNIT_IN_TEXT,
    parse_number,
)

_SHARES: Final = {
    "half": "1/2",
    "quarter": "1/4",
    "third": "1/3",
    "eighth": "1/8",
    "three quarters": "3/4",
    "three quarter": "3/4",
    "two thirds": "2/3",
    "three eighths": "3/8",
    "five eighths": "5/8",
    "seven eighths": "7/8",
}
SHARE_WORDS: Final = frozenset(word for share in _SHARES for word in share.split())
"""Words of shares: half, three, quarters."""
_AND: Final = r"\s+and\s+(?:an?\s+|one\s+)?"


def _one_of(words: list[str]) -> str:
    """A pattern of one of some phrases, the longest first; hyphens stand for blanks."""
    longest = sorted(words, key=len, reverse=True)
    return "|".join(word.replace(" ", r"[\s-]+") for word in longest)


def _alone(unit: str) -> str:
    """The words of a unit as a pattern."""
    words = [each.rstrip(".") for each in SPELLINGS[unit] if each[0].isalpha()]
    return rf"(?:{_one_of(words)})\b\.?"


_ONES: Final = list(NUMBER_WORDS)[:9]
# twenty five-inch squares are 20, of 5
_BEHIND_TENS: Final = rf"(?:-(?:{_one_of(_ONES)})\b|\s+(?:{_one_of(_ONES)})\b(?!-))"
_WORD: Final = rf"(?:(?:{_one_of([*TENS])}){_BEHIND_TENS}|{_one_of([*NUMBER_WORDS])})\b"
_SHARE: Final = rf"(?:{_one_of([*_SHARES])})\b"
# with a share behind it, as 2 and a half, or in words alone
_SPOKEN: Final = rf"(?:(?:\d+|{_WORD}){_AND}{_SHARE}|{_WORD})"
_INCH_MARK: Final = r"\"|″|”|''"
# of a number in words: one in a hundred is no inch
_LONG_UNITS: Final = (
    rf"(?:inch(?:es)?|{_alone('cm')}|{_alone('mm')}|met(?:re|er)s?|{_alone('yd')})"
)
_DASH: Final = r"\s*[-‐‑–]?\s*"
_FIGURES: Final = (
    NUMBER_IN_TEXT + rf"(?:{_DASH}(?:{UNIT_IN_TEXT})\b\.?|\s*(?:{_INCH_MARK}))?"
)
_BIG: Final = rf"(?:{_alone('yd')}|{_alone('m')})"
# a yard and a half, 1/2 a yard, 1 yd 9 in
_YARD_AND_SHARE: Final = rf"(?:(?:(?:an?|{NUMBER_IN_TEXT}|{_WORD})\s*)?{_BIG}{_AND}{_SHARE}(?!\s+of\s+an?\b))"
_OF_A_YARD: Final = rf"(?:(?:{NUMBER_IN_TEXT}|{_SHARE})\s+(?:of\s+)?an?\s+{_BIG})"
_AND_INCHES: Final = r"\s*(?:,|\band\b|\bplus\b|\+|&)?\s*"
# 2 yd, 42 in wide are two sides
_NO_SIDE: Final = r"(?!\s*(?:(?:wide|across|w|by)\b|[x×]))"
_YARDS_AND_INCHES: Final = (
    rf"(?:(?:{NUMBER_IN_TEXT}|{_WORD})\s*{_alone('yd')}{_AND_INCHES}"
    rf"(?:{NUMBER_IN_TEXT}|{_WORD})\s*(?:{_alone('in')}|{_INCH_MARK})){_NO_SIDE}"
    rf"|(?:{NUMBER_IN_TEXT}\s*{_alone('m')}{_AND_INCHES}{NUMBER_IN_TEXT}\s*{_alone('cm')}{_NO_SIDE})"
)
_ISH: Final = r"(?:\s?-?ish\b)?"
SIDE: Final = rf"(?:(?:{_SPOKEN}(?:{_DASH}{_LONG_UNITS})?|{_FIGURES}){_ISH})"
"""A pattern of one length of a size, where a number in words needs no unit."""
LENGTH: Final = (
    rf"(?:{_YARDS_AND_INCHES}|{_YARD_AND_SHARE}|{_OF_A_YARD}"
    rf"|(?:{_SPOKEN}{_DASH}{_LONG_UNITS}|{_FIGURES}){_ISH})"
)
"""A pattern of a length that stands alone."""

_IS_ISH: Final = re.compile(r"\s?-?ish$", re.IGNORECASE)
_PARTS_OF_SUM: Final = re.compile(
    rf"({NUMBER_IN_TEXT}|{_WORD})\s*({_BIG}){_AND_INCHES}({NUMBER_IN_TEXT}|{_WORD})\s*(?:{_alone('in')}|{_alone('cm')}|{_INCH_MARK})",
    re.IGNORECASE,
)
_PARTS_BEHIND_UNIT: Final = re.compile(
    rf"(an?|{NUMBER_IN_TEXT}|{_WORD}|)\s*({_BIG}){_AND}({_SHARE})", re.IGNORECASE
)
_PARTS_OF_A: Final = re.compile(
    rf"({NUMBER_IN_TEXT}|{_SHARE})\s+(?:of\s+)?an?\s+({_BIG})", re.IGNORECASE
)
_PARTS_SPOKEN: Final = re.compile(
    rf"(\d+|{_WORD})(?:{_AND}({_SHARE}))?(.*)", re.IGNORECASE
)


def is_about(text: str) -> bool:
    """Whether a length says of itself that it is none to rely on: ``6ish``."""
    return _IS_ISH.search(text) is not None


def in_figures(text: str) -> str:
    """A length that :data:`LENGTH` or :data:`SIDE` found, as :func:`cutopt.lengths.parse_length` reads it."""
    plain = _IS_ISH.sub("", text.strip())
    parts = _PARTS_OF_SUM.fullmatch(plain)
    if parts:
        return _sum(*parts.groups())
    parts = _PARTS_BEHIND_UNIT.fullmatch(plain)
    if parts:
        return f"{_mixed(parts[1], parts[3])} {parts[2]}"
    parts = _PARTS_OF_A.fullmatch(plain)
    if parts:
        return f"{_share(parts[1]) or parts[1]} {parts[2]}"
    parts = _PARTS_SPOKEN.fullmatch(plain)
    if parts and (parts[2] or not parts[1].isdigit()):
        unit = re.sub(rf"^{_DASH}", " ", parts[3])
        return f"{_mixed(parts[1], parts[2] or '')}{unit}".strip()
    return plain


def _sum(big: str, unit: str, small: str) -> str:
    """Yards and inches, or metres and centimetres, as a number of the larger, exactly."""
    many, name = 36, "yd"
    if unit.lower().startswith("m"):
        many, name = 100, "m"
    first, second = (parse_number(_mixed(one, "")) for one in (big, small))
    if first is None or second is None:
        return f"{big} {unit}"
    whole, rest = divmod(first + second / many, 1)
    told = f"{whole} {rest}" if rest else str(whole)
    return f"{told} {name}"


def _mixed(whole: str, share: str) -> str:
    plain = re.sub(r"[\s-]+", " ", whole.lower())
    number = sum(NUMBER_WORDS.get(word, 0) for word in plain.split())
    if plain in ("", "a", "an"):
        plain = "1"
    elif number:
        plain = str(number)
    return f"{plain} {_share(share)}".strip()


def _share(words: str) -> str:
    return _SHARES.get(re.sub(r"[\s-]+", " ", words.lower()), "")
