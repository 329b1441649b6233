"""Which sizes a number of blocks gives within limits: so many across and down, straight or on point."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from cutopt.errors import Problem
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import ROOT2, ZERO, Exact


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Between what a size is looked for; lengths in ticks, `shape` is length / width at least and at most."""

    least: tuple[int, int] = (0, 0)
    most: tuple[int, int] | None = None
    shape: tuple[Fraction, Fraction] = (Fraction(1), Fraction(4, 3))

    def __post_init__(self) -> None:
        if not 0 < self.shape[0] <= self.shape[1]:
            raise Problem(
                "shape", "the least is above the most", "write it like square to 4:3"
            )

    def allow(self, width: Exact, length: Exact) -> bool:
        """Whether a size lies within."""
        if width < self.least[0] or length < self.least[1]:
            return False
        if self.most is not None and (width > self.most[0] or length > self.most[1]):
            return False
        return width * self.shape[0] <= length <= width * self.shape[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grown:
    """A size that whole blocks give.

    `left` are blocks to spare; `row_more` and `column_more` how many more blocks one row or column more would
    take, beyond those to spare (0: it could be had, but for the limits); `row_less` what one row less frees.
    """

    across: int
    down: int
    width: Exact
    length: Exact
    blocks: int
    left: int
    row_more: int
    column_more: int
    row_less: int
    column_less: int
    why: str


def sizes_found(
    block: tuple[Length, Length],
    blocks: int,
    limits: Limits,
    around: Length | tuple[Length, Length] = "0",
    sash: Length = "0",
    how: Conventions = DEFAULT,
    on_point: bool = False,
) -> tuple[Grown, ...]:
    """Every size that `blocks` blocks of a finished size give within limits, the largest first.

    Parameters
    ----------
    around : length
        What borders add on each side, or at the sides and at top and bottom; `sash` stands between the blocks.
    on_point : bool
        The blocks, which have to be square, stand on a corner; sashing then lies round every one.

    Raises
    ------
    Problem
        Where the block has no size, or is set on point and not square.

    Notes
    -----
    Width n(b + w) - w + 2 borders, of nm blocks; on point n (b + w) √2 + 2 borders, of nm + (n - 1)(m - 1) (arithmetic
    identities). Of equal areas the one nearer to a square comes first.
    """
    bw = how.read(block[0], "block")
    bl = how.read(block[1], "block")
    pair = around if isinstance(around, tuple) else (around, around)
    edge = (how.read(pair[0], "around"), how.read(pair[1], "around"))
    w = how.read(sash, "sash")
    if bw <= 0 or bl <= 0:
        raise Problem(
            "block", "the block has no size", "write its finished size, such as 6"
        )
    if on_point and bw != bl:
        raise Problem(
            "block", "only square blocks are set on point", "leave out on point"
        )
    found = list(_within(bw, bl, blocks, limits, edge, w, how, on_point))
    return tuple(
        sorted(
            found, key=lambda g: (-float(g.width * g.length), abs(g.across - g.down))
        )
    )


def _within(
    bw: Exact,
    bl: Exact,
    blocks: int,
    limits: Limits,
    edge: tuple[Exact, Exact],
    w: Exact,
    how: Conventions,
    on_point: bool,
) -> Iterable[Grown]:
    wide, long = bw + w, bl + w
    less = w
    if on_point:
        wide, long = wide * ROOT2, long * ROOT2
        less = ZERO
    for n in range(1, blocks + 1):
        for m in range(1, blocks // n + 1):
            width = n * wide - less + 2 * edge[0]
            length = m * long - less + 2 * edge[1]
            if on_point:
                between = (n - 1) * (m - 1)
            else:
                between = 0
            left = blocks - n * m - between
            if left >= 0 and limits.allow(width, length):
                row, column = (2 * n - 1, 2 * m - 1) if on_point else (n, m)
                told = f"{n} x {m} blocks of {how.size(bw, bl)}"
                told += f" on point and {between} between them" if on_point else ""
                told += f", sashing {how.show(w)}" if w else ""
                told += _told_borders(edge, how)
                yield Grown(
                    across=n,
                    down=m,
                    width=width,
                    length=length,
                    blocks=n * m + between,
                    left=left,
                    row_more=max(0, row - left),
                    column_more=max(0, column - left),
                    row_less=row,
                    column_less=column,
                    why=f"{told}: {how.size(width, length, how.near)}",
                )


def _told_borders(edge: tuple[Exact, Exact], how: Conventions) -> str:
    """What borders add, where they add anything."""
    if not any(edge):
        return ""
    if edge[0] == edge[1]:
        return f", border {how.show(edge[0])}"
    sides, ends = (how.show(each) for each in edge)
    return f", border {sides} at the sides and {ends} at top and bottom"


def largest(
    block: tuple[Length, Length],
    blocks: int,
    limits: Limits,
    around: Length | tuple[Length, Length] = "0",
    sash: Length = "0",
    how: Conventions = DEFAULT,
    on_point: bool = False,
) -> Grown:
    """As large as it goes.

    Parameters
    ----------
    block : finished width and length of a block
    blocks : how many there are
    limits : the least and the most each way
    around : what borders add on each side, or at the sides and at top and bottom
    sash : finished width of what stands between blocks
    how : the unit
    on_point : whether the blocks stand on a corner

    Raises
    ------
    Problem
        Where no whole number of blocks comes within the limits.
    """
    found = sizes_found(block, blocks, limits, around, sash, how, on_point)
    if not found:
        raise Problem(
            "size",
            f"{blocks} blocks give no size within these limits",
            "widen them, or make more blocks",
        )
    return found[0]
