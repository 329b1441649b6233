"""Ways to piece a backing side by side: which to recommend, what nearly fits, as a table."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from cutopt.fabric import ByLength, Fabric, Offered
from cutopt.lengths import format_sale
from cutopt.quilt.backs.least import Least, cheapest, shortest
from cutopt.quilt.backs.seams import abs_
from cutopt.quilt.backs.sewn import long_seams
from cutopt.quilt.backs.way import Way, thrift
from cutopt.quilt.backs.ways_to_buy import backing_ways
from cutopt.quilt.buying import area_bound
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.surds import Exact, Number
from cutopt.quilt.top import Needed


def plain_ways(ways: Iterable[Way]) -> tuple[Way, ...]:
    """The ways of whole widths or whole pieces alone: no strips, inserts, or cloth on hand."""
    return tuple(way for way in ways if not way.fitted and not way.from_hand)


FEW_MORE = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A way to recommend, and why; `proved` where no way at all takes less, `name` for a line of its own."""

    way: Way
    reason: str
    proved: bool = False
    name: str = ""


def choices(
    ways: Sequence[Way],
    how: Conventions = DEFAULT,
    least: Sequence[Least] = (),
    currency: str = "",
    among: str = "",
) -> tuple[Choice, ...]:
    """The cheapest, the one with the fewest seams (one alone where they are the same), and what lies between.

    Between them is the cheapest with :data:`FEW_MORE` seams more than the fewest, where the cheapest has still more.
    One that has next to nothing to spare is recommended only where there is no other.

    Parameters
    ----------
    ways : all that can be made
    how : the unit
    least : for each row of the shop what no way does with less of
    currency : the sign before sums of money
    among : of which ways they are chosen, where these are not all: " of those with no seam in the middle"
    """
    whole = [way for way in ways if way.complete]
    whole = [way for way in whole if not way.risky] or whole
    if not whole:
        return ()
    cheap = min(whole, key=thrift)
    easy = min(whole, key=lambda way: (_sewing(way), *thrift(way)))
    if not among and any(not way.complete and costs_less(way, cheap) for way in ways):
        among = " of those that need no other cloth"
    proved, word, bound = _how_sure(cheap, how, least, among, currency)
    if cheap is easy:
        told = f"{word}, and no other has fewer seams{bound}"
        return (Choice(way=cheap, reason=told, proved=proved),)
    more = _difference(easy, cheap, how, currency)
    fewer = _sewing(cheap) - _sewing(easy)
    between: list[Way] = []
    most = _sewing(easy) + FEW_MORE
    if _sewing(cheap) > most:
        few = [way for way in whole if _sewing(way) <= most and costs_less(way, easy)]
        between = sorted(few, key=thrift)[:1]
    first = Choice(
        way=cheap,
        reason=f"{word}, and {more} less than the one with the fewest seams{bound}",
        proved=proved,
        name=_name(cheap, proved),
    )
    last = Choice(
        way=easy,
        reason=f"fewest seams: {fewer} less than the cheapest, for {more} more",
        name="fewest seams",
    )
    return first, *(_between(way, cheap, easy, how, currency) for way in between), last


def _name(way: Way, proved: bool) -> str:
    if way.money is None:
        return "least length" if proved else "shortest found"
    return "costs least" if proved else "cheapest found"


def _sewing(way: Way) -> int:
    return way.seams + way.joins


def _between(
    way: Way, cheap: Way, easy: Way, how: Conventions, currency: str
) -> Choice:
    fewer = _sewing(cheap) - _sewing(way)
    less = _difference(easy, way, how, currency)
    reason = f"in between: {fewer} seams less than the cheapest, and {less} less than the one with the fewest"
    return Choice(way=way, reason=reason, name="in between")


def _how_sure(
    way: Way, how: Conventions, least: Sequence[Least], among: str, currency: str
) -> tuple[bool, str, str]:
    """Whether no way takes less, how to say it ("least" only of what is proved), and what none goes below."""
    word = (
        "it costs the least" if way.money is not None else "it takes the least length"
    )
    if not way.bought and not way.pieces:
        return True, f"{word}{among}", ""
    known = cheapest(least) if way.money is not None else shortest(least)
    taken = way.money if way.money is not None else way.bought
    if known is not None and taken <= known:
        return True, f"{word} there is{among}", ""
    if not known:
        return False, f"{word} that was found{among}", ""
    told = (
        f"{currency}{known}"
        if way.money is not None
        else format_sale(int(known), how.unit)
    )
    verb = "cost" if way.money is not None else "take"
    return (
        False,
        f"{word} that was found{among}",
        f". No way with something to spare can {verb} less than {told}",
    )


def costs_less(one: Way, other: Way) -> bool:
    """Whether one way costs less than another; where prices are missing, whether it takes less length."""
    if one.money is not None and other.money is not None:
        return one.money < other.money
    return (
        other.money is None
        and not one.pieces
        and not other.pieces
        and one.bought < other.bought
    )


def _difference(dear: Way, cheap: Way, how: Conventions, currency: str) -> str:
    if dear.money is not None and cheap.money is not None:
        return f"{currency}{dear.money - cheap.money}"
    return format_sale(max(0, dear.bought - cheap.bought), how.unit)


