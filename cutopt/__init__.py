"""cutopt: straight cuts through a pile of leftovers and the least new fabric.

>>> import cutopt as co
>>> job = co.read_job("data/orchard")                       # doctest: +SKIP
>>> result = co.solve(job, stop=co.Seconds(5), seed=0)      # doctest: +SKIP
>>> co.check(job, result.plan)                              # doctest: +SKIP
[]
>>> co.write_pages(result, "out/orchard")                   # doctest: +SKIP

The names below are loaded when they are first used, so that importing the package takes no time.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import cutopt.solve  # noqa: F401 - the room is entered before a function takes its name, see `solve` below
from cutopt.check import check
from cutopt.shown import Shown

if TYPE_CHECKING:
    from cutopt.app.editor.widget import edit_tables
    from cutopt.app.progress import watch
    from cutopt.draw import draw_piece, draw_pile, draw_plan, draw_shopping
    from cutopt.errors import JobError
    from cutopt.fabric import ByLength, ByPiece, Fabric, Piece
    from cutopt.job import Job
    from cutopt.pages import write_pages
    from cutopt.result import Result
    from cutopt.settings import Settings
    from cutopt.solve.control.progress import Progress
    from cutopt.solve.control.stop import Seconds, Stop, Work
    from cutopt.tables import pile, read_job, read_plan, save_job, write_plan
    from cutopt.wanted import Cut, Strip

_HOMES = {
    "app.editor.widget": ("edit_tables",),
    "app.progress": ("watch",),
    "draw": ("draw_piece", "draw_pile", "draw_plan", "draw_shopping"),
    "errors": ("JobError",),
    "fabric": ("ByLength", "ByPiece", "Fabric", "Piece"),
    "job": ("Job",),
    "pages": ("write_pages",),
    "settings": ("Settings",),
    "solve.control.stop": ("Seconds", "Work"),
    "tables": ("pile", "read_job", "read_plan", "save_job", "write_plan"),
    "wanted": ("Cut", "Strip"),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}


def solve(
    job: Job, stop: Stop | None = None, seed: int = 0, progress: Progress | None = None
) -> Result:
    """Plan a job.

    Parameters
    ----------
    job : Job
        From :func:`read_job`, or made of values.
    stop : Seconds or Work, default Seconds(5)
        When to stop. `Work(n)` gives the same plan for the same seed on any machine.
    seed : int
        Another number tries the same job another way.
    progress : Progress, optional
        Told how far the search is; :func:`watch` gives one that shows it.

    Returns
    -------
    Result
        The offers, the first of them the thriftiest plan met, with how good it is and what is short. An interrupt
        (Ctrl-C, the notebook's stop button) returns the best so far.

    Raises
    ------
    Problem
        For a stop or seed that makes no sense.
    """
    from cutopt.solve.solver import solve as run

    return run(job, stop, seed, progress)


def _html(value: object) -> str:
    """What a notebook shows of a value; loaded when it first shows one."""
    from cutopt.reprs import html

    return html(value)


Shown.html = staticmethod(_html)


def __getattr__(name: str) -> Any:
    """Load a name from its room when it is first asked for."""
    if name == "__version__":
        from importlib.metadata import version

        return version("cutopt")
    if name not in _HOME_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    value = getattr(import_module(f"{__name__}.{_HOME_OF[name]}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted([*__all__, "__version__"])


__all__ = [
    "ByLength",
    "ByPiece",
    "Cut",
    "Fabric",
    "Job",
    "JobError",
    "Piece",
    "Seconds",
    "Settings",
    "Strip",
    "Work",
    "check",
    "draw_piece",
    "draw_pile",
    "draw_plan",
    "draw_shopping",
    "edit_tables",
    "pile",
    "read_job",
    "read_plan",
    "save_job",
    "solve",
    "watch",
    "write_pages",
    "write_plan",
]
