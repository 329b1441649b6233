"""Batting to buy: packaged sizes with a tolerance, batting by the yard, and scraps joined.

Batting is joined with straight edges butted and a wide zigzag: no overlap, so a join costs nothing but the
straightening cut (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from cutopt.fabric import ByLength, ByPiece, Fabric, Offered
from cutopt.job import cost_of
from cutopt.lengths import format_sale
from cutopt.quilt.backs.cut_and_sewn import sewn_of
from cutopt.quilt.backs.make_up import ClothLength, make_ups
from cutopt.quilt.backs.make_up_words import kind_of, sum_of
from cutopt.quilt.backs.marks import grid_of, mark_of, measured, there, to_cut
from cutopt.quilt.backs.on_hand import listed
from cutopt.quilt.backs.packages import packaged
from cutopt.quilt.backs.scraps import WORTH_JOINING, Column, Joined, joined_scraps
from cutopt.quilt.backs.sewn import Piecing, turned
from cutopt.quilt.backs.way import OnHand
from cutopt.quilt.buying import shrunk, to_buy
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.surds import ZERO, Exact, exact, how_many
from cutopt.quilt.top import Needed

MOST_PARTS: Final = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class BattingWay:
    """One way to get batting of a size: what is bought, how many joins, and whether it is safe.

    Parameters
    ----------
    what : what is bought, empty where nothing is
    columns : scraps of the maker's own beside it, as they are joined
    upright : whether the columns run along the length of the quilt
    sewn, cloth : the parts of one that is cut to size, and the width and length from which they are cut
    """

    what: str
    kind: str
    bought: int
    pieces: int
    money: Decimal | None
    joins: int
    area: Exact
    spare: tuple[Exact, Exact]
    tight: str
    why: str
    sewn: Piecing | None = None
    cloth: tuple[Exact, Exact] | None = None
    columns: tuple[Column, ...] = ()
    upright: bool = True

    @property
    def own(self) -> tuple[str, ...]:
        """The maker's own scraps in it, a name for each."""
        return tuple(name for column in self.columns for name in column.names)

    @property
    def told(self) -> str:
        """``wool beside your own wool-1``."""
        if not self.own:
            return self.what
        return f"{self.what} beside {self.mine}" if self.what else self.mine

    @property
    def headed(self) -> str:
        """The same as a sentence begins with it; the name of a fabric stays as it is typed."""
        return self.told if self.what else f"Y{self.told[1:]}"

    @property
    def mine(self) -> str:
        """``your own wool-1 and wool-2``; nothing where there is none of it."""
        return f"your own {listed(self.own)}" if self.own else ""


def batting_ways(
    need: Needed,
    shop: Sequence[Offered] = (),
    how: Conventions = DEFAULT,
    scraps: Sequence[OnHand] = (),
    fabrics: Sequence[Fabric] = (),
) -> tuple[BattingWay, ...]:
    """Packages and lengths that serve, turned or not, and scraps joined: safe ones before tight ones, then by money,
    then by size.

    Without a shop the usual packaged sizes are compared. A package that fits only if it is as large as it says
    is tight: packaged batting is not true to an inch (`batting_tolerance`). Scraps come to columns side by side; what
    they do not reach is bought.

    Parameters
    ----------
    need : the size to reach
    shop : rows of a shop; none for the usual packages
    how : unit, tolerance, and what is tight
    scraps : batting on hand, to be joined
    fabrics : what a wash takes of them, by name
    """
    offered = tuple(shop) or packaged(how.unit)
    scraps = [measured(scrap, how) for scrap in scraps]
    known = {fabric.name: fabric for fabric in fabrics}
    found = [*_bought(need, offered, how, known)]
    for whole, upright in ((need, True), (_turned(need), False)):
        joined = joined_scraps(scraps, whole)
        beside: list[BattingWay | None] = []
        if joined.columns and joined.missing:
            rest = replace(whole, width=joined.missing)
            beside += _bought(rest, offered, how, known)
        elif joined.columns:
            beside.append(None)
        for way in beside:
            made = _scraps_way(joined, whole, how, way)
            found.append(replace(made, upright=upright))
    return _without_worse(sorted(dict.fromkeys(found), key=_thrift))


def _without_worse(ways: Sequence[BattingWay]) -> tuple[BattingWay, ...]:
    """Those that somebody could prefer, of the same batting bought; of several alike the first."""
    kept: list[BattingWay] = []
    for i, way in enumerate(ways):
        better = (
            other
            for n, other in enumerate(ways)
            if _no_worse(other, way) and (n < i or not _no_worse(way, other))
        )
        if next(better, None) is None:
            kept.append(way)
    return tuple(kept)


