"""Shapes of 60 degrees in strips, and the diamond of 45: from a finished side or height to the strip they are cut from.

A seam all round moves every side out by a seam (arithmetic identities, each derived where it stands). The strip is cut
at a mark of the ruler, rounded up once; the shape that is cut through the whole strip is what the sums go on with, so
that the strip holds it. With triangles, diamonds and hexagons of 60 degrees a side a is 2h / √3 where h is the height
of a triangle or a diamond.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias, get_args

from cutopt.errors import Problem
from cutopt.fabric import one_of
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.shapes.nested import Nested, slanted, trapezoid
from cutopt.quilt.surds import ROOT2, ROOT3, Exact, decimals, exact

Angled: TypeAlias = Literal[
    "60-degree triangle",
    "60-degree diamond",
    "45-degree diamond",
    "hexagon",
    "half hexagon",
]
By: TypeAlias = Literal["height", "side", "strip"]
ANGLED: Final[tuple[Angled, ...]] = get_args(Angled)
# what a size says where nothing else is said (common practice, no source)
USUAL: Final[dict[Angled, By]] = {
    "60-degree triangle": "height",
    "60-degree diamond": "height",
    "45-degree diamond": "side",
    "hexagon": "side",
    "half hexagon": "side",
}
# height over side
_HIGH: Final[dict[Angled, Exact]] = {
    "60-degree triangle": ROOT3 / 2,
    "60-degree diamond": ROOT3 / 2,
    "45-degree diamond": ROOT2 / 2,
    "hexagon": ROOT3,
    "half hexagon": ROOT3 / 2,
}
# the sides that lie on the edges of a strip, so that a seam is added to the height, are 2; a triangle has a point
_SEAMS_HIGH: Final[dict[Angled, int]] = {
    "60-degree triangle": 3,
    "60-degree diamond": 2,
    "45-degree diamond": 2,
    "hexagon": 2,
    "half hexagon": 2,
}


# what a shape adds to a row of its kind, in sides: the mean of its upper and its lower edge; of hexagons in columns,
# which lie in each other by a quarter of their width, the distance of the columns
_ROW: Final[dict[Angled, Exact]] = {
    "60-degree triangle": exact(1) / 2,
    "60-degree diamond": exact(1),
    "45-degree diamond": exact(1),
    "hexagon": exact(3) / 2,
    "half hexagon": exact(3) / 2,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class InStrip:
    """A shape that is cut from strips: how it lies there, its finished side and height, and the sum of the strip.

    `needed` is how high the strip would be without rounding to a mark; `row` is what one shape adds, finished, to a row
    that is sewn of them.
    """

    kind: str
    nested: Nested
    side: Exact
    height: Exact
    needed: Exact
    row: Exact
    why: str

    @property
    def cut_side(self) -> Exact:
        """The edge of one that lies on the lower edge of the strip, as cut."""
        return self.nested.corners[1][0] - self.nested.corners[0][0]

    @property
    def over(self) -> Exact:
        """By how much the strip is higher than the shape needs."""
        return self.nested.height - self.needed


def in_strip(
    kind: Angled,
    size: Length,
    how: Conventions = DEFAULT,
    by: By | None = None,
    *,
    alike: bool = False,
) -> InStrip:
    """A shape of that kind, by its finished height or side, or by the height of the strip that it is cut from.

    The height grows by 2 seams where two sides lie on the edges of the strip. A triangle grows by 3: its inradius is
    a third of its height, and a seam all round adds a seam to the inradius.

    Parameters
    ----------
    kind : of shape
    size : its height or its side
    how : seam, grid and ruler
    by : what the size says; None for what is usual
    alike : all stand the same way, as a print does that has a top

    Raises
    ------
    Problem
        Where nothing would be left of it.
    """
    one_of("kind", kind, ANGLED)
    given = how.read(size, "size")
    high, why = _finished_height(kind, given, by or USUAL[kind], how)
    if high <= 0:
        what = f"nothing is left of a {kind} of {how.show(given)}"
        raise Problem("size", what, "write a larger size")
    needed = high + _SEAMS_HIGH[kind] * how.seam
    strip = exact(how.cut_size(needed))
    if strip != needed:
        why += f", strip {how.show(strip)}"
    side = high / _HIGH[kind]
    return InStrip(
        kind=kind,
        nested=_nested(kind, strip, how, alike=alike),
        side=side,
        height=high,
        needed=needed,
        row=side * _ROW[kind],
        why=why,
    )


def _finished_height(
    kind: Angled, given: Exact, by: By, how: Conventions
) -> tuple[Exact, str]:
    """The finished height, and the sum that leads from it to the strip."""
    seams = _SEAMS_HIGH[kind]
    added = seams * how.seam
    told = f"{seams} x {how.show(how.seam)}"
    if by == "strip":
        high = given - added
        return high, f"strip {how.show(given)}, less {told}: {how.show(high)} high"
    if by == "height":
        high = given
        why = f"{how.show(high)} high"
    else:
        high = given * _HIGH[kind]
        share = decimals(_HIGH[kind], 4)
        why = f"side {how.show(given)} x {share} = {how.show(high)} high"
    return high, f"{why}, + {told} = {how.show(high + added)}"


def _nested(kind: Angled, strip: Exact, how: Conventions, *, alike: bool) -> Nested:
    """How the shape lies that is cut through a whole strip of this height."""
    if kind == "60-degree triangle":
        return trapezoid(strip, 2 * strip / ROOT3, 0, alike=alike)
    if kind == "60-degree diamond":
        # both heights of a diamond are the same, so its side is H / sin 60; it leans by H / tan 60
        return slanted(strip, 2 * strip / ROOT3, strip / ROOT3)
    if kind == "45-degree diamond":
        # H / sin 45, and H / tan 45
        return slanted(strip, strip * ROOT2, strip)
    if kind == "hexagon":
        return _hexagons(strip)
    long, short = _half_hexagon(strip, how)
    return trapezoid(strip, long, short, alike=alike)


def _hexagons(strip: Exact) -> Nested:
    """Hexagons point to point, two sides on the edges of the strip: each takes two sides, 2H / √3."""
    side = strip / ROOT3
    none = exact(0)
    corners = (
        (side / 2, none),
        (side * 3 / 2, none),
        (2 * side, strip / 2),
        (side * 3 / 2, strip),
        (side / 2, strip),
        (none, strip / 2),
    )
    return Nested(height=strip, each=2 * side, more=none, corners=corners)


def _half_hexagon(strip: Exact, how: Conventions) -> tuple[Exact, Exact]:
    """Long and short edge of half a hexagon as cut: 2a + 2√3 s and a + 2s / √3.

    A slanted side moves out by 2s / √3 along the strip; the long edge, a seam further down, gains s / √3 more at
    either end, the short one, a seam further up, loses as much.
    """
    seam = how.seam
    side = 2 * (strip - 2 * seam) / ROOT3
    return 2 * side + 2 * ROOT3 * seam, side + 2 * seam / ROOT3


__all__ = ["ANGLED", "USUAL", "Angled", "By", "InStrip", "in_strip"]
