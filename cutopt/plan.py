"""A plan as the maker follows it: numbered cuts, what each part is for, what is spare, bought, joined, short.

These values mirror ``plan.json`` field by field (format ``cutopt-plan/1``). All lengths are ticks.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Final, Literal, TypeAlias

from cutopt.job import Job
from cutopt.piecing import Back, name_of
from cutopt.shown import Shown
from cutopt.wanted import Cut, Wanted

FORMAT = "cutopt-plan/1"
Side: TypeAlias = Literal["left", "right", "below", "above"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Cloth that a plan cuts: copy `copy` of a piece of the pile, or a bought length or piece.

    `bought` names the fabric of cloth that is bought, and `by_piece` tells a piece as the shop has it from a length.
    `width` and `length` are those of the cloth as sold for bought cloth (before the wash and the square-up), and
    0 for pieces of the pile. `price` is what this purchase costs, None where the shop gives no price. The frame of
    the source is the frame of the piece's outline; for bought cloth the rectangle from (0, 0) that is left after
    shrinking, square-up not yet taken. Of pieces that are bought, `copy` counts those of one row of the shop.
    """

    id: str
    piece: str = ""
    copy: int = 1
    bought: str = ""
    by_piece: bool = False
    width: int = 0
    length: int = 0
    price: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CutStep:
    """One cut, edge to edge through one connected part: at x = `x`, at y = `y`, or along `line`.

    `gives` names the parts that result: those left of (below) the line first, each side ordered along the line
    by the lowest point in which a part meets it. A straightening cut has `line`; the parts left of the way from
    its first to its second point come first.
    """

    n: int
    part: str
    gives: tuple[str, ...]
    x: int | None = None
    y: int | None = None
    line: tuple[tuple[int, int], tuple[int, int]] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """A finished part and the wanted row it serves; `turned` when the row's width runs along the selvage."""

    part: str
    for_: str
    turned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Spare:
    """A part that nothing is cut from; `keep` when it is worth folding up and putting back."""

    part: str
    keep: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """Segments sewn end to end to one strip; `length` is what results, the wanted length or more."""

    for_: str
    segments: tuple[str, ...]
    join: str
    length: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """One seam of a pieced back, in the order of sewing.

    `a` and `b` are each the name of a part, what an earlier seam gives, or a spare block ("blocks/star/3"); `b` is
    sewn to the `side` of `a`, as the back hangs. `seam` is the allowance of either, ticks.
    """

    n: int
    back: str
    a: str
    b: str
    side: Side
    seam: int
    gives: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Trim:
    """A spare block that goes into a back, `width` across it and `length` up as it is sewn in.

    `block` is its kind and number ("blocks/star/3"); blocks are not `turned`.
    """

    block: str
    width: int
    length: int
    turned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Short:
    """What of a wanted row the plan does not give: `count` of it, why, and what would mend it."""

    for_: str
    count: int
    why: str = ""
    mends: tuple[str, ...] = ()


# names of levels that are sums of a plan
SHORT_LEVEL: Final = "short of what must be cut"
LEFT_OUT_LEVEL: Final = "wished for but left out"
# which nobody tries to prove
CUTS_LEVEL: Final = "cuts"
# money where every fabric has a price, else the length that is bought, by the unit of the job
MONEY_LEVEL: Final = "money"
LENGTH_LEVELS: Final = {unit: f"length bought ({unit})" for unit in ("in", "cm")}
BUYING_LEVELS: Final = (MONEY_LEVEL, *LENGTH_LEVELS.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """One level of what makes a plan good: its value, a bound that no plan betters, and whether it is proved."""

    name: str
    value: str
    bound: str
    proved: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """What is bought of one fabric in one of the two ways in which shops sell.

    Parameters
    ----------
    fabric : str
    amount : int
        Ticks of its length; where it is sold by the piece, how many pieces.
    by_piece : bool
    """

    fabric: str
    amount: int
    by_piece: bool = False


def bought_in(sources: Iterable[Source]) -> tuple[Bought, ...]:
    """All that is bought among sources, as :func:`bought_of` puts it in order."""
    sums: Counter[tuple[str, bool]] = Counter()
    for source in sources:
        if source.bought:
            if source.by_piece:
                amount = 1
            else:
                amount = source.length
            sums[source.bought, source.by_piece] += amount
    return bought_of(sums)


def bought_of(amounts: Mapping[tuple[str, bool], int]) -> tuple[Bought, ...]:
    """Amounts by fabric and whether they are pieces: lengths first, then pieces, each in the order of names."""
    found = (
        Bought(fabric=fabric, amount=amount, by_piece=by_piece)
        for (fabric, by_piece), amount in amounts.items()
    )
    return tuple(sorted(found, key=lambda each: (each.by_piece, each.fabric)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Totals:
    """Sums over a plan; `bought` as :func:`bought_in` sums its sources up.

    `seams` are those of pieced backs, `joins` those within strips. `money` is None where a price is missing.
    `ruler_widths` counts the different distances from the low (left or lower) side of the part being cut to the cut,
    over all cuts parallel to an axis that leave on the low side a part that is used or cut again; a cut that leaves
    only spare cloth there needs no ruler width.
    """

    money: Decimal | None = None
    bought: tuple[Bought, ...] = ()
    cuts: int = 0
    ruler_widths: int = 0
    seams: int = 0
    joins: int = 0

    def length_of(self, fabric: str) -> int:
        """Ticks that are bought of a fabric by length."""
        lengths = (
            each.amount
            for each in self.bought
            if each.fabric == fabric and not each.by_piece
        )
        return sum(lengths)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan(Shown):
    """A whole plan for the job whose digest is `job`; `origin` is that job itself, for drawing and printing."""

    job: str
    sources: tuple[Source, ...] = ()
    cuts: tuple[CutStep, ...] = ()
    uses: tuple[Use, ...] = ()
    spare: tuple[Spare, ...] = ()
    joins: tuple[Join, ...] = ()
    seams: tuple[Seam, ...] = ()
    trims: tuple[Trim, ...] = ()
    short: tuple[Short, ...] = ()
    levels: tuple[Level, ...] = ()
    totals: Totals = Totals()
    origin: Job | None = field(default=None, compare=False, repr=False)

    @property
    def lacking(self) -> tuple[Short, ...]:
        """Of what is short, that which must be cut; all that is short where the plan does not carry its job."""
        job = self.origin
        return tuple(
            s
            for s in self.short
            if job is None or job.asked(s.for_).importance == "must"
        )

    def spares_of(self, short: Short) -> int:
        """How many of what a row is short of are only spares."""
        if self.origin is None:
            row: Wanted | Back | None = None
        else:
            row = self.origin.asked(short.for_)
        if isinstance(row, Cut):
            return min(short.count, row.spares)
        return 0

    def so_many_short(self, short: Short) -> str:
        """``2 of window (1 of them to spare)``."""
        # a back is but one
        if short.for_.partition("/")[0] == "backs":
            return name_of(short.for_)
        spares = self.spares_of(short)
        told = f"{short.count} of {name_of(short.for_)}"
        if not spares:
            return told
        if spares == short.count:
            which = "to spare"
        else:
            which = f"{spares} of them to spare"
        return f"{told} ({which})"
