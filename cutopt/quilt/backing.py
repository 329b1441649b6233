"""Backing to buy: every sensible way to piece a size from what a shop sells, compared. Arithmetic, no search.

A width of the fabric U, less 2g for every seam: k panels side by side cover kU - 2g(k - 1). "Up" means that the
panels stand, selvages along the length of the quilt, with seams up and down; "across" that they lie.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from cutopt.fabric import ByLength, ByPiece, Fabric, Offered
from cutopt.job import cost_of
from cutopt.quilt.buying import shrunk, to_buy
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.exact import Exact, exact, how_often
from cutopt.quilt.onhand import all_on_hand, listed, panels_of, scarce, side_by_side
from cutopt.quilt.parts import joined_count
from cutopt.quilt.top import Needed
from cutopt.quilt.way import OnHand, Panel, Run, Way, thrift, without_worse_twins

MOST_WIDTHS = 6
MOST_SEGMENTS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """One direction of one fabric: `across` to be covered by widths of `usable`, each `along` in length."""

    shop: ByLength
    shrink: Fraction
    usable: Exact
    run: Run
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
    """
    known = {fabric.name: fabric for fabric in fabrics}
    found: list[Way] = [*all_on_hand(need, on_hand, how)]
    for offered in shop:
        fabric = known.get(offered.fabric, Fabric(name=offered.fabric))
        runs = _runs(fabric, upright, how)
        if isinstance(offered, ByPiece):
            found += _by_piece(need, offered, fabric, runs, how)
            continue
        usable = shrunk(offered.usable_width, fabric.shrink_across)
        for run in runs:
            across, along = (need.width, need.length) if run == "up" else (need.length, need.width)
            side = _Side(shop=offered, shrink=fabric.shrink_along, usable=usable, run=run, across=across, along=along)
            found += _from_bolt(side, how, on_hand)
    return tuple(sorted(without_worse_twins(found), key=thrift))


def _runs(fabric: Fabric, upright: bool, how: Conventions) -> tuple[Run, ...]:
    """In which directions the panels may lie."""
    runs: tuple[Run, ...] = ("up", "across")
    if upright and fabric.one_way:
        runs = ("up",) if fabric.one_way == "along" else ("across",)
    return tuple(run for run in runs if how.back_run in ("any", run))


def _from_bolt(side: _Side, how: Conventions, on_hand: Sequence[OnHand]) -> Iterable[Way]:
    yield from _whole_widths(side, how)
    yield from _with_strip(side, how, on_hand)
    if how.back_insert == "allowed":
        yield from _with_insert(side, how, on_hand)
    for hand in _panels_on_hand(side, on_hand):
        rest = side.across - sum(held.width for held in hand) + 2 * how.back_seam * len(hand)
        if 0 < rest < side.across:
            mine = " - ".join(how.show(held.width) for held in hand)
            before = (
                f"{how.show(side.across)} - {mine} + {len(hand)} x {how.show(2 * how.back_seam)} = {how.show(rest)}; "
            )
            held = replace(side, across=rest, hand=hand, before=before)
            yield from _whole_widths(held, how)
            yield from _with_strip(held, how, ())


def _panels_on_hand(side: _Side, on_hand: Sequence[OnHand]) -> Iterable[tuple[OnHand, ...]]:
    """Each piece that is long enough, and the two, three, ... widest together."""
    for piece in on_hand:
        for width, length in piece.sides(side.run):
            if length >= side.along:
                yield (replace(piece, width=width, length=length),)
    together = side_by_side(on_hand, side.run, side.along)
    yield from (together[:k] for k in range(2, len(together) + 1))


def _whole_widths(side: _Side, how: Conventions) -> Iterable[Way]:
    """One width, or as few as reach; of an even number also with one split, so that no seam is in the middle."""
    g2 = 2 * how.back_seam
    k = joined_count(side.across, side.usable, g2)
    if k > MOST_WIDTHS:
        return
    panel = Panel(width=side.usable, length=side.along)
    reach = k * side.usable - g2 * (k - 1)
    told = f"{k} x {how.show(side.usable)}" + (f" - {k - 1} x {how.show(g2)}" if k > 1 else "")
    why = f"{told} = {how.show(reach)} for {how.show(side.across)}; {k} x {how.show(side.along)}"
    kind = "one width" if k == 1 else f"{k} widths"
    yield _way(side, how, kind, (panel,) * k, k * side.along, why, spare=reach - side.across)
    split = reach - g2
    if k % 2 == 0 and split >= side.across:
        half = Panel(width=side.usable / 2, length=side.along, what="half width")
        why = f"{told} - {how.show(g2)} = {how.show(split)} for {how.show(side.across)}; one width split in halves"
        panels = (half, *(panel,) * (k - 1), half)
        yield _way(
            side, how, f"{k} widths, no seam in the middle", panels, k * side.along, why,
            spare=split - side.across,
        )  # fmt: skip


