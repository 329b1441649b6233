"""Backing to buy: every sensible way to piece a size from what a shop sells, compared.

A width of the fabric U, less 2g for every seam, a join inside a strip as well: k panels side by side cover
kU - 2g(k - 1). "Up" means that the panels stand, selvages along the length of the quilt, with seams up and down;
"across" that they lie. Ways with parts cut to size are looked for in :mod:`cutopt.quilt.backs.make_up`; what none can do
without is in :mod:`cutopt.quilt.backs.least`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from cutopt.fabric import ByLength, ByPiece, Fabric, Offered
from cutopt.job import cost_of
from cutopt.quilt.backs.cut_and_sewn import sewn_of
from cutopt.quilt.backs.make_up import Cloth, make_ups
from cutopt.quilt.backs.make_up_words import kind_of, sum_of, widths
from cutopt.quilt.backs.marks import grid_of, mark_of, measured, there, to_cut
from cutopt.quilt.backs.on_hand import (
    all_on_hand,
    listed,
    panels_of,
    scarce,
    side_by_side,
)
from cutopt.quilt.backs.sewn import Part, Piecing, row_of, size_of, turned
from cutopt.quilt.backs.way import OnHand, Run, Way, thrift, without_worse_twins
from cutopt.quilt.buying import shrunk, to_buy
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.surds import ZERO, Exact, ceil_to, exact, how_often
from cutopt.quilt.top import Needed
from cutopt.quilt.wanted_parts import joined_count

MOST_WIDTHS = 6
MOST_SEGMENTS = 4
SMALLEST = 2
SHORTEST = 6
"""Inches (of 2.5 cm in a metric job): the narrowest strip that is cut of new cloth, and the shortest segment of a
wider one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """One direction of one fabric: `across` to be covered by widths of `usable`, each `along` in length."""

    shop: ByLength
    shrink: Fraction
    usable: Exact
    run: Run
    turned: bool  # whether parts may hang the other way
    across: Exact
    along: Exact
    hand: tuple[OnHand, ...] = ()
    before: str = ""  # the sum that leaves `across` beside what is on hand


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
            found += _by_piece(need, offered, fabric, runs, how)
            continue
        usable = exact(there(shrunk(offered.usable_width, fabric.shrink_across), how))
        for run in runs:
            across, along = (
                (need.width, need.length) if run == "up" else (need.length, need.width)
            )
            stands = upright and fabric.one_way != ""
            side = _Side(
                shop=offered,
                shrink=fabric.shrink_along,
                usable=usable,
                run=run,
                turned=not stands,
                across=across,
                along=exact(to_cut(along, how)),
            )
            found += (
                _whole_widths(side, how) if plain else _from_bolt(side, how, on_hand)
            )
    return tuple(sorted(without_worse_twins(found), key=thrift))


def _runs(fabric: Fabric, upright: bool, how: Conventions) -> tuple[Run, ...]:
    """In which directions the panels may lie."""
    runs: tuple[Run, ...] = ("up", "across")
    if upright and fabric.one_way:
        runs = ("up",) if fabric.one_way == "along" else ("across",)
    return tuple(run for run in runs if how.back_run in ("any", run))


def _from_bolt(
    side: _Side, how: Conventions, on_hand: Sequence[OnHand]
) -> Iterable[Way]:
    yield from _whole_widths(side, how)
    yield from _made_up(side, how)
    yield from _strip_of_own(side, how, on_hand)
    if how.back_insert == "allowed":
        yield from _with_insert(side, how, on_hand)
    for hand in _panels_on_hand(side, on_hand):
        rest = (
            side.across
            - sum(held.width for held in hand)
            + 2 * how.back_seam * len(hand)
        )
        if 0 < rest < side.across:
            mine = " - ".join(how.show(held.width) for held in hand)
            before = f"{how.least(side.across)} - {mine} + {len(hand)} x {how.show(2 * how.back_seam)} = {how.least(rest)}; "
            held = replace(side, across=rest, hand=hand, before=before)
            yield from _whole_widths(held, how)
            yield from _made_up(held, how)


