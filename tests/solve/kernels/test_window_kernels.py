"""The window programme beside plain recursion over every cut, on grids drawn by chance."""

from __future__ import annotations

import random
from functools import cache

import numpy as np
import pytest

from cutopt.solve.kernels.loader import load


@pytest.mark.parametrize("compiled", [False, True])
@pytest.mark.parametrize("seed", range(10))
def test_windows_are_worth_what_every_cut_gives(seed: int, *, compiled: bool) -> None:
    rng = random.Random(seed)
    n = rng.randint(2, 6)
    m = rng.randint(2, 6)
    kernel = load("windows", compiled=compiled)
    plain = load("windows")
    single, v = np.zeros((2, n * n, m * (m - 1) // 2), dtype=np.int64)
    for k1 in range(n - 1):
        for k2 in range(k1 + 1, n):
            for j1 in range(m - 1):
                for j2 in range(j1 + 1, m):
                    worth = rng.choice((0, 0, 0, rng.randint(1, 30)))
                    single[plain.place(n, m, k1, k2, j1, j2)] = worth

    @cache
    def best(k1: int, k2: int, j1: int, j2: int) -> int:
        """The best part of a window or of one in it, or of two halves."""
        found = [int(single[plain.place(n, m, k1, k2, j1, j2)])]
        found += [best(k1, k, j1, j2) + best(k, k2, j1, j2) for k in range(k1 + 1, k2)]
        found += [best(k1, k2, j1, j) + best(k1, k2, j, j2) for j in range(j1 + 1, j2)]
        return max(found)

    kernel.fill(n, m, single, v)
    whole = best(0, n - 1, 0, m - 1)
    assert v[plain.place(n, m, 0, n - 1, 0, m - 1)] == whole
    stack, leaves = np.zeros((2, n * m + 2, 4), dtype=np.int64)
    count = kernel.trace(n, m, single, v, stack, leaves)
    parts = leaves[:count].tolist()
    assert sum(int(single[plain.place(n, m, *part)]) for part in parts) == whole
    taken = np.zeros((n - 1, m - 1), dtype=np.int64)
    for k1, k2, j1, j2 in parts:
        taken[k1:k2, j1:j2] += 1
    assert taken.max(initial=0) <= 1
