"""Outlines in words, and fractions that a spreadsheet took for dates."""

from __future__ import annotations

import datetime
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.errors import Problem
from cutopt.lengths import INCH, TICKS_PER_MM, parse_length
from cutopt.tables.dates import fraction_of_date
from cutopt.tables.exact_lengths import written_length
from cutopt.tables.outlines import (
    format_corner,
    format_outline,
    parse_corner,
    parse_outline,
)

HALF = INCH // 2


@pytest.mark.parametrize(
    ("text", "corner"),
    [
        ("18 7 1/2", (18 * INCH, 15 * HALF)),
        ("7 1/2 6", (15 * HALF, 6 * INCH)),
        ("7 1/2 6 1/4", (15 * HALF, 25 * INCH // 4)),
        ("1 1/2 1/4", (3 * HALF, INCH // 4)),
        ("1/2 1/4", (HALF, INCH // 4)),
        ("7½ 6", (15 * HALF, 6 * INCH)),
        ("7-1/2 6", (15 * HALF, 6 * INCH)),
        ('7 1/2" 6"', (15 * HALF, 6 * INCH)),
        ("2.54 cm 1 in", (INCH, INCH)),
        ("7 1/2, 6", (15 * HALF, 6 * INCH)),
        ("7, 1/2", (7 * INCH, HALF)),
        ("0,0", (0, 0)),
        ("0 1/2", (0, HALF)),
        ("-3 -1 1/2", (-3 * INCH, -3 * HALF)),
    ],
)
def test_corners(text: str, corner: tuple[int, int]) -> None:
    assert parse_corner(text, "in", "outline") == corner


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        ("7 1/2", "write 7, 1/2 if two are meant"),
        ("7,5 6", "write 7.5 6"),
        ("6 11/", "write 6 11/16 or 6 11"),
        ("6", "write x and y, such as 7 1/2, 6"),
        ("a b", "write x and y, such as 7 1/2, 6"),
        ("1 2 3", "write x and y, such as 7 1/2, 6"),
        ("1, 2, 3", "write x and y, such as 7 1/2, 6"),
        ("", "write x and y, such as 7 1/2, 6"),
    ],
)
def test_what_is_not_a_corner(text: str, mend: str) -> None:
    with pytest.raises(Problem) as caught:
        parse_corner(text, "in", "outline")
    assert caught.value.field == "outline"
    assert f'"{text}"' in caught.value.what
    assert caught.value.mend == mend


def test_a_closing_semicolon_and_the_short_form() -> None:
    square = ((0, 0), (INCH, 0), (INCH, INCH), (0, INCH))
    assert parse_outline("0 0; 1 0; 1 1; 0 1;", "in", "outline") == square
    assert parse_outline("1 x 1 at 0 0", "in", "flaws") == square


ticks = st.integers(-(10**7), 10**7) | st.integers(-9999, 9999).map(
    lambda n: n * INCH // 8
)


@settings(deadline=None)
@given(
    st.lists(st.tuples(ticks, ticks), min_size=1, max_size=9),
    st.sampled_from(["in", "cm"]),
)
def test_outlines_read_back_exactly(corners: list[tuple[int, int]], unit: str) -> None:
    assert parse_outline(
        format_outline(tuple(corners), unit), unit, "outline"
    ) == tuple(corners)


@settings(deadline=None)
@given(st.integers(0, 10**7), st.sampled_from(["in", "cm"]))
def test_lengths_read_back_exactly(length: int, unit: str) -> None:
    shown = written_length(length, unit)
    assert parse_length(shown, unit, zero=True) == length
    if shown.endswith("mm"):
        assert Fraction(shown.removesuffix(" mm")) * TICKS_PER_MM == length


def test_corners_are_written_without_a_comma_where_they_can_be() -> None:
    assert format_corner((18 * INCH, 15 * HALF), "in") == "18 7 1/2"
    assert format_corner((7 * INCH, HALF), "in") == "7, 1/2"


# What spreadsheets show for a typed fraction (common practice, no source; from memory).
SHOWN = [
    "%Y-%m-%d",
    "%Y-%m-%d 00:00:00",
    "%d-%b",
    "%b-%d",
    "%d %b",
    "%d. %B",
    "%d-%b-%y",
    "%m/%d/%Y",
    "%d/%m/%Y",
]


@pytest.mark.parametrize("shape", SHOWN)
@pytest.mark.parametrize(
    "fraction",
    ["1/2", "1/4", "3/4", "1/8", "3/8", "5/8", "7/8", "1/16", "5/16", "11/16"],
)
def test_a_fraction_that_became_a_date_is_guessed(shape: str, fraction: str) -> None:
    """Month/day as typed; the calendar of Python's datetime (ISO 8601) is the oracle."""
    month, day = map(int, fraction.split("/"))
    text = datetime.datetime(2026, month, day).strftime(shape)
    assert fraction_of_date(text) == (True, Fraction(fraction))


@pytest.mark.parametrize("text", ["Jan-32", "1932-01-01"])
def test_a_fraction_of_32_became_a_month(text: str) -> None:
    """1/32 has no 32nd day: it becomes January 1932."""
    assert fraction_of_date(text) == (True, Fraction(1, 32))


@pytest.mark.parametrize(
    "text",
    [
        "2 1/2",
        "2-1/2",
        "2.5",
        "1/2",
        "12",
        "0.125",
        "6.35 cm",
        "1 3/8 yd",
        "10-12",
        "mar",
        "",
    ],
)
def test_lengths_are_no_dates(text: str) -> None:
    assert fraction_of_date(text) == (False, None)
