"""Reading the cells of one row; what cannot be read is noted with its place, and reading goes on."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from functools import partial
from typing import TypeVar

from cutopt.errors import Problem
from cutopt.fabric import Outline, counted, named, one_of, refuse_long_text
from cutopt.lengths import INCH, comma_problem, parse_length, parse_number
from cutopt.tables.dates import refuse_date
from cutopt.tables.log import Log
from cutopt.tables.outlines import parse_outlines

T = TypeVar("T")
Fallback = TypeVar("Fallback")
_EIGHTH = INCH // 8
_NEGATIVE = re.compile(r"\s*[-−–]\s*[\d.]")
_CURRENCIES = " " + "".join(
    chr(i) for i in range(0x20D0) if unicodedata.category(chr(i)) == "Sc"
)
_YES = ("yes", "y", "true", "1", "x")
_NO = ("no", "n", "false", "0")


class Row:
    """The cells of one row by column, read one by one.

    A blank cell gives the default. `bad` tells whether any cell could not be read; the value of such a cell is
    a stand-in and must not be used.
    """

    def __init__(
        self, file: str, number: int, cells: dict[str, str], unit: str, log: Log
    ) -> None:
        self.file = file
        self.number = number
        self.cells = cells
        self.unit = unit
        self.log = log
        self._before = len(log.problems)

    @property
    def bad(self) -> bool:
        """Whether something in this row could not be read."""
        return len(self.log.problems) > self._before

    def has(self, column: str) -> bool:
        """Whether the cell is not blank."""
        return column in self.cells

    def note(self, problem: Problem) -> None:
        """Note a problem of this row."""
        self.log.add(problem, self.file, self.number)

    def tell(self, notice: Problem) -> None:
        """Note what can be planned in this row and may not be meant."""
        self.log.tell(notice, self.file, self.number)

    def attempt(self, read: Callable[[], T], fallback: Fallback) -> T | Fallback:
        """What `read` gives, or the fallback when it raised a problem, which is noted."""
        return self.log.attempt(read, fallback, self.file, self.number)

    def text(self, column: str, default: str = "") -> str:
        """The text of a cell."""
        return self.cells.get(column, default)

    def name(self, column: str) -> str:
        """A name: not empty, and fit to stand in a list."""
        text = self.text(column)
        self.attempt(partial(named, column, text), None)
        self.attempt(partial(refuse_long_text, column, text), None)
        return text

    def words(self, column: str) -> tuple[str, ...]:
        """Words separated by ``|``."""
        parts = (word.strip() for word in self.text(column).split("|"))
        words = tuple(word for word in parts if word)
        for word in words:
            self.attempt(partial(refuse_long_text, column, word), None)
        return words

    def choice(
        self, column: str, words: tuple[str, ...], default: str = "", mend: str = ""
    ) -> str:
        """One of some words; case, underscores and doubled spaces do not matter.

        Parameters
        ----------
        column : str
        words : tuple of str
        default : str
            Where the cell is blank.
        mend : str
            What else may mend a word that is none of them.
        """
        text = " ".join(self.text(column, default).lower().replace("_", " ").split())
        self.attempt(partial(_one_of_or, column, text, words, mend), None)
        return text

    def yes(self, column: str, default: bool) -> bool:
        """Yes or no."""
        text = self.text(column, "yes" if default else "no").lower()
        self.attempt(partial(one_of, column, text, (*_YES, *_NO)), None)
        return text in _YES

    def count(self, column: str, default: int | None) -> int | None:
        """A whole number of 1 or more."""
        if not self.has(column):
            return default
        return self.attempt(partial(parse_count, self.text(column), column), 1)

    def length(
        self,
        column: str,
        rounded: Callable[[Fraction], int],
        default: int | None = None,
        least: int = _EIGHTH,
        ask_below: int = 0,
    ) -> int:
        """A length in ticks, rounded by `rounded` (up or down).

        A blank cell without a default is a problem, as is a length below `least`. A bare number that would be
        shorter than `ask_below` ticks may be meant in yards or metres: its unit is asked for.

        Parameters
        ----------
        column : str
        rounded : callable
            From exact ticks to whole ones.
        default : int, optional
            Ticks.
        least : int
            Ticks.
        ask_below : int
            Ticks.
        """
        if not self.has(column) and default is not None:
            return default
        text = self.text(column)
        read = partial(_length, column, text, self.unit, rounded, least, ask_below)
        return self.attempt(read, default or least)

    def price(self, column: str) -> Decimal | None:
        """A price, with or without a currency sign; None where blank."""
        if not self.has(column):
            return None
        return self.attempt(partial(parse_price, self.text(column), column), None)

    def share(self, column: str) -> Fraction:
        """A share such as ``3%`` or ``0.03``; 0 where blank."""
        zero = Fraction(0)
        if not self.has(column):
            return zero
        return self.attempt(partial(parse_share, self.text(column), column), zero)

    def outlines(self, column: str) -> tuple[Outline, ...]:
        """Outlines separated by ``|``."""
        read = partial(parse_outlines, self.text(column), self.unit, column)
        return self.attempt(read, ())


def _one_of_or(column: str, text: str, words: tuple[str, ...], mend: str) -> None:
    """Refuse a text that is none of some words, with a second mend where there is one."""
    try:
        one_of(column, text, words)
    except Problem as problem:
        if not mend:
            raise
        raise Problem(column, problem.what, f"{problem.mend}; {mend}") from None


def refuse_negative(field: str, text: str, mend: str) -> None:
    """Refuse a text that is a number below 0.

    Parameters
    ----------
    field : str
        Named in the problem.
    text : str
    mend : str
        What to write instead.

    Raises
    ------
    Problem
        Where it is one.
    """
    if _NEGATIVE.match(text):
        raise Problem(field, f'"{text.strip()}" is below 0', mend)


def _length(
    field: str,
    text: str,
    unit: str,
    rounded: Callable[[Fraction], int],
    least: int,
    ask_below: int,
) -> int:
    if not text:
        raise Problem(
            field,
            "a length is missing",
            "write one, such as " + ("2 1/2" if unit == "in" else "6.5"),
        )
    if len(text) > 100:
        raise Problem(field, f'"{text[:40]}..." is not a length', "check the cell")
    refuse_date(field, text)
    refuse_negative(field, text, "write a length above 0")
    ticks = rounded(parse_length(text, unit, field=field, zero=least == 0))
    if ticks < least:
        raise Problem(
            field, f'"{text}" is too small to cut', "check the number and its unit"
        )
    number = parse_number(text)
    if number and ticks < ask_below:
        of_what, bigger = ("inches", "yd") if unit == "in" else ("centimetres", "m")
        raise Problem(
            field,
            f'"{text}" would be {text} {of_what}',
            f"write the unit: {text} {bigger} or {text} {unit}",
        )
    return ticks


def parse_count(text: str, field: str) -> int:
    """A whole number of 1 or more, not absurdly many.

    Raises
    ------
    Problem
        Where it is none.
    """
    refuse_date(field, text)
    refuse_negative(field, text, "write 1 or more")
    if re.fullmatch(r"\s*\d+(,\d+)+\s*", text):
        raise comma_problem(field, text)
    if len(text) < 40:
        number = parse_number(text)
    else:
        number = None
    if number is None or number.denominator != 1:
        raise Problem(
            field, f'"{text[:40]}" is not a whole number', "write a number such as 12"
        )
    counted(field, int(number))
    return int(number)


def parse_price(text: str, field: str) -> Decimal:
    """A price; a currency sign before or behind it is passed over.

    Raises
    ------
    Problem
        Where it is none, or has a comma.
    """
    refuse_date(field, text)
    refuse_negative(field, text, "write a price of 0 or more")
    plain = text.strip(_CURRENCIES).strip()
    plain = re.sub(r"^[A-Za-z]{1,3}\s*(?=\d)|(?<=\d)\s*[A-Za-z]{1,3}$", "", plain)
    if re.fullmatch(r"\d+(,\d+)+", plain):
        raise comma_problem(field, plain)
    if re.fullmatch(r"\d{1,3}(,\d{3})+\.\d*", plain):
        raise Problem(
            field,
            f'"{text}" has a comma before its thousands',
            f"write {plain.replace(',', '')}",
        )
    if (
        not re.fullmatch(r"\d{1,9}(\.\d{0,9})?|\.\d{1,9}", plain)
        or Decimal(plain) > 100_000
    ):
        raise Problem(field, f'"{text}" is not a price', "write a number such as 9.60")
    return Decimal(plain)


def parse_share(text: str, field: str) -> Fraction:
    """A share: ``3%``, ``0.03`` or a fraction.

    Raises
    ------
    Problem
        Where it is none, or no shrinkage that cloth has.
    """
    refuse_date(field, text)
    refuse_negative(field, text, "write a share such as 3%")
    body = text.strip().removesuffix("%").strip()
    if re.fullmatch(r"\d+,\d+", body):
        raise comma_problem(field, text)
    number = parse_number(body)
    if number is None:
        raise Problem(field, f'"{text}" is not a share', "write one such as 3% or 0.03")
    if text.strip().endswith("%"):
        share = number / 100
    else:
        share = number
    if share >= Fraction(1, 2):
        small = number < 50 and "%" not in text
        raise Problem(
            field,
            f'"{text}" is not a shrinkage',
            f"write {text}%" if small else "write a share below 50%",
        )
    return share
