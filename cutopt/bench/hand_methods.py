"""Two hands at work on a whole job, to measure plans against: `python -m cutopt.bench.hand_methods FOLDER`.

*Strip method*: everything is bought, each size in strips across the fabric, the shorter of both directions.
*Careful hand*: the largest upright rectangle of every leftover first; parts longest first, each from the smallest
rectangle that holds it (fabrics in order of preference), what is left beside and above it kept from 1 1/2 in up; only
then strips from the shop. Common practice, no source. Both reckon in grid steps and buy one length a fabric,
shrunk, squared up and rounded up once, as a plan does.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

import numpy as np

from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.solve.bounds.off_grid import roomiest
from cutopt.solve.model.model import Item, Model, Sheet
from cutopt.solve.plates.plate_table import TURNED, UNTURNED

SMALLEST_END = 3 * INCH // 2


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """A rectangle at hand, in steps, and the sheet that it comes from."""

    w: int
    l: int
    sheet: Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class HandPlan:
    """What a hand pays, the length it buys of each fabric in ticks, and parts that no shop sells cloth for."""

    cost: Decimal
    bought: dict[str, int]
    missing: int


def strip_method(job: Job) -> HandPlan:
    """Everything from the shop."""
    model = roomiest(job)
    return _buy(
        model,
        [
            (item, item.need * item.copies if item.strip else item.copies)
            for item in _musts(model)
        ],
    )


def careful_hand(job: Job) -> HandPlan:
    """From the pile what a careful person finds there, the rest from the shop."""
    model = roomiest(job)
    least = -(-SMALLEST_END // model.step)
    ends = [end for sheet in model.sheets for end in _ends(sheet)]
    left: list[tuple[Item, int]] = []
    for item in sorted(
        _musts(model), key=lambda item: (-max(item.w, item.l), -min(item.w, item.l))
    ):
        if item.strip:
            take = _strip_from_ends
        else:
            take = _cuts_from_ends
        left.append((item, take(item, ends, least)))
    return _buy(model, left)


def _musts(model: Model) -> list[Item]:
    return [item for item in model.items if item.rank == 0]


def _ends(sheet: Sheet) -> Iterator[End]:
    if sheet.offered is None and sheet.wish != "keep whole":
        w, l = largest_rectangle(sheet)
        yield from [End(w=w, l=l, sheet=sheet)] * sheet.copies


def largest_rectangle(sheet: Sheet) -> tuple[int, int]:
    """Columns and rows of the largest upright rectangle of usable cells (largest rectangle under a histogram)."""
    if sheet.cells is None:
        return sheet.cols, sheet.rows
    best = (0, 0)
    heights = np.zeros(sheet.cols, dtype=np.int64)
    for row in range(sheet.rows):
        heights = np.where(sheet.cells[:, row], heights + 1, 0)
        open_bars: list[tuple[int, int]] = []
        for column, height in enumerate([*heights.tolist(), 0]):
            start = column
            while open_bars and open_bars[-1][1] >= height:
                start, high = open_bars.pop()
                best = max(
                    best, (column - start, high), key=lambda size: size[0] * size[1]
                )
            open_bars.append((start, height))
    return best


def _ways(item: Item, sheet: Sheet) -> list[tuple[int, int]]:
    turns = sheet.turns(item)
    return [
        size
        for bit, size in ((UNTURNED, (item.w, item.l)), (TURNED, (item.l, item.w)))
        if turns & bit
    ]


def _cuts_from_ends(item: Item, ends: list[End], least: int) -> int:
    """Cut as many as the ends give; how many are still wanted."""
    for done in range(item.copies):
        fits = [
            (item.preference[end.sheet.fabric], end.w * end.l, k, size)
            for k, end in enumerate(ends)
            for size in _ways(item, end.sheet)
            if size[0] <= end.w and size[1] <= end.l
        ]
        if not fits:
            return item.copies - done
        *_, k, (w, l) = min(fits)
        _cut_off(ends, k, w, l, least)
    return 0


def _cut_off(ends: list[End], k: int, w: int, l: int, least: int) -> None:
    """Take a corner of an end; the longer of its two remains is kept whole."""
    end = ends.pop(k)
    beside = (end.w - w, end.l)
    above = (w, end.l - l)
    if (end.w - w) * l < (end.l - l) * w:
        beside = (end.w - w, l)
        above = (end.w, end.l - l)
    ends += [
        End(w=a, l=b, sheet=end.sheet) for a, b in (beside, above) if min(a, b) >= least
    ]


def _strip_from_ends(item: Item, ends: list[End], least: int) -> int:
    """Take segments, the longest first, until every strip is long enough; the length still wanted (all strips)."""
    need = item.need * item.copies
    while need > 0:
        found = [
            (end.l if bit == UNTURNED else end.w, k, bit)
            for k, end in enumerate(ends)
            for bit in (UNTURNED, TURNED)
            if end.sheet.turns(item) & bit
            and (end.w if bit == UNTURNED else end.l) >= item.w
        ]
        long, k, bit = max(found, default=(0, 0, 0))
        if long < item.l:
            break
        size = min(long, need + item.loss)
        _cut_off(
            ends, k, *((item.w, size) if bit == UNTURNED else (size, item.w)), least
        )
        need -= size - item.loss
    return max(need, 0)


def _buy(model: Model, left: list[tuple[Item, int]]) -> HandPlan:
    """Strips across the fabric for what is left, of the preferred fabric that a shop sells enough of by length."""
    rows: dict[int, int] = defaultdict(int)
    missing = 0
    shop = [(k, sheet) for k, sheet in enumerate(model.sheets) if sheet.ladder]
    for item, count in left:
        if not count:
            continue
        found = [
            (item.preference[sheet.fabric], sheet.cols, k, high)
            for k, sheet in shop
            for high in _height(item, count, sheet)
            if rows[k] + high <= sheet.rows
        ]
        if found:
            _, _, k, high = min(found)
            rows[k] += high
        else:
            missing += count
    cost = 0
    bought = {}
    for k, high in rows.items():
        sheet = model.sheets[k]
        if not high:
            continue
        rung = next(rung for rung in sheet.ladder if rung.rows >= high)
        cost += rung.cost
        bought[model.job.fabrics[sheet.fabric].name] = rung.sold
    return HandPlan(
        cost=Decimal(cost) / 100 if model.priced else Decimal(cost),
        bought=bought,
        missing=missing,
    )


def _height(item: Item, count: int, sheet: Sheet) -> list[int]:
    """Rows that strips across this fabric take for so many parts (or so much length of a strip), the least first."""
    if item.strip:
        across = sheet.cols - item.loss
        turns = sheet.turns(item) & TURNED
        if turns and across > 0:
            return [item.w * -(-count // across)]
        return []
    ways = [
        -(-count // (sheet.cols // across)) * high
        for across, high in _ways(item, sheet)
        if across <= sheet.cols
    ]
    return sorted(ways)[:1]


def main(folders: list[str]) -> None:
    """Print both hands' purchases for each folder."""
    from cutopt.tables import read_job

    for folder in folders:
        job = read_job(folder)
        for name, hand in (
            ("strip method", strip_method(job)),
            ("careful hand", careful_hand(job)),
        ):
            lengths = ", ".join(
                f"{length / INCH:g} in {fabric}"
                for fabric, length in sorted(hand.bought.items())
            )
            sys.stdout.write(
                f"{folder}: {name}: {hand.cost}, {lengths}, {hand.missing} parts nowhere on sale\n"
            )


if __name__ == "__main__":
    main(sys.argv[1:])
