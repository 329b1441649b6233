"""What is to be chosen beside a cutting plan: one backing of several, and one batting."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, TypeAlias

from cutopt.lengths import format_length, format_sale

What: TypeAlias = Literal["back", "batting"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One thing that may be bought for it.

    Parameters
    ----------
    length : int
        Ticks of it, 0 of what is sold by the piece.
    width : int
        Usable width of what is sold by length, ticks, else 0.
    pieces : int
        How many, 0 of what is sold by length.
    name : str
        What sets it apart from the others: ``costs least``.
    beside : str
        The maker's own that is used with what is bought.
    own : tuple of str
        The pieces of the pile that are used, a name for each copy.
    """

    what: str
    width: int
    length: int
    pieces: int
    money: Decimal | None
    how: str
    note: str = ""
    name: str = ""
    beside: str = ""
    own: tuple[str, ...] = ()

    @property
    def bought(self) -> bool:
        """Whether anything has to be bought for it."""
        return bool(self.length or self.pieces)

    def told(self, unit: str, currency: str) -> str:
        """``Costs least: 3/4 yd of oat (27 in), usable width 108 in: 16.20; 2 panels cut 2 abreast, 1 seam.``"""
        if self.name:
            head = f"{self.name[0].upper()}{self.name[1:]}: "
        else:
            head = ""
        if not self.bought:
            return f"{head}{self.what}, nothing to buy; {self.how}{self._noted}."
        sale = format_sale(self.length, unit)
        long = format_length(self.length, unit, mark=True)
        if self.pieces:
            amount = f"{self.pieces} of {self.what}"
        else:
            amount = f"{sale} of {self.what}"
        if self.width:
            amount += "" if sale == long else f" ({long})"
            amount += f", usable width {format_length(self.width, unit, mark=True)}"
        if self.money is None:
            price = "no price given"
        else:
            price = f"{currency}{self.money:.2f}"
        if self.beside:
            beside = f", beside {self.beside}"
        else:
            beside = ""
        return f"{head}{amount}: {price}{beside}; {self.how}{self._noted}."

    @property
    def _noted(self) -> str:
        if self.note:
            return f". {self.note}"
        return ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choosing:
    """For the back or as batting one of several, the recommended first; none where nothing in the shop serves."""

    what: What
    options: tuple[Option, ...]
    missing: str = ""

    @property
    def title(self) -> str:
        """``For the back, one of these``."""
        several = len(self.options) > 1
        if self.what == "back":
            name = "For the back"
        else:
            name = "Batting"
        if several:
            return f"{name}, one of these"
        return f"{name} as well"
