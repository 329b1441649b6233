"""A block of the maker's own: rows from the top, each of units from the left, of the sizes and cloths that she says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.pieced.panel import Cell, Panel
from cutopt.quilt.pieced.pattern import USUAL, Sewn
from cutopt.quilt.pieced.sums import Told, pieced
from cutopt.quilt.recipe.block import Block, Cloths
from cutopt.quilt.surds import Exact, Number, exact
from cutopt.quilt.wanted_parts import ClothWanted, cloth

# what is sewn, a word for each cloth of it, and which of several that are alike
_Slot: TypeAlias = tuple[str, str, ClothWanted, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Own:
    """`times` units alike in a row of a block of the maker's own.

    `name` is hers ("wall"), or that of its kind. `cell` is the unit in ticks, its cloths by number, and `of` what they
    are. `words` names the row of each cloth. Where `either` its cloths may change places: turned, it is the same.
    """

    name: str
    times: int
    cell: Cell
    words: tuple[str, ...]
    of: Cloths
    either: bool = False


@dataclass(slots=True)
class _Cloths:
    """The cloths of a block, each with the word of its row."""

    found: dict[_Slot, int] = field(default_factory=dict)
    words: list[str] = field(default_factory=list)

    def of(self, own: Own) -> list[int]:
        """Which cloths of the block those of a unit are."""
        numbers = []
        seen: list[ClothWanted] = []
        for word, of in zip(own.words, own.of, strict=True):
            chosen = cloth(of)
            if own.either:
                key = (own.name, "", chosen, seen.count(chosen))
            else:
                key = (own.name, word, chosen, 0)
            seen.append(chosen)
            if key not in self.found:
                self.found[key] = len(self.words)
                self.words.append(word)
            numbers.append(self.found[key])
        return numbers


def block_in_rows(
    name: str,
    count: int,
    size: tuple[Exact, Exact] | None,
    rows: Sequence[Sequence[Own]],
    how: Conventions,
    sewn: Sewn = USUAL,
) -> Block:
    """Blocks of the maker's own.

    Parameters
    ----------
    name : of the block
    count : how many blocks
    size : finished width and length; None for what the rows come to
    rows : from the top
    how : seam and unit, and what is usual in it
    sewn : how triangles are made

    Raises
    ------
    Problem
        Where units of a row are not of one height, or rows do not add up to the block.
    """
    for number, row in enumerate(rows, start=1):
        _check_heights(number, row, how)
    _check_widths(rows, size, how)
    _check_length(rows, size, how)
    cloths = _Cloths()
    cells = []
    for row in rows:
        placed: list[Cell] = []
        for own in row:
            placed += [own.cell.of_slots(cloths.of(own))] * own.times
        cells.append(tuple(placed))
    told = Told(
        name=name,
        count=count,
        words=tuple(cloths.words),
        whole=True,
        cloths=tuple(key[2] for key in cloths.found),
        how=how,
        halves=sewn.halves,
        geese=sewn.geese,
    )
    return pieced(Panel(rows=tuple(cells)), told)


def _check_heights(number: int, row: Sequence[Own], how: Conventions) -> None:
    heights = dict.fromkeys(own.cell.lies[1] for own in row)
    if len(heights) == 1:
        return
    told = " and ".join(f"{own.name} {how.show(own.cell.lies[1])}" for own in row)
    what = f"row {number} is of units of several heights: {told}"
    mend = "make all units of a row equally high (finished sizes, seams not counted)"
    raise Problem("blocks", what, mend)


def _check_widths(
    rows: Sequence[Sequence[Own]], size: tuple[Exact, Exact] | None, how: Conventions
) -> None:
    if size is None:
        width = _width(rows[0])
        block = f"row 1 is {how.show(width)}"
    else:
        width = size[0]
        block = f"the block is {how.show(width)}"
    for number, row in enumerate(rows, start=1):
        comes_to = _width(row)
        if comes_to != width:
            sums = _sum(" + ".join(_times(own, 0, how) for own in row), comes_to, how)
            if len(rows) == 1:
                what = f"{sums}, and {block} wide"
            else:
                what = f"row {number} is {sums} wide, and {block}"
            mend = "make the widths add up (finished sizes, seams not counted)"
            raise Problem("blocks", what, mend)


def _check_length(
    rows: Sequence[Sequence[Own]], size: tuple[Exact, Exact] | None, how: Conventions
) -> None:
    heights = [exact(row[0].cell.lies[1]) for row in rows]
    comes_to = sum(heights, start=exact(0))
    if size is None or comes_to == size[1]:
        return
    sums = " + ".join(how.show(each) for each in heights)
    length = how.show(size[1])
    if len(rows) == 1:
        what = f"the patches are {sums} high, and the block is {length}"
    else:
        what = (
            f"the rows are {_sum(sums, comes_to, how)} high, and the block is {length}"
        )
    mend = "make the heights add up (finished sizes, seams not counted)"
    raise Problem("blocks", what, mend)


def _width(row: Sequence[Own]) -> Exact:
    return sum((exact(own.cell.lies[0]) * own.times for own in row), start=exact(0))


def _times(own: Own, which: int, how: Conventions) -> str:
    one = how.show(own.cell.lies[which])
    if own.times == 1:
        return one
    return f"{own.times} x {one}"


def _sum(sums: str, comes_to: Number, how: Conventions) -> str:
    """``2 + 4 = 6``, or the bare number where nothing was added."""
    shown = how.show(comes_to)
    if sums == shown:
        return shown
    return f"{sums} = {shown}"
