"""Make-ups of the backs of a job: searched for in courses, until a share of the limit is spent."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from typing import Final, TypeAlias

from cutopt.job import Job
from cutopt.piecing import Back
from cutopt.solve.control.progress import Progress
from cutopt.solve.control.stop import Meter, Work
from cutopt.solve.piecing import ready
from cutopt.solve.piecing.make_up import MakeUp
from cutopt.solve.piecing.task import Task, tasks_of
from cutopt.solve.piecing.trees import COURSE, Trees

# a make-up for each back that can be made
Made: TypeAlias = tuple[tuple[Back, MakeUp], ...]
# rounds of the search for trees that take as long as one of the other search
_AS_LONG: Final = 16
_FIRST_COURSE: Final = 4_000
_PLAIN_COURSE: Final = 40
_SMALL_COURSE: Final = 64
# seconds that a search by the clock waits for its kernels
_LONGEST_WAIT: Final = 120
# courses after which a back that costs nothing is sought no further
_ENOUGH: Final = 8


class MakeUps:
    """The search for make-ups of all backs of a job.

    Parameters
    ----------
    job : Job
    meter : Meter
        Its limit; rounds are counted in it.
    seed : int
    progress : Progress
    told : callable
        Called with the least cost known, or None, after each course.
    """

    def __init__(
        self,
        job: Job,
        meter: Meter,
        seed: int,
        progress: Progress,
        told: Callable[[int | None], None],
    ) -> None:
        self.job = job
        self.meter = meter
        self.seed = seed
        self.progress = progress
        self.told = told
        # a cost that no back of the job goes below
        self.enough = 0

    def found(
        self, since: float, until: float, taken: Counter[str] | None = None
    ) -> list[Made]:
        """Sets of make-ups, the cheapest of each back first, then with others of one back.

        Parameters
        ----------
        since, until : float
            Shares of the limit, at which the search begins and ends.
        taken : Counter, optional
            Of pieces by name, how many are not to be used.
        """
        chosen: list[tuple[Back, list[MakeUp]]] = []
        each = (until - since) / len(self.job.backs)
        taken = Counter(taken)
        for number, back in enumerate(self.job.backs, start=1):
            front = self._front(back, since + each * number, taken)
            if front:
                chosen.append((back, front))
                used = {(laid.piece, laid.copy) for laid in front[0].laid}
                taken.update(piece for piece, _ in used)
        if not chosen:
            return []
        best = tuple((back, front[0]) for back, front in chosen)
        others = (
            _with(best, back, other) for back, front in chosen for other in front[1:]
        )
        return [best, *others]

    def _front(self, back: Back, until: float, taken: Counter[str]) -> list[MakeUp]:
        """Make-ups of a back of which none is better in money and in parts, the cheapest first."""
        self._get_ready()
        pairs = [
            (self._trees(task, 0), self._trees(task, 1))
            for task in tasks_of(self.job, back, taken)
        ]
        number = 0
        with ThreadPoolExecutor(2) as pool:
            while True:
                pair = pairs[number % len(pairs)]
                number += 1
                self._courses(pair, number, pool)
                least = pair[0].least
                proved = least is not None and least <= self.enough
                if (proved and number > _ENOUGH) or self.meter.over(until):
                    break
        # both of a pair know the same by now
        found = [each for one, _ in pairs for each in one.make_ups()]
        found += [each for one, _ in pairs for each in one.new_cloth_alone()]
        return few_of(found)

    def _trees(self, task: Task, stream: int) -> Trees:
        """One of two searches that go side by side, on one core or two."""
        return Trees(task, 2 * self.seed + stream, compiled=ready.is_ready())

    def _get_ready(self) -> None:
        """Have the kernels compiled: without them the search is so slow that it is worth the wait, which costs no time."""
        if ready.is_ready():
            return
        self.progress.say(
            "Getting the search for backs ready: only the first time on this machine, about half a minute."
        )
        child = ready.start()
        begun = time.perf_counter()
        while child.poll() is None and not self.meter.asked:
            waited = time.perf_counter() - begun
            if self.meter.timed and waited > _LONGEST_WAIT:
                break
            time.sleep(0.05)
        self.meter.begun += time.perf_counter() - begun

    def _courses(
        self, pair: tuple[Trees, Trees], number: int, pool: ThreadPoolExecutor
    ) -> None:
        """A course of both of two searches, shorter where there is little time or nothing is compiled."""
        for search in pair:
            search.halt = self.meter.halt
            if not search.compiled and ready.is_ready():
                search.use_compiled()
        rounds = COURSE
        if number == 1:
            rounds = _FIRST_COURSE
        if not pair[0].compiled:
            rounds = _PLAIN_COURSE
        limit = self.meter.limit
        if isinstance(limit, Work):
            rounds = min(rounds, max(limit.rounds * _AS_LONG // 8, _SMALL_COURSE))
        for _ in pool.map(lambda search: search.course(rounds), pair):
            pass
        one, other = pair
        one.learn(other)
        other.learn(one)
        self.meter.rounds += max(2 * rounds // _AS_LONG, 1)
        self.told(one.least)


def _with(made: Made, back: Back, make_up: MakeUp) -> Made:
    """The same, with another make-up of one back."""
    return tuple((each, make_up if each is back else own) for each, own in made)


def few_of(found: Iterable[MakeUp]) -> list[MakeUp]:
    """A few make-ups of which none is better in money and in parts: the cheapest first, that of fewest parts last.

    Between them stands the one that is worth most where a step of the sale is weighed against parts, and the one that
    halves what is left of the parts.
    """
    front: list[MakeUp] = []
    for one in sorted(found, key=lambda each: (each.parts, each.cost)):
        if not front or one.cost < front[-1].cost:
            front.append(one)
    if not front:
        return []
    cheapest = front[-1]
    fewest = front[0]
    worth = min(front, key=lambda each: each.worth)
    middle = (cheapest.parts + fewest.parts) // 2
    half = min(front, key=lambda each: abs(each.parts - middle))
    few = sorted((cheapest, worth, half, fewest), key=lambda each: each.cost)
    return list(dict.fromkeys(few))
