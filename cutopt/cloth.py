"""The cloth on the table: outline and edge losses of a plan's sources, and the parts that its cuts give.

Used for drawing, pages and the solver's last step. The checker does not use it: it has its own, naive replay.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from cutopt.fabric import Fabric, Outline, Piece
from cutopt.geometry import (
    Number,
    Point,
    Polygon,
    bounds,
    cross,
    edges,
    rectangle,
    split,
    split_along,
)
from cutopt.job import Job, Settings
from cutopt.lengths import down, up
from cutopt.plan import CutStep, Plan, Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Cloth:
    """Outline, flaws and what is lost at each edge (`margins[i]`: between corner i and the next), in ticks."""

    fabric: str
    outline: Outline
    margins: tuple[int, ...]
    flaws: tuple[Outline, ...] = ()
    grain_known: bool = True


def cloth_of_piece(piece: Piece, settings: Settings) -> Cloth:
    """A piece of the pile: raw edges lose the square-up, rough measures the allowance."""
    return Cloth(
        fabric=piece.fabric,
        outline=piece.outline,
        margins=lost_of_piece(piece, settings),
        flaws=piece.flaws,
        grain_known=piece.grain_known,
    )


def lost_of_piece(piece: Piece, settings: Settings) -> tuple[int, ...]:
    """What comes off each edge of a piece of the pile, in the order of its corners, ticks."""
    around = {
        "true": 0,
        "raw": settings.square_up,
        "pinked": settings.pinked,
        "raw ends": 0,
    }[piece.edges]
    if piece.about:
        around += settings.about
    if piece.edges == "raw ends":
        ends = settings.square_up_end
    else:
        ends = 0
    # an end of a length runs across the selvage
    return tuple(around + ends * (a[1] == b[1]) for a, b in edges(piece.outline))


def cloth_of_length(
    fabric: Fabric, width: int, length: int, settings: Settings
) -> Cloth:
    """A length from the bolt: shrunk both ways, then squared up at its ends (common practice, no source).

    What is bought as extra shrinks with the rest, and lies untouched at the far end.

    Parameters
    ----------
    fabric : Fabric
    width, length : int
        As sold, ticks.
    settings : Settings
    """
    ends = settings.square_up_end
    kept = up(settings.extra * (1 - Fraction(fabric.shrink_along)))
    outline = rectangle(*shrunk(fabric, width, length))
    return Cloth(fabric=fabric.name, outline=outline, margins=(ends, 0, ends + kept, 0))


def cloth_of_each(fabric: Fabric, width: int, length: int) -> Cloth:
    """A piece that a shop sells at its usable size: shrunk, nothing taken off its edges.

    Parameters
    ----------
    fabric : Fabric
    width, length : int
        As sold, ticks.
    """
    return Cloth(
        fabric=fabric.name,
        outline=rectangle(*shrunk(fabric, width, length)),
        margins=(0, 0, 0, 0),
    )


def shrunk(fabric: Fabric, width: int, length: int) -> tuple[int, int]:
    """Width and length after the wash, rounded down to the tick.

    Parameters
    ----------
    fabric : Fabric
    width, length : int
        As sold, ticks.
    """
    wide = width * (1 - Fraction(fabric.shrink_across))
    long = length * (1 - Fraction(fabric.shrink_along))
    return down(wide), down(long)


def cloth_of(job: Job, source: Source) -> Cloth:
    """The cloth of a plan's source as it lies on the table; KeyError where the job has no such piece or fabric."""
    if job.settings.extra:
        job = replace(job, settings=replace(job.settings, extra=0))
    return cloth_to_plan(job, source)


def cloth_to_plan(job: Job, source: Source) -> Cloth:
    """The same without the extra that is bought with each length: nothing is planned on that.

    Raises
    ------
    KeyError
        Where the job has no such piece or fabric.
    """
    if source.piece:
        for piece in job.pieces:
            if piece.name == source.piece:
                return cloth_of_piece(piece, job.settings)
        raise KeyError(source.piece)
    fabric = job.fabric(source.bought)
    if source.by_piece:
        return cloth_of_each(fabric, source.width, source.length)
    return cloth_of_length(fabric, source.width, source.length, job.settings)


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A plan on the cutting table, all by name.

    `cloths` are those of its sources; `parts` all that ever exist, sources first, then what each cut gives; `owner`
    says from which source a part came.
    """

    cloths: Mapping[str, Cloth]
    parts: Mapping[str, Polygon]
    owner: Mapping[str, str]

    def cloth(self, part: str) -> Cloth:
        """The cloth that a part came from."""
        return self.cloths[self.owner[part]]


def laid(job: Job, plan: Plan) -> Laid:
    """A plan replayed; the last few are remembered, since a plan never changes."""
    for known_job, known_plan, found in _REMEMBERED:
        if known_job is job and known_plan is plan:
            return found
    found = _laid(job, plan)
    _REMEMBERED.appendleft((job, plan, found))
    return found


_REMEMBERED: Final[deque[tuple[Job, Plan, Laid]]] = deque(maxlen=4)


def _laid(job: Job, plan: Plan) -> Laid:
    cloths = {source.id: cloth_of(job, source) for source in plan.sources}
    parts: dict[str, Polygon] = {name: cloth.outline for name, cloth in cloths.items()}
    owner = {name: name for name in cloths}
    for cut in plan.cuts:
        parts.update(zip(cut.gives, cut_part(parts[cut.part], cut), strict=True))
        owner.update(dict.fromkeys(cut.gives, owner[cut.part]))
    return Laid(cloths=cloths, parts=parts, owner=owner)


def replay(job: Job, plan: Plan) -> Mapping[str, Polygon]:
    """All parts that ever exist while the plan is cut, by name."""
    return laid(job, plan).parts


def cut_part(part: Polygon, cut: CutStep) -> list[Polygon]:
    """What a cut gives: the low side first, or what lies left of a straightening cut."""
    if cut.line is not None:
        left, right = split_along(part, cut.line)
        return [*left, *right]
    low, high = split(
        part,
        "x" if cut.x is not None else "y",
        cut.x if cut.x is not None else cut.y or 0,
    )
    return [*low, *high]


def margins_of(cloth: Cloth, part: Polygon) -> tuple[int, ...]:
    """What is still lost at each edge of a part of a cloth, ticks: where it lies on an edge of the cloth, that one's."""
    if not any(cloth.margins):
        return (0,) * len(part)
    return tuple(_margin(cloth, a, b) for a, b in edges(part))


def _margin(cloth: Cloth, a: Point, b: Point) -> int:
    found = 0
    for (p, q), margin in zip(edges(cloth.outline), cloth.margins, strict=True):
        if margin and cross(p, q, a) == 0 and cross(p, q, b) == 0:
            found = max(found, margin)
    return found


def inside_margins(part: Polygon, margins: Sequence[int]) -> tuple[Number, Number]:
    """Width and length of an upright rectangle less what is lost at its sides."""
    x1, y1, x2, y2 = bounds(part)
    across = along = 0
    for (a, b), margin in zip(edges(part), margins, strict=True):
        if a[0] == b[0]:
            across += margin
        else:
            along += margin
    return max(0, x2 - x1 - across), max(0, y2 - y1 - along)


def finished_parts(plan: Plan) -> Iterable[str]:
    """Names of the parts that are there at the end: sources and results that are not cut again."""
    cut = {step.part for step in plan.cuts}
    for name in (
        *(s.id for s in plan.sources),
        *(part for step in plan.cuts for part in step.gives),
    ):
        if name not in cut:
            yield name
