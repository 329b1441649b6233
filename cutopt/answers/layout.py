"""Where each patch of a quilt lies, so that it can be drawn: blocks, what is set between them, borders."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import sqrt
from typing import TypeAlias

from cutopt.answers.blocks import Block, Patch, Share, box
from cutopt.answers.recipe import Border, Quilt, Setting
from cutopt.errors import Problem
from cutopt.quilt import blocks as block_sums
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.exact import Exact

Frame: TypeAlias = tuple[float, float, float, float]


def check_places(blocks: Sequence[Block], setting: Setting, how: Conventions) -> tuple[tuple[Exact, Exact], list[str]]:
    """The size of a place, and notes; a problem where blocks and places do not agree."""
    shown = [block for block in blocks if block.patches]
    if not shown:
        raise Problem("setting", "there are no blocks to set", "write the blocks under blocks = [...]")
    cell = min((block.size for block in shown), key=lambda size: (size[0] * size[1], size[0]))
    needed = 0
    for block in shown:
        spans = span(block, cell)
        if spans is None or (spans != (1, 1) and (setting.on_point or setting.sashing != "none")):
            what = f"{block.name} is {how.size(*block.size)}, and a place is {how.size(*cell)}"
            raise Problem("setting", what, "make all blocks of one size, or bring them up to it with strips")
        needed += block.count * spans[0] * spans[1]
    if setting.on_point and cell[0] != cell[1]:
        raise Problem("setting", f"{how.size(*cell)} is not square", "only square blocks are set on point")
    if needed < setting.places:
        what = f"{setting.places} places and blocks for {needed} of them"
        raise Problem("setting", what, f"make {setting.places - needed} more, or set fewer")
    more = needed - setting.places
    return cell, [f"{more} blocks more than there are places"] if more else []


def span(block: Block, cell: tuple[Exact, Exact]) -> tuple[int, int] | None:
    """How many places across and down a block takes; None where it is no whole number of them."""
    found = []
    for size, one in zip(block.size, cell, strict=True):
        n = (size / one).__floor__()
        if n < 1 or one * n != size:
            return None
        found.append(n)
    return found[0], found[1]


def arranged(blocks: Sequence[Block], setting: Setting, cell: tuple[Exact, Exact]) -> list[tuple[Block, int, int]]:
    """A place (column, row from the top) for each block: a suggestion, each kind spread evenly over the quilt."""
    shown = [block for block in blocks if block.patches]
    free = {(c, r) for r in range(setting.down) for c in range(setting.across)}
    placed: list[tuple[Block, int, int]] = []
    for block in sorted(shown, key=lambda b: -_area(span(b, cell))):
        wide, high = span(block, cell) or (1, 1)
        if (wide, high) == (1, 1):
            continue
        for c, r in _spread(block.count, setting, wide, high, free):
            placed.append((block, c, r))
            free -= {(c + i, r + j) for i in range(wide) for j in range(high)}
    single = [block for block in shown if span(block, cell) == (1, 1)]
    return placed + _scattered(single, sorted((r, c) for c, r in free))


def _scattered(kinds: Sequence[Block], places: Sequence[tuple[int, int]]) -> list[tuple[Block, int, int]]:
    """Each kind as often as it is there, evenly, and beside its like only where there is nothing else."""
    left = {i: block.count for i, block in enumerate(kinds)}
    owed = dict.fromkeys(left, 0.0)
    total = sum(left.values()) or 1
    lies: dict[tuple[int, int], int] = {}

    def wish(i: int, r: int, c: int) -> float:
        beside = (lies.get((r, c - 1)) == i) + (lies.get((r - 1, c)) == i)
        askew = (lies.get((r - 1, c - 1)) == i) + (lies.get((r - 1, c + 1)) == i)
        return owed[i] - 2 * beside - 0.3 * askew

    for r, c in places:
        for i in owed:
            owed[i] += kinds[i].count / total
        able = [i for i in left if left[i]]
        if not able:
            break
        best = max(able, key=lambda i: wish(i, r, c))
        owed[best] -= 1
        left[best] -= 1
        lies[r, c] = best
    return [(kinds[i], c, r) for (r, c), i in lies.items()]


def _area(spans: tuple[int, int] | None) -> int:
    return spans[0] * spans[1] if spans else 0


def _spread(count: int, setting: Setting, wide: int, high: int, free: set[tuple[int, int]]) -> list[tuple[int, int]]:
    """Places for blocks larger than one place, far from each other."""
    able = [(c, r) for c, r in sorted(free) if all((c + i, r + j) in free for i in range(wide) for j in range(high))]
    chosen: list[tuple[int, int]] = []
    corners = ((0.0, 0.0), (float(setting.across), float(setting.down)))
    while able and len(chosen) < count:
        rest = [p for p in able if not any(abs(p[0] - q[0]) < wide and abs(p[1] - q[1]) < high for q in chosen)]
        if not rest:
            break
        seen = [(float(c), float(r)) for c, r in chosen] or list(corners)
        best = max(rest, key=lambda p: min((p[0] - x) ** 2 + (p[1] - y) ** 2 for x, y in seen))
        chosen.append(best)
    return chosen


def _by_turns(kinds: Sequence[Block], places: int) -> list[Block]:
    """Kinds in turn, each as evenly as its number allows."""
    left = {i: block.count for i, block in enumerate(kinds)}
    owed = dict.fromkeys(left, 0.0)
    total = sum(left.values()) or 1
    out: list[Block] = []
    while len(out) < places and any(left.values()):
        for i in owed:
            owed[i] += kinds[i].count / total
        best = max((i for i in left if left[i]), key=lambda i: owed[i])
        owed[best] -= 1
        left[best] -= 1
        out.append(kinds[best])
    return out


def patches_of(quilt: Quilt) -> Iterator[Patch]:
    """Blocks, what is set between them, and borders."""
    setting, inner = quilt.setting, quilt.inner
    assert setting is not None
    assert inner is not None
    edge = sum(float(border.width) for border in quilt.borders)
    shown = [block for block in quilt.blocks if block.patches]
    cell, _ = check_places(shown, setting, quilt.how)
    frame = (edge, edge, edge + float(inner.width), edge + float(inner.length))
    if setting.on_point:
        yield from _on_point(quilt, setting, float(cell[0]), frame)
    else:
        yield from _straight(quilt, setting, cell, frame)
    yield from _border_patches(quilt.borders, frame)


def _straight(quilt: Quilt, setting: Setting, cell: tuple[Exact, Exact], frame: Frame) -> Iterator[Patch]:
    bw, bl = float(cell[0]), float(cell[1])
    w = float(quilt.how.read(setting.sash)) if setting.sashing != "none" else 0.0
    outer = w if setting.sashing == "framed" else 0.0
    if w:
        yield from _sashes(quilt, setting, (bw, bl), w, frame)
    for block, c, r in arranged(quilt.blocks, setting, cell):
        wide, high = span(block, cell) or (1, 1)
        x = frame[0] + outer + c * (bw + w)
        y = frame[3] - outer - r * (bl + w) - high * bl
        yield from _placed(block, (x, y, wide * bw, high * bl), _turn(block, setting, c, r))


def _turn(block: Block, setting: Setting, c: int, r: int) -> int:
    if block.turns is None:
        return 0
    return block_sums.turns(block.turns, setting.down, setting.across)[r][c]


def _placed(block: Block, at: Frame, turn: int) -> Iterator[Patch]:
    """The patches of a block at x, y, width, height, turned clockwise by quarters."""
    x, y, wide, high = at
    for patch in block.patches:
        corners = []
        for px, py in patch.corners:
            for _ in range(turn):
                px, py = py, 1 - px
            corners.append((x + px * wide, y + py * high))
        yield Patch(row=patch.row, corners=tuple(corners))


def _sashes(quilt: Quilt, setting: Setting, block: Share, w: float, frame: Frame) -> Iterator[Patch]:
    """Sashes and cornerstones under the names that :func:`cutopt.quilt.settings.straight` gives them."""
    (bw, bl), framed = block, setting.sashing == "framed"
    names = {row.name: row.key for row in (quilt.inner.wanted if quilt.inner else ())}
    outer = w if framed else 0.0
    x0, y0 = frame[0] + outer, frame[1] + outer
    columns = range(-1 if framed else 0, setting.across if framed else setting.across - 1)
    lines = range(-1 if framed else 0, setting.down if framed else setting.down - 1)
    upright = names.get("upright sash") or names.get("sash") or names.get("short sash") or ""
    level = names.get("level sash") or names.get("sash") or names.get("long sash") or ""
    for c in columns:
        x = x0 + c * (bw + w) + bw
        if not setting.cornerstones and framed and c in (-1, setting.across - 1):
            yield Patch(row=names.get("side sash", upright), corners=box(x, frame[1], x + w, frame[3]))
            continue
        for r in range(setting.down):
            y = y0 + r * (bl + w)
            yield Patch(row=upright, corners=box(x, y, x + w, y + bl))
    for r in lines:
        y = y0 + r * (bl + w) + bl
        if not setting.cornerstones:
            yield Patch(row=level, corners=box(x0, y, x0 + setting.across * (bw + w) - w, y + w))
            continue
        for c in range(setting.across):
            yield Patch(row=level, corners=box(x0 + c * (bw + w), y, x0 + c * (bw + w) + bw, y + w))
        for c in columns:
            x = x0 + c * (bw + w) + bw
            yield Patch(row=names.get("cornerstone", level), corners=box(x, y, x + w, y + w))


def _on_point(quilt: Quilt, setting: Setting, side: float, frame: Frame) -> Iterator[Patch]:
    """Blocks on their corners, side and corner triangles, and the strip that floating blocks leave."""
    half = side / sqrt(2)
    n, m = setting.across, setting.down
    fx, fy = (frame[2] - frame[0] - 2 * half * n) / 2, (frame[3] - frame[1] - 2 * half * m) / 2
    x0, y0 = frame[0] + fx, frame[1] + fy
    names = {row.name: row.key for row in (quilt.inner.wanted if quilt.inner else ())}
    triangle, corner = names.get("side triangles", ""), names.get("corner triangles", "")
    if quilt.how.float_by:
        yield Patch(row=triangle or corner, corners=box(*frame))
    centres = [(x0 + half * (2 * c + 1), y0 + half * (2 * r + 1)) for r in range(m) for c in range(n)]
    centres += [(x0 + half * 2 * (c + 1), y0 + half * 2 * (r + 1)) for r in range(m - 1) for c in range(n - 1)]
    shown = [block for block in quilt.blocks if block.patches]
    for (cx, cy), block in zip(
        sorted(centres, key=lambda p: (-p[1], p[0])), _by_turns(shown, len(centres)), strict=False
    ):
        for patch in block.patches:
            moved = tuple((cx + (px - py) * half, cy + (px + py - 1) * half) for px, py in patch.corners)
            yield Patch(row=patch.row, corners=moved)
    x1, y1 = x0 + 2 * half * n, y0 + 2 * half * m
    for c in range(1, n):
        x = x0 + 2 * half * c
        yield Patch(row=triangle, corners=((x - half, y0), (x + half, y0), (x, y0 + half)))
        yield Patch(row=triangle, corners=((x - half, y1), (x + half, y1), (x, y1 - half)))
    for r in range(1, m):
        y = y0 + 2 * half * r
        yield Patch(row=triangle, corners=((x0, y - half), (x0, y + half), (x0 + half, y)))
        yield Patch(row=triangle, corners=((x1, y - half), (x1, y + half), (x1 - half, y)))
    for x, y, dx, dy in ((x0, y0, 1, 1), (x1, y0, -1, 1), (x0, y1, 1, -1), (x1, y1, -1, -1)):
        yield Patch(row=corner, corners=((x, y), (x + dx * half, y), (x, y + dy * half)))


def _border_patches(borders: Sequence[Border], frame: Frame) -> Iterator[Patch]:
    x1, y1, x2, y2 = frame
    for border in borders:
        w = float(border.width)
        rows = {row.name: row.key for row in border.made.wanted}
        side, end = rows[f"{border.name} side"], rows[f"{border.name} end"]
        long_sides, long_ends = border.corners == "ends first", border.corners == "sides first"
        if border.corners == "mitred":
            a, b, c, d = (x1, y1), (x2, y1), (x2, y2), (x1, y2)
            e, f, g, h = (x1 - w, y1 - w), (x2 + w, y1 - w), (x2 + w, y2 + w), (x1 - w, y2 + w)
            for row, corners in ((side, (a, d, h, e)), (side, (b, c, g, f)), (end, (a, b, f, e)), (end, (d, c, g, h))):
                yield Patch(row=row, corners=corners)
        else:
            more_y, more_x = (w if long_sides else 0.0), (w if long_ends else 0.0)
            yield Patch(row=side, corners=box(x1 - w, y1 - more_y, x1, y2 + more_y))
            yield Patch(row=side, corners=box(x2, y1 - more_y, x2 + w, y2 + more_y))
            yield Patch(row=end, corners=box(x1 - more_x, y1 - w, x2 + more_x, y1))
            yield Patch(row=end, corners=box(x1 - more_x, y2, x2 + more_x, y2 + w))
        if border.corners == "corner squares":
            corner = rows.get(f"{border.name} corner", side)
            for x, y in ((x1 - w, y1 - w), (x2, y1 - w), (x1 - w, y2), (x2, y2)):
                yield Patch(row=corner, corners=box(x, y, x + w, y + w))
        x1, y1, x2, y2 = x1 - w, y1 - w, x2 + w, y2 + w
