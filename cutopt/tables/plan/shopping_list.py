"""What to buy, as CSV: the purchases of a plan, what is missing all the same, what is to be chosen beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Final, NamedTuple

from cutopt.fabric import ByPiece, Offered
from cutopt.job import Job
from cutopt.lengths import format_length, format_sale
from cutopt.piecing import name_of
from cutopt.plan import Plan, Source
from cutopt.quilt.to_choose import Choosing, Option
from cutopt.tables.files.atomic import write_whole
from cutopt.tables.plan.list_text import job_of, list_text

SHOPPING_LIST: Final = ("fabric", "width", "length", "pieces", "price", "note")


class ShoppingLine(NamedTuple):
    """A row of the shopping list, with a cell for each of its columns."""

    fabric: str
    width: str = ""
    length: str = ""
    pieces: int | str = ""
    price: str = ""
    note: str = ""


def write_shopping_list(
    plan: Plan, path: str | Path, to_choose: Sequence[Choosing] = ()
) -> None:
    """Write what to buy: fabric, width, length as it is sold, number and price, and the sum.

    Parameters
    ----------
    plan : Plan
    path : str or Path
    to_choose : sequence of Choosing
        What is bought beside the plan, and no part of the sum.

    Raises
    ------
    Problem
        When the plan does not know its job (read it with ``read_plan(path, job)``).
    """
    write_whole(Path(path), list_text(SHOPPING_LIST, shopping_list(plan, to_choose)))


def shopping_list(plan: Plan, to_choose: Sequence[Choosing] = ()) -> list[ShoppingLine]:
    """The rows of the shopping list: equal purchases in one row, the sum, what must be cut and is short, choices.

    A list without a purchase says whether the pile is enough.

    Raises
    ------
    Problem
        When the plan does not know its job.
    """
    job = job_of(plan)
    alike: dict[tuple[str, int, int], list[Source]] = {}
    for source in plan.sources:
        if source.bought:
            key = (source.bought, source.width, source.length)
            alike.setdefault(key, []).append(source)
    out = [_purchase(job, sources) for sources in alike.values()]
    if alike:
        out.append(_total(job, [source for source in plan.sources if source.bought]))
    elif not plan.short and job.is_cut_for:
        out.append(
            ShoppingLine(fabric="nothing to buy", pieces=0, note="the pile is enough")
        )
    return [*out, *_lacking(plan), *_to_choose(job, to_choose)]


def _purchase(job: Job, sources: Sequence[Source]) -> ShoppingLine:
    first = sources[0]
    unit = job.settings.unit
    by_ruler = f"{format_length(first.length, unit)} {unit}"
    return ShoppingLine(
        fabric=first.bought,
        width=f"{format_length(first.width, unit)} {unit}",
        length=by_ruler if first.by_piece else format_sale(first.length, unit),
        pieces=len(sources),
        price=_price(job, sources),
        note=_shop_note(job, first),
    )


def _total(job: Job, sources: Sequence[Source]) -> ShoppingLine:
    price = _price(job, sources)
    if price:
        note = ""
    else:
        note = "a price is missing"
    return ShoppingLine(fabric="total", pieces=len(sources), price=price, note=note)


def _price(job: Job, sources: Sequence[Source]) -> str:
    """What purchases cost together; nothing where a price is missing."""
    known = [source.price for source in sources if source.price is not None]
    if len(known) == len(sources):
        return _priced(job, sum(known, Decimal(0)))
    return ""


def _priced(job: Job, amount: Decimal) -> str:
    return f"{job.settings.currency}{amount:.2f}"


def _shop_note(job: Job, source: Source) -> str:
    """The maker's own note on the shop row that the purchase is from."""
    notes = (row.note for row in job.shop if _is_from(source, row))
    return next(notes, "")


def _is_from(source: Source, row: Offered) -> bool:
    if row.fabric != source.bought or isinstance(row, ByPiece) != source.by_piece:
        return False
    if isinstance(row, ByPiece):
        return (row.each_width, row.each_length) == (source.width, source.length)
    return row.usable_width == source.width


def _lacking(plan: Plan) -> Iterator[ShoppingLine]:
    """A row for each that must be cut and that this purchase does not give, with what would mend it."""
    for item in plan.lacking:
        mends = "; or ".join(mend.rstrip(".") for mend in item.mends)
        yield ShoppingLine(
            fabric=f"not enough: {item.count} of {name_of(item.for_)} missing",
            note=f"what mends it: {mends}" if mends else item.why,
        )


def _to_choose(job: Job, to_choose: Sequence[Choosing]) -> Iterator[ShoppingLine]:
    """What is bought beside the plan, not in the sum: one backing of several, and batting, the recommended first."""
    for each in to_choose:
        yield ShoppingLine(fabric=f"{each.title} (not in the total)", note=each.missing)
        for option in each.options:
            yield _option(job, option)


def _option(job: Job, option: Option) -> ShoppingLine:
    unit = job.settings.unit
    if option.beside:
        beside = f"beside {option.beside}"
    else:
        beside = ""
    words = (option.name, option.how, beside, option.note)
    return ShoppingLine(
        fabric=option.what,
        width=f"{format_length(option.width, unit)} {unit}" if option.width else "",
        length=format_sale(option.length, unit) if option.length else "",
        pieces=option.pieces or int(option.bought),
        price="" if option.money is None else _priced(job, option.money),
        note=". ".join(word for word in words if word),
    )
