"""The tables of the first page: the ways to do it side by side, and what happens at other widths of the fabric."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from cutopt.lengths import UNITS, format_length, format_sale
from cutopt.pages.first_page import money
from cutopt.plan import Bought
from cutopt.result import Offer, Result, WidthCase, minutes_formula, sum_of_minutes


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A small table: a heading, column heads and rows of words."""

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""


def offers(result: Result) -> Grid:
    """The offers side by side."""
    rows = tuple(_offer(offer, result) for offer in result.offers)
    # of one plan there is nothing to choose, so it needs no names
    several = len(result.offers) > 1
    head = (
        "",
        *(
            " and ".join((offer.name, *offer.also)) if several else "this plan"
            for offer in result.offers
        ),
    )
    names = (
        "to pay",
        "to buy",
        "cuts",
        "ruler widths, joins",
        "spare and untouched",
        "biggest of that",
        "minutes, about",
        "short",
    )
    turned = [(name, *column) for name, *column in zip(names, *rows, strict=True)]
    seams = [len(offer.plan.seams) for offer in result.offers]
    if any(seams):
        # beside the joins
        of = "seams of backs" if len(result.job.backs) > 1 else "seams of the back"
        turned.insert(4, (of, *map(str, seams)))
    if several:
        which = "of the first"
    else:
        which = "here"
    made_of = sum_of_minutes(result.plan, result.job)
    note = f"Minutes: {minutes_formula(result.plan)}; {which}, {made_of}."
    if several:
        note += " These pages follow the first."
    return Grid(
        title="Ways to do it" if several else "This plan in numbers",
        head=head,
        rows=tuple(turned),
        note=note,
    )


def _offer(offer: Offer, result: Result) -> tuple[str, ...]:
    plan = offer.plan
    unit = result.job.settings.unit
    lacking = sum(item.count for item in plan.short)
    if lacking == 1:
        parts = "part"
    else:
        parts = "parts"
    return (
        money(result, plan),
        _to_buy(plan.totals.bought, unit),
        str(plan.totals.cuts),
        f"{plan.totals.ruler_widths}, {plan.totals.joins}",
        _square(offer.spare, unit),
        _square(offer.biggest_spare, unit),
        str(offer.minutes),
        f"{lacking} {parts}" if lacking else "nothing",
    )


def _square(area: int, unit: str) -> str:
    """An area as words: ``120 square in``."""
    return f"{round(Fraction(area, UNITS[unit] ** 2))} square {unit}"


def widths(result: Result) -> Grid | None:
    """What happens at other usable widths of the fabric by length."""
    if not result.widths:
        return None
    unit = result.job.settings.unit
    rows = tuple(
        (
            format_length(case.usable_width, unit, mark=True),
            bought_at(case, unit),
            _cost(case, result),
            "all there" if case.complete else "not enough",
        )
        for case in result.widths
    )
    return Grid(
        title="If the fabric turns out wider or narrower",
        head=("usable width", "buy", "to pay", "what must be cut"),
        rows=rows,
    )


def bought_at(case: WidthCase, unit: str) -> str:
    """What is bought at another width: ``5/8 yd of oat``."""
    return _to_buy(case.bought, unit)


def _to_buy(bought: Iterable[Bought], unit: str) -> str:
    """What is bought, lengths first: ``5/8 yd of oat, 2 of pear by the piece``."""
    told = [
        f"{each.amount} of {each.fabric} by the piece"
        if each.by_piece
        else f"{format_sale(each.amount, unit)} of {each.fabric}"
        for each in bought
    ]
    return ", ".join(told) or "nothing"


def _cost(case: WidthCase, result: Result) -> str:
    if case.money is None:
        return "not all priced"
    return f"{result.job.settings.currency}{case.money:.2f}"
