"""From a layout of the search to a plan: sources, cuts, uses, spare cloth, joins, totals."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from decimal import Decimal

from cutopt.cloth import Cloth, cloth_of
from cutopt.fabric import ByLength, ByPiece
from cutopt.geometry import bounds, is_rectangle
from cutopt.job import Job, cost_of
from cutopt.plan import CutStep, Join, Plan, Short, Source, Spare, Totals, Use
from cutopt.solve.arrays import Layout, Placement, Unit
from cutopt.solve.model import Model, Sheet
from cutopt.solve.raster import usable_cells
from cutopt.solve.sequence import Node, Rect, cut_tree, in_order
from cutopt.wanted import Cut, Strip


class Draft:
    """A plan in the making: one layout, one weight for large spare pieces."""

    def __init__(self, model: Model, units: Sequence[Unit], layout: Layout, spare_weight: float) -> None:
        self.model, self.units, self.layout, self.spare_weight = model, units, layout, spare_weight
        self.job: Job = model.job
        self.sources: list[Source] = []
        self.cuts: list[CutStep] = []
        self.uses: list[Use] = []
        self.spare: list[Spare] = []
        self.kept: list[int] = []
        self.segments: dict[int, list[tuple[str, int]]] = defaultdict(list)

    def plan(self, short: tuple[Short, ...] = ()) -> Plan:
        """The finished plan (levels are added by the caller)."""
        by_source: dict[tuple[int, int], list[Placement]] = defaultdict(list)
        for placement in self.layout.placements:
            by_source[placement.sheet, placement.copy].append(placement)
        rungs = {(p.sheet, p.copy): p.rung for p in self.layout.purchases}
        for number, (key, placements) in enumerate(sorted(by_source.items()), start=1):
            source = self._source(f"S{number}", *key, rungs.get(key, -1))
            self.sources.append(source)
            self._cut_up(source, self.model.sheets[key[0]], placements)
        joins = tuple(self._joins())
        return Plan(
            job=self.job.digest, sources=tuple(self.sources), cuts=tuple(self.cuts), uses=tuple(self.uses),
            spare=tuple(self.spare), joins=joins, short=short, totals=self._totals(joins), origin=self.job,
        )  # fmt: skip

    def _source(self, name: str, sheet_index: int, copy: int, rung: int) -> Source:
        sheet = self.model.sheets[sheet_index]
        if sheet.piece is not None:
            return Source(id=name, piece=sheet.piece.name, copy=copy + 1)
        offered, unit = sheet.offered, self.job.settings.unit
        if isinstance(offered, ByLength):
            sold = sheet.ladder[rung].sold
            return Source(
                id=name, bought=offered.fabric, width=offered.usable_width, length=sold,
                price=cost_of(offered, sold, unit),
            )  # fmt: skip
        assert isinstance(offered, ByPiece)
        return Source(
            id=name, bought=offered.fabric, copy=copy + 1, width=offered.each_width, length=offered.each_length,
            price=cost_of(offered, offered.each_length, unit),
        )  # fmt: skip

    def _cut_up(self, source: Source, sheet: Sheet, placements: Sequence[Placement]) -> None:
        cloth = cloth_of(self.job, source)
        rects = [self._rect(k, sheet, placement) for k, placement in enumerate(placements)]
        tree = self._tree(cloth, rects)
        steps, leaves = in_order(tree, source.id)
        for step in steps:
            where = {"x": step.at} if step.axis == "x" else {"y": step.at}
            self.cuts.append(CutStep(n=len(self.cuts) + 1, part=step.part, gives=step.gives, **where))  # type: ignore[arg-type]
        for part, node in leaves:
            if node.rects:
                self._use(part, placements[node.rects[0].tag], node.rects[0])
            else:
                keep = self._worth_keeping(node, cloth)
                self.spare.append(Spare(part=part, keep=keep))

    def _tree(self, cloth: Cloth, rects: list[Rect]) -> Node:
        return cut_tree(cloth.outline, rects, self.spare_weight, self.job.settings.turns)

    def _rect(self, tag: int, sheet: Sheet, placement: Placement) -> Rect:
        """The part in ticks: exact size of the row, not the grid's."""
        row, step = self.job.wanted[self.units[placement.unit].item], self.model.step
        x, y = sheet.origin[0] + placement.x * step, sheet.origin[1] + placement.y * step
        long = row.length if isinstance(row, Cut) else max(placement.w, placement.l) * step
        if isinstance(row, Strip) and row.join == "none":
            long = row.total_length
        w, l = (long, row.width) if placement.turned else (row.width, long)  # noqa: E741
        return Rect(tag=tag, x1=x, y1=y, x2=x + w, y2=y + l)

    def _use(self, part: str, placement: Placement, rect: Rect) -> None:
        row = self.job.wanted[self.units[placement.unit].item]
        self.uses.append(Use(part=part, for_=row.key, turned=placement.turned))
        if isinstance(row, Strip):
            long = rect.x2 - rect.x1 if placement.turned else rect.y2 - rect.y1
            self.segments[placement.unit].append((part, long))

    def _worth_keeping(self, node: Node, cloth: Cloth) -> bool:
        """Whether spare cloth holds a rectangle of the size that the maker keeps; its area is noted if so."""
        s, step = self.job.settings, self.model.step
        x1, y1, x2, y2 = (int(v) for v in bounds(node.outline))
        small, large = sorted((s.keep_width, s.keep_length))
        if min(x2 - x1, y2 - y1) < small or max(x2 - x1, y2 - y1) < large:
            return False
        if not is_rectangle(node.outline) or cloth.flaws:
            outline = tuple((int(x), int(y)) for x, y in node.outline)
            flaws = tuple(f for f in cloth.flaws)
            piece = Cloth(fabric=cloth.fabric, outline=outline, margins=(0,) * len(outline), flaws=flaws)
            _, cells = usable_cells(piece, step)
            table = cells.cumsum(axis=0).cumsum(axis=1)
            if not any(_window(table, -(-w // step), -(-l // step)) for w, l in ((small, large), (large, small))):  # noqa: E741
                return False
        self.kept.append(_area(node))
        return True

    def _joins(self) -> list[Join]:
        joins = []
        for unit, segments in sorted(self.segments.items()):
            if self.layout.missing[unit] > 0:
                continue
            row = self.job.wanted[self.units[unit].item]
            assert isinstance(row, Strip)
            loss = row.join_loss(self.job.settings.seam)
            length = sum(size for _, size in segments) - loss * (len(segments) - 1)
            joins.append(Join(for_=row.key, segments=tuple(p for p, _ in segments), join=row.join, length=length))
        return joins

    def _totals(self, joins: Sequence[Join]) -> Totals:
        bought: Counter[str] = Counter()
        money: Decimal | None = Decimal("0.00")
        for source in self.sources:
            if not source.bought:
                continue
            sheet = self.model.sheets[self._sheet_of(source)]
            if sheet.ladder:
                bought[source.bought] += source.length
            else:
                bought[f"{source.bought} each"] += 1
            money = None if money is None or source.price is None else money + source.price
        return Totals(
            money=money, bought=dict(bought), cuts=len(self.cuts), ruler_widths=self._ruler_widths(),
            seams=sum(len(join.segments) - 1 for join in joins),
        )  # fmt: skip

    def _sheet_of(self, source: Source) -> int:
        for k, sheet in enumerate(self.model.sheets):
            o = sheet.offered
            if isinstance(o, ByLength) and (o.fabric, o.usable_width) == (source.bought, source.width):
                if any(rung.sold == source.length for rung in sheet.ladder):
                    return k
            elif isinstance(o, ByPiece) and (o.fabric, o.each_width, o.each_length) == (
                source.bought, source.width, source.length,
            ):  # fmt: skip
                return k
        raise KeyError(source.bought)

    def _ruler_widths(self) -> int:
        """Different distances from the low side of a part to a cut that leaves something wanted there."""
        from cutopt.cloth import replay

        plan = Plan(job="", sources=tuple(self.sources), cuts=tuple(self.cuts))
        return ruler_widths(self.job, plan, {use.part for use in self.uses}, replay(self.job, plan))


def ruler_widths(job: Job, plan: Plan, used: set[str], parts: dict[str, object]) -> int:
    """See :class:`cutopt.plan.Totals`."""
    busy = used | {cut.part for cut in plan.cuts}
    widths = set()
    for cut in plan.cuts:
        axis, at = (0, cut.x) if cut.x is not None else (1, cut.y)
        low = bounds(parts[cut.part])[axis]  # type: ignore[arg-type]
        wanted_low = any(
            name in busy and bounds(parts[name])[axis + 2] <= at  # type: ignore[arg-type, operator]
            for name in cut.gives
        )
        if wanted_low:
            widths.add(at - low)  # type: ignore[operator]
    return len(widths)


def _window(table: object, w: int, l: int) -> bool:  # noqa: E741
    """Whether a summed-area table (without its zero border) holds a full w x l window."""
    import numpy as np

    t = np.pad(np.asarray(table), ((1, 0), (1, 0)))
    if w >= t.shape[0] or l >= t.shape[1]:
        return False
    inside = t[w:, l:] - t[:-w, l:] - t[w:, :-l] + t[:-w, :-l]
    return bool((inside == w * l).any())


def _area(node: Node) -> int:
    from cutopt.geometry import area2

    return int(area2(node.outline)) // 2
