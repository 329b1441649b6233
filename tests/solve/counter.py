"""Small jobs of a quilter's counter: a few leftovers, one to three fabrics by length or by the piece. All invented."""

from __future__ import annotations

import random
from decimal import Decimal

from cutopt.fabric import ByLength, ByPiece, Fabric, Offered, Piece
from cutopt.job import Job
from cutopt.lengths import CM, INCH, YARD
from cutopt.settings import Settings
from cutopt.wanted import Cut, Strip

NAMES = ("oat", "pear", "plum")


class Counter:
    """Draws one job from one stream of random numbers; sizes on halves of an inch, or of a centimetre times 2.5."""

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)
        self.metric = seed % 6 == 5
        self.half = CM * 5 // 4 // 320 * 320 if self.metric else INCH // 2
        self.names = NAMES[: self.random.choice((1, 1, 1, 2, 2, 3))]

    def inches(self, low: int, high: int) -> int:
        return self.random.randint(2 * low, 2 * high) * self.half

    def job(self) -> Job:
        rnd = self.random
        pile = [self.piece(k) for k in range(rnd.choice((0, 0, 1, 2, 4)))]
        shop = [offered for name in self.names for offered in self.offered(name)]
        settings = Settings.metric() if self.metric else Settings()
        return Job(
            name="counter",
            settings=settings,
            fabrics=tuple(Fabric(name=name) for name in self.names),
            pieces=tuple(pile),
            shop=tuple(shop),
            cuts=tuple(self.cut(k) for k in range(rnd.randint(1, 4))),
            strips=tuple(self.strips()),
        )

    def piece(self, number: int) -> Piece:
        rnd = self.random
        w = self.inches(5, 24)
        length = self.inches(5, 24)
        fabric = rnd.choice(self.names)
        if rnd.random() < 0.7:
            return Piece.of_size(f"p{number}", fabric, w, length)
        ell = (
            (0, 0),
            (w, 0),
            (w, length // 2),
            (w // 2, length // 2),
            (w // 2, length),
            (0, length),
        )
        return Piece(name=f"p{number}", fabric=fabric, outline=ell)

    def offered(self, name: str) -> list[Offered]:
        rnd = self.random
        price = Decimal(self.random.randint(6, 14))
        step = 10 * CM if self.metric else YARD // rnd.choice((8, 8, 4, 1))
        smallest = rnd.choice((0, 0, 2 * step, 4 * step))
        width = (
            (rnd.choice((106, 110)) * CM)
            if self.metric
            else rnd.choice((40, 42, 44)) * INCH
        )
        bolt = ByLength(
            fabric=name,
            usable_width=width,
            sold_by=step,
            smallest=smallest,
            price=price,
        )
        each = ByPiece(
            fabric=name,
            each_width=42 * self.half,
            each_length=36 * self.half,
            most=6,
            price=price / 4,
        )
        kind = rnd.random()
        return [bolt] if kind < 0.75 else [bolt, each] if kind < 0.9 else [each]

    def cut(self, number: int) -> Cut:
        rnd = self.random
        w = self.inches(2, 20)
        length = self.inches(2, 20)
        allowed = (
            tuple(rnd.sample(self.names, rnd.randint(1, len(self.names))))
            if rnd.random() < 0.8
            else ()
        )
        return Cut(
            name=f"c{number}",
            width=w,
            length=w if rnd.random() < 0.4 else length,
            count=rnd.randint(1, 24),
            fabrics=allowed,
            grain=rnd.choice(("any", "any", "along", "across")),
            together="set" if rnd.random() < 0.08 else "",
            most_each=12 if len(self.names) > 1 and rnd.random() < 0.1 else None,
        )

    def strips(self) -> list[Strip]:
        rnd = self.random
        if rnd.random() < 0.75:
            return []
        long = rnd.randint(40, 240) * 2 * self.half
        shortest = 20 * self.half
        return [
            Strip(
                name="binding",
                width=5 * self.half,
                total_length=long,
                shortest=shortest,
                join="diagonal",
            )
        ]


def counter(seed: int) -> Job:
    """The job of a seed: the same one on every machine."""
    return Counter(seed).job()
