"""Tumblers: shapes with two even slanted sides, of any slope, that are cut from strips by turns."""

from __future__ import annotations

from cutopt.errors import Problem
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.shapes.nested import trapezoid
from cutopt.quilt.shapes.sixty import InStrip
from cutopt.quilt.surds import Exact, exact, square_root


def tumbler(
    wide: Length,
    height: Length,
    narrow: Length,
    how: Conventions = DEFAULT,
    *,
    alike: bool = False,
) -> InStrip:
    """A tumbler of a finished wide edge B, narrow edge b and height h.

    Over its height h a slanted side runs (B - b) / 2 = e sideways, so a seam s moves it out by s √(h² + e²) / h along
    the strip. The wide edge, a seam further down, gains s e / h more at either end, the narrow one loses as much.

    Parameters
    ----------
    wide, narrow : finished width of its wide and its narrow edge
    height : finished
    how : seam, grid and ruler
    alike : all stand the same way, as a print does that has a top

    Raises
    ------
    Problem
        Where the narrow edge is not narrower than the wide one, or something is nothing.
    """
    long = how.read(wide, "wide")
    short = how.read(narrow, "narrow")
    high = how.read(height, "height")
    if not 0 < short < long:
        what = f"a tumbler {how.show(long)} wide cannot be {how.show(short)} at its narrow edge"
        raise Problem("narrow", what, "write less than its width")
    if high <= 0:
        raise Problem("height", "a tumbler has no height", "write its height")
    needed = high + 2 * how.seam
    strip = exact(how.cut_size(needed))
    # cut through the whole strip with the same slope
    slope = (long - short) / 2 / high
    out = how.seam * square_root((1 + slope * slope).plain)
    below = how.seam * slope
    low_edge = long + 2 * (out + below)
    nested = trapezoid(strip, low_edge, low_edge - 2 * strip * slope, alike=alike)
    if nested.corners[2][0] <= nested.corners[0][0]:
        raise Problem("narrow", "its narrow edge is next to nothing", "make it wider")
    return InStrip(
        kind="tumbler",
        nested=nested,
        side=long,
        height=high,
        needed=needed,
        row=(long + short) / 2,
        why=_why(high, needed, low_edge, strip, how),
    )


def _why(
    high: Exact, needed: Exact, wide: Exact, strip: Exact, how: Conventions
) -> str:
    told = f"{how.show(high)} high, + 2 x {how.show(how.seam)} = {how.show(needed)}"
    if strip != needed:
        told += f", strip {how.show(strip)}"
    return f"{told}; wide edge {how.show(wide)} as cut"


__all__ = ["tumbler"]
