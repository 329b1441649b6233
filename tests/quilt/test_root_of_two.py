"""Numbers a + b√2, a + b√3: exact, and never rounded down. Oracle: decimal arithmetic, 60 digits (standard library)."""

from __future__ import annotations

from decimal import Decimal, localcontext
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutopt.errors import Problem
from cutopt.lengths import INCH, MM
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import (
    ROOT2,
    ROOT3,
    Exact,
    ceil_to,
    decimals,
    exact,
    how_many,
    how_often,
    square_root,
)

fractions = st.fractions(-1000, 1000, max_denominator=64)

# no squares: 2 of diagonals, 3 of 60 degrees, the others of slanted sides
UNDER = (2, 3, 5, 21, 1037)


def numbers_under(under: int) -> st.SearchStrategy[Exact]:
    return st.builds(
        lambda a, b: Exact(plain=a, root=b, under=under), fractions, fractions
    )


numbers = st.sampled_from(UNDER).flatmap(numbers_under)
pairs = st.sampled_from(UNDER).flatmap(
    lambda under: st.tuples(numbers_under(under), numbers_under(under))
)


def decimal(value: Exact) -> Decimal:
    with localcontext() as context:
        context.prec = 60
        a, b = (
            Decimal(f.numerator) / Decimal(f.denominator)
            for f in (value.plain, value.root)
        )
        return a + b * Decimal(value.under).sqrt()


@given(pairs)
def test_order_agrees_with_sixty_digits(two: tuple[Exact, Exact]) -> None:
    x, y = two
    if x != y:
        assert (x < y) == (decimal(x) < decimal(y))
        assert (x > y) == (not x < y)
    assert x <= x
    assert x >= x


@given(pairs)
def test_field(two: tuple[Exact, Exact]) -> None:
    x, y = two
    assert (x + y) - y == x
    assert x * y == y * x
    if y != 0:
        assert x / y * y == x
    assert hash(x + 0) == hash(x)
    assert bool(x) == (x != 0)


@given(numbers, st.integers(1, 500))
def test_rounding_up_is_never_down_and_less_than_a_step(x: Exact, step: int) -> None:
    """Arithmetic identity."""
    rounded = ceil_to(x, step)
    assert rounded >= x
    assert rounded - step < x
    assert (rounded / step).plain.denominator == 1


@given(numbers)
def test_floor_agrees_with_sixty_digits(x: Exact) -> None:
    """Oracle: decimal arithmetic."""
    with localcontext() as context:
        context.prec = 60
        assert x.__floor__() == int(decimal(x).to_integral_value("ROUND_FLOOR"))


@given(st.integers(0, 3000), st.integers(1, 100))
def test_counting(room: int, size: int) -> None:
    """Arithmetic identity."""
    assert how_often(room, size) == room // size
    assert how_many(room, size) == -(-room // size)


@given(st.fractions(0, 10**9, max_denominator=10**6))
def test_a_square_root_squared_is_the_number(value: Fraction) -> None:
    """Arithmetic identity."""
    root = square_root(value)
    assert root * root == value
    assert root >= 0
    assert root.is_plain == (root.root == 0)


def test_roots_of_different_numbers_do_not_go_together() -> None:
    """Arithmetic identity."""
    assert square_root(12) == 2 * ROOT3
    assert square_root(Fraction(9, 16)) == Fraction(3, 4)
    assert ROOT2 != ROOT3
    with pytest.raises(ArithmeticError, match="√2 and √3"):
        ROOT2 + ROOT3
    # where no root is left it does not matter which it was
    assert (ROOT2 - ROOT2) + ROOT3 == ROOT3


def test_near_ties_are_told_apart() -> None:
    """Convergents of √2 (identity): 665857/470832 is above it by less than 2e-12."""
    above = Fraction(665857, 470832)
    below = Fraction(275807, 195025)
    assert below < ROOT2 < above
    assert ROOT2 * ROOT2 == 2
    assert decimals(ROOT2, 9) == "1.414213562"
    assert decimals(-ROOT2 + exact(1), 2) == "-0.41"


@given(st.fractions(0, 100, max_denominator=960), st.booleans())
def test_a_cut_size_is_never_below_the_need(need: Fraction, root: bool) -> None:
    """Arithmetic identity."""
    how = Conventions()
    value = exact(need * INCH) * (ROOT2 if root else 1)
    cut = how.cut_size(value)
    assert cut >= value
    assert cut - value < how.grid
    assert cut % how.ruler == 0


def test_a_size_on_a_mark_of_the_ruler_is_cut_as_it_is() -> None:
    """Identity: 1 13/16 needs sixteenths and is not rounded to eighths."""
    how = Conventions()
    assert how.cut_size(29 * INCH // 16) == 29 * INCH // 16
    assert how.cut_size(Fraction(57 * INCH, 32)) == 29 * INCH // 16 + INCH // 16


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("unit", "ft"),
        ("seam", -1),
        ("grid", 0),
        ("machine", "fast"),
        ("rule_half", 100),
    ],
)
def test_conventions_refuse_nonsense(field: str, value: object) -> None:
    """Sizes and words are invented."""
    with pytest.raises(Problem):
        Conventions(**{"triangles": "rule", field: value})  # type: ignore[arg-type]


def test_a_bare_number_of_inches_is_refused() -> None:
    """Sizes and words are invented."""
    with pytest.raises(Problem, match="next to nothing"):
        Conventions().read(12)


@given(
    st.integers(0, 400),
    st.integers(0, 400),
    st.sampled_from([Conventions(), Conventions.metric()]),
)
def test_what_is_told_of_a_length_off_the_marks(
    whole: int, roots: int, how: Conventions
) -> None:
    """Needed up, left down, a finished size to the nearest mark; each within one mark and never with decimals of √2.

    Arithmetic identity.
    """
    value = (whole + roots * ROOT2) * MM
    least, room, near = (
        how.read(text)
        for text in (
            how.least(value),
            how.room(value).removeprefix("under "),
            how.near(value),
        )
    )
    assert value <= least < value + how.ruler
    under = how.room(value).startswith("under")
    assert under == (0 < value < how.ruler)
    assert under or value - how.ruler < room <= value
    assert abs(float(near - value)) <= how.ruler / 2
    assert (
        "." not in how.least(value) + how.room(value) + how.near(value)
        or how.unit == "cm"
    )
