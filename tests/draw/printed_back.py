"""A backing asked for, and the sizes that its page prints, read back."""

from __future__ import annotations

import re
from fractions import Fraction

from cutopt.answers import backing_to_buy
from cutopt.answers.backing import BackingAnswer
from cutopt.fabric import ByLength, Fabric
from cutopt.lengths import MM
from cutopt.quilt.backs.way import OnHand
from cutopt.quilt.conventions import Conventions

INCH = Fraction(254, 10) * MM
UNIT = {"in": INCH, "cm": Fraction(10) * MM}
HOW = {"in": Conventions(), "cm": Conventions.metric()}
NUMBER = r"[0-9][0-9 /.]*"
Size = tuple[Fraction, Fraction]


def number(text: str) -> Fraction:
    """``40 11/16`` or ``103.2``."""
    return sum((Fraction(word) for word in text.split()), start=Fraction(0))


def printed(last: str) -> dict[int, Size]:
    """Number and size of each part in the last sentence."""
    plain = last.replace("the whole width, at least ", "").replace(", x", " x")
    found = re.findall(rf"(\d+): ({NUMBER}) x ({NUMBER})", plain)
    return {int(n): (number(wide), number(long)) for n, wide, long in found}


def asked(
    top: str,
    usable: str,
    share: Fraction,
    unit: str,
    how: Conventions | None = None,
) -> BackingAnswer:
    how = how or HOW[unit]
    shop = ByLength(
        fabric="oat",
        usable_width=int(number(usable) * UNIT[unit]),
        sold_by=how.sold_by,
    )
    oat = Fabric(name="oat", shrink_across=share, shrink_along=share)
    own = OnHand(name="pear-1", width=int(21 * INCH), length=int(47 * INCH))
    return backing_to_buy(top, [shop], how, [oat], on_hand=[own])
