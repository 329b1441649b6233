"""The two lengths of a size in the order across, along, each with its unit."""

from __future__ import annotations

import re
from typing import Final

from cutopt.lengths import INCH, SPELLINGS, parse_length
from cutopt.tables.pile.asked_back import unread
from cutopt.tables.pile.tokens import Token

_ALONG: Final = ("long", "length", "along", "tall", "high", "deep", "l")
_ACROSS: Final = ("wide", "width", "across", "w")
_UNIT: Final = re.compile(r"(?:[a-z]+\.?|\"|''|″|”)$", re.IGNORECASE)
# of 40 to 45 in, or of 110 cm (common practice, no source)
_HALF_A_WIDTH: Final = (20 * INCH, 23 * INCH)
# cloth from the bolt
_NARROWEST: Final = 30 * INCH
_WIDEST: Final = 120 * INCH
# of which nobody knows whether the number before it has them too
_BIG: Final = (*SPELLINGS["yd"], *SPELLINGS["m"])


def unit_of(length: str) -> str:
    """The unit that stands behind a number, "" where none does."""
    unit = _UNIT.search(length.strip())
    if unit:
        return unit[0].lower()
    return ""


def is_across(way: str) -> bool:
    """Whether a word for a side says that it runs across the cloth."""
    plain = way.lower()
    return plain in _ACROSS or plain.endswith(("bottom", "top"))


def length_of_cloth(token: Token, unit: str) -> tuple[str, str] | None:
    """A length from the bolt and its width where a size says so: ``2 yds x 42 in``; None where it is another size.

    Parameters
    ----------
    token : Token
        A size.
    unit : {"in", "cm"}
        Of bare numbers.
    """
    first, way, second, other = (part.lower() for part in token.parts)
    if way or other:
        return None
    if unit_of(second) in _BIG and unit_of(first):
        # 54 in x 1 1/2 yards
        first, second = second, first
    if unit_of(first) not in _BIG or unit_of(second) in _BIG:
        return None
    across = parse_length(second, unit, field="size")
    if _NARROWEST <= across <= _WIDEST:
        return first, second
    return None


def across_and_along(text: str, token: Token, unit: str) -> tuple[str, str]:
    """The lengths of a size: ``38 long x 2 1/2 wide`` is turned round, ``6.5 by 9 in`` has inches in both.

    Parameters
    ----------
    text : str
        The line.
    token : Token
        Its size.
    unit : {"in", "cm"}
        Of bare numbers.

    Raises
    ------
    Problem
        Where the two say the same of themselves, or the unit of the first is in doubt.
    """
    first, way, second, other = (part.lower() for part in token.parts)
    if way and other and is_across(way) == is_across(other):
        what = f'"{token.text}" says both {way} and {other}'
        raise unread(text, what, f"{first} wide x {second} long")
    behind = unit_of(second)
    if behind and not unit_of(first):
        if behind in _BIG:
            small = f"{first} {unit} x {second}"
            big = f"{first} {behind} x {second}"
            what = f'the unit of {first} in "{token.text}" is not said'
            mend = f"{text.replace(token.text, small)}, or {big} if it is so"
            if first.isdigit():
                several = text.replace(token.text, second)
                mend += f", or {first} pieces {several} for so many of them"
            raise unread(text, what, mend)
        first = f"{first} {behind}"
    elif unit_of(first) in _BIG and not behind and not way and not other:
        long = f"{second} x {first}"
        wide = f"{first} x {second} {unit}"
        what = (
            f'a length of {first} comes first in "{token.text}", where the width stands'
        )
        mend = f"{text.replace(token.text, long)}, or {wide} if it is so wide"
        raise unread(text, what, mend)
    if way in _ALONG or (other and is_across(other)):
        return second, first
    return first, second


def quarter_as_it_lies(
    text: str, token: Token, size: tuple[str, str], unit: str
) -> tuple[str, str]:
    """The size of a fat quarter or eighth: its selvage is its shorter side, so that 18 x 22 is 22 across.

    Parameters
    ----------
    text : str
        The line.
    token : Token
        Its size.
    size : (str, str)
        Across and along, if it is as every size.
    unit : {"in", "cm"}

    Raises
    ------
    Problem
        Where it would be longer than wide, and has no side as long as half a width of cloth.
    """
    across, along = (parse_length(side, unit, field="size") for side in size)
    if across >= along:
        return size
    if _HALF_A_WIDTH[0] <= along <= _HALF_A_WIDTH[1]:
        return size[1], size[0]
    what = "its selvage is usually the shorter side, and sizes are across first, then along"
    turned = text.replace(token.text, f"{size[1]} x {size[0]}")
    raise unread(text, what, turned)