def _panels_on_hand(
    side: _Side, on_hand: Sequence[OnHand]
) -> Iterable[tuple[OnHand, ...]]:
    """Each piece that is long enough, and the two, three, ... widest together."""
    for piece in on_hand:
        for width, length in piece.sides(side.run):
            if length >= side.along:
                yield (replace(piece, width=width, length=length),)
    together = side_by_side(on_hand, side.run, side.along)
    yield from (together[:k] for k in range(2, len(together) + 1))


def _panels(side: _Side, count: int, first: int = 0) -> tuple[Part, ...]:
    """Whole widths, cut one after the other from the length."""
    return tuple(
        Part(
            width=side.usable,
            height=side.along,
            what="whole width",
            place=(ZERO, side.along * (first + i), side.usable, side.along),
        )
        for i in range(count)
    )


def _halves(side: _Side, how: Conventions, slab: int) -> tuple[Part, Part]:
    """One width split in two, each down to a mark."""
    half = exact(there(side.usable / 2, how))
    y = side.along * slab
    places = ((ZERO, y, half, side.along), (half, y, half, side.along))
    one, other = (
        Part(width=half, height=side.along, what="half width", place=place)
        for place in places
    )
    return one, other


def _whole_widths(side: _Side, how: Conventions) -> Iterable[Way]:
    """One width, or as few as reach; of an even number also with one split, so that no seam is in the middle."""
    g2 = 2 * how.back_seam
    k = joined_count(side.across, side.usable, g2)
    if k > MOST_WIDTHS:
        return
    reach = k * side.usable - g2 * (k - 1)
    told = f"{k} x {how.show(side.usable)}" + (
        f" - {k - 1} x {how.show(g2)}" if k > 1 else ""
    )
    why = f"{told} = {how.show(reach)} for {how.least(side.across)}; {k} x {how.show(side.along)}"
    whole = _Plan(
        kind=widths(k), parts=_panels(side, k), net=k * side.along, why=why, seams=k - 1
    )
    yield from _ways(side, how, whole, scarce(reach - side.across, "across", how))
    split = (k - 1) * side.usable + 2 * there(side.usable / 2, how) - g2 * k
    if k % 2 == 0 and split >= side.across:
        left, right = _halves(side, how, k - 1)
        halves = f"2 x {how.show(left.width)} - {k} x {how.show(g2)}"
        sums = f"{k - 1} x {how.show(side.usable)} + {halves} = {how.show(split)}"
        why = f"{sums} for {how.least(side.across)}; one width split in halves"
        parts = (left, *_panels(side, k - 1), right)
        halved = _Plan(
            kind=f"{k} widths, no seam in the middle",
            parts=parts,
            net=k * side.along,
            why=why,
            seams=k,
        )
        for way in _ways(side, how, halved, scarce(split - side.across, "across", how)):
            yield replace(way, off_middle=True)


def _made_up(side: _Side, how: Conventions) -> Iterable[Way]:
    """Panels and a strip cut to size, from every part of the length."""
    across = to_cut(side.across, how)
    along = to_cut(side.along, how)
    inch = how.usual(None, "1", "2.5").__ceil__()
    cloth = Cloth(
        usable=side.usable.__floor__(),
        seam=how.back_seam,
        smallest=SMALLEST * inch,
        shortest=SHORTEST * inch,
        mark=mark_of(how),
        grid=grid_of(how),
        spare=how.tight,
        turned=side.turned,
    )
    for made in make_ups(across, along, cloth):
        tight = "" if not made.tight else scarce(exact(made.left or 0), "across", how)
        plan = _Plan(
            kind=kind_of(made),
            parts=(sewn_of(made),),
            net=exact(made.length),
            seams=made.seams,
            joins=made.joins,
            why=sum_of(made, side.across, side.along, how),
        )
        for way in _ways(side, how, plan, tight):
            yield replace(way, fitted=True)


