"""The maker's own cloth that is not washed yet, for a back that is washed with all that is in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from cutopt.answers.shelf import held_of, part_name
from cutopt.fabric import Fabric, Piece
from cutopt.quilt.backs.marks import there
from cutopt.quilt.backs.way import OnHand
from cutopt.quilt.buying import before_wash, shrunk
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.wanted_parts import whole_ticks
from cutopt.settings import Settings

WASH_FIRST: Final = "wash it before you cut it"


def held_after_wash(
    piece: Piece, fabric: Fabric, settings: Settings, reaches: Sequence[int]
) -> list[OnHand]:
    """What a piece can give to a back, as :func:`~cutopt.answers.shelf.held_of` tells, when it has been washed.

    Parameters
    ----------
    piece, fabric : of the pile, and what is known of its fabric
    settings : what comes off ragged edges, and what is lost to a rough measure
    reaches : lengths that a panel has to have after the wash, ticks
    """
    shares = _shares(piece, fabric)
    if piece.is_washed(fabric):
        return list(held_of(piece, settings, reaches))
    if not any(shares):
        held = held_of(piece, settings, reaches)
        return [replace(each, unwashed="as measured") for each in held]
    # what is squared up comes off after the wash, and does not shrink
    if piece.edges == "raw":
        off = 2 * settings.square_up
    else:
        off = 0
    longer = [whole_ticks(before_wash(side + off, max(shares))) for side in reaches]
    found = (
        _after_wash(each, shares, off, settings)
        for each in held_of(piece, settings, longer)
    )
    return [each for each in found if min(each.width, each.length) > 0]


def _shares(piece: Piece, fabric: Fabric) -> tuple[Fraction, Fraction]:
    """What its width and its length lose; the greater for both where nobody knows how its grain runs."""
    shares = (fabric.shrink_across, fabric.shrink_along)
    if piece.grain_known:
        return shares
    return max(shares), max(shares)


def _after_wash(
    held: OnHand, shares: tuple[Fraction, Fraction], off: int, settings: Settings
) -> OnHand:
    """A rectangle as large as the wash leaves it, down to a mark; `off` is cut off only then."""
    how = Conventions.of(settings)
    width, length = (
        there(shrunk(side + off, share) - off, how)
        for side, share in zip((held.width, held.length), shares, strict=True)
    )
    name = held.name
    if held.out_of:
        name = part_name(held.out_of, width, length, settings.unit)
    return replace(
        held, name=name, width=width, length=length, unwashed="after the wash"
    )


def told_of_wash(
    hand: Sequence[OnHand], names: Sequence[str], how: Conventions
) -> list[str]:
    """What to do with the unwashed of the maker's own that goes into backs, a sentence for each rectangle.

    Parameters
    ----------
    hand : rectangles on hand
    names : of those that go into the backs
    how : the unit
    """
    told = []
    for held in hand:
        if held.name not in names:
            continue
        size = how.size(held.width, held.length)
        cloth = held.out_of or held.name
        if held.unwashed == "after the wash":
            told.append(
                f"{cloth}: {WASH_FIRST}; its shrinkage is counted in. Then measure: {size} {how.unit} of it is counted on"
            )
        elif held.unwashed:
            told.append(
                f"{cloth}: it is planned as measured; if you wash it, measure it again"
            )
    return list(dict.fromkeys(told))


def wash_note(hand: Sequence[OnHand], names: Sequence[str]) -> str:
    """The same for all of them, short; nothing where all of it is washed.

    Parameters
    ----------
    hand : rectangles on hand
    names : of those that go into a back
    """
    used = [held for held in hand if held.name in names]
    counted = [held for held in used if held.unwashed == "after the wash"]
    unknown = [held for held in used if held.unwashed == "as measured"]
    told = []
    if counted:
        told.append(f"Wash {_listed(counted)} before you cut: its shrinkage is counted")
    if unknown:
        told.append(
            f"{_listed(unknown)}: planned as measured; if you wash it, measure it again"
        )
    return ". ".join(told)


def _listed(hand: Sequence[OnHand]) -> str:
    return " and ".join(dict.fromkeys(held.out_of or held.name for held in hand))
