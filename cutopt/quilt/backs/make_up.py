"""All simple make-ups of a rectangle from one length of cloth: panels alike, and one strip beside or below them.

A length is cut across into slabs. Slabs of panels give one panel of the whole width, or two, three or four abreast;
panels are sewn in columns and rows. What they do not reach is a strip, joined end to end from lanes: along the edge
of the panels where they are narrower than the cloth, across the cloth in slabs of their own, and lengthwise in one
more slab at the end. For each choice of how many of each the best sizes are known: the length that is taken rises or
falls steadily with the width of the strip, so it is least where some rule just allows it.

Sizes are whole ticks; `across` is the side along which panels stand side by side, `along` runs with the selvage.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal, TypeAlias

MOST_PANELS: Final = 6
MOST_ABREAST: Final = 4
MOST_SEGMENTS: Final = 6
MOST_CORNER: Final = 2
Side: TypeAlias = Literal["beside", "below"]
# along the edge, across the cloth, at the end, lying beside those
Lanes: TypeAlias = tuple[int, int, int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothLength:
    """A bolt and how it is sewn, ticks.

    Parameters
    ----------
    usable : width across which parts may lie
    seam : taken on each side by every seam, joins inside a strip as well
    smallest, shortest : the narrowest strip, and the shortest segment of one that is wider than that
    mark, grid : what is there is counted down to a mark of the ruler, a size to cut up to the grid (whole marks)
    spare : a cut that leaves less than this across the cloth is tight
    turned : whether a part may hang with its selvage the other way
    """

    usable: int
    seam: int
    smallest: int
    shortest: int
    mark: int
    grid: int
    spare: int
    turned: bool = True

    def up(self, size: int, share: int = 1, more: int = 0) -> int:
        """A size to cut, or an equal share of it: up to the grid, and so many steps more.

        Parameters
        ----------
        size : ticks
        share : into how many equal parts it is divided
        more : so many steps of the grid above, below 0 under
        """
        return (-(-size // (share * self.grid)) + more) * self.grid

    def down(self, size: int, share: int = 1) -> int:
        """What is there, or an equal share of it: down to a mark."""
        return size // (share * self.mark) * self.mark


@dataclass(frozen=True, slots=True, kw_only=True)
class Panels:
    """Panels alike: so many columns and rows of them, so many abreast of one slab, each so wide and so long."""

    columns: int
    rows: int
    abreast: int
    width: int
    length: int

    @property
    def slabs(self) -> int:
        """How many lengths of cloth they are cut from."""
        return self.columns * self.rows // self.abreast


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """A strip beside or below the panels: its width as cut, how long it is sewn, and the lanes that it is joined from.

    `edge` lanes run along the panels, `across` lie across the cloth, `ends` are `end` long and stand at its end, and
    `corner` lie beside those, in what they leave of the width.
    """

    side: Side
    width: int
    reach: int
    edge: int
    across: int
    ends: int
    corner: int
    end: int

    @property
    def segments(self) -> int:
        """Of how many lanes it is joined."""
        return self.edge + self.across + self.ends + self.corner


@dataclass(frozen=True, slots=True, kw_only=True)
class MakeUp:
    """Panels, and the strip that makes up what they do not reach."""

    cloth: ClothLength
    panels: Panels
    fill: Fill | None

    @property
    def length(self) -> int:
        """The length of cloth that it takes."""
        long = self.panels.slabs * self.panels.length
        if self.fill is not None:
            long += self.fill.across * self.fill.width + self.fill.end
        return long

    @property
    def seams(self) -> int:
        """Long seams."""
        return self.panels.columns * self.panels.rows - (self.fill is None)

    @property
    def joins(self) -> int:
        """Short seams, inside the strip."""
        if self.fill is None:
            return 0
        return self.fill.segments - 1

    @property
    def beside(self) -> int:
        """What the panels of a slab leave of the width."""
        return self.cloth.usable - self.panels.abreast * self.panels.width

    @property
    def left(self) -> int | None:
        """The least that is left across the cloth where parts lie side by side; None where the width does not matter.

        Panels that are the whole width, or an equal share of it, take what there is.
        """
        rests = []
        if self.fill is not None and self.fill.ends and not self.fill.corner:
            rests.append(self.cloth.usable - self.fill.ends * self.fill.width)
        if self.fill is None or self.fill.side == "below":
            rests.append(
                self.beside
                - (self.fill.edge * self.fill.width if self.fill is not None else 0)
            )
        return min(rests, default=None)

    @property
    def tight(self) -> bool:
        """Whether next to nothing is left across the cloth."""
        return self.left is not None and self.left < self.cloth.spare


@lru_cache(maxsize=512)
def make_ups(across: int, along: int, cloth: ClothLength) -> tuple[MakeUp, ...]:
    """The make-ups worth a look: none with another that is shorter, has no more sewing and is no tighter.

    Parameters
    ----------
    across, along : to be reached across the panels and along them, ticks
    cloth : the bolt, and how it is sewn
    """
    kept: dict[tuple[int, bool], MakeUp] = {}
    for made in sorted(_all(across, along, cloth), key=_burden):
        _, sewing, _, tight, _ = _burden(made)
        if not any(other <= sewing and its <= tight for other, its in kept):
            kept[sewing, tight] = made
    return tuple(kept.values())


def _burden(made: MakeUp) -> tuple[int, int, int, bool, int]:
    """The length, then the sewing, long seams above all; of two alike the one that is easier to cut."""
    if made.fill is not None:
        corner = made.fill.corner
    else:
        corner = 0
    return made.length, made.seams + made.joins, made.seams, made.tight, corner


def _all(across: int, along: int, cloth: ClothLength) -> Iterator[MakeUp]:
    for columns, rows, abreast in _grids():
        grid = Panels(columns=columns, rows=rows, abreast=abreast, width=1, length=1)
        if abreast > 1:
            yield from _without_strip(across, along, cloth, grid)
        yield from _below(across, along, cloth, grid)
        yield from _beside(across, along, cloth, grid)


def _grids() -> Iterator[tuple[int, int, int]]:
    """How panels may be set; several abreast of one slab only where they come to lie in several rows."""
    for columns in range(1, MOST_PANELS + 1):
        yield columns, 1, 1
        for rows in range(2, MOST_PANELS // columns + 1):
            for abreast in range(2, MOST_ABREAST + 1):
                if columns * rows % abreast == 0:
                    yield columns, rows, abreast


def _shared(size: int, times: int, cloth: ClothLength) -> int:
    """How large each of so many has to be cut, so that they are `size` when they are sewn."""
    return cloth.up(size + 2 * cloth.seam * (times - 1), times)


def _without_strip(
    across: int, along: int, cloth: ClothLength, grid: Panels
) -> Iterator[MakeUp]:
    width = _shared(across, grid.columns, cloth)
    length = _shared(along, grid.rows, cloth)
    if grid.abreast * width <= cloth.usable and min(width, length) >= cloth.smallest:
        yield MakeUp(cloth=cloth, panels=_sized(grid, width, length), fill=None)


def _sized(grid: Panels, width: int, length: int) -> Panels:
    return Panels(
        columns=grid.columns,
        rows=grid.rows,
        abreast=grid.abreast,
        width=width,
        length=length,
    )


def _lanes(most_edge: int, across: bool, ends: bool) -> Iterator[Lanes]:
    """How many lanes of each kind a strip may be joined from."""
    for edge in range(most_edge + 1):
        for lying in range(MOST_SEGMENTS - edge + 1 if across else 1):
            room = MOST_SEGMENTS - edge - lying
            if edge + lying:
                yield edge, lying, 0, 0
            for standing in range(1, room + 1 if ends else 1):
                for corner in range(
                    min(MOST_CORNER, room - standing) + 1 if across and ends else 1
                ):
                    yield edge, lying, standing, corner


def _beside(
    across: int, along: int, cloth: ClothLength, grid: Panels
) -> Iterator[MakeUp]:
    """Panels of the whole width, or of an equal share of it, and a strip that stands beside them."""
    if grid.abreast == 1:
        wide = cloth.usable
    else:
        wide = cloth.down(cloth.usable, grid.abreast)
    missing = across - grid.columns * wide + 2 * cloth.seam * grid.columns
    long = _shared(along, grid.rows, cloth)
    if missing <= 2 * cloth.seam or min(wide, long) < cloth.smallest:
        return
    panels = _sized(grid, wide, long)
    width = max(cloth.up(missing), cloth.smallest)
    reach = grid.rows * long - 2 * cloth.seam * (grid.rows - 1)
    for lanes in _lanes(0, cloth.turned, True):
        if (fill := _joined("beside", width, reach, lanes, panels, cloth)) is not None:
            yield MakeUp(cloth=cloth, panels=panels, fill=fill)


def _below(
    across: int, along: int, cloth: ClothLength, grid: Panels
) -> Iterator[MakeUp]:
    """Panels that are shorter than is needed and no wider than they must be, and a strip below them."""
    wide = _shared(across, grid.columns, cloth)
    rest = cloth.usable - grid.abreast * wide
    if rest < 0 or wide < cloth.smallest:
        return
    reach = grid.columns * wide - 2 * cloth.seam * (grid.columns - 1)
    if cloth.turned:
        edge = min(MOST_SEGMENTS, rest // cloth.smallest)
    else:
        edge = 0
    for lanes in _lanes(edge, True, cloth.turned):
        for width in _widths(along, reach, cloth, grid, rest, lanes):
            long = cloth.up(along - width + 2 * cloth.seam * grid.rows, grid.rows)
            if lanes[0] * width > rest or long < max(width, cloth.shortest):
                continue
            panels = _sized(grid, wide, long)
            if (
                fill := _joined("below", width, reach, lanes, panels, cloth)
            ) is not None:
                yield MakeUp(cloth=cloth, panels=panels, fill=fill)


def _widths(
    along: int, reach: int, cloth: ClothLength, grid: Panels, rest: int, lanes: Lanes
) -> set[int]:
    """Widths of a strip below panels at which some rule just holds: one of them takes the least length."""
    edge, lying, standing, corner = lanes
    # a size, and how many share it
    tries: list[tuple[int, int]] = [(cloth.smallest, 1)]
    for spare in (0, cloth.spare):
        if edge:
            tries.append((rest - spare, edge))
        if standing:
            tries.append((cloth.usable - spare, standing))
    joins = 2 * cloth.seam * (sum(lanes) - 1)
    wanting = reach + joins - (lying + corner) * cloth.usable
    # of the panels one below the other and the strip
    whole = along + 2 * cloth.seam * grid.rows
    given = edge * grid.slabs
    # the lanes along the edge alone reach
    if edge:
        tries.append((given * whole - wanting * grid.rows, given))
    # the segments at the end are so many times as long as they are wide
    for times in {1, corner} - {0}:
        rise = standing * (times - corner) * grid.rows - given
        if standing and rise:
            if rise > 0:
                sign = 1
            else:
                sign = -1
            tries.append((sign * (wanting * grid.rows - given * whole), sign * rise))
    wide = {cloth.up(*each) for each in tries}
    narrow = {cloth.up(*each, more=-1) for each in tries}
    return {width for width in wide | narrow if cloth.smallest <= width < along}


def _joined(
    side: Side, width: int, reach: int, lanes: Lanes, panels: Panels, cloth: ClothLength
) -> Fill | None:
    """A strip from so many lanes; None where they do not fit, do not reach, or one of them is not needed."""
    edge, lying, standing, corner = lanes
    shortest = min(width, cloth.shortest)
    beside = cloth.usable - standing * width
    if (
        width > cloth.usable
        or beside < 0
        or (corner and beside < shortest)
        or (lying and cloth.usable < shortest)
    ):
        return None
    wanting = reach + 2 * cloth.seam * (sum(lanes) - 1)
    if wanting < sum(lanes) * shortest:
        # no room for so many segments
        return None
    wanting -= (
        edge * panels.slabs * panels.length + lying * cloth.usable + corner * beside
    )
    end = 0
    if standing:
        end = max(cloth.up(wanting, standing), corner * width)
    if (standing and end < shortest) or (not standing and wanting > 0):
        return None
    if sum(lanes) == standing == 1:
        # one more whole length, with a strip in place of the width
        return None
    return Fill(
        side=side,
        width=width,
        reach=reach,
        edge=edge,
        across=lying,
        ends=standing,
        corner=corner,
        end=end,
    )
