"""The seams of backs, sewn again one by one: what they take is there, once, and fits; then each back is looked at whole."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from cutopt.check.finished import RULES, Finished
from cutopt.check.laid import AXES, Sewn, alone, sewn_at
from cutopt.check.replay import Table
from cutopt.check.uses import Used
from cutopt.job import Job
from cutopt.lengths import exact_length
from cutopt.piecing import Back, SpareBlock
from cutopt.plan import Plan, Seam, Trim


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """What may be sewn into `back` ("" for a block: into any); `sewn` is None where a fault hides what it is."""

    back: str
    sewn: Sewn | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sewing:
    """All that is there to be sewn, by name, and which seam took it first."""

    held: dict[str, Held]
    taken_by: dict[str, int] = field(default_factory=dict)


def faults(job: Job, plan: Plan, table: Table) -> Iterator[str]:
    """All that is wrong with how backs are sewn.

    Parameters
    ----------
    job : Job
        The backs and the spare blocks.
    plan : Plan
        Its seams are sewn in their order; after a fault this goes on as well as it can.
    table : Table
        The parts that its cuts make (:func:`cutopt.check.replay.replay`).

    Yields
    ------
    str
        A sentence a fault.
    """
    yield from _trims(job, plan)
    sewing = Sewing(held=_on_hand(job, plan, table))
    for number, seam in enumerate(plan.seams, start=1):
        if seam.n != number:
            yield f"Seam {seam.n} stands where seam {number} is due."
        if seam.gives in sewing.held or seam.gives in table.parts:
            yield f"Seam {seam.n} gives {seam.gives}, a name that is taken."
        back = next((back for back in job.backs if back.name == seam.back), None)
        if back is None:
            yield f"Seam {seam.n} is for {seam.back}, which is not wanted."
        else:
            yield from _one_seam(job, back, sewing, seam)
    for back in job.backs:
        yield from _one_back(job, back, sewing)


def _block_names(job: Job) -> dict[str, SpareBlock]:
    """All spare blocks, one by one."""
    names: dict[str, SpareBlock] = {}
    for block in job.spare_blocks:
        names.update((f"{block.key}/{k}", block) for k in range(1, block.count + 1))
    return names


def _trims(job: Job, plan: Plan) -> Iterator[str]:
    """Each block that is sewn in has its size told once, one to which it may be trimmed."""
    blocks = _block_names(job)
    sewn_in = {name for seam in plan.seams for name in (seam.a, seam.b)}
    trimmed = Counter(trim.block for trim in plan.trims)
    for name in sorted(sewn_in & blocks.keys() - trimmed.keys()):
        yield f"{name} is sewn in, and the plan does not say how large it is."
    for name, times in trimmed.items():
        if times > 1:
            yield f"The size of {name} is told {times} times."
        if name not in blocks:
            yield f"{name} has a size, and there is no such block."
        elif name not in sewn_in:
            yield f"{name} has a size, and is not sewn in."
    for trim in plan.trims:
        if trim.turned:
            yield f"{trim.block} is turned; blocks hang as they were measured."
        if trim.block in blocks:
            yield from _trim_faults(job, trim, blocks[trim.block])


def _trim_faults(job: Job, trim: Trim, block: SpareBlock) -> Iterator[str]:
    """No larger than it was measured, no smaller than it may be trimmed to."""
    unit = job.settings.unit
    sizes = (
        ("wide", trim.width, block.least[0], block.width),
        ("long", trim.length, block.least[1], block.length),
    )
    for word, size, least, most in sizes:
        told = f"{trim.block} is {exact_length(size, unit)} {word}"
        if size > most:
            yield f"{told} and was measured as {exact_length(most, unit)}."
        if size < least:
            yield f"{told} and may not be trimmed to less than {exact_length(least, unit)}."


def _on_hand(job: Job, plan: Plan, table: Table) -> dict[str, Held]:
    """What there is before the first seam: blocks, and the parts that are used for backs."""
    held: dict[str, Held] = {}
    trims = {trim.block: trim for trim in plan.trims}
    for name, block in _block_names(job).items():
        sewn = None
        if name in trims:
            size = (trims[name].width, trims[name].length)
            sewn = alone(name, block, size)
        held[name] = Held(back="", sewn=sewn)
    backs = {back.key: back for back in job.backs}
    for use in plan.uses:
        back = backs.get(use.for_)
        part = table.parts.get(use.part)
        if back is None or part is None:
            continue
        sewn = None
        if part.cloth is not None:
            used = Used(job=job, use=use, row=back, part=part, cloth=part.cloth)
            sewn = alone(use.part, job.fabric(part.cloth.fabric), used.size)
        held[use.part] = Held(back=back.name, sewn=sewn)
    return held


def _one_seam(job: Job, back: Back, sewing: Sewing, seam: Seam) -> Iterator[str]:
    """Sew one seam, or say why it cannot be sewn; what it gives is there either way."""
    parts: list[Sewn] = []
    for name in (seam.a, seam.b):
        held = sewing.held.get(name)
        if held is None:
            yield f"Seam {seam.n} takes {name}, which is not there."
        elif held.back not in ("", back.name):
            yield f"Seam {seam.n} is for {back.name} and takes {name}, which is for {held.back}."
        elif name in sewing.taken_by:
            yield f"Seam {seam.n} takes {name}, which seam {sewing.taken_by[name]} has taken already."
        elif held.sewn is not None:
            parts.append(held.sewn)
        sewing.taken_by.setdefault(name, seam.n)
    sewn = None
    if seam.side not in AXES:
        yield f'Seam {seam.n} sews to the side "{seam.side}" of {seam.a}, which is none.'
    elif len(parts) == 2:
        if seam.side in ("left", "below"):
            parts.reverse()
        yield from _seam_faults(job, back, seam, *parts)
        along = 1 - AXES[seam.side]
        if parts[0].size[along] == parts[1].size[along]:
            sewn = sewn_at(seam, *parts)
    sewing.held.setdefault(seam.gives, Held(back=back.name, sewn=sewn))


def _seam_faults(
    job: Job, back: Back, seam: Seam, low: Sewn, high: Sewn
) -> Iterator[str]:
    """Edges are equal; the allowance is that of blocks where one meets the seam on either side, else that of the back."""
    unit = job.settings.unit
    axis = AXES[seam.side]
    edges = [exact_length(each.size[1 - axis], unit) for each in (low, high)]
    if low.size[1 - axis] != high.size[1 - axis]:
        yield f"Seam {seam.n} joins an edge of {edges[0]} and one of {edges[1]}: they must be equal."
    met = [each for each in low.laid if each.cut[axis][1] == low.size[axis]]
    met += [each for each in high.laid if each.cut[axis][0] == 0]
    wanted, why = back.rules.seam, "meets no block"
    if any(isinstance(each.what, SpareBlock) for each in met):
        wanted, why = back.rules.block_seam, "meets a block"
    if seam.seam != wanted:
        told = exact_length(seam.seam, unit)
        must = exact_length(wanted, unit)
        yield f"Seam {seam.n} has an allowance of {told}; it {why} and must have {must}."


def _one_back(job: Job, back: Back, sewing: Sewing) -> Iterator[str]:
    """What is left of a back when all seams are sewn is one piece, and that is as it was asked."""
    left = [
        name
        for name, held in sewing.held.items()
        if held.back == back.name and name not in sewing.taken_by
    ]
    if len(left) > 1:
        yield f"{back.name} is not in one piece: no seam joins {' and '.join(left)}."
        return
    for name in left:
        sewn = sewing.held[name].sewn
        if sewn is not None:
            finished = Finished(job=job, back=back, sewn=sewn)
            for rule in RULES:
                yield from rule(finished)