def _strip_of_own(
    side: _Side, how: Conventions, on_hand: Sequence[OnHand]
) -> Iterable[Way]:
    """One width less, and a narrow strip beside it that is joined from what is on hand."""
    g2 = 2 * how.back_seam
    k = joined_count(side.across, side.usable, g2) - 1
    if not 0 < k < MOST_WIDTHS:
        return
    x = exact(to_cut(side.across - k * side.usable + g2 * k, how))
    told = f"{how.least(side.across)} - {k} x {how.show(side.usable)} + {k} x {how.show(g2)} = strip {how.show(x)}"
    for piece in on_hand:
        n = _segments_from(piece, x, side.along, g2)
        if n > 1:  # one that needs no join serves whole, as a panel
            strip = _joined(x, side.along, n, f"strip from {piece.name}", how)
            plan = _Plan(
                kind=f"{widths(k)} and a strip from {piece.name}",
                parts=(*_panels(side, k), strip),
                net=k * side.along,
                why=f"{told} from {piece.name}; {k} x {how.show(side.along)}",
                seams=k,
                joins=n - 1,
            )
            for way in _ways(side, how, plan, ""):
                yield replace(way, from_hand=(*way.from_hand, piece.name), fitted=True)


def _joined(
    width: Exact, along: Exact, segments: int, what: str, how: Conventions
) -> Piecing:
    """A strip of other cloth, joined of equal segments, the last up to a few marks shorter."""
    mark = mark_of(how)
    wanting = ceil_to(along + 2 * how.back_seam * (segments - 1), mark)
    each = ceil_to(wanting / segments, mark)
    lengths = [*[each] * (segments - 1), wanting - each * (segments - 1)]
    return row_of(
        tuple(Part(width=width, height=long, what=what) for long in lengths),
        True,
        how.back_seam,
        strip=True,
    )


