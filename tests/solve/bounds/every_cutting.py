"""Every cutting of a small irregular piece, searched through and sharing nothing with the solver.

A piece is a set of whole cells of some unit (an inch, or one that no grid of a job has). Every cut from edge to edge
along a line of cells is tried, and what it gives is cut on, part by part.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import product
from typing import TypeAlias

from cutopt.fabric import Fabric, Offered, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, MM
from cutopt.settings import Settings
from cutopt.wanted import Cut

Cell: TypeAlias = tuple[int, int]
Cells: TypeAlias = frozenset[Cell]
Counts: TypeAlias = tuple[int, ...]  # of each wanted size
# ticks; the last three are on no grid of 1/8 in
UNITS = (INCH, 9 * INCH // 8, 9 * INCH // 16, 21 * MM, 8191)


@cache
def connected(cells: Cells) -> tuple[Cells, ...]:
    """The parts of some cells that hang together side by side."""
    left = set(cells)
    found = []
    while left:
        part = set()
        edge = [left.pop()]
        while edge:
            x, y = edge.pop()
            part.add((x, y))
            near = {(x + 1, y), (x - 1, y), (x, y + 1), (x, y - 1)} & left
            left -= near
            edge += near
        found.append(frozenset(part))
    return tuple(found)


def cut_in_two(cells: Cells) -> Iterator[tuple[Cells, ...]]:
    """What each cut from edge to edge gives: two parts, or more where the outline is notched."""
    for axis in (0, 1):
        places = sorted({cell[axis] for cell in cells})
        for at in places[1:]:
            low = frozenset(cell for cell in cells if cell[axis] < at)
            yield (*connected(low), *connected(cells - low))


def at_the_corner(cells: Cells) -> Cells:
    """The same part moved down and to the left."""
    left, low = (min((cell[k] for cell in cells), default=0) for k in (0, 1))
    return frozenset((x - left, y - low) for x, y in cells)


class Every:
    """All that can be cut: `sizes` (width, length, whether it may turn), no more than `most` of each."""

    def __init__(
        self,
        sizes: list[tuple[int, int, bool]],
        most: Counts,
        spoilt: Cells = frozenset(),
    ) -> None:
        self.sizes = sizes
        self.most = most
        self.spoilt = spoilt
        self._known: dict[Cells, set[Counts]] = {}

    def of(self, cells: Cells) -> set[Counts]:
        """The counts that some cutting gives; those with which no other gives more."""
        cells = cells if self.spoilt else at_the_corner(cells)
        if cells not in self._known:
            found = {
                tuple(0 for _ in self.sizes),
                *(self._whole(cells) if cells else ()),
            }
            for parts in cut_in_two(cells):
                found |= self.together(self.of(part) for part in parts)
            self._known[cells] = unbeaten(found)
        return self._known[cells]

    def together(self, ways: Iterable[set[Counts]]) -> set[Counts]:
        """Counts of several pieces beside each other."""
        total = {tuple(0 for _ in self.sizes)}
        for some in ways:
            total = {
                tuple(
                    min(a + b, most) for a, b, most in zip(x, y, self.most, strict=True)
                )
                for x, y in product(total, some)
            }
        return total

    def _whole(self, cells: Cells) -> Iterator[Counts]:
        """The part as it is, where it is a wanted rectangle of good cloth."""
        w, l = (1 + max(c[k] for c in cells) - min(c[k] for c in cells) for k in (0, 1))
        if len(cells) == w * l and not cells & self.spoilt:
            for k, (width, length, turns) in enumerate(self.sizes):
                if (w, l) == (width, length) or (turns and (l, w) == (width, length)):
                    yield tuple(int(k == n) for n in range(len(self.sizes)))


def unbeaten(found: set[Counts]) -> set[Counts]:
    return {
        a
        for a in found
        if not any(
            a != b and all(x <= y for x, y in zip(a, b, strict=True)) for b in found
        )
    }


def rectangle(w: int, l: int) -> Cells:
    return frozenset(product(range(w), range(l)))


class Drawn:
    """An invented job of a seed: some pieces as cells, two sizes, and the same as a job with a unit in ticks."""

    def __init__(
        self,
        seed: int,
        *,
        pieces: int = 1,
        spoilt: bool = True,
        rectangles: bool = False,
    ) -> None:
        self.random = rnd = random.Random(seed)
        self.unit = rnd.choice(UNITS)
        self.kind = (
            rnd.choice(("true", "true", "raw", "about", "flaw")) if spoilt else "true"
        )
        self.sizes = [
            (rnd.randint(1, 3), rnd.randint(2, 3), rnd.random() < 0.7) for _ in range(2)
        ]
        self.piles = [self.columns(rectangles=rectangles) for _ in range(pieces)]
        self.mirrored = rnd.random() < 0.5

    def columns(self, *, rectangles: bool) -> tuple[int, ...]:
        """Heights of columns side by side: an L, a T, a stair, a notch, towers."""
        rnd = self.random
        lost = 2 if self.kind in ("raw", "about") else 0  # a unit at each edge
        across = rnd.randint(3 + lost, 6 + lost)
        if rectangles:
            return (rnd.randint(2, 6),) * across
        while True:
            heights = tuple(rnd.randint(1 + lost, 6 + lost) for _ in range(across))
            if len(set(heights)) > 1:
                return heights

    def cells(self, heights: tuple[int, ...]) -> Cells:
        cells = {(x, y) for x, high in enumerate(heights) for y in range(high)}
        return (
            frozenset((y, x) for x, y in cells) if self.mirrored else frozenset(cells)
        )

    def flaw(self, heights: tuple[int, ...]) -> Cell:
        return 0, (len(heights) // 2 if self.mirrored else heights[0] - 1)

    def spoilt(self, heights: tuple[int, ...]) -> Cells:
        """Cells that no part may have: with a unit lost at each edge all that have no cloth all round."""
        cells = self.cells(heights)
        if self.kind in ("raw", "about"):
            return frozenset(cell for cell in cells if not around(cell) <= cells)
        return (
            frozenset({self.flaw(heights)} & cells)
            if self.kind == "flaw"
            else frozenset()
        )

    def piece(self, number: int) -> Piece:
        heights = self.piles[number]
        corners = [(0, 0), (len(heights), 0)]
        for x in reversed(range(len(heights))):
            corners += [(x + 1, heights[x]), (x, heights[x])]
        corners = [
            corner for k, corner in enumerate(corners) if corner != corners[k - 1]
        ]
        x, y = self.flaw(heights)
        flaw = ((x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1))
        has_flaw = self.kind == "flaw" and (x, y) in self.cells(heights)
        corners = [(y, x) for x, y in corners] if self.mirrored else corners
        return Piece(
            name=f"p{number}",
            fabric="oat",
            outline=self.ticks(corners),
            edges="raw" if self.kind == "raw" else "true",
            about=self.kind == "about",
            flaws=(self.ticks(flaw),) if has_flaw else (),
        )

    def ticks(self, corners: Iterable[Cell]) -> tuple[Cell, ...]:
        return tuple((x * self.unit, y * self.unit) for x, y in corners)

    def job(
        self, counts: Counts, shop: tuple[Offered, ...] = (), importance: str = "must"
    ) -> Job:
        u = self.unit
        cuts = tuple(
            Cut(
                name=f"c{k}",
                width=w * u,
                length=l * u,
                count=count,
                grain="any" if turns else "along",
                importance=importance,  # type: ignore[arg-type]
            )
            for k, ((w, l, turns), count) in enumerate(
                zip(self.sizes, counts, strict=False)
            )
        )
        return Job(
            settings=Settings(square_up=u, about=u, square_up_end=0),
            fabrics=(Fabric(name="oat"),),
            pieces=tuple(self.piece(k) for k in range(len(self.piles))),
            shop=shop,
            cuts=cuts,
        )

    def able(self, number: int, most: Counts) -> set[Counts]:
        """What can be cut from one of the pieces."""
        heights = self.piles[number]
        return Every(self.sizes, most, self.spoilt(heights)).of(self.cells(heights))


def around(cell: Cell) -> Cells:
    return frozenset(
        (cell[0] + i, cell[1] + j) for i, j in product((-1, 0, 1), repeat=2)
    )
