"""What is to be bought beside the cutting plan as a choice: one backing of several, and one batting.

Nobody should come home without it, so it stands wherever the purchases of the plan stand.
"""

from __future__ import annotations

from collections.abc import Sequence

from cutopt.answers.backing import BackingAnswer, backing_to_buy
from cutopt.answers.batting import BattingAnswer, batting_to_buy
from cutopt.answers.shelf import left_of_pile
from cutopt.errors import Problem
from cutopt.fabric import ByLength
from cutopt.job import Job, answers_to
from cutopt.plan import Plan
from cutopt.quilt.backs.batting import BattingWay
from cutopt.quilt.backs.compare import Choice
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.to_choose import Choosing, Option


def choosing(
    backing: BackingAnswer | None, batting: BattingAnswer | None, missing: str = ""
) -> tuple[Choosing, ...]:
    """What is to be chosen; `missing` says why there is no backing where one is asked for."""
    found = []
    if backing is not None:
        told = (
            ""
            if backing.best
            else "nothing in the shop makes it whole: choose other fabrics"
        )
        options = tuple(_backing(choice) for choice in backing.best)
        found.append(Choosing(what="back", options=options, missing=told))
    elif missing:
        found.append(Choosing(what="back", options=(), missing=missing))
    if batting is not None:
        told = "" if batting.ways else "nothing here is large enough: join pieces"
        found.append(Choosing(what="batting", options=_battings(batting), missing=told))
    return tuple(found)


def _backing(choice: Choice) -> Option:
    way = choice.way
    wide = way.offered.usable_width if isinstance(way.offered, ByLength) else 0
    seams = way.seams + way.joins
    sewn = "no seam" if not seams else f"{seams} seam{'s' if seams > 1 else ''}"
    note = f"Tight ({way.tight}): measure first" if way.tight else ""
    return Option(
        what=way.fabric,
        width=wide,
        length=way.bought,
        pieces=way.pieces,
        money=way.money,
        how=f"{way.kind}, {sewn}",
        note=note,
        name=choice.name,
    )


def _battings(answer: BattingAnswer) -> tuple[Option, ...]:
    """The first, and the one with the fewest joins where that is another."""
    if not answer.ways:
        return ()
    easy = min(answer.ways, key=lambda way: (bool(way.tight), way.joins))
    chosen = [answer.ways[0], *([easy] if easy.joins < answer.ways[0].joins else [])]
    return tuple(_batting(way, answer.usual) for way in chosen)


def _batting(way: BattingWay, usual: bool) -> Option:
    note = f"Tight ({way.tight}): measure first" if way.tight else ""
    if usual and way.pieces:
        note = f"A usual package. {note}" if note else "A usual package"
    return Option(
        what=way.what,
        width=0,
        length=way.bought,
        pieces=way.pieces,
        money=way.money,
        how=way.kind,
        note=note,
    )


def backing_of(
    job: Job, quilt: Quilt, plan: Plan | None = None
) -> BackingAnswer | None:
    """What backs the quilt of a job: of the shop what a plan leaves, and first of all the pieces that it does not cut.

    None where no backing is asked for, or the shop sells none of it.
    """
    if quilt.backing is None or quilt.top is None:
        return None
    pieces = left_of_pile(job.pieces, plan) if plan is not None else job.pieces
    known = {fabric.name: fabric for fabric in job.fabrics}
    held = [
        piece
        for piece in pieces
        if any(
            answers_to(known[piece.fabric], word) for word in quilt.backing or ("any",)
        )
    ]
    try:
        return backing_to_buy(quilt, job, on_hand=held, plan=plan)
    except Problem:
        return None  # the shop sells none of it


def batting_of(
    job: Job, quilt: Quilt, plan: Plan | None = None
) -> BattingAnswer | None:
    """The batting of the quilt of a job, None where none is asked for."""
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
    """All that is to be chosen for a job beside its cutting plan."""
    if quilt is None:
        return ()
    backing = backing_of(job, quilt, plan)
    return choosing(backing, batting_of(job, quilt, plan), not_sold(quilt, backing))


def sentences(
    choices: Sequence[Choosing], unit: str, currency: str
) -> list[tuple[str, list[str]]]:
    """For each a title and its options, the recommended one first."""
    told = []
    for each in choices:
        lines = [option.told(unit, currency) for option in each.options]
        if each.missing:
            lines.append(f"{each.missing[0].upper()}{each.missing[1:]}.")
        told.append((each.title, lines))
    return told
