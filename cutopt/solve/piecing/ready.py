"""Getting the kernels of pieced backs ready: once a machine and version, in a process of its own, only where asked for."""

from __future__ import annotations

import subprocess
from pathlib import Path

from cutopt.fabric import Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.piecing import Back
from cutopt.solve.kernels.loader import cache_folder
from cutopt.solve.search.prepare import in_child

_children: list[subprocess.Popen[bytes]] = []


def is_ready() -> bool:
    """Whether the cache holds the kernels of this version."""
    return _marker().exists()


def start() -> subprocess.Popen[bytes]:
    """Start compiling in a child process, or go on with the one that runs."""
    if not _children or _children[-1].poll() is not None:
        _children.append(
            in_child(
                "from cutopt.solve.piecing.ready import compile_all; compile_all()"
            )
        )
    return _children[-1]


def compile_all() -> None:
    """Search for a few trees of a small back, so that the kernels are compiled and cached."""
    from cutopt.solve.piecing.task import tasks_of
    from cutopt.solve.piecing.trees import Trees

    back = Back(name="b", width=12 * INCH, length=12 * INCH)
    piece = Piece.of_size("p", "a", 12 * INCH, 8 * INCH)
    job = Job(fabrics=(Fabric(name="a"),), pieces=(piece,), backs=(back,))
    (task,) = tasks_of(job, back)
    Trees(task, 0, compiled=True).course(8)
    _marker().touch()


def _marker() -> Path:
    import numba

    return cache_folder() / f"ready-backs-{numba.__version__}"
