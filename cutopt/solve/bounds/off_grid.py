"""Parts that come close to the edges of the cloth: a ruler may find room where the grid of the search has none."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from cutopt.cloth import Cloth
from cutopt.geometry import is_rectangle
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.solve.bounds.relaxed import usable_span
from cutopt.solve.bounds.windows import touched_cells
from cutopt.solve.model.cells import holds, summed
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.layout import fits_alone
from cutopt.solve.model.model import FINEST, Item, Model, Sheet
from cutopt.solve.plates.plate_table import TURNED, UNTURNED
from cutopt.wanted import Cut, Wanted

# in ticks
_SMALL = INCH // 64
# along both sides of a cloth together
_MOST_CELLS = 4_000


def roomiest(job: Job) -> Model:
    """The job on its grid; on a finer one where that has room for a row of which else not even one part fits.

    Never on one finer than what a ruler shows, and only on one whose lines are among those of the grid.
    """
    model = model_of(job)
    finest = FINEST[job.settings.unit]
    if job.settings.grid % finest or model.step % finest or model.step == finest:
        return model
    hopeless = np.flatnonzero(~fits_alone(model).any(axis=1))
    close = [k for k in hopeless if might_fit(model, model.items[k])]
    if not close:
        return model
    other = model_of(job, finest)
    if fits_alone(other)[close].any():
        return other
    return model


def smallest(row: Wanted) -> tuple[int, int]:
    """Width and length of a part of a row, in ticks: of a strip the shortest segment."""
    if isinstance(row, Cut):
        return row.width, row.length
    return row.width, row.total_length if row.join == "none" else min(
        row.shortest, row.total_length
    )


def might_fit(model: Model, item: Item, *, either_way: bool = False) -> bool:
    """Whether some cloth may hold one part in truth; that none does is certain. See :func:`close_cloth`.

    Parameters
    ----------
    model : Model
    item : Item
        The row.
    either_way : bool
        As if it might lie along or across.
    """
    return any(True for _ in close_cloth(model, item, either_way=either_way))


def close_cloth(
    model: Model, item: Item, *, either_way: bool = False
) -> Iterator[Sheet]:
    """The cloth of an item's fabrics that may hold one part in truth, on the grid or not.

    `either_way`: as if it might lie along or across.

    Parameters
    ----------
    model : Model
    item : Item
        The row.
    either_way : bool
        As if it might lie along or across.
    """
    w, l = smallest(item.row)
    allowed = model.job.allowed(item.row)
    for sheet in model.sheets:
        turns = sheet.turns(item)
        if either_way:
            named = model.job.fabrics[sheet.fabric].name in allowed
            if named:
                turns = UNTURNED | TURNED
            else:
                turns = 0
        ways = [
            size for bit, size in ((UNTURNED, (w, l)), (TURNED, (l, w))) if turns & bit
        ]
        if any(may_hold(sheet.cloth, *size, model.step) for size in ways):
            yield sheet


def may_hold(cloth: Cloth, w: int, l: int, step: int) -> bool:
    """Whether a rectangle of w x l ticks may lie on usable cloth.

    Exact for a rectangle without flaws. Of other cloth all cells count that usable cloth touches, so that a part is
    never missed, and is found too often only where it lacks a cell or two: cells of `step` ticks are looked at, and
    where they leave it open much smaller ones.

    Parameters
    ----------
    cloth : Cloth
    w, l : int
        Ticks.
    step : int
        Ticks of a cell.
    """
    (left, right), (low, high) = usable_span(cloth, 0), usable_span(cloth, 1)
    if w > right - left or l > high - low:
        return False
    # most are: no need to look at the cells
    if is_rectangle(cloth.outline) and not cloth.flaws:
        return True
    smaller = min(step, max(_SMALL, (right - left + high - low) // _MOST_CELLS))
    for size in (step, smaller):
        xs, ys = (
            np.arange(start, end + size, size, dtype=np.int64)
            for start, end in ((left, right), (low, high))
        )
        if not holds(
            summed(touched_cells(cloth, xs, ys)), -(-w // size), -(-l // size)
        ):
            return False
    return True
