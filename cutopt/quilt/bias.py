"""Strips cut on the bias: from a continuous tube, or singly from a square.

Bias is cut from cloth that the plan gives as a square; the strips themselves are cut by hand, along its diagonal.
"""

from __future__ import annotations

from math import isqrt

from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.surds import ROOT2, Exact, Number, ceil_to, exact, how_often, larger


def tube_length(square: Number, width: Number, how: Conventions = DEFAULT) -> Exact:
    """Length of a continuous bias binding from a square A: k√2 (A - 3s), k = floor((A - s)/(w√2)) whole widths.

    Cut once on the diagonal and rejoined, the square loses s on the joined leg; the seam of the tube takes 2s.

    Parameters
    ----------
    square : its side, ticks
    width : of the binding as cut, ticks
    how : seam
    """
    a = exact(square)
    k = how_often(a - how.seam, exact(width) * ROOT2)
    return k * ROOT2 * (a - 3 * how.seam)


def tube_square(total: Number, width: Number, how: Conventions = DEFAULT) -> Exact:
    """The smallest square, on `tube_step`, whose tube reaches `total`.

    Parameters
    ----------
    total : length to reach, ticks
    width : of the binding as cut, ticks
    how : seam, and the step of the square
    """
    step = exact(how.tube_step)
    n = _least_steps(total, width, how)
    while tube_length(n * step, width, how) < total:
        n += 1
    return n * step


def rough_square_squared(total: Number, width: Number) -> Exact:
    """Area of the square of the rough rule A = √(length x width), which forgets every seam."""
    return exact(total) * width


def _least_steps(total: Number, width: Number, how: Conventions) -> int:
    """Steps of a square below which none reaches the total: the rough rule, less one."""
    step = exact(how.tube_step)
    n = (rough_square_squared(total, width) / (step * step)).__floor__()
    return max(1, isqrt(max(1, n)) - 1)


def bias_strips(square: Number, width: Number, how: Conventions = DEFAULT) -> int:
    """How many strips of a width lie on either side of the diagonal of a square, none shorter than is joined.

    The i-th is A√2 - (2i - 1)w long on its centre line.

    Parameters
    ----------
    square : its side, ticks
    width : of a strip as cut, ticks
    how : the shortest segment of a binding
    """
    w = exact(width)
    least = larger(how.binding_shortest, w)
    room = exact(square) * ROOT2 + w - least
    return max(0, how_often(room, 2 * w)) if room > 0 else 0


def bias_reach(square: Number, width: Number, how: Conventions = DEFAULT) -> Exact:
    """Length of bias strips cut singly from a square and joined: 2(kA√2 - k²w) less 2s√2 for each of 2k - 1 joins.

    On either side of the diagonal lie k strips; their ends are slanted already, and every other one is turned
    (arithmetic identity).

    Parameters
    ----------
    square : its side, ticks
    width : of a strip as cut, ticks
    how : seam, and the shortest segment
    """
    k = bias_strips(square, width, how)
    if not k:
        return exact(0)
    long = exact(square) * ROOT2
    return 2 * (k * long - k * k * exact(width)) - (2 * k - 1) * 2 * how.seam * ROOT2


def bias_square(total: Number, width: Number, how: Conventions = DEFAULT) -> Exact:
    """The smallest square, on `tube_step`, whose bias strips reach `total`.

    Parameters
    ----------
    total : length to reach, ticks
    width : of a strip as cut, ticks
    how : seam, the shortest segment, and the step of the square
    """
    n = _least_steps(total, width, how)
    while bias_reach(n * exact(how.tube_step), width, how) < total:
        n += 1
    return n * exact(how.tube_step)


def crosswise(bias_width: Number) -> Exact:
    """Width of a bias strip measured along the straight grain: w√2."""
    return exact(bias_width) * ROOT2


def rounded_tube(total: Number, width: Number, step: Number) -> Exact:
    """The square by the rough rule, up to a step: the smallest with A² >= length x width.

    Parameters
    ----------
    total : length to reach, ticks
    width : of the binding as cut, ticks
    step : up to which the side is rounded, ticks
    """
    area = rough_square_squared(total, width)
    side = ceil_to(isqrt(area.__ceil__()), step)
    while side * side < area:
        side = side + step
    return side
