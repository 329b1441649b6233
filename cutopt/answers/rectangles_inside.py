"""The largest rectangles along the grain that lie wholly on the good cloth of a piece of any shape."""

from __future__ import annotations

from collections.abc import Sequence

from cutopt.cloth import Cloth, cloth_of_piece
from cutopt.fabric import Piece
from cutopt.geometry import bounds
from cutopt.settings import Settings

Size = tuple[int, int]
# along the longer side of a piece; larger ones are looked at on a coarser grid
_MOST_STEPS = 800


def rectangles_inside(
    piece: Piece, settings: Settings, reaches: Sequence[int] = ()
) -> tuple[Size, ...]:
    """The largest by area, for each reach the widest so long, and one of all reaches.

    Parameters
    ----------
    piece : of any shape, with its flaws
    settings : what comes off ragged edges, what is lost to a rough measure, and the grid
    reaches : lengths that one side of a rectangle has to have, ticks

    Returns
    -------
    tuple of (width, length)
        Ticks, along the grain.

    Notes
    -----
    What comes off ragged edges, what is lost to a rough measure and the flaws are taken off. Sides are whole steps
    of the grid of the job, each cell of which is tested in whole numbers to lie on the cloth: rounded down, never up.
    """
    sizes = _sizes_on(cloth_of_piece(piece, settings), settings.grid)
    if not sizes:
        return ()
    found = [max(sizes, key=_area)]
    for reach in reaches:
        # either way round: a panel may lie along the grain or across it
        found += sorted(
            (size for size in sizes if max(size) >= reach),
            key=lambda size: _beside(size, reach),
        )[-1:]
    if len(reaches) > 1:
        both = [size for size in sizes if _reaches_all(size, reaches)]
        found += [max(both, key=_area)] if both else []
    return tuple(dict.fromkeys(found))


def _reaches_all(size: Size, reaches: Sequence[int]) -> bool:
    """Whether each side, the shorter with the shorter, is as long as is wanted."""
    pairs = zip(sorted(size), sorted(reaches), strict=False)
    return all(side >= reach for side, reach in pairs)


def largest_on(cloth: Cloth, grid: int) -> Size:
    """Width and length, ticks, of the largest rectangle along the grain on the good cloth; (0, 0) where none is.

    Its sides are whole steps of `grid`, rounded down.
    """
    return max(_sizes_on(cloth, grid), key=_area, default=(0, 0))


def _sizes_on(cloth: Cloth, grid: int) -> list[Size]:
    """Of the rectangles of each length that lie on the good cloth, the widest."""
    from cutopt.solve.model.cells import usable_cells

    x1, y1, x2, y2 = (int(v) for v in bounds(cloth.outline))
    longest = max(x2 - x1, y2 - y1)
    step = grid * max(1, -(-longest // (grid * _MOST_STEPS)))
    _, cells = usable_cells(cloth, step)
    widest = _widest(cells.T.tolist())
    return [
        (width * step, length * step)
        for length, width in enumerate(widest)
        if width * length
    ]


def _beside(size: Size, reach: int) -> Size:
    """What a rectangle gives beside a side that reaches so far, and that side: the greater, the better."""
    width, length = size
    return max(
        (width, length) if length >= reach else (0, 0),
        (length, width) if width >= reach else (0, 0),
    )


def _area(size: Size) -> int:
    return size[0] * size[1]


def _widest(rows: Sequence[Sequence[bool]]) -> list[int]:
    """Of all upright rectangles of cells that are True, by their length in rows, the greatest width.

    Row after row, the columns that are True from here down are a skyline; each rectangle that cannot grow is met
    once, when the skyline falls below it (a stack, in time that grows with the number of cells).
    """
    best = [0] * (len(rows) + 1)
    tall = [0] * (len(rows[0]) if rows else 0)
    for row in rows:
        tall = [high + 1 if on else 0 for high, on in zip(tall, row, strict=True)]
        # where each level began, and its height
        open_: list[Size] = []
        for at, high in enumerate([*tall, 0]):
            begin = at
            while open_ and open_[-1][1] >= high:
                begin, level = open_.pop()
                best[level] = max(best[level], at - begin)
            open_.append((begin, high))
    # a longer one holds a shorter one
    for length in range(len(best) - 2, -1, -1):
        best[length] = max(best[length], best[length + 1])
    return best
