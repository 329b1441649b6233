"""A backing as it is sewn: parts cut from one length, joined by straight seams, and where all of it comes to lie.

Sizes are as the quilt hangs, the width first; a place on the cloth is across the fabric first, then along it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TypeAlias

from cutopt.quilt.surds import ZERO, Exact

# x and y on the cloth, how wide across it, how long
Place: TypeAlias = tuple[Exact, Exact, Exact, Exact]
# x from the left, y from above, width and height in the back
Box: TypeAlias = tuple[Exact, Exact, Exact, Exact]


@dataclass(frozen=True, slots=True, kw_only=True)
class BackPart:
    """One piece of cloth as cut: how it hangs, and where on the bought length it is cut (None: from elsewhere).

    `bought` tells whether it is of what is bought for the backing, and not of the maker's own or of other cloth; `own`
    names the rectangle on hand that it is cut from.
    """

    width: Exact
    height: Exact
    what: str
    place: Place | None = None
    bought: bool = True
    own: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sewn:
    """Parts side by side, or one below the other, with a seam between each two; a `strip` is joined end to end."""

    parts: tuple[Piecing, ...]
    down: bool
    seam: int
    strip: bool = False


Piecing: TypeAlias = BackPart | Sewn


def size_of(piecing: Piecing) -> tuple[Exact, Exact]:
    """Width and height as sewn, the seams at its own edges still to be taken."""
    if isinstance(piecing, BackPart):
        return piecing.width, piecing.height
    sizes = [size_of(part) for part in piecing.parts]
    lost = 2 * piecing.seam * (len(sizes) - 1)
    if piecing.down:
        return sizes[0][0], sum((high for _, high in sizes), start=ZERO) - lost
    return sum((wide for wide, _ in sizes), start=ZERO) - lost, sizes[0][1]


def lies_across(part: BackPart) -> bool:
    """Whether a part is sewn in turned a quarter: what runs along the cloth it is cut from hangs across."""
    return part.place is not None and part.width != part.place[2]


def turned(piecing: Piecing) -> Piecing:
    """The same back with width and height exchanged; the places on the cloth stay."""
    if isinstance(piecing, BackPart):
        return replace(piecing, width=piecing.height, height=piecing.width)
    return replace(
        piecing,
        parts=tuple(turned(part) for part in piecing.parts),
        down=not piecing.down,
    )


def parts_of(piecing: Piecing) -> Iterator[BackPart]:
    """All parts, from left to right and from above down."""
    if isinstance(piecing, BackPart):
        yield piecing
        return
    for part in piecing.parts:
        yield from parts_of(part)


def strips_of(piecing: Piecing) -> Iterator[Sewn]:
    """The strips that are joined end to end."""
    if isinstance(piecing, Sewn):
        if piecing.strip:
            yield piecing
            return
        for part in piecing.parts:
            yield from strips_of(part)


def seen(
    piecing: Piecing, at: tuple[Exact, Exact] = (ZERO, ZERO)
) -> Iterator[tuple[BackPart, Box]]:
    """Each part with what is seen of it in the sewn back: without what lies in the seams between parts."""
    wide, high = size_of(piecing)
    yield from _seen(piecing, at, (at[0], at[1], at[0] + wide, at[1] + high))


def _seen(
    piecing: Piecing, at: tuple[Exact, Exact], clip: Box
) -> Iterator[tuple[BackPart, Box]]:
    if isinstance(piecing, BackPart):
        x1, y1, x2, y2 = clip
        yield piecing, (x1, y1, x2 - x1, y2 - y1)
        return
    last = len(piecing.parts) - 1
    if piecing.down:
        axis = 1
    else:
        axis = 0
    for i, (part, start) in enumerate(_starts(piecing, at)):
        sides = list(clip)
        if i:
            sides[axis] = start[axis] + piecing.seam
        if i < last:
            sides[axis + 2] = start[axis] + size_of(part)[axis] - piecing.seam
        yield from _seen(part, start, (sides[0], sides[1], sides[2], sides[3]))


def _starts(
    sewn: Sewn, at: tuple[Exact, Exact]
) -> Iterator[tuple[Piecing, tuple[Exact, Exact]]]:
    """Where each part begins, what lies in its seams included."""
    x, y = at
    for part in sewn.parts:
        yield part, (x, y)
        wide, high = size_of(part)
        if sewn.down:
            y = y + high - 2 * sewn.seam
        else:
            x = x + wide - 2 * sewn.seam


def long_seams(piecing: Piecing) -> tuple[tuple[Exact, ...], tuple[Exact, ...]]:
    """Where the seams run up, from the left edge, and level, from the upper one; joins inside of strips left out."""
    found: tuple[set[Exact], set[Exact]] = (set(), set())
    _collect(piecing, (ZERO, ZERO), found)
    return tuple(sorted(found[0])), tuple(sorted(found[1]))


def _collect(
    piecing: Piecing, at: tuple[Exact, Exact], found: tuple[set[Exact], set[Exact]]
) -> None:
    if isinstance(piecing, BackPart) or piecing.strip:
        return
    if piecing.down:
        axis = 1
    else:
        axis = 0
    for i, (part, start) in enumerate(_starts(piecing, at)):
        if i:
            found[axis].add(start[axis] + piecing.seam)
        _collect(part, start, found)


def row_of(
    parts: tuple[Piecing, ...], down: bool, seam: int, strip: bool = False
) -> Piecing:
    """Parts sewn in one row; one alone is itself.

    Parameters
    ----------
    parts : from left to right, or from above down
    down : whether one is below the other
    seam : taken on each side, ticks
    strip : whether it is a strip, joined end to end
    """
    if len(parts) == 1:
        return parts[0]
    return Sewn(parts=parts, down=down, seam=seam, strip=strip)
