"""From the length that is needed to the length that is bought: each step in its order, rounded once."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from cutopt.errors import Problem
from cutopt.lengths import METRE, YARD, format_sale
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.surds import Exact, Number, ceil_to, exact, how_often, larger


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """A purchase by length and how it came about.

    `net` is what the parts need, `squared` with both ends squared up, `before_wash` what has to be bought so that
    so much is left, `bought` a whole number of steps; `left` is what remains after the wash and squaring up.
    """

    net: Exact
    squared: Exact
    before_wash: Exact
    bought: int
    left: Exact
    why: str


def shrunk(size: Number, share: Fraction) -> Exact:
    """What is left of a size after the wash.

    A share is the dimensional change of AATCC TM135, 100 (after - before) / before, without its sign; that test, and ISO
    5077 (from memory), report length and width apart, and so a fabric has two.
    """
    return exact(size) * (1 - _share(share))


def before_wash(size: Number, share: Fraction) -> Exact:
    """What to buy so that `size` is left: size / (1 - share), never size x (1 + share)."""
    return exact(size) / (1 - _share(share))


def _share(share: Fraction) -> Fraction:
    if not 0 <= share < Fraction(1, 2):
        raise Problem(
            "shrinkage",
            f"{float(share):g} is not a shrinkage",
            "write a share such as 3% (below 50%)",
        )
    return Fraction(share)


def to_buy(
    net: Number,
    how: Conventions = DEFAULT,
    shrink: Fraction = Fraction(0),
    sold_by: int | None = None,
    smallest: int | None = None,
) -> Purchase:
    """Net length, + square-up at both ends, / (1 - shrinkage), + extra, then up to the step, once.

    The width has to be shrunk before anything is counted across it (:func:`shrunk`).

    Parameters
    ----------
    net : length that is needed after the wash, ticks
    how : squaring up, extra, and the usual step and least sale
    shrink : share that the length loses in the wash
    sold_by, smallest : step and least sale of a row of the shop, ticks; None for the usual ones
    """
    if sold_by is None:
        step = how.sold_by
    else:
        step = sold_by
    if smallest is None:
        least = how.smallest_sale
    else:
        least = smallest
    squared = exact(net) + 2 * how.square_up_end
    whole = before_wash(squared, shrink)
    bought = int(ceil_to(larger(whole + how.extra, least), step).plain)
    left = shrunk(bought, shrink) - squared
    return Purchase(
        net=exact(net),
        squared=squared,
        before_wash=whole,
        bought=bought,
        left=left,
        why=_why(net, squared, whole, bought, shrink, how),
    )


def _why(
    net: Number,
    squared: Exact,
    whole: Exact,
    bought: int,
    shrink: Fraction,
    how: Conventions,
) -> str:
    told = how.least(net)
    if how.square_up_end:
        told += (
            f" + 2 x {how.show(how.square_up_end)} to square up = {how.least(squared)}"
        )
    if shrink:
        told += f", / (1 - {float(shrink * 100):g}%) = {how.least(whole)}"
    if how.extra:
        told += f", + {how.show(how.extra)} extra"
    return f"{told}, buy {format_sale(bought, how.unit)}"


def area_bound(areas: Number, usable: Number) -> Exact:
    """No plan needs less length than the area of the parts / usable width; `areas` in square ticks."""
    return exact(areas) / usable


def used_cost(used: Number, price: Decimal, how: Conventions = DEFAULT) -> Decimal:
    """What the cloth that is used costs, to the cent, half up; `price` is per yard or metre.

    Parameters
    ----------
    used : length, ticks
    price : of a yard in an inch job, else of a metre
    how : the unit
    """
    share = exact(used) / (YARD if how.unit == "in" else METRE)
    cents = (share * Fraction(price) * 1000).__floor__()
    return (Decimal(cents) / 1000).quantize(Decimal("0.01"), ROUND_HALF_UP)


def pieces_to_buy(
    count: int, width: Number, length: Number, each: tuple[Number, Number]
) -> int:
    """How many bought pieces give `count` patches of one size, none turned: ceil(n / per piece).

    Parameters
    ----------
    count : how many patches
    width, length : of a patch, ticks
    each : width and length of a bought piece, ticks

    Raises
    ------
    Problem
        Where the patch does not fit.
    """
    per = how_often(each[0], width) * how_often(each[1], length)
    if not per:
        raise Problem("each_width", "the patch does not fit", "choose a larger piece")
    return -(-count // per)
