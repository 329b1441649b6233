"""Backing and batting to buy for a top: every way side by side, what to choose and why, what nearly fits.

The ways themselves come from :mod:`cutopt.quilt.backs.ways_to_buy`; here each is made once more by the checker, and they become
an answer that a notebook shows, and a question that the general solver can be asked as well.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from cutopt import svg
from cutopt.answers.shelf import KEPT, held_of, left_in_shop
from cutopt.check.backs import faults_of_back, faults_of_order
from cutopt.errors import Problem
from cutopt.fabric import ByLength, Fabric, Offered, Piece
from cutopt.fabric_words import answers_to
from cutopt.job import Job, Settings
from cutopt.lengths import format_sale
from cutopt.plan import Plan
from cutopt.quilt.backs import compare, seams
from cutopt.quilt.backs.compare import (
    Choice,
    NearMiss,
    cheaper_but_tight,
    choices,
    near_misses,
)
from cutopt.quilt.backs.cut_order import told
from cutopt.quilt.backs.least import Least, least_to_buy
from cutopt.quilt.backs.marks import mark_of
from cutopt.quilt.backs.seams import TopSeams, laid
from cutopt.quilt.backs.way import CLEAR, LIES_WELL, OnHand, Way, thrift
from cutopt.quilt.backs.ways_to_buy import backing_ways
from cutopt.quilt.buying import shrunk
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.recipe.long_seams import long_seams
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.surds import Exact, exact
from cutopt.quilt.top import Needed, Top, backing_size
from cutopt.quilt.wanted_parts import whole_ticks

NO_SHIFT: Final = "no seam in the middle as they hang"


@dataclass(frozen=True, slots=True, kw_only=True)
class BackingAnswer:
    """What to buy for a backing.

    `ways` are all, thriftiest first; `best` holds the cheapest and the one with the fewest seams, each with its
    reason (one alone where they are the same); `near` is what a little less overage would save, and `least` what no
    way does with less of.
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
                "Neither this shop nor what is free of your own makes it whole: widen the choice of fabrics."
            )
        tight = cheaper_but_tight(self.ways, self.best)
        if tight is not None:
            bought = compare.table([tight], self.how)[0]
            money = f", {self.currency}{tight.money}" if tight.money is not None else ""
            told.append(
                f"Less, but tight ({tight.tight}): {tight.fabric}, {tight.kind}, {bought[4]}{money}."
            )
        told += [f"Worth a thought: {miss.told}." for miss in self.near]
        return (
            *told,
            *(note if note.endswith(".") else f"{note}." for note in self.notes),
        )

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
    """A way to choose: what, how much, why, whether it is tight, and its line of arithmetic."""
    way = choice.way
    row = compare.table([way], how)[0]
    money = f", {currency}{way.money}" if way.money is not None else ""
    bought = "nothing to buy" if not way.bought and not way.pieces else f"buy {row[4]}"
    fabric = (names or {}).get((way.fabric, compare.width_of(way)), way.fabric)
    told = f"{fabric}, {way.kind}: {bought}{money}, {_seams(way)}. {choice.reason[0].upper()}{choice.reason[1:]}"
    told += f". Tight: {way.tight}; measure first." if way.tight else "."
    return f"{told} How much that takes: {way.why}."


