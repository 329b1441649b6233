"""What is counted of a back: how much it shows, and how much of that the pile, the spare blocks and the shop can show.

What shows is counted as in :mod:`cutopt.solve.bounds.back_cloth`, with one allowance g for all seams. Where a seam that
meets a block takes less than others, two counts hold and both are taken. One counts all seams as if they took so
little. The other counts the usual seam: then each seam of length s that takes only q gives 2 (g - q) (s - 2 g) more,
and of those there are four round each block at most, each as long as what it divides.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import cached_property

from cutopt.cloth import cloth_of_piece
from cutopt.fabric import Piece
from cutopt.job import Job
from cutopt.piecing import LARGER, Back, SpareBlock
from cutopt.solve.bounds.back_cloth import PartRules
from cutopt.solve.bounds.back_shop import sources_of
from cutopt.solve.bounds.relaxed import RelaxedCloth


@dataclass(frozen=True, kw_only=True)
class BackCount:
    """One way to count a back; areas in square ticks.

    Parameters
    ----------
    job : Job
    back : Back
    rules : PartRules
        Their `seam` is what is counted of every seam.
    blocks : tuple of int
        What each spare block that may go in shows at most.
    more : int
        What seams give that take less than is counted.
    closed : collection of str
        Pieces of the pile that are not to be used.
    sharp : bool
        Whether slanting sides are looked at closely.
    """

    job: Job
    back: Back
    rules: PartRules
    blocks: tuple[int, ...] = ()
    more: int = 0
    closed: Collection[str] = frozenset()
    sharp: bool = False

    @property
    def wanted(self) -> int:
        """What the back shows."""
        lost = 2 * self.rules.seam
        return (self.back.width - lost) * (self.back.length - lost)

    @cached_property
    def pile(self) -> tuple[int, ...]:
        """What each piece of the pile shows at most, the most first."""
        found = []
        for piece in pieces_for(self.job, self.back, self.closed):
            fabric = self.job.fabric(piece.fabric)
            cloth = cloth_of_piece(piece, self.job.settings, fabric)
            shown = self.rules.of_cloth(cloth, sharp=self.sharp)
            found += [shown] * piece.count
        return tuple(sorted(found, reverse=True))

    @cached_property
    def is_short_of_parts(self) -> bool:
        """Whether no more parts than are wanted can be enough without one of cloth that is bought."""
        most = self.back.rules.fewest
        if most is None:
            return False
        return sum(self._parts[:most]) + self.more < self.wanted

    @cached_property
    def at_hand(self) -> int:
        """What pile and blocks show at most, where something has to be bought besides."""
        parts = self._parts
        if self.is_short_of_parts:
            # one part at least is of cloth that is bought
            parts = parts[: (self.back.rules.fewest or 1) - 1]
        return sum(parts) + self.more

    @cached_property
    def _parts(self) -> list[int]:
        return sorted((*self.pile, *self.blocks), reverse=True)

    @property
    def missing(self) -> int:
        """What has to be bought."""
        return self.wanted - self.at_hand

    @cached_property
    def shop(self) -> tuple[RelaxedCloth, ...]:
        """What may be bought: of cloth by length all that is sold up to what alone is enough."""
        names = self.job.allowed(self.back)
        found: list[RelaxedCloth] = []
        for number, offered in enumerate(self.job.shop):
            if offered.fabric in names:
                found += sources_of(self.job, number, self.value, self.missing)
        return tuple(found)

    def value(self, source: RelaxedCloth) -> int:
        """What a source of a shop shows at most."""
        return self.rules.of_box(source.w, source.l)

    @cached_property
    def values(self) -> tuple[int, ...]:
        """What each source of the shop shows at most."""
        return tuple(map(self.value, self.shop))


def counts_of(
    job: Job,
    back: Back,
    closed: Collection[str] = frozenset(),
    *,
    sharp: bool = False,
) -> Iterator[BackCount]:
    """All ways to count a back: one, or two where a seam beside a block takes less.

    Parameters
    ----------
    job : Job
    back : Back
    closed : collection of str
        Pieces of the pile that are not to be used.
    sharp : bool
        Whether slanting sides are looked at closely.
    """
    seam, beside = back.rules.seam, back.rules.block_seam
    blocks = [block for block in job.spare_blocks if back.may_take(block)]
    lowest = min(seam, beside) if blocks else seam
    # at an edge of the back a part has no seam
    least = back.rules.smallest_part + lowest
    for counted in sorted({lowest, seam}):
        allowance = min(counted, seam, least // 2)
        rules = PartRules(
            seam=allowance,
            least=least,
            longest=_longest(job, back) - 2 * allowance,
            step=job.settings.grid,
        )
        shown = tuple(
            shown_of_block(block, allowance)
            for block in blocks
            for _ in range(block.count)
        )
        gain = 2 * max(allowance - beside, 0)
        seams = sum(
            _seams_round(block, job, back)
            for block in blocks
            for _ in range(block.count)
        )
        yield BackCount(
            job=job,
            back=back,
            rules=rules,
            blocks=shown,
            more=gain * seams,
            closed=closed,
            sharp=sharp,
        )


def _longest(job: Job, back: Back) -> int:
    """The longest side that a part may have as cut."""
    return max(back.width, back.length) + LARGER[job.settings.unit]


def shown_of_block(block: SpareBlock, allowance: int) -> int:
    """What a block shows at most, with so much of a seam on all sides."""
    width, length = (side - 2 * allowance for side in (block.width, block.length))
    return max(width, 0) * max(length, 0)


def _seams_round(block: SpareBlock, job: Job, back: Back) -> int:
    """The length that the seams of all four sides of a block may have together.

    The first is as long as the back, the second and third divide what it leaves: a block lies off the edge. When
    three are sewn the last is as long as the block.
    """
    sides = [side + LARGER[job.settings.unit] for side in (back.width, back.length)]
    off = max(back.rules.overage - back.rules.block_seam, 0)
    return sum(sides) + max(sides) - 2 * off + max(block.width, block.length)


def pieces_for(
    job: Job, back: Back, closed: Collection[str] = frozenset()
) -> Iterator[Piece]:
    """The pieces of the pile that may go into a back.

    Parameters
    ----------
    job : Job
    back : Back
    closed : collection of str
        Names of pieces that are not to be used.
    """
    names = job.allowed(back)
    for piece in job.pieces:
        if piece.fabric not in names or piece.name in closed:
            continue
        if piece.wish == "do not touch":
            continue
        stands = job.fabric(piece.fabric).stands(upright=back.rules.upright)
        if piece.grain_known or not stands:
            yield piece
