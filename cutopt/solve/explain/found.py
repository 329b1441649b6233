"""What a short search has found, in terms of the run that it is a question of."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from cutopt.solve.model.layout import Layout, fits_alone
from cutopt.solve.model.model import Model


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What a search has found, and the places that its rows of the shop have in that of the run."""

    model: Model
    layout: Layout
    places: tuple[int, ...]

    @property
    def complete(self) -> bool:
        """Whether nothing is missing of what a search had to place, and each row of it has cloth that holds a part."""
        return not any(self.layout.missing) and bool(
            fits_alone(self.model).any(axis=1).all()
        )

    def amount(self, place: int) -> int:
        """How much is bought of one row of the shop: ticks, or pieces."""
        total = 0
        for p in self.layout.purchases:
            sheet = self.model.sheets[p.sheet]
            if self._place(p.sheet) == place:
                total += sheet.ladder[p.rung].sold if sheet.ladder else 1
        return total

    def source(self, s: int) -> str | int:
        """What a sheet is: a piece by its name, or the place of its row in the shop of the run."""
        piece = self.model.sheets[s].piece
        if piece is None:
            return self._place(s)
        return piece.name

    def _place(self, s: int) -> int:
        offered = self.model.sheets[s].offered
        shop = self.model.job.shop
        return next(
            (
                place
                for row, place in zip(shop, self.places, strict=True)
                if row is offered
            ),
            -1,
        )


def becomes(
    begin: Found, model: Model, places: Sequence[int]
) -> dict[tuple[int, int], tuple[int, int] | None]:
    """The cloth of a plan as that of another model, whose rows of the shop have these places in the run's.

    Parameters
    ----------
    begin : Found
        The plan.
    model : Model
        The other one.
    places : sequence of int
        Of the rows of its shop, in the shop of the run.
    """
    other = Found(model=model, layout=begin.layout, places=tuple(places))
    sheets = {other.source(s): s for s in range(len(model.sheets))}
    copies: Counter[int] = Counter()
    places_of: dict[tuple[int, int], tuple[int, int] | None] = {}
    for s, copy in sorted({(p.sheet, p.copy) for p in begin.layout.placements}):
        sheet = sheets.get(begin.source(s))
        bought = begin.model.sheets[s].offered is not None
        # what is bought is counted from the first one on
        if bought:
            number = copies[s]
        else:
            number = copy
        copies[s] += 1
        there = sheet is not None and number < model.sheets[sheet].copies
        places_of[s, copy] = (sheet, number) if sheet is not None and there else None
    return places_of
