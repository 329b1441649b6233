"""A back and the cloth that it may be pieced of, as the arrays of the search for trees."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Any, Final

import numpy as np

from cutopt.job import Job
from cutopt.piecing import Back
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.model import FINEST, Model, Sheet
from cutopt.solve.piecing.arrays import Group, arrays_of
from cutopt.solve.piecing.usable import Box, largest_rectangles
from cutopt.solve.plates.plate_table import Ints
from cutopt.wanted import Cut

# cloths among which the search chooses: the largest
_MOST_CLOTHS: Final = 60
# of pieces alike so many on their own, and as many of a field of patches
_MOST_ALIKE: Final = 6
_MOST_FIELDS: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """What the search for trees is about.

    Attributes
    ----------
    model : Model
        Cloth on the grid of the back; its one item stands for any part of it.
    cloths : tuple of Sheet
        Of each cloth of the arrays the sheet, the length that is bought at the end.
    boxes : tuple of lists
        Of each cloth the largest rectangles.
    bought : Sheet or None
        What is bought by length.
    """

    back: Back
    model: Model
    cloths: tuple[Sheet, ...]
    boxes: tuple[list[Box], ...]
    groups: tuple[Group, ...]
    bought: Sheet | None
    arrays: Any

    @property
    def step(self) -> int:
        """Ticks of a step."""
        return self.model.step

    @property
    def turns(self) -> int:
        """How new cloth may lie in the back: bits 1 as it lies, 2 turned; 0 where there is none."""
        if self.bought is None:
            return 0
        return self.bought.turns(self.model.items[0])


def tasks_of(
    job: Job, back: Back, taken: Mapping[str, int] | None = None
) -> list[Task]:
    """The tasks of a back, one for each fabric that may be bought for it by length; one where none may.

    Parameters
    ----------
    job : Job
        Its pile and its shop.
    back : Back
    taken : mapping
        Of pieces by name, how many other backs use already.
    """
    step = step_of(job, back)
    model = model_of(_with_a_part(job, back, step), step)
    item = model.items[0]
    sheets = [
        left
        for sheet in model.sheets
        if sheet.turns(item) and (left := _left(sheet, taken or {})) is not None
    ]
    by_length = [sheet for sheet in sheets if sheet.ladder]
    by_length.sort(key=_per_area)
    found = [_task(model, back, sheets, bought) for bought in by_length[:3]]
    return found or [_task(model, back, sheets, None)]


def _left(sheet: Sheet, taken: Mapping[str, int]) -> Sheet | None:
    """A piece without the copies that are used already."""
    if sheet.piece is None:
        return sheet
    copies = sheet.copies - taken.get(sheet.piece.name, 0)
    if copies < 1:
        return None
    return replace(sheet, copies=copies)


def _per_area(sheet: Sheet) -> float:
    """What cloth by length costs for its area; only to begin with the cheapest."""
    last = sheet.ladder[-1]
    return last.cost / (last.rows * sheet.cols)


def step_of(job: Job, back: Back) -> int:
    """Ticks of a step: the coarsest of a few on which all sizes of the back fall."""
    rules = back.rules
    sizes = [back.width, back.length, 2 * rules.seam, 2 * rules.block_seam]
    for block in job.spare_blocks:
        if back.may_take(block):
            sizes += [block.width, block.length, *block.least]
    grid = job.settings.grid
    finest = min(grid, FINEST[job.settings.unit])
    for step in (2 * grid, grid, grid // 2, finest):
        if step >= finest and all(size % step == 0 for size in sizes):
            return step
    return finest


def _with_a_part(job: Job, back: Back, step: int) -> Job:
    """A job with a row that stands for any part of the back, so many that no length on sale is too short."""
    least = back.rules.smallest_part + 2 * back.rules.seam
    least = -(-least // step) * step
    row = Cut(
        name=back.name,
        width=least,
        length=least,
        count=min(8 * back.width * back.length // (5 * least * least) + 1, 9_999),
        fabrics=back.fabrics,
        upright=back.rules.upright,
    )
    return replace(job, cuts=(row,), strips=(), backs=(), quilt="")


def _task(
    model: Model, back: Back, sheets: Sequence[Sheet], bought: Sheet | None
) -> Task:
    pile = [sheet for sheet in sheets if sheet.piece is not None]
    pile = [sheet for sheet in pile if sheet.wish != "keep whole"]
    each = [sheet for sheet in sheets if sheet.piece is None and not sheet.ladder]
    alike = [sheet for sheet in pile for _ in range(min(sheet.copies, _MOST_ALIKE))]
    alike.sort(key=lambda sheet: (sheet.wish != "use first", -sheet.area))
    priced = [sheet for sheet in each for _ in range(min(sheet.copies, 4))]
    cloths = (*alike[:_MOST_CLOTHS], *priced)
    if bought is not None:
        cloths = (*cloths, bought)
    stock, groups = _groups(model, back, pile)
    boxes = tuple(largest_rectangles(sheet) for sheet in cloths)
    arrays = arrays_of(model, back, cloths, boxes, len(priced), groups, stock, bought)
    return Task(
        back=back,
        model=model,
        cloths=cloths,
        boxes=boxes,
        groups=tuple(groups),
        bought=bought,
        arrays=arrays,
    )


def _groups(
    model: Model, back: Back, pile: Sequence[Sheet]
) -> tuple[Ints, list[Group]]:
    """What goes into groups, with how many there are and have to go in; and the groups."""
    step = model.step
    stock: list[tuple[int, int]] = []
    groups: list[Group] = []
    for block in model.job.spare_blocks:
        if not back.may_take(block):
            continue
        for size in dict.fromkeys(((block.width, block.length), block.least)):
            if any(side % step for side in size):
                continue
            one = Group(
                kind=len(stock),
                columns=1,
                rows=1,
                width=size[0] // step,
                length=size[1] // step,
                block=block,
            )
            groups += _fields(one, block.count, model, back)
        stock.append((block.count, back.least_of(block)))
    for sheet in pile:
        if sheet.copies < 4 or sheet.cells is not None:
            continue
        for turned in (False, True):
            if not sheet.turns(model.items[0]) & (2 if turned else 1):
                continue
            sides = (sheet.cols, sheet.rows)
            if turned:
                sides = sides[::-1]
            one = Group(
                kind=len(stock),
                columns=1,
                rows=1,
                width=sides[0],
                length=sides[1],
                patches=sheet,
                first=_MOST_ALIKE,
                turned=turned,
            )
            # the others may go in one by one
            groups += _fields(one, max(sheet.copies - _MOST_ALIKE, 0), model, back)
        stock.append((max(sheet.copies - _MOST_ALIKE, 0), 0))
    return np.array(stock, dtype=np.int64).reshape(-1, 2), groups


def _fields(one: Group, count: int, model: Model, back: Back) -> Iterator[Group]:
    """Columns and rows of the same, as far as there are enough and they fit the back."""
    rules = back.rules
    seam = 2 * (rules.block_seam if one.block else rules.seam) // model.step
    most_columns = _abreast(one.width, seam, back.width // model.step, count)
    most_rows = _abreast(one.length, seam, back.length // model.step, count)
    found = [
        replace(one, columns=columns, rows=rows)
        for columns, rows in product(
            range(1, most_columns + 1), range(1, most_rows + 1)
        )
        if columns * rows <= count and (one.block or columns * rows > 1)
    ]
    # few large ones and few long ones rather than all
    found.sort(key=lambda group: (min(group.columns, group.rows), group.columns))
    yield from found[:_MOST_FIELDS]


def _abreast(size: int, seam: int, room: int, count: int) -> int:
    """How many of a size, of so many, a room takes beside each other; all in steps, the seam twice its allowance."""
    if size <= seam:
        return 0
    return min((room - seam) // (size - seam), count)
