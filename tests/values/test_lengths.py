"""Lengths against an oracle of its own: what is written is put together from whole numbers, and its size in
millimetres worked out beside it with Fraction and Decimal.

1 in = 25.4 mm, 1 ft = 0.3048 m and 1 yd = 0.9144 m exactly: NIST Handbook 44, Appendix C.
"""

from __future__ import annotations

import math
import re
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutopt import lengths
from cutopt.errors import Problem
from cutopt.lengths import (
    down,
    exact_length,
    format_length,
    format_sale,
    parse_length,
    parse_number,
    up,
    up_to,
)

MM_OF = {  # Handbook 44, Appendix C
    "in": Decimal("25.4"),
    "yd": Decimal("914.4"),
    "mm": Decimal(1),
    "cm": Decimal(10),
    "m": Decimal(1000),
}
SPELT = {
    "in": ["in", "in.", "inch", "inches", '"', "''", "″", "”", "IN", "Inches"],
    "yd": ["yd", "yd.", "yds", "yard", "yards", "YD"],
    "mm": ["mm", "mm.", "millimetre", "millimetres", "millimeters"],
    "cm": ["cm", "cm.", "CM", "centimetre", "centimetres", "centimeters"],
    "m": ["m", "m.", "metre", "metres", "meters"],
}
VULGAR = {
    (1, 2): "½",
    (1, 4): "¼",
    (3, 4): "¾",
    (1, 8): "⅛",
    (3, 8): "⅜",
    (5, 8): "⅝",
    (7, 8): "⅞",
    (1, 3): "⅓",
    (2, 3): "⅔",
    (1, 5): "⅕",
    (2, 5): "⅖",
    (3, 5): "⅗",
    (4, 5): "⅘",
    (1, 6): "⅙",
    (5, 6): "⅚",
}


def ticks_of(number: Fraction, unit: str) -> Fraction:
    """Oracle: 320 ticks a millimetre, millimetres by the handbook."""
    return number * Fraction(MM_OF[unit]) * 320


@pytest.mark.parametrize("unit", MM_OF)
def test_units_are_those_of_the_handbook(unit: str) -> None:
    assert lengths.UNITS[unit] == MM_OF[unit] * 320
    three_feet = 3 * Fraction(Decimal("0.3048")) * 1000
    assert three_feet * 320 == lengths.YARD
    assert lengths.INCH % 64 == 0


@st.composite
def written(draw: st.DrawFn) -> tuple[str, Fraction, str]:
    """A length as people write it, with its number and unit ("" where none is written)."""
    whole = draw(st.integers(0, 90))
    den = draw(st.sampled_from([2, 3, 4, 5, 8, 16, 32, 64]))
    num = draw(st.integers(1, den - 1))
    kinds = [
        "whole",
        "decimal",
        "fraction",
        "mixed",
        "hyphen",
        "and",
        "vulgar",
        "spaced vulgar",
        "slash",
    ]
    kind = draw(st.sampled_from(kinds))
    number = Fraction(whole) + Fraction(num, den)
    text = {
        "mixed": f"{whole} {num}/{den}",
        "hyphen": f"{whole}-{num}/{den}",
        "and": f"{whole} and {num}/{den}",
        "slash": f"{whole} {num} / {den}",
    }.get(kind, "")
    if kind == "whole":
        text = str(whole)
        number = Fraction(whole)
    elif kind == "decimal":
        places = draw(st.integers(1, 4))
        digits = draw(st.integers(0, 10**places - 1))
        text = f"{whole}.{digits:0{places}d}"
        number = Fraction(Decimal(f"{whole}.{digits:0{places}d}"))
        text = draw(st.sampled_from([text, text.lstrip("0") if whole == 0 else text]))
    elif kind == "fraction":
        text = f"{num}/{den}"
        number = Fraction(num, den)
    elif "vulgar" in kind:
        (num, den), sign = draw(st.sampled_from(sorted(VULGAR.items())))
        text = f"{whole}{' ' * (kind != 'vulgar')}{sign}"
        number = whole + Fraction(num, den)
    unit = draw(st.sampled_from(["", *MM_OF]))
    spelt = draw(st.sampled_from(SPELT[unit])) if unit else ""
    gap = draw(st.sampled_from(["", " ", "\N{NO-BREAK SPACE}", "-"])) if spelt else ""
    edge = draw(st.sampled_from(["", " "]))
    return edge + text + gap + spelt + edge, number, unit


