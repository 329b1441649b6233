"""Stopping: by work (the same plan on one core and on two), by Ctrl-C, and from another thread."""

from __future__ import annotations

import gc
import os
import signal
import subprocess
import sys
import threading

import pytest

from cutopt.check import check
from cutopt.errors import Problem
from cutopt.fabric import Fabric, Piece
from cutopt.geometry import is_rectangle
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.result import Result
from cutopt.solve import context
from cutopt.solve.control.progress import Progress, State
from cutopt.solve.control.stop import Seconds, Work
from cutopt.solve.run import Run
from cutopt.solve.solver import solve, stop_all
from cutopt.tables import plan_to_json, read_job
from cutopt.wanted import Cut
from tests.places import ROOT
from tests.solve.generate import generated
from tests.thinned import mostly_slow

SOON_DONE = generated(3, 4, 6)
HOURS = Seconds(6 * 3600)
PINNED = """
import os, sys
os.sched_setaffinity(0, {int(cpu) for cpu in sys.argv[1].split(",")})
from importlib import import_module
from tests.solve.generate import generated
from cutopt.bench.instance_solver import solve_instance
from cutopt.solve.plates.large.large_plate import large_plate
from cutopt.solve.solver import solve
from cutopt.solve.control.stop import Work
from cutopt.tables import plan_to_json
from tests.solve.plates.small_plates import FEW, middling
from tests.solve.search.rolls import roll

def tell(result):
    for offer in result.offers:
        print(offer.name, plan_to_json(offer.plan))
    print(result.because, result.work, [(m.work, m.value, m.bound) for m in result.history])

def told_of_bands(rounds):
    answer = solve_instance(roll(9, 3), Work(rounds))
    print(plan_to_json(answer.plan), answer.bound)

for name, few in FEW.items():
    setattr(import_module("cutopt.solve.plates.large.size_search"), name, few)
exec(sys.argv[2])
"""
PLATE = "print(large_plate(*middling({}), lambda: False))"
# what is run: offers; a choice among the patterns met that is cheaper; bands that are mended, two sets at a time; and
# a very large plate in small, on which two searches climb beside each other
RUNS = [
    f"tell(solve(generated(3, 8, 24), Work(300), seed=3)); {PLATE.format(0)}",
    *(f"tell(solve(generated({n}, 16, 60), Work(4000), seed={n}))" for n in (3, 8, 10)),
    *(f"tell(solve(generated({n}), Work(6000), offers=False))" for n in (37, 46)),
    "told_of_bands(12000)",
    "; ".join(map(PLATE.format, range(4))),
]


@pytest.fixture(scope="module")
def orchard() -> Job:
    return read_job(ROOT / "data" / "orchard")


def told_on(cpus: str, run: str) -> str:
    """Everything that a run on these processors says, clock apart."""
    command = [sys.executable, "-c", PINNED, cpus, run]
    return subprocess.run(
        command, capture_output=True, text=True, check=True, cwd=ROOT
    ).stdout


@pytest.mark.skipif(
    not hasattr(os, "sched_setaffinity"),
    reason="this system does not pin a process to a core",
)
@pytest.mark.parametrize("run", mostly_slow(RUNS, RUNS[:1]))
def test_the_same_plan_on_one_core_and_on_two(run: str) -> None:
    cpus = sorted(os.sched_getaffinity(0))
    if len(cpus) < 2:
        pytest.skip("one core only")
    one = told_on(f"{cpus[0]}", run)
    assert one
    assert told_on(f"{cpus[0]},{cpus[1]}", run) == one


def test_the_same_work_and_seed_give_the_same_plan(orchard: Job) -> None:
    first, second = (solve(orchard, Work(400), seed=5) for _ in range(2))
    assert plan_to_json(first.plan) == plan_to_json(second.plan)
    assert first.stopped == "work"
    assert [offer.name for offer in first.offers] == [
        offer.name for offer in second.offers
    ]


