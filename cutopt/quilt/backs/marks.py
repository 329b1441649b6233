"""Sizes on the marks of a ruler: what is there down to one, what is cut up to one.

Everything that is counted on for a backing lies on a mark, so that what is printed is the very size that was
reckoned with: cloth that shrinks to 40.74 in is counted as 40 11/16, and nobody is asked to cut 40 3/4 out of it.
"""

from __future__ import annotations

from dataclasses import replace

from cutopt.lengths import INCH, MM, format_length
from cutopt.quilt.backs.way import OnHand
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import Number, ceil_to, exact


def mark_of(how: Conventions) -> int:
    """The distance of the finest marks that can be printed without rounding, ticks."""
    if not format_length(how.ruler, how.unit).startswith("≈"):
        return how.ruler
    if how.unit == "in":
        return INCH // 16
    return MM


def grid_of(how: Conventions) -> int:
    """The step to which a size that is off the marks is rounded up, ticks."""
    mark = mark_of(how)
    if how.grid % mark:
        return mark
    return how.grid


def there(size: Number, how: Conventions) -> int:
    """A size that is there, down to a mark, ticks."""
    mark = mark_of(how)
    return (exact(size) / mark).__floor__() * mark


def to_cut(size: Number, how: Conventions) -> int:
    """A size to cut, ticks: as it is where it meets a mark, else up to the grid."""
    fine = ceil_to(size, mark_of(how))
    if fine == size:
        step = mark_of(how)
    else:
        step = grid_of(how)
    return int(ceil_to(size, step).plain)


def measured(held: OnHand, how: Conventions) -> OnHand:
    """A piece on hand as a ruler shows that it is there."""
    return replace(held, width=there(held.width, how), length=there(held.length, how))
