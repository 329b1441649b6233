"""What would help a part that fits no cloth at hand and no width in the shop: each mend is tried before it is told.

A mend is true for one part alone: that the whole of a row then fits beside all else is for the next search to say.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import islice
from typing import Any, Final

from cutopt.fabric import ByLength, Offered
from cutopt.job import Job, standing
from cutopt.lengths import INCH, METRE, MM, YARD, format_length, format_sale, up_to
from cutopt.solve.arrays import fits_alone
from cutopt.solve.model import Model
from cutopt.solve.snug import close_cloth, might_fit, roomiest, smallest
from cutopt.wanted import Cut, Strip, Wanted

_MOST_TOLD: Final = 4
_MOST_PARTS: Final = 6  # that one part is sewn from
# finer than a plan is made on by itself, as fine as a job may say
_GRIDS: Final = {"in": ("1/32 in", INCH // 32), "cm": ("1/2 mm", MM // 2)}
_WIDEST: Final = 3 * METRE  # no bolt of quilting cloth is wider (common practice, no source)


def hopeless_mends(job: Job, row: Wanted) -> list[str]:
    """Up to four sentences for a row of which not even one part can be cut, the least trouble first."""
    trial = _Trial(job, row)
    ways = (trial.finer, trial.turned, trial.other_fabric, trial.longer, trial.wider, trial.joined, trial.smaller)
    return list(islice((told for way in ways for told in way()), _MOST_TOLD))


class _Trial:
    """One row alone with the cloth of its job."""

    def __init__(self, job: Job, row: Wanted) -> None:
        self.job, self.row = job, row
        self.unit = job.settings.unit
        self.allowed = job.allowed(row)

    def fits(self, row: Wanted | None = None, **other: Any) -> bool:
        """Whether one part of a row could be cut from some cloth of the job, with another shop, say, where given."""
        return bool(fits_alone(self._alone(row or self.row, **other)).any())

    def _alone(self, row: Wanted, **other: Any) -> Model:
        row = replace(row, count=1, together="", importance="must")
        cuts, strips = ((row,), ()) if isinstance(row, Cut) else ((), (row,))
        return roomiest(replace(self.job, cuts=cuts, strips=strips, quilt="", **other))

    def finer(self) -> Iterator[str]:
        """With cut lines nearer to each other, on the cloth that comes close to holding it."""
        model, (name, grid) = self._alone(self.row), _GRIDS[self.unit]
        if self.job.settings.grid % grid:  # other rows might fit no more
            return
        sheets = list(close_cloth(model, model.items[0]))
        pieces = tuple(sheet.piece for sheet in sheets if sheet.piece is not None)
        shop = tuple(sheet.offered for sheet in sheets if sheet.offered is not None)
        if sheets and self.fits(settings=replace(self.job.settings, grid=grid), pieces=pieces, shop=shop):
            now = format_length(self.job.settings.grid, self.unit, mark=True)
            yield f"let cut lines lie {name} apart (grid in job.toml, now {now}): then there is cloth that holds it"

    def turned(self) -> Iterator[str]:
        """Lying the other way."""
        row = self.row
        upright = bool(standing(row))
        if row.grain == "any" and not upright:
            return
        free = _any_way(row)
        if self.fits(free):
            rules = " and ".join((*(("grain",) if row.grain != "any" else ()), *(("upright",) if upright else ())))
            yield f"let it lie the other way (leave {rules} blank): then there is cloth that holds it"

    def other_fabric(self) -> Iterator[str]:
        """From a fabric that the row does not name."""
        others = [fabric.name for fabric in self.job.fabrics if fabric.name not in self.allowed]
        found = [name for name in others if self.fits(replace(self.row, fabrics=(name,)))]
        if found:
            yield f"let it be cut from {' or '.join(found[:2])} too: there is cloth that holds it"

    def longer(self) -> Iterator[str]:
        """From a longer length than the shop's table allows."""
        for offered in self.job.shop:
            if isinstance(offered, ByLength) and offered.most is not None and offered.fabric in self.allowed:
                free = replace(offered, most=None)
                if self.fits(shop=tuple(free if other is offered else other for other in self.job.shop)):
                    most = format_sale(offered.most, self.unit)
                    yield f"let more than {most} of {offered.fabric} be bought in one length (most in shop.csv)"
                    return

    def wider(self) -> Iterator[str]:
        """From wider cloth, by the narrowest usable width that would do; from any where the shop has none by length."""
        step = YARD // 8 if self.unit == "in" else METRE // 10
        fabrics = {fabric.name: fabric for fabric in self.job.fabrics}
        for name in self.allowed:
            widest = max((_width(offered) for offered in self.job.shop if offered.fabric == name), default=0)
            for across in sorted(smallest(self.row)):
                width = up_to(Fraction(across) / (1 - fabrics[name].shrink_across), self.job.settings.grid)
                offered = ByLength(fabric=name, usable_width=width, sold_by=step)
                if not widest < width <= _WIDEST or not self.fits(shop=(*self.job.shop, offered)):
                    continue  # it is not the width
                if widest:
                    yield f"buy {name} with a usable width of at least {format_length(width, self.unit, mark=True)}"
                else:
                    sides = " x ".join(format_length(side, self.unit) for side in sorted(smallest(self.row)))
                    yield f"buy {name}, which the shop does not sell by length: at least {sides} {self.unit}"
                return

    def joined(self) -> Iterator[str]:
        """Sewn from parts that fit, seams counted in."""
        row, seam, grid = self.row, self.job.settings.seam, self.job.settings.grid
        if isinstance(row, Strip):
            if row.join == "none" and self.fits(replace(row, join="straight")):
                yield "let it be sewn from shorter segments (diagonal or straight under join)"
            return
        sides = sorted(("width", "length"), key=lambda side: -getattr(row, side))
        for many in range(2, _MOST_PARTS + 1):
            for side in sides:
                each = up_to(Fraction(getattr(row, side) + 2 * seam * (many - 1), many), grid)
                smaller = _sized(row, side, each)
                if self.fits(smaller):
                    told = format_length(seam, self.unit, mark=True)
                    yield f"sew it from {many} of {self._size(smaller)} (seams of {told} are counted in)"
                    return

    def smaller(self) -> Iterator[str]:
        """One of its sides shorter: the most that fits."""
        row = self.row
        if isinstance(row, Strip):
            names: tuple[str, ...] = ("total_length",) if row.join == "none" else ("shortest",)
        else:
            names = ("length", "width")
        found = [(most, name) for name in names if (most := self._most(name))]
        most, name = max(found, key=lambda one: Fraction(one[0], getattr(row, one[1])), default=(0, names[0]))
        if 2 * most < getattr(row, name):  # another thing altogether
            return
        more = self._alone(_sized(row, name, min(most + self.job.settings.grid, getattr(row, name))))
        told = "that fits" if might_fit(more, more.items[0]) else "that is the most that fits"
        if isinstance(row, Cut):
            yield f"make it {self._size(_sized(row, name, most))}: {told}"
        else:
            side = "the strip" if name == "total_length" else "the shortest segment"
            yield f"make {side} {format_length(most, self.unit, mark=True)} long: {told}"

    def _most(self, name: str) -> int:
        """The greatest size of one side, on the grid, with which a part fits; 0 where none does."""
        grid = self.job.settings.grid
        least = INCH // 8 if isinstance(self.row, Cut) else self.row.width + 1

        def fits(steps: int) -> bool:
            return self.fits(_sized(self.row, name, steps * grid))

        low, high = -(-least // grid), (getattr(self.row, name) - 1) // grid
        return _last(fits, low, high) * grid

    def _size(self, row: Wanted) -> str:
        return " x ".join(format_length(side, self.unit) for side in smallest(row))


def _width(offered: Offered) -> int:
    return offered.usable_width if isinstance(offered, ByLength) else 0


def _sized(row: Wanted, side: str, size: int) -> Wanted:
    """The row with one of its sides of another size."""
    changed: dict[str, Any] = {side: size}
    return replace(row, **changed)


def _any_way(row: Wanted) -> Wanted:
    """The row without rules of direction."""
    if isinstance(row, Cut):
        return replace(row, grain="any", upright=False)
    return replace(row, grain="any", upright="no")


def _last(holds: Callable[[int], bool], low: int, high: int) -> int:
    """The greatest number from low to high that holds, where all below one that holds do; 0 where none does."""
    if low > high or not holds(low):
        return 0
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if holds(middle) else (low, middle - 1)
    return low
