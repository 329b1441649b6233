"""Backing and batting to buy for a top: every way side by side, what to choose and why, what nearly fits.

The ways themselves come from :mod:`cutopt.quilt.backs.ways_to_buy`; here each is made once more by the checker, and they become
an answer that a notebook shows, and a question that the general solver can be asked as well.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from cutopt import svg
from cutopt.answers.backing_asked import BackingAsked, asked_of
from cutopt.answers.backing_checks import bought_cloth, fabric_of, faults
from cutopt.answers.backing_notes import (
    cheaper_shifted,
    kept_whole,
    of_hand,
    one_of_each,
    runs_short,
    where_seams_lie,
)
from cutopt.answers.washed_first import told_of_wash
from cutopt.fabric import ByLength, Fabric, Offered, Piece
from cutopt.job import Job
from cutopt.plan import Plan
from cutopt.quilt.backs import compare, seams
from cutopt.quilt.backs.compare import (
    Choice,
    NearMiss,
    cheaper_but_tight,
    choices,
    near_misses,
)
from cutopt.quilt.backs.least import Least, least_to_buy
from cutopt.quilt.backs.marks import measured
from cutopt.quilt.backs.seams import TopSeams, laid
from cutopt.quilt.backs.way import OnHand, Way, thrift
from cutopt.quilt.backs.ways_to_buy import backing_ways
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.surds import Exact
from cutopt.quilt.top import Needed, Top

NO_SHIFT: Final = "no seam in the middle as they hang"


@dataclass(frozen=True, slots=True, kw_only=True)
class BackingAnswer:
    """What to buy for a backing.

    `ways` are all, thriftiest first; `best` holds the cheapest and the one with the fewest seams, each with its
    reason (one alone where they are the same); `near` is what a little less overage would save, and `least` what no
    way does with less of; `hand` are the rectangles of the maker's own, as a ruler shows them.
    """

    need: Needed
    ways: tuple[Way, ...]
    best: tuple[Choice, ...]
    near: tuple[NearMiss, ...]
    notes: tuple[str, ...]
    how: Conventions
    shop: tuple[Offered, ...] = ()
    fabrics: tuple[Fabric, ...] = ()
    top_seams: TopSeams | None = None
    least: tuple[Least, ...] = ()
    currency: str = ""
    hand: tuple[OnHand, ...] = ()

    @property
    def own(self) -> Mapping[str, str]:
        """The piece of the pile that each rectangle of the maker's own is cut from."""
        return {held.name: held.out_of or held.name for held in self.hand}

    @property
    def head(self) -> tuple[str, ...]:
        """Headings of :attr:`rows`."""
        return compare.HEADER

    @property
    def rows(self) -> tuple[tuple[str, ...], ...]:
        """All ways as a table of text."""
        return compare.table(self.ways, self.how, self.currency)

    @property
    def seam_said(self) -> str:
        """The one width of all seams: ``All seams 1/2 in``."""
        return f"All seams {self.how.show(self.how.back_seam)} {self.how.unit}"

    @property
    def said(self) -> tuple[str, ...]:
        """What to know before the table, in sentences."""
        size = self.how.size(self.need.width, self.need.length, self.how.least)
        told = [f"The backing has to reach {size}: {self.need.why}."]
        names = compare.labels(self.ways, self.how)
        told += [
            recommended(choice, self.how, names, self.currency) for choice in self.best
        ]
        if any(choice.way.seams for choice in self.best):
            told.append(
                f"{self.seam_said}, joins of strips as well; all sizes are reckoned so."
            )
        told += [
            f"{name}: wash what you buy before you cut it; its shrinkage is counted in."
            for name in dict.fromkeys(choice.way.fabric for choice in self.best)
            if shrinks(self.fabrics, name)
        ]
        if not self.best:
            told.append(
                "Nothing in this shop, nor with what is free of your own, makes it whole: widen the choice of fabrics."
            )
        told += [*self._cheaper_but_tight, *self._near]
        return (
            *told,
            *(note if note.endswith(".") else f"{note}." for note in self.notes),
        )

    @property
    def _near(self) -> list[str]:
        return [f"Worth a thought: {miss.told}." for miss in self.near]

    @property
    def _cheaper_but_tight(self) -> list[str]:
        """What takes less than what is recommended, and has next to nothing to spare."""
        tight = cheaper_but_tight(self.ways, self.best)
        if tight is None:
            return []
        bought = compare.table([tight], self.how)[0]
        if tight.money is not None:
            money = f", {self.currency}{tight.money}"
        else:
            money = ""
        return [
            f"Less, but tight ({tight.tight}): {tight.fabric}, {tight.kind}, {bought[4]}{money}."
        ]

    def _repr_html_(self) -> str:
        return svg.sheet(
            "Backing to buy",
            svg.sentences(self.said),
            svg.table(self.head, self.rows, "All the ways"),
        )