def _with_strip(side: _Side, how: Conventions, on_hand: Sequence[OnHand]) -> Iterable[Way]:
    """One width less, and a narrow strip beside it: pieced across the fabric, rejoined from a shorter length, or
    from what is on hand."""
    g2, s2 = 2 * how.back_seam, 2 * how.seam
    k = joined_count(side.across, side.usable, g2) - 1
    if not 0 < k < MOST_WIDTHS:
        return
    x = exact(how.cut_size(side.across - k * side.usable + g2 * k))
    panel = Panel(width=side.usable, length=side.along)
    told = f"{how.show(side.across)} - {k} x {how.show(side.usable)} + {k} x {how.show(g2)} = strip {how.show(x)}"
    whole, full = k * side.along, (k + 1) * side.along
    spare = k * side.usable + x - g2 * k - side.across
    m = joined_count(side.along, side.usable, s2)
    if whole + m * x < full:
        strip = Panel(width=x, length=side.along, what="narrow strip", segments=m)
        why = f"{told}; {k} x {how.show(side.along)} + {m} strip{'s' * (m > 1)} x {how.show(x)}"
        yield _way(side, how, f"{_widths(k)} and a narrow strip", (*(panel,) * k, strip), whole + m * x, why,
                   spare=spare, joins=m - 1, cut_to_fit=True)  # fmt: skip
    for i, n in _both_ways(side, x):
        off = exact(how.cut_size((side.along + s2 * (i + n - 1) - i * side.usable) / n))
        if i and off < x:
            continue  # bits shorter than they are wide are patchwork, no strip
        strip = Panel(width=x, length=side.along, what="rejoined strip", segments=i + n)
        first = f"{i} strip{'s' * (i > 1)} across x {how.show(x)} + " if i else ""
        why = f"{told}; {k} x {how.show(side.along)} + {first}{how.show(off)} cut lengthwise in {n} and rejoined"
        kind = f"{_widths(k)} and a strip rejoined of {i + n}" + (", cut both ways" if i else "")
        yield _way(side, how, kind, (*(panel,) * k, strip), whole + i * x + off, why,
                   spare=spare, joins=i + n - 1, cut_to_fit=True)  # fmt: skip
    for piece in on_hand:
        n = _segments_from(piece, x, side.along, s2)
        if n > 1:  # one that needs no join serves whole, as a panel
            strip = Panel(width=x, length=side.along, what=f"strip from {piece.name}", segments=n)
            why = f"{told} from {piece.name}; {k} x {how.show(side.along)}"
            way = _way(side, how, f"{_widths(k)} and a strip from {piece.name}", (*(panel,) * k, strip), whole, why,
                       spare=spare, joins=n - 1, cut_to_fit=True)  # fmt: skip
            yield replace(way, from_hand=(*way.from_hand, piece.name))


def _both_ways(side: _Side, x: Exact) -> Iterable[tuple[int, int]]:
    """How a strip may be rejoined: so many segments as long as the fabric is wide, and so many of a cut-off length."""
    most = min(how_often(side.usable, x), MOST_SEGMENTS)
    for i in range(how_often(side.along, side.usable) + 1):
        for n in range(2 if i == 0 else 1, most + 1):
            if i + n <= MOST_SEGMENTS + 1:
                yield i, n


