"""A back and the cloth that it may be pieced of, as the arrays of the search for trees."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import log
from typing import Any, Final

import numpy as np

from cutopt.fabric_words import answers_to
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.piecing import MIDDLE, Back, SpareBlock
from cutopt.solve.kernels import sewn_state as k
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.model import FINEST, Item, Model, Sheet
from cutopt.solve.piecing.new_cloth import table_of
from cutopt.solve.piecing.usable import Box, largest_rectangles
from cutopt.solve.plates.plate_table import Ints
from cutopt.wanted import Cut

# cloths among which the search chooses: the largest
_MOST_CLOTHS: Final = 60
# of pieces alike so many on their own, and as many of a field of patches
_MOST_ALIKE: Final = 6
_MOST_FIELDS: Final = 60
# what the search weighs, in 1/64 of a part
_PART: Final = 64
_STEP_OF_SALE: Final = 18 * _PART
_QUARTER_INCH: Final = 16
_PANEL: Final = 2 * _PART
_NARROW: Final = 24
_NOT_KEPT: Final = 40 * _PART
_IDLE: Final = 6
_LOOKS: Final = {"": 0, "calm": 48, "busy": -32}
_CHANCES: Final = 1024


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Blocks of a kind, or patches alike, sewn together: `columns` by `rows`, each so large in steps.

    Of patches `first` is the first copy that goes into groups; the others go in one by one.
    """

    kind: int
    columns: int
    rows: int
    width: int
    length: int
    block: SpareBlock | None = None
    patches: Sheet | None = None
    first: int = 0
    turned: bool = False


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
    arrays = _arrays(model, back, cloths, boxes, len(priced), groups, stock, bought)
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
    found = []
    for columns, rows in product(range(1, count + 1), repeat=2):
        if columns * rows > count:
            continue
        wide = columns * (one.width - seam) + seam
        long = rows * (one.length - seam) + seam
        if wide * model.step > back.width or long * model.step > back.length:
            continue
        if one.block is None and columns * rows == 1:
            continue
        found.append(replace(one, columns=columns, rows=rows))
    # few large ones and few long ones rather than all
    found.sort(key=lambda group: (min(group.columns, group.rows), group.columns))
    yield from found[:_MOST_FIELDS]


def _arrays(
    model: Model,
    back: Back,
    cloths: Sequence[Sheet],
    boxes: Sequence[list[Box]],
    priced: int,
    groups: Sequence[Group],
    stock: Ints,
    bought: Sheet | None,
) -> Any:
    item = model.items[0]
    rects: list[Box] = []
    rows = []
    for sheet, own in zip(cloths, boxes, strict=True):
        main = _is_main(model.job, back, sheet.fabric)
        turns = sheet.turns(item)
        rows.append(
            (
                sheet.cols,
                sheet.rows,
                sheet.cost,
                turns,
                sheet.fabric,
                main,
                len(rects),
                len(own),
                0,
            )
        )
        rects += own
    size = _size(model, back, cloths, priced, bought)
    price = _prices(bought)
    seam = int(size[k.Z_SEAM])
    width = bought.cols if bought is not None else 0
    new = table_of(
        int(size[k.Z_WIDE]),
        int(size[k.Z_HIGH]),
        width,
        seam,
        int(size[k.Z_LEAST]),
        bought.turns(item) if bought is not None else 0,
    )
    return k.Task(
        size=size,
        cloth=np.array(rows, dtype=np.int64).reshape(-1, 9),
        rect=np.array(rects, dtype=np.int64).reshape(-1, 4),
        group=_group_rows(groups, size, seam),
        stock=stock,
        price=price,
        new=new,
        weight=_weights(model, back, bought),
        chance=_chances(),
    )


def _is_main(job: Job, back: Back, fabric: int) -> bool:
    main = back.rules.main
    return bool(main) and answers_to(job.fabrics[fabric], main)


