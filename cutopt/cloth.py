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
from cutopt.job import Job
from cutopt.lengths import down, up
from cutopt.plan import CutStep, Plan, Source
from cutopt.settings import Settings


@dataclass(frozen=True, slots=True, kw_only=True)
class Cloth:
    """Outline, flaws and what is lost at each edge (`margins[i]`: between corner i and the next), in ticks."""

    fabric: str
    outline: Outline
    margins: tuple[int, ...]
    flaws: tuple[Outline, ...] = ()
    grain_known: bool = True


def cloth_of_piece(
    piece: Piece, settings: Settings, fabric: Fabric | None = None
) -> Cloth:
    """A piece of the pile: raw edges lose the square-up, rough measures the allowance.

    Where all cloth is washed before it is cut, and its fabric is not washed yet, it is as its first wash leaves it.

    Parameters
    ----------
    piece : Piece
    settings : Settings
    fabric : Fabric, optional
        Its own; without it the piece is taken as measured.
    """
    margins = lost_of_piece(piece, settings)
    outline, flaws = piece.outline, piece.flaws
    if fabric is not None and is_washed_first(piece, fabric, settings):
        shares = shares_of(piece, fabric)
        # rounding moved slanted sides by less than two ticks
        aslant = (2 * (a[0] != b[0] and a[1] != b[1]) for a, b in edges(outline))
        margins = tuple(map(sum, zip(margins, aslant, strict=True)))
        outline = shrunk_outline(outline, shares)
        flaws = tuple(_shrunk_flaw(flaw, shares, outline) for flaw in flaws)
    return Cloth(
        fabric=piece.fabric,
        outline=outline,
        margins=margins,
        flaws=flaws,
        grain_known=piece.grain_known,
    )


def is_washed_first(piece: Piece, fabric: Fabric, settings: Settings) -> bool:
    """Whether a piece of the pile is still to be washed, and loses something by it, before it is cut.

    Parameters
    ----------
    piece : Piece
    fabric : Fabric
        Its own.
    settings : Settings
    """
    loses = bool(fabric.shrink_across or fabric.shrink_along)
    return settings.prewash == "all" and loses and not piece.is_washed(fabric)


def shares_of(piece: Piece, fabric: Fabric) -> tuple[Fraction, Fraction]:
    """What its width and its length lose in the wash; the greater for both where nobody knows how its grain runs."""
    shares = (fabric.shrink_across, fabric.shrink_along)
    if piece.grain_known:
        return shares
    return max(shares), max(shares)


def shrunk_outline(outline: Outline, shares: tuple[Fraction, Fraction]) -> Outline:
    """An outline after the wash: a corner on an upright side is rounded into the cloth, any other down to the tick."""
    found = []
    for i, corner in enumerate(outline):
        before, after = outline[i - 1], outline[(i + 1) % len(outline)]
        new = []
        for axis, keep in ((0, 1), (1, -1)):
            # anticlockwise, a side that runs up has the cloth on its left
            ways = [
                keep * (b[1 - axis] - a[1 - axis])
                for a, b in ((before, corner), (corner, after))
                if a[axis] == b[axis]
            ]
            size = corner[axis] * (1 - Fraction(shares[axis]))
            new.append(up(size) if ways and ways[0] < 0 else down(size))
        found.append((new[0], new[1]))
    return tuple(found)


def _shrunk_flaw(
    flaw: Outline, shares: tuple[Fraction, Fraction], outline: Outline
) -> Outline:
    """The rectangle round a flaw after the wash, rounded outward as far as there is cloth."""
    low, high = bounds(flaw)[:2], bounds(flaw)[2:]
    end = bounds(outline)
    x1, y1 = (
        down(at * (1 - Fraction(share))) for at, share in zip(low, shares, strict=True)
    )
    x2, y2 = (
        up(at * (1 - Fraction(share))) for at, share in zip(high, shares, strict=True)
    )
    x2, y2 = min(x2, int(end[2])), min(y2, int(end[3]))
    return (x1, y1), (x2, y1), (x2, y2), (x1, y2)


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
                fabric = job.fabric(piece.fabric)
                return cloth_of_piece(piece, job.settings, fabric)
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
