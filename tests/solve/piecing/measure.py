"""What the solver does on piles out of which a back is to be sewn: a measure, not a test. From the folder of the project:

    python -m tests.solve.piecing.measure --seconds 5
    python -m tests.solve.piecing.measure --work 2000 --kind odd --numbers 0 5
    python -m tests.solve.piecing.measure --perfect --seconds 5

Each plan is judged by the checker. Beside it stand what a careful hand buys, what the cheapest back of new cloth costs,
and what no back can do with less of: as the result says, and as the bound says when it is asked by itself. The figures
depend on the machine and on who else uses it; Ctrl-C ends a measure, and what is done is told.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from statistics import median

import cutopt as co
from cutopt.bench.report import aligned
from cutopt.job import Job
from cutopt.plan import BUYING_LEVELS, Plan
from cutopt.result import Moment, Result
from cutopt.solve.bounds.back_bound import least_to_buy
from cutopt.solve.control.stop import Seconds, Stop, Work
from tests.solve.piecing.by_hand import HandBack, by_hand, whole_bought
from tests.solve.piecing.perfect import PARTS, perfect
from tests.solve.piecing.piles import COUNT, KINDS, piles

_HEAD = (
    *("pile", "pieces", "money", "seams", "parts", "hand", "seams", "whole", "bound"),
    *("least", "first s", "last s", "so"),
)


@dataclass(frozen=True, kw_only=True)
class Found:
    """What came of a pile, and what others make of it; `faults` are those that the checker found."""

    name: str
    job: Job
    result: Result
    hand: HandBack
    whole: Decimal
    faults: tuple[str, ...]

    @property
    def plan(self) -> Plan:
        """The plan that buys least."""
        return self.result.plan

    @property
    def complete(self) -> bool:
        """Whether the back is there."""
        return self.result.complete and not self.plan.lacking and self.parts > 0

    @property
    def money(self) -> Decimal:
        """What the plan costs."""
        return self.plan.totals.money or Decimal(0)

    @property
    def parts(self) -> int:
        """Of the back, spare blocks counted."""
        (back,) = self.job.backs
        used = sum(use.for_ == back.key for use in self.plan.uses)
        return used + len(self.plan.trims)

    @property
    def bound(self) -> Decimal:
        """What no plan costs less than, as the result says."""
        bounds = [
            level.bound for level in self.plan.levels if level.name in BUYING_LEVELS
        ]
        return Decimal(bounds[0]) if bounds else Decimal(0)

    @cached_property
    def least(self) -> Decimal:
        """What no back costs less than, asked of the bound itself."""
        (back,) = self.job.backs
        return Decimal(least_to_buy(self.job, back, sharp=True).cost) / 100

    @property
    def proved(self) -> bool:
        """Whether nothing cheaper is to be had."""
        return self.complete and self.money <= self.bound

    @property
    def first(self) -> float | None:
        """Seconds until there was a whole back."""
        return next((moment.seconds for moment in self._wholes), None)

    @property
    def last(self) -> float | None:
        """Seconds until the cheapest was found."""
        least = min((moment.value for moment in self._wholes), default=None)
        return next((m.seconds for m in self._wholes if m.value == least), None)

    @property
    def _wholes(self) -> list[Moment]:
        return [moment for moment in self.result.history if moment.complete]

    @property
    def so(self) -> str:
        """How it ended."""
        if self.faults:
            return f"FAULTS {self.faults[0]}"
        if not self.complete:
            return "not there"
        return "proved" if self.proved else "open"


def jobs_of(
    kinds: Sequence[str], numbers: range, perfect_ones: bool
) -> Iterator[tuple[str, Job]]:
    """The piles that are asked for, by name.

    Parameters
    ----------
    kinds : sequence of str
    numbers : range
        Of each kind; of perfect piles, the numbers of their parts.
    perfect_ones : bool
        Perfect piles and no others.
    """
    if perfect_ones:
        for parts in PARTS:
            if parts in numbers:
                yield f"perfect {parts}", perfect(parts)
        return
    for pile in piles():
        if pile.kind in kinds and pile.number in numbers:
            yield pile.name, pile.job


def measured(jobs: Iterable[tuple[str, Job]], stop: Stop, seed: int) -> Iterator[Found]:
    """Each pile solved, checked, and made by hand; until Ctrl-C.

    Parameters
    ----------
    jobs : iterable of (name, Job)
    stop : Stop
    seed : int
    """
    try:
        for name, job in jobs:
            result = co.solve(job, stop=stop, seed=seed)
            yield Found(
                name=name,
                job=job,
                result=result,
                hand=by_hand(job),
                whole=whole_bought(job)[0],
                faults=tuple(map(str, co.check(job, result.plan))),
            )
    except KeyboardInterrupt:
        sys.stderr.write("Stopped.\n")


def line_of(one: Found) -> tuple[str, ...]:
    """A pile as a line of the table."""
    sewn = one.plan.totals.seams
    return (
        one.name,
        str(sum(piece.count for piece in one.job.pieces)),
        *((f"{one.money:.2f}", f"{sewn}") if one.complete else ("-", "-")),
        f"{one.parts}",
        f"{one.hand.money:.2f}",
        f"{one.hand.seams}",
        f"{one.whole:.2f}",
        f"{one.bound:.2f}",
        f"{one.least:.2f}",
        "-" if one.first is None else f"{one.first:.2f}",
        "-" if one.last is None else f"{one.last:.2f}",
        one.so,
    )


def summary(found: Sequence[Found]) -> Iterator[str]:
    """What the piles come to."""
    there = [one for one in found if one.complete]
    yield f"whole backs: {len(there)} of {len(found)}, faulty plans: {sum(bool(one.faults) for one in found)}"
    money = sum((one.money for one in there), start=Decimal(0))
    hand = sum((one.hand.money for one in there), start=Decimal(0))
    whole = sum((one.whole for one in there), start=Decimal(0))
    bound = sum((one.bound for one in there), start=Decimal(0))
    least = sum((one.least for one in there), start=Decimal(0))
    yield f"money {money:.2f}, by hand {hand:.2f}, bought whole {whole:.2f}, bound {bound:.2f} (asked by itself {least:.2f})"
    seams = sum(one.plan.totals.seams for one in there)
    yield f"seams {seams}, by hand {sum(one.hand.seams for one in there)}"
    less = sum(one.money < one.hand.money for one in there)
    more = sum(one.money > one.hand.money for one in there)
    yield f"cheaper than by hand in {less}, dearer in {more}"
    if there:
        proved = sum(one.proved for one in there)
        yield f"proved {proved} of {len(there)}"
        firsts = [one.first for one in there if one.first is not None]
        lasts = [one.last for one in there if one.last is not None]
        if firsts:
            yield f"first back: median {median(firsts):.2f} s, most {max(firsts):.2f} s; last gain: median {median(lasts):.2f} s"


def main(arguments: Sequence[str] | None = None) -> int:
    """Measure, and print the table; 1 where a plan has a fault."""
    top = argparse.ArgumentParser(prog="python -m tests.solve.piecing.measure")
    limit = top.add_mutually_exclusive_group()
    limit.add_argument("--seconds", type=float, default=5.0)
    limit.add_argument("--work", type=int)
    top.add_argument("--seed", type=int, default=0)
    top.add_argument("--kind", choices=KINDS, nargs="+", default=KINDS)
    top.add_argument("--perfect", action="store_true", help="perfect piles")
    top.add_argument("--numbers", type=int, nargs=2, metavar=("FIRST", "END"))
    told = top.parse_args(arguments)
    if told.numbers:
        numbers = range(*told.numbers)
    else:
        numbers = PARTS if told.perfect else range(COUNT)
    stop: Stop = Seconds(told.seconds) if told.work is None else Work(told.work)
    jobs = jobs_of(told.kind, numbers, told.perfect)
    found = []
    for one in measured(jobs, stop, told.seed):
        found.append(one)
        sys.stdout.write(f"{' '.join(line_of(one))}\n")
        sys.stdout.flush()
    lines = [*aligned([_HEAD, *map(line_of, found)]), "", *summary(found)]
    sys.stdout.write("\n" + "".join(f"{line}\n" for line in lines))
    return int(any(one.faults for one in found))


if __name__ == "__main__":
    sys.exit(main())
