"""Small jobs in which what the solver must do can be worked out on paper; lengths in inches. Invented data."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any

from cutopt.check import check
from cutopt.cloth import replay
from cutopt.fabric import ByLength, ByPiece, Fabric, Piece
from cutopt.geometry import bounds
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.plan import Plan
from cutopt.result import Result
from cutopt.solve.control.stop import Work
from cutopt.solve.cuts.cutter import Cutter
from cutopt.solve.cuts.offers import SIMPLEST, candidate
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.layout import Layout, Placement, units_of
from cutopt.solve.solver import solve
from cutopt.wanted import Cut, Strip


def inch(number: float | str) -> int:
    """Inches as ticks, exactly."""
    ticks = Fraction(number) * INCH
    assert ticks.denominator == 1
    return int(ticks)


def piece(name: str, width: float, length: float, **more: Any) -> Piece:
    fabric = more.pop("fabric", "pear")
    return Piece.of_size(name, fabric, inch(width), inch(length), **more)


def cut(name: str, width: float, length: float, count: int = 1, **more: Any) -> Cut:
    return Cut(name=name, width=inch(width), length=inch(length), count=count, **more)


def bolt(fabric: str = "pear", price: str | None = "9.60", **more: Any) -> ByLength:
    """Fabric 42 in wide by the 1/8 yd."""
    told = None if price is None else Decimal(price)
    return ByLength(
        fabric=fabric, usable_width=inch(42), sold_by=YARD // 8, price=told, **more
    )


def each(fabric: str, width: float, length: float, price: str, **more: Any) -> ByPiece:
    return ByPiece(
        fabric=fabric,
        each_width=inch(width),
        each_length=inch(length),
        price=Decimal(price),
        **more,
    )


def job(*parts: Any, **more: Any) -> Job:
    """A job of fabrics, pieces, shop rows and wanted rows in any order; fabrics that are only named are plain."""
    given = {fabric.name: fabric for fabric in parts if isinstance(fabric, Fabric)}
    for part in parts:
        if not isinstance(part, Fabric) and hasattr(part, "fabric"):
            given.setdefault(part.fabric, Fabric(name=part.fabric))
    return Job(
        fabrics=tuple(given.values()),
        pieces=tuple(part for part in parts if isinstance(part, Piece)),
        shop=tuple(part for part in parts if isinstance(part, ByLength | ByPiece)),
        cuts=tuple(part for part in parts if isinstance(part, Cut)),
        strips=(
            *more.pop("strips", ()),
            *(part for part in parts if isinstance(part, Strip)),
        ),
        **more,
    )


def solved(task: Job, rounds: int = 600, seed: int = 0) -> Result:
    """The result, every offer of it checked."""
    result = solve(task, Work(rounds), seed=seed)
    for offer in result.offers:
        assert check(task, offer.plan) == []
    return result


def laid(
    task: Job, *copies: Sequence[tuple[int, float, float]], name: str = SIMPLEST
) -> Plan:
    """The plan of a layout, checked: on each copy of the first piece of the pile parts (row, x, y), not turned."""
    model = model_of(task)
    size = [(cut.width, cut.length) for cut in task.cuts]
    placed = tuple(
        Placement(
            sheet=0,
            copy=copy,
            unit=row,
            x=inch(x) // model.step,
            y=inch(y) // model.step,
            w=-(-size[row][0] // model.step),
            l=-(-size[row][1] // model.step),
            turned=False,
        )
        for copy, parts in enumerate(copies)
        for row, x, y in parts
    )
    layout = Layout(placements=placed, purchases=(), missing=(0,) * len(size), cost=0)
    plan = candidate(
        name, model, units_of(model), layout, Cutter(task.settings, model.step)
    ).plan
    assert check(task, plan) == []
    return plan


def counted(plan: Plan) -> Counter[str]:
    """How many parts of each row a plan gives, by the row's name."""
    return Counter(use.for_.partition("/")[2] for use in plan.uses)


def touched(plan: Plan) -> set[str]:
    """Names of the pieces of the pile that a plan takes."""
    return {source.piece for source in plan.sources if source.piece}


def fabrics_of(task: Job, plan: Plan) -> dict[str, Counter[str]]:
    """For each row by name: how many of its parts come from each fabric."""
    owner = {source.id: source for source in plan.sources}
    for step in plan.cuts:
        owner.update(dict.fromkeys(step.gives, owner[step.part]))
    of_piece = {each.name: each.fabric for each in task.pieces}
    out: dict[str, Counter[str]] = {}
    for use in plan.uses:
        source = owner[use.part]
        row = out.setdefault(use.for_.partition("/")[2], Counter())
        row[source.bought or of_piece[source.piece]] += 1
    return out


def sizes(task: Job, plan: Plan, name: str) -> set[tuple[int, int]]:
    """Across and along, in ticks, of the parts of a row as they lie in their cloth."""
    parts = replay(task, plan)
    boxes = [
        bounds(parts[use.part]) for use in plan.uses if use.for_.endswith(f"/{name}")
    ]
    return {(int(b[2] - b[0]), int(b[3] - b[1])) for b in boxes}


def lengths_of(plan: Plan) -> dict[str, int]:
    """Ticks that are bought of each fabric by length."""
    return {b.fabric: b.amount for b in plan.totals.bought if not b.by_piece}


def pieces_of(plan: Plan) -> dict[str, int]:
    """How many pieces are bought of each fabric by the piece."""
    return {b.fabric: b.amount for b in plan.totals.bought if b.by_piece}
