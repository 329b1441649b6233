"""Fractions that a spreadsheet turned into dates: 1/2 becomes 2 January, 1/32 becomes January 1932."""

from __future__ import annotations

import re
from fractions import Fraction

from cutopt.errors import Problem

_MONTHS = (
    "jan",
    "feb",
    "mar",
    "apr",
    "may",
    "jun",
    "jul",
    "aug",
    "sep",
    "oct",
    "nov",
    "dec",
)
_MONTH = r"(?P<name>jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?"
_SHAPES = tuple(
    re.compile(shape, re.IGNORECASE)
    for shape in (
        r"(?P<year>\d{4})-(?P<month>\d{1,2})-(?P<day>\d{1,2})(?:[ T]00:00(?::00)?(?:\.0+)?)?",
        rf"(?P<day>\d{{1,2}})[-. ]+{_MONTH}(?:[-. ]+(?P<year>\d{{2,4}}))?",
        rf"{_MONTH}[-. ]+(?P<day>\d{{1,2}})(?:[-., ]+(?P<year>\d{{2,4}}))?",
        r"(?P<month>\d{1,2})[/.](?P<day>\d{1,2})[/.](?P<year>\d{2}|\d{4})",
    )
)
# signs of a date
_LONGEST = 40
_RULER = (2, 4, 8, 16, 32, 64)


def fraction_of_date(text: str) -> tuple[bool, Fraction | None]:
    """Whether a text is a date, and the fraction that was probably typed."""
    for shape in _SHAPES if len(text) <= _LONGEST else ():
        match = shape.fullmatch(text.strip())
        if match:
            told = match.groupdict()
            name = told.get("name")
            if name:
                month = _MONTHS.index(name.lower()) + 1
            else:
                month = int(told["month"])
            return True, _guess(month, int(told["day"]), told.get("year"))
    return False, None


def _guess(month: int, day: int, year: str | None) -> Fraction | None:
    """The fraction below one on a ruler that a spreadsheet would read as this date, in either order."""
    pairs = [(month, day), (day, month)]
    if day == 1 and year:
        pairs.append((month, int(year) % 100))
    for num, den in pairs:
        if den in _RULER and num < den:
            return Fraction(num, den)
    return next((Fraction(num, den) for num, den in pairs if 0 < num < den), None)


def refuse_date(field: str, text: str) -> None:
    """Refuse a text that is a date.

    Parameters
    ----------
    field : str
        Named in the problem.
    text : str

    Raises
    ------
    Problem
        With the fraction that was probably typed.
    """
    is_date, guess = fraction_of_date(text)
    if not is_date:
        return
    what = f'"{text}" is a date: the spreadsheet turned a fraction into it'
    if guess is None:
        raise Problem(
            field, what, "format the column as text and write the number again"
        )
    again = f"{guess.numerator}/{guess.denominator}"
    raise Problem(
        field,
        f"{what}, probably {again}",
        f"format the column as text and write {again} again, or write {float(guess):g}",
    )
