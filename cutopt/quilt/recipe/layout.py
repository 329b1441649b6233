"""Where each patch of a quilt lies, so that it can be drawn: blocks, what is set between them, borders."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import sqrt
from typing import TypeAlias

from cutopt.quilt import block_sums
from cutopt.quilt.recipe import dealt
from cutopt.quilt.recipe.block import Block, Patch, box
from cutopt.quilt.recipe.dealt import arranged, check_places, span
from cutopt.quilt.recipe.fill import Share
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.recipe.setting import Border, Setting
from cutopt.quilt.surds import Exact
from cutopt.quilt.wanted_parts import Made

Frame: TypeAlias = tuple[float, float, float, float]
# a place of a quilt, or a size, ticks
At: TypeAlias = tuple[float, float]


def patches_of(quilt: Quilt) -> tuple[Patch, ...]:
    """Every patch of a top: blocks, what is set between them, and borders; none where nothing is set.

    Corners are in ticks from the lower left corner of the finished quilt.
    """
    if quilt.setting is None or quilt.inner is None:
        return ()
    return tuple(_patches(quilt, quilt.setting, quilt.inner))


def _patches(quilt: Quilt, setting: Setting, inner: Made) -> Iterator[Patch]:
    edge = sum(float(border.width) for border in quilt.borders)
    shown = [block for block in quilt.blocks if block.patches]
    cell = check_places(shown, setting, quilt.how)
    frame = (edge, edge, edge + float(inner.width), edge + float(inner.length))
    if setting.on_point:
        yield from _on_point(quilt, setting, float(cell[0]), frame)
    else:
        yield from _straight(quilt, setting, cell, frame)
    yield from _border_patches(quilt.borders, frame)


def _straight(
    quilt: Quilt, setting: Setting, cell: tuple[Exact, Exact], frame: Frame
) -> Iterator[Patch]:
    bw = float(cell[0])
    bl = float(cell[1])
    if setting.sashing != "none":
        w = float(quilt.how.read(setting.sash))
    else:
        w = 0.0
    if setting.sashing == "framed":
        outer = w
    else:
        outer = 0.0
    if w:
        yield from _sashes(quilt, setting, (bw, bl), w, frame)
    for block, c, r in arranged(quilt.blocks, setting, cell):
        wide, high = span(block, cell) or (1, 1)
        x = frame[0] + outer + c * (bw + w)
        y = frame[3] - outer - r * (bl + w) - high * bl
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


def _sashes(
    quilt: Quilt, setting: Setting, block: At, w: float, frame: Frame
) -> Iterator[Patch]:
    """Sashes and cornerstones under the names that :func:`cutopt.quilt.block_settings.straight` gives them."""
    (bw, bl), framed = block, setting.sashing == "framed"
    names = {row.name: row.key for row in (quilt.inner.wanted if quilt.inner else ())}
    if framed:
        outer = w
    else:
        outer = 0.0
    x0 = frame[0] + outer
    y0 = frame[1] + outer
    columns = range(
        -1 if framed else 0, setting.across if framed else setting.across - 1
    )
    lines = range(-1 if framed else 0, setting.down if framed else setting.down - 1)
    upright = (
        names.get("upright sash") or names.get("sash") or names.get("short sash") or ""
    )
    level = names.get("level sash") or names.get("sash") or names.get("long sash") or ""
    for c in columns:
        x = x0 + c * (bw + w) + bw
        if not setting.cornerstones and framed and c in (-1, setting.across - 1):
            yield Patch(
                row=names.get("side sash", upright),
                corners=box(x, frame[1], x + w, frame[3]),
            )
            continue
        for r in range(setting.down):
            y = y0 + r * (bl + w)
            yield Patch(row=upright, corners=box(x, y, x + w, y + bl))
    for r in lines:
        y = y0 + r * (bl + w) + bl
        if not setting.cornerstones:
            yield Patch(
                row=level, corners=box(x0, y, x0 + setting.across * (bw + w) - w, y + w)
            )
            continue
        for c in range(setting.across):
            yield Patch(
                row=level,
                corners=box(x0 + c * (bw + w), y, x0 + c * (bw + w) + bw, y + w),
            )
        for c in columns:
            x = x0 + c * (bw + w) + bw
            yield Patch(
                row=names.get("cornerstone", level), corners=box(x, y, x + w, y + w)
            )


def _on_point(
    quilt: Quilt, setting: Setting, side: float, frame: Frame
) -> Iterator[Patch]:
    """Blocks on their corners, side and corner triangles, and the strip that floating blocks leave."""
    half = side / sqrt(2)
    n = setting.across
    m = setting.down
    fx = (frame[2] - frame[0] - 2 * half * n) / 2
    fy = (frame[3] - frame[1] - 2 * half * m) / 2
    x0 = frame[0] + fx
    y0 = frame[1] + fy
    names = {row.name: row.key for row in (quilt.inner.wanted if quilt.inner else ())}
    triangle = names.get("side triangles", "")
    corner = names.get("corner triangles", "")
    if quilt.how.float_by:
        yield Patch(row=triangle or corner, corners=box(*frame))
    outer = [
        (x0 + half * (2 * c + 1), y0 + half * (2 * r + 1))
        for r in reversed(range(m))
        for c in range(n)
    ]
    inner = [
        (x0 + half * (2 * c), y0 + half * 2 * r)
        for r in reversed(range(1, m))
        for c in range(1, n)
    ]
    around, within = dealt.on_point(
        [block for block in quilt.blocks if block.patches], len(outer), len(inner)
    )
    for block, at in zip(around, outer, strict=True):
        yield from _askew(block, at, half, 0)
    for block, at in zip(within, inner, strict=True):
        # the places along the edges and those between them are the fields of a board
        yield from _askew(block, at, half, int(block.turns == "by turns"))
    yield from _triangles((x0, y0), (n, m), half, triangle, corner)


def _triangles(
    at: At, places: tuple[int, int], half: float, side: str, corner: str
) -> Iterator[Patch]:
    """Side and corner triangles of blocks that stand on a corner, half a diagonal wide."""
    x0, y0 = at
    n, m = places
    x1 = x0 + 2 * half * n
    y1 = y0 + 2 * half * m
    for c in range(1, n):
        x = x0 + 2 * half * c
        for y, inward in ((y0, half), (y1, -half)):
            yield Patch(
                row=side, corners=((x - half, y), (x + half, y), (x, y + inward))
            )
    for r in range(1, m):
        y = y0 + 2 * half * r
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


def _border_patches(borders: Sequence[Border], frame: Frame) -> Iterator[Patch]:
    x1, y1, x2, y2 = frame
    for border in borders:
        w = float(border.width)
        rows = {row.name: row.key for row in border.made.wanted}
        side = rows[f"{border.name} side"]
        end = rows[f"{border.name} end"]
        long_sides = border.corners == "ends first"
        long_ends = border.corners == "sides first"
        if border.corners == "mitred":
            a = (x1, y1)
            b = (x2, y1)
            c = (x2, y2)
            d = (x1, y2)
            e = (x1 - w, y1 - w)
            f = (x2 + w, y1 - w)
            g = (x2 + w, y2 + w)
            h = (x1 - w, y2 + w)
            for row, corners in (
                (side, (a, d, h, e)),
                (side, (b, c, g, f)),
                (end, (a, b, f, e)),
                (end, (d, c, g, h)),
            ):
                yield Patch(row=row, corners=corners)
        else:
            if long_sides:
                more_y = w
            else:
                more_y = 0.0
            if long_ends:
                more_x = w
            else:
                more_x = 0.0
            yield Patch(row=side, corners=box(x1 - w, y1 - more_y, x1, y2 + more_y))
            yield Patch(row=side, corners=box(x2, y1 - more_y, x2 + w, y2 + more_y))
            yield Patch(row=end, corners=box(x1 - more_x, y1 - w, x2 + more_x, y1))
            yield Patch(row=end, corners=box(x1 - more_x, y2, x2 + more_x, y2 + w))
        if border.corners == "corner squares":
            corner = rows.get(f"{border.name} corner", side)
            for x, y in ((x1 - w, y1 - w), (x2, y1 - w), (x1 - w, y2), (x2, y2)):
                yield Patch(row=corner, corners=box(x, y, x + w, y + w))
        x1 = x1 - w
        y1 = y1 - w
        x2 = x2 + w
        y2 = y2 + w
