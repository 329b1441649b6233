"""Batting to buy for a top: every way side by side, and what to choose."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from cutopt import svg
from cutopt.answers.backing_asked import size_asked
from cutopt.answers.shelf import held_of, left_in_shop, left_of_pile
from cutopt.answers.washed_first import held_after_wash, told_of_wash
from cutopt.check.backs import faults_of_back
from cutopt.fabric import Fabric, Offered, Piece
from cutopt.fabric_words import answers_to, plain_word
from cutopt.job import Job
from cutopt.plan import Plan
from cutopt.quilt.backs import batting as batting_sums
from cutopt.quilt.backs.batting import BattingWay, batting_ways, falls_short
from cutopt.quilt.backs.marks import mark_of, measured
from cutopt.quilt.backs.way import OnHand
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.top import Needed, Top, batting_size
from cutopt.quilt.wanted_parts import whole_ticks
from cutopt.settings import Settings


@dataclass(frozen=True, slots=True, kw_only=True)
class BattingAnswer:
    """What to buy for batting: all ways, safe ones first; `usual` where no shop was asked but the usual packages.

    `short` says how far the maker's own reaches, where no way uses it; `hand` are the rectangles of the
    maker's own, as a ruler shows them.
    """

    need: Needed
    ways: tuple[BattingWay, ...]
    how: Conventions
    usual: bool = True
    currency: str = ""
    short: str = ""
    hand: tuple[OnHand, ...] = ()

    @property
    def own(self) -> Mapping[str, str]:
        """The piece of the pile that each rectangle of the maker's own is cut from."""
        return {held.name: held.out_of or held.name for held in self.hand}

    @property
    def head(self) -> tuple[str, ...]:
        """Headings of :attr:`rows`."""
        return batting_sums.HEADER

    @property
    def rows(self) -> tuple[tuple[str, ...], ...]:
        """All ways as a table of text."""
        return batting_sums.table(self.ways, self.how, self.currency)

    @property
    def said(self) -> tuple[str, ...]:
        """What to know before the table."""
        size = self.how.size(self.need.width, self.need.length, self.how.least)
        told = [f"The batting has to reach {size}: {self.need.why}."]
        if self.short:
            told.append(f"{self.short[0].upper()}{self.short[1:]}.")
        if not self.ways:
            return (
                *told,
                "Nothing here is large enough: join pieces, straight edges butted, with a wide zigzag.",
            )
        first = self.ways[0]
        easy = min(self.ways, key=lambda way: (bool(way.tight), way.joins))
        told.append(self._told(first, _recommended(first)))
        if easy is not first and easy.joins < first.joins:
            few = "Fewest joins" if easy.joins else "No join"
            told.append(self._told(easy, few))
        own = [name for way in (first, easy) for name in way.own]
        washed = told_of_wash(self.hand, own, self.how)
        return (*told, *(f"{sentence}." for sentence in washed))

    def _told(self, way: BattingWay, reason: str) -> str:
        """A way to choose: what, how much, why, and its line of arithmetic."""
        row = batting_sums.table([way], self.how, self.currency)[0]
        bought = f"buy {row[2]}" if way.pieces or way.bought else "nothing to buy"
        if way.money and (way.pieces or way.bought):
            bought += f", {row[3]}"
        return f"{way.headed}, {way.kind}: {bought}. {reason}. How much that takes: {way.why}."

    def _repr_html_(self) -> str:
        return svg.sheet(
            "Batting to buy",
            svg.sentences(self.said),
            svg.table(self.head, self.rows, "All the ways"),
        )


def _recommended(way: BattingWay) -> str:
    """Why the first way is the first."""
    if way.tight:
        return f"A tight fit: {way.tight}"
    if not (way.pieces or way.bought):
        joined = "Straight edges butted, with a wide zigzag"
        return joined if way.joins else "It is there"
    if way.money is not None:
        return "It is the cheapest of these"
    return "The smallest that is safe"


