"""The least that must be bought for all that is wanted, where backs and other rows share a pile and a purchase.

What bounds a back alone, and the other rows alone, bounds both. Beyond that areas are added up: of the rows the parts
as they are cut, of the backs what shows (:mod:`cutopt.solve.bounds.back_counts`). Cloth that rows may be cut from counts
with all of its area, other cloth with what it shows in a back. The cheapest purchase has to be enough by each of these
counts at once, and by each argument about the rows.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property, partial
from typing import Final, Literal, TypeAlias

from cutopt.cloth import cloth_of_piece
from cutopt.job import Job
from cutopt.lengths import INCH, UNITS
from cutopt.piecing import Back
from cutopt.settings import Unit
from cutopt.solve.bounds.back_bound import BackBound, argument_of, least_to_buy
from cutopt.solve.bounds.back_cloth import PartRules
from cutopt.solve.bounds.back_counts import (
    BackCount,
    counts_of,
    pieces_for,
    shown_of_block,
)
from cutopt.solve.bounds.back_shop import sources_of
from cutopt.solve.bounds.back_told import on_sale
from cutopt.solve.bounds.cheapest_purchase import (
    Argument,
    CheapestPurchase,
    cheapest,
    cheapest_for,
)
from cutopt.solve.bounds.purchase_bound import Bound
from cutopt.solve.bounds.relaxed import (
    WORTH_OF_SQUARE_INCH,
    Relaxed,
    RelaxedCloth,
    relaxed,
)
from cutopt.solve.model.fabric_choices import Demand, FabricChoice
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.model import Model

# which bound is the highest
Kind: TypeAlias = Literal["nothing", "rows", "back", "area", "together"]
_WEIGHED: Final = (
    "the pile and the purchase are shared by backs and all else: weighed together, nothing less is enough; "
    "there is no shorter reason"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class JointBound:
    """No plan with everything that must be there costs less than `cost` (units of the model).

    `possible` is False where all there is is proved to be not enough: then `cost` bounds nothing. `because` says why in
    one sentence, "" where nothing need be bought as far as known.
    """

    cost: int = 0
    possible: bool = True
    kind: Kind = "nothing"
    because: str = ""


def bound_of_job(
    job: Job,
    rows: Bound | None = None,
    closed: Collection[str] = frozenset(),
    *,
    sharp: bool = False,
) -> JointBound:
    """The best bound on what a job with backs costs.

    Parameters
    ----------
    job : Job
    rows : Bound, optional
        What is known of its rows without the backs (:func:`cutopt.solve.bounds.purchase_bound.purchase_bound`); their
        areas are counted without it.
    closed : collection of str
        Pieces of the pile, by name, that are not to be used.
    sharp : bool
        Look closer at pieces with slanting sides: about 0.1 s each, with compiled kernels.
    """
    pieces = tuple(piece for piece in job.pieces if piece.name not in closed)
    job = replace(job, pieces=pieces)
    backs = [back for back in job.backs if back.importance == "must"]
    found = [_of_back(least_to_buy(job, back, sharp=sharp)) for back in backs]
    if rows is not None:
        found.insert(0, _of_rows(rows))
    if backs and all(one.possible for one in found):
        together = _Together.of(job, backs, rows, sharp=sharp)
        if together is not None:
            found += together.bounds()
    return max(found, key=_strength, default=JointBound())


def _strength(bound: JointBound) -> tuple[bool, int]:
    return not bound.possible, bound.cost


def _of_back(bound: BackBound) -> JointBound:
    kind: Kind = "nothing" if bound.count is None else "back"
    return JointBound(
        cost=bound.cost, possible=bound.possible, kind=kind, because=bound.because
    )


def _of_rows(bound: Bound) -> JointBound:
    kind: Kind = "rows" if bound.cost or not bound.possible else "nothing"
    return JointBound(
        cost=bound.cost, possible=bound.possible, kind=kind, because=bound.because
    )


@dataclass(frozen=True, kw_only=True)
class _Together:
    """Backs and rows that share a pile and a shop; areas as worth (:mod:`cutopt.solve.bounds.relaxed`).

    Parameters
    ----------
    job : Job
    counts : tuple of BackCount
        One of each back.
    problem : Relaxed
        The rows.
    learnt : tuple of Argument
        About the rows.
    """

    job: Job
    counts: tuple[BackCount, ...]
    problem: Relaxed
    learnt: tuple[Argument, ...] = ()

    @classmethod
    def of(
        cls, job: Job, backs: Sequence[Back], rows: Bound | None, *, sharp: bool
    ) -> _Together | None:
        """None where a back is all that is wanted."""
        counts = tuple(next(counts_of(job, back, sharp=sharp)) for back in backs)
        problem = rows.problem if rows is not None else None
        if problem is None and job.wanted:
            problem = relaxed(model_of(replace(job, backs=(), spare_blocks=())))
        if problem is None:
            if len(backs) == 1:
                return None
            problem = Relaxed(
                model=Model(
                    job=job, step=1, items=(), sheets=(), groups=(), priced=False
                ),
                needs=(),
                ways=(),
                pile=(),
            )
        learnt = rows.arguments if rows is not None else ()
        return cls(job=job, counts=counts, problem=problem, learnt=learnt)

    def bounds(self) -> Iterator[JointBound]:
        """By area, and by everything that is known at once."""
        area = self._area
        if area.missing > 0:
            bought = cheapest_for(self, area)
            cost = bought.cost if bought is not None else 0
            because = self._told(bought)
            yield JointBound(
                cost=cost, possible=bought is not None, kind="area", because=because
            )
        if self.learnt and (len(self.job.shop) > 1 or self.choices):
            alone = [self._alone(count) for count in self.counts]
            rows = [self._of_row(argument) for argument in self.learnt]
            cost, _, possible = cheapest(self, [area, *alone, *rows])
            # what is not enough by one count alone was said above
            if possible:
                yield JointBound(cost=cost, kind="together", because=_WEIGHED)

    @property
    def choices(self) -> tuple[FabricChoice, ...]:
        """Fabrics that are to be chosen for rows."""
        return self.problem.choices

    @cached_property
    def shop(self) -> tuple[RelaxedCloth, ...]:
        """All that may be bought for anything, by length all that is sold up to what alone is enough."""
        alone = [_worth(count.missing) for count in self.counts]
        missing = max(self._area_wanted.most, *alone, 0)
        found: list[RelaxedCloth] = []
        for number, offered in enumerate(self.job.shop):
            known = [s for s in self.problem.shop if self._is(s, number)]
            rules = self._rules(offered.fabric)
            if known or rules is not None:
                value = partial(_least_of, rules)
                found += sources_of(self.job, number, value, missing, known)
        return tuple(found)

    def _is(self, source: RelaxedCloth, number: int) -> bool:
        """Whether a source of the rows is this thing that the shop sells."""
        sheet = self.problem.model.sheets[source.sheet]
        return sheet.offered == self.job.shop[number]

    def _rules(self, fabric: str) -> PartRules | None:
        """What any part of a back of a fabric keeps to; None where it may go into none."""
        rules = [
            count.rules
            for count in self.counts
            if fabric in self.job.allowed(count.back)
        ]
        if not rules:
            return None
        return PartRules(
            seam=min(each.seam for each in rules),
            least=min(each.least for each in rules),
            longest=max(each.longest for each in rules),
            step=rules[0].step,
        )

    # -- by area -----------------------------------------------------------------------------------

    @property
    def _area(self) -> Argument:
        values = [self._value(source) for source in self.shop]
        return Argument(
            kind="back",
            needs=(),
            wanted=self._area_wanted,
            values=tuple(values),
            dearest=max(values, default=0),
        )

    def _value(self, source: RelaxedCloth) -> int:
        """What a source of the shop counts: all of it where rows may be cut from it, else what it shows."""
        if any(self._is(known, source.offer) for known in self.problem.shop):
            return source.area
        rules = self._rules(self.job.shop[source.offer].fabric)
        return _least_of(rules, source)

    @cached_property
    def _wanted(self) -> Demand:
        """What rows are and backs show."""
        prices = [need.weight for need in self.problem.needs]
        shown = sum(_worth(count.wanted, up=False) for count in self.counts)
        return self.problem.wanted(prices).less(-shown)

    @cached_property
    def _area_wanted(self) -> Demand:
        """What has to be bought."""
        return self._wanted.less(self._at_hand)

    @cached_property
    def _at_hand(self) -> int:
        """What the pile and the blocks count at most."""
        total = sum(map(_worth, self._blocks()))
        sheets = self.problem.model.sheets
        of_rows = {}
        for source in self.problem.pile:
            piece = sheets[source.sheet].piece
            if piece is not None:
                of_rows[piece.name] = source.area
        for piece in self.job.pieces:
            if piece.name in of_rows:
                total += piece.count * of_rows[piece.name]
                continue
            able = [
                count
                for count in self.counts
                if piece in pieces_for(self.job, count.back)
            ]
            rules = self._rules(piece.fabric)
            if able and rules is not None:
                fabric = self.job.fabric(piece.fabric)
                cloth = cloth_of_piece(piece, self.job.settings, fabric)
                total += piece.count * _worth(
                    rules.of_cloth(cloth, sharp=self.counts[0].sharp)
                )
        return total

    def _blocks(self) -> Iterator[int]:
        """What each spare block shows at most, in whichever back."""
        for block in self.job.spare_blocks:
            shown = [
                shown_of_block(block, count.rules.seam)
                for count in self.counts
                if count.back.may_take(block)
            ]
            if shown:
                yield block.count * max(shown)

    def _told(self, bought: CheapestPurchase | None) -> str:
        """The reason by area."""
        job = self.job
        unit = job.settings.unit
        wanted = _figure(self._wanted.least, unit, up=False)
        there = _figure(self._at_hand, unit)
        gives = [_figure(self._value(source), unit) for source in self.shop]
        return (
            f"all that is wanted comes to {wanted} square {unit}, backs without the seam allowances of their parts, and "
            f"what there is gives {there} of that at most, so {wanted - there} are missing; "
            f"{on_sale(job, self.shop, gives, bought)}"
        )

    # -- with all else that is known ---------------------------------------------------------------

    def _alone(self, count: BackCount) -> Argument:
        """A back alone, about the sources of this shop."""
        names = self.job.allowed(count.back)
        values = [
            count.value(source) * (self.job.shop[source.offer].fabric in names)
            for source in self.shop
        ]
        return replace(argument_of(count), values=tuple(values))

    def _of_row(self, argument: Argument) -> Argument:
        """What is known of the rows, about the sources of this shop."""
        values = []
        for source in self.shop:
            known = [
                (other.sold, value)
                for other, value in zip(
                    self.problem.shop, argument.values, strict=False
                )
                if self._is(other, source.offer)
            ]
            same = [value for sold, value in known if sold == source.sold]
            if same:
                values.append(max(same))
            elif known and source.sold > max(known)[0]:
                # longer than ever looked at
                values.append(max(argument.wanted.most, 0))
            else:
                values.append(0)
        return replace(argument, values=tuple(values))


def _least_of(rules: PartRules | None, source: RelaxedCloth) -> int:
    """The worth of what a source shows in a back; where none may have it, of all of it."""
    if rules is None:
        return source.area
    return _worth(rules.of_box(source.w, source.l))


def _worth(square: int, *, up: bool = True) -> int:
    """Square ticks as worth."""
    if up:
        return -(-square * WORTH_OF_SQUARE_INCH // (INCH * INCH))
    return square * WORTH_OF_SQUARE_INCH // (INCH * INCH)


def _figure(worth: int, unit: Unit, *, up: bool = True) -> int:
    """Worth as whole square inches or centimetres."""
    square = Fraction(worth * INCH * INCH, WORTH_OF_SQUARE_INCH)
    side = UNITS[unit]
    if up:
        return -(-square // (side * side))
    return square // (side * side)