def _no_worse(one: BattingWay, other: BattingWay) -> bool:
    """Whether one way is nowhere worse: purchase, joins, and whether it is tight."""
    if one.what != other.what:
        return False
    mine, its = (
        (bool(way.tight), way.bought, way.pieces, way.joins) for way in (one, other)
    )
    return all(a <= b for a, b in zip(mine, its, strict=True))


def _bought(
    need: Needed, shop: Iterable[Offered], how: Conventions, known: dict[str, Fabric]
) -> Iterable[BattingWay]:
    for offered in shop:
        fabric = known.get(offered.fabric, Fabric(name=offered.fabric))
        if isinstance(offered, ByPiece):
            yield from _package(need, offered, fabric, how)
        else:
            yield from _by_length(need, offered, fabric, how)


def _turned(need: Needed) -> Needed:
    return replace(
        need, width=need.length, length=need.width, overage=need.overage[::-1]
    )


def _scraps_way(
    joined: Joined, need: Needed, how: Conventions, rest: BattingWay | None
) -> BattingWay:
    """Scraps alone, or with what is bought beside them."""
    sums = " + ".join(how.show(column.width) for column in joined.columns)
    why = f"{sums}{f' = {how.show(joined.width)}' if len(joined.columns) > 1 else ''} for {how.show(need.width)}"
    pieces = sum(len(column.names) for column in joined.columns)
    spare = (joined.width - need.width, joined.spare)
    if rest is None:
        tight = "" if min(spare) >= how.tight else "next to nothing to spare"
        kind = "joined" if pieces > 1 else "one piece"
        return BattingWay(
            what="",
            kind=kind,
            bought=0,
            pieces=0,
            money=Decimal(0),
            joins=pieces - 1,
            area=ZERO,
            spare=spare,
            tight=tight,
            why=why,
            columns=joined.columns,
        )
    return replace(
        rest,
        columns=joined.columns,
        joins=rest.joins + pieces,
        why=f"{why}; {rest.why}",
        spare=(rest.spare[0], min(rest.spare[1], joined.spare)),
        sewn=None,
        cloth=None,
    )


def _thrift(way: BattingWay) -> tuple[object, ...]:
    money = way.money if way.money is not None else Decimal("Infinity")
    return bool(way.tight), money, way.area, way.joins


def _package(
    need: Needed, offered: ByPiece, fabric: Fabric, how: Conventions
) -> Iterable[BattingWay]:
    """One package the better way round, or two side by side where one does not do."""
    made = []
    one = (
        exact(there(shrunk(offered.each_width, fabric.shrink_across), how)),
        exact(there(shrunk(offered.each_length, fabric.shrink_along), how)),
    )
    for w, h in (one, one[::-1]):
        n = how_many(need.width, w)
        if h < need.length or n > 2 or (offered.most is not None and n > offered.most):
            continue
        spare = n * w - need.width, h - need.length
        made.append((n, spare, w, h))
    if not made:
        return
    safe = [each for each in made if min(each[1]) >= how.batting_tolerance]
    n, spare, w, h = min(safe or made, key=lambda each: (each[0], each[2]))
    tight = "" if safe else "fits only if the package is as large as it says"
    price = cost_of(offered, 0, how.unit)
    yield BattingWay(
        what=offered.fabric,
        kind="one package" if n == 1 else f"{n} packages, butted",
        bought=0,
        pieces=n,
        money=None if price is None else price * n,
        joins=n - 1,
        area=n * w * h,
        spare=spare,
        tight=tight,
        why=f"{f'{n} x ' if n > 1 else ''}{how.size(w, h)} for {how.size(need.width, need.length)}",
    )


def _by_length(
    need: Needed, offered: ByLength, fabric: Fabric, how: Conventions
) -> Iterable[BattingWay]:
    """As many widths as reach, up or across, and parts cut to size; butted, so nothing is lost in a join."""
    usable = exact(there(shrunk(offered.usable_width, fabric.shrink_across), how))
    for word, across, along in (
        ("up", need.width, need.length),
        ("across", need.length, need.width),
    ):
        yield from _made_up(across, along, word, offered, fabric, how)
        n = how_many(across, usable)
        if n > MOST_PARTS:
            continue
        purchase = to_buy(
            n * along, how, fabric.shrink_along, offered.sold_by, offered.smallest
        )
        if offered.most is not None and purchase.bought > offered.most:
            continue
        spare = n * usable - across, purchase.left
        yield BattingWay(
            what=offered.fabric,
            kind=f"{n} widths {word}" if n > 1 else f"one width {word}",
            bought=purchase.bought,
            pieces=0,
            money=cost_of(offered, purchase.bought, how.unit),
            joins=n - 1,
            area=purchase.bought * usable,
            spare=spare,
            tight="" if spare[0] >= how.tight else "next to nothing to spare across",
            why=f"{n} x {how.show(along)} = {purchase.why}",
        )