class When(Progress):
    """Does something once, at the first word or when the search has run for some rounds."""

    def __init__(self, act: object, rounds: int | None = None) -> None:
        self.act = act
        self.rounds = rounds

    def once(self) -> None:
        act = self.act
        self.act = None
        if callable(act):
            act()

    def say(self, text: str) -> None:  # noqa: ARG002
        if self.rounds is None:
            self.once()

    def at(self, state: State) -> None:
        if self.rounds is not None and state.work >= self.rounds:
            self.once()


def interrupt() -> None:
    os.kill(os.getpid(), signal.SIGINT)


@pytest.mark.parametrize("rounds", [None, 1, 500])
def test_ctrl_c_gives_the_best_so_far(orchard: Job, rounds: int | None) -> None:
    """At the first plan, before anything is compiled; at once; and later. It returns: nothing is timed here."""
    handler = signal.getsignal(signal.SIGINT)
    result = solve(orchard, HOURS, progress=When(interrupt, rounds))
    assert result.stopped == "interrupted"
    assert check(orchard, result.plan) == []
    assert result.plan.uses
    assert signal.getsignal(signal.SIGINT) is handler


@pytest.mark.parametrize("rounds", [None, 1, 500])
def test_another_thread_stops_it(orchard: Job, rounds: int | None) -> None:
    reached = threading.Event()

    def wait_and_stop() -> None:
        reached.wait()
        stop_all()

    thread = threading.Thread(target=wait_and_stop)
    thread.start()
    result = solve(orchard, HOURS, progress=When(reached.set, rounds))
    thread.join()
    assert result.stopped == "interrupted"
    assert check(orchard, result.plan) == []


def test_a_search_in_another_thread_is_stopped_from_this_one(orchard: Job) -> None:
    reached = threading.Event()
    found = []
    thread = threading.Thread(
        target=lambda: found.append(
            solve(orchard, HOURS, progress=When(reached.set, 1))
        )  # type: ignore[func-returns-value]
    )
    thread.start()
    reached.wait()
    stop_all()
    thread.join()
    assert found[0].stopped == "interrupted"
    assert check(orchard, found[0].plan) == []


