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
from cutopt.draw.views import rough_size, views
from cutopt.geometry import area2
from cutopt.job import Job
from cutopt.lengths import format_length, format_sale
from cutopt.piecing import Back, SpareBlock
from cutopt.plan import Plan, Source
from cutopt.quilt.cautions import BLADE, BLEEDING, YOUNG
from cutopt.quilt.sizes import may_be_a_babys
from cutopt.quilt.to_choose import Choosing
from cutopt.result import Result
from cutopt.tables.recipe.quilt import quilt_of
from cutopt.wanted import Strip, Wanted

MOST_LISTED: Final = 8
_STACKS = (
    "Layers slip on each other. Press them, lay their edges even, hold the ruler down, and look again before each cut. "
    "At most four layers of quilting cotton, fewer of thicker cloth or with a blade that drags (common practice, no "
    "source)."
)
_BABIES: Final = (
    "Babies",
    (
        "A quilt is never for sleep under 12 months; it is for the floor, awake and watched, or for the wall. "
        "American Academy of Pediatrics, Sleep-Related Infant Deaths: Updated 2022 Recommendations, Pediatrics 150(1)."
    ),
)
_COLOURS: Final = ("Colours", BLEEDING)
CAUTIONS: Final = (
    ("Blade", f"{BLADE} {YOUNG}"),
    ("Folds and stacks", _STACKS),
    _COLOURS,
    (
        "Iron and pins",
        "Never leave the iron on and alone; try the heat on a scrap first. Count pins and needles out, and back in.",
    ),
    _BABIES,
    (
        "Rules",
        "Local rules, a ward's or a school's too, and licensed practice come before these pages.",
    ),
)
_OTHER_NAMES: Final = (
    "Names that are too long, or in letters that no font here has, are printed so:"
)
_AGAIN: Final = (
    "Each mend makes another plan: write it into your tables and plan again before you "
    "cut, as cuts of these pages need not be in that."
)


def cautions(job: Job, plan: Plan | None = None) -> list[tuple[str, str]]:
    """What to take care of: of babies where the use says so, or nobody knows; of colours where cloth is not washed yet.

    Parameters
    ----------
    job : Job
    plan : Plan, optional
        What it cuts; all that the job has or may buy where none is given.
    """
    quilt = quilt_of(job)
    left_out = []
    if quilt is not None and not may_be_a_babys(quilt.use):
        left_out.append(_BABIES)
    if not _may_bleed(job, plan):
        left_out.append(_COLOURS)
    return [each for each in CAUTIONS if each not in left_out]


def _may_bleed(job: Job, plan: Plan | None) -> bool:
    """Whether cloth is cut that is not known to be washed: what is bought, and what the pile says so of."""
    unwashed = {fabric.name for fabric in job.fabrics if not fabric.washed}
    if plan is None:
        return bool(job.shop) or bool(unwashed)
    pieces = {source.piece for source in plan.sources}
    cut = {piece.fabric for piece in job.pieces if piece.name in pieces}
    return any(source.bought for source in plan.sources) or bool(cut & unwashed)


def standing(result: Result) -> str:
    """Whether all is there, in one sentence."""
    if not result.job.is_cut_for:
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


def to_buy(plan: Plan, result: Result, to_choose: Sequence[Choosing] = ()) -> list[str]:
    """One sentence a purchase, and the sum; what is missing all the same.

    Parameters
    ----------
    plan : Plan
    result : Result
        Of which the plan is one.
    to_choose : sequence of Choosing
        What is bought beside the plan.
    """
    return buying(plan, result, to_choose).sentences


def buying(plan: Plan, result: Result, to_choose: Sequence[Choosing] = ()) -> ToBuy:
    """What there is to buy. A pile is called enough only where nothing is short, and for what it is enough.

    Parameters
    ----------
    plan : Plan
    result : Result
        Of which the plan is one.
    to_choose : sequence of Choosing
        What is bought beside the plan.
    """
    purchases = _purchases(plan, result)
    if len(purchases) > 1:
        total = f"Together {money(result, plan)}."
    else:
        total = ""
    nothing = ""
    if not purchases:
        beside = any(o.bought for each in to_choose for o in each.options[:1])
        nothing = _nothing(plan, result, beside=beside)
    return ToBuy(
        purchases=tuple(purchases),
        total=total,
        nothing=nothing,
        missing=tuple(_missing(plan)),
    )


def _nothing(plan: Plan, result: Result, *, beside: bool) -> str:
    """That the plan buys nothing; of one `beside` which a back or batting is bought, what it is that needs nothing."""
    if not result.job.is_cut_for:
        return "Nothing for the top itself."
    if plan.short:
        return "Nothing in this plan."
    if beside:
        return "Nothing for what is cut here: the pile is enough for that."
    return "Nothing: the pile is enough."


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
            if sale == f"{long} {unit}":
                also = ""
            else:
                also = f" ({long} {unit})"
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
    if total is None:
        return "not all priced"
    return f"{result.job.settings.currency}{total:.2f}"


def used(plan: Plan, result: Result, to_choose: Sequence[Choosing] = ()) -> list[str]:
    """Which pieces of the pile are cut, and how much of the touched cloth is used.

    Parameters
    ----------
    plan : Plan
    result : Result
    to_choose : sequence of Choosing
        Backs and battings; what the first of each takes of the pile does not stay whole.
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
    if count == of == 1:
        return name
    return f"{count} of {name}"


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
    if len(found) > MOST_LISTED:
        more = f", and {len(found) - MOST_LISTED} smaller"
    else:
        more = ""
    return [f"{'; '.join(listed)}{more}."]


def short(plan: Plan) -> list[str]:
    """What is missing, why, and what mends it."""
    out = []
    for item in plan.short:
        if item.count == 1:
            verb = "is"
        else:
            verb = "are"
        told = f"{plan.so_many_short(item)} {verb} not in this plan"
        told += f": {item.why.rstrip('.')}." if item.why else "."
        if item.mends:
            told += (
                " What mends it: "
                + "; or ".join(mend.rstrip(".") for mend in item.mends)
                + "."
            )
        out.append(told)
    if any(item.mends for item in plan.short):
        out.append(_AGAIN)
    return out


def names(job: Job) -> list[str]:
    """What is printed under another name than it was typed, and how it was typed as far as our letters go."""
    listed = [each for each in stand_ins(job).stand_ins if each.kind != "quilt"]
    told = [
        f"{each.printed}: number {each.place + 1} of your {each.kind}s{_known_by(job, each)}."
        for each in listed
    ]
    if told:
        return [_OTHER_NAMES, *told]
    return []


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
        if fabric.colour:
            colour = f", {fabric.colour}"
        else:
            colour = ""
        return colour + (
            f"; on the pile {', '.join(sizes[:MOST_LISTED])} {unit}" if sizes else ""
        )
    if stand_in.kind == "piece":
        return f", {rough_size(*job.pieces[stand_in.place].size, unit)} {unit}"
    rows: dict[str, Sequence[Wanted | Back | SpareBlock]] = {
        "cut": job.cuts,
        "strip": job.strips,
        "back": job.backs,
        "block": job.spare_blocks,
    }
    row = rows[stand_in.kind][stand_in.place]
    if isinstance(row, Strip):
        size = row.total_length
    else:
        size = row.length
    return f", {format_length(row.width, unit)} x {format_length(size, unit)} {unit}"
