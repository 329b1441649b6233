"""One direction of one fabric to be covered, and what a way to cover it takes of the length in the shop."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from cutopt.fabric import ByLength
from cutopt.job import cost_of
from cutopt.quilt.backs.marks import mark_of
from cutopt.quilt.backs.on_hand import listed, panels_of, scarce
from cutopt.quilt.backs.sewn import Piecing, row_of, size_of, turned
from cutopt.quilt.backs.way import OnHand, Run, Way
from cutopt.quilt.buying import to_buy
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import ZERO, Exact, ceil_to, exact

MOST_WIDTHS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """`across` to be covered by widths of `usable`, each `along` in length.

    Parameters
    ----------
    shop, how : the row of the shop, and how this maker sews
    shrink : share that the length loses in the wash
    usable : width that is there after the wash, ticks, on a mark of the ruler
    run : whether the panels stand or lie
    turned : whether parts may hang the other way
    across, along : ticks; the length of a panel lies on a mark
    hand, before : panels on hand beside it, and the sum that leaves `across` beside them
    """

    shop: ByLength
    how: Conventions
    shrink: Fraction
    usable: Exact
    run: Run
    turned: bool
    across: Exact
    along: Exact
    hand: tuple[OnHand, ...] = ()
    before: str = ""

    @property
    def lost(self) -> int:
        """What each seam takes of the two parts that it joins, ticks."""
        return 2 * self.how.back_seam

    @property
    def whole(self) -> Exact:
        """What is to be reached across, with what is on hand."""
        return self.across + sum(held.width - self.lost for held in self.hand)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieced:
    """What is bought of a way and how it is sewn.

    Parameters
    ----------
    kind, pattern : what it is; the same whatever the pieces on hand are called, empty where none has a name in it
    parts : from left to right
    net, why : length that it takes, ticks, and the sum that gives it
    seams, joins : long seams, and short ones inside a strip
    tight : what has next to nothing to spare across, else empty
    """

    kind: str
    parts: tuple[Piecing, ...]
    net: Exact
    why: str
    seams: int
    joins: int = 0
    tight: str = ""
    pattern: str = ""


def bought(side: Side, pieced: Pieced) -> Iterable[Way]:
    """The way with its purchase, with the panels on hand where there are some.

    Where the length that is bought leaves next to nothing, the same also with the next step of the sale.
    """
    way = _way(side, pieced, ZERO)
    yield way
    if way.tight and way.tight != pieced.tight:
        yield _way(side, pieced, exact(side.how.tight))


def _way(side: Side, pieced: Pieced, more: Exact) -> Way:
    """The way where so much more than it takes is wanted of the length."""
    how = side.how
    purchase = to_buy(
        pieced.net + more, how, side.shrink, side.shop.sold_by, side.shop.smallest
    )
    left = purchase.left + more
    high = ceil_to(size_of(pieced.parts[0])[1], mark_of(how))
    row = row_of((*panels_of(side.hand, high), *pieced.parts), False, how.back_seam)
    kind = pieced.kind
    if side.hand:
        kind = f"{listed([held.name for held in side.hand])} and {kind}"
    sums = f"{side.before}{pieced.why} = "
    if more:
        sums += f"{how.show(pieced.net)}, and {how.show(more)} to spare: "
    words = (pieced.tight, scarce(left, "along", how))
    return Way(
        fabric=side.shop.fabric,
        kind=kind,
        pattern=pieced.pattern or pieced.kind,
        run=side.run,
        sewn=row if side.run == "up" else turned(row),
        net=pieced.net,
        bought=purchase.bought,
        money=cost_of(side.shop, purchase.bought, how.unit),
        seams=pieced.seams + len(side.hand),
        joins=pieced.joins,
        spare_across=size_of(row)[0] - side.whole,
        spare_along=left,
        tight=", ".join(word for word in words if word),
        why=f"{sums}{purchase.why}",
        from_hand=tuple(held.name for held in side.hand),
        offered=side.shop,
    )
