"""What is told beside the ways to piece a backing: where seams lie, what the shop is short of, pieces on hand."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from cutopt.answers.shelf import KEPT
from cutopt.fabric import ByLength, Piece
from cutopt.lengths import format_sale
from cutopt.quilt.backs import compare, seams
from cutopt.quilt.backs.compare import Choice
from cutopt.quilt.backs.way import CLEAR, LIES_WELL, OnHand, Way, thrift
from cutopt.quilt.conventions import Conventions


def runs_short(
    ways: Sequence[Way], how: Conventions, but: Collection[str]
) -> list[str]:
    """A sentence for each fabric of which the shop has too little for some way.

    Parameters
    ----------
    ways : those that can be made
    how : the unit
    but : fabrics of which it is told already
    """
    short = [way.offered for way in ways if not way.to_be_had]
    return [
        f"{row.fabric}: the shop has {format_sale(row.most or 0, how.unit)} for it; what takes more is left out"
        for row in dict.fromkeys(short)
        if isinstance(row, ByLength) and row.fabric not in but
    ]


def where_seams_lie(
    best: Sequence[Choice], ways: Sequence[Way], how: Conventions, currency: str
) -> list[str]:
    """Where seams of the recommended ways lie, how far to shift them clear, and what is clear where they are not.

    Parameters
    ----------
    best, ways : the recommended ways, and all
    how : the unit
    currency : the sign before sums of money
    """
    told = []
    for way in (choice.way for choice in best):
        name = f"{way.fabric}, {way.kind}"
        if way.lies in LIES_WELL:
            if any(way.shift):
                what = "no seam lies in the middle"
                if way.lies == CLEAR:
                    what += " or under a long seam of the top"
                told.append(
                    f"{name}: shift it by {compare.moved(way, how)}, and {what}"
                )
        elif way.lies:
            word = "under a long seam of the top"
            if way.lies == seams.IN_MIDDLE:
                word = "down the middle of the quilt"
            told.append(f"{name}: a seam lies {word}; {_instead(way, ways, currency)}")
    return told


def _instead(way: Way, ways: Sequence[Way], currency: str) -> str:
    """The thriftiest way with a seam that lies clear."""
    clear = next(
        (other for other in ways if other.complete and other.lies in LIES_WELL),
        None,
    )
    if clear is None:
        return "no way in the table is clear of it"
    more = ""
    if clear.money is not None and way.money is not None and clear.money > way.money:
        more = f" for {currency}{clear.money - way.money} more"
    return f"clear of it: {clear.fabric}, {clear.kind}{more}"


def cheaper_shifted(
    best: Sequence[Choice], ways: Sequence[Way], how: Conventions, currency: str
) -> list[str]:
    """What would be paid less if a seam might come as near to the middle as a shift takes it.

    Parameters
    ----------
    best, ways : the recommended ways, and all
    how : whether a seam may lie in the middle, and the unit
    currency : the sign before sums of money
    """
    if how.back_middle != "never" or not best:
        return []
    chosen = best[0].way
    whole = [way for way in ways if way.complete and any(way.shift)]
    other = min((way for way in whole if not way.risky), key=thrift, default=None)
    if other is None or other.money is None or chosen.money is None:
        return []
    if other.money >= chosen.money:
        return []
    less = f"{currency}{chosen.money - other.money}"
    by = compare.moved(other, how)
    return [f"{other.fabric}, {other.kind}, shifted by {by}, costs {less} less"]


def one_of_each(ways: Sequence[Way], hand: Sequence[OnHand]) -> tuple[Way, ...]:
    """Of ways that differ in nothing, or only in which rectangle is cut out of a piece, the first."""
    out_of = {held.name: held.out_of or held.name for held in hand}
    first: dict[tuple[object, ...], Way] = {}
    for way in ways:
        lies = (way.run,) if way.seams else (way.spare_across, way.spare_along)
        mine = tuple(out_of[name] for name in way.from_hand)
        key = (way.offered, *lies, way.pattern, way.risky, mine)
        first.setdefault(key, way)
    return tuple(first.values())


def of_hand(
    hand: Sequence[OnHand],
    ways: Sequence[Way],
    best: Sequence[Choice],
    how: Conventions,
) -> list[str]:
    """What to do with a piece of another shape that is recommended; of pieces that serve nowhere, that it is so.

    Parameters
    ----------
    hand : rectangles on hand
    ways, best : all ways, and those that are recommended
    how : the unit
    """
    used = set[str]().union(*(way.from_hand for way in ways))
    chosen = set[str]().union(*(choice.way.from_hand for choice in best))
    cloths = dict.fromkeys(
        held.out_of for held in hand if held.out_of and held.name in chosen
    )
    told = [
        f"{name}: a rectangle along the grain, wholly on its good cloth, is counted; cut it out first"
        for name in cloths
    ]
    if hand and not used:
        largest = max(hand, key=lambda held: held.width * held.length)
        if largest.out_of:
            size = ""
        else:
            size = f" ({how.size(largest.width, largest.length)})"
        told.append(
            f"Nothing of your own that may be cut is long and wide enough to serve; the largest is {largest.name}{size}"
        )
    return told


def kept_whole(pieces: Sequence[Piece | OnHand]) -> list[str]:
    """Which pieces are passed over, large as they may be, as they are to stay as they are."""
    names = [
        piece.name
        for piece in pieces
        if isinstance(piece, Piece) and piece.wish in KEPT
    ]
    if not names:
        return []
    if len(names) == 1:
        them = "it"
    else:
        them = "them"
    return [f"Left out, as you wish to keep {them}: {', '.join(names)}"]
