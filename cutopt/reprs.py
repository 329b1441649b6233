"""What a notebook shows of the values: the pile as pictures, plans on their cloth, results in tables."""

from __future__ import annotations

from collections.abc import Iterator
from functools import singledispatch

from cutopt import svg
from cutopt.back_letters import lettered
from cutopt.cloth import Laid, laid
from cutopt.fabric import ByPiece, Offered, Piece
from cutopt.job import Job
from cutopt.lengths import UNITS, format_length, format_sale, so_many
from cutopt.piecing import Back, name_of
from cutopt.plan import Bought, Level, Plan, Source
from cutopt.result import Offer, Result
from cutopt.settings import Settings, Unit
from cutopt.wanted import Strip, Wanted

_WANTED = ("how many", "wanted", "cut size", "from", "", "how it comes about")
_OFFERS = (
    "offer",
    "money",
    "bought",
    "cuts",
    "ruler widths",
    "joins",
    "spare worth keeping",
    "about",
)
_LARGEST = 190  # pixels of the largest cloth of a plan


@singledispatch
def html(value: object) -> str:
    """What a notebook shows of a value.

    Raises
    ------
    TypeError
        Where nobody says how a value of that kind is shown.
    """
    raise TypeError(f"{type(value).__name__} is not shown in notebooks")


@html.register
def of_piece(piece: Piece) -> str:
    """A small picture, in inches or centimetres as the corners seem measured."""
    unit = svg.unit_of(number for corner in piece.outline for number in corner)
    return svg.sheet("", _piece(piece, unit, svg.scale_for([piece.outline])))


def _piece(piece: Piece, unit: str, scale: float, colour: str = "") -> str:
    """The outline with its flaws and a caption; `scale` is pixels per tick."""
    known = {
        "raw edges": piece.edges == "raw",
        "raw ends": piece.edges == "raw ends",
        "pinked edges": piece.edges == "pinked",
        "about": piece.about,
        "flaw": bool(piece.flaws),
    }
    lines = (
        f"{piece.count} x {piece.name}" if piece.count > 1 else piece.name,
        piece.fabric if piece.fabric != piece.name else "",
        svg.size_label(piece.outline, unit),
        ", ".join(word for word, told in known.items() if told),
    )
    if colour:
        tint = 0.4
    else:
        tint = 0.08
    body = svg.Shape(polygon=piece.outline, colour=colour, tint=tint)
    flaws = [svg.Shape(polygon=flaw, hatch=4, tip="flaw") for flaw in piece.flaws]
    said = "\n".join(line for line in lines if line)
    return svg.picture(piece.outline, [body, *flaws], said, scale)


@html.register
def of_job(job: Job) -> str:
    """The pile, what is wanted and the shop."""
    unit = job.settings.unit
    scale = svg.scale_for(piece.outline for piece in job.pieces)
    pile = [
        _piece(piece, unit, scale, job.colour(piece.fabric)) for piece in job.pieces
    ]
    wanted = (_wanted(row, unit) for row in (*job.wanted, *job.backs))
    shop = ((row.fabric, *_how_sold(row, job.settings)) for row in job.shop)
    return svg.sheet(
        job.name,
        svg.sentences(job.notices),
        svg.pictures(pile),
        svg.table(_WANTED, wanted, "What I want"),
        svg.table(("fabric", "sold", "price"), shop, "Shop"),
    )


def _wanted(row: Wanted | Back, unit: Unit) -> tuple[object, ...]:
    if isinstance(row, Strip):
        size = row.total_length
    else:
        size = row.length
    sizes = f"{format_length(row.width, unit)} x {format_length(size, unit)} {unit}"
    fabrics = " or ".join(row.fabrics) or "any fabric"
    if isinstance(row, Back):
        return 1, name_of(row.key), sizes, fabrics, row.importance, "pieced"
    return row.count, row.name, sizes, fabrics, row.importance, row.why


def _how_sold(row: Offered, settings: Settings) -> tuple[str, str]:
    """How a shop sells a fabric (``by the 1/8 yd, 42 in usable width`` or ``18 x 21 in each``), and its price."""
    unit = settings.unit
    if row.price is None:
        price = ""
    else:
        price = f"{settings.currency}{row.price}"
    if isinstance(row, ByPiece):
        wide = format_length(row.each_width, unit)
        return f"{wide} x {format_length(row.each_length, unit)} {unit} each", price
    wide = format_length(row.usable_width, unit, mark=True)
    return f"by the {format_sale(row.sold_by, unit)}, {wide} usable width", price


