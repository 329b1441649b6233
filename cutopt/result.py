"""What solving gives: offers side by side, how good they are, and how much room they leave."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Final, Literal, TypeAlias

from cutopt.cloth import replay
from cutopt.errors import Problem
from cutopt.fabric import Fabric, Piece
from cutopt.geometry import bounds
from cutopt.job import Job
from cutopt.mixture import mixtures
from cutopt.plan import Bought, Level, Plan
from cutopt.shown import Shown

# proved: no plan buys less or leaves less out; quiet: it ended by itself without that
Stopped: TypeAlias = Literal["proved", "quiet", "time", "work", "interrupted"]

_OF_CUTTING: Final = (
    "1 minute a cut, 3 minutes a piece of cloth touched, 1 minute each time the ruler is set to another width, "
    "3 a join"
)
_OF_A_SEAM: Final = 4
_OURS: Final = "(our estimate, no source)"
MINUTES_FORMULA: Final = f"{_OF_CUTTING} {_OURS}"
# where a back is pieced
MINUTES_WITH_SEAMS: Final = (
    f"{_OF_CUTTING}, 4 a seam of a back (3 to sew it, 1 to press it) {_OURS}"
)


def washing(job: Job, plan: Plan) -> Iterator[str]:
    """What has to be washed first of the cloth that a plan buys, and what is not washed of that of the pile."""
    bought = {source.bought for source in plan.sources}
    names = {source.piece for source in plan.sources}
    cut = [piece for piece in job.pieces if piece.name in names]
    if job.settings.prewash == "all":
        yield from _all_washed(job, bought, cut)
        return
    for fabric in job.fabrics:
        shrinks = fabric.shrink_across or fabric.shrink_along
        if shrinks and fabric.name in bought:
            yield f"{fabric.name}: wash what you buy before you cut it; its shrinkage is counted in."
        if job.settings.prewash != "none" and _of_it_unwashed(fabric, cut):
            yield f"{fabric.name}: what is cut here of the pile of it is planned as measured; if you wash it, measure it again."


def _of_it_unwashed(fabric: Fabric, cut: Sequence[Piece]) -> list[Piece]:
    mine = (piece for piece in cut if piece.fabric == fabric.name)
    return [piece for piece in mine if not piece.is_washed(fabric)]


def _all_washed(
    job: Job, bought: Container[str], cut: Sequence[Piece]
) -> Iterator[str]:
    """The fabrics of which something is washed first, in a sentence for what is bought and one for the pile."""
    # batting and interfacing are washed where their rows say that they shrink
    washed = [
        fabric
        for fabric in job.fabrics
        if not fabric.is_inside or fabric.shrink_across or fabric.shrink_along
    ]
    counted = "before you cut it: its shrinkage is counted in"
    names = ", ".join(fabric.name for fabric in washed if fabric.name in bought)
    if names:
        yield f"Wash what you buy ({names}) {counted}."
    mine = (fabric for fabric in washed if _of_it_unwashed(fabric, cut))
    names = ", ".join(fabric.name for fabric in mine)
    if names:
        yield f"Wash what is cut of the pile and not washed yet ({names}) {counted}."


def estimate_minutes(plan: Plan, job: Job | None = None) -> int:
    """Minutes at the cutting table, of joining strips and of sewing backs, by :data:`MINUTES_WITH_SEAMS`.

    The ruler is set where a cut leaves on its low side a part that is used or cut again (as in
    :class:`~cutopt.plan.Totals`), and counts when the distance is not that of the setting before.

    Parameters
    ----------
    plan : Plan
    job : Job, optional
        The job of the plan; by default the one that it carries.

    Raises
    ------
    Problem
        Where neither is given.
    """
    return sum(_parts_of_minutes(plan, job))


def sum_of_minutes(plan: Plan, job: Job | None = None) -> str:
    """The estimate as a sum, in the order of the formula: ``16 + 3 x 9 + 9 + 3 x 9 = 79``, seams last if there are."""
    cuts, cloth, settings, joins, seams = _parts_of_minutes(plan, job)
    total = cuts + cloth + settings + joins + seams
    told = f"{cuts} + 3 x {cloth // 3} + {settings} + 3 x {joins // 3}"
    if seams:
        told += f" + {_OF_A_SEAM} x {seams // _OF_A_SEAM}"
    return f"{told} = {total}"


def minutes_formula(plan: Plan) -> str:
    """What the estimate is made of, as far as it concerns a plan."""
    if plan.seams:
        return MINUTES_WITH_SEAMS
    return MINUTES_FORMULA


def _parts_of_minutes(plan: Plan, job: Job | None) -> tuple[int, int, int, int, int]:
    """Minutes for cuts, pieces of cloth, settings of the ruler, joins, and seams of backs."""
    job = job or plan.origin
    if job is None:
        raise Problem("plan", "it does not carry its job", "give the job as well")
    parts = replay(job, plan)
    needed = {use.part for use in plan.uses}
    needed |= {cut.part for cut in plan.cuts}
    settings = 0
    last = None
    for cut in plan.cuts:
        side, at = (0, cut.x) if cut.x is not None else (1, cut.y)
        low = [
            name
            for name in cut.gives
            if at is not None and bounds(parts[name])[side] < at
        ]
        if at is None or not needed.intersection(low):
            continue
        distance = at - bounds(parts[cut.part])[side]
        settings += distance != last
        last = distance
    cloth, joins = 3 * len(plan.sources), 3 * plan.totals.joins
    return len(plan.cuts), cloth, settings, joins, _OF_A_SEAM * len(plan.seams)


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """How much smaller a source may turn out to be, in ticks, and the plan still hold.

    0 is said only where the least step less was tried and spoils the plan; None where that is not known.
    """

    source: str
    across: int | None
    along: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """One way to do the job. `spare` is the area worth keeping (square ticks), `minutes` an estimate.

    `name` is one of "thriftiest", "simplest to cut", "keeps the biggest pieces", "your fabrics first", and of pieced backs
    "fewer seams", "fewest seams", "another way to piece it", "the back bought whole"; an offer that
    is the same plan as an earlier one is not repeated, the earlier one then carries both names in `also`.
    """

    name: str
    plan: Plan
    minutes: int
    spare: int
    biggest_spare: int
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """The state of the search at one time: best so far and bound of the level that is being bettered."""

    seconds: float
    work: int
    complete: bool
    value: Decimal
    bound: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """What stands behind something that is said of another job than the one that was planned.

    The statement `said` holds because `plan`, which passed the checker, is a plan for `job`: the same job with other
    cloth, another purchase, or a row that asks for something else.
    """

    said: str
    job: Job
    plan: Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class WidthCase:
    """What would be bought if the fabric by length were `usable_width` wide; `complete` as for the result.

    `plan` is a plan, checked, for the job with fabric of that width.
    """

    usable_width: int
    complete: bool
    money: Decimal | None
    bought: tuple[Bought, ...]
    plan: Plan = field(repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Result(Shown):
    """The answer to a job.

    `plan` is the plan of the first offer (the thriftiest, or the one that keeps to
    the fabrics named first where that is worth what it costs). `complete`: everything that must be cut is. `levels`
    are those of `plan`. `room` lists the touched sources of `plan`. `because` says in one sentence why no plan
    can buy less. `notices` are sentences for the maker (sizes rounded, prices missing, wash first), `rules` say what
    a rule of hers, or a fabric that she named first, costs where it costs something. `evidence` are the plans behind
    what is said of other widths, of mends and of rules: each can be judged again from outside.
    """

    job: Job
    offers: tuple[Offer, ...]
    complete: bool
    room: tuple[Room, ...] = ()
    widths: tuple[WidthCase, ...] = ()
    history: tuple[Moment, ...] = field(default=(), repr=False)
    because: str = ""
    notices: tuple[str, ...] = ()
    rules: tuple[str, ...] = ()
    evidence: tuple[Evidence, ...] = field(default=(), repr=False)
    stopped: Stopped = "time"
    seconds: float = 0.0
    work: int = 0
    seed: int = 0

    @property
    def plan(self) -> Plan:
        """The plan of the first offer."""
        return self.offers[0].plan

    @property
    def mixed(self) -> tuple[str, ...]:
        """What `plan` cuts from several fabrics that could be one, row by row, in sentences for the maker."""
        return tuple(mixtures(self.job, self.plan))

    @property
    def washing(self) -> tuple[str, ...]:
        """What of the cloth of `plan` has to be washed or measured first, in sentences."""
        return tuple(washing(self.job, self.plan))

    @property
    def levels(self) -> tuple[Level, ...]:
        """How good the plan is, level by level."""
        return self.plan.levels
