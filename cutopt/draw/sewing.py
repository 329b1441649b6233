"""How a pieced backing is sewn, in words: a sentence for each seam."""

from __future__ import annotations

from typing import Final

from cutopt.quilt.backs.sewing_order import Seam, seams_in_order
from cutopt.quilt.backs.way import Way
from cutopt.quilt.conventions import Conventions

HOW_TOLD: Final = "Sizes as the back hangs, width first, from raw edge to raw edge."


def sewing_order(way: Way, how: Conventions) -> list[str]:
    """What is sewn to what, seam after seam, sizes as it hangs, width first, raw edges included; nothing of a back in one piece.

    Parameters
    ----------
    way : one way to piece a back
    how : the unit
    """
    seams = seams_in_order(way.sewn)
    return [_seam(seam, how, last=seam is seams[-1]) for seam in seams]


def _seam(seam: Seam, how: Conventions, *, last: bool) -> str:
    one, other = seam.one.side(seam.down), seam.other.side(seam.down)
    if seam.down:
        lies = "above"
    else:
        lies = "on the left"
    if last:
        gives = "the back"
    else:
        gives = seam.gives.name
    size = how.size(seam.gives.width, seam.gives.height)
    side = f"{how.show(min(one, other))} {how.unit} sides"
    if one != other:
        side += ", the longer trimmed to it"
    return (
        f"Sew {seam.one.name}, {lies}, to {seam.other.name} along their {side}: "
        f"now {gives}, {size}."
    )
