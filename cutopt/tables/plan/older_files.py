"""Plans written before what is bought was told in full: which purchases are pieces, and how many."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Final, TypeAlias

# by fabric and whether it is sold by the piece: ticks, or how many
Amounts: TypeAlias = dict[tuple[str, bool], int]

# files that did not count pieces apart named such cloth by its fabric and this
_PIECES: Final = " each"


def apart(bought: Mapping[str, int], fabrics: Collection[str]) -> Amounts:
    """Lengths and pieces of a file that holds both under one key; `fabrics` are those of its sources."""
    amounts: Amounts = {}
    for key, amount in bought.items():
        fabric = key.removesuffix(_PIECES)
        by_piece = key not in fabrics and fabric in fabrics
        amounts[fabric if by_piece else key, by_piece] = amount
    return amounts


def sold_by_piece(fabric: str, length: int, amounts: Amounts) -> bool:
    """Whether a purchase that does not say so is of pieces: of a fabric there is one length, the one that is summed up.

    Parameters
    ----------
    fabric : str
    length : int
        Ticks of the cloth that is bought.
    amounts : Amounts
        What the totals of the file say.
    """
    return (fabric, True) in amounts and amounts.get((fabric, False)) != length
