"""Rectangles cut apart beforehand, to be put together again on a length. All invented."""

from __future__ import annotations

import random
from collections import Counter

from cutopt.bench.instances import Instance, Stock, Wish
from cutopt.solve.plates.plate_table import UNTURNED, PlatePart


def split(w: int, h: int, parts: int, seed: int) -> list[PlatePart]:
    """A rectangle cut apart by straight cuts, as unlike parts."""
    dice = random.Random(seed)
    pieces = [(w, h)]
    while len(pieces) < parts:
        a, b = pieces.pop(
            max(
                range(len(pieces)),
                key=lambda k: pieces[k][0] * pieces[k][1] * dice.random(),
            )
        )
        along = dice.random() * (a + b) < a
        side = a if along else b
        at = (
            dice.randint(max(1, side // 4), max(1, side - side // 4)) if side > 1 else 0
        )
        if not 0 < at < side:
            pieces.append((a, b))
            continue
        pieces += [(at, b), (side - at, b)] if along else [(a, at), (a, side - at)]
    return [
        PlatePart(a, b, 0, UNTURNED, many)
        for (a, b), many in sorted(Counter(pieces).items())
    ]


def roll(seed: int, rest: int) -> Instance:
    """Parts of a rectangle 180 wide and 240 long, and `rest` squares of 53, three beside each other: no band."""
    items = tuple(
        Wish(w=p.w, h=p.h, most=p.most, value=1) for p in split(180, 240, 40, seed)
    )
    squares = (Wish(w=53, h=53, most=rest, value=1),) if rest else ()
    return Instance(
        family="own",
        name=f"roll{seed}",
        stock=(Stock(w=180, h=None, count=1, cost=1),),
        items=items + squares,
        rotate=False,
        objective="min length",
        known={"value": 240, "status": "optimal", "source": "construction"},
    )