def batting_to_buy(
    top: str | Top | Needed | Quilt,
    shop: Job | Sequence[Offered] = (),
    how: Conventions | None = None,
    on_hand: Sequence[Piece | OnHand] = (),
    words: Sequence[str] = (),
    plan: Plan | None = None,
) -> BattingAnswer:
    """Batting for a top, from what a shop sells and from scraps on hand.

    Parameters
    ----------
    top : "58 x 66", a top, the size to reach, or a quilt, which brings its conventions along
    shop : rows of a shop, or a job
        Of a job its fabrics of the kind "batting", in the shop and among what the plan leaves of the pile. Without
        any the usual packaged sizes are compared (common practice, no source).
    on_hand : scraps to join; of one that is no rectangle, the largest rectangle along the grain that is in it
    words : fabrics or tags
        Look only at these.
    how : how this maker does it; None for what the quilt, or the job, says
    plan : a cutting plan that buys in the same shop and cuts the same pile

    Raises
    ------
    Problem
        Where the size cannot be read.
    """
    if isinstance(top, Quilt):
        how = how or top.how
    settings = shop.settings if isinstance(shop, Job) else Settings()
    fabrics: tuple[Fabric, ...] = ()
    rows: Sequence[Offered] = ()
    if isinstance(shop, Job):
        how = how or Conventions.of(settings)
        fabrics = tuple(fabric for fabric in shop.fabrics if _meant(fabric, words))
        names = {fabric.name for fabric in fabrics}
        rows = [row for row in shop.shop if row.fabric in names]
        pieces = left_of_pile(shop.pieces, plan) if plan is not None else shop.pieces
        on_hand = (*on_hand, *(piece for piece in pieces if piece.fabric in names))
    else:
        rows = shop
    how = how or DEFAULT
    if plan is not None:
        rows, _ = left_in_shop(rows, plan, how.unit)
    need = _needed(top, how)
    scraps = _scraps(on_hand, need, fabrics, settings)
    ways = tuple(
        way
        for way in batting_ways(need, rows, how, scraps, fabrics)
        if _can_be_made(way, need, how)
    )
    return BattingAnswer(
        need=need,
        ways=ways,
        how=how,
        usual=not rows,
        currency=settings.currency if isinstance(shop, Job) else "",
        short=falls_short(scraps, need, ways, how),
        hand=tuple(measured(held, how) for held in scraps),
    )


def _scraps(
    on_hand: Sequence[Piece | OnHand],
    need: Needed,
    fabrics: Sequence[Fabric],
    settings: Settings,
) -> tuple[OnHand, ...]:
    """Rectangles of one's own, as large as the wash leaves those that are not washed and shrink."""
    known = {fabric.name: fabric for fabric in fabrics}
    reaches = [whole_ticks(side) for side in (need.width, need.length)]
    found: list[OnHand] = []
    for piece in on_hand:
        fabric = None if isinstance(piece, OnHand) else known.get(piece.fabric)
        if isinstance(piece, OnHand) or fabric is None or not _draws_in(fabric):
            found += held_of(piece, settings)
        else:
            found += held_after_wash(piece, fabric, settings, reaches)
    return tuple(found)


def _draws_in(fabric: Fabric) -> bool:
    return bool(fabric.shrink_across or fabric.shrink_along)


def _can_be_made(way: BattingWay, need: Needed, how: Conventions) -> bool:
    """Whether one that is cut to size comes out as it is told, cut and joined once more by the checker."""
    if way.sewn is None or way.cloth is None:
        return True
    asked = (need.width, need.length)
    return not faults_of_back(way.sewn, asked, way.cloth, seam=0, mark=mark_of(how))


def _meant(fabric: Fabric, words: Sequence[str]) -> bool:
    if not words:
        return fabric.is_batting
    return any(answers_to(fabric, word) or _batting(fabric, word) for word in words)


def _batting(fabric: Fabric, word: str) -> bool:
    """Whether batting is meant where batting is asked for: by a tag too."""
    tags = [tag.lower() for tag in fabric.tags]
    return fabric.is_batting and plain_word(word) in tags


def _needed(top: str | Top | Needed | Quilt, how: Conventions) -> Needed:
    if isinstance(top, Needed):
        return top
    return batting_size(size_asked(top, how), how)