def _size(
    model: Model,
    back: Back,
    cloths: Sequence[Sheet],
    priced: int,
    bought: Sheet | None,
) -> Ints:
    rules = back.rules
    step = model.step

    def up(ticks: int) -> int:
        return -(-ticks // step)

    seam = up(2 * rules.seam)
    size = np.zeros(16, dtype=np.int64)
    size[k.Z_WIDE] = up(back.width)
    size[k.Z_HIGH] = up(back.length)
    size[k.Z_SEAM] = seam
    size[k.Z_BLOCK_SEAM] = up(2 * rules.block_seam)
    size[k.Z_LEAST] = up(rules.smallest_part + 2 * max(rules.seam, rules.block_seam))
    # a block shows from its seam on
    size[k.Z_OVERAGE] = up(max(rules.overage - rules.block_seam, 0))
    size[k.Z_EDGE] = up(rules.edge_part)
    size[k.Z_MOST] = rules.fewest or 0
    size[k.Z_RUN] = {"": 0, "up": k.ROW, "across": k.STACK}[rules.run]
    if not rules.middle:
        size[k.Z_MIDDLE] = up(MIDDLE[model.job.settings.unit]) + 1
    size[k.Z_BOUGHT] = -1
    size[k.Z_LOOK] = 0
    size[k.Z_MAIN] = bool(rules.main)
    size[k.Z_PRICED] = len(cloths) - priced
    if bought is not None:
        size[k.Z_BOUGHT] = len(cloths) - 1
        size[k.Z_BOUGHT_MAIN] = _is_main(model.job, back, bought.fabric)
        size[k.Z_BOUGHT_FABRIC] = bought.fabric
        size[k.Z_PRICED] -= 1
    return size


def _prices(bought: Sheet | None) -> Ints:
    """What each length of new cloth costs, from nothing on."""
    if bought is None:
        return np.zeros(1, dtype=np.int64)
    costs = [0]
    for rung in bought.ladder:
        costs += [rung.cost] * (rung.rows + 1 - len(costs))
    return np.array(costs, dtype=np.int64)


def _group_rows(groups: Sequence[Group], size: Ints, seam: int) -> Ints:
    least = int(size[k.Z_LEAST])
    rows = []
    for group in groups:
        between = seam
        if group.block is not None:
            between = int(size[k.Z_BLOCK_SEAM])
        wide = group.columns * (group.width - between) + between
        high = group.rows * (group.length - between) + between
        least_wide = wide
        least_high = high
        if group.block is None:
            # patches of the last column and row may be trimmed
            least_wide -= max(group.width - least, 0)
            least_high -= max(group.length - least, 0)
        takes = group.columns * group.rows
        row = (
            wide,
            high,
            least_wide,
            least_high,
            takes,
            group.kind,
            takes - 1,
            group.block is not None,
            0 if group.patches is None else group.patches.fabric,
        )
        rows.append(row)
    return np.array(rows, dtype=np.int64).reshape(-1, 9)


def _weights(model: Model, back: Back, bought: Sheet | None) -> Ints:
    weights = np.zeros(9, dtype=np.int64)
    weights[k.V_MONEY] = _STEP_OF_SALE
    weights[k.V_STEP] = _step_price(bought)
    weights[k.V_LENGTH] = max(1, 4 * _QUARTER_INCH * model.step // INCH)
    weights[k.V_PART] = _PART
    weights[k.V_AREA] = _PANEL
    weights[k.V_NARROW] = _NARROW
    weights[k.V_BAD] = _NOT_KEPT
    weights[k.V_FABRIC] = _LOOKS[back.rules.look]
    weights[k.V_IDLE] = _IDLE
    return weights


def _step_price(bought: Sheet | None) -> int:
    """What a step of the sale costs."""
    if bought is None or not bought.ladder:
        return 1
    costs = sorted({rung.cost for rung in bought.ladder})
    steps = [b - a for a, b in zip([0, *costs], costs, strict=False)]
    return max(steps[-1], 1)


def _chances() -> Ints:
    """-1024 ln u for u in equal steps, so that chance is a matter of whole numbers."""
    values = [round(-1024 * log((i + 0.5) / _CHANCES)) for i in range(_CHANCES)]
    return np.array(values, dtype=np.int64)


__all__ = ["Group", "Item", "Task", "step_of", "tasks_of"]
