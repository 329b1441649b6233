"""Ctrl-C at any moment of `cutopt plan`: the prompt comes back, with one word and no traceback.

Moments are known by what the command has said, not by the clock; the time that communicate() allows is a guard alone.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from cutopt.app.stopping import STOPPED
from cutopt.cli import DONE
from tests.places import ROOT
from tests.thinned import mostly_slow

WHEREVER = ("first plan", "ready", "search", "finish", "widths", "check")
GUARD = 300  # seconds, after which it hangs
MOMENTS = """
import signal, sys, os
from cutopt.app import stopping
from cutopt.solve import finish
from cutopt.solve.search import prepare
from cutopt.solve.run import Run
import cutopt.__main__ as command
from cutopt.app import deliver

def interrupting(owner, name, times):
    before = getattr(owner, name)
    def now(*arguments, **named):
        setattr(owner, name, before)
        for _ in range(times):
            os.kill(os.getpid(), signal.SIGINT)
        return before(*arguments, **named)
    setattr(owner, name, now)

where, times = sys.argv.pop(1), int(sys.argv.pop(1))
owners = {"run": (command.stopping, "begin"), "model": (Run, "__init__"), "first plan": (Run, "note"),
          "ready": (Run, "_get_ready"), "search": (Run, "_cheapen"), "finish": (finish, "_offers"),
          "widths": (finish, "_widths"), "room": (finish, "room_of"), "check": (deliver, "check")}
interrupting(*owners[where], times)
command.run()
"""


def ended(process: subprocess.Popen[str]) -> tuple[int, str, str]:
    try:
        out, err = process.communicate(timeout=GUARD)
    except subprocess.TimeoutExpired:
        process.kill()
        pytest.fail("it hangs")
    assert "Traceback" not in err
    assert "Exception ignored" not in err
    return process.returncode, out, err


@pytest.fixture
def start(
    here: Path, environment: dict[str, str]
) -> Callable[..., subprocess.Popen[str]]:
    """Start Python with `cutopt plan` of the orchard."""

    def started(*code: str, rounds: int = 10**9) -> subprocess.Popen[str]:
        return subprocess.Popen(
            [
                sys.executable,
                *code,
                "plan",
                str(ROOT / "data" / "orchard"),
                "--work",
                str(rounds),
                "--out",
                str(here),
            ],
            env=environment,
            text=True,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        )

    return started


def test_before_there_is_a_plan_it_just_stops(
    start: Callable[..., subprocess.Popen[str]],
) -> None:
    code, out, err = ended(start("-c", MOMENTS, "model", "1"))
    assert code == STOPPED
    assert out == ""
    assert "Stopped." in err


@pytest.mark.parametrize(
    "where",
    mostly_slow(["first plan", "search", "finish", "room"], {"search"}),
)
def test_once_there_is_a_plan_it_is_kept(
    start: Callable[..., subprocess.Popen[str]], where: str
) -> None:
    code, out, err = ended(start("-c", MOMENTS, where, "1", rounds=300))
    assert code == DONE
    assert "Stopped: this is the best plan so far." in err
    assert "it was stopped" in out


def test_while_it_is_checked_it_is_kept_and_then_it_stops(
    start: Callable[..., subprocess.Popen[str]], here: Path
) -> None:
    """The plan was lost: the search was over, and nothing was written yet."""
    code, out, err = ended(start("-c", MOMENTS, "check", "1", rounds=300))
    assert code == STOPPED
    assert out == ""
    assert (
        f"Stopped before the pages were written. The plan is kept in {here / 'plan.json'}"
        in err
    )
    assert [path.name for path in here.glob("plan.*")] == ["plan.json"]


@pytest.mark.parametrize("where", mostly_slow(WHEREVER, {"ready"}))
def test_twice_ends_it_at_once(
    start: Callable[..., subprocess.Popen[str]], where: str
) -> None:
    code, out, err = ended(start("-c", MOMENTS, where, "2", rounds=300))
    assert code == STOPPED
    assert out == ""
    assert "Stopped." in err


@pytest.mark.parametrize("module", ["cutopt.cli", "cutopt.tables", "numpy"])
def test_while_code_is_loaded_it_just_stops(
    start: Callable[..., subprocess.Popen[str]], module: str
) -> None:
    """An interrupt within an import would come out of it as a traceback, or as another error."""
    code = f"""
import os, signal, sys
from importlib.abc import MetaPathFinder
import cutopt.__main__ as command

class Interrupts(MetaPathFinder):
    def find_spec(self, name, path=None, target=None):
        if name == {module!r}:
            os.kill(os.getpid(), signal.SIGINT)

command.stopping.begin()
sys.modules.pop({module!r}, None)
sys.meta_path.insert(0, Interrupts())
command.run()
"""
    code, out, err = ended(start("-c", code))  # type: ignore[assignment]
    assert code == STOPPED
    assert out == ""
    assert "Stopped." in err


def test_a_command_that_the_shell_lets_ignore_it_does_so(
    start: Callable[..., subprocess.Popen[str]],
) -> None:
    """One in the background, as `nohup` and scripts start it."""
    code = "import signal; signal.signal(signal.SIGINT, signal.SIG_IGN); from cutopt.app import stopping as s; s.begin()"
    check = "; assert signal.getsignal(signal.SIGINT) is signal.SIG_IGN"
    assert (
        subprocess.run(
            [sys.executable, "-c", code + check], check=False, cwd=ROOT
        ).returncode
        == 0
    )
    assert start is not None