def recommended(
    choice: Choice,
    how: Conventions,
    names: Mapping[tuple[str, int], str] | None = None,
    currency: str = "",
) -> str:
    """A way to choose: what, how much, why, whether it is tight, and its line of arithmetic.

    Parameters
    ----------
    choice, how : the way and why it is recommended, and the unit
    names : for a fabric and its width what it is called, where the shop has several widths of it
    currency : the sign before sums of money
    """
    way = choice.way
    row = compare.table([way], how)[0]
    if way.money is not None:
        money = f", {currency}{way.money}"
    else:
        money = ""
    if not way.bought and not way.pieces:
        bought = "nothing to buy"
    else:
        bought = f"buy {row[4]}"
    fabric = (names or {}).get((way.fabric, compare.width_of(way)), way.fabric)
    told = f"{fabric}, {way.kind}: {bought}{money}, {_seams(way)}. {choice.reason[0].upper()}{choice.reason[1:]}"
    told += f". Tight: {way.tight}; measure first." if way.tight else "."
    return f"{told} How much that takes: {way.why}."


def _seams(way: Way) -> str:
    if not way.seams + way.joins:
        return "no seam"
    told = f"{way.seams} seam{'s' if way.seams > 1 else ''}"
    if way.joins:
        told += f" and {way.joins} short one{'s' if way.joins > 1 else ''}"
    return told


def backing_to_buy(
    top: str | Top | Needed | Quilt,
    shop: Job | Sequence[Offered],
    how: Conventions | None = None,
    fabrics: Sequence[Fabric] = (),
    on_hand: Sequence[Piece | OnHand] = (),
    upright: bool = False,
    words: Sequence[str] | None = None,
    plan: Plan | None = None,
) -> BackingAnswer:
    """Every sensible way to piece a backing from what a shop sells.

    Parameters
    ----------
    top : "58 x 66", a :class:`~cutopt.quilt.top.Top`, the size to reach, or a quilt
        The raw top as measured; several measurements, ``58, 57 3/4 x 66``, take the larger. A quilt brings its
        conventions and its words for the backing along, and its long seams, under which no seam of it should lie.
    shop : rows of a shop, or a job
        A job brings its fabrics (prints, shrinkage), seams and unit along.
    on_hand : pieces of the maker's own, used first
        What comes off ragged edges, or for a rough measure, is taken off. Of one that is no rectangle, or has a
        flaw, the largest rectangle along the grain that lies wholly on its good cloth.
    upright : bool
        A one-way print must stand up along the length of the quilt.
    words : fabrics or tags
        Look only at these; None for those that the quilt names.
    plan : a cutting plan that buys in the same shop
        What it takes is taken off the most that the shop has.

    Raises
    ------
    Problem
        Where the size cannot be read, or nothing in the shop is meant.
    """
    asked = asked_of(top, shop, how, fabrics, on_hand, upright, words, plan)
    return _answer(asked, kept_whole(on_hand))


