"""Batting to buy: packaged sizes with a tolerance, batting by the yard, and scraps joined.

Batting is joined with straight edges butted and a wide zigzag: no overlap, so a join costs nothing but the
straightening cut (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from cutopt.fabric import ByLength, ByPiece, Offered
from cutopt.job import cost_of
from cutopt.lengths import INCH, format_sale
from cutopt.quilt.buying import to_buy
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.exact import Exact, exact, how_many
from cutopt.quilt.top import Needed

# common practice, no source: sizes printed on packages, in inches
PACKAGED: Final = (
    ("crib", 45, 60), ("throw", 60, 60), ("twin", 72, 90), ("full", 81, 96), ("queen", 90, 108), ("king", 120, 120),
)  # fmt: skip
MOST_PARTS: Final = 4


def packaged() -> tuple[ByPiece, ...]:
    """The usual packages, without prices; the shop table of a job takes their place."""
    return tuple(
        ByPiece(fabric=f"{name} {w} x {h}", each_width=w * INCH, each_length=h * INCH) for name, w, h in PACKAGED
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class BattingWay:
    """One way to get batting of a size: what is bought, how many joins, and whether it is safe."""

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


def batting_ways(need: Needed, shop: Sequence[Offered] = (), how: Conventions = DEFAULT) -> tuple[BattingWay, ...]:
    """Packages and lengths that serve, turned or not: safe ones before tight ones, then by money, then by size.

    Without a shop the usual packaged sizes are compared. A package that fits only if it is as large as it says
    is tight: packaged batting is not true to an inch (`batting_tolerance`).
    """
    found: list[BattingWay] = []
    for offered in shop or packaged():
        rows = _package(need, offered, how) if isinstance(offered, ByPiece) else _by_length(need, offered, how)
        found += rows
    return tuple(sorted(found, key=_thrift))


def _thrift(way: BattingWay) -> tuple[object, ...]:
    money = way.money if way.money is not None else Decimal("Infinity")
    return bool(way.tight), money, way.area, way.joins


def _package(need: Needed, offered: ByPiece, how: Conventions) -> Iterable[BattingWay]:
    """One package the better way round, or two side by side where one does not do."""
    made = []
    for w, h in {(offered.each_width, offered.each_length), (offered.each_length, offered.each_width)}:
        n = how_many(need.width, w)
        if h < need.length or n > 2 or (offered.most is not None and n > offered.most):
            continue
        spare = exact(n * w) - need.width, exact(h) - need.length
        made.append((n, spare, w, h))
    if not made:
        return
    safe = [each for each in made if min(each[1][0], each[1][1], key=float) >= how.batting_tolerance]
    n, spare, w, h = min(safe or made, key=lambda each: (each[0], each[2]))
    tight = "" if safe else "fits only if the package is as large as it says"
    price = cost_of(offered, 0, how.unit)
    yield BattingWay(
        what=offered.fabric, kind="one package" if n == 1 else f"{n} packages, butted", bought=0, pieces=n,
        money=None if price is None else price * n, joins=n - 1, area=exact(n * w * h), spare=spare, tight=tight,
        why=f"{f'{n} x ' if n > 1 else ''}{how.size(w, h)} for {how.size(need.width, need.length)}",
    )  # fmt: skip


def _by_length(need: Needed, offered: ByLength, how: Conventions) -> Iterable[BattingWay]:
    """As many widths as reach, up or across; butted, so nothing is lost in a join."""
    usable = offered.usable_width
    for word, across, along in (("up", need.width, need.length), ("across", need.length, need.width)):
        n = how_many(across, usable)
        if n > MOST_PARTS:
            continue
        purchase = to_buy(n * along, how, sold_by=offered.sold_by, smallest=offered.smallest)
        spare = exact(n * usable) - across, purchase.left
        yield BattingWay(
            what=offered.fabric, kind=f"{n} widths {word}" if n > 1 else f"one width {word}", bought=purchase.bought,
            pieces=0, money=cost_of(offered, purchase.bought, how.unit), joins=n - 1,
            area=exact(purchase.bought * usable), spare=spare,
            tight="" if spare[0] >= how.tight else "next to nothing to spare across",
            why=f"{n} x {how.show(along)} = {purchase.why}",
        )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """Scraps side by side: the size they come to and what is still wanting of a width."""

    width: Exact
    length: Exact
    missing: Exact


def joined_scraps(scraps: Sequence[tuple[int, int]], need: Needed, straighten: int = 0) -> Joined:
    """Scraps of batting at least as long as needed (either way round), butted in a row until they reach.

    Parameters
    ----------
    scraps : sizes in ticks
    straighten : int
        Lost at each edge that is butted.
    """
    columns = []
    for w, h in scraps:
        fits = [a for a, b in ((w, h), (h, w)) if b >= need.length]
        if fits:
            columns.append(max(fits))
    width = exact(0)
    used = 0
    for column in sorted(columns, reverse=True):
        if width >= need.width:
            break
        width, used = width + column - (2 * straighten if used else 0), used + 1
    missing = need.width - width
    return Joined(width=width, length=need.length, missing=missing if missing > 0 else exact(0))


HEADER: Final = ("batting", "how", "buy", "money", "joins", "to spare", "")


def table(ways: Iterable[BattingWay], how: Conventions = DEFAULT) -> tuple[tuple[str, ...], ...]:
    """The ways as rows of text under :data:`HEADER`."""
    return tuple(
        (way.what, way.kind, f"{way.pieces} each" if way.pieces else format_sale(way.bought, how.unit),
         "" if way.money is None else str(way.money), str(way.joins), how.size(*way.spare),
         f"tight: {way.tight}" if way.tight else "")
        for way in ways
    )  # fmt: skip
