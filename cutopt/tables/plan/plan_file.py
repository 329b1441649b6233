"""Plans as JSON, format ``cutopt-plan/1`` (the JSON Schema stands beside this module as plan.schema.json)."""

from __future__ import annotations

import json
from collections.abc import Iterable
from decimal import Decimal
from importlib.resources import files
from pathlib import Path
from typing import Any

from cutopt.job import Job
from cutopt.lengths import TICKS_PER_MM
from cutopt.plan import (
    FORMAT,
    CutStep,
    Join,
    Plan,
    Source,
    Totals,
    bought_of,
)
from cutopt.tables.files.atomic import write_whole
from cutopt.tables.files.text_files import read_text
from cutopt.tables.log import Log
from cutopt.tables.plan.entries import (
    read_cut,
    read_join,
    read_level,
    read_seam,
    read_short,
    read_source,
    read_spare,
    read_trim,
    read_use,
)
from cutopt.tables.plan.json_nodes import Node, parsed
from cutopt.tables.plan.older_files import Amounts, apart

Json = dict[str, Any]
_LISTS = (
    "sources",
    "cuts",
    "uses",
    "spare",
    "joins",
    "seams",
    "trims",
    "short",
    "levels",
)


def plan_schema() -> Json:
    """The JSON Schema (draft 2020-12) of the format."""
    schema: Json = json.loads(
        files("cutopt.tables.plan")
        .joinpath("plan.schema.json")
        .read_text(encoding="utf-8")
    )
    return schema


def write_plan(plan: Plan, path: str | Path) -> None:
    """Write a plan as JSON, whole or not at all."""
    write_whole(Path(path), plan_to_json(plan))


def read_plan(path: str | Path, job: Job | None = None) -> Plan:
    """Read a plan; `job` becomes its origin, for drawing and printing.

    Whether the plan is good, and whether it was made for this job, the checker tells.

    Raises
    ------
    JobError
        With everything that is not as the format says.
    """
    log = Log()
    text = read_text(Path(path), log)
    log.finish()
    return plan_from_json(text, job, file=Path(path).name)


def measured_then(path: str | Path) -> dict[str, tuple[int, int]]:
    """How large the pieces that a saved plan cuts were when it was made: width and length in ticks, by name.

    Older files tell nothing of it. The file is one that :func:`read_plan` has read.
    """
    sources = json.loads(Path(path).read_text(encoding="utf-8-sig"))["sources"]
    told = (source for source in sources if "piece" in source and "width" in source)
    return {each["piece"]: (each["width"], each["length"]) for each in told}


def plan_to_json(plan: Plan) -> str:
    """A plan as JSON text, one entry of each list on a line."""
    head = {"format": FORMAT, "ticks_per_mm": TICKS_PER_MM, "job": plan.job}
    lines = [f'"{key}": {json.dumps(value)}' for key, value in head.items()]
    for key, entries in _lists(plan).items():
        body = ",\n".join(
            "  " + json.dumps(entry, ensure_ascii=False) for entry in entries
        )
        lines.append(f'"{key}": [\n{body}\n]' if body else f'"{key}": []')
    lines.append(f'"totals": {json.dumps(_totals(plan.totals), ensure_ascii=False)}')
    return "{" + ",\n".join(lines) + "}\n"


def _lists(plan: Plan) -> dict[str, list[Json]]:
    return {
        "sources": [_source(source, plan.origin) for source in plan.sources],
        "cuts": [_cut(cut) for cut in plan.cuts],
        "uses": [
            {"part": use.part, "for": use.for_, "turned": use.turned}
            for use in plan.uses
        ],
        "spare": [{"part": spare.part, "keep": spare.keep} for spare in plan.spare],
        "joins": [
            {
                "for": join.for_,
                "segments": list(join.segments),
                "join": join.join,
                "length": join.length,
            }
            for join in plan.joins
        ],
        "seams": [
            {
                "n": s.n,
                "back": s.back,
                "a": s.a,
                "b": s.b,
                "side": s.side,
                "seam": s.seam,
                "gives": s.gives,
            }
            for s in plan.seams
        ],
        "trims": [
            {
                "block": trim.block,
                "width": trim.width,
                "length": trim.length,
                "turned": trim.turned,
            }
            for trim in plan.trims
        ],
        "short": [
            {"for": s.for_, "count": s.count, "why": s.why, "mends": list(s.mends)}
            for s in plan.short
        ],
        "levels": [
            {
                "name": level.name,
                "value": level.value,
                "bound": level.bound,
                "proved": level.proved,
            }
            for level in plan.levels
        ],
    }


def _source(source: Source, job: Job | None) -> Json:
    """A source; of a piece of the pile also how large it was measured, so that a change of it can be told."""
    if source.piece:
        found: Json = {"id": source.id, "piece": source.piece, "copy": source.copy}
        for piece in job.pieces if job is not None else ():
            if piece.name == source.piece:
                found |= {"width": piece.size[0], "length": piece.size[1]}
        return found
    bought: Json = {
        "id": source.id,
        "bought": source.bought,
        "by_piece": source.by_piece,
        "copy": source.copy,
        "width": source.width,
        "length": source.length,
    }
    if source.price is None:
        return bought
    return bought | {"price": _money(source.price)}