def _seams(way: Way) -> str:
    if not way.seams + way.joins:
        return "no seam"
    told = f"{way.seams} seam{'s' if way.seams > 1 else ''}"
    return told + (
        f" and {way.joins} short one{'s' if way.joins > 1 else ''}" if way.joins else ""
    )


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
    lines = long_seams(top) if isinstance(top, Quilt) else None
    if isinstance(top, Quilt):
        how = how or top.how
        upright = upright or top.backing_upright
        words = top.backing if words is None else words
    rows, known, how = _shop_of(shop, fabrics, how, words or ())
    currency = shop.settings.currency if isinstance(shop, Job) else ""
    need, notes = _needed(top, how)
    taken: tuple[str, ...] = ()
    if plan is not None:
        rows, taken = left_in_shop(rows, plan, how.unit)
    settings = shop.settings if isinstance(shop, Job) else Settings()
    hand = _on_hand(on_hand, need, settings, known if upright else ())
    found = _checked(
        backing_ways(need, rows, how, known, hand, upright), need, known, how, upright
    )
    ways, few = _to_be_had(_one_of_each(found, hand), how)
    ways = tuple(sorted((laid(way, need, lines, how) for way in ways), key=thrift))
    if how.back_middle == "never":
        ways = tuple(way for way in ways if way.lies != seams.IN_MIDDLE)
    least = least_to_buy(need, rows, how, known, hand)
    wished = _as_wished(ways, need, how)
    among = ""
    if len(wished) < len(ways):
        among = f" of those with {NO_SHIFT}"
    best = choices(wished, how, least, currency, among)
    few = [
        text
        for text in few
        if not any(note.startswith(text.partition(":")[0]) for note in taken)
    ]
    notes += [
        *taken,
        *few,
        *_where(best, ways, how, currency),
        *_cheaper_shifted(best, ways, how, currency),
        *_of_hand(hand, ways, best, how),
        *_kept(on_hand),
    ]
    near = near_misses(
        need, [row for row in rows if isinstance(row, ByLength)], how, known
    )
    near = tuple(
        miss for miss in near if not best or not _dearer(miss.way, best[0].way)
    )
    return BackingAnswer(
        need=need,
        ways=ways,
        best=best,
        near=near,
        notes=tuple(notes),
        how=how,
        shop=rows,
        fabrics=known,
        top_seams=lines,
        least=least,
        currency=currency,
    )


def _needed(
    top: str | Top | Needed | Quilt, how: Conventions
) -> tuple[Needed, list[str]]:
    """The size to reach, and what to say about a top out of square."""
    if isinstance(top, Needed):
        return top, []
    measured = (
        top.top
        if isinstance(top, Quilt)
        else Top.read(top, how)
        if isinstance(top, str)
        else top
    )
    if measured is None:
        raise Problem("top", "the quilt has no size", "write a top, or a setting")
    return backing_size(measured, how), [
        text[:1].upper() + text[1:] for text in measured.out_of_square(how)
    ]


def _on_hand(
    pieces: Sequence[Piece | OnHand],
    need: Needed,
    settings: Settings,
    upright: Sequence[Fabric],
) -> tuple[OnHand, ...]:
    """Rectangles that are safe to count on; of fabrics that have to be `upright` the print stands up."""
    one_way = {fabric.name: fabric.one_way for fabric in upright}
    return tuple(
        replace(held, stands=one_way.get(piece.fabric, ""))
        if isinstance(piece, Piece)
        else held
        for piece in pieces
        for held in rectangles_for(piece, need, settings)
    )


def rectangles_for(
    piece: Piece | OnHand, need: Needed, settings: Settings
) -> Sequence[OnHand]:
    """What a piece can give to a back of a size, as :func:`~cutopt.answers.shelf.held_of` tells."""
    reaches = [whole_ticks(side) for side in (need.width, need.length)]
    return held_of(piece, settings, reaches)


def _checked(
    ways: Sequence[Way],
    need: Needed,
    fabrics: Sequence[Fabric],
    how: Conventions,
    upright: bool,
) -> tuple[Way, ...]:
    """The ways that can be made as they are told: cut from what is bought, and sewn together, once more."""
    known = {fabric.name: fabric for fabric in fabrics}
    return tuple(
        way
        for way in ways
        if not faults(
            way, need, known.get(way.fabric, Fabric(name=way.fabric)), how, upright
        )
    )


