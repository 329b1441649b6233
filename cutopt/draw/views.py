"""A plan as it is drawn: for each piece of cloth its parts, its numbered cut lines and runs of equal parts."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from cutopt.back_letters import lettered
from cutopt.cloth import Cloth, laid
from cutopt.errors import Problem
from cutopt.geometry import Box, Number, Point, Polygon, aside, bounds, edges
from cutopt.job import Job
from cutopt.lengths import format_length, format_sale
from cutopt.measure import FINE
from cutopt.piecing import name_of
from cutopt.plan import CutStep, Plan, Source
from cutopt.strips import joined, segment_size

Kind: TypeAlias = Literal["used", "keep", "scrap"]


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPart:
    """A part that is there at the end; `what` is the name of the wanted row, or empty."""

    name: str
    polygon: Polygon
    kind: Kind
    key: str = ""
    turned: bool = False
    # of a segment that is joined: across and along, as it is measured
    measured: tuple[Number, Number] | None = None

    @property
    def what(self) -> str:
        """The wanted row's own name, or which part of which back it is."""
        return name_of(self.key)

    @property
    def box(self) -> Box:
        """The smallest upright rectangle round the part."""
        return bounds(self.polygon)


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnCut:
    """A numbered cut and the stretches of cloth that it runs through, low end first."""

    n: int
    stretches: tuple[tuple[Point, Point], ...]

    @property
    def upright(self) -> bool:
        """Whether the cut runs along the selvage."""
        (x1, _), (x2, _) = self.stretches[0]
        return x1 == x2


