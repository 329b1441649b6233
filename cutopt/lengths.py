"""Exact lengths: whole ticks of 1/320 mm, read as people write them and written as a ruler shows them.

1 in = 8128 ticks and 1 yd = 292 608 ticks because 1 in = 25.4 mm and 1 yd = 0.9144 m exactly
(international yard and pound agreement, 1959; NIST Handbook 44, Appendix C). 1/64 in = 127 ticks,
1 mm = 320 ticks. Reading gives an exact :class:`~fractions.Fraction` of ticks; the caller rounds once,
up for what is needed (:func:`up`) and down for cloth that is there (:func:`down`).
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from cutopt.errors import Problem

TICKS_PER_MM: Final = 320
MM: Final = TICKS_PER_MM
CM: Final = 10 * MM
METRE: Final = 1000 * MM
INCH: Final = 8128
YARD: Final = 36 * INCH

UNITS: Final = {"in": INCH, "cm": CM, "mm": MM, "m": METRE, "yd": YARD}
SPELLINGS: Final = {
    "in": ("in", "in.", "inch", "inches", '"', "''", "″", "”", "“"),
    "cm": ("cm", "cm.", "centimetre", "centimetres", "centimeter", "centimeters"),
    "mm": ("mm", "mm.", "millimetre", "millimetres", "millimeter", "millimeters"),
    "m": ("m", "m.", "metre", "metres", "meter", "meters"),
    "yd": ("yd", "yd.", "yds", "yard", "yards"),
}
_UNIT_OF: Final = {
    spelling: unit for unit, spellings in SPELLINGS.items() for spelling in spellings
}
_VULGAR: Final = {
    "½": "1/2",
    "⅓": "1/3",
    "⅔": "2/3",
    "¼": "1/4",
    "¾": "3/4",
    "⅕": "1/5",
    "⅖": "2/5",
    "⅗": "3/5",
    "⅘": "4/5",
    "⅙": "1/6",
    "⅚": "5/6",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
FRACTION_SIGNS: Final = "".join(_VULGAR)
"""The signs that stand for a fraction: ½, ¼ and so on."""
UNIT_WORDS: Final = frozenset(each for each in _UNIT_OF if each.isalpha())
"""The spellings of units that are words, no signs."""
_SLASH: Final = "[/\N{FRACTION SLASH}\N{DIVISION SLASH}]"
NUMBER_IN_TEXT: Final = (
    rf"(?:\d+(?:(?:\s*[-‐‑–]\s*|\s+and\s+|\s+)\d+\s*{_SLASH}\s*\d+"
    rf"|\s*[{FRACTION_SIGNS}]|\.\d+|\s*{_SLASH}\s*\d+)?|[{FRACTION_SIGNS}]|\.\d+)"
)
"""A pattern that finds a number among other words: ``2 1/2``, ``2-1/2``, ``2½``, ``.5``."""
UNIT_IN_TEXT: Final = "|".join(sorted(UNIT_WORDS, key=len, reverse=True))
"""A pattern that finds the word of a unit behind a number."""
_ONES: Final = (
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"),
    *("ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen"),
    *("seventeen", "eighteen", "nineteen"),
)
TENS: Final = (
    *("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"),
)
NUMBER_WORDS: Final[dict[str, int]] = {
    **{word: number for number, word in enumerate(_ONES) if number},
    **{word: 10 * number for number, word in enumerate(TENS, 2)},
    "hundred": 100,
}
"""Numbers as words; those of two words, as twenty-four, are put together where they are read."""
_NUMBER: Final = re.compile(
    r"(?:(?P<whole>\d+)(?:\s+|\s*-\s*|\s+and\s+)(?P<num>\d+)\s*/\s*(?P<den>\d+)"
    r"|(?P<num2>\d+)\s*/\s*(?P<den2>\d+)"
    r"|(?P<decimal>\d+\.\d*|\.\d+|\d+))"
)
# behind the point, as far as a ruler shows them
_PLACES: Final = {"cm": 2, "mm": 1, "m": 3}
# no number of a maker is longer; Python refuses to read 4300 figures and more
_MOST_SIGNS: Final = 100
# more than a whole bolt: a slip of the finger
_LONGEST: Final = 100 * METRE


def parse_number(text: str) -> Fraction | None:
    """A number as people write it (`2 1/2`, `2½`, `2-1/2`, `2.5`, `5/8`), exactly; None if it is none."""
    if len(text) > _MOST_SIGNS:
        return None
    plain = (
        " ".join(text.split())
        .replace("\N{FRACTION SLASH}", "/")
        .replace("\N{DIVISION SLASH}", "/")
    )
    for sign, fraction in _VULGAR.items():
        plain = plain.replace(sign, f" {fraction}")
    for dash in "‐‑‒–—−":
        plain = plain.replace(dash, "-")
    plain = re.sub(r"-\s+", "-", plain.strip())
    match = _NUMBER.fullmatch(plain.strip())
    if match is None:
        return None
    if match["decimal"]:
        return Fraction(match["decimal"])
    denominator = int(match["den"] or match["den2"])
    if denominator == 0:
        return None
    return Fraction(int(match["whole"] or 0)) + Fraction(
        int(match["num"] or match["num2"]), denominator
    )


def parse_length(
    text: str, unit: str = "in", *, field: str = "length", zero: bool = False
) -> Fraction:
    """Read a length, such as ``2 1/2``, ``2½"``, ``6.35 cm``, ``1 3/8 yd``.

    Parameters
    ----------
    text : str
        What was written.
    unit : {"in", "cm", "mm", "m", "yd"}
        The unit of a bare number.
    field : str
        Named in the problem.
    zero : bool
        Whether 0 is allowed.

    Returns
    -------
    Fraction
        Ticks of 1/320 mm, exact, not yet rounded.

    Raises
    ------
    Problem
        When the text is not a length, is zero where that makes no sense, or is longer than 100 m.
    """
    text = " ".join(text.split())
    shown = f'"{text}"'
    if not text:
        raise Problem(field, "a length is missing", "write one, such as 2 1/2")
    if len(text) > _MOST_SIGNS:
        raise Problem(
            field,
            f'"{text[:40]}..." is not a length',
            "write it like 2 1/2, 2.5 or 6.35 cm",
        )
    if re.fullmatch(r"\s*\d+(,\d+)+\s*[a-z\"]*\s*", text):
        raise comma_problem(field, text)
    number_text, unit_text = _split_unit(text)
    number = parse_number(number_text)
    if number is None or (unit_text and unit_text not in _UNIT_OF):
        raise Problem(field, f"{shown} is not a length", _mend(text, unit))
    if number == 0 and not zero:
        raise Problem(field, f"{shown} is nothing", "write a length above 0")
    ticks = number * UNITS[_UNIT_OF[unit_text] if unit_text else unit]
    if ticks > _LONGEST:
        raise Problem(
            field, f"{shown} is longer than 100 m", "check the number and its unit"
        )
    return ticks


def comma_problem(field: str, text: str) -> Problem:
    """What is wrong with a number with a comma: a decimal comma, or one that may stand for thousands (``1,000``)."""
    plain = text.strip()
    shown = f'"{text.strip()}"'
    point = plain.replace(",", ".")
    joined = plain.replace(",", "")
    if re.search(r"\d+,\d+,\d", plain):
        return Problem(
            field, f"{shown} has commas between its thousands", f"write {joined}"
        )
    if re.search(r"(?<!\d)[1-9]\d{0,2},\d{3}(?!\d)", plain):
        what = f"the comma in {shown} may stand before thousands or before decimals"
        return Problem(
            field, what, f"write {joined} for thousands, or {point} for decimals"
        )
    return Problem(field, f"{shown} has a decimal comma", f"write {point}")


def _split_unit(text: str) -> tuple[str, str]:
    match = re.fullmatch(r"(.*?) ?[-‐‑–]? ?([a-z\"'″”“]+\.?)", text, re.IGNORECASE)
    if match:
        return (match[1], match[2].lower())
    return (text, "")


def _mend(text: str, unit: str) -> str:
    """A guess at what was meant, else an example in the unit of the job."""
    open_fraction = re.fullmatch(r"\s*(\d+)\s+(\d+)\s*/\s*", text)
    if open_fraction:
        whole = int(open_fraction[1])
        num = int(open_fraction[2])
        den = next((d for d in (2, 4, 8, 16) if d > num), 64)
        if num:
            return f"write {whole} {num}/{den} or {whole} {num}"
        return f"write {whole}"
    if unit in ("in", "yd"):
        return "write it like 2 1/2, 2.5 or 6.35 cm"
    return "write it like 6.5 or 65 mm"


def up(ticks: Fraction | int) -> int:
    """Whole ticks, rounded up: for a size that is needed."""
    return -(-Fraction(ticks).numerator // Fraction(ticks).denominator)


def down(ticks: Fraction | int) -> int:
    """Whole ticks, rounded down: for cloth that is there."""
    return Fraction(ticks).numerator // Fraction(ticks).denominator


def up_to(ticks: Fraction | int, step: int) -> int:
    """The smallest multiple of `step` that is not below `ticks`."""
    return up(Fraction(ticks) / step) * step


def format_length(
    ticks: Fraction | int, unit: str = "in", *, mark: bool = False
) -> str:
    """A length as a ruler shows it: ``2 1/2`` in inches, ``6.4`` in centimetres.

    A length that no mark of the ruler meets (finer than 1/64 in or 0.1 mm) is shown to the nearest such
    mark with a leading ``≈``. With `mark` the unit is added (``2 1/2 in``).

    Parameters
    ----------
    ticks : Fraction or int
    unit : {"in", "cm", "mm", "m", "yd"}
    mark : bool
        Whether the unit stands behind it.
    """
    shown, exact = _on_ruler(abs(Fraction(ticks)), unit)
    if exact:
        about = ""
    else:
        about = "≈"
    if ticks < 0:
        sign = "-"
    else:
        sign = ""
    told = f"{about}{sign}{shown}"
    if mark:
        return f"{told} {unit}"
    return told


def _on_ruler(ticks: Fraction, unit: str) -> tuple[str, bool]:
    """The number of the nearest mark of a ruler, and whether it lies just there."""
    if unit in ("in", "yd"):
        return _as_fraction(ticks / UNITS[unit], 64)
    if unit in _PLACES:
        return _as_decimal(ticks / UNITS[unit], _PLACES[unit])
    raise Problem("unit", f'"{unit}" is not a unit', "write in or cm")


def exact_length(ticks: Fraction | int, unit: str = "in") -> str:
    """A length without its unit, to the tick: as a ruler shows it where one does, else with the fraction that it is.

    Unlike what :func:`format_length` gives, :func:`parse_number` always reads it back as the very same number.
    """
    shown, exact = _on_ruler(Fraction(ticks), unit)
    size = Fraction(ticks) / UNITS[unit]
    if exact:
        return shown
    return _as_fraction(size, size.denominator)[0]


def format_sale(ticks: int, unit: str) -> str:
    """A length as a shop sells it: ``1 3/8 yd`` in an inch job, ``1.3 m`` in a metric one.

    What only a smaller measure, or that of other countries, shows exactly is told in that: ``10 in``, ``0.1 m``.
    """
    if unit == "in":
        measures = ("yd", "in", "m")
    else:
        measures = ("m", "yd", "in")
    exact = (measure for measure in measures if _on_ruler(Fraction(ticks), measure)[1])
    return format_length(ticks, next(exact, measures[0]), mark=True)


def _as_fraction(value: Fraction, finest: int) -> tuple[str, bool]:
    nearest = value
    # thirds of a yard are sold
    if finest % value.denominator and value.denominator != 3:
        nearest = Fraction(round(value * finest), finest)
    whole, rest = divmod(nearest, 1)
    if not rest:
        return str(whole), nearest == value
    part = f"{rest.numerator}/{rest.denominator}"
    return (f"{whole} {part}" if whole else part), nearest == value


def _as_decimal(value: Fraction, places: int) -> tuple[str, bool]:
    scaled = round(value * 10**places)
    whole, rest = divmod(scaled, 10**places)
    text = f"{whole}.{rest:0{places}d}".rstrip("0").rstrip(".")
    return text, Fraction(scaled, 10**places) == value


def so_many(count: int, noun: str) -> str:
    """``1 cut``, ``2 cuts``, ``0 cuts``."""
    if count == 1:
        return f"{count} {noun}"
    return f"{count} {noun}s"
