"""`python -m cutopt` is the command `cutopt`."""

from __future__ import annotations

import signal

from cutopt.app import stopping


def run() -> None:
    """Run the command of the process and end it; Ctrl-C gives no traceback from here on."""
    stopping.begin()
    from cutopt.cli import main

    try:
        code = main()
    except KeyboardInterrupt:
        # once more, while the first one was being told
        signal.signal(signal.SIGINT, signal.SIG_IGN)
        code = stopping.STOPPED
    stopping.leave(code)


if __name__ == "__main__":
    run()
