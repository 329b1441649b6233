"""Jobs with a plan that is known, as their cuts are cloth cut up at random. All invented."""

from __future__ import annotations

import random
from decimal import Decimal

from shapely.geometry import Polygon, box

from cutopt.fabric import ByLength, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.wanted import Cut, Strip

Box = tuple[int, int, int, int]


def cut_up(rng: random.Random, window: Box, least: int, grain: int) -> list[Box]:
    """Windows that straight cuts give, `least` or more on a side, cuts on multiples of `grain` from the corner."""
    x1, y1, x2, y2 = window
    ways = [
        axis for axis, size in ((0, x2 - x1), (1, y2 - y1)) if size >= 2 * least + grain
    ]
    if not ways or rng.random() < 0.1:
        return [window]
    if rng.choice(ways) == 0:
        at = x1 + grain * rng.randint(-(-least // grain), (x2 - x1 - least) // grain)
        halves = ((x1, y1, at, y2), (at, y1, x2, y2))
    else:
        at = y1 + grain * rng.randint(-(-least // grain), (y2 - y1 - least) // grain)
        halves = ((x1, y1, x2, at), (x1, at, x2, y2))
    return [leaf for half in halves for leaf in cut_up(rng, half, least, grain)]


def outline(rng: random.Random) -> tuple[tuple[int, int], ...]:
    """A triangle, an L, a notch, a trapezoid or a slanted piece."""
    w, h = (rng.randint(9, 22) * INCH // 2 * 2 for _ in range(2))
    a = w * rng.randint(3, 7) // 10
    b = h * rng.randint(3, 7) // 10
    return rng.choice(
        [
            ((0, 0), (w, 0), (0, h)),
            ((0, 0), (w, 0), (w, b), (a, b), (a, h), (0, h)),
            ((0, 0), (w, 0), (w, h), (a, h), (a, b), (a // 2, b), (a // 2, h), (0, h)),
            ((0, 0), (w, 0), (a, h), (0, h)),
            ((0, b), (a, 0), (w, b // 2), (w - a // 2, h)),
        ]
    )


def largest_in(
    rng: random.Random, window: Box, usable: Polygon, grain: int
) -> Box | None:
    """Some rectangle of the window that lies on usable cloth: the best of a few tries."""
    best = None
    area = 0
    x1, y1, x2, y2 = window
    for _ in range(12):
        xs = sorted(x1 + rng.randint(0, (x2 - x1) // grain) * grain for _ in range(2))
        ys = sorted(y1 + rng.randint(0, (y2 - y1) // grain) * grain for _ in range(2))
        w = xs[1] - xs[0]
        h = ys[1] - ys[0]
        if (
            w * h > area
            and min(w, h) >= INCH
            and usable.covers(box(xs[0], ys[0], xs[1], ys[1]))
        ):
            best = (xs[0], ys[0], xs[1], ys[1])
            area = w * h
    return best


def known_job(seed: int) -> tuple[Job, int, int]:
    """A job with a plan: the job, what the plan buys in steps, and the price of a step in hundredths."""
    rng = random.Random(seed)
    grain = rng.choice([INCH // 2, INCH // 4, INCH // 8, 320, 997])
    raw = rng.random() < 0.3
    found: list[tuple[int, int]] = []
    pieces = []
    for k in range(rng.randint(1, 3)):
        ring = outline(rng) if rng.random() < 0.6 else None
        w = rng.randint(6, 20) * INCH
        h = rng.randint(6, 20) * INCH
        ring = ring or ((0, 0), (w, 0), (w, h), (0, h))
        piece = Piece(
            name=f"p{k}", fabric="oat", outline=ring, edges="raw" if raw else "true"
        )
        pieces.append(piece)
        usable = Polygon(piece.outline).buffer(-INCH // 4 if raw else 0)
        for leaf in cut_up(rng, (0, 0, *piece.size), 3 * INCH, grain):
            part = largest_in(rng, leaf, usable, grain)
            if part is not None:
                found.append((part[2] - part[0], part[3] - part[1]))
    steps = rng.choice([0, 1, 2, 3, 4])
    width = 42 * INCH
    rows = steps * YARD // 8 - INCH
    if steps:
        found += [
            (x2 - x1, y2 - y1)
            for x1, y1, x2, y2 in cut_up(rng, (0, 0, width, rows), 3 * INCH, grain)
        ]
    rng.shuffle(found)
    strips = []
    if rng.random() < 0.5 and len(found) > 3:
        strips, found = as_strip(rng, found)
    sizes = [tuple(rng.sample(size, 2)) for size in found]
    cuts = [
        Cut(name=f"c{k}", width=w, length=length, count=sizes.count((w, length)))
        for k, (w, length) in enumerate(set(sizes))
    ]
    shop = (
        ByLength(
            fabric="oat", usable_width=width, sold_by=YARD // 8, price=Decimal("8.00")
        ),
    )
    job = Job(
        fabrics=(Fabric(name="oat"),),
        pieces=tuple(pieces),
        shop=shop,
        cuts=tuple(cuts),
        strips=tuple(strips),
    )
    return job, steps, 100


def as_strip(
    rng: random.Random, found: list[tuple[int, int]]
) -> tuple[list[Strip], list[tuple[int, int]]]:
    """Some of the parts joined to a strip, as wide as the narrowest of them; the rest."""
    joined = [tuple(sorted(size)) for size in found[:3]]
    width = min(w for w, _ in joined)
    joined = [(w, length) for w, length in joined if length > width]
    if not joined:
        return [], found
    total = sum(length for _, length in joined) - (len(joined) - 1) * width
    shortest = max(width + 1, min(length for _, length in joined))
    if total < shortest:
        return [], found
    return [
        Strip(name="binding", width=width, total_length=total, shortest=shortest)
    ], found[3:]
