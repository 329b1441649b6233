"""Arguments from shares: large parts that cannot lie beside each other, whatever the plan.

A dual feasible function gives each width a share of the sheet's width so that parts side by side never have more
than the whole; the product of a share of the width and one of the length bounds what lies on a sheet (Fekete &
Schepers 2004, Mathematical Methods of Operations Research 60, 311-329). Shares are rounded down to whole numbers.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from cutopt.solve.bounds.cheapest_purchase import Argument
from cutopt.solve.bounds.pricing import all_worth, plain_values
from cutopt.solve.bounds.relaxed import Need, Relaxed, RelaxedCloth
from cutopt.solve.plates.plate_table import TURNED, UNTURNED, Ints

WHOLE = 1 << 20
_MOST_STEPS = 24
_KEPT = 6


def share_arguments(problem: Relaxed) -> list[Argument]:
    """The strongest arguments from shares of each size of sheet on sale, for needs without a pile."""
    if problem.pile:
        return []
    found: list[Argument] = []
    for source in {
        (s.w, s.l, s.ways): s for s in problem.shop if s.exclusive < 0
    }.values():
        found += [
            _argument(problem, source, prices)
            for prices in _best_prices(problem, source)
        ]
    for roll in {
        (s.w, s.ways, s.offer): s for s in problem.shop if s.exclusive >= 0
    }.values():
        found += [
            _roll_argument(problem, roll, prices)
            for prices in _best_roll_prices(problem, roll)
        ]
    return [argument for argument in found if argument.missing > 0]


def _argument(problem: Relaxed, source: RelaxedCloth, prices: list[int]) -> Argument:
    wanted = problem.wanted(prices)
    values = list(plain_values(problem, prices, wanted.most))
    for s, other in enumerate(problem.shop):
        if (
            other.w <= source.w
            and other.l <= source.l
            and _no_freer(problem, other, source)
        ):
            values[s] = min(values[s], WHOLE * WHOLE)
    needs = tuple(k for k, price in enumerate(prices) if price)
    dearest = problem.dearest(prices)
    return Argument(
        kind="shares", needs=needs, wanted=wanted, values=tuple(values), dearest=dearest
    )


def _roll_argument(problem: Relaxed, roll: RelaxedCloth, prices: list[int]) -> Argument:
    """Lengths of one width: across each line of it the shares are at most the whole."""
    by_ways = {
        source.ways: all_worth(problem, prices, source) for source in problem.shop
    }
    values = [by_ways[other.ways] for other in problem.shop]
    for s, other in enumerate(problem.shop):
        if other.w <= roll.w and _no_freer(problem, other, roll):
            values[s] = min(values[s], WHOLE * -(-other.l // problem.unit))
    needs = tuple(k for k, price in enumerate(prices) if price)
    wanted = problem.wanted(prices)
    dearest = problem.dearest(prices)
    return Argument(
        kind="shares", needs=needs, wanted=wanted, values=tuple(values), dearest=dearest
    )


def _best_roll_prices(problem: Relaxed, roll: RelaxedCloth) -> list[list[int]]:
    """Share of the width times length of each need, those first that ask for the most length."""
    needs = [
        (k, n)
        for k, n in enumerate(problem.needs)
        if not n.strip and problem.ways[roll.ways][k]
    ]
    if not needs or max(roll.l, roll.w) // problem.unit > WHOLE:
        return []
    sizes = np.unique([size for _, need in needs for size in (need.w, need.l)])
    w = np.array([need.w for _, need in needs], dtype=np.int64)
    length = np.array([need.l for _, need in needs], dtype=np.int64)
    ways = np.array([problem.ways[roll.ways][k] for k, _ in needs])
    lying = _shares(roll.w, w, sizes) * (length // problem.unit)
    standing = _shares(roll.w, length, sizes) * (w // problem.unit)
    lying = np.where(w > roll.w, standing, lying)
    standing = np.where(length > roll.w, lying, standing)
    worth = np.where(
        ways == UNTURNED,
        lying,
        np.where(ways == TURNED, standing, np.minimum(lying, standing)),
    )
    total = worth @ np.array([need.demand for _, need in needs], dtype=np.int64)
    found: list[list[int]] = []
    for row in np.argsort(-total, kind="stable")[:_KEPT].tolist():
        prices = [0] * len(problem.needs)
        for (k, _), price in zip(needs, worth[row].tolist(), strict=True):
            prices[k] = price
        found.append(prices)
    return found


def _no_freer(problem: Relaxed, other: RelaxedCloth, source: RelaxedCloth) -> bool:
    """Whether parts lie on `other` only in ways in which they may lie on `source`."""
    return all(
        a & ~b == 0
        for a, b in zip(
            problem.ways[other.ways], problem.ways[source.ways], strict=True
        )
    )


def _best_prices(problem: Relaxed, source: RelaxedCloth) -> list[list[int]]:
    """Products of shares, those first that ask for the most sheets."""
    needs = [
        (k, n)
        for k, n in enumerate(problem.needs)
        if not n.strip and problem.ways[source.ways][k]
    ]
    if not needs:
        return []
    turns = [problem.ways[source.ways][k] for k, _ in needs]
    unturned = _shares_of(source, needs)
    turned = _shares_of(source, needs, turned=True)
    demand = np.array([need.demand for _, need in needs], dtype=np.int64)
    ranked: list[tuple[int, int, int]] = []
    for i in range(len(unturned[0])):
        worth = _products(i, unturned, turned, turns)
        total = worth @ demand
        ranked += [(int(total[j]), i, j) for j in np.argsort(-total)[:_KEPT].tolist()]
    ranked.sort(reverse=True)
    found: list[list[int]] = []
    for _, i, j in ranked[:_KEPT]:
        prices = [0] * len(problem.needs)
        for (k, _), price in zip(
            needs, _products(i, unturned, turned, turns)[j].tolist(), strict=True
        ):
            prices[k] = price
        if prices not in found:
            found.append(prices)
    return found


def _products(
    i: int, unturned: tuple[Ints, Ints], turned: tuple[Ints, Ints], turns: Sequence[int]
) -> Ints:
    """For the i-th share of the width and each share of the length the price of each need: the least of its ways."""
    ways = np.array(turns)
    lying = unturned[0][i] * unturned[1]
    standing = turned[0][i] * turned[1]
    both = np.minimum(lying, standing)
    return np.asarray(
        np.where(ways == UNTURNED, lying, np.where(ways == TURNED, standing, both))
    )


def _shares_of(
    source: RelaxedCloth, needs: Sequence[tuple[int, Need]], *, turned: bool = False
) -> tuple[Ints, Ints]:
    """Shares of width and of length: a row for each function, a column for each need."""
    across = np.array(
        [need.l if turned else need.w for _, need in needs], dtype=np.int64
    )
    along = np.array(
        [need.w if turned else need.l for _, need in needs], dtype=np.int64
    )
    sizes = np.unique(np.concatenate([across, along]))
    return _shares(source.w, across, sizes), _shares(source.l, along, sizes)


def _shares(whole: int, sizes: Ints, steps: Ints) -> Ints:
    """All functions of a whole on these sizes; 0 where a size is larger."""
    fits = sizes <= whole
    x = np.where(fits, sizes, 0)
    straight = WHOLE * x // whole
    rows = [straight]
    for k in range(1, _MOST_STEPS):
        up = (k + 1) * x
        rows.append(np.where(up % whole == 0, straight, up // whole * WHOLE // k))
    for step in _steps(whole, steps):
        rows.append(np.where(x > whole - step, WHOLE, np.where(x < step, 0, straight)))
        parts = whole // step
        small = x // step * WHOLE // parts
        large = WHOLE - -(-((whole - x) // step * WHOLE) // parts)
        rows.append(
            np.where(2 * x > whole, large, np.where(2 * x == whole, WHOLE // 2, small))
        )
    return np.array(
        [np.where(fits, np.minimum(row, WHOLE), 0) for row in rows], dtype=np.int64
    )


def _steps(whole: int, sizes: Ints) -> list[int]:
    """Where a function may jump: at a size, or beside one."""
    tried = {
        int(v)
        for size in sizes.tolist()
        for v in (size, whole - size, whole - size + 1, size + 1)
    }
    return sorted(step for step in tried if 0 < 2 * step <= whole)