def faults(
    way: Way, need: Needed, fabric: Fabric, how: Conventions, upright: bool = False
) -> list[str]:
    """What is wrong with a way; nothing where it gives the size from the length that is bought."""
    cloth = _cloth(way, fabric, how)
    stands = upright and fabric.one_way != ""
    asked = (need.width, need.length)
    sewn = faults_of_back(
        way.sewn, asked, cloth, how.back_seam, turned=not stands, mark=mark_of(how)
    )
    return sewn + faults_of_order(told(way.sewn, cloth, how), cloth, how.unit)


def _cloth(way: Way, fabric: Fabric, how: Conventions) -> tuple[Exact, Exact]:
    """Usable width, and length between squared ends, after the wash; nothing where it is not bought by length."""
    if not isinstance(way.offered, ByLength):
        return exact(0), exact(0)
    long = shrunk(way.bought - how.extra, fabric.shrink_along) - 2 * how.square_up_end
    return shrunk(way.offered.usable_width, fabric.shrink_across), long


def cloth_of_way(way: Way, answer: BackingAnswer) -> tuple[Exact, Exact]:
    """The cloth that the parts of a way are cut from: how wide, and how long."""
    known = {fabric.name: fabric for fabric in answer.fabrics}
    return _cloth(way, known.get(way.fabric, Fabric(name=way.fabric)), answer.how)


def shrinks(fabrics: Sequence[Fabric], name: str) -> bool:
    """Whether the sums of a fabric count what the wash takes."""
    mine = [fabric for fabric in fabrics if fabric.name == name]
    return any(fabric.shrink_across or fabric.shrink_along for fabric in mine)


def _to_be_had(
    ways: Sequence[Way], how: Conventions
) -> tuple[tuple[Way, ...], list[str]]:
    """The ways for which the shop has enough, and a sentence for each fabric that runs short."""
    short = [way.offered for way in ways if not way.to_be_had]
    told = [
        f"{row.fabric}: the shop has {format_sale(row.most or 0, how.unit)} for it; what takes more is left out"
        for row in dict.fromkeys(short)
        if isinstance(row, ByLength)
    ]
    return tuple(way for way in ways if way.to_be_had), told


def _shop_of(
    shop: Job | Sequence[Offered],
    fabrics: Sequence[Fabric],
    how: Conventions | None,
    words: Sequence[str],
) -> tuple[tuple[Offered, ...], tuple[Fabric, ...], Conventions]:
    if isinstance(shop, Job):
        rows = shop.shop
        known = tuple(fabrics) or shop.fabrics
        how = how or Conventions.of(shop.settings)
    else:
        rows = tuple(shop)
        known = tuple(fabrics)
        how = how or DEFAULT
    by_name = {fabric.name: fabric for fabric in known}
    if not words:
        rows = tuple(
            row
            for row in rows
            if row.fabric not in by_name or not by_name[row.fabric].is_batting
        )
    else:
        rows = tuple(
            row
            for row in rows
            if any(
                answers_to(by_name.get(row.fabric, Fabric(name=row.fabric)), word)
                for word in words
            )
        )
        if not rows:
            raise Problem(
                "backing",
                f"the shop sells none of {', '.join(words)}",
                "add a row to shop.csv",
            )
    return rows, known, how


def _as_wished(ways: Sequence[Way], need: Needed, how: Conventions) -> Sequence[Way]:
    """Those to choose from: for who wants no seam in the middle, those that have none as they hang.

    A seam that keeps clear of the middle only where the back is shifted is for want of another.
    """
    if how.back_middle != "never":
        return ways
    hang = [way for way in ways if not any(laid(way, need, None, how).shift)]
    return hang if any(way.complete for way in hang) else ways


def _cheaper_shifted(
    best: Sequence[Choice], ways: Sequence[Way], how: Conventions, currency: str
) -> list[str]:
    """What would be paid less if a seam might come as near to the middle as a shift takes it."""
    if how.back_middle != "never" or not best:
        return []
    chosen = best[0].way
    whole = [way for way in ways if way.complete and any(way.shift)]
    other = min((way for way in whole if not way.risky), key=thrift, default=None)
    if other is None or other.money is None or chosen.money is None:
        return []
    if other.money >= chosen.money:
        return []
    less = f"{currency}{chosen.money - other.money}"
    by = compare.moved(other, how)
    return [f"{other.fabric}, {other.kind}, shifted by {by}, costs {less} less"]


