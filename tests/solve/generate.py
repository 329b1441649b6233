"""Seeded random jobs: piles of irregular leftovers, few fabrics, a shop, many rectangles. All invented."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from cutopt.errors import Problem
from cutopt.fabric import ByLength, ByPiece, Fabric, Offered, Outline, Piece
from cutopt.job import Job
from cutopt.lengths import CM, INCH, MM, YARD
from cutopt.settings import Settings
from cutopt.wanted import Cut, Strip

NAMES = ("pear", "plum", "bark", "oat", "mist")
CUTS = ("square", "slat", "window", "trunk", "half", "sky", "gate", "leaf")
WISHES = ("", "", "", "", "use first", "keep whole", "do not touch")


class Maker:
    """Draws the parts of one job from one stream of random numbers."""

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)
        self.metric = seed % 5 == 4
        self.step = 5 * MM if self.metric else INCH // 4
        self.unit = (
            CM * 5 // 2 if self.metric else INCH
        )  # about an inch, on the grid of the job

    def length(self, low: float, high: float) -> int:
        """A length between so many inches, on quarters (half centimetres), now and then off the grid."""
        ticks = (
            round(self.random.uniform(low, high) * self.unit / self.step) * self.step
        )
        return ticks + (MM if self.metric else INCH // 16) * (
            self.random.random() < 0.1
        )

    def job(self, pieces: int | None = None, wanted: int | None = None) -> Job:
        """A whole job; by default 20 to 60 leftovers and 50 to 250 rectangles."""
        rnd = self.random
        fabrics = tuple(self.fabric(name) for name in NAMES[: rnd.randint(2, 5)])
        pile = tuple(
            self.piece(i, rnd.choice(fabrics).name)
            for i in range(pieces or rnd.randint(20, 60))
        )
        area = sum(piece.area * piece.count for piece in pile) * rnd.uniform(0.5, 1.1)
        settings = Settings.metric() if self.metric else Settings()
        return Job(
            name="generated",
            settings=settings,
            fabrics=fabrics,
            pieces=pile,
            shop=self.shop(fabrics),
            cuts=self.cuts(fabrics, wanted or rnd.randint(50, 250), area),
            strips=self.strips(fabrics) if rnd.random() < 0.5 else (),
        )

    def fabric(self, name: str) -> Fabric:
        rnd = self.random
        return Fabric(
            name=name,
            value=rnd.choice(("light", "medium", "dark")),
            washed=rnd.random() < 0.7,
            one_way=rnd.choice(("", "", "", "along", "across")),
            tags=rnd.choice(((), ("greens",), ("plain",))),
            shrink_along=Fraction(rnd.choice((0, 0, 3)), 100),
            shrink_across=Fraction(rnd.choice((0, 0, 1)), 100),
        )

    def piece(self, number: int, fabric: str) -> Piece:
        """A leftover of any form; one whose corners happen to make no area is drawn again."""
        rnd = self.random
        while True:
            outline = self.outline()
            flaws = (self.flaw(outline),) if rnd.random() < 0.15 else ()
            try:
                return Piece(
                    name=f"{fabric}-{number}",
                    fabric=fabric,
                    outline=outline,
                    count=rnd.choice((1, 1, 1, 3)),
                    flaws=flaws,
                    edges=rnd.choice(("true", "true", "raw")),
                    about=rnd.random() < 0.1,
                    grain_known=rnd.random() < 0.9,
                    wish=rnd.choice(WISHES),
                )
            except Problem:
                continue

    def outline(self) -> Outline:
        w = self.length(4, 16)
        h = self.length(4, 14)
        a = self.length(1, w / self.unit - 1)
        b = self.length(1, h / self.unit - 1)
        c = self.length(0, 2)
        forms: tuple[Outline, ...] = (
            ((0, 0), (w, 0), (w, h), (0, h)),
            ((0, 0), (w, 0), (w, b), (a, b), (a, h), (0, h)),  # an L
            (
                (0, 0),
                (w, 0),
                (w, h),
                (w - w // 4, h),
                (w - w // 4, b),
                (w // 4, b),
                (w // 4, h),
                (0, h),
            ),  # a notch
            ((0, 0), (w, 0), (a, h)),
            ((0, 0), (w, 0), (w - c, h), (c, h)),
            self.ring(w, h),
        )
        return self.random.choice(forms)

    def ring(self, w: int, h: int) -> Outline:
        """Five to nine corners round a middle, now nearer and now farther."""
        corners = self.random.randint(5, 9)
        turns = sorted(self.random.uniform(0, 2 * math.pi) for _ in range(corners))
        reach = [self.random.uniform(0.5, 1.0) for _ in turns]
        return tuple(
            (round(w / 2 * (1 + r * math.cos(t))), round(h / 2 * (1 + r * math.sin(t))))
            for t, r in zip(turns, reach, strict=True)
        )

    def flaw(self, outline: Outline) -> Outline:
        """A small square near a corner, clipped by nothing: where it leaves the piece the piece is drawn again."""
        (x, y), size = self.random.choice(outline), self.length(1, 2)
        dx = self.random.choice((0, -size))
        dy = self.random.choice((0, -size))
        return (
            (x + dx, y + dy),
            (x + dx + size, y + dy),
            (x + dx + size, y + dy + size),
            (x + dx, y + dy + size),
        )

    def shop(self, fabrics: tuple[Fabric, ...]) -> tuple[Offered, ...]:
        rnd = self.random
        out = list[Offered]()
        priced = rnd.random() < 0.8
        step = 10 * CM if self.metric else YARD // 8
        for fabric in fabrics:
            price = Decimal(rnd.randint(600, 1500)) / 100 if priced else None
            most = rnd.choice((None, None, 16 * step))
            width = 106 * CM if self.metric else rnd.choice((40, 42, 43)) * INCH
            if rnd.random() < 0.7:
                smallest = rnd.choice((0, step, 2 * step))
                bolt = ByLength(
                    fabric=fabric.name,
                    usable_width=width,
                    sold_by=step,
                    smallest=smallest,
                    most=most,
                )
                out.append(replace(bolt, price=price))
            if rnd.random() < 0.3:
                each = (54 * CM, 50 * CM) if self.metric else (21 * INCH, 18 * INCH)
                fat = Decimal(rnd.randint(250, 450)) / 100 if priced else None
                bundle = ByPiece(
                    fabric=fabric.name,
                    each_width=each[0],
                    each_length=each[1],
                    most=rnd.randint(1, 6),
                )
                out.append(replace(bundle, price=fat))
        return tuple(out)

    def cuts(
        self, fabrics: tuple[Fabric, ...], wanted: int, area: float
    ) -> tuple[Cut, ...]:
        """Rows that come to about so many rectangles and, where the sizes allow it, so much area."""
        rnd = self.random
        names = rnd.sample(CUTS, rnd.randint(3, len(CUTS)))
        each = max(1, wanted // len(names))
        side = math.sqrt(area / wanted) / self.unit
        return tuple(
            self.cut(name, each, min(6.5, max(1.5, side)), fabrics) for name in names
        )

    def cut(
        self, name: str, count: int, side: float, fabrics: tuple[Fabric, ...]
    ) -> Cut:
        rnd = self.random
        words = [fabric.name for fabric in fabrics] + [f"any {fabrics[0].value}"]
        allowed = (
            tuple(rnd.sample(words, rnd.randint(1, 2))) if rnd.random() < 0.7 else ()
        )
        grain, upright = rnd.choice(
            (
                ("any", False),
                ("any", False),
                ("any", True),
                ("along", False),
                ("across", False),
            )
        )
        return Cut(
            name=name,
            count=count,
            width=self.length(0.6 * side, side),
            length=self.length(0.8 * side, 1.8 * side),
            fabrics=allowed,
            grain=grain,
            upright=upright,  # type: ignore[arg-type]
            importance=rnd.choice(("must", "must", "must", "nice", "if left")),
            together="wood" if rnd.random() < 0.15 else "",
            most_each=max(1, count // 2) if rnd.random() < 0.2 else None,
        )

    def strips(self, fabrics: tuple[Fabric, ...]) -> tuple[Strip, ...]:
        rnd = self.random
        width = self.unit * 5 // 2
        return (
            Strip(
                name="binding",
                width=width,
                shortest=10 * self.unit,
                total_length=rnd.randint(60, 220) * self.unit,
                join=rnd.choice(("diagonal", "straight")),
                fabrics=(rnd.choice(fabrics).name,),
            ),
        )


def generated(seed: int, pieces: int | None = None, wanted: int | None = None) -> Job:
    """The job of a seed: the same one on every machine."""
    return Maker(seed).job(pieces, wanted)
