"""Below what no backing sewn by straight seams from one length can go: an argument by area, and one by width.

All parts together are as large as what is reached, and twice the allowance for each unit of seam on top. Where both
sides are longer than the cloth is wide, parts that still are so are divided by seams of panels, and every part in the
end has a side no longer than the width. Without the allowances (net) parts lie edge to edge, so that such seams are
at least as long as

* the shorter side, as the first one goes from edge to edge, and
* half of all outlines of parts less that of the whole: a part of area A with sides below u and m has half an outline
  of A (1/u + 1/m) at least, so it is m (n/u - 1) together, with m the longer and n the shorter side of the whole.

Where one side is no longer than the cloth is wide, either it is one piece, or one seam at least goes through.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from cutopt.fabric import ByLength, ByPiece, Fabric, Offered
from cutopt.job import cost_of
from cutopt.quilt.backs.way import OnHand
from cutopt.quilt.buying import shrunk, to_buy
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import ZERO, Exact, Number, ceil_to, exact, larger
from cutopt.quilt.top import Needed


@dataclass(frozen=True, slots=True, kw_only=True)
class Least:
    """What no way can do with less of one row of the shop: a length as it is sold, or so many pieces."""

    offered: Offered
    bought: int
    money: Decimal | None


def least_cloth(
    need: Needed, usable: Number, how: Conventions, own: Number = 0, spare: int = 0
) -> Exact:
    """No backing takes less of one length, ends and wash not counted.

    Parameters
    ----------
    own : area of pieces on hand that may serve as well, square ticks
    spare : what one piece alone has to leave of the width
    """
    seam = how.back_seam
    short, long = sorted((exact(need.width), exact(need.length)))
    area = short * long
    if own:
        return larger(0, area - own) / usable
    if short > usable:
        net = (long - 2 * seam) * ((short - 2 * seam) / (exact(usable) - 2 * seam) - 1)
        return (area + 2 * seam * larger(short, net)) / usable
    sewn = (area + 2 * seam * short) / usable
    # one side across the cloth, the other along it
    for side, other in ((long, short), (short, long)):
        if side + spare <= usable:
            return min(sewn, other)
    return sewn


def least_to_buy(
    need: Needed,
    shop: Sequence[Offered],
    how: Conventions,
    fabrics: Sequence[Fabric] = (),
    on_hand: Sequence[OnHand] = (),
) -> tuple[Least, ...]:
    """For each row of a shop the least that any way takes of it, if something is to be left to spare along it.

    Parameters
    ----------
    need : the size to reach
    shop : rows of a shop
    how : seam, squaring up, and what is tight
    fabrics : what a wash takes of them, by name
    on_hand : pieces that may serve as well
    """
    known = {fabric.name: fabric for fabric in fabrics}
    own = sum((exact(held.width) * held.length for held in on_hand), start=ZERO)
    found = []
    for offered in shop:
        fabric = known.get(offered.fabric, Fabric(name=offered.fabric))
        if isinstance(offered, ByPiece):
            found.append(_pieces(need, offered, fabric, how, own))
        else:
            found.append(_length(need, offered, fabric, how, own))
    return tuple(found)


def _length(
    need: Needed, offered: ByLength, fabric: Fabric, how: Conventions, own: Exact
) -> Least:
    usable = shrunk(offered.usable_width, fabric.shrink_across)
    net = least_cloth(need, usable, how, own, how.tight)
    if not net:
        return Least(offered=offered, bought=0, money=Decimal(0))
    bought = to_buy(
        net + how.tight, how, fabric.shrink_along, offered.sold_by, offered.smallest
    ).bought
    return Least(
        offered=offered, bought=bought, money=cost_of(offered, bought, how.unit)
    )


def _pieces(
    need: Needed, offered: ByPiece, fabric: Fabric, how: Conventions, own: Exact
) -> Least:
    sides = (
        shrunk(offered.each_width, fabric.shrink_across),
        shrunk(offered.each_length, fabric.shrink_along),
    )
    area = larger(0, need.width * need.length - own)
    count = int(ceil_to(area / (sides[0] * sides[1]), 1).plain)
    one = cost_of(offered, 0, how.unit)
    return Least(
        offered=offered, bought=count, money=None if one is None else count * one
    )


def cheapest(least: Iterable[Least]) -> Decimal | None:
    """The least that any row asks for; None where one has no price."""
    sums = [each.money for each in least]
    if None in sums or not sums:
        return None
    return min(value for value in sums if value is not None)


def shortest(least: Iterable[Least]) -> int | None:
    """The least length that any row asks for; None where one of them is sold by the piece."""
    rows = tuple(least)
    if not rows or not all(isinstance(each.offered, ByLength) for each in rows):
        return None
    return min(each.bought for each in rows)
