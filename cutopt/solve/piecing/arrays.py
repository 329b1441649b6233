"""A back, its cloth and its groups as the arrays of the kernels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import log
from typing import Any, Final

import numpy as np

from cutopt.fabric_words import answers_to
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.piecing import MIDDLE, Back, SpareBlock
from cutopt.solve.kernels import sewn_state as k
from cutopt.solve.model.model import Model, Sheet
from cutopt.solve.piecing.new_cloth import table_of
from cutopt.solve.piecing.usable import Box
from cutopt.solve.plates.plate_table import Ints

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


def arrays_of(
    model: Model,
    back: Back,
    cloths: Sequence[Sheet],
    boxes: Sequence[list[Box]],
    priced: int,
    groups: Sequence[Group],
    stock: Ints,
    bought: Sheet | None,
) -> Any:
    """The arrays of a task, a ``Task`` of the kernels.

    Parameters
    ----------
    model : Model
        Its one item stands for any part.
    back : Back
    cloths : sequence of Sheet
        The pile, then `priced` pieces that are sold, then the length that is bought, if any.
    boxes : sequence of lists
        Of each cloth the largest rectangles.
    priced : int
    groups : sequence of Group
    stock : array (kinds, 2)
        How many blocks or patches there are of each kind, and how many have to go in.
    bought : Sheet or None
    """
    size = _size(model, back, cloths, priced, bought)
    seam = int(size[k.Z_SEAM])
    width = 0
    turns = 0
    if bought is not None:
        width = bought.cols
        turns = bought.turns(model.items[0])
    wide, high = int(size[k.Z_WIDE]), int(size[k.Z_HIGH])
    least = int(size[k.Z_LEAST]), int(size[k.Z_INNER])
    rects = [box for own in boxes for box in own]
    return k.Task(
        size=size,
        cloth=_cloth_rows(model, back, cloths, boxes),
        rect=np.array(rects, dtype=np.int64).reshape(-1, 4),
        group=_group_rows(groups, size, seam),
        stock=stock,
        price=_prices(bought),
        new=table_of(wide, high, width, seam, least, turns),
        weight=_weights(model, back, cloths, bought),
        chance=_chances(),
    )


def _cloth_rows(
    model: Model, back: Back, cloths: Sequence[Sheet], boxes: Sequence[list[Box]]
) -> Ints:
    first = 0
    rows = []
    for sheet, own in zip(cloths, boxes, strict=True):
        row = (
            sheet.cols,
            sheet.rows,
            sheet.cost,
            sheet.turns(model.items[0]),
            sheet.fabric,
            _is_main(model.job, back, sheet.fabric),
            first,
            len(own),
            sheet.wish == "use first",
        )
        rows.append(row)
        first += len(own)
    return np.array(rows, dtype=np.int64).reshape(-1, 9)


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
    size = np.zeros(17, dtype=np.int64)
    size[k.Z_WIDE] = up(back.width)
    size[k.Z_HIGH] = up(back.length)
    size[k.Z_SEAM] = seam
    size[k.Z_BLOCK_SEAM] = up(2 * rules.block_seam)
    allowance = max(rules.seam, rules.block_seam)
    # at the outer edge a part has one seam, within two
    size[k.Z_LEAST] = max(up(rules.smallest_part + allowance), seam + 1)
    size[k.Z_INNER] = up(rules.smallest_part + 2 * allowance)
    size[k.Z_SMALLEST] = up(rules.smallest_part)
    # a block shows from its seam on
    size[k.Z_OVERAGE] = up(max(rules.overage - rules.block_seam, 0))
    size[k.Z_EDGE] = up(rules.edge_part)
    size[k.Z_MOST] = rules.fewest or 0
    size[k.Z_RUN] = {"": 0, "up": k.ROW, "across": k.STACK}[rules.run]
    if not rules.middle:
        size[k.Z_MIDDLE] = up(MIDDLE[model.job.settings.unit]) + 1
    size[k.Z_BOUGHT] = -1
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
    least = int(size[k.Z_INNER])
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


def _weights(
    model: Model, back: Back, cloths: Sequence[Sheet], bought: Sheet | None
) -> Ints:
    weights = np.zeros(9, dtype=np.int64)
    weights[k.V_MONEY] = _STEP_OF_SALE
    weights[k.V_STEP] = _step_price(cloths, bought)
    weights[k.V_LENGTH] = max(1, 4 * _QUARTER_INCH * model.step // INCH)
    weights[k.V_PART] = _PART
    weights[k.V_AREA] = _PANEL
    weights[k.V_NARROW] = _NARROW
    weights[k.V_BAD] = _NOT_KEPT
    weights[k.V_FABRIC] = _LOOKS[back.rules.look]
    weights[k.V_IDLE] = _IDLE
    return weights


def _step_price(cloths: Sequence[Sheet], bought: Sheet | None) -> int:
    """What a step of the sale costs; where nothing is sold by length, the cheapest piece."""
    if bought is None:
        return min((sheet.cost for sheet in cloths if sheet.cost), default=1)
    costs = sorted({rung.cost for rung in bought.ladder})
    steps = [b - a for a, b in zip([0, *costs], costs, strict=False)]
    return max(steps[-1], 1)


def _chances() -> Ints:
    """-1024 ln u for u in equal steps, so that chance is a matter of whole numbers."""
    values = [round(-1024 * log((i + 0.5) / _CHANCES)) for i in range(_CHANCES)]
    return np.array(values, dtype=np.int64)
