"""How a careful hand pieces a back: column by column from the pile, and what is still missing from new cloth.

One column after the other is sewn from pieces that reach its width, those first of which the least is trimmed off;
what it lacks, and the columns for which there is no piece, are cut from one length of the shop, in rows across the
cloth. Columns run up or across the back, and their width is that of the largest piece, its length, or the width at
which least is trimmed: the best of these six. Beside it what a back costs of which nothing is from the pile. Common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from itertools import product
from typing import Final, Literal, TypeAlias

from cutopt.answers.rectangles_inside import rectangles_inside
from cutopt.cloth import cloth_of_piece
from cutopt.fabric import ByLength
from cutopt.job import Job, cost_of
from cutopt.piecing import Back
from cutopt.quilt.backs.make_up import ClothLength, make_ups

Size: TypeAlias = tuple[int, int]
Rule: TypeAlias = Literal["widest", "longest", "least trimmed"]
RULES: Final[tuple[Rule, ...]] = ("widest", "longest", "least trimmed")
# rectangles of new cloth that are each tried both ways round
_TURNED: Final = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part as it is cut and as it hangs, ticks; `piece` is "" where it is of new cloth."""

    width: int
    length: int
    piece: str = ""

    @property
    def turned(self) -> Part:
        """The same hanging the other way."""
        return Part(width=self.length, length=self.width, piece=self.piece)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Parts or rows sewn together: side by side, or each on the one before where `down`."""

    down: bool
    parts: tuple[Part | Row, ...]

    @property
    def turned(self) -> Row:
        """The same hanging the other way."""
        return Row(down=not self.down, parts=tuple(part.turned for part in self.parts))

    @property
    def leaves(self) -> Iterator[Part]:
        """All parts."""
        for part in self.parts:
            if isinstance(part, Part):
                yield part
            else:
                yield from part.leaves


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """Where a part of new cloth lies on the length: across, along from its squared end, and its sides; ticks."""

    x: int
    y: int
    across: int
    along: int


@dataclass(frozen=True, slots=True, kw_only=True)
class HandBack:
    """A back as a hand makes it: what it buys, how it is sewn, where its new parts lie on the cloth."""

    money: Decimal
    bought: int
    sewn: Row
    placed: tuple[Placed, ...]

    @property
    def parts(self) -> int:
        """How many parts; there is one seam less."""
        return sum(1 for _ in self.sewn.leaves)

    @property
    def seams(self) -> int:
        """How many seams."""
        return self.parts - 1


@dataclass(slots=True, kw_only=True)
class _Hand:
    """A hand at work: all sizes as they show in the back, seams taken off."""

    job: Job
    back: Back
    shop: ByLength
    pieces: dict[str, Size] = field(default_factory=dict)

    @property
    def lost(self) -> int:
        return 2 * self.back.rules.seam

    @property
    def least(self) -> int:
        return self.back.rules.smallest_part

    @property
    def reach(self) -> int:
        """How far a part of new cloth goes across it."""
        return self.shop.usable_width - self.lost

    def cut(self, width: int, length: int, piece: str = "") -> Part:
        return Part(width=width + self.lost, length=length + self.lost, piece=piece)


def by_hand(job: Job) -> HandBack:
    """The cheapest of six, with the fewest seams."""
    hand = _hand(job)
    hand.pieces = dict(_rectangles(hand))
    found = []
    for rule, across in product(RULES, (False, True)):
        pile = replace(hand, pieces=dict(hand.pieces))
        found.append(_column_by_column(pile, rule, across=across))
    return min(found, key=lambda made: (made.money, made.parts))


def whole_bought(job: Job) -> tuple[Decimal, int]:
    """What the cheapest back of new cloth alone costs, and its seams: panels, and a strip of lanes beside them."""
    hand = _hand(job)
    smallest = hand.least + hand.lost
    cloth = ClothLength(
        usable=hand.shop.usable_width,
        seam=hand.back.rules.seam,
        smallest=smallest,
        shortest=smallest,
        mark=job.settings.grid,
        grid=job.settings.grid,
        spare=0,
    )
    sizes = (hand.back.width, hand.back.length)
    ways = [*make_ups(*sizes, cloth), *make_ups(*reversed(sizes), cloth)]
    costs = [(_bought(hand, way.length)[0], way.seams + way.joins) for way in ways]
    return min(costs)


def _hand(job: Job) -> _Hand:
    (back,) = job.backs
    (shop,) = (offered for offered in job.shop if isinstance(offered, ByLength))
    return _Hand(job=job, back=back, shop=shop)


def _rectangles(hand: _Hand) -> Iterator[tuple[str, Size]]:
    """The largest rectangle of each piece that is large enough for a part."""
    for piece in hand.job.pieces:
        cloth = cloth_of_piece(piece, hand.job.settings)
        sizes: Sequence[Size] = [piece.size]
        if not piece.is_rectangle or piece.flaws or any(cloth.margins):
            sizes = rectangles_inside(piece, hand.job.settings)
        for width, length in sizes[:1]:
            shown = (width - hand.lost, length - hand.lost)
            if min(shown) >= hand.least:
                yield piece.name, shown


def _column_by_column(hand: _Hand, rule: Rule, *, across: bool) -> HandBack:
    width, length = hand.back.width - hand.lost, hand.back.length - hand.lost
    if across:
        width, length = length, width
    columns: list[list[Part | Size]] = []
    left = width
    while left:
        wide = _width(hand, rule, left, length)
        column = _column(hand, wide, length)
        columns.append(column)
        left -= wide
    sewn, placed, taken = _new_cloth(hand, columns)
    money, bought = _bought(hand, taken)
    return HandBack(
        money=money,
        bought=bought,
        sewn=sewn.turned if across else sewn,
        placed=placed,
    )


def _width(hand: _Hand, rule: Rule, left: int, length: int) -> int:
    """How wide the next column is."""
    if not hand.pieces:
        return left
    largest = max(hand.pieces.values(), key=lambda size: size[0] * size[1])
    if rule == "widest":
        wide = min(largest)
    elif rule == "longest":
        wide = max(largest)
    else:
        sides = {side for size in hand.pieces.values() for side in size}
        wide = min(sides, key=lambda side: (_trimmed(hand, side, length), -side))
    wide = min(wide, left)
    if 0 < left - wide < hand.least:
        wide = left - hand.least
    if wide < hand.least:
        return left
    return wide


def _trimmed(hand: _Hand, wide: int, length: int) -> float:
    """The share of a column so wide that is trimmed off its pieces, or has to be bought."""
    kept = dict(hand.pieces)
    column = _column(hand, wide, length)
    used = [part.piece for part in column if isinstance(part, Part)]
    cloth = sum(kept[piece][0] * kept[piece][1] for piece in used)
    new = sum(part[1] for part in column if not isinstance(part, Part))
    hand.pieces = kept
    return (cloth - wide * (length - new) + wide * new) / (wide * length)


def _column(hand: _Hand, wide: int, length: int) -> list[Part | Size]:
    """Parts from the foot up, taken from the pile; the size of what is missing comes last."""
    found: list[Part | Size] = []
    left = length
    while left:
        choices = [
            (max(0, high - left) * wide + (side - wide) * high, high, name)
            for name, size in hand.pieces.items()
            for side, high in (size, size[::-1])
            if side >= wide and _high(hand, high, left)
        ]
        if not choices:
            return [*found, (wide, left)]
        _, high, name = min(choices)
        high = _high(hand, high, left)
        del hand.pieces[name]
        found.append(hand.cut(wide, high, name))
        left -= high
    return found


def _high(hand: _Hand, high: int, left: int) -> int:
    """How much of a piece goes into what is left of a column: what then is left is nothing, or a part."""
    high = min(high, left)
    if 0 < left - high < hand.least:
        high = left - hand.least
    return high if high >= hand.least else 0


def _new_cloth(
    hand: _Hand, columns: Sequence[Sequence[Part | Size]]
) -> tuple[Row, tuple[Placed, ...], int]:
    """The columns with their missing parts cut from one length; how much of it they take."""
    missing = [
        part for column in columns for part in column if not isinstance(part, Part)
    ]
    ways = list(product((False, True), repeat=min(len(missing), _TURNED)))
    best: tuple[int, list[Row], list[Placed]] | None = None
    for way in ways:
        # beyond the first few all as the last of them
        turns = [*way, *[way[-1] if way else False] * (len(missing) - len(way))]
        rows = [
            _segments(hand, size, turn)
            for size, turn in zip(missing, turns, strict=True)
        ]
        sides = [
            (part.length, part.width) if turn else (part.width, part.length)
            for row, turn in zip(rows, turns, strict=True)
            for part in row.leaves
        ]
        placed, taken = _shelves(sides, hand.shop.usable_width)
        if best is None or taken < best[0]:
            best = (taken, rows, placed)
    assert best is not None
    taken, rows, placed = best
    new = iter(rows)
    sewn = [
        Row(
            down=True,
            parts=tuple(
                part if isinstance(part, Part) else next(new) for part in column
            ),
        )
        for column in columns
    ]
    return Row(down=False, parts=tuple(sewn)), tuple(placed), taken


def _segments(hand: _Hand, size: Size, turn: bool) -> Row:
    """A rectangle of new cloth joined from as few parts as reach: its width lies across the cloth unless turned."""
    side = size[1] if turn else size[0]
    count = -(-side // hand.reach)
    grid = hand.job.settings.grid
    ends = [side * k // (count * grid) * grid for k in range(count)]
    lengths = [b - a for a, b in zip(ends, [*ends[1:], side], strict=True)]
    if turn:
        parts = tuple(hand.cut(size[0], long) for long in lengths)
    else:
        parts = tuple(hand.cut(long, size[1]) for long in lengths)
    return Row(down=turn, parts=parts)


def _shelves(sides: Sequence[Size], usable: int) -> tuple[list[Placed], int]:
    """Parts (across, along) in rows across the cloth, the longest first, each in the first row with room."""
    order = sorted(range(len(sides)), key=lambda k: (-sides[k][1], -sides[k][0]))
    placed: list[Placed] = []
    rows: list[Size] = []
    taken = 0
    for k in order:
        across, along = sides[k]
        row = next((n for n, (x, _) in enumerate(rows) if x + across <= usable), -1)
        if row < 0:
            rows.append((0, taken))
            taken += along
            row = len(rows) - 1
        x, y = rows[row]
        placed.append(Placed(x=x, y=y, across=across, along=along))
        rows[row] = (x + across, y)
    return placed, taken


def _bought(hand: _Hand, taken: int) -> tuple[Decimal, int]:
    """What a length costs of which so much is needed, and how long it is sold."""
    shop = hand.shop
    if not taken:
        return Decimal(0), 0
    long = max(taken + 2 * hand.job.settings.square_up_end, shop.smallest)
    bought = -(-long // shop.sold_by) * shop.sold_by
    money = cost_of(shop, bought, hand.job.settings.unit)
    assert money is not None
    return money, bought