def _cut(cut: CutStep) -> Json:
    where: Json = {
        "x": cut.x,
        "y": cut.y,
        "line": cut.line and [list(point) for point in cut.line],
    }
    told = {key: value for key, value in where.items() if value is not None}
    return {"n": cut.n, "part": cut.part, **told, "gives": list(cut.gives)}


def _totals(totals: Totals) -> Json:
    if totals.money is None:
        money = None
    else:
        money = _money(totals.money)
    return {
        "money": money,
        "bought": _amounts(totals, by_piece=False),
        "pieces": _amounts(totals, by_piece=True),
        "cuts": totals.cuts,
        "ruler_widths": totals.ruler_widths,
        "seams": totals.seams,
        "joins": totals.joins,
    }


def _amounts(totals: Totals, *, by_piece: bool) -> Json:
    return {
        each.fabric: each.amount for each in totals.bought if each.by_piece == by_piece
    }


def _money(amount: Decimal) -> str:
    return f"{amount:f}"


def plan_from_json(
    text: str, job: Job | None = None, *, file: str = "plan.json"
) -> Plan:
    """Read a plan from JSON text.

    Parameters
    ----------
    text : str
    job : Job, optional
        Becomes its origin, for drawing and printing.
    file : str
        How a problem names the text.

    Raises
    ------
    JobError
        With everything that is not as the format says.
    """
    log = Log()
    top = Node(parsed(text, file, log), "", file, log)
    _check_head(top)
    bought = _read_bought(top)
    sources = tuple(read_source(node, bought) for node in top.entries("sources"))
    joins = tuple(read_join(node) for node in top.entries("joins", []))
    plan = Plan(
        job=top.text("job"),
        sources=sources,
        cuts=tuple(read_cut(node) for node in top.entries("cuts")),
        uses=tuple(read_use(node) for node in top.entries("uses")),
        spare=tuple(read_spare(node) for node in top.entries("spare", [])),
        joins=joins,
        seams=tuple(read_seam(node) for node in top.entries("seams", [])),
        trims=tuple(read_trim(node) for node in top.entries("trims", [])),
        short=tuple(read_short(node) for node in top.entries("short", [])),
        levels=tuple(read_level(node) for node in top.entries("levels", [])),
        totals=_read_totals(top, joins, bought),
        origin=job,
    )
    _note_twice((source.id for source in plan.sources), "sources", top)
    log.finish()
    return plan


def _check_head(top: Node) -> None:
    top.only("format", "ticks_per_mm", "job", *_LISTS, "totals")
    before = len(top.log.problems)
    told = top.text("format")
    if told != FORMAT and len(top.log.problems) == before:
        top.note(
            "format",
            f'"{told}" is not a format known here',
            f'this version reads "{FORMAT}"',
        )
    if (ticks := top.whole("ticks_per_mm")) not in (TICKS_PER_MM, None):
        top.note(
            "ticks_per_mm",
            f"{ticks} is not the measure of this format",
            f"it must be {TICKS_PER_MM}",
        )


def _note_twice(names: Iterable[str], key: str, top: Node) -> None:
    seen: set[str] = set()
    for name in names:
        if name in seen:
            top.note(key, f'"{name}" is given twice', "give each source its own id")
        seen.add(name)


def _read_totals(top: Node, joins: tuple[Join, ...], bought: Amounts) -> Totals:
    """The totals; older files do not count the joins, and none of them had backs."""
    node = top.inner("totals")
    node.only("money", "bought", "pieces", "cuts", "ruler_widths", "seams", "joins")
    sewn = sum(max(0, len(join.segments) - 1) for join in joins)
    return Totals(
        money=node.money("money"),
        bought=bought_of(bought),
        cuts=node.whole("cuts", least=0) or 0,
        ruler_widths=node.whole("ruler_widths", 0, least=0) or 0,
        seams=node.whole("seams", 0, least=0) or 0,
        joins=node.whole("joins", sewn, least=0) or 0,
    )


def _read_bought(top: Node) -> Amounts:
    """What the totals say of purchases."""
    totals = top.inner("totals")
    lengths = _read_amounts(totals, "bought")
    if not totals.has("pieces"):
        fabrics = {node.text("bought", "") for node in top.entries("sources")}
        return apart(lengths, fabrics)
    pieces = _read_amounts(totals, "pieces")
    told = {(fabric, False): length for fabric, length in lengths.items()}
    return told | {(fabric, True): count for fabric, count in pieces.items()}


def _read_amounts(totals: Node, key: str) -> dict[str, int]:
    node = totals.inner(key, {})
    return {fabric: node.whole(fabric, least=0) or 0 for fabric in node.value}