@html.register
def of_plan(plan: Plan) -> str:
    """The cloth with its parts (hatched: spare), and the totals; shares one small budget of pictures."""
    cloths = f"{so_many(len(plan.sources), 'piece')} of cloth"
    if plan.origin is None:
        return svg.sheet(f"Plan of {so_many(len(plan.cuts), 'cut')} through {cloths}")
    totals = plan.totals
    widths = so_many(totals.ruler_widths, "ruler width")
    head = f"{so_many(totals.cuts, 'cut')}, {widths}, {cloths}"
    told = [f"Short: {plan.so_many_short(short)}: {short.why}" for short in plan.short]
    drawn = list(_cloths(plan, plan.origin))
    more = len(plan.sources) - len(drawn)
    if more > 0:
        left = f"<div>… and {more} more</div>"
    else:
        left = ""
    return svg.sheet(head, svg.sentences(told), svg.pictures(drawn), left)


def _cloths(plan: Plan, job: Job) -> Iterator[str]:
    """The pieces of cloth that a plan cuts, as far as there is room for them."""
    there = laid(job, plan)
    scale = svg.scale_for((cloth.outline for cloth in there.cloths.values()), _LARGEST)
    for source in plan.sources[: svg.MOST_PICTURES]:
        cloth = there.cloths[source.id]
        shapes = list(_shapes(plan, job, there, source))
        shapes += [
            svg.Shape(polygon=flaw, hatch=3, tint=0.3, tip="flaw")
            for flaw in cloth.flaws
        ]
        said = f"{_called(source)}\n{svg.size_label(cloth.outline, job.settings.unit)}"
        yield svg.picture(cloth.outline, shapes, said, scale)


def _called(source: Source) -> str:
    return source.piece or f"{source.bought}, bought"


def _shapes(plan: Plan, job: Job, there: Laid, source: Source) -> Iterator[svg.Shape]:
    """What a piece of cloth gives: parts that are used, in its colour, then spare cloth."""
    colour = job.colour(there.cloths[source.id].fabric)
    letters = lettered(plan)
    for use in plan.uses:
        if there.owner[use.part] == source.id:
            polygon = there.parts[use.part]
            what = name_of(letters.get(use.part, use.for_))
            yield svg.Shape(polygon=polygon, colour=colour, tint=0.5, tip=what)
    for spare in plan.spare:
        if there.owner[spare.part] == source.id:
            yield svg.Shape(polygon=there.parts[spare.part], hatch=7, tip="spare")


@html.register
def of_result(result: Result) -> str:
    """Whether all is there, the offers side by side, how good the plan is, and the plan."""
    head = "Something that must be cut is not there"
    if result.complete:
        head = "Everything that must be cut is there"
    alone = len(result.offers) == 1
    offers = (_offer(offer, result.job, alone=alone) for offer in result.offers)
    levels = [(level.name, level.value, _sure(level)) for level in result.levels]
    reason = result.because
    # the reason is about the first level: what must be bought
    if result.complete and reason and levels:
        name, value, sure = levels[0]
        levels[0] = (name, value, f"{sure}: {reason}")
        reason = ""
    if alone:
        title = "This plan in numbers"
    else:
        title = "Ways to do it"
    return svg.sheet(
        f"{result.job.name}: {head}",
        svg.sentences(
            (reason, *result.rules, *result.notices, *result.washing, *result.mixed)
        ),
        svg.table(_OFFERS, offers, title),
        svg.table(("", "this plan", "how sure"), levels, "How good"),
        of_plan(result.plan),
    )


def _sure(level: Level) -> str:
    if level.proved:
        return "proved the best"
    return f"no plan betters {level.bound}"


def _offer(offer: Offer, job: Job, *, alone: bool) -> tuple[object, ...]:
    totals = offer.plan.totals
    unit = job.settings.unit
    money = "not priced"
    if totals.money is not None:
        money = f"{job.settings.currency}{totals.money}"
    bought = ", ".join(_amount(each, unit) for each in totals.bought) or "nothing"
    if offer.plan.lacking:
        bought = f"{bought}, but something that must be cut is missing"
    return (
        "this plan" if alone else " = ".join((offer.name, *offer.also)),
        money,
        bought,
        totals.cuts,
        totals.ruler_widths,
        totals.joins,
        f"{offer.spare / UNITS[unit] ** 2:.0f} square {unit}",
        f"{offer.minutes} minutes",
    )


def _amount(bought: Bought, unit: Unit) -> str:
    if bought.by_piece:
        return f"{bought.amount} {bought.fabric} by the piece"
    return f"{bought.fabric} {format_sale(bought.amount, unit)}"


__all__ = ["html"]
