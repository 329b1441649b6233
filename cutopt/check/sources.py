"""The cloth that a plan takes: is it there, may it be used, does the shop sell it so and at that price?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from cutopt.check.shapes import Line, Shape, bits_of, sides
from cutopt.fabric import ByLength, ByPiece, Offered, Outline, Piece
from cutopt.job import Job, cost_of
from cutopt.lengths import format_length, format_sale
from cutopt.plan import Plan, Source


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenCloth:
    """A source on the table: its shape, flaws, and the `lost` ticks at each side of its outline."""

    fabric: str
    shape: Shape
    flaws: tuple[Shape, ...] = ()
    lost: tuple[tuple[Line, int], ...] = ()
    grain_known: bool = True


def offer_of(job: Job, source: Source) -> Offered | None:
    """The row of the shop that a purchase is from: of those that sell so, the width (by the piece: the size) decides.

    Where several rows have it, the one that the length (whole steps) and the price fit.
    """
    fit: list[tuple[bool, bool, int, Offered]] = []
    for i, row in enumerate(job.shop):
        wrong_price = cost_of(row, source.length, job.settings.unit) != source.price
        if row.fabric != source.bought or isinstance(row, ByPiece) != source.by_piece:
            continue
        if isinstance(row, ByPiece):
            if (row.each_width, row.each_length) == (source.width, source.length):
                fit.append((False, wrong_price, i, row))
        elif row.usable_width == source.width:
            fit.append((source.length % row.sold_by != 0, wrong_price, i, row))
    if fit:
        return min(fit)[3]
    return None


def cloth_of(job: Job, source: Source) -> TakenCloth | None:
    """The cloth of a source; None where the job has none such (a fault says so)."""
    if source.bought:
        return _bought(job, source)
    pieces = [piece for piece in job.pieces if piece.name == source.piece]
    if pieces:
        return _from_pile(job, pieces[0])
    return None


def _from_pile(job: Job, piece: Piece) -> TakenCloth:
    outline, flaws = _after_wash(job, piece)
    slack = outline != piece.outline
    return TakenCloth(
        fabric=piece.fabric,
        shape=bits_of(outline),
        flaws=tuple(bits_of(flaw) for flaw in flaws),
        lost=tuple(
            (new, _lost_at(job, piece, old) + 2 * (slack and _slants(old)))
            for old, new in zip(sides(piece.outline), sides(outline), strict=True)
        ),
        grain_known=piece.grain_known,
    )


def _after_wash(job: Job, piece: Piece) -> tuple[Outline, tuple[Outline, ...]]:
    """The outline and the flaws of a piece as it is cut: where all is washed first and it is not, as the wash leaves it.

    Sides along the frame are rounded to the tick that the cloth reaches, other corners down; of what sides that slant
    may gain by that, less than two ticks, nothing may be used. A flaw becomes the rectangle round it.
    """
    fabric = job.fabric(piece.fabric)
    losses = [fabric.shrink_across, fabric.shrink_along]
    if job.settings.prewash != "all" or not any(losses):
        return piece.outline, piece.flaws
    if piece.washed == "washed" or (fabric.washed and piece.washed != "unwashed"):
        return piece.outline, piece.flaws
    if not piece.grain_known:
        losses = [max(losses)] * 2
    left, long = (1 - loss for loss in losses)
    xs = [x * left // 1 for x, _ in piece.outline]
    ys = [y * long // 1 for _, y in piece.outline]
    for at, ((x1, y1), (x2, y2)) in enumerate(sides(piece.outline)):
        after = (at + 1) % len(xs)
        if x1 == x2 and y2 < y1:
            xs[at] = xs[after] = -(-x1 * left // 1)
        if y1 == y2 and x2 > x1:
            ys[at] = ys[after] = -(-y1 * long // 1)
    outline = tuple(zip(map(int, xs), map(int, ys), strict=True))
    boxes = (_box_after_wash(flaw, left, long, outline) for flaw in piece.flaws)
    return outline, tuple(boxes)


def _box_after_wash(
    flaw: Outline, left: Fraction, long: Fraction, outline: Outline
) -> Outline:
    xs = [x for x, _ in flaw]
    ys = [y for _, y in flaw]
    x1, y1 = int(min(xs) * left // 1), int(min(ys) * long // 1)
    x2, y2 = int(-(-max(xs) * left // 1)), int(-(-max(ys) * long // 1))
    x2 = min(x2, max(x for x, _ in outline))
    y2 = min(y2, max(y for _, y in outline))
    return (x1, y1), (x2, y1), (x2, y2), (x1, y2)


def _slants(side: Line) -> bool:
    (x1, y1), (x2, y2) = side
    return x1 != x2 and y1 != y2


def _lost_at(job: Job, piece: Piece, side: Line) -> int:
    """What is squared up at a side: all round where it is raw, at the two ends of a length from the bolt."""
    settings = job.settings
    lost = settings.about if piece.about else 0
    (_, y1), (_, y2) = side
    if piece.edges == "raw" or (piece.edges == "raw ends" and y1 == y2):
        lost += settings.square_up if piece.edges == "raw" else settings.square_up_end
    if piece.edges == "pinked":
        lost += settings.pinked
    return lost


def _bought(job: Job, source: Source) -> TakenCloth | None:
    """Bought cloth after the wash, rounded down; a length from the bolt is squared up at its two ends.

    The extra that the maker buys with it is not for the plan: it lies beyond the far end, shrunk like the rest.
    """
    offer = offer_of(job, source)
    if offer is None or source.length <= 0:
        return None
    fabric = job.fabric(offer.fabric)
    width = source.width * (1 - fabric.shrink_across) // 1
    length = source.length * (1 - fabric.shrink_along) // 1
    start, _, end, _ = around = sides(
        ((0, 0), (width, 0), (width, length), (0, length))
    )
    off = job.settings.square_up_end
    kept = -(-job.settings.extra * (1 - fabric.shrink_along) // 1)
    return TakenCloth(
        fabric=fabric.name,
        shape=bits_of([corner for corner, _ in around]),
        lost=((start, off), (end, off + kept)) if isinstance(offer, ByLength) else (),
    )


def faults(job: Job, plan: Plan) -> Iterator[str]:
    """All that is wrong with what the plan takes from the pile and buys."""
    for source in plan.sources:
        if bool(source.piece) == bool(source.bought):
            yield f"{source.id} must be either a piece of the pile or bought."
        elif source.piece:
            yield from _pile_faults(job, source)
        else:
            yield from _purchase_faults(job, source)
    for (piece, copy), times in Counter(
        (s.piece, s.copy) for s in plan.sources if s.piece
    ).items():
        if times > 1:
            yield f"Copy {copy} of {piece} is taken {times} times."
    yield from _one_length_each(job, plan)
    yield from _too_many_pieces(job, plan)


def _pile_faults(job: Job, source: Source) -> Iterator[str]:
    piece = next((piece for piece in job.pieces if piece.name == source.piece), None)
    if piece is None:
        yield f"{source.id} is {source.piece}, which is not in the pile."
        return
    if not 1 <= source.copy <= piece.count:
        yield f"{source.id} is copy {source.copy} of {piece.name}, and the pile has {piece.count}."
    if piece.wish == "do not touch":
        yield f"{source.id} is {piece.name}, which is not to be touched."
    told = (source.by_piece, source.width, source.length, source.price)
    if told != (False, 0, 0, None):
        yield f"{source.id} is from the pile: its size and price are not the plan's to say."


def _purchase_faults(job: Job, source: Source) -> Iterator[str]:
    unit = job.settings.unit
    offer = offer_of(job, source)
    if offer is None:
        width = format_length(source.width, unit, mark=True)
        yield f"{source.id} is {source.bought} {width} wide, which the shop does not sell so."
        return
    if isinstance(offer, ByLength):
        yield from _length_faults(source, offer, unit)
    cost = cost_of(offer, source.length, unit)
    if source.price != cost:
        yield f"{source.id} costs {_money(cost)}, and the plan says {_money(source.price)}."


def _length_faults(source: Source, offer: ByLength, unit: str) -> Iterator[str]:
    length = f"{source.id} is {format_sale(source.length, unit)} of {source.bought}"
    if source.length <= 0:
        yield f"{length}, which is nothing."
    if source.length % offer.sold_by:
        yield f"{length}, which is sold by {format_sale(offer.sold_by, unit)}."
    if source.length < offer.smallest:
        yield f"{length}; the smallest sale is {format_sale(offer.smallest, unit)}."
    if offer.most is not None and source.length > offer.most:
        yield f"{length}; the shop has at most {format_sale(offer.most, unit)}."


def _one_length_each(job: Job, plan: Plan) -> Iterator[str]:
    lengths = (s.bought for s in plan.sources if isinstance(offer_of(job, s), ByLength))
    for fabric, times in Counter(lengths).items():
        if times > 1:
            yield f"{fabric} is bought in {times} lengths; buy one."


def _too_many_pieces(job: Job, plan: Plan) -> Iterator[str]:
    """Rows of the shop that are alike sell together."""
    taken = Counter(
        (s.bought, s.width, s.length, s.price)
        for s in plan.sources
        if s.bought and s.by_piece
    )
    unit = job.settings.unit
    for (fabric, width, length, price), times in taken.items():
        kind = (fabric, width, length, price)
        most = [
            row.most
            for row in job.shop
            if isinstance(row, ByPiece)
            and (row.fabric, row.each_width, row.each_length, cost_of(row, 0, unit))
            == kind
        ]
        there = sum(count for count in most if count is not None)
        if most and None not in most and times > there:
            yield f"{times} pieces of {fabric} are bought; the shop has {there} of that size."


def _money(price: Decimal | None) -> str:
    if price is None:
        return "no price"
    return f"{price:.2f}"


def lengths_and_pieces(plan: Plan) -> tuple[Counter[str], Counter[str]]:
    """How much is bought of each fabric: ticks by length, and a number by the piece."""
    lengths: Counter[str] = Counter()
    pieces: Counter[str] = Counter()
    for source in plan.sources:
        if source.bought and source.by_piece:
            pieces[source.bought] += 1
        elif source.bought:
            lengths[source.bought] += source.length
    return lengths, pieces
