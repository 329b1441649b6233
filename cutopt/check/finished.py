"""A back that is in one piece: is it what was asked? A rule is a function; :data:`RULES` are all of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final, TypeAlias

from cutopt.check.laid import AXES, Laid, Sewn, Size
from cutopt.fabric import Fabric
from cutopt.fabric_words import answers_to
from cutopt.geometry import Number
from cutopt.job import Job
from cutopt.lengths import exact_length
from cutopt.piecing import LARGER, MIDDLE, MIDDLE_SHARE, Back, SpareBlock
from cutopt.plan import Seam

_RUNS: Final = ("up", "across")
_SIDES: Final = ("wide", "long")


@dataclass(frozen=True, slots=True, kw_only=True)
class Finished:
    """A back that is in one piece."""

    job: Job
    back: Back
    sewn: Sewn

    @property
    def cloth(self) -> list[tuple[Laid, Fabric]]:
        """Its parts that are cut."""
        laid = self.sewn.laid
        return [(each, each.what) for each in laid if isinstance(each.what, Fabric)]

    @property
    def blocks(self) -> list[tuple[Laid, SpareBlock]]:
        """Its spare blocks."""
        laid = self.sewn.laid
        return [(each, each.what) for each in laid if isinstance(each.what, SpareBlock)]

    @property
    def seams(self) -> list[tuple[Laid, Seam]]:
        """Its seams."""
        laid = self.sewn.laid
        return [(each, each.what) for each in laid if isinstance(each.what, Seam)]

    @property
    def more(self) -> Size:
        """By how much it is larger than asked; the back as asked lies in its middle."""
        wide, high = self.sewn.size
        return wide - self.back.width, high - self.back.length

    def told(self, length: Number) -> str:
        """A length to the tick: two that differ never look alike."""
        return exact_length(length, self.job.settings.unit)


Rule: TypeAlias = Callable[[Finished], Iterator[str]]


def large_enough(done: Finished) -> Iterator[str]:
    """At least as large as asked both ways, and by little larger."""
    asked = (done.back.width, done.back.length)
    most = LARGER[done.job.settings.unit]
    sizes = zip(done.sewn.size, asked, done.more, _SIDES, strict=True)
    for size, wanted, more, word in sizes:
        told = f"{done.back.name} comes out {done.told(size)} {word}"
        if more < 0:
            yield f"{told} and must be {done.told(wanted)}."
        if more >= most:
            yield f"{told}, and {done.told(wanted)} is enough: cloth is wasted."


def nothing_lost(done: Finished) -> Iterator[str]:
    """Something is seen of every part and block."""
    for each, _ in (*done.cloth, *done.blocks):
        if min(each.shows) <= 0:
            yield f"{each.name} is lost in its seams."


def large_parts(done: Finished) -> Iterator[str]:
    """No part of cloth is narrower than the smallest, seams taken off."""
    smallest = done.back.rules.smallest_part
    for each, _ in done.cloth:
        side = min(each.shows)
        if 0 < side < smallest:
            yield f"Of {each.name} {done.told(side)} is seen between its seams; the least is {done.told(smallest)}."


def right_blocks(done: Finished) -> Iterator[str]:
    """Only blocks that may go in, and those that have to."""
    for each, block in done.blocks:
        if not done.back.may_take(block):
            yield f"{each.name} may not go into {done.back.name}."
    times = Counter(block.name for _, block in done.blocks)
    for block in done.job.spare_blocks:
        least = done.back.least_of(block)
        if times[block.name] < least:
            yield f"{done.back.name} has {times[block.name]} of {block.name} and must have {least}."


def blocks_off_the_edge(done: Finished) -> Iterator[str]:
    """What is cut off all round once it is quilted takes nothing that is seen of a block."""
    off = done.back.rules.overage
    for each, _ in done.blocks:
        sides = zip(each.seen, done.sewn.size, done.more, strict=True)
        # half of what is too much lies beyond either edge of the back as asked
        gaps = [2 * min(low, size - high) - more for (low, high), size, more in sides]
        if min(gaps) < 2 * off:
            yield f"{each.name} comes nearer than {done.told(off)} to an edge of {done.back.name}."


def few_enough(done: Finished) -> Iterator[str]:
    """No more parts and seams than are wanted."""
    rules = done.back.rules
    parts = len(done.cloth) + len(done.blocks)
    limits: tuple[tuple[str, int, int | None], ...] = (
        ("parts", parts, rules.most_parts),
        ("seams", len(done.seams), rules.most_seams),
    )
    for what, number, most in limits:
        if most is not None and number > most:
            yield f"{done.back.name} has {number} {what}; {most} are the most."


def main_fabric(done: Finished) -> Iterator[str]:
    """The largest part is of the main fabric, or one of those that are as large."""
    main = done.back.rules.main
    areas = [(each.shows[0] * each.shows[1], fabric) for each, fabric in done.cloth]
    sizes = [area for area, _ in areas]
    largest_are = [fabric for area, fabric in areas if area == max(sizes)]
    if main and not any(answers_to(fabric, main) for fabric in largest_are):
        yield f"The largest part of {done.back.name} is not of {main}."


def right_run(done: Finished) -> Iterator[str]:
    """The seam sewn last, which runs from edge to edge of the whole, runs as asked."""
    run = done.back.rules.run
    for _, seam in done.seams[-1:]:
        if run and _RUNS[AXES[seam.side]] != run:
            yield f"Seam {seam.n}, from edge to edge of {done.back.name}, does not run {run}."


def off_the_middle(done: Finished) -> Iterator[str]:
    """No long seam along the middle, where none is wanted there."""
    if done.back.rules.middle:
        return
    asked = (done.back.width, done.back.length)
    near = 2 * MIDDLE[done.job.settings.unit]
    for each, seam in done.seams:
        axis = AXES[seam.side]
        # twice the way from the middle: both ends of its span are the line
        off = sum(each.seen[axis]) - done.sewn.size[axis]
        long = each.shows[1 - axis] >= MIDDLE_SHARE * asked[1 - axis]
        if long and -near < off < near:
            yield f"Seam {seam.n} lies along the middle of {done.back.name}, where none is wanted."


RULES: tuple[Rule, ...] = (
    large_enough,
    nothing_lost,
    large_parts,
    right_blocks,
    blocks_off_the_edge,
    few_enough,
    main_fabric,
    right_run,
    off_the_middle,
)
