"""Ctrl-C as a wish to stop."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager

from cutopt.solve.control.stop import Meter


@contextmanager
def interruptible(meter: Meter) -> Iterator[None]:
    """Ctrl-C asks the search to stop instead of ending it with an error (in the main thread only).

    A second one ends it at once, as Ctrl-C does elsewhere.

    Parameters
    ----------
    meter : Meter
        That of the search.

    Raises
    ------
    KeyboardInterrupt
        At the second one.
    """
    import signal

    def stop(*_: object) -> None:
        if meter.asked:
            raise KeyboardInterrupt
        meter.stop()

    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, stop)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
