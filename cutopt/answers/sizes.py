"""For whom and how a quilt is used: usual sizes with where they come from, and the cautions that belong to them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from cutopt import svg
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.recipe.setting import Setting
from cutopt.quilt.sizes import USES, QuiltUse, use
from cutopt.quilt.sizes_of_blocks import Grown, Limits, sizes_found
from cutopt.quilt.surds import ROOT2, Exact, exact
from cutopt.tables.recipe.beds_and_uses import use_named

_HEAD = ("for", "used", "width", "length", "where the sizes come from", "take care")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """Uses with their sizes and cautions, shown as a table in a notebook."""

    uses: tuple[QuiltUse, ...]
    how: Conventions

    @property
    def rows(self) -> tuple[tuple[str, ...], ...]:
        """The table as text."""
        return tuple(
            (
                each.name,
                each.what,
                *each.ranges(self.how),
                each.provenance,
                "; ".join(each.cautions),
            )
            for each in self.uses
        )

    def _repr_html_(self) -> str:
        said = "There is no agreed standard: one maker's twin is another's queen. Measure the bed, the chair, the person."
        return svg.sheet(
            "Usual sizes", svg.sentences([said]), svg.table(_HEAD, self.rows)
        )


def sizes_for(name: str | None = None, how: Conventions = DEFAULT) -> Sizes:
    """Usual sizes for one use ("lap", "cot", "chair with wheels", "ward", ...), or for all.

    Raises
    ------
    Problem
        Where the use is not known.
    """
    if name is None:
        return Sizes(uses=USES, how=how)
    return Sizes(uses=(use(use_named(name, how).name),), how=how)


@dataclass(frozen=True, slots=True, kw_only=True)
class Largest:
    """Sizes that a number of blocks gives, the largest first."""

    found: tuple[Grown, ...]
    how: Conventions

    @property
    def best(self) -> Grown | None:
        """As large as it goes; None where nothing lies within the limits."""
        if self.found:
            return self.found[0]
        return None

    @property
    def rows(self) -> tuple[tuple[str, ...], ...]:
        """The table as text, one size a row."""
        return tuple(
            (
                self.how.size(each.width, each.length, self.how.near),
                f"{each.across} x {each.down}",
                str(each.blocks),
                str(each.left),
                self._needs(each.row_more, each.across, each.down + 1),
                self._needs(each.column_more, each.across + 1, each.down),
                f"frees {each.row_less}",
                f"frees {each.column_less}",
            )
            for each in self.found
        )

    def _needs(self, more: int, across: int, down: int) -> str:
        """What so many across and down would need beyond the blocks to spare."""
        if more:
            return f"needs {more} more"
        there = any((each.across, each.down) == (across, down) for each in self.found)
        if there:
            return f"{across} x {down}, in this table"
        return "could be had, but for the limits"

    def _repr_html_(self) -> str:
        head = (
            "finished",
            "blocks",
            "used",
            "left",
            "one row more",
            "one column more",
            "one row less",
            "one column less",
        )
        said = "No whole number of blocks comes within these limits: widen them."
        if self.best is not None:
            said = f"{self.best.why}."
        return svg.sheet(
            "As large as it goes", svg.sentences([said]), svg.table(head, self.rows)
        )


def largest_quilt(
    block: Length | tuple[Length, Length],
    blocks: int,
    least: tuple[Length, Length] = ("0", "0"),
    most: tuple[Length, Length] | None = None,
    shape: tuple[Fraction, Fraction] = (Fraction(1), Fraction(4, 3)),
    border: Length = "0",
    sash: Length = "0",
    how: Conventions = DEFAULT,
    on_point: bool = False,
) -> Largest:
    """The largest quilt that so many blocks give, with the next ones: a size found rather than set.

    Parameters
    ----------
    block : finished size, one length for a square
    least, most : (width, length)
        No narrower and no shorter, no wider and no longer than this.
    shape : length / width, at least and at most
        Between square and 4:3 unless told.
    border, sash : finished widths on each side, and between the blocks
    on_point : the blocks stand on a corner
    """
    if isinstance(block, tuple):
        pair = block
    else:
        pair = (block, block)
    limits = Limits(
        least=(_ticks(least[0], how), _ticks(least[1], how)),
        most=None if most is None else (_ticks(most[0], how), _ticks(most[1], how)),
        shape=shape,
    )
    return Largest(
        found=sizes_found(pair, blocks, limits, border, sash, how, on_point), how=how
    )


def more_or_less(quilt: Quilt) -> tuple[str, ...]:
    """What one row or column more needs and one less frees, and the finished size that it gives.

    Of an on-point setting a row more takes the blocks between it and the last as well.
    """
    setting = quilt.setting
    size = quilt.finished
    if setting is None or size is None:
        return ()
    told = []
    for word, n, other, at in (
        ("row", setting.down, setting.across, 1),
        ("column", setting.across, setting.down, 0),
    ):
        step = _step(quilt, setting, at)
        if setting.on_point:
            takes = 2 * other - 1
        else:
            takes = other
        changed = [list(size), list(size)]
        changed[0][at], changed[1][at] = size[at] + step, size[at] - step
        larger, smaller = (
            quilt.how.size(wide, long, quilt.how.near) for wide, long in changed
        )
        needs = _needs(takes, quilt.unplaced)
        if n > 1:
            less = f"; one {word} less frees {takes}, {smaller}"
        else:
            less = ""
        told.append(f"one {word} more needs {needs}, {larger} finished{less}")
    return tuple(told)


def _needs(takes: int, there: int) -> str:
    """How many blocks a row more takes, and how many that are asked for have no place now."""
    blocks = f"{takes} more block{'s' * (takes > 1)}"
    if not there:
        return blocks
    if there == 1:
        have = "has"
    else:
        have = "have"
    return f"{blocks} ({there} that you asked for {have} no place now)"


def _step(quilt: Quilt, setting: Setting, at: int) -> Exact:
    """How much a row (1) or a column (0) adds."""
    block = min(
        (each.size for each in quilt.blocks if each.patches),
        key=lambda size: (size[0] * size[1], size[0]),
    )
    step = block[at] + setting.sash_between(quilt.how)[at]
    if setting.on_point:
        return step * ROOT2
    return step


def _ticks(length: Length, how: Conventions) -> int:
    return exact(how.read(length)).__floor__()
