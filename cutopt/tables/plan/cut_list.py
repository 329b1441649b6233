"""What to cut, as CSV: each wanted row with its fabric, its source and the cuts that free it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final, NamedTuple

from cutopt.back_letters import lettered
from cutopt.cloth import cloth_of, cut_part
from cutopt.geometry import Number, Polygon, bounds
from cutopt.job import Job
from cutopt.lengths import down, format_length, format_sale
from cutopt.piecing import Back, name_of
from cutopt.plan import Plan, Source, Use
from cutopt.strips import (
    Segment,
    as_measured,
    finest_mark,
    joined,
    longest_first,
    segment_size,
    segments_text,
    sewn_length,
)
from cutopt.tables.files.atomic import write_whole
from cutopt.tables.plan.list_text import job_of, list_text
from cutopt.wanted import Cut, Strip

CUT_LIST: Final = (
    "wanted",
    "size",
    "count",
    "fabric",
    "from",
    "cuts",
    "note",
    "why",
    "joins",
    "trim to",
)


class CutListLine(NamedTuple):
    """A row of the cut list, with a cell for each of its columns."""

    wanted: str
    size: str
    many: int
    fabric: str
    source: str
    cuts: str
    note: str
    why: str
    joins: int | str = ""
    trim_to: str = ""


def write_cut_list(plan: Plan, path: str | Path) -> None:
    """Write what to cut: per wanted row, size and source the count, the fabric and the cuts that free it.

    Raises
    ------
    Problem
        When the plan does not know its job (read it with ``read_plan(path, job)``).
    """
    write_whole(Path(path), list_text(CUT_LIST, cut_list(plan)))


def cut_list(plan: Plan) -> list[CutListLine]:
    """The rows of the cut list: what is cut, in the order of the wanted tables and the sources; what is short; strips.

    Raises
    ------
    Problem
        When the plan does not know its job.
    """
    job = job_of(plan)
    parts = _parts(job, plan)
    return [
        *_cut(job, plan, parts),
        *_blocks(job, plan),
        *_short(job, plan),
        *_strips(job, plan, parts),
    ]


def _cut(job: Job, plan: Plan, parts: Mapping[str, Polygon]) -> Iterator[CutListLine]:
    """A row for the parts of one row and size: of whole pieces alike, or of the piece that they are cut from.

    Each part of a back has a row of its own: it has a place of its own in it.
    """
    source_of = _source_of(plan)
    sewn = joined(plan)
    freed = {part: cut.n for cut in plan.cuts for part in cut.gives}
    letters = lettered(plan)
    rows: dict[tuple[str, str, str, str], list[Use]] = {}
    for use in plan.uses:
        source = source_of[use.part]
        whole = use.part not in freed
        size = _size(job, use, parts.get(use.part), sewn)
        told = _told(job, source, whole=whole)
        wanted = letters.get(use.part, use.for_)
        key = (wanted, size, told, "" if whole else source.id)
        rows.setdefault(key, []).append(use)
    # parts of backs come last, in the order of sewing
    keys = [*(row.key for row in job.wanted), *letters.values()]
    places = {key: place for place, key in enumerate(keys)}
    in_order = sorted(rows.items(), key=lambda row: places.get(row[0][0], len(places)))
    for (wanted, size, told, _), uses in in_order:
        numbers = sorted({freed[use.part] for use in uses if use.part in freed})
        yield CutListLine(
            wanted=name_of(wanted),
            size=size,
            many=len(uses),
            fabric=_fabric(job, source_of[uses[0].part]),
            source=told,
            cuts=_ranges(numbers) or "whole, no cut",
            note=job.asked(uses[0].for_).note,
            why=_why(job, uses[0].for_),
        )


def _why(job: Job, key: str) -> str:
    """The arithmetic of a row; a back has none."""
    row = job.asked(key)
    if isinstance(row, Back):
        return ""
    return row.why


def _blocks(job: Job, plan: Plan) -> Iterator[CutListLine]:
    """A row for each spare block that goes into a back, with what it is trimmed to."""
    unit = job.settings.unit
    kinds = {block.key: block for block in job.spare_blocks}
    letters = lettered(plan)
    for trim in plan.trims:
        key, _, number = trim.block.rpartition("/")
        block = kinds[key]
        whole = _measured((block.width, block.length), unit)
        sewn_in = _measured((trim.width, trim.length), unit)
        yield CutListLine(
            wanted=name_of(letters.get(trim.block, trim.block)),
            size=whole,
            many=1,
            fabric="",
            source=f"spare block {block.name} (number {number} of {block.count})",
            cuts="",
            note=block.note,
            why="",
            trim_to="" if sewn_in == whole else sewn_in,
        )


def _measured(size: tuple[Number, Number], unit: str) -> str:
    """A size as it is measured, across first."""
    wide, long = (format_length(side, unit) for side in size)
    return f"{wide} x {long} {unit}"


def _short(job: Job, plan: Plan) -> Iterator[CutListLine]:
    for short in plan.short:
        yield CutListLine(
            wanted=name_of(short.for_),
            size="",
            many=short.count,
            fabric="",
            source="not in this plan",
            cuts="",
            note=short.why,
            why=_why(job, short.for_),
        )


def _strips(
    job: Job, plan: Plan, parts: Mapping[str, Polygon]
) -> Iterator[CutListLine]:
    """A row for strips sewn or trimmed alike: of which segments, how many joins, and to what they are trimmed."""
    use_of = {use.part: use for use in plan.uses}
    source_of = _source_of(plan)
    fabrics: dict[str, set[str]] = {}
    alike: Counter[tuple[str, tuple[Segment, ...]]] = Counter()
    for join in plan.joins:
        if all(name in parts and name in use_of for name in join.segments):
            segments = longest_first(
                (
                    _fabric(job, source_of[name]),
                    _long(job, use_of[name], parts[name]),
                )
                for name in join.segments
            )
            alike[join.for_, segments] += 1
            fabrics.setdefault(join.for_, set()).update(of for of, _ in segments)
    for (key, segments), count in alike.items():
        row = job.asked(key)
        assert isinstance(row, Strip)
        line = _strip(job, row, segments, count, mixed=len(fabrics[key]) > 1)
        if len(segments) > 1 or line.trim_to:
            yield line


def _strip(
    job: Job, row: Strip, segments: Sequence[Segment], count: int, *, mixed: bool
) -> CutListLine:
    """Strips of these segments; `mixed` where not all strips of the row are of one fabric."""
    unit = job.settings.unit
    sewn = sewn_length(row, [long for _, long in segments], job.settings)
    trimmed = sewn - row.total_length >= finest_mark(job.settings)
    told = segments_text(segments, unit, mixed=mixed)
    wide = format_length(row.width, unit)
    long = format_length(as_measured(sewn, job.settings), unit)
    return CutListLine(
        wanted=row.name,
        size=f"{wide} {unit} wide, {long} {unit} long",
        many=count,
        fabric=", ".join(dict.fromkeys(fabric for fabric, _ in segments)),
        source=f"its segments {told}",
        cuts="",
        note=f"{row.join} joins" if len(segments) > 1 else "",
        why=row.why,
        joins=len(segments) - 1,
        trim_to=f"{format_length(row.total_length, unit)} {unit}" if trimmed else "",
    )


def _long(job: Job, use: Use, part: Polygon) -> Number:
    """How long a segment of a strip is, as it is measured."""
    return segment_size(job, use, part)[0 if use.turned else 1]


def _parts(job: Job, plan: Plan) -> dict[str, Polygon]:
    """The parts of a plan; those of a part that is not there are left out."""
    parts: dict[str, Polygon] = {
        source.id: cloth_of(job, source).outline for source in plan.sources
    }
    for cut in plan.cuts:
        if cut.part in parts:
            parts.update(zip(cut.gives, cut_part(parts[cut.part], cut), strict=True))
    return parts


def _source_of(plan: Plan) -> dict[str, Source]:
    found = {source.id: source for source in plan.sources}
    for cut in plan.cuts:
        found.update(dict.fromkeys(cut.gives, found[cut.part]))
    return found


def _size(job: Job, use: Use, part: Polygon | None, sewn: Collection[str]) -> str:
    """The size of a part, across first: as wanted for a cut; for a segment of a strip as it lies, as it is measured."""
    row = job.asked(use.for_)
    unit = job.settings.unit
    if isinstance(row, Back):
        return _part_of_back(use, part, unit)
    wide = format_length(row.width, unit)
    if isinstance(row, Cut):
        return f"{wide} x {format_length(row.length, unit)} {unit}"
    if part is None:
        return f"{wide} {unit} wide"
    if use.part in sewn:
        across, along = segment_size(job, use, part)
    else:
        x1, y1, x2, y2 = bounds(part)
        across, along = x2 - x1, y2 - y1
    if use.turned:
        return f"{format_length(down(across), unit)} x {wide} {unit}"
    return f"{wide} x {format_length(down(along), unit)} {unit}"


def _part_of_back(use: Use, part: Polygon | None, unit: str) -> str:
    """The size of a part as it hangs in its back; "" where the part is not there."""
    if part is None:
        return ""
    x1, y1, x2, y2 = bounds(part)
    size = x2 - x1, y2 - y1
    if use.turned:
        size = size[1], size[0]
    return _measured((down(size[0]), down(size[1])), unit)


def _fabric(job: Job, source: Source) -> str:
    return source.bought or next(
        piece.fabric for piece in job.pieces if piece.name == source.piece
    )


def _told(job: Job, source: Source, *, whole: bool) -> str:
    """A source in words: "pear-2", "pear-2 (number 3 of 4)", "bought 3/8 yd, 42 in wide"."""
    if source.piece:
        count = next(piece.count for piece in job.pieces if piece.name == source.piece)
        if count == 1 or whole:
            return source.piece
        return f"{source.piece} (number {source.copy} of {count})"
    unit = job.settings.unit
    wide = format_length(source.width, unit)
    if source.by_piece:
        return f"bought piece {wide} x {format_length(source.length, unit)} {unit}"
    return f"bought {format_sale(source.length, unit)}, {wide} {unit} wide"


def _ranges(numbers: Iterable[int]) -> str:
    """Numbers with neighbours drawn together: ``3, 5 to 7`` (of ``5-7`` alone a spreadsheet makes a date)."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(str(a) if a == b else f"{a} to {b}" for a, b in runs)
