"""Several ways to do one job, side by side: what each makes small, and which are worth showing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from cutopt.plan import Plan
from cutopt.result import Offer, estimate_minutes
from cutopt.solve.cuts.assemble import Draft
from cutopt.solve.cuts.cutter import Cutter, CutUp
from cutopt.solve.model.layout import Ints, Layout, Unit
from cutopt.solve.model.model import Model
from cutopt.solve.model.weights import weigh

# square ticks of spare cloth worth one more cut: 6 square inches, our estimate
_WORTH_A_CUT = 6 * 8128 * 8128

THRIFTIEST = "thriftiest"
SIMPLEST = "simplest to cut"
BIGGEST = "keeps the biggest pieces"
FAVOURITE = "your fabrics first"

# a seam counts as three cuts, as in the estimate of minutes, and some small spare cloth
WEIGHTS: dict[str, Ints] = {
    THRIFTIEST: weigh(
        must=10**12,
        nice=10**9,
        left=10**8,
        cost=10**10,
        preference=2 * 10**5,
        cut=2 * 10**7,
        touched=4 * 10**7,
        first=10**5,
        spare=1,
        segment=10**8,
        mixed=10**7,
    ),
    BIGGEST: weigh(
        must=10**12,
        nice=10**9,
        left=10**8,
        cost=10**10,
        preference=10**4,
        cut=10**6,
        touched=10**6,
        first=10**4,
        spare=40,
        segment=2 * 10**7,
        mixed=5 * 10**5,
    ),
    FAVOURITE: weigh(
        must=10**12,
        nice=10**9,
        left=10**8,
        cost=10**6,
        preference=10**9,
        cut=2 * 10**3,
        touched=4 * 10**3,
        first=10,
        segment=10**4,
        mixed=10**3,
    ),
    SIMPLEST: weigh(
        must=10**12,
        nice=10**9,
        left=10**7,
        preference=2 * 10**4,
        cut=10**9,
        touched=2 * 10**9,
        first=10**4,
        segment=3 * 10**9,
        mixed=10**8,
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A plan with the figures by which offers are compared; areas in square ticks."""

    plan: Plan
    layout: Layout
    minutes: int
    spare: int
    biggest: int


# of as few cuts, those that leave more
_LIKES: dict[str, Callable[[CutUp], float]] = {
    THRIFTIEST: lambda way: len(way.steps) - way.spare / _WORTH_A_CUT,
    BIGGEST: lambda way: (
        len(way.steps) / 8 - (way.biggest + way.spare / 4) / _WORTH_A_CUT
    ),
    FAVOURITE: lambda way: len(way.steps) - way.spare / _WORTH_A_CUT,
    SIMPLEST: lambda way: len(way.steps) - way.spare / (1000 * _WORTH_A_CUT),
}


def candidate(
    name: str,
    model: Model,
    units: Sequence[Unit],
    layout: Layout,
    cutter: Cutter,
    *,
    quick: bool = False,
) -> Candidate:
    """The plan of a layout, its cuts in the order that an offer of this name likes."""
    draft = Draft(model, units, layout, cutter, _LIKES[name], quick=quick)
    plan = draft.plan()
    kept = [*draft.kept, *untouched(model, layout)]
    return Candidate(
        plan=plan,
        layout=layout,
        minutes=estimate_minutes(plan),
        spare=sum(kept),
        biggest=max(kept, default=0),
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
    first = min(
        found,
        key=lambda c: (
            *lacking(c.plan)[:1],
            c.layout.cost,
            *lacking(c.plan)[1:],
            _effort(c),
        ),
    )
    as_complete = [c for c in found if lacking(c.plan)[0] == lacking(first.plan)[0]]
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
    return (
        replace(as_offer(THRIFTIEST, first), also=tuple(also)),
        *(as_offer(name, c) for name, c in shown),
    )


def lacking(plan: Plan) -> tuple[int, int]:
    """How many parts a plan is short of: of what must be cut, and of what is wished for."""
    job = plan.origin
    musts = [
        s.count
        for s in plan.short
        if job is not None and job.row(s.for_).importance == "must"
    ]
    return sum(musts), sum(s.count for s in plan.short) - sum(musts)


def _effort(c: Candidate) -> float:
    """Minutes less what the spare cloth is worth."""
    return c.minutes - c.spare / _WORTH_A_CUT


def as_offer(name: str, c: Candidate) -> Offer:
    """A plan as it is shown beside others."""
    return Offer(
        name=name,
        plan=c.plan,
        minutes=c.minutes,
        spare=c.spare,
        biggest_spare=c.biggest,
    )
