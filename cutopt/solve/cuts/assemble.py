"""From a layout of the search to a plan: sources, cuts, uses, spare cloth, joins, totals."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import partial
from typing import Literal

from cutopt.cloth import Cloth, cloth_to_plan
from cutopt.fabric import ByLength, ByPiece
from cutopt.geometry import Axis, Polygon, bounds
from cutopt.job import Job, cost_of
from cutopt.plan import CutStep, Join, Plan, Source, Spare, Totals, Use, bought_in
from cutopt.settings import Settings
from cutopt.solve.cuts.cut_parts import Rect
from cutopt.solve.cuts.cutter import Cutter, CutUp
from cutopt.solve.cuts.needed_segments import (
    keeping,
    laid_length,
    suffices,
    take_needless,
    without_needless,
)
from cutopt.solve.cuts.strips_alike import Segment, sort_out
from cutopt.solve.model.layout import Layout, Placement, Unit
from cutopt.solve.model.model import Model, Sheet
from cutopt.strips import sewn_length
from cutopt.wanted import Cut, Strip

# cuts more are better than one that no mark of the ruler meets, or that takes off a sliver
_HARD = 3
# of a cut: of ways that are as good otherwise, the one in which the ruler is set less often
_SETTING = 1 / 64


class Draft:
    """A plan in the making.

    Parameters
    ----------
    likes : callable
        Of several ways to cut a piece up the plan takes the one for which this is smallest.
    quick : bool
        Look at one way for each piece only (when somebody interrupted and waits).
    """

    def __init__(
        self,
        model: Model,
        units: Sequence[Unit],
        layout: Layout,
        cutter: Cutter,
        likes: Callable[[CutUp], float],
        *,
        quick: bool = False,
    ) -> None:
        self.model = model
        self.units = units
        self.layout = without_needless(model, units, layout)
        self.cutter = cutter
        self.likes = likes
        self.quick = quick
        self.job: Job = model.job
        self.sources: list[Source] = []
        self.cuts: list[CutStep] = []
        self.uses: list[Use] = []
        self.spare: list[Spare] = []
        self.kept: list[int] = []
        # of the ruler: a width, and the parts on its low side
        self._settings: list[tuple[int, list[str]]] = []
        self._segments: dict[int, list[Segment]] = defaultdict(list)
        self._segments_of = Counter(
            placement.unit for placement in self.layout.placements
        )
        # strips of which a segment could not be cut out
        self._broken: set[int] = set()
        # where each part lies that is used, and segments that turned out not to be needed
        self._laid: dict[str, Placement] = {}
        self._needless: set[str] = set()
        # whether every strip that is sewn is long enough
        self.long_enough = True

    def plan(self) -> Plan:
        """The plan, without what is short and without levels: the caller adds these."""
        rungs = {(p.sheet, p.copy): p.rung for p in self.layout.purchases}
        for number, placements in enumerate(self._by_source(), start=1):
            key = placements[0].sheet, placements[0].copy
            sheet = self.model.sheets[key[0]]
            source = self._source(f"S{number}", sheet, key[1], rungs.get(key, -1))
            self.sources.append(source)
            self._cut_up(source, sheet, placements)
        self._give_up_broken()
        joins = self._joins()
        return Plan(
            job=self.job.digest,
            sources=tuple(self.sources),
            cuts=tuple(self.cuts),
            uses=tuple(self.uses),
            spare=tuple(self.spare),
            joins=tuple(joins),
            totals=self._totals(joins),
            origin=self.job,
        )

    def _by_source(self) -> Iterator[list[Placement]]:
        """The placements of each cloth; copies of one piece that give the same parts follow each other, laid alike."""
        by_source: dict[tuple[int, int], list[Placement]] = defaultdict(list)
        for placement in self.layout.placements:
            by_source[placement.sheet, placement.copy].append(placement)
        alike: dict[tuple[object, ...], list[list[Placement]]] = defaultdict(list)
        for (sheet, _), placements in sorted(by_source.items()):
            alike[sheet, *sorted(map(self._kind, placements))].append(placements)
        for copies in alike.values():
            if len(copies) > 1:
                best = min(copies, key=self._cost)
            else:
                best = copies[0]
            yield from (self._laid_as(best, placements) for placements in copies)

    def _kind(self, placement: Placement) -> tuple[int, int, int]:
        """What a part is for and its size: parts of one kind may change places on one cloth."""
        low, high = sorted((placement.w, placement.l))
        return self.units[placement.unit].item, low, high

    def _cost(self, placements: Sequence[Placement]) -> float:
        """What the offer makes of a laying: less is better. Only of cloth that there may be several of."""
        sheet = self.model.sheets[placements[0].sheet]
        return self._weigh(self._way(sheet.cloth, sheet, placements))

    def _laid_as(
        self, model: Sequence[Placement], placements: Sequence[Placement]
    ) -> list[Placement]:
        """The same parts, each where the model has one of its kind."""
        own: dict[tuple[int, int, int], list[Placement]] = defaultdict(list)
        for placement in placements:
            own[self._kind(placement)].append(placement)
        mine = [(own[self._kind(place)].pop(0), place) for place in model]
        return [replace(place, copy=part.copy, unit=part.unit) for part, place in mine]

    def _way(
        self, cloth: Cloth, sheet: Sheet, placements: Sequence[Placement]
    ) -> CutUp:
        rects = [
            self._rect(k, sheet, placement) for k, placement in enumerate(placements)
        ]
        return min(self.cutter.ways(cloth, rects, quick=self.quick), key=self._weigh)

    def _weigh(self, way: CutUp) -> float:
        return self.likes(way) + _HARD * way.hard + _SETTING * way.settings

    def _source(self, name: str, sheet: Sheet, copy: int, rung: int) -> Source:
        offered = sheet.offered
        unit = self.job.settings.unit
        if isinstance(offered, ByLength):
            sold = sheet.ladder[rung].sold
            price = cost_of(offered, sold, unit)
            return Source(
                id=name,
                bought=offered.fabric,
                width=offered.usable_width,
                length=sold,
                price=price,
            )
        if isinstance(offered, ByPiece):
            return Source(
                id=name,
                bought=offered.fabric,
                by_piece=True,
                copy=copy + 1,
                width=offered.each_width,
                length=offered.each_length,
                price=cost_of(offered, offered.each_length, unit),
            )
        return Source(
            id=name, piece=sheet.piece.name if sheet.piece else "", copy=copy + 1
        )

    def _cut_up(
        self, source: Source, sheet: Sheet, placements: Sequence[Placement]
    ) -> None:
        cloth = cloth_to_plan(self.job, source)
        way = self._way(cloth, sheet, placements)
        names = {
            name: source.id + name[1:] for step in way.steps for name in step.gives
        } | {"S": source.id}
        for step in way.steps:
            where = {step.axis: step.at}
            gives = tuple(names[name] for name in step.gives)
            self.cuts.append(
                CutStep(
                    n=len(self.cuts) + 1,
                    part=names[step.part],
                    gives=gives,
                    **where,  # type: ignore[arg-type]
                )
            )
        self._note_settings(way, cloth.outline, names)
        worth = dict(way.kept)
        self.kept += worth.values()
        had = {rect.tag for _, node in way.leaves for rect in node.rects}
        lost = [
            placement.unit for tag, placement in enumerate(placements) if tag not in had
        ]
        self._broken.update(unit for unit in lost if isinstance(self._row(unit), Strip))
        for name, node in way.leaves:
            if node.rects:
                self._use(names[name], placements[node.rects[0].tag], node.rects[0])
            else:
                self.spare.append(Spare(part=names[name], keep=name in worth))

    def _note_settings(
        self, way: CutUp, outline: Polygon, names: Mapping[str, str]
    ) -> None:
        """How the ruler is set for each cut, and what then lies below (left of) it."""
        boxes = {"S": bounds(outline)} | way.boxes
        for step in way.steps:
            if step.axis == "x":
                axis = 0
            else:
                axis = 1
            low = [names[name] for name in step.gives if boxes[name][axis] < step.at]
            self._settings.append((int(step.at - boxes[step.part][axis]), low))

    def _ruler_widths(self) -> int:
        """As :class:`cutopt.plan.Totals` counts them, once it is known what is spare."""
        spare = {spare.part for spare in self.spare}
        return len(
            {width for width, low in self._settings if not spare.issuperset(low)}
        )

    def _rect(self, tag: int, sheet: Sheet, placement: Placement) -> Rect:
        """The part in ticks: the exact size of the row, not the grid's."""
        row = self._row(placement.unit)
        step = self.model.step
        x = sheet.origin[0] + placement.x * step
        y = sheet.origin[1] + placement.y * step
        grows: Axis | Literal[""] = ""
        if isinstance(row, Cut):
            long = row.length
        elif self._segments_of[placement.unit] == 1:
            long = row.total_length
        else:
            # what a segment has too much is of no use, and nobody need cut it off before it is sewn
            long = (placement.w if placement.turned else placement.l) * step
            if placement.turned:
                grows = "x"
            else:
                grows = "y"
        w, l = (long, row.width) if placement.turned else (row.width, long)
        return Rect(tag=tag, x1=x, y1=y, x2=x + w, y2=y + l, grows=grows)

    def _row(self, unit: int) -> Cut | Strip:
        return self.job.wanted[self.units[unit].item]

    def _use(self, part: str, placement: Placement, rect: Rect) -> None:
        row = self._row(placement.unit)
        self.uses.append(Use(part=part, for_=row.key, turned=placement.turned))
        self._laid[part] = placement
        if isinstance(row, Strip):
            if placement.turned:
                long = rect.x2 - rect.x1
            else:
                long = rect.y2 - rect.y1
            fabric = self.model.sheets[placement.sheet].fabric
            segment = Segment(
                part=part, long=long, fabric=fabric, turned=placement.turned
            )
            self._segments[placement.unit].append(segment)

    def _give_up_broken(self) -> None:
        """A strip that lacks a segment is short as a whole: what was cut for it is spare."""
        parts = {
            segment.part
            for unit in self._broken
            for segment in self._segments.pop(unit, [])
        }
        self.uses = [use for use in self.uses if use.part not in parts]
        self.spare += [Spare(part=part, keep=False) for part in sorted(parts)]

    def _joins(self) -> list[Join]:
        joins = []
        settings = self.job.settings
        for row in self.job.strips:
            whole = [
                unit
                for unit in sorted(self._segments)
                if self._row(unit) is row and not self.layout.missing[unit]
            ]
            strips = [self._segments[unit] for unit in whole]
            enough = partial(_suffice, row, settings)
            # what is left on segments may do for another one: before they change places, and after that
            self._take_needless(strips, enough)
            sort_out(strips, enough)
            self._take_needless(strips, enough)
            self.long_enough &= all(map(enough, strips))
            for segments in strips:
                length = int(
                    sewn_length(row, [segment.long for segment in segments], settings)
                )
                parts = tuple(segment.part for segment in segments)
                joins.append(
                    Join(for_=row.key, segments=parts, join=row.join, length=length)
                )
        return joins

    def _take_needless(
        self, strips: Sequence[list[Segment]], enough: Callable[[list[Segment]], bool]
    ) -> None:
        """Segments that are not needed, as others are longer than the search laid them, are spare."""
        taken = {
            segment.part
            for strip in strips
            for segment in take_needless(strip, lambda each: each.long, enough)
        }
        self._needless |= taken
        self.uses = [use for use in self.uses if use.part not in taken]
        self.spare += [Spare(part=part, keep=False) for part in sorted(taken)]

    def leaner(self) -> Layout | None:
        """The layout without segments that others made needless when they were cut; None where it may not do."""
        if not self._needless or self._broken:
            return None
        laid = {
            part: place
            for part, place in self._laid.items()
            if part not in self._needless
        }
        for unit, strip in self._segments.items():
            for segment in strip:
                laid[segment.part] = replace(laid[segment.part], unit=unit)
            row = self._row(unit)
            (first, *others) = strip
            long = laid_length(self.model.step, laid[first.part])
            if isinstance(row, Strip) and not others and long < row.total_length:
                return None
        return keeping(self.model, self.layout, tuple(laid.values()))

    def _totals(self, joins: Sequence[Join]) -> Totals:
        prices = [source.price for source in self.sources if source.bought]
        known = [price for price in prices if price is not None]
        return Totals(
            money=sum(known, Decimal("0.00")) if len(known) == len(prices) else None,
            bought=bought_in(self.sources),
            cuts=len(self.cuts),
            ruler_widths=self._ruler_widths(),
            joins=sum(len(join.segments) - 1 for join in joins),
        )


def drafted(
    model: Model,
    units: Sequence[Unit],
    layout: Layout,
    cutter: Cutter,
    likes: Callable[[CutUp], float],
    *,
    quick: bool = False,
) -> tuple[Draft, Plan]:
    """A draft of a layout and its plan, in which no strip has a segment that it does not need.

    Parameters
    ----------
    model : Model
    units : sequence of Unit
    layout : Layout
    cutter : Cutter
    likes : callable
        As for :class:`Draft`.
    quick : bool
        As for :class:`Draft`.
    """
    draft = Draft(model, units, layout, cutter, likes, quick=quick)
    plan = draft.plan()
    # what is not needed need not be cut out either, where strips are as long without these cuts
    while (lean := draft.leaner()) is not None:
        other = Draft(model, units, lean, cutter, likes, quick=quick)
        leaner = other.plan()
        if not other.long_enough or len(leaner.joins) < len(plan.joins):
            break
        draft, plan = other, leaner
    return draft, plan


def _suffice(row: Strip, settings: Settings, strip: Sequence[Segment]) -> bool:
    return suffices(row, settings, [segment.long for segment in strip])