def test_a_stop_while_the_job_is_read_into_the_search_is_not_lost(
    orchard: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    roomiest = context.roomiest

    def stop_first(job: Job) -> object:
        stop_all()
        return roomiest(job)

    monkeypatch.setattr(context, "roomiest", stop_first)
    result = solve(orchard, HOURS)
    assert result.stopped == "interrupted"
    assert check(orchard, result.plan) == []


def test_runs_that_are_gone_are_forgotten(monkeypatch: pytest.MonkeyPatch) -> None:
    gc.collect()
    before = len(context._running)
    solve(SOON_DONE, Work(1))

    def fails(job: Job) -> object:
        assert len(context._running) > before
        raise Problem("job", job.name, "this one is a test's own")

    monkeypatch.setattr(context, "roomiest", fails)
    with pytest.raises(Problem):
        solve(SOON_DONE, Work(1))
    gc.collect()
    assert len(context._running) == before


def test_a_stop_while_the_plan_is_written_out_cuts_it_short(orchard: Job) -> None:
    """The search has ended: one way to cut each cloth, one offer, and room of rectangles only."""
    run = Run(orchard, Work(300), 0, Progress())
    run._search()
    run.meter.stop()
    result = run._finish()
    run.engine.close()
    run.feed.close()
    assert result.stopped == "interrupted"
    assert len(result.offers) == 1
    assert check(orchard, result.plan) == []
    irregular = {
        piece.name
        for piece in orchard.pieces
        if piece.flaws or not is_rectangle(piece.outline)
    }
    touched = {source.id: source.piece for source in result.plan.sources}
    assert irregular & set(touched.values())
    assert [room.source for room in result.room] == [
        s for s, piece in touched.items() if piece not in irregular
    ]


def test_a_job_with_nothing_to_gain_ends_before_its_time() -> None:
    """Small jobs are done long before the clock; this one would else take six hours."""
    result = solve(SOON_DONE, HOURS)
    assert check(SOON_DONE, result.plan) == []
    proved = all(level.proved for level in result.levels if level.name != "cuts")
    assert result.stopped == ("proved" if proved else "quiet")


def test_where_no_plan_is_better_it_says_so() -> None:
    """One square from a piece of its size: nothing is bought."""
    square = Cut(name="square", width=4 * INCH, length=4 * INCH)
    cloth = Piece.of_size("cloth", "oat", 4 * INCH, 4 * INCH)
    assert (
        solve(
            Job(fabrics=(Fabric(name="oat"),), pieces=(cloth,), cuts=(square,)), HOURS
        ).stopped
        == "proved"
    )


class Keep(Progress):
    """Keeps what it is told."""

    def __init__(self) -> None:
        self.states: list[State] = []
        self.words: list[str] = []

    def at(self, state: State) -> None:
        self.states.append(state)

    def say(self, text: str) -> None:
        self.words.append(text)

    def done(self) -> None:
        self.words.append("done")


def tells_no_worse(result: Result, states: list[State]) -> None:
    """Neither the plan nor the bound ever becomes worse, and the last of both is that of the result."""
    costs = [state.value for state in states if state.complete]
    assert costs == sorted(costs, reverse=True)
    bounds = [moment.bound for moment in result.history]
    assert bounds == sorted(bounds)
    last = result.history[-1]
    assert f"{last.bound:.2f}" == result.levels[0].bound
    assert f"{last.value:.2f}" == result.levels[0].value


def test_progress_is_told(orchard: Job) -> None:
    kept = Keep()
    result = solve(orchard, Work(400), progress=kept)
    states = kept.states
    assert kept.words[-1] == "done"
    assert kept.words.count("done") == 1
    assert [s.work for s in states] == sorted(s.work for s in states)
    assert all(0 <= s.share <= 1 for s in states)
    assert all(0 <= s.bound <= s.value for s in states if s.complete)
    tells_no_worse(result, states)


def test_progress_never_says_all_is_there_where_a_part_fits_no_cloth() -> None:
    large = Cut(name="large", width=90 * INCH, length=90 * INCH)
    small = Cut(name="small", width=2 * INCH, length=2 * INCH)
    cloth = Piece.of_size("cloth", "oat", 10 * INCH, 10 * INCH)
    kept = Keep()
    job = Job(fabrics=(Fabric(name="oat"),), pieces=(cloth,), cuts=(large, small))
    result = solve(job, Work(500), progress=kept)
    assert not result.complete
    assert kept.states
    assert not any(state.complete for state in kept.states)
    assert not any(moment.complete for moment in result.history)


def test_grain_is_named_where_size_is_not_the_reason() -> None:
    cloth = Piece.of_size("cloth", "oat", 10 * INCH, 10 * INCH, grain_known=False)
    bound = Cut(name="long", width=3 * INCH, length=9 * INCH, grain="along")
    known = Piece.of_size("known", "oat", 10 * INCH, 4 * INCH)
    result = solve(
        Job(fabrics=(Fabric(name="oat"),), pieces=(cloth, known), cuts=(bound,)),
        Work(200),
    )
    assert (
        "3 x 9 in would fit on the oat that there is, but its grain"
        in result.plan.short[0].why
    )


@pytest.mark.slow
def test_what_is_told_of_a_run_never_becomes_worse(orchard: Job) -> None:
    """Also while the plan that is simplest to cut is looked for, which may cost more; the last bound is kept."""
    kept = Keep()
    result = solve(orchard, Work(2_500), progress=kept)
    assert any("simplest" in state.doing for state in kept.states)
    tells_no_worse(result, kept.states)
