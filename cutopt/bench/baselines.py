"""What the solver is measured against: the strip method of the cutting table, and a general packing library."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Any, TypeAlias

from cutopt.bench.instances import Instance, Wish

_ENDLESS = 10**9
# parts, or all, that the packing library is offered where it may take any number of each
_FEW = (1, 3, 10, 40, None)

# width, height, number of the item
PackedRect: TypeAlias = tuple[int, int, int]


def strip_method(instance: Instance) -> int | None:
    """Value of strips of one size each, cut across a sheet and sub-cut (common practice, no source).

    The tallest strips first, or those of the most value by area; nothing is taken from the end of another size's
    strip. Sheets are taken in order of price by area, the first that holds the tallest strip left. None where
    the sheets run out.
    """
    left = [item.most if item.most is not None else _ENDLESS for item in instance.items]
    ways = [_best_way(instance, item) for item in instance.items]
    by_value = instance.objective == "max value"
    order = sorted(
        range(len(left)),
        key=lambda k: (
            -instance.items[k].value / (ways[k][0] * ways[k][1]) if by_value else 0,
            -ways[k][1],
        ),
    )
    sheets = _sheets(instance)
    total = 0
    while any(left[k] for k in order):
        sheet = next(sheets, None)
        if sheet is None:
            if by_value:
                return total
            return None
        w, h, cost = sheet
        used, worth = _one_sheet(instance, w, h, order, ways, left)
        if used:
            total += {"max value": worth, "min length": used}.get(
                instance.objective, cost
            )
    return total


def _best_way(instance: Instance, item: Wish) -> tuple[int, int]:
    """How a size lies: where it may turn, the way that takes less length for all its copies, across first."""
    ways = [(item.w, item.h)] + ([(item.h, item.w)] if instance.rotate else [])
    width = max(stock.w for stock in instance.stock)
    copies = item.most or 1
    fitting = [way for way in ways if way[0] <= width] or ways[:1]
    return min(
        fitting,
        key=lambda way: (-(-copies // max(1, width // way[0])) * way[1], way[1]),
    )


def _sheets(instance: Instance) -> Iterator[tuple[int, int, int]]:
    """Width, height and cost of the sheets in the order in which they are taken."""
    for stock in sorted(instance.stock, key=lambda s: s.cost / (s.w * (s.h or 1))):
        if stock.h is not None:
            height = stock.h
        else:
            height = _ENDLESS
        if instance.objective != "min stock":
            most = 1
        else:
            most = stock.count or _ENDLESS
        for _ in range(min(most, sum(item.most or 0 for item in instance.items) or 1)):
            yield stock.w, height, stock.cost


def _one_sheet(
    instance: Instance,
    w: int,
    h: int,
    order: Sequence[int],
    ways: Sequence[tuple[int, int]],
    left: list[int],
) -> tuple[int, int]:
    """Fill one sheet with strips; the height used and the value cut."""
    used = worth = 0
    for k in order:
        pw, ph = ways[k]
        while left[k] and w >= pw and used + ph <= h:
            taken = min(left[k], w // pw)
            left[k], used, worth = (
                left[k] - taken,
                used + ph,
                worth + taken * instance.items[k].value,
            )
    return used, worth


def packing_library(instance: Instance, seconds: float) -> int | None:
    """The best of all guillotine variants of `rectpack` that finish in time; None without it or without a result."""
    try:
        import rectpack
        from rectpack import guillotine
    except ImportError:
        return None
    end = time.perf_counter() + seconds
    best = None
    names = [
        f"Guillotine{fit}{rule}"
        for fit, rule in product(
            ("Baf", "Bssf", "Blsf"), ("Sas", "Las", "Slas", "Llas", "Maxas", "Minas")
        )
    ]
    orders = [rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_NONE]
    pack = {
        "max value": _packed_value,
        "min stock": _packed_cost,
        "min length": _packed_length,
    }[instance.objective]
    for name, order in product(names, orders):
        if time.perf_counter() > end:
            break
        found = pack(
            instance,
            _Variant(algorithm=getattr(guillotine, name), order=order),
            best,
            end,
        )
        if found is not None and (best is None or (found - best) * instance.better > 0):
            best = found
    return best


@dataclass(frozen=True, slots=True, kw_only=True)
class _Variant:
    """How `rectpack` chooses a place, and in which order it takes rectangles (width, height, number)."""

    algorithm: Callable[..., Any]
    order: Callable[[Sequence[PackedRect]], list[PackedRect]]

    def packer(self, instance: Instance) -> Any:
        """A packer that knows all items of an instance, all of which have a number of copies."""
        import rectpack

        packer = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline,
            bin_algo=rectpack.PackingBin.BFF,
            pack_algo=self.algorithm,
            sort_algo=self.order,
            rotation=instance.rotate,
        )
        for k, item in enumerate(instance.items):
            for _ in range(item.most or 0):
                packer.add_rect(item.w, item.h, rid=k)
        return packer


def _packed_value(
    instance: Instance, variant: _Variant, _best: int | None, end: float
) -> int:
    """The most that the sheet takes; where copies are unlimited of the best parts by value for area, few or many."""
    parts = [(item.w, item.h, k) for k, item in enumerate(instance.items)]
    parts.sort(key=lambda part: -instance.items[part[2]].value / (part[0] * part[1]))
    unlimited = any(item.most is None for item in instance.items)
    if unlimited:
        chosen = [parts[:few] for few in _FEW]
    else:
        chosen = [parts]
    return max(
        _on_sheet(instance, variant, variant.order(some), end) for some in chosen
    )


def _on_sheet(
    instance: Instance, variant: _Variant, parts: Sequence[PackedRect], end: float
) -> int:
    """What a sheet is worth on which one part after the other is laid as often as it goes, until time is up."""
    stock = instance.stock[0]
    sheet = variant.algorithm(stock.w, stock.h, instance.rotate)
    worth = 0
    for w, h, k in parts:
        item = instance.items[k]
        for _ in range(_ENDLESS if item.most is None else item.most):
            if sheet.add_rect(w, h) is None or time.perf_counter() > end:
                # nothing has changed for the next copy
                break
            worth += item.value
    return worth


def _packed_cost(
    instance: Instance, variant: _Variant, _best: int | None, _end: float
) -> int | None:
    packer = variant.packer(instance)
    count = sum(item.most or 0 for item in instance.items)
    for number, stock in enumerate(
        sorted(instance.stock, key=lambda s: s.cost / (s.w * (s.h or 1)))
    ):
        packer.add_bin(
            stock.w, stock.h, count=stock.count or count, bid=(number, stock.cost)
        )
    packer.pack()
    if len(packer.rect_list()) < count:
        return None
    return int(sum(sheet.bid[1] for sheet in packer if len(sheet)))


def _packed_length(
    instance: Instance, variant: _Variant, best: int | None, _end: float
) -> int | None:
    """Shorten the roll below the best so far as long as everything still goes on it."""
    found = None
    limit = (best or sum(item.h * (item.most or 0) for item in instance.items) + 1) - 1
    while True:
        packer = variant.packer(instance)
        packer.add_bin(instance.stock[0].w, limit)
        packer.pack()
        placed = packer.rect_list()
        if len(placed) < sum(item.most or 0 for item in instance.items):
            return found
        found = max(int(y + h) for _, _, y, _, h, _ in placed)
        limit = found - 1