def _where(
    best: Sequence[Choice], ways: Sequence[Way], how: Conventions, currency: str
) -> list[str]:
    """Where seams of the recommended ways lie, how far to shift them clear, and what is clear where they are not."""
    told = []
    for way in (choice.way for choice in best):
        name = f"{way.fabric}, {way.kind}"
        if way.lies in LIES_WELL:
            if any(way.shift):
                what = "no seam lies in the middle"
                if way.lies == CLEAR:
                    what += " or under a long seam of the top"
                told.append(
                    f"{name}: shift it by {compare.moved(way, how)}, and {what}"
                )
        elif way.lies:
            word = (
                "down the middle of the quilt"
                if way.lies == seams.IN_MIDDLE
                else "under a long seam of the top"
            )
            told.append(f"{name}: a seam lies {word}; {_instead(way, ways, currency)}")
    return told


def _instead(way: Way, ways: Sequence[Way], currency: str) -> str:
    """The thriftiest way with a seam that lies clear."""
    clear = next(
        (other for other in ways if other.complete and other.lies in LIES_WELL),
        None,
    )
    if clear is None:
        return "no way in the table is clear of it"
    more = ""
    if clear.money is not None and way.money is not None and clear.money > way.money:
        more = f" for {currency}{clear.money - way.money} more"
    return f"clear of it: {clear.fabric}, {clear.kind}{more}"


def _one_of_each(ways: Sequence[Way], hand: Sequence[OnHand]) -> tuple[Way, ...]:
    """Of ways that differ in nothing, or only in which rectangle is cut out of a piece, the first."""
    out_of = {held.name: held.out_of or held.name for held in hand}
    first: dict[tuple[object, ...], Way] = {}
    for way in ways:
        kind = way.kind
        for name in way.from_hand:
            kind = kind.replace(name, out_of[name])
        lies = (way.run,) if way.seams else (way.spare_across, way.spare_along)
        first.setdefault(
            (
                way.offered,
                *lies,
                kind,
                way.risky,
                *(out_of[name] for name in way.from_hand),
            ),
            way,
        )
    return tuple(first.values())


def _dearer(one: Way, other: Way) -> bool:
    return one.money is not None and other.money is not None and one.money > other.money


def _of_hand(
    hand: Sequence[OnHand],
    ways: Sequence[Way],
    best: Sequence[Choice],
    how: Conventions,
) -> list[str]:
    """What to do with a piece of another shape that is recommended; of pieces that serve nowhere, that it is so."""
    used = {name for way in ways for name in way.from_hand}
    chosen = {name for choice in best for name in choice.way.from_hand}
    cloths = dict.fromkeys(
        held.out_of for held in hand if held.out_of and held.name in chosen
    )
    told = [
        f"{name}: a rectangle along the grain, wholly on its good cloth, is counted; cut it out first"
        for name in cloths
    ]
    if hand and not used:
        largest = max(hand, key=lambda held: held.width * held.length)
        size = "" if largest.out_of else f" ({how.size(largest.width, largest.length)})"
        told.append(
            f"Nothing of your own that may be cut is long and wide enough to serve; the largest is {largest.name}{size}"
        )
    return told


def _kept(pieces: Sequence[Piece | OnHand]) -> list[str]:
    """Which pieces are passed over, large as they may be, as they are to stay as they are."""
    names = [
        piece.name
        for piece in pieces
        if isinstance(piece, Piece) and piece.wish in KEPT
    ]
    return (
        [
            f"Left out, as you wish to keep {'it' if len(names) == 1 else 'them'}: {', '.join(names)}"
        ]
        if names
        else []
    )
