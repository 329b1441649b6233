"""Blocks from knitted shirts, stiffened with interfacing before they are cut to size.

What is cut larger at first is common practice, no source (from memory); the sums are arithmetic identities.
"""

from __future__ import annotations

from cutopt.fabric import counted
from cutopt.quilt.cautions import FUSING
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import Exact
from cutopt.quilt.units import seams
from cutopt.quilt.wanted_parts import Made, Pair, a_cut


def shirt_blocks(
    name: str,
    size: tuple[Length, Length],
    count: int,
    of: Pair = (None, None),
    how: Conventions = DEFAULT,
) -> Made:
    """`count` blocks of a finished size: a shirt cut roughly, 1 in or 2.5 cm more on each side; interfacing half of it.

    Both are trimmed together to the finished size and its seams once they are fused.

    Parameters
    ----------
    name : of the rows
    size : finished width and length of a block
    count : how many blocks
    of : cloth of the shirts, and the interfacing, which is named, as it is no cloth that others are cut from
    how : seam and unit, and what is usual in it
    """
    counted("count", count)
    w = how.read(size[0], "size")
    h = how.read(size[1], "size")
    trimmed = w + 2 * how.seam, h + 2 * how.seam
    more = how.usual(None, "1", "2.5")
    told = f"finished {how.size(w, h)}, + {seams(how)} each way = {how.size(*trimmed)}"
    note = f"fuse, then trim to {how.size(*trimmed)}"
    rough = trimmed[0] + 2 * more, trimmed[1] + 2 * more
    inside = trimmed[0] + more, trimmed[1] + more
    rows = (
        a_cut(name, rough, count, _plus(told, more, rough, how), how, of[0], note),
        a_cut(
            f"{name} interfacing",
            inside,
            count,
            _plus(told, more / 2, inside, how),
            how,
            of[1],
            note,
        ),
    )
    return Made(wanted=rows, width=w, length=h, notes=(FUSING,))


def _plus(told: str, more: Exact, size: tuple[Exact, Exact], how: Conventions) -> str:
    """The sum of a size that is larger at first.

    Parameters
    ----------
    told : the sum of the size that it is trimmed to
    more : on each side
    size : as cut
    how : the unit
    """
    return f"{told}; + 2 x {how.show(more)} to trim = {how.size(*size)}"


__all__ = ["shirt_blocks"]
