"""Where each patch of a quilt lies, so that it can be drawn: blocks, what is set between them, borders."""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt
from typing import Final, TypeAlias

from cutopt.quilt import block_sums
from cutopt.quilt.recipe import dealt
from cutopt.quilt.recipe.block import Block, Patch, box
from cutopt.quilt.recipe.border_layout import border_patches
from cutopt.quilt.recipe.dealt import arranged, check_places, span
from cutopt.quilt.recipe.fill import Share
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.recipe.sash_layout import sash_patches, sashes_on_point
from cutopt.quilt.recipe.setting import Setting, all_widths
from cutopt.quilt.surds import Exact

Frame: TypeAlias = tuple[float, float, float, float]
# a place of a quilt, or a size, ticks
At: TypeAlias = tuple[float, float]
# lower left corner; blocks across and down; half the diagonal of a place, and of a block
Places: TypeAlias = tuple[At, tuple[int, int], tuple[float, float]]
# what is there already: the row of a measured top with borders round it
MEASURED: Final = ""


def patches_of(quilt: Quilt) -> tuple[Patch, ...]:
    """Every patch of a top: blocks, what is set between them, and borders; none where nothing is set.

    Corners are in ticks from the lower left corner of the finished quilt.
    """
    if quilt.inner is None:
        return ()
    sides, ends = (float(width) for width in all_widths(quilt.borders))
    wide, high = float(quilt.inner.width), float(quilt.inner.length)
    frame = (sides, ends, sides + wide, ends + high)
    if quilt.setting is not None:
        inside = _set(quilt, quilt.setting, frame)
    elif quilt.borders:
        inside = iter([Patch(row=MEASURED, corners=box(*frame))])
    else:
        return ()
    return (*inside, *border_patches(quilt.borders, frame))


def _set(quilt: Quilt, setting: Setting, frame: Frame) -> Iterator[Patch]:
    shown = [block for block in quilt.blocks if block.patches]
    cell = check_places(shown, setting, quilt.how)
    if setting.on_point:
        yield from _on_point(quilt, setting, float(cell[0]), frame)
    else:
        yield from _straight(quilt, setting, cell, frame)


def _straight(
    quilt: Quilt, setting: Setting, cell: tuple[Exact, Exact], frame: Frame
) -> Iterator[Patch]:
    bw = float(cell[0])
    bl = float(cell[1])
    beside, below = (float(each) for each in setting.sash_between(quilt.how))
    if setting.framed:
        outer = beside
    else:
        outer = 0.0
    yield from sash_patches(setting, _keys(quilt), cell, frame, quilt.how)
    for block, c, r in arranged(quilt.blocks, setting, cell):
        wide, high = span(block, cell) or (1, 1)
        x = frame[0] + outer + c * (bw + beside)
        y = frame[3] - outer - r * (bl + below) - high * bl
        yield from _placed(
            block, (x, y, wide * bw, high * bl), _turn(block, setting, c, r)
        )


def _turn(block: Block, setting: Setting, c: int, r: int) -> int:
    if block.turns is None:
        return 0
    return block_sums.turns(block.turns, setting.down, setting.across)[r][c]


def _placed(block: Block, at: Frame, turn: int) -> Iterator[Patch]:
    """The patches of a block at x, y, width, height, turned clockwise by quarters."""
    x, y, wide, high = at
    for patch in block.patches:
        turned = [_quarters_on(corner, turn) for corner in patch.corners]
        corners = tuple((x + px * wide, y + py * high) for px, py in turned)
        yield Patch(row=patch.row, corners=corners)


def _askew(block: Block, at: At, half: float, turn: int) -> Iterator[Patch]:
    """The patches of a block on its corner round a point, half a diagonal wide, turned clockwise by quarters."""
    cx, cy = at
    for patch in block.patches:
        turned = [_quarters_on(corner, turn) for corner in patch.corners]
        corners = tuple(
            (cx + (px - py) * half, cy + (px + py - 1) * half) for px, py in turned
        )
        yield Patch(row=patch.row, corners=corners)


def _quarters_on(corner: Share, turn: int) -> Share:
    px, py = corner
    for _ in range(turn):
        px, py = py, 1 - px
    return px, py


def _on_point(
    quilt: Quilt, setting: Setting, side: float, frame: Frame
) -> Iterator[Patch]:
    """Blocks on their corners, what is between them, side and corner triangles, and what floating blocks leave."""
    half = side / sqrt(2)
    step = (side + float(setting.sash(quilt.how))) / sqrt(2)
    n = setting.across
    m = setting.down
    x0 = frame[0] + (frame[2] - frame[0] - 2 * step * n) / 2
    y0 = frame[1] + (frame[3] - frame[1] - 2 * step * m) / 2
    keys = _keys(quilt)
    triangle = keys.get("side triangles", "")
    corner = keys.get("corner triangles", "")
    if quilt.how.float_by:
        yield Patch(row=triangle or corner, corners=box(*frame))
    places = (x0, y0), (n, m), (step, half)
    for block, at, turn in _standing(quilt, places):
        yield from _askew(block, at, half, turn)
    yield from sashes_on_point(setting, keys, side, (x0, y0), quilt.how)
    yield from _triangles(places, triangle, corner)


def _keys(quilt: Quilt) -> dict[str, str]:
    """Rows of what is set between blocks, by name."""
    if quilt.inner is None:
        return {}
    return {row.name: row.key for row in quilt.inner.wanted}


def _standing(quilt: Quilt, places: Places) -> Iterator[tuple[Block, At, int]]:
    """Each block that stands on a corner, with its middle and how it is turned.

    The places along the edges and those between them are the fields of a board.
    """
    (x0, y0), (n, m), (step, _) = places
    outer = [
        (x0 + step * (2 * c + 1), y0 + step * (2 * r + 1))
        for r in reversed(range(m))
        for c in range(n)
    ]
    inner = [
        (x0 + step * (2 * c), y0 + step * 2 * r)
        for r in reversed(range(1, m))
        for c in range(1, n)
    ]
    around, within = dealt.on_point(
        [block for block in quilt.blocks if block.patches], len(outer), len(inner)
    )
    for block, at in zip(around, outer, strict=True):
        yield block, at, 0
    for block, at in zip(within, inner, strict=True):
        yield block, at, int(block.turns == "by turns")


def _triangles(places: Places, side: str, corner: str) -> Iterator[Patch]:
    """Side and corner triangles of blocks that stand on a corner."""
    (x0, y0), (n, m), (step, half) = places
    x1 = x0 + 2 * step * n
    y1 = y0 + 2 * step * m
    for c in range(1, n):
        x = x0 + 2 * step * c
        for y, inward in ((y0, half), (y1, -half)):
            yield Patch(
                row=side, corners=((x - half, y), (x + half, y), (x, y + inward))
            )
    for r in range(1, m):
        y = y0 + 2 * step * r
        for x, inward in ((x0, half), (x1, -half)):
            yield Patch(
                row=side, corners=((x, y - half), (x, y + half), (x + inward, y))
            )
    for x, y, dx, dy in (
        (x0, y0, half, half),
        (x1, y0, -half, half),
        (x0, y1, half, -half),
        (x1, y1, -half, -half),
    ):
        yield Patch(row=corner, corners=((x, y), (x + dx, y), (x, y + dy)))