def _answer(asked: BackingAsked, kept: Sequence[str]) -> BackingAnswer:
    """All that is worked out of what is asked; `kept` tells of pieces that were passed over."""
    ways, short = _ways(asked)
    least = least_to_buy(asked.need, asked.rows, asked.how, asked.fabrics, asked.hand)
    wished = _as_wished(ways, asked)
    among = ""
    if len(wished) < len(ways):
        among = f" of those with {NO_SHIFT}"
    best = choices(wished, asked.how, least, asked.currency, among)
    hand = tuple(measured(held, asked.how) for held in asked.hand)
    mine = [name for choice in best for name in choice.way.from_hand]
    notes = [
        *_in_one_piece(ways, asked),
        *asked.notes,
        *told_of_wash(hand, mine, asked.how),
        *asked.taken,
        *short,
        *where_seams_lie(best, ways, asked.how, asked.currency),
        *cheaper_shifted(best, ways, asked.how, asked.currency),
        *of_hand(asked.hand, ways, best, asked.how),
        *kept,
    ]
    return BackingAnswer(
        need=asked.need,
        ways=ways,
        best=best,
        near=_near(asked, best),
        notes=tuple(notes),
        how=asked.how,
        shop=asked.rows,
        fabrics=asked.fabrics,
        top_seams=asked.lines,
        least=least,
        currency=asked.currency,
        hand=hand,
    )


def _ways(asked: BackingAsked) -> tuple[tuple[Way, ...], list[str]]:
    """The ways that the checker passes and for which the shop has enough, and which fabrics run short."""
    how = asked.how
    found = [
        way
        for way in backing_ways(
            asked.need, asked.rows, how, asked.fabrics, asked.hand, asked.upright
        )
        if not faults(
            way, asked.need, fabric_of(way, asked.fabrics), how, asked.upright
        )
    ]
    each = one_of_each(found, asked.hand)
    ways = [laid(way, asked.need, asked.lines, how) for way in each if way.to_be_had]
    if how.back_middle == "never":
        ways = [way for way in ways if way.lies != seams.IN_MIDDLE]
    if how.back_seams == "never":
        # where no cloth is wide enough it is told, and the others are compared
        ways = [way for way in ways if not way.seams and not way.joins] or ways
    return tuple(sorted(ways, key=thrift)), runs_short(each, how, asked.taken_of)


def _in_one_piece(ways: Sequence[Way], asked: BackingAsked) -> list[str]:
    """That no cloth is wide enough for a back without a seam, where one was asked for."""
    if asked.how.back_seams != "never" or not any(way.seams for way in ways):
        return []
    size = asked.how.size(asked.need.width, asked.need.length, asked.how.least)
    return [
        f"no cloth on hand or on sale is wide enough for a back of {size} in one piece: these have seams"
    ]


def _as_wished(ways: Sequence[Way], asked: BackingAsked) -> Sequence[Way]:
    """Those to choose from: for who wants no seam in the middle, those that have none as they hang.

    A seam that keeps clear of the middle only where the back is shifted is for want of another.
    """
    if asked.how.back_middle != "never":
        return ways
    shifts = [laid(way, asked.need, None, asked.how).shift for way in ways]
    hang = [way for way, by in zip(ways, shifts, strict=True) if not any(by)]
    if any(way.complete for way in hang):
        return hang
    return ways


def _near(asked: BackingAsked, best: Sequence[Choice]) -> tuple[NearMiss, ...]:
    """What a little less overage would save, of what costs no more than what is recommended."""
    rows = [row for row in asked.rows if isinstance(row, ByLength)]
    near = near_misses(asked.need, rows, asked.how, asked.fabrics)
    return tuple(
        miss for miss in near if not best or not _dearer(miss.way, best[0].way)
    )


def _dearer(one: Way, other: Way) -> bool:
    return one.money is not None and other.money is not None and one.money > other.money


def cloth_of_way(way: Way, answer: BackingAnswer) -> tuple[Exact, Exact]:
    """The cloth that the parts of a way are cut from: how wide, and how long, ticks."""
    return bought_cloth(way, fabric_of(way, answer.fabrics), answer.how)


def shrinks(fabrics: Sequence[Fabric], name: str) -> bool:
    """Whether the sums of a fabric count what the wash takes."""
    mine = [fabric for fabric in fabrics if fabric.name == name]
    return any(fabric.shrink_across or fabric.shrink_along for fabric in mine)
