"""Backings of sheets and other goods by the piece, side by side and one above the other."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cutopt.fabric import ByPiece, Fabric
from cutopt.job import cost_of
from cutopt.quilt.backs.marks import there
from cutopt.quilt.backs.on_hand import scarce
from cutopt.quilt.backs.sewn import BackPart, row_of
from cutopt.quilt.backs.side import MOST_WIDTHS
from cutopt.quilt.backs.way import Run, Way
from cutopt.quilt.buying import shrunk
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import ZERO, exact
from cutopt.quilt.top import Needed
from cutopt.quilt.wanted_parts import joined_count


def whole_pieces(
    need: Needed,
    offered: ByPiece,
    fabric: Fabric,
    runs: Sequence[Run],
    how: Conventions,
) -> Iterable[Way]:
    """As few whole pieces as reach, in each direction.

    Parameters
    ----------
    need : the size to reach
    offered, fabric : the row of the shop, and what its cloth loses in the wash
    runs : in which directions the pieces may lie
    how : seam and unit
    """
    width = exact(there(shrunk(offered.each_width, fabric.shrink_across), how))
    length = exact(there(shrunk(offered.each_length, fabric.shrink_along), how))
    lost = 2 * how.back_seam
    for run in runs:
        w, h = (width, length) if run == "up" else (length, width)
        p = joined_count(need.width, w, lost)
        q = joined_count(need.length, h, lost)
        count = p * q
        if count > MOST_WIDTHS or (offered.most is not None and count > offered.most):
            continue
        reach = p * w - lost * (p - 1), q * h - lost * (q - 1)
        spare = reach[0] - need.width, reach[1] - need.length
        words = (scarce(spare[0], "across", how), scarce(spare[1], "along", how))
        price = cost_of(offered, 0, how.unit)
        if count == 1:
            kind = "one piece"
        else:
            kind = f"{count} pieces, {p} x {q}"
        piece = BackPart(width=w, height=h, what="piece")
        column = row_of((piece,) * q, True, how.back_seam)
        yield Way(
            fabric=offered.fabric,
            kind=kind,
            pattern=kind,
            run=run,
            sewn=row_of((column,) * p, False, how.back_seam),
            net=ZERO,
            bought=0,
            money=None if price is None else price * count,
            seams=(p - 1) * q + q - 1,
            joins=0,
            spare_across=spare[0],
            spare_along=spare[1],
            tight=", ".join(word for word in words if word),
            why=f"{p} across x {q} down of {how.size(w, h)} reach {how.size(*reach)}",
            pieces=count,
            offered=offered,
            tiles=(p, q),
        )
