"""The most memory that this process held, since it was last asked to forget where the system allows that."""

from __future__ import annotations

import sys
from contextlib import suppress
from pathlib import Path

_PROC = Path("/proc/self")


def forget_peak() -> None:
    """Begin anew from what is held now (Linux, see proc(5)); elsewhere the peak stays that of the whole process."""
    with suppress(OSError):
        (_PROC / "clear_refs").write_text("5")


def peak_mb() -> float:
    """The most memory held, in MB."""
    with suppress(OSError):
        for line in (_PROC / "status").read_text().splitlines():
            if line.startswith("VmHWM:"):
                return int(line.split()[1]) / 1024
    try:
        import resource
    except ImportError:
        # Windows
        return 0.0
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    # bytes there, kB elsewhere
    if sys.platform == "darwin":
        return most / 1024
    return most
