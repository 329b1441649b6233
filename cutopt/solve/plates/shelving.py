"""A plate filled one part after the other, in many orders: a plan in a moment, where an exact search takes long."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import count

from cutopt.solve.plates.plate_table import PlatePart, PlatePlacement

# of a part in a free rectangle, some tenths of a second of plain Python
_TRIES = 20_000
_MOST_COPIES = 2_000
# by how much a part may move in the order, in proportion
_NOISE = 0.3

# x, y, width and height of what is left
Free = tuple[int, int, int, int]
# a key and the part, for each copy
Order = list[tuple[float, int]]


@dataclass(frozen=True, slots=True)
class Filled:
    """Parts on a plate, what they are worth, and how many tries that took."""

    value: int
    placements: tuple[PlatePlacement, ...]
    tries: int


def fill_plate(
    w: int,
    h: int,
    parts: Sequence[PlatePart],
    stop: Callable[[], bool] | None = None,
    seed: int = 0,
) -> Filled:
    """A good plan of a plate w x h by cuts from edge to edge, no part more often than `part.most` (below 0: as fits).

    The densest, the largest, the longest first; then orders near to the best one so far. The same on every machine
    where there is no `stop`.

    Parameters
    ----------
    w, h : int
        The plate.
    parts : sequence of PlatePart
    stop : callable, optional
        Asked after each order.
    seed : int
        Of the orders.

    Raises
    ------
    AssertionError
        Never: counting has no end.
    """
    chance = random.Random(seed)
    copies = _copies(w, h, parts)
    best = Filled(0, (), 0)
    keys = [0.0] * len(parts)
    tries = 0
    everything = sum(parts[k].value for k in copies)
    for number in count():
        tried = _keys(number, parts, keys, chance)
        order = sorted(
            (
                (tried[k] * (1 + _NOISE * chance.random() * (number > 4)), k)
                for k in copies
            ),
            reverse=True,
        )
        found = _fill(w, h, parts, order, slim=number % 2 == 1)
        tries += found.tries + 1
        if found.value > best.value:
            best = found
            keys = tried
        if best.value == everything or tries >= _TRIES or (stop is not None and stop()):
            return Filled(best.value, best.placements, tries)
    raise AssertionError("counting has no end")


def _copies(w: int, h: int, parts: Sequence[PlatePart]) -> list[int]:
    """The number of the part of each copy that could go on the plate; of very many the densest."""
    fitting = [
        k
        for k, part in enumerate(parts)
        if part.value > 0 and any(a <= w and b <= h for a, b, _ in part.ways())
    ]
    found: list[int] = []
    for k in sorted(fitting, key=lambda k: -parts[k].value / (parts[k].w * parts[k].h)):
        by_area = w * h // (parts[k].w * parts[k].h)
        found += [k] * (by_area if parts[k].most < 0 else min(parts[k].most, by_area))
    return found[:_MOST_COPIES]


def _keys(
    number: int, parts: Sequence[PlatePart], best: list[float], chance: random.Random
) -> list[float]:
    """What parts are taken by: the larger first."""
    rules: list[Callable[[PlatePart], float]] = [
        lambda part: part.value / (part.w * part.h),
        lambda part: part.value / (part.w * part.h),
        lambda part: part.w * part.h,
        lambda part: max(part.w, part.h),
        lambda part: part.value,
    ]
    if number < len(rules):
        return [rules[number](part) for part in parts]
    return [key * (1 + _NOISE * chance.random()) for key in best]


def _fill(
    w: int, h: int, parts: Sequence[PlatePart], order: Order, *, slim: bool
) -> Filled:
    """Each part into the free rectangle in which least is left beside it; what is left is cut in two.

    `slim`: so that the larger of both is as large as can be, else so that the cut is as short as can be.
    """
    free: list[Free] = [(0, 0, w, h)]
    placed: list[PlatePlacement] = []
    value = tries = 0
    for _, k in order:
        part = parts[k]
        best: tuple[int, int, int, int, bool] | None = None
        for number, (_, _, fw, fh) in enumerate(free):
            tries += 1
            for pw, ph, turned in part.ways():
                if pw <= fw and ph <= fh:
                    left = min(fw - pw, fh - ph)
                    if best is None or left < best[0]:
                        best = (left, number, pw, ph, turned)
        if best is not None:
            _, number, pw, ph, turned = best
            x, y, fw, fh = free.pop(number)
            free += _left((x, y, fw, fh), pw, ph, slim=slim)
            placed.append((k, x, y, turned))
            value += part.value
    return Filled(value, tuple(placed), tries)


def _left(free: Free, w: int, h: int, *, slim: bool) -> list[Free]:
    """What is left of a rectangle beside a part w x h in its lower left corner, in two rectangles or fewer."""
    x, y, fw, fh = free
    beside = fw - w
    above = fh - h
    larger = beside * fh >= above * fw
    shorter = beside >= above
    found = [(x, y + h, fw, above), (x + w, y, beside, h)]
    # a cut along the whole height
    if (slim and larger) or (not slim and shorter):
        found = [(x + w, y, beside, fh), (x, y + h, w, above)]
    return [rect for rect in found if rect[2] > 0 and rect[3] > 0]
