"""What the search makes small, by name: the array that `kernels/score.py` reads."""

from __future__ import annotations

import numpy as np

from cutopt.solve.kernels import state as k
from cutopt.solve.plates.plate_table import Ints


def weigh(
    *,
    must: int,
    nice: int = 0,
    left: int = 0,
    cost: int = 0,
    preference: int = 0,
    cut: int = 0,
    touched: int = 0,
    first: int = 0,
    spare: int = 0,
    segment: int = 0,
    mixed: int = 0,
) -> Ints:
    """Weights of a search.

    Parameters
    ----------
    must, nice, left : a cell that is missing of what must be cut, of what is nice, and of what is cut if cloth is left
    cost : one hundredth of money, or a tick where prices are missing; with 0 the search ends when no must is missing
    preference : a cell of a fabric that the maker likes less, for each place further down her list
    cut : a cut
    touched : a piece of cloth that is cut
    first : a free cell of a piece to be used first
    spare : taken off for a free window worth keeping, times its cells squared
    segment : a segment of a strip, which is a seam to sew
    mixed : a strip whose segments do not all lie one way
    """
    weights = np.zeros(k.WEIGHTS, dtype=np.int64)
    weights[[k.W_MUST, k.W_NICE, k.W_LEFT]] = must, nice, left
    weights[[k.W_COST, k.W_PREFERENCE]] = cost, preference
    weights[[k.W_CUT, k.W_TOUCHED, k.W_FIRST, k.W_SPARE]] = cut, touched, first, spare
    weights[[k.W_SEGMENT, k.W_MIXED]] = segment, mixed
    return weights


def only_completes(weights: Ints) -> bool:
    """Whether a search with these weights ends when nothing that must be cut is missing: money counts nothing."""
    return bool(weights[k.W_COST] == 0)
