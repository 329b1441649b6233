"""Backing to buy: every sensible way to piece a size from what a shop sells, compared.

A width of the fabric U, less 2g for every seam, a join inside a strip as well: k panels side by side cover
kU - 2g(k - 1). "Up" means that the panels stand, selvages along the length of the quilt, with seams up and down;
"across" that they lie. Ways with parts cut to size are looked for in :mod:`cutopt.quilt.backs.make_up`; what none can do
without is in :mod:`cutopt.quilt.backs.least`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from cutopt.fabric import ByLength, ByPiece, Fabric, Offered
from cutopt.quilt.backs.cut_and_sewn import sewn_of
from cutopt.quilt.backs.make_up import ClothLength, make_ups
from cutopt.quilt.backs.make_up_words import kind_of, sum_of
from cutopt.quilt.backs.marks import grid_of, mark_of, measured, there, to_cut
from cutopt.quilt.backs.on_hand import all_on_hand, scarce, side_by_side
from cutopt.quilt.backs.other_cloth import strip_of_own, with_insert
from cutopt.quilt.backs.side import Pieced, Side, bought
from cutopt.quilt.backs.way import OnHand, Run, Way, thrift, without_worse_twins
from cutopt.quilt.backs.whole_pieces import whole_pieces
from cutopt.quilt.backs.whole_widths import whole_widths
from cutopt.quilt.buying import shrunk
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.surds import exact
from cutopt.quilt.top import Needed

SMALLEST = 2
SHORTEST = 6
"""Inches (of 2.5 cm in a metric job): the narrowest strip that is cut of new cloth, and the shortest segment of a
wider one."""


def backing_ways(
    need: Needed,
    shop: Sequence[Offered],
    how: Conventions = DEFAULT,
    fabrics: Sequence[Fabric] = (),
    on_hand: Sequence[OnHand] = (),
    upright: bool = False,
    plain: bool = False,
) -> tuple[Way, ...]:
    """Every sensible way to piece the backing from each thing that the shop sells, thriftiest first.

    Parameters
    ----------
    need : Needed
        The size to reach, overage included.
    fabrics : their shrinkage and prints, by name
        The width is shrunk before it is counted across, the length before it is rounded.
    on_hand : rectangles of the maker's own, used where they serve as a panel, a strip or an insert
    upright : bool
        A one-way print must stand up along the length of the quilt.
    plain : bool
        Of new cloth whole widths and whole pieces alone.
    """
    known = {fabric.name: fabric for fabric in fabrics}
    on_hand = [measured(held, how) for held in on_hand]
    found: list[Way] = [*all_on_hand(need, on_hand, how)]
    for offered in shop:
        fabric = known.get(offered.fabric, Fabric(name=offered.fabric))
        runs = _runs(fabric, upright, how)
        if isinstance(offered, ByPiece):
            found += whole_pieces(need, offered, fabric, runs, how)
            continue
        for run in runs:
            side = _side(need, offered, fabric, run, how)
            stands = fabric.stands(upright=upright)
            side = replace(side, turned=not stands)
            found += whole_widths(side) if plain else _from_bolt(side, on_hand)
    return tuple(sorted(without_worse_twins(found), key=thrift))


def _side(
    need: Needed, offered: ByLength, fabric: Fabric, run: Run, how: Conventions
) -> Side:
    """One direction of a fabric that is sold by length."""
    across, along = need.width, need.length
    if run == "across":
        across, along = along, across
    width = there(shrunk(offered.usable_width, fabric.shrink_across), how)
    return Side(
        shop=offered,
        how=how,
        shrink=fabric.shrink_along,
        usable=exact(width),
        run=run,
        turned=True,
        across=across,
        along=exact(to_cut(along, how)),
    )


def _runs(fabric: Fabric, upright: bool, how: Conventions) -> tuple[Run, ...]:
    """In which directions the panels may lie."""
    runs: tuple[Run, ...] = ("up", "across")
    if fabric.stands(upright=upright):
        if fabric.one_way == "along":
            runs = ("up",)
        else:
            runs = ("across",)
    return tuple(run for run in runs if how.back_run in ("any", run))


def _from_bolt(side: Side, on_hand: Sequence[OnHand]) -> Iterable[Way]:
    """All ways from one fabric by length, with what is on hand and without."""
    how = side.how
    yield from whole_widths(side)
    yield from _made_up(side)
    yield from strip_of_own(side, on_hand)
    if how.back_insert == "allowed":
        yield from with_insert(side, on_hand)
    for hand in _panels_on_hand(side, on_hand):
        mine = [held.width for held in hand]
        rest = side.across - sum(mine) + side.lost * len(hand)
        if 0 < rest < side.across:
            less = " - ".join(how.show(width) for width in mine)
            seams = f"{len(hand)} x {how.show(side.lost)}"
            told = f"{how.least(side.across)} - {less} + {seams} = {how.least(rest)}; "
            beside = replace(side, across=rest, hand=hand, before=told)
            yield from whole_widths(beside)
            yield from _made_up(beside)


def _panels_on_hand(
    side: Side, on_hand: Sequence[OnHand]
) -> Iterable[tuple[OnHand, ...]]:
    """Each piece that is long enough, and the two, three, ... widest together."""
    for piece in on_hand:
        for width, length in piece.sides(side.run):
            if length >= side.along:
                yield (replace(piece, width=width, length=length),)
    together = side_by_side(on_hand, side.run, side.along)
    yield from (together[:k] for k in range(2, len(together) + 1))


def _made_up(side: Side) -> Iterable[Way]:
    """Panels and a strip cut to size, from every part of the length."""
    how = side.how
    inch = how.usual(None, "1", "2.5").__ceil__()
    cloth = ClothLength(
        usable=side.usable.__floor__(),
        seam=how.back_seam,
        smallest=SMALLEST * inch,
        shortest=SHORTEST * inch,
        mark=mark_of(how),
        grid=grid_of(how),
        spare=how.tight,
        turned=side.turned,
    )
    for made in make_ups(to_cut(side.across, how), to_cut(side.along, how), cloth):
        if not made.tight:
            tight = ""
        else:
            tight = scarce(exact(made.left or 0), "across", how)
        pieced = Pieced(
            kind=kind_of(made),
            parts=(sewn_of(made),),
            net=exact(made.length),
            seams=made.seams,
            joins=made.joins,
            why=sum_of(made, side.across, side.along, how),
            tight=tight,
        )
        for way in bought(side, pieced):
            yield replace(way, fitted=True)
