"""A set covering model that takes SCIP seconds. Invented numbers."""

from __future__ import annotations

import random
from typing import Any

from cutopt.solve.cpsat import mip


def covering_model(rows: int, columns: int) -> Any:
    """Each row covered by some of the columns, which have prices: the linear programme alone takes seconds."""
    rng = random.Random(1)
    model = mip()
    covers: list[list[Any]] = [[] for _ in range(rows)]
    prices = []
    for _ in range(columns):
        column = model.BoolVar("")
        for row in rng.sample(range(rows), min(rows, 12)):
            covers[row].append(column)
        prices.append((20 + rng.randrange(100)) * column)
    for row in covers:
        model.Add(model.Sum(row) >= 1)
    model.Minimize(model.Sum(prices))
    return model
