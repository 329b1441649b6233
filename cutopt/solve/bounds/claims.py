"""Arguments that a maker can redo with a pencil: how much of something is wanted, and how much of it cloth can give.

Cloth is counted in patches of `across` x `along`. A part of w x l holds floor(w / across) x floor(l / along) of them,
and cloth of W x L never more than floor(W / across) x floor(L / along), wherever they lie: mark it at points a little
nearer to each other than the sides of a patch, and each patch holds one of the points. Counted without steps along an
axis ("in so many inches of it") the same is true of lengths; along both it is the area. So one kind of argument says
that cloth is too small, that no more than so many lie side by side, and that rows need so much length. What it forces
by itself is the cheapest purchase that gives as many as are missing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import compress, groupby, zip_longest
from typing import Literal

import numpy as np

from cutopt.solve.bounds.cheapest_purchase import (
    Argument,
    CheapestPurchase,
    cheapest_for,
)
from cutopt.solve.bounds.patch_counts import (
    NOTHING_ENOUGH,
    CountedRow,
    FillRule,
    Patches,
)
from cutopt.solve.bounds.relaxed import Relaxed, RelaxedCloth
from cutopt.solve.model.fabric_choices import Demand, FabricOption
from cutopt.solve.plates.plate_table import TURNED, UNTURNED
from cutopt.wanted import Strip

# rows of a job, above which claims are not looked for
_MOST_ROWS = 150
# of rows, for each set of fabrics
_MOST_SETS = 12
_MOST_FABRIC_SETS = 12
# patches of a set of rows for which a purchase is put together
_TRIED = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """So many copies of a row (by number of the model's item) that count at least `each` patches a copy."""

    item: int
    name: str
    copies: int
    each: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """`asked` needs more patches than the pile has, and what is bought for them costs at least `cost`.

    `across` and `along` are the sides of a patch in ticks; None where that axis is counted without steps (then a patch
    is one tick long there). `fabrics` (numbers of the job) are all that may serve what is asked. The pile has at most
    `pile` patches, source s of the shop at most `values[s]`; of its width and length only what `fill` says counts.
    `weighed`: what the pile has was found by the programmes that weigh all ways to cut it. `bought` is the cheapest
    purchase that has what is missing; None, with a cost of 0, where all that is on sale has not.
    """

    across: Fraction | None
    along: Fraction | None
    asked: tuple[Asked, ...]
    fabrics: frozenset[int]
    pile: int
    values: tuple[int, ...]
    bought: CheapestPurchase | None
    fill: tuple[FillRule, FillRule]
    weighed: bool = False

    @property
    def wanted(self) -> int:
        """Patches that are asked for."""
        return sum(asked.copies * asked.each for asked in self.asked)

    @property
    def missing(self) -> int:
        """Patches that the pile lacks."""
        return self.wanted - self.pile

    @property
    def cost(self) -> int:
        """What has to be paid (units of the model)."""
        if self.bought is None:
            return 0
        return self.bought.cost

    @property
    def strength(self) -> int:
        """As `cost`, more than anything where nothing on sale is enough."""
        if self.bought is None:
            return NOTHING_ENOUGH
        return self.bought.cost

    @property
    def counted(self) -> Literal["area", "length", "width", "patches"]:
        """What is counted: length where patches have a width only, and the other way round."""
        if self.across is None:
            if self.along is None:
                return "area"
            return "width"
        if self.along is None:
            return "length"
        return "patches"

    @property
    def clumsy(self) -> tuple[int, ...]:
        """How much there is to follow: the less the better."""
        several = self.bought is not None and len(self.bought.bought) > 1
        if self.counted == "patches":
            most = max(asked.each for asked in self.asked)
        else:
            most = 1
        filled = any(fill.partly for fill in self.fill)
        one_way = self.counted in ("length", "width")
        count = self.counted == "patches" and most == len(self.asked) == 1
        hard = (self.weighed, several, filled, not count, most > 1, one_way)
        return *(int(some) for some in hard), len(self.asked), most

    def prices(self, problem: Relaxed) -> list[int]:
        """The patches of a part of each need."""
        each = {asked.item: asked.each for asked in self.asked}
        return [each.get(need.item, 0) for need in problem.needs]

    def with_pile(self, problem: Relaxed, pile: int) -> Claim:
        """The same where the pile was found to have so many patches at most."""
        weighed = replace(self, pile=pile, weighed=True)
        return replace(weighed, bought=cheapest_for(problem, weighed.argument(problem)))

    def argument(self, problem: Relaxed) -> Argument:
        """The same for the bound; of rows among which a fabric is chosen every option asks for as much."""
        each = {asked.item: asked.each for asked in self.asked}

        def patches(option: FabricOption) -> int:
            return sum(
                each.get(item, 0) * copies for item, copies in problem.copies(option)
            )

        costs = tuple(tuple(map(patches, choice.options)) for choice in problem.choices)
        chosen = sum(
            choice.total * cost[0]
            for choice, cost in zip(problem.choices, costs, strict=True)
        )
        wanted = Demand(
            base=self.missing - chosen,
            costs=costs,
            least=self.missing,
            most=self.missing,
        )
        needs = tuple(k for asked in self.asked for k in problem.of_item[asked.item])
        dearest = max(asked.each for asked in self.asked)
        return Argument(
            kind="redone",
            needs=needs,
            wanted=wanted,
            values=self.values,
            dearest=dearest,
        )


def together(found: Iterable[Claim]) -> tuple[Claim, ...]:
    """The claims about fabrics that have nothing in common, whose costs add up to most; few where that is as much."""
    strongest: dict[frozenset[int], Claim] = {}
    for claim in found:
        known = strongest.get(claim.fabrics)
        if claim.cost > 0 and (known is None or _rank(claim) < _rank(known)):
            strongest[claim.fabrics] = claim
    paid = list(strongest.values())

    def most(number: int, taken: frozenset[int]) -> tuple[int, int, tuple[Claim, ...]]:
        if number == len(paid):
            return 0, 0, ()
        best = most(number + 1, taken)
        claim = paid[number]
        if not claim.fabrics & taken:
            cost, fewer, others = most(number + 1, taken | claim.fabrics)
            best = max(
                best,
                (cost + claim.cost, fewer - 1, (claim, *others)),
                key=lambda some: some[:2],
            )
        return best

    return most(0, frozenset())[2]


def _rank(claim: Claim) -> tuple[int, ...]:
    """Those come first that force more, or as much in a way that is easier to follow."""
    return -claim.strength, *claim.clumsy


class Claims:
    """Finds the claims of a problem."""

    def __init__(self, problem: Relaxed) -> None:
        self.problem = problem
        self.everything = (*problem.pile, *problem.shop)
        rows = [self._row(item, needs) for item, needs in problem.of_item.items()]
        self.rows = rows if len(rows) <= _MOST_ROWS and self.everything else []

    def strongest(self) -> list[Claim]:
        """For each set of fabrics what forces most of what only they may serve, the easiest to follow of these."""
        found: list[Claim] = []
        for fabrics in self._fabric_sets():
            claims = [
                claim
                for rows in self._row_sets(fabrics)
                for claim in self._about(rows, fabrics)
            ]
            if claims:
                found.append(min(claims, key=_rank))
        return found

    def without_pile(self) -> Iterator[Claim]:
        """Claims that would be strong if the pile gave nothing, so that it pays to weigh it; of each set by turns."""
        of_set: list[list[Claim]] = []
        for fabrics in self._fabric_sets():
            found: list[Claim] = []
            for rows in self._row_sets(fabrics):
                # segments may have any length
                if not any(row.strip for row in rows):
                    found += list(self._about(rows, fabrics, weigh=True))[:1]
            of_set.append(sorted(found, key=_rank))
        for turn in zip_longest(*of_set):
            yield from (claim for claim in turn if claim is not None)

    def _row(self, item: int, needs: Sequence[int]) -> CountedRow:
        need = self.problem.needs[needs[0]]
        wanted = self.problem.model.items[item]
        if need.strip and isinstance(wanted.row, Strip):
            whole = wanted.row.total_length
        else:
            whole = need.l
        row = CountedRow(
            item=item,
            name=need.name,
            copies=wanted.copies,
            w=need.w,
            l=whole,
            strip=need.strip,
            shortest=need.l,
        )
        ways: set[int] = set()
        fabrics: set[int] = set()
        for source in self.everything:
            turns = self._turns(row, source)
            found = [way for way in (UNTURNED, TURNED) if row.lies(source, turns & way)]
            ways.update(found)
            fabrics.update([self._fabric(source)] if found else [])
        return replace(row, ways=tuple(sorted(ways)), fabrics=frozenset(fabrics))

    def _turns(self, row: CountedRow, source: RelaxedCloth) -> int:
        turns = 0
        for k in self.problem.of_item[row.item]:
            turns |= self.problem.ways[source.ways][k]
        return turns

    def _fabric(self, source: RelaxedCloth) -> int:
        return self.problem.model.sheets[source.sheet].fabric

    def _fabric_sets(self) -> list[frozenset[int]]:
        """The fabrics of each row, and all of them."""
        every = frozenset(f for row in self.rows for f in row.fabrics)
        sets = dict.fromkeys([*(row.fabrics for row in self.rows), every])
        return sorted(sets, key=lambda some: (len(some), sorted(some)))[
            :_MOST_FABRIC_SETS
        ]

    def _row_sets(self, fabrics: frozenset[int]) -> list[list[CountedRow]]:
        """Of the rows that only these fabrics may serve all, those above some size, and single ones."""
        rows = [
            row
            for row in self.rows
            if row.fabrics <= fabrics and bool(row.fabrics) == bool(fabrics)
        ]
        slimmest = [min(row.w, row.shortest) for row in rows]
        sets = []
        for side in sorted(set(slimmest)):
            large = [own >= side for own in slimmest]
            sets.append(list(compress(rows, large)))
        by_area = sorted(rows, key=lambda row: -row.copies * row.w * row.l)
        sets += [[row] for row in by_area]
        different: dict[tuple[int, ...], list[CountedRow]] = {}
        for some in sets:
            different[tuple(row.item for row in some)] = some
        return list(different.values())[:_MOST_SETS]

    def _about(
        self,
        rows: Sequence[CountedRow],
        fabrics: frozenset[int],
        *,
        weigh: bool = False,
    ) -> Iterator[Claim]:
        """The strongest claims about some rows."""
        for filled in (False, True):
            yield from self._counted(
                Patches(self.problem, rows, filled=filled), rows, fabrics, weigh=weigh
            )

    def _counted(
        self,
        patches: Patches,
        rows: Sequence[CountedRow],
        fabrics: frozenset[int],
        *,
        weigh: bool,
    ) -> Iterator[Claim]:
        pile = [
            source
            for source in self.problem.pile
            if not weigh and self._may_serve(rows, source)
        ]
        shop = [
            s
            for s, source in enumerate(self.problem.shop)
            if self._may_serve(rows, source)
        ]
        offers = [
            list(group)
            for _, group in groupby(shop, key=lambda s: self.problem.shop[s].offer)
        ]
        there = sum(
            (source.copies * patches.of_source(source) for source in pile),
            start=patches.none,
        )
        missing = patches.wanted(rows) - there
        alone = np.where(
            missing > 0, patches.cheapest_alone(self.problem, offers, missing), -1
        )
        best = -1
        order = np.lexsort((patches.parts_of_sizes.ravel(), -alone.ravel()))
        for number, place in enumerate(order.tolist()):
            at = divmod(place, alone.shape[1])
            # what is bought together costs no more than alone
            if alone[at] < max(best, 0) or number >= _TRIED:
                return
            claim = self._claim(rows, fabrics, patches, at, int(there[at]), shop)
            best = max(best, claim.strength)
            yield claim

    def _may_serve(self, rows: Sequence[CountedRow], source: RelaxedCloth) -> bool:
        return any(row.lies(source, self._turns(row, source)) for row in rows)

    def _claim(
        self,
        rows: Sequence[CountedRow],
        fabrics: frozenset[int],
        patches: Patches,
        at: tuple[int, int],
        pile: int,
        shop: Sequence[int],
    ) -> Claim:
        values = [0] * len(self.problem.shop)
        for s in shop:
            values[s] = patches.at(self.problem.shop[s], at)
        counted = ((row, int(patches.of_row(row)[at])) for row in rows)
        asked = tuple(
            Asked(item=row.item, name=row.name, copies=row.copies, each=count)
            for row, count in counted
            if count
        )
        unpaid = Claim(
            across=patches.across[at[0]],
            along=patches.along[at[1]],
            asked=asked,
            fabrics=fabrics,
            pile=pile,
            values=tuple(values),
            bought=None,
            fill=patches.fill,
        )
        return replace(
            unpaid, bought=cheapest_for(self.problem, unpaid.argument(self.problem))
        )
