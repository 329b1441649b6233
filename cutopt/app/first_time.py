"""The first search on a machine: get it ready before the clock of the search starts."""

from __future__ import annotations

import time
from collections.abc import Callable

from cutopt.solve.search import prepare


def get_ready(say: Callable[[str], None]) -> bool:
    """Wait until the search is ready, saying so where that takes time; False where Ctrl-C ended the wait."""
    if prepare.is_ready():
        return True
    say(
        "Getting the search ready: only the first time on this machine, about half a minute."
    )
    child = prepare.start()
    try:
        while child.poll() is None:
            time.sleep(0.1)
    except KeyboardInterrupt:
        return False
    return True