def _with_insert(
    side: _Side, how: Conventions, on_hand: Sequence[OnHand]
) -> Iterable[Way]:
    """One width less, and an insert of other cloth or spare blocks between panels (one panel: split in two)."""
    g2 = 2 * how.back_seam
    k = joined_count(side.across, side.usable, g2) - 1
    if not 0 < k < MOST_WIDTHS:
        return
    seams = max(2, k)
    wide = side.usable
    count = k
    if k == 1:
        wide = exact(there(side.usable / 2, how))
        count = 2
    x = exact(to_cut(side.across - count * wide + g2 * seams, how))
    less = f"{count} x {how.show(wide)} + {seams} x {how.show(g2)}"
    told = (
        f"{how.least(side.across)} - {less} = insert {how.size(x, side.along)}; "
        f"{k} x {how.show(side.along)}"
    )
    served = next(
        ((p, n) for p in on_hand if (n := _segments_from(p, x, side.along, g2))), None
    )
    insert = _joined(x, side.along, served[1] if served else 1, "insert", how)
    before: tuple[Piecing, ...] = _panels(side, k - k // 2)
    after: tuple[Piecing, ...] = _panels(side, k // 2, k - k // 2)
    if k == 1:
        left, right = _halves(side, how, 0)
        before = (left,)
        after = (right,)
    plan = _Plan(
        kind=f"{widths(k)} and an insert",
        parts=(*before, insert, *after),
        net=k * side.along,
        why=told,
        seams=len(before) + len(after),
        joins=served[1] - 1 if served else 0,
    )
    for way in _ways(side, how, plan, ""):
        held = (*way.from_hand, served[0].name) if served else way.from_hand
        yield replace(way, insert=(x, side.along), from_hand=held, fitted=True)


def _segments_from(piece: OnHand, x: Exact, along: Exact, g2: int) -> int:
    """How many segments of a piece on hand join to a strip x by `along`; 0 where they do not, or have to stand up."""
    best = 0
    for width, length in (
        ()
        if piece.stands
        else ((piece.width, piece.length), (piece.length, piece.width))
    ):
        across = how_often(width, x)
        if not across or length <= g2:
            continue
        n = joined_count(along, length, g2)
        if n <= min(across, MOST_SEGMENTS) and (not best or n < best):
            best = n
    return best


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """What is bought of a way and how it is sewn: `parts` stand from left to right, `why` is the sum of `net`."""

    kind: str
    parts: tuple[Piecing, ...]
    net: Exact
    why: str
    seams: int
    joins: int = 0


def _ways(side: _Side, how: Conventions, plan: _Plan, tight: str) -> Iterable[Way]:
    """The way with its purchase, with the panels on hand where there are some.

    Where the length that is bought leaves next to nothing, the same also with the next step of the sale.
    """
    way = _way(side, how, plan, tight, exact(0))
    yield way
    if way.tight and way.tight != tight:
        yield _way(side, how, plan, tight, exact(how.tight))


def _way(side: _Side, how: Conventions, plan: _Plan, tight: str, more: Exact) -> Way:
    purchase = to_buy(
        plan.net + more, how, side.shrink, side.shop.sold_by, side.shop.smallest
    )
    left = purchase.left + more
    row = row_of(
        (*panels_of(side.hand, _height(plan, how)), *plan.parts), False, how.back_seam
    )
    kind = f"{listed(side.hand)} and {plan.kind}" if side.hand else plan.kind
    why = f"{side.before}{plan.why} = {purchase.why}"
    if more:
        why = f"{side.before}{plan.why} = {how.show(plan.net)}, and {how.show(more)} to spare: {purchase.why}"
    words = (tight, scarce(left, "along", how))
    return Way(
        fabric=side.shop.fabric,
        kind=kind,
        run=side.run,
        sewn=row if side.run == "up" else turned(row),
        net=plan.net,
        bought=purchase.bought,
        money=cost_of(side.shop, purchase.bought, how.unit),
        seams=plan.seams + len(side.hand),
        joins=plan.joins,
        spare_across=size_of(row)[0] - _whole(side, how),
        spare_along=left,
        tight=", ".join(word for word in words if word),
        why=why,
        from_hand=tuple(held.name for held in side.hand),
        offered=side.shop,
    )


def _height(plan: _Plan, how: Conventions) -> Exact:
    return ceil_to(size_of(plan.parts[0])[1], mark_of(how))


def _whole(side: _Side, how: Conventions) -> Exact:
    """What is to be reached across, with what is on hand."""
    return side.across + sum(held.width - 2 * how.back_seam for held in side.hand)


def _by_piece(
    need: Needed,
    offered: ByPiece,
    fabric: Fabric,
    runs: tuple[Run, ...],
    how: Conventions,
) -> Iterable[Way]:
    """Sheets and other goods by the piece, side by side and one above the other."""
    width = exact(there(shrunk(offered.each_width, fabric.shrink_across), how))
    length = exact(there(shrunk(offered.each_length, fabric.shrink_along), how))
    g2 = 2 * how.back_seam
    for run in runs:
        w, h = (width, length) if run == "up" else (length, width)
        p = joined_count(need.width, w, g2)
        q = joined_count(need.length, h, g2)
        if p * q > MOST_WIDTHS or (offered.most is not None and p * q > offered.most):
            continue
        spare = p * w - g2 * (p - 1) - need.width, q * h - g2 * (q - 1) - need.length
        tight = ", ".join(
            t
            for t in (scarce(spare[0], "across", how), scarce(spare[1], "along", how))
            if t
        )
        price = cost_of(offered, 0, how.unit)
        kind = "one piece" if p * q == 1 else f"{p * q} pieces, {p} x {q}"
        reach = how.size(need.width + spare[0], need.length + spare[1])
        column = row_of(
            (Part(width=w, height=h, what="piece"),) * q, True, how.back_seam
        )
        yield Way(
            fabric=offered.fabric,
            kind=kind,
            run=run,
            sewn=row_of((column,) * p, False, how.back_seam),
            net=exact(0),
            bought=0,
            money=None if price is None else price * (p * q),
            seams=(p - 1) * q + q - 1,
            joins=0,
            spare_across=spare[0],
            spare_along=spare[1],
            tight=tight,
            why=f"{p} across x {q} down of {how.size(w, h)} reach {reach}",
            pieces=p * q,
            offered=offered,
            tiles=(p, q),
        )
