"""What the parts of pieced backs are called: a letter each, in the order in which they are sewn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutopt.plan import Plan, Seam
from cutopt.signs import letter


def seams_of(back: str, plan: Plan) -> list[Seam]:
    """The seams of a back of that name in the order of sewing."""
    return sorted((s for s in plan.seams if s.back == back), key=lambda s: s.n)


def lettered(plan: Plan) -> dict[str, str]:
    """Every part of a back by its name, by a key with its letter (``parts/A/B1``), in the order of sewing."""
    found: dict[str, str] = {}
    for back in dict.fromkeys((*_backs_sewn(plan), *_backs_used(plan))):
        key = f"backs/{back}"
        names = _in_order(seams_of(back, plan))
        uses = (use.part for use in plan.uses if use.for_ == key)
        for place, name in enumerate(dict.fromkeys((*names, *uses))):
            found[name] = f"parts/{letter(place)}/{back}"
    return found


def _backs_sewn(plan: Plan) -> Iterator[str]:
    return (seam.back for seam in plan.seams)


def _backs_used(plan: Plan) -> Iterator[str]:
    for use in plan.uses:
        room, _, name = use.for_.partition("/")
        if room == "backs":
            yield name


def _in_order(seams: Sequence[Seam]) -> list[str]:
    """Parts and blocks as they are first taken up."""
    given = {seam.gives for seam in seams}
    taken = (name for seam in seams for name in (seam.a, seam.b))
    return [name for name in dict.fromkeys(taken) if name not in given]


__all__ = ["lettered", "seams_of"]
