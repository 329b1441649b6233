"""Perfect piles: a back cut up from edge to edge, allowances added to every part, shuffled and turned.

Sewn together again, all of the pile makes the back, so that nothing has to be bought.
"""

from __future__ import annotations

import random
from typing import Final, TypeAlias

from cutopt.fabric import Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.piecing import Back
from tests.solve.piecing.piles import FABRICS, GOODS, SIZES

PARTS: Final = range(4, 26)
_QUARTER: Final = INCH // 4
Size: TypeAlias = tuple[int, int]


def perfect(parts: int, seed: int = 0) -> Job:
    """A job whose pile makes its back with nothing left and nothing bought.

    Parameters
    ----------
    parts : int
        Into how many the back is cut.
    seed : int
        Another number gives another pile.
    """
    rnd = random.Random(f"perfect {parts} {seed}")
    width, length = SIZES[parts % len(SIZES)]
    back = Back(name="back", width=width * INCH, length=length * INCH)
    lost = 2 * back.rules.seam
    sizes = _cut_up(
        rnd, (back.width - lost, back.length - lost), parts, back.rules.smallest_part
    )
    rnd.shuffle(sizes)
    pieces = []
    for place, size in enumerate(sizes, start=1):
        across, along = rnd.sample([side + lost for side in size], 2)
        fabric = rnd.choice(FABRICS)
        pieces.append(Piece.of_size(f"p{place}", fabric, across, along))
    return Job(
        name=f"a back of {parts} parts",
        fabrics=tuple(Fabric(name=name) for name in FABRICS),
        pieces=tuple(pieces),
        shop=(GOODS,),
        backs=(back,),
    )


def _cut_up(rnd: random.Random, whole: Size, parts: int, least: int) -> list[Size]:
    """Parts as they show (seams taken off), each `least` wide or more; the largest is always cut next."""
    found = [whole]
    while len(found) < parts:
        found.sort(key=lambda size: size[0] * size[1])
        size = found.pop()
        # mostly across the longer side
        axis = int((size[1] > size[0]) == (rnd.random() < 0.8))
        low, high = (round(size[axis] * share) for share in (0.25, 0.75))
        low, high = max(low, least), min(high, size[axis] - least)
        at = rnd.randint(-(-low // _QUARTER), high // _QUARTER) * _QUARTER
        sides = (at, size[axis] - at)
        if axis == 0:
            found += [(side, size[1]) for side in sides]
        else:
            found += [(size[0], side) for side in sides]
    return found
