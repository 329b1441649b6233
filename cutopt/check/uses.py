"""Each part that a plan uses: the right size, all of it good cloth, of a fabric and grain that its row allows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

from cutopt.check.replay import CutPart, Table
from cutopt.check.shapes import box_of, double_area, gap_squared, reaches_into
from cutopt.check.sources import TakenCloth
from cutopt.geometry import Number
from cutopt.job import Job
from cutopt.lengths import format_length
from cutopt.piecing import Back
from cutopt.plan import Plan, Use
from cutopt.wanted import Cut, Strip, Wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """A use with all that it speaks of."""

    job: Job
    use: Use
    row: Wanted | Back
    part: CutPart
    cloth: TakenCloth

    def __str__(self) -> str:
        return f"{self.use.part} for {self.row.name}"

    @property
    def size(self) -> tuple[Number, Number]:
        """Width and length as the row means them: turned back where the part is turned."""
        x1, y1, x2, y2 = box_of(self.part.shape)
        if self.use.turned:
            return (y2 - y1, x2 - x1)
        return (x2 - x1, y2 - y1)

    def length(self, ticks: Number) -> str:
        """A length as the maker's ruler shows it."""
        return format_length(ticks, self.job.settings.unit)


Rule: TypeAlias = Callable[[Used], Iterator[str]]


def faults(job: Job, plan: Plan, table: Table) -> Iterator[str]:
    """All that is wrong with what parts are used for.

    Parameters
    ----------
    job : Job
        What is wanted.
    plan : Plan
        Its uses and spare cloth are gone through.
    table : Table
        The parts that its cuts make (:func:`cutopt.check.replay.replay`).

    Yields
    ------
    str
        A sentence a fault.
    """
    yield from _each_part_once(plan, table)
    asked = {row.key: row for row in (*job.wanted, *job.backs)}
    for use in plan.uses:
        row = asked.get(use.for_)
        part = table.parts.get(use.part)
        if row is None:
            yield f"{use.part} is for {use.for_}, which is not wanted."
        elif part is not None and part.cloth is not None:
            used = Used(job=job, use=use, row=row, part=part, cloth=part.cloth)
            for rule in RULES:
                yield from rule(used)


def _each_part_once(plan: Plan, table: Table) -> Iterator[str]:
    """At the end every part is either used or spare, once."""
    served = Counter(use.part for use in plan.uses)
    served.update(spare.part for spare in plan.spare)
    for name, times in served.items():
        if name not in table.parts:
            yield f"{name} is used or spare, and no cut makes it."
        elif name in table.cut_by:
            yield f"{name} is used or spare, and cut {table.cut_by[name]} cuts it up."
        if times > 1:
            yield f"{name} is used or spare {times} times."
    for name in table.parts:
        if name not in table.cut_by and name not in served:
            yield f"{name} is left over, and the plan does not say that it is spare."


def right_size(used: Used) -> Iterator[str]:
    """A cut has its exact size, a segment of a strip its exact width; a part of a back may have any."""
    width, length = used.size
    row = used.row
    if isinstance(row, Back):
        return
    if width != row.width or (isinstance(row, Cut) and length != row.length):
        wanted = f"{used.length(row.width)} wide"
        if isinstance(row, Cut):
            wanted = f"{used.length(row.width)} x {used.length(row.length)}"
        yield f"{used} is {used.length(width)} x {used.length(length)} and must be {wanted}."


def whole(used: Used) -> Iterator[str]:
    """The rectangle is cloth all over: nothing of it lies outside the outline."""
    width, length = used.size
    if double_area(used.part.shape) != 2 * width * length:
        yield f"{used} is not a whole rectangle: some of it lies outside the cloth."


def off_flaws(used: Used) -> Iterator[str]:
    """No flaw reaches into it."""
    if any(reaches_into(flaw, box_of(used.part.shape)) for flaw in used.cloth.flaws):
        yield f"{used} lies on a flaw."


def off_raw_edges(used: Used) -> Iterator[str]:
    """What is lost at an edge (square-up, rough measure) is not in it."""
    box = box_of(used.part.shape)
    for side, lost in used.cloth.lost:
        if gap_squared(box, side) < lost * lost:
            yield f"{used} comes within {used.length(lost)} of an edge that is to be squared up."
            return


def right_fabric(used: Used) -> Iterator[str]:
    """The row allows the fabric."""
    if used.cloth.fabric not in used.job.allowed(used.row):
        yield f"{used} is {used.cloth.fabric}, a fabric that {used.row.name} may not be cut from."


def _needs(used: Used) -> Iterator[tuple[str, str]]:
    """The directions that the length of the row must take, and why; a back is as long as it is high."""
    row = used.row
    if not isinstance(row, Back) and row.grain != "any":
        yield row.grain, f"its length must run {row.grain} the selvage"
    fabric = used.job.fabric(used.cloth.fabric)
    stands = fabric.one_way
    print_ = f"its print, which stands up {stands} the selvage, must stand up"
    if isinstance(row, Strip):
        if row.upright == "along" and stands:
            yield stands, f"{print_} along the strip"
        elif row.upright == "across" and stands:
            across = "along" if stands == "across" else "across"
            yield across, f"{print_} across the strip"
        return
    upright = row.rules.upright if isinstance(row, Back) else row.upright
    if upright and stands:
        yield stands, print_
    elif fabric.nap:
        yield (
            stands,
            f"the nap of {fabric.name} runs {stands} the selvage, and all parts lie the same way up",
        )


def known_grain(used: Used) -> Iterator[str]:
    """Where a direction matters, the piece's own is known."""
    for _, why in _needs(used):
        if not used.cloth.grain_known:
            yield f"{used} is from a piece of unknown grain, and {why}."


def right_way(used: Used) -> Iterator[str]:
    """The length runs the way it must. A square has none, but in a back, where the plan says how it hangs."""
    width, length = used.size
    if width == length and not isinstance(used.row, Back):
        return
    for direction, why in _needs(used):
        if used.use.turned != (direction == "across"):
            yield f"{used} lies the wrong way: {why}."


RULES: tuple[Rule, ...] = (
    right_size,
    whole,
    off_flaws,
    off_raw_edges,
    right_fabric,
    known_grain,
    right_way,
)
