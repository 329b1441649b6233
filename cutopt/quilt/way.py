"""One way to piece a backing, its panels, and which of two ways is the better."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, TypeAlias

from cutopt.fabric import Offered
from cutopt.quilt.exact import ZERO, Exact

Run: TypeAlias = Literal["up", "across"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One upright piece of a backing as cut: across the seams, along them, and in how many segments."""

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
    """

    name: str
    width: int
    length: int
    out_of: str = ""
    stands: Literal["", "along", "across"] = ""

    def sides(self, run: Run) -> tuple[tuple[int, int], ...]:
        """What it gives across the seams and along them, either way round where its print allows it."""
        as_it_is, turned = (self.width, self.length), (self.length, self.width)
        if not self.stands:
            return tuple(dict.fromkeys((as_it_is, turned)))
        return (as_it_is if (self.stands == "along") == (run == "up") else turned,)


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to piece a backing.

    Parameters
    ----------
    panels : in order from left to right (seams up) or from the top down (seams across)
    net, bought : length of fabric needed and bought; of goods by the piece, how many (`pieces`)
    seams, joins : long seams, and short ones inside a strip
    spare_across, spare_along : beyond what is needed; across the seams, and of the length that is bought
    tight : what has nothing (or next to nothing) to spare, else empty
    offered : the row of the shop, None where nothing is bought
    tiles : of several whole pieces, how many across and down
    lies, shift : what lies above its seams, and how far it is shifted from centred so that nothing does, to the
        right and down (:mod:`cutopt.quilt.seams`)
    insert : size of a strip that has to come from something else, else None
    """

    fabric: str
    kind: str
    run: Run
    panels: tuple[Panel, ...]
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
    lies: str = ""
    shift: tuple[Exact, Exact] = (ZERO, ZERO)

    @property
    def complete(self) -> bool:
        """Whether what is bought and on hand is all of it."""
        return self.insert is None or bool(self.from_hand)

    @property
    def to_be_had(self) -> bool:
        """Whether the shop has so much."""
        most = self.offered.most if self.offered is not None else None
        return most is None or (self.pieces or self.bought) <= most


def without_worse_twins(ways: Sequence[Way]) -> list[Way]:
    """Drop a way that another of the same fabric, direction and wants beats in length or in seams, with no more cloth
    of the maker's own."""

    def beats(one: Way, other: Way) -> bool:
        same = (one.fabric, one.offered, one.run, one.insert is None) == (
            other.fabric, other.offered, other.run, other.insert is None,
        ) and Counter(one.from_hand) <= Counter(other.from_hand)  # fmt: skip
        plain = "middle" not in other.kind and one.complete >= other.complete
        sewing = (one.seams + one.joins) - (other.seams + other.joins)
        return same and plain and bool(one.pieces) == bool(other.pieces) and (
            (one.net, sewing) < (other.net, 0) if one.net == other.net else one.net < other.net and sewing <= 0
        )  # fmt: skip

    return [way for way in ways if not any(beats(other, way) for other in ways if other is not way)]


def thrift(way: Way) -> tuple[object, ...]:
    """What comes first: complete, cheap, short, few seams, and those clear of the seams of the top."""
    money = way.money if way.money is not None else Decimal("Infinity")
    return (
        not way.complete, money, way.bought, way.seams + way.joins, way.joins, way.lies not in ("", "clear"),
        bool(way.tight), -min(way.spare_across, way.spare_along),
    )  # fmt: skip
