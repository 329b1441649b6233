"""What a bound is computed on: the must parts and the cloth, rounded so that nothing that could be cut is lost.

All lengths are exact ticks of the job (not the steps of the search). Whatever can be cut on the table can be cut
here, so that no plan costs less than a bound found here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from math import gcd

from cutopt.cloth import Cloth, cloth_of_length
from cutopt.fabric import ByLength
from cutopt.geometry import area2, bounds, is_rectangle
from cutopt.lengths import INCH, up
from cutopt.solve.model.fabric_choices import (
    Demand,
    FabricChoice,
    FabricOption,
    demand_at,
)
from cutopt.solve.model.model import Item, Model, Sheet
from cutopt.solve.plates.plate_table import TURNED, UNTURNED
from cutopt.wanted import Cut

# ticks of strip length that are counted as one
LENGTH_UNIT = 64
WORTH_OF_SQUARE_INCH = 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """A row that must be cut: `demand` rectangles w x l, or units of strip length (`strip`).

    Sizes in ticks; `loss` is what a join costs, `cap` the most that one segment counts, in units of length.
    `weight` is the worth of its own area, per copy or unit of length.
    """

    item: int
    name: str
    w: int
    l: int
    demand: int
    strip: bool
    loss: int
    cap: int
    weight: int

    def counts(self, length: int) -> int:
        """Units of length that a segment of `length` ticks counts at most; 0 where it is too short."""
        if length >= self.l:
            return min(-(-(length - self.loss) // LENGTH_UNIT), self.cap)
        return 0

    @property
    def worth(self) -> int:
        """The worth of all that is wanted of it by area."""
        return self.weight * self.demand


@dataclass(frozen=True, slots=True, kw_only=True)
class RelaxedCloth:
    """Cloth that may be cut: `copies` pieces of w x l ticks (or of the part of it that `cloth` shows as usable).

    `ways` is a key of :attr:`Relaxed.ways`. A rung of a ladder is a source of its own; `offer` numbers what the
    shop sells (-1 for the pile), `exclusive` is the fabric of a purchase by length, of which there is at most one.
    """

    sheet: int
    ways: int
    w: int
    l: int
    copies: int
    cost: int = 0
    offer: int = -1
    exclusive: int = -1
    sold: int = 0
    cloth: Cloth | None = None

    @property
    def area(self) -> int:
        """Its area as worth, rounded up."""
        square = self.w * self.l
        if self.cloth is not None:
            square = min(square, up(Fraction(area2(self.cloth.outline)) / 2))
        return -(-square * WORTH_OF_SQUARE_INCH // (INCH * INCH))


@dataclass(frozen=True, kw_only=True)
class Relaxed:
    """Needs and sources; `ways[k]` holds for each need how cloth of kind k may serve it (turn bits)."""

    model: Model
    needs: tuple[Need, ...]
    ways: tuple[tuple[int, ...], ...]
    pile: tuple[RelaxedCloth, ...]
    shop: tuple[RelaxedCloth, ...] = field(default=())
    choices: tuple[FabricChoice, ...] = ()

    @cached_property
    def unit(self) -> int:
        """The largest length of which all wanted sizes are multiples."""
        return (
            gcd(
                *(
                    size
                    for need in self.needs
                    for size in ((need.w,) if need.strip else (need.w, need.l))
                )
            )
            or 1
        )

    @cached_property
    def of_item(self) -> dict[int, list[int]]:
        """The needs of each row (by number of the model's item): one, or one for each fabric."""
        found: dict[int, list[int]] = {}
        for k, need in enumerate(self.needs):
            found.setdefault(need.item, []).append(k)
        return found

    def wanted(self, prices: Sequence[int]) -> Demand:
        """The worth of all that is wanted at these prices of the needs."""
        return demand_at(prices, [need.demand for need in self.needs], self.choices)

    def dearest(self, prices: Sequence[int]) -> int:
        """The highest worth of one copy of a row (of a strip: of all of it)."""
        copies = (self.model.items[need.item].copies for need in self.needs)
        units = [
            need.demand // n if need.strip else 1
            for need, n in zip(self.needs, copies, strict=True)
        ]
        return max(
            (price * unit for price, unit in zip(prices, units, strict=True)), default=0
        )

    def demands(self, picks: Sequence[Sequence[int]]) -> list[int]:
        """What is wanted of each need when each option of each choice is taken so many times."""
        demands = [need.demand for need in self.needs]
        for choice, pick in zip(self.choices, picks, strict=True):
            for option, times in zip(choice.options, pick, strict=True):
                for k, amount in option.amounts:
                    demands[k] = amount * times
        return demands

    def copies(self, option: FabricOption) -> Iterator[tuple[int, int]]:
        """How many copies of which row (by number of the model's item) an option asks for when it is taken once."""
        for k, amount in option.amounts:
            need = self.needs[k]
            if need.strip:
                one = need.demand // self.model.items[need.item].copies
            else:
                one = 1
            yield need.item, amount // one

    def served(self, ways: int) -> list[int]:
        """The needs that cloth of this kind may serve."""
        return [k for k, turns in enumerate(self.ways[ways]) if turns]


def relaxed(model: Model) -> Relaxed:
    """The needs and the cloth of a job, for bounds."""
    rows = [(k, item) for k, item in enumerate(model.items) if item.rank == 0]
    split, choices = _by_fabric(model, rows)
    kinds: dict[tuple[int, ...], int] = {}
    pile: list[RelaxedCloth] = []
    shop: list[RelaxedCloth] = []
    for index, sheet in enumerate(model.sheets):
        turns = tuple(
            sheet.turns(model.items[need.item]) & (UNTURNED | TURNED)
            if fabric in (None, sheet.fabric)
            else 0
            for need, fabric in split
        )
        if any(turns):
            ways = kinds.setdefault(turns, len(kinds))
            (pile if sheet.offered is None else shop).extend(
                _sources(model, index, sheet, ways)
            )
    return Relaxed(
        model=model,
        needs=tuple(need for need, _ in split),
        ways=tuple(kinds),
        pile=tuple(pile),
        shop=tuple(shop),
        choices=tuple(choices),
    )


def _by_fabric(
    model: Model, rows: list[tuple[int, Item]]
) -> tuple[list[tuple[Need, int | None]], list[FabricChoice]]:
    """Needs with the only fabric that may serve them, None where any may; and what is to be chosen among them."""
    split: list[tuple[Need, int | None]] = []
    choices: list[FabricChoice] = []
    groups: dict[int, list[int]] = {}
    able = {
        k: {sheet.fabric for sheet in model.sheets if sheet.turns(item)}
        for k, item in rows
    }

    def wanted(k: int, fabric: int | None = None, most: int = 0) -> tuple[int, int]:
        """Add the need of row k; its number and how much of it is wanted."""
        split.append((_need(model, k, model.items[k], most), fabric))
        return len(split) - 1, split[-1][0].demand

    for k, item in rows:
        if item.group >= 0:
            groups.setdefault(item.group, []).append(k)
        elif 0 < item.most_each < item.copies and able[k]:
            some = [wanted(k, fabric, item.most_each) for fabric in sorted(able[k])]
            options = tuple(
                FabricOption(cap=most, amounts=((n, 1),)) for n, most in some
            )
            choices.append(FabricChoice(total=item.copies, options=options))
        else:
            wanted(k)
    for members in groups.values():
        common = set.intersection(*(able[k] for k in members))
        every_one = set.union(*(able[k] for k in members))
        # nothing that would do, or no choice
        if not common or len(every_one) == 1:
            for k in members:
                wanted(k)
            continue
        every = []
        for fabric in sorted(common):
            amounts = tuple(wanted(k, fabric) for k in members)
            every.append(FabricOption(cap=1, amounts=amounts))
        lacking = [
            _lacking(model, members, able, fabric) for fabric in every_one - common
        ]
        choices.append(
            FabricChoice(
                total=1, options=tuple(every), elsewhere=min(lacking, default=None)
            )
        )
    return split, choices


def _lacking(
    model: Model, members: list[int], able: dict[int, set[int]], fabric: int
) -> int:
    """How many of rows that stay together no plan has that takes them from this fabric."""
    return sum(model.items[k].copies for k in members if fabric not in able[k])


def _need(model: Model, index: int, item: Item, most: int) -> Need:
    row = item.row
    if isinstance(row, Cut):
        width = row.width
        length = row.length
        loss = 0
    else:
        loss = row.join_loss(model.job.settings.seam)
        width = row.width
        if row.join == "none":
            length = row.total_length
        else:
            length = min(row.shortest, row.total_length)
    if isinstance(row, Cut) or row.join == "none":
        return Need(
            item=index,
            name=row.name,
            w=width,
            l=length,
            demand=most or row.count,
            strip=False,
            loss=0,
            cap=0,
            weight=_worth(width * length),
        )
    cap = (row.total_length - loss) // LENGTH_UNIT
    return Need(
        item=index,
        name=row.name,
        w=width,
        l=max(1, length),
        demand=row.count * cap,
        strip=True,
        loss=loss,
        cap=-(-(row.total_length - loss) // LENGTH_UNIT),
        weight=_worth(width * LENGTH_UNIT),
    )


def _worth(square_ticks: int) -> int:
    return max(1, square_ticks * WORTH_OF_SQUARE_INCH // (INCH * INCH))


def _sources(model: Model, index: int, sheet: Sheet, ways: int) -> list[RelaxedCloth]:
    offered = sheet.offered
    if isinstance(offered, ByLength):
        fabric = model.job.fabric(offered.fabric)
        settings = model.job.settings
        found = []
        for rung in sheet.ladder:
            w, length = usable_box(
                cloth_of_length(fabric, offered.usable_width, rung.sold, settings)
            )
            found.append(
                RelaxedCloth(
                    sheet=index,
                    ways=ways,
                    w=w,
                    l=length,
                    copies=1,
                    cost=rung.cost,
                    offer=index,
                    exclusive=sheet.fabric,
                    sold=rung.sold,
                )
            )
        return found
    w, length = usable_box(sheet.cloth)
    if is_rectangle(sheet.cloth.outline) and not sheet.cloth.flaws:
        cloth = None
    else:
        cloth = sheet.cloth
    return [
        RelaxedCloth(
            sheet=index,
            ways=ways,
            w=w,
            l=length,
            copies=sheet.copies,
            cost=sheet.cost,
            offer=-1 if offered is None else index,
            cloth=cloth,
        )
    ]


def usable_box(cloth: Cloth) -> tuple[int, int]:
    """Width and length of a box that holds all usable cloth: the outline's, less what straight sides lose."""
    (left, right), (low, high) = usable_span(cloth, 0), usable_span(cloth, 1)
    return max(right - left, 0), max(high - low, 0)


def usable_span(cloth: Cloth, axis: int) -> tuple[int, int]:
    """From where to where cloth may be usable along an axis (0 across, 1 along)."""
    box = [int(value) for value in bounds(cloth.outline)]
    return box[axis] + _lost(cloth, axis, box[axis]), box[axis + 2] - _lost(
        cloth, axis, box[axis + 2]
    )


def _lost(cloth: Cloth, axis: int, at: int) -> int:
    """What is lost at a side of the bounding box: nothing unless the whole side of the box is an edge."""
    ring = cloth.outline
    box = [int(value) for value in bounds(ring)]
    for p, q, margin in zip(ring, (*ring[1:], ring[0]), cloth.margins, strict=True):
        other = 1 - axis
        ends = sorted((p[other], q[other]))
        if p[axis] == q[axis] == at and ends == [box[other], box[other + 2]]:
            return margin
    return 0
