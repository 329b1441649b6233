"""The choices on which quilters differ, each with a default."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal, TypeAlias

from cutopt.errors import Problem
from cutopt.fabric import one_of
from cutopt.lengths import INCH, METRE, MM
from cutopt.precuts import Precuts

Unit: TypeAlias = Literal["in", "cm"]
Prewash: TypeAlias = Literal["", "all", "none"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """The choices on which quilters differ, each with its default for an inch job; lengths in ticks.

    Parameters
    ----------
    grid : int
        Cut lines lie on this grid, counted from an edge of the piece (1/8 in); sizes that are not on it are cut
        as they are. Where only finer lines leave room for a part, all are finer: 1/16 in, or 1 mm, if `grid` is
        so many of them.
    seam : int
        Seam allowance (1/4 in).
    square_up : int
        Taken off each raw edge of a piece of the pile (1/4 in).
    square_up_end : int
        Taken off each of the two ends of a length that a shop cut (1/2 in).
    extra : int
        Of each length bought, so much more than the plan needs (0), before it is rounded up to what is sold.
    about : int
        Taken off every edge of a piece measured roughly (1/2 in), square-up apart.
    pinked : int
        Taken off each pinked edge (0: the points are the edge, as most patterns take it; 1/16 in down to the valleys).
    keep_width, keep_length : int
        Spare cloth that holds a rectangle of this size is worth keeping (5 x 5 in). Among plans of equal cost the one
        with the more valuable leftover is the better: Andrade, Birgin and Morabito, Two-stage two-dimensional guillotine
        cutting stock problems with usable leftover, 2013.
    longest_cut : int
        The longest cut that mat and ruler take in one go (24 in); longer ones are folded.
    turns : int or None
        At most so many changes of cutting direction in one piece; None for as many as wanted. Squaring up and
        trimming to size count like other cuts.
    preference : Fraction
        A plan that keeps to the fabrics named first may cost this share more than the cheapest (5 %).
    precuts : Precuts
        Sizes by which a pile or shop names cloth that is cut beforehand.
    prewash : {"", "all", "none"}
        Whether all cloth is washed before it is cut, leftovers too, or none; "" for as each fabric says.
    shrinkage : Fraction
        What cotton loses each way where all is washed first and nobody says how much (5 %).
    """

    unit: Unit = "in"
    grid: int = INCH // 8
    seam: int = INCH // 4
    square_up: int = INCH // 4
    square_up_end: int = INCH // 2
    extra: int = 0
    about: int = INCH // 2
    pinked: int = 0
    keep_width: int = 5 * INCH
    keep_length: int = 5 * INCH
    longest_cut: int = 24 * INCH
    turns: int | None = None
    preference: Fraction = Fraction(1, 20)
    currency: str = ""
    precuts: Precuts = field(default_factory=Precuts)
    prewash: Prewash = ""
    shrinkage: Fraction = Fraction(1, 20)

    def __post_init__(self) -> None:
        one_of("unit", self.unit, ("in", "cm"))
        one_of("prewash", self.prewash, ("", "all", "none"))
        if not 0 <= self.shrinkage < Fraction(1, 2):
            raise Problem("shrinkage", "it is no shrinkage", "write a share such as 5%")
        for name in ("seam", "square_up", "square_up_end", "extra", "about", "pinked"):
            if not 0 <= getattr(self, name) <= METRE:
                raise Problem(
                    name, "the size makes no sense", "write a small length, 0 or more"
                )
        for name in ("keep_width", "keep_length"):
            if getattr(self, name) < 0:
                raise Problem(
                    name,
                    "the size is below 0",
                    "write the size of the smallest spare cloth worth keeping",
                )
        if self.longest_cut < INCH:
            raise Problem(
                "longest_cut",
                "the length makes no sense",
                "write how long a cut mat and ruler take",
            )
        if not MM // 2 <= self.grid <= 2 * INCH:
            raise Problem(
                "grid",
                "the grid makes no sense",
                "write 1/8 or 1/16 (in), 1 mm or 5 mm",
            )
        if not 0 <= self.preference <= 1:
            raise Problem(
                "preference",
                "it is not between 0 and 100 %",
                "write a share of the money, such as 5%",
            )
        if self.turns is not None and self.turns < 2:
            raise Problem(
                "turns",
                f"{self.turns} is too few to cut a rectangle",
                "write 2 or more, or leave it out",
            )

    @classmethod
    def metric(cls) -> Settings:
        """The defaults of a metric job: whole millimetres near the inch ones (common practice, no source)."""
        return cls(
            unit="cm",
            grid=5 * MM,
            seam=15 * MM // 2,
            square_up=5 * MM,
            square_up_end=15 * MM,
            about=10 * MM,
            keep_width=120 * MM,
            keep_length=120 * MM,
            longest_cut=600 * MM,
            precuts=Precuts.metric(),
        )
