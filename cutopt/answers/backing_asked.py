"""What is asked when a backing is to be bought: a size to reach, rows of a shop, pieces on hand, and how it is made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutopt.answers.shelf import left_in_shop
from cutopt.answers.washed_first import held_after_wash
from cutopt.errors import Problem
from cutopt.fabric import Fabric, Offered, Piece
from cutopt.fabric_words import answers_to
from cutopt.job import Job
from cutopt.plan import Plan
from cutopt.quilt.backs.seams import TopSeams
from cutopt.quilt.backs.way import OnHand
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.recipe.long_seams import long_seams
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.top import Needed, Top, backing_size
from cutopt.quilt.wanted_parts import whole_ticks
from cutopt.settings import Settings


@dataclass(frozen=True, slots=True, kw_only=True)
class BackingAsked:
    """What is asked, all of it known.

    Parameters
    ----------
    need : the size to reach
    rows, fabrics : what the shop has left of what is meant, and what is known of the fabrics
    hand : rectangles of the maker's own
    how, upright : how this maker does it, and whether a print with a right way up has to stand
    lines : long seams of the top, None where they are not known
    notes : of a top out of square
    taken, taken_of : what a cutting plan takes of the shop, in sentences, and of which fabrics
    currency : the sign before sums of money
    """

    need: Needed
    rows: tuple[Offered, ...]
    fabrics: tuple[Fabric, ...]
    hand: tuple[OnHand, ...]
    how: Conventions
    upright: bool
    lines: TopSeams | None
    notes: tuple[str, ...]
    taken: tuple[str, ...]
    taken_of: frozenset[str]
    currency: str


def asked_of(
    top: str | Top | Needed | Quilt,
    shop: Job | Sequence[Offered],
    how: Conventions | None,
    fabrics: Sequence[Fabric],
    on_hand: Sequence[Piece | OnHand],
    upright: bool,
    words: Sequence[str] | None,
    plan: Plan | None,
) -> BackingAsked:
    """What is asked; the parameters are those of :func:`cutopt.answers.backing_to_buy`.

    Parameters
    ----------
    top, shop, how, fabrics, on_hand, upright, words, plan
        As they are given there.

    Raises
    ------
    Problem
        Where the size cannot be read, or nothing in the shop is meant.
    """
    lines = None
    if isinstance(top, Quilt):
        lines = long_seams(top)
        how = how or top.how
        upright = upright or top.backing_upright
        if words is None:
            words = top.backing
    if isinstance(shop, Job):
        settings = shop.settings
    else:
        settings = Settings()
    how = how or (Conventions.of(settings) if isinstance(shop, Job) else DEFAULT)
    known, rows = _meant(shop, fabrics, words or ())
    left = rows
    taken: tuple[str, ...] = ()
    if plan is not None:
        left, taken = left_in_shop(rows, plan, how.unit)
    need, notes = _needed(top, how)
    return BackingAsked(
        need=need,
        rows=left,
        fabrics=known,
        hand=_held(on_hand, need, settings, known, upright),
        how=how,
        upright=upright,
        lines=lines,
        notes=notes,
        taken=taken,
        taken_of=frozenset(row.fabric for row in rows if row not in left),
        currency=settings.currency if isinstance(shop, Job) else "",
    )


def size_asked(top: str | Top | Quilt, how: Conventions) -> Top:
    """The top of which the size is meant.

    Raises
    ------
    Problem
        Where the size cannot be read, or a quilt has none.
    """
    measured: Top | None
    if isinstance(top, str):
        return Top.read(top, how)
    if isinstance(top, Quilt):
        measured = top.top
    else:
        measured = top
    if measured is None:
        raise Problem("top", "the quilt has no size", "write a top, or a setting")
    return measured


def _needed(
    top: str | Top | Needed | Quilt, how: Conventions
) -> tuple[Needed, tuple[str, ...]]:
    """The size to reach, and what to say about a top out of square."""
    if isinstance(top, Needed):
        return top, ()
    measured = size_asked(top, how)
    told = measured.out_of_square(how)
    return backing_size(measured, how), tuple(
        text[:1].upper() + text[1:] for text in told
    )


def _held(
    pieces: Sequence[Piece | OnHand],
    need: Needed,
    settings: Settings,
    fabrics: Sequence[Fabric],
    upright: bool,
) -> tuple[OnHand, ...]:
    """Rectangles that are safe to count on when all is washed; where they have to be `upright` the print stands up."""
    known = {fabric.name: fabric for fabric in fabrics}
    reaches = [whole_ticks(side) for side in (need.width, need.length)]
    found: list[OnHand] = []
    for piece in pieces:
        if isinstance(piece, OnHand):
            found.append(piece)
            continue
        fabric = known.get(piece.fabric, Fabric(name=piece.fabric))
        held = held_after_wash(piece, fabric, settings, reaches)
        if fabric.stands(upright=upright):
            held = [replace(each, stands=fabric.one_way) for each in held]
        found += held
    return tuple(found)


def _meant(
    shop: Job | Sequence[Offered], fabrics: Sequence[Fabric], words: Sequence[str]
) -> tuple[tuple[Fabric, ...], tuple[Offered, ...]]:
    """What is known of the fabrics, and the rows that are meant: of these words, else all but batting."""
    known = tuple(fabrics)
    rows = tuple(shop.shop if isinstance(shop, Job) else shop)
    if isinstance(shop, Job):
        known = known or shop.fabrics
    by_name = {fabric.name: fabric for fabric in known}
    both = [(row, by_name.get(row.fabric, Fabric(name=row.fabric))) for row in rows]
    if not words:
        return known, tuple(row for row, fabric in both if not fabric.is_batting)
    found = []
    for row, fabric in both:
        if any(answers_to(fabric, word) for word in words):
            found.append(row)
    if not found:
        raise Problem(
            "backing",
            f"the shop sells none of {', '.join(words)}",
            "add a row to shop.csv",
        )
    return known, tuple(found)