def cheaper_but_tight(ways: Sequence[Way], best: Sequence[Choice]) -> Way | None:
    """A way that takes less than the recommended one, and has next to nothing to spare."""
    if not best or best[0].way.risky:
        return None
    tight = [
        way
        for way in ways
        if way.complete and way.risky and costs_less(way, best[0].way)
    ]
    return min(tight, key=thrift, default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class NearMiss:
    """What a little less overage on every side would save."""

    less: Exact
    way: Way
    saves: int
    saves_money: Decimal | None
    told: str


def near_misses(
    need: Needed,
    shop: Sequence[Offered],
    how: Conventions = DEFAULT,
    fabrics: Sequence[Fabric] = (),
    plain: bool = True,
) -> tuple[NearMiss, ...]:
    """By how much less overage the backing becomes clearly cheaper: up to 1 in a side, in steps of 1/4 in.

    Parameters
    ----------
    plain : bool
        Compare ways of whole widths alone (the default), or all complete ones.
    """

    def best(size: Needed, tight: bool) -> Way | None:
        ways = [
            way
            for way in backing_ways(size, shop, how, fabrics, plain=plain)
            if way.complete and way.to_be_had and not way.pieces
        ]
        return min(
            ways,
            key=lambda way: (way.risky and not tight, *thrift(replace(way, tight=""))),
            default=None,
        )

    step = how.read("1/4 in") if how.unit == "in" else how.read("0.5 cm")
    now = best(need, tight=False)
    told = []
    saved = 0
    if now is None:
        return ()
    for n in range(1, 5 if how.unit == "in" else 6):
        less = n * step
        way = best(need.less(less), tight=True) if less <= min(need.overage) else None
        if way is None or now.bought - way.bought < saved + 2 * how.sold_by:
            continue
        saved = now.bought - way.bought
        money = (
            now.money - way.money
            if now.money is not None and way.money is not None
            else None
        )
        text = f"{how.show(less)} less overage on every side saves {format_sale(saved, how.unit)}"
        if now.seams > way.seams:
            text += f" and {now.seams - way.seams} seam{'s' if now.seams - way.seams > 1 else ''}"
        text += f": {way.fabric}, {way.kind}"
        if (now.fabric, now.kind) != (way.fabric, way.kind):
            text += f", in place of {now.kind}" + (
                f" of {now.fabric}" if now.fabric != way.fabric else ""
            )
        if way.tight:
            text += f" (tight: {way.tight})"
        told.append(
            NearMiss(less=less, way=way, saves=saved, saves_money=money, told=text)
        )
    return tuple(told)


def least_length(need: Needed, usable: Number) -> Exact:
    """No way buys less: area to reach / usable width."""
    return area_bound(need.width * need.length, usable)


HEADER = (
    "fabric",
    "how",
    "seams run",
    "length",
    "buy",
    "money",
    "seams",
    "where they lie",
    "spare across",
    "spare along",
    "",
)


def table(
    ways: Iterable[Way], how: Conventions = DEFAULT, currency: str = ""
) -> tuple[tuple[str, ...], ...]:
    """The ways as rows of text under :data:`HEADER`.

    Parameters
    ----------
    ways : in the order of the rows
    how : the unit
    currency : the sign before sums of money
    """
    rows = []
    ways = tuple(ways)
    names = labels(ways, how)
    for way in ways:
        seams = str(way.seams) + (f" + {way.joins} short" if way.joins else "")
        rows.append(
            (
                names[way.fabric, width_of(way)],
                way.kind,
                runs(way),
                how.least(way.net) if way.net else "",
                _buy(way, how),
                "" if way.money is None else f"{currency}{way.money}",
                seams,
                where(way, how),
                "cut to size"
                if way.fitted and not way.spare_across and not way.tight
                else how.room(way.spare_across),
                how.room(way.spare_along),
                "; ".join(_remarks(way, how)),
            )
        )
    return tuple(rows)


def _buy(way: Way, how: Conventions) -> str:
    if way.pieces:
        return str(way.pieces)
    return format_sale(way.bought, how.unit) if way.bought else "nothing"


def _remarks(way: Way, how: Conventions) -> list[str]:
    """What is tight, and what an insert is of."""
    told = [f"tight: {way.tight}"] if way.tight else []
    if way.insert is not None:
        source = "of other cloth, which is not counted"
        if way.from_hand:
            source = f"from {way.from_hand[-1]}"
        told.append(f"insert {how.size(*way.insert, how.least)} {source}")
    return told


def runs(way: Way) -> str:
    """In which direction its long seams run: up, across, both or none."""
    upright, level = long_seams(way.sewn)
    if upright and level:
        return "both"
    if upright:
        return "up"
    return "across" if level else "none"


def where(way: Way, how: Conventions = DEFAULT) -> str:
    """Where the seams lie under the top: "clear", "clear, shifted by 2", or what lies above one of them."""
    return ", ".join(word for word in (way.lies, moved(way, how)) if word)


def moved(way: Way, how: Conventions = DEFAULT) -> str:
    """How far a backing is shifted from centred: "2 to one side", "1 up or down", or nothing."""
    told = [
        f"{how.near(abs_(by))} {to}"
        for by, to in zip(way.shift, ("to one side", "up or down"), strict=True)
        if by
    ]
    return " and ".join(told)


def width_of(way: Way) -> int:
    """Usable width of the fabric as the shop has it; 0 for what is not bought by length."""
    return way.offered.usable_width if isinstance(way.offered, ByLength) else 0


def labels(
    ways: Iterable[Way], how: Conventions = DEFAULT
) -> dict[tuple[str, int], str]:
    """A name for each fabric and width: the width stands with it where the shop has several."""
    both = dict.fromkeys((way.fabric, width_of(way)) for way in ways)
    wide = Counter(name for name, width in both if width)
    return {
        (name, width): f"{name}, {how.show(width)} wide"
        if width and wide[name] > 1
        else name
        for name, width in both
    }