@dataclass(frozen=True, slots=True, kw_only=True)
class EqualParts:
    """Equal parts side by side, filling `box`."""

    parts: tuple[DrawnPart, ...]
    box: Box

    @property
    def one(self) -> DrawnPart:
        """The first of the parts."""
        return self.parts[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One piece of cloth of a plan."""

    source: Source
    cloth: Cloth
    title: str
    parts: tuple[DrawnPart, ...]
    lines: tuple[DrawnCut, ...]


def origin_of(plan: Plan) -> Job:
    """The job of a plan.

    Raises
    ------
    Problem
        Where the plan does not carry it.
    """
    if plan.origin is None:
        raise Problem(
            "plan",
            "it does not carry its job",
            "set plan.origin, or read it together with its job",
        )
    return plan.origin


def views(plan: Plan) -> list[View]:
    """All pieces of cloth that a plan touches, in its own order; those of the last plans asked for are remembered."""
    for known, found in _REMEMBERED:
        if known is plan:
            return list(found)
    found = _views(plan)
    _REMEMBERED.appendleft((plan, found))
    return list(found)


# a plan never changes
_REMEMBERED: Final[deque[tuple[Plan, list[View]]]] = deque(maxlen=4)


def _views(plan: Plan) -> list[View]:
    job = origin_of(plan)
    there = laid(job, plan)
    polygons = there.parts
    owner = there.owner
    uses = {use.part: use for use in plan.uses}
    sewn = joined(plan)
    letters = lettered(plan)
    kinds: dict[str, Kind] = {
        spare.part: "keep" if spare.keep else "scrap" for spare in plan.spare
    }
    parts: dict[str, list[DrawnPart]] = {source.id: [] for source in plan.sources}
    for name in (*uses, *kinds):
        use = uses.get(name)
        part = DrawnPart(
            name=name, polygon=polygons[name], kind=kinds.get(name, "used")
        )
        if use:
            part = replace(part, key=letters.get(name, use.for_), turned=use.turned)
        if use and name in sewn:
            part = replace(part, measured=segment_size(job, use, polygons[name]))
        parts[owner[name]].append(part)
    lines: dict[str, list[DrawnCut]] = {source.id: [] for source in plan.sources}
    for cut in plan.cuts:
        lines[owner[cut.part]].append(
            DrawnCut(n=cut.n, stretches=stretches(cut, polygons))
        )
    return [
        View(
            source=source,
            cloth=there.cloths[source.id],
            title=title_of(job, source),
            parts=tuple(parts[source.id]),
            lines=tuple(lines[source.id]),
        )
        for source in plan.sources
    ]


def view(plan: Plan, source_id: str) -> View:
    """One piece of cloth.

    Raises
    ------
    Problem
        Where the plan has none of that name, or does not carry its job.
    """
    for found in views(plan):
        if found.source.id == source_id:
            return found
    known = ", ".join(source.id for source in plan.sources)
    raise Problem(
        "source", f'"{source_id}" is not in this plan', f"use one of: {known}"
    )


def title_of(job: Job, source: Source) -> str:
    """What a maker calls a piece of cloth: ``pear L``, ``mist square 2 of 6``, ``oat, 5/8 yd bought``."""
    if source.bought:
        unit = job.settings.unit
        if source.by_piece:
            size = f"{format_length(source.width, unit)} x {format_length(source.length, unit)} {unit}"
            return f"{source.bought}, {size} bought"
        return f"{source.bought}, {format_sale(source.length, unit)} bought"
    count = next((piece.count for piece in job.pieces if piece.name == source.piece), 1)
    if count > 1:
        return f"{source.piece} ({source.copy} of {count})"
    return source.piece


def stretches(
    cut: CutStep, polygons: Mapping[str, Polygon]
) -> tuple[tuple[Point, Point], ...]:
    """Where a cut runs through cloth: where the parts on its two sides touch."""
    if cut.line is not None:
        return _along(cut.line, [polygons[name] for name in cut.gives])
    side, at = (0, cut.x) if cut.x is not None else (1, cut.y)
    low: list[list[Number]] = []
    high: list[list[Number]] = []
    for name in cut.gives:
        borders = [
            sorted((p[1 - side], q[1 - side]))
            for p, q in edges(polygons[name])
            if p[side] == q[side] == at
        ]
        (low if bounds(polygons[name])[side] < (at or 0) else high).extend(borders)
    met = sorted(
        (max(a, c), min(b, d)) for a, b in low for c, d in high if max(a, c) < min(b, d)
    )
    return tuple(_placed(side, at or 0, a, b) for a, b in met)


def _along(
    line: tuple[Point, Point], parts: Sequence[Polygon]
) -> tuple[tuple[Point, Point], ...]:
    """The same for a straightening cut."""
    sides: tuple[list[list[Point]], list[list[Point]]] = ([], [])
    for part in parts:
        right = max(aside(line, corner)[0] for corner in part) > 0
        on = (
            (p, q)
            for p, q in edges(part)
            if aside(line, p)[0] == aside(line, q)[0] == 0
        )
        sides[right].extend(
            sorted(ends, key=lambda corner: aside(line, corner)[1]) for ends in on
        )

    def place(corner: Point) -> Number:
        return aside(line, corner)[1]

    met = [
        (max(a, c, key=place), min(b, d, key=place))
        for a, b in sides[0]
        for c, d in sides[1]
    ]
    return tuple(
        sorted(
            ((a, b) for a, b in met if place(a) < place(b)),
            key=lambda ends: place(ends[0]),
        )
    )


def _placed(side: int, at: int, a: Number, b: Number) -> tuple[Point, Point]:
    if side == 0:
        return ((at, a), (at, b))
    return ((a, at), (b, at))


def runs(parts: Sequence[DrawnPart]) -> list[EqualParts]:
    """Used parts gathered where equal ones lie side by side: rows first, then equal rows upon each other."""
    rows = _joined(
        [
            EqualParts(parts=(part,), box=part.box)
            for part in parts
            if part.kind == "used"
        ],
        0,
    )
    return _joined(rows, 1)


def line_rows(lines: Sequence[DrawnCut]) -> list[tuple[DrawnCut, ...]]:
    """Cuts gathered where three or more that follow each other run side by side from the same edge to the same edge."""
    rows: list[list[DrawnCut]] = []
    for line in lines:
        if rows and line.n == rows[-1][-1].n + 1 and _beside(rows[-1][-1], line):
            rows[-1].append(line)
        else:
            rows.append([line])
    out: list[tuple[DrawnCut, ...]] = []
    for row in rows:
        out += [tuple(row)] if len(row) > 2 else [(line,) for line in row]
    return out


def _beside(one: DrawnCut, other: DrawnCut) -> bool:
    """Whether two cuts in one stretch each are parallel and as long, at the same height."""
    if (
        len(one.stretches) != 1
        or len(other.stretches) != 1
        or one.upright != other.upright
    ):
        return False
    if one.upright:
        along = 1
    else:
        along = 0
    (a, b), (c, d) = one.stretches[0], other.stretches[0]
    # of a straightening cut the ends lie apart across as well
    if a[1 - along] != b[1 - along] or c[1 - along] != d[1 - along]:
        return False
    return (a[along], b[along]) == (c[along], d[along])


def _joined(found: Iterable[EqualParts], side: int) -> list[EqualParts]:
    other = 1 - side
    out: list[EqualParts] = []
    order = sorted(
        found, key=lambda run: (run.box[other], run.box[other + 2], run.box[side])
    )
    for run in order:
        if out:
            last = out[-1]
        else:
            last = None
        if last and _same(last.one, run.one) and _touch(last.box, run.box, side):
            out[-1] = EqualParts(
                parts=(*last.parts, *run.parts), box=(*last.box[:2], *run.box[2:])
            )
        else:
            out.append(run)
    return out


def _same(a: DrawnPart, b: DrawnPart) -> bool:
    return a.key == b.key and _size(a) == _size(b)


def _size(part: DrawnPart) -> tuple[Number, Number]:
    x1, y1, x2, y2 = part.box
    return x2 - x1, y2 - y1


def _touch(a: Box, b: Box, side: int) -> bool:
    """Whether b follows a along `side` over the whole of its length."""
    other = 1 - side
    return a[side + 2] == b[side] and (a[other], a[other + 2]) == (
        b[other],
        b[other + 2],
    )


def rough(ticks: Number, unit: str, *, mark: bool = False) -> str:
    """A length that nobody cuts to (spare, shrunk): the last mark of a ruler that it reaches, and said to be so.

    So are segments measured that are cut from it: another rounding would not add up on one page.

    Parameters
    ----------
    ticks : int or Fraction
    unit : {"in", "cm"}
    mark : bool
        Whether the unit stands behind it.
    """
    if _on_mark(ticks, unit):
        about = ""
    else:
        about = "about "
    return about + _down_to_mark(ticks, unit, mark=mark)


def _on_mark(ticks: Number, unit: str) -> bool:
    """Whether a ruler shows a length."""
    return Fraction(ticks) % FINE[unit] == 0


def _down_to_mark(ticks: Number, unit: str, *, mark: bool = False) -> str:
    """The last mark of a ruler that a length reaches."""
    fine = FINE[unit]
    return format_length(Fraction(ticks) // fine * fine, unit, mark=mark)


def rough_size(wide: Number, long: Number, unit: str) -> str:
    """Width and length, each as :func:`rough` tells it: ``about 41 1/2 x 21 3/4``.

    Parameters
    ----------
    wide, long : int or Fraction
        Ticks.
    unit : {"in", "cm"}
    """
    told = f"{_down_to_mark(wide, unit)} x {_down_to_mark(long, unit)}"
    exact = _on_mark(wide, unit) and _on_mark(long, unit)
    if exact:
        return told
    return f"about {told}"


def exact_size(wide: Number, long: Number, unit: str) -> str:
    """Width and length of what others are measured by: ``106.9 x 6.5``.

    Parameters
    ----------
    wide, long : int or Fraction
        Ticks.
    unit : {"in", "cm"}
    """
    return f"{format_length(wide, unit)} x {format_length(long, unit)}"


def size_of(part: DrawnPart, unit: str) -> str:
    """A part's size across and along: ``4 1/2 x 9``."""
    if part.measured is None:
        return rough_size(*_size(part), unit)
    return exact_size(*part.measured, unit)
