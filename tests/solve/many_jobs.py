"""Random jobs of every kind, planned and judged statement by statement: a measure, and a few of them a test.

    python -m tests.solve.many_jobs 0 5000 --work 300 --faults faults.txt

Each job is drawn from its number. It is planned, every offer and every plan behind a statement is given to the checker,
and what is said is compared with these plans. Of one job in fifty the pages are written too. All jobs are invented.
"""

from __future__ import annotations

import argparse
import re
import sys
import time
import traceback
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory

from tqdm import tqdm

from cutopt.app.telling import summary
from cutopt.check import check
from cutopt.errors import JobError, Problem
from cutopt.fabric import ByLength, Offered
from cutopt.job import Job
from cutopt.lengths import CM, INCH, YARD
from cutopt.pages import write_pages
from cutopt.plan import Plan
from cutopt.result import Result, WidthCase
from cutopt.settings import Settings
from cutopt.solve.control.stop import Work
from cutopt.solve.search import prepare
from cutopt.solve.solver import solve
from cutopt.tables import read_job, save_job
from tests.solve.generate import Maker as Large
from tests.solve.short_jobs import Maker as Short

ROUNDS = 300
PAGES_EVERY = 50
AGAIN_EVERY = 10
ODD_STEPS = (
    YARD // 8,
    YARD // 4,
    7 * YARD // 16,
    10 * CM,
    25 * CM,
    33 * CM,
    INCH,
    YARD,
)
NOT_WORDS = re.compile(
    r"\b(None|nan|inf|Traceback|Fraction|Decimal)\b|<[a-z]+ object|  +\S|\b0 of \w"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What came of a job: faults in words, how long it took, of what kind the statements were."""

    seed: int
    seconds: float
    faults: tuple[str, ...]
    kinds: tuple[str, ...] = ()


class Mixed(Large):
    """Jobs with few or some pieces, and steps of the sale that belong to the other unit, or to none."""

    def mixed(self) -> Job:
        rnd = self.random
        job = self.job(rnd.randint(1, 9), rnd.randint(3, 36))
        turns = rnd.choice((None, None, None, None, 2, 3))
        shop = tuple(map(self.odd, job.shop))
        return replace(job, settings=replace(job.settings, turns=turns), shop=shop)

    def odd(self, offered: Offered) -> Offered:
        rnd = self.random
        if not isinstance(offered, ByLength) or rnd.random() < 0.5:
            return offered
        step = rnd.choice(ODD_STEPS)
        most = rnd.choice((None, None, step, 3 * step))
        price = rnd.choice((None, offered.price, offered.price))
        return replace(
            offered,
            sold_by=step,
            smallest=rnd.choice((0, step)),
            most=most,
            price=price,
        )


def job_of(seed: int) -> Job:
    """The job of a number: two in three mixed, one in three short of cloth."""
    for attempt in range(100):
        drawn = seed + 12 * 10**6 * attempt  # of the same kind and unit
        try:
            return Short(drawn).job() if seed % 3 == 2 else Mixed(drawn).mixed()
        except (Problem, JobError):  # what was drawn contradicts itself
            continue
    raise AssertionError(f"no sound job for {seed}")


def judged(seed: int, rounds: int = ROUNDS) -> Judged:
    """Plan one job and judge all that is said; an error of the program is a fault too."""
    begun = time.perf_counter()
    kinds = []
    try:
        job = job_of(seed)
        result = solve(job, Work(rounds), seed=seed % 7)
        faults = list(faults_of(result, seed, rounds))
        kinds = list(kinds_of(result))
    except Exception:
        faults = [traceback.format_exc(limit=-6)]
    return Judged(
        seed=seed,
        seconds=time.perf_counter() - begun,
        faults=tuple(faults),
        kinds=tuple(kinds),
    )


def faults_of(result: Result, seed: int, rounds: int) -> Iterator[str]:
    """All that is wrong with a result."""
    job = result.job
    for offer in result.offers:
        yield from (f"offer {offer.name}: {fault}" for fault in check(job, offer.plan))
        yield from levels_of(offer.plan, offer.name)
    for evidence in result.evidence:
        yield from (
            f"evidence of {evidence.said!r}: {fault}"
            for fault in check(evidence.job, evidence.plan)
        )
    yield from widths_of(result)
    yield from mends_of(result)
    yield from words_of(result)
    if seed % AGAIN_EVERY == 0:
        yield from bound_of(result, solve(job, Work(3 * rounds), seed=seed + 1))
    if seed % PAGES_EVERY == 0:
        yield from pages_of(result)


def levels_of(plan: Plan, name: str) -> Iterator[str]:
    """No value below its bound; proved says that they meet."""
    for level in plan.levels:
        value, bound = map(number, (level.value, level.bound))
        if value is None or bound is None:
            continue
        if value < bound:
            yield f"{name}: {level.name} {level.value} below its bound {level.bound}"
        if level.proved != (value == bound):
            yield f"{name}: {level.name} {level.value} and {level.bound}, proved {level.proved}"


def number(text: str) -> Decimal | None:
    """A level's figure where it is a plain number."""
    return Decimal(text) if re.fullmatch(r"\d+(\.\d+)?", text) else None


def widths_of(result: Result) -> Iterator[str]:
    """Each case is a plan for cloth of its width, and none at the planned width or below is cheaper than the plan."""
    cheapest: Decimal | None = None
    for case in result.widths:
        yield from case_of(result, case)
        if case.complete and case.money is not None:
            if cheapest is not None and case.money > cheapest:
                yield f"width {case.usable_width}: {case.money}, narrower cloth does for {cheapest}"
            cheapest = case.money


def case_of(result: Result, case: WidthCase) -> Iterator[str]:
    """One width: its plan holds, costs what is said, and has all where that is said."""
    plan = case.plan
    if plan.origin is None:
        yield f"width {case.usable_width}: its plan does not know its job"
        return
    yield from (
        f"width {case.usable_width}: {fault}" for fault in check(plan.origin, plan)
    )
    if case.money is not None and case.money != plan.totals.money:
        yield f"width {case.usable_width}: {case.money} said, {plan.totals.money} in its plan"
    if case.complete and plan.lacking:
        yield f"width {case.usable_width}: said to be complete, lacks {plan.lacking}"
    planned = {row.usable_width for row in result.job.shop if isinstance(row, ByLength)}
    paid = result.plan.totals.money
    priced = all(
        row.price is not None for row in result.job.shop
    )  # else the least length is looked for, not money
    narrower = priced and planned and case.usable_width <= min(planned)
    if (
        narrower
        and result.complete
        and case.complete
        and None not in (paid, case.money)
        and case.money < paid
    ):  # type: ignore[operator]
        yield f"width {case.usable_width}: {case.money} is less than the plan's {paid}"


def mends_of(result: Result) -> Iterator[str]:
    """A mend that says what to buy, cut or sew has a plan behind it."""
    said = {evidence.said for evidence in result.evidence}
    free = ("search for longer", "allow more", "round its size", "more time")
    for offer in result.offers:
        for short in offer.plan.short:
            if short.count <= 0:
                yield f"{short.for_}: short of {short.count}"
            for mend in short.mends:
                if not any(
                    mend.startswith(one) or one.startswith(mend) for one in said
                ) and not mend.startswith(free):
                    yield f"mend without a plan: {mend}"


def words_of(result: Result) -> Iterator[str]:
    """What is said at the end reads as sentences, and does not say that all is well where something is missing."""
    text = "\n".join(
        line.strip() for line in summary(result) if "  " not in line.strip()
    )
    for line in text.splitlines():
        if NOT_WORDS.search(line):
            yield f"not a quilter's words: {line}"
    lacks = any(
        result.job.row(short.for_).importance == "must" for short in result.plan.short
    )
    if lacks == result.complete:
        yield f"complete {result.complete}, though something that must be cut is missing: {lacks}"
    if lacks and re.search(
        r"pile is enough|all there|everything that must be cut is there",
        text,
        re.IGNORECASE,
    ):
        yield "it says that all is there, and something is missing"


def bound_of(result: Result, other: Result) -> Iterator[str]:
    """No other plan for the job costs less than what no plan can cost less than."""
    if not (result.complete and other.complete):
        return
    for mine, plan in ((result, other.plan), (other, result.plan)):
        least = mine.levels[0].bound
        paid = plan.levels[0].value
        if None not in (number(least), number(paid)) and number(paid) < number(least):  # type: ignore[operator]
            yield f"{paid} is paid by a plan, {least} was said to be the least"


def pages_of(result: Result) -> Iterator[str]:
    """The pages can be written, and the job survives being saved and read."""
    with TemporaryDirectory() as home:
        written = write_pages(result, Path(home) / "out")
        if not all(path.stat().st_size for path in written):
            yield "an empty page"
        save_job(result.job, Path(home) / "job")
        if read_job(Path(home) / "job").digest != result.job.digest:
            yield "saved and read, the job is another"


def kinds_of(result: Result) -> Iterator[str]:
    """What is counted."""
    yield "complete" if result.complete else "short"
    if result.levels and result.levels[0].proved:
        yield "proved"
    if result.widths:
        yield "with other widths"
    yield from ("with a reason",) * bool(result.because)
    yield from ("with what a rule costs",) * bool(result.rules)
    yield from ("plans behind statements",) * len(result.evidence)
    yield from ("mends",) * sum(
        len(short.mends) for offer in result.offers for short in offer.plan.short
    )
    yield from ("metric",) * (result.job.settings.unit == Settings.metric().unit)


def main(arguments: Sequence[str] | None = None) -> int:
    """Judge jobs, and say what came of them; 1 where there was any fault."""
    top = argparse.ArgumentParser(prog="python -m tests.solve.many_jobs")
    top.add_argument("first", type=int)
    top.add_argument("end", type=int)
    top.add_argument("--work", type=int, default=ROUNDS)
    top.add_argument("--faults", type=Path, default=Path("faults.txt"))
    told = top.parse_args(arguments)
    prepare.wait()
    kinds: Counter[str] = Counter()
    wrong = 0
    seconds = list[float]()
    seeds = range(told.first, told.end)
    with told.faults.open("w", encoding="utf-8") as out, ProcessPoolExecutor(2) as pool:
        for one in tqdm(
            pool.map(judged, seeds, [told.work] * len(seeds)),
            total=len(seeds),
            mininterval=10,
        ):
            kinds.update(one.kinds)
            seconds.append(one.seconds)
            wrong += bool(one.faults)
            out.writelines(f"{one.seed}: {fault}\n" for fault in one.faults)
            out.flush()
    sys.stdout.write(f"{len(seeds)} jobs, {wrong} with a fault; {dict(kinds)}\n")
    sys.stdout.write(
        f"seconds a job: mean {sum(seconds) / len(seconds):.2f}, most {max(seconds):.1f}\n"
    )
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
