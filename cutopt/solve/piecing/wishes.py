"""What the wishes about a back cost: the same back without one of them, planned and checked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cutopt.job import Job
from cutopt.lengths import so_many
from cutopt.piecing import Back, BackRules, BlockWish

_RUNS = {"up": "seams that run up", "across": "seams that run across"}


def without_a_wish(back: Back, usual: BackRules) -> Iterator[tuple[str, Back]]:
    """Each wish in words, with the back that does not have it.

    Parameters
    ----------
    back : Back
    usual : BackRules
        The rules where nothing is said.
    """
    rules = back.rules
    if rules.main:
        yield f"the largest part of {rules.main}", _with(back, main="")
    if not rules.middle:
        yield "no seam in the middle", _with(back, middle=True)
    if rules.run:
        yield _RUNS[rules.run], _with(back, run="")
    if rules.most_parts is not None:
        told = f"at most {so_many(rules.most_parts, 'part')}"
        yield told, _with(back, most_parts=None)
    if rules.most_seams is not None:
        told = f"at most {so_many(rules.most_seams, 'seam')}"
        yield told, _with(back, most_seams=None)
    if rules.smallest_part > usual.smallest_part:
        least = usual.smallest_part
        yield "no part smaller than you asked", _with(back, smallest_part=least)
    if rules.upright:
        yield "prints that stand up", _with(back, upright=False)
    musts = [wish for wish in back.blocks if wish.least]
    if musts:
        names = ", ".join(wish.name for wish in musts)
        free = tuple(BlockWish(name=wish.name) for wish in back.blocks)
        yield f"blocks that have to go in ({names})", replace(back, blocks=free)


def without_wishes(back: Back, usual: BackRules) -> tuple[str, Back] | None:
    """All wishes in words, with the back that has none of them; None where there are fewer than two.

    Parameters
    ----------
    back : Back
    usual : BackRules
        The rules where nothing is said.
    """
    told: list[str] = []
    free = back
    while True:
        wish = next(without_a_wish(free, usual), None)
        if wish is None:
            break
        said, free = wish
        told.append(said)
    if len(told) < 2:
        return None
    return ", ".join(told), free


def _with(back: Back, **changes: object) -> Back:
    return replace(back, rules=replace(back.rules, **changes))  # type: ignore[arg-type]


def usual_rules(job: Job) -> BackRules:
    """The rules of a back where nothing is said.

    Parameters
    ----------
    job : Job
    """
    if job.settings.unit == "cm":
        return BackRules.metric()
    return BackRules()


def with_back(job: Job, old: Back, new: Back) -> Job:
    """The same job with another back in the place of one.

    Parameters
    ----------
    job : Job
    old, new : Back
    """
    backs = (new if back is old else back for back in job.backs)
    return replace(job, backs=tuple(backs))
