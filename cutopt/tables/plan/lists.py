"""Two lists for the maker as CSV: what to cut, and what to buy."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from pathlib import Path

from cutopt.answers.choosing import chosen_for
from cutopt.cloth import cloth_of, cut_part
from cutopt.errors import Problem
from cutopt.fabric import ByPiece
from cutopt.geometry import Number, Polygon, bounds
from cutopt.job import Job
from cutopt.lengths import down, format_length, format_sale
from cutopt.plan import Plan, Source, Use
from cutopt.signs import not_a_formula
from cutopt.strips import as_measured, finest_mark, joined, segment_size, sewn_length
from cutopt.tables.atomic import csv_text, write_whole
from cutopt.tables.recipe.quilt import quilt_of
from cutopt.wanted import Cut, Strip

CUT_LIST = (
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
SHOPPING_LIST = ("fabric", "width", "length", "pieces", "price", "note")


def write_cut_list(plan: Plan, path: str | Path) -> None:
    """Write what to cut: per wanted row, size and source the count, the fabric and the cuts that free it.

    Raises
    ------
    Problem
        When the plan does not know its job (read it with ``read_plan(path, job)``).
    """
    write_whole(Path(path), csv_text(CUT_LIST, _as_text(cut_list(plan))))


def write_shopping_list(plan: Plan, path: str | Path) -> None:
    """Write what to buy: fabric, width, length as it is sold, number and price, and the sum; Problem as above."""
    write_whole(Path(path), csv_text(SHOPPING_LIST, _as_text(shopping_list(plan))))


def _as_text(rows: Iterable[Sequence[object]]) -> list[list[object]]:
    """Rows in which no cell is worked out as a formula by a spreadsheet."""
    return [[not_a_formula(cell) for cell in row] for row in rows]


def _origin(plan: Plan) -> Job:
    if plan.origin is None:
        raise Problem(
            "plan", "it does not know its job", "read it with read_plan(path, job)"
        )
    return plan.origin


def cut_list(plan: Plan) -> list[tuple[object, ...]]:
    """The rows of the cut list, in the order of the wanted tables and the sources."""
    job = _origin(plan)
    parts = _parts(job, plan)
    source_of = _source_of(plan)
    sewn = joined(plan)
    freed = {part: cut.n for cut in plan.cuts for part in cut.gives}
    order = {row.key: i for i, row in enumerate(job.wanted)}
    rows: dict[tuple[str, str, str, str], list[Use]] = {}
    for use in plan.uses:  # whole pieces alike stand in one row, what is cut stands by the piece it is cut from
        source = source_of[use.part]
        told = _told(job, source, whole=use.part not in freed)
        key = (
            use.for_,
            _size(job, use, parts.get(use.part), sewn),
            told,
            source.id if use.part in freed else "",
        )
        rows.setdefault(key, []).append(use)
    out: list[tuple[object, ...]] = []
    for (wanted, size, told, _), uses in sorted(
        rows.items(), key=lambda item: order.get(item[0][0], len(order))
    ):
        numbers = sorted({freed[use.part] for use in uses if use.part in freed})
        out.append(
            (
                _short_name(wanted),
                size,
                len(uses),
                _fabric(job, source_of[uses[0].part]),
                told,
                _ranges(numbers) or "whole, no cut",
                job.row(wanted).note,
                job.row(wanted).why,
            )
        )
    short = (
        (
            _short_name(s.for_),
            "",
            s.count,
            "",
            "not in this plan",
            "",
            s.why,
            job.row(s.for_).why,
        )
        for s in plan.short
    )
    cut = [(*row, "", "") for row in (*out, *short)]
    return [*cut, *_strips(job, plan, parts)]


def _strips(
    job: Job, plan: Plan, parts: Mapping[str, Polygon]
) -> Iterator[tuple[object, ...]]:
    """A row for strips sewn or trimmed alike: of which segments, how many joins, and to what they are trimmed."""
    unit = job.settings.unit
    use_of = {use.part: use for use in plan.uses}
    alike: Counter[tuple[str, tuple[Number, ...]]] = Counter()
    for join in plan.joins:
        if all(name in parts and name in use_of for name in join.segments):
            longs = (_long(job, use_of[name], parts[name]) for name in join.segments)
            alike[join.for_, tuple(sorted(longs, reverse=True))] += 1
    for (key, segments), count in alike.items():
        row = job.row(key)
        assert isinstance(row, Strip)
        sewn = sewn_length(row, segments, job.settings)
        trimmed = sewn - row.total_length >= finest_mark(job.settings)
        if len(segments) == 1 and not trimmed:
            continue
        told = " + ".join(format_length(long, unit) for long in segments)
        size = f"{format_length(row.width, unit)} x {format_length(as_measured(sewn, job.settings), unit)} {unit}"
        trim = f"{format_length(row.total_length, unit)} {unit}" if trimmed else ""
        kind = f"{row.join} joins" if len(segments) > 1 else ""
        yield (
            _short_name(key),
            size,
            count,
            "",
            f"its segments {told}",
            "",
            kind,
            row.why,
            len(segments) - 1,
            trim,
        )


def _long(job: Job, use: Use, part: Polygon) -> Number:
    """How long a segment of a strip is, as it is measured."""
    return segment_size(job, use, part)[0 if use.turned else 1]


def _short_name(key: str) -> str:
    return key.partition("/")[2] or key


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
    """The size of a part: as wanted for a cut; for a segment of a strip its own length, as it is measured."""
    row = job.row(use.for_)
    unit = job.settings.unit
    if isinstance(row, Cut):
        long = row.length
    elif part is None:
        return f"{format_length(row.width, unit)} {unit} wide"
    elif use.part in sewn:
        wide, high = segment_size(job, use, part)
        long = down(wide if use.turned else high)
    else:
        x1, y1, x2, y2 = bounds(part)
        long = down(x2 - x1 if use.turned else y2 - y1)
    return f"{format_length(row.width, unit)} x {format_length(long, unit)} {unit}"


def _fabric(job: Job, source: Source) -> str:
    return source.bought or next(
        piece.fabric for piece in job.pieces if piece.name == source.piece
    )


def _told(job: Job, source: Source, *, whole: bool) -> str:
    """A source in words: "pear-2", "pear-2 (number 3 of 4)", "bought 3/8 yd, 42 in wide"."""
    if source.piece:
        count = next(piece.count for piece in job.pieces if piece.name == source.piece)
        return (
            source.piece
            if count == 1 or whole
            else f"{source.piece} (number {source.copy} of {count})"
        )
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


def shopping_list(plan: Plan) -> list[tuple[object, ...]]:
    """The rows of the shopping list: equal purchases in one row, the sum, what must be cut and is short.

    A list without a purchase says whether the pile is enough.
    """
    job = _origin(plan)
    alike: dict[tuple[str, int, int], list[Source]] = {}
    for source in plan.sources:
        if source.bought:
            alike.setdefault((source.bought, source.width, source.length), []).append(
                source
            )
    out = [_purchase(job, sources) for sources in alike.values()]
    prices = [source.price for sources in alike.values() for source in sources]
    if alike:
        known = [price for price in prices if price is not None]
        complete = len(known) == len(prices)
        out.append(
            (
                "total",
                "",
                "",
                len(prices),
                _priced(job, sum(known, Decimal(0))) if complete else "",
                "" if complete else "a price is missing",
            )
        )
    elif not plan.short and job.wanted:
        out.append(("nothing to buy", "", "", 0, "", "the pile is enough"))
    return [*out, *_lacking(plan), *_to_choose(job, plan)]


def _to_choose(job: Job, plan: Plan) -> Iterable[tuple[object, ...]]:
    """What is bought beside the plan, not in the sum: one backing of several, and batting, the recommended first."""
    unit = job.settings.unit
    for each in chosen_for(job, quilt_of(job), plan):
        yield f"{each.title} (not in the total)", "", "", "", "", each.missing
        for option in each.options:
            width = (
                f"{format_length(option.width, unit)} {unit}" if option.width else ""
            )
            length = format_sale(option.length, unit) if option.length else ""
            price = _priced(job, option.money) if option.money is not None else ""
            note = ". ".join(
                word for word in (option.name, option.how, option.note) if word
            )
            yield (
                option.what,
                width,
                length,
                option.pieces or int(option.bought),
                price,
                note,
            )


def _lacking(plan: Plan) -> Iterable[tuple[object, ...]]:
    """A row for each that must be cut and that this purchase does not give, with what would mend it."""
    for item in plan.lacking:
        mends = "; or ".join(mend.rstrip(".") for mend in item.mends)
        note = f"what mends it: {mends}" if mends else item.why
        yield (
            f"not enough: {item.count} of {_short_name(item.for_)} missing",
            "",
            "",
            "",
            "",
            note,
        )


def _purchase(job: Job, sources: list[Source]) -> tuple[object, ...]:
    first = sources[0]
    unit = job.settings.unit
    each = first.by_piece
    length = (
        f"{format_length(first.length, unit)} {unit}"
        if each
        else format_sale(first.length, unit)
    )
    known = [source.price for source in sources if source.price is not None]
    price = _priced(job, sum(known, Decimal(0))) if len(known) == len(sources) else ""
    width = f"{format_length(first.width, unit)} {unit}"
    return (
        first.bought,
        width,
        length,
        len(sources),
        price,
        _shop_note(job, first, each),
    )


def _shop_note(job: Job, source: Source, each: bool) -> str:
    """The maker's own note on the shop row that the purchase is from."""
    for row in job.shop:
        if row.fabric == source.bought and isinstance(row, ByPiece) == each:
            if isinstance(row, ByPiece):
                same = (row.each_width, row.each_length) == (
                    source.width,
                    source.length,
                )
            else:
                same = row.usable_width == source.width
            if same:
                return row.note
    return ""


def _priced(job: Job, amount: Decimal) -> str:
    return f"{job.settings.currency}{amount:.2f}"
