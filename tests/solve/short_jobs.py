"""Seeded small jobs in which most rows are short, and what is told of them, counted. All invented.

``python -m tests.solve.short_jobs 400`` plans so many of them and says how many of their short rows get a mend.
"""

from __future__ import annotations

import argparse
import random
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from cutopt.check import check
from cutopt.errors import JobError, Problem
from cutopt.fabric import ByLength, ByPiece, Fabric, Offered, Piece
from cutopt.job import Job
from cutopt.lengths import CM, INCH, METRE, MM, YARD
from cutopt.result import Evidence, Result
from cutopt.settings import Settings
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables.job.reading import read_job
from cutopt.tables.job.saving import save_job
from cutopt.wanted import Cut, Strip

FABRICS = ("pear", "plum", "oat")
CUTS = ("square", "slat", "window")
GRAINS = ("any", "any", "along", "across")
IMPORTANCES = ("must", "must", "must", "nice", "if left")
ROUNDS = 300


class Maker:
    """Draws one job from one stream of random numbers."""

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)
        self.metric = seed % 4 == 3
        self.grain = 5 * MM if self.metric else INCH // 8
        self.unit = (
            CM * 5 // 2 if self.metric else INCH
        )  # about an inch, on the grid of the job

    def length(self, low: float, high: float) -> int:
        """A length between so many inches, now and then off the grid."""
        ticks = (
            round(self.random.uniform(low, high) * self.unit / self.grain) * self.grain
        )
        return ticks + (MM if self.metric else INCH // 16) * (
            self.random.random() < 0.1
        )

    def job(self) -> Job:
        """A whole job: one to five leftovers, one to three rows and now and then a strip."""
        rnd = self.random
        fabrics = tuple(self.fabric(name) for name in FABRICS[: rnd.randint(1, 3)])
        names = [fabric.name for fabric in fabrics]
        turns = {"turns": rnd.choice((2, 3))} if rnd.random() < 0.1 else {}
        settings = Settings.metric() if self.metric else Settings()
        strips = (self.strip(names),) if rnd.random() < 0.4 else ()
        cuts = tuple(
            self.cut(name, names) for name in CUTS[: rnd.randint(0 if strips else 1, 3)]
        )
        return Job(
            name="short",
            settings=_with(settings, turns),
            fabrics=fabrics,
            shop=tuple(self.shop(names)),
            pieces=tuple(
                self.piece(i, rnd.choice(names)) for i in range(rnd.randint(1, 5))
            ),
            cuts=cuts,
            strips=strips,
        )

    def fabric(self, name: str) -> Fabric:
        """One with a one-way print now and then."""
        return Fabric(
            name=name, one_way=self.random.choice(("", "", "along", "across"))
        )

    def piece(self, number: int, fabric: str) -> Piece:
        """A small leftover; a rectangle, or one that lacks a corner."""
        rnd = self.random
        w = self.length(2, 14)
        h = self.length(2, 12)
        more: dict[str, Any] = {
            "edges": rnd.choice(("true", "true", "raw")),
            "grain_known": rnd.random() < 0.9,
            "wish": rnd.choice(("", "", "", "keep whole", "do not touch")),
            "count": rnd.choice((1, 1, 2)),
        }
        if rnd.random() < 0.7:
            return Piece.of_size(f"{fabric}-{number}", fabric, w, h, **more)
        a = w // 2
        b = h // 2
        corners = ((0, 0), (w, 0), (w, b), (a, b), (a, h), (0, h))
        return Piece(name=f"{fabric}-{number}", fabric=fabric, outline=corners, **more)

    def shop(self, names: list[str]) -> list[Offered]:
        """Little of what is wanted, in steps as odd as shops have them; often nothing at all."""
        rnd = self.random
        out = list[Offered]()
        steps = (
            (METRE // 10, METRE // 4, 30 * CM)
            if self.metric
            else (YARD // 8, YARD // 4, YARD // 3, 5 * INCH)
        )
        priced = rnd.random() < 0.8
        for name in names:
            price = Decimal(rnd.randint(400, 1500)) / 100 if priced else None
            if rnd.random() < 0.35:
                step = rnd.choice(steps)
                smallest = rnd.choice((0, 0, step, 2 * step))
                most = rnd.choice((None, 2 * step, 3 * step))
                width = rnd.choice((12, 20, 42)) * self.unit
                out.append(
                    ByLength(
                        fabric=name,
                        usable_width=width,
                        sold_by=step,
                        smallest=smallest,
                        most=most,
                        price=price,
                    )
                )
            if rnd.random() < 0.2:
                wide = self.length(4, 12)
                long = self.length(4, 12)
                out.append(
                    ByPiece(
                        fabric=name,
                        each_width=wide,
                        each_length=long,
                        most=rnd.randint(1, 2),
                        price=price,
                    )
                )
        return out

    def cut(self, name: str, names: list[str]) -> Cut:
        """A few rectangles, with the rules that rows have."""
        rnd = self.random
        count = rnd.choice((1, 2, 3, 6, 9))
        row: dict[str, Any] = {
            "name": name,
            "count": count,
            "width": self.length(1, 6),
            "length": self.length(1, 8),
            "importance": rnd.choice(IMPORTANCES),
            "together": "set" if rnd.random() < 0.25 else "",
            "most_each": max(1, count // 2) if rnd.random() < 0.15 else None,
            "fabrics": tuple(rnd.sample(names, rnd.randint(1, len(names))))
            if rnd.random() < 0.7
            else (),
        }
        return Cut(**row, grain=rnd.choice(GRAINS), upright=rnd.random() < 0.25)

    def strip(self, names: list[str]) -> Strip:
        """A binding or a strip in one segment."""
        rnd = self.random
        width = self.length(1, 3)
        return Strip(
            name="edge",
            width=width,
            total_length=width + self.length(6, 80),
            count=rnd.choice((1, 1, 2)),
            shortest=width + self.length(1, 6),
            join=rnd.choice(("diagonal", "straight", "none")),
            fabrics=(rnd.choice(names),) if rnd.random() < 0.8 else (),
            importance=rnd.choice(IMPORTANCES),
            grain=rnd.choice(GRAINS),
            together="set" if rnd.random() < 0.2 else "",
        )


def _with(settings: Settings, more: dict[str, Any]) -> Settings:
    return replace(settings, **more)


def short_job(seed: int) -> Job:
    """The job of a seed; one whose rows contradict each other is drawn again with the next stream."""
    for again in range(100):
        try:
            return Maker(seed + 1_000_000 * again).job()
        except (Problem, JobError):
            continue
    raise AssertionError(f"no job of seed {seed}")


def faults(result: Result) -> Iterator[str]:
    """What is told of short rows and rules without a plan that shows it, sentence by sentence."""
    plans = {each.said: each for each in result.evidence}
    told = [
        mend
        for offer in result.offers
        for short in offer.plan.short
        for mend in short.mends
    ]
    for said in (*told, *result.rules):
        yield from [f"no plan behind: {said}"] if said not in plans else []
    for each in result.evidence:
        yield from (f"{fault} ({each.said})" for fault in check(each.job, each.plan))
        yield from (f"{fault} ({each.said})" for fault in _unlike(result, each))
    before = {short.for_: short.count for short in result.plan.short}
    for short in result.plan.short:
        for mend in short.mends:
            yield from (
                f"{fault} ({mend})"
                for fault in _empty(short.for_, before, mend, plans.get(mend))
            )


def _empty(
    key: str, before: dict[str, int], said: str, each: Evidence | None
) -> Iterator[str]:
    """What a mend says that it leaves, against its plan; read from the sentence here."""
    after = (
        {} if each is None else {short.for_: short.count for short in each.plan.short}
    )
    _, _, tail = said.rpartition(": then ")
    if ": then " not in said:
        yield from (
            []
            if said.startswith("search") and key not in after
            else ["does not say what it leaves"]
        )
    elif tail.startswith("everything is there"):
        yield from ["something is short"] if after else []
    elif tail.startswith(f"all of {key.partition('/')[2]} is there"):
        yield from ["it is not all there"] if key in after else []
    elif "still short" not in tail:
        yield "does not say what it leaves"
    if after.get(key, 0) >= before[key]:
        yield "it leaves as much short as before"
    if any(
        count > before.get(other, 0)
        for other, count in after.items()
        if other in before
    ):
        yield "it takes from another row"


def _unlike(result: Result, each: Evidence) -> Iterator[str]:
    """A job that her tables would not hold, or that differs from hers in more than one table or setting."""
    with TemporaryDirectory() as folder:
        save_job(each.job, Path(folder) / "job")
        if read_job(Path(folder) / "job").digest != each.job.digest:
            yield "the tables would change it"
    fields = ("settings", "fabrics", "pieces", "shop")
    other = [
        name for name in fields if getattr(each.job, name) != getattr(result.job, name)
    ]
    rows = {*each.job.wanted} ^ {*result.job.wanted}
    if len(other) + bool(rows) > 1:
        yield "it changes more than one thing"


def main() -> None:
    """Plan so many jobs; say how many short rows they have, and how many of these get a mend."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("jobs", type=int)
    parser.add_argument("--first", type=int, default=0)
    asked = parser.parse_args()
    seen: Counter[str] = Counter()
    for seed in range(asked.first, asked.first + asked.jobs):
        try:
            result = solve(short_job(seed), Work(ROUNDS), seed=0)
        except Exception as error:  # an error of the program: counted
            seen[f"error: {type(error).__name__}: {error}"[:100]] += 1
            continue
        count(seen, result)
        for fault in faults(result):
            seen[f"FAULT of {seed}: {fault}"] += 1
    for name, number in sorted(seen.items()):
        sys.stdout.write(f"{number:6} {name}\n")


def count(seen: Counter[str], result: Result) -> None:
    """Add what one result tells."""
    seen["jobs"] += 1
    for short in result.plan.short:
        kind = result.job.row(short.for_).importance
        seen[f"short rows: {kind}"] += 1
        seen[f"short rows with a mend: {kind}"] += bool(short.mends)
        seen["mends"] += len(short.mends)
    seen["rules that cost something"] += len(result.rules)


if __name__ == "__main__":
    main()
