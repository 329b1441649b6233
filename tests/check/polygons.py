"""Random simple polygons with corners on a small lattice, so that cuts often meet corners and sides."""

from __future__ import annotations

import random
from math import atan2

from cutopt.lengths import INCH

Corners = tuple[tuple[int, int], ...]


def star(rng: random.Random, corners: int, size: int = 8) -> Corners:
    """Corners in order round a middle; may be crossing or flat: the caller asks shapely whether it is valid."""
    points = list(
        {(rng.randint(0, size), rng.randint(0, size)) for _ in range(corners)}
    )
    cx = size / 2 + 0.13
    cy = size / 2 + 0.37
    points.sort(key=lambda p: (atan2(p[1] - cy, p[0] - cx), p))
    return tuple((x * INCH, y * INCH) for x, y in points)


def blob(rng: random.Random, cells: int, size: int = 6) -> Corners:
    """The outline of cells that hang together, as a person leaves them who cuts patches out of a piece."""
    from shapely import box
    from shapely.ops import unary_union

    grown = {(rng.randrange(size), rng.randrange(size))}
    while len(grown) < cells:
        x, y = rng.choice(sorted(grown))
        dx, dy = rng.choice([(1, 0), (-1, 0), (0, 1), (0, -1)])
        grown.add((x + dx, y + dy))
    union = unary_union([box(x, y, x + 1, y + 1) for x, y in grown])
    return tuple(
        (int(x) * INCH, int(y) * INCH) for x, y in list(union.exterior.coords)[:-1]
    )


def random_outline(rng: random.Random, unit: int = INCH) -> Corners:
    """A simple polygon, counter-clockwise, one half of them with upright sides only; corners on whole `unit`."""
    from shapely import Polygon

    while True:
        ring = (
            star(rng, rng.randint(3, 9))
            if rng.random() < 0.5
            else blob(rng, rng.randint(2, 14))
        )
        if len(ring) < 3:
            continue
        polygon = Polygon(ring)
        if (
            polygon.is_valid
            and polygon.area > 0
            and not polygon.interiors
            and polygon.exterior.is_simple
        ):
            ring = tuple((x // INCH * unit, y // INCH * unit) for x, y in ring)
            return ring if polygon.exterior.is_ccw else tuple(reversed(ring))
