"""Ctrl-C at the begin and the end of a command: without a traceback, and without a thread that keeps it waiting."""

from __future__ import annotations

import os
import signal
import sys
from typing import Final, NoReturn

STOPPED: Final = 130  # what shells say of a command that Ctrl-C ended


def begin() -> None:
    """From now on, while there is nothing to keep, Ctrl-C ends the process at once.

    Raised as an error it would come out of whatever is being imported, as another error or as a traceback. Where the
    shell has told the process to ignore it (one in the background) that stays so.
    """
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, _at_once)


def listen() -> None:
    """From now on Ctrl-C is raised as `KeyboardInterrupt`, as ever: there may be something to keep or to clear away."""
    if signal.getsignal(signal.SIGINT) is _at_once:
        signal.signal(signal.SIGINT, signal.default_int_handler)


def leave(code: int) -> NoReturn:
    """End the process with what was printed, and without the threads: nobody waits for a bound any more."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:  # whoever read our words has gone
            continue
    os._exit(code)


def _at_once(*_: object) -> NoReturn:
    os.write(2, b"\nStopped.\n")
    os._exit(STOPPED)
