"""Getting the compiled kernels ready: once a machine and version, in a process of its own.

numba needs about half a minute the first time. That happens in a child process (so that the search goes on in
plain Python meanwhile, and Ctrl-C is heard at once) whose only product is the cache on disk.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import time
from pathlib import Path
from typing import Final
from uuid import uuid4

import numpy as np

from cutopt.fabric import ByLength, ByPiece, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.solve.kernels.loader import cache_folder, load
from cutopt.solve.kernels.state import WEIGHTS
from cutopt.solve.search.patterns_met import Met
from cutopt.wanted import Cut, Strip

# in seconds: 30 days
_KEPT: Final = 30 * 24 * 3600
_GONE: Final = ".gone-"


def is_ready() -> bool:
    """Whether the cache holds the kernels of this version."""
    return _marker().exists()


# kept, so that one that outlives a search is not complained of
_children: list[subprocess.Popen[bytes]] = []


def start() -> subprocess.Popen[bytes]:
    """Start compiling in a child process (or go on with the one that runs); it leaves what `is_ready` looks for."""
    if not _children or _children[-1].poll() is not None:
        code = "from cutopt.solve.search.prepare import compile_all; compile_all()"
        _children.append(in_child(code))
    return _children[-1]


def in_child(code: str) -> subprocess.Popen[bytes]:
    """A process that runs `code` with this very package, without a word."""
    command, env = own_python(code)
    quiet = subprocess.DEVNULL
    return subprocess.Popen(command, env=env, stdin=quiet, stdout=quiet, stderr=quiet)


def own_python(code: str) -> tuple[list[str], dict[str, str]]:
    """Command and environment of a child that runs `code` with this very package.

    Compiled code is kept by the place of its source, so a child that took another cutopt from the folder it starts
    in (a checkout, beside an installed copy) would compile what nobody looks for.
    """
    root = str(Path(__file__).parents[2])
    paths = os.pathsep.join(
        path for path in (root, os.environ.get("PYTHONPATH", "")) if path
    )
    env = os.environ | {
        "PYTHONPATH": paths,
        "NUMBA_CACHE_DIR": str(cache_folder().parent),
    }
    return [sys.executable, "-P", "-c", code], env


def wait() -> None:
    """Have the kernels compiled, however long it takes."""
    if not is_ready():
        start().wait()


def compile_all() -> None:
    """Call all kernels that a maker's job needs once on a small one, so that they are compiled and cached.

    Those of very large plates (`large.py`) are not among them: `cutopt bench` gets them ready itself.
    """
    from cutopt.solve.bounds.purchase_bound import purchase_bound
    from cutopt.solve.model.from_job import model_of
    from cutopt.solve.plates.exact_plate import exact_plate
    from cutopt.solve.plates.plate_table import PlatePart
    from cutopt.solve.search.arrays import Arrays

    model = model_of(_small_job())
    warm(load("search", compiled=True), Arrays.of(model))
    purchase_bound(model)
    exact_plate(7, 7, [PlatePart(3, 2, 6, 3, 4), PlatePart(4, 3, 11, 3, 1)])
    _marker().touch()
    clear_old()


def clear_old() -> None:
    """Remove the compiled code of other versions that nobody used for 30 days; never fails because of it.

    Every process that looks for compiled code touches `.write` in its folder, so its time is that of the last use. A
    folder is renamed before it is emptied: of two processes that clear at once one does it, and the other passes on.
    """
    own = cache_folder()
    for folder in sorted(own.parent.glob("*")):
        # by a process that was ended on the way
        gone = folder.name.startswith(_GONE)
        if folder == own or not (gone or re.fullmatch(r"[0-9a-f]{16}", folder.name)):
            continue
        try:
            if (
                time.time() - (folder if gone else folder / ".write").stat().st_mtime
                > _KEPT
            ):
                place = folder.with_name(f"{_GONE}{uuid4().hex}")
                folder.rename(place)
                shutil.rmtree(place, ignore_errors=True)
        except OSError:
            # gone already, or not ours
            continue


def warm(kernel: object, arrays: object) -> None:
    """Call all that Python calls of the search kernel."""

    first = arrays.state(1)  # type: ignore[attr-defined]
    other = arrays.state(2)  # type: ignore[attr-defined]
    scratch = arrays.scratch()  # type: ignore[attr-defined]

    weights = np.zeros(WEIGHTS, dtype=np.int64)
    problem = arrays.problem  # type: ignore[attr-defined]
    kernel.start(problem, first, scratch, 3)  # type: ignore[attr-defined]
    kernel.copy_state(first, other)  # type: ignore[attr-defined]
    kernel.reduce_to(problem, other, scratch, 0)  # type: ignore[attr-defined]
    kernel.score(problem, other, weights, arrays.areas)  # type: ignore[attr-defined]
    late = np.zeros(3, dtype=np.int64)
    info = np.ones(3, dtype=np.int64)
    halt = np.zeros(1, dtype=np.int64)
    worth = arrays.areas.copy()  # type: ignore[attr-defined]

    trial = arrays.state(3)  # type: ignore[attr-defined]
    best = arrays.state(4)  # type: ignore[attr-defined]
    met = Met(arrays).arrays  # type: ignore[arg-type]
    kernel.note_patterns(problem, first, scratch, met)  # type: ignore[attr-defined]
    kernel.fill_up(problem, first, scratch)  # type: ignore[attr-defined]
    kernel.run(  # type: ignore[attr-defined]
        problem,
        first,
        trial,
        best,
        scratch,
        met,
        weights,
        worth,
        late,
        info,
        2,
        0,
        3,
        halt,
    )


def _marker() -> Path:
    import numba

    return cache_folder() / f"ready-{numba.__version__}"


def _small_job() -> Job:
    notched = tuple(
        (x * INCH, y * INCH)
        for x, y in ((0, 0), (12, 0), (12, 9), (6, 9), (6, 6), (0, 6))
    )
    return Job(
        fabrics=(Fabric(name="a"),),
        pieces=(Piece(name="p", fabric="a", outline=notched),),
        shop=(
            ByLength(fabric="a", usable_width=42 * INCH, sold_by=YARD // 8, most=YARD),
            ByPiece(fabric="a", each_width=18 * INCH, each_length=21 * INCH, most=2),
        ),
        cuts=(Cut(name="c", width=4 * INCH, length=5 * INCH, count=30),),
        strips=(Strip(name="s", width=2 * INCH, total_length=60 * INCH),),
    )
