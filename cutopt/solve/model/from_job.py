"""From a job to its model: in which steps, how each row may lie, which lengths are on sale, what to tell the maker."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import gcd
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from cutopt.cloth import Cloth, cloth_of_each, cloth_of_length, cloth_of_piece
from cutopt.fabric import ByLength, ByPiece, Fabric, Offered, Piece
from cutopt.fabric_words import stands_up
from cutopt.job import Job, cost_of, is_priced
from cutopt.lengths import INCH, up
from cutopt.solve.model.cells import summed, usable_cells
from cutopt.solve.model.model import FINEST, Item, Model, Rung, Sheet
from cutopt.solve.plates.plate_table import TURNED, UNTURNED
from cutopt.strips import finest_mark
from cutopt.wanted import Cut, Strip, Wanted

RANKS = {"must": 0, "nice": 1, "if left": 2}


def model_of(job: Job, step: int | None = None) -> Model:
    """Translate a job, in steps of so many ticks; by default the coarsest on which its sizes fall."""
    step = step or _step(job)
    groups = tuple(dict.fromkeys(row.together for row in job.wanted if row.together))
    priced = is_priced(job)
    names = [fabric.name for fabric in job.fabrics]
    items = tuple(_item(job, row, step, groups, names) for row in job.wanted)
    pile = [
        _pile_sheet(job, piece, step, names)
        for piece in job.pieces
        if piece.wish != "do not touch"
    ]
    shop = [_shop_sheet(job, offered, step, names, priced) for offered in job.shop]
    sheets = tuple(
        sheet for sheet in (*pile, *shop) if sheet is not None and sheet.area
    )
    return Model(
        job=job,
        step=step,
        items=items,
        sheets=sheets,
        groups=groups,
        priced=priced,
        notices=tuple(_notices(job, step, priced)),
    )


def _step(job: Job) -> int:
    """The coarsest of the grid and its halves and fifths on which all wanted sizes fall, else the finest.

    On irregular cloth at most half of the least size: wherever a part lies, it then has a whole cell in it, and cloth
    without one holds no part.
    """
    grid = job.settings.grid
    finest = min(job.settings.grid, FINEST[job.settings.unit])
    sizes = [row.width for row in job.wanted]
    sizes += [row.length for row in job.cuts]
    common = gcd(grid, *sizes)
    irregular = any(piece.flaws or not piece.is_rectangle for piece in job.pieces)
    if irregular and sizes:
        coarsest = min(sizes) // 2
    else:
        coarsest = grid
    for parts in (1, 2, 4, 5, 10):
        if (
            grid % parts == 0
            and common % (grid // parts) == 0
            and finest <= grid // parts <= coarsest
        ):
            return grid // parts
    if grid % finest == 0:
        return finest
    return grid


def _turns(job: Job, row: Wanted, fabric_index: int, *, blind: bool) -> int:
    fabric = job.fabrics[fabric_index]
    if fabric.name not in job.allowed(row):
        return 0
    turns = {"any": UNTURNED | TURNED, "along": UNTURNED, "across": TURNED}[row.grain]
    stands = stands_up(row, fabric)
    if stands:
        turns &= UNTURNED if fabric.one_way == stands else TURNED
    if blind and (stands or row.grain != "any"):
        return 0
    return turns


def _item(
    job: Job, row: Wanted, step: int, groups: tuple[str, ...], names: list[str]
) -> Item:
    places = job.places(row)
    turns, blind = (
        tuple(_turns(job, row, f, blind=unknown) for f in range(len(names)))
        for unknown in (False, True)
    )
    more: dict[str, Any] = {}
    if isinstance(row, Strip):
        if row.join == "none":
            loss = 0
        else:
            loss = _up(row.join_loss(job.settings.seam) + 2 * _unseen(job, step), step)
        # so that one segment serves if it is as long as the strip
        need = max(_up(row.total_length, step) - loss, 1)
        if row.join == "none":
            shortest = row.total_length
        else:
            shortest = min(max(row.shortest, row.width), row.total_length)
        more = {"strip": True, "loss": loss, "need": need, "l": _up(shortest, step)}
    else:
        more = {"l": _up(row.length, step), "most_each": row.most_each or 0}
    return Item(
        row=row,
        w=_up(row.width, step),
        copies=row.count,
        rank=RANKS[row.importance],
        turns=turns,
        blind=blind,
        preference=tuple(places.get(name, 0) for name in names),
        group=groups.index(row.together) if row.together else -1,
        **more,
    )


def _unseen(job: Job, step: int) -> int:
    """The most that a ruler does not show of a length in steps: of joined segments it is not counted on.

    Two segments have one join, more of them more joins for each segment: twice as much a join is enough for all.
    """
    mark = finest_mark(job.settings)
    return mark - gcd(mark, step)


def _up(ticks: int, step: int) -> int:
    return up(Fraction(ticks, step))


def _pile_sheet(job: Job, piece: Piece, step: int, names: list[str]) -> Sheet | None:
    cloth = cloth_of_piece(piece, job.settings, job.fabric(piece.fabric))
    placed = _cells(cloth, step)
    if placed is None:
        return None
    return Sheet(
        fabric=names.index(piece.fabric),
        copies=piece.count,
        cloth=cloth,
        **placed._asdict(),
        grain_known=piece.grain_known,
        wish=piece.wish,
        piece=piece,
    )


class _Cells(NamedTuple):
    """Of a sheet, trimmed to what is usable; without cells and their table where all are."""

    cols: int
    rows: int
    origin: tuple[int, int]
    cells: NDArray[np.bool_] | None = None
    table: NDArray[np.int64] | None = None


# jobs that are asked about ("what if ...") share most of their pile
@lru_cache(maxsize=128)
def _cells(cloth: Cloth, step: int) -> _Cells | None:
    """The usable cells of a cloth; None where there are none."""
    origin, cells = usable_cells(cloth, step)
    if not cells.any():
        return None
    across = np.flatnonzero(cells.any(axis=1))
    along = np.flatnonzero(cells.any(axis=0))
    cells = np.ascontiguousarray(
        cells[across[0] : across[-1] + 1, along[0] : along[-1] + 1]
    )
    origin = (origin[0] + step * int(across[0]), origin[1] + step * int(along[0]))
    size = cells.shape[0], cells.shape[1]
    if cells.all():
        return _Cells(*size, origin)
    table = summed(cells)
    cells.flags.writeable = table.flags.writeable = False
    return _Cells(*size, origin, cells, table)


def _shop_sheet(
    job: Job, offered: Offered, step: int, names: list[str], priced: bool
) -> Sheet | None:
    fabric = job.fabric(offered.fabric)
    if isinstance(offered, ByPiece):
        cloth = cloth_of_each(fabric, offered.each_width, offered.each_length)
        placed = _cells(cloth, step)
        if placed is None:
            return None
        cost = unit_cost(job, offered, offered.each_length, priced)
        if offered.most is not None:
            copies = offered.most
        else:
            copies = _enough_pieces(job, offered, placed, step)
        ladder: tuple[Rung, ...] = ()
    else:
        ladder = _ladder(job, offered, step, priced)
        if not ladder:
            return None
        cloth = cloth_of_length(
            fabric, offered.usable_width, ladder[-1].sold, job.settings
        )
        placed = _cells(cloth, step)
        cost = 0
        copies = 1
        if placed is None:
            return None
    return Sheet(
        fabric=names.index(offered.fabric),
        copies=copies,
        cloth=cloth,
        **placed._asdict(),
        offered=offered,
        cost=cost,
        ladder=ladder,
    )


def _enough_pieces(job: Job, offered: ByPiece, placed: _Cells, step: int) -> int:
    """So many pieces that more are never of use for what this fabric may serve.

    The less of two: each part (of a strip, each segment) on a piece of its own; and shelves of falling height, which
    take at most twice the area and the tallest part (as in :func:`_enough`), laid on one piece after the other, of
    which two that follow each other hold more than the height of one. Shelves need three turns of the cut.
    """
    parts = 0
    area = 0
    for row in job.wanted:
        if offered.fabric not in job.allowed(row):
            continue
        each = 1
        long = -(-(row.length if isinstance(row, Cut) else row.total_length) // step)
        if isinstance(row, Strip) and row.join != "none":
            loss = row.join_loss(job.settings.seam)
            each = up(
                Fraction(
                    row.total_length,
                    max(max(row.shortest, row.width) - loss, INCH // 8),
                )
            )
            long += each * (-(-loss // step) + 1)
        parts = parts + row.count * each
        area = area + row.count * long * -(-row.width // step)
    if job.settings.turns is not None and job.settings.turns < 3:
        return max(parts, 1)
    return max(min(parts, 4 * area // (placed.cols * placed.rows) + 4), 1)


def _ladder(job: Job, offered: ByLength, step: int, priced: bool) -> tuple[Rung, ...]:
    """All lengths on sale that leave at least one usable row, shortest first, up to what could ever be needed."""
    fabric = job.fabric(offered.fabric)
    rungs = []
    first = max(1, up(Fraction(offered.smallest, offered.sold_by)))
    last = (
        offered.most if offered.most is not None else _enough(job, offered)
    ) // offered.sold_by
    for steps in range(first, max(last, first) + 1):
        sold = steps * offered.sold_by
        placed = _rows_of_length(
            cloth_of_length(fabric, offered.usable_width, sold, job.settings), step
        )
        if placed > 0:
            rungs.append(
                Rung(
                    steps=steps,
                    rows=placed,
                    cost=unit_cost(job, offered, sold, priced),
                    sold=sold,
                )
            )
    return tuple(rungs)


def _rows_of_length(cloth: Cloth, step: int) -> int:
    length = cloth.outline[2][1]
    ends = cloth.margins[0] + cloth.margins[2]
    return (length - ends) // step


def _enough(job: Job, offered: ByLength) -> int:
    """A length that surely holds everything this fabric may serve.

    The less of two: each row in strips of its own; and shelves of falling height, which take at most twice the
    area and the tallest part (Coffman, Garey, Johnson & Tarjan 1980, SIAM Journal on Computing 9(4), 808-826),
    with a tenth for rounding to the grid.
    """
    fabric = job.fabric(offered.fabric)
    width = offered.usable_width * (1 - fabric.shrink_across)
    apart = Fraction(0)
    strips = Fraction(0)
    area = 0
    tallest = 0
    for row in job.wanted:
        if fabric.name not in job.allowed(row):
            continue
        if isinstance(row, Strip) and _joined_across(job, row, fabric, width):
            across = max(1, int(width) - row.join_loss(job.settings.seam))
            strips += (
                row.count * row.width * (up(Fraction(row.total_length, across)) + 1)
            )
        else:
            low, high = sorted(
                (row.width, row.total_length if isinstance(row, Strip) else row.length)
            )
            free = row.grain == "any" and not stands_up(row, fabric)
            lies = ((low, high),) if free else ((low, high), (high, low))
            apart += max(
                up(Fraction(row.count, max(1, int(width // a)))) * b for a, b in lies
            )
            area = area + row.count * low * high
            tallest = max(tallest, high)
    total = strips + min(apart, Fraction(11 * area, 5) / width + tallest)
    total = (total + 2 * job.settings.square_up_end) / (
        1 - fabric.shrink_along
    ) + 2 * offered.sold_by
    return int(total) + job.settings.extra + offered.smallest


def _joined_across(job: Job, strip: Strip, fabric: Fabric, width: Fraction) -> bool:
    """Whether a strip may be joined of segments that lie across cloth of this fabric, so wide."""
    may = _turns(job, strip, job.fabrics.index(fabric), blind=False) & TURNED
    return (
        bool(may) and strip.join != "none" and max(strip.shortest, strip.width) <= width
    )


def unit_cost(job: Job, offered: Offered, length: int, priced: bool) -> int:
    """Hundredths of the currency, or ticks of length where prices are missing.

    Parameters
    ----------
    job : Job
    offered : ByLength or ByPiece
    length : int
        As sold, ticks.
    priced : bool
        Whether every fabric of the shop has a price.
    """
    if priced:
        cost = cost_of(offered, length, job.settings.unit)
        if cost is not None:
            return int(cost * 100)
        return 0
    return length


def _notices(job: Job, step: int, priced: bool) -> list[str]:
    from cutopt.lengths import format_length

    told = []
    unit = job.settings.unit
    rough = [row.name for row in job.cuts if row.width % step or row.length % step]
    if rough:
        shown = format_length(step, unit, mark=True)
        told.append(
            f"{', '.join(rough)}: planned on cloth up to {shown} larger, cut to the size wanted."
        )
    if job.shop and not priced:
        told.append(
            "Not every fabric of the shop has a price, so the plan buys the least length, not the least money."
        )
    if job.settings.extra and any(isinstance(row, ByLength) for row in job.shop):
        shown = format_length(job.settings.extra, unit, mark=True)
        told.append(
            f"Each length to buy is {shown} longer than this plan takes, as you asked (extra)."
        )
    return told
