"""Numbers of the form a + b√n, exactly: on-point settings need √2, shapes of 60 degrees √3, slanted sides other roots.

`plain` and `root` are Fractions, of ticks where the number is a length; n is a whole number that is no square, 2 where
nothing else is said. Sums, differences, products and quotients of numbers with the same n stay in this form, comparison
squares in place of taking a root, and rounding goes by whole-number square roots. No float is involved.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import isqrt, sqrt
from typing import Final, TypeAlias


def _floor_root(q: int, under: int) -> int:
    """The largest whole number not above q√n."""
    if q >= 0:
        return isqrt(under * q * q)
    return -isqrt(under * q * q) - 1


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Exact:
    """`plain` + `root` x √`under`."""

    plain: Fraction
    root: Fraction = Fraction(0)
    under: int = 2

    @property
    def is_plain(self) -> bool:
        """Whether no root is left in it."""
        return self.root == 0

    def _of(self, plain: Fraction, root: Fraction, other: Exact) -> Exact:
        """A number with the root that this one and another have."""
        if self.root == 0:
            under = other.under
        else:
            under = self.under
        if other.root and other.under != under:
            raise ArithmeticError(
                f"√{self.under} and √{other.under} do not go together"
            )
        return Exact(plain=plain, root=root, under=under)

    def _sign(self) -> int:
        a = self.plain
        b = self.root
        if a >= 0 and b >= 0:
            return int(a > 0 or b > 0)
        if a <= 0 and b <= 0:
            return -1
        # never equal: the root is no fraction
        if a * a > self.under * b * b:
            larger = a
        else:
            larger = b
        if larger > 0:
            return 1
        return -1

    def __add__(self, other: Number) -> Exact:
        o = exact(other)
        return self._of(self.plain + o.plain, self.root + o.root, o)

    __radd__ = __add__

    def __neg__(self) -> Exact:
        return Exact(plain=-self.plain, root=-self.root, under=self.under)

    def __sub__(self, other: Number) -> Exact:
        return self + -exact(other)

    def __rsub__(self, other: Number) -> Exact:
        return exact(other) + -self

    def __mul__(self, other: Number) -> Exact:
        o = exact(other)
        plain = self.plain * o.plain + self.under * self.root * o.root
        return self._of(plain, self.plain * o.root + self.root * o.plain, o)

    __rmul__ = __mul__

    def __truediv__(self, other: Number) -> Exact:
        o = exact(other)
        # 0 only for 0
        norm = o.plain * o.plain - o.under * o.root * o.root
        return self * Exact(plain=o.plain / norm, root=-o.root / norm, under=o.under)

    def __rtruediv__(self, other: Number) -> Exact:
        return exact(other) / self

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, int | Fraction | Exact):
            return NotImplemented
        o = exact(other)
        if self.plain != o.plain or self.root != o.root:
            return False
        return self.root == 0 or self.under == o.under

    def __hash__(self) -> int:
        if self.is_plain:
            return hash(self.plain)
        return hash((self.plain, self.root, self.under))

    def __lt__(self, other: Number) -> bool:
        return (self - other)._sign() < 0

    def __le__(self, other: Number) -> bool:
        return (self - other)._sign() <= 0

    def __gt__(self, other: Number) -> bool:
        return (self - other)._sign() > 0

    def __ge__(self, other: Number) -> bool:
        return (self - other)._sign() >= 0

    def __bool__(self) -> bool:
        return bool(self.plain or self.root)

    def __float__(self) -> float:
        """A float for drawings and messages; nothing is decided by it."""
        return float(self.plain) + float(self.root) * sqrt(self.under)

    def __floor__(self) -> int:
        common = self.plain.denominator * self.root.denominator
        p = self.plain.numerator * self.root.denominator
        q = self.root.numerator * self.plain.denominator
        if q:
            return (p + _floor_root(q, self.under)) // common
        return p // common

    def __ceil__(self) -> int:
        return -(-self).__floor__()


Number: TypeAlias = int | Fraction | Exact
ZERO: Final = Exact(plain=Fraction(0))
ROOT2: Final = Exact(plain=Fraction(0), root=Fraction(1))
ROOT3: Final = Exact(plain=Fraction(0), root=Fraction(1), under=3)
# squares of these are taken out of a root: 127 ticks are 1/64 in
_SMALL_FACTORS: Final = range(2, 128)


def exact(value: Number) -> Exact:
    """The value as an :class:`Exact`."""
    if isinstance(value, Exact):
        return value
    return Exact(plain=Fraction(value))


def square_root(value: int | Fraction) -> Exact:
    """The square root of a number that is not below 0, exactly."""
    number = Fraction(value)
    under = number.numerator * number.denominator
    whole = isqrt(under)
    if whole * whole == under:
        return exact(Fraction(whole, number.denominator))
    times = 1
    for factor in _SMALL_FACTORS:
        while under % (factor * factor) == 0:
            under //= factor * factor
            times *= factor
    share = Fraction(times, number.denominator)
    return Exact(plain=Fraction(0), root=share, under=under)


def ceil_to(value: Number, step: Number) -> Exact:
    """The smallest multiple of `step` that is not below `value`: the one rounding of a size that is needed."""
    return (exact(value) / step).__ceil__() * exact(step)


def how_often(room: Number, size: Number) -> int:
    """How many times `size` goes into `room`, 0 where there is no room at all."""
    return max(0, (exact(room) / size).__floor__())


def how_many(need: Number, size: Number) -> int:
    """The least n with n x size >= need."""
    return max(0, (exact(need) / size).__ceil__())


def larger(first: Number, *others: Number) -> Exact:
    """The largest of the values."""
    best = exact(first)
    for other in others:
        if other > best:
            best = exact(other)
    return best


def decimals(value: Number, places: int) -> str:
    """The value to the nearest of so many decimals, half up, without closing zeros' being dropped."""
    scaled = (exact(value) * 10**places + Fraction(1, 2)).__floor__()
    if scaled < 0:
        sign = "-"
    else:
        sign = ""
    digits = abs(scaled)
    whole, part = divmod(digits, 10**places)
    if places:
        return f"{sign}{whole}.{part:0{places}d}"
    return f"{sign}{whole}"
