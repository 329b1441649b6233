"""Placements on sheets as a plan that the checker replays."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from cutopt.bench.instances import FABRIC, Instance
from cutopt.geometry import bounds, rectangle
from cutopt.job import Job, cost_of
from cutopt.plan import CutStep, Plan, Short, Source, Spare, Totals, Use, bought_in
from cutopt.solve.cuts.cut_parts import Rect
from cutopt.solve.cuts.sequence import CutNode, cut_tree, in_order
from cutopt.solve.plates.plate_table import PlatePlacement


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSheet:
    """One sheet that is cut: number of its stock, its height (the length cut from a roll), and what lies on it."""

    stock: int
    h: int
    placed: tuple[PlatePlacement, ...]


def plan_of(instance: Instance, job: Job, sheets: Sequence[CutSheet]) -> Plan:
    """The numbered cuts of a layout.

    Parameters
    ----------
    instance : Instance
    job : Job
        The instance as a job with as many copies as are cut.
    sheets : sequence
        What lies on each sheet that is cut.

    Raises
    ------
    NotSeparableError
        Where straight cuts from edge to edge do not isolate the parts.
    """
    making = _Making(instance, job)
    for sheet in sheets:
        making.add(sheet)
    return making.plan()


class _Making:
    """A plan that grows sheet by sheet."""

    def __init__(self, instance: Instance, job: Job) -> None:
        self.instance = instance
        self.job = job
        self.sources: list[Source] = []
        self.cuts: list[CutStep] = []
        self.uses: list[Use] = []
        self.spare: list[Spare] = []
        self.widths: set[object] = set()
        self.copies: Counter[int] = Counter()

    def add(self, sheet: CutSheet) -> None:
        unit = self.instance.unit
        stock = self.instance.stock[sheet.stock]
        w = stock.w * unit
        h = sheet.h * unit
        name = f"S{len(self.sources) + 1}"
        self.copies[sheet.stock] += 1
        price = cost_of(self.job.shop[sheet.stock], h, "in")
        self.sources.append(
            Source(
                id=name,
                bought=FABRIC,
                by_piece=self.instance.objective != "min length",
                copy=self.copies[sheet.stock],
                width=w,
                length=h,
                price=price,
            )
        )
        rects = [self._rect(n, *placement) for n, placement in enumerate(sheet.placed)]
        steps, nodes = in_order(cut_tree(rectangle(w, h), rects, 1.0), name)
        for step in steps:
            where = {step.axis: step.at}
            self.cuts.append(
                CutStep(n=len(self.cuts) + 1, part=step.part, gives=step.gives, **where)  # type: ignore[arg-type]
            )
            self._note_width(step.part, step.axis, step.at, step.gives, nodes)
        for part, node in nodes.items():
            if node.rects and not node.axis:
                k, _, _, turned = sheet.placed[node.rects[0].tag]
                self.uses.append(Use(part=part, for_=f"cuts/i{k}", turned=turned))
            elif not node.axis:
                self.spare.append(Spare(part=part))

    def _note_width(
        self,
        part: str,
        axis: str,
        at: int,
        gives: tuple[str, ...],
        nodes: dict[str, CutNode],
    ) -> None:
        """A ruler width where a wanted or further cut part lies on the low side, see :class:`~cutopt.plan.Totals`."""
        if axis == "x":
            side = 0
        else:
            side = 1
        low = [nodes[name] for name in gives if bounds(nodes[name].outline)[side] < at]
        if any(node.rects or node.axis for node in low):
            self.widths.add(at - bounds(nodes[part].outline)[side])

    def _rect(self, tag: int, k: int, x: int, y: int, turned: bool) -> Rect:
        unit = self.instance.unit
        item = self.instance.items[k]
        w, h = (item.h, item.w) if turned else (item.w, item.h)
        return Rect(
            tag=tag, x1=x * unit, y1=y * unit, x2=(x + w) * unit, y2=(y + h) * unit
        )

    def plan(self) -> Plan:
        """All sheets so far."""
        money = sum(
            (source.price for source in self.sources if source.price is not None),
            Decimal("0.00"),
        )
        return Plan(
            job=self.job.digest,
            sources=tuple(self.sources),
            cuts=tuple(self.cuts),
            uses=tuple(self.uses),
            spare=tuple(self.spare),
            origin=self.job,
            short=() if self.uses else (Short(for_=self.job.cuts[0].key, count=1),),
            totals=Totals(
                money=money,
                bought=bought_in(self.sources),
                cuts=len(self.cuts),
                ruler_widths=len(self.widths),
            ),
        )
