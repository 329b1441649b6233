"""Pieces of the maker's own as panels of a backing: one that is large enough, or several side by side."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal

from cutopt.quilt.backs.sewn import BackPart, Piecing, row_of, turned
from cutopt.quilt.backs.way import OnHand, Run, Way
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import Exact, exact
from cutopt.quilt.top import Needed

MOST_PIECES = 6


def side_by_side(
    on_hand: Sequence[OnHand], run: Run, along: Exact
) -> tuple[OnHand, ...]:
    """The widest pieces that are so long, turned as they would lie; out of one piece of cloth one rectangle alone.

    Parameters
    ----------
    on_hand : pieces on hand
    run : whether panels stand or lie
    along : how long each has to be, ticks
    """
    copies: dict[str, int] = {}
    for (_, cloth), n in Counter(
        (held.name, held.out_of or held.name) for held in on_hand
    ).items():
        copies[cloth] = max(n, copies.get(cloth, 0))
    long = [
        (width, i, replace(held, width=width, length=length))
        for i, held in enumerate(on_hand)
        for width, length in held.sides(run)
        if length >= along
    ]
    taken = set[int]()
    chosen = list[OnHand]()
    for _, i, held in sorted(long, key=lambda each: (-each[0], each[1])):
        cloth = held.out_of or held.name
        if i not in taken and copies[cloth] and len(chosen) < MOST_PIECES:
            taken.add(i)
            copies[cloth] -= 1
            chosen.append(held)
    return tuple(chosen)


def listed(names: Sequence[str]) -> str:
    """Names of pieces: ``2 of linen-1 and pear-2``."""
    return " and ".join(
        f"{n} of {name}" if n > 1 else name for name, n in Counter(names).items()
    )


def panels_of(pieces: Sequence[OnHand], along: Exact) -> tuple[BackPart, ...]:
    """Each piece as a panel that stands, cut to the length that is needed."""
    return tuple(
        BackPart(
            width=exact(held.width),
            height=along,
            what=f"from {held.name}",
            bought=False,
            own=held.name,
        )
        for held in pieces
    )


def all_on_hand(
    need: Needed, on_hand: Sequence[OnHand], how: Conventions
) -> Iterable[Way]:
    """Pieces that are large enough, alone or sewn side by side: nothing to buy.

    Parameters
    ----------
    need : the size to reach
    on_hand : pieces on hand
    how : seam, and in which direction panels may lie
    """
    for piece in on_hand:
        for w, h in piece.sides("up"):
            if w >= need.width and h >= need.length:
                why = f"{piece.name} is {how.size(piece.width, piece.length)}: nothing to buy"
                run: Run = "up" if w == piece.width else "across"
                whole = BackPart(
                    width=exact(w),
                    height=exact(h),
                    what=f"from {piece.name}",
                    bought=False,
                    own=piece.name,
                )
                yield _way(
                    (piece,),
                    "one piece on hand",
                    run,
                    whole,
                    (w - need.width, h - need.length),
                    why,
                    how,
                )
    runs: tuple[Run, ...] = ("up", "across")
    for run in runs:
        across, along = (
            (need.width, need.length) if run == "up" else (need.length, need.width)
        )
        if how.back_run in ("any", run):
            yield from _sewn(side_by_side(on_hand, run, along), run, across, along, how)


def _sewn(
    pieces: Sequence[OnHand], run: Run, across: Exact, along: Exact, how: Conventions
) -> Iterable[Way]:
    """As few of the pieces, widest first, as reach."""
    g2 = 2 * how.back_seam
    for k in range(2, len(pieces) + 1):
        some = pieces[:k]
        reach = sum(held.width for held in some) - g2 * (k - 1)
        if some[0].width >= across:
            return
        if reach >= across:
            sums = " + ".join(how.show(held.width) for held in some)
            seams = f"{k - 1} x {how.show(g2)}"
            why = f"{sums} - {seams} = {how.show(reach)} for {how.show(across)}: nothing to buy"
            spare = reach - across, min(held.length for held in some) - along
            row = row_of(panels_of(some, along), False, how.back_seam)
            if run == "up":
                sewn = row
            else:
                sewn = turned(row)
            yield _way(some, f"{k} pieces on hand", run, sewn, spare, why, how)
            return


def _way(
    pieces: Sequence[OnHand],
    kind: str,
    run: Run,
    sewn: Piecing,
    spare: tuple[Exact, Exact],
    why: str,
    how: Conventions,
) -> Way:
    tight = ", ".join(
        t
        for t in (scarce(spare[0], "across", how), scarce(spare[1], "along", how))
        if t
    )
    return Way(
        fabric=listed([held.name for held in pieces]),
        kind=kind,
        pattern=kind,
        run=run,
        sewn=sewn,
        net=exact(0),
        bought=0,
        money=Decimal(0),
        seams=len(pieces) - 1,
        joins=0,
        spare_across=spare[0],
        spare_along=spare[1],
        tight=tight,
        from_hand=tuple(held.name for held in pieces),
        why=why,
    )


def scarce(spare: Exact, word: str, how: Conventions) -> str:
    """What to say of next to nothing to spare; nothing where there is enough.

    Parameters
    ----------
    spare : ticks
    word : where, "across" or "along"
    how : what is tight, and the unit
    """
    if spare >= how.tight:
        return ""
    if spare > 0:
        return f"{how.room(spare)} to spare {word}"
    return f"nothing to spare {word}"
