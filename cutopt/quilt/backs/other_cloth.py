"""One width less than reaches, and a strip of the maker's own beside it, or an insert of other cloth between panels."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from cutopt.quilt.backs.make_up_words import widths
from cutopt.quilt.backs.marks import mark_of, to_cut
from cutopt.quilt.backs.sewn import BackPart, Piecing, row_of
from cutopt.quilt.backs.side import MOST_WIDTHS, Pieced, Side, bought
from cutopt.quilt.backs.way import OnHand, Way
from cutopt.quilt.backs.whole_widths import half_width, halves, panels
from cutopt.quilt.surds import Exact, ceil_to, exact, how_often
from cutopt.quilt.wanted_parts import joined_count

MOST_SEGMENTS = 4


def strip_of_own(side: Side, on_hand: Sequence[OnHand]) -> Iterable[Way]:
    """One width less, and a narrow strip beside it that is joined from what is on hand."""
    k = joined_count(side.across, side.usable, side.lost) - 1
    if not 0 < k < MOST_WIDTHS:
        return
    show = side.how.show
    x = exact(to_cut(side.across - k * side.usable + side.lost * k, side.how))
    less = f"{k} x {show(side.usable)} + {k} x {show(side.lost)}"
    told = f"{side.how.least(side.across)} - {less} = strip {show(x)}"
    for piece in on_hand:
        n = _segments_from(piece, x, side)
        # one that needs no join serves whole, as a panel
        if n < 2:
            continue
        strip = _joined(side, x, n, f"strip from {piece.name}", piece.name)
        pieced = Pieced(
            kind=f"{widths(k)} and a strip from {piece.name}",
            pattern=f"{widths(k)} and a strip of your own",
            parts=(*panels(side, k), strip),
            net=k * side.along,
            why=f"{told} from {piece.name}; {k} x {show(side.along)}",
            seams=k,
            joins=n - 1,
        )
        for way in bought(side, pieced):
            yield replace(way, from_hand=(*way.from_hand, piece.name), fitted=True)


def with_insert(side: Side, on_hand: Sequence[OnHand]) -> Iterable[Way]:
    """One width less, and an insert of other cloth or spare blocks between panels (one panel: split in two)."""
    k = joined_count(side.across, side.usable, side.lost) - 1
    if not 0 < k < MOST_WIDTHS:
        return
    before: tuple[Piecing, ...] = panels(side, k - k // 2)
    after: tuple[Piecing, ...] = panels(side, k // 2, k - k // 2)
    wide = side.usable
    if k == 1:
        left, right = halves(side, 0)
        before = (left,)
        after = (right,)
        wide = half_width(side)
    count = len(before) + len(after)
    show = side.how.show
    x = exact(to_cut(side.across - count * wide + side.lost * count, side.how))
    less = f"{count} x {show(wide)} + {count} x {show(side.lost)}"
    size = side.how.size(x, side.along)
    told = f"{side.how.least(side.across)} - {less} = insert {size}"
    piece, segments = _served(on_hand, x, side)
    if piece is None:
        own = ""
    else:
        own = piece.name
    insert = _joined(side, x, segments, "insert", own)
    pieced = Pieced(
        kind=f"{widths(k)} and an insert",
        parts=(*before, insert, *after),
        net=k * side.along,
        why=f"{told}; {k} x {show(side.along)}",
        seams=count,
        joins=segments - 1,
    )
    for way in bought(side, pieced):
        if piece is None:
            held = way.from_hand
        else:
            held = (*way.from_hand, piece.name)
        yield replace(way, insert=(x, side.along), from_hand=held, fitted=True)


def _served(
    on_hand: Sequence[OnHand], x: Exact, side: Side
) -> tuple[OnHand | None, int]:
    """The first piece on hand that gives an insert, and of how many segments; none, and one segment."""
    for piece in on_hand:
        segments = _segments_from(piece, x, side)
        if segments:
            return piece, segments
    return None, 1


def _joined(side: Side, width: Exact, segments: int, what: str, own: str) -> Piecing:
    """A strip of other cloth, joined of equal segments, the last up to a few marks shorter."""
    mark = mark_of(side.how)
    wanting = ceil_to(side.along + side.lost * (segments - 1), mark)
    each = ceil_to(wanting / segments, mark)
    lengths = [*[each] * (segments - 1), wanting - each * (segments - 1)]
    return row_of(
        tuple(
            BackPart(width=width, height=long, what=what, bought=False, own=own)
            for long in lengths
        ),
        True,
        side.how.back_seam,
        strip=True,
    )


def _segments_from(piece: OnHand, x: Exact, side: Side) -> int:
    """How many segments of a piece join to a strip x wide along a side; 0 where they do not, or have to stand up."""
    if piece.stands:
        return 0
    best = 0
    for width, length in ((piece.width, piece.length), (piece.length, piece.width)):
        across = how_often(width, x)
        if not across or length <= side.lost:
            continue
        n = joined_count(side.along, length, side.lost)
        if n <= min(across, MOST_SEGMENTS) and (not best or n < best):
            best = n
    return best
