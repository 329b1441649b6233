"""Several ways to do one job, side by side: what each makes small, and which are worth showing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from cutopt.plan import Plan
from cutopt.result import Offer, estimate_minutes
from cutopt.solve.cuts.assemble import drafted
from cutopt.solve.cuts.cutter import Cutter, CutUp
from cutopt.solve.model.layout import Layout, Unit
from cutopt.solve.model.model import Model
from cutopt.solve.model.weights import weigh
from cutopt.solve.plates.plate_table import Ints

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
    """A plan with the figures by which offers are compared; areas in square ticks.

    `disliked` are cells of fabrics that a row names later, times how many places are before theirs.
    """

    plan: Plan
    layout: Layout
    minutes: int
    spare: int
    biggest: int
    disliked: int


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
    """The plan of a layout, its cuts in the order that an offer of this name likes.

    Parameters
    ----------
    name : str
        Of the offer.
    model : Model
    units : sequence of Unit
    layout : Layout
    cutter : Cutter
    quick : bool
        Look at one way to cut each piece only.
    """
    draft, plan = drafted(model, units, layout, cutter, _LIKES[name], quick=quick)
    # without what no strip needs
    layout = draft.layout
    kept = [*draft.kept, *untouched(model, layout)]
    return Candidate(
        plan=plan,
        layout=layout,
        minutes=estimate_minutes(plan),
        spare=sum(kept),
        biggest=max(kept, default=0),
        disliked=disliked(model, units, layout),
    )


def disliked(model: Model, units: Sequence[Unit], layout: Layout) -> int:
    """How much of a layout comes from fabrics that its rows name later, see :class:`Candidate`.

    Parameters
    ----------
    model : Model
    units : sequence of Unit
    layout : Layout
    """
    total = 0
    for p in layout.placements:
        item = model.items[units[p.unit].item]
        total += p.w * p.l * item.preference[model.sheets[p.sheet].fabric]
    return total


def untouched(model: Model, layout: Layout) -> list[int]:
    """Areas of the pieces of the pile that a layout leaves whole (all cloth, also that not to be touched).

    Batting is no cloth.
    """
    used = {(p.sheet, p.copy) for p in layout.placements}
    batting = {fabric.name for fabric in model.job.fabrics if fabric.is_batting}
    cloth = [piece for piece in model.job.pieces if piece.fabric not in batting]
    areas = [piece.area for piece in cloth for _ in range(piece.count)]
    for s, _copy in used:
        piece = model.sheets[s].piece
        if piece is not None and piece.fabric not in batting:
            areas.remove(piece.area)
    return areas


def offers_of(found: Sequence[Candidate]) -> tuple[Offer, ...]:
    """The plans worth showing side by side: the thriftiest, and others only where they better it in their own way."""
    first = min(found, key=_order)
    best = as_offer(THRIFTIEST, first)
    as_complete = [c for c in found if lacking(c.plan)[0] == lacking(first.plan)[0]]
    as_cheap = [c for c in as_complete if c.layout.cost <= first.layout.cost]
    simplest = min(as_complete, key=lambda c: (c.minutes, c.layout.cost, -c.spare))
    biggest = max(as_cheap, key=lambda c: (_bigness(c.biggest, c.spare), -c.minutes))
    also: list[str] = []
    shown: list[Offer] = []
    for other in (as_offer(SIMPLEST, simplest), as_offer(BIGGEST, biggest)):
        if not betters(best, other):
            also.append(other.name)
        elif all(other.plan is not before.plan for before in shown):
            shown.append(other)
    return (replace(best, also=tuple(also)), *shown)


def _order(c: Candidate) -> tuple[float, ...]:
    """The less the better: what must be cut is missing, the money, what is wished for is missing, and then the rest."""
    must, wished = lacking(c.plan)
    best = as_offer(THRIFTIEST, c)
    return (must, c.layout.cost, wished, *after_money(best, c.disliked))


def after_money(offer: Offer, disliked: int) -> tuple[int, int, float]:
    """Which of two offers comes first that cost and lack the same: the fabrics named first, then the fewest joins.

    After these it is the minutes less what the spare cloth is worth; the less the better.
    """
    worth = offer.spare / _WORTH_A_CUT
    return disliked, offer.plan.totals.joins, offer.minutes - worth


def betters(first: Offer, other: Offer) -> bool:
    """Whether an offer is better than the first one in what it is named for."""
    if other.name == SIMPLEST:
        return other.minutes < first.minutes
    if other.name == BIGGEST:
        least = 1.02 * _bigness(first.biggest_spare, first.spare)
        return _bigness(other.biggest_spare, other.spare) > least
    return True


def _bigness(biggest: int, spare: int) -> float:
    return biggest + spare / 4


def lacking(plan: Plan) -> tuple[int, int]:
    """How many parts a plan is short of: of what must be cut, and of what is wished for."""
    job = plan.origin
    musts = [
        s.count
        for s in plan.short
        if job is not None and job.asked(s.for_).importance == "must"
    ]
    return sum(musts), sum(s.count for s in plan.short) - sum(musts)


def as_offer(name: str, c: Candidate) -> Offer:
    """A plan as it is shown beside others."""
    return Offer(
        name=name,
        plan=c.plan,
        minutes=c.minutes,
        spare=c.spare,
        biggest_spare=c.biggest,
    )
