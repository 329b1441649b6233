"""What is left for a backing when a plan has taken its share: of the shop, and of the pile."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from cutopt.answers.rectangles_inside import rectangles_inside
from cutopt.cloth import inside_margins, lost_of_piece
from cutopt.fabric import ByLength, Offered, Piece
from cutopt.lengths import format_length, format_sale
from cutopt.plan import Plan, Source
from cutopt.quilt.backs.way import OnHand
from cutopt.settings import Settings, Unit

# wishes for pieces that nobody cuts up for a backing
KEPT: Final = ("keep whole", "do not touch")


def left_in_shop(
    rows: Sequence[Offered], plan: Plan, unit: Unit
) -> tuple[tuple[Offered, ...], tuple[str, ...]]:
    """The rows of a shop with what the plan buys taken off the most that is to be had, and a sentence for each.

    A row of which too little is left for the smallest sale is gone.

    Parameters
    ----------
    rows : rows of a shop
    plan : a cutting plan that buys there
    unit : of the sentences
    """
    out: list[Offered] = []
    told: list[str] = []
    for row in rows:
        taken = sum(_taken(row, source) for source in plan.sources)
        if row.most is None or not taken:
            out.append(row)
            continue
        rest = max(0, row.most - taken)
        if isinstance(row, ByLength):
            least = max(row.smallest, row.sold_by)
        else:
            least = 1
        had, took, left = (
            _said(row, amount, unit) for amount in (row.most, taken, rest)
        )
        enough = rest >= least
        told.append(
            f"{row.fabric}: the shop has {had} in all and the cutting plan takes {took}, "
            f"so {left if enough else 'not enough'} is left for the backing"
        )
        if enough:
            out.append(replace(row, most=rest))
    return tuple(out), tuple(told)


def _taken(row: Offered, source: Source) -> int:
    """How much of a row a purchase takes: ticks, or one piece."""
    if source.bought != row.fabric or isinstance(row, ByLength) == source.by_piece:
        return 0
    if isinstance(row, ByLength):
        if source.width == row.usable_width:
            return source.length
        return 0
    return int((source.width, source.length) == (row.each_width, row.each_length))


def _said(row: Offered, amount: int, unit: Unit) -> str:
    if isinstance(row, ByLength):
        return format_sale(amount, unit)
    return f"{amount} by the piece"


def left_of_pile(pieces: Sequence[Piece], plan: Plan) -> tuple[Piece, ...]:
    """The pieces of the pile that the plan does not cut, each with the copies that are left."""
    used: dict[str, int] = {}
    for source in plan.sources:
        if source.piece:
            used[source.piece] = used.get(source.piece, 0) + 1
    left = ((piece, piece.count - used.get(piece.name, 0)) for piece in pieces)
    return tuple(replace(piece, count=count) for piece, count in left if count > 0)


def part_name(name: str, width: int, length: int, unit: Unit) -> str:
    """How a rectangle out of a piece of another shape is named: ``18 x 30 of yoke``.

    Parameters
    ----------
    name : of the piece
    width, length : of the rectangle, ticks
    unit : in which its size is told
    """
    return f"{format_length(width, unit)} x {format_length(length, unit)} of {name}"


def held_of(
    piece: Piece | OnHand, settings: Settings, reaches: Sequence[int] = ()
) -> Sequence[OnHand]:
    """A piece of the pile as a rectangle that is safe to count on, one for each copy; none of what must stay.

    Of a piece with another outline or a flaw the largest rectangle along the grain that lies wholly on good cloth,
    named with its size; where `reaches` are given (each a length that a panel has to have), also the best of each,
    of which one alone can be cut.

    Parameters
    ----------
    piece : of the pile, or a rectangle that is known already
    settings : what comes off ragged edges, and what is lost to a rough measure
    reaches : lengths that a panel has to have, ticks
    """
    if isinstance(piece, OnHand):
        return (piece,)
    if piece.wish in KEPT:
        return ()
    if not piece.is_rectangle or piece.flaws:
        held: list[OnHand] = []
        for width, length in rectangles_inside(piece, settings, reaches):
            name = part_name(piece.name, width, length, settings.unit)
            one = OnHand(name=name, width=width, length=length, out_of=piece.name)
            held += [one] * piece.count
        return tuple(held)
    sides = inside_margins(piece.outline, lost_of_piece(piece, settings))
    width, length = (int(side) for side in sides)
    if min(width, length) <= 0:
        return ()
    return tuple(
        OnHand(name=piece.name, width=width, length=length) for _ in range(piece.count)
    )
