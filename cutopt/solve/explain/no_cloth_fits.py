"""What would help a row of which no part fits any cloth at hand or any width in the shop.

Each way is first tried with one part on empty cloth, which takes no search; those that are told go on to be searched
for with all else that a plan gives (:mod:`cutopt.solve.explain.trials`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any, Final

from cutopt.fabric import USABLE_WIDTH, ByLength, Offered
from cutopt.job import Job
from cutopt.lengths import CM, INCH, METRE, MM, format_length, format_sale, up_to
from cutopt.solve.bounds.off_grid import close_cloth, might_fit, roomiest, smallest
from cutopt.solve.explain.buy_more import STEPS, unoffered
from cutopt.solve.explain.changed_jobs import (
    Mend,
    changed,
    changed_row,
    free_name,
    from_fabric,
    may_be_named,
    set_of,
    valid,
    with_row,
)
from cutopt.solve.explain.easier_rows import every, turned
from cutopt.solve.explain.fewer_to_a_strip import fewer_to_a_strip, is_held
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.layout import fits_alone
from cutopt.solve.model.model import Model
from cutopt.wanted import Cut, Strip, Wanted

# parts that one part is sewn from, at most
_MOST_PARTS: Final = 6
# of such a part, between its seams (our judgement, no source)
_LEAST_FINISHED: Final = {
    "in": INCH // 2,
    "cm": CM,
}
# finer than a plan is made on by itself, as fine as a job may say
_GRIDS: Final = {"in": ("1/32 in", INCH // 32), "cm": ("1/2 mm", MM // 2)}
# no bolt of quilting cloth is wider (common practice, no source)
_WIDEST: Final = 3 * METRE


def hopeless_mends(job: Job, row: Wanted) -> Iterator[Mend]:
    """Ways in which a part of a row would fit, the least trouble first."""
    trial = _Trial(job, row)
    ways = [
        trial.fewer_to_a_strip,
        trial.finer,
        trial.turned,
        trial.other_fabric,
        trial.longer,
        trial.wider,
    ]
    if not is_held(job, row):
        ways += [trial.joined, trial.smaller]
    for way in ways:
        yield from way()


class _Trial:
    """One row alone with the cloth of its job."""

    def __init__(self, job: Job, row: Wanted) -> None:
        self.job = job
        self.row = row
        self.unit = job.settings.unit
        self.allowed = job.allowed(row)
        self.rows = {each.key for each in set_of(job, row)}

    def fits(self, row: Wanted | None, job: Job | None = None) -> bool:
        """Whether one part of a row could be cut from some cloth of the job, or of another one."""
        if row is None:
            model = None
        else:
            model = self._alone(row, job or self.job)
        return model is not None and bool(fits_alone(model).any())

    def _alone(self, row: Wanted, job: Job) -> Model | None:
        row = replace(row, count=1, together="", importance="must")
        cuts, strips = ((row,), ()) if isinstance(row, Cut) else ((), (row,))
        alone = changed(job, cuts=cuts, strips=strips)
        if alone is None:
            return None
        return roomiest(alone)

    def _mend(
        self,
        said: str,
        job: Job | None,
        *more: Wanted,
        place: int | None = None,
        step: int | None = None,
    ) -> Iterator[Mend]:
        if job is not None:
            whole = frozenset({self.row.key, *(row.key for row in more)})
            yield Mend(said=said, job=job, whole=whole, place=place, step=step)

    def fewer_to_a_strip(self) -> Iterator[Mend]:
        """With fewer shapes to a strip, as many as fit."""
        for mend in fewer_to_a_strip(self.job, self.row):
            new = [mend.job.row(key) for key in mend.whole]
            if all(self.fits(row, mend.job) for row in new):
                yield mend
                return

    def finer(self) -> Iterator[Mend]:
        """With cut lines nearer to each other, on the cloth that comes close to holding it."""
        model, (name, grid) = self._alone(self.row, self.job), _GRIDS[self.unit]
        # other rows might fit no more
        if model is None or self.job.settings.grid % grid:
            return
        sheets = list(close_cloth(model, model.items[0]))
        pieces = tuple(sheet.piece for sheet in sheets if sheet.piece is not None)
        shop = tuple(sheet.offered for sheet in sheets if sheet.offered is not None)
        finer = changed(self.job, settings=replace(self.job.settings, grid=grid))
        if finer is None:
            close = None
        else:
            close = changed(finer, pieces=pieces, shop=shop)
        if (
            sheets
            and finer is not None
            and close is not None
            and self.fits(self.row, close)
        ):
            now = format_length(self.job.settings.grid, self.unit, mark=True)
            said = f"let cut lines lie {name} apart (grid in job.toml, now {now})"
            yield from self._mend(said, finer, step=model_of(finer).step)

    def turned(self) -> Iterator[Mend]:
        """Lying the other way."""
        for mend in turned(self.job, self.row):
            if self.fits(mend.job.row(self.row.key)):
                yield mend

    def other_fabric(self) -> Iterator[Mend]:
        """From a fabric that the row, or another one of its set, does not name."""
        for fabric in self.job.fabrics:
            name = fabric.name
            if name in self.allowed or not may_be_named(self.job, self.row, fabric):
                continue
            if self.fits(changed_row(self.row, fabrics=(name,))):
                yield from self._mend(
                    f"let it be cut from {name} too",
                    from_fabric(self.job, self.row, name),
                )

    def longer(self) -> Iterator[Mend]:
        """From a longer length than the shop's table allows."""
        for place, offered in enumerate(self.job.shop):
            if (
                isinstance(offered, ByLength)
                and offered.most is not None
                and offered.fabric in self.allowed
            ):
                free = replace(offered, most=None)
                job = changed(
                    self.job,
                    shop=(*self.job.shop[:place], free, *self.job.shop[place + 1 :]),
                )
                if self.fits(self.row, job):
                    most = format_sale(offered.most, self.unit)
                    said = f"let more than {most} of {offered.fabric} be bought in one length (most in shop.csv)"
                    yield from self._mend(said, job, place=place)
                    return

    def wider(self) -> Iterator[Mend]:
        """From wider cloth, by the narrowest usable width that would do; from usual cloth where the shop has none."""
        for name in self.allowed:
            places = [
                place
                for place, offered in enumerate(self.job.shop)
                if offered.fabric == name and _width(offered)
            ]
            if places:
                widest = max(places, key=lambda place: _width(self.job.shop[place]))
                ways = (
                    self._widened(name, widest, across)
                    for across in sorted(smallest(self.row))
                )
            else:
                usual = USABLE_WIDTH[self.unit]
                ways = (
                    self._as_usual(name, across)
                    for across in (usual, *sorted(smallest(self.row)))
                )
            mend = next((mend for mend in ways if mend is not None), None)
            if mend is not None:
                yield mend
                return

    def _widened(self, fabric: str, place: int, across: int) -> Mend | None:
        """A row of the shop as wide as that: first with the most that it sells, then with more."""
        offered = self.job.shop[place]
        width = self._width_for(fabric, across)
        if (
            not isinstance(offered, ByLength)
            or not offered.usable_width < width <= _WIDEST
        ):
            return None
        said = f"buy {fabric} with a usable width of at least {format_length(width, self.unit, mark=True)}"
        wider = replace(offered, usable_width=width)
        within = self._on_sale(said, place, wider)
        if offered.most is None:
            return within
        most = format_sale(offered.most, self.unit)
        said += f", if the shop has more of it than {most} (most in shop.csv)"
        beyond = self._on_sale(said, place, replace(wider, most=None))
        if within is None:
            return beyond
        return replace(within, beyond=beyond)

    def _as_usual(self, fabric: str, across: int) -> Mend | None:
        """A new row of the shop: of the usual width as it is sold, else so wide after the wash."""
        usual = across == USABLE_WIDTH[self.unit]
        if usual:
            width = across
        else:
            width = self._width_for(fabric, across)
        step, least = STEPS[self.unit]
        offered = valid(
            lambda: ByLength(
                fabric=fabric, usable_width=width, sold_by=step, smallest=least
            )
        )
        if offered is None or width > _WIDEST:
            return None
        wide = format_length(width, self.unit, mark=True)
        if usual:
            said = f"buy {fabric}, {wide} wide"
        else:
            said = f"buy {fabric} with a usable width of at least {wide}"
        return self._on_sale(
            f"{said}{unoffered(self.unit)}", len(self.job.shop), offered
        )

    def _on_sale(self, said: str, place: int, offered: ByLength) -> Mend | None:
        """This in a place of the shop, where a part then fits."""
        job = changed(
            self.job,
            shop=(*self.job.shop[:place], offered, *self.job.shop[place + 1 :]),
        )
        if job is None or not self.fits(self.row, job):
            # it is not the width
            return None
        return next(self._mend(said, job, place=place), None)

    def _width_for(self, fabric: str, across: int) -> int:
        """How wide fabric is of which so much is left after the wash."""
        return up_to(
            Fraction(across) / (1 - self.job.fabric(fabric).shrink_across),
            self.job.settings.grid,
        )

    def joined(self) -> Iterator[Mend]:
        """Sewn from parts that fit, seams counted in."""
        row = self.row
        seam = self.job.settings.seam
        grid = self.job.settings.grid
        if isinstance(row, Strip):
            straight = changed_row(row, join="straight")
            if row.join == "none" and straight is not None and self.fits(straight):
                said = "let it be sewn from shorter segments (straight under join)"
                yield from self._mend(said, with_row(self.job, row, straight))
            return
        if row.most_each is not None:
            # whether what it is sewn from is to be counted is hers to say
            return
        for many in range(2, _MOST_PARTS + 1):
            for side in sorted(
                ("width", "length"), key=lambda side: -getattr(row, side)
            ):
                each = up_to(
                    Fraction(getattr(row, side) + 2 * seam * (many - 1), many), grid
                )
                part = self._part(row, side, each, many)
                if part is not None and self.fits(part):
                    seams = f"seams of {format_length(seam, self.unit, mark=True)} are counted in"
                    said = f"sew {'it' if row.count == 1 else 'each'} from {many} of {self._size(part)} ({seams})"
                    yield from self._mend(said, with_row(self.job, row, part), part)
                    return

    def _part(self, row: Cut, side: str, size: int, many: int) -> Wanted | None:
        """All the parts that a row is sewn from, each of this size; None where one would be all seam."""
        if size < 2 * self.job.settings.seam + _LEAST_FINISHED[self.unit]:
            return None
        name = free_name(self.job, f"part of {row.name}")
        return changed_row(row, name=name, count=row.count * many, **{side: size})

    def smaller(self) -> Iterator[Mend]:
        """One of its sides shorter: the most that fits."""
        row = self.row
        if isinstance(row, Strip):
            names: tuple[str, ...] = (
                ("total_length",) if row.join == "none" else ("shortest",)
            )
        else:
            names = ("length", "width")
        found = [(most, name) for name in names if (most := self._most(name))]
        most, name = max(
            found,
            key=lambda one: Fraction(one[0], getattr(row, one[1])),
            default=(0, names[0]),
        )
        # another thing altogether
        if 2 * most < getattr(row, name):
            return
        less = _sized(row, name, most)
        if isinstance(row, Cut):
            made = f"make {every(row)} {self._size(less)}"
        else:
            if name == "total_length":
                side = "the strip"
            else:
                side = "the shortest segment"
            made = f"make {side} {format_length(most, self.unit, mark=True)} long"
        if self._is_most(row, name, most):
            tail = ", the most that fits"
        else:
            tail = ""
        if less is None:
            smaller = None
        else:
            smaller = with_row(self.job, row, less)
        for mend in self._mend(f"{made}{tail}", smaller):
            yield replace(mend, new_size=True)

    def _is_most(self, row: Wanted, name: str, most: int) -> bool:
        """Whether it is certain that no part fits that is a step of the grid larger."""
        more = _sized(row, name, min(most + self.job.settings.grid, getattr(row, name)))
        if more is None:
            model = None
        else:
            model = self._alone(more, self.job)
        return model is not None and not might_fit(model, model.items[0])

    def _most(self, name: str) -> int:
        """The greatest size of one side, on the grid, with which a part fits; 0 where none does."""
        grid = self.job.settings.grid
        if isinstance(self.row, Cut):
            least = INCH // 8
        else:
            least = self.row.width + 1

        def fits(steps: int) -> bool:
            return self.fits(_sized(self.row, name, steps * grid))

        low = -(-least // grid)
        high = (getattr(self.row, name) - 1) // grid
        return _last(fits, low, high) * grid

    def _size(self, row: Wanted | None) -> str:
        if row is None:
            return ""
        return " x ".join(format_length(side, self.unit) for side in smallest(row))


def _width(offered: Offered) -> int:
    if isinstance(offered, ByLength):
        return offered.usable_width
    return 0


def _sized(row: Wanted, side: str, size: int) -> Wanted | None:
    """The row with one of its sides of another size; None where there is no such row."""
    changes: dict[str, Any] = {side: size}
    return changed_row(row, **changes)


def _last(holds: Callable[[int], bool], low: int, high: int) -> int:
    """The greatest number from low to high that holds, where all below one that holds do; 0 where none does."""
    if low > high or not holds(low):
        return 0
    while low < high:
        middle = (low + high + 1) // 2
        if holds(middle):
            low = middle
        else:
            high = middle - 1
    return low
