"""Plates small enough for every way to cut them to be tried, and what a layout on one must be. All invented."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence

from hypothesis import strategies as st

from cutopt.solve.plates.plate_table import PlatePart, PlatePlacement, PlateTable


def by_hand(
    w: int, h: int, parts: list[PlatePart], memo: dict[tuple[int, int], int]
) -> int:
    """Every cut at every whole number, nothing thought of."""
    if (w, h) not in memo:
        best = max(
            (p.value for p in parts for pw, ph, _ in p.ways() if pw <= w and ph <= h),
            default=0,
        )
        for x in range(1, w // 2 + 1):
            best = max(
                best, by_hand(x, h, parts, memo) + by_hand(w - x, h, parts, memo)
            )
        for y in range(1, h // 2 + 1):
            best = max(
                best, by_hand(w, y, parts, memo) + by_hand(w, h - y, parts, memo)
            )
        memo[w, h] = best
    return memo[w, h]


parts_strategy = st.lists(
    st.builds(
        PlatePart,
        st.integers(1, 9),
        st.integers(1, 9),
        st.integers(1, 40),
        st.sampled_from([1, 2, 3]),
    ),
    min_size=1,
    max_size=5,
)


def check_layout(
    w: int,
    h: int,
    parts: list[PlatePart],
    placed: tuple[tuple[int, int, int, bool], ...],
) -> int:
    """Inside, apart, no more copies than allowed; the value."""
    boxes = []
    for k, x, y, turned in placed:
        assert parts[k].turns & (2 if turned else 1) or parts[k].w == parts[k].h
        pw, ph = (parts[k].h, parts[k].w) if turned else (parts[k].w, parts[k].h)
        boxes.append((x, y, x + pw, y + ph))
        assert x >= 0 <= y
        assert x + pw <= w
        assert y + ph <= h
    for n, a in enumerate(boxes):
        for b in boxes[:n]:
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
    for k, part in enumerate(parts):
        assert part.most < 0 or sum(p[0] == k for p in placed) <= part.most
    return sum(parts[k].value for k, *_ in placed)


def fronts(sizes: list[tuple[int, int]]) -> dict[int, set[tuple[int, int]]]:
    """For each set of parts (bits) the smallest plates that hold it, from joins of smaller sets."""
    boxes: dict[int, set[tuple[int, int]]] = {}
    for mask in range(1, 1 << len(sizes)):
        made = set()
        if mask & (mask - 1) == 0:
            w, h = sizes[mask.bit_length() - 1]
            made = {(w, h), (h, w)}
        sub = (mask - 1) & mask
        while sub > mask ^ sub:
            for w1, h1 in boxes[sub]:
                for w2, h2 in boxes[mask ^ sub]:
                    made |= {(w1 + w2, max(h1, h2)), (max(w1, w2), h1 + h2)}
            sub = (sub - 1) & mask
        boxes[mask] = {
            a
            for a in made
            if not any(b != a and b[0] <= a[0] and b[1] <= a[1] for b in made)
        }
    return boxes


def after(calls: int) -> Callable[[], bool]:
    """A stop at so many questions."""
    left = iter(range(calls))
    return lambda: next(left, None) is None


def random_plate(
    seed: int, *, by_area: bool = False
) -> tuple[int, int, list[PlatePart]]:
    rng = random.Random(seed)
    w = rng.randint(60, 120)
    h = rng.randint(60, 120)
    sizes = [(rng.randint(5, 40), rng.randint(5, 40)) for _ in range(6)]
    return (
        w,
        h,
        [
            PlatePart(
                a, b, a * b if by_area else rng.randint(20, 900), rng.choice([1, 3])
            )
            for a, b in sizes
        ],
    )


def middling(seed: int) -> tuple[int, int, list[PlatePart]]:
    """A plate that a few dozen sizes do not do justice to, and the exact table does."""
    rng = random.Random(seed)
    w = rng.randint(500, 800)
    h = rng.randint(500, 800)
    sizes = [(rng.randint(60, 250), rng.randint(60, 250)) for _ in range(12)]
    return w, h, [PlatePart(a, b, a * b + rng.randint(-2000, 2000)) for a, b in sizes]


FEW = {"_SIZES": 12, "_FEW": (8, 8), "_MANY": (24, 24), "_BEGUN": 2, "_QUIET": 3}


def best_plate(
    w: int, h: int, parts: Sequence[PlatePart]
) -> tuple[int, list[PlatePlacement]]:
    """The most value from one plate w x h, copies unlimited, and a plan that gives it.

    Parameters
    ----------
    w, h : int
        The plate.
    parts : sequence of PlatePart
    """
    table = PlateTable.for_parts(parts, (w, h), one_size=True)
    table.fill(parts)
    return table.value(w, h), table.layout(w, h)
