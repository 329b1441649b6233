"""What is to be bought beside the cutting plan as a choice: one backing of several, and one batting.

Nobody should come home without it, so it stands wherever the purchases of the plan stand.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from dataclasses import replace
from decimal import Decimal
from typing import Final

from cutopt.answers.backing import BackingAnswer, backing_to_buy
from cutopt.answers.batting import BattingAnswer, batting_to_buy
from cutopt.answers.shelf import left_of_pile
from cutopt.answers.washed_first import wash_note
from cutopt.errors import Problem
from cutopt.fabric import ByLength, Piece
from cutopt.fabric_words import answers_to
from cutopt.job import Job
from cutopt.lengths import so_many
from cutopt.piecing import name_of
from cutopt.plan import Plan
from cutopt.quilt.backs.batting import BattingWay
from cutopt.quilt.backs.compare import Choice, costs_less
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.to_choose import Choosing, Option

_NONE_WHOLE: Final = "nothing in the shop makes it whole: choose other fabrics"
_NONE_FROM_THE_REST: Final = (
    "from the shop and from what the plan leaves of your pile it cannot be made"
)


def choosing(
    backing: BackingAnswer | None,
    batting: BattingAnswer | None,
    missing: str = "",
    unplanned: Option | None = None,
) -> tuple[Choosing, ...]:
    """What is to be chosen.

    Parameters
    ----------
    missing : str
        Why there is no backing where one is asked for.
    unplanned : Option or None
        A better backing, from what the plan cuts of the maker's own (:func:`without_the_plan`).
    """
    found = []
    if backing is not None:
        told = ""
        options = [_backing(choice, backing) for choice in backing.best]
        if not options:
            told = _NONE_WHOLE
        if unplanned is not None:
            options.append(unplanned)
            told = told and _NONE_FROM_THE_REST
        found.append(Choosing(what="back", options=tuple(options), missing=told))
    elif missing:
        found.append(Choosing(what="back", options=(), missing=missing))
    if batting is not None:
        told = batting.short
        if not batting.ways:
            told = told or "nothing here is large enough: join pieces"
        found.append(Choosing(what="batting", options=_battings(batting), missing=told))
    return tuple(found)


def _cloths(names: Sequence[str], own: Mapping[str, str]) -> tuple[str, ...]:
    """The pieces of the pile that rectangles are cut from, a name for each copy."""
    return tuple(own[name] for name in names if name in own)


def _backing(choice: Choice, answer: BackingAnswer) -> Option:
    way = choice.way
    if isinstance(way.offered, ByLength):
        wide = way.offered.usable_width
    else:
        wide = 0
    seams = way.seams + way.joins
    if seams:
        sewn = so_many(seams, "seam")
    else:
        sewn = "no seam"
    notes = [wash_note(answer.hand, way.from_hand)]
    if way.tight:
        notes.append(f"Tight ({way.tight}): measure first")
    return Option(
        what=way.fabric,
        own=_cloths(way.from_hand, answer.own),
        width=wide,
        length=way.bought,
        pieces=way.pieces,
        money=way.money,
        how=f"{way.kind}, {sewn}",
        note=". ".join(note for note in notes if note),
        name=choice.name,
    )


def _battings(answer: BattingAnswer) -> tuple[Option, ...]:
    """The first, and the one with the fewest joins where that is another."""
    if not answer.ways:
        return ()
    easy = min(answer.ways, key=lambda way: (bool(way.tight), way.joins))
    chosen = [answer.ways[0], *([easy] if easy.joins < answer.ways[0].joins else [])]
    return tuple(_batting(way, answer) for way in chosen)


def _batting(way: BattingWay, answer: BattingAnswer) -> Option:
    if way.tight:
        note = f"Tight ({way.tight}): measure first"
    else:
        note = ""
    if answer.usual and way.pieces:
        if note:
            note = f"A usual package. {note}"
        else:
            note = "A usual package"
    return Option(
        what=way.what or way.headed,
        beside=way.mine if way.what else "",
        own=_cloths(way.own, answer.own),
        width=0,
        length=way.bought,
        pieces=way.pieces,
        money=way.money,
        how=way.kind,
        note=note,
    )


def backing_of(
    job: Job, quilt: Quilt, plan: Plan | None = None, *, whole: bool = False
) -> BackingAnswer | None:
    """What backs the quilt of a job: of the shop what a plan leaves, and first of all the pieces that it does not cut.

    Parameters
    ----------
    job, quilt : the job, and its quilt
    plan : a cutting plan that takes of its shop and of its pile
    whole : whether the plan takes nothing of the pile

    Returns
    -------
    BackingAnswer or None
        None where no backing is asked for, or the shop sells none of it.
    """
    if quilt.backing is None or quilt.top is None:
        return None
    pieces = job.pieces
    if plan is not None and not whole:
        pieces = left_of_pile(pieces, plan)
    held = [piece for piece in pieces if _may_back(job, quilt, piece)]
    try:
        return backing_to_buy(quilt, job, on_hand=held, plan=plan)
    except Problem:
        # the shop sells none of it
        return None


def _may_back(job: Job, quilt: Quilt, piece: Piece) -> bool:
    """Whether a piece is of a fabric that the backing may be made of."""
    fabric = next(each for each in job.fabrics if each.name == piece.fabric)
    return any(answers_to(fabric, word) for word in quilt.backing or ("any",))


def without_the_plan(
    job: Job, quilt: Quilt, plan: Plan | None, backing: BackingAnswer | None
) -> Option | None:
    """A back from pieces that the plan cuts, where it would be had for less, or is the only one there is.

    It is worked out with the pile whole and what the plan buys taken off the shop.

    Parameters
    ----------
    job, quilt, plan : the job, its quilt, and its cutting plan
    backing : what backs the quilt beside the plan
    """
    if plan is None or backing is None:
        return None
    used = {source.piece for source in plan.sources}
    cut = [piece for piece in job.pieces if piece.name in used]
    cut = [piece for piece in cut if _may_back(job, quilt, piece)]
    if not cut:
        return None
    other = backing_of(job, quilt, plan, whole=True)
    if other is None or not other.best:
        return None
    choice = other.best[0]
    if backing.best and not costs_less(choice.way, backing.best[0].way):
        return None
    option = _backing(choice, other)
    taken = {piece.name for piece in cut} & set(option.own)
    if not taken:
        return None
    return replace(
        option,
        name=f"with {' and '.join(sorted(taken))} left for it",
        note=". ".join(
            note for note in (_cut_for(job, plan, taken), option.note) if note
        ),
    )


def _cut_for(job: Job, plan: Plan, taken: Set[str]) -> str:
    """``The plan cuts sleeve from it``, and what to change."""
    sources = {source.id for source in plan.sources if source.piece in taken}
    rows = {use.for_ for use in plan.uses if use.part.partition(".")[0] in sources}
    wanted = (row.key for row in (*job.wanted, *job.backs))
    named = " and ".join(name_of(key) for key in wanted if key in rows)
    if len(taken) == 1:
        them = "it"
    else:
        them = "them"
    return f"The plan cuts {named} from {them}: name other fabrics for that, and plan again"


def batting_of(
    job: Job, quilt: Quilt, plan: Plan | None = None
) -> BattingAnswer | None:
    """The batting of the quilt of a job, None where none is asked for.

    Parameters
    ----------
    job, quilt : the job, and its quilt
    plan : a cutting plan that takes of its shop and of its pile
    """
    if quilt.batting is None or quilt.top is None:
        return None
    return batting_to_buy(quilt, job, words=quilt.batting, plan=plan)


def not_sold(quilt: Quilt, backing: BackingAnswer | None) -> str:
    """Why no backing is worked out although one is asked for; nothing where there is no such thing."""
    if quilt.backing is None or quilt.top is None or backing is not None:
        return ""
    return (
        f"the shop sells none of {', '.join(quilt.backing)}: no backing is worked out"
    )


def chosen_for(
    job: Job, quilt: Quilt | None, plan: Plan | None = None
) -> tuple[Choosing, ...]:
    """All that is to be chosen for a job beside its cutting plan.

    Parameters
    ----------
    job, quilt : the job, and its quilt where it has one
    plan : its cutting plan
    """
    if quilt is None:
        return ()
    return chosen_beside(
        job, quilt, plan, backing_of(job, quilt, plan), batting_of(job, quilt, plan)
    )


def chosen_beside(
    job: Job,
    quilt: Quilt,
    plan: Plan | None,
    backing: BackingAnswer | None,
    batting: BattingAnswer | None,
) -> tuple[Choosing, ...]:
    """The same from answers that are known already.

    Parameters
    ----------
    job, quilt, plan : the job, its quilt, and its cutting plan
    backing, batting : what was worked out beside the plan; None where none is asked for
    """
    unplanned = without_the_plan(job, quilt, plan, backing)
    return choosing(backing, batting, not_sold(quilt, backing), unplanned)


def in_all(
    money: Decimal | None, to_choose: Sequence[Choosing], currency: str
) -> list[str]:
    """What the plan costs with the first of the backs and of the battings; nothing where none is bought or priced.

    Parameters
    ----------
    money : Decimal or None
        What the plan buys, None where a price is missing.
    to_choose, currency : what is chosen beside it, and the sign before sums of money
    """
    first = [each.options[0] for each in to_choose if each.options]
    bought = [option for option in first if option.bought]
    if not bought:
        return []
    prices = [money, *(option.money for option in bought)]
    known = [price for price in prices if price is not None]
    if not known:
        return []
    told = f"With the first of each: {currency}{sum(known, Decimal(0)):.2f}"
    if len(known) == len(prices):
        return [f"{told}."]
    unpriced = [option.what for option in bought if option.money is None]
    if money is None:
        unpriced.append("what the plan buys without a price")
    return [f"{told}, and {', '.join(unpriced)} besides."]


def sentences(
    choices: Sequence[Choosing], unit: str, currency: str
) -> list[tuple[str, list[str]]]:
    """For each a title and its options, the recommended one first.

    Parameters
    ----------
    choices : what is to be chosen
    unit : of a shop, "in" or "cm"
    currency : the sign before sums of money
    """
    told = []
    for each in choices:
        lines = []
        if each.missing:
            lines.append(f"{each.missing[0].upper()}{each.missing[1:]}.")
        lines += [option.told(unit, currency) for option in each.options]
        told.append((each.title, lines))
    return told
