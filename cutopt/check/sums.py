"""Counts, strips, totals and levels: does the plan give what it says, and is what it says the sum of its parts?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction

from cutopt.check.replay import Table
from cutopt.check.shapes import box_of
from cutopt.check.sources import lengths_and_pieces
from cutopt.geometry import Number
from cutopt.job import Job
from cutopt.lengths import INCH, MM, format_length, format_sale, parse_number
from cutopt.plan import Bought, Join, Plan
from cutopt.wanted import Strip


def faults(job: Job, plan: Plan, table: Table) -> Iterator[str]:
    """All that does not add up.

    Parameters
    ----------
    job : Job
        What is wanted.
    plan : Plan
        Its uses, shortages, joins, totals and levels are added up again.
    table : Table
        The parts that its cuts make (:func:`cutopt.check.replay.replay`).

    Yields
    ------
    str
        A sentence a fault.
    """
    yield from _counts(job, plan)
    yield from _shortages(job, plan)
    yield from _most_each(job, plan, table)
    yield from _together(job, plan, table)
    yield from _joins(job, plan, table)
    yield from _totals(job, plan, table)
    yield from _levels(job, plan)


def _counts(job: Job, plan: Plan) -> Iterator[str]:
    """Made and short are what is wanted, row by row; a back is made where anything is cut or sewn for it."""
    made = Counter(use.for_ for use in plan.uses if use.for_.startswith("cuts/"))
    made.update(join.for_ for join in plan.joins)
    backs = {use.for_ for use in plan.uses if use.for_.startswith("backs/")}
    made.update(backs | {f"backs/{seam.back}" for seam in plan.seams})
    short = Counter[str]()
    for shortage in plan.short:
        short[shortage.for_] += shortage.count
    for row in (*job.wanted, *job.backs):
        if made[row.key] + short[row.key] != row.count:
            yield f"{row.name}: {row.count} wanted, {made[row.key]} made and {short[row.key]} said to be short."


def _shortages(job: Job, plan: Plan) -> Iterator[str]:
    known = {row.key for row in (*job.wanted, *job.backs)}
    for shortage in plan.short:
        if shortage.for_ not in known:
            yield f"The plan is short of {shortage.for_}, which is not wanted."
        if shortage.count < 1:
            yield f"The plan is short of {shortage.count} of {shortage.for_}, which says nothing."


def _fabrics(plan: Plan, table: Table, keys: set[str]) -> Counter[str]:
    """How many parts of the rows with these keys come from each fabric."""
    cloths = (
        table.parts[use.part].cloth
        for use in plan.uses
        if use.for_ in keys and use.part in table.parts
    )
    return Counter(cloth.fabric for cloth in cloths if cloth is not None)


def _most_each(job: Job, plan: Plan, table: Table) -> Iterator[str]:
    for row in job.cuts:
        for fabric, times in _fabrics(plan, table, {row.key}).items():
            if row.most_each is not None and times > row.most_each:
                yield f"{row.name}: {times} from {fabric}, and at most {row.most_each} may be."


def _together(job: Job, plan: Plan, table: Table) -> Iterator[str]:
    for word in sorted({row.together for row in job.wanted} - {""}):
        found = _fabrics(
            plan, table, {row.key for row in job.wanted if row.together == word}
        )
        if len(found) > 1:
            yield f"All of {word} must come from one fabric, and comes from {' and '.join(sorted(found))}."


def _joins(job: Job, plan: Plan, table: Table) -> Iterator[str]:
    """Every segment is in one strip of its own row, and every strip is long enough."""
    row_of = {use.part: use.for_ for use in plan.uses if use.for_.startswith("strips/")}
    for name, times in Counter(
        name for join in plan.joins for name in join.segments
    ).items():
        if times > 1:
            yield f"{name} is joined {times} times."
    for name in sorted(
        row_of.keys() - {name for join in plan.joins for name in join.segments}
    ):
        yield f"{name} is for {row_of[name]}, and no strip has it."
    for join in plan.joins:
        strip = next((strip for strip in job.strips if strip.key == join.for_), None)
        if strip is None:
            yield f"A strip is joined for {join.for_}, which is not wanted."
            continue
        for name in join.segments:
            if row_of.get(name) != join.for_:
                yield f"{name} is joined to {strip.name}, and is not cut for it."
        yield from _one_join(job, plan, table, join, strip)


def _one_join(
    job: Job, plan: Plan, table: Table, join: Join, strip: Strip
) -> Iterator[str]:
    """One strip: kind and number of joins, shortest segment (where one is joined at all), length."""
    unit = job.settings.unit
    if not join.segments:
        yield f"{strip.name} is joined from nothing."
        return
    if join.join != strip.join:
        yield f"{strip.name} has {join.join} joins and wants {strip.join}."
    if strip.join == "none" and len(join.segments) > 1:
        yield f"{strip.name} must be of one segment and has {len(join.segments)}."
    # a fault before this one hides how long it is
    if any(table.hidden(name) for name in join.segments):
        return
    lengths = [_long(plan, table, name) for name in join.segments]
    if len(lengths) > 1 and min(lengths) < strip.shortest:
        shortest = format_length(strip.shortest, unit, mark=True)
        yield f"{strip.name} has a segment of {format_length(min(lengths), unit)}; the shortest is {shortest}."
    lost = (len(lengths) - 1) * strip.join_loss(job.settings.seam)
    total = sum(lengths) - lost
    if total != join.length:
        said = format_length(join.length, unit)
        yield f"{strip.name} comes to {format_length(total, unit)}, and the plan says {said}."
    if total < strip.total_length:
        needed = format_length(strip.total_length, unit)
        yield f"{strip.name} is {format_length(total, unit)} long and must be {needed}."
    elif len(lengths) > 1 and _as_measured(job, lengths) - lost < strip.total_length:
        needed = format_length(strip.total_length, unit)
        yield f"{strip.name} is {needed} long only by what no ruler shows of its segments."


def _as_measured(job: Job, lengths: list[Number]) -> Number:
    """What segments come to, of each as much as the marks show: of a ruler, or of the grid where that is finer."""
    mark = min(INCH // 16 if job.settings.unit == "in" else MM, job.settings.grid)
    return sum(long - long % mark for long in lengths)


def _long(plan: Plan, table: Table, name: str) -> Number:
    """The length of a segment: along the selvage, across it where it is turned."""
    x1, y1, x2, y2 = box_of(table.parts[name].shape)
    if any(use.turned for use in plan.uses if use.part == name):
        return x2 - x1
    return y2 - y1


def _totals(job: Job, plan: Plan, table: Table) -> Iterator[str]:
    said = plan.totals
    prices = [source.price for source in plan.sources if source.bought]
    if None in prices:
        money = None
    else:
        money = sum((price for price in prices if price is not None), Decimal(0))
    lengths, pieces = lengths_and_pieces(plan)
    said_lengths = [each for each in said.bought if not each.by_piece]
    said_pieces = [each for each in said.bought if each.by_piece]
    for what, ours, theirs in (
        ("money", money, said.money),
        (
            "fabric bought",
            _told(lengths.items(), job),
            _told(_pairs(said_lengths), job),
        ),
        (
            "fabric bought by the piece",
            _counted(pieces.items()),
            _counted(_pairs(said_pieces)),
        ),
        ("number of cuts", len(plan.cuts), said.cuts),
        ("number of seams", len(plan.seams), said.seams),
        (
            "number of joins",
            sum(max(0, len(join.segments) - 1) for join in plan.joins),
            said.joins,
        ),
    ):
        if ours != theirs:
            yield f"The {what} comes to {ours}, and the plan says {theirs}."
    if not any(map(table.hidden, [*table.parts, *table.cut_by])):
        widths = len(ruler_widths(plan, table))
        if widths != said.ruler_widths:
            yield f"There are {widths} ruler widths, and the plan says {said.ruler_widths}."


def _pairs(bought: Iterable[Bought]) -> Iterator[tuple[str, int]]:
    return ((each.fabric, each.amount) for each in bought)


def _told(lengths: Iterable[tuple[str, int]], job: Job) -> str:
    """Lengths bought, in ticks behind the words too, so that lengths that look alike still differ."""
    unit = job.settings.unit
    told = (
        f"{fabric} {format_sale(length, unit)} ({length})"
        for fabric, length in sorted(lengths)
    )
    return ", ".join(told) or "nothing"


def _counted(pieces: Iterable[tuple[str, int]]) -> str:
    """Pieces bought."""
    return (
        ", ".join(f"{count} of {fabric}" for fabric, count in sorted(pieces))
        or "nothing"
    )


def ruler_widths(plan: Plan, table: Table) -> set[Number]:
    """The different distances from the low side of the part to the cut, where a wanted part lies on that side.

    Only for a table on which nothing is hidden.
    """
    wanted = {use.part for use in plan.uses} | table.cut_by.keys()
    widths: set[Number] = set()
    for step in plan.cuts:
        axis, at = (0, step.x) if step.x is not None else (1, step.y)
        if at is None:
            continue
        low = {
            name for name in step.gives if box_of(table.parts[name].shape)[axis] < at
        }
        if wanted & low:
            widths.add(at - box_of(table.parts[step.part].shape)[axis])
    return widths


def _levels(job: Job, plan: Plan) -> Iterator[str]:
    for name, times in Counter(level.name for level in plan.levels).items():
        if times > 1:
            yield f"The level {name} is given {times} times."
    sums = _known_levels(job, plan)
    for level in plan.levels:
        value = _number(level.value)
        bound = _number(level.bound)
        if value is None or bound is None:
            yield f"The level {level.name} has a value or bound that is not a number."
            continue
        if level.name in sums and value != sums[level.name]:
            yield f"The level {level.name} is {level.value}; the plan comes to {sums[level.name]}."
        if bound > value:
            yield f"The level {level.name} is {level.value}, below its bound {level.bound}."
        if level.proved and bound != value:
            yield f"The level {level.name} is said to be proved at {level.value}, and its bound is {level.bound}."


def _known_levels(job: Job, plan: Plan) -> dict[str, Decimal | int | None]:
    """The levels that are sums of the plan (others are the solver's own measures)."""
    said = plan.totals
    asked = (*job.wanted, *job.backs)
    wished = {row.key for row in asked if row.importance != "must"}
    left_out = sum(shortage.count for shortage in plan.short if shortage.for_ in wished)
    lacking = sum(shortage.count for shortage in plan.short) - left_out
    return {
        "money": said.money,
        "cuts": said.cuts,
        "ruler widths": said.ruler_widths,
        "seams": said.seams,
        "joins": said.joins,
        "wished for but left out": left_out,
        "short of what must be cut": lacking,
    }


def _number(text: str) -> Fraction | None:
    """A level's number: money, a count, or a length as the ruler shows it."""
    size = parse_number(text.removeprefix("-"))
    if size is not None and text.startswith("-"):
        return -size
    return size
