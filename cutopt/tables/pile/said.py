"""What the words of a line say, still as they were written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from cutopt.tables.pile.stock import Stock
from cutopt.tables.pile.tokens import Token


@dataclass(slots=True)
class Said:
    """What the words of a line say.

    `size` are its two lengths; of a length from the bolt `whole_width` is the length, `wide` the width where it is
    said. `across` says that it is a strip cut from selvage to selvage, its edges true, `half_width` that it goes only
    to the fold. `precut` is a name of :data:`cutopt.precuts.NAMES`, `notes` what the maker said for herself.
    """

    text: str
    body: str
    stock: Stock
    tokens: Sequence[Token]
    fabric: str = ""
    form: str = ""
    precut: str = ""
    size: tuple[str, str] | None = None
    whole_width: str = ""
    across: bool = False
    half_width: bool = False
    wide: str = ""
    long: str = ""
    words: set[str] = field(default_factory=set)
    less: list[tuple[str, ...]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    counts: list[int] = field(default_factory=list)
    # a word for several, which needs how many
    many: str = ""
    bundle: Token | None = None
    each: int = 0
    # where the size stands, or the length that stands for it
    sized: int = -1
    whole: bool = False
    legs: bool = False
    ell: str = ""
    odd: str = ""
    usable: bool = False

    @property
    def count(self) -> int:
        """How many alike."""
        return (self.counts or [1])[0] * (self.each or 1)
