"""The fabrics that a maker names first: what it costs to keep to them, and whether that is worth it to her."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import numpy as np

from cutopt.lengths import format_sale
from cutopt.result import Offer
from cutopt.solve.context import Context
from cutopt.solve.cuts.offers import (
    FAVOURITE,
    WEIGHTS,
    Candidate,
    after_money,
    as_offer,
    betters,
    disliked,
    lacking,
)
from cutopt.solve.kernels.state import W_COST, W_PREFERENCE
from cutopt.solve.model.layout import Layout
from cutopt.solve.model.weights import weigh
from cutopt.solve.plates.plate_table import Ints
from cutopt.solve.search.arrays import Arrays
from cutopt.solve.search.descent import EVERYTHING, NO_LIMIT, descend

_LESS_LIKED = weigh(must=0, preference=1)
# what a hundredth of money (a tick) counts while a share of it is weighed against a preference
_PENNY = 10**10


def less_liked(run: Context) -> int:
    """Cells of the best state that come from a fabric named later, times how many are named before it."""
    return run.engine.score(run.engine.best, _LESS_LIKED)


def seek(run: Context, share: float, sew_anew: Callable[[], object]) -> None:
    """Look for a plan that keeps to the fabrics named first, whatever it costs; else to as many as are worth it.

    Parameters
    ----------
    run : Context
    share : float
        Of the limit of the run, at which this ends.
    sew_anew : callable
        Makes the strips of the best plan of fewer segments.
    """
    engine = run.engine
    before = less_liked(run)
    if (
        not before
        or engine.missing()
        or run.meter.over(share)
        or engine.kernel is engine.plain
    ):
        return
    begun = run.meter.share
    keep = engine.arrays.state(run.seed)
    engine.copy(engine.best, keep)
    worth = int(engine.cost * run.job.settings.preference)
    most = engine.cost + worth
    _keep_to_first(run, _until(run, (begun + share) / 2))
    if less_liked(run) < before:
        dear = engine.cost > most
        if not dear:
            engine.reach(WEIGHTS[FAVOURITE], most, 3, _until(run, share))
        sew_anew()
        run.best_layouts[FAVOURITE] = engine.layout()
        if dear and worth:
            sloped = _sloped(worth, before)
            engine.reach(sloped, most, 3, _until(run, share))
            better = less_liked(run) < before and engine.score(
                engine.best, sloped
            ) < engine.score(keep, sloped)
            if better and engine.cost <= most:
                sew_anew()
                run.best_layouts[FAVOURITE] = engine.layout()
    engine.copy(keep, engine.best)


def _until(run: Context, share: float) -> Callable[[], bool]:
    return run.until(share, lambda: False, f"looking for the plan: {FAVOURITE}")


def _keep_to_first(run: Context, over: Callable[[], bool]) -> None:
    """Make the best state one in which all is cut from the fabrics named first, or as much as is found so."""
    engine = run.engine
    other = engine.beside(_first_only(engine.arrays))
    try:
        other.first()
        if other.missing():
            other.reach(
                EVERYTHING,
                NO_LIMIT,
                1,
                lambda: over() or not other.missing(),
                other.patience,
            )
        if other.missing():
            engine.reach(WEIGHTS[FAVOURITE], NO_LIMIT, 3, over)
        else:
            descend(other, lambda: run.bound, over)
            engine.copy(other.best, engine.best)
    finally:
        other.close()


def _first_only(arrays: Arrays) -> Arrays:
    """The same search, in which each row has only the fabric named first of those that hold a part of it."""
    turns = arrays.problem.turns.copy()
    fabrics = np.array([sheet.fabric for sheet in arrays.model.sheets])
    for unit, item in enumerate(arrays.items):
        ranks = np.array(item.preference)[fabrics]
        fits = turns[unit] > 0
        if fits.any():
            turns[unit, ranks > ranks[fits].min()] = 0
    return arrays.with_turns(turns)


def _sloped(worth: int, before: int) -> Ints:
    """Weights in which all that is less liked now counts as much money as the preference is worth."""
    weights = WEIGHTS[FAVOURITE].copy()
    weights[[W_COST, W_PREFERENCE]] = _PENNY, _PENNY * worth // before
    return weights


def with_favourite(
    run: Context, offers: tuple[Offer, ...], layouts: list[Layout], found: Candidate
) -> tuple[tuple[Offer, ...], list[Layout]]:
    """The offers with the one that keeps to the fabrics named first: before the others where it is worth its cost.

    What that costs, or saves where it is not, is told beside what the maker's rules cost.

    Parameters
    ----------
    offers, layouts : the thriftiest first
    """
    cheapest = layouts[0]
    kept = found.layout
    more = kept.cost - cheapest.cost
    offer = as_offer(FAVOURITE, found)
    if lacking(found.plan) > lacking(offers[0].plan):
        return offers, layouts
    if more <= 0:
        return _best_of_all(run, offers, layouts, found)
    first = more <= int(cheapest.cost * run.job.settings.preference)
    told = _told(run, cheapest, kept, first=first)
    if not told:
        return offers, layouts
    if first:
        much = f"costs {_amount(run, more)} more than"
    else:
        much = f"saves {_amount(run, more)} against"
    if first:
        other = "the cheapest plan found"
    else:
        other = "the plan that keeps to the fabrics named first"
    run.liked.append(f"{told}: that {much} {other}.")
    if first:
        return (offer, *offers), [kept, *layouts]
    return (*offers, offer), [*layouts, kept]


def _best_of_all(
    run: Context, offers: tuple[Offer, ...], layouts: list[Layout], found: Candidate
) -> tuple[tuple[Offer, ...], list[Layout]]:
    """The offers where the plan that keeps to the fabrics named first costs no more: it is the first, if it is better."""
    first = offers[0]
    now = disliked(run.model, run.units, layouts[0])
    offer = replace(as_offer(FAVOURITE, found), name=first.name, also=(FAVOURITE,))
    as_dear = found.layout.cost == layouts[0].cost
    if as_dear and after_money(offer, found.disliked) >= after_money(first, now):
        return offers, layouts
    others = zip(offers[1:], layouts[1:], strict=True)
    left = [(other, layout) for other, layout in others if betters(offer, other)]
    shown = (offer, *(other for other, _ in left))
    return shown, [found.layout, *(layout for _, layout in left)]


def _amount(run: Context, cost: int) -> str:
    settings = run.job.settings
    if run.model.priced:
        return f"{settings.currency}{Decimal(cost) / 100:.2f}"
    return format_sale(cost, settings.unit)


def _told(run: Context, cheapest: Layout, kept: Layout, *, first: bool) -> str:
    """The rows on which the two plans differ, with the fabrics that each is cut from in the plan that comes first."""
    ranks = _ranks(run, cheapest), _ranks(run, kept)
    if first:
        shown = ranks[1]
    else:
        shown = ranks[0]
    told = []
    for key, fabrics in ranks[0].items():
        if sum(fabrics.values()) > sum(ranks[1][key].values()):
            row = run.job.row(key)
            told.append(
                f"{row.name} ({'|'.join(row.fabrics)}) is cut from {' and '.join(shown[key])}"
            )
    return "; ".join(told)


def _ranks(run: Context, layout: Layout) -> dict[str, dict[str, int]]:
    """Of each row the fabrics that it is cut from, and how much they are less liked: area times rank."""
    ranks: dict[str, dict[str, int]] = defaultdict(lambda: defaultdict(int))
    for placement in layout.placements:
        item = run.model.items[run.units[placement.unit].item]
        fabric = run.model.sheets[placement.sheet].fabric
        area = placement.w * placement.l
        ranks[item.row.key][run.job.fabrics[fabric].name] += (
            area * item.preference[fabric]
        )
    return ranks
