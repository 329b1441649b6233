"""Several ways to do one job, side by side: what each makes small, and which are worth showing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from cutopt.plan import Plan
from cutopt.result import Offer, estimate_minutes
from cutopt.solve.arrays import Ints, Layout, Unit
from cutopt.solve.assemble import Draft
from cutopt.solve.cutter import Cutter, CutUp
from cutopt.solve.model import Model

_WORTH_A_CUT = 6 * 8128 * 8128  # square ticks of spare cloth worth one more cut: 6 square inches, our estimate

THRIFTIEST, SIMPLEST, BIGGEST = "thriftiest", "simplest to cut", "keeps the biggest pieces"

# What the search weighs: missing must / nice / if left (per cell), cost, wrong preference (per cell and rank), cuts,
# pieces touched, spare of pieces to use first (per cell), spare worth keeping (per cell squared, per window).
WEIGHTS: dict[str, Ints] = {
    THRIFTIEST: np.array([10**12, 10**9, 10**8, 10**10, 2 * 10**5, 2 * 10**7, 4 * 10**7, 10**5, 1], dtype=np.int64),
    BIGGEST: np.array([10**12, 10**9, 10**8, 10**10, 10**4, 10**6, 10**6, 10**4, 40], dtype=np.int64),
    SIMPLEST: np.array([10**12, 10**9, 10**7, 0, 2 * 10**4, 10**9, 2 * 10**9, 10**4, 0], dtype=np.int64),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A plan with the figures by which offers are compared; areas in square ticks."""

    plan: Plan
    layout: Layout
    minutes: int
    spare: int
    biggest: int


_LIKES: dict[str, Callable[[CutUp], float]] = {
    THRIFTIEST: lambda way: len(way.steps) - way.spare / _WORTH_A_CUT,
    BIGGEST: lambda way: len(way.steps) / 8 - (way.biggest + way.spare / 4) / _WORTH_A_CUT,
    SIMPLEST: lambda way: len(way.steps) - way.spare / (1000 * _WORTH_A_CUT),  # of as few cuts, those that leave more
}


def candidate(
    name: str, model: Model, units: Sequence[Unit], layout: Layout, cutter: Cutter, *, quick: bool = False
) -> Candidate:
    """The plan of a layout, its cuts in the order that an offer of this name likes."""
    draft = Draft(model, units, layout, cutter, _LIKES[name], quick=quick)
    plan = draft.plan()
    kept = [*draft.kept, *untouched(model, layout)]
    return Candidate(
        plan=plan, layout=layout, minutes=estimate_minutes(plan), spare=sum(kept), biggest=max(kept, default=0)
    )


def untouched(model: Model, layout: Layout) -> list[int]:
    """Areas of the pieces of the pile that a layout leaves whole (all of them, also those not to be touched)."""
    used = {(p.sheet, p.copy) for p in layout.placements}
    areas = [piece.area for piece in model.job.pieces for _ in range(piece.count)]
    for s, _copy in used:
        piece = model.sheets[s].piece
        if piece is not None:
            areas.remove(piece.area)
    return areas


def _bigness(c: Candidate) -> float:
    return c.biggest + c.spare / 4


def offers_of(found: Sequence[Candidate]) -> tuple[Offer, ...]:
    """The plans worth showing side by side: the thriftiest, and others only where they better it in their own way."""
    first = min(found, key=lambda c: (*_lacking(c)[:1], c.layout.cost, *_lacking(c)[1:], _effort(c)))
    as_complete = [c for c in found if _lacking(c)[0] == _lacking(first)[0]]
    simplest = min(as_complete, key=lambda c: (c.minutes, c.layout.cost, -c.spare))
    as_cheap = [c for c in as_complete if c.layout.cost <= first.layout.cost]
    biggest = max(as_cheap, key=lambda c: (_bigness(c), -c.minutes))
    also: list[str] = []
    shown: list[tuple[str, Candidate]] = []
    for name, other, better in (
        (SIMPLEST, simplest, simplest.minutes < first.minutes),
        (BIGGEST, biggest, _bigness(biggest) > 1.02 * _bigness(first)),
    ):
        if better and all(other is not before for _, before in shown):
            shown.append((name, other))
        elif not better:
            also.append(name)
    return (replace(_offer(THRIFTIEST, first), also=tuple(also)), *(_offer(name, c) for name, c in shown))


def _lacking(c: Candidate) -> tuple[int, int]:
    """How many parts a plan is short of: of what must be cut, and of what is wished for."""
    job = c.plan.origin
    musts = [s.count for s in c.plan.short if job is not None and job.row(s.for_).importance == "must"]
    return sum(musts), sum(s.count for s in c.plan.short) - sum(musts)


def _effort(c: Candidate) -> float:
    """Minutes less what the spare cloth is worth."""
    return c.minutes - c.spare / _WORTH_A_CUT


def _offer(name: str, c: Candidate) -> Offer:
    return Offer(name=name, plan=c.plan, minutes=c.minutes, spare=c.spare, biggest_spare=c.biggest)
