"""Ctrl-C at the begin and the end of a command: without a traceback, and without a thread that keeps it waiting."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final, NoReturn

# what shells say of a command that Ctrl-C ended
STOPPED: Final = 130


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


@contextmanager
def finished_first() -> Iterator[None]:
    """What is done within takes a moment and is finished: a first Ctrl-C is raised behind it, a second one at once.

    Raises
    ------
    KeyboardInterrupt
        Behind what is done within, where it was asked for.
    """
    if signal.getsignal(signal.SIGINT) is not signal.default_int_handler:
        yield
        return
    asked = False

    def note(*_: object) -> None:
        nonlocal asked
        if asked:
            raise KeyboardInterrupt
        asked = True

    signal.signal(signal.SIGINT, note)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    if asked:
        raise KeyboardInterrupt


def leave(code: int) -> NoReturn:
    """End the process with what was printed, and without the threads: nobody waits for a bound any more."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            # whoever read our words has gone
            continue
    os._exit(code)


def _at_once(*_: object) -> NoReturn:
    os.write(2, b"\nStopped.\n")
    os._exit(STOPPED)
