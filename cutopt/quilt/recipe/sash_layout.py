"""Where sashes and cornerstones lie, in straight rows and on point, so that they can be drawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import sqrt

from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.block import Patch, box
from cutopt.quilt.recipe.fill import Share
from cutopt.quilt.recipe.setting import Setting
from cutopt.quilt.sashes import LONG, MIDDLE, OUTER, Labels, Sashes, labels
from cutopt.quilt.surds import Exact


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawn:
    """Sashes that are drawn: the keys of their rows by name, and their strips."""

    keys: Mapping[str, str]
    widths: tuple[float, ...]

    def sash(self, name: str, corners: tuple[Share, ...]) -> Iterator[Patch]:
        """A sash whose first corner and last are on one of its long sides; a pieced one in three strips."""
        if len(self.widths) == 1:
            yield Patch(row=self.keys[name], corners=corners)
            return
        low, far, beyond, high = corners
        whole = sum(self.widths)
        at = 0.0
        for width, part in zip(self.widths, (OUTER, MIDDLE, OUTER), strict=True):
            to = at + width / whole
            four = (
                _between(low, high, at),
                _between(far, beyond, at),
                _between(far, beyond, to),
                _between(low, high, to),
            )
            yield Patch(row=self.keys[f"{name} {part}"], corners=four)
            at = to


def _between(one: Share, other: Share, share: float) -> Share:
    return (
        one[0] + (other[0] - one[0]) * share,
        one[1] + (other[1] - one[1]) * share,
    )


def _drawn(sashes: Sashes, keys: Mapping[str, str], how: Conventions) -> _Drawn:
    return _Drawn(keys=keys, widths=tuple(float(w) for w in sashes.widths(how)))


def _level(x1: float, y1: float, x2: float, y2: float) -> tuple[Share, ...]:
    """Corners of a sash that lies level."""
    return (x1, y1), (x2, y1), (x2, y2), (x1, y2)


def _upright(x1: float, y1: float, x2: float, y2: float) -> tuple[Share, ...]:
    """Corners of a sash that stands upright."""
    return (x1, y1), (x1, y2), (x2, y2), (x2, y1)


def sash_patches(
    setting: Setting,
    keys: Mapping[str, str],
    cell: tuple[Exact, Exact],
    frame: tuple[float, float, float, float],
    how: Conventions,
) -> Iterator[Patch]:
    """Sashes and cornerstones between blocks in straight rows, and round them.

    Parameters
    ----------
    setting : places and sashing
    keys : rows of what is set, by name
    cell : finished width and length of a block, ticks
    frame : what is set, from its lower left corner to its upper right one, ticks
    how : the unit
    """
    sashes = setting.sashes
    if sashes is None:
        return
    drawn = _drawn(sashes, keys, how)
    grid = _Grid(
        across=setting.across,
        down=setting.down,
        block=(float(cell[0]), float(cell[1])),
        sash=sum(drawn.widths),
        frame=frame,
        framed=sashes.framed,
    )
    called = labels(sashes, cell)
    way = sashes.way(setting.across, setting.down)
    if way == "columns":
        yield from _between_columns(grid, drawn)
    elif way == "rows":
        yield from _between_rows(grid, drawn)
    elif sashes.cornerstones:
        yield from _with_cornerstones(grid, drawn, called)
    else:
        yield from _without(grid, drawn, called)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Grid:
    """Places of blocks and of the sashing between them."""

    across: int
    down: int
    block: tuple[float, float]
    sash: float
    frame: tuple[float, float, float, float]
    framed: bool

    @property
    def columns(self) -> range:
        """Numbers of the upright lines of sashing: n stands right of the block n, -1 left of the first."""
        if self.framed:
            return range(-1, self.across)
        return range(self.across - 1)

    @property
    def lines(self) -> range:
        """Numbers of the level lines of sashing, from below."""
        if self.framed:
            return range(-1, self.down)
        return range(self.down - 1)

    def x(self, column: int) -> float:
        """Left edge of a block."""
        outer = self.sash if self.framed else 0.0
        return self.frame[0] + outer + column * (self.block[0] + self.sash)

    def y(self, row: int) -> float:
        """Lower edge of a block, rows counted from below."""
        outer = self.sash if self.framed else 0.0
        return self.frame[1] + outer + row * (self.block[1] + self.sash)

    def at_edge(self, number: int, of: int) -> bool:
        """Whether a line of sashing belongs to the frame."""
        return self.framed and number in (-1, of - 1)


def _between_columns(grid: _Grid, drawn: _Drawn) -> Iterator[Patch]:
    for c in grid.columns:
        x = grid.x(c) + grid.block[0]
        side = _upright(x, grid.frame[1], x + grid.sash, grid.frame[3])
        yield from drawn.sash(LONG, side)


def _between_rows(grid: _Grid, drawn: _Drawn) -> Iterator[Patch]:
    for r in grid.lines:
        y = grid.y(r) + grid.block[1]
        line = _level(grid.frame[0], y, grid.frame[2], y + grid.sash)
        yield from drawn.sash(LONG, line)


def _with_cornerstones(grid: _Grid, drawn: _Drawn, called: Labels) -> Iterator[Patch]:
    wide, high = grid.block
    w = grid.sash
    for c in grid.columns:
        name = called.frame_upright if grid.at_edge(c, grid.across) else called.upright
        x = grid.x(c) + wide
        for r in range(grid.down):
            y = grid.y(r)
            yield from drawn.sash(name, _upright(x, y, x + w, y + high))
    for r in grid.lines:
        name = called.frame_level if grid.at_edge(r, grid.down) else called.level
        y = grid.y(r) + high
        for c in range(grid.across):
            x = grid.x(c)
            yield from drawn.sash(name, _level(x, y, x + wide, y + w))
        for c in grid.columns:
            x = grid.x(c) + wide
            yield Patch(row=drawn.keys["cornerstone"], corners=box(x, y, x + w, y + w))


def _without(grid: _Grid, drawn: _Drawn, called: Labels) -> Iterator[Patch]:
    wide, high = grid.block
    w = grid.sash
    for c in grid.columns:
        x = grid.x(c) + wide
        if grid.at_edge(c, grid.across):
            side = _upright(x, grid.frame[1], x + w, grid.frame[3])
            yield from drawn.sash(called.frame_upright, side)
            continue
        for r in range(grid.down):
            y = grid.y(r)
            yield from drawn.sash(called.upright, _upright(x, y, x + w, y + high))
    left = grid.x(0)
    right = grid.x(grid.across - 1) + wide
    for r in grid.lines:
        name = called.frame_level if grid.at_edge(r, grid.down) else called.level
        y = grid.y(r) + high
        yield from drawn.sash(name, _level(left, y, right, y + w))


def sashes_on_point(
    setting: Setting,
    keys: Mapping[str, str],
    side: float,
    corner: Share,
    how: Conventions,
) -> Iterator[Patch]:
    """Sashes round every block on point, cornerstones where they meet, and halves of these along the edge.

    Parameters
    ----------
    setting : places and sashing
    keys : rows of what is set, by name
    side : finished side of a block, ticks
    corner : lower left corner of what is set, ticks
    how : the unit
    """
    sashes = setting.sashes
    if sashes is None:
        return
    drawn = _drawn(sashes, keys, how)
    w = sum(drawn.widths)
    step = (side + w) / sqrt(2)
    n, m = setting.across, setting.down
    for i, j, slant in _edges(n, m):
        middle = (corner[0] + i * step / 2, corner[1] + j * step / 2)
        yield from drawn.sash("sash", _askew(middle, slant, w, side))
    half = w / sqrt(2)
    for i, j in _meetings(n, m):
        x, y = corner[0] + i * step, corner[1] + j * step
        around = [(x + half, y), (x, y + half), (x - half, y), (x, y - half)]
        outside = {(2 * n, -1): 0, (-1, 2 * m): 1, (0, -1): 2, (-1, 0): 3}
        cut = outside.get((i, -1), outside.get((-1, j)))
        row = "cornerstone"
        if cut is not None:
            del around[cut]
            row = "edge cornerstones"
        yield Patch(row=keys[row], corners=tuple(around))


def _edges(n: int, m: int) -> list[tuple[int, int, int]]:
    """Middle of each sash, in halves of half a diagonal, and which way it slants."""
    found = set()
    for i in range(1, 2 * n):
        for j in range(1, 2 * m):
            if (i + j) % 2:
                continue
            for dx, dy in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
                found.add((2 * i + dx, 2 * j + dy, dx * dy))
    return sorted(found)


def _meetings(n: int, m: int) -> list[tuple[int, int]]:
    """Where sashes meet, in half diagonals."""
    everywhere = [(i, j) for i in range(2 * n + 1) for j in range(2 * m + 1)]
    return [(i, j) for i, j in everywhere if (i + j) % 2]


def _askew(middle: Share, slant: int, wide: float, long: float) -> tuple[Share, ...]:
    """Corners of a sash on point: it lies across the way from the block to its neighbour."""
    x, y = middle
    a, b = wide / 2 / sqrt(2), long / 2 / sqrt(2)
    # across the sash, and along it
    ux, uy = a, a * slant
    vx, vy = b, -b * slant
    return (
        (x - ux - vx, y - uy - vy),
        (x - ux + vx, y - uy + vy),
        (x + ux + vx, y + uy + vy),
        (x + ux - vx, y + uy - vy),
    )
