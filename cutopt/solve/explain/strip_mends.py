"""What a person would try where a strip is short: each as the job that she would have then."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from cutopt.fabric import Piece
from cutopt.job import Job
from cutopt.lengths import INCH, MM, format_length, up_to
from cutopt.result import Evidence
from cutopt.solve.explain.changed_jobs import (
    Mend,
    changed,
    changed_row,
    free_name,
    with_row,
)
from cutopt.solve.explain.trials import Trials
from cutopt.solve.model.layout import Layout
from cutopt.wanted import Strip

# a segment is longer than what a join takes by this (our judgement)
_BEYOND: Final = {
    "in": INCH,
    "cm": 25 * MM,
}
# so much of the width is left at least: 3 of 4
_NARROWEST: Final = 3, 4
# of the shortest segment, the last one as short as can be joined
_PARTS: Final = (
    (3, 4),
    (1, 2),
    (0, 1),
)


def reached(trials: Trials, row: Strip) -> int:
    """How long the longest of the strips of a row comes to that are not whole, in ticks; 0 where nothing is there."""
    run = trials.run
    layout = trials.layout
    lengths = [
        _reached(trials, layout, u, row)
        for u, unit in enumerate(run.units)
        if run.job.wanted[unit.item] == row
    ]
    return max((length for length in lengths if length < row.total_length), default=0)


def _reached(trials: Trials, layout: Layout, unit: int, row: Strip) -> int:
    """The length of one strip; no more than is certain, as steps of the grid are rounded up."""
    run = trials.run
    item = run.model.items[run.units[unit].item]
    missing = layout.missing[unit]
    if not missing:
        return row.total_length
    loss = row.join_loss(run.job.settings.seam)
    there = (item.need - missing) * run.model.step
    if there <= 0:
        return 0
    grid = run.job.settings.grid
    return min(there + loss, row.total_length - 1) // grid * grid


def as_far_as(job: Job, row: Strip, length: int, short: int) -> Mend | None:
    """The strips that are whole, and one that is only so long.

    Parameters
    ----------
    job : Job
    row : Strip
    length : int
        Ticks to which one of them comes.
    short : int
        How many of the row are not whole.
    """
    one = changed_row(
        row, name=free_name(job, f"{row.name} shorter"), count=1, total_length=length
    )
    if one is None:
        return None
    whole = (replace(row, count=row.count - short),) if short < row.count else ()
    other = with_row(job, row, *whole, one)
    if other is None:
        return None
    return Mend(said="", job=other, whole=frozenset({row.key, one.key}))


def strip_mends(
    trials: Trials, row: Strip, length: int, *, worked_out: bool
) -> Iterator[Iterator[Evidence]]:
    """What helps a strip that reaches so far, kind by kind; `worked_out`: its width and length stay as they are.

    Parameters
    ----------
    trials : Trials
    row : Strip
    length : int
        Ticks that it reaches.
    worked_out : bool
        Whether its width and length stay as they are.
    """
    job = trials.run.job
    seam = trials.run.job.settings.seam
    if row.join in ("diagonal", "pre-cut") and 2 * seam < row.join_loss(seam):
        told = "join it straight (join)"
        yield _first(trials, [_with(job, row, told, join="straight")])
    if row.join == "none":
        told = "let it be sewn from shorter segments (straight under join)"
        yield _first(
            trials,
            [_with(job, row, told, join="straight", shortest=_least_segment(job, row))],
        )
    else:
        yield _first(trials, _shorter_segments(job, row))
        yield _first(
            trials, [_one_more(job, row, name, length) for name in job.allowed(row)[:1]]
        )
    if not worked_out:
        yield _first(trials, _shorter(job, row, length))
        yield _first(trials, _narrower(job, row))


def _first(trials: Trials, ways: list[Mend | None]) -> Iterator[Evidence]:
    """The first way that gives all of the row, also where a search begins from nothing."""
    for mend in ways:
        if mend is None:
            found = None
        else:
            found = trials.search(mend)
        if (
            mend is not None
            and found is not None
            and found.complete
            and trials.anew(mend)
        ):
            told = trials.told(mend, found)
            if told is not None:
                yield told
                return


def _with(job: Job, row: Strip, said: str, **fields: object) -> Mend | None:
    other = changed_row(row, **fields)
    if other is None:
        new = None
    else:
        new = with_row(job, row, other)
    if new is None:
        return None
    return Mend(said=said, job=new, whole=frozenset({row.key}))


def _least_segment(job: Job, row: Strip) -> int:
    """As short as a segment may be of which a join leaves enough."""
    unit = job.settings.unit
    grid = job.settings.grid
    loss = max(row.width, 2 * job.settings.seam, row.join_loss(job.settings.seam))
    return up_to(loss + _BEYOND[unit], grid)


def _shorter_segments(job: Job, row: Strip) -> list[Mend | None]:
    """With the shortest segment a quarter shorter, half as long, and as short as can be joined."""
    least = _least_segment(job, row)
    grid = job.settings.grid
    unit = job.settings.unit
    sizes = {max(least, up_to(row.shortest * part // of, grid)) for part, of in _PARTS}
    return [
        _with(
            job,
            row,
            f"join segments from {format_length(size, unit, mark=True)} on (shortest)",
            shortest=size,
        )
        for size in sorted(sizes, reverse=True)
        if size < row.shortest
    ]


def _one_more(job: Job, row: Strip, fabric: str, length: int) -> Mend | None:
    """With one more segment, of a length for what is missing and a join."""
    loss = row.join_loss(job.settings.seam)
    unit = job.settings.unit
    if length:
        size = max(row.total_length - length + loss, row.shortest)
    else:
        size = row.total_length
    size = up_to(size, job.settings.grid)
    known = {piece.name.lower() for piece in job.pieces}
    name = next(
        name
        for n in range(len(known) + 1)
        if (name := f"one more {n}" if n else "one more") not in known
    )
    along, across = (size, row.width) if row.grain != "across" else (row.width, size)
    pieces = (*job.pieces, Piece.of_size(name, fabric, across, along))
    more = changed(job, pieces=pieces)
    if more is None:
        return None
    said = f"find one more piece of {fabric}, {format_length(row.width, unit)} x {format_length(size, unit)} {unit}"
    return Mend(said=said, job=more, whole=frozenset({row.key}))


def _shorter(job: Job, row: Strip, length: int) -> list[Mend | None]:
    """As long as it comes to; where there are several, all of them by an equal part of what is missing, too."""
    grid = job.settings.grid
    unit = job.settings.unit
    missing = row.total_length - length
    sizes = {
        (row.total_length - missing // row.count) // grid * grid,
        length // grid * grid,
    }
    if row.count == 1:
        every = "it"
    else:
        every = "each"
    return [
        _with(
            job,
            row,
            f"make {every} {format_length(size, unit, mark=True)} long (total_length)",
            total_length=size,
        )
        for size in sorted(sizes, reverse=True)
        if 2 * size > row.total_length and size < row.total_length
    ]


def _narrower(job: Job, row: Strip) -> list[Mend | None]:
    """An eighth of the width narrower, and a quarter."""
    grid = job.settings.grid
    unit = job.settings.unit
    sizes = {up_to(row.width * part // 8, grid) for part in (7, 6)}
    return [
        _with(
            job,
            row,
            f"cut it {format_length(size, unit, mark=True)} wide (width)",
            width=size,
        )
        for size in sorted(sizes, reverse=True)
        if size < row.width and _NARROWEST[1] * size >= _NARROWEST[0] * row.width
    ]
