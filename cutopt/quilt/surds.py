"""Numbers of the form a + b√2, exactly: on-point settings and triangles need √2 and nothing worse.

`plain` and `root` are Fractions, of ticks where the number is a length. Sums, differences, products and
quotients stay in this form, comparison squares in place of taking a root, and rounding goes by whole-number
square roots. No float is involved.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import isqrt
from typing import Final, TypeAlias


def _floor_root2(q: int) -> int:
    """The largest whole number not above q√2."""
    if q >= 0:
        return isqrt(2 * q * q)
    return -isqrt(2 * q * q) - 1


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Exact:
    """`plain` + `root` x √2."""

    plain: Fraction
    root: Fraction = Fraction(0)

    @property
    def is_plain(self) -> bool:
        """Whether no √2 is left in it."""
        return self.root == 0

    def _sign(self) -> int:
        a = self.plain
        b = self.root
        if a >= 0 and b >= 0:
            return int(a > 0 or b > 0)
        if a <= 0 and b <= 0:
            return -1
        # never equal: √2 is no fraction
        if a * a > 2 * b * b:
            larger = a
        else:
            larger = b
        if larger > 0:
            return 1
        return -1

    def __add__(self, other: Number) -> Exact:
        o = exact(other)
        return Exact(plain=self.plain + o.plain, root=self.root + o.root)

    __radd__ = __add__

    def __neg__(self) -> Exact:
        return Exact(plain=-self.plain, root=-self.root)

    def __sub__(self, other: Number) -> Exact:
        return self + -exact(other)

    def __rsub__(self, other: Number) -> Exact:
        return exact(other) + -self

    def __mul__(self, other: Number) -> Exact:
        o = exact(other)
        return Exact(
            plain=self.plain * o.plain + 2 * self.root * o.root,
            root=self.plain * o.root + self.root * o.plain,
        )

    __rmul__ = __mul__

    def __truediv__(self, other: Number) -> Exact:
        o = exact(other)
        # 0 only for 0
        norm = o.plain * o.plain - 2 * o.root * o.root
        return self * Exact(plain=o.plain / norm, root=-o.root / norm)

    def __rtruediv__(self, other: Number) -> Exact:
        return exact(other) / self

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, int | Fraction | Exact):
            return NotImplemented
        o = exact(other)
        return self.plain == o.plain and self.root == o.root

    def __hash__(self) -> int:
        if self.is_plain:
            return hash(self.plain)
        return hash((self.plain, self.root))

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
        return float(self.plain) + float(self.root) * 2**0.5

    def __floor__(self) -> int:
        common = self.plain.denominator * self.root.denominator
        p = self.plain.numerator * self.root.denominator
        q = self.root.numerator * self.plain.denominator
        if q:
            return (p + _floor_root2(q)) // common
        return p // common

    def __ceil__(self) -> int:
        return -(-self).__floor__()


Number: TypeAlias = int | Fraction | Exact
ZERO: Final = Exact(plain=Fraction(0))
ROOT2: Final = Exact(plain=Fraction(0), root=Fraction(1))


def exact(value: Number) -> Exact:
    """The value as an :class:`Exact`."""
    if isinstance(value, Exact):
        return value
    return Exact(plain=Fraction(value))


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
