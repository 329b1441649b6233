"""Where the strips and patches of borders lie, so that they can be drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import cycle
from typing import TypeAlias

from cutopt.quilt.pieced_borders import Pieces
from cutopt.quilt.recipe.block import Patch, box
from cutopt.quilt.recipe.fill import Share
from cutopt.quilt.recipe.setting import Border

Frame: TypeAlias = tuple[float, float, float, float]


def border_patches(borders: Sequence[Border], frame: Frame) -> Iterator[Patch]:
    """Every border from the inside outwards.

    A flange comes after what it lies upon, and so is drawn over it.
    """
    for border in borders:
        if border.shows:
            yield from _flange(border, frame)
            continue
        wide = (float(border.sides), float(border.ends))
        if border.pieces is not None:
            yield from _pieces(border.pieces, frame)
        elif border.corners == "mitred" and all(wide):
            yield from _mitred(border, frame, wide[0])
        else:
            yield from _butted(border, frame, wide)
        frame = (
            frame[0] - wide[0],
            frame[1] - wide[1],
            frame[2] + wide[0],
            frame[3] + wide[1],
        )


def _keys(border: Border) -> dict[str, str]:
    """Keys of its rows, by what is left of their names without that of the border."""
    prefix = f"{border.name} "
    return {row.name.removeprefix(prefix): row.key for row in border.made.wanted}


def _mitred(border: Border, frame: Frame, w: float) -> Iterator[Patch]:
    keys = _keys(border)
    x1, y1, x2, y2 = frame
    inner = box(*frame)
    outer = box(x1 - w, y1 - w, x2 + w, y2 + w)
    for n, name in enumerate(("end", "side", "end", "side")):
        after = (n + 1) % 4
        corners = (inner[n], inner[after], outer[after], outer[n])
        yield Patch(row=keys[name], corners=corners)


def _butted(border: Border, frame: Frame, wide: tuple[float, float]) -> Iterator[Patch]:
    """Strips on the sides that have any; those that are sewn last reach over the others."""
    keys = _keys(border)
    x1, y1, x2, y2 = frame
    ws, we = wide
    up = we if border.corners == "ends first" else 0.0
    out = ws if border.corners == "sides first" else 0.0
    if ws:
        for x in (x1 - ws, x2):
            yield Patch(row=keys["side"], corners=box(x, y1 - up, x + ws, y2 + up))
    if we:
        for y in (y1 - we, y2):
            yield Patch(row=keys["end"], corners=box(x1 - out, y, x2 + out, y + we))
    if border.corners == "corner squares" and ws and we:
        for x, y in ((x1 - ws, y1 - we), (x2, y1 - we), (x1 - ws, y2), (x2, y2)):
            yield Patch(row=keys["corner"], corners=box(x, y, x + ws, y + we))


def _pieces(pieces: Pieces, frame: Frame) -> Iterator[Patch]:
    """Patches round and round from the upper left corner, their cloths by turns."""
    x1, y1, x2, y2 = frame
    a = float(pieces.along)
    b = float(pieces.deep)
    turn = cycle(pieces.keys)
    for start, step, count in (
        ((x1, y2), (1, 0), pieces.across),
        ((x2, y2), (0, -1), pieces.down),
        ((x2, y1), (-1, 0), pieces.across),
        ((x1, y1), (0, 1), pieces.down),
    ):
        corner = _corner(start, step, b)
        yield Patch(row=pieces.corner or next(turn), corners=corner)
        for n in range(count):
            yield Patch(row=next(turn), corners=_along(start, step, (n, a), b))


def _corner(start: Share, step: tuple[int, int], b: float) -> tuple[Share, ...]:
    """The corner square from which patches run along `step`: outward of both sides that meet in it."""
    x, y = start
    dx, dy = step
    # outward of the side that begins here, and back along it
    ox, oy = -dy, dx
    back = (x - dx * b, y - dy * b)
    return (
        (x, y),
        back,
        (back[0] + ox * b, back[1] + oy * b),
        (x + ox * b, y + oy * b),
    )


def _along(
    start: Share, step: tuple[int, int], place: tuple[int, float], b: float
) -> tuple[Share, ...]:
    """The patch of a number along a side, of a length along it."""
    n, a = place
    dx, dy = step
    ox, oy = -dy * b, dx * b
    x, y = start[0] + dx * a * n, start[1] + dy * a * n
    to = (x + dx * a, y + dy * a)
    return (x, y), to, (to[0] + ox, to[1] + oy), (x + ox, y + oy)


def _flange(border: Border, frame: Frame) -> Iterator[Patch]:
    """Folds that lie on what they are sewn to, along its edge."""
    keys = _keys(border)
    x1, y1, x2, y2 = frame
    f = float(border.shows)
    for x in (x1, x2 - f):
        yield Patch(row=keys["side"], corners=box(x, y1, x + f, y2))
    for y in (y1, y2 - f):
        yield Patch(row=keys["end"], corners=box(x1, y, x2, y + f))
