"""Parts laid on a cloth by hand: all of them, or none where somebody asks to stop meanwhile."""

from __future__ import annotations

from itertools import count

import numpy as np

from cutopt.lengths import INCH
from cutopt.solve.kernels import state as k
from cutopt.solve.kernels.search import open_pile
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.layout import Placement
from cutopt.solve.search.arrays import Arrays
from cutopt.solve.search.refill import lay
from tests.solve.small import cut, job, piece


def test_an_interrupt_while_parts_are_laid_changes_nothing() -> None:
    """At any of the cuts that free twelve squares, three beside four; without one all twelve lie there."""
    model = model_of(job(piece("pear", 9, 9), cut("square", 2, 2, 12)))
    arrays = Arrays.of(model)
    side = 2 * INCH // model.step
    squares = [
        Placement(
            sheet=0,
            copy=0,
            unit=0,
            x=side * n,
            y=side * m,
            w=side,
            l=side,
            turned=False,
        )
        for n in range(3)
        for m in range(4)
    ]
    state = arrays.state(1)
    open_pile(arrays.problem, state)
    root = int(state.inst[0, k.ROOT])
    before = [array.copy() for array in state]
    for most in count():
        asked = iter([False] * most + [True])
        if lay(arrays, state, root, squares, lambda asked=asked: next(asked, False)):
            break
        assert all(
            np.array_equal(array, old) for array, old in zip(state, before, strict=True)
        )
    assert most >= 11  # cuts free twelve squares
    assert state.rem[0] == 0
