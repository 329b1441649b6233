"""Which segments a strip needs: those without which it is long enough all the same are not sewn to it.

Every join takes time and thread, and shows. The sum is that of the job: joins counted, segments as they are measured.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from typing import TypeVar

from cutopt.settings import Settings
from cutopt.solve.model.layout import BoughtSheet, Layout, Placement, Unit
from cutopt.solve.model.model import Model
from cutopt.strips import as_measured, sewn_length
from cutopt.wanted import Strip

T = TypeVar("T")


def suffices(row: Strip, settings: Settings, lengths: Sequence[int]) -> bool:
    """Whether segments, as they are measured, make the strip.

    Parameters
    ----------
    row : Strip
    settings : Settings
    lengths : sequence of int
        Of the segments, ticks.
    """
    if not lengths:
        return False
    if len(lengths) == 1:
        return lengths[0] >= row.total_length
    measured = [as_measured(long, settings) for long in lengths]
    return sewn_length(row, measured, settings) >= row.total_length


def take_needless(
    strip: list[T], length: Callable[[T], int], enough: Callable[[list[T]], bool]
) -> list[T]:
    """Take the segments from a strip that it does not need, the shortest first, and return them.

    Parameters
    ----------
    strip : list
        Its segments; changed in place.
    length : callable
        Of a segment, ticks.
    enough : callable
        Whether segments make the strip.
    """
    taken = []
    for segment in sorted(strip, key=length):
        rest = [other for other in strip if other is not segment]
        if not enough(rest):
            # without a longer one it would be shorter still
            break
        strip[:] = rest
        taken.append(segment)
    return taken


def without_needless(model: Model, units: Sequence[Unit], layout: Layout) -> Layout:
    """The layout without the segments that no strip needs, and without cloth bought for nothing else.

    Parameters
    ----------
    model : Model
    units : sequence of Unit
    layout : Layout
    """
    needless = set(_needless(model, units, layout.placements))
    if not needless:
        return layout
    stays = tuple(p for p in layout.placements if p not in needless)
    return keeping(model, layout, stays)


def keeping(model: Model, layout: Layout, stays: tuple[Placement, ...]) -> Layout:
    """The layout with no other parts than these, and without cloth bought for the others alone.

    Parameters
    ----------
    model : Model
    layout : Layout
    stays : tuple of Placement
    """
    used = {(p.sheet, p.copy) for p in stays}
    vain = [p for p in layout.purchases if (p.sheet, p.copy) not in used]
    return replace(
        layout,
        placements=stays,
        purchases=tuple(p for p in layout.purchases if p not in vain),
        cost=layout.cost - sum(_price(model, bought) for bought in vain),
    )


def _needless(
    model: Model, units: Sequence[Unit], placements: Sequence[Placement]
) -> Iterator[Placement]:
    """The segments that no strip needs."""
    strips: dict[int, list[Placement]] = defaultdict(list)
    for placement in placements:
        strips[placement.unit].append(placement)
    for unit, strip in strips.items():
        row = model.job.wanted[units[unit].item]
        if isinstance(row, Strip):
            enough = partial(_suffice, model, row)
            yield from take_needless(strip, partial(laid_length, model.step), enough)


def _suffice(model: Model, row: Strip, strip: Sequence[Placement]) -> bool:
    lengths = [laid_length(model.step, placement) for placement in strip]
    return suffices(row, model.job.settings, lengths)


def laid_length(step: int, placement: Placement) -> int:
    """How long a segment is as it is laid, ticks."""
    if placement.turned:
        return placement.w * step
    return placement.l * step


def _price(model: Model, bought: BoughtSheet) -> int:
    """What a purchase costs, as the search counts it."""
    sheet = model.sheets[bought.sheet]
    if sheet.ladder:
        return sheet.ladder[bought.rung].cost
    return sheet.cost


__all__ = ["keeping", "laid_length", "suffices", "take_needless", "without_needless"]
