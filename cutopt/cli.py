"""The command `cutopt`: thin, every command is one sentence of the package.

Exit codes: 0 done; 1 something that must be cut cannot be (the plan for the rest is still written, with the
reason); 2 bad input; 3 an error of the program itself; 130 stopped before there were pages.
"""

from __future__ import annotations

import argparse
import os
import sys
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from cutopt.app.command_line import SECONDS, parser
from cutopt.app.stopping import STOPPED, finished_first, listen
from cutopt.errors import JobError, Problem, debugging
from cutopt.signs import visible

if TYPE_CHECKING:
    from cutopt.job import Job
    from cutopt.plan import Plan
    from cutopt.result import Result
    from cutopt.solve.control.stop import Stop

DONE = 0
SHORT = 1
BAD_INPUT = 2
OUR_ERROR = 3
# of a plan for another job
_MOST_FAULTS = 5
# seconds for a plan when nobody wants to wait
_AT_ONCE = 1.0


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command and give its exit code; `arguments` are those of the process unless given."""
    for stream in (sys.stdout, sys.stderr):
        # a terminal without a sign shows ? and does not end the work
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    told = parser().parse_args(arguments)
    # a plan has nothing to keep for a while yet
    if told.command != "plan":
        listen()
    try:
        return _COMMANDS[told.command](told)
    except JobError as error:
        for problem in error.problems:
            _say(problem.sentence)
    except Problem as problem:
        _say(problem.sentence)
    except KeyboardInterrupt:
        _say("Stopped.")
        return STOPPED
    except BrokenPipeError:
        # whoever read our words has gone, as in `cutopt plan ... | head`
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    except OSError as error:
        _say(f"{error.filename or 'a file'}: {error.strerror or error}")
    except Exception as error:
        return _unforeseen(error)
    return BAD_INPUT


def _say(text: str) -> None:
    """What is no part of the answer goes to the other stream, without signs that would steer the terminal."""
    print(visible(text), file=sys.stderr, flush=True)


def _unforeseen(error: Exception) -> int:
    """Tell of an error of the program in one sentence, with what to do; CUTOPT_DEBUG=1 shows where it came from."""
    if debugging():
        traceback.print_exception(error)
    _say(
        f"An error of the program, not of your job ({type(error).__name__}: {error}); please report it with your job "
        "folder, and run again with CUTOPT_DEBUG=1 set to see where it came from."
    )
    return OUR_ERROR


def _plan(told: argparse.Namespace) -> int:
    from cutopt.app.deliver import claim, home_of
    from cutopt.app.first_time import get_ready
    from cutopt.app.progress import watch
    from cutopt.solve.control.stop import Seconds
    from cutopt.solve.solver import solve
    from cutopt.tables import read_job

    stop = _stop(told)
    job = read_job(told.folder)
    home = told.out or home_of(told.folder)
    listen()
    claim(home, told.folder)
    ready = get_ready(_say)
    result = solve(job, stop if ready else Seconds(_AT_ONCE), told.seed, watch(job))
    if not ready or result.stopped == "interrupted":
        _say("Stopped: this is the best plan so far.")
    return _deliver(result, home, told.folder, every=told.all)


def _stop(told: argparse.Namespace) -> Stop:
    """When a search is to end."""
    from cutopt.solve.control.stop import Seconds, Work

    if told.work is not None:
        return Work(told.work)
    return Seconds(SECONDS if told.seconds is None else told.seconds)


def _deliver(result: Result, home: Path, job: Path, *, every: bool = False) -> int:
    """Check, keep the plan, write its pages, say it all; whatever happens to the pages, the plan stays."""
    _say("Checking every cut and writing the pages ...")
    kept = None
    try:
        with finished_first():
            kept = _checked(result, home)
        if kept is None:
            return OUR_ERROR
        from cutopt.app.deliver import deliver
        from cutopt.app.progress import watch

        seen = watch(result.job)
        written = deliver(result, home, every=every, job=job, progress=seen)
    except KeyboardInterrupt:
        if kept is None:
            raise
        _say(f"Stopped before the pages were written. {_again(job, kept)}")
        return STOPPED
    except Exception:
        if kept is not None:
            _say(_again(job, kept))
        raise
    from cutopt.app.telling import summary

    for line in summary(result, written):
        print(visible(line))
    if result.complete:
        return DONE
    return SHORT


def _checked(result: Result, home: Path) -> Path | None:
    """Check every plan and keep the first; None, and nothing is written, where one does not pass."""
    from cutopt.app.deliver import UnsoundError, keep, prove

    try:
        prove(result)
    except UnsoundError as error:
        _say("An error of the program, not of your job: a plan did not pass the check.")
        _say("Nothing was written. Please report this with your job folder.")
        for fault in str(error).splitlines():
            _say(fault)
        return None
    return keep(result, home)


def _again(job: Path, kept: Path) -> str:
    return f'The plan is kept in {kept}; "cutopt print {job} {kept}" writes its pages.'


def _print(told: argparse.Namespace) -> int:
    from cutopt.app.deliver import claim, holds_pages_of, home_of
    from cutopt.app.saved import result_of
    from cutopt.check import check
    from cutopt.tables import read_job, read_plan

    job = read_job(told.folder)
    plan = read_plan(told.plan, job)
    faults = check(job, plan)
    if faults:
        _say("This plan does not hold for this job, so nothing was printed.")
        _print_faults(job, plan, faults)
        return BAD_INPUT
    home = told.out or home_of(told.folder)
    claim(home, told.folder)
    if told.out is None and holds_pages_of(home, job, plan):
        _say(
            f'"{home}" holds the pages of this very plan already, and they may tell more: they are kept.'
        )
        _say("To write it again all the same, name a folder with --out.")
        if not plan.lacking:
            return DONE
        return SHORT
    return _deliver(result_of(job, plan), home, told.folder)


def _print_faults(job: Job, plan: Plan, faults: Sequence[str]) -> None:
    """All faults of a plan; of one for another job, of which nearly all is wrong, the first few."""
    if plan.job == job.digest:
        shown = faults
    else:
        shown = faults[: 1 + _MOST_FAULTS]
    for fault in shown:
        print(visible(fault))
    if len(faults) > len(shown):
        print(f"... and {len(faults) - len(shown)} more.")


def _say_what_changed(job: Job, path: Path) -> None:
    """Which pieces that a plan cuts are measured otherwise than when it was made, or gone."""
    from cutopt.lengths import format_length
    from cutopt.tables.plan.plan_file import measured_then

    now = {piece.name: piece.size for piece in job.pieces}
    unit = job.settings.unit
    for name, then in measured_then(path).items():
        was = " x ".join(format_length(side, unit) for side in then)
        if name not in now:
            print(visible(f"{name} ({was} then) is not on the pile any more."))
        elif now[name] != then:
            size = " x ".join(format_length(side, unit) for side in now[name])
            print(visible(f"{name} was {was} then, and is {size} now."))


def _say_what_fits(plan: Plan, faults: Sequence[str]) -> None:
    """Whether the cuts of a plan still fit tables that have changed since."""
    from cutopt.lengths import so_many

    if len(faults) > 1:
        print("So its cuts do not fit the tables as they are now: plan again.")
        return
    cuts = so_many(len(plan.cuts), "cut")
    print(
        f"All {cuts} still fit the tables as they are now, and all that is wanted comes of them. "
        "To have the pages again, plan again."
    )


def _check(told: argparse.Namespace) -> int:
    from cutopt.check import check
    from cutopt.lengths import so_many
    from cutopt.tables import read_job, read_plan

    job = read_job(told.folder)
    plan = read_plan(told.plan, job)
    faults = check(job, plan)
    if faults:
        _print_faults(job, plan, faults)
        if plan.job != job.digest:
            _say_what_changed(job, told.plan)
            _say_what_fits(plan, faults)
        return BAD_INPUT
    short = plan.lacking
    cuts = so_many(len(plan.cuts), "cut")
    cloth = so_many(len(plan.sources), "piece")
    print(f"The plan holds: {cuts} through {cloth} of cloth, all checked.")
    for item in short:
        print(visible(f"It lacks {item.count} of {job.asked(item.for_).name}."))
    if short:
        return SHORT
    return DONE


def _bench(told: argparse.Namespace) -> int:
    from cutopt.bench.run import run_bench

    return int(run_bench(told.data, told.family, told.seconds, told.json))


def _name(told: argparse.Namespace) -> int:
    from cutopt.lengths import so_many
    from cutopt.tables import name_pieces

    print(f"{so_many(name_pieces(told.folder), 'line')} of the pile got a name.")
    return DONE


def _new(told: argparse.Namespace) -> int:
    from cutopt.tables import new_job

    new_job(told.folder, told.unit, told.quilt)
    if told.folder.suffix.lower() == ".xlsx":
        fill = "the sheet quilt"
    else:
        fill = "quilt.toml"
    if told.quilt:
        first = f"Fill in {fill}, change the tables"
    else:
        first = "Change the tables"
    print(
        f"A job to begin with is in {told.folder}. {first}, then run: cutopt plan {told.folder}"
    )
    return DONE


def _open(told: argparse.Namespace) -> int:
    from cutopt.app import lab
    from cutopt.app.workshop import open_job, open_lessons

    if told.folder:
        opened = open_job(told.folder)
    else:
        opened = open_lessons()
    print(f"Opening {opened.notebook}; Ctrl-C here ends it.")
    return lab.start(
        lab.command_of(opened.root, opened.notebook, browser=not told.no_browser)
    )


_COMMANDS: Final[dict[str, Callable[[argparse.Namespace], int]]] = {
    "plan": _plan,
    "check": _check,
    "print": _print,
    "bench": _bench,
    "new": _new,
    "name": _name,
    "open": _open,
}