@given(written(), st.sampled_from(["in", "cm"]))
def test_a_length_is_read_exactly(case: tuple[str, Fraction, str], usual: str) -> None:
    text, number, unit = case
    ticks = parse_length(text, usual, zero=True)
    assert ticks == ticks_of(number, unit or usual)
    assert (
        parse_length(text, usual, zero=True) == ticks
    )  # reading leaves nothing behind


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("2 1/2", "63.5"),
        ("2½", "63.5"),
        ("2.5", "63.5"),
        ('2-1/2"', "63.5"),
        ("6.35 cm", "63.5"),
        ("1 3/8 yd", "1257.3"),
        ("0.4 m", "400"),
        ("2 1/2-inch", "63.5"),
        ("2–1/2 in", "63.5"),
        ("2 1⁄2", "63.5"),
        ("½", "12.7"),
        (".5", "12.7"),
        ("5.", "127"),
        ("1/4 yd", "228.6"),
        ("2''", "50.8"),
        ("2 1/2 in.", "63.5"),
        ("2 ½", "63.5"),
        ("11", "279.4"),
        ("10 mm", "10"),
        ("1 and 1/2 yards", "1371.6"),
        ("9/8 yd", "1028.7"),
    ],
)
def test_spellings(text: str, mm: str) -> None:
    """25.4 mm an inch, 914.4 mm a yard, worked out by hand."""
    assert parse_length(text) == Fraction(Decimal(mm)) * 320


@pytest.mark.parametrize(
    ("text", "what", "mend"),
    [
        ("", "a length is missing", "2 1/2"),
        ("   ", "a length is missing", "2 1/2"),
        ("6 11/", '"6 11/" is not a length', "6 11/16"),
        ("6 0/", '"6 0/" is not a length', "write 6"),
        ("1/0", '"1/0" is not a length', "2 1/2"),
        ("2 1/0 in", "is not a length", "2 1/2"),
        ("-3", "is not a length", "2 1/2"),
        ("two", "is not a length", "2 1/2"),
        ("2 1/2 1/2", "is not a length", "2 1/2"),
        ("3½½", "is not a length", "2 1/2"),
        ("2 ft", "is not a length", "2 1/2"),
        ("1e3", "is not a length", "2 1/2"),
        ("nan", "is not a length", "2 1/2"),
        ("inf", "is not a length", "2 1/2"),
        ("in", "is not a length", "2 1/2"),
        ("1.5.2", "is not a length", "2 1/2"),
        ("2 x 3", "is not a length", "2 1/2"),
        ("2,5", '"2,5" has a decimal comma', "write 2.5"),
        ("2,5 cm", '"2,5 cm" has a decimal comma', "write 2.5 cm"),
        ("0", '"0" is nothing', "above 0"),
        ("0/4 in", "is nothing", "above 0"),
        ("101 m", "longer than 100 m", "unit"),
        ("110 yd", "longer than 100 m", "unit"),
        ("99999999999999999999", "longer than 100 m", "unit"),
    ],
)
def test_what_is_not_a_length_is_told_with_its_mend(
    text: str, what: str, mend: str
) -> None:
    with pytest.raises(Problem) as told:
        parse_length(text, field="width")
    assert what in told.value.what
    assert mend in told.value.mend
    assert told.value.field == "width"


def test_a_metric_maker_is_shown_no_inch() -> None:
    with pytest.raises(Problem) as told:
        parse_length("eleven", "cm")
    assert not re.search(r"\bin\b|1/2", str(told.value))


def test_lengths_at_their_limits() -> None:
    assert parse_length("100 m") == 100 * 1000 * 320
    assert parse_length("0", zero=True) == 0


@given(st.text(max_size=12))
def test_any_text_is_a_length_or_a_problem(text: str) -> None:
    try:
        ticks = parse_length(text)
    except Problem as problem:
        told = str(problem)
    else:
        assert 0 < ticks <= 100 * 1000 * 320
        return
    assert told.startswith("length: ")


@given(st.text(alphabet="0123456789 /-.½¼", max_size=9))
def test_numbers_agree_with_fraction_wherever_it_reads_them(text: str) -> None:
    """Python's Fraction reads plain decimals and quotients too (a sign, a gap round the slash or _ apart)."""
    if re.fullmatch(r"\d+(/\d+)?|\d*\.\d+|\d+\.", text) and not re.search(
        r"/0+$", text
    ):
        assert parse_number(text) == Fraction(text)


