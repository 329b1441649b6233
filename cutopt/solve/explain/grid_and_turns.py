"""What helps a size that is not on the grid: more changes of direction, a size that is on it, or a finer grid."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cutopt.job import Job
from cutopt.lengths import format_length, up_to
from cutopt.solve.bounds.off_grid import roomiest, smallest
from cutopt.solve.context import Context
from cutopt.solve.explain.changed_jobs import Mend, changed, changed_row, with_row
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.layout import fits_alone
from cutopt.wanted import Cut, Wanted


def other_turns(job: Job, row: Wanted) -> Iterator[Mend]:
    """What lets a part be cut out that has a place and takes too many changes of direction."""
    turns = job.settings.turns or 0
    grid = job.settings.grid
    keys = frozenset({row.key})
    more = changed(job, settings=replace(job.settings, turns=turns + 1))
    if more is not None:
        yield Mend(
            said=f"allow {turns + 1} (turns in job.toml, now {turns})",
            job=more,
            whole=keys,
        )
    sizes = {"width": up_to(row.width, grid)}
    if isinstance(row, Cut):
        sizes["length"] = up_to(row.length, grid)
    rounded = changed_row(row, **sizes)
    if rounded is None or row.why:
        other = None
    else:
        other = with_row(job, row, rounded)
    if other is not None and rounded is not None:
        told = " x ".join(
            format_length(side, job.settings.unit) for side in smallest(rounded)
        )
        yield Mend(said=f"round its size to the grid, {told}", job=other, whole=keys)


def on_a_finer_grid(run: Context, mend: Mend) -> Mend:
    """The mend with a finer grid for its search where that of the run has no room for what it gives."""
    if mend.beyond is not None:
        mend = replace(mend, beyond=on_a_finer_grid(run, mend.beyond))
    if mend.step is not None:
        return mend
    model = model_of(mend.job, run.model.step)
    fits = fits_alone(model)
    if all(
        ways.any()
        for ways, item in zip(fits, model.items, strict=True)
        if item.row.key in mend.whole
    ):
        return mend
    step = roomiest(mend.job).step
    if step != run.model.step:
        return replace(mend, step=step)
    return mend
