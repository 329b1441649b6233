"""The first page in plain sentences: what to buy, what is used and kept, how sure we are, what to look out for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from cutopt.draw.letters import StandIn, stand_ins
from cutopt.draw.shopping import missing
from cutopt.draw.spare import Usable, usable
from cutopt.draw.views import rough_size, title_of, views
from cutopt.geometry import area2
from cutopt.job import Job
from cutopt.lengths import INCH, MM, UNITS, format_length, format_sale, parse_number
from cutopt.pages.phrases import and_text
from cutopt.plan import (
    BUYING_LEVELS,
    CUTS_LEVEL,
    LEFT_OUT_LEVEL,
    SHORT_LEVEL,
    Level,
    Plan,
    Source,
)
from cutopt.quilt.sizes import may_be_a_babys
from cutopt.quilt.to_choose import Choosing
from cutopt.result import Result, Room
from cutopt.tables.recipe.quilt import quilt_of
from cutopt.wanted import Cut

MOST_LISTED: Final = 8
_BLADE = (
    "Close the guard every time you lay the cutter down. Cut away from your body, keep your fingers clear of the "
    "edge, wear shoes. Young people cut only with an adult beside them."
)
_STACKS = (
    "Layers slip on each other. Press them, lay their edges even, hold the ruler down, and look again before each cut. "
    "At most four layers of quilting cotton, fewer of thicker cloth or with a blade that drags (common practice, no "
    "source)."
)
_BABIES = (
    "A quilt is never for sleep under 12 months; it is for the floor, awake and watched, or for the wall. "
    "American Academy of Pediatrics, Sleep-Related Infant Deaths: Updated 2022 Recommendations, Pediatrics 150(1)."
)
CAUTIONS: Final = (
    ("Blade", _BLADE),
    ("Folds and stacks", _STACKS),
    ("Iron", "Never leave it on and alone; try the heat on a scrap first."),
    ("Babies", _BABIES),
    (
        "Rules",
        "Local rules, a ward's or a school's too, and licensed practice come before these pages.",
    ),
)
_DANGERS: Final = {
    "odd": "Measure twice, an odd or ragged shape with nothing to spare ",
    "nothing": "Nothing to spare ",
    "little": "To spare only ",
    "whole": "Used as they are, so they must have their full size: ",
}
_OTHER_NAMES: Final = (
    "Names that are too long, or in letters that no font here has, are printed so:"
)
_NOTHING: Final = ("0", "0.00")
_LEVELS: Final = {"spare": "spare cloth"}
_ENDED: Final = {
    "time": "the time was up",
    "work": "the work allowed was done",
    "interrupted": "it was stopped",
}
_OPEN: Final = {
    SHORT_LEVEL: "what is short",
    LEFT_OUT_LEVEL: "what is left out",
    "money": "the price",
    CUTS_LEVEL: "the number of cuts",
}


def cautions(job: Job) -> list[tuple[str, str]]:
    """What to take care of; of babies where the use says so, or nobody knows."""
    quilt = quilt_of(job)
    if quilt is None or may_be_a_babys(quilt.use):
        return list(CAUTIONS)
    return [(head, text) for head, text in CAUTIONS if text != _BABIES]


def standing(result: Result) -> str:
    """Whether all is there, in one sentence."""
    if not result.job.wanted:
        return "Nothing has to be cut for the top: this is what to buy for it."
    if result.complete and not result.plan.short:
        return "Everything you want is in this plan."
    if result.complete:
        return "Everything that must be cut is in this plan; not everything that would be nice."
    return "Something that must be cut is missing: see what is short."


@dataclass(frozen=True, slots=True, kw_only=True)
class ToBuy:
    """What is bought, a sentence each (none where nothing is); the sum; what is missing, and what would mend it."""

    purchases: tuple[str, ...]
    total: str = ""
    nothing: str = ""
    missing: tuple[str, ...] = ()

    @property
    def sentences(self) -> list[str]:
        """All of it in order."""
        return [
            text
            for text in (*self.purchases, self.total, self.nothing, *self.missing)
            if text
        ]


def to_buy(plan: Plan, result: Result) -> list[str]:
    """One sentence a purchase, and the sum; what is missing all the same."""
    return buying(plan, result).sentences


def buying(plan: Plan, result: Result) -> ToBuy:
    """What there is to buy. A pile is called enough only where nothing is short."""
    purchases = _purchases(plan, result)
    total = f"Together {money(result, plan)}." if len(purchases) > 1 else ""
    nothing = "" if purchases else _nothing(plan, result)
    return ToBuy(
        purchases=tuple(purchases),
        total=total,
        nothing=nothing,
        missing=tuple(_missing(plan)),
    )


def _nothing(plan: Plan, result: Result) -> str:
    if not result.job.wanted:
        return "Nothing for the top itself."
    return "Nothing in this plan." if plan.short else "Nothing: the pile is enough."


def _missing(plan: Plan) -> Iterator[str]:
    """What this purchase leaves out, what must be cut first."""
    must = missing(plan, "must")
    if must:
        mends = [mend for item in plan.lacking for mend in item.mends]
        yield f"This is not enough for all: {must}{_mended(mends, len(plan.lacking))}"
    left_out = missing(plan, "not must").strip()
    if left_out:
        yield left_out


def _mended(mends: Sequence[str], rows: int) -> str:
    if not mends:
        return "Why stands under Short on page 1."
    if rows == 1 and len(mends) == 1:
        return f"What mends it: {mends[0].rstrip('.')}."
    return f"What mends it stands under Short on page 1; first: {mends[0].rstrip('.')}."


def _purchases(plan: Plan, result: Result) -> list[str]:
    """One sentence a purchase."""
    unit = result.job.settings.unit
    count = Counter((s.bought, s.width, s.length) for s in plan.sources if s.bought)
    out = []
    for (fabric, width, length), times in count.items():
        alike = [
            s
            for s in plan.sources
            if (s.bought, s.width, s.length) == (fabric, width, length)
        ]
        wide = format_length(width, unit)
        long = format_length(length, unit)
        if alike[0].by_piece:
            what = f"{times} {'piece' if times == 1 else 'pieces'} of {fabric}, {wide} x {long} {unit}"
        else:
            sale = format_sale(length, unit)
            also = "" if sale == f"{long} {unit}" else f" ({long} {unit})"
            what = f"{sale} of {fabric}{also}, usable width {wide} {unit}"
        out.append(f"{what}: {_money_of(result, alike)}.")
    return out


def _money_of(result: Result, sources: Sequence[Source]) -> str:
    prices = [source.price for source in sources if source.price is not None]
    if len(prices) < len(sources):
        return "no price given"
    return f"{result.job.settings.currency}{sum(prices):.2f}"


def money(result: Result, plan: Plan) -> str:
    """What a plan costs."""
    total = plan.totals.money
    return (
        "not all priced"
        if total is None
        else f"{result.job.settings.currency}{total:.2f}"
    )


def used(plan: Plan, result: Result, to_choose: Sequence[Choosing] = ()) -> list[str]:
    """Which pieces of the pile are cut, and how much of the touched cloth is used.

    What the first of the backs and battings `to_choose` takes of the pile does not stay whole.
    """
    shown = views(plan)
    names = Counter(source.piece for source in plan.sources if source.piece)
    listed = [
        f"{count} of {name}" if count > 1 else name for name, count in names.items()
    ]
    out = [
        f"From the pile: {', '.join(listed)}." if listed else "Nothing from the pile."
    ]
    whole = sum(Fraction(area2(view.cloth.outline)) for view in shown)
    taken = sum(
        Fraction(area2(part.polygon))
        for view in shown
        for part in view.parts
        if part.kind == "used"
    )
    if whole:
        out.append(
            f"Of the cloth you touch, {round(100 * taken / whole)} % goes into what you want."
        )
    beside = Counter(
        name for each in to_choose for option in each.options[:1] for name in option.own
    )
    if beside:
        into = (_copies(name, count, 1) for name, count in beside.items())
        out.append(f"Go into back or batting: {', '.join(into)}.")
    names.update(beside)
    stay = [
        _copies(piece.name, piece.count - names[piece.name], piece.count)
        for piece in result.job.pieces
        if piece.count > names[piece.name]
    ]
    if stay:
        out.append(f"Stay whole on the pile: {', '.join(stay)}.")
    return out


def _copies(name: str, count: int, of: int) -> str:
    """``2 of wine-1``, the name alone where there is but one of it."""
    return name if count == of == 1 else f"{count} of {name}"


def kept(plan: Plan, result: Result) -> list[str]:
    """The spare cloth worth keeping, the largest first."""
    unit = result.job.settings.unit
    found: list[tuple[Usable, str]] = []
    for view in views(plan):
        keep = (part for part in view.parts if part.kind == "keep")
        found += [
            (usable(result.job, view.cloth, part.polygon), view.cloth.fabric)
            for part in keep
        ]
    if not found:
        return ["No spare cloth that is worth keeping."]
    found.sort(key=lambda item: -item[0].area)
    listed = [f"{fabric} {spare.told(unit)}" for spare, fabric in found[:MOST_LISTED]]
    more = (
        f", and {len(found) - MOST_LISTED} smaller" if len(found) > MOST_LISTED else ""
    )
    return [f"{'; '.join(listed)}{more}."]


def how_sure(result: Result) -> list[str]:
    """Why no plan can buy less, and for each level whether it is the best there is."""
    levels = list(result.levels)
    out = []
    if levels and levels[0].name == SHORT_LEVEL:
        out += _lacking(result, levels.pop(0))
    if levels and levels[0].name in BUYING_LEVELS:
        out.append(_buying(result, levels.pop(0)))
    elif result.because:
        out.append(_sentence(result.because))
    out += [_level(level) for level in levels if level.proved or level.name != "cuts"]
    return [*out, *_ended(result)]


def _ended(result: Result) -> Iterator[str]:
    """Why the search ended, and what is still open then."""
    if result.stopped == "quiet":
        yield "The search ended by itself: it found nothing better any more."
    elif result.stopped != "proved":
        still = [
            _OPEN.get(level.name, "what to buy")
            for level in result.levels
            if not level.proved
        ]
        more = f"; more time might better {and_text(still)}" if still else ""
        yield f"The search ended because {_ENDED[result.stopped]}{more}."


def _lacking(result: Result, level: Level) -> list[str]:
    """``Every plan lacks at least 2 of what must be cut; this one lacks 3.``"""
    if level.proved:
        told = f"Every plan lacks at least {level.bound} of what must be cut, and this one lacks just that many."
    elif level.bound in _NOTHING:
        told = f"This plan lacks {level.value} of what must be cut; whether one lacks fewer is open."
    else:
        told = f"Every plan lacks at least {level.bound} of what must be cut; this one lacks {level.value}."
    return [told, *([_sentence(result.because)] if result.because else [])]


def _buying(result: Result, level: Level) -> str:
    """``No plan can pay less than $7.25, because ...``; of a plan that is short, of those that lack no more."""
    verb, value, bound = _amounts(result, level)
    buys = any(source.bought for source in result.plan.sources)
    lacking = any(other.name == SHORT_LEVEL for other in result.levels)
    if result.plan.lacking and not buys:
        return "Something is short, so the least that a whole plan would take is not known."
    if level.proved and not buys:
        return "This plan buys nothing: it is the cheapest there is."
    because = (
        f", because {result.because.rstrip('.')}"
        if result.because and not lacking
        else ""
    )
    plan = "plan that lacks no more" if lacking else "plan"
    if level.proved:
        best = (
            "it is the cheapest there is"
            if level.name == "money"
            else "it is the least there is"
        )
        return f"No {plan} can {verb} less than {value}{because}. This plan takes just that: {best}."
    if level.value == level.bound or (
        not result.complete and level.bound in _NOTHING
    ):  # something is short
        return "Something is short, so the least that a whole plan would take is not known."
    known = f"No {plan} can {verb} less than {bound}{because}."
    return f"{known} This plan takes {value}; whether one in between exists is open."


def _amounts(result: Result, level: Level) -> tuple[str, str, str]:
    """``pay``, with sums of money, or ``buy``, with lengths as a shop sells them: value and bound of a level."""
    if level.name == "money":
        sign = result.job.settings.currency
        return "pay", f"{sign}{level.value}", f"{sign}{level.bound}"
    unit = result.job.settings.unit
    sizes = (parse_number(text) or Fraction(0) for text in (level.value, level.bound))
    value, bound = (format_sale(int(size * UNITS[unit]), unit) for size in sizes)
    return "buy", value, bound


def _level(level: Level) -> str:
    name = _LEVELS.get(level.name, level.name).capitalize()
    if level.value in _NOTHING and level.proved:
        return f"{name}: none."
    if level.proved:
        return f"{name}: {level.value}; no plan does better."
    known = (
        "" if level.bound in _NOTHING else f" No plan can do better than {level.bound}."
    )
    return f"{name}: {level.value}.{known} Whether a plan does better than this one is open."


def _sentence(text: str) -> str:
    plain = text.strip()
    return plain[:1].upper() + plain[1:] + ("" if plain.endswith((".", "!")) else ".")


def short(plan: Plan) -> list[str]:
    """What is missing, why, and what mends it."""
    out = []
    for item in plan.short:
        verb = "is" if item.count == 1 else "are"
        told = f"{plan.so_many_short(item)} {verb} not in this plan"
        told += f": {item.why.rstrip('.')}." if item.why else "."
        if item.mends:
            told += (
                " What mends it: "
                + "; or ".join(mend.rstrip(".") for mend in item.mends)
                + "."
            )
        out.append(told)
    return out


def names(job: Job) -> list[str]:
    """What is printed under another name than it was typed, and how it was typed as far as our letters go."""
    listed = [each for each in stand_ins(job).stand_ins if each.kind != "quilt"]
    told = [
        f"{each.printed}: number {each.place + 1} of your {each.kind}s{_known_by(job, each)}."
        for each in listed
    ]
    return [_OTHER_NAMES, *told] if told else []


def _known_by(job: Job, stand_in: StandIn) -> str:
    """What tells a fabric or a row apart beside its name."""
    unit = job.settings.unit
    if stand_in.kind == "fabric":
        fabric = job.fabrics[stand_in.place]
        sizes = [
            rough_size(*piece.size, unit)
            for piece in job.pieces
            if piece.fabric == fabric.name
        ]
        colour = f", {fabric.colour}" if fabric.colour else ""
        return colour + (
            f"; on the pile {', '.join(sizes[:MOST_LISTED])} {unit}" if sizes else ""
        )
    if stand_in.kind == "piece":
        return f", {rough_size(*job.pieces[stand_in.place].size, unit)} {unit}"
    row = (
        job.cuts[stand_in.place]
        if stand_in.kind == "cut"
        else job.strips[stand_in.place]
    )
    size = row.length if isinstance(row, Cut) else row.total_length
    return f", {format_length(row.width, unit)} x {format_length(size, unit)} {unit}"


def measure_first(result: Result) -> list[str]:
    """Pieces in which a quarter inch (6 mm) less would spoil the plan: one line a danger, the worst first.

    A shape that is odd, ragged or was measured roughly comes before a straight one, nothing to spare before a
    little; pieces that are used as they are need no cut and come last.
    """
    found: dict[str, dict[str, list[str]]] = {danger: {} for danger in _DANGERS}
    uncut = {source.id for source in result.plan.sources} - {
        cut.part for cut in result.plan.cuts
    }
    for danger, ways, room in _tight(result, uncut):
        found[danger].setdefault(ways, []).append(room.source)
    sources = {source.id: source for source in result.plan.sources}
    out = []
    for danger, groups in found.items():
        told = (
            f"{ways}{_named(result, [sources[name] for name in names])}"
            for ways, names in groups.items()
        )
        if groups:
            out.append(f"{_DANGERS[danger]}{'; '.join(told)}.")
    return out


def _tight(result: Result, uncut: set[str]) -> Iterator[tuple[str, str, Room]]:
    """Each piece with little room: its danger, and in which way it must not be smaller (``along: ``)."""
    unit = result.job.settings.unit
    tight, least = (INCH // 4, INCH // 16) if unit == "in" else (6 * MM, MM)
    shown = {source.id: source for source in result.plan.sources}
    for room in sorted(result.room, key=lambda room: min(room.across, room.along)):
        little = min(room.across, room.along)
        if room.source not in shown or little > tight:
            continue
        spare = {"across": room.across // least, "along": room.along // least}
        near = [way for way, steps in spare.items() if steps == little // least]
        far = [
            way
            for way, steps in spare.items()
            if way not in near and steps * least <= tight
        ]
        told = {
            way: format_length(steps * least, unit, mark=True)
            for way, steps in spare.items()
        }
        ways = f"{told[near[0]]} " if little >= least else ""
        ways += "either way" if len(near) == 2 else near[0]
        ways += f" ({told[far[0]]} {far[0]}): " if far else ": "
        if room.source in uncut:
            yield "whole", "", room
        elif little >= least:
            yield "little", ways, room
        else:
            yield "odd" if _odd(result, shown[room.source]) else "nothing", ways, room


def _odd(result: Result, source: Source) -> bool:
    """Whether a leftover is easily measured wrong."""
    piece = next(
        (piece for piece in result.job.pieces if piece.name == source.piece), None
    )
    return piece is not None and (
        piece.about or piece.edges == "raw" or not piece.is_rectangle
    )


def _named(result: Result, sources: Sequence[Source]) -> str:
    """Names of pieces of cloth, copies together: ``pear L, 3 of mist square, 3/8 yd of oat``."""
    titles = {source.id: _title(result, source) for source in sources}
    count = Counter(source.piece or titles[source.id] for source in sources)
    named = {source.piece or titles[source.id]: titles[source.id] for source in sources}
    return ", ".join(
        f"{count[key]} of {key}" if count[key] > 1 else title
        for key, title in named.items()
    )


def _title(result: Result, source: Source) -> str:
    if not source.bought or source.by_piece:
        return title_of(result.job, source)
    return f"{format_sale(source.length, result.job.settings.unit)} of {source.bought}"