@given(st.integers(0, 300 * 64))
def test_inches_on_the_ruler_round_trip(marks: int) -> None:
    """Every 64th up to 300 in: shown in lowest terms, without a sign of doubt, and read back the same."""
    shown = format_length(marks * lengths.INCH // 64)
    assert parse_length(shown, zero=True) == marks * lengths.INCH // 64
    found = re.fullmatch(r"(\d+)|(?:(\d+) )?(\d+)/(\d+)", shown)
    assert found is not None
    if found[3]:
        num = int(found[3])
        den = int(found[4])
        assert math.gcd(num, den) == 1
        assert num < den
        assert 64 % den == 0


@given(st.integers(0, 100 * 1000 * 10))
def test_tenths_of_millimetres_round_trip(tenths: int) -> None:
    for unit in ("cm", "mm"):
        shown = format_length(tenths * 32, unit)
        assert parse_length(shown, unit, zero=True) == tenths * 32
        assert re.fullmatch(r"\d+(\.\d*[1-9])?", shown)


@given(
    st.integers(-99 * lengths.METRE, 99 * lengths.METRE),
    st.sampled_from(["in", "cm", "mm", "m"]),
)
def test_any_length_is_shown_to_the_nearest_mark(ticks: int, unit: str) -> None:
    """Within half of the finest mark (1/64 in, 0.1 mm, 1 mm for metres), with a sign of doubt just when off it."""
    shown = format_length(ticks, unit)
    plain = shown.removeprefix("≈").removeprefix("-")
    back = parse_length(plain, unit, zero=True) * (-1 if "-" in shown else 1)
    mark = {
        "in": Fraction(127),
        "cm": Fraction(32),
        "mm": Fraction(32),
        "m": Fraction(320),
    }[unit]
    assert abs(back - ticks) <= mark / 2
    assert shown.startswith("≈") == (back != ticks)


def test_sales_are_told_as_shops_tell_them() -> None:
    """Eighths and thirds of a yard (common practice, no source); metres in a metric job."""
    assert format_sale(lengths.YARD * 11 // 8, "in") == "1 3/8 yd"
    assert format_sale(lengths.YARD // 3, "in") == "1/3 yd"
    assert format_sale(lengths.YARD * 2 // 3, "in") == "2/3 yd"
    assert format_sale(1300 * 320, "cm") == "1.3 m"
    assert format_length(lengths.INCH * 5 // 2, mark=True) == "2 1/2 in"


def test_a_shop_may_sell_by_the_other_measure() -> None:
    """An eighth of a yard is 0.1143 m (yard and pound agreement, 1959), which no metre stick of a counter shows."""
    assert format_sale(lengths.METRE // 10, "in") == "0.1 m"
    assert format_sale(lengths.YARD // 8, "cm") == "1/8 yd"
    assert (
        format_sale(lengths.INCH * 10, "in") == "10 in"
    )  # 5/18 yd is no mark; 0.254 m is, but not of an inch job
    assert format_sale(lengths.INCH * 10, "cm") == "0.254 m"
    assert format_sale(lengths.INCH * 15, "in") == "15 in"
    both = lengths.METRE // 10 + lengths.YARD // 8  # neither shows it
    assert format_sale(both, "in").startswith("≈")


@given(st.integers(0, 10**9), st.sampled_from(["in", "cm", "mm", "m", "yd"]))
def test_an_exact_length_is_read_back_as_the_same(ticks: int, unit: str) -> None:
    number = parse_number(exact_length(ticks, unit))
    assert number is not None
    assert number * lengths.UNITS[unit] == ticks


def test_an_exact_length_is_told_as_on_a_ruler_where_one_shows_it() -> None:
    """An inch is 25.4 mm, so 10 cm are 500/127 in."""
    assert exact_length(lengths.INCH * 45 // 2) == "22 1/2"
    assert exact_length(lengths.METRE // 10) == "3 119/127"
    assert exact_length(lengths.METRE // 10, "cm") == "10"
    assert exact_length(lengths.YARD // 8, "cm") == "11.43"


def test_an_unknown_unit_is_a_problem() -> None:
    with pytest.raises(Problem):
        format_length(1, "ell")


@given(st.fractions(-1000, 1000), st.integers(1, 500))
def test_roundings(value: Fraction, step: int) -> None:
    assert up(value) == math.ceil(value)
    assert down(value) == math.floor(value)
    least = up_to(value, step)
    assert least % step == 0
    assert least - step < value <= least