def _made_up(
    across: Exact,
    along: Exact,
    word: str,
    offered: ByLength,
    fabric: Fabric,
    how: Conventions,
) -> Iterable[BattingWay]:
    """Panels and a strip cut to size from one length, of few parts that are each worth a join."""
    usable = exact(there(shrunk(offered.usable_width, fabric.shrink_across), how))
    cloth = ClothLength(
        usable=usable.__floor__(),
        seam=0,
        smallest=to_cut(WORTH_JOINING, how),
        shortest=to_cut(WORTH_JOINING, how),
        mark=mark_of(how),
        grid=grid_of(how),
        spare=how.tight,
    )
    asked = to_cut(across, how), to_cut(along, how)
    whole = how_many(across, usable) * along
    for made in make_ups(*asked, cloth):
        joins = made.seams + made.joins
        purchase = to_buy(
            made.length, how, fabric.shrink_along, offered.sold_by, offered.smallest
        )
        if (
            joins >= MOST_PARTS
            or made.length >= whole
            or purchase.bought > (offered.most or purchase.bought)
        ):
            continue
        risky = made.tight or purchase.left < how.tight
        sewn = sewn_of(made)
        yield BattingWay(
            what=offered.fabric,
            kind=f"{kind_of(made)}, {word}",
            bought=purchase.bought,
            pieces=0,
            money=cost_of(offered, purchase.bought, how.unit),
            joins=joins,
            area=purchase.bought * usable,
            spare=(exact(made.left or 0), purchase.left),
            tight="next to nothing to spare" if risky else "",
            why=f"{sum_of(made, across, along, how)} = {purchase.why}",
            sewn=sewn if word == "up" else turned(sewn),
            cloth=(usable, made.length + purchase.left),
        )


def falls_short(
    scraps: Sequence[OnHand],
    need: Needed,
    ways: Sequence[BattingWay],
    how: Conventions = DEFAULT,
) -> str:
    """How far scraps reach that no way uses; nothing where there are none, or one of the ways has them.

    Parameters
    ----------
    scraps : batting on hand
    need : the size to reach
    ways : what is told beside it
    how : the unit
    """
    if not scraps or any(way.own for way in ways):
        return ""
    scraps = [measured(scrap, how) for scrap in scraps]
    named = f"your own {listed([scrap.name for scrap in scraps])}"
    tries = [(whole, joined_scraps(scraps, whole)) for whole in (need, _turned(need))]
    found = [(whole, joined) for whole, joined in tries if joined.columns]
    if not found:
        largest = max(scraps, key=lambda scrap: scrap.width * scrap.length)
        size = how.size(largest.width, largest.length)
        long = how.least(min(need.width, need.length))
        return f"{named} cannot be joined to {long} long; the largest is {size}"
    whole, joined = min(found, key=lambda each: each[1].missing * each[0].length)
    used = listed([name for column in joined.columns for name in column.names])
    lacking = how.size(joined.missing, whole.length, how.least)
    return (
        f"your own {used}, joined, reach {how.show(joined.width)} of "
        f"{how.least(whole.width)}: {lacking} more would be needed, and what would be "
        "bought for that is no less than batting for all of it"
    )


HEADER: Final = ("batting", "how", "buy", "money", "joins", "to spare", "")


def table(
    ways: Iterable[BattingWay], how: Conventions = DEFAULT, currency: str = ""
) -> tuple[tuple[str, ...], ...]:
    """The ways as rows of text under :data:`HEADER`.

    Parameters
    ----------
    ways : in the order of the rows
    how : the unit
    currency : the sign before sums of money
    """
    return tuple(
        (
            way.told,
            way.kind,
            _buy(way, how),
            "" if way.money is None else f"{currency}{way.money}",
            str(way.joins),
            how.size(*way.spare, how.room),
            f"tight: {way.tight}" if way.tight else "",
        )
        for way in ways
    )


def _buy(way: BattingWay, how: Conventions) -> str:
    if way.pieces:
        return str(way.pieces)
    return format_sale(way.bought, how.unit) if way.bought else "nothing"
