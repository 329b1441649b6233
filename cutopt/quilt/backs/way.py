"""One way to piece a backing, its panels, and which of two ways is the better."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, Literal, TypeAlias

from cutopt.fabric import Offered
from cutopt.quilt.backs.sewn import Piecing, Sewn, parts_of, size_of
from cutopt.quilt.surds import ZERO, Exact, exact

Run: TypeAlias = Literal["up", "across"]
Lies: TypeAlias = Literal[
    "", "clear", "not in the middle", "in the middle", "under a seam of the top"
]
CLEAR: Final = "clear"
# of a top of which nothing but its size is known, so that its seams may lie anywhere
OFF_MIDDLE: Final = "not in the middle"
LIES_WELL: Final = ("", CLEAR, OFF_MIDDLE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One part of a backing from seam to seam: across the seams, along them, and of how many segments."""

    width: Exact
    length: Exact
    what: str = "whole width"
    segments: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class OnHand:
    """A rectangle that the maker has already.

    Parameters
    ----------
    out_of : the piece of another shape out of which it is cut
    stands : how its print stands up, where it has to: then that side runs along the length of the quilt
    unwashed : that it is not washed yet: its sides are those "after the wash", or "as measured" where nobody knows
        what it shrinks
    """

    name: str
    width: int
    length: int
    out_of: str = ""
    stands: Literal["", "along", "across"] = ""
    unwashed: Literal["", "after the wash", "as measured"] = ""

    def sides(self, run: Run) -> tuple[tuple[int, int], ...]:
        """What it gives across the seams and along them, either way round where its print allows it."""
        as_it_is = (self.width, self.length)
        turned = (self.length, self.width)
        if not self.stands:
            return tuple(dict.fromkeys((as_it_is, turned)))
        return (as_it_is if (self.stands == "along") == (run == "up") else turned,)


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to piece a backing.

    Parameters
    ----------
    kind, pattern : what it is, in words; the same whatever the pieces on hand are called
    sewn : its parts as they hang, with the place of each on the length that is bought
    net, bought : length of fabric needed and bought; of goods by the piece, how many (`pieces`)
    seams, joins : long seams, and short ones inside a strip
    spare_across, spare_along : beyond what is needed; across the seams, and of the length that is bought
    tight : what has nothing (or next to nothing) to spare, else empty
    offered : the row of the shop, None where nothing is bought
    tiles : of several whole pieces, how many across and down
    lies, shift : what lies above its seams, and how far it is shifted from centred so that nothing does, to the
        right and down (:mod:`cutopt.quilt.backs.seams`)
    insert : size of a strip that has to come from something else, else None
    fitted : whether parts are cut to size, so that it is no way of whole widths or whole pieces alone
    off_middle : whether a width is split for no reason but to have no seam in the middle
    """

    fabric: str
    kind: str
    pattern: str
    run: Run
    sewn: Piecing
    net: Exact
    bought: int
    money: Decimal | None
    seams: int
    joins: int
    spare_across: Exact
    spare_along: Exact
    tight: str
    why: str
    pieces: int = 0
    insert: tuple[Exact, Exact] | None = None
    from_hand: tuple[str, ...] = ()
    offered: Offered | None = None
    tiles: tuple[int, int] | None = None
    lies: Lies = ""
    shift: tuple[Exact, Exact] = (ZERO, ZERO)
    fitted: bool = False
    off_middle: bool = False

    @property
    def panels(self) -> tuple[Panel, ...]:
        """What stands between its long seams, from left to right (seams up) or from the top down (across)."""
        across_down = self.run == "across"
        split = (
            isinstance(self.sewn, Sewn)
            and not self.sewn.strip
            and self.sewn.down == across_down
        )
        if split and isinstance(self.sewn, Sewn):
            parts = self.sewn.parts
        else:
            parts = (self.sewn,)
        return tuple(_panel(part, across_down) for part in parts)

    @property
    def complete(self) -> bool:
        """Whether what is bought and on hand is all of it."""
        return self.insert is None or bool(self.from_hand)

    @property
    def risky(self) -> bool:
        """Whether something would be bought that next to nothing might spoil; what is at home can be measured."""
        return bool(self.tight) and bool(self.bought or self.pieces)

    @property
    def to_be_had(self) -> bool:
        """Whether the shop has so much."""
        if self.offered is not None:
            most = self.offered.most
        else:
            most = None
        return most is None or (self.pieces or self.bought) <= most


def _panel(part: Piecing, across_down: bool) -> Panel:
    width, height = size_of(part)
    if across_down:
        width, height = height, width
    first = next(parts_of(part))
    if isinstance(part, Sewn) and part.strip:
        segments = len(part.parts)
    else:
        segments = 1
    return Panel(width=width, length=height, what=first.what, segments=segments)


def without_worse_twins(ways: Sequence[Way]) -> list[Way]:
    """Drop a way that another of the same fabric, direction and wants beats in purchase or in seams, with no more
    cloth of the maker's own, and no tighter."""
    return [
        way
        for way in ways
        if not any(_beats(other, way) for other in ways if other is not way)
    ]


def _beats(one: Way, other: Way) -> bool:
    if (
        other.off_middle
        or _wants(one) != _wants(other)
        or one.complete < other.complete
    ):
        return False
    if not Counter(one.from_hand) <= Counter(other.from_hand):
        return False
    mine = _burden(one)
    its = _burden(other)
    return mine != its and all(a <= b for a, b in zip(mine, its, strict=True))


def _wants(way: Way) -> tuple[object, ...]:
    return way.fabric, way.offered, way.run, way.insert is None, bool(way.pieces)


def _burden(way: Way) -> tuple[Exact, Exact, Exact, Exact]:
    """What a maker would rather have less of: length to buy, length that is needed, sewing, and tight fits."""
    return (
        exact(way.bought),
        way.net,
        exact(way.seams + way.joins),
        exact(int(way.risky)),
    )


def thrift(way: Way) -> tuple[object, ...]:
    """What comes first: complete, with something to spare, cheap, few seams, and those clear of the top's seams."""
    if way.money is not None:
        money = way.money
    else:
        money = Decimal("Infinity")
    return (
        not way.complete,
        way.risky,
        money,
        way.bought,
        way.seams + way.joins,
        way.seams,
        way.lies not in LIES_WELL,
        bool(way.tight),
        -min(way.spare_across, way.spare_along),
    )
