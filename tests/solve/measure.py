"""What the solver does on whole invented jobs (`generate.py`): a measure, not a test. From the folder of the project:

    python -m tests.solve.measure jobs --seeds 0 100 --seconds 5 --longer 60
    python -m tests.solve.measure growth --seeds 0 3 --seconds 20 --pieces 10 20 40 80 160
    python -m tests.solve.measure growth --seeds 0 3 --seconds 60 --pieces 500

The figures depend on the machine and on who else uses it. Ctrl-C ends a measure, and what is done is told.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from statistics import mean, median

from tqdm import tqdm

from cutopt.bench.hand_methods import HandPlan, careful_hand, strip_method
from cutopt.bench.memory import forget_peak, peak_mb
from cutopt.bench.report import aligned
from cutopt.job import Job
from cutopt.result import Moment
from cutopt.solve.control.progress import Progress
from cutopt.solve.control.stop import Seconds
from cutopt.solve.run import Run
from cutopt.solve.search import prepare
from cutopt.wanted import Cut
from tests.solve.generate import generated

PARTS_A_PIECE = 4  # of growing jobs


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """How a search ended. `cost` and `bound` are money, or ticks to buy where a job has no prices; `peak` is in MB."""

    seed: int
    job: Job
    cost: Decimal
    bound: Decimal
    complete: bool
    impossible: bool
    history: tuple[Moment, ...]
    peak: float

    @property
    def proved(self) -> bool:
        """Whether everything is there, and no plan can buy less."""
        return self.complete and self.cost <= self.bound

    @property
    def gap(self) -> Decimal:
        """How much of the cost lies above the bound, in per cent."""
        return 100 * (self.cost - self.bound) / self.cost if self.cost else Decimal(0)

    @property
    def near(self) -> float | None:
        """Seconds until a plan with everything cost within 2 % of the best one."""
        plans = [moment for moment in self.history if moment.complete]
        return next(
            (
                plan.seconds
                for plan in plans
                if plan.value * 100 <= plans[-1].value * 102
            ),
            None,
        )


def search(seed: int, job: Job, seconds: float) -> Found:
    """The search of a plan, without what follows it (cuts in order, mends)."""
    forget_peak()
    run = Run(job, Seconds(seconds), 0, Progress())
    try:
        run._search()
        return Found(
            seed=seed,
            job=job,
            cost=run.money(run.engine.cost),
            bound=run.money(run.bound),
            complete=run.complete,
            impossible=any(run.hopeless) or not run.feed.bound.possible,
            history=tuple(run.history),
            peak=peak_mb(),
        )
    finally:
        run.engine.close()
        run.feed.close()


def searches(jobs: Sequence[tuple[int, Job]], seconds: float) -> Iterator[Found]:
    """A search of each job, until Ctrl-C."""
    bar = tqdm(jobs, unit="job", disable=not sys.stderr.isatty())
    try:
        for seed, job in bar:
            yield search(seed, job, seconds)
    except KeyboardInterrupt:
        bar.close()
        sys.stderr.write("Stopped.\n")


def tell(*lines: str) -> None:
    """Write lines at once: a measure takes long."""
    sys.stdout.write("".join(f"{line}\n" for line in lines))
    sys.stdout.flush()


# -- many jobs -------------------------------------------------------------------------------------


def jobs(seeds: range, seconds: float, longer: float | None) -> None:
    """Each job for some seconds, beside both hands; then those that stayed open for longer."""
    found = list(searches([(seed, generated(seed)) for seed in seeds], seconds))
    if not found:
        return
    head = "seed", "pieces", "parts", "cost", "bound", "gap %", "first s", "MB", "so"
    tell(
        *aligned([head, *map(job_line, found)]),
        "",
        *summary(found),
        *beside_hands(found),
    )
    still_open = [one for one in found if how(one) == "open"]
    if longer is not None and still_open:
        tell("", *for_longer(still_open, longer))


def job_line(one: Found) -> Sequence[str]:
    """A job as a line of the table."""
    return (
        f"{one.seed}",
        f"{pieces_of(one.job)}",
        f"{parts_of(one.job)}",
        f"{one.cost:.2f}",
        f"{one.bound:.2f}",
        f"{one.gap:.1f}" if one.complete else "-",
        f"{one.history[0].seconds:.3f}",
        f"{one.peak:.0f}",
        how(one),
    )


def how(one: Found) -> str:
    """How the search ended."""
    if one.complete:
        return "proved" if one.proved else "open"
    return "proved impossible" if one.impossible else "not all there"


def pieces_of(job: Job) -> int:
    """How many pieces lie in the pile."""
    return sum(piece.count for piece in job.pieces)


def parts_of(job: Job) -> int:
    """How many rectangles are wanted, strips apart."""
    return sum(cut.count for cut in job.cuts)


def summary(found: Sequence[Found]) -> Iterator[str]:
    """What the jobs come to."""
    complete = [one for one in found if one.complete]
    yield f"complete {len(complete)} of {len(found)}, of these for the least there is {sum(c.proved for c in complete)}"
    if complete:
        gaps = [one.gap for one in complete]
        yield f"gap to the bound: median {median(gaps):.2f} %, within 5 % {sum(gap <= 5 for gap in gaps)}"
    rest = [one for one in found if not one.complete]
    yield f"not complete {len(rest)}, of these proved impossible {sum(one.impossible for one in rest)}"
    firsts = [one.history[0].seconds for one in found]
    yield f"first plan: median {median(firsts):.3f} s, most {max(firsts):.3f} s"


def beside_hands(found: Sequence[Found]) -> Iterator[str]:
    """What both hands pay beside us."""
    for name, hand in (("careful hand", careful_hand), ("strip method", strip_method)):
        paid = both_pay(found, hand)
        less, more = (
            sum(sign * (ours - theirs) > 0 for ours, theirs in paid) for sign in (-1, 1)
        )
        shares = [ours / theirs for ours, theirs in paid if theirs]
        ratio = (
            f"; ours / theirs: median {median(shares):.3f}, mean {mean(shares):.3f}"
            if shares
            else ""
        )
        yield f"{name}: {len(paid)} jobs that it can do too, ours less in {less}, more in {more}{ratio}"


def both_pay(
    found: Sequence[Found], hand: Callable[[Job], HandPlan]
) -> list[tuple[Decimal, Decimal]]:
    """What we and a hand pay where both have everything; a hand heeds neither `together` nor `most_each`."""
    free = [
        one
        for one in found
        if one.complete
        and not any(cut.together or cut.most_each for cut in musts(one.job))
    ]
    plans = [(one, hand(one.job)) for one in free]
    return [(one.cost, plan.cost) for one, plan in plans if not plan.missing]


def musts(job: Job) -> list[Cut]:
    """The rectangles that must be there."""
    return [cut for cut in job.cuts if cut.importance == "must"]


def for_longer(short: Sequence[Found], seconds: float) -> Iterator[str]:
    """The same jobs for longer, and how far off the shorter searches were."""
    found = searches([(one.seed, one.job) for one in short], seconds)
    pairs = [
        (one, longer)
        for one, longer in zip(short, found, strict=False)
        if longer.complete
    ]
    yield from aligned(
        [("seed", "cost before", "after", "bound", "so")]
        + [
            (f"{a.seed}", f"{a.cost:.2f}", f"{b.cost:.2f}", f"{b.bound:.2f}", how(b))
            for a, b in pairs
        ]
    )
    near = sum(a.cost * 100 <= b.cost * 101 for a, b in pairs)
    proved = sum(b.proved for _, b in pairs)
    yield f"after {seconds:g} s: {near} of {len(pairs)} had been within 1 %, {proved} are proved now"


# -- growth ----------------------------------------------------------------------------------------


def growth(seeds: range, seconds: float, pieces: Sequence[int]) -> None:
    """Jobs of more and more pieces, four wanted parts for each."""
    jobs_ = [
        (seed, generated(seed, count, PARTS_A_PIECE * count))
        for count in pieces
        for seed in seeds
    ]
    found = list(searches(jobs_, seconds))
    head = "pieces", "parts", "seed", "first s", "near s", "cost", "bound", "MB", "so"
    tell(*aligned([head, *map(growth_line, found)]), "", *beside_hands(found))


def growth_line(one: Found) -> Sequence[str]:
    """A job of a growth as a line of the table; `near s` is the time to within 2 % of the best plan."""
    return (
        f"{pieces_of(one.job)}",
        f"{parts_of(one.job)}",
        f"{one.seed}",
        f"{one.history[0].seconds:.3f}",
        "-" if one.near is None else f"{one.near:.2f}",
        f"{one.cost:.2f}",
        f"{one.bound:.2f}",
        f"{one.peak:.0f}",
        how(one),
    )


def main() -> None:
    """Read what is wanted, and measure it."""
    top = argparse.ArgumentParser(
        prog="python -m tests.solve.measure",
        description="Measure the solver on whole jobs.",
    )
    top.add_argument("what", choices=("jobs", "growth"))
    top.add_argument(
        "--seeds",
        type=int,
        nargs=2,
        metavar=("FIRST", "END"),
        default=(0, 100),
        help="END not included",
    )
    top.add_argument("--seconds", type=float, default=5.0, help="for each job (5)")
    top.add_argument(
        "--longer",
        type=float,
        metavar="S",
        help="jobs: search those that stay open for so long again",
    )
    top.add_argument(
        "--pieces",
        type=int,
        nargs="+",
        default=[10, 20, 40, 80, 160],
        help="growth: pieces in the pile",
    )
    told = top.parse_args()
    prepare.wait()
    if told.what == "jobs":
        jobs(range(*told.seeds), told.seconds, told.longer)
    else:
        growth(range(*told.seeds), told.seconds, told.pieces)


if __name__ == "__main__":
    main()
