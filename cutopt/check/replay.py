"""The numbered cuts, done again one by one on the real cloth."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import groupby

from cutopt.check.shapes import Line, Shape, cut
from cutopt.check.sources import TakenCloth, cloth_of
from cutopt.geometry import Point
from cutopt.job import Job
from cutopt.plan import CutStep, Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPart:
    """A part that the plan names. `shape` is empty and `cloth` None where a fault hides what it is.

    `ways` are the directions of the cuts that led to it, from the first on: "x", "y" or "line".
    """

    shape: Shape = ()
    cloth: TakenCloth | None = None
    ways: tuple[str, ...] = ()

    @property
    def turns(self) -> int:
        """How many runs of cuts in one direction led to this part: 0 for a source, 2 for a plain rectangle."""
        return len(list(groupby(self.ways)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """All parts by name, and which cut went through a part."""

    parts: dict[str, CutPart] = field(default_factory=dict)
    cut_by: dict[str, int] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)

    def hidden(self, name: str) -> bool:
        """Whether a part is not there, or a fault hides its shape."""
        return name not in self.parts or not self.parts[name].shape


def replay(job: Job, plan: Plan) -> Table:
    """Lay out the sources and do the cuts.

    Parameters
    ----------
    job : Job
        Its pieces and its shop say what each source is.
    plan : Plan
        Its cuts are done in their order; after a fault this goes on as well as it can.

    Returns
    -------
    Table
        All parts by name, with the faults met.
    """
    table = Table()
    for source in plan.sources:
        if source.id in table.parts:
            table.faults.append(f"Two pieces of cloth are called {source.id}.")
        cloth = cloth_of(job, source)
        table.parts[source.id] = CutPart(
            shape=cloth.shape if cloth else (), cloth=cloth
        )
    for number, step in enumerate(plan.cuts, start=1):
        if step.n != number:
            table.faults.append(f"Cut {step.n} stands where cut {number} is due.")
        table.faults.extend(_one_cut(table, step))
        if job.settings.turns is not None:
            table.faults.extend(_too_many_turns(table, step, job.settings.turns))
    return table


def _one_cut(table: Table, step: CutStep) -> Iterator[str]:
    """Do one cut, or say why it cannot be done; what it gives lies on the table either way."""
    part = table.parts.get(step.part)
    if part is None:
        yield f"Cut {step.n} goes through {step.part}, which is not there."
    elif step.part in table.cut_by:
        yield f"Cut {step.n} goes through {step.part}, which cut {table.cut_by[step.part]} has cut already."
        part = None
    table.cut_by.setdefault(step.part, step.n)
    shapes: list[Shape] = []
    way = _way(step)
    if isinstance(way, str):
        yield way
    elif part is not None and part.shape:
        if step.line is not None and part.ways:
            yield f"Cut {step.n} is not along the grain; only the first cut of a piece may be so."
        shapes = cut(part.shape, *way)
        if len(shapes) < 2:
            yield f"Cut {step.n} does not go through {step.part}: it passes beside the cloth."
        elif len(shapes) != len(step.gives):
            yield f"Cut {step.n} makes {len(shapes)} parts of {step.part}, and the plan names {len(step.gives)}."
    if len(shapes) != len(step.gives):
        shapes = []
    yield from _name(table, step, part or CutPart(), shapes)


def _way(step: CutStep) -> tuple[Line, Point] | str:
    """The line of a cut with its low side on the left, and the way along which its parts are counted."""
    given = [place for place in (step.x, step.y, step.line) if place is not None]
    if len(given) != 1:
        return f"Cut {step.n} needs one place, at x or at y or along a line, and has {len(given)}."
    line: Line
    if step.line is not None:
        line = step.line
        way = (line[1][0] - line[0][0], line[1][1] - line[0][1])
    elif step.x is not None:
        line = ((step.x, 0), (step.x, 1))
        way = (0, 1)
    else:
        at = step.y or 0
        line = ((1, at), (0, at))
        way = (1, 0)
    if not all(isinstance(number, int) for corner in line for number in corner):
        return f"Cut {step.n} is not at a whole tick."
    if line[0] == line[1]:
        return f"Cut {step.n} goes along a line without direction."
    return line, way


def _name(
    table: Table, step: CutStep, part: CutPart, shapes: list[Shape]
) -> Iterator[str]:
    """Put the results on the table; those of a cut that failed lie there without a shape."""
    if step.x is None:
        way = "y"
    else:
        way = "x"
    if step.line is not None:
        way = "line"
    for i, name in enumerate(step.gives):
        if name in table.parts:
            yield f"Cut {step.n} calls a part {name}, a name that is taken."
            continue
        if shapes:
            shape = shapes[i]
        else:
            shape = ()
        table.parts[name] = CutPart(
            shape=shape, cloth=part.cloth if shape else None, ways=(*part.ways, way)
        )


def _too_many_turns(table: Table, step: CutStep, most: int) -> Iterator[str]:
    """At most so many runs of cuts in one direction from a source to a part (a cut along a line is one more)."""
    if any(table.parts[name].turns > most for name in step.gives):
        yield f"Cut {step.n} changes the cutting direction once more than the {most} turns that are wanted."
