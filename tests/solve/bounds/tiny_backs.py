"""Backs so small that all ways to make them can be gone through, for bounds to be judged by."""

from __future__ import annotations

import random
from dataclasses import dataclass
from decimal import Decimal

from cutopt.fabric import ByLength, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.piecing import Back, BackRules, BlockWish, SpareBlock
from cutopt.settings import Settings
from cutopt.solve.bounds.back_bound import least_to_buy
from tests.solve.piecing.every_back import EveryBack, Parts, Size, can_be_had

UNIT = INCH // 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiny:
    """A back so small that all ways to make it can be gone through; sizes in units."""

    size: Size
    seam: int
    least: int
    usable: int
    pile: tuple[Size, ...]
    blocks: tuple[Size, ...] = ()
    block_seam: int = 1
    overage: int = 0
    most_parts: int | None = None

    @property
    def job(self) -> Job:
        """As a job; a step of the sale is two units, which cost 1.00."""
        rules = BackRules(
            seam=self.seam * UNIT,
            block_seam=self.block_seam * UNIT,
            overage=self.overage * UNIT,
            smallest_part=self.least * UNIT,
            most_parts=self.most_parts,
        )
        back = Back(
            name="back",
            width=self.size[0] * UNIT,
            length=self.size[1] * UNIT,
            blocks=(BlockWish(name="any"),) if self.blocks else (),
            rules=rules,
        )
        return Job(
            settings=Settings(square_up_end=0),
            fabrics=(Fabric(name="oat"),),
            pieces=tuple(
                Piece.of_size(f"p{k}", "oat", w * UNIT, l * UNIT)
                for k, (w, l) in enumerate(self.pile)
            ),
            shop=(
                ByLength(
                    fabric="oat",
                    usable_width=self.usable * UNIT,
                    sold_by=2 * UNIT,
                    price=Decimal(36),
                ),
            ),
            backs=(back,),
            spare_blocks=tuple(
                SpareBlock(name=f"b{k}", width=w * UNIT, length=l * UNIT)
                for k, (w, l) in enumerate(self.blocks)
            ),
        )

    @property
    def bound(self) -> int:
        """Steps of the sale that no back can do without."""
        found = least_to_buy(self.job, self.job.backs[0])
        assert found.possible
        assert bool(found.because) == (found.cost > 0)
        return found.cost // 100

    def parts(self, most: int) -> set[Parts]:
        """What has to be cut for each back of so few parts."""
        every = EveryBack(
            size=self.size,
            seam=self.seam,
            least=self.least,
            most=min(most, self.most_parts or most),
            block_seam=self.block_seam,
            blocks=self.blocks,
            overage=self.overage,
        )
        return every.parts()

    def fewest_steps(self, most: int) -> int | None:
        """Steps of the sale for the cheapest of all backs of so few parts; None beyond twice the length of the back."""
        backs = sorted(self.parts(most), key=lambda parts: (len(parts), parts))
        for steps in range(self.size[1] + 1):
            new = (self.usable, 2 * steps) if steps else None
            if any(can_be_had(parts, self.pile, new) for parts in backs):
                return steps
        return None


def drawn(seed: int) -> Tiny:
    """A back with a pile of one to three rectangles."""
    rnd = random.Random(seed)
    size = (rnd.randint(8, 10), rnd.randint(8, 11))
    pile = tuple(
        (rnd.randint(3, 9), rnd.randint(3, 11)) for _ in range(rnd.randint(1, 3))
    )
    return Tiny(
        size=size,
        seam=1,
        least=rnd.choice((1, 2, 2)),
        usable=rnd.randint(6, 12),
        pile=pile,
        most_parts=rnd.choice((None, None, 2, 3)),
    )


def with_block(seed: int) -> Tiny:
    """A back into which one or two blocks may go, with another allowance than the other seams have."""
    rnd = random.Random(f"block {seed}")
    size = (rnd.randint(8, 10), rnd.randint(8, 10))
    blocks = tuple(
        (rnd.randint(3, 6), rnd.randint(3, 6)) for _ in range(rnd.choice((1, 1, 2)))
    )
    seams = rnd.choice(((2, 1), (1, 2)))
    return Tiny(
        size=size,
        seam=seams[0],
        block_seam=seams[1],
        least=2,
        usable=rnd.randint(6, 12),
        pile=tuple((rnd.randint(4, 9), rnd.randint(4, 11)) for _ in range(2)),
        blocks=blocks,
        overage=1,
    )
