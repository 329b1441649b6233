"""A job in whole numbers of grid steps, as the solver sees it.

Nothing is decided here that a plan could not take back: wanted sizes are rounded up to steps, cloth is rounded
down to the cells of a grid that lie wholly on usable cloth (square-up and flaws are out), and each cell test is
an exact integer test, so that whatever fits here fits on the table.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cutopt.cloth import Cloth
from cutopt.fabric import Offered, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, MM
from cutopt.wanted import Wanted

FINEST = {"in": INCH // 16, "cm": MM}


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A wanted row: `w` across and `l` along in steps when not turned; `copies` wanted.

    For a strip `l` is its shortest segment, `need` the sum over segments of (length - loss) that makes one
    strip, in steps, and `loss` what a join costs. `turns[f]` says how fabric f may serve (bit 1 unturned, bit 2
    turned, 0 not at all), `blind[f]` the same for cloth of unknown grain; `preference[f]` is 0 for the fabric
    (or all of the tag) named first. `most_each` is 0 where there is no limit, `group` the index of the `together` word or -1.
    """

    row: Wanted
    w: int
    l: int
    copies: int
    rank: int
    turns: tuple[int, ...]
    blind: tuple[int, ...]
    preference: tuple[int, ...]
    group: int = -1
    most_each: int = 0
    strip: bool = False
    need: int = 0
    loss: int = 0

    def amount(self, length: int) -> int:
        """How much of the row a part gives whose longer side is so long: one, or so much of a strip."""
        if self.strip:
            return length - self.loss
        return 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Rung:
    """One length that can be bought: `steps` of the shop, `rows` usable grid rows, its cost, ticks as sold."""

    steps: int
    rows: int
    cost: int
    sold: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A kind of cloth, `copies` of it: `cols` x `rows` cells, all usable where `cells` is None.

    `table` is the summed-area table of `cells`. `cost` is 0 for the pile; for cloth by length `ladder` holds what can
    be bought (shortest first) and `rows` are those of the last rung. `origin` is the tick of the lower left corner of
    cell (0, 0) in the frame of the source.
    """

    fabric: int
    cols: int
    rows: int
    origin: tuple[int, int]
    copies: int
    cloth: Cloth
    cells: NDArray[np.bool_] | None = None
    table: NDArray[np.int64] | None = None
    grain_known: bool = True
    wish: str = ""
    piece: Piece | None = None
    offered: Offered | None = None
    cost: int = 0
    ladder: tuple[Rung, ...] = ()

    def turns(self, item: Item) -> int:
        """How this cloth may serve an item (bits UNTURNED and TURNED)."""
        return (item.turns if self.grain_known else item.blind)[self.fabric]

    @property
    def area(self) -> int:
        """Usable cells."""
        if self.cells is None:
            return self.cols * self.rows
        return int(np.count_nonzero(self.cells))


@dataclass(frozen=True, slots=True, kw_only=True)
class Model:
    """The job as arrays: `step` ticks a cell; `priced` says whether costs are in hundredths of money or in ticks."""

    job: Job
    step: int
    items: tuple[Item, ...]
    sheets: tuple[Sheet, ...]
    groups: tuple[str, ...]
    priced: bool
    notices: tuple[str, ...] = ()

    @property
    def turns(self) -> int | None:
        """The turns that the search may use: one is left for trimming where sizes are not on the grid."""
        turns = self.job.settings.turns
        rough = any(
            row.width % self.step or row.length % self.step for row in self.job.cuts
        )
        rough |= any(row.width % self.step for row in self.job.strips)
        if turns is not None and turns > 2 and rough:
            return turns - 1
        return turns