def _with_insert(side: _Side, how: Conventions, on_hand: Sequence[OnHand]) -> Iterable[Way]:
    """One width less, and an insert of other cloth or spare blocks between panels (one panel: split in two)."""
    g2, s2 = 2 * how.back_seam, 2 * how.seam
    k = joined_count(side.across, side.usable, g2) - 1
    if not 0 < k < MOST_WIDTHS:
        return
    seams = max(2, k)
    x = exact(how.cut_size(side.across - k * side.usable + g2 * seams))
    whole = Panel(width=side.usable, length=side.along)
    half = Panel(width=side.usable / 2, length=side.along, what="half width")
    before = (half,) if k == 1 else (whole,) * (k - k // 2)
    after = (half,) if k == 1 else (whole,) * (k // 2)
    told = (
        f"{how.show(side.across)} - {k} x {how.show(side.usable)} + {seams} x {how.show(g2)} = insert "
        f"{how.size(x, side.along)}; {k} x {how.show(side.along)}"
    )
    insert = Panel(width=x, length=side.along, what="insert")
    kind = f"{_widths(k)} and an insert"
    spare = k * side.usable + x - g2 * seams - side.across
    way = _way(side, how, kind, (*before, insert, *after), k * side.along, told, spare=spare, cut_to_fit=True)
    served = next(((p, n) for p in on_hand if (n := _segments_from(p, x, side.along, s2))), None)
    if served:
        way = replace(way, from_hand=(*way.from_hand, served[0].name), joins=served[1] - 1)
    yield replace(way, insert=(x, side.along))


def _segments_from(piece: OnHand, x: Exact, along: Exact, s2: int) -> int:
    """How many segments of a piece on hand join to a strip x by `along`; 0 where they do not, or have to stand up."""
    best = 0
    for width, length in () if piece.stands else ((piece.width, piece.length), (piece.length, piece.width)):
        across = how_often(width, x)
        if not across or length <= s2:
            continue
        n = joined_count(along, length, s2)
        if n <= min(across, MOST_SEGMENTS) and (not best or n < best):
            best = n
    return best


def _widths(k: int) -> str:
    return "one width" if k == 1 else f"{k} widths"


def _way(
    side: _Side, how: Conventions, kind: str, panels: tuple[Panel, ...], net: Exact, why: str, *, spare: Exact,
    joins: int = 0, cut_to_fit: bool = False,
) -> Way:  # fmt: skip
    """The way with its purchase, and with the panel on hand where there is one."""
    if side.hand:
        panels, kind = (*panels_of(side.hand, side.along), *panels), f"{listed(side.hand)} and {kind}"
    purchase = to_buy(net, how, side.shrink, side.shop.sold_by, side.shop.smallest)
    tight = [] if cut_to_fit else [scarce(spare, "across", how)]
    tight.append(scarce(purchase.left, "along", how))
    return Way(
        fabric=side.shop.fabric, kind=kind, run=side.run, panels=panels, net=net, bought=purchase.bought,
        money=cost_of(side.shop, purchase.bought, how.unit), seams=len(panels) - 1, joins=joins,
        spare_across=spare, spare_along=purchase.left, tight=", ".join(word for word in tight if word),
        why=f"{side.before}{why} = {purchase.why}", from_hand=tuple(held.name for held in side.hand), offered=side.shop,
    )  # fmt: skip


def _by_piece(need: Needed, offered: ByPiece, fabric: Fabric, runs: tuple[Run, ...], how: Conventions) -> Iterable[Way]:
    """Sheets and other goods by the piece, side by side and one above the other."""
    width, length = (
        shrunk(offered.each_width, fabric.shrink_across),
        shrunk(offered.each_length, fabric.shrink_along),
    )
    g2 = 2 * how.back_seam
    for run in runs:
        w, h = (width, length) if run == "up" else (length, width)
        p, q = joined_count(need.width, w, g2), joined_count(need.length, h, g2)
        if p * q > MOST_WIDTHS or (offered.most is not None and p * q > offered.most):
            continue
        spare = p * w - g2 * (p - 1) - need.width, q * h - g2 * (q - 1) - need.length
        tight = ", ".join(t for t in (scarce(spare[0], "across", how), scarce(spare[1], "along", how)) if t)
        price = cost_of(offered, 0, how.unit)
        kind = "one piece" if p * q == 1 else f"{p * q} pieces, {p} x {q}"
        reach = how.size(need.width + spare[0], need.length + spare[1])
        why = f"{p} across x {q} down of {how.size(w, h)} reach {reach}"
        yield Way(
            fabric=offered.fabric, kind=kind, run=run, panels=(Panel(width=w, length=h, what="piece"),) * (p * q),
            net=exact(0), bought=0, money=None if price is None else price * (p * q), seams=(p - 1) * q + q - 1,
            joins=0, spare_across=spare[0], spare_along=spare[1], tight=tight, why=why, pieces=p * q,
            offered=offered, tiles=(p, q),
        )  # fmt: skip
